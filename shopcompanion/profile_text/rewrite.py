"""What every change to a profile's text is made of: a key or a table put in or taken out, and all else as it is.

A change works on the text, at the places that `scan` finds; `relist` changes lists in brackets, and `intent` holds the
new text against the data that it must hold. Nothing here knows what a spar or a preset is.
"""

import re
from collections.abc import Iterable, Sequence
from itertools import pairwise

from ..errors import InputFault
from ..record import NamedTuple
from .intent import BY_HAND
from .relist import Wanted, relisted
from .scan import Pair, TomlSection, items, pairs, sections

_BLANK_LINE = re.compile(r"(?:^|(?<=\n))[ \t]*\r?\n\Z")


def spliced(text: str, start: int, end: int, new: str) -> str:
    """`new` in the place of text[start:end], with the line ends of the text."""
    if "\r\n" in text and not re.search(r"(?<!\r)\n", text):
        new = re.sub(r"(?<!\r)\n", "\r\n", new)
    return text[:start] + new + text[end:]


def toml(value: object) -> str:
    """A value as TOML, in one line.

    >>> print(toml({"at": '3-1/2"', "widths": ["2 in", "50 mm"]}))
    { at = '3-1/2"', widths = ["2 in", "50 mm"] }
    """
    import json
    from datetime import date

    if isinstance(value, str):
        plain = '"' in value and "'" not in value and value.isprintable()
        return f"'{value}'" if plain else json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
    if isinstance(value, list):
        return f"[{', '.join(map(toml, value))}]"
    if isinstance(value, dict):
        return f"{{ {', '.join(f'{key} = {toml(inner)}' for key, inner in value.items())} }}" if value else "{}"
    return value.isoformat() if isinstance(value, date) else json.dumps(value)


class TomlRow(NamedTuple):
    """A row of an array of tables: its own keys stand in text[start:end], under a header or within braces; `parts` are
    its own section and those of the tables under it, none for braces."""

    start: int
    end: int
    parts: list[TomlSection]

    def blocks(self) -> list[tuple[int, int]]:
        """The places of all of it; more than one where tables of something else stand between."""
        places: list[tuple[int, int]] = []
        last: TomlSection | None = None
        for part in self.parts:
            begun = places.pop()[0] if last and last.end == part.start else part.start
            places.append((begun, part.content_end))
            last = part
        return places


def tables(text: str, key: str) -> list[TomlRow]:
    """The rows of `key`, under `[[key]]` or in a list of its own."""
    rows: list[TomlRow] = []
    for section in sections(text):
        if section.path == (key,) and section.is_row:
            rows.append(TomlRow(section.start, section.content_end, [section]))
        elif rows and section.path[:1] == (key,):
            rows[-1].parts.append(section)
    if rows or (place := _list(text, key)) is None:
        return rows
    return [TomlRow(item.start, item.end, []) for item in items(text, *place).items]


def single(text: str, key: str) -> list[TomlRow]:
    """The one table of that key, under `[key]` or within braces; none when it is not there, or is not written so."""
    every = sections(text)
    head = next((section for section in every if section.path == (key,) and not section.is_row), None)
    if head is not None:
        return [TomlRow(head.start, head.content_end, [section for section in every if section.path[:1] == (key,)])]
    place = _list(text, key)
    return [TomlRow(*place, [])] if place and text.startswith("{", place[0]) else []


def with_table(text: str, key: str) -> str:
    """`text` with an empty table of that key, behind `[boat]` or, where that has no header, the keys without one."""
    every = sections(text)
    boat = [section.content_end for section in every if section.path[:1] == ("boat",)]
    at = boat[-1] if boat else every[0].content_end
    gap = "" if not text[:at] else "\n" if text[:at].endswith("\n") else "\n\n"
    return spliced(text, at, at, f"{gap}[{key}]\n")


def with_table_key(text: str, table: str, key: str, value: str | None, order: Iterable[str]) -> str:
    """`text` with a key of the one table of that name set to `value`, in TOML, or taken out with None, wherever that
    table is written; a new table comes behind `[boat]`.
    """
    if whole := single(text, table):
        start, end, _ = whole[0]
        return spliced(text, start, end, with_key(text[start:end], key, value, order))
    root = sections(text)[0]
    changed = with_inner_key(f"\n{text[: root.content_end]}", table, key, value)  # as if the root had a header
    if changed is not None:
        return spliced(text, 0, root.content_end, changed[1:])
    return text if value is None else with_table_key(with_table(text, table), table, key, value, order)


def _list(text: str, key: str) -> tuple[int, int] | None:
    head = sections(text)[0]
    return next(((pair.value, pair.end) for pair in pairs(text, head.start, head.end) if pair.key == (key,)), None)


def without_row(text: str, key: str, place: int) -> str:
    """`text` without that row; remarks above it stay, for they may be about more."""
    rows = tables(text, key)
    if not rows[place].parts:
        return _listed(text, key, [(n, text[row.start : row.end]) for n, row in enumerate(rows) if n != place])
    for start, end in reversed(rows[place].blocks()):
        blank = _BLANK_LINE.search(text, 0, start)
        text = text[: blank.start() if blank else start] + text[end:]
    return text


def with_row(text: str, key: str, place: int, row: tuple[str, str], before: str = "") -> str:
    """`text` with a new row at `place`: the first of `row` has its header; the second, in braces, goes where the rows
    are in a list of their own.

    The first row goes before the rows of the key `before`, if there are such.
    """
    rows = tables(text, key)
    if _list(text, key) and not (rows and rows[0].parts):
        wanted: list[tuple[int | None, str]] = [(n, text[row.start : row.end]) for n, row in enumerate(rows)]
        return _listed(text, key, [*wanted[:place], (None, row[1]), *wanted[place:]])
    at = rows[place - 1].blocks()[-1][1] if rows else _end_before(text, before)
    gap = "" if not text[:at] else "\n" if text[:at].endswith("\n") else "\n\n"
    return spliced(text, at, at, gap + row[0])


def _end_before(text: str, key: str) -> int:
    """Where the content ends of what stands before the rows of `key`."""
    every = sections(text)
    ends = [section.content_end for section, after in pairwise(every) if after.path[:1] == (key,)]
    return ends[0] if ends else len(text)


def _listed(text: str, key: str, wanted: Wanted) -> str:
    start, end = _list(text, key) or (0, 0)
    return spliced(text, start, end, relisted(text[start:end], wanted))


def value_in(part: str, key: str) -> tuple[int, int] | None:
    """Where the value of `key` stands in `part`, a section or a table in braces."""
    return next(((pair.value, pair.end) for pair in pairs(part, *_inside(part)) if pair.key == (key,)), None)


def _inside(part: str) -> tuple[int, int]:
    braced = part.startswith("{")
    return (1, len(part) - 1) if braced else (part.find("\n") + 1 or len(part), len(part))


def indent_in(part: str) -> str:
    """How far the keys of a section stand in."""
    start, end = _inside(part)
    first = pairs(part, start, end)[:1]
    return "" if part.startswith("{") or not first else part[part.rfind("\n", 0, first[0].start) + 1 : first[0].start]


def with_key(part: str, key: str, value: str | None, order: Iterable[str]) -> str:
    """`part`, a section or a table in braces, with the key set to `value`, in TOML; None takes it out, with its line.

    A new key comes after those that stand before it in `order`.
    """
    there = pairs(part, *_inside(part))
    place = next((n for n, pair in enumerate(there) if pair.key == (key,)), None)
    if value is None:
        return part if place is None else _without_key(part, there, place)
    if place is not None:
        _, _, start, end = there[place]
        return part[:start] + _quoted_as(part[start:end], value) + part[end:]
    known = list(order)
    earlier = set(known[: known.index(key)])
    before = next((pair for pair in reversed(there) if pair.key[0] in earlier), None)
    return _with_new_key(part, there, before, f"{key} = {value}")


def with_inner_key(part: str, outer: str, key: str, value: str | None) -> str | None:
    """`part` with a key of the table `outer` in it set, or taken out with None: within braces, or by dotted keys.

    None when `part` has no such table. InputFault when it is something else.
    """
    there = pairs(part, *_inside(part))
    whole = next((pair for pair in there if pair.key == (outer,)), None)
    if whole is not None:
        inner = part[whole.value : whole.end]
        if not inner.startswith("{"):
            raise InputFault(BY_HAND)
        known = [pair.key[0] for pair in pairs(inner, 1, len(inner) - 1)]
        new = with_key(inner, key, value, [*(name for name in known if name != key), key])
        return part[: whole.value] + new + part[whole.end :]
    dotted = [n for n, pair in enumerate(there) if pair.key[0] == outer]
    if not dotted:
        return None
    place = next((n for n in dotted if there[n].key == (outer, key)), None)
    if value is None:
        return part if place is None else _without_key(part, there, place)
    if place is None:
        return _with_new_key(part, there, there[dotted[-1]], f"{outer}.{key} = {value}")
    _, _, start, end = there[place]
    return part[:start] + _quoted_as(part[start:end], value) + part[end:]


def _without_key(part: str, known: Sequence[Pair], place: int) -> str:
    here = known[place]
    if not part.startswith("{"):
        return part[: _line(part, here.start)[0]] + part[_line(part, here.end)[1] :]
    if place:
        return part[: known[place - 1].end] + part[here.end :]
    return part[: here.start] + part[known[1].start if known[1:] else here.end :]


def _with_new_key(part: str, known: Sequence[Pair], before: Pair | None, new: str) -> str:
    if part.startswith("{"):
        if before:
            return f"{part[: before.end]}, {new}{part[before.end :]}"
        return f"{{ {new}, {part[known[0].start :]}" if known else f"{{ {new} }}"
    new = indent_in(part) + new
    at = _line(part, before.end)[1] if before else _inside(part)[0]
    return f"{part[:at]}{new}\n{part[at:]}" if part[:at].endswith("\n") else f"{part[:at]}\n{new}{part[at:]}"


def _line(text: str, at: int) -> tuple[int, int]:
    return text.rfind("\n", 0, at) + 1, text.find("\n", at) + 1 or len(text)


def _quoted_as(old: str, new: str) -> str:
    """`new` in the quotes of the old text, if it can be."""
    if old.startswith("'") and not old.startswith("'''") and new.startswith('"') and not set(new) & set("'\\"):
        return f"'{new[1:-1]}'"
    return new


def regrouped(text: str, rows: Sequence[tuple[int, int]], wanted: Wanted) -> str:
    """`text` with the tables that stand at `rows`, one after the other, in the wanted order. Remarks above a table move
    with it, and stay when it goes."""
    leads = ["", *(text[before[1] : after[0]] for before, after in pairwise(rows))]
    blank = re.match(r"[ \t]*\r?\n", leads[1]) if leads[1:] else _BLANK_LINE.search(text, 0, rows[0][0])
    kept = {origin for origin, _ in wanted}
    remarks, said = "", {}
    for n, lead in enumerate(leads):
        said[n] = remarks + lead
        remarks = "" if n in kept else said[n] if "#" in said[n] else ""
    out = ""
    for origin, body in wanted:
        lead = "" if origin is None else said[origin]
        if not lead.strip():
            lead = (blank[0] if blank else "") if out and origin in (None, 0) else lead if out else ""
        out += lead + body + ("" if body.endswith("\n") else "\n")
    start, end = rows[0][0], rows[-1][1]
    before = _BLANK_LINE.search(text, 0, start)
    if not wanted and before:
        start = before.start()
    whole = out + remarks
    return spliced(text, start, end, whole if text[:end].endswith("\n") else whole.removesuffix("\n"))
