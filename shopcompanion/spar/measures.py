"""The kind of field for what was measured down a spar: widths round it, or its girth, at stations."""

from math import pi
from typing import Any

from .. import lengths
from ..errors import InputFault, printable
from ..fields import ROWS_LIMIT, Kind, Length, Value
from ..lengths import Rule, Unit
from ..record import NamedTuple

LEAST, MOST = 2, 4  # widths round a spar at one station
_GIRTH = "girth"


class Measure(NamedTuple):
    """What was measured at a station, millimetres: widths, or none of them and the girth by tape."""

    at: float
    widths: tuple[float, ...]
    girth: float | None = None


class Measures(Kind):
    """Rows as `4 ft = 2-11/16 & 2-45/64; 5 ft = girth 8-1/4`; a tuple of Measure. Bounds hold for a width.

    >>> Measures("Measured").read("4 ft = 2-1/2 & 2-1/4", lengths.RULES[3])
    (Measure(at=1219.2, widths=(63.5, 57.15), girth=None),)
    """

    unit = "mm"
    python = (tuple,)
    example = "4 ft = 2-11/16 & 2-45/64; 5 ft = girth 8-1/4"
    metric_example = "1200 = 68 & 69; 1500 = girth 210"

    def _parse(self, text: str, rule: Rule) -> Value:
        def length(part: str) -> float:
            return float(lengths.read(part, rule.unit))

        rows = []
        for at, girth, sizes in self._rows(text, rule.unit):
            if girth:
                rows.append(Measure(length(at), (), length(sizes[0])))
            else:
                rows.append(Measure(length(at), tuple(map(length, sizes))))
        return tuple(rows)

    def _rows(self, text: str, unit: Unit) -> list[tuple[str, bool, list[str]]]:
        """Station, whether it is a girth, and the sizes: the texts of every row."""
        parts = [part for part in text.split(";") if part.strip()]
        if len(text) > 40 * ROWS_LIMIT or len(parts) > ROWS_LIMIT:
            raise InputFault("the list is too long")
        rows = []
        for part in parts:
            at, equals, sizes = part.partition("=")
            if not equals:
                raise InputFault(f"{printable(part.strip())} is not station = widths, try {self.example_in(unit)}")
            bare = sizes.strip()
            girth = bare.casefold().startswith(_GIRTH)
            said = [bare[len(_GIRTH) :]] if girth else bare.split("&")
            rows.append((at.strip(), girth, [size.strip() for size in said]))
        return rows

    def spelled(self, text: str, unit: Unit) -> str:
        """`text` with `unit` put to every length that leaned on the unit in force. InputFault when it does not read."""
        rows = []
        for at, girth, sizes in self._rows(text, unit):
            said = " & ".join(lengths.spelled(size, unit) for size in sizes)
            rows.append(f"{lengths.spelled(at, unit)} = {'girth ' if girth else ''}{said}")
        return "; ".join(rows)

    def _say(self, value: Any, rule: Rule) -> str:
        rows = []
        for at, widths, girth in value:
            sizes = " & ".join(lengths.show(width, rule) for width in widths)
            rows.append(f"{lengths.show(at, rule)} = {sizes or f'girth {lengths.show(girth, rule)}'}")
        return "; ".join(rows)

    def check(self, value: Value, rule: Rule) -> None:
        """InputFault unless every row has its station, and two to four widths or a girth, within the bounds."""
        if not isinstance(value, tuple) or not all(isinstance(row, tuple) and len(row) == 3 for row in value):
            raise InputFault("not a list of measures")
        station = Length("Station", at_least=0)
        width = Length(self.label, above=self.above, at_least=self.at_least, below=self.below, at_most=self.at_most)
        for at, widths, girth in value:
            station.check(at, rule)
            if (girth is None) == (not widths) or (widths and not LEAST <= len(widths) <= MOST):
                raise InputFault(
                    f"at {lengths.show(at, rule)}: {LEAST} to {MOST} widths round the spar with & between, or the girth"
                )
            if girth is not None:
                Length("Girth").check(girth, rule)
            for size in widths or (girth / pi,):
                try:
                    width.check(size, rule)
                except InputFault as fault:
                    raise InputFault(f"at {lengths.show(at, rule)}: {fault.reason}") from None
