"""The kinds of field for what holds a beam and what works on it, typed as rows with `;` between them.

Units are read by closed lists of names; a bare number leans on the units in force, pounds or newtons.
"""

import re
from typing import Any, ClassVar

from .. import lengths
from ..errors import InputFault, printable
from ..fields import Kind, Number, Value, parts
from ..lengths import Rule, Unit
from ..record import NamedTuple
from ..units import factor
from .model import HOLDS, Load, Push, Support

_SPRING = "spring"
# What a unit measures, its name for pint, and the unit inside.
_UNITS = {
    "kn": ("force", "kN", "N"), "n": ("force", "N", "N"), "lbf": ("force", "lbf", "N"), "lb": ("force", "lbf", "N"),
    "kn/m": ("spread", "kN/m", "N/mm"), "n/m": ("spread", "N/m", "N/mm"), "n/mm": ("spread", "N/mm", "N/mm"),
    "lbf/ft": ("spread", "lbf/ft", "N/mm"), "lb/ft": ("spread", "lbf/ft", "N/mm"),
    "lbf/in": ("spread", "lbf/in", "N/mm"), "lb/in": ("spread", "lbf/in", "N/mm"),
    "kn m": ("moment", "kN*m", "N*mm"), "n m": ("moment", "N*m", "N*mm"), "n mm": ("moment", "N*mm", "N*mm"),
    "lbf ft": ("moment", "lbf*ft", "N*mm"), "ft lbf": ("moment", "lbf*ft", "N*mm"),
    "lb ft": ("moment", "lbf*ft", "N*mm"), "lbf in": ("moment", "lbf*in", "N*mm"),
}  # fmt: skip
_RUN_TOGETHER = {"nm": "n m", "knm": "kn m", "nmm": "n mm"}
_SHOP: dict[Unit, dict[str, str]] = {
    "in": {"force": "lbf", "spread": "lbf/ft", "moment": "lbf ft", "spring": "lbf/in"},
    "mm": {"force": "N", "spread": "N/m", "moment": "N m", "spring": "N/mm"},
}
# Of a spring, a load over a stretch, any load, and a push.
_EXAMPLES = {
    "in": ("200 lbf/in", "6 lbf/ft", "100 lbf, 150 lbf ft, or 0 to 9 ft = 6 lbf/ft", "450 lbf"),
    "mm": ("40 N/mm", "100 N/m", "500 N, 200 N m, or 0 to 3 m = 100 N/m", "2 kN"),
}
_AMOUNT = re.compile(r"(-?[0-9.,]+)\s*(.*)")


class Amount(NamedTuple):
    """Figures as they were typed, what they measure and in which unit; `bare` when they leaned on the one in force."""

    figures: str
    measures: str
    unit: str
    bare: bool

    @property
    def value(self) -> float:
        """In N, N/mm or N·mm."""
        _, unit, inside = _UNITS[self.unit.casefold()]
        number = Number("").read(self.figures, lengths.RULES[0])
        assert isinstance(number, float)
        return number * factor(unit, inside)


def amount(text: str, measures: tuple[str, ...], unit: Unit, example: str) -> Amount:
    """What `text` says, which is one of `measures`; the first is that of a bare number. InputFault when it is none."""
    match = _AMOUNT.fullmatch(text.strip())
    if match is None:
        raise InputFault(f"'{printable(text.strip())}' is not understood, try {example}")
    name = " ".join(re.sub("[·*]", " ", match[2]).split())
    if not name:
        return Amount(match[1], measures[0], _SHOP[unit][measures[0]], True)
    folded = _RUN_TOGETHER.get(name.casefold(), name.casefold())
    known = _UNITS.get(folded, ("", "", ""))[0]
    if known not in measures and not (known == "spread" and _SPRING in measures):
        raise InputFault(f"'{printable(text.strip())}' is not understood, try {example}")
    return Amount(match[1], measures[0] if _SPRING in measures else known, folded, False)


def shown(value: float, measures: str, unit: Unit) -> str:
    """A force, a force per length, a moment or a spring in the unit of the shop, to four figures.

    >>> shown(0.1, "spread", "mm"), shown(500.0, "force", "mm")
    ('100 N/m', '500 N')
    """
    name = _SHOP[unit][measures]
    _, named, inside = _UNITS[name.casefold()]
    return f"{float(f'{value * factor(inside, named):.4g}'):.10g} {name}"


class _Listed(Kind):
    """Rows as `place = what`."""

    python: ClassVar[tuple[type, ...]] = (tuple,)
    of: ClassVar[type]  # what the value is a tuple of

    def _rows(self, text: str, unit: Unit) -> list[tuple[list[str], str]]:
        """The places of each row, one or the two ends of a stretch, and what is there."""
        rows = []
        for part in parts(text):
            at, equals, what = part.partition("=")
            if not equals or not at.strip():
                raise InputFault(f"'{printable(part.strip())}' is not place = what, try {self.example_in(unit)}")
            rows.append((re.split(r"\s+to\s+", at.strip(), maxsplit=1), what.strip()))
        return rows

    def spelled(self, text: str, unit: Unit) -> str:
        """`text` with `unit` put to every length and amount that leaned on it. InputFault when it does not read."""
        rows = []
        for ats, what in self._rows(text, unit):
            places = " to ".join(lengths.spelled(at, unit) for at in ats)
            rows.append(f"{places} = {self._named(ats, what, unit)}")
        return "; ".join(rows)

    def _named(self, ats: list[str], what: str, unit: Unit) -> str:
        amount = self._amount(ats, what, unit)
        return f"{amount.figures} {_SHOP[unit][amount.measures]}" if amount.bare else what

    def _amount(self, ats: list[str], what: str, unit: Unit) -> Amount:
        raise NotImplementedError

    def check(self, value: Value, rule: Rule) -> None:
        if not isinstance(value, tuple) or not all(isinstance(row, self.of) for row in value):
            raise InputFault(f"not a list such as {self.example_in(rule.unit)}")

    def to_json(self, value: Value) -> Any:
        """Rows by their names: mm, N, N/mm and N·mm."""
        return [row._asdict() for row in value] if isinstance(value, tuple) else None

    def schema(self) -> dict[str, Any]:
        return {"title": self.label, "type": "string", "examples": [self.example]}


class Supports(_Listed):
    """Rows as `0 = fixed; 2 m = pinned; 5 m = 40 N/mm`; a tuple of Support.

    >>> Supports("Held").read("0 = fixed; 2 m = 40 N/mm", lengths.RULES[0])
    (Support(at=0.0, kind='fixed', stiffness=0.0), Support(at=2000.0, kind='spring', stiffness=40.0))
    """

    of = Support
    example = "0 = fixed; 6 ft = pinned"
    metric_example = "0 = fixed; 2 m = pinned"

    def _parse(self, text: str, rule: Rule) -> Value:
        rows = []
        for ats, what in self._rows(text, rule.unit):
            at = float(lengths.read(" to ".join(ats), rule.unit))
            if (word := what.casefold()) in HOLDS and word != _SPRING:
                rows.append(Support(at, word))
                continue
            stiffness = self._amount(ats, what, rule.unit).value
            if stiffness <= 0:
                raise InputFault(f"'{printable(what)}' is not a spring: its stiffness must be more than 0")
            rows.append(Support(at, _SPRING, stiffness))
        return tuple(rows)

    def _amount(self, ats: list[str], what: str, unit: Unit) -> Amount:
        words = what.removeprefix(_SPRING)
        return amount(words, (_SPRING,), unit, f"fixed, pinned or a spring as {_EXAMPLES[unit][0]}")

    def _named(self, ats: list[str], what: str, unit: Unit) -> str:
        return what if what.casefold() in HOLDS else super()._named(ats, what, unit)

    def _say(self, value: Any, rule: Rule) -> str:
        return "; ".join(
            f"{lengths.show(row.at, rule)} = "
            + (shown(row.stiffness, _SPRING, rule.unit) if row.kind == _SPRING else row.kind)
            for row in value
        )


class Loads(_Listed):
    """Rows as `6 m = 500 N; 0 to 3 m = 100 N/m; 3 to 6 m = 100 to 20 N/m; 2 m = 40 N m`; a tuple of Load. One of two
    sizes changes evenly from the one to the other. A minus is the other way.

    >>> Loads("Loads").read("0 to 3 m = 100 to 20 N/m", lengths.RULES[0])
    (Load(kind='spread', start=0.0, end=3000.0, size=0.1, last=0.02),)
    """

    of = Load
    example = "18 ft = 100 lbf; 0 to 9 ft = 6 to 1 lbf/ft"
    metric_example = "6 m = 500 N; 0 to 3 m = 100 to 20 N/m"

    def _parse(self, text: str, rule: Rule) -> Value:
        rows = []
        for ats, what in self._rows(text, rule.unit):
            places = [float(lengths.read(at, rule.unit)) for at in ats]
            first, last = self._ends(ats, what, rule.unit)
            rows.append(Load(first.measures, places[0], places[-1], first.value, last.value))
        return tuple(rows)

    def _ends(self, ats: list[str], what: str, unit: Unit) -> tuple[Amount, Amount]:
        """What a load is at either end of its stretch; one without a unit has the other's."""
        sizes = [self._amount(ats, size, unit) for size in re.split(r"\s+to\s+", what, maxsplit=1)]
        if len(sizes) > len(ats):
            raise InputFault(f"'{printable(what)}' needs a stretch to change along, try {self.example_in(unit)}")
        named = next((size.unit for size in sizes if not size.bare), sizes[0].unit)
        first, last = (size._replace(unit=named) if size.bare else size for size in (sizes[0], sizes[-1]))
        return first, last

    def _named(self, ats: list[str], what: str, unit: Unit) -> str:
        bare = all(self._amount(ats, size, unit).bare for size in re.split(r"\s+to\s+", what))
        return f"{what} {self._ends(ats, what, unit)[0].unit}" if bare else what

    def _amount(self, ats: list[str], what: str, unit: Unit) -> Amount:
        if len(ats) > 1:
            return amount(what, ("spread",), unit, _EXAMPLES[unit][1])
        return amount(what, ("force", "moment"), unit, _EXAMPLES[unit][2])

    def _say(self, value: Any, rule: Rule) -> str:
        rows = []
        for row in value:
            ends = (row.start, row.end) if row.kind == "spread" else (row.start,)
            size, last = (shown(end, row.kind, rule.unit) for end in (row.size, row.last))
            if row.size != row.last:
                size = f"{size.partition(' ')[0]} to {last}"
            rows.append(f"{' to '.join(lengths.show(at, rule) for at in ends)} = {size}")
        return "; ".join(rows)


class Pushes(_Listed):
    """Rows as `6 m = 2 kN`, towards the heel; a tuple of Push. A minus pulls towards the head.

    >>> Pushes("Push").read("6 m = 2 kN", lengths.RULES[0])
    (Push(at=6000.0, force=2000.0),)
    """

    of = Push
    example = "18 ft = 450 lbf"
    metric_example = "6 m = 2 kN"

    def _parse(self, text: str, rule: Rule) -> Value:
        return tuple(
            Push(float(lengths.read(" to ".join(ats), rule.unit)), self._amount(ats, what, rule.unit).value)
            for ats, what in self._rows(text, rule.unit)
        )

    def _amount(self, ats: list[str], what: str, unit: Unit) -> Amount:
        return amount(what, ("force",), unit, _EXAMPLES[unit][3])

    def _say(self, value: Any, rule: Rule) -> str:
        return "; ".join(f"{lengths.show(row.at, rule)} = {shown(row.force, 'force', rule.unit)}" for row in value)
