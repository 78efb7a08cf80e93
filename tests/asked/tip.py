"""Sound questions for tip, and what it says in words checked by other means."""

import math
from collections.abc import Callable
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from shopcompanion.calculator import Result

from . import SOMETIMES, WIDTH

GIVEN = ("--diameter", "2-1/8")


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    asked: dict[str, Any] = {"diameter": draw(WIDTH), "chamfers": draw(st.integers(1, 3))}
    if draw(SOMETIMES):
        asked["shape"] = "blunt"
        asked["length"] = asked["diameter"] * draw(st.floats(0.05, 1.5))
    return asked


def sharpest_corner(k: int) -> Callable[[Result], None]:
    """The corners of the flats so far, each to the nearest point of the ellipse by a search."""

    def check(result: Result) -> None:
        given, answers = result.inputs, result.answers
        long, radius = answers.tip_length, given.diameter / 2
        flats = sorted([0.0, 90.0, *{1: (45.0,), 2: (30.0, 60.0), 3: (45.0, 22.5, 67.5)}[given.chamfers][:k]])
        stands = []
        for below, above in pairwise(flats):
            u, v = math.radians(below), math.radians(above)  # where sin·x/L + cos·y/R = 1 for both
            x, y = np.linalg.solve([[math.sin(u), math.cos(u)], [math.sin(v), math.cos(v)]], [1, 1])
            x, y = x * long, y * radius
            nearest = minimize_scalar(
                lambda t, x=x, y=y: math.hypot(x - long * math.sin(t), y - radius * math.cos(t)),
                bounds=(0, math.pi / 2), method="bounded", options={"xatol": 1e-10},
            )  # fmt: skip
            stands.append(nearest.fun)
        assert getattr(answers, f"proud_{k}") == pytest.approx(max(stands), rel=1e-6)

    return check


QUESTION = questions()
IN_WORDS: dict[str, Callable[[Result], None]] = {f"proud_{k}": sharpest_corner(k) for k in (1, 2, 3)}
