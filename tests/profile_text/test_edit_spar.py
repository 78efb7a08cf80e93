"""Changes to the spars in a profile's text, one at a time and in every layout: what was meant is changed, and every
byte that it is not about is as it was."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.errors import InputFault
from shopcompanion.profile.parse import read
from shopcompanion.profile.records import Measured, Spar, Station
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
from shopcompanion.spar.along import Region

from ..storage.conftest import demo
from .spar_layouts import BOOM, LAYOUTS, LUGGER, MAST, WRITTEN, YAWL, spars
from .test_edit_boat import STYLES, lines_changed

DAY = date(2026, 5, 2)


@pytest.fixture(params=[(layout, style) for layout in LAYOUTS for style in STYLES], ids=" / ".join)
def written(request: pytest.FixtureRequest) -> str:
    layout, style = request.param
    text: str = STYLES[style](WRITTEN[layout])
    assert read(text).faults == ()
    assert read(text).boat.spars == (MAST, BOOM)
    return text


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
    assert [station.at for station in spars(changed)[0].stations] == [0.0, 152.4, 1219.2, 3048.0]
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
    assert spars(changed)[1].regions == (Region(from_=304.8, to=609.6, section="square", run_out=76.2),)
    assert set_rows(changed, "boom", "regions", [], "in") == written
    less = set_rows(written, "boom", "joints", [], "in")
    assert spars(less) == (MAST, BOOM._replace(joints=()))
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
    assert spars(changed) == (MAST, MAST._replace(name="spare"), BOOM)
    assert lines_changed(written, changed)[0] == []
    for remark in ("# thickest", "# at the partners", "# where it is thickest"):
        assert changed.count(remark) == 2 * written.count(remark)
    assert drop_spar(changed, "spare") == written


def test_a_dropped_spar_takes_its_presets_and_nothing_else(written: str) -> None:
    changed = drop_spar(written, "Main Mast")
    assert spars(changed) == (BOOM,)
    assert [preset.name for preset in read(changed).boat.presets] == ["for any"]
    assert lines_changed(written, changed)[1] == []
    for remark in ("# about the mast", "# between", "# about the boom", "# both", "# the other", "# and that is all"):
        assert (remark in changed) == (remark in written)
    empty = drop_spar(changed, "boom")
    assert spars(empty) == ()
    again = add_spar(empty, "boom", length="8 ft", butt="2", head="1-1/2", unit="in")
    assert spars(again) == (BOOM._replace(joints=()),)
    assert drop_spar(again, "boom") == empty


def test_a_renamed_spar_keeps_its_presets(written: str) -> None:
    changed = rename_spar(written, "main mast", 'Mast "I"')
    assert spars(changed) == (MAST._replace(name='Mast "I"'), BOOM)
    assert [preset.spar for preset in read(changed).boat.presets] == ['Mast "I"', None]
    gone, come = lines_changed(written, changed)
    assert len(gone) == len(come) == 2
    assert set_key(written, "main mast", "name", 'Mast "I"', "in") == changed


def test_a_key_is_set_on_its_line_and_taken_out(written: str) -> None:
    changed = set_key(written, "boom", "species", "Larch", "in")
    assert spars(changed) == (MAST, BOOM._replace(species="Larch"))
    assert set_key(changed, "boom", "species", " Larch ", "in") == changed
    assert set_key(changed, "boom", "species", None, "in") == written
    assert set_key(written, "boom", "species", None, "in") == written
    assert set_key(written, "boom", "kind", "boo", "in") == set_key(written, "boom", "kind", "boom", "in")


def test_the_head_goes_along_with_the_length(written: str) -> None:
    changed = set_key(written, "boom", "length", "9 1/2 ft", "in")
    assert spars(changed)[1] == BOOM._replace(
        length=2895.6, stations=(BOOM.stations[0], BOOM.stations[1]._replace(at=2895.6))
    )
    assert changed.count("9 1/2 ft") == 2
    gone, come = lines_changed(written, changed)
    assert len(gone) == len(come) <= 2


def test_ticks_come_and_go(written: str) -> None:
    first = tick(written, "boom", "true-blank", True)
    both = tick(first, "boom", "first-faces", True)
    assert spars(both)[1].done == ("true-blank", "first-faces")
    assert tick(tick(both, "boom", "first-faces", False), "boom", "true-blank", False) == written
    assert spars(tick(both, "boom", "true-blank", False))[1].done == ("first-faces",)


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


def test_remarks_above_rows_under_headers_stay_and_move_with_them() -> None:
    text = WRITTEN["tables under rows"]
    heel, thick, head = rows(text, "main mast", "stations")
    less = set_rows(text, "main mast", "stations", [heel, head], "in")
    gone = ["  [[spar.stations]]\n", '  at = "4 ft"\n', "  width = '3-1/2\"'\n"]
    assert lines_changed(text, less) == (gone, [])
    between = {"at": "2 ft", "width": "3-1/4"}
    more = set_rows(text, "main mast", "stations", [heel, between, {**thick, "at": "1 ft"}, head], "in")
    assert (
        """
  width = "3 in"   # the heel

  # where it is thickest
  [[spar.stations]]
  at = "1 ft"
  width = '3-1/2"'

  [[spar.stations]]
  at = "2 ft"
  width = "3-1/4 in"

  [[spar.stations]]
  at = "10 ft"
"""
        in more
    )


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
    assert [(station.width, station.depth) for station in spars(oval)[0].stations] == [
        (76.2, 76.2),
        (88.9, 88.9),
        (50.8, 50.8),
    ]
    assert spars(set_key(oval, "main mast", "section", None, "in")) == (MAST, BOOM)
    lugger = set_key(LUGGER, "boom", "section", "square", "mm")
    assert [station.depth for station in read(lugger).boat.spar("boom").stations] == [None] * 3


@pytest.mark.parametrize("law", ["faired", "straight", None, "bowed"])
def test_a_published_table_takes_one_station_and_gives_its_own_back(written: str, law: str | None) -> None:
    table = set_key(written, "main mast", "law", "steel 1794 yard", "in")
    assert spars(table)[0] == MAST._replace(law="steel 1794 yard", stations=MAST.stations[1:2])
    gives = spars(table)[0].outline()
    back = spars(set_key(table, "main mast", "law", law, "in"))[0]
    assert back.law == law or (law is None and back.law == "straight")
    wanted = gives.stations if law != "bowed" else (gives.stations[0], (1219.2, 88.9), gives.stations[-1])
    for (at, width), station in zip(wanted, back.stations, strict=True):
        assert station.at == pytest.approx(at, abs=0.00254)
        assert station.width == pytest.approx(width, abs=0.00254)
    assert back.stations[-1].at == back.length
    other = spars(set_key(table, "main mast", "law", "skene 1927 boom", "in"))[0]
    assert other.stations == MAST.stations[1:2]


@given(st.sampled_from(["saltmarsh-yawl", "fjord-lugger"]), st.floats(25.0, 80.0))
def test_a_new_target_is_never_more_than_was_found(name: str, width: float) -> None:
    text = demo(name)
    spar = read(text).boat.spars[1]
    at = spar.stations[-1].at
    size = min(width, spar.stations[-1].width)
    now = read(retarget(text, spar.name, [(at, size)])).boat.spars[1]
    assert size - 0.00255 < now.stations[-1].width <= size + 1e-6
    assert now._replace(stations=spar.stations) == spar


def test_a_target_is_spelled_as_short_as_it_can_be() -> None:
    text = retarget(YAWL, "boom", [(0, 44.45), (3581.4, 40.0)])
    assert {row["width"] for row in rows(text, "boom", "stations")} == {"1-3/4 in", "2-5/8 in", "1.5748 in"}
    assert retarget(YAWL, "boom", [(0, 53.975)]) == YAWL
    text = retarget(LUGGER, "yard", [(0, 39.123456)])
    assert rows(text, "yard", "stations")[0] == {"at": "0", "width": "39.1230 mm"}


def test_a_spar_that_is_left_out_can_be_mended_step_by_step() -> None:
    text = WRITTEN["rows"].replace('{ at = "10 ft", width = "2 in" }', '{ at = "11 ft", width = "2 kg" }')
    assert [spar.name for spar in read(text).boat.spars] == ["boom"]
    given = [dict(row) for row in rows(text, "main mast", "stations")]
    assert given[-1] == {"at": "11 ft", "width": "2 kg"}
    given[-1]["width"] = "2"
    text = set_rows(text, "main mast", "stations", given, "in")
    assert [spar.name for spar in read(text).boat.spars] == ["boom"]
    text = set_key(text, "main mast", "length", "11 ft", "in")
    assert read(text).faults == ()


def test_a_fault_that_is_there_is_no_hindrance() -> None:
    text = WRITTEN["rows"].replace('at="4 ft"', 'at="14 ft"')
    assert [fault.key for fault in read(text).faults] == ["fittings 2"]
    longer = set_key(text, "main mast", "length", "13 ft", "in")
    assert [fault.key for fault in read(longer).faults] == ["fittings 2"]
    with pytest.raises(InputFault, match=r"joints \d: the hinge at 12 ft lies past"):
        set_rows(text, "main mast", "joints", [{"at": "12 ft", "kind": "hinge"}], "in")


def test_a_new_target_for_a_spar_by_a_table_is_a_faired_one() -> None:
    text = set_key(YAWL, "boom", "law", "skene 1927 boom", "in")
    design = read(text).boat.spar("boom").outline()
    now = read(retarget(text, "boom", [(at, width * 0.9) for at, width in design.stations])).boat.spar("boom")
    assert now.law == "faired"
    for (at, width), station in zip(design.stations, now.stations, strict=True):
        assert station.at == pytest.approx(at, abs=0.00254)
        assert -0.00255 < station.width - width * 0.9 <= 1e-6


def test_a_new_target_for_an_oval_has_both_ways() -> None:
    text = retarget(LUGGER, "boom", [(2300.0, 51.0)], [(0.0, 53.5), (2300.0, 65.25)])
    assert [(station.width, station.depth) for station in read(text).boat.spar("boom").stations] == [
        (46.0, 53.5), (51.0, 65.25), (42.0, 48.0),
    ]  # fmt: skip


def test_a_copy_is_another_piece_of_wood() -> None:
    """What was measured on the first one, and which steps are done, is not said of the copy."""
    text = tick(YAWL, "mizzen mast", "true-blank", True)
    first = read(text).boat.spar("mizzen mast")
    assert first.log
    assert first.done
    copied = read(copy_spar(text, "mizzen mast", "spare mizzen")).boat
    assert copied.spar("mizzen mast") == first
    assert copied.spar("spare mizzen") == first._replace(name="spare mizzen", log=(), done=())
