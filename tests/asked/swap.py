"""Sound questions for swap, and what its words stand for: the timbers' own figures."""

from collections.abc import Callable
from math import pi
from typing import Any

import pytest
from hypothesis import strategies as st

from shopcompanion.calculator import Result
from shopcompanion.timber.moisture import density
from shopcompanion.timber.species import find, published

from . import SOMETIMES

GIVEN = ("--width", "3", "--species", "sitka", "--other", "Douglas-fir, Coast")
NAMES = [timber.name for timber in published() if timber.rupture]


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    asked: dict[str, Any] = {"species": draw(st.sampled_from(NAMES)), "width": draw(st.floats(20, 300))}
    if draw(SOMETIMES):
        asked["other"] = draw(st.sampled_from(NAMES))
    if draw(SOMETIMES):
        asked["length"] = draw(st.floats(500, 12000))
    asked["wall_ratio"] = draw(st.floats(0.05, 0.45))
    return asked


QUESTION = questions()


def mass_now(result: Result) -> None:
    inputs = result.inputs
    known = density(find(inputs.species).sg12, 12) * pi / 4 * inputs.width**2 * inputs.length * 1e-9
    assert result.answers.mass_now == pytest.approx(known)


def timber_then(result: Result) -> None:
    """As typed, or the one that no other beats."""
    inputs, answers = result.inputs, result.answers
    if inputs.other is not None:
        assert answers.timber_then == find(inputs.other).name
        return
    rows = {row[0]: row[5] for row in result.tables[0].rows if row[5] is not None and row[0] != answers.timber_now}
    assert rows[answers.timber_then] == min(rows.values())


def density_ratio(result: Result) -> None:
    answers = result.answers
    known = density(find(answers.timber_then).sg12, 12) / density(find(answers.timber_now).sg12, 12)
    assert answers.density_ratio == pytest.approx(known)


def _figure(name: str, timber: str, key: str) -> Callable[[Result], None]:
    def check(result: Result) -> None:
        assert getattr(result.answers, name) == getattr(find(getattr(result.answers, timber)), key)

    return check


IN_WORDS = {
    "mass_now": mass_now,
    "timber_then": timber_then,
    "density_ratio": density_ratio,
    "timber_now": _figure("timber_now", "timber_now", "name"),
    **{f"{key}_{when}": _figure(f"{key}_{when}", f"timber_{when}", key)
       for key in ("modulus", "rupture") for when in ("now", "then")},
}  # fmt: skip
