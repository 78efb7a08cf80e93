"""Sound questions for drum, and what it says in words checked by other means."""

import math
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import strategies as st
from scipy.optimize import brentq

from shopcompanion.calculator import Result
from shopcompanion.spar import belt
from shopcompanion.spar.belt import belt_length

from . import SOMETIMES

GIVEN = ("--drum", "4", "--belt-length", "24", "--widest", "2-3/4", "--narrowest", "1-3/4")


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    on, widest = draw(st.floats(20, 300)), draw(st.floats(20, 200))
    asked: dict[str, Any] = {"drum": on, "widest": widest, "grip_ratio": draw(st.just(1.0) | st.floats(0.2, 5))}
    narrowest = widest
    if draw(SOMETIMES):
        narrowest = asked["narrowest"] = widest * draw(st.floats(0.3, 1))
        if draw(SOMETIMES):
            middle = draw(st.floats(500, 3500))
            asked["outline"] = ((0.0, draw(st.floats(narrowest, widest))), (middle, widest), (4000.0, narrowest))
            asked["law"] = draw(st.sampled_from(["straight", "bowed"]))
    if draw(SOMETIMES):
        asked["rpm"] = draw(st.floats(100, 4000))
    asked["belt_length"] = belt_length(on, narrowest, (on + narrowest) / 2) * draw(st.floats(1.01, 5))
    return asked


def where_it_begins_and_ends_to_slip(result: Result) -> None:
    """The widths on either side of the place say it: by the equal grip of Eytelwein, with a root finder."""
    given, answers = result.inputs, result.answers
    _, (middle, widest), (length, _) = given.outline

    def width(at: float) -> float:
        (x0, w0), (x1, w1) = given.outline[:2] if at <= middle else given.outline[1:]
        t = (at - middle) / ((x0 if at <= middle else x1) - middle)
        end = w0 if at <= middle else w1
        return widest - (widest - end) * (t * t if given.law == "bowed" else t)

    def grip(at: float) -> float:
        apart = belt.centres(given.drum, width(at), given.belt_length)
        if apart is None:
            return -1.0  # too short: beyond where it slips
        lean = belt.lean(given.drum, width(at), apart)
        return float(given.grip_ratio * (math.pi + 2 * lean) - (math.pi - 2 * lean))

    assert grip(middle) <= 1e-9
    first = 0.0 if grip(0) <= 0 else brentq(grip, 0, middle, xtol=1e-9)
    last = length if grip(length) <= 0 else brentq(grip, middle, length, xtol=1e-9)
    # a bowed spar is level at its widest, so there a place is known only as well as a width of float noise allows
    assert answers.slips_from == pytest.approx(first, abs=0.05)
    assert answers.slips_to == pytest.approx(last, abs=0.05)
    for at in (answers.slips_from, answers.slips_to):
        assert at in (0, length) or width(at) == pytest.approx(answers.largest_driven, abs=1e-6)


def too_short_for_the_widest(result: Result) -> None:
    """A belt that is too short even where drum and spar touch; it may drive the rest of the spar."""
    given, answers = result.inputs, result.answers
    touching = (given.drum + given.widest) / 2
    assert given.belt_length <= belt_length(given.drum, given.widest, touching) + 1e-9
    assert answers.belt_fits == "in part"
    lean = math.asin((given.drum - given.narrowest) / (2 * answers.centres_narrowest))
    drives = given.grip_ratio * (math.pi + 2 * lean) > math.pi - 2 * lean
    assert answers.grips == ("in part" if drives else "no")


QUESTION = questions()
IN_WORDS: dict[str, Callable[[Result], None]] = {
    **dict.fromkeys(("slips_from", "slips_to"), where_it_begins_and_ends_to_slip),
    **dict.fromkeys(("grips", "belt_fits"), too_short_for_the_widest),
}
