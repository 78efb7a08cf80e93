"""The outside of a section as shapes: what stays as the work, what lies beyond a plane as laid out only."""

from itertools import pairwise
from math import asin, cos, degrees, inf, pi, sin

from ..spar.section import EIGHT, Section
from .shapes import Arc, Line, Pen, Shape, loop


def rim(section: Section, top: float = inf, bottom: float = -inf) -> tuple[Shape, ...]:
    """The outside between the heights `bottom` and `top` over the middle, and, light, what lies above and below."""
    x, y = section.width / 2, section.depth / 2
    if section.kind in ("square", "eight"):
        flat = 1.0 if section.kind == "square" else EIGHT
        corners = [(1, flat), (flat, 1), (-flat, 1), (-1, flat), (-1, -flat), (-flat, -1), (flat, -1), (1, -flat)]
        points = [(x * i, y * j) for i, j in corners]
        return tuple(piece for a, b in pairwise([*points, points[0]]) if a != b for piece in _split(a, b, top, bottom))
    up, down = (degrees(asin(min(1.0, max(-1.0, level / y)))) for level in (top, bottom))
    arcs: list[tuple[float, float, Pen]] = [
        (down, up, "work"), (180 - up, 180 - down, "work"), (up, 180 - up, "light"), (180 - down, 360 + down, "light"),
    ]  # fmt: skip
    shapes: list[Shape] = [Arc(0, 0, x, y, start, end, pen) for start, end, pen in arcs if end - start > 1e-9]
    if (hollow := section.inside) and hollow.kind == "sides":
        half = pi / hollow.staves
        turns = [(2 * k + 1) * half for k in range(hollow.staves)]
        shapes += loop(*((hollow.width * sin(t) / 2 / cos(half), hollow.depth * cos(t) / 2 / cos(half)) for t in turns))
    elif hollow:
        shapes.append(Arc(0, 0, hollow.width / 2, hollow.depth / 2))
    return tuple(shapes)


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
