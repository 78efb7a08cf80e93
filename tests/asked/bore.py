"""Sound questions for bore, and what it says in words checked by other means."""

from collections.abc import Callable
from math import cos, radians
from typing import Any

from hypothesis import strategies as st

from shopcompanion.calculator import Result

from . import SOMETIMES

GIVEN = ("--thickness", "3", "--hole", "3/8", "--bolt", "5/16", "--drill-reach", "2")


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    thick = draw(st.floats(10, 200))
    asked: dict[str, Any] = {"thickness": thick, "hole": thick * draw(st.floats(0.05, 0.6))}
    asked["angle_error"] = draw(st.just(0.0) | st.floats(0.1, 6))
    asked["centring"] = draw(st.floats(0, 2))
    if draw(SOMETIMES):
        asked["drill_reach"] = thick * draw(st.floats(0.2, 1.5))
    if draw(SOMETIMES):
        asked["bolt"] = asked["hole"] * draw(st.floats(0.3, 1))
    if draw(SOMETIMES):
        asked["v_angle"] = draw(st.floats(60, 140))
    if draw(SOMETIMES):
        asked["other_diameter"] = thick * draw(st.floats(0.5, 1.5))
    if draw(SOMETIMES):
        asked["axis_height"] = max(thick, asked.get("other_diameter", 0.0)) * draw(st.floats(1.1, 3))
    return asked


def the_reach_of_the_drill(result: Result) -> None:
    given = result.inputs
    in_deep = given.drill_reach * cos(radians(given.angle_error))
    sides = 1 if in_deep >= given.thickness else 2 if in_deep >= given.thickness - in_deep else 3
    assert result.answers.verdict == ("goes right through", "meets in the middle", "falls short")[sides - 1]


QUESTION = questions()
IN_WORDS: dict[str, Callable[[Result], None]] = {"verdict": the_reach_of_the_drill}
