"""How thick a spar is along its length: stations and the law between them."""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from itertools import pairwise
from math import ceil, sqrt
from operator import itemgetter

from ..errors import InputFault
from . import faired
from .tables import PUBLISHED, expanded

LAWS = ("straight", "bowed", "faired", *PUBLISHED)
STEPS_LIMIT = 2000
_SAME = 1e-6  # mm: two figures of the same place


class Outline:
    """Widths at stations from the heel (0) to the head, in millimetres, and the law that joins them.

    `straight`: a straight line from each station to the next.
    `bowed`: from the widest part to either end, widest − (widest − end)·t², t from 0 at the widest to 1 at the end;
    it takes the two ends and, between them, only stations of the full width.
    `faired`: a monotone cubic through the stations, which never overshoots them.
    A published table, such as `steel 1794 yard`: its stations are those that `published` gives, faired.
    InputFault when the stations make no spar.
    """

    __slots__ = ("law", "stations")

    def __init__(self, stations: tuple[tuple[float, float], ...], law: str = "straight") -> None:
        self.stations, self.law = stations, law
        ats = [at for at, _ in stations]
        if len(ats) < 2 or ats[0] != 0:
            raise InputFault("a spar needs a width at 0, the heel, and at the head")
        for before, at in pairwise(ats):
            if at <= before:
                raise InputFault(
                    "the station at {} stands after the one at {}: put them in order from the heel, each once",
                    lengths=(at, before),
                )
        if any(width <= 0 for _, width in self.stations):
            raise InputFault("every width must be more than 0")
        widest = self.widest
        if self.law == "bowed" and any(width != widest for _, width in self.stations[1:-1]):
            raise InputFault("a bowed spar has stations only at its ends and where it has its full width")
        if self.law in PUBLISHED and not self._is_by_the_table():
            raise InputFault(f"the widths are not those of {self.law}; it takes the largest width and where it is")

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Outline) and (self.stations, self.law) == (other.stations, other.law)

    def __hash__(self) -> int:
        return hash((self.stations, self.law))

    def __repr__(self) -> str:
        return f"Outline({self.stations!r}, {self.law!r})"

    @classmethod
    def published(cls, law: str, length: float, at: float, width: float) -> "Outline":
        """The spar of that length by a published table, with its largest `width` at `at`. InputFault beyond an end.

        >>> Outline.published("steel 1794 yard", 4000, 2000, 80).width_at(1000)
        70.0
        """
        return cls(expanded(law, length, at, width), law)

    @property
    def length(self) -> float:
        return self.stations[-1][0]

    @property
    def widest(self) -> float:
        return max(width for _, width in self.stations)

    @property
    def widest_at(self) -> float:
        """Where the largest width is; where it is so over a stretch, the end of that towards the head."""
        widest = self.widest
        return next(at for at, width in reversed(self.stations) if width == widest)

    @property
    def narrowest(self) -> float:
        return min(width for _, width in self.stations)

    def width_at(self, at: float) -> float:
        """The width at `at`, 0 ≤ at ≤ length. InputFault beyond either end.

        >>> Outline(((0, 100), (1000, 60)), "bowed").width_at(500)
        90.0
        """
        k = self._piece(at)
        (x0, w0), (x1, w1) = self.stations[k], self.stations[k + 1]
        t = (at - x0) / (x1 - x0)
        if self.law == "straight":
            return w0 + (w1 - w0) * t
        if self.law == "bowed":
            return w0 + (w1 - w0) * t * t if w0 >= w1 else w1 + (w0 - w1) * (1 - t) ** 2
        return faired.value(self.stations, k, at)

    def slope_at(self, at: float) -> float:
        """How fast it gets thinner towards the head, width over length; at a break, of the piece towards the head."""
        k = self._piece(at)
        (x0, w0), (x1, w1) = self.stations[k], self.stations[k + 1]
        run = x1 - x0
        if self.law == "straight":
            return (w0 - w1) / run
        if self.law == "bowed":
            return 2 * (w0 - w1) / run * ((at - x0) if w0 >= w1 else (x1 - at)) / run
        return 0.0 - faired.rise(self.stations, k, at)

    def crossings(self, width: float) -> tuple[float, ...]:
        """The stations where the spar passes through `width`, from the heel."""
        stations: list[float] = []
        for k, ((x0, w0), (x1, w1)) in enumerate(pairwise(self.stations)):
            if w0 == w1 or not min(w0, w1) <= width <= max(w0, w1):
                continue
            if self.law in ("straight", "bowed"):
                t = (width - w0) / (w1 - w0)
                if self.law == "bowed":
                    t = sqrt(t) if w0 >= w1 else 1 - sqrt((width - w1) / (w0 - w1))
                at = x0 + t * (x1 - x0)
            else:
                at = faired.where(self.stations, k, width)
            if not stations or at > stations[-1]:
                stations.append(at)
        return tuple(stations)

    def thicker(self, width: float, at: float) -> tuple[float, float]:
        """From where to where, about `at`, the spar is thicker than `width`, as it is there.

        >>> Outline(((0, 100), (1000, 60))).thicker(80, 250)
        (0.0, 500.0)
        """
        ends = self.crossings(width)
        return max((end for end in ends if end < at), default=0.0), min((end for end in ends if end > at),
                                                                       default=self.length)  # fmt: skip

    def steps(self, step: float) -> tuple[float, ...]:
        """Every `step` along the length, and every station. InputFault when that is more than a table holds."""
        count = ceil(self.length / step)
        if count > STEPS_LIMIT:
            raise InputFault(f"more than {STEPS_LIMIT} stations", "station_step")
        ats = [at for at, _ in self.stations]
        between = [k * step for k in range(count)]
        return tuple(sorted([at for at in between if not _near(ats, at)] + ats))

    def evenly(self, parts: int) -> tuple[float, ...]:
        """The ends of `parts` equal parts of the length, and every station: the heel first and exactly the head last.

        >>> Outline(((0, 100), (500, 90), (1000, 60))).evenly(4)
        (0, 250.0, 500, 750.0, 1000)
        """
        ats = [at for at, _ in self.stations]
        between = (self.length * k / parts for k in range(1, parts))  # length·parts/parts can lie past the head
        return tuple(sorted([at for at in between if not _near(ats, at)] + ats))

    def piece_at(self, at: float) -> tuple[tuple[float, float], tuple[float, float]]:
        """The stations on either side of `at`; at a station, the piece towards the head. InputFault beyond an end."""
        k = self._piece(at)
        return self.stations[k], self.stations[k + 1]

    def _piece(self, at: float) -> int:
        if not 0 <= at <= self.length:
            end, place = ("heel", 0.0) if at < 0 else ("head", self.length)
            raise InputFault(f"{{}} lies beyond the {end}, which is at {{}}", "at", (at, place))
        return min(bisect_right(self.stations, at, key=itemgetter(0)), len(self.stations) - 1) - 1

    def _is_by_the_table(self) -> bool:
        if self.widest_at == self.length:
            return False
        wanted = expanded(self.law, self.length, self.widest_at, self.widest)
        return len(wanted) == len(self.stations) and all(
            abs(at - x) < _SAME and abs(width - w) < _SAME
            for (at, width), (x, w) in zip(wanted, self.stations, strict=True)
        )


def _near(ats: Sequence[float], at: float) -> bool:
    """Whether one of `ats`, in order, is `at` but for float noise."""
    place = bisect_left(ats, at - _SAME)
    return place < len(ats) and ats[place] <= at + _SAME


def named(field: str, stations: tuple[tuple[float, float], ...], law: str) -> Outline:
    """The outline of an input called `field`, which its InputFault then names."""
    try:
        return Outline(stations, law)
    except InputFault as fault:
        raise InputFault(fault.template, field, fault.lengths) from None
