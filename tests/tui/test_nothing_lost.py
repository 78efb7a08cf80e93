"""Unsaved work of any boat is told; a card is not written over unasked; a held folder does not stop the keys."""

import fcntl
import os
from itertools import islice
from pathlib import Path

import pytest

from shopcompanion.storage import atomic
from shopcompanion.storage.store import Places, find, open_boat, recover_note, recovery, unsaved_work
from shopcompanion.tui.idle import pieces
from shopcompanion.tui.sheet import Sheet

from .conftest import LUGGER, YAWL, Opener, example, keep_preset, own_copy

CHANGED = "\n# changed\n"


def leave_work(home: Places, name: str, *, of_example: bool = False) -> str:
    """Unsaved work as a process left it that is no more; its text."""
    opened = open_boat(example(home, name) if of_example else find(home, name))
    text = opened.text + CHANGED
    path = recover_note(home, opened, text)
    dead = path.with_name(path.name.replace(path.name.split("~")[1].split(".")[0], "7fffffff-00000000"))
    path.rename(dead)
    for lock in path.parent.glob("*.lock"):
        lock.unlink()
    return text


@pytest.mark.parametrize("of_example", [False, True])
async def test_work_of_another_boat_is_told_at_the_start_and_in_the_list(
    desk: Opener, home: Places, of_example: bool
) -> None:
    if not of_example:
        own_copy(home, LUGGER)
    text = leave_work(home, LUGGER, of_example=of_example)
    async with desk() as it:
        assert it.told == ["there is unsaved work on fjord-lugger; ^O lists it"]
        await it.press("ctrl+o")
        assert any("fjord-lugger" in line and "unsaved work" in line for line in it.lines)
        await it.press(*"fjord", "enter")
        assert "Unsaved work was found" in it.text
        await it.press("enter")
        assert it.session.state.text == text


async def test_work_of_a_deleted_boat_is_listed_and_can_be_a_boat_again(desk: Opener, home: Places) -> None:
    path = own_copy(home, "dabchick", 'format = 1\n[boat]\nname = "Dabchick"\nunits = "in"\n')
    text = leave_work(home, "dabchick")
    path.unlink()
    async with desk() as it:
        assert "unsaved work on dabchick" in it.told[-1]
        await it.press("ctrl+o", *"dabchick")
        assert "deleted, but there is unsaved work" in it.text
        await it.press("enter")
        assert "the boat comes back" in it.text
        await it.press("enter")
        assert it.session.state.text == text
        assert path.read_text(encoding="utf-8") == text
        assert unsaved_work(home) == ()


async def test_a_card_is_written_over_only_when_asked_and_the_old_one_is_kept(desk: Opener, home: Places) -> None:
    async with desk() as it:
        await it.press("ctrl+k", "w")
        path = home.profiles / f"{YAWL}-mizzen-mast-card.txt"
        first = path.read_text(encoding="utf-8")
        await it.press("w")
        assert "already there, unchanged" in it.told[-1]
        await it.press("space", "w")
        assert "is there already" in it.text
        await it.press("escape")
        assert path.read_text(encoding="utf-8") == first
        await it.press("w", "enter")
        assert path.read_text(encoding="utf-8") != first
        assert (home.profiles / f"{YAWL}-mizzen-mast-card-1.txt").read_text(encoding="utf-8") == first


async def test_a_card_follows_no_link(desk: Opener, home: Places, tmp_path: Path) -> None:
    victim = tmp_path / "victim.txt"
    victim.write_text("mine", encoding="utf-8")
    home.profiles.mkdir(parents=True)
    (home.profiles / f"{YAWL}-mizzen-mast-card.txt").symlink_to(victim)
    async with desk() as it:
        await it.press("ctrl+k", "w")
        assert "is a link" in it.told[-1]
    assert victim.read_text(encoding="utf-8") == "mine"


async def test_a_row_that_is_not_whole_is_never_dropped_unasked(desk: Opener) -> None:
    async with desk() as it:
        await it.press("ctrl+d", "ctrl+y", "ctrl+y", "ctrl+y", "ctrl+n", *"3 ft", "enter")
        for key in ("escape", "ctrl+q", "ctrl+f", "ctrl+k", "ctrl+l"):
            await it.press(key)
            if key in ("ctrl+f", "ctrl+l"):
                await it.press(*("taper" if key == "ctrl+f" else "boom"), "enter")
            assert "A row is not complete" in it.text
            await it.press("enter")
            assert isinstance(it.app.screen, Sheet)
            assert "3 ft" in [row.get("at") for row in it.app.screen.page.rows]


async def test_a_folder_that_another_program_holds_does_not_stop_the_keys(
    desk: Opener, home: Places, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(atomic, "_patience", [0.0])
    monkeypatch.setattr("shopcompanion.tui.saving.SOON", 0.01)
    path = own_copy(home)
    before = path.read_text(encoding="utf-8")
    async with desk(YAWL) as it:
        await keep_preset(it)
        held = os.open(home.profiles, os.O_RDONLY)
        fcntl.flock(held, fcntl.LOCK_EX)
        await it.press("ctrl+s")
        assert "held by another program" in it.told[-1]
        assert it.session.unsaved
        assert path.read_text(encoding="utf-8") == before
        copy = recovery(home, find(home, YAWL))
        assert copy is not None
        assert copy.text == it.session.state.text
        os.close(held)
        while it.session.unsaved:
            await it.pilot.pause(0.01)
        assert path.read_text(encoding="utf-8") == it.session.state.text


def test_parts_that_dead_processes_left_are_tidied(home: Places) -> None:
    home.profiles.mkdir(parents=True)
    old, new, other = (home.profiles / name for name in (f".{'a' * 32}.part", f".{'b' * 32}.part", ".x.part"))
    for part in (old, new, other):
        part.touch()
    for part in (old, other):
        os.utime(part, (1_700_000_000,) * 2)
    for _, tidy in islice(pieces((home.recovery, home.profiles)), 2):  # the first is not there
        tidy()
    assert sorted(home.profiles.iterdir()) == sorted([new, other])
