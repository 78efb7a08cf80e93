"""Any number of changes to the spars in a profile's text, one after the other, against a model of what each should do:
the boat is changed so and no further, or the change is refused because the boat would not be sound."""

import re
from collections.abc import Callable
from datetime import date
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import event, given
from hypothesis import strategies as st

from shopcompanion.errors import InputFault
from shopcompanion.profile.names import folded
from shopcompanion.profile.parse import read
from shopcompanion.profile.records import Boat, Measured, Spar, Station
from shopcompanion.profile.validate import on_spar, unsound
from shopcompanion.profile_text.edit_spar import (
    add_spar,
    copy_spar,
    drop_spar,
    put_measure,
    rename_spar,
    retarget,
    rows,
    set_key,
    set_rows,
    tick,
)
from shopcompanion.record import fields
from shopcompanion.spar.along import Joint
from shopcompanion.spar.fitting import Fitting
from shopcompanion.spar.tables import PUBLISHED

from .spar_layouts import STARTS
from .test_edit_boat import lines_changed

Act = Callable[[], str]
Change = Callable[[st.DataObject, str, Boat], tuple[Act, Boat]]  # what is done, and the boat that it should make
WORD = st.text(st.characters(codec="utf-8", exclude_categories=("C", "Z")), min_size=1, max_size=12)
MM = st.integers(0, 700)
DAY = date(2026, 5, 2)


def _named(data: st.DataObject, boat: Boat) -> Spar:
    return data.draw(st.sampled_from(boat.spars), "spar")


def _put(boat: Boat, spar: Spar, **new: Any) -> Boat:
    return boat._replace(spars=tuple(other._replace(**new) if other is spar else other for other in boat.spars))


def _unused(data: st.DataObject, boat: Boat) -> str:
    name = data.draw(WORD, "name")
    while folded(name) in [folded(spar.name) for spar in boat.spars]:
        name += "x"
    return name


def adds(data: st.DataObject, text: str, boat: Boat) -> tuple[Act, Boat]:
    name = _unused(data, boat)
    new = Spar(name=name, kind="yard", length=900.0, stations=(Station(at=0, width=40.0), Station(at=900, width=30.0)))

    def act() -> str:
        changed = add_spar(text, name, kind="yard", length="90 cm", butt="40", head="30", unit="mm")
        assert drop_spar(changed, name) in (text, text + "\n", text + "\r\n")
        return changed

    return act, boat._replace(spars=(*boat.spars, new))


def copies(data: st.DataObject, text: str, boat: Boat) -> tuple[Act, Boat]:
    spar, name = _named(data, boat), _unused(data, boat)
    twins = [
        twin
        for other in boat.spars
        for twin in ([other, other._replace(name=name, log=(), done=())] if other is spar else [other])
    ]

    def act() -> str:
        changed = copy_spar(text, spar.name, name)
        assert drop_spar(changed, name) in (text, text + "\n", text + "\r\n")
        return changed

    return act, boat._replace(spars=tuple(twins))


def renames(data: st.DataObject, text: str, boat: Boat) -> tuple[Act, Boat]:
    spar = _named(data, boat)
    name = data.draw(st.one_of(st.just(spar.name.upper()), st.just(_unused(data, boat))))
    presets = tuple(
        preset._replace(spar=name) if preset.spar and folded(preset.spar) == folded(spar.name) else preset
        for preset in boat.presets
    )
    return lambda: rename_spar(text, spar.name, f" {name} "), _put(boat, spar, name=name)._replace(presets=presets)


def drops(data: st.DataObject, text: str, boat: Boat) -> tuple[Act, Boat]:
    spar = _named(data, boat)
    presets = tuple(preset for preset in boat.presets if folded(preset.spar or "") != folded(spar.name))
    left = tuple(other for other in boat.spars if other is not spar)
    return lambda: drop_spar(text, spar.name.upper()), boat._replace(spars=left, presets=presets)


KEYS: dict[str, tuple[Any, Callable[[Any], str]]] = {
    "kind": (st.sampled_from(["mast", "boom"]), str),
    "species": (st.sampled_from(["Spruce, Sitka", "Ash, White"]), str),
    "blank": (st.integers(200, 300).map(float), lambda mm: f"{mm:g} mm"),
    "square_to": (MM.map(float), lambda mm: f"{mm / 10:g} cm"),
    "square_run_out": (st.integers(1, 20).map(float), lambda mm: f"{mm:g}"),
    "wall": (st.integers(5, 10).map(float), lambda mm: f"{mm:g}"),
    "bow": (st.integers(0, 9).map(float), lambda mm: f"{mm:g}"),
}
DEFAULTS = {"kind": "other", "square_run_out": 0.0}


def sets_a_key(data: st.DataObject, text: str, boat: Boat) -> tuple[Act, Boat]:
    spar, key = _named(data, boat), data.draw(st.sampled_from(sorted(KEYS)))
    values, typed = KEYS[key]
    new = data.draw(st.one_of(st.none(), values))

    def act() -> str:
        changed = set_key(text, spar.name, key, None if new is None else typed(new), "mm")
        gone, come = lines_changed(text, changed)
        last = not text.endswith("\n")  # its line gets an end
        assert len(gone) <= 1 + last
        assert len(come) <= 1 + last
        return changed

    return act, _put(boat, spar, **{key: DEFAULTS.get(key) if new is None else new})


def lengthens(data: st.DataObject, text: str, boat: Boat) -> tuple[Act, Boat]:
    spar = _named(data, boat)
    *others, last = spar.stations
    length = float(int(spar.length) + data.draw(st.integers(1, 500)))
    head = last._replace(at=length) if last.at == spar.length else last  # of a table, the thickest alone is given
    return lambda: set_key(text, spar.name, "length", f"{length:.10g} mm", "in"), _put(
        boat, spar, length=length, stations=(*others, head)
    )


def _typed(record: Any) -> dict[str, str]:
    """A row as it would be typed, of a record in whole millimetres."""
    texts = {}
    for name in (field.name for field in fields(type(record))):
        value = getattr(record, name)
        if isinstance(value, tuple):
            texts["widths"] = "; ".join(f"{width:g} mm" for width in value)
        elif (value is not None and value != 0.0) or name == "at":
            texts[name.removesuffix("_")] = f"{value:g} mm" if isinstance(value, float) else str(value)
    return texts


MM_ = MM.map(float)
SOME = st.integers(1, 40).map(float)
RECORDS: dict[str, st.SearchStrategy[Any]] = {
    "joints": st.builds(Joint, at=MM_, kind=st.sampled_from(["hinge", "scarf"])),
    "fittings": st.builds(
        Fitting,
        at=MM_,
        kind=st.sampled_from(["cleat", "eye"]),
        name=st.one_of(st.none(), WORD),
        hole=st.one_of(st.just(0.0), SOME),
    ),
    "log": st.builds(
        Measured,
        at=MM_,
        widths=st.lists(SOME, min_size=2, max_size=4).map(tuple),
        when=st.sampled_from([None, "2026-05-02"]),
    ),
}  # fmt: skip


def puts_rows(data: st.DataObject, text: str, boat: Boat) -> tuple[Act, Boat]:
    """Some rows stay, some go, some come, in any order."""
    spar, key = _named(data, boat), data.draw(st.sampled_from(sorted(RECORDS)))
    old = list(zip(rows(text, spar.name, key), getattr(spar, key), strict=True))
    kept = [row for row in old if data.draw(st.booleans())]
    new = [(_typed(record), record) for record in data.draw(st.lists(RECORDS[key], max_size=3))]
    wanted = data.draw(st.permutations([*kept, *new])) if kept or new else []
    return lambda: set_rows(text, spar.name, key, [row for row, _ in wanted], "mm"), _put(
        boat, spar, **{key: tuple(record for _, record in wanted)}
    )


def puts_a_station(data: st.DataObject, text: str, boat: Boat) -> tuple[Act, Boat]:
    spar = _named(data, boat)
    if spar.law != "straight":
        return lambda: text, boat
    at = data.draw(st.integers(1, 690)) + 0.5
    new = Station(at=at, width=31.0, depth=32.0 if spar.section == "oval" else None)
    given = list(rows(text, spar.name, "stations"))
    given.insert(data.draw(st.integers(0, len(given))), _typed(new))
    stations = tuple(sorted([*spar.stations, new], key=lambda station: station.at))
    return lambda: set_rows(text, spar.name, "stations", given, "in"), _put(boat, spar, stations=stations)


def thins_a_station(data: st.DataObject, text: str, boat: Boat) -> tuple[Act, Boat]:
    """One cell typed over: one line of the file is another."""
    spar = _named(data, boat)
    if spar.law != "straight":
        return lambda: text, boat
    place = data.draw(st.integers(0, len(spar.stations) - 1))
    given = list(rows(text, spar.name, "stations"))
    width = float(data.draw(st.integers(10, 25)))
    given[place] = {**given[place], "width": f"{width:g} mm"}
    stations = tuple(
        station._replace(width=width) if n == place else station for n, station in enumerate(spar.stations)
    )

    def act() -> str:
        changed = set_rows(text, spar.name, "stations", given, "mm")
        gone, come = lines_changed(text, changed)
        assert len(gone) == len(come) <= 1
        return changed

    return act, _put(boat, spar, stations=stations)


def ticks(data: st.DataObject, text: str, boat: Boat) -> tuple[Act, Boat]:
    spar = _named(data, boat)
    step, on = data.draw(st.sampled_from(["bow", "first-faces", 'it\'s "eight"'])), data.draw(st.booleans())
    left = tuple(word for word in spar.done if word != step)
    done = spar.done if on and step in spar.done else (*left, step) if on else left
    return lambda: tick(text, spar.name, step, on), _put(boat, spar, done=done)


def measures(data: st.DataObject, text: str, boat: Boat) -> tuple[Act, Boat]:
    spar, at = _named(data, boat), float(data.draw(MM))
    if [row.at for row in spar.log] != sorted({row.at for row in spar.log}):
        return lambda: text, boat
    sizes = data.draw(st.lists(SOME, min_size=2, max_size=4))
    girth = data.draw(st.booleans())
    new = Measured(
        at=at, widths=None if girth else tuple(sizes), girth=sizes[0] if girth else None, when=DAY.isoformat()
    )
    widths = None if girth else [f"{size:g}" for size in sizes]
    log = sorted([*(row for row in spar.log if row.at != at), new], key=lambda row: row.at)
    round_it = f"{sizes[0]:g}" if girth else None
    return lambda: put_measure(text, spar.name, f"{at:g}", widths, round_it, when=DAY, unit="mm"), _put(
        boat, spar, log=tuple(log)
    )


def retargets(data: st.DataObject, text: str, boat: Boat) -> tuple[Act, Boat]:
    spar, part = _named(data, boat), data.draw(st.floats(0.5, 0.999))
    if spar.law in PUBLISHED:  # becomes a faired one, which test_edit_spar.py has
        return lambda: text, boat
    unit = Fraction(254, 100_000) if boat.units == "in" else Fraction(1, 1000)
    widths = [float(round(station.width * part / unit) * unit) for station in spar.stations]
    stations = tuple(station._replace(width=width) for station, width in zip(spar.stations, widths, strict=True))
    wanted = [(station.at, station.width) for station in stations]
    return lambda: retarget(text, spar.name, data.draw(st.permutations(wanted))), _put(boat, spar, stations=stations)


CHANGES: list[Change] = [
    adds, copies, renames, drops, sets_a_key, lengthens, puts_rows, puts_a_station, thins_a_station, ticks, measures,
    retargets,
]  # fmt: skip


@given(st.sampled_from(STARTS), st.lists(st.sampled_from(CHANGES), min_size=1, max_size=5), st.data())
def test_any_changes_make_the_boat_that_was_meant_and_no_fault(
    text: str, changes: list[Change], data: st.DataObject
) -> None:
    boat = read(text).boat
    remarks = text.count("#")
    foreign = "\r\n" in text
    for change in changes:
        act, wanted = (change if boat.spars else adds)(data, text, boat)
        if all(not list(unsound(spar)) and not on_spar(spar)[1] for spar in wanted.spars):
            text, boat = act(), wanted
            assert read(text) == (boat, ())
            event("done")
        else:
            with pytest.raises(InputFault):
                act()
            event("refused")
        if foreign:
            assert "\n" not in text.replace("\r\n", "")
    if not {drops, puts_rows, sets_a_key} & set(changes):
        assert text.count("#") >= remarks


JUNK = ["3", "-1.5", "inf", '"x"', "[]", "[3]", "{}", "{ at = 1 }", '[{ at = "1" }]', "true", "2026-05-02", "[[1], {}]"]
EVERY: list[Callable[[str, str], Any]] = [
    lambda text, spar: add_spar(text, "new", length="6 ft", butt="2", head="1", unit="in"),
    lambda text, spar: copy_spar(text, spar, "new"),
    lambda text, spar: rename_spar(text, spar, "new"),
    drop_spar,
    lambda text, spar: set_key(text, spar, "length", "30 ft", "in"),
    lambda text, spar: set_key(text, spar, "section", "oval", "in"),
    lambda text, spar: set_key(text, spar, "law", "steel 1794 yard", "in"),
    lambda text, spar: set_key(set_key(text, spar, "law", "steel 1794 yard", "in"), spar, "law", "faired", "in"),
    lambda text, spar: [set_rows(text, spar, key, rows(text, spar, key), "in") for key in ("stations", "log")],
    lambda text, spar: set_rows(text, spar, "fittings", [{"at": "1", "kind": "eye"}], "in"),
    lambda text, spar: tick(text, spar, "bow", True),
    lambda text, spar: put_measure(text, spar, "3 ft", ["2", "2"], None, when=DAY, unit="in"),
    lambda text, spar: retarget(text, spar, [(0.0, 30.0)]),
]


@given(st.sampled_from(STARTS), st.data())
def test_whatever_stands_in_the_file_a_change_is_made_or_refused(text: str, data: st.DataObject) -> None:
    values = list(re.finditer(r"(?<== )(?:\"[^\"]*\"|'[^']*'|[0-9.]+)", text))
    for literal in reversed(
        data.draw(st.lists(st.sampled_from(values), max_size=3, unique_by=lambda literal: literal.start()))
    ):
        text = text[: literal.start()] + data.draw(st.sampled_from(JUNK)) + text[literal.end() :]
    spar = data.draw(st.sampled_from(["main mast", "boom", "mast", "yard"]))
    for change in EVERY:
        said = "done"
        try:
            change(text, spar)
        except InputFault as fault:
            said = str(fault)
        assert said.isprintable()
        event("done" if said == "done" else "refused")
