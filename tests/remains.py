"""What is left of a section by polygons, and random spars to fit something to: nothing of this asks the package's sums.

Rounds are polygons of many sides with the area of the round, good to five digits.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import cos, inf, pi, sin, sqrt, tan
from typing import NamedTuple

from hypothesis import assume
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import MultiPolygon, Polygon, box
from shapely.geometry.base import BaseGeometry

from shopcompanion.spar.along import Region
from shopcompanion.spar.body import Body
from shopcompanion.spar.outline import Outline
from shopcompanion.spar.section import SECTIONS

from .spars import outlines

SIDES = 720


class Whole(NamedTuple):
    """Area, second moments (into the face, sideways) about the middle of what is there, and the moduli."""

    area: float
    second_into: float
    second_along: float
    modulus_into: float
    modulus_along: float


def section(kind: str, width: float, depth: float, wall: float = 0.0) -> BaseGeometry:
    """A section of the package's kinds about the middle."""
    if kind == "square":
        return box(-width / 2, -depth / 2, width / 2, depth / 2)
    if kind == "eight":
        corners = [(1, tan(pi / 8)), (tan(pi / 8), 1)]
        points = [(x * i, y * j) for i, j in ((1, 1), (-1, 1), (-1, -1), (1, -1)) for x, y in corners]
        return affinity.scale(Polygon(points).convex_hull, width / 2, depth / 2, origin=(0, 0))
    step = 2 * pi / SIDES
    out = sqrt(step / sin(step))
    ring = Polygon([(out * cos(k * step), out * sin(k * step)) for k in range(SIDES)])
    area = affinity.scale(ring, width / 2, depth / 2, origin=(0, 0))
    if kind == "hollow" and min(width, depth) > 2 * wall:
        return area.difference(affinity.scale(ring, width / 2 - wall, depth / 2 - wall, origin=(0, 0)))
    if kind == "staves":  # eight of them, as flat inside as they are ripped
        return area.difference(section("eight", width - 2 * wall, depth - 2 * wall))
    return area


def less(whole: BaseGeometry, cuts: Sequence[tuple[float, float, float, float]]) -> BaseGeometry:
    """The section without rectangles, each from left to right and from bottom to top."""
    far = 1e4
    for left, right, bottom, top in cuts:
        low, high = max(left, -far), min(right, far)
        whole = whole.difference(box(low, max(bottom, -far), high, min(top, far)))
    return whole


def measured(left: BaseGeometry) -> Whole:
    """By the formulas of the polygon, side by side."""
    area = x = y = xx = yy = 0.0
    points: list[tuple[float, float]] = []
    for part in left.geoms if isinstance(left, MultiPolygon) else [left]:
        for ring, sign in ((part.exterior, 1), *((interior, -1) for interior in part.interiors)):
            corners = list(ring.coords)
            way = sign * (1 if ring.is_ccw else -1)
            points += corners
            for (a, b), (c, d) in pairwise(corners):
                turn = way * (a * d - c * b)
                area += turn / 2
                x += (a + c) * turn / 6
                y += (b + d) * turn / 6
                xx += (a * a + a * c + c * c) * turn / 12
                yy += (b * b + b * d + d * d) * turn / 12
    x, y = x / area, y / area
    into, along = yy - area * y * y, xx - area * x * x
    return Whole(
        area, into, along, into / max(abs(b - y) for _, b in points), along / max(abs(a - x) for a, _ in points)
    )


def turned(body: Body, at: float, face: str) -> tuple[float, float]:
    """Across and through the spar there, with that face up."""
    width, depth = body.width_at(at), body.depth_at(at)
    return (width, depth) if face in "AC" else (depth, width)


@st.composite
def bodies(draw: st.DrawFn) -> Body:
    """A spar of any section; some have another one from the heel for a while, without a run-out."""
    outline = draw(outlines())
    kind = draw(st.sampled_from(SECTIONS))
    part = draw(st.floats(0.7, 1.5))
    depths = Outline(tuple((at, size * part) for at, size in outline.stations), outline.law)
    thinnest = outline.narrowest
    other = draw(st.sampled_from(("square", "eight", "round")))
    oval = kind == "oval"
    regions = (
        (Region(from_=0.0, to=outline.length * draw(st.floats(0.1, 0.9)), section=other),)
        if draw(st.booleans())
        else ()
    )
    wall = thinnest * draw(st.floats(0.2, 0.4))
    if kind == "staves":  # thick enough that rounding the widest place leaves of them what is glued
        wall = max(wall, outline.widest / 20)
        assume(wall < 0.45 * thinnest)
    return Body(outline, depths if oval else None, kind, wall, () if kind in ("oval", "staves") else regions)


ALL = (-inf, inf)
