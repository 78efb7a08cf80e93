"""Sound questions for gauge, and what it says in words checked by other means."""

import math
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import strategies as st

from shopcompanion.calculator import Result

from . import SOMETIMES, WIDTH

GIVEN = ("--widest", "4", "--narrowest", "2-1/2", "--pin", "1/2")


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    widest = draw(WIDTH)
    asked: dict[str, Any] = {"widest": widest, "pin": draw(st.floats(1, 30)), "clearance": draw(st.floats(0, 5))}
    if draw(SOMETIMES):
        asked["exact_at"] = draw(st.sampled_from(["widest", "middle", "narrowest"]))
    elif draw(SOMETIMES):
        asked["ratio"] = draw(st.sampled_from(["7:10:7", "5:7:5", "12:17:12"]))
    asked["division"] = draw(st.sampled_from([0.1, 0.5, 1.0, *(25.4 / n for n in (8, 16, 32, 64))]))
    if draw(SOMETIMES):
        narrowest = asked["narrowest"] = widest * draw(st.floats(0.3, 1))
        if draw(SOMETIMES):
            middle = draw(st.floats(500, 3500))
            asked["outline"] = ((0.0, draw(st.floats(narrowest, widest))), (middle, widest), (4000.0, narrowest))
            if draw(SOMETIMES):
                asked["depths"] = tuple((at, width * draw(st.floats(0.6, 1.6))) for at, width in asked["outline"])
    return asked


def the_rule_that_reaches_across(result: Result) -> None:
    span, division = result.answers.slant_span, result.inputs.division
    assert span >= result.answers.widest_face * (1 - 1e-9)
    assert span == 24 * division or span / 2 < result.answers.widest_face
    assert math.log2(span / 24 / division) == pytest.approx(round(math.log2(span / 24 / division)), abs=1e-9)


def the_faces_of_the_oval(result: Result) -> None:
    given = result.inputs
    sizes = [size for _, size in (*given.outline, *given.depths)]
    assert (result.answers.widest_face, result.answers.narrowest_face) == (max(sizes), min(sizes))


QUESTION = questions()
IN_WORDS: dict[str, Callable[[Result], None]] = {
    "slant_span": the_rule_that_reaches_across,
    **dict.fromkeys(("widest_face", "narrowest_face"), the_faces_of_the_oval),
}
