"""What cuts leave of a section: by hand where a square is cut, and laws that hold of all of them."""

from math import cos, inf, pi, sin, sqrt

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from shopcompanion.spar.cuts import Recess, bore, flat, groove, remaining_section
from shopcompanion.spar.section import SECTIONS, WITH_HOLE, Section
from shopcompanion.spar.staves import NUMBERS

SIZE = st.floats(10, 300)
PART = st.floats(0, 1)
FACE = st.sampled_from("ABCD")
SQUARE = Section("square", 60.0, 40.0)


@st.composite
def sections(draw: st.DrawFn) -> Section:
    kind, width = draw(st.sampled_from(SECTIONS)), draw(SIZE)
    depth = width * draw(st.floats(0.4, 2.5)) if draw(st.booleans()) and kind != "staves" else width
    wall = min(width, depth) * draw(st.floats(0.1, 0.6)) if kind in WITH_HOLE else 0.0
    return Section(kind, width, depth, wall, draw(st.sampled_from(NUMBERS)))


@st.composite
def cuts(draw: st.DrawFn, section: Section) -> list[Recess]:
    cuts = []
    for face in draw(st.lists(FACE, max_size=4)):
        deep, across = (section.depth, section.width) if face in "AC" else (section.width, section.depth)
        kind = draw(st.integers(0, 2))
        cuts.append(
            flat(section, draw(PART) * deep / 3, face)
            if kind == 0
            else groove(section, draw(PART) * across / 3, draw(PART) * deep / 2, face)
            if kind == 1
            else bore(section, draw(PART) * across / 3, face)
        )
    return cuts


@given(sections())
def test_nothing_cut_leaves_the_whole(section: Section) -> None:
    whole = remaining_section(section, [])
    assert whole.area == pytest.approx(section.area, rel=1e-12)
    assert (whole.second_depth, whole.second_width) == pytest.approx(section.second_moments, rel=1e-9)
    assert (whole.x, whole.y) == pytest.approx((0, 0), abs=1e-9 * section.width)
    assert whole.modulus_depth == pytest.approx(section.second_moments[0] / (section.depth / 2), rel=1e-9)
    assert whole.modulus_width == pytest.approx(section.second_moments[1] / (section.width / 2), rel=1e-9)


@given(sections(), FACE)
def test_everything_cut_leaves_nothing(section: Section, face: str) -> None:
    deep, across = (section.depth, section.width) if face in "AC" else (section.width, section.depth)
    for cut in (flat(section, deep, face), bore(section, across, face), Recess(-inf, inf, -inf, inf)):
        assert remaining_section(section, [cut]) == (0, 0, 0, 0, 0, 0, 0)


def test_a_flat_bars_and_a_hole_in_a_square_by_hand() -> None:
    lowered = remaining_section(SQUARE, [flat(SQUARE, 10.0, "A")])
    assert lowered == pytest.approx((1800, 0, -5, 60 * 30**3 / 12, 30 * 60**3 / 12, 60 * 30**2 / 6, 30 * 60**2 / 6))
    slotted = remaining_section(SQUARE, [groove(SQUARE, 20.0, 10.0, face) for face in "AC"])
    deep = (60 * 40**3 - 20 * (40**3 - 20**3)) / 12
    wide = (40 * 60**3 - 20 * 20**3) / 12
    assert slotted == pytest.approx((2000, 0, 0, deep, wide, deep / 20, wide / 30), abs=1e-9)
    bored = remaining_section(SQUARE, [bore(SQUARE, 10.0, "B")])  # along the width, so that it weakens the depth least
    deep = 60 * (40**3 - 10**3) / 12
    assert bored == pytest.approx((1800, 0, 0, deep, 30 * 60**3 / 12, deep / 20, 30 * 60**2 / 6), abs=1e-9)


def test_the_farthest_fibre_is_one_that_is_left() -> None:
    """The modulus of what is left is over its own corners, even where the crown of a face is gone."""
    both = remaining_section(SQUARE, [flat(SQUARE, 5.0, "A"), flat(SQUARE, 10.0, "C"), flat(SQUARE, 12.0, "B")])
    assert (both.x, both.y) == pytest.approx((-6, 2.5))
    assert both.modulus_depth == pytest.approx(48 * 25**2 / 6)
    assert both.modulus_width == pytest.approx(25 * 48**2 / 6)
    tube = Section("hollow", 80.0, 80.0, 10.0)  # all but a strip of the lower wall is gone
    strip = remaining_section(tube, [flat(tube, 25.0, "B"), flat(tube, 25.0, "D"), groove(tube, 30.0, 40.0, "A")])
    assert -40 < strip.y < -30
    farthest = strip.second_depth / strip.modulus_depth  # not up to the floor of the bar, which hangs in the air
    assert farthest == pytest.approx(-sqrt(30**2 - 15**2) - strip.y)


def test_a_flat_on_an_eight_by_hand() -> None:
    eight = Section("eight", 100.0, 100.0)
    mark = 100 * (1 - 1 / sqrt(2))  # deep enough to take the two slopes of the top whole
    facet = 100 * (sqrt(2) - 1)
    assert eight.area - remaining_section(eight, [flat(eight, mark, "A")]).area == pytest.approx(
        (100 + facet) / 2 * mark
    )


@given(SIZE, st.floats(1, 179), FACE)
def test_a_flat_on_a_round_leaves_a_segment(width: float, half_angle: float, face: str) -> None:
    r, t = width / 2, half_angle * pi / 180
    round_ = Section("round", width, width)
    segment = remaining_section(round_, [flat(round_, width - r * (1 - cos(t)), face)])
    assert segment.area == pytest.approx(r * r * (t - sin(t) * cos(t)), rel=1e-6, abs=1e-9 * r * r)
    known = 2 * r * sin(t) ** 3 / (3 * (t - sin(t) * cos(t)))  # the segment's centroid from the middle
    out = {"A": -segment.y, "C": segment.y, "B": -segment.x, "D": segment.x}[face]
    assert out == pytest.approx(known, rel=1e-4)


@given(st.data(), sections())
def test_more_cut_leaves_less_and_nothing_goes_twice(data: st.DataObject, section: Section) -> None:
    some, more = data.draw(cuts(section)), data.draw(cuts(section))
    fewer, both = remaining_section(section, some), remaining_section(section, [*some, *more])
    noise = 1e-9 * section.area
    assert -noise <= both.area <= fewer.area + noise
    assert both.area >= fewer.area + remaining_section(section, more).area - section.area - noise
    assert remaining_section(section, [*some, *some]) == pytest.approx(fewer, abs=1e-6)
    about = fewer.second_depth + fewer.area * fewer.y**2  # about the middle, where less wood is less
    assert both.second_depth + both.area * both.y**2 <= about + 1e-9 * section.second_moments[0]


@given(st.data(), sections())
def test_turned_a_quarter_the_two_ways_change_over(data: st.DataObject, section: Section) -> None:
    assume(section.kind != "staves" or section.staves % 4 == 0)  # another number of sides is no way the same
    here = data.draw(cuts(section))
    turned = [Recess(cut.bottom, cut.top, cut.left, cut.right) for cut in here]
    straight = remaining_section(section, here)
    other = remaining_section(section._replace(width=section.depth, depth=section.width), turned)
    if straight.area < 1e-6 * section.area:
        return
    assert other.area == pytest.approx(straight.area, rel=1e-6)
    assert (other.y, other.x) == pytest.approx((straight.x, straight.y), abs=1e-6 * (section.width + section.depth))
    scale = 1e-6 * section.area * (section.width + section.depth) ** 2
    assert (other.second_width, other.second_depth) == pytest.approx(
        (straight.second_depth, straight.second_width), abs=scale
    )


@pytest.mark.parametrize("staves", NUMBERS)
@pytest.mark.parametrize("part", [0.3, 0.62, 0.85, 1.0])
def test_a_flat_into_a_ring_of_staves_takes_what_shapely_says(staves: int, part: float) -> None:
    """The hole has a flat side uppermost; laid out by its corners, and a floor `part` of the way to the middle."""
    ring = Section("staves", 100.0, 100.0, 18.0, staves)
    far = 32 / cos(pi / staves)
    turns = [(2 * k + 1) * pi / staves for k in range(staves)]
    hole = shapely.Polygon([(far * sin(turn), far * cos(turn)) for turn in turns])
    left = shapely.Point(0, 0).buffer(50, quad_segs=4000) - hole - shapely.box(-60, 50 - 50 * part, 60, 60)
    cut = remaining_section(ring, [flat(ring, 50 * part, "A")])
    assert cut.area == pytest.approx(left.area, rel=1e-6)
    assert (cut.x, cut.y) == pytest.approx((left.centroid.x, left.centroid.y), abs=1e-4)
    farthest = max(cut.y + 50, 50 - 50 * part - cut.y)  # the crown below, or the floor
    assert cut.second_depth / cut.modulus_depth == pytest.approx(farthest, rel=1e-6)
