"""Sound questions for weight, and what it sums along a spar by other means: thin slices, added up with scipy."""

from collections.abc import Callable
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import strategies as st
from scipy.integrate import quad

from shopcompanion.calculator import Result
from shopcompanion.calculators.sized import body
from shopcompanion.spar.along import Joint, Region
from shopcompanion.spar.body import Body
from shopcompanion.spar.fitting import FACES, Fitting
from shopcompanion.timber.species import Own, Species, find, published

from ..spars import outlines
from . import SOMETIMES

GIVEN = ("--length", "14 ft", "--butt", "3", "--head", "2-1/4", "--species", "sitka")
OWN = Own((Species("Pine, from the barn", 0.47),))


@st.composite
def wholes(draw: st.DrawFn) -> Body:
    """A spar with a square heel, a joint, and a few fittings that take wood."""
    outline = draw(outlines())
    length, thin = outline.length, outline.narrowest
    fittings = []
    for kind in draw(st.lists(st.sampled_from(["cleat", "bar", "pin", "hinge"]), max_size=3)):
        at, face = length * draw(st.floats(0, 1)), draw(st.sampled_from(FACES))
        depth = thin * draw(st.floats(0.05, 0.2))
        fittings.append({
            "cleat": Fitting(at=at, kind=kind, length=100.0, flat=depth, face=face),
            "bar": Fitting(at=at, kind=kind, length=120.0, bar=thin / 3, bar_deep=depth, face=face),
            "pin": Fitting(at=at, kind=kind, hole=depth, face=face),
            "hinge": Fitting(at=at, kind=kind, length=120.0, flat=depth / 2, hole=thin / 10, barrel=20.0,
                             barrel_deep=depth, face=face),
        }[kind])  # fmt: skip
    section = draw(st.sampled_from(["round", "square", "eight", "hollow"]))
    heel = (Region(from_=0.0, to=length / 8, section="square", run_out=50.0),) if draw(SOMETIMES) else ()
    joints = (Joint(at=length * 0.4, kind="hinge"),) if draw(SOMETIMES) else ()
    wall = thin / 5 if section == "hollow" else 0.0
    return Body(outline, None, section, wall, heel, joints, tuple(fittings))


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    asked: dict[str, Any] = {"species": draw(st.sampled_from([timber.name for timber in published()]))}
    if draw(SOMETIMES):
        asked["mc"] = draw(st.floats(0, 60))
    if draw(SOMETIMES):
        asked |= {"species": OWN.species[0].name, "own": OWN}
    if draw(SOMETIMES):
        spar = draw(wholes())
        sizes = {"length": spar.length, "butt": spar.width_at(0.0), "head": spar.width_at(spar.length)}
        return {**asked, "whole": spar, "section": spar.section, **sizes}
    asked |= {"length": draw(st.floats(300, 12000)), "butt": draw(st.floats(20, 300)), "head": draw(st.floats(20, 300))}
    asked["section"] = draw(st.sampled_from(["round", "square", "eight", "oval", "hollow"]))
    if asked["section"] == "oval":
        asked["depth"] = asked["butt"] * draw(st.floats(0.5, 2))
    if asked["section"] == "hollow":
        asked["wall"] = min(asked["butt"], asked["head"]) * draw(st.floats(0.05, 0.45))
    return asked


QUESTION = questions()
FLAT = 2e-4  # where a flat runs out between two breaks; a mass is shown to three figures


def _slices(spar: Body, of: Callable[[float], float]) -> float:
    return float(sum(quad(of, low, high, epsabs=0, epsrel=1e-7, limit=200)[0] for low, high in pairwise(spar.breaks)))


def volume(result: Result) -> None:
    spar = body(result.inputs)
    assert result.answers.volume == pytest.approx(_slices(spar, lambda at: spar.left_at(at).area), rel=FLAT)


def balance_at(result: Result) -> None:
    spar = body(result.inputs)
    known = _slices(spar, lambda at: at * spar.left_at(at).area) / _slices(spar, lambda at: spar.left_at(at).area)
    assert result.answers.balance_at == pytest.approx(known, rel=FLAT)


def mass_taken(result: Result) -> None:
    """The bare spar is heavier by it."""
    spar = result.inputs.whole
    bare = Body(spar.outline, spar.depths, spar.section, spar.wall, spar.regions)
    known = result.answers.density * (bare.volume() - spar.volume()) / 1000**3
    assert result.answers.mass_taken == pytest.approx(known, rel=1e-6, abs=1e-9)


def _of_the_timber(name: str, key: str) -> Callable[[Result], None]:
    def check(result: Result) -> None:
        timber = find(result.inputs.species, result.inputs.own)
        assert getattr(result.answers, name) == getattr(timber, key)

    return check


IN_WORDS = {
    "volume": volume,
    "balance_at": balance_at,
    "mass_taken": mass_taken,
    "gravity_12": _of_the_timber("gravity_12", "sg12"),
    "timber": _of_the_timber("timber", "name"),
    "species_source": _of_the_timber("species_source", "source"),
    "species_mark": _of_the_timber("species_mark", "mark"),
}
