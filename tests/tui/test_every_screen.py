"""Help, find, spar and quit from every screen; a key of one's own in each; what is told covers no answer."""

import pytest

from shopcompanion.tui.config import read_config
from shopcompanion.tui.job import Job
from shopcompanion.tui.picker import Picker
from shopcompanion.tui.reader import TextScreen
from shopcompanion.tui.sheet import Sheet
from shopcompanion.tui.stock import StockPage

from .conftest import NORMAL, SMALL, Opener

SCREENS = {
    "sheet": (("ctrl+d",), Sheet),
    "shop": (("f3",), Sheet),
    "job": (("ctrl+k",), Job),
    "timber": (("f6",), StockPage),
    "card": (("ctrl+k", "c"), TextScreen),
    "yard": (("f6", "p"), TextScreen),
    "help": (("f1",), TextScreen),
}


@pytest.mark.parametrize("where", SCREENS)
async def test_help_find_spar_and_quit(desk: Opener, where: str) -> None:
    there, screen = SCREENS[where]
    async with desk() as it:
        await it.press(*there)
        assert isinstance(it.app.screen, screen)
        for key in ("^F find", "^L spar", "F1 help", "^Q quit"):
            assert key in " ".join(it.text.split())
        here = it.app.screen
        await it.press("f1")
        assert (it.app.screen is it.app.bench) if where == "help" else (it.lines[0].strip() == "Help")
        await it.press("f1" if where == "help" else "escape")
        assert type(it.app.screen) is type(here)
        await it.press("ctrl+f")
        assert isinstance(it.app.screen, Picker)
        await it.press(*"taper", "enter")
        assert it.app.screen is it.app.bench
        assert it.session.calculator == "taper"
        await it.press(*there)
        await it.press("ctrl+l", *"boom", "enter")
        assert it.session.spar_name == "boom"
        if where in ("sheet", "job"):
            assert type(it.app.screen) is type(here)
            assert it.app.screen.spar_name == "boom"  # type: ignore[attr-defined]
        else:
            assert it.app.screen is it.app.bench
            await it.press(*there)
        await it.press("ctrl+q")
        assert not it.app.is_running


@pytest.mark.parametrize("where", ["sheet", "shop", "job", "timber", "card"])
async def test_quitting_on_a_screen_asks_of_unsaved_work_and_stays_there(desk: Opener, where: str) -> None:
    there, screen = SCREENS[where]
    async with desk() as it:
        await it.press("ctrl+k", "space", "escape", *there, "ctrl+q")
        assert "is not saved" in it.text
        await it.press("escape")
        assert isinstance(it.app.screen, screen)
        assert it.app.is_running


async def test_from_one_screen_straight_to_another(desk: Opener) -> None:
    async with desk() as it:
        for key, screen in (("ctrl+d", Sheet), ("ctrl+k", Job), ("f6", StockPage), ("f3", Sheet), ("ctrl+k", Job)):
            await it.press(key)
            assert isinstance(it.app.screen, screen)
            assert len(it.app.screen_stack) == 2
        await it.press("escape")
        assert it.app.screen is it.app.bench


async def test_keys_of_ones_own_on_every_screen(desk: Opener) -> None:
    config = read_config('[keys]\nback = "f12"\nhelp = "shift+f1"\ntick = "x"\nnew_row = "f2"\n')
    assert config.faults == ()
    async with desk(config=config) as it:
        await it.press("ctrl+k", "x")
        assert it.session.spar is not None
        assert len(it.session.spar.done) == 1
        assert "F12 back" in it.text
        await it.press("space", "escape")
        assert isinstance(it.app.screen, Job)
        await it.press("shift+f1")
        assert isinstance(it.app.screen, TextScreen)
        await it.press("f12", "f12", "ctrl+d", "ctrl+y", "f2")
        assert isinstance(it.app.screen, Sheet)
        assert it.app.screen.page.rows[1] == {}


@pytest.mark.parametrize("size", [NORMAL, SMALL])
@pytest.mark.parametrize("where", [(), ("ctrl+k",), ("ctrl+d",), ("f6", "space")])
async def test_a_message_stands_in_the_place_of_the_keys(
    desk: Opener, size: tuple[int, int], where: tuple[str, ...]
) -> None:
    async with desk(size=size) as it:
        await it.press(*where)
        before = it.lines
        foot = next(row for row, line in enumerate(before) if "^F find" in line or "PgDn" in line or "↑↓" in line)
        it.app.teller.tell("a long message of many words that is folded " * 4, wrong=True)
        await it.settle()
        assert it.lines[:foot] == before[:foot]
        assert "✗ a long message" in "\n".join(it.lines[foot:])
        await it.quiet()
        assert it.lines == before
