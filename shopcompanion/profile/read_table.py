"""Reading the tables of a profile by the fields that their records declare, and gathering every fault on the way."""

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from fractions import Fraction
from functools import partial
from math import isfinite
from typing import Any, TypeVar

from .. import lengths
from ..calculator import Field
from ..errors import InputFault, nearest, printable
from ..fields import ABSURD, Choice, Count, Kind, Length, Text, Value
from ..lengths import DEFAULT_RULES, LONGEST, Unit
from ..quantities import Quantity
from ..record import MISSING, NamedTuple, Record
from .fields import MOST_ROWS, Day, Divided, Sizes, TableRows, Texts, Words, declared, made
from .left_out import Fault
from .names import TableName
from .timber_records import Price
from .validate import Unsound

MOST_FAULTS = 1000
_Record = TypeVar("_Record", bound=Record)
_OF_MANY, _IN_QUOTES = (Sizes, Words), (Text, Choice, Divided, Day)
_SIZE, _WORD = Length("Size"), Text("Word")  # of a list; its own bounds are looked at when it is whole


class ProfileFault(NamedTuple):
    """One thing wrong in a profile: `table` and `key` say where, `value` is what stands there (None: nothing)."""

    table: str
    key: str
    value: str | None
    reason: str

    def __str__(self) -> str:
        place = ", ".join(part for part in (self.table, self.key) if part)
        return printable(f"{place}: {self.reason}" if place else self.reason, 400)


class TableReader:
    """Reads tables into records, and gathers what is wrong. `units` is None until `[boat]` has said which they are."""

    def __init__(self) -> None:
        self.faults: list[ProfileFault] = []
        self.costly = 0  # how many faults cost what they stand on
        self.units: Unit | None = None
        self.rule = DEFAULT_RULES["in"]
        self.seen: dict[tuple[int, str], Value] = {}
        self.raw: dict[tuple[str, int], object] = {}
        self.told: list[Fault] = []
        self.lost: set[tuple[str, int, str]] = set()  # what is left out whole: table, row, and its part or ""
        self.places: dict[
            tuple[TableName, str], list[int]
        ] = {}  # of the rows of a key that were read: their numbers there

    def fault(
        self, table: TableName, key: str, value: object, reason: str, *, costs: bool = True, known: bool = True
    ) -> None:
        self.costly += costs
        if len(self.faults) < MOST_FAULTS:
            self.faults.append(ProfileFault(str(table), key, None if value is None else shown(value), reason))
            self.told.append(Fault(table.kind, table.number, key, reason, known))
        elif len(self.faults) == MOST_FAULTS:
            self.faults.append(ProfileFault("", "", None, f"more than {MOST_FAULTS} faults: the others are not listed"))
            self.told.append(Fault("", 0, "", self.faults[-1].reason, True))

    def lose(self, table: TableName, part: str = "") -> None:
        """Note that a row, or a part of it such as `fittings 2`, is left out whole."""
        self.lost.add((table.kind, table.number, part))

    def table_of(self, kind: str, place: int, raw: object) -> TableName:
        """How a fault names the row at `place`, from 1, of a list of tables."""
        self.raw[kind, place] = raw
        name = raw.get("name") if isinstance(raw, dict) else None
        return TableName(kind, place, printable(name) if isinstance(name, str) else None)

    def tell(self, table: TableName, wrong: list[Unsound]) -> None:
        say = partial(lengths.show, rule=self.rule)
        for fault in wrong:
            reason = InputFault(fault.reason, None, fault.lengths).with_lengths(say).reason
            self.fault(table, self._in_the_file(table, fault.key), fault.value, reason)

    def _in_the_file(self, table: TableName, key: str) -> str:
        """A key of a row that was read, as `fittings 2`, with the number of that row in the file."""
        row, comma, inside = key.partition(",")
        name, _, number = row.rpartition(" ")
        places = self.places.get((table, name), [])
        return f"{name} {places[int(number) - 1]}{comma}{inside}" if places and number.isdigit() else key

    def record(self, of: type[_Record], raw: object, table: TableName, key: str) -> _Record | None:
        """A record of that class, or None when a field that it cannot do without is at fault."""
        values, lost = self.fields(of, raw, table, key)
        return None if lost else made(of, values)

    def fields(self, of: type, raw: object, table: TableName, key: str) -> tuple[dict[str, Any], bool]:
        """The sound values of a record by key, and whether one is lost that it cannot do without."""
        if not isinstance(raw, dict):
            rows = table.number or key
            way = f"write it as {_row(of, self.rule.unit)}" if rows else f"write its keys under a line [{table.kind}]"
            self.fault(table, key, raw, f"{shown(raw)} is not a table; {way}")
            return {}, True
        loose: tuple[str, ...] = of.LOOSE  # type: ignore[attr-defined]  # every record of the model has it
        known = declared(of)
        self.unknown(raw, [field.name for field in known], table, key)
        values, lost = {}, False
        for field in known:
            name = field.name
            if name not in raw and field.default is not MISSING:
                continue
            before = self.costly
            if name in raw:
                value = self.value(field.kind, raw[name], table, _joined(key, name))
                if value is not None:
                    values[name] = value
            else:
                self.missing(field, table, key)
            if self.costly > before and name not in loose:
                lost = True
        return values, lost

    def missing(self, field: Field, table: TableName, key: str) -> None:
        example = _example(field.kind, self.rule.unit)
        way = f"for example {field.name} = {example!r}" if example else "give one"
        self.fault(table, _joined(key, field.name), None, f"missing; {way}")

    def unknown(self, raw: dict[str, Any], known: list[str], table: TableName, key: str) -> None:
        for name in raw:
            if name not in known:
                hint = nearest(name, known) if len(self.faults) < MOST_FAULTS else ""
                place = _joined(key, printable(name))
                reason = f"unknown key{hint or '; what it says is not used'}"
                self.fault(table, place, None, reason, costs=False, known=False)

    def value(self, kind: Kind, raw: object, table: TableName, key: str) -> Value:
        """The value of one field; None, with the fault reported, when it does not read."""
        if isinstance(kind, TableRows):
            rows: list[object] = []
            places = self.places[table, key] = []
            for place, row in enumerate(self.rows(raw, table, key, _row(kind.of, self.rule.unit)), 1):
                if (record := self.record(kind.of, row, table, f"{key} {place}")) is None:
                    self.lose(table, f"{key} {place}")
                else:
                    rows.append(record)
                    places.append(place)
            return tuple(rows)
        if isinstance(kind, Texts):
            return self.texts(raw, table, key)
        try:
            return self.many(kind, raw) if isinstance(kind, _OF_MANY) else self.plain(kind, raw)
        except InputFault as fault:
            self.fault(table, key, raw, fault.reason)
            return None

    def rows(self, raw: object, table: TableName, key: str, row: str = "") -> list[Any]:
        """An array of at most MOST_ROWS; nothing, with the fault told, when it is something else. `row` is how one of
        them is written; without it each has a header of its own.
        """
        if not isinstance(raw, list):
            way = f"write it as [{row}]" if row else f"begin each {table.kind} with a line [[{table.kind}]]"
            self.fault(table, key, raw, f"{shown(raw)} is not a list of rows; {way}")
            return []
        if len(raw) > MOST_ROWS:
            self.fault(table, key, raw, f"{len(raw)} rows; a profile takes at most {MOST_ROWS}")
            return []
        return raw

    def texts(self, raw: object, table: TableName, key: str) -> Value:
        if not isinstance(raw, dict):
            self.fault(table, key, raw, f"{shown(raw)} is not a table of inputs; write it as {{ drum = '4 in' }}")
            return ()
        inputs = []
        for name, text in raw.items():
            if isinstance(text, str) or (isinstance(text, int | float) and not isinstance(text, bool)):
                inputs.append((name, text if isinstance(text, str) else shown(text)))
            else:
                reason = f"{shown(text)} is not text; write it in quotes as you would type it, as '4 in'"
                self.fault(table, _joined(key, printable(name)), text, reason)
        return tuple(inputs)

    def many(self, kind: Sizes | Words, raw: object) -> Value:
        """A list of plain values. InputFault when `raw` is none."""
        if not isinstance(raw, list):
            example = "'2-5/8 in', '2-11/16 in'" if isinstance(kind, Sizes) else "'true-blank', 'mark-8'"
            raise InputFault(f"{shown(raw)} is not a list; write it in square brackets, as [{example}]")
        each = _SIZE if isinstance(kind, Sizes) else _WORD
        value = tuple(self.plain(each, element) for element in raw[: MOST_ROWS + 1])
        kind.check(value, self.rule)
        return value

    def plain(self, kind: Kind, raw: object) -> Value:
        """A value that is not a table. InputFault when `raw` is none."""
        if isinstance(kind, Day) and type(raw) is date:
            raw = raw.isoformat()
        if isinstance(kind, _IN_QUOTES):
            if not isinstance(raw, str):
                raise InputFault(f"{shown(raw)} is not text; write it in quotes")
            value: Value = lengths.rule(raw) if isinstance(kind, Divided) else raw.strip()
            kind.check(value, self.rule)
            return value
        if isinstance(raw, str):
            if (known := (id(kind), raw)) not in self.seen:
                self.seen[known] = self.written(kind, raw)
            return self.seen[known]
        if isinstance(raw, bool) or not isinstance(raw, int | float):
            raise InputFault(f"{shown(raw)} will not do, try {kind.example_in(self.rule.unit)!r}")
        value = kind.read(repr(raw), self.rule) if isinstance(kind, Price) else self.number(kind, raw)
        kind.check(value, self.rule)
        return value

    def written(self, kind: Kind, text: str) -> Value:
        if isinstance(kind, Length) and self.units is None and lengths.read(text, "in") != lengths.read(text, "mm"):
            raise InputFault(f"'{printable(text)}' has no unit, and [boat] does not say which units are meant")
        return kind.read(text, self.rule)

    def number(self, kind: Kind, raw: float) -> float:
        """A bare TOML number in the kind's unit, millimetres for a length. InputFault when it is none."""
        if abs(raw) > (ABSURD if isinstance(kind, Quantity) else LONGEST):
            raise InputFault(f"{shown(raw)} is absurdly large")
        if not isfinite(raw):
            raise InputFault(f"{shown(raw)} is not a number")
        if isinstance(kind, Count) and raw == int(raw):
            return int(raw)
        if isinstance(kind, Quantity):
            return kind.inside(float(raw), kind.shop[self.rule.unit])
        if not isinstance(kind, Length):
            return float(raw)
        if self.units is None and raw:
            raise InputFault(f"{shown(raw)} has no unit, and [boat] does not say which units are meant")
        return float(Fraction(Decimal(repr(raw))) * (lengths.INCH if self.rule.unit == "in" else 1))


def _row(of: type, unit: Unit) -> str:
    """How a row of a record may be written: what it needs, with examples."""
    needed = [f"{field.name} = {_example(field.kind, unit)!r}" for field in declared(of) if field.required]
    return f"{{ {', '.join(needed)} }}"


def _example(kind: Kind, unit: Unit) -> str:
    return kind.example_in(unit) or (kind.options[0] if isinstance(kind, Choice) else "")


def _joined(key: str, name: str) -> str:
    return f"{key}, {name}" if key else name


_WORDS: tuple[tuple[type, Callable[[Any], str]], ...] = (
    (str, lambda text: f"'{printable(text)}'"),
    (bool, lambda yes: str(yes).lower()),
    (int, lambda whole: str(whole) if abs(whole) < 10**30 else "a number of many digits"),
    (float, lambda number: f"{number:.12g}"),
    (list, lambda _: "a list"),
    (dict, lambda _: "a table"),
)


def shown(raw: object) -> str:
    """A TOML value in a few words, whatever it is."""
    return next((words(raw) for of, words in _WORDS if isinstance(raw, of)), "a date or time")
