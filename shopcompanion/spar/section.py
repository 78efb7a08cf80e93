"""Sections across a spar: area, girth and second moments. Millimetres.

Every section lies in a rectangle of width and depth and is the affine image of the regular one: a round becomes an
oval. A hollow is a round with a round hole that leaves the same wall all round.
"""

from math import hypot, pi, sqrt, tan
from typing import NamedTuple

SECTIONS = ("round", "square", "eight", "oval", "hollow")
EIGHT = tan(pi / 8)  # the facet of the regular eight, of its width
SIDES = {"square": 4, "eight": 8}  # of a section with corners
ROUND = 1000  # sides of one without
# Of a width across flats of 1, by the formulas of the regular polygon.
_AREA = {"square": 1.0, "eight": 2 * EIGHT, "round": pi / 4}
_SECOND = {"square": 1 / 12, "eight": EIGHT * (1 + EIGHT**2 / 3) / 8, "round": pi / 64}


class Section(NamedTuple):
    """A section of a kind of SECTIONS. Where twice the `wall` is the width or more a hollow is solid."""

    kind: str
    width: float
    depth: float
    wall: float = 0.0

    @property
    def area(self) -> float:
        """In mm².

        >>> round(Section("eight", 1, 1).area, 10)
        0.8284271247
        """
        whole = _AREA[self.solid] * self.width * self.depth
        return whole - inside.area if (inside := self.inside) else whole

    @property
    def perimeter(self) -> float:
        """All the way round the outside.

        >>> round(Section("oval", 4, 2).perimeter, 7)
        9.6884482
        """
        if self.kind == "square":
            return 2 * (self.width + self.depth)
        if self.kind == "eight":
            corner = (1 - EIGHT) / 2
            return 2 * EIGHT * (self.width + self.depth) + 4 * corner * hypot(self.width, self.depth)
        return ellipse_perimeter(self.width / 2, self.depth / 2)

    @property
    def second_moments(self) -> tuple[float, float]:
        """In mm⁴: for bending the way of the depth, and the way of the width.

        >>> round(Section("eight", 1, 1).second_moments[0], 7)
        0.0547379
        """
        w, d = self.width, self.depth
        part = _SECOND[self.solid]
        found = part * w * d**3, part * d * w**3
        if inside := self.inside:
            less = inside.second_moments
            return found[0] - less[0], found[1] - less[1]
        return found

    @property
    def sides(self) -> int:
        """How many sides the outside has; ROUND where it has none."""
        return SIDES.get(self.kind, ROUND)

    @property
    def solid(self) -> str:
        """The kind of its outside: an oval and a hollow are round."""
        return self.kind if self.kind in _AREA else "round"

    @property
    def inside(self) -> "Section | None":
        """The hole down the middle of a hollow."""
        thinner = min(self.width, self.depth) - 2 * self.wall
        if self.kind != "hollow" or thinner <= 0:
            return None
        return Section("round", self.width - 2 * self.wall, self.depth - 2 * self.wall)


def ellipse_perimeter(a: float, b: float) -> float:
    """The perimeter of an ellipse of semi-axes `a`, `b`: Gauss's arithmetic-geometric mean, exact to the last digits.

    >>> round(ellipse_perimeter(2, 1), 7)
    9.6884482
    """
    x, y = max(a, b), min(a, b)
    rest, weight = (x * x + y * y) / 2, 1.0
    while x - y > 1e-15 * x:
        less = (x - y) / 2
        x, y = (x + y) / 2, sqrt(x * y)
        rest -= weight * less * less
        weight *= 2
    return 2 * pi * rest / x
