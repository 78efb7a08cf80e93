"""The fields of a record and of its rows as texts: from TOML to what a person sees and types, and back."""

from collections import defaultdict, deque
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from fractions import Fraction
from functools import lru_cache
from math import floor
from typing import Any

from .. import lengths
from ..calculator import Field
from ..errors import InputFault, printable
from ..fields import Kind, Length
from ..lengths import DEFAULT_RULES, RULES, Rule, Unit
from ..profile.fields import Day, Sizes, TableRows, declared

Texts = dict[str, str]
Change = dict[str, Any]  # of a row: column -> its value in the file, None to take it out
_TO = " to "
_FINEST: dict[Unit, Rule] = {"in": RULES[3], "mm": RULES[6]}
_FIGURES: dict[Unit, int] = {"in": 10_000, "mm": 1000}  # a unit's parts where no rule has the mark
SAME = Fraction(1, 10**6)  # mm: one length, but for float noise

spelled = lru_cache(maxsize=4096)(lengths.spelled)  # the same texts come again at every change


def shown(raw: object, kind: Kind, unit: Unit) -> str:
    """A value of the file in the user's own spelling, `unit` put to lengths that lean on it; total on any value."""
    if isinstance(raw, list):
        return "; ".join(shown(element, kind, unit) for element in raw)
    if isinstance(raw, dict) and isinstance(kind, TableRows):
        return _TO.join(shown(raw.get(field.name, "?"), field.kind, unit) for field in declared(kind.of))
    text = str(raw).lower() if isinstance(raw, bool) else raw.isoformat() if isinstance(raw, date) else str(raw).strip()
    own = spelled if isinstance(kind, Length) else getattr(kind, "spelled", None)
    if own is None or isinstance(raw, bool):
        return text
    try:
        return str(own(text, unit))
    except InputFault:  # shown as it is, to be mended
        return text


def written(field: Field, text: str, unit: Unit, name: str) -> Any:
    """What a person typed as it goes into the file. InputFault, its field `name`, when it does not read."""
    if isinstance(field.kind, TableRows):
        return [_stretch(field.kind, part, unit, name) for part in text.split(";") if part.strip()]
    try:
        value = field.kind.read(text, DEFAULT_RULES[unit])
    except InputFault as fault:
        raise InputFault(fault.template, name, fault.lengths) from None
    if own := getattr(field.kind, "spelled", None):
        return str(own(text, unit))
    if isinstance(field.kind, Sizes):
        return [spelled(part, unit) for part in text.split(";") if part.strip()]
    if isinstance(field.kind, Length):
        return spelled(text, unit)
    if isinstance(field.kind, Day):
        return date.fromisoformat(str(value))
    return value if isinstance(value, str | int) else text.strip()


def _stretch(kind: TableRows, text: str, unit: Unit, name: str) -> dict[str, Any]:
    """A row of two columns from one text, as `2 ft to 2 ft 3 in`."""
    fields, parts = declared(kind.of), [part.strip() for part in text.split(_TO)]
    if len(parts) != len(fields):
        raise InputFault("not a stretch; write it as 2 ft to 2 ft 3 in, several with ; between them", name)
    return {field.name: written(field, part, unit, name) for field, part in zip(fields, parts, strict=True)}


def length_of(raw: object, unit: Unit) -> Fraction | None:
    """The exact length of a value of the file, mm; None when it is not a length."""
    if isinstance(raw, bool) or not isinstance(raw, str | int | float):
        return None
    try:
        return lengths.read(str(raw), unit)
    except InputFault:
        return None


def spelled_down(mm: float | Fraction, unit: Unit) -> str:
    """A length in its shortest spelling: by the finest rule when that has the mark, or else in decimals, 0.0001 in or
    0.001 mm; what is smaller is left off, so it is never more than it was.

    >>> spelled_down(44.45, "in"), spelled_down(68.66, "in"), spelled_down(68.66, "mm")
    ('1-3/4 in', '2.7031 in', '68.66 mm')
    """
    exact, rule = Fraction(mm), _FINEST[unit]
    marks = round(exact / rule.step)
    if abs(marks * rule.step - exact) <= SAME:
        return lengths.show(marks * rule.step, rule)
    part = (lengths.INCH if unit == "in" else 1) / Fraction(_FIGURES[unit])
    count = floor((exact + SAME) / part)
    return lengths.in_millimetres(count * part) if unit == "mm" else f"{count / _FIGURES[unit]:.10g} in"


def fields_by_name(fields: Sequence[Field], row: Mapping[str, str], name: str) -> dict[str, Field]:
    """The fields by name. InputFault when `row` has one that is not among them."""
    known = {field.name: field for field in fields}
    for column in row:
        if column not in known:
            raise InputFault(f"'{printable(column)}' is none of {', '.join(known)}", name)
    return known


def matched(old: Sequence[Texts], new: Sequence[Texts]) -> list[int | None]:
    """Which of the old rows each new one is, None for one that was not there.

    An equal row is the same; then, when there are as many as before, the one at the same place; then the one with the
    same first column; then one that differs in a single column.
    """
    free = set(range(len(old)))
    origins: list[int | None] = [None] * len(new)

    def pair(keys: Callable[[Texts], list[object]]) -> None:
        waiting: dict[object, deque[int]] = defaultdict(deque)
        for n in sorted(free):
            for key in keys(old[n]):
                waiting[key].append(n)
        for n, row in enumerate(new):
            same = (o for key in keys(row) for o in waiting.get(key, ()) if o in free)
            if origins[n] is None and (origin := next(same, None)) is not None:
                origins[n] = origin
                free.discard(origin)

    pair(lambda row: [frozenset(row.items())])
    if len(old) == len(new):
        for n in sorted(free):
            if origins[n] is None:
                origins[n] = n
        free.difference_update(n for n in origins if n is not None)
    first = next(iter(old[0]), "") if old else ""
    pair(lambda row: [row[first]] if first in row else [])
    pair(lambda row: [(name, frozenset(row.items() - {(name, row[name])})) for name in row if len(row) > 1])
    return origins


def compared(
    record: type, old: Sequence[Texts], given: Sequence[Mapping[str, str]], name: str, unit: Unit
) -> tuple[list[Texts], list[tuple[int | None, Change]]]:
    """Rows of texts as a person left them against those there were: what each says, and which of the old ones it is,
    None for a new one, with what changes in it. What is as it was need not read.

    InputFault, its field as `stations 2, width` counted in the rows given under `name`, when one does not read or lacks
    what it cannot be without.
    """
    texts: list[Texts] = []
    values: list[Change] = []
    faults: dict[tuple[int, str], InputFault] = {}
    for n, row in enumerate(given):
        fields = fields_by_name(declared(record), row, f"{name} {n + 1}")
        texts.append({})
        values.append({})
        for key, field in fields.items():
            if not (word := row.get(key, "").strip()):
                continue
            try:
                values[n][key] = written(field, word, unit, f"{name} {n + 1}, {key}")
                texts[n][key] = shown(values[n][key], field.kind, unit)
            except InputFault as fault:
                texts[n][key], faults[n, key] = word, fault
    wanted: list[tuple[int | None, Change]] = []
    for n, origin in enumerate(matched(old, texts)):
        before = {} if origin is None else old[origin]
        change: Change = {}
        for column in declared(record):
            if before.get(column.name) == texts[n].get(column.name) and not (origin is None and column.required):
                continue
            if (n, column.name) in faults:
                raise faults[n, column.name]
            if column.required and column.name not in texts[n]:
                example = column.kind.example or "one of the list"
                raise InputFault(f"missing; for example {example!r}", f"{name} {n + 1}, {column.name}")
            if column.name in before or column.name in values[n]:
                change[column.name] = values[n].get(column.name)
        wanted.append((origin, change))
    return texts, wanted
