"""Sound questions for facets, and what it says in words checked by other means."""

from collections.abc import Callable
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
    return asked


def least_sides(result: Result) -> None:
    found, given = result.answers, result.inputs
    depth = given.width if given.depth is None else given.depth
    wide, deep = (given.width, depth) if given.section == "oval" else (found.across, found.across)
    for n in (8, 16, 32, 64, 128):
        enough = max(one.ridge for one in oval_facets(wide, deep, n)) <= given.ridge_ok
        assert enough == (n >= found.sides_needed)


def once_round_the_oval(result: Result) -> None:
    """By the complete elliptic integral of the second kind."""
    given = result.inputs
    a, b = sorted((given.width / 2, (given.width if given.depth is None else given.depth) / 2))
    assert result.answers.girth == pytest.approx(4 * b * ellipe(1 - (a / b) ** 2), rel=1e-12)


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
