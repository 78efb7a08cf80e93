"""Beams for the tests: rounds of straight taper between two stations, with what holds and loads them."""

from collections.abc import Sequence
from math import pi

from shopcompanion.beam import elements
from shopcompanion.beam.model import Load, Push, Support
from shopcompanion.beam.solve import Beam, mesh

MODULUS = 10800.0  # MPa


def second(width: float) -> float:
    """The second moment of a round."""
    return pi / 64 * width**4


def round_beam(
    length: float,
    butt: float,
    head: float,
    supports: Sequence[Support],
    loads: Sequence[Load] = (),
    *,
    pushes: Sequence[Push] = (),
    weight: float = 0.0,
    pieces: int = 96,
) -> Beam:
    """A round tapering evenly; `weight`, N/mm, presses it along."""
    nodes = mesh(length, (), supports, loads, pushes, pieces=pieces)
    stiffness = [
        tuple(MODULUS * second(butt + (head - butt) * at / length) for at in piece) for piece in elements.places(nodes)
    ]
    return Beam(nodes, stiffness, supports, pushes, [(weight,) * 4] * len(stiffness) if weight else None)


def force(at: float, size: float) -> Load:
    return Load("force", at, at, size, size)


def spread(start: float, end: float, size: float, last: float | None = None) -> Load:
    return Load("spread", start, end, size, size if last is None else last)
