"""What a spar's sections are worth along it: second moments, moduli and areas, with what its fittings take."""

from collections.abc import Callable, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from ..errors import InputFault
from ..spar.body import Body
from . import elements

Fours = tuple[elements.Four, ...]  # of every piece, at its places
Ends = tuple[tuple[float, float], ...]  # of every piece, at its heelward and at its headward end

PLANES = ("depth", "width")  # it bends in the plane of its depth, A to C, or of its width, B to D
_BESIDE = 1e-6  # of a piece: so far inside it its ends are looked at, as a section may change at a break


class Worth(NamedTuple):
    """A section at one place: area (mm²), second moments (mm⁴) and moduli (mm³) for either plane of `PLANES`."""

    area: float
    second: tuple[float, float]
    modulus: tuple[float, float]


class Along(NamedTuple):
    """At the places of every piece: area, and second moments for either plane; at both its ends: area, and moduli."""

    area: Fours
    second: tuple[Fours, Fours]
    end_area: Ends
    end_modulus: tuple[Ends, Ends]


def worth(body: Body, at: float) -> Worth:
    """The section at a station. InputFault where nothing of it is left."""
    return _worth(body, at, _cut(body))


def _cut(body: Body) -> list[tuple[float, float]]:
    """From where to where fittings take wood."""
    middles = [(fitting.middle(body.length), fitting.reach) for fitting in body.fittings if fitting.takes_wood]
    return [(middle - reach, middle + reach) for middle, reach in middles]


def _worth(body: Body, at: float, cut: Sequence[tuple[float, float]]) -> Worth:
    if any(low <= at <= high for low, high in cut):
        left = body.left_at(at)
        if left.area <= 0 or min(left.second_depth, left.second_width) <= 0:
            raise InputFault("the fittings leave no wood at {}", "whole", (at,))
        return Worth(left.area, (left.second_depth, left.second_width), (left.modulus_depth, left.modulus_width))
    across = body.section_at(at)
    _, width, depth, *_ = across.headward
    area, (deep, wide) = across.headward.area, across.headward.second_moments
    if across.heelward != across.headward:
        before = across.heelward.area, *across.heelward.second_moments
        area, deep, wide = (across.blend(ends) for ends in zip(before, (area, deep, wide), strict=True))
    return Worth(area, (deep, wide), (2 * deep / depth, 2 * wide / width))


@lru_cache(maxsize=4)
def along(body: Body, nodes: tuple[float, ...]) -> Along:
    """The sections of a spar between `nodes`, mm from the heel, which have one at every break."""
    cut = _cut(body)
    inside = [[_worth(body, at, cut) for at in piece] for piece in elements.places(nodes)]
    outer = []
    for low, high in pairwise(nodes):
        beside = _BESIDE * (high - low)
        outer.append((_worth(body, low + beside, cut), _worth(body, high - beside, cut)))

    def of(value: Callable[[Worth], float]) -> Fours:
        return tuple((value(a), value(b), value(c), value(d)) for a, b, c, d in inside)

    def at_ends(value: Callable[[Worth], float]) -> Ends:
        return tuple((value(low), value(high)) for low, high in outer)

    return Along(
        of(lambda section: section.area),
        (of(lambda section: section.second[0]), of(lambda section: section.second[1])),
        at_ends(lambda section: section.area),
        (at_ends(lambda section: section.modulus[0]), at_ends(lambda section: section.modulus[1])),
    )
