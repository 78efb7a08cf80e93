"""Ovals against scipy's elliptic integral and shapely's polygons (general-purpose libraries).

The perimeter of an ellipse of semi-axes 2 and 1 is 9.6884482 (computed).
"""

from math import cos, pi, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import ellipe
from shapely import LineString, Point, Polygon, affinity

from shopcompanion.spar.polygon import oval_facets
from shopcompanion.spar.section import Section, ellipse_perimeter

SIZE = st.floats(20, 200)


def polygon(width: float, depth: float, sides: int) -> Polygon:
    """The polygon round an oval: a regular one with a flat to the right, stretched. Corner k follows flat k."""
    reach = 1 / cos(pi / sides)
    corners = [(reach * cos(at), reach * sin(at)) for at in (pi / sides * (2 * k + 1) for k in range(sides))]
    return affinity.scale(Polygon(corners), width / 2, depth / 2, origin=(0, 0))


def oval(width: float, depth: float) -> Polygon:
    return affinity.scale(Point(0, 0).buffer(1, quad_segs=2000), width / 2, depth / 2, origin=(0, 0))


def test_the_perimeter_of_two_to_one() -> None:
    assert ellipse_perimeter(2, 1) == pytest.approx(9.6884482, abs=5e-8)
    assert Section("oval", 4, 2).perimeter == pytest.approx(9.6884482, abs=5e-8)


@given(st.floats(0.01, 1000), st.floats(0.01, 1))
def test_the_perimeter_by_the_elliptic_integral(a: float, part: float) -> None:
    known = 4 * a * ellipe(1 - part**2)
    assert ellipse_perimeter(a, a * part) == pytest.approx(known, rel=1e-12)
    assert ellipse_perimeter(a * part, a) == pytest.approx(known, rel=1e-12)


@given(SIZE, st.floats(0.4, 2.5), st.sampled_from([8, 16, 32]))
def test_the_facets_of_an_oval_are_the_sides_of_the_stretched_polygon(width: float, ratio: float, sides: int) -> None:
    depth = width * ratio
    around = list(polygon(width, depth, sides).exterior.coords)[:-1]
    old = list(polygon(width, depth, sides // 2).exterior.coords)
    edge = oval(width, depth).exterior
    # the first of a quarter is the flat on the top, the last the one on the right
    for k, facet in enumerate(oval_facets(width, depth, sides)):
        place = sides // 4 - k
        side = LineString([around[place - 1], around[place]])
        assert facet.width == pytest.approx(side.length, rel=1e-9)
        (x1, y1), (x2, y2) = side.coords
        along = (cos(facet.tilt), -sin(facet.tilt))  # tilted down from the level of the width's face
        assert abs((x2 - x1) * along[1] - (y2 - y1) * along[0]) < 1e-9 * side.length
        # a facet between two old ones takes the old corner off
        off = min(side.distance(Point(corner)) for corner in old)
        assert facet.cut == pytest.approx(off if k % 2 else 0.0, rel=1e-9, abs=1e-9)
        corner = Point(around[place - 1])
        assert facet.ridge == pytest.approx(corner.distance(edge), abs=width * 1e-6)


@given(SIZE, st.floats(0.4, 2.5))
def test_areas_and_girths_of_ovals_and_stretched_octagons(width: float, ratio: float) -> None:
    depth = width * ratio
    octagon = polygon(width, depth, 8)
    assert Section("eight", width, depth).area == pytest.approx(octagon.area, rel=1e-12)
    assert Section("eight", width, depth).perimeter == pytest.approx(octagon.exterior.length, rel=1e-12)
    assert Section("oval", width, depth).area == pytest.approx(oval(width, depth).area, rel=1e-6)
    assert Section("oval", width, depth).perimeter == pytest.approx(oval(width, depth).exterior.length, rel=1e-6)
