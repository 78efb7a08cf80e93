"""Unsaved work: on the disk at every change, offered after a crash, gone when it is saved or given up."""

import tomllib

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shopcompanion.boat.keep import (
    Conflict,
    Places,
    find,
    listings,
    open_boat,
    recover_note,
    recovery,
    recovery_done,
    rename_boat,
    save,
    take_up,
)
from shopcompanion.errors import InputFault

from .test_keep import TEXT, put


def test_work_is_offered_after_a_crash_and_gone_after_a_save(home: Places) -> None:
    put(home, "teal", TEXT)
    boat = open_boat(find(home, "teal"))
    assert recovery(home, boat.listing) is None
    for k in range(3):
        recover_note(home, boat, TEXT + f"# {k}\n")
    # the program is gone; the next one starts
    listed = find(home, "teal")
    assert listed.unfinished
    found = recovery(home, listed)
    assert found is not None
    assert (found.name, found.text, found.base, found.tried) == ("teal", TEXT + "# 2\n", boat.stamp, False)
    taken = take_up(home, open_boat(listed), found)
    saved = save(home, taken, found.text)
    assert recovery(home, saved.listing) is None
    assert not find(home, "teal").unfinished
    assert list(home.recovery.iterdir()) == []


def test_the_copy_is_put_aside_before_it_is_worked_on_and_is_still_there_after_another_crash(home: Places) -> None:
    put(home, "teal", TEXT)
    boat = open_boat(find(home, "teal"))
    recover_note(home, boat, TEXT + "# work\n")
    found = recovery(home, boat.listing)
    assert found is not None
    take_up(home, boat, found)
    again = recovery(home, boat.listing)
    assert again is not None
    assert (again.text, again.tried) == (found.text, True)
    assert find(home, "teal").unfinished
    taken = take_up(home, boat, again)
    recover_note(home, taken, TEXT + "# more work\n")
    newest = recovery(home, boat.listing)
    assert newest is not None
    assert (newest.text, newest.tried, newest.base) == (TEXT + "# more work\n", False, boat.stamp)
    recovery_done(home, boat.listing)
    assert recovery(home, boat.listing) is None
    recovery_done(home, boat.listing)


def test_what_another_program_wrote_after_the_crash_is_not_overwritten(home: Places) -> None:
    path = put(home, "teal", TEXT)
    recover_note(home, open_boat(find(home, "teal")), TEXT + "# work\n")
    path.write_text(TEXT + "# theirs\n")
    boat = open_boat(find(home, "teal"))
    found = recovery(home, boat.listing)
    assert found is not None
    with pytest.raises(Conflict):
        save(home, take_up(home, boat, found), found.text)
    assert path.read_text() == TEXT + "# theirs\n"
    assert recovery(home, boat.listing) is not None


def test_another_save_does_not_lose_the_work(home: Places) -> None:
    put(home, "teal", TEXT)
    boat = open_boat(find(home, "teal"))
    recover_note(home, boat, TEXT + "# work\n")
    save(home, boat, TEXT + "# by another way\n")
    found = recovery(home, boat.listing)
    assert found is not None
    assert found.text == TEXT + "# work\n"
    with pytest.raises(InputFault, match="teal has unsaved work"):
        rename_boat(home, "teal", "Grebe")


def test_an_examples_work_is_not_the_work_of_the_boat_of_the_same_name(home: Places) -> None:
    example = open_boat(find(home, "fjord-lugger"))
    recover_note(home, example, example.text + "# work\n")
    put(home, "fjord-lugger", TEXT)
    assert [(one.is_example, one.unfinished) for one in listings(home) if one.name == "fjord-lugger"] == [
        (False, False),
        (True, True),
    ]
    assert recovery(home, find(home, "fjord-lugger")) is None
    found = recovery(home, example.listing)
    assert found is not None
    assert found.is_example
    save(home, take_up(home, example, found), found.text)
    assert recovery(home, example.listing) is None


def test_the_work_of_a_boat_that_has_vanished_is_found_by_its_name(home: Places) -> None:
    path = put(home, "teal", TEXT)
    recover_note(home, open_boat(find(home, "teal")), TEXT + "# work\n")
    path.unlink()
    found = recovery(home, "Teal")
    assert found is not None
    assert found.text == TEXT + "# work\n"


@pytest.mark.parametrize("data", [b"", b"\xff", b"[", b"text = 1", b'boat = 1\nbase = ""\ntext = "x"'])
def test_a_copy_that_is_none_is_not_offered(home: Places, data: bytes) -> None:
    put(home, "teal", TEXT)
    home.recovery.mkdir()
    (home.recovery / "teal.toml").write_bytes(data)
    assert recovery(home, find(home, "teal")) is None


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.text(st.characters(codec="utf-8")) | st.text(alphabet="\r\n\"\\'a\t\x00\x7f", max_size=20))
def test_any_text_comes_back_as_it_was(home: Places, text: str) -> None:
    example = open_boat(find(home, "fjord-lugger"))
    recover_note(home, example, text)
    found = recovery(home, example.listing)
    assert found is not None
    assert found.text == text
    note = tomllib.loads((home.recovery / "examples" / "fjord-lugger.toml").read_text())
    assert note["boat"] == "fjord-lugger"
    assert note["base"] == example.stamp
