"""Moisture: laws that hold for any timber, and the span of the equation. Published values are in tests/outside/."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.errors import InputFault
from shopcompanion.timber.moisture import COLDEST, HOTTEST, SATURATION, density, emc, gravity, width_at

MOIST, SHRINKAGE, SG = st.floats(0, 60), st.floats(1, 15), st.floats(0.1, 1)


@given(st.floats(100, 1000), SHRINKAGE, MOIST, MOIST, MOIST)
def test_by_way_of_a_third_moisture_it_comes_to_the_same(width, shrinkage, a, b, c) -> None:
    there = width_at(width_at(width, shrinkage, a, b), shrinkage, b, c)
    assert there == pytest.approx(width_at(width, shrinkage, a, c), rel=1e-12)


@given(st.floats(100, 1000), SHRINKAGE, st.floats(30, 200), st.floats(30, 200))
def test_above_saturation_nothing_moves(width, shrinkage, a, b) -> None:
    assert width_at(width, shrinkage, a, b) == width


@given(SG, MOIST, MOIST)
def test_the_same_dry_mass_in_the_volume_that_there_is(sg12, a, b) -> None:
    """Dry mass is gravity times volume; heavier when wetter as a whole, though less dry mass in a litre."""
    low, high = sorted((a, b))
    assert gravity(sg12, 12) == pytest.approx(sg12)
    assert gravity(sg12, high) <= gravity(sg12, low) * (1 + 1e-12)
    assert density(sg12, low) / (1 + low / 100) == pytest.approx(1000 * gravity(sg12, low))
    assert gravity(sg12, SATURATION) == pytest.approx(gravity(sg12, 150))


@given(st.floats(0, 70), st.floats(5, 95), st.floats(5, 95))
def test_damper_air_makes_damper_wood(temp, a, b) -> None:
    low, high = sorted((a, b))
    assert 0 < emc(temp, low) <= emc(temp, high) < SATURATION


@pytest.mark.parametrize(
    ("temp", "rh", "field"),
    [(COLDEST - 0.1, 50, "temperature"), (HOTTEST + 0.1, 50, "temperature"), (20, 4.9, "humidity"),
     (20, 95.1, "humidity"), (float("nan"), 50, "temperature"), (20, float("nan"), "humidity")],
)  # fmt: skip
def test_outside_its_span_the_equation_says_nothing(temp: float, rh: float, field: str) -> None:
    with pytest.raises(InputFault) as caught:
        emc(temp, rh)
    assert caught.value.field == field
    assert "the equation holds from" in str(caught.value)


def test_at_the_ends_of_its_span_it_holds() -> None:
    assert emc(COLDEST, 5) > 0
    assert emc(HOTTEST, 95) > 0
