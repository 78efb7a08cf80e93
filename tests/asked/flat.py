"""Sound questions for flat, and what it says in words checked by polygons."""

from collections.abc import Callable
from math import inf
from typing import Any

import pytest
from hypothesis import strategies as st

from shopcompanion.calculator import Result
from shopcompanion.spar.seat import ONE_FACE, SHAPES, shape_at

from ..remains import ALL, Whole, bodies, less, measured, section, turned
from . import SOMETIMES, WIDTH

GIVEN = ("--diameter", "3-1/2", "--flat-width", "2", "--barrel", "3/8")
WOOD = ("area_left", "second_into", "second_along", "modulus_into", "modulus_along")


@st.composite
def sizes(draw: st.DrawFn) -> tuple[dict[str, Any], float, float]:
    """What is asked of the spar: typed, or one of its own stations; and the least across and through the fitting."""
    asked: dict[str, Any] = {"face": draw(st.sampled_from(ONE_FACE))}
    if draw(SOMETIMES):
        body = draw(bodies())
        at = body.length * draw(st.just(0.0) | st.just(1.0) | st.floats(0, 1))
        asked |= {"body": body, "at": at, "diameter": body.width_at(at), "shape": shape_at(body, at)}
        if body.depths:
            asked["depth"] = body.depth_at(at)
        ways = [turned(body, body.length * k / 60, asked["face"]) for k in range(61)]
        return asked, min(way[0] for way in ways) * 0.9, min(way[1] for way in ways) * 0.9
    wide = deep = draw(WIDTH)
    asked |= {"diameter": wide, "shape": draw(st.sampled_from(SHAPES))}
    if draw(SOMETIMES):
        deep = asked["depth"] = wide * draw(st.floats(0.7, 1.4))
        if asked["shape"] == "round":
            asked["shape"] = "oval"
    return asked, *((wide, deep) if asked["face"] in "AC" else (deep, wide))


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    asked, across, through = draw(sizes())
    if body := asked.get("body"):
        asked["fitting_length"] = body.length * draw(st.floats(0.01, 0.3))
    if draw(SOMETIMES):
        asked["flat_width"] = across * draw(st.floats(0.05, 1))
    elif draw(SOMETIMES):
        asked["flat_depth"] = through * draw(st.floats(0.002, 0.5))
    if draw(SOMETIMES):
        asked["barrel"] = through * draw(st.floats(0.002, 0.5))
        asked["pin_above"] = asked["barrel"] * draw(st.floats(0, 0.8))
    return asked


def ends(result: Result, length: float) -> tuple[float, float]:
    """From where to where the fitting reaches on the spar."""
    body, at = result.inputs.body, result.inputs.at
    start = min(max(at - length / 2, 0), body.length - length)
    return start, start + length


def stations(result: Result, length: float) -> list[tuple[float, str]]:
    """Stations under the fitting and the section at each: close together, and just beside every break."""
    body = result.inputs.body
    start, end = ends(result, length)
    inner = [start + (end - start) * k / 16 for k in range(17)]
    inner += [at + way * 1e-7 * body.length for at in body.breaks for way in (-1, 1)]
    inside = [at for at in inner if start <= at <= end]
    within = end - 1e-9 * body.length  # at its end the section is that of its own side
    return [(at, body.section_at(min(at, within)).headward.kind) for at in inside]


def as_typed(result: Result) -> tuple[str, float, float]:
    """Kind, across and through, of a section that was typed."""
    given = result.inputs
    deep = given.diameter if given.depth is None else given.depth
    return (given.shape, given.diameter, deep) if given.face in "AC" else (given.shape, deep, given.diameter)


def wide_at(kind: str, across: float, through: float, level: float) -> float:
    """How wide the outside is at a height over the middle."""
    outside = section("round" if kind in ("hollow", "staves") else kind, across, through)
    low, _, high, _ = (
        less(outside, [(*ALL, level + 1e-9 * through, inf)])
        .intersection(less(outside, [(*ALL, -inf, level - 1e-6 * through)]))
        .bounds
    )
    return high - low


def nowhere_narrower(result: Result) -> None:
    """The plane is wide enough at every station, and just so at the sizes that are told."""
    given, answers = result.inputs, result.answers
    if given.body is None:
        kind, across, through = as_typed(result)
        assert (answers.across_least, answers.through_least) == (across, through)
        return
    sides = [(kind, *turned(given.body, at, given.face)) for at, kind in stations(result, given.fitting_length)]
    assert any(side[1:] == pytest.approx((answers.across_least, answers.through_least), rel=1e-5) for side in sides)
    for kind, across, through in sides:
        assert wide_at(kind, across, through, answers.floor) >= answers.cut_width - 5e-3 * across
        assert through / 2 >= answers.floor - 1e-9


def the_narrowest(result: Result) -> None:
    given = result.inputs
    wide = [turned(given.body, at, given.face)[0] for at, _ in stations(result, given.fitting_length)]
    assert result.answers.widest_fitting == pytest.approx(min(wide), rel=1e-5)


def at_its_end(way: int) -> Callable[[Result], None]:
    """Depth and width at one end of the fitting."""

    def check(result: Result) -> None:
        given, answers = result.inputs, result.answers
        if given.body is None:
            kind, across, through = as_typed(result)
        else:
            start, end = ends(result, given.fitting_length)
            at, middle = (start, end)[way], (start + end) / 2
            across, through = turned(given.body, at, given.face)
            kind = given.body.section_at(at + (middle - at) * 1e-7).headward.kind
        name = ("heelward", "headward")[way]
        depth, wide = getattr(answers, f"depth_{name}"), getattr(answers, f"width_{name}")
        assert depth == pytest.approx(through / 2 - answers.floor, abs=1e-6)
        assert wide == pytest.approx(wide_at(kind, across, through, answers.floor), rel=2e-3, abs=0.01 * across)

    return check


def thinnest(result: Result) -> tuple[str, float, float, float]:
    """Kind, across, through and wall where the spar is thinnest under the fitting."""
    given, answers = result.inputs, result.answers
    if given.body is None:
        return *as_typed(result), 0.0
    length = getattr(given, "fitting_length", None) or given.bar_length
    least = pytest.approx((answers.across_least, answers.through_least), rel=1e-5)
    kinds = {kind for at, kind in stations(result, length) if turned(given.body, at, given.face) == least}
    assert kinds, "it is nowhere as thin as that"
    kind = min(kinds, key=lambda shape: {"square": 2, "eight": 1}.get(shape, 0))  # as large, the rounder has less wood
    return kind, answers.across_least, answers.through_least, given.body.wall


def polygons(result: Result) -> tuple[Whole, Whole]:
    """What is left, and the whole."""
    whole = section(*thinnest(result))
    return measured(less(whole, [(*ALL, result.answers.floor, inf)])), measured(whole)


def left_by_polygons(left: Callable[[Result], tuple[Whole, Whole]], name: str, place: int) -> Callable[[Result], None]:
    def check(result: Result) -> None:
        rest, whole = left(result)
        assert getattr(result.answers, name) == pytest.approx(rest[place], rel=2e-3)
        part = getattr(result.answers, f"{name.removesuffix('_left')}_part")
        assert part == pytest.approx(100 * rest[place] / whole[place], rel=2e-3)

    return check


def wood(left: Callable[[Result], tuple[Whole, Whole]]) -> dict[str, Callable[[Result], None]]:
    """The checks of what is left, by answer."""
    left_there = {name: left_by_polygons(left, name, place) for place, name in enumerate(WOOD)}
    return {**left_there, **{f"{name.removesuffix('_left')}_part": check for name, check in left_there.items()}}


QUESTION = questions()
IN_WORDS: dict[str, Callable[[Result], None]] = {
    **wood(polygons),
    **dict.fromkeys(("across_least", "through_least"), nowhere_narrower),
    "widest_fitting": the_narrowest,
    **dict.fromkeys(("depth_heelward", "width_heelward"), at_its_end(0)),
    **dict.fromkeys(("depth_headward", "width_headward"), at_its_end(1)),
}
