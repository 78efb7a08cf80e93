"""Sections across a spar: area, girth, second moments, and what flats and holes leave. Millimetres.

Every section lies in a rectangle of width and depth and is the affine image of the regular one: a round becomes an
oval. A hollow is a round with a round hole that leaves the same wall all round.
"""

from math import asin, hypot, pi, sqrt, tan
from typing import NamedTuple

SECTIONS = ("round", "square", "eight", "oval", "hollow")
_TAN = tan(pi / 8)
# Of a width across flats of 1, by the formulas of the regular polygon.
_AREA = {"square": 1.0, "eight": 2 * _TAN, "round": pi / 4}
_SECOND = {"square": 1 / 12, "eight": _TAN * (1 + _TAN**2 / 3) / 8, "round": pi / 64}


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
        return self.area_left()

    @property
    def perimeter(self) -> float:
        """All the way round the outside.

        >>> round(Section("oval", 4, 2).perimeter, 7)
        9.6884482
        """
        if self.kind == "square":
            return 2 * (self.width + self.depth)
        if self.kind == "eight":
            corner = (1 - _TAN) / 2
            return 2 * _TAN * (self.width + self.depth) + 4 * corner * hypot(self.width, self.depth)
        return ellipse_perimeter(self.width / 2, self.depth / 2)

    @property
    def second_moments(self) -> tuple[float, float]:
        """In mm⁴: for bending the way of the depth, and the way of the width.

        >>> round(Section("eight", 1, 1).second_moments[0], 7)
        0.0547379
        """
        w, d = self.width, self.depth
        part = _SECOND[self._solid]
        found = part * w * d**3, part * d * w**3
        if inside := self._inside:
            less = inside.second_moments
            return found[0] - less[0], found[1] - less[1]
        return found

    def area_left(self, flat: float = 0.0, hole: float = 0.0) -> float:
        """The area, mm², with a flat of that depth on the width's face and a slot of width `hole` down the depth.

        >>> round(Section("round", 2, 2).area_left(flat=0.29289321881345254), 5)  # less the segment of 90°
        2.85619
        """
        whole = self._left(self.depth / 2 - flat, hole / 2)
        return whole - inside._left(self.depth / 2 - flat, hole / 2) if (inside := self._inside) else whole

    @property
    def _solid(self) -> str:
        return self.kind if self.kind in _AREA else "round"

    @property
    def _inside(self) -> "Section | None":
        """The hole down the middle of a hollow."""
        thinner = min(self.width, self.depth) - 2 * self.wall
        if self.kind != "hollow" or thinner <= 0:
            return None
        return Section("round", self.width - 2 * self.wall, self.depth - 2 * self.wall)

    def _left(self, top: float, beside: float) -> float:
        """Area of the solid below the height `top` over the middle, and further than `beside` from the middle line."""
        half = self.width / 2
        beside = min(beside, half)
        if top >= self.depth / 2:
            return 4 * (self._under(half) - self._under(beside))
        reach = self._reach(abs(top))  # how far out the section is as high as that
        if top < 0:
            if reach <= beside:
                return 0.0
            return max(0.0, 2 * (self._under(reach) - self._under(beside) + top * (reach - beside)))
        level = max(reach, beside)
        above = top * (level - beside) + self._under(half) - self._under(level)
        return 2 * (above + self._under(half) - self._under(beside))

    def _under(self, out: float) -> float:
        """Area of the upper half from the middle line `out` along the width."""
        w, d = self.width / 2, self.depth / 2
        if self._solid == "square":
            return d * out
        t = out / w
        if self._solid == "round":
            return w * d * (t * sqrt(max(0.0, 1 - t * t)) + asin(min(1.0, t))) / 2
        over = max(0.0, t - _TAN)
        return w * d * (t - over * over / 2)

    def _reach(self, height: float) -> float:
        """How far from the middle line the section is at least `height` high, from its own middle."""
        w, h = self.width / 2, height / (self.depth / 2)
        if h >= 1:
            return 0.0
        if self._solid == "square":
            return w
        return w * (sqrt(1 - h * h) if self._solid == "round" else min(1.0, 1 + _TAN - h))


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
