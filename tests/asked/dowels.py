"""Sound questions for dowels."""

from typing import Any

from hypothesis import strategies as st

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
        asked["blank"] = max(section, asked.get("depth", section)) + draw(st.floats(0, 20))
    return asked


QUESTION = questions()
