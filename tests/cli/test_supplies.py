"""The command of all that is to be bought."""

import csv
import io
import json

import pytest

pytestmark = pytest.mark.usefixtures("searched_once")


def test_the_list_in_words_as_a_page_in_json_and_for_a_spreadsheet(call):
    where = ("--boat", "saltmarsh-yawl", "--seconds", "5")
    words = call("supplies", *where)
    assert (words.status, words.err) == (0, "")
    assert words.out.startswith("Saltmarsh yawl: to buy\n")
    page = call("supplies", *where, "--page", "--date", "2026-05-02").out
    assert "Date: 2026-05-02" in page
    found = json.loads(call("supplies", *where, "--json").out)
    assert round(100 * found["total"]) == sum(round(100 * float(line["price"] or 0)) for line in found["lines"])
    rows = list(csv.DictReader(io.StringIO(call("supplies", *where, "--csv").out)))
    assert [row["what"] for row in rows] == [line["what"] for line in found["lines"]]


def test_what_is_asked_wrongly_is_one_line(call):
    for argv, words in (
        (("supplies",), "--boat: is needed"),
        (("supplies", "--boat", "saltmarsh-yawl", "--csv", "--json"), "give --json or --csv"),
        (("supplies", "--boat", "saltmarsh-yawll"), "saltmarsh-yawl"),
        (("supplies", "--boat", "saltmarsh-yawl", "--seconds", "x"), "is not a number of seconds"),
    ):
        said = call(*argv)
        assert (said.status, said.out, said.err.count("\n")) == (2, "", 1), argv
        assert words in said.err


def test_a_fault_in_the_profile_is_told_and_ends_with_3(call, tmp_path):
    (tmp_path / "boat.toml").write_text(
        'format = 1\n[boat]\nname = "Dabchick"\nunits = "mm"\n[[spar]]\nname = "mast"\nlength = "3 m"\n'
        'stations = [{ at = "0", width = "60 mm" }, { at = "3 m", width = "50 mm" }]\n'
        'fittings = [{ at = "1 m", kind = "kleat" }]\n',
        encoding="utf-8",
    )
    said = call("supplies", "--boat", "boat", "--profiles", str(tmp_path))
    assert said.status == 3
    assert "LEFT OUT" in said.out
    assert "kleat" in said.out
