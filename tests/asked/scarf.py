"""Sound questions for the scarf, and what it says in words by other means."""

from typing import Any

import numpy as np
from hypothesis import strategies as st

from shopcompanion.calculator import Result
from shopcompanion.spar.along import Joint
from shopcompanion.spar.body import Body
from shopcompanion.spar.fitting import Fitting
from shopcompanion.spar.outline import Outline

from . import SOMETIMES, WIDTH

GIVEN = ("--thickness", "3-1/2", "--slope", "10", "--at", "6 ft")
BODY = Body(
    Outline(((0.0, 90.0), (5000.0, 60.0))),
    joints=(Joint(at=700.0, kind="hinge"), Joint(at=2600.0, kind="scarf")),
    fittings=(Fitting(at=1300.0, kind="gooseneck", length=100.0), Fitting(at=2100.0, kind="cleat", length=180.0),
              Fitting(at=4800.0, kind="sheave", hole=10.0)),
)  # fmt: skip


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    asked: dict[str, Any] = {"thickness": draw(st.floats(5, 200)), "width": draw(WIDTH)}
    asked["slope"] = draw(st.floats(1, 30))
    asked["spread"] = draw(st.floats(50, 1000))
    if draw(SOMETIMES):
        asked["planing"], asked["trim"] = draw(st.floats(0, 10)), draw(st.floats(0, 100))
    if draw(SOMETIMES):
        asked["at"] = draw(st.floats(0, 5000))
        if draw(SOMETIMES):
            asked["body"] = BODY
    return asked


def worth(result: Result) -> None:
    """The lower remembered set, from memory; a step function by numpy."""
    step = int(np.searchsorted([5, 8, 10, 12], result.inputs.slope, side="right"))
    assert result.answers.joint_factor == [None, 60, 75, 80, 85][step]


def within(result: Result) -> None:
    """Every millimetre of the scarf, and what it finds there."""
    spans = {"hinge": (700, 700), "gooseneck": (1250, 1350), "cleat": (2010, 2190), "sheave": (4795, 4805)}
    kinds = result.answers.within.split(", ") if result.answers.within else []
    low, high = result.answers.scarf_from, result.answers.scarf_to
    assert kinds == [name for name, (start, end) in spans.items() if not (end < low or start > high)]


QUESTION = questions()
IN_WORDS = {"joint_factor": worth, "within": within}
