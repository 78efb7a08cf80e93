"""How thick a spar is along its length: stations and the law between them."""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, sqrt
from operator import itemgetter

from ..errors import InputFault

LAWS = ("straight", "bowed")
STEPS_LIMIT = 2000


@dataclass(frozen=True, slots=True)
class Outline:
    """Widths at stations from the heel (0) to the head, in millimetres, and the law that joins them.

    `straight`: a straight line from each station to the next.
    `bowed`: from the widest part to either end, widest − (widest − end)·t², t from 0 at the widest to 1 at the end;
    it takes the two ends and, between them, only stations of the full width.
    InputFault when the stations make no spar.
    """

    stations: tuple[tuple[float, float], ...]
    law: str = "straight"

    def __post_init__(self) -> None:
        ats = [at for at, _ in self.stations]
        if len(ats) < 2 or ats[0] != 0:
            raise InputFault("a spar has a width at 0 and at its length")
        for before, at in pairwise(ats):
            if at <= before:
                raise InputFault("the station at {} does not come after the one at {}", lengths=(at, before))
        if any(width <= 0 for _, width in self.stations):
            raise InputFault("a width is not more than nothing")
        widest = self.widest
        if self.law == "bowed" and any(width != widest for _, width in self.stations[1:-1]):
            raise InputFault("a bowed spar has stations only at its ends and where it has its full width")

    @property
    def length(self) -> float:
        return self.stations[-1][0]

    @property
    def widest(self) -> float:
        return max(width for _, width in self.stations)

    @property
    def narrowest(self) -> float:
        return min(width for _, width in self.stations)

    def width_at(self, at: float) -> float:
        """The width at `at`, 0 ≤ at ≤ length. InputFault beyond either end.

        >>> Outline(((0, 100), (1000, 60)), "bowed").width_at(500)
        90.0
        """
        (x0, w0), (x1, w1) = self.piece_at(at)
        t = (at - x0) / (x1 - x0)
        if self.law == "straight":
            return w0 + (w1 - w0) * t
        return w0 + (w1 - w0) * t * t if w0 >= w1 else w1 + (w0 - w1) * (1 - t) ** 2

    def slope_at(self, at: float) -> float:
        """How fast it gets thinner towards the head, width over length; at a break, of the piece towards the head."""
        (x0, w0), (x1, w1) = self.piece_at(at)
        run = x1 - x0
        if self.law == "straight":
            return (w0 - w1) / run
        return 2 * (w0 - w1) / run * ((at - x0) if w0 >= w1 else (x1 - at)) / run

    def crossings(self, width: float) -> tuple[float, ...]:
        """The stations where the spar passes through `width`, from the heel."""
        found: list[float] = []
        for (x0, w0), (x1, w1) in self._pieces():
            if w0 == w1 or not min(w0, w1) <= width <= max(w0, w1):
                continue
            t = (width - w0) / (w1 - w0)
            if self.law == "bowed":
                t = sqrt(t) if w0 >= w1 else 1 - sqrt((width - w1) / (w0 - w1))
            at = x0 + t * (x1 - x0)
            if not found or at > found[-1]:
                found.append(at)
        return tuple(found)

    def steps(self, step: float) -> tuple[float, ...]:
        """Every `step` along the length, and every station. InputFault when that is more than a table holds."""
        count = ceil(self.length / step)
        if count > STEPS_LIMIT:
            raise InputFault(f"more than {STEPS_LIMIT} stations", "station_step")
        ats = [at for at, _ in self.stations]
        between = [k * step for k in range(count)]
        return tuple(sorted([at for at in between if not _near(ats, at)] + ats))

    def _pieces(self) -> Sequence[tuple[tuple[float, float], tuple[float, float]]]:
        return list(pairwise(self.stations))

    def piece_at(self, at: float) -> tuple[tuple[float, float], tuple[float, float]]:
        """The stations on either side of `at`; at a station, the piece towards the head. InputFault beyond an end."""
        if not 0 <= at <= self.length:
            end, place = ("heel", 0.0) if at < 0 else ("head", self.length)
            raise InputFault(f"{{}} lies beyond the {end}, which is at {{}}", "at", (at, place))
        found = min(bisect_right(self.stations, at, key=itemgetter(0)), len(self.stations) - 1)
        return self.stations[found - 1], self.stations[found]


def _near(ats: Sequence[float], at: float) -> bool:
    """Whether one of `ats`, in order, is `at` but for float noise."""
    found = bisect_left(ats, at - 1e-6)
    return found < len(ats) and ats[found] <= at + 1e-6
