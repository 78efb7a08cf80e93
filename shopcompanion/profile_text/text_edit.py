"""One change to a profile under way: the text, the data that it is to hold, and the check at the end."""

import re
from collections import Counter
from collections.abc import Callable, Sequence
from copy import deepcopy
from typing import Any

from ..errors import InputFault, nearest, printable
from ..profile.fields import TableRows, check_field, declared
from ..profile.names import folded
from ..profile.parse import read
from ..profile.read_table import ProfileFault
from ..profile.records import ROWS, TABLES, Spar
from .intent import BY_HAND, Data, compare, data_of, mend_first
from .relist import Wanted, relisted
from .rewrite import (
    TomlRow,
    indent_in,
    regrouped,
    single,
    spliced,
    tables,
    toml,
    value_in,
    with_inner_key,
    with_key,
    with_row,
    with_table,
    with_table_key,
    without_row,
)
from .row_texts import Change, Texts, shown
from .scan import TomlSection, items


def spar_row(data: Data, name: str) -> int:
    """Which row the spar is. InputFault when none is called so, or several are."""
    names = [row.get("name") if isinstance(row, dict) else None for row in data.get("spar", [])]
    words = [word if isinstance(word, str) else "" for word in names]
    places = [place for place, word in enumerate(words) if word and folded(word) == folded(name)]
    if len(places) > 1:
        raise InputFault(f"{len(places)} spars are called '{printable(name)}' in the file: mend that first", "spar")
    if not places:
        raise InputFault(
            f"no spar is called '{printable(name)}'{nearest(name, [word for word in words if word])}", "spar"
        )
    return places[0]


def rows_of(key: str, kind: str = "spar") -> tuple[type, list[str]]:
    """The record of a row of `key` in a table of that kind, and its columns. InputFault when it has no such rows."""
    kinds = {field.name: field.kind for field in declared(record_of(kind))}
    rows = kinds.get(key)
    if not isinstance(rows, TableRows):
        known = [name for name, inner in kinds.items() if isinstance(inner, TableRows)]
        raise InputFault(f"'{printable(key)}' is none of {', '.join(known)}")
    return rows.of, [field.name for field in declared(rows.of)]


def record_of(kind: str) -> type:
    """The record that a table of that kind is."""
    return TABLES.get(kind) or ROWS[kind]


class Work:
    """A change under way: `text` becomes what is wanted step by step, `data` is what it must hold in the end."""

    def __init__(self, text: str) -> None:
        self.before = self.text = text
        self.data = data_of(text)
        if not isinstance(self.data.get("spar", []), list):
            raise mend_first("spar", "a list of tables")
        units = self.data.get("boat", {}).get("units")
        self.units: Any = units if units in ("in", "mm") else "in"

    def free(self, name: str, place: int | None = None) -> None:
        """InputFault when no spar, or none but the one at `place`, can be called so."""
        check_field(Spar, "name", name)
        for n, row in enumerate(self.data.get("spar", [])):
            known = row.get("name") if isinstance(row, dict) else None
            if n != place and isinstance(known, str) and folded(known) == folded(name):
                raise InputFault(f"another spar is called '{printable(known.strip())}'", "name")

    def presets_of(self, spar: str) -> list[int]:
        """Which presets are for the spar."""
        named = [row.get("spar") if isinstance(row, dict) else None for row in self.data.get("preset", [])]
        return [n for n, name in enumerate(named) if isinstance(name, str) and folded(name) == folded(spar)]

    # --- whole tables ---------------------------------------------------------------------------------------------

    def add(self, kind: str, row: Data, place: int | None = None) -> None:
        """A new row at `place`, or behind the last; a spar goes before the presets."""
        lines = [
            f"{key} = {relisted('[]', [(None, toml(row)) for row in value]) if key == 'stations' else toml(value)}\n"
            for key, value in row.items()
        ]
        old = self.data.get(kind, [])
        place = len(old) if place is None else place
        before = "preset" if kind == "spar" else ""
        self.text = with_row(self.text, kind, place, (f"[[{kind}]]\n{''.join(lines)}", toml(row)), before)
        self.data[kind] = [*old[:place], row, *old[place:]]

    def copy(self, place: int, name: str) -> None:
        """The spar at `place` once more, behind it."""
        table = self._table("spar", place)
        own = self.text[table.start : table.end]
        new = with_key(own, "name", toml(name), _order("spar"))
        chunks = [self.text[start:end] for start, end in table.blocks()]
        whole = "\n".join([new + chunks[0][len(own) :], *chunks[1:]]) if chunks else ""
        self.text = with_row(self.text, "spar", place + 1, (whole, new))
        self.data["spar"].insert(place + 1, {**deepcopy(self.data["spar"][place]), "name": name})

    def drop(self, kind: str, place: int) -> None:
        self._table(kind, place)
        self.text = without_row(self.text, kind, place)
        del self.data[kind][place]

    # --- keys and rows --------------------------------------------------------------------------------------------
    # A table of the profile is given by its kind and, where there is a list of them, its place there, from 0.

    def table_data(self, kind: str, place: int = 0) -> Data:
        """What a table holds; a table that is not there holds nothing. InputFault when there is something else."""
        data = self.data.get(kind, {}) if kind in TABLES else self.data[kind][place]
        if not isinstance(data, dict):
            raise mend_first(kind, "a table", kind)
        return data

    def _hold(self, kind: str, place: int, change: Change) -> None:
        changed = _changed(self.table_data(kind, place), change)
        if kind in TABLES:
            self.data[kind] = changed
        else:
            self.data[kind][place] = changed

    def put(self, kind: str, place: int, key: str, value: Any) -> None:
        """Set one key; None takes it out."""
        new = None if value is None else toml(value)
        if kind in TABLES:
            self.text = with_table_key(self.text, kind, key, new, _order(kind))
        else:
            self._part(kind, place, lambda part: with_key(part, key, new, _order(kind)))
        self._hold(kind, place, {key: value})

    def put_inner(self, kind: str, place: int, outer: str, key: str, value: str | None) -> None:
        """Set one key of a table within a row; None takes it out."""
        row = self.data[kind][place]
        inside = row.get(outer, {})
        if not isinstance(inside, dict):
            raise mend_first(outer, "a table", outer)
        new = None if value is None else toml(value)
        table = self._table(kind, place)
        under = next((part for part in table.parts if part.path == (kind, outer)), None)
        if under is not None:
            part = self.text[under.start : under.content_end]
            known = [name for name in inside if name != key]
            self.text = spliced(self.text, under.start, under.content_end, with_key(part, key, new, [*known, key]))
        else:
            part = self.text[table.start : table.end]
            changed = with_inner_key(part, outer, key, new)
            if changed is None and new is not None:
                changed = with_key(part, outer, f"{{ {key} = {new} }}", _order(kind))
            self.text = spliced(self.text, table.start, table.end, part if changed is None else changed)
        self.data[kind][place] = _changed(row, {outer: _changed(inside, {key: value})})

    def rows(self, place: int, key: str, kind: str = "spar") -> list[Data]:
        """The rows of a table. InputFault when there is something else."""
        rows = self.table_data(kind, place).get(key, [])
        if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
            raise mend_first(key, "a list of rows", key)
        return rows

    def texts(self, place: int, key: str, kind: str = "spar") -> list[Texts]:
        """The known columns of the rows as texts."""
        of, _ = rows_of(key, kind)
        return [self.texts_of(of, row) for row in self.rows(place, key, kind)]

    def texts_of(self, record: type, row: Data) -> Texts:
        """The known keys of a table of the file as texts."""
        return {
            field.name: shown(row[field.name], field.kind, self.units)
            for field in declared(record)
            if field.name in row
        }

    def put_rows(self, place: int, key: str, wanted: Sequence[tuple[int | None, Change]], kind: str = "spar") -> None:
        """The rows of a table in the wanted order: which one it was, None for a new one, and what changes in it."""
        old = self.rows(place, key, kind)
        if not old and not wanted:
            return
        _, order = rows_of(key, kind)
        if kind in TABLES and kind not in self.data:
            self.text, self.data[kind] = with_table(self.text, kind), {}
        under = _grouped([part for part in self._table(kind, place).parts if part.path[:2] == (kind, key)])
        spans = under or self._items(kind, place, key)
        if len(spans) != len(old):
            raise InputFault(BY_HAND)

        def body(origin: int | None, change: Change) -> str:
            if origin is None:
                return self._headed(f"{kind}.{key}", spans[0], change) if under else toml(change)
            part = self.text[slice(*spans[origin])]
            for name, value in change.items():
                part = with_key(part, name, None if value is None else toml(value), order)
            return part

        bodies = [(origin, body(origin, change)) for origin, change in wanted]
        if under:
            self.text = regrouped(self.text, under, bodies)
        else:
            self._relist(kind, place, key, bodies)
        new = [_changed({} if origin is None else old[origin], change) for origin, change in wanted]
        self._hold(kind, place, {key: new or None})

    def put_words(self, kind: str, place: int, key: str, wanted: Sequence[tuple[int | None, str]]) -> None:
        """The words of a list: which one it was, None for a new one."""
        old = self._items(kind, place, key)
        bodies = [(n, toml(word) if n is None else self.text[slice(*old[n])]) for n, word in wanted]
        self._relist(kind, place, key, bodies)
        self._hold(kind, place, {key: [word for _, word in wanted] or None})

    def _items(self, kind: str, place: int, key: str) -> list[tuple[int, int]]:
        table = self._table(kind, place)
        at = value_in(self.text[table.start : table.end], key)
        elements = items(self.text, table.start + at[0], table.start + at[1]).items if at else []
        return [(item.start, item.end) for item in elements]

    def _relist(self, kind: str, place: int, key: str, wanted: Wanted) -> None:
        def change(part: str) -> str:
            at = value_in(part, key)
            new = relisted(part[slice(*at)] if at else "[]", wanted, indent_in(part), part.startswith("{"))
            if not wanted and "#" not in new:
                return with_key(part, key, None, _order(kind))
            return part[: at[0]] + new + part[at[1] :] if at else with_key(part, key, new, _order(kind))

        self._part(kind, place, change)

    def _headed(self, path: str, like: tuple[int, int], row: Data) -> str:
        """A new row under a header of its own, standing in as far as the others."""
        part = self.text[slice(*like)]
        deep = part[: len(part) - len(part.lstrip(" \t"))]
        lines = [f"{indent_in(part)}{name} = {toml(value)}\n" for name, value in row.items()]
        return f"{deep}[[{path}]]\n{''.join(lines)}"

    def _table(self, kind: str, place: int) -> TomlRow:
        rows = single(self.text, kind) if kind in TABLES else tables(self.text, kind)
        if place >= len(rows):
            raise InputFault(BY_HAND)
        return rows[place]

    def _part(self, kind: str, place: int, change: Callable[[str], str]) -> None:
        """Change the table's own keys."""
        table = self._table(kind, place)
        self.text = spliced(self.text, table.start, table.end, change(self.text[table.start : table.end]))

    # --- the end --------------------------------------------------------------------------------------------------

    def compare(self) -> None:
        """InputFault unless the new text holds just what it should."""
        compare(self.text, self.data)

    def done(self, spar: str = "", places: Callable[[str], str] = str, copied: bool = False) -> str:
        """The new text. InputFault when it is not what it should be or has a fault that the old one had not.

        A `spar` that could not be used before may have others now. `places` says by which name the caller knows a key.
        With `copied`, faults that were there may be there twice.
        """
        if self.text == self.before:
            return self.text
        self.compare()
        before = read(self.before)
        mended = ""
        if spar and not any(folded(known.name) == folded(spar) for known in before.boat.spars):
            mended = f"'{printable(self.data['spar'][spar_row(self.data, spar)]['name'])}'"
        for fault in _new_faults(before.faults, read(self.text).faults, copied):
            if not (mended and fault.table.endswith(mended)):
                raise InputFault(fault.reason, places(fault.key) or None)
        return self.text


def _order(kind: str) -> list[str]:
    return [field.name for field in declared(record_of(kind))]


def _changed(row: Data, change: Change) -> Data:
    return {key: value for key, value in {**row, **change}.items() if value is not None}


def _grouped(parts: Sequence[TomlSection]) -> list[tuple[int, int]]:
    """Rows under headers, each with the tables under it. InputFault when something else stands between."""
    spans: list[tuple[int, int]] = []
    last: TomlSection | None = None
    for part in parts:
        if last and last.end != part.start:
            raise InputFault(BY_HAND)
        begun = part.start if len(part.path) == 2 and part.is_row else spans.pop()[0]
        spans.append((begun, part.content_end))
        last = part
    return spans


def _new_faults(before: Sequence[ProfileFault], after: Sequence[ProfileFault], copied: bool) -> list[ProfileFault]:
    """The faults of `after` that `before` had not: matched by their reason first, then by their place."""
    if copied:
        known = {fault[1:] for fault in before}
        return [fault for fault in after if fault[1:] not in known]
    left, new = list(before), list(after)
    for of in (_said, _place):
        both = Counter(map(of, left)) & Counter(map(of, new))
        left, new = _without(left, of, both.copy()), _without(new, of, both)
    return new


def _without(
    faults: list[ProfileFault], of: Callable[[ProfileFault], object], some: Counter[object]
) -> list[ProfileFault]:
    left = []
    for fault in faults:
        if some[of(fault)]:
            some[of(fault)] -= 1
        else:
            left.append(fault)
    return left


def _place(fault: ProfileFault) -> object:
    """Where a fault is, whatever the number of the row."""
    return fault.table.split(" ")[0], re.sub("[0-9]+", "#", fault.key)


def _said(fault: ProfileFault) -> object:
    return _place(fault), fault.value, fault.reason
