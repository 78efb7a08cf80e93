"""Changes to the spars in a profile's text, each against a model of what it should do: the boat is changed so and no
further, and every byte that it is not about is as it was."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import event, given
from hypothesis import strategies as st

from shopcompanion.boat.edit import (
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
from shopcompanion.boat.model import Boat, Fitting, Joint, Measured, Spar, Station, folded
from shopcompanion.boat.read import read
from shopcompanion.boat.sound import on_spar, unsound
from shopcompanion.errors import InputFault

from .conftest import DEMOS, demo
from .test_change import STYLES, lines_changed

YAWL, LUGGER = map(demo, DEMOS)
HEAD = 'format = 1\nboat = {name = "x", units = "in"}\n'
PRESETS = """
[[preset]]
calculator = "drum"
name = "for the mast"
spar = "Main  mast"   # so written

[[preset]]
calculator = "drum"
name = "for any"
"""

# The same two spars, in ways that people write them.
LAYOUTS = {
    "rows": """
# about the mast
[[spar]]   # the first
  name   = "main mast"
  length = "10 ft"   # over all
  stations = [ # heel to head
      { at = "0", width = "3 in" },
      { at = "4 ft" , width = '3-1/2"' },   # at the partners
      { at = "10 ft", width = "2 in" }  # the head
  ]
  fittings = [ { at = 0, kind = "step" }, {at="4 ft",kind="cleat",name="x"} ]
# about the boom
[[spar]]
length = 96   # inches
name = 'boom'
stations = [{at = 0, width = 2.0}, {at = 96.0, width = "1-1/2"}]
joints = [{ at = "5 ft", kind = "scarf" }]
# and that is all
""",
    "tables under rows": """
[[spar]]
name = "main mast"
length = "10 ft"

  [[spar.stations]]
  at = "0"
  width = "3 in"   # the heel

  # where it is thickest
  [[spar.stations]]
  at = "4 ft"
  width = '3-1/2"'

  [[spar.stations]]
  at = "10 ft"
  width = "2 in"

  [[spar.fittings]]
  kind = "step"
  at = 0
  [[spar.fittings]]
  at = "4 ft"
  kind = "cleat"
  name = "x"

# about the boom
[[spar]]
name = "boom"
length = "8 ft"
[[spar.stations]]
at = 0
width = 2
[[spar.stations]]
at = "8 ft"
width = "1-1/2"
[[spar.joints]]
at = "5 ft"
kind = "scarf"
""",
    "others between": """
[[spar]]
name = "main mast"
length = "10 ft"
stations = [{ at = "0", width = "3 in" }, { at = "4 ft", width = '3-1/2"' }, { at = "10 ft", width = "2 in" }]

# between
[shop]
kerf = "1/8 in"

[[spar.fittings]]
at = 0
kind = "step"
[[spar.fittings]]
at = "4 ft"
kind = "cleat"
name = "x"

[[ spar ]]  # [one more]
name = '''boom'''
"length" = \"\"\"8 ft\"\"\"
stations = [
    { "at" = "0", width = "2 in" },
    { at = "8 ft", 'width' = "1-1/2 in" },
]
joints = [
    { at = "5 ft", kind = "scarf" }
  ,
    # no more
]
""",
    "a list of its own": """
spar = [ # both
    { name = "main mast", length = "10 ft", stations = [ { at = "0", width = "3 in" },
        { at = "4 ft", width = '3-1/2"' }, # thickest
        { at = "10 ft", width = "2 in" } ], fittings = [
        { at = 0, kind = "step" }, { at = "4 ft", kind = "cleat", name = "x" }] },
    { name = "boom", length = "8 ft", stations = [{ at = 0, width = 2 }, { at = "8 ft", width = "1-1/2" }], joints = [
      { at = "5 ft", kind = "scarf" }] },  # the other
]
""",
}  # fmt: skip
WRITTEN = {name: HEAD + body + PRESETS for name, body in LAYOUTS.items()}
MAST = Spar(
    name="main mast",
    length=3048.0,
    stations=(
        Station(at=0.0, width=76.2),
        Station(at=1219.2, width=88.9),
        Station(at=3048.0, width=50.8),
    ),
    fittings=(Fitting(at=0.0, kind="step"), Fitting(at=1219.2, kind="cleat", name="x")),
)
BOOM = Spar(
    name="boom",
    length=2438.4,
    stations=(Station(at=0.0, width=50.8), Station(at=2438.4, width=38.1)),
    joints=(Joint(at=1524.0, kind="scarf"),),
)
STARTS = [*map(demo, DEMOS), *(style(text) for text in WRITTEN.values() for style in STYLES.values())]


@pytest.fixture(params=[(layout, style) for layout in LAYOUTS for style in STYLES], ids=" / ".join)
def written(request: pytest.FixtureRequest) -> str:
    layout, style = request.param
    text: str = STYLES[style](WRITTEN[layout])
    assert read(text).faults == ()
    assert read(text).boat.spars == (MAST, BOOM)
    return text


def spars(text: str) -> tuple[Spar, ...]:
    assert read(text).faults == ()
    return read(text).boat.spars


# --- any number of changes, one after the other ------------------------------------------------------------------

Act = Callable[[], str]
Change = Callable[[st.DataObject, str, Boat], tuple[Act, Boat]]  # what is done, and the boat that it should make
WORD = st.text(st.characters(codec="utf-8", exclude_categories=("C", "Z")), min_size=1, max_size=12)
MM = st.integers(0, 700)
DAY = date(2026, 5, 2)


def _named(data: st.DataObject, boat: Boat) -> Spar:
    return data.draw(st.sampled_from(boat.spars), "spar")


def _put(boat: Boat, spar: Spar, **new: Any) -> Boat:
    return replace(boat, spars=tuple(replace(one, **new) if one is spar else one for one in boat.spars))


def _unused(data: st.DataObject, boat: Boat) -> str:
    name = data.draw(WORD, "name")
    while folded(name) in [folded(one.name) for one in boat.spars]:
        name += "x"
    return name


def adds(data: st.DataObject, text: str, boat: Boat) -> tuple[Act, Boat]:
    name = _unused(data, boat)
    new = Spar(name=name, kind="yard", length=900.0, stations=(Station(at=0, width=40.0), Station(at=900, width=30.0)))

    def act() -> str:
        changed = add_spar(text, name, kind="yard", length="90 cm", butt="40", head="30", unit="mm")
        assert drop_spar(changed, name) in (text, text + "\n", text + "\r\n")
        return changed

    return act, replace(boat, spars=(*boat.spars, new))


def copies(data: st.DataObject, text: str, boat: Boat) -> tuple[Act, Boat]:
    spar, name = _named(data, boat), _unused(data, boat)
    found = [twin for one in boat.spars for twin in ([one, replace(one, name=name)] if one is spar else [one])]

    def act() -> str:
        changed = copy_spar(text, spar.name, name)
        assert drop_spar(changed, name) in (text, text + "\n", text + "\r\n")
        return changed

    return act, replace(boat, spars=tuple(found))


def renames(data: st.DataObject, text: str, boat: Boat) -> tuple[Act, Boat]:
    spar = _named(data, boat)
    name = data.draw(st.one_of(st.just(spar.name.upper()), st.just(_unused(data, boat))))
    presets = tuple(
        replace(one, spar=name) if one.spar and folded(one.spar) == folded(spar.name) else one for one in boat.presets
    )
    return lambda: rename_spar(text, spar.name, f" {name} "), replace(_put(boat, spar, name=name), presets=presets)


def drops(data: st.DataObject, text: str, boat: Boat) -> tuple[Act, Boat]:
    spar = _named(data, boat)
    presets = tuple(one for one in boat.presets if folded(one.spar or "") != folded(spar.name))
    left = tuple(one for one in boat.spars if one is not spar)
    return lambda: drop_spar(text, spar.name.upper()), replace(boat, spars=left, presets=presets)


KEYS: dict[str, tuple[Any, Callable[[Any], str]]] = {
    "kind": (st.sampled_from(["mast", "boom"]), str),
    "species": (WORD, str),
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
    return lambda: set_key(text, spar.name, "length", f"{length:.10g} mm", "in"), _put(
        boat, spar, length=length, stations=(*others, replace(last, at=length))
    )


def _typed(record: Any) -> dict[str, str]:
    """A row as it would be typed, of a record in whole millimetres."""
    found = {}
    for name in record.__slots__:
        value = getattr(record, name)
        if isinstance(value, tuple):
            found["widths"] = "; ".join(f"{one:g} mm" for one in value)
        elif (value is not None and value != 0.0) or name == "at":
            found[name.removesuffix("_")] = f"{value:g} mm" if isinstance(value, float) else value
    return found


MM_ = MM.map(float)
SOME = st.integers(1, 40).map(float)
RECORDS: dict[str, st.SearchStrategy[Any]] = {
    "joints": st.builds(Joint, at=MM_, kind=st.sampled_from(["hinge", "scarf"])),
    "fittings": st.builds(
        Fitting,
        at=MM_,
        kind=st.sampled_from(["cleat", "eye"]),
        name=st.one_of(st.none(), WORD),
        hole=st.one_of(st.none(), SOME),
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
    kept = [one for one in old if data.draw(st.booleans())]
    new = [(_typed(one), one) for one in data.draw(st.lists(RECORDS[key], max_size=3))]
    wanted = data.draw(st.permutations([*kept, *new])) if kept or new else []
    return lambda: set_rows(text, spar.name, key, [row for row, _ in wanted], "mm"), _put(
        boat, spar, **{key: tuple(one for _, one in wanted)}
    )


def puts_a_station(data: st.DataObject, text: str, boat: Boat) -> tuple[Act, Boat]:
    spar = _named(data, boat)
    if spar.law != "straight":
        return lambda: text, boat
    at = data.draw(st.integers(1, 690)) + 0.5
    new = Station(at=at, width=31.0, depth=32.0 if spar.section == "oval" else None)
    given = list(rows(text, spar.name, "stations"))
    given.insert(data.draw(st.integers(0, len(given))), _typed(new))
    stations = tuple(sorted([*spar.stations, new], key=lambda one: one.at))
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
    stations = tuple(replace(one, width=width) if n == place else one for n, one in enumerate(spar.stations))

    def act() -> str:
        changed = set_rows(text, spar.name, "stations", given, "mm")
        gone, come = lines_changed(text, changed)
        assert len(gone) == len(come) <= 1
        return changed

    return act, _put(boat, spar, stations=stations)


def ticks(data: st.DataObject, text: str, boat: Boat) -> tuple[Act, Boat]:
    spar = _named(data, boat)
    step, on = data.draw(st.sampled_from(["bow", "first-faces", 'it\'s "eight"'])), data.draw(st.booleans())
    left = tuple(one for one in spar.done if one != step)
    done = spar.done if on and step in spar.done else (*left, step) if on else left
    return lambda: tick(text, spar.name, step, on), _put(boat, spar, done=done)


def measures(data: st.DataObject, text: str, boat: Boat) -> tuple[Act, Boat]:
    spar, at = _named(data, boat), float(data.draw(MM))
    if [one.at for one in spar.log] != sorted({one.at for one in spar.log}):
        return lambda: text, boat
    sizes = data.draw(st.lists(SOME, min_size=2, max_size=4))
    girth = data.draw(st.booleans())
    new = Measured(
        at=at, widths=None if girth else tuple(sizes), girth=sizes[0] if girth else None, when=DAY.isoformat()
    )
    widths = None if girth else [f"{one:g}" for one in sizes]
    log = sorted([*(one for one in spar.log if one.at != at), new], key=lambda one: one.at)
    round_it = f"{sizes[0]:g}" if girth else None
    return lambda: put_measure(text, spar.name, f"{at:g}", widths, round_it, when=DAY, unit="mm"), _put(
        boat, spar, log=tuple(log)
    )


def retargets(data: st.DataObject, text: str, boat: Boat) -> tuple[Act, Boat]:
    spar, part = _named(data, boat), data.draw(st.floats(0.5, 0.999))
    unit = Fraction(254, 100_000) if boat.units == "in" else Fraction(1, 1000)
    widths = [float(round(one.width * part / unit) * unit) for one in spar.stations]
    stations = tuple(replace(one, width=width) for one, width in zip(spar.stations, widths, strict=True))
    wanted = [(one.at, one.width) for one in stations]
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
        if all(not list(unsound(one)) and not on_spar(one)[1] for one in wanted.spars):
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


# --- one change at a time, in every layout ----------------------------------------------------------------------------


def test_rows_are_the_users_own_texts(written: str) -> None:
    assert rows(written, "MAIN mast", "stations")[1] == {"at": "4 ft", "width": '3-1/2"'}
    assert rows(written, "main mast", "fittings") == (
        {"at": "0", "kind": "step"},
        {"at": "4 ft", "kind": "cleat", "name": "x"},
    )
    assert rows(written, "boom", "log") == ()


def test_bare_numbers_are_shown_with_the_boats_unit() -> None:
    text = WRITTEN["rows"]
    assert rows(text, "boom", "stations") == ({"at": "0", "width": "2.0 in"}, {"at": "96.0 in", "width": "1-1/2 in"})
    text = text.replace("joints", 'log = [{ at = 12, widths = [2, 1.5, "50 mm"], when = 2026-05-02 }]\njoints')
    assert rows(text, "boom", "log") == ({"at": "12 in", "widths": "2 in; 1.5 in; 50 mm", "when": "2026-05-02"},)
    assert set_rows(text, "boom", "log", rows(text, "boom", "log"), "mm") == text


KEYS_OF_ROWS = ("stations", "regions", "joints", "fittings", "log")


def test_the_same_rows_again_change_nothing(written: str) -> None:
    for name in ("main mast", "boom"):
        for key in KEYS_OF_ROWS:
            assert set_rows(written, name, key, rows(written, name, key), "mm") == written


def test_one_cell_changes_one_line(written: str) -> None:
    given = [dict(row) for row in rows(written, "main mast", "stations")]
    given[1]["width"] = "3 3/8"
    changed = set_rows(written, "main mast", "stations", given, "in")
    assert spars(changed)[0].stations[1] == Station(at=1219.2, width=85.725)
    assert changed == written.replace("'3-1/2\"'", "'3 3/8 in'")


def test_a_row_is_put_in_its_place_and_the_others_stay(written: str) -> None:
    given = [*rows(written, "main mast", "stations"), {"at": "6", "width": "3-1/4", "depth": " "}]
    changed = set_rows(written, "main mast", "stations", given, "in")
    assert [one.at for one in spars(changed)[0].stations] == [0.0, 152.4, 1219.2, 3048.0]
    gone, come = lines_changed(written, changed)
    assert "".join(come).count('"6 in"') == 1
    assert len(gone) <= 1
    back = set_rows(changed, "main mast", "stations", given[:-1], "in")
    assert spars(back) == (MAST, BOOM)
    gone, _ = lines_changed(written, back)
    assert all(line.startswith("stations = [{") and len(line) > 100 for line in gone)  # it got lines of its own


def test_rows_of_a_new_key_come_and_go(written: str) -> None:
    region = [{"from": "1 ft", "to": "2 ft", "section": "sq", "run_out": "3"}]
    changed = set_rows(written, "boom", "regions", region, "in")
    assert [one.stretch for one in spars(changed)[1].regions] == [(304.8, 609.6, "square", 76.2)]
    assert set_rows(changed, "boom", "regions", [], "in") == written
    less = set_rows(written, "boom", "joints", [], "in")
    assert spars(less) == (MAST, replace(BOOM, joints=()))
    assert less.count("#") == written.count("#")


def test_a_spar_comes_and_goes(written: str) -> None:
    changed = add_spar(written, "yard", kind="yard", length="6 ft", butt="2", head="50 mm", unit="in")
    assert spars(changed)[:2] == (MAST, BOOM)
    assert spars(changed)[2] == Spar(
        name="yard", kind="yard", length=1828.8, stations=(Station(at=0, width=50.8), Station(at=1828.8, width=50.0))
    )
    assert lines_changed(written, changed)[0] == []
    assert drop_spar(changed, "yard") == written


def test_a_copy_has_everything_and_stands_behind(written: str) -> None:
    changed = copy_spar(written, "main mast", "spare")
    assert spars(changed) == (MAST, replace(MAST, name="spare"), BOOM)
    assert lines_changed(written, changed)[0] == []
    for remark in ("# thickest", "# at the partners", "# where it is thickest"):
        assert changed.count(remark) == 2 * written.count(remark)
    assert drop_spar(changed, "spare") == written


def test_a_dropped_spar_takes_its_presets_and_nothing_else(written: str) -> None:
    changed = drop_spar(written, "Main Mast")
    assert spars(changed) == (BOOM,)
    assert [one.name for one in read(changed).boat.presets] == ["for any"]
    assert lines_changed(written, changed)[1] == []
    for remark in ("# about the mast", "# between", "# about the boom", "# both", "# the other", "# and that is all"):
        assert (remark in changed) == (remark in written)
    empty = drop_spar(changed, "boom")
    assert spars(empty) == ()
    again = add_spar(empty, "boom", length="8 ft", butt="2", head="1-1/2", unit="in")
    assert spars(again) == (replace(BOOM, joints=()),)
    assert drop_spar(again, "boom") == empty


def test_a_renamed_spar_keeps_its_presets(written: str) -> None:
    changed = rename_spar(written, "main mast", 'Mast "I"')
    assert spars(changed) == (replace(MAST, name='Mast "I"'), BOOM)
    assert [one.spar for one in read(changed).boat.presets] == ['Mast "I"', None]
    gone, come = lines_changed(written, changed)
    assert len(gone) == len(come) == 2
    assert set_key(written, "main mast", "name", 'Mast "I"', "in") == changed


def test_a_key_is_set_on_its_line_and_taken_out(written: str) -> None:
    changed = set_key(written, "boom", "species", "Larch", "in")
    assert spars(changed) == (MAST, replace(BOOM, species="Larch"))
    assert set_key(changed, "boom", "species", " Larch ", "in") == changed
    assert set_key(changed, "boom", "species", None, "in") == written
    assert set_key(written, "boom", "species", None, "in") == written
    assert set_key(written, "boom", "kind", "boo", "in") == set_key(written, "boom", "kind", "boom", "in")


def test_the_head_goes_along_with_the_length(written: str) -> None:
    changed = set_key(written, "boom", "length", "9 1/2 ft", "in")
    assert spars(changed)[1] == replace(
        BOOM, length=2895.6, stations=(BOOM.stations[0], replace(BOOM.stations[1], at=2895.6))
    )
    assert changed.count("9 1/2 ft") == 2
    gone, come = lines_changed(written, changed)
    assert len(gone) == len(come) <= 2


def test_ticks_come_and_go(written: str) -> None:
    first = tick(written, "boom", "bow", True)
    both = tick(first, "boom", "first-faces", True)
    assert spars(both)[1].done == ("bow", "first-faces")
    assert tick(tick(both, "boom", "first-faces", False), "boom", "bow", False) == written
    assert spars(tick(both, "boom", "bow", False))[1].done == ("first-faces",)


def test_a_measure_takes_the_place_of_the_one_before(written: str) -> None:
    text = put_measure(written, "boom", "4 ft", ["1-3/4", "45 mm"], None, when=DAY, unit="in")
    text = put_measure(text, "boom", "12", None, "6 1/4", when=DAY, unit="in")
    assert put_measure(text, "boom", "1 ft", None, "6 1/4", when=DAY, unit="in") == text
    text = put_measure(text, "boom", "48 in", ["1-3/4", "1-5/8", "1.7"], None, when=date(2026, 5, 3), unit="in")
    assert spars(text)[1].log == (
        Measured(at=304.8, girth=158.75, when="2026-05-02"),
        Measured(at=1219.2, widths=(44.45, 41.275, 43.18), when="2026-05-03"),
    )
    assert set_rows(text, "boom", "log", [], "in") == written


def test_a_log_row_that_gives_a_girth_instead_has_no_widths_left() -> None:
    text = put_measure(YAWL, "boom", "4 ft", ["2", "2-1/16"], None, when=DAY, unit="in")
    text = put_measure(text, "boom", "4 ft", None, "6-1/2", when=DAY, unit="in")
    assert spars(text)[2].log == (Measured(at=1219.2, girth=165.1, when="2026-05-02"),)


# --- what hangs together ----------------------------------------------------------------------------------------------


def test_a_moved_station_takes_its_remark_along() -> None:
    given = [dict(row) for row in rows(LUGGER, "mast", "stations")]
    given[1]["at"] = "2.20 m"
    changed = set_rows(LUGGER, "mast", "stations", given, "mm")
    assert (
        """
    { at = "1.90 m", width = "104 mm" },        # as high as the yard comes down
    { at = "2.20 m", width = "104 mm" },        # at the partners
"""
        in changed
    )
    assert len(changed) == len(LUGGER)


def test_unknown_keys_of_a_row_stay_with_it() -> None:
    text = WRITTEN["rows"].replace('kind = "step" }', 'kind = "step", oak = true }')
    assert len(read(text).faults) == 1
    given = [dict(row) for row in rows(text, "main mast", "fittings")]
    given[0]["name"] = "heel"
    changed = set_rows(text, "main mast", "fittings", [{"at": "1 ft", "kind": "eye"}, *given], "in")
    assert '{ at = 0, kind = "step", name = "heel", oak = true }' in changed
    assert copy_spar(changed, "main mast", "other").count("oak = true") == 2


def test_an_oval_is_deep_as_it_is_wide_and_back(written: str) -> None:
    oval = set_key(written, "main mast", "section", "oval", "in")
    assert [(one.width, one.depth) for one in spars(oval)[0].stations] == [(76.2, 76.2), (88.9, 88.9), (50.8, 50.8)]
    assert spars(set_key(oval, "main mast", "section", None, "in")) == (MAST, BOOM)
    lugger = set_key(LUGGER, "boom", "section", "square", "mm")
    assert [one.depth for one in read(lugger).boat.spar("boom").stations] == [None] * 3


@pytest.mark.parametrize("law", ["faired", "straight", None, "bowed"])
def test_a_published_table_takes_one_station_and_gives_its_own_back(written: str, law: str | None) -> None:
    table = set_key(written, "main mast", "law", "steel 1794 yard", "in")
    assert spars(table)[0] == replace(MAST, law="steel 1794 yard", stations=MAST.stations[1:2])
    gives = spars(table)[0].outline()
    back = spars(set_key(table, "main mast", "law", law, "in"))[0]
    assert back.law == law or (law is None and back.law == "straight")
    wanted = gives.stations if law != "bowed" else (gives.stations[0], (1219.2, 88.9), gives.stations[-1])
    for (at, width), one in zip(wanted, back.stations, strict=True):
        assert one.at == pytest.approx(at, abs=0.00254)
        assert one.width == pytest.approx(width, abs=0.00254)
    assert back.stations[-1].at == back.length
    other = spars(set_key(table, "main mast", "law", "skene 1927 boom", "in"))[0]
    assert other.stations == MAST.stations[1:2]


@given(st.sampled_from(["saltmarsh-yawl", "fjord-lugger"]), st.floats(5.0, 80.0))
def test_a_new_target_is_never_more_than_was_found(name: str, width: float) -> None:
    text = demo(name)
    spar = read(text).boat.spars[1]
    at = spar.stations[-1].at
    size = min(width, spar.stations[-1].width)
    now = read(retarget(text, spar.name, [(at, size)])).boat.spars[1]
    assert size - 0.00255 < now.stations[-1].width <= size + 1e-6
    assert replace(now, stations=spar.stations) == spar


def test_a_target_is_spelled_as_short_as_it_can_be() -> None:
    text = retarget(YAWL, "boom", [(0, 44.45), (3581.4, 40.0)])
    assert {row["width"] for row in rows(text, "boom", "stations")} == {"1-3/4 in", "2-5/8 in", "1.5748 in"}
    assert retarget(YAWL, "boom", [(0, 53.975)]) == YAWL
    text = retarget(LUGGER, "yard", [(0, 39.123456)])
    assert rows(text, "yard", "stations")[0] == {"at": "0", "width": "39.123 mm"}


def test_a_spar_that_is_left_out_can_be_mended_step_by_step() -> None:
    text = WRITTEN["rows"].replace('{ at = "10 ft", width = "2 in" }', '{ at = "11 ft", width = "2 kg" }')
    assert [one.name for one in read(text).boat.spars] == ["boom"]
    given = [dict(row) for row in rows(text, "main mast", "stations")]
    assert given[-1] == {"at": "11 ft", "width": "2 kg"}
    given[-1]["width"] = "2"
    text = set_rows(text, "main mast", "stations", given, "in")
    assert [one.name for one in read(text).boat.spars] == ["boom"]
    text = set_key(text, "main mast", "length", "11 ft", "in")
    assert read(text).faults == ()


def test_a_fault_that_is_there_is_no_hindrance() -> None:
    text = WRITTEN["rows"].replace('at="4 ft"', 'at="14 ft"')
    assert [fault.key for fault in read(text).faults] == ["fittings"]
    longer = set_key(text, "main mast", "length", "13 ft", "in")
    assert [fault.key for fault in read(longer).faults] == ["fittings"]
    with pytest.raises(InputFault, match="joints: the hinge at 12 ft lies past"):
        set_rows(text, "main mast", "joints", [{"at": "12 ft", "kind": "hinge"}], "in")


# --- what is refused --------------------------------------------------------------------------------------------------


def _boom(**cells: str) -> Act:
    """The boom's stations with the second one so."""
    given = [dict(row) for row in rows(YAWL, "boom", "stations")]
    given[1].update(cells)
    return lambda: set_rows(YAWL, "boom", "stations", given, "in")


MEASURED: dict[str, Any] = {"when": DAY, "unit": "in"}


@pytest.mark.parametrize(
    ("act", "field", "reason"),
    [
        (_boom(width="3/0"), "stations 2, width", "zero below the line"),
        (_boom(width=""), "stations 2, width", "missing, as '3-1/2 in'"),
        (_boom(width="-1"), "stations 2, width", "must be more than 0 in"),
        (_boom(depth="2"), "stations 2, depth", "only an oval has a depth"),
        (_boom(at="12 ft"), "stations 2, at", "the station at 12 ft lies past the head"),
        (_boom(at="0"), "stations 2, at", "does not come after the one at 0 in"),
        (_boom(girth="2"), "stations 2", "'girth' is none of at, width, depth"),
        (lambda: set_rows(YAWL, "boom", "stations", [], "in"), "stations", "missing"),
        (lambda: set_rows(YAWL, "boom", "law", [], "in"), None, "'law' is none of stations, regions"),
        (lambda: set_rows(YAWL, "boom", "joints", [{"at": "1"}], "in"), "joints 1, kind", "missing"),
        (lambda: set_rows(YAWL, "boom", "joints", [{"at": "1", "kind": "glue"}], "in"), "joints 1, kind", "none of"),
        (lambda: set_rows(YAWL, "boom", "joints", [{"at": "12 ft", "kind": "butt"}], "in"), "joints", "past the head"),
        (lambda: set_key(YAWL, "boom", "length", "5 ft", "in"), "stations 3, at", "does not come after"),
        (lambda: set_key(YAWL, "boom", "length", "11 ft 6", "in"), "fittings", "outhaul at 11 ft 7 in lies past"),
        (lambda: set_key(YAWL, "boom", "length", None, "in"), "length", "cannot be without"),
        (lambda: set_key(YAWL, "boom", "length", "2 kg", "in"), "length", "this is a mass"),
        (lambda: set_key(YAWL, "boom", "law", "curved", "in"), "law", "'curved' is none of"),
        (lambda: set_key(YAWL, "main mast", "law", "bowed", "in"), "stations 3, width", "a bowed spar has stations"),
        (lambda: set_key(YAWL, "main mast", "blank", "3", "in"), "blank", "less than the spar's thickest"),
        (lambda: set_key(YAWL, "boom", "section", "hollow", "in"), "wall", "missing"),
        (lambda: set_key(YAWL, "boom", "square_to", "12 ft", "in"), "square_to", "past the head"),
        (lambda: set_key(YAWL, "boom", "name", "Gaff ", "in"), "name", "another spar is called 'gaff'"),
        (lambda: set_key(YAWL, "boom", "name", None, "in"), "name", "empty"),
        (lambda: set_key(YAWL, "boom", "done", "x", "in"), None, "'done' cannot be set so"),
        (lambda: set_key(YAWL, "boom", "stations", "x", "in"), None, "'stations' cannot be set so"),
        (lambda: set_key(YAWL, "bom", "length", "9 ft", "in"), "spar", "no spar is called 'bom' .*'boom'"),
        (lambda: add_spar(YAWL, "BOOM", length="1", butt="1", head="1", unit="in"), "name", "another spar is called"),
        (lambda: add_spar(YAWL, "x", kind="z", length="1 ft", butt="1", head="1", unit="in"), "kind", "'z' is none of"),
        (lambda: add_spar(YAWL, "x", length="1 ft", butt="1", head="0", unit="in"), "head", "more than 0 in"),
        (lambda: add_spar(YAWL, "x", length="0", butt="1", head="1", unit="in"), "length", "more than 0 in"),
        (lambda: copy_spar(YAWL, "boom", "boom"), "name", "another spar is called 'boom'"),
        (lambda: copy_spar(YAWL, "boom", "a\x1bb"), "name", "cannot be shown"),
        (lambda: rename_spar(YAWL, "boom", "x" * 81), "name", "longer than 80"),
        (lambda: drop_spar(YAWL, "flagpole"), "spar", "no spar is called 'flagpole'"),
        (lambda: tick(YAWL, "boom", "", True), None, "empty"),
        (lambda: put_measure(YAWL, "boom", "4 ft", None, None, **MEASURED), "widths", "nothing was measured"),
        (lambda: put_measure(YAWL, "boom", "4 ft", ["2"], None, **MEASURED), "widths", "takes 2 to 4"),
        (lambda: put_measure(YAWL, "boom", "4 ft", ["2", "x"], None, **MEASURED), "widths", "a number is wanted"),
        (lambda: put_measure(YAWL, "boom", "4 ft", None, "a", **MEASURED), "girth", "a number is wanted"),
        (lambda: put_measure(YAWL, "boom", "4 ft", ["2", "2"], "6", **MEASURED), "log", "both widths and a girth"),
        (lambda: put_measure(YAWL, "boom", "4 f", ["2", "2"], None, **MEASURED), "at", "no unit of length"),
        (lambda: put_measure(YAWL, "boom", "40 ft", ["2", "2"], None, **MEASURED), "log", "lies past the head"),
        (lambda: retarget(YAWL, "boom", [(1.0, 20.0)]), "stations", "no station at 1 mm"),
        (lambda: retarget(YAWL, "main mast", [(0.0, 200.0)]), "blank", "less than the spar's thickest"),
        (lambda: drop_spar("a = [", "x"), None, "cannot be read as TOML, mend it first"),
        (lambda: drop_spar("spar = 3", "x"), None, "'spar' is not what it should be"),
        (lambda: rows("format = 9", "x", "joints"), None, "newer companion"),
        (lambda: rows('[[spar]]\nname = "x"\njoints = 3', "x", "joints"), "joints", "not what it should be"),
        (lambda: tick('[[spar]]\nname = "x"\ndone = 3', "x", "a", True), "done", "not what it should be"),
        (lambda: drop_spar('[[spar]]\nname = "x"\n[[spar]]\nname = "X"', "x"), "spar", "2 spars are called 'x'"),
        (lambda: set_key('[[spar]]\nname = "x"\nlaw.a = 1', "x", "law", "bowed", "in"), None, "change it by hand"),
    ],
)  # fmt: skip
def test_what_would_not_be_sound_is_refused_in_one_line(act: Callable[[], Any], field: str | None, reason: str) -> None:
    with pytest.raises(InputFault, match=reason) as refused:
        act()
    assert refused.value.field == field
    assert str(refused.value).isprintable()


def test_the_row_at_fault_is_counted_as_it_was_given() -> None:
    given = rows(YAWL, "boom", "stations")
    with pytest.raises(InputFault) as refused:
        set_rows(YAWL, "boom", "stations", [given[2], {"at": "6 ft", "width": "2", "depth": "2"}, *given[:2]], "in")
    assert refused.value.field == "stations 2, depth"
