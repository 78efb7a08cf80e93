"""Facets round a circle and an oval, against general geometry: shapely, and the equation of the ellipse.

The published values are in outside/.
"""

import itertools
from math import atan2, cos, degrees, hypot, pi, sin, sqrt

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.spar.polygon import above_oval, cut, facet, mark, oval_facets, ridge

SIDES = st.sampled_from([4, 8, 16, 32])
DOUBLED = st.sampled_from([8, 16, 32, 64])
ACROSS = st.floats(1, 2000)


def polygon(n: int, width: float, depth: float) -> shapely.Polygon:
    """The polygon of n facets round an oval, a flat on each face of its square: the corners laid out by angles."""
    out = 1 / cos(pi / n)
    corners = [(sin(t) * width / 2 * out, cos(t) * depth / 2 * out) for t in ((2 * k + 1) * pi / n for k in range(n))]
    return shapely.Polygon(corners)


def sides(shape: shapely.Polygon) -> list[float]:
    ring = list(shape.exterior.coords)
    return [hypot(b[0] - a[0], b[1] - a[1]) for a, b in itertools.pairwise(ring)]


@given(ACROSS, SIDES)
def test_facets_are_the_sides_of_the_polygon(across: float, n: int) -> None:
    assert sides(polygon(n, across, across)) == pytest.approx([facet(across, n)] * n, rel=1e-9)


@given(ACROSS, DOUBLED)
def test_marks_divide_each_face_that_is_there_already(across: float, n: int) -> None:
    before, after = polygon(n // 2, across, across), polygon(n, across, across)
    assert facet(across, n // 2) - 2 * mark(across, n) == pytest.approx(facet(across, n), rel=1e-9)
    # what comes off are n/2 corners: triangles on the new facet, as high as the cut
    off = n / 2 * facet(across, n) * cut(across, n) / 2
    assert before.area - after.area == pytest.approx(off, rel=1e-6)


@given(ACROSS, SIDES)
def test_the_ridge_is_what_stands_outside_the_round(across: float, n: int) -> None:
    far = max(hypot(x, y) for x, y in polygon(n, across, across).exterior.coords)
    assert ridge(across, n) == pytest.approx(far - across / 2, abs=1e-9 * across)


@given(ACROSS, ACROSS, SIDES)
def test_an_ovals_facets_are_the_sides_of_its_polygon(width: float, depth: float, n: int) -> None:
    quarter = oval_facets(width, depth, n)
    assert len(quarter) == n // 4 + 1
    whole = [*quarter, *quarter[-2:0:-1]] * 2  # there are two ends and twice two of all between
    assert len(whole) == n
    assert sorted(side.width for side in whole) == pytest.approx(sorted(sides(polygon(n, width, depth))), rel=1e-9)


@given(ACROSS, ACROSS, SIDES)
def test_every_facet_of_an_oval_touches_it(width: float, depth: float, n: int) -> None:
    """The tangent of an ellipse that leans by t stands √(a²·sin²t + b²·cos²t) from its middle."""
    a, b = width / 2, depth / 2
    before = polygon(n // 2, width, depth) if n > 4 else None
    for side in oval_facets(width, depth, n):
        stands = sqrt((a * sin(side.tilt)) ** 2 + (b * cos(side.tilt)) ** 2)
        if before is not None and side.cut:
            reach = max(x * sin(side.tilt) + y * cos(side.tilt) for x, y in before.exterior.coords)
            assert side.cut == pytest.approx(reach - stands, rel=1e-6, abs=1e-9 * (a + b))
        far = [x * sin(side.tilt) + y * cos(side.tilt) for x, y in polygon(n, width, depth).exterior.coords]
        assert max(far) == pytest.approx(stands, rel=1e-9)


@given(ACROSS, ACROSS, SIDES)
def test_an_ovals_marks_leave_the_next_facet(width: float, depth: float, n: int) -> None:
    then = {round(degrees(side.tilt), 6): side.width for side in oval_facets(width, depth, 2 * n)}
    for side in oval_facets(width, depth, n):
        assert side.width - 2 * side.mark == pytest.approx(then[round(degrees(side.tilt), 6)], rel=1e-9)


@given(ACROSS, DOUBLED)
def test_a_round_oval_is_the_round(across: float, n: int) -> None:
    for k, side in enumerate(oval_facets(across, across, n)):
        assert degrees(side.tilt) == pytest.approx(360 * k / n, abs=1e-6)
        assert side.width == pytest.approx(facet(across, n), rel=1e-9)
        assert side.mark == pytest.approx(mark(across, 2 * n), rel=1e-9)
        assert side.ridge == pytest.approx(ridge(across, n), abs=1e-9 * across)
        assert side.cut == pytest.approx(cut(across, n) if k % 2 else 0, abs=1e-9 * across)


@given(st.floats(10, 200), st.floats(10, 200), st.floats(0, 90), st.floats(0.01, 50))
def test_above_an_oval_is_along_its_normal(a: float, b: float, turn: float, out: float) -> None:
    """A point put `out` along the normal from a known foot of the ellipse lies `out` above it."""
    t = turn * pi / 180
    lean = atan2(cos(t) / a, sin(t) / b)
    x, y = a * cos(t) + out * sin(lean), b * sin(t) + out * cos(lean)
    assert above_oval(a, b, x, y) == pytest.approx(out, rel=1e-6, abs=1e-6)


def test_the_ridge_of_an_oval_agrees_with_the_nearest_point_of_a_fine_outline() -> None:
    a, b, n = 50.0, 30.0, 8
    fine = shapely.LineString([(a * cos(k * pi / 20000), b * sin(k * pi / 20000)) for k in range(10001)])
    for k, side in enumerate(oval_facets(2 * a, 2 * b, n)[:-1]):
        t = (2 * k + 1) * pi / n
        corner = shapely.Point(a * sin(t) / cos(pi / n), b * cos(t) / cos(pi / n))
        assert side.ridge == pytest.approx(fine.distance(corner), abs=1e-5)
