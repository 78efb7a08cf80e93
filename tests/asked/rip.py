"""Sound questions for ripping."""

from typing import Any

from hypothesis import strategies as st

from . import SOMETIMES

GIVEN = ("--thickness", "4", "--saw-depth", "3-1/8", "--finished", "3-1/2", "--bow", "1/4", "--planing", "1/8")


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    asked: dict[str, Any] = {"thickness": draw(st.floats(10, 300)), "kerf": draw(st.floats(1, 5))}
    asked["tilt"] = draw(st.sampled_from(["upright", "tilted 45°"]))
    asked["saw_depth"], asked["saw_depth_tilted"] = draw(st.floats(40, 120)), draw(st.floats(30, 80))
    asked["pieces"] = draw(st.integers(1, 8))
    asked["bow"], asked["planing"] = draw(st.floats(0, 10)), draw(st.floats(0, 5))
    finished = draw(st.floats(10, 120))
    need = asked["pieces"] * (finished + asked["bow"] + 2 * asked["planing"] + 2 * asked["kerf"])
    if draw(SOMETIMES):
        asked["finished"] = finished
        if draw(SOMETIMES):
            asked["timber"] = need + draw(st.floats(0, 100))
    else:
        asked["timber"] = need
    return asked


QUESTION = questions()
