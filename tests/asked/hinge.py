"""Sound questions for hinge, and what it says in words checked by polygons."""

from collections.abc import Callable
from math import inf
from typing import Any

import pytest
from hypothesis import strategies as st

from shopcompanion.calculator import Result
from shopcompanion.spar.body import Body
from shopcompanion.spar.outline import Outline

from ..remains import ALL, bodies, less, measured, section, turned
from . import SOMETIMES, WIDTH
from .flat import wide_at

GIVEN = ("--diameter", "3-1/2", "--leaf-width", "1-1/2")


@st.composite
def crossed(draw: st.DrawFn) -> Body:
    """An oval whose width tapers the one way and its depth the other."""
    big, small = draw(st.floats(60, 100)), draw(st.floats(30, 59))
    width, depth = (Outline(((0.0, start), (2000.0, end)), "straight") for start, end in ((big, small), (small, big)))
    return Body(width, depth, "oval")


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    asked: dict[str, Any] = {"face": draw(st.sampled_from("ABCD"))}
    if draw(SOMETIMES):
        body = asked["body"] = draw(bodies() | crossed())
        ends = [region.to for region in body.regions]
        asked["joint_at"] = (
            draw(st.sampled_from(ends)) if ends and draw(SOMETIMES) else body.length * draw(st.floats(0.1, 0.9))
        )
        asked["leaf_length"] = body.length * draw(st.floats(0.01, 0.15))
        ways = [turned(body, body.length * k / 60, asked["face"]) for k in range(61)]
        across, through = (0.9 * min(way[k] for way in ways) for k in (0, 1))
    else:
        across = through = asked["diameter"] = draw(WIDTH)
        asked["shape"] = draw(st.sampled_from(("round", "eight", "square")))
        asked["leaf_length"] = across * draw(st.floats(0.5, 4))
    asked["deepest"] = draw(st.floats(5, 40))
    asked["edge_room"] = across * draw(st.floats(0, 0.05))
    if draw(SOMETIMES):
        asked["leaf_width"] = across * draw(st.floats(0.2, 0.9))
    elif "diameter" in asked and draw(SOMETIMES):
        asked["flat_at_joint"] = through * draw(st.floats(0.1, 0.4))
    asked["hole"] = min(across * 0.06, asked["leaf_length"] / 12) * draw(st.floats(0.3, 1))
    asked["barrel"] = min(through * 0.2, asked["leaf_length"] / 3) * draw(st.floats(0.3, 1))
    asked["pin"] = asked["barrel"] * draw(st.floats(0.2, 0.8))
    asked["pin_above"] = asked["barrel"] * draw(st.just(0.0) | st.floats(0, 0.7))
    if draw(SOMETIMES):
        asked["fasten"] = "screw"
        asked["screw"] = 3.175 + through * draw(st.floats(0.01, 0.4))
    return asked


def sides(result: Result) -> list[tuple[str, float, float, float]]:
    """Kind, across, through and wall, from the end of the one leaf to that of the other."""
    given = result.inputs
    if given.diameter is not None:
        return [(given.shape, given.diameter, given.diameter, 0.0)]
    body, at, long = given.body, given.joint_at, given.leaf_length
    start, end = max(0.0, at - long), min(body.length, at + long)
    inner = {start + 1e-7, *(start + (end - start) * k / 20 for k in range(1, 20)), end - 1e-7}
    inner |= {change + way * 1e-6 for change in body.breaks for way in (-1, 1) if start < change + way * 1e-6 < end}
    kinds = [(at, body.section_at(at).headward.kind) for at in sorted(inner)]
    return [(kind, *turned(body, at, given.face), body.wall) for at, kind in kinds]


def at_the_joint(result: Result) -> list[tuple[str, float, float, float]]:
    """The sections to either side of the joint: two where one ends there."""
    given = result.inputs
    if given.diameter is not None:
        return sides(result)
    body = given.body
    both = [body.section_at(given.joint_at + way * 1e-7).headward.kind for way in (-1, 1)]
    return [(kind, *turned(body, given.joint_at, given.face), body.wall) for kind in both]


def at_its_end(way: int) -> Callable[[Result], None]:
    def check(result: Result) -> None:
        kind, across, through, _ = sides(result)[(0, -1)[way]]
        name = ("heelward", "headward")[way]
        depth = through / 2 - result.answers.floor
        assert getattr(result.answers, f"depth_{name}") == pytest.approx(depth, abs=1e-6)
        wide = wide_at(kind, across, through, result.answers.floor)
        assert getattr(result.answers, f"width_{name}") == pytest.approx(wide, rel=2e-3, abs=0.01 * across)

    return check


def the_least_size(result: Result) -> None:
    answers = result.answers
    sizes = [side[1:3] for side in sides(result)]
    assert any(size == pytest.approx((answers.across_least, answers.through_least), rel=1e-5) for size in sizes)
    for kind, across, through, _ in sides(result):
        assert wide_at(kind, across, through, answers.floor) >= answers.flat_width - 5e-3 * across


def the_widest(result: Result) -> None:
    given = result.inputs
    wide = [wide_at(kind, across, through, through * (0.5 - given.deepest / 100))
            for kind, across, through, _ in sides(result)]  # fmt: skip
    assert result.answers.widest_leaf == pytest.approx(min(wide) - 2 * given.edge_room, rel=3e-3)


def as_wide_as_the_flat(result: Result) -> None:
    """The flat's floor lies `flat_at_joint` below the crown, and the narrowest place on it decides."""
    answers = result.answers
    assert answers.floor == pytest.approx(answers.crown - result.inputs.flat_at_joint, abs=1e-6)
    wide = [wide_at(kind, across, through, answers.floor) for kind, across, through, _ in sides(result)]
    assert answers.flat_width == pytest.approx(min(wide), rel=3e-3)


def half_the_joint(result: Result) -> None:
    assert result.answers.crown == pytest.approx(at_the_joint(result)[0][2] / 2, rel=1e-6)


def one_row(result: Result) -> None:
    given, answers = result.inputs, result.answers
    assert answers.rows_apart == 0
    assert answers.leaf < (2 * given.edge_holes + 3) * given.hole


def modulus(of: str) -> Callable[[Result], None]:
    """The least part of the modulus that is left, anywhere under the leaves or at the joint."""

    def check(result: Result) -> None:
        given, answers = result.inputs, result.answers
        cuts = [(*ALL, answers.floor, inf)]
        if of == "barrel":
            cuts = [(*ALL, answers.floor - answers.barrel_recess, inf)]
        if of == "holes":
            tip = -inf if given.fasten == "bolt" else answers.floor - (given.screw - given.leaf_thickness)
            half, out = given.hole / 2, answers.rows_apart / 2
            cuts += [(x - half, x + half, tip, inf) for x in {-out, out}]
        parts = []
        for side in at_the_joint(result) if of == "barrel" else sides(result):
            whole = section(*side)
            rest, all_of_it = measured(less(whole, cuts)), measured(whole)
            parts += [100 * rest[k] / all_of_it[k] for k in (3, 4)]
        assert getattr(result.answers, f"{of}_left") == pytest.approx(min(parts), rel=2e-3)

    return check


QUESTION = questions()
IN_WORDS: dict[str, Callable[[Result], None]] = {
    "widest_leaf": the_widest,
    **dict.fromkeys(("across_least", "through_least"), the_least_size),
    **dict.fromkeys(("depth_heelward", "width_heelward"), at_its_end(0)),
    **dict.fromkeys(("depth_headward", "width_headward"), at_its_end(1)),
    "crown": half_the_joint,
    "flat_width": as_wide_as_the_flat,
    "rows_apart": one_row,
    **{f"{of}_left": modulus(of) for of in ("flat", "barrel", "holes")},
}
