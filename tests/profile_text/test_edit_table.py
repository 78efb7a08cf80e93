"""Shop, timber, yard, pieces and species changed in a profile's text: what was not touched stays to the byte."""

import tomllib
from pathlib import Path

import pytest

from shopcompanion.errors import InputFault
from shopcompanion.profile.parse import read
from shopcompanion.profile_text import edit_table
from shopcompanion.profile_text.edit_spar import add_spar

PROFILES = Path(__file__).parents[2] / "profiles"
BARE = 'format = 1\n\n[boat]\nname = "Dabchick"\nunits = "in"\n'
LUGGER = (PROFILES / "fjord-lugger.toml").read_text(encoding="utf-8")


def test_the_first_value_of_the_shop_makes_its_table() -> None:
    text = edit_table.set_value(BARE, "shop", "kerf", "3/32", "in")
    assert text == BARE + '\n[shop]\nkerf = "3/32 in"\n'
    text = edit_table.set_value(text, "shop", "saw_depth", "80 mm", "in")
    assert text.endswith('kerf = "3/32 in"\nsaw_depth = "80 mm"\n')
    assert edit_table.set_value(text, "shop", "kerf", None, "in") == BARE + '\n[shop]\nsaw_depth = "80 mm"\n'
    assert edit_table.values(text, "shop") == {"kerf": "3/32 in", "saw_depth": "80 mm"}


@pytest.mark.parametrize(
    "shop",
    ['[shop]\nkerf = "1/8 in"  # thin\n', 'shop = { kerf = "1/8 in" }\n', 'shop.kerf = "1/8 in"\n'],
)
def test_the_shop_is_changed_however_it_is_written(shop: str) -> None:
    text = f"format = 1\n{shop}{BARE[11:]}"
    changed = edit_table.set_value(text, "shop", "kerf", "3/32", "in")
    assert changed == text.replace('"1/8 in"', '"3/32 in"')


def test_a_value_that_does_not_read_is_refused() -> None:
    for key, text in (("kerf", "-1"), ("kerf", "x"), ("currency", "euros"), ("kerb", "1")):
        with pytest.raises(InputFault):
            edit_table.set_value(BARE, "shop", key, text, "in")


def test_bits_are_added_in_order_and_a_remark_stays() -> None:
    bits = [dict(row) for row in edit_table.rows(LUGGER, "shop", "bits")]
    bits.insert(1, {"radius": "16"})
    text = edit_table.set_rows(LUGGER, "shop", "bits", bits, "mm")
    assert [bit.radius for bit in read(text).boat.shop.bits][:4] == [12, 16, 19.05, 25]
    assert "# bought in inches" in text
    assert text.replace('    { radius = "16 mm" },\n', "") == LUGGER
    assert edit_table.set_rows(text, "shop", "bits", edit_table.rows(LUGGER, "shop", "bits"), "mm") == LUGGER


def test_the_first_bit_of_a_boat_without_a_shop() -> None:
    text = edit_table.set_rows(BARE, "shop", "bits", [{"kind": "cove", "radius": "3/4"}], "in")
    assert tomllib.loads(text)["shop"] == {"bits": [{"kind": "cove", "radius": "3/4 in"}]}
    assert edit_table.set_rows(BARE, "shop", "drums", [], "in") == BARE


def test_bits_under_headers_of_their_own() -> None:
    text = BARE + '[shop]\nkerf = "1/8 in"\n[[shop.bits]]\nradius = "1/2 in"\n'
    changed = edit_table.set_rows(text, "shop", "bits", [{"radius": "1/2"}, {"radius": "1"}], "in")
    assert changed == text + '[[shop.bits]]\nradius = "1 in"\n'


def test_timber_is_added_changed_and_dropped() -> None:
    timber = [{"name": "plank", "species": "Spruce, Sitka", "nominal": "2 x 6", "length": "12 ft"}]
    text = edit_table.set_listed(BARE, "timber", timber, "in")
    (plank,) = read(text).boat.timbers
    assert (plank.name, plank.nominal, plank.length) == ("plank", "2 x 6", 3657.6)
    row = {**edit_table.listed(text, "timber")[0], "knots": "2 ft to 2 ft 3 in; 5 ft to 5 ft 1"}
    knotty = edit_table.set_listed(text, "timber", [row], "in")
    assert [(knot.from_, knot.to) for knot in read(knotty).boat.timbers[0].knots] == [(609.6, 685.8), (1524, 1549.4)]
    assert edit_table.listed(knotty, "timber")[0]["knots"].startswith("2 ft to 2 ft 3 in; 5 ft to 5 ft 1")
    assert edit_table.set_listed(knotty, "timber", [], "in") == BARE
    for bad in ("2 ft", "2 ft to", "3 ft to 2 ft", "a to b"):
        with pytest.raises(InputFault):
            edit_table.set_listed(text, "timber", [{**row, "knots": bad}], "in")


def test_a_row_that_is_not_whole_is_refused_by_name() -> None:
    with pytest.raises(InputFault, match="missing"):
        edit_table.set_listed(BARE, "timber", [{"name": "plank"}], "in")
    with pytest.raises(InputFault, match="give thickness and width, or a nominal size"):
        edit_table.set_listed(BARE, "timber", [{"name": "plank", "length": "8 ft"}], "in")
    sold = {"name": "plank", "nominal": "2 x 6", "lengths": "8 ft; 10 ft", "price": "12.50"}
    with pytest.raises(InputFault, match="currency"):
        edit_table.set_listed(BARE, "yard", [sold], "in")


def test_what_the_yard_sells_in_the_middle_of_the_list() -> None:
    rows = [dict(row) for row in edit_table.listed(LUGGER, "yard")]
    assert rows[0]["lengths"] == "3.0 m; 4.2 m; 5.7 m"
    rows.insert(
        1, {"name": "lath", "thickness": "10", "width": "40", "lengths": "2 m; 3", "price": "1.20", "per": "piece"}
    )
    text = edit_table.set_listed(LUGGER, "yard", rows, "mm")
    boat = read(text).boat
    assert [offer.name for offer in boat.yard][:3] == ["whitewood, 125 square", "lath", "whitewood, 75 x 150"]
    assert boat.yard[1].lengths == (2000, 3)
    assert edit_table.set_listed(text, "yard", edit_table.listed(LUGGER, "yard"), "mm") == LUGGER


def test_a_species_that_is_called_otherwise_keeps_its_timber() -> None:
    rows = [dict(row) for row in edit_table.listed(LUGGER, "species")]
    assert rows[0]["modulus"] == "12400 MPa"
    rows[0] |= {"name": "Larch, north side", "radial": "4.0"}
    text = edit_table.set_listed(LUGGER, "species", rows, "mm")
    boat = read(text).boat
    assert read(text).faults == ()
    assert boat.species[0].radial == 4.0
    assert [piece.species for piece in boat.pieces] == ["Ash, White", "Larch, north side"]
    assert text.count("Larch, fjord side") == 0
    with pytest.raises(InputFault):  # it is still what the larch board is
        edit_table.set_listed(LUGGER, "species", [], "mm")


def test_a_bare_number_gets_the_unit_it_was_typed_in() -> None:
    text = add_spar(BARE, "mast", length="12 ft", butt="3", head="2", unit="in")
    text = edit_table.set_value(text, "boat", "crew", "70", "mm")
    assert tomllib.loads(text)["boat"]["crew"] == "70 kg"
    assert read(text).boat.crew == pytest.approx(70)
    assert edit_table.values(text, "boat")["crew"] == "70 kg"
