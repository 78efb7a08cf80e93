"""Sections across a spar: areas, girths and second moments of every kind."""

from math import pi

import pytest

from shopcompanion.spar.section import Section


@pytest.mark.parametrize(
    ("kind", "area", "girth", "second"),
    [
        ("round", pi / 4, pi, pi / 64),
        ("oval", pi / 4, pi, pi / 64),
        ("square", 1.0, 4.0, 1 / 12),
        ("eight", 0.8284271247, 8 * 0.4142135624, 0.0547379),
    ],
)
def test_of_width_one(kind: str, area: float, girth: float, second: float) -> None:
    section = Section(kind, 1.0, 1.0)
    assert section.area == pytest.approx(area, abs=1e-10)
    assert section.perimeter == pytest.approx(girth, abs=1e-9)
    assert section.second_moments == pytest.approx((second, second), abs=5e-8)


def test_a_hollow_is_a_round_less_a_round() -> None:
    hollow = Section("hollow", 80.0, 80.0, 15.0)
    assert hollow.area == pytest.approx(pi / 4 * (80**2 - 50**2))
    assert hollow.second_moments[0] == pytest.approx(pi / 64 * (80**4 - 50**4))
    assert hollow.perimeter == pytest.approx(pi * 80)
    solid = Section("hollow", 80.0, 80.0, 40.0)
    assert (solid.area, solid.second_moments) == (
        Section("round", 80.0, 80.0).area,
        Section("round", 80.0, 80.0).second_moments,
    )


def test_how_many_sides_the_outside_has() -> None:
    assert [Section(kind, 1.0, 1.0).sides for kind in ("square", "eight")] == [4, 8]
    assert Section("round", 1.0, 1.0).sides == Section("hollow", 1.0, 1.0).sides > 64
