"""Ends and joints against shapely, a general library of plane geometry (shapely.org, 2.1 and later).

Shapes are cut as a builder cuts them, from the numbers that are given, and then measured.
"""

from itertools import combinations
from math import atan2, degrees, sqrt

import pytest
import shapely
from shapely.affinity import rotate, scale, translate

from ..asking import ask

OCTAGON = 0.8284271247  # area, across flats 1; computed


def beyond(a: tuple[float, float], b: tuple[float, float]) -> shapely.Polygon:
    """What lies on the right of the line from `a` to `b`, far enough."""
    run, rise = b[0] - a[0], b[1] - a[1]
    size = 1000 / sqrt(run * run + rise * rise)
    start, end = (a[0] - run * size, a[1] - rise * size), (b[0] + run * size, b[1] + rise * size)
    aside = (-rise * size, run * size)
    return shapely.Polygon([start, end, *((x + aside[0], y + aside[1]) for x, y in (end, start))])


@pytest.mark.parametrize(("length", "diameter"), [(None, 54.0), (12.0, 54.0), (40.0, 54.0), (27.0, 54.0)])
@pytest.mark.parametrize("chamfers", [1, 2, 3])
def test_a_tip_cut_from_line_to_line(length: float | None, diameter: float, chamfers: int) -> None:
    """Half of the side view; each chamfer runs from its line back from the end to where its diameter is left."""
    shape = {} if length is None else {"shape": "blunt", "length": length}
    answers = ask("tip", diameter=diameter, chamfers=chamfers, **shape).answers
    long, radius = answers.tip_length, diameter / 2
    wanted = scale(shapely.Point(0, 0).buffer(1, quad_segs=4000), long, radius, origin=(0, 0))
    work = shapely.box(-50, 0, long, radius)
    for k in range(1, chamfers + 1):
        back, across = getattr(answers, f"set_back_{k}"), getattr(answers, f"across_{k}")
        upright = work.intersection(shapely.LineString([(long - back, 0), (long - back, 100)]))
        level = work.intersection(shapely.LineString([(0, across / 2), (100, across / 2)]))
        a, b = (long - back, upright.bounds[3]), (level.bounds[2], across / 2)
        assert degrees(atan2(a[1] - b[1], b[0] - a[0])) == pytest.approx(getattr(answers, f"angle_{k}"), abs=1e-6)
        touching = shapely.LineString([a, b])
        assert touching.distance(wanted) == pytest.approx(0, abs=1e-4)
        work = work.difference(beyond(a, b))
        assert work.buffer(1e-4).contains(wanted.intersection(shapely.box(-1, 1e-6, 100, 100)))
        corners = [shapely.Point(at) for at in work.exterior.coords if at[0] > 1e-9 and at[1] > 1e-9]
        stands = max(corner.distance(wanted) for corner in corners)
        assert getattr(answers, f"proud_{k}") == pytest.approx(stands, abs=1e-4)
    bit = answers.bit_height
    bevel = shapely.LineString([(long - bit, radius), (long, radius - bit)])
    assert bevel.distance(wanted) == pytest.approx(0, abs=1e-4)
    assert bevel.intersection(wanted).length < 0.2  # it touches, and does not cut in


@pytest.mark.parametrize(("blank", "across"), [(76.2, 53.975), (76.2, 76.2), (115.0, 60.0)])
def test_a_shoulder_sawn_on_faces_and_corners_leaves_the_octagon(blank: float, across: float) -> None:
    answers = ask("shoulder", blank=blank, round_diameter=across).answers
    inner = blank / 2 - answers.shoulder_depth
    faces = shapely.box(-inner, -inner, inner, inner)
    corner = blank / sqrt(2) - answers.corner_depth
    turned = rotate(shapely.box(-corner, -corner, corner, corner), 45, origin=(0, 0))
    eight = faces.intersection(turned)
    assert eight.area == pytest.approx(OCTAGON * across**2, rel=1e-9)
    top = eight.boundary.intersection(shapely.LineString([(-inner, inner), (inner, inner)]))
    assert top.length == pytest.approx(answers.facet_8)
    assert inner - top.bounds[2] == pytest.approx(answers.mark_8)


@pytest.mark.parametrize("count", [1, 2, 3, 4, 5, 6])
@pytest.mark.parametrize("depth", [None, 52.0, 90.0])
def test_dowels_bored_where_they_are_said_to_be(count: int, depth: float | None) -> None:
    asked = {"section": 66.0, "depth": depth, "dowel": 6.0, "count": count, "keep_clear": 3.0, "blank": 95.0}
    result = ask("dowels", **asked)
    answers = result.answers
    section = scale(shapely.Point(0, 0).buffer(1, quad_segs=500), 33, (depth or 66) / 2, origin=(0, 0))
    hole = shapely.Point(0, 0).buffer(3, quad_segs=500)
    rows = result.as_json()["tables"]["holes"]["rows"]
    holes = [translate(hole, row[1], row[2]) for row in rows]
    assert len(holes) == count
    band = shapely.box(-1.5, -100, 1.5, 100)  # across the line from B to D
    for bore in holes:
        assert section.buffer(-answers.cover_used + 1e-3, quad_segs=500).contains(bore)
    assert min(hole.distance(band) for hole in holes) == pytest.approx(answers.clear_by, abs=1e-3)
    for bore, other in combinations(holes, 2):
        assert bore.distance(other) >= 6 - 1e-3
    if count > 1:
        nearest = min(hole.centroid.distance(other.centroid) for hole, other in combinations(holes, 2))
        assert nearest == pytest.approx(answers.spacing, abs=1e-6)
    left = section.difference(shapely.union_all(holes))
    if depth is None:
        assert 1 - left.area / section.area == pytest.approx(answers.bored, rel=1e-4)
    # from the edges of the blank, the same holes
    for row, bore in zip(rows, holes, strict=True):
        assert translate(bore, 47.5, 47.5).centroid.equals_exact(shapely.Point(row[3], row[4]), 1e-6)
