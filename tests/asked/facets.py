"""Sound questions for facets, and what it says in words checked by other means."""

from collections.abc import Callable
from math import hypot, sqrt
from typing import Any

import pytest
from hypothesis import strategies as st
from scipy.special import ellipe

from shopcompanion.calculator import Result
from shopcompanion.spar.polygon import oval_facets

from . import SOMETIMES, WIDTH

GIVEN = ("--width", "3-1/2")


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    width = draw(WIDTH)
    asked: dict[str, Any] = {"width": width, "ridge_ok": draw(st.floats(0.05, 3))}
    if draw(SOMETIMES):
        asked["depth"] = width * draw(st.floats(0.3, 3))
    if draw(SOMETIMES):
        asked["section"] = "oval"
    if draw(SOMETIMES):
        asked["corners_16"] = draw(st.sampled_from((0.0, 30.0, 75.0)))
        asked["corners_8"] = draw(
            st.sampled_from([share for share in (0.0, 30.0, 75.0, 100.0) if share >= asked["corners_16"]])
        )
    return asked


def least_sides(result: Result) -> None:
    answers, given = result.answers, result.inputs
    depth = given.width if given.depth is None else given.depth
    wide, deep = (given.width, depth) if given.section == "oval" else (answers.across, answers.across)
    if given.corners_8 == 0:
        assert answers.sides_needed == 4
        return
    for n in (8, 16, 32, 64, 128):
        proud = max(facet.ridge for facet in oval_facets(wide, deep, n)) * given.corners_16 / 100
        enough = proud <= given.ridge_ok
        assert enough == (n >= answers.sides_needed)


def once_round_the_oval(result: Result) -> None:
    """By the complete elliptic integral of the second kind; in a run-out with the shares of square and eight."""
    given = result.inputs
    a, b = sorted((given.width / 2, (given.width if given.depth is None else given.depth) / 2))
    eight, sixteen = given.corners_8 / 100, given.corners_16 / 100
    square = 4 * (a + b)
    slant = (1 - 1 / sqrt(2)) * 2 * hypot(a, b)
    octagon = (sqrt(2) - 1) * square + 4 * slant
    whole = 4 * b * ellipe(1 - (a / b) ** 2)
    wanted = (1 - eight) * square + (eight - sixteen) * octagon + sixteen * whole
    assert result.answers.girth == pytest.approx(wanted, rel=1e-12)


def greatest_of_the_oval(name: str) -> Callable[[Result], None]:
    def check(result: Result) -> None:
        rows = result.as_json()["tables"]["facets"]["rows"]
        what, sides = name.split("_")
        column = {"cut": 4, "ridge": 5}[what]
        greatest = max(row[column] for row in rows if row[0] == int(sides))
        assert getattr(result.answers, name) == pytest.approx(greatest, rel=1e-12)

    return check


QUESTION = questions()
IN_WORDS: dict[str, Callable[[Result], None]] = {
    "sides_needed": least_sides,
    "girth": once_round_the_oval,
    **{f"{what}_{n}": greatest_of_the_oval(f"{what}_{n}") for what in ("cut", "ridge") for n in (8, 16, 32)},
}
