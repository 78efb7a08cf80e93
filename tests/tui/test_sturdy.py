"""Nothing that is typed, undone, resized or broken on the disk ends the app or loses work."""

import errno
import os
from pathlib import Path

import pytest

from shopcompanion.storage.store import Places, recovery
from shopcompanion.tui.job import Job
from shopcompanion.tui.sheet import Sheet

from .conftest import Desk, Opener, own_copy, painted

BARE = """format = 1
[boat]
name = "Dabchick"
units = "in"
[[spar]]
name = "pole"
kind = "other"
length = "6 ft"
section = "round"
stations = [{ at = "0", width = "2 in" }, { at = "6 ft", width = "1-1/2 in" }]
"""


async def turn_to(it: Desk, title: str) -> Sheet:
    screen = it.app.screen
    assert isinstance(screen, Sheet)
    while screen.page.title != title:
        await it.press("ctrl+y")
    return screen


# --- the sheet ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("page", ["joints", "fittings", "regions"])
async def test_the_first_row_of_an_empty_page(desk: Opener, home: Places, page: str) -> None:
    own_copy(home, "dabchick", BARE)
    async with desk("dabchick", spar="pole", at=None) as it:
        await it.press("ctrl+d")
        sheet = await turn_to(it, page)
        assert sheet.page.rows == []
        await it.press("ctrl+n", "9", "enter")
        assert len(sheet.page.rows) == 1
        assert sheet.page.cell(0, sheet.page.columns[0].name) in ("9", "9 in")
        assert "✗" in it.text  # what is still to come
        await it.press("ctrl+y", "escape")  # on whichever page
        assert "A row is not complete" in it.text
        await it.press("enter")
        assert sheet.page.cell(0, sheet.page.columns[0].name) in ("9", "9 in")
        await it.press("escape", "down", "enter")
        assert it.app.screen is it.app.bench
        assert it.session.state.text == BARE


async def test_a_row_after_the_last_one_was_dropped(desk: Opener, home: Places) -> None:
    own_copy(home, "dabchick", BARE + 'joints = [{ at = "3 ft", kind = "sleeve" }]\n')
    async with desk("dabchick", spar="pole", at=None) as it:
        await it.press("ctrl+d")
        sheet = await turn_to(it, "joints")
        assert len(sheet.page.rows) == 1
        await it.press("ctrl+x")
        assert sheet.page.rows == []
        assert it.session.spar.joints == ()
        await it.press(
            "ctrl+x", "up", "down", "delete", "backspace", "left", "right", "tab", "x", "ctrl+n", "9", "enter"
        )
        assert len(sheet.page.rows) == 1
        assert sheet.row == 0


FAULTY = {
    "a log row without its place": BARE + 'log = [{ widths = ["2 in", "2 in"] }]\n',
    "a log row whose place is no length": BARE + 'log = [{ at = "9 fft", widths = ["2 in", "2 in"] }]\n',
    "a log row whose place is a list": BARE + 'log = [{ at = ["1 ft"], widths = ["2 in", "2 in"] }]\n',
    "joints that are a word": BARE + 'joints = "none"\n',
    "joints that are a number": BARE + "joints = 4\n",
    "a table for a list": BARE + "[spar.fittings]\nkind = 4\n",
    "text inside a list": BARE + 'fittings = ["cleat", { at = "1 ft", kind = "cleat" }]\n',
    "widths that are a number": BARE + "log = [{ at = 12, widths = 2 }]\n",
    "two spars of one name": BARE + BARE[BARE.index("[[spar]]") :],
    "two spars that differ by case": BARE + BARE[BARE.index("[[spar]]") :].replace("pole", "POLE"),
    "a text among the spars": "spar = 'x'\n" + BARE[: BARE.index("[[spar]]")],
    "a key that is a table": BARE + "species = { name = 'x' }\n",
}


@pytest.mark.parametrize("what", FAULTY)
async def test_every_screen_of_a_file_with_faults(desk: Opener, home: Places, what: str) -> None:
    own_copy(home, "dabchick", FAULTY[what])
    async with desk("dabchick", spar=None, at=None) as it:
        assert it.session.faults
        before = it.session.state.text
        for page in range(7):
            await it.press("ctrl+d", *["ctrl+y"] * page, "down", "up", "tab", "right", "left")
            await it.press(*"1 ft", "enter", "ctrl+n", *"2", "enter", "ctrl+x", "ctrl+a", "escape", "escape", "escape")
        for key in ("ctrl+k", "f6"):
            await it.press(key, "down", "up", "space", "enter", "pagedown", "c", "p", "escape", "escape")
        while it.session.undo():
            pass
        assert it.session.state.text == before
        assert it.app.is_running


# --- undo under an open screen ------------------------------------------------------------------------------------


@pytest.mark.parametrize(("key", "screen"), [("ctrl+d", Sheet), ("ctrl+k", Job)])
async def test_the_only_spar_is_undone_while_it_is_looked_at(
    desk: Opener, home: Places, key: str, screen: type[Sheet] | type[Job]
) -> None:
    own_copy(home, "dabchick", BARE[: BARE.index("[[spar]]")])
    async with desk("dabchick", spar=None, at=None) as it:
        await it.press("ctrl+l", "enter")
        for line in ("pole", "6 ft", "2", "1-1/2"):
            await it.write(line, "enter")
        assert it.session.spar_name == "pole"
        await it.press(key)
        assert isinstance(it.app.screen, screen)
        await it.press("ctrl+z")
        assert it.session.spar is None
        assert it.app.screen is it.app.bench
        assert any("pole" in line and "also removed" in line for line in it.told)
        await it.press("ctrl+n", key)
        assert it.session.spar_name == "pole"
        assert isinstance(it.app.screen, screen)


# --- leaving ------------------------------------------------------------------------------------------------------

KEYS_AFTER = (
    *(f"ctrl+{letter}" for letter in "fgldkosptryzn"), "f6", "f4", "f1", "?", "<", ">", "escape", "3", "enter", "down",
    "pagedown",
)  # fmt: skip


@pytest.mark.parametrize("after", KEYS_AFTER)
async def test_keys_after_the_last_one(desk: Opener, after: str) -> None:
    async with desk() as it:
        before = it.session.state
        await it.press("ctrl+q", after, after, "ctrl+q", after)
        assert not it.app.is_running
        assert it.app.return_code == 0
        assert it.session.state == before


# --- the size of the screen ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("key", ["", "ctrl+d", "ctrl+k", "f6", "ctrl+f", "f1", "ctrl+g", "ctrl+l"])
async def test_a_screen_of_any_width(desk: Opener, key: str) -> None:
    async with desk() as it:
        if key:
            await it.press(key)
        for columns in (1, 2, 7, 12, 200):
            for rows in (1, 20):
                await it.pilot.resize_terminal(columns, rows)
                await it.settle()
                await it.press("down", "up")
                assert it.app.is_running
                assert len(painted(it.app)) == rows
        await it.pilot.resize_terminal(80, 24)
        await it.press("escape")
        assert it.app.screen is it.app.bench


# --- the disk -----------------------------------------------------------------------------------------------------

GONE = {
    "unsearchable": errno.EACCES, "pulled out": errno.EIO, "stale": errno.ESTALE, "not connected": errno.ENOTCONN,
    "full": errno.ENOSPC,
}  # fmt: skip


class Disk:
    """Fails every call that touches a path under `folder`, until it is mended."""

    CALLS = ("stat", "open", "mkdir", "replace", "link", "unlink", "scandir", "lstat", "utime", "rename", "listdir")

    def __init__(self, folder: Path, number: int, monkeypatch: pytest.MonkeyPatch) -> None:
        self.folder, self.number, self.broken = str(folder), number, True
        for call in self.CALLS:
            monkeypatch.setattr(os, call, self._failing(getattr(os, call)))

    def _failing(self, real):  # type: ignore[no-untyped-def]
        def act(*given, **named):  # type: ignore[no-untyped-def]
            path = given[0] if given and isinstance(given[0], str | os.PathLike) else ""
            if self.broken and os.fspath(path).startswith(self.folder):
                raise OSError(self.number, os.strerror(self.number), path)
            return real(*given, **named)

        return act


@pytest.mark.parametrize("what", GONE)
async def test_work_is_kept_while_the_disk_is_away_and_saved_when_it_is_back(
    desk: Opener, home: Places, monkeypatch: pytest.MonkeyPatch, what: str
) -> None:
    path = own_copy(home)
    async with desk() as it:
        disk = Disk(home.profiles, GONE[what], monkeypatch)
        disk_of_copies = Disk(home.recovery, GONE[what], monkeypatch)
        await it.press("ctrl+k", "space")
        text = it.session.state.text
        assert it.session.unsaved
        assert it.told
        assert all("\n" not in line for line in it.told)
        await it.press("space", "space", "ctrl+s", "w", "escape", "ctrl+s", "ctrl+o", "escape")
        assert it.session.state.text == text
        assert it.session.unsaved
        disk.broken = disk_of_copies.broken = False
        it.app.changes.keep_trying()
        copy = recovery(home, it.session.opened.listing)
        assert copy is not None
        assert copy.text == text
        await it.press("ctrl+s")
        assert not it.session.unsaved
        assert path.read_text(encoding="utf-8") == text


# --- fields -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("typed", ["0", "0.5", "0 = 1/2", "-1", "0; 3/4", "1/2 = 0", ";", "=", "3/4 = "])
async def test_any_rack_of_bits_is_answered_or_refused_in_its_field(desk: Opener, typed: str) -> None:
    async with desk() as it:
        await it.find("roundover")
        while it.field != "rack":
            await it.press("down")
        await it.write(typed)
        shown = it.session.shown()
        assert shown.result is not None
        empty = typed == ";"  # a rack without a bit: then the bit itself is asked for
        assert [fault.field for fault in shown.faults] == (
            [] if typed == "0.5" else ["bit_radius" if empty else "rack"]
        )
        assert ("✗" in it.text) == bool(shown.faults)
