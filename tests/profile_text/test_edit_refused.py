"""Changes to a spar that would not be sound: refused in one line that says which key, and the text is as it was."""

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from shopcompanion.errors import InputFault
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

from .spar_layouts import YAWL

DAY = date(2026, 5, 2)


def _boom(**cells: str) -> Callable[[], str]:
    """The boom's stations with the second one so."""
    given = [dict(row) for row in rows(YAWL, "boom", "stations")]
    given[1].update(cells)
    return lambda: set_rows(YAWL, "boom", "stations", given, "in")


MEASURED: dict[str, Any] = {"when": DAY, "unit": "in"}


@pytest.mark.parametrize(
    ("act", "field", "reason"),
    [
        (_boom(width="3/0"), "stations 2, width", "zero below the line"),
        (_boom(width=""), "stations 2, width", "missing; for example '3-1/2 in'"),
        (_boom(width="-1"), "stations 2, width", "must be more than 0 in"),
        (_boom(depth="2"), "stations 2, depth", "only a spar whose section is oval has a depth"),
        (_boom(at="12 ft"), "stations 2, at", "the station at 12 ft lies past the head"),
        (_boom(at="0"), "stations 2, at", "stands after the one at 0 in"),
        (_boom(girth="2"), "stations 2", "'girth' is none of at, width, depth"),
        (lambda: set_rows(YAWL, "boom", "stations", [], "in"), "stations", "missing"),
        (lambda: set_rows(YAWL, "boom", "law", [], "in"), None, "'law' is none of solid, stations, regions"),
        (lambda: set_rows(YAWL, "boom", "joints", [{"at": "1"}], "in"), "joints 1, kind", "missing"),
        (lambda: set_rows(YAWL, "boom", "joints", [{"at": "1", "kind": "glue"}], "in"), "joints 1, kind", "none of"),
        (lambda: set_rows(YAWL, "boom", "joints", [{"at": "12 ft", "kind": "butt"}], "in"), "joints 1", "the head"),
        (lambda: set_key(YAWL, "boom", "length", "5 ft", "in"), "stations 3, at", "stands after the one"),
        (lambda: set_key(YAWL, "boom", "length", "11 ft 6", "in"), "fittings 4", "outhaul at 11 ft 7 in lies past"),
        (lambda: set_key(YAWL, "boom", "length", None, "in"), "length", "cannot be left empty"),
        (lambda: set_key(YAWL, "boom", "length", "2 kg", "in"), "length", "this is a mass"),
        (lambda: set_key(YAWL, "boom", "law", "curved", "in"), "law", "'curved' is none of"),
        (lambda: set_key(YAWL, "main mast", "law", "bowed", "in"), "stations 3, width", "a bowed spar has stations"),
        (lambda: set_key(YAWL, "main mast", "blank", "3", "in"), "blank", "less than the spar's thickest"),
        (lambda: set_key(YAWL, "boom", "section", "hollow", "in"), "wall", "missing"),
        (lambda: set_key(YAWL, "boom", "square_to", "12 ft", "in"), "square_to", "past the head"),
        (lambda: set_key(YAWL, "boom", "name", "Gaff ", "in"), "name", "another spar is called 'gaff'"),
        (lambda: set_key(YAWL, "boom", "name", None, "in"), "name", "empty"),
        (lambda: set_key(YAWL, "boom", "done", "x", "in"), None, "'done' is not a single value"),
        (lambda: set_key(YAWL, "boom", "stations", "x", "in"), None, "'stations' is not a single value"),
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
        (lambda: put_measure(YAWL, "boom", "4 ft", ["2"], None, **MEASURED), "widths", "needs 2 to 4"),
        (lambda: put_measure(YAWL, "boom", "4 ft", ["2", "x"], None, **MEASURED), "widths", "a number is needed"),
        (lambda: put_measure(YAWL, "boom", "4 ft", None, "a", **MEASURED), "girth", "a number is needed"),
        (lambda: put_measure(YAWL, "boom", "4 ft", ["2", "2"], "6", **MEASURED), "log", "both widths and a girth"),
        (lambda: put_measure(YAWL, "boom", "4 f", ["2", "2"], None, **MEASURED), "at", "not a unit of length"),
        (lambda: put_measure(YAWL, "boom", "40 ft", ["2", "2"], None, **MEASURED), "log", "lies past the head"),
        (lambda: retarget(YAWL, "boom", [(1.0, 20.0)]), "stations", "no station at 1 mm"),
        (lambda: retarget(YAWL, "main mast", [(0.0, 200.0)]), "blank", "less than the spar's thickest"),
        (lambda: drop_spar("a = [", "x"), None, "is not valid TOML, mend it first"),
        (lambda: drop_spar("spar = 3", "x"), None, "'spar' in the file is not a list of tables"),
        (lambda: rows("format = 9", "x", "joints"), None, "newer companion"),
        (lambda: rows('[[spar]]\nname = "x"\njoints = 3', "x", "joints"), "joints", "in the file is not a list of"),
        (lambda: tick('[[spar]]\nname = "x"\ndone = 3', "x", "a", True), "done", "in the file is not a list of"),
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
