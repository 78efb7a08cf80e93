"""Changes to a profile's text that are about no spar: presets, and the boat's name, units and rule.

A text is made from a text; comments, order, spacing and unknown keys stay. The new text is parsed again and compared
with what was meant. A text that is not TOML, or written in a way that cannot be changed so, is an InputFault and stays
as it is.
"""

from collections.abc import Collection

from .. import lengths
from ..errors import InputFault, printable
from ..profile.fields import check_field
from ..profile.names import folded
from ..profile.parse import read
from ..profile.records import Head, Preset
from .intent import Data, mend_first, past_mark
from .text_edit import Work


@past_mark
def put_preset(text: str, preset: Preset) -> str:
    """`text` with the preset, in the place of the one of the same calculator, name and spar, or else after the last.

    InputFault when it would not read: an unknown spar or input, a text that is no length.
    """
    work = Work(text)
    place = _place(work.data, preset.calculator, preset.name, preset.spar)
    texts = dict(preset.inputs)
    if place is None:
        fields = {"calculator": preset.calculator, "name": preset.name, "spar": preset.spar, "inputs": texts or None}
        work.add("preset", {key: value for key, value in fields.items() if value is not None})
    else:
        known = next((other for other in read(text).boat.presets if _same(other, preset)), None)
        before = dict(known.inputs) if known else {}
        if preset.name != work.data["preset"][place]["name"].strip():
            work.put("preset", place, "name", preset.name)
        for key in [key for key in before if key not in texts]:
            work.put_inner("preset", place, "inputs", key, None)
        for key, new in texts.items():
            if before.get(key) != new:
                work.put_inner("preset", place, "inputs", key, new)
    return work.done(places=lambda key: key.removeprefix("inputs, "))


@past_mark
def drop_preset(text: str, calculator: str, name: str, spar: str | None) -> str:
    """`text` without that preset. InputFault when there is none."""
    work = Work(text)
    work.drop("preset", _found(work.data, calculator, name, spar))
    return work.done()


@past_mark
def rename_preset(text: str, calculator: str, name: str, spar: str | None, new: str) -> str:
    """`text` with that preset under another name. InputFault when there is none, or already one of the new name."""
    work = Work(text)
    place = _found(work.data, calculator, name, spar)
    check_field(Preset, "name", new)
    if _place(work.data, calculator, new, spar) not in (None, place):
        raise InputFault(f"there is already a preset called '{printable(new)}'", "name")
    work.put("preset", place, "name", new)
    return work.done()


@past_mark
def set_boat(text: str, key: str, value: str) -> str:
    """`text` with `name`, `units` or `rule` of the boat set.

    With other units goes the first rule of those units. InputFault when bare numbers of the file would change meaning.
    """
    work = Work(text)
    boat = read(text).boat
    if key == "rule":
        rule = lengths.rule(value)
        if rule.unit != boat.units:
            raise InputFault(f"a rule in {rule.unit}, and the boat is in {boat.units}: set its units first", key)
        value = str(rule)
    else:
        check_field(Head, key, value)
    leaves = {key: value}
    if key == "units" and "rule" in work.data.get("boat", {}) and value != boat.units:
        leaves["rule"] = str(lengths.DEFAULT_RULES["in" if value == "in" else "mm"])
    for name, leaf in leaves.items():
        work.put("boat", 0, name, leaf)
    work.compare()
    after = read(work.text).boat
    if key == "units" and after._replace(units=boat.units, rule=boat.rule) != boat:
        reason = "some lengths in the file are bare numbers, which would change their meaning: write their unit first"
        raise InputFault(reason, key)
    return work.text


@past_mark
def add_notch(text: str, notch: str) -> str:
    """`text` with an answer, in words, as the newest of the boat's tally. InputFault when it stands there already."""
    work = Work(text)
    there = _tally(work.data)
    check_field(Head, "tally", (*there, notch))
    if notch in there:
        raise InputFault("that is notched already", "tally")
    work.put_words("boat", 0, "tally", [*enumerate(there), (None, notch)])
    return work.done()


@past_mark
def drop_notches(text: str, notches: Collection[str]) -> str:
    """`text` without these in the boat's tally; those that stay keep how they are written."""
    work = Work(text)
    there = _tally(work.data)
    left = [(number, notch) for number, notch in enumerate(there) if notch.strip() not in notches]
    if len(left) == len(there):
        return text
    work.put_words("boat", 0, "tally", left)
    return work.done()


def _tally(data: Data) -> list[str]:
    boat = data.get("boat")
    there = boat.get("tally", []) if isinstance(boat, dict) else []
    if not isinstance(there, list) or not all(isinstance(notch, str) for notch in there):
        raise mend_first("tally", "a list of texts", "tally")
    return there


def _place(data: Data, calculator: str, name: str, spar: str | None) -> int | None:
    """Which row the preset is, from 0."""
    wanted = (calculator, folded(name), folded(spar or ""))
    for place, row in enumerate(data.get("preset", [])):
        fields = [row.get(key, "") for key in ("calculator", "name", "spar")] if isinstance(row, dict) else []
        words = [field for field in fields if isinstance(field, str)]
        if len(words) == 3 and (words[0].strip(), folded(words[1]), folded(words[2])) == wanted:
            return place
    return None


def _found(data: Data, calculator: str, name: str, spar: str | None) -> int:
    place = _place(data, calculator, name, spar)
    if place is None:
        raise InputFault(f"there is no preset called '{printable(name)}' for {printable(calculator)}")
    return place


def _same(preset: Preset, other: Preset) -> bool:
    return (preset.calculator, folded(preset.name), folded(preset.spar or "")) == (
        other.calculator,
        folded(other.name),
        folded(other.spar or ""),
    )
