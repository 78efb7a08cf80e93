"""Sound questions for dowels."""

from collections.abc import Callable
from typing import Any

from hypothesis import strategies as st

from shopcompanion.calculator import Result

from . import SOMETIMES

GIVEN = ("--section", "2-1/2", "--dowel", "3/8", "--count", "4")


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    section = draw(st.floats(40, 250))
    asked: dict[str, Any] = {"section": section, "count": draw(st.integers(1, 6))}
    least = section
    if draw(SOMETIMES):
        asked["depth"] = section * draw(st.floats(0.6, 1.6))
        least = min(section, asked["depth"])
    asked["dowel"] = least * draw(st.floats(0.04, 0.09))
    if draw(SOMETIMES):
        asked["cover"] = least * draw(st.floats(0, 0.12))
    if draw(SOMETIMES):
        asked["keep_clear"] = least * draw(st.floats(0.01, 0.05))
    if draw(SOMETIMES):
        asked["in_each"] = draw(st.floats(10, 200))
    if draw(SOMETIMES):
        del asked["dowel"]
        asked["sizes"] = draw(st.sampled_from(("in", "mm")))
    elif draw(SOMETIMES):
        asked["cut_away"] = least * draw(st.floats(0.01, 0.4 if asked["count"] <= 2 else 0.06))
    asked["line"] = draw(st.sampled_from(("A to C", "B to D")))
    if draw(SOMETIMES):
        asked["trued"] = draw(st.floats(0, 3))
    if draw(SOMETIMES):
        asked |= {"length": 4000.0, "at": draw(st.floats(1, 3999)), "joints": 3, "before": draw(st.integers(0, 2))}
    if draw(SOMETIMES):
        asked["blank"] = max(section, asked.get("depth", section)) + draw(st.floats(0, 20))
    return asked


RODS = {  # what a shop has, in sixteenths of an inch and in millimetres
    "in": [n * 25.4 / 16 for n in (2, 3, 4, 5, 6, 7, 8, 10, 12, 14, 16, 20, 24)],
    "mm": [3, 4, 5, 6, 8, 10, 12, 16, 20, 25, 30, 35],
}


def the_thickest_that_fits(result: Result) -> None:
    answers = result.answers
    most = min(answers.largest_dowel, answers.least_size / 5) + 1e-6
    assert answers.dowel_used == max(rod for rod in RODS[result.inputs.sizes] if rod <= most)


QUESTION = questions()
IN_WORDS: dict[str, Callable[[Result], None]] = {"dowel_used": the_thickest_that_fits}
