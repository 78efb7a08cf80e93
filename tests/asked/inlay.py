"""Sound questions for inlay, and what it says in words checked by polygons."""

from collections.abc import Callable
from math import inf
from typing import Any

import pytest
from hypothesis import strategies as st

from shopcompanion.calculator import Result

from ..remains import Whole, less, measured, section, turned
from . import SOMETIMES
from .flat import as_typed, ends, sizes, stations, thinnest, wide_at, wood

GIVEN = ("--diameter", "3-1/2", "--bar-width", "1", "--bar-thickness", "1/4")


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    asked, across, through = draw(sizes())
    if body := asked.get("body"):
        asked["bar_length"] = body.length * draw(st.floats(0.01, 0.3))
    asked["bar_width"] = across * draw(st.floats(0.1, 0.5))
    crown = asked["sit"] = draw(st.sampled_from(("corners flush", "crown flush")))
    asked["bar_thickness"] = through * draw(st.floats(0.08, 0.2) if crown == "crown flush" else st.floats(0.02, 0.2))
    if body and body.section in ("hollow", "staves"):
        asked["bar_width"] = across * 0.2
    asked["hole"] = asked["bar_width"] * draw(st.floats(0.1, 0.8))
    if draw(SOMETIMES):
        asked["both"] = "no"
    if draw(SOMETIMES):
        asked["fasten"] = "screw"
        asked["screw"] = asked["bar_thickness"] + through * draw(st.floats(0.01, 0.1))
    return asked


def floor_under(result: Result, kind: str, across: float, through: float) -> float:
    """How far below the crown the floor lies, by the outline of the section at the bar's edges."""
    given = result.inputs
    if given.sit == "crown flush":
        return given.bar_thickness
    outside = section("round" if kind in ("hollow", "staves") else kind, across, through)
    edge = less(outside, [(-inf, given.bar_width / 2 - 1e-6 * across, -inf, inf)]).bounds[3]
    return through / 2 - edge + given.bar_thickness


def at_its_end(way: int) -> Callable[[Result], None]:
    def check(result: Result) -> None:
        given = result.inputs
        if given.body is None:
            kind, across, through = as_typed(result)
        else:
            start, end = ends(result, given.bar_length)
            at, middle = (start, end)[way], (start + end) / 2
            across, through = turned(given.body, at, given.face)
            kind = given.body.section_at(at + (middle - at) * 1e-7).headward.kind
        floor = getattr(result.answers, ("floor_heelward", "floor_headward")[way])
        assert floor == pytest.approx(floor_under(result, kind, across, through), rel=2e-3)

    return check


def sides(result: Result) -> list[tuple[str, float, float]]:
    """Kind, across and through of every section under the bar."""
    given = result.inputs
    if given.body is None:
        return [as_typed(result)]
    return [(kind, *turned(given.body, at, given.face)) for at, kind in stations(result, given.bar_length)]


def wood_under(result: Result) -> list[float]:
    bars = 2 if result.inputs.both == "yes" else 1
    return [through - bars * floor_under(result, kind, across, through) for kind, across, through in sides(result)]


def the_least_wood(result: Result) -> None:
    answers = result.answers
    assert answers.wood_between == pytest.approx(min(wood_under(result)), rel=1e-3)
    if result.inputs.body is None:
        assert (answers.across_least, answers.through_least) == as_typed(result)[1:]


def the_most_wood(result: Result) -> None:
    assert result.answers.wood_most == pytest.approx(max(wood_under(result)), rel=1e-3)


def as_wide_as_that(result: Result) -> None:
    """At the widest bar's width the chord lies as deep as the wood allows, at the place that allows least."""
    given = result.inputs
    bars = 2 if given.both == "yes" else 1
    widths = []
    for kind, across, through in sides(result):
        room = through / bars - given.bar_thickness if given.sit == "corners flush" else given.bar_thickness
        level = max(through / 2 - room, 0.0)
        widths.append(wide_at(kind, across, through, level))
    assert result.answers.widest_bar == pytest.approx(min(widths), rel=3e-3)


def polygons(result: Result) -> tuple[Whole, Whole]:
    given, (kind, across, through, wall) = result.inputs, thinnest(result)
    whole = section(kind, across, through, wall)
    half, hole, top = given.bar_width / 2, given.hole / 2, through / 2 - result.answers.floor_below_crown
    cuts = [(-half, half, top, inf), (-half, half, -inf, -top)]
    tip = -inf if given.fasten == "bolt" else top - (given.screw - given.bar_thickness)
    cuts += [(-hole, hole, tip, inf), (-hole, hole, -inf, -tip)]
    return measured(less(whole, cuts if given.both == "yes" else cuts[::2])), measured(whole)


QUESTION = questions()
IN_WORDS: dict[str, Callable[[Result], None]] = {
    **wood(polygons),
    **dict.fromkeys(("across_least", "through_least"), the_least_wood),
    "wood_most": the_most_wood,
    "widest_bar": as_wide_as_that,
    "floor_heelward": at_its_end(0),
    "floor_headward": at_its_end(1),
}
