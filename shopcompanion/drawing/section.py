"""A section as shapes: what stays is wood with its outline, what lies beyond a plane comes off and is laid out only."""

from itertools import pairwise
from math import asin, cos, degrees, inf, pi, sin

from ..spar.section import EIGHT, Section
from .shapes import Arc, Fill, Line, Pen, Points, Shape, above, along_arc, loop, mirrored


def rim(section: Section, top: float = inf, bottom: float = -inf) -> tuple[Shape, ...]:
    """A section, filled: its outside between the heights `bottom` and `top`, and, light, what lies above and below."""
    x, y = section.width / 2, section.depth / 2
    points, hole = outside(section), inside(section)
    shapes: list[Shape] = [Fill(points)]
    shapes += [Fill(part, "off") for part in (above(points, top), mirrored(above(mirrored(points), -bottom))) if part]
    if section.kind in ("square", "eight"):
        for a, b in zip(points, (*points[1:], points[0]), strict=True):
            shapes += _split(a, b, top, bottom)
        return tuple(shapes)
    up, down = (degrees(asin(min(1.0, max(-1.0, level / y)))) for level in (top, bottom))
    arcs: list[tuple[float, float, Pen]] = [
        (down, up, "work"), (180 - up, 180 - down, "work"), (up, 180 - up, "light"), (180 - down, 360 + down, "light"),
    ]  # fmt: skip
    shapes += [Arc(0, 0, x, y, start, end, pen) for start, end, pen in arcs if end - start > 1e-9]
    if hole:
        shapes += (Fill(hole, "air"), *loop(*hole))
    return tuple(shapes)


def outside(section: Section) -> Points:
    """The outside of a section as a closed figure about its middle."""
    x, y = section.width / 2, section.depth / 2
    if section.kind == "square":
        return ((x, y), (-x, y), (-x, -y), (x, -y))
    if section.kind == "eight":
        part = EIGHT
        turned = [(1, part), (part, 1), (-part, 1), (-1, part), (-1, -part), (-part, -1), (part, -1), (1, -part)]
        return tuple((x * i, y * j) for i, j in turned)
    return along_arc(Arc(0, 0, x, y))


def inside(section: Section) -> Points:
    """The hole of a hollow section as a closed figure; nothing where it is solid."""
    hollow = section.inside
    if not hollow:
        return ()
    if hollow.kind != "sides":
        return along_arc(Arc(0, 0, hollow.width / 2, hollow.depth / 2))
    half = pi / hollow.staves
    turns = [(2 * k + 1) * half for k in range(hollow.staves)]
    return tuple((hollow.width * sin(t) / 2 / cos(half), hollow.depth * cos(t) / 2 / cos(half)) for t in turns)


def _split(a: tuple[float, float], b: tuple[float, float], top: float, bottom: float) -> list[Line]:
    """A side of the section, parted where it passes either height."""
    run, rise = b[0] - a[0], b[1] - a[1]
    parts = {0.0, 1.0} | {t for level in (top, bottom) if rise and 0 < (t := (level - a[1]) / rise) < 1}
    pieces = []
    for low, high in pairwise(sorted(parts)):
        middle = a[1] + rise * (low + high) / 2
        pen: Pen = "work" if bottom <= middle <= top + 1e-9 else "light"
        pieces.append(Line(a[0] + run * low, a[1] + rise * low, a[0] + run * high, a[1] + rise * high, pen))
    return pieces


def box(left: float, bottom: float, right: float, top: float, pen: Pen = "work") -> tuple[Line, ...]:
    """An upright rectangle."""
    return loop((left, bottom), (right, bottom), (right, top), (left, top), pen=pen)
