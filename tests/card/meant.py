"""What a spar is to be, by its profile alone: an oracle that shares no code with the card."""

from collections.abc import Callable, Sequence
from functools import lru_cache
from itertools import pairwise
from math import cos, pi, sin

import shapely
from scipy.interpolate import PchipInterpolator

from shopcompanion.profile.records import Spar
from shopcompanion.spar.fitting import Fitting

CORNERS = {"square": 4, "eight": 8}
Point = tuple[float, float]


class Meant:
    """The finished spar by its profile: widths by their law, sections, run-outs, and what is fitted."""

    def __init__(self, spar: Spar) -> None:
        self.spar = spar
        self.length = spar.length
        self.width_at = self._law("width")
        self.depth_at = self._law("depth") if spar.section == "oval" else self.width_at
        own = [(region.from_, region.to, region.section, region.run_out) for region in spar.regions]
        own += [(0.0, spar.square_to, "square", spar.square_run_out)] if spar.square_to else []
        self.regions = sorted(own)

    def _law(self, name: str) -> Callable[[float], float]:
        spar = self.spar
        ats, sizes = [station.at for station in spar.stations], [getattr(station, name) for station in spar.stations]
        if spar.law == "straight":
            return lambda at: _interpolated(list(zip(ats, sizes, strict=True)), at)
        if spar.law == "bowed":
            return lambda at: _bowed(list(zip(ats, sizes, strict=True)), at)
        if spar.law == "faired":
            curve = PchipInterpolator(ats, sizes)
            return lambda at: float(curve(at))
        outline = spar.outline() if name == "width" else spar.depth_outline()  # a book's, checked against the book
        assert outline is not None
        return outline.width_at

    def sections_at(self, at: float) -> tuple[str, str, float]:
        """The fuller section, the finer, and how far from the one to the other it is there, 0 to 1."""
        own = self.spar.section
        for place, (start, end, kind, run_out) in enumerate(self.regions):
            before = self.regions[place - 1] if place else None
            after = self.regions[place + 1] if place + 1 < len(self.regions) else None
            meets, met = before is not None and before[1] == start, after is not None and after[0] == end
            if meets and before and start <= at < start + before[3]:
                return self._between(before[2], kind, (at - start) / before[3])
            if start <= at <= end:
                return kind, kind, 0.0
            if not meets and start > 0 and start - run_out < at < start:
                return self._between(own, kind, 1 - (start - at) / run_out)
            if not met and end < at < end + run_out:
                return self._between(kind, own, (at - end) / run_out)
        return own, own, 0.0

    @staticmethod
    def _between(heelward: str, headward: str, part: float) -> tuple[str, str, float]:
        if CORNERS.get(heelward, 99) <= CORNERS.get(headward, 99):
            return heelward, headward, part
        return headward, heelward, 1 - part

    def outside(self, at: float, width: float, depth: float) -> shapely.Polygon:
        """The finished outside at a station for a width and depth: in a run-out the sum of both sections' shares."""
        fuller, finer, part = self.sections_at(at)
        return _outside(CORNERS.get(fuller, 128), CORNERS.get(finer, 128), 0 if fuller == finer else part, width, depth)

    def round_at(self, at: float) -> bool:
        """Whether it is to be round there all of the way."""
        fuller, finer, part = self.sections_at(at)
        return CORNERS.get(finer, 99) > 8 and (fuller == finer or part == 1)

    def middle(self, fitting: Fitting) -> float:
        reach = max(size or 0.0 for size in (fitting.length, fitting.hole, fitting.barrel, fitting.slot_long)) / 2
        return min(max(fitting.at, reach), self.length - reach)


@lru_cache(4096)  # a card is looked at step by step, a station at a time: it is the same shape many times over
def _outside(fuller: int, finer: int, part: float, width: float, depth: float) -> shapely.Polygon:
    polygon = regular(fuller, width, depth)
    if not part:
        return shapely.polygons(polygon)
    other = regular(finer, width, depth)
    return hull([((1 - part) * a + part * c, (1 - part) * b + part * d) for a, b in polygon for c, d in other])


def hull(points: Sequence[Point]) -> shapely.Polygon:
    """The convex hull; thousands of points on a line are made far sooner than so many points."""
    return shapely.linestrings(points).convex_hull


def _interpolated(pairs: list[Point], at: float) -> float:
    for (x0, y0), (x1, y1) in pairwise(pairs):
        if x0 <= at <= x1:
            return y0 + (y1 - y0) * (at - x0) / (x1 - x0)
    raise AssertionError(f"{at} lies beyond the stations")


def _bowed(pairs: list[Point], at: float) -> float:
    for (x0, y0), (x1, y1) in pairwise(pairs):
        if x0 <= at <= x1:
            part = (at - x0) / (x1 - x0)
            return y0 - (y0 - y1) * part**2 if y0 >= y1 else y1 - (y1 - y0) * (1 - part) ** 2
    raise AssertionError(f"{at} lies beyond the stations")


def regular(sides: int, width: float, depth: float) -> list[Point]:
    """The corners of the polygon about the oval that the rectangle holds, a side in each of its faces."""
    far = 1 / cos(pi / sides)
    turns = [(2 * k + 1) * pi / sides for k in range(sides)]
    return [(width / 2 * far * sin(turn), depth / 2 * far * cos(turn)) for turn in turns]
