"""Sound questions for shoulder."""

from typing import Any

from hypothesis import strategies as st

from . import SOMETIMES, WIDTH

GIVEN = ("--blank", "3", "--round-diameter", "2-1/8", "--round-length", "5", "--run-out", "2")


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    blank = draw(WIDTH)
    asked: dict[str, Any] = {"blank": blank, "round_diameter": blank * draw(st.just(1.0) | st.floats(0.3, 1))}
    if draw(SOMETIMES):
        asked["round_length"] = draw(st.floats(10, 2000))
    if draw(SOMETIMES):
        asked["run_out"] = draw(st.floats(5, 600))
    return asked


QUESTION = questions()
