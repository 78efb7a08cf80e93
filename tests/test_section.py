"""Sections across a spar: areas, girths and second moments of every kind, and what flats and holes leave."""

from math import cos, pi, sin, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.spar.section import SECTIONS, Section

SIZE = st.floats(10, 300)
KIND = st.sampled_from(SECTIONS)
PART = st.floats(0, 1)


@st.composite
def sections(draw: st.DrawFn) -> Section:
    kind, width = draw(KIND), draw(SIZE)
    depth = width * draw(st.floats(0.4, 2.5)) if draw(st.booleans()) else width
    return Section(kind, width, depth, min(width, depth) * draw(st.floats(0.05, 0.6)) if kind == "hollow" else 0.0)


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
    one = Section(kind, 1.0, 1.0)
    assert one.area == pytest.approx(area, abs=1e-10)
    assert one.perimeter == pytest.approx(girth, abs=1e-9)
    assert one.second_moments == pytest.approx((second, second), abs=5e-8)


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


@given(sections())
def test_second_moments_by_summing_strips(section: Section) -> None:
    """Strips of the width, as high as what is left between two slots says; sideways the same of the section turned."""

    def by_strips(one: Section) -> float:
        count, found = 1000, 0.0
        for k in range(count):
            out, step = (k + 0.5) / count * one.width / 2, one.width / 2 / count
            both = one.area_left(hole=2 * (out - step / 2)) - one.area_left(hole=2 * (out + step / 2))
            found += both * out * out
        return found

    assert by_strips(section) == pytest.approx(section.second_moments[1], rel=1e-4)
    turned = Section(section.kind, section.depth, section.width, section.wall)
    assert by_strips(turned) == pytest.approx(section.second_moments[0], rel=1e-4)
    assert turned.area == pytest.approx(section.area)
    assert turned.perimeter == pytest.approx(section.perimeter)


@given(sections(), PART, PART, PART, PART)
def test_more_taken_leaves_less(section: Section, flat: float, more_flat: float, hole: float, more_hole: float) -> None:
    low, high = sorted((flat, more_flat))
    thin, wide = sorted((hole, more_hole))
    least = section.area_left(high * section.depth, wide * section.width)
    most = section.area_left(low * section.depth, thin * section.width)
    noise = 1e-9 * section.area
    assert -noise <= least <= most + noise
    assert most <= section.area + noise


@given(sections())
def test_nothing_and_everything_taken(section: Section) -> None:
    assert section.area_left(0.0, 0.0) == pytest.approx(section.area)
    assert section.area_left(section.depth, 0.0) == pytest.approx(0.0, abs=1e-9 * section.area)
    assert section.area_left(0.0, section.width) == pytest.approx(0.0, abs=1e-9 * section.area)
    assert section.area_left(section.depth / 2, 0.0) == pytest.approx(section.area / 2)


def test_a_flat_on_a_square_and_on_an_eight_by_hand() -> None:
    assert Section("square", 60.0, 40.0).area_left(flat=10.0, hole=20.0) == pytest.approx(40 * 30)
    eight = Section("eight", 100.0, 100.0)
    mark = 100 * (1 - 1 / sqrt(2))  # deep enough to take the two slopes of the top whole
    facet = 100 * (sqrt(2) - 1)
    assert eight.area - eight.area_left(flat=mark) == pytest.approx((100 + facet) / 2 * mark)


@given(SIZE, st.floats(1, 179))
def test_a_flat_on_a_round_is_a_segment(width: float, half_angle: float) -> None:
    r, t = width / 2, half_angle * pi / 180
    taken = Section("round", width, width).area - Section("round", width, width).area_left(flat=r * (1 - cos(t)))
    assert taken == pytest.approx(r * r * (t - sin(t) * cos(t)), rel=1e-9, abs=1e-9 * r * r)
