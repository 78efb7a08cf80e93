"""Changes to the spars in a profile's text, which touch only what they change: a text is made from a text.

Texts that come in are the user's own; a length that leans on `unit`, the unit in force, gets it. Every change is read
again and held against what was meant. It is refused with an InputFault, its `field` naming the key, when it would bring
a fault that was not there: a station past the head, a head wider than the blank, a name that is taken.
"""

import re
from collections.abc import Mapping, Sequence
from datetime import date
from fractions import Fraction

from .. import lengths
from ..errors import InputFault, printable
from ..fields import Text
from ..length_grammar import LengthFault
from ..lengths import Unit
from ..profile.fields import TableRows, Words, declared
from ..profile.parse import read
from ..profile.records import Spar, Station
from ..spar.tables import PUBLISHED
from .intent import mend_first, past_mark
from .row_texts import SAME, Change, Texts, compared, length_of, shown, spelled_down, written
from .text_edit import Work, rows_of, spar_row

_NEAR = Fraction(1, 100)  # mm: a station that is written in decimals
_SPAR = {field.name: field for field in declared(Spar)}
_WIDTH = next(field for field in declared(Station) if field.name == "width")


@past_mark
def add_spar(text: str, name: str, *, kind: str = "other", length: str, butt: str, head: str, unit: Unit) -> str:
    """`text` with a round spar, straight from `butt` at the heel to `head`, after the last one."""
    work = Work(text)
    work.free(name)
    given = {"name": name, "kind": kind, "length": length, "section": "round", "law": "straight"}
    new = {key: written(_SPAR[key], word, unit, key) for key, word in given.items()}
    ends = [("0", written(_WIDTH, butt, unit, "butt")), (new["length"], written(_WIDTH, head, unit, "head"))]
    work.add("spar", {**new, "stations": [{"at": at, "width": width} for at, width in ends]})
    return work.done()


@past_mark
def copy_spar(text: str, name: str, new: str) -> str:
    """`text` with the table of the spar once more, behind it, under another name: another piece of wood, so without
    what was measured on the first one and which steps are done.
    """
    work = Work(text)
    place = spar_row(work.data, name)
    work.free(new)
    work.copy(place, new.strip())
    copied = work.done(copied=True)
    for key in ("log", "done"):
        work = Work(copied)
        if key in work.data["spar"][place + 1]:
            work.put("spar", place + 1, key, None)
            copied = work.done()
    return copied


@past_mark
def rename_spar(text: str, name: str, new: str) -> str:
    """`text` with the spar, and the presets for it, under another name."""
    work = Work(text)
    place = spar_row(work.data, name)
    work.free(new, place)
    work.put("spar", place, "name", new.strip())
    for preset in work.presets_of(name):
        work.put("preset", preset, "spar", new.strip())
    return work.done()


@past_mark
def drop_spar(text: str, name: str) -> str:
    """`text` without the spar and the presets for it."""
    work = Work(text)
    place = spar_row(work.data, name)
    for preset in reversed(work.presets_of(name)):
        work.drop("preset", preset)
    work.drop("spar", place)
    return work.done()


def set_key(text: str, spar: str, key: str, value: str | None, unit: Unit) -> str:
    """`text` with one key of the spar set, or taken out with None, and every key that must change with it.

    With the length moves a last station that stands at the head. A spar that becomes oval is as deep as it is wide; one
    that is oval no more has no depths. Under a published table only the largest station stays; when the table goes, the
    stations that it gave take its place.
    """
    if key == "name":
        return rename_spar(text, spar, value or "")
    if key not in _SPAR or isinstance(_SPAR[key].kind, TableRows | Words):
        raise InputFault(f"'{printable(key)}' is not a single value of a spar")
    return _with_key(text, spar, key, value, unit)


@past_mark
def _with_key(text: str, spar: str, key: str, value: str | None, unit: Unit) -> str:
    field = _SPAR[key]
    if value is None and field.required:
        raise InputFault("cannot be left empty", key)
    new = None if value is None else written(field, value, unit, key)
    work = Work(text)
    place = spar_row(work.data, spar)
    old = work.data["spar"][place].get(key)
    if (old is None) == (new is None) and shown(old, field.kind, work.units) == shown(new, field.kind, unit):
        return text
    work.put("spar", place, key, new)
    if key == "length":
        _move_the_head(work, place, old, new)
    elif key == "section":
        _measure_depths(work, place, new == "oval")
    elif key == "law":
        _by_another_law(work, place, old or field.default, new or field.default)
    return work.done(spar)


def _move_the_head(work: Work, place: int, old: object, new: object) -> None:
    rows = work.rows(place, "stations")
    was = length_of(old, work.units)
    if rows and was is not None and length_of(rows[-1].get("at"), work.units) == was:
        change: list[tuple[int | None, Change]] = [(n, {}) for n in range(len(rows))]
        work.put_rows(place, "stations", [*change[:-1], (len(rows) - 1, {"at": new})])


def _measure_depths(work: Work, place: int, oval: bool) -> None:
    rows = work.texts(place, "stations")
    depths: list[Change] = [{"depth": row.get("width") if oval else None} for row in rows]
    work.put_rows(place, "stations", [(n, {} if oval and "depth" in row else depths[n]) for n, row in enumerate(rows)])


def _by_another_law(work: Work, place: int, old: object, new: object) -> None:
    """The stations that the new law takes, where one of the two is a published table."""
    if (str(old) in PUBLISHED) == (new in PUBLISHED):
        return
    rows = work.rows(place, "stations")
    if new in PUBLISHED:
        widths = [length_of(row.get("width"), work.units) or 0 for row in rows]
        largest = max(range(len(rows)), key=lambda n: (widths[n], n), default=None)
        work.put_rows(place, "stations", [] if largest is None else [(largest, {})])
        return
    spar = next((known for known in read(work.before).boat.spars if spar_row(work.data, known.name) == place), None)
    if spar is None:
        return  # its faults tell why
    outline, depths = spar.outline(), spar.depth_outline()
    wanted: list[tuple[int | None, Change]] = []
    for at, width in outline.stations:
        row = {"at": spelled_down(at, work.units) if at else "0", "width": spelled_down(width, work.units)}
        if at == outline.length:
            row["at"] = shown(work.data["spar"][place]["length"], _SPAR["length"].kind, work.units)
        if depths:
            row["depth"] = spelled_down(depths.width_at(at), work.units)
        largest_here = at == spar.stations[0].at
        if largest_here or new != "bowed" or at in (0, outline.length):
            wanted.append((0, {}) if largest_here else (None, row))
    work.put_rows(place, "stations", wanted)


def values(text: str, spar: str) -> Texts:
    """The single values of the spar as texts by key, spelled with their unit."""
    work = Work(text)
    texts = work.texts_of(Spar, work.data["spar"][spar_row(work.data, spar)])
    return {key: value for key, value in texts.items() if not isinstance(_SPAR[key].kind, TableRows | Words)}


def rows(text: str, spar: str, key: str) -> tuple[Texts, ...]:
    """The stations, regions, joints, fittings or log of the spar, each as texts by column, spelled with their unit.

    Several sizes are one text with `;` between them. A column that the row has not is left out.
    """
    work = Work(text)
    return tuple(work.texts(spar_row(work.data, spar), key))


@past_mark
def set_rows(text: str, spar: str, key: str, rows: Sequence[Mapping[str, str]], unit: Unit) -> str:
    """`text` with these rows in place of what `rows` gives; a row that is the same stays as it is written.

    An empty text is none. Stations are put in order. InputFault, its field as `stations 2, width` counted in the rows
    given, when a text does not read or the spar would not be sound.
    """
    work = Work(text)
    place = spar_row(work.data, spar)
    order = _put_texts(work, place, key, rows, unit)

    def as_given(old: str) -> str:
        numbered = re.match(rf"{key} (\d+)", old)
        return f"{key} {order[int(numbered[1]) - 1] + 1}{old[numbered.end() :]}" if numbered else old

    return work.done(spar, as_given)


def _put_texts(work: Work, place: int, key: str, given: Sequence[Mapping[str, str]], unit: Unit) -> list[int]:
    """Put rows of texts in place of a spar's; returns in which order those given now stand. A row that did not change
    need not read."""
    of, _ = rows_of(key)
    texts, wanted = compared(of, work.texts(place, key), given, key, unit)
    order = list(range(len(texts)))
    ats = [length_of(row.get("at"), unit) for row in texts]
    if key == "stations" and None not in ats:
        order.sort(key=lambda n: ats[n] or Fraction(0))
    work.put_rows(place, key, [wanted[n] for n in order])
    return order


@past_mark
def tick(text: str, spar: str, step: str, on: bool) -> str:
    """`text` with a step of the work on the spar ticked off, or no longer."""
    work = Work(text)
    place = spar_row(work.data, spar)
    done = work.data["spar"][place].get("done", [])
    if not isinstance(done, list) or not all(isinstance(word, str) for word in done):
        raise mend_first("done", "a list of steps", "done")
    Text("Step").check(step, lengths.RULES[0])
    there = [(n, word) for n, word in enumerate(done) if word.strip() != step.strip()]
    if on == (len(there) < len(done)):
        return text
    work.put_words("spar", place, "done", [*there, (None, step.strip())] if on else there)
    return work.done(spar)


@past_mark
def put_measure(
    text: str, spar: str, at: str, widths: Sequence[str] | None, girth: str | None, *, when: date, unit: Unit
) -> str:
    """`text` with what was measured at a station, in place of what the log had there; the log is in order of stations.

    InputFault, its field `at`, `widths` or `girth`, when a text does not read.
    """
    if not widths and not girth:
        raise InputFault("nothing was measured: give two to four widths, or the girth", "widths")
    work = Work(text)
    place = spar_row(work.data, spar)
    log = work.texts(place, "log")
    new = {"at": at, "widths": "; ".join(widths or ()), "girth": girth or "", "when": when.isoformat()}
    try:
        here = lengths.read(at, unit)
    except LengthFault as fault:
        raise InputFault(fault.template, "at", fault.lengths) from None
    ats = [length_of(row.get("at"), work.units) for row in log]
    same = [n for n, known in enumerate(ats) if known is not None and abs(known - here) <= SAME]
    behind = next((n for n, known in enumerate(ats) if known is not None and known > here), len(log))
    if same:
        log[same[-1]] = {**new, "at": log[same[-1]]["at"]}
    else:
        log.insert(behind, new)
    try:
        _put_texts(work, place, "log", log, unit)
    except InputFault as fault:
        raise InputFault(fault.template, _column(fault.field or ""), fault.lengths) from None
    return work.done(spar, _column)


def _column(key: str) -> str:
    return re.sub(r"^log \d+$", "log", re.sub(r"^log \d+, ", "", key))


@past_mark
def retarget(
    text: str, spar: str, widths: Sequence[tuple[float, float]], depths: Sequence[tuple[float, float]] = ()
) -> str:
    """`text` with other widths at stations of the spar, and depths of an oval: (mm from the heel, mm).

    A size is spelled by the finest rule if that has the mark, or else in decimals of the boat's unit, never more than
    it is. A spar by a published table becomes a faired one, of the stations that the table gave.
    """
    work = Work(text)
    place = spar_row(work.data, spar)
    law = str(work.data["spar"][place].get("law"))
    if law in PUBLISHED:
        work.put("spar", place, "law", "faired")
        _by_another_law(work, place, law, "faired")
    rows = work.rows(place, "stations")
    known = [length_of(row.get("at"), work.units) for row in rows]
    changes: list[Change] = [{} for _ in rows]
    for key, sizes in (("width", widths), ("depth", depths)):
        for at, size in sizes:
            places = [n for n, there in enumerate(known) if there is not None and abs(there - Fraction(at)) <= _NEAR]
            if not places:
                raise InputFault("the spar has no station at {}", "stations", (at,))
            old = length_of(rows[places[0]].get(key), work.units)
            if old is None or abs(old - Fraction(size)) > SAME:
                changes[places[0]][key] = spelled_down(size, work.units)
    work.put_rows(place, "stations", list(enumerate(changes)))
    return work.done(spar)
