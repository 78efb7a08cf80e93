"""What fittings leave of a section, against two general libraries.

sectionproperties (3.10 and later) meshes the shape and sums over triangles: area, centroid, second moments and moduli.
shapely (2.1 and later) cuts fine polygons: areas. And the segments that the handbooks print.
"""

from math import cos, pi, radians
from typing import TYPE_CHECKING

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from shopcompanion.spar.cuts import Recess, bore, flat, groove, remaining_section
from shopcompanion.spar.section import SECTIONS, Section
from shopcompanion.spar.staves import NUMBERS

if TYPE_CHECKING:
    from sectionproperties.analysis import Section as Meshed

FAR = 1e4


def ellipse(width: float, depth: float, quarter: int) -> shapely.Polygon:
    return shapely.affinity.scale(shapely.Point(0, 0).buffer(1, quad_segs=quarter), width / 2, depth / 2, origin=(0, 0))


def shape(section: Section, quarter: int) -> shapely.Polygon:
    """The section as a polygon; curves with that many corners in each quarter."""
    width, depth = section.width, section.depth
    if section.kind == "square":
        return shapely.box(-width / 2, -depth / 2, width / 2, depth / 2)
    if section.kind == "eight":
        turned = shapely.affinity.rotate(shapely.box(-1, -1, 1, 1), 45, origin=(0, 0))
        eight = turned.intersection(shapely.box(-1, -1, 1, 1))
        return shapely.affinity.scale(eight, width / 2, depth / 2, origin=(0, 0))
    area = ellipse(width, depth, quarter)
    if section.kind == "hollow" and 2 * section.wall < min(width, depth):
        area = area.difference(ellipse(width - 2 * section.wall, depth - 2 * section.wall, quarter))
    if section.kind == "staves" and 2 * section.wall < min(width, depth):
        hole = shapely.box(-9, -9, 9, 1)  # below the uppermost side
        for number in range(section.staves):
            hole &= shapely.affinity.rotate(shapely.box(-9, -9, 9, 1), 360 * number / section.staves, origin=(0, 0))
        area -= shapely.affinity.scale(hole, width / 2 - section.wall, depth / 2 - section.wall, origin=(0, 0))
    return area


def cut_away(of: shapely.Polygon, cuts: list[Recess]) -> shapely.Geometry:
    for cut in cuts:
        sides = (max(cut.left, -FAR), max(cut.bottom, -FAR), min(cut.right, FAR), min(cut.top, FAR))
        of = of.difference(shapely.box(*sides))
    return of


def mesh(part: shapely.Geometry) -> "Meshed":
    from sectionproperties.analysis import Section as Meshed
    from sectionproperties.pre import Geometry

    geometry = Geometry(part)
    geometry.create_mesh([0])
    meshed = Meshed(geometry)
    meshed.calculate_geometric_properties()
    return meshed


def a_flat_two_bars_and_a_hole(section: Section, faces: str) -> list[Recess]:
    """A flat with a bar let in below it, a bar in the face opposite, and a hole square to both, so it comes out."""
    top, bottom, side = faces
    small = min(section.width, section.depth)
    return [
        flat(section, small * 0.06, top),
        groove(section, small * 0.3, small * 0.15, top),
        groove(section, small * 0.25, small * 0.12, bottom),
        bore(section, small * 0.14, side),
    ]


@pytest.mark.parametrize("faces", ["ACB", "BDA", "CAD"])
@pytest.mark.parametrize(
    "section",
    [
        Section("round", 80.0, 80.0),
        Section("oval", 60.0, 90.0),
        Section("eight", 76.2, 76.2),
        Section("square", 63.5, 88.9),
    ],
    ids=lambda section: section.kind,
)
def test_what_a_flat_two_bars_and_a_hole_leave(section: Section, faces: str) -> None:
    cuts = a_flat_two_bars_and_a_hole(section, faces)
    parts = cut_away(shape(section, 100), cuts)
    area, sums = 0.0, [0.0] * 4  # the hole parts it in two: each is meshed, and added about the middle
    extents = parts.bounds
    for part in parts.geoms:
        meshed = mesh(part)
        (x, y), (deep, wide, _) = meshed.get_c(), meshed.get_ic()
        size = meshed.get_area()
        area += size
        for k, moment in enumerate((size * x, size * y, deep + size * y * y, wide + size * x * x)):
            sums[k] += moment
    x, y = sums[0] / area, sums[1] / area
    deep, wide = sums[2] - area * y * y, sums[3] - area * x * x
    moduli = (deep / max(extents[3] - y, y - extents[1]), wide / max(extents[2] - x, x - extents[0]))
    remaining = remaining_section(section, cuts)
    assert remaining.area == pytest.approx(area, rel=1e-3)
    assert (remaining.x, remaining.y) == pytest.approx((x, y), abs=1e-3 * section.width)
    assert (remaining.second_depth, remaining.second_width) == pytest.approx((deep, wide), rel=1e-3)
    assert (remaining.modulus_depth, remaining.modulus_width) == pytest.approx(moduli, rel=1e-3)


@pytest.mark.parametrize("kind", ["round", "eight", "square"])
def test_the_moduli_of_a_section_with_a_flat_and_a_bar(kind: str) -> None:
    """One piece, so that the library's own section moduli can be asked for."""
    section = Section(kind, 80.0, 80.0)
    cuts = [flat(section, 6.0, "B"), groove(section, 25.0, 12.0, "A")]
    meshed = mesh(cut_away(shape(section, 100), cuts))
    up, down, right, left_ = meshed.get_z()
    remaining = remaining_section(section, cuts)
    assert remaining.modulus_depth == pytest.approx(min(up, down), rel=1e-3)
    assert remaining.modulus_width == pytest.approx(min(right, left_), rel=1e-3)


@st.composite
def cases(draw: st.DrawFn) -> tuple[Section, list[Recess]]:
    kind, width, ratio = draw(st.sampled_from(SECTIONS)), draw(st.floats(20, 200)), draw(st.floats(0.5, 2))
    wall, staves = width * min(1, ratio) * draw(st.floats(0.1, 0.6)), draw(st.sampled_from(NUMBERS))
    if kind == "staves":  # whose hole has corners, all of them within the wood
        assume(wall > 1.001 * (1 - cos(pi / staves)) * max(width, width * ratio) / 2)
    section = Section(kind, width, width * ratio, wall, staves)
    part = st.floats(0, 1)
    cuts = []
    for face in draw(st.lists(st.sampled_from("ABCD"), min_size=1, max_size=4)):
        deep, across = (section.depth, section.width) if face in "AC" else (section.width, section.depth)
        cuts.append(draw(st.sampled_from([
            flat(section, draw(part) * deep / 2, face), groove(section, draw(part) * across, draw(part) * deep, face),
            bore(section, draw(part) * across, face),
        ])))  # fmt: skip
    return section, cuts


@given(cases())
def test_areas_of_cuts_that_lie_over_one_another_as_they_please(case: tuple[Section, list[Recess]]) -> None:
    section, cuts = case
    known = cut_away(shape(section, 2000), cuts).area
    assert remaining_section(section, cuts).area == pytest.approx(known, abs=2e-6 * section.width * section.depth)


@pytest.mark.parametrize("face", "ABCD")
def test_a_flat_on_a_round_is_the_segment_of_the_handbooks(face: str) -> None:
    """Segments of the unit circle: 60° 0.13397 high, area 0.09059; 90° 0.29289, 0.28540; 120° 0.5, 0.61418.

    Layout of Machinery's Handbook; computed.
    """
    unit = Section("round", 2.0, 2.0)
    for angle, height, area in ((60, 0.13397, 0.09059), (90, 0.29289, 0.28540), (120, 0.5, 0.61418)):
        exact = 1 - cos(radians(angle / 2))
        assert exact == pytest.approx(height, abs=5e-6)
        assert pi - remaining_section(unit, [flat(unit, exact, face)]).area == pytest.approx(area, abs=5e-6)
