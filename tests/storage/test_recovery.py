"""Unsaved work: on the disk at every change, offered after a crash, gone when it is saved or given up."""

import fcntl
import os
import signal
import stat
import tomllib
from pathlib import Path

import pytest
import tomli_w
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shopcompanion.errors import InputFault
from shopcompanion.storage import atomic
from shopcompanion.storage.places import own
from shopcompanion.storage.recovery import Recovered
from shopcompanion.storage.store import (
    Conflict,
    KeepError,
    Places,
    find,
    listings,
    open_boat,
    recover_note,
    recovery,
    recovery_done,
    rename_boat,
    restore_work,
    save,
    take_up,
    unsaved_work,
    versions,
)

from .test_store import TEXT, put


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
    note = tomllib.loads(next((home.recovery / "examples").glob("fjord-lugger.~*.toml")).read_text())
    assert note["boat"] == "fjord-lugger"
    assert note["base"] == example.stamp


# --- several apps -----------------------------------------------------------------------------------------------------


def at_work(home: Places, text: str) -> tuple[int, int]:
    """Another app with unsaved work on the boat, which runs until what is returned, its process and a pipe, ends."""
    ready, told = os.pipe()
    wait, go = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.close(go)
            recover_note(home, open_boat(find(home, "teal")), text)
            os.write(told, b"x")
            os.read(wait, 1)
        finally:
            os._exit(0)
    os.close(wait)
    assert os.read(ready, 1) == b"x"
    return child, go


def test_two_apps_on_one_boat_have_two_copies_and_live_work_is_never_offered(home: Places) -> None:
    put(home, "teal", TEXT)
    child, go = at_work(home, TEXT + "# theirs\n")
    assert recovery(home, find(home, "teal")) is None
    assert not find(home, "teal").unfinished
    assert unsaved_work(home) == ()
    recover_note(home, open_boat(find(home, "teal")), TEXT + "# ours\n")
    recovery_done(home, "teal")  # ours, not theirs
    os.kill(child, signal.SIGKILL)  # the lock dies with it
    os.waitpid(child, 0)
    os.close(go)
    found = recovery(home, find(home, "teal"))
    assert found is not None
    assert found.text == TEXT + "# theirs\n"
    assert find(home, "teal").unfinished


def test_the_copies_of_two_crashes_are_offered_one_after_the_other(home: Places) -> None:
    put(home, "teal", TEXT)
    for number, text in enumerate((TEXT + "# first\n", TEXT + "# second\n")):
        child, go = at_work(home, text)
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        os.close(go)
        for path in home.recovery.glob("*.toml"):
            os.utime(path, (number, number)) if text in path.read_text() else None
    boat = open_boat(find(home, "teal"))
    newest = recovery(home, boat.listing)
    assert newest is not None
    assert newest.text == TEXT + "# second\n"
    boat = save(home, take_up(home, boat, newest), newest.text)
    older = recovery(home, boat.listing)
    assert older is not None
    assert older.text == TEXT + "# first\n"
    recovery_done(home, boat.listing, older)
    assert recovery(home, boat.listing) is None
    assert list(home.recovery.iterdir()) == []


def test_the_work_on_every_boat_is_known_examples_and_deleted_ones_too(home: Places) -> None:
    put(home, "teal", TEXT)
    put(home, "grebe", TEXT)
    for name in ("teal", "grebe", "fjord-lugger"):
        recover_note(home, open_boat(find(home, name)), TEXT + f"# {name}\n")
    (home.profiles / "grebe.toml").unlink()
    assert [(one.name, one.is_example) for one in unsaved_work(home)] == [
        ("grebe", False), ("teal", False), ("fjord-lugger", True),
    ]  # fmt: skip


def test_a_copy_of_an_older_companion_is_offered_and_goes(home: Places) -> None:
    put(home, "teal", TEXT)
    home.recovery.mkdir()
    old = home.recovery / "teal.toml"
    old.write_text(tomli_w.dumps({"format": 1, "boat": "teal", "base": "", "text": TEXT + "# work\n"}))
    found = recovery(home, find(home, "teal"))
    assert found is not None
    save(home, open_boat(find(home, "teal")), found.text)
    assert recovery(home, "teal") is None
    assert list(home.recovery.iterdir()) == []


# --- whose eyes -------------------------------------------------------------------------------------------------------


def test_copies_and_versions_have_the_mode_of_the_boats_file(home: Places) -> None:
    path = put(home, "teal", TEXT)
    path.chmod(0o600)
    boat = open_boat(find(home, "teal"))
    recover_note(home, boat, TEXT + "# work\n")
    (copy,) = home.recovery.glob("*.toml")
    save(home, boat, TEXT + "# saved\n")
    (version,) = versions(home, "teal")
    assert [stat.S_IMODE(one.stat().st_mode) for one in (path, copy, version.path)] == [0o600] * 3


@pytest.mark.parametrize("folder", ["versions", "recovery"])
def test_a_folder_of_ours_that_is_a_link_is_refused(home: Places, tmp_path: Path, folder: str) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    put(home, "teal", TEXT)
    getattr(home, folder).symlink_to(elsewhere)
    boat = open_boat(own(home, "teal"))
    with pytest.raises(KeepError, match="is a link"):
        save(home, boat, TEXT + "# new\n") if folder == "versions" else recover_note(home, boat, TEXT)
    assert list(elsewhere.iterdir()) == []
    assert (home.profiles / "teal.toml").read_text() == TEXT


def test_a_part_is_a_file_of_its_own_under_a_name_that_nobody_can_know(home: Places, monkeypatch) -> None:
    put(home, "teal", TEXT)
    seen = []
    opens = os.open

    def noted(path: object, flags: int, *mode: int) -> int:
        if str(path).endswith(".part"):
            seen.append((Path(str(path)).name, flags))
        return opens(path, flags, *mode)  # type: ignore[call-overload, no-any-return]

    monkeypatch.setattr(os, "open", noted)
    save(home, open_boat(find(home, "teal")), TEXT + "# new\n")
    assert len({name for name, _ in seen}) == len(seen) >= 2
    assert all(flags & os.O_EXCL and flags & os.O_NOFOLLOW and len(name) > 32 for name, flags in seen)


def test_a_folder_that_another_program_holds_is_told_and_freezes_nothing(home: Places, monkeypatch) -> None:
    put(home, "teal", TEXT)
    boat = open_boat(find(home, "teal"))
    held = os.open(home.profiles, os.O_RDONLY)
    fcntl.flock(held, fcntl.LOCK_EX)
    monkeypatch.setattr(atomic, "_patience", [0.05])
    with pytest.raises(KeepError, match="is held by another program: try again"):
        save(home, boat, TEXT + "# new\n")
    os.close(held)
    save(home, boat, TEXT + "# new\n")


def left_by_a_crash(home: Places, name: str, text: str) -> Recovered:
    """What another app leaves that dies with unsaved work on a boat."""
    child = os.fork()
    if child == 0:
        try:
            recover_note(home, open_boat(find(home, name)), text)
        finally:
            os._exit(0)
    os.waitpid(child, 0)
    left = recovery(home, find(home, name))
    assert left is not None
    return left


def test_work_on_a_file_that_stayed_as_it_was_is_saved_in_it(home: Places) -> None:
    put(home, "teal", TEXT)
    restored = restore_work(home, left_by_a_crash(home, "teal", TEXT + "# work\n"))
    assert (restored.listing.name, restored.text) == ("teal", TEXT + "# work\n")
    assert open_boat(find(home, "teal")).text == TEXT + "# work\n"
    assert [version.path.read_text() for version in versions(home, "teal")] == [TEXT]
    assert unsaved_work(home) == ()


def test_work_on_a_file_that_was_changed_since_is_saved_beside_it(home: Places) -> None:
    put(home, "teal", TEXT)
    left = left_by_a_crash(home, "teal", TEXT + "# work\n")
    put(home, "teal", TEXT + "# elsewhere\n")
    restored = restore_work(home, left)
    assert restored.listing.name != "teal"
    assert restored.listing.path.read_text() == TEXT + "# work\n"
    assert open_boat(find(home, "teal")).text == TEXT + "# elsewhere\n"
    assert unsaved_work(home) == ()


def test_work_on_an_example_is_saved_as_a_boat_of_ones_own(home: Places) -> None:
    example = open_boat(find(home, "fjord-lugger"))
    restored = restore_work(home, left_by_a_crash(home, "fjord-lugger", example.text + "# work\n"))
    assert not restored.listing.is_example
    assert restored.listing.path.parent == home.profiles
    assert restored.listing.path.read_text() == example.text + "# work\n"
    assert example.listing.path.read_text() == example.text
    assert unsaved_work(home) == ()
