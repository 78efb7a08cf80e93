"""The fields of a spar and of its rows as texts: from TOML to what a person sees and types, and back."""

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
from ..profile.fields import Day, Sizes

Texts = dict[str, str]
_FINEST: dict[Unit, Rule] = {"in": RULES[3], "mm": RULES[6]}
_FIGURES: dict[Unit, int] = {"in": 10_000, "mm": 1000}  # a unit's parts where no rule has the mark
SAME = Fraction(1, 10**6)  # mm: one length, but for float noise

spelled = lru_cache(maxsize=4096)(lengths.spelled)  # the same texts come again at every change


def shown(raw: object, kind: Kind, unit: Unit) -> str:
    """A value of the file in the user's own spelling, `unit` put to lengths that lean on it; total on any value."""
    if isinstance(raw, list):
        return "; ".join(shown(one, kind, unit) for one in raw)
    if isinstance(raw, bool):
        return str(raw).lower()
    text = raw.isoformat() if isinstance(raw, date) else str(raw).strip()
    if isinstance(kind, Length):
        try:
            return spelled(text, unit)
        except InputFault:  # shown as it is, to be mended
            return text
    return text


def written(one: Field, text: str, unit: Unit, name: str) -> Any:
    """What a person typed as it goes into the file. InputFault, its field `name`, when it does not read."""
    try:
        value = one.kind.read(text, DEFAULT_RULES[unit])
    except InputFault as fault:
        raise InputFault(fault.template, name, fault.lengths) from None
    if isinstance(one.kind, Sizes):
        return [spelled(part, unit) for part in text.split(";") if part.strip()]
    if isinstance(one.kind, Length):
        return spelled(text, unit)
    if isinstance(one.kind, Day):
        return date.fromisoformat(str(value))
    return value if isinstance(value, str | int) else text.strip()


def length_of(raw: object, unit: Unit) -> Fraction | None:
    """The exact length of a value of the file, mm; None when it is none."""
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
    return f"{floor((exact + SAME) / part) / _FIGURES[unit]:.10g} {unit}"


def fields_by_name(fields: Sequence[Field], row: Mapping[str, str], name: str) -> dict[str, Field]:
    """The fields by name. InputFault when `row` has one that is not among them."""
    known = {one.name: one for one in fields}
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
    found: list[int | None] = [None] * len(new)

    def pair(keys: Callable[[Texts], list[object]]) -> None:
        waiting: dict[object, deque[int]] = defaultdict(deque)
        for n in sorted(free):
            for key in keys(old[n]):
                waiting[key].append(n)
        for n, row in enumerate(new):
            same = (o for key in keys(row) for o in waiting.get(key, ()) if o in free)
            if found[n] is None and (origin := next(same, None)) is not None:
                found[n] = origin
                free.discard(origin)

    pair(lambda row: [frozenset(row.items())])
    if len(old) == len(new):
        for n in sorted(free):
            if found[n] is None:
                found[n] = n
        free.difference_update(n for n in found if n is not None)
    first = next(iter(old[0]), "") if old else ""
    pair(lambda row: [row[first]] if first in row else [])
    pair(lambda row: [(name, frozenset(row.items() - {(name, row[name])})) for name in row if len(row) > 1])
    return found
