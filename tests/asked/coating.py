"""Sound questions for coating; its areas again as thin frusta, and its tins by trying every handful."""

from itertools import combinations_with_replacement, pairwise
from math import hypot
from typing import Any, NamedTuple

import pytest
from hypothesis import strategies as st

from shopcompanion.calculator import Result
from shopcompanion.spar.body import Body
from shopcompanion.spar.whole import Fleet

from . import SOMETIMES
from .weight import wholes

GIVEN = ("--length", "14 ft", "--butt", "3", "--head", "2-1/4")
# The table of kinds (coverage, wait, coats, thinning in the first) as it is meant, from memory.
TABLE = {
    "varnish": (12, 24, 6, 25), "quick varnish": (12, 6, 6, 10), "oil": (15, 24, 4, 50), "paint": (11, 24, 3, 10),
    "primer": (10, 24, 1, 10),
}  # fmt: skip


class Spar(NamedTuple):
    name: str
    count: int
    whole: Body

    def body(self) -> Body:
        return self.whole


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    asked: dict[str, Any] = {"kind": draw(st.sampled_from(list(TABLE)))}
    for name, drawn in (
        ("coats", st.integers(1, 12)), ("coverage", st.floats(4, 30)), ("recoat", st.integers(1, 100).map(float)),
        ("thinning", st.floats(0, 60)), ("waste", st.floats(0, 40)), ("count", st.integers(1, 4)),
        ("tins", st.sampled_from([(0.5, 1.0), (0.2, 0.375, 0.75, 2.5), (0.946352946,)])),
    ):  # fmt: skip
        if draw(SOMETIMES):
            asked[name] = draw(drawn)
    if draw(SOMETIMES):
        spars = tuple(Spar(name, draw(st.integers(1, 3)), draw(wholes())) for name in ("mast", "long gaff"))
        return {
            **asked,
            "fleet": Fleet(spars),
            "spars": draw(st.sampled_from(["all", "Long  Gaff", "mast; long gaff"])),
        }
    if draw(SOMETIMES):
        spar = draw(wholes())
        sizes = {"length": spar.length, "butt": spar.width_at(0.0), "head": spar.width_at(spar.length)}
        return {**asked, "whole": spar, "section": spar.section, **sizes}
    asked |= {"butt": draw(st.floats(20, 300)), "head": draw(st.floats(20, 300))}
    asked["length"] = max(asked["butt"], asked["head"]) * draw(st.floats(8, 60))  # a spar: an oval cone is beyond both
    asked["section"] = draw(st.sampled_from(["round", "square", "eight", "oval", "hollow"]))
    if asked["section"] == "oval":
        asked["depth"] = asked["butt"] * draw(st.floats(0.5, 2))
    return asked


QUESTION = questions()


def _spars(result: Result) -> list[tuple[int, Body]]:
    given = result.inputs
    if given.spars == "this one":
        if given.whole is not None:
            return [(given.count, given.whole)]
        from shopcompanion.spar.outline import Outline

        ends = [(0.0, given.butt), (given.length, given.head)]
        deep = Outline(tuple((at, width * given.depth / given.butt) for at, width in ends)) if given.depth else None
        section = "round" if given.section == "hollow" else given.section
        return [(given.count, Body(Outline(tuple(ends)), deep, section))]
    wanted = [part.split() for part in given.spars.casefold().split(";")]
    return [
        (spar.count, spar.whole) for spar in given.fleet.spars if given.spars == "all" or spar.name.split() in wanted
    ]


def side_area(result: Result) -> None:
    """Many short frusta: half the way round at both ends together, times the slope between."""
    known = 0.0
    for count, spar in _spars(result):
        for start, end in pairwise(spar.breaks):
            marks = [min(start + (end - start) * k / 100, end) for k in range(101)]
            for low, high in pairwise(marks):
                part = [spar.section_at(at).perimeter for at in (low + 1e-9, high - 1e-9)]
                fall = (spar.width_at(low) - spar.width_at(high) + spar.depth_at(low) - spar.depth_at(high)) / 4
                known += count * sum(part) / 2 * hypot(high - low, fall)
    assert result.answers.side_area == pytest.approx(known, rel=2e-4)


def end_area(result: Result) -> None:
    """A hollow is solid at its ends in a profile; here it is hollow throughout, so its ends are rings."""
    known = 0.0
    for count, spar in _spars(result):
        bare = Body(spar.outline, spar.depths, spar.section, spar.wall, spar.regions)
        ends = [0.0, spar.length, *(joint.at for joint in spar.joints for _ in "ab")]
        known += count * sum(bare.left_at(at).area for at in ends)
    assert result.answers.end_area == pytest.approx(known, rel=1e-6)


def tins(result: Result) -> None:
    """No handful of tins that holds it is less by more than two in a hundred, and none of as much has fewer."""
    given, answers = result.inputs, result.answers
    assert answers.bought >= answers.volume - 1.001e-3 * answers.tin_count  # by whole millilitres
    if answers.tin_count <= 5 and answers.volume < 4 * max(given.tins):
        for number in range(1, answers.tin_count + 1):
            for handful in combinations_with_replacement(given.tins, number):
                if sum(handful) >= answers.volume + 2e-3:
                    assert sum(handful) >= answers.bought / 1.02 - 2e-3 * number
                    assert number == answers.tin_count or sum(handful) > answers.bought - 2e-3 * number


def _typed_or_by_kind(name: str, place: int) -> Any:
    def check(result: Result) -> None:
        typed = getattr(result.inputs, name)
        assert getattr(result.answers, f"{name}_used") == (TABLE[result.inputs.kind][place] if typed is None else typed)

    return check


IN_WORDS = {
    "side_area": side_area,
    "end_area": end_area,
    "bought": tins,
    "tin_count": tins,
    "coverage_used": _typed_or_by_kind("coverage", 0),
    "recoat_used": _typed_or_by_kind("recoat", 1),
    "coats_used": _typed_or_by_kind("coats", 2),
    "thinning_used": _typed_or_by_kind("thinning", 3),
}
