"""Sound questions for jaws, and what they say in words checked by other means."""

from collections.abc import Callable
from math import cos, pi, radians, tan
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import strategies as st

from shopcompanion.calculator import Result

from . import SOMETIMES

GIVEN = ("--mast-diameter", "3-3/4", "--gaff-width", "2-1/4", "--peak-angle", "50")


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    mast = draw(st.floats(40, 250))
    gaff = draw(st.floats(35, min(150.0, 2 * mast)))
    plank = gaff * draw(st.floats(0.3, 0.9))
    asked: dict[str, Any] = {
        "mast_diameter": mast,
        "gaff_width": gaff,
        "plank": plank,
        "rod": plank * draw(st.floats(0.1, 0.9)),
        "peak_angle": draw(st.floats(0, 75)),
        "leather": draw(st.floats(0, 8)),
        "clearance": draw(st.floats(0, 20)),
        "past": draw(st.floats(0.1, 2)),
    }
    asked["lowered_angle"] = draw(st.floats(-45, min(20.0, asked["peak_angle"])))
    if draw(SOMETIMES):
        asked["rake"] = draw(st.floats(max(-30, -79 - asked["lowered_angle"]), min(30.0, 79 - asked["peak_angle"])))
    asked["bead_diameter"] = plank * draw(st.floats(0.1, 1))
    if draw(SOMETIMES):
        asked["seat"] = "cove"
        asked["coves"] = (gaff / 2 * draw(st.floats(0.1, 1)), *draw(st.lists(st.floats(5, 90), max_size=3)))
    elif draw(SOMETIMES):
        asked["flat"] = gaff * draw(st.floats(0.01, 0.3))
    if draw(SOMETIMES):
        asked["rods"] = draw(st.integers(1, 4))
    if draw(SOMETIMES):
        asked["horn"] = asked["mast_diameter"] * 10 + 300
    if draw(SOMETIMES):
        asked["horn_width"] = plank * draw(st.floats(1, 2))
    if draw(SOMETIMES):
        asked["cheek"] = draw(st.floats(10, 80))
    if draw(SOMETIMES):
        asked["on_pole"] = max(draw(st.floats(100, 600)), 5 * asked["rod"])
    if draw(SOMETIMES):
        asked["nut"] = draw(st.floats(3, 20))
    return asked


def string(result: Result, angle: float, corners: int = 3000) -> float:
    """A string pulled tight from horn to horn round a many-sided mast: the hull, less its after side."""
    given, answers = result.inputs, result.answers
    lean, bevel = radians(angle + given.rake), radians(given.peak_angle + given.rake)
    off = given.plank / 2 * abs(tan(bevel) - tan(lean))
    lining = given.leather / cos(bevel)
    ahead = (answers.horn_length - lining - given.mast_diameter / 2 / cos(lean) - off) * cos(lean)
    aside = (answers.opening + answers.horn_used) / 2
    ring = given.mast_diameter / 2 + given.clearance + given.bead_diameter / 2
    turns = np.arange(corners) * (2 * pi / corners)
    mast = ring * np.column_stack((np.cos(turns), np.sin(turns)))
    mast = mast[mast[:, 0] > ahead]
    hull = shapely.linestrings(np.vstack(([(ahead, aside), (ahead, -aside)], mast))).convex_hull
    return float(hull.length - 2 * aside) if len(mast) else 2 * aside


def tight_over_the_range(result: Result) -> list[float]:
    low, peak = result.inputs.lowered_angle, result.inputs.peak_angle
    return [string(result, low + (peak - low) * k / 24) for k in range(25)]


def long_enough_at_every_angle(result: Result) -> None:
    assert result.answers.parrel_length == pytest.approx(max(tight_over_the_range(result)), rel=1e-5)


def slack_where_it_is_shortest(result: Result) -> None:
    """The shortest is somewhere between the angles tried, so that the slack is a hair more than what they show."""
    lines = tight_over_the_range(result)
    shown = max(lines) - min(lines)
    assert shown - 1e-3 <= result.answers.parrel_slack <= shown + 1e-3 * max(lines)


def the_cove_of_the_rack(result: Result) -> None:
    sitting = [cove for cove in result.inputs.coves if cove <= result.inputs.gaff_width / 2 + 0.01]
    assert result.answers.cove_used == max(sitting)


QUESTION = questions()
IN_WORDS: dict[str, Callable[[Result], None]] = {
    "parrel_length": long_enough_at_every_angle,
    "parrel_slack": slack_where_it_is_shortest,
    "cove_used": the_cove_of_the_rack,
}
