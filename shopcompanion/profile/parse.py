"""A profile's text to a boat, with every fault listed; whatever is sound can be used. Never raises on any text."""

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache, partial
from math import isfinite
from typing import Any, NamedTuple, TypeVar, cast

from .. import lengths
from ..calculator import Field
from ..errors import InputFault, nearest, printable
from ..fields import ABSURD, Choice, Count, Kind, Length, Text, Value
from ..lengths import DEFAULT_RULES, LONGEST, Rule, Unit
from ..quantities import Quantity
from ..record import Record
from ..timber.species import Own, find
from .fields import MOST_ROWS, Day, Divided, Rows, Sizes, Texts, Words, declared, made
from .left_out import LEFT_OUT, Fault, LeftOut, gathered
from .names import Table, folded
from .parse_timber import stores
from .records import FORMAT, LOADING, ROWS, TABLES, Boat, Head, Preset, Shop, Spar
from .timber_records import Price
from .toml import parsed
from .validate import Unsound, on_spar, unsound, usable

_HINTS = (  # what works, by how the reason begins
    ("Invalid value", "text and lengths stand in quotes"),
    ("Cannot overwrite a value", "a table has each key once"),
    ("Cannot declare", "a table with one pair of brackets stands once"),
    ("Expected '='", "a line is key = value; a remark begins with #"),
    ("Illegal character", "text ends with the quotes that it begins with, on the same line"),
    ("Unterminated string", "text ends with the quotes that it begins with"),
)
LARGEST = 20_000_000  # characters; no boat has that much to say
MOST_FAULTS = 1000
_UNITS = {"in": "inches", "mm": "millimetres"}
_Record = TypeVar("_Record", bound=Record)
_SIZE, _WORD = Length("Size"), Text("Word")  # of a list; its own bounds are looked at when it is whole


# The sound spars of the last reading, by the identity of their table, which is held here so that it stays its own.
_sound_spars: dict[int, tuple[object, Unit | None, Rule, Spar]] = {}


class ProfileFault(NamedTuple):
    """One thing wrong in a profile: `table` and `key` say where, `value` is what stands there (None: nothing)."""

    table: str
    key: str
    value: str | None
    reason: str

    def __str__(self) -> str:
        place = ", ".join(part for part in (self.table, self.key) if part)
        return printable(f"{place}: {self.reason}" if place else self.reason, 400)


class Reading(NamedTuple):
    """What a text holds: the boat as far as it is sound, and what is not."""

    boat: Boat
    faults: tuple[ProfileFault, ...]


@lru_cache(maxsize=4)
def read(text: str) -> Reading:
    """The boat in `text`, TOML, and every fault in it.

    >>> read("format = 1\\n[boat]\\nname = 'Dabchick'\\nunits = 'inn'").faults[0].reason
    "'inn' is none of in, mm (did you mean 'in'?)"
    """
    if len(text) > LARGEST:
        return _unreadable(f"longer than {LARGEST:,} characters: too long for a profile")
    try:
        raw = parsed(text)
    except (ValueError, RecursionError) as error:  # ValueError: TOMLDecodeError, and numbers of thousands of digits
        reason = "tables and lists nested too deep" if isinstance(error, RecursionError) else str(error)
        hint = next((f"; {hint}" for start, hint in _HINTS if reason.startswith(start)), "")
        return _unreadable(f"the file is not valid TOML: {printable(reason, 200)}{hint}")
    return Reader().boat(raw)


def _unreadable(reason: str) -> Reading:
    left_out = (LeftOut("", "", "", "the file", reason),)
    return Reading(Boat(left_out=left_out), (ProfileFault("", "", None, reason),))


class Reader:
    """Reads one profile and gathers its faults. `units` is None until `[boat]` has said which they are."""

    def __init__(self) -> None:
        self.faults: list[ProfileFault] = []
        self.costly = 0  # how many faults cost what they stand on
        self.units: Unit | None = None
        self.rule = DEFAULT_RULES["in"]
        self.seen: dict[tuple[int, str], Value] = {}
        self.raw: dict[tuple[str, int], object] = {}
        self.sound: dict[int, tuple[object, Unit | None, Rule, Spar]] = {}  # spars without a fault, by their table
        self.told: list[Fault] = []
        self.lost: set[tuple[str, int, str]] = set()  # what is left out whole: table, row, and its part or ""

    def fault(
        self, table: Table, key: str, value: object, reason: str, *, costs: bool = True, known: bool = True
    ) -> None:
        self.costly += costs
        if len(self.faults) < MOST_FAULTS:
            self.faults.append(ProfileFault(str(table), key, None if value is None else _shown(value), reason))
            self.told.append(Fault(table.kind, table.number, key, reason, known))
        elif len(self.faults) == MOST_FAULTS:
            self.faults.append(ProfileFault("", "", None, f"more than {MOST_FAULTS} faults: the others are not listed"))
            self.told.append(Fault("", 0, "", self.faults[-1].reason, True))

    def lose(self, table: Table, part: str = "") -> None:
        """Note that a row, or a part of it such as `fittings 2`, is left out whole."""
        self.lost.add((table.kind, table.number, part))

    def boat(self, raw: dict[str, Any]) -> Reading:
        self.unknown(raw, ["format", *TABLES, *ROWS], Table(), "")
        self.format(raw.get("format"))
        head = self.head(raw.get("boat"))
        shop, _ = self.fields(Shop, raw.get("shop", {}), Table("shop"), "")
        wood = stores(self, raw, shop.get("currency"))
        spars = self.spars(raw.get("spar", []), Own(tuple(timber.species for timber in wood["species"])))
        presets = self.presets(raw.get("preset", []), raw.get("spar", []))
        boat = Boat(
            name=head.get("name", ""),
            units=self.rule.unit,
            rule=self.rule,
            shop=Shop(**shop),
            spars=spars,
            presets=presets,
            left_out=tuple(gathered(self.told, self.raw, self.lost)),
            **{**wood, **{key: head[key] for key in (*LOADING, "tally") if key in head}},
        )
        return Reading(boat, tuple(self.faults))

    def format(self, version: object) -> None:
        if version is None:
            self.fault(Table(), "format", None, f"missing; write format = {FORMAT} at the top")
        elif isinstance(version, bool) or not isinstance(version, int) or version < 1:
            self.fault(Table(), "format", version, f"{_shown(version)} is not a format; write format = {FORMAT}")
        elif version > FORMAT:
            reason = (
                f"written by a newer companion (format {_shown(version)}): this one knows format {FORMAT}, "
                "and leaves out what is new"
            )
            self.fault(Table(), "format", version, reason)

    def head(self, raw: object) -> dict[str, Any]:
        """The `[boat]` table; sets units and rule for all that follows."""
        if raw is None:
            self.fault(Table("boat"), "", None, "missing; a profile has a table [boat] with name and units")
            return {}
        values, _ = self.fields(Head, raw, Table("boat"), "")
        self.units = cast("Unit | None", values.get("units"))
        self.rule = DEFAULT_RULES[self.units or "in"]
        rule: Rule | None = values.get("rule")
        if rule is not None and rule.unit != self.rule.unit:
            units = f"the rule is in {_UNITS[rule.unit]}, the boat in {_UNITS[self.rule.unit]}"
            reason = f"{units}: write {self.rule}, for example"
            self.fault(Table("boat"), "rule", str(rule), reason)
        elif rule is not None:
            self.rule = rule
        return values

    def spars(self, raw: object, own: Own) -> tuple[Spar, ...]:
        kept: dict[str, Spar] = {}
        for place, row in enumerate(self.rows(raw, Table("spar"), ""), 1):
            table = self.table_of("spar", place, row)
            read_spar = self.known_spar(row)
            if read_spar and folded(read_spar.name) not in kept:
                kept[folded(read_spar.name)] = read_spar
            else:
                read_spar = self.spar(row, table, kept)
            if read_spar:
                self.timber(read_spar.species, own, table)
        _sound_spars.clear()
        _sound_spars.update(self.sound)
        return tuple(kept.values())

    def known_spar(self, raw: object) -> Spar | None:
        """The sound spar that the same table gave in the last reading, or None; a table that did not change is the same
        object."""
        known = _sound_spars.get(id(raw))
        if known is None or known[1:3] != (self.units, self.rule):
            return None
        self.sound[id(raw)] = known
        return known[3]

    def spar(self, raw: object, table: Table, kept: dict[str, Spar]) -> Spar | None:
        """Read a spar, and put it among those kept if sums can be built on it. None when it does not read at all."""
        before = len(self.faults)
        spar = self.record(Spar, raw, table, "")
        wrong = list(unsound(spar)) if spar else []
        if spar and folded(spar.name) in kept:
            wrong.append(Unsound("name", spar.name, "another spar has the same name: give this one another"))
        if spar and not wrong:
            kept[folded(spar.name)], wrong = on_spar(spar)
        else:
            self.lose(table)
            wrong.append(Unsound("", None, LEFT_OUT))
        self.tell(table, wrong)
        if spar and len(self.faults) == before:
            self.sound[id(raw)] = (raw, self.units, self.rule, kept[folded(spar.name)])
        return spar

    def timber(self, species: str | None, own: Own, table: Table) -> None:
        """Report a timber that nobody knows. Its name stays: only sums that need its figures are lost."""
        if species is None:
            return
        try:
            find(species, own)
        except InputFault as fault:
            self.fault(table, "species", species, fault.reason, costs=False)

    def presets(self, raw: object, spars: object) -> tuple[Preset, ...]:
        kept: dict[tuple[str, str, str], Preset] = {}
        names: dict[str, str] = {}
        for row in spars if isinstance(spars, list) else []:
            if isinstance(row, dict) and isinstance(name := row.get("name"), str):
                names.setdefault(folded(name), name.strip())
        for place, row in enumerate(self.rows(raw, Table("preset"), ""), 1):
            table = self.table_of("preset", place, row)
            preset = self.record(Preset, row, table, "")
            if preset is None:
                self.lose(table)
                continue
            preset, wrong = usable(preset, self.rule)
            key = (preset.calculator, folded(preset.name), folded(preset.spar or ""))
            if preset.spar is not None and key[2] not in names:
                hint = nearest(preset.spar, list(names.values()))
                wrong.append(Unsound("spar", preset.spar, f"no spar is called '{printable(preset.spar)}'{hint}"))
            elif key in kept:
                wrong.append(
                    Unsound(
                        "name",
                        preset.name,
                        "another preset of this calculator and spar has the same name: give it another",
                    )
                )
            else:
                kept[key] = preset
            if kept.get(key) is not preset:
                self.lose(table)
            self.tell(table, wrong)
        return tuple(kept.values())

    def table_of(self, kind: str, place: int, raw: object) -> Table:
        """How a fault names the row at `place`, from 1, of a list of tables."""
        self.raw[kind, place] = raw
        name = raw.get("name") if isinstance(raw, dict) else None
        return Table(kind, place, printable(name) if isinstance(name, str) else None)

    def tell(self, table: Table, wrong: list[Unsound]) -> None:
        say = partial(lengths.show, rule=self.rule)
        for fault in wrong:
            reason = InputFault(fault.reason, None, fault.lengths).with_lengths(say).reason
            self.fault(table, fault.key, fault.value, reason)

    def record(self, of: type[_Record], raw: object, table: Table, key: str) -> _Record | None:
        """A record of that class, or None when a field that it cannot do without is at fault."""
        values, lost = self.fields(of, raw, table, key)
        return None if lost else made(of, values)

    def fields(self, of: type, raw: object, table: Table, key: str) -> tuple[dict[str, Any], bool]:
        """The sound values of a record by key, and whether one is lost that it cannot do without."""
        if not isinstance(raw, dict):
            rows = table.number or key
            way = f"write it as {_row(of, self.rule.unit)}" if rows else f"write its keys under a line [{table.kind}]"
            self.fault(table, key, raw, f"{_shown(raw)} is not a table; {way}")
            return {}, True
        loose: tuple[str, ...] = of.LOOSE  # type: ignore[attr-defined]  # every record of the model has it
        self.unknown(raw, [field.name for field in declared(of)], table, key)
        values, lost = {}, False
        for field in declared(of):
            before = self.costly
            if field.name in raw:
                value = self.value(field.kind, raw[field.name], table, _joined(key, field.name))
                if value is not None:
                    values[field.name] = value
            elif field.required:
                self.missing(field, table, key)
            if self.costly > before and field.name not in loose:
                lost = True
        return values, lost

    def missing(self, field: Field, table: Table, key: str) -> None:
        example = _example(field.kind, self.rule.unit)
        way = f"for example {field.name} = {example!r}" if example else "give one"
        self.fault(table, _joined(key, field.name), None, f"missing; {way}")

    def unknown(self, raw: dict[str, Any], known: list[str], table: Table, key: str) -> None:
        for name in raw:
            if name not in known:
                hint = nearest(name, known) if len(self.faults) < MOST_FAULTS else ""
                place = _joined(key, printable(name))
                reason = f"unknown key{hint or '; what it says is not used'}"
                self.fault(table, place, None, reason, costs=False, known=False)

    def value(self, kind: Kind, raw: object, table: Table, key: str) -> Value:
        """The value of one field; None, with the fault reported, when it does not read."""
        if isinstance(kind, Rows):
            rows: list[object] = []
            for place, row in enumerate(self.rows(raw, table, key, _row(kind.of, self.rule.unit)), 1):
                if (record := self.record(kind.of, row, table, f"{key} {place}")) is None:
                    self.lose(table, f"{key} {place}")
                else:
                    rows.append(record)
            return tuple(rows)
        if isinstance(kind, Texts):
            return self.texts(raw, table, key)
        try:
            return self.many(kind, raw) if isinstance(kind, Sizes | Words) else self.plain(kind, raw)
        except InputFault as fault:
            self.fault(table, key, raw, fault.reason)
            return None

    def rows(self, raw: object, table: Table, key: str, row: str = "") -> list[Any]:
        """An array of at most MOST_ROWS; nothing, with the fault told, when it is something else. `row` is how one of
        them is written; without it each has a header of its own.
        """
        if not isinstance(raw, list):
            way = f"write it as [{row}]" if row else f"begin each {table.kind} with a line [[{table.kind}]]"
            self.fault(table, key, raw, f"{_shown(raw)} is not a list of rows; {way}")
            return []
        if len(raw) > MOST_ROWS:
            self.fault(table, key, raw, f"{len(raw)} rows; a profile takes at most {MOST_ROWS}")
            return []
        return raw

    def texts(self, raw: object, table: Table, key: str) -> Value:
        if not isinstance(raw, dict):
            self.fault(table, key, raw, f"{_shown(raw)} is not a table of inputs; write it as {{ drum = '4 in' }}")
            return ()
        inputs = []
        for name, text in raw.items():
            if isinstance(text, str) or (isinstance(text, int | float) and not isinstance(text, bool)):
                inputs.append((name, text if isinstance(text, str) else _shown(text)))
            else:
                reason = f"{_shown(text)} is not text; write it in quotes as you would type it, as '4 in'"
                self.fault(table, _joined(key, printable(name)), text, reason)
        return tuple(inputs)

    def many(self, kind: Sizes | Words, raw: object) -> Value:
        """A list of plain values. InputFault when `raw` is none."""
        if not isinstance(raw, list):
            example = "'2-5/8 in', '2-11/16 in'" if isinstance(kind, Sizes) else "'true-blank', 'mark-8'"
            raise InputFault(f"{_shown(raw)} is not a list; write it in square brackets, as [{example}]")
        each = _SIZE if isinstance(kind, Sizes) else _WORD
        value = tuple(self.plain(each, element) for element in raw[: MOST_ROWS + 1])
        kind.check(value, self.rule)
        return value

    def plain(self, kind: Kind, raw: object) -> Value:
        """A value that is not a table. InputFault when `raw` is none."""
        if isinstance(kind, Day) and type(raw) is date:
            raw = raw.isoformat()
        if isinstance(kind, Text | Choice | Divided | Day):
            if not isinstance(raw, str):
                raise InputFault(f"{_shown(raw)} is not text; write it in quotes")
            value: Value = lengths.rule(raw) if isinstance(kind, Divided) else raw.strip()
            kind.check(value, self.rule)
            return value
        if isinstance(raw, str):
            if (known := (id(kind), raw)) not in self.seen:
                self.seen[known] = self.written(kind, raw)
            return self.seen[known]
        if isinstance(raw, bool) or not isinstance(raw, int | float):
            raise InputFault(f"{_shown(raw)} will not do, try {kind.example_in(self.rule.unit)!r}")
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
            raise InputFault(f"{_shown(raw)} is absurdly large")
        if not isfinite(raw):
            raise InputFault(f"{_shown(raw)} is not a number")
        if isinstance(kind, Count) and raw == int(raw):
            return int(raw)
        if isinstance(kind, Quantity):
            return kind.inside(float(raw), kind.shop[self.rule.unit])
        if not isinstance(kind, Length):
            return float(raw)
        if self.units is None and raw:
            raise InputFault(f"{_shown(raw)} has no unit, and [boat] does not say which units are meant")
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


def _shown(raw: object) -> str:
    """A TOML value in a few words, whatever it is."""
    return next((words(raw) for of, words in _WORDS if isinstance(raw, of)), "a date or time")
