"""Regular polygons round a circle, by the width across flats, and their affine image round an oval.

All of them with one flat on each face of the square that the spar is cut from. Millimetres and radians.
"""

from functools import lru_cache
from math import atan2, cos, hypot, pi, sin, tan

from ..record import NamedTuple
from .halving import turns


def facet(across: float, sides: int) -> float:
    """Width of a facet, across·tan(π/n). The square is 4 sides.

    >>> round(facet(1, 8), 5)
    0.41421
    """
    return across * tan(pi / sides) if sides != 4 else across


def mark(across: float, sides: int) -> float:
    """Distance of the line from each edge of the faces that are there already, for going to `sides`.

    >>> round(mark(1, 8), 5), round(mark(1, 16), 5)
    (0.29289, 0.10765)
    """
    return (facet(across, sides // 2) - facet(across, sides)) / 2


def cut(across: float, sides: int) -> float:
    """Wood off the old corner, measured square to the new facet, in going to `sides`.

    >>> round(cut(1, 8), 5)
    0.20711
    """
    return across / 2 * (1 / cos(2 * pi / sides) - 1)


def ridge(across: float, sides: int) -> float:
    """What a corner of the polygon stands proud of the round.

    >>> round(ridge(1, 8), 5)
    0.0412
    """
    return across / 2 * (1 / cos(pi / sides) - 1)


class OvalFacet(NamedTuple):
    """One of the facets from the middle of the width's face (tilt 0) round to the middle of the depth's (90°)."""

    tilt: float  # radians, from the width's face
    width: float
    cut: float  # wood off the corner of the polygon before; 0 for a facet that lies in an old one
    mark: float  # for the next doubling, from each edge of this facet
    ridge: float  # its corner on the far side, above the oval


@lru_cache(maxsize=512)  # a card asks for the same few sections again and again
def oval_facets(width: float, depth: float, sides: int) -> tuple[OvalFacet, ...]:
    """The facets of a quarter of the polygon of `sides` round an oval, its affine image, one of each kind.

    An affine image keeps ratios along a line, so the next marks are the same part of every facet's own width.
    """
    a, b = width / 2, depth / 2
    part = mark(1, 2 * sides) / facet(1, sides)
    facets = []
    for k in range(sides // 4 + 1):
        middle, half = 2 * pi * k / sides, pi / sides
        ends = [
            (a * sin(at) / cos(half), b * cos(at) / cos(half)) for at in (middle - half, middle + half)
        ]  # the corners on the circle that is 1/cos(π/n) too big
        (x1, y1), (x2, y2) = ends
        wide = hypot(x2 - x1, y2 - y1)
        old = _corner_off(a, b, middle, half, wide) if k % 2 and sides > 4 else 0.0
        facets.append(OvalFacet(atan2(y1 - y2, x2 - x1), wide, old, part * wide, above_oval(a, b, x2, y2)))
    return tuple(facets)


def _corner_off(a: float, b: float, middle: float, half: float, wide: float) -> float:
    """Distance from the old corner at `middle` to the new facet: twice the triangle's area over the facet."""
    height = 1 / cos(2 * half) - 1  # on the unit circle
    return 2 * (a * b * height * tan(half)) / wide


def above_oval(a: float, b: float, x: float, y: float) -> float:
    """Distance of a point outside the ellipse of semi-axes `a`, `b` from it, by halving for the foot of the normal."""
    x, y = abs(x), abs(y)
    if a == b:
        return hypot(x, y) - a

    def before(t: float) -> bool:  # (point − foot)·tangent falls through zero at the foot; t is its eccentric angle
        return (x - a * cos(t)) * -a * sin(t) + (y - b * sin(t)) * b * cos(t) > 0

    foot = turns(0.0, pi / 2, before)
    return hypot(x - a * cos(foot), y - b * sin(foot))
