"""The door to pint. The published factors are in outside/test_sp811.py."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.lengths import read
from shopcompanion.units import factor


@given(st.sampled_from([("in", "mm"), ("lbf", "N"), ("psi", "MPa"), ("ft/min", "m/s"), ("in^2", "mm^2"), ("lb", "kg")]))
def test_there_and_back_is_one(pair: tuple[str, str]) -> None:
    there, back = factor(*pair), factor(*pair[::-1])
    assert there * back == pytest.approx(1, rel=1e-14)


def test_the_grammar_and_pint_agree_on_lengths() -> None:
    for unit in ("in", "ft", "mm", "cm", "m"):
        assert float(read(f"1 {unit}")) == pytest.approx(factor(unit, "mm"), rel=1e-15)


def test_units_of_another_kind_do_not_convert() -> None:
    from pint import DimensionalityError

    with pytest.raises(DimensionalityError):
        factor("lb", "mm")
