"""The species command: the whole table, one timber, a boat's own, in words and in JSON."""

import csv
import json
from pathlib import Path

import shopcompanion.timber

FILE = Path(shopcompanion.timber.__file__).with_name("species.csv")
ROWS = list(csv.DictReader(FILE.read_text(encoding="utf-8").splitlines()))


def test_every_timber_with_its_source_and_mark(call):
    said = call("species")
    assert (said.status, said.err) == (0, "")
    lines = said.out.splitlines()
    assert len(lines) == 3 * len(ROWS)
    for row, name, source in zip(ROWS, lines[::3], lines[2::3], strict=True):
        assert name == row["species"]
        assert source == f"  {row['source_table']}; {row['mark']}"


def test_json_has_the_figures_of_the_table_in_its_units(call):
    found = json.loads(call("species", "--json").out)
    assert found["units"]["modulus"] == found["units"]["rupture"] == "MPa"
    assert [one["name"] for one in found["species"]] == [row["species"] for row in ROWS]
    for row, one in zip(ROWS, found["species"], strict=True):
        assert one["modulus"] == float(row["MOE_MPa"])
        assert one["radial"] == (float(row["shrink_radial_pct"]) if row["shrink_radial_pct"] else None)
        assert (one["source"], one["mark"], one["own"]) == (row["source_table"], row["mark"], False)


def test_one_timber_by_some_of_its_name(call):
    said = call("species", "sitka", "--units", "mm").out
    assert said.startswith("Spruce, Sitka\n")
    for words in ("10 800 MPa", "70 MPa", "7.5 %", "GTR-190: strength Table 5-3a", "memory, cross-checked"):
        assert words in said
    assert "1 570 000 psi" in call("species", "sitka", "--units", "in").out


def test_a_boats_own_come_first_and_are_marked(call):
    said = call("species", "--boat", "fjord-lugger").out.splitlines()
    assert said[0] == "Larch, fjord side"
    assert "the boat's own" in said[2]
    assert "12 400 MPa" in said[1]
    (one,) = json.loads(call("species", "fjord", "--boat", "fjord-lugger", "--json").out)["species"]
    assert one["own"] is True


def test_no_such_timber_is_one_line(call):
    for word, words in (("spruce", "say which"), ("fjord", "no timber is called 'fjord'"), ("\x1b[2J", "\ufffd")):
        said = call("species", word)
        assert (said.status, said.out) == (2, "")
        assert said.err.count("\n") == 1
        assert words in said.err
