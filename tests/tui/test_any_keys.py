"""Any keys in any order, sizes and pastes among them: no traceback, and every frame as large as the screen.

Seeded, so that a fault is found again. SHOPCOMPANION_KEYS=10000 presses so many for each seed; the suite a few hundred.
"""

import os
from random import Random

import pytest

from shopcompanion.catalog import NAMES
from shopcompanion.storage.store import Places

from .conftest import LUGGER, YAWL, Desk, Opener, own_copy, painted

MANY = int(os.environ.get("SHOPCOMPANION_KEYS", "240"))
AT_ONCE = 12  # keys between two looks
MOVES = ("up", "down", "left", "right", "enter", "tab", "shift+tab", "pageup", "pagedown", "home", "end", "space")
EDITS = (
    "backspace",
    "delete",
    "ctrl+u",
    "ctrl+w",
    "shift+left",
    "shift+home",
    "ctrl+left",
    "ctrl+x",
    "ctrl+c",
    "ctrl+v",
)
PLACES = (
    *(f"ctrl+{letter}" for letter in "dfgklopqrstyznab"),
    "f1",
    "f3",
    "f4",
    "f5",
    "f6",
    "insert",
    "exclamation_mark",
    "vertical_line",
    "escape",
    "escape",
)
LETTERS = "0123456789-/ .'\"ftinmcpwgaxé長"
PASTES = ("3-1/2", "12 ft 6 in\nmore", "\x1b[31m", "9" * 5000, "", "\t", "0", "1e999", "[bold]x[/]")


async def step(it: Desk, dice: Random) -> str:
    """One thing that a hand may do; what it was."""
    kind = dice.random()
    if kind < 0.03:
        size = dice.choice([(80, 24), (60, 20), (120, 40), (dice.randint(20, 200), dice.randint(6, 60))])
        await it.pilot.resize_terminal(*size)
        await it.settle()
        return f"size {size}"
    if kind < 0.06:
        await it.paste(text := dice.choice(PASTES))
        return f"paste {text[:20]!r}"
    if kind < 0.12:
        await it.press("escape", "escape", "ctrl+f", *dice.choice(NAMES), "enter")
        return "find"
    keys = [dice.choice(dice.choices([MOVES, EDITS, PLACES, tuple(LETTERS)], [5, 2, 3, 5])[0]) for _ in range(AT_ONCE)]
    await it.press(*keys)
    return " ".join(keys)


@pytest.mark.parametrize("seed", range(3))
async def test_any_keys_end_in_no_traceback(desk: Opener, home: Places, seed: int) -> None:
    dice = Random(seed)
    own_copy(home)
    pressed, starts = 0, 0
    while pressed < MANY:
        starts += 1
        async with desk(dice.choice([YAWL, LUGGER, None]), spar=None, at=None) as it:
            story: list[str] = []
            while it.app.is_running and pressed < MANY:
                story = [*story[-5:], await step(it, dice)]
                pressed += AT_ONCE
                if it.app.is_running:
                    assert len(painted(it.app)) == it.app.size.height, story
            assert it.app.return_code in (0, None), story
            assert it.session.opened is None or it.session.state.text, story
