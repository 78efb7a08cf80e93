"""Opening and saving by the keys: whatever happens on the disk, nothing of the user's is lost."""

import errno
import os

import pytest

from shopcompanion.profile.parse import read
from shopcompanion.storage.store import Places, find, recovery, versions

from .conftest import (
    THEIRS,
    WIDE,
    YAWL,
    Opener,
    example,
    failing,
    keep_preset,
    own_copy,
    preset_names,
)

DEMO = b"# Saltmarsh yawl: an invented boat to try the companion on."


# --- saving -------------------------------------------------------------------------------------------------------


async def test_saving_an_example_makes_a_boat_of_ones_own(desk: Opener, home: Places) -> None:
    before = (home.examples / f"{YAWL}.toml").read_bytes()
    async with desk() as it:
        assert "example" in it.lines[0]
        await keep_preset(it)
        await it.press("ctrl+s")
        assert it.told[-1] == "saved as saltmarsh-yawl, a boat of your own"
        assert it.lines[0].endswith("saved")
        assert "not saved" not in it.lines[0]
        await it.press("ctrl+s")
        assert it.told[-1] == "nothing to save"
    assert (home.examples / f"{YAWL}.toml").read_bytes() == before
    own = home.profiles / f"{YAWL}.toml"
    assert own.read_bytes().startswith(DEMO)
    assert preset_names(own)[-1] == "three"
    changed = own.read_text(encoding="utf-8")
    assert [line for line in before.decode().splitlines() if line not in changed.splitlines()] == []
    assert read(changed).faults == ()
    assert recovery(home, example(home)) is None


async def test_saving_changes_only_what_was_changed_and_keeps_what_was(desk: Opener, home: Places) -> None:
    path = own_copy(home)
    before = path.read_text(encoding="utf-8")
    async with desk() as it:
        await keep_preset(it)
        await it.press("ctrl+s")
        assert it.told[-1] == "saltmarsh-yawl saved"
    after = path.read_text(encoding="utf-8")
    place = next(at for at, (a, b) in enumerate(zip(before + "\0", after, strict=False)) if a != b)
    added = len(after) - len(before)
    assert before == after[:place] + after[place + added :]
    assert [version.path.read_text(encoding="utf-8") for version in versions(home, YAWL)] == [before]


async def test_a_boat_that_is_only_looked_at_is_never_written(desk: Opener, home: Places) -> None:
    path = own_copy(home)
    before = path.read_bytes(), path.stat().st_mtime_ns
    async with desk() as it:
        await it.press(*"3", "ctrl+t", "enter", "ctrl+r", ">", "ctrl+s", "ctrl+q")
        assert it.told[-1] == "nothing to save"
        assert not it.app.is_running
    assert (path.read_bytes(), path.stat().st_mtime_ns) == before
    assert sorted(os.listdir(home.profiles)) == [path.name]


@pytest.mark.parametrize(
    "fault",
    [
        ("fsync", errno.ENOSPC, "the disk is full"),
        ("replace", errno.EACCES, "there is no permission"),
        ("open", errno.EROFS, "the disk is read-only"),
    ],
    ids=lambda fault: fault[2],
)
async def test_a_disk_that_takes_nothing_is_one_line_and_nothing_is_lost(
    desk: Opener, home: Places, monkeypatch: pytest.MonkeyPatch, fault: tuple[str, int, str]
) -> None:
    call, number, why = fault
    path = own_copy(home)
    before = path.read_bytes()
    async with desk() as it:
        await keep_preset(it)
        text = it.session.state.text
        with monkeypatch.context() as disk:
            disk.setattr(os, call, failing(call, number))
            await it.press("ctrl+s")
            said = it.told[-1]
            await it.press(*"4", "ctrl+p", "enter", *"four", "enter")
        assert said.startswith("could not write ")
        assert said.endswith(why)
        assert "\n" not in said
        assert path.read_bytes() == before
        assert "not saved ●" in it.lines[0]
        assert it.session.state.text.startswith(text[:200])
        assert [preset.name for preset in it.session.presets()][-2:] == ["three", "four"]
        await it.press("ctrl+s")
        assert it.told[-1] == "saltmarsh-yawl saved"
    assert preset_names(path)[-2:] == ["three", "four"]


async def test_a_folder_that_is_none_is_one_line_whatever_is_tried(desk: Opener, home: Places) -> None:
    async with desk() as it:
        home.profiles.write_text("no folder", encoding="utf-8")
        await it.press(*"3", "ctrl+p", "enter", *"three", "enter", "ctrl+s", "ctrl+o")
        await it.find("versions")
        said = [line.split(";")[0] for line in it.told if line.startswith("could not")]
        assert len(said) >= 3
        assert {line.split(": ")[-1] for line in said} <= {"part of its path is a file, not a folder", "file exists"}
        assert it.session.unsaved
        await it.press("ctrl+q", "down", "enter")
        assert not it.app.is_running


async def test_a_file_that_has_vanished_is_written_anew(desk: Opener, home: Places) -> None:
    path = own_copy(home)
    async with desk() as it:
        await keep_preset(it)
        path.unlink()
        await it.press("ctrl+s")
        assert it.told[-1] == "saltmarsh-yawl saved"
    assert preset_names(path)[-1] == "three"


# --- another program ----------------------------------------------------------------------------------------------


async def test_a_file_that_was_changed_meanwhile_is_kept_beside_ours(desk: Opener, home: Places) -> None:
    path = own_copy(home)
    async with desk() as it:
        await keep_preset(it)
        path.write_text(path.read_text(encoding="utf-8") + THEIRS, encoding="utf-8")
        await it.press("ctrl+s")
        assert "saltmarsh-yawl was changed on the disk since it was opened" in " ".join(it.text.split())
        assert [line for line in it.lines if "keep both" in line]
        await it.press("escape")
        assert it.session.unsaved
        assert preset_names(path)[-1] == "theirs"
        await it.press("ctrl+s", "enter")
        assert it.told[-1] == "saved as saltmarsh-yawl-2, a boat of your own"
        assert not it.session.unsaved
    assert preset_names(path)[-1] == "theirs"
    assert preset_names(home.profiles / f"{YAWL}-2.toml")[-1] == "three"
    assert "theirs" not in preset_names(home.profiles / f"{YAWL}-2.toml")
    assert recovery(home, find(home, YAWL)) is None


async def test_the_difference_is_shown_and_then_it_is_asked_again(desk: Opener, home: Places) -> None:
    path = own_copy(home)
    async with desk(size=WIDE) as it:
        await keep_preset(it)
        path.write_text(path.read_text(encoding="utf-8") + THEIRS, encoding="utf-8")
        await it.press("ctrl+s", *"see", "enter")
        assert '-name = "theirs"' in it.text
        assert '+name = "three"' in it.text
        await it.press("escape")
        assert "take theirs" in it.text
        await it.write("theirs", "enter")
        assert not it.session.unsaved
        assert [preset.name for preset in it.session.boat.presets][-1] == "theirs"
        assert "saved" in it.lines[0]
    assert preset_names(path)[-1] == "theirs"


async def test_quitting_into_a_conflict_quits_only_when_both_are_kept(desk: Opener, home: Places) -> None:
    path = own_copy(home)
    async with desk() as it:
        await keep_preset(it)
        path.write_text(path.read_text(encoding="utf-8") + THEIRS, encoding="utf-8")
        await it.press("ctrl+q", "enter")
        assert it.app.is_running
        assert "keep both" in it.text
        await it.press("enter")
        assert not it.app.is_running
    assert preset_names(home.profiles / f"{YAWL}-2.toml")[-1] == "three"


# --- after a crash ------------------------------------------------------------------------------------------------


async def crash(desk: Opener) -> str:
    """Unsaved work that nobody saved: the app is gone in the middle of it. What the document held."""
    async with desk() as it:
        await keep_preset(it)
        return it.session.state.text


@pytest.mark.parametrize("own", [True, False])
async def test_unsaved_work_is_offered_and_taken_up(desk: Opener, home: Places, own: bool) -> None:
    if own:
        own_copy(home)
    text = await crash(desk)
    async with desk(at=None) as it:
        assert "Unsaved work was found" in it.text
        assert "restore" in it.text
        await it.press("enter")
        assert it.session.state.text == text
        assert it.session.spar_name == "mizzen mast"  # the spar that was asked for at the start
        assert "not saved ●" in it.lines[0]
        await it.press("ctrl+s")
    assert preset_names(home.profiles / f"{YAWL}.toml")[-1] == "three"
    async with desk(at=None) as it:
        assert "Unsaved work" not in it.text


async def test_unsaved_work_is_offered_again_when_taking_it_up_fails_as_well(desk: Opener) -> None:
    text = await crash(desk)
    async with desk(at=None) as it:
        await it.press("enter")
    async with desk(at=None) as it:
        assert "Unsaved work was found" in it.text
        await it.press("enter")
        assert it.session.state.text == text


async def test_unsaved_work_can_be_given_up(desk: Opener, home: Places) -> None:
    await crash(desk)
    async with desk(at=None) as it:
        await it.write("disc", "enter")
        assert not it.session.unsaved
    assert recovery(home, example(home)) is None
    async with desk(at=None) as it:
        assert "Unsaved work" not in it.text


async def test_unsaved_work_is_asked_about_until_it_is_answered(desk: Opener, home: Places) -> None:
    await crash(desk)
    async with desk(at=None) as it:
        await it.press("escape", "ctrl+q", "escape")
        assert "Unsaved work was found" in it.text
    assert recovery(home, example(home)) is not None


async def test_unsaved_work_sees_what_another_program_saved_meanwhile(desk: Opener, home: Places) -> None:
    path = own_copy(home)
    await crash(desk)
    path.write_text(path.read_text(encoding="utf-8") + THEIRS, encoding="utf-8")
    async with desk(at=None) as it:
        await it.press("enter", "ctrl+s")
        assert "keep both" in it.text
    assert preset_names(path)[-1] == "theirs"


async def test_undoing_everything_leaves_no_unsaved_work_behind(desk: Opener, home: Places) -> None:
    async with desk() as it:
        await keep_preset(it)
        assert recovery(home, example(home)) is not None
        await it.press("ctrl+z")
        assert not it.session.unsaved
    assert recovery(home, example(home)) is None


# --- versions -----------------------------------------------------------------------------------------------------


async def test_an_earlier_version_can_be_gone_back_to(desk: Opener, home: Places) -> None:
    path = own_copy(home)
    first = path.read_text(encoding="utf-8")
    async with desk() as it:
        await it.find("versions")
        assert it.told[-1] == "no earlier versions: it has not been saved over yet"
        await keep_preset(it)
        await it.press("ctrl+s")
        second = it.session.state.text
        await it.find("versions")
        assert "Earlier versions, newest first" in it.text
        assert f"{len(first.encode())} bytes" in it.text
        await it.press("enter")
        assert it.session.state.text == first
        assert "not saved ●" in it.lines[0]
        await it.press("ctrl+z")
        assert it.session.state.text == second
        await it.press("ctrl+n", "ctrl+s")
    assert path.read_text(encoding="utf-8") == first
    assert {version.path.read_text(encoding="utf-8") for version in versions(home, YAWL)} == {first, second}
