"""Sound questions for lap, and what it says in words checked by other means."""

from collections.abc import Callable
from typing import Any

import pytest
import shapely
from hypothesis import assume
from hypothesis import strategies as st

from shopcompanion.calculator import Result

from . import SOMETIMES

GIVEN = ("--stock-thickness", "2-1/4", "--length", "29", "--at", "12", "--spar-width", "3")


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    """Laps one after the other along the stock, with wood between them and at the ends."""
    across = draw(st.floats(15, 120))
    thick = draw(st.floats(12, 120))
    asked: dict[str, Any] = {
        "stock_thickness": thick,
        "stock_width": draw(st.floats(12, 120)),
        "crossing_width": across,
        "crossing_thickness": thick if draw(SOMETIMES) else draw(st.floats(12, 120)),
        "kerf": draw(st.floats(1, 5)),
        "overlap": draw(st.floats(0, 0.9)),
    }
    if draw(SOMETIMES):
        asked["cutter"] = draw(st.floats(1, 15))
    cut = asked.get("cutter", asked["kerf"])
    passes = (across - cut) / (cut - asked["overlap"])
    assume(passes == 0 or abs(passes - round(passes)) > 1e-6)  # else float noise decides on one pass more
    end = asked["stock_thickness"]
    if draw(SOMETIMES):
        asked["end_wood"] = draw(st.floats(0, end))
    if draw(SOMETIMES):
        asked["chamfer"] = min(end, asked["stock_width"]) * draw(st.floats(0.01, 0.45))
        asked["chamfer_angle"] = draw(st.floats(30, 60))
    gaps = draw(st.lists(st.floats(0, 200), max_size=3))
    if draw(SOMETIMES):
        asked["positions"] = (end + across / 2,)
        for gap in gaps:
            asked["positions"] += (asked["positions"][-1] + across + gap,)
    elif draw(SOMETIMES):
        asked["at"] = draw(st.floats(0, 3000))
    if draw(SOMETIMES):
        last = asked.get("positions", (end + across / 2,))[-1]
        asked["length"] = last + across / 2 + end + draw(st.floats(0, 1000))
    if draw(SOMETIMES) and not ("positions" in asked and gaps):
        asked["spar_width"] = draw(st.floats(20, 120))
        if draw(SOMETIMES):
            asked["spar_depth"] = draw(st.floats(20, 120))
    if draw(SOMETIMES):
        asked["run_past"] = draw(st.floats(0, 200))
    return asked


def _cut(result: Result) -> shapely.Geometry:
    """All the laps on the stock's own line."""
    lines = result.answers.shoulder_lines
    return shapely.union_all([shapely.box(near, 0, far, 1) for near, far in lines])


def where_the_crossings_lie(result: Result) -> None:
    given, answers = result.inputs, result.answers
    middles = given.positions or (answers.lap_at,)
    assert [(far + near) / 2 for near, far in answers.shoulder_lines] == pytest.approx(list(middles))
    assert [far - near for near, far in answers.shoulder_lines] == pytest.approx([given.crossing_width] * len(middles))


def the_wood_at_the_ends(result: Result) -> None:
    given, answers = result.inputs, result.answers
    left, _, right, _ = _cut(result).bounds
    room = left if given.length is None else min(left, given.length - right)
    assert answers.end_left == pytest.approx(room)
    assert answers.end_left >= answers.least_end - 1e-6


def the_wood_between(result: Result) -> None:
    parts = [shapely.box(near, 0, far, 1) for near, far in result.answers.shoulder_lines]
    apart = [parts[k].distance(parts[k + 1]) for k in range(len(parts) - 1)]
    assert result.answers.between == pytest.approx(min(apart), abs=1e-6)


def the_first(result: Result) -> None:
    assert result.answers.lap_at == result.inputs.positions[0]


QUESTION = questions()
IN_WORDS: dict[str, Callable[[Result], None]] = {
    "shoulder_lines": where_the_crossings_lie,
    "end_left": the_wood_at_the_ends,
    "between": the_wood_between,
    "lap_at": the_first,
}
