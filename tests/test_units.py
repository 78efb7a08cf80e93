"""The door to pint. The published factors are in outside/test_sp811.py."""

import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pint import UnitRegistry

from shopcompanion import quantities
from shopcompanion.beam.lists import _UNITS
from shopcompanion.lengths import read
from shopcompanion.units import factor


@given(st.sampled_from([("in", "mm"), ("lbf", "N"), ("psi", "MPa"), ("ft/min", "m/s"), ("in^2", "mm^2"), ("lb", "kg")]))
def test_there_and_back_is_one(pair: tuple[str, str]) -> None:
    there, back = factor(*pair), factor(*pair[::-1])
    assert there * back == pytest.approx(1, rel=1e-14)


def test_the_grammar_and_pint_agree_on_lengths() -> None:
    for unit in ("in", "ft", "mm", "cm", "m"):
        assert float(read(f"1 {unit}")) == pytest.approx(factor(unit, "mm"), rel=1e-15)


def pairs() -> set[tuple[str, str]]:
    """Every conversion that a kind of field or a list of loads asks for."""
    kinds = [
        kind for kind in vars(quantities).values() if isinstance(kind, type) and issubclass(kind, quantities.Quantity)
    ]
    asked = {
        (kind.also.get(name, name), kind.unit or "")
        for kind in kinds
        if hasattr(kind, "shop")
        for name in (*kind.shop.values(), *kind.also)
    }
    asked |= {(name, inside) for _, name, inside in _UNITS.values()}
    return {pair for units in asked for pair in (units, units[::-1]) if "°" not in "".join(pair)}


def test_our_table_and_pint_agree() -> None:
    """pint's own table of units is the source; its chains of factors are rounded at every link, ours once."""
    registry = UnitRegistry()
    assert len(pairs()) > 50
    for unit, into in pairs():
        assert factor(unit, into) == pytest.approx(registry.Quantity(1.0, unit).to(into).magnitude, rel=1e-15), (
            unit,
            into,
        )


def test_what_the_house_uses_loads_no_pint() -> None:
    script = f"""
import sys
from shopcompanion.units import factor
for unit, into in {sorted(pairs())!r}:
    factor(unit, into)
assert "pint" not in sys.modules
"""
    subprocess.run([sys.executable, "-c", script], check=True)


def test_units_of_another_kind_do_not_convert() -> None:
    from pint import DimensionalityError

    with pytest.raises(DimensionalityError):
        factor("lb", "mm")
