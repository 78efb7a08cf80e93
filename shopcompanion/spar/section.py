"""Sections across a spar: area, girth and second moments. Millimetres.

Every section lies in a rectangle of width and depth and is the affine image of the regular one: a round becomes an
oval. A hollow is a round with a round hole that leaves the same wall all round; a round of staves has a hole of as many
flat sides, the wall between them and the round being the thickness of a stave.
"""

from math import hypot, pi, sqrt, tan

from ..record import NamedTuple

SECTIONS = ("round", "square", "eight", "oval", "hollow", "staves")
WITH_HOLE = ("hollow", "staves")
EIGHT = tan(pi / 8)  # the facet of the regular eight, of its width
SIDES = {"square": 4, "eight": 8}  # of a section with corners
ROUND = 1000  # sides of one without
# Of a width across flats of 1, by the formulas of the regular polygon.
_AREA = {"square": 1.0, "eight": 2 * EIGHT, "round": pi / 4}
_SECOND = {"square": 1 / 12, "eight": EIGHT * (1 + EIGHT**2 / 3) / 8, "round": pi / 64}


class Section(NamedTuple):
    """A section of a kind of SECTIONS, or `sides`: a regular polygon of `staves` sides by its width across flats.

    Where twice the `wall` is the width or more one with a hole is solid.
    """

    kind: str
    width: float
    depth: float
    wall: float = 0.0
    staves: int = 8

    @property
    def area(self) -> float:
        """In mm².

        >>> round(Section("eight", 1, 1).area, 10)
        0.8284271247
        """
        whole = self._of_square[0] * self.width * self.depth
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
        part = self._of_square[1]
        whole = part * w * d**3, part * d * w**3
        if inside := self.inside:
            less = inside.second_moments
            return whole[0] - less[0], whole[1] - less[1]
        return whole

    @property
    def _of_square(self) -> tuple[float, float]:
        """Area and second moment of its outside, for a width of 1."""
        if self.kind == "sides":
            flat = tan(pi / self.staves)
            return self.staves * flat / 4, self.staves * flat * (1 + flat**2 / 3) / 64
        return _AREA[self.solid], _SECOND[self.solid]

    @property
    def sides(self) -> int:
        """How many sides the outside has; ROUND where it has none."""
        return SIDES.get(self.kind, ROUND)

    @property
    def solid(self) -> str:
        """The kind of its outside: an oval, a hollow and a ring of staves are round."""
        return self.kind if self.kind in _AREA else "round"

    @property
    def inside(self) -> "Section | None":
        """The hole down the middle of a hollow, or of a ring of staves."""
        thinner = min(self.width, self.depth) - 2 * self.wall
        if self.kind not in WITH_HOLE or thinner <= 0:
            return None
        kind = "sides" if self.kind == "staves" else "round"
        return Section(kind, self.width - 2 * self.wall, self.depth - 2 * self.wall, 0.0, self.staves)


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
