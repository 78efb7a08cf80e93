"""A fitting put on a spar: one row more in the profile, in every layout, and every other byte as it was."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.errors import InputFault
from shopcompanion.profile_text.edit_fitting import add_fitting, as_texts
from shopcompanion.profile_text.edit_spar import rows, set_rows
from shopcompanion.spar.fitting import Fitting

from .spar_layouts import BOOM, LAYOUTS, MAST, STARTS, WRITTEN, YAWL, spars
from .test_edit_boat import STYLES, lines_changed

CLEAT = {"at": "2 ft", "kind": "cleat", "name": "sheet", "length": "4", "flat": "1/8"}
AS_READ = Fitting(at=609.6, kind="cleat", name="sheet", length=101.6, flat=3.175)


@pytest.fixture(params=[(layout, style) for layout in LAYOUTS for style in STYLES], ids=" / ".join)
def written(request: pytest.FixtureRequest) -> str:
    layout, style = request.param
    text: str = STYLES[style](WRITTEN[layout])
    return text


def test_it_stands_in_its_place_along_the_spar(written: str) -> None:
    changed = add_fitting(written, "MAIN mast", CLEAT, "in")
    step, cleat = MAST.fittings
    assert spars(changed) == (MAST._replace(fittings=(step, AS_READ, cleat)), BOOM)
    assert changed.count("#") == written.count("#")
    gone, come = lines_changed(written, changed)
    assert "".join(come).count('"4 in"') == 1
    assert len(gone) <= 1  # a list in one line
    less = [row for row in rows(changed, "main mast", "fittings") if row.get("name") != "sheet"]
    assert spars(set_rows(changed, "main mast", "fittings", less, "in")) == (MAST, BOOM)


def test_the_first_one_makes_the_list(written: str) -> None:
    changed = add_fitting(written, "boom", {**CLEAT, "name": " "}, "in")
    assert spars(changed) == (MAST, BOOM._replace(fittings=(AS_READ._replace(name=None),)))
    assert len(lines_changed(written, changed)[0]) <= 1
    assert changed.count("#") == written.count("#")


def test_at_the_same_station_it_comes_behind_and_at_the_head_last() -> None:
    changed = add_fitting(YAWL, "boom", {"at": "5 in", "kind": "eye"}, "in")
    assert [fitting.kind for fitting in spars(changed)[2].fittings][:3] == ["gooseneck", "tack hook", "eye"]
    changed = add_fitting(YAWL, "boom", {"at": "11 ft 9", "kind": "eye"}, "in")
    assert spars(changed)[2].fittings[-1].kind == "eye"


def test_only_its_own_line_is_new_in_a_profile() -> None:
    changed = add_fitting(YAWL, "bowsprit bitt", {"at": "20 in", "kind": "lap", "length": "60 mm", "flat": "1"}, "in")
    gone, come = lines_changed(YAWL, changed)
    assert gone == []
    assert [line.strip() for line in come] == ['{ at = "20 in", kind = "lap", length = "60 mm", flat = "1 in" },']


def test_a_text_with_a_mark_of_byte_order_keeps_it() -> None:
    assert add_fitting("\ufeff" + YAWL, "boom", CLEAT, "in") == "\ufeff" + add_fitting(YAWL, "boom", CLEAT, "in")


@pytest.mark.parametrize(
    ("change", "field", "reason"),
    [
        ({"at": "12 ft"}, None, "the cleat at 12 ft lies past the head"),
        ({"length": ""}, None, "has a flat of 1/8 in and no length for it"),
        ({"length": "13 ft"}, None, "longer than the spar"),
        ({"flat": "0"}, "flat", "must be more than"),
        ({"kind": "glue"}, "kind", "none of"),
        ({"kind": ""}, "kind", "missing"),
        ({"at": ""}, "at", "missing; for example '3-1/2 in'"),
        ({"at": "2 kg"}, "at", "a mass"),
        ({"face": "E"}, "face", "none of"),
        ({"depth": "2"}, "fittings", "'depth' is none of at, kind, name"),
        ({"name": "a\x1bb"}, "name", "cannot be shown"),
    ],
)
def test_what_the_spar_cannot_take_is_refused_in_one_line(
    change: dict[str, str], field: str | None, reason: str
) -> None:
    with pytest.raises(InputFault, match=reason) as refused:
        add_fitting(YAWL, "boom", {**CLEAT, **change}, "in")
    assert refused.value.field == field
    assert str(refused.value).isprintable()


def test_a_spar_that_is_not_there_and_fittings_that_are_none_are_told() -> None:
    with pytest.raises(InputFault, match="no spar is called 'bom'"):
        add_fitting(YAWL, "bom", CLEAT, "in")
    with pytest.raises(InputFault, match="in the file is not a list of"):
        add_fitting('[[spar]]\nname = "x"\nfittings = 3', "x", CLEAT, "in")


@given(
    start=st.sampled_from(STARTS), part=st.floats(0, 1), length=st.floats(1, 200), unit=st.sampled_from(["in", "mm"])
)
def test_whatever_a_calculator_says_is_there_when_it_is_read_again(start, part, length, unit) -> None:
    """Lengths in mm become texts of the unit: within a figure of it, and never more."""
    spar = spars(start)[0]
    row = as_texts({"at": part * spar.length, "kind": "lap", "length": length, "flat": None, "name": ""}, unit)
    changed = add_fitting(start, spar.name, row, unit)
    (new,) = (fitting for fitting in spars(changed)[0].fittings if fitting.kind == "lap")
    step = 0.00254 if unit == "in" else 0.001
    assert length - step - 1e-6 <= new.length <= length + 1e-5
    assert part * spar.length - step - 1e-6 <= new.at <= part * spar.length + 1e-5
    assert (new.flat, new.name) == (0.0, None)
    others = [fitting for fitting in spars(changed)[0].fittings if fitting.kind != "lap"]
    assert tuple(others) == spar.fittings
    ats = [fitting.at for fitting in spars(changed)[0].fittings]
    assert ats == sorted(ats)
