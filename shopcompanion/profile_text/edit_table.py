"""Changes to the tables of a profile that are about no spar: the boat's own values, the shop with its bits, drums and
belts, and the lists of timber, yard, pieces and species.

A text is made from a text, as in `edit_spar`: only what is changed is touched, and the result is read again. Texts that
come in are the user's own; one that leans on `unit`, the unit in force, gets it.
"""

import re
from collections.abc import Mapping, Sequence

from ..errors import InputFault, printable
from ..lengths import Unit
from ..profile.fields import TableRows, declared
from ..profile.names import folded
from .intent import mend_first, past_mark
from .row_texts import Change, Texts, compared, shown, written
from .text_edit import Work, record_of, rows_of

_WITH_SPECIES = ("spar", "piece", "timber", "yard")


def values(text: str, table: str) -> Texts:
    """The values of the one table `boat` or `shop` as texts by key, spelled with their unit."""
    work = Work(text)
    rows = [field.name for field in declared(record_of(table)) if isinstance(field.kind, TableRows)]
    return work.texts_of(record_of(table), {k: v for k, v in work.table_data(table).items() if k not in rows})


@past_mark
def set_value(text: str, table: str, key: str, value: str | None, unit: Unit) -> str:
    """`text` with one key of `boat` or `shop` set, or taken out with None. InputFault when it does not read."""
    fields = {field.name: field for field in declared(record_of(table)) if not isinstance(field.kind, TableRows)}
    if key not in fields:
        raise InputFault(f"'{printable(key)}' is none of {', '.join(fields)}")
    field = fields[key]
    if value is None and field.required:
        raise InputFault("cannot be left empty", key)
    new = None if value is None else written(field, value, unit, key)
    work = Work(text)
    old = work.table_data(table).get(key)
    if (old is None) == (new is None) and shown(old, field.kind, work.units) == shown(new, field.kind, unit):
        return text
    work.put(table, 0, key, new)
    return work.done()


def rows(text: str, table: str, key: str) -> tuple[Texts, ...]:
    """The rows of `key` in the one table `table`, such as the bits of the shop, each as texts by column."""
    return tuple(Work(text).texts(0, key, table))


@past_mark
def set_rows(text: str, table: str, key: str, given: Sequence[Mapping[str, str]], unit: Unit) -> str:
    """`text` with these rows in place of what `rows` gives; a row that is the same stays as it is written.

    InputFault, its field as `bits 2, radius` counted in the rows given, when a text does not read or is missing.
    """
    work = Work(text)
    of, _ = rows_of(key, table)
    _, wanted = compared(of, work.texts(0, key, table), given, key, unit)
    work.put_rows(0, key, wanted, table)
    return work.done()


def listed(text: str, kind: str) -> tuple[Texts, ...]:
    """The tables `[[kind]]` (`timber`, `yard`, `piece`, `species`), each as texts by key. Rows within one are a text,
    as knots: `2 ft to 2 ft 3 in; 5 ft to 5 ft 1 in`. InputFault when the file has something else there.
    """
    return tuple(_listed(Work(text), kind))


def _listed(work: Work, kind: str) -> list[Texts]:
    raw = work.data.get(kind, [])
    if not isinstance(raw, list) or not all(isinstance(row, dict) for row in raw):
        raise mend_first(kind, "a list of tables", kind)
    return [work.texts_of(record_of(kind), row) for row in raw]


@past_mark
def set_listed(text: str, kind: str, given: Sequence[Mapping[str, str]], unit: Unit) -> str:
    """`text` with these tables in place of what `listed` gives; one that is the same stays as it is written.

    A timber of the boat's own that gets another name keeps it in all that is made of it. InputFault, its field as
    `timber 2, width`, when a text does not read, or the row would not be sound.
    """
    work = Work(text)
    old = _listed(work, kind)
    _, wanted = compared(record_of(kind), old, given, kind, unit)
    kept = [origin for origin, _ in wanted if origin is not None]
    if kept != sorted(kept):
        raise InputFault("the rows cannot change places", kind)
    for place in reversed(range(len(old))):
        if place not in kept:
            work.drop(kind, place)
    for place, (origin, change) in enumerate(wanted):
        if origin is None:
            work.add(kind, {key: value for key, value in change.items() if value is not None}, place)
        else:
            _change(work, kind, place, change, unit)
            if kind == "species" and change.get("name") and old[origin].get("name"):
                _renamed(work, old[origin]["name"], change["name"])
    return work.done(places=lambda key: re.sub(r"^(\w+) \d+$", r"\1", key))


def _change(work: Work, kind: str, place: int, change: Change, unit: Unit) -> None:
    """Set the changed keys of one table; of the rows within it only those that changed."""
    kinds = {field.name: field.kind for field in declared(record_of(kind))}
    for key, value in change.items():
        of = kinds[key]
        if not isinstance(of, TableRows):
            work.put(kind, place, key, value)
            continue
        now = [{name: str(word) for name, word in row.items()} for row in value or ()]
        _, wanted = compared(of.of, work.texts(place, key, kind), now, key, unit)
        work.put_rows(place, key, wanted, kind)


def _renamed(work: Work, old: str, new: str) -> None:
    """Put the new name of a timber into everything that is made of it."""
    for kind in _WITH_SPECIES:
        for place, row in enumerate(work.data.get(kind, [])):
            named = row.get("species") if isinstance(row, dict) else None
            if isinstance(named, str) and folded(named) == folded(old):
                work.put(kind, place, "species", new)
