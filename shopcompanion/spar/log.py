"""What was measured on a spar, against what it is meant to be. Millimetres."""

from collections.abc import Iterable, Sequence
from math import pi
from typing import Literal

from ..errors import InputFault
from ..record import NamedTuple
from .measures import Measure
from .outline import Outline

State = Literal["to come off", "at size", "thin"]
_SAME = 1e-6  # mm: two figures of the same place
_LEAST, _MOST = 0.5, 5  # times the design: no spar in work is that far from its size


class MeasuredStation(NamedTuple):
    """A station as it was measured; `out_of_round` is None where only a girth or one width is known."""

    at: float
    meant: float
    least: float
    mean: float
    most: float
    out_of_round: float | None

    @property
    def to_come_off(self) -> float:
        """Still to come off the mean width, all round; negative where it is under size."""
        return self.mean - self.meant

    def state(self, tolerance: float) -> State:
        """Thin when its least width is under size by more than `tolerance`, whatever its others are."""
        if self.least < self.meant - tolerance:
            return "thin"
        return "to come off" if self.most > self.meant + tolerance else "at size"


def measured_stations(
    design: Outline, measures: Iterable[Measure], way: int | None = None
) -> tuple[MeasuredStation, ...]:
    """Every station that was measured, heel to head; of two measures at a station the later one holds.

    A girth gives the mean width, girth/π, of any section that is nowhere hollow (Cauchy), and nothing of how round it
    is. For an oval `way` is 0 for its width and 1 for its depth: widths and depths are measured by turns.
    InputFault for a measure off the spar, or so far from the design that it must be in another unit.
    """
    last: dict[float, MeasuredStation] = {}
    for at, widths, girth in measures:
        here = min(at, design.length) if at <= design.length + _SAME else at
        if here > design.length:
            raise InputFault("the measure at {} lies beyond the head, which is at {}", "measured", (at, design.length))
        if way is not None and len(widths) not in (2, 4):
            raise InputFault("at {}: of an oval, its width & its depth, once or twice over", "measured", (at,))
        sizes = widths[way::2] if way is not None else widths or ((girth or 0.0) / pi,)
        meant = design.width_at(here)
        for size in sizes:
            if not meant * _LEAST <= size <= meant * _MOST:
                reason = "at {}: {} where {} is meant; is it in another unit?"
                raise InputFault(reason, "measured", (at, size, meant))
        least, most = min(sizes), max(sizes)
        same = next((known for known in last if abs(known - here) <= _SAME), here)
        spread = most - least if len(sizes) > 1 else None
        last[same] = MeasuredStation(here, meant, least, sum(sizes) / len(sizes), most, spread)
    return tuple(sorted(last.values()))


def humps(stations: Sequence[MeasuredStation]) -> tuple[float | None, ...]:
    """How far each station stands over the line that its neighbours' faults draw; negative under it.

    A fault is what the mean width is over the design. The hump is the second divided difference of the faults times
    the two runs beside it, with its sign turned, so a spar that is too thick by as much everywhere, or by a
    straight line, is fair. None at the ends, and everywhere with fewer than three stations.

    >>> even = [MeasuredStation(at, 60, 60 + up, 60 + up, 60 + up, None) for at, up in ((0, 1), (100, 3), (400, 1))]
    >>> humps(even)
    (None, 2.0, None)
    """
    told: list[float | None] = [None] * len(stations)
    for k in range(1, len(stations) - 1):
        before, here, after = stations[k - 1 : k + 2]
        part = (here.at - before.at) / (after.at - before.at)
        line = before.to_come_off + (after.to_come_off - before.to_come_off) * part
        told[k] = here.to_come_off - line
    return tuple(told)
