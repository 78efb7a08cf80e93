"""A text to read: it scrolls by the arrows, says how much is left, and closes by the keys that are told."""

import pytest

from shopcompanion.tui.paint import rows
from shopcompanion.tui.reader import TextScreen

from .conftest import NORMAL, SMALL, Desk, Opener


async def reading(it: Desk, lines: list[str]) -> TextScreen:
    reader = TextScreen("Faults", rows(lines))
    it.app.push_screen(reader)
    await it.settle()
    return reader


@pytest.mark.parametrize("size", [NORMAL, SMALL])
async def test_a_long_text_is_read_to_its_end(desk: Opener, size: tuple[int, int]) -> None:
    async with desk(size=size) as it:
        await reading(it, [f"line {number}." for number in range(100)])
        assert it.lines[0].strip() == "Faults"
        room = size[1] - 3  # title, sign and keys
        assert f"↓ {100 - room} more" in it.text
        await it.press("down")
        assert it.lines[1].strip() == "line 1."
        await it.press("pagedown")
        assert int(it.lines[1].split()[1].strip(".")) > 5
        await it.press("end")
        assert "line 99." in it.text
        assert "↓" not in it.lines[-2]
        await it.press("down", "home")
        assert it.lines[1].strip() == "line 0."


async def test_a_line_that_is_too_long_is_folded_and_what_is_written_is_no_markup(desk: Opener) -> None:
    async with desk() as it:
        await reading(it, ["word " * 40 + "end", "[b]plain[/b]"])
        assert " ".join(it.text.split()).count("word") == 40
        assert "[b]plain[/b]" in it.text


@pytest.mark.parametrize("key", ["escape", "enter"])
async def test_it_closes(desk: Opener, key: str) -> None:
    async with desk() as it:
        await reading(it, ["plain"])
        await it.press("x", key)
        assert it.app.screen is it.app.bench
