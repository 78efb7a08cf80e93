"""Changes to a profile's text that touch only what they change: comments, order, spacing and unknown keys stay.

One table is handed to tomlkit, its changed leaves are assigned, and it is put back in its place. The new text is parsed
again and compared with the intent before it is returned. A text that is no TOML, or written in a way that cannot be
changed so, is an InputFault and stays as it is.
"""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from .. import lengths
from ..errors import InputFault, printable
from ..profile.fields import check_field
from ..profile.parse import read
from ..profile.records import Head, Preset, folded
from .rewrite import BY_HAND, Data, compare, data_of, past_mark, spliced, without_row
from .scan import Section, sections


@past_mark
def put_preset(text: str, preset: Preset) -> str:
    """`text` with the preset, in the place of the one of the same calculator, name and spar, or else after the last.

    InputFault when it would not read: an unknown spar or input, a text that is no length.
    """
    data = data_of(text)
    place = _place(data, preset.calculator, preset.name, preset.spar)
    texts = dict(preset.inputs)
    if place is None:
        fields = {"calculator": preset.calculator, "name": preset.name, "spar": preset.spar, "inputs": texts or None}
        new = {key: value for key, value in fields.items() if value is not None}
        data["preset"] = [*data.get("preset", []), new]
        changed = _added(text, new)
    else:
        known = next((one for one in read(text).boat.presets if _same(one, preset)), None)
        before = dict(known.inputs) if known else {}
        dropped = [key for key in before if key not in texts]
        put = {key: new for key, new in texts.items() if before.get(key) != new}
        name = {} if preset.name == data["preset"][place]["name"].strip() else {"name": preset.name}

        def assign(row: Any) -> None:
            row.update(name)
            if (put or dropped) and "inputs" not in row:
                row["inputs"] = {}
            for key in dropped:
                del row["inputs"][key]
            for key, new in put.items():
                row["inputs"][key] = new

        assign(data["preset"][place])
        changed = _row_changed(text, place, assign)
    compare(changed, data)
    _sound(text, changed, preset)
    return changed


@past_mark
def drop_preset(text: str, calculator: str, name: str, spar: str | None) -> str:
    """`text` without that preset. InputFault when there is none."""
    data = data_of(text)
    place = _found(data, calculator, name, spar)
    del data["preset"][place]
    changed = without_row(text, "preset", place)
    compare(changed, data)
    return changed


@past_mark
def rename_preset(text: str, calculator: str, name: str, spar: str | None, new: str) -> str:
    """`text` with that preset under another name. InputFault when there is none, or already one of the new name."""
    data = data_of(text)
    place = _found(data, calculator, name, spar)
    check_field(Preset, "name", new)
    if _place(data, calculator, new, spar) not in (None, place):
        raise InputFault(f"there is already a preset called '{printable(new)}'", "name")
    data["preset"][place]["name"] = new
    changed = _row_changed(text, place, lambda row: row.__setitem__("name", new))
    compare(changed, data)
    return changed


@past_mark
def set_boat(text: str, key: str, value: str) -> str:
    """`text` with `name`, `units` or `rule` of the boat set.

    With other units goes the first rule of those units. InputFault when bare numbers of the file would change meaning.
    """
    data = data_of(text)
    boat = read(text).boat
    if key == "rule":
        rule = lengths.rule(value)
        if rule.unit != boat.units:
            raise InputFault(f"the boat is in {boat.units}; set its units first", key)
        value = str(rule)
    else:
        check_field(Head, key, value)
    leaves = {key: value}
    head = data.setdefault("boat", {})
    if key == "units" and "rule" in head and value != boat.units:
        leaves["rule"] = str(lengths.DEFAULT_RULES["in" if value == "in" else "mm"])
    head.update(leaves)
    found = [one for one in sections(text) if one.path == ("boat",) and not one.is_row]
    if found:
        changed = _fragment_changed(text, found[0], lambda part: part["boat"].update(leaves))
    elif "boat" in data_of(text):
        changed = _root_changed(text, lambda root: root["boat"].update(leaves))
    else:
        at = sections(text)[0].content_end
        changed = spliced(text, at, at, _dumped({"boat": leaves}))
    compare(changed, data)
    after = read(changed).boat
    if key == "units" and replace(after, units=boat.units, rule=boat.rule) != boat:
        reason = "some lengths in the file are bare numbers, which would change their meaning: write their unit first"
        raise InputFault(reason, key)
    return changed


def _place(data: Data, calculator: str, name: str, spar: str | None) -> int | None:
    """Which row the preset is, from 0."""
    wanted = (calculator, folded(name), folded(spar or ""))
    for place, row in enumerate(data.get("preset", [])):
        fields = [row.get(key, "") for key in ("calculator", "name", "spar")] if isinstance(row, dict) else []
        words = [one for one in fields if isinstance(one, str)]
        if len(words) == 3 and (words[0].strip(), folded(words[1]), folded(words[2])) == wanted:
            return place
    return None


def _found(data: Data, calculator: str, name: str, spar: str | None) -> int:
    place = _place(data, calculator, name, spar)
    if place is None:
        raise InputFault(f"there is no preset called '{printable(name)}' for {printable(calculator)}")
    return place


def _same(one: Preset, other: Preset) -> bool:
    return (one.calculator, folded(one.name), folded(one.spar or "")) == (
        other.calculator,
        folded(other.name),
        folded(other.spar or ""),
    )


def _sound(before: str, changed: str, preset: Preset) -> None:
    """InputFault when the preset put into `changed` brings a fault that was not there before."""
    old = {fault[1:] for fault in read(before).faults}
    for fault in read(changed).faults:
        if fault.table.startswith("preset") and fault[1:] not in old:
            raise InputFault(fault.reason, fault.key.removeprefix("inputs, ") or None)


def _rows(text: str) -> list[tuple[int, int, int]]:
    """Start, end of content, end of every `[[preset]]` with the tables under it that follow at once."""
    found: list[tuple[int, int, int]] = []
    last: Section | None = None
    for one in sections(text):
        if one.path == ("preset",) and one.is_row:
            found.append((one.start, one.content_end, one.end))
        elif found and last and one.path[:1] == ("preset",) == last.path[:1]:
            found[-1] = (found[-1][0], one.content_end, one.end)
        last = one
    return found


def _row_changed(text: str, place: int, assign: Callable[[Any], object]) -> str:
    rows = _rows(text)
    if place < len(rows):
        start, content_end, end = rows[place]
        whole = Section(("preset",), True, start, content_end, end)
        return _fragment_changed(text, whole, lambda part: assign(part["preset"][0]))
    return _root_changed(text, lambda root: assign(root["preset"][place]))


def _root_changed(text: str, assign: Callable[[Any], object]) -> str:
    return _fragment_changed(text, sections(text)[0], assign)


def _fragment_changed(text: str, section: Section, assign: Callable[[Any], object]) -> str:
    """`text` with one section changed by tomlkit and all the rest as it is."""
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    part = text[section.start : section.content_end]
    try:
        document = tomlkit.parse(part)
        same = document.as_string() == part
        assign(document)
        new = document.as_string()
    except (TOMLKitError, LookupError, TypeError, AttributeError, ValueError):  # what tomlkit cannot hold or find
        same, new = False, ""
    if not same:
        raise InputFault(BY_HAND)
    return spliced(text, section.start, section.content_end, new)


def _dumped(data: Data) -> str:
    import tomlkit

    return tomlkit.dumps(data)


def _added(text: str, new: Data) -> str:
    """`text` with a row after the last preset, or at the end."""
    import tomlkit

    rows = _rows(text)
    if not rows and "preset" in data_of(text):
        return _root_changed(text, lambda root: root["preset"].append(_inline(new)))
    at = rows[-1][1] if rows else len(text)
    row = tomlkit.table()
    for key, value in new.items():
        row[key] = _inline(value) if isinstance(value, dict) else value
    gap = "" if not text[:at] else "\n" if text[:at].endswith("\n") else "\n\n"
    return spliced(text, at, at, gap + _dumped({"preset": [row]}))


def _inline(new: Data) -> Any:
    import tomlkit

    table = tomlkit.inline_table()
    for key, value in new.items():
        table[key] = _inline(value) if isinstance(value, dict) else value
    return table
