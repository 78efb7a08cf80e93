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


def test_a_hollow_oval_is_an_oval_less_an_oval_each_way() -> None:
    """π·w·d³/64 for bending the way of the depth; a wall of 5 all round 60 by 40 leaves a hole of 50 by 30."""
    hollow = Section("hollow", 60.0, 40.0, 5.0)
    assert hollow.area == pytest.approx(pi / 4 * (60 * 40 - 50 * 30))
    assert hollow.second_moments == pytest.approx(
        (pi / 64 * (60 * 40**3 - 50 * 30**3), pi / 64 * (40 * 60**3 - 30 * 50**3))
    )


def test_a_wall_of_half_the_width_leaves_no_hole() -> None:
    assert Section("hollow", 80.0, 60.0, 30.0).inside is None
    assert Section("hollow", 80.0, 60.0, 29.0).inside == Section("round", 22.0, 2.0, 0.0)
