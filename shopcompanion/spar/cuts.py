"""What fittings take from a section, and what is left of it: exact, by closed forms. Millimetres.

A section is read in columns along its width. Between the places where two of its edges meet, one column is like the
next: an edge is the outside, the hollow or the side of a cut, and each of them is a piece of an ellipse or a straight
line. No wood is taken twice, however the cuts lie over one another.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import asin, copysign, cos, inf, pi, sin, sqrt

from ..record import NamedTuple
from .section import EIGHT, Section


class Recess(NamedTuple):
    """An upright rectangle cut away, from the middle of the section: x along the width, y up. ±inf is allowed."""

    left: float
    right: float
    bottom: float
    top: float


class Remaining(NamedTuple):
    """What is left of a section; all 0 when nothing is.

    Area (mm²) and centroid; the second moments (mm⁴) about that centroid, for bending the way of the depth and the way
    of the width; and the moduli (mm³), each over the distance to the farthest fibre that is left.
    """

    area: float
    x: float
    y: float
    second_depth: float
    second_width: float
    modulus_depth: float
    modulus_width: float


def flat(section: Section, depth: float, face: str) -> Recess:
    """A flat whose floor lies `depth` below the crown of a face: A is up, C down, B at +x, D at −x."""
    return _let_in(section, depth, inf, face)


def groove(section: Section, width: float, depth: float, face: str) -> Recess:
    """A bar let in, in the middle of its face: from the crown down to its floor."""
    return _let_in(section, depth, width / 2, face)


def bore(section: Section, diameter: float, face: str) -> Recess:
    """A hole right through along the axis of that face, cut along its middle."""
    return _let_in(section, inf, diameter / 2, face)


def _let_in(section: Section, depth: float, beside: float, face: str) -> Recess:
    across = section.depth if face in "AC" else section.width
    low, high = (across / 2 - depth, inf) if face in "AB" else (-inf, depth - across / 2)
    return Recess(-beside, beside, low, high) if face in "AC" else Recess(low, high, -beside, beside)


def remaining_section(section: Section, cuts: Sequence[Recess]) -> Remaining:
    """What the cuts leave of a section.

    >>> pole = Section("round", 2, 2)
    >>> round(remaining_section(pole, [flat(pole, 0.5, "A")]).area, 5)  # less a segment of 120°
    2.52741
    """
    area = x = y = xx = yy = 0.0
    rims: list[tuple[float, float]] = []  # corners of what is left
    for low, high, bottom, top in _columns(section, cuts):
        upper, under = top.sums(low, high), bottom.sums(low, high)
        area += upper[0] - under[0]
        x += upper[1] - under[1]
        xx += upper[2] - under[2]
        y += (upper[3] - under[3]) / 2
        yy += (upper[4] - under[4]) / 3
        rims += [(at, edge.at(at)) for at in (low, high) for edge in (bottom, top)]
    if area <= 0:
        return Remaining(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
    x, y = x / area, y / area
    deep, wide = yy - area * y * y, xx - area * x * x
    far_deep, far_wide = max(abs(rim[1] - y) for rim in rims), max(abs(rim[0] - x) for rim in rims)
    return Remaining(area, x, y, deep, wide, deep / far_deep, wide / far_wide)


class _Edge(NamedTuple):
    """The rim of an ellipse, of a regular eight stretched the same way, or a straight line, over `out` to either side.

    `high` is its height in the middle, less than nothing below the middle. `corners` are those of a regular polygon to
    the right, out from the middle, each as far out and as high.
    """

    kind: str
    out: float
    high: float
    corners: tuple[tuple[float, float], ...] = ()

    def at(self, x: float) -> float:
        if self.kind == "square":
            return self.high
        if self.kind == "sides":
            return copysign(self._on_a_side(abs(x)), self.high)
        t = min(1.0, abs(x) / self.out)
        return self.high * (sqrt(1 - t * t) if self.kind == "round" else min(1.0, 1 + EIGHT - t))

    def _on_a_side(self, x: float) -> float:
        high = abs(self.high)
        if x <= self.corners[0][0]:
            return high
        for (near, above), (far, below) in pairwise(self.corners):
            if x <= far:
                return above + (below - above) * (x - near) / (far - near)
        return self.corners[-1][1]

    def meets(self, level: float) -> Iterator[float]:
        """How far out from the middle a sloping edge passes that height, either way up."""
        for (near, above), (far, below) in pairwise(self.corners):
            if below < abs(level) < above:
                yield near + (far - near) * (above - abs(level)) / (above - below)
        t = abs(level / self.high)
        if t < 1 and self.kind == "round":
            yield self.out * sqrt(1 - t * t)
        elif EIGHT < t < 1 and self.kind == "eight":
            yield self.out * (1 + EIGHT - t)

    def sums(self, low: float, high: float) -> tuple[float, float, float, float, float]:
        """Of its height g between two places: ∫g, ∫x·g, ∫x²·g, ∫g² and ∫g³."""
        if self.kind == "round":
            ends = zip(_circle(high / self.out), _circle(low / self.out), strict=True)
            g, xg, xxg, gg, ggg = (upper - other for upper, other in ends)
            a, b = self.out, self.high
            return a * b * g, a**2 * b * xg, a**3 * b * xxg, a * b**2 * gg, a * b**3 * ggg
        half = (high - low) / 2  # Gauss and Legendre's two places, exact for the third degree
        places = [(low + high) / 2 + way * half / sqrt(3) for way in (-1, 1)]
        heights = [(x, self.at(x)) for x in places]
        return (
            half * sum(g for _, g in heights),
            half * sum(x * g for x, g in heights),
            half * sum(x * x * g for x, g in heights),
            half * sum(g * g for _, g in heights),
            half * sum(g**3 for _, g in heights),
        )


def _circle(t: float) -> tuple[float, float, float, float, float]:
    """The same integrals of g = √(1 − t²), from the middle; the second from the rim."""
    t = min(1.0, max(-1.0, t))
    g, angle = sqrt(1 - t * t), asin(t)
    return (
        (t * g + angle) / 2,
        -(g**3) / 3,
        (angle - t * g * (1 - 2 * t * t)) / 8,
        t - t**3 / 3,
        (t * g * (5 - 2 * t * t) + 3 * angle) / 8,
    )


def _upper_rim(hollow: Section) -> _Edge:
    """The upper half of a hole: of a round one, or of one with flat sides, of which one is uppermost."""
    out, high = hollow.width / 2, hollow.depth / 2
    if hollow.kind != "sides":
        return _Edge("round", out, high)
    half = pi / hollow.staves  # half of what a side takes of the way round
    turns = [(2 * k + 1) * half for k in range((hollow.staves + 2) // 4)]
    corners = tuple((out * sin(turn) / cos(half), max(0.0, high * cos(turn) / cos(half))) for turn in turns)
    return _Edge("sides", corners[-1][0], high, corners)


def _columns(section: Section, cuts: Sequence[Recess]) -> Iterator[tuple[float, float, _Edge, _Edge]]:
    """What is left, in pieces: from and to along the width, and the edges below and above."""
    half = section.width / 2
    shell = _Edge(section.solid, half, section.depth / 2)
    gone: list[tuple[float, float, _Edge, _Edge]] = []  # from, to, between which edges
    marks = {-half, 0.0, half} | ({-EIGHT * half, EIGHT * half} if section.solid == "eight" else set())
    curves = [shell]
    if hollow := section.inside:
        upper = _upper_rim(hollow)
        gone.append((-upper.out, upper.out, upper._replace(high=-upper.high), upper))
        curves.append(upper)
        marks |= {way * x for x in (upper.out, *(x for x, _ in upper.corners)) for way in (-1, 1)}
    for cut in cuts:
        low, high = max(-shell.high, cut.bottom), min(shell.high, cut.top)
        gone.append((cut.left, cut.right, _Edge("square", half, low), _Edge("square", half, high)))
        marks |= {cut.left, cut.right}
        marks |= {way * x for level in (low, high) for curve in curves for x in curve.meets(level) for way in (-1, 1)}
    for start, end in pairwise(sorted(at for at in marks if -half <= at <= half)):
        middle = (start + end) / 2
        here = sorted((bottom.at(middle), top.at(middle), bottom, top) for a, b, bottom, top in gone if a < middle < b)
        floor, level, roof = shell._replace(high=-shell.high), -shell.at(middle), shell.at(middle)
        for low, high, bottom, top in here:
            if low >= roof:
                break
            if low > level:
                yield start, end, floor, bottom
            if high > level:
                floor, level = top, high
        if level < roof:
            yield start, end, floor, shell
