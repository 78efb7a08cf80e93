"""The commands of the boats, in a folder of their own."""

import json
import tomllib

import jsonschema
import pytest

FAULTY = """format = 1
[boat]
name = "Skiff"
units = "inn"
[[spar]]
name = "boom"
length = "8 ft"
stations = [{ at = "0", widht = "2 in" }, { at = "8 ft", width = "1-1/2 in" }]
"""


@pytest.fixture
def boats(call, tmp_path):
    """Run a command with a folder of its own."""
    folder = tmp_path / "boats"

    def run(command: str, *argv: str):
        return call(command, *argv, "--profiles", str(folder))

    run.folder = folder
    return run


def test_list_offers_the_examples(boats):
    said = boats("list")
    assert (said.status, said.err) == (0, "")
    assert [line.split("  ")[0] for line in said.out.splitlines()] == ["fjord-lugger", "saltmarsh-yawl"]
    assert "an example" in said.out
    found = json.loads(boats("list", "--json").out)
    assert [one["name"] for one in found if one["example"]] == ["fjord-lugger", "saltmarsh-yawl"]
    assert boats("list", "--names").out == "fjord-lugger\nsaltmarsh-yawl\n"
    assert not boats.folder.exists()


def test_new_list_show_check_and_restore(boats):
    said = boats("new", "Oyster punt", "--units", "mm")
    assert (said.status, said.err) == (0, "")
    name, _, path = said.out.strip().partition(": ")
    assert name == "oyster-punt"
    assert path == str(boats.folder / "oyster-punt.toml")
    assert "oyster-punt" in boats("list", "--names").out.split()
    assert boats("show", name).out.startswith("Oyster punt\n")
    assert json.loads(boats("show", name, "--json").out)["units"] == "mm"
    checked = boats("check", name)
    assert (checked.status, checked.out, checked.err) == (0, "oyster-punt: no fault\n", "")
    assert boats("restore", name).out == "oyster-punt has no earlier version\n"


def test_new_like_an_example_takes_its_spars(boats):
    assert boats("new", "Our yawl", "--like", "saltmarsh-yawl").status == 0
    ours, theirs = (json.loads(boats("show", name, "--json").out) for name in ("our-yawl", "saltmarsh-yawl"))
    assert ours["name"] == "Our yawl"
    assert ours["spars"] == theirs["spars"] != []


def test_a_copy_keeps_its_units(boats):
    said = boats("new", "Our yawl", "--like", "saltmarsh-yawl", "--units", "mm")
    assert (said.status, said.out) == (2, "")
    assert said.err == "shopcompanion: --units: a copy keeps the units of the boat that it is like\n"


def test_new_never_replaces_a_boat(boats):
    boats("new", "Punt")
    path = boats.folder / "punt.toml"
    path.write_text("# mine\n", encoding="utf-8")
    said = boats("new", "punt")
    assert (said.status, said.out) == (0, f"punt-2: {boats.folder / 'punt-2.toml'}\n")
    assert path.read_text(encoding="utf-8") == "# mine\n"


@pytest.mark.parametrize("name", ["", " ", "a\x1bb", "x" * 500])
def test_names_that_will_not_do(boats, name):
    said = boats("new", name)
    assert (said.status, said.out) == (2, "")
    assert said.err.count("\n") == 1
    assert not boats.folder.exists()


def test_restore_brings_a_version_back(boats):
    from shopcompanion.storage import store

    boats("new", "Punt")
    places = store.places(str(boats.folder))
    opened = store.open_boat(store.find(places, "punt"))
    first = opened.text
    store.save(places, opened, first + "# a note\n")
    said = boats("restore", "punt")
    assert said.status == 0
    assert len(said.out.splitlines()) == 1
    assert said.out.startswith("1  ")
    back = boats("restore", "punt", "--version", "1")
    assert (back.status, back.err) == (0, "")
    assert (boats.folder / "punt.toml").read_text(encoding="utf-8") == first
    assert len(boats("restore", "punt").out.splitlines()) == 2
    (boats.folder / "punt.toml").unlink()
    assert boats("restore", "punt", "--version", "2").status == 0
    assert (boats.folder / "punt.toml").read_text(encoding="utf-8") == first


@pytest.mark.parametrize("number", ["0", "7", "-1", "one", "1.0", "9" * 5000, "²"])
def test_a_version_that_is_not_there(boats, number):
    boats("new", "Punt")
    said = boats("restore", "punt", "--version", number)
    assert (said.status, said.out) == (2, "")
    assert said.err.count("\n") == 1
    assert "is not a version: there is none" in said.err


def test_check_lists_every_fault_with_its_place(boats, tmp_path):
    path = tmp_path / "skiff.toml"
    path.write_text(FAULTY, encoding="utf-8")
    said = boats("check", str(path))
    assert (said.status, said.out) == (2, "")
    assert "'inn' is none of in, mm (did you mean 'in'?)" in said.err
    assert "widht" in said.err
    assert "(did you mean 'width'?)" in said.err
    assert "spar 1 'boom'" in said.err
    lines = said.err.splitlines()
    found = boats("check", str(path), "--json")
    assert (found.status, found.err) == (2, "")
    listed = json.loads(found.out)
    assert len(listed) == len(lines)
    assert all(set(one) == {"table", "key", "value", "reason"} for one in listed)
    assert any(one["key"] == "units" and "inn" in one["value"] for one in listed)


@pytest.mark.parametrize("name", ["fjord-lugger", "saltmarsh-yawl"])
def test_the_examples_have_no_fault(boats, name):
    assert boats("check", name).status == 0
    assert boats("check", name, "--json").out == "[]\n"


@pytest.mark.parametrize("data", [b"", b"[boat", b"\xff\xfe\x00", b"a = 1e999999", b"[[[", b"x" * 1000])
def test_check_takes_any_file(boats, tmp_path, data):
    path = tmp_path / "odd.toml"
    path.write_bytes(data)
    said = boats("check", str(path))
    assert said.status in (1, 2)
    assert said.out == ""
    assert said.err


@pytest.mark.parametrize("word", ["missing.toml", "no/such/file", "nobody"])
def test_check_of_what_is_not_there(boats, word):
    said = boats("check", word)
    assert said.status in (1, 2)
    assert said.out == ""
    assert said.err.count("\n") == 1


def test_show_one_spar(boats):
    said = boats("show", "saltmarsh-yawl", "--spar", "mizzen mast")
    assert said.status == 0
    assert "    11 ft 3 in              1-3/4 in\n" in said.out
    assert "    5 ft                    hinge\n" in said.out
    found = json.loads(boats("show", "saltmarsh-yawl", "--spar", "mizzen mast", "--json").out)
    assert found["length"] == {"value": 3429.0, "unit": "mm", "text": "11 ft 3 in"}
    assert len(found["stations"]) == 3
    table = tomllib.loads(boats("show", "saltmarsh-yawl", "--spar", "mizzen mast", "--toml").out)
    assert [one["name"] for one in table["spar"]] == ["mizzen mast"]
    assert table["spar"][0]["stations"][1] == {"at": "2 ft", "width": "2-3/4 in"}
    missing = boats("show", "saltmarsh-yawl", "--spar", "mast")
    assert (missing.status, missing.out) == (2, "")


def test_show_toml_is_the_profile_word_for_word(boats):
    from shopcompanion.storage import store

    opened = store.open_boat(store.find(store.places(str(boats.folder)), "saltmarsh-yawl"))
    assert boats("show", "saltmarsh-yawl", "--toml").out == opened.text
    said = boats("show", "saltmarsh-yawl", "--toml", "--json")
    assert (said.status, said.out) == (2, "")


def test_where_makes_nothing(boats):
    said = boats("where")
    assert said.status == 0
    assert str(boats.folder) in said.out
    found = json.loads(boats("where", "--json").out)
    assert found["profiles"] == str(boats.folder)
    assert set(found) == {"profiles", "versions", "recovery", "examples", "config"}
    assert not boats.folder.exists()


def test_the_schema_takes_the_examples_and_refuses_a_fault(call, boats):
    schema = json.loads(call("schema").out)
    validator = jsonschema.validators.validator_for(schema)
    validator.check_schema(schema)
    profile = tomllib.loads(boats("show", "saltmarsh-yawl", "--toml").out)
    good = json.loads(json.dumps(profile, default=str))  # a day of TOML is a text of JSON
    assert list(validator(schema).iter_errors(good)) == []
    assert list(validator(schema).iter_errors(tomllib.loads(FAULTY)))


def test_noughts_before_a_version_change_nothing_of_it(boats):
    """The twelfth is the twelfth, however it is written."""
    from shopcompanion.storage import store

    boats("new", "Punt")
    places = store.places(str(boats.folder))
    opened = store.open_boat(store.find(places, "punt"))
    first = opened.text
    for number in range(13):
        opened = store.save(places, opened, f"{first}# {number}\n")
    assert boats("restore", "punt", "--version", "0000000012").status == 0
    assert (boats.folder / "punt.toml").read_text(encoding="utf-8") == f"{first}# 0\n"
    assert boats("restore", "punt", "--version", "0" * 20 + "1").status == 2


def test_unsaved_work_of_a_boat_that_is_gone_is_listed_and_comes_back(boats):
    from shopcompanion.storage import store

    boats("new", "Punt")
    boats("new", "Skiff")
    places = store.places(str(boats.folder))
    for name in ("punt", "skiff"):
        opened = store.open_boat(store.find(places, name))
        store.recover_note(places, opened, opened.text + "# work\n")
    (boats.folder / "skiff.toml").unlink()
    lines = {line.split()[0]: line for line in boats("list").out.splitlines()}
    assert "with work that was not saved" in lines["punt"]
    assert "deleted, with work of" in lines["skiff"]
    assert {"name": "skiff", "path": None, "example": False, "saved": None, "unfinished": True} in json.loads(
        boats("list", "--json").out
    )
    for name in ("punt", "skiff"):
        assert boats("restore", name).out.startswith("unsaved  ")
        assert boats("restore", name, "--version", "unsaved").status == 0
        assert (boats.folder / f"{name}.toml").read_text(encoding="utf-8").endswith("# work\n")
    assert "not saved" not in boats("list").out
    assert len(boats("restore", "punt").out.splitlines()) == 1
