"""Whole screens, kept as text in `screens/` and compared letter by letter; and laws that hold on every one of them.

After a wanted change: SHOPCOMPANION_RENEW_SCREENS=1 python -m pytest tests/tui/test_screens.py, then look at every file
that `git diff` shows, with your own eyes: nothing cut off without a sign, no words over one another, the right numbers.
"""

import os
import time
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import NamedTuple

import pytest

from shopcompanion.catalog import STAGES
from shopcompanion.storage.store import Places
from shopcompanion.tui.keys import ACTIONS, show_key
from shopcompanion.tui.view import LIST

from .conftest import LUGGER, NORMAL, SMALL, WIDE, Desk, Opener, own_copy

SCREENS = Path(__file__).parent / "screens"
RENEW = bool(os.environ.get("SHOPCOMPANION_RENEW_SCREENS"))
SIZES = {"60x20": SMALL, "80x24": NORMAL, "120x40": WIDE}


class View(NamedTuple):
    """A screen: how to get there from the bench, and back. `over`: a small screen stands over the bench."""

    name: str
    there: tuple[str, ...]
    back: tuple[str, ...] = ()
    over: bool = False
    then: tuple[str, ...] = ()  # the last keys, when what was told before is gone


def finding(name: str) -> tuple[str, ...]:
    return ("ctrl+f", *name, "enter")


ON_THE_MIZZEN = (
    View("facets", ()),
    View("facets-working", ("ctrl+y",), ("escape",)),
    View("facets-fault", (*"3-",), ("escape",)),
    View("facets-typed", (*"3-1/2",), ("escape",)),
    View("facets-millimetres", ("ctrl+t",), ("ctrl+t",)),
    View("taper", finding("taper")),
    View("taper-drawing", ("ctrl+y", "ctrl+y"), ("escape",)),
    View("taper-table", ("ctrl+y", "ctrl+y", "ctrl+y"), ("escape",)),
    View("drum", finding("drum")),
    View("drum-presets", ("ctrl+p",), ("escape",), over=True),
    View("roundover", finding("roundover")),
    View("roundover-small-bit", ("down", "down", *"3/4")),
    View("finder-drum", ("ctrl+f", *"dr"), ("escape",), over=True),
    View("spars", ("ctrl+l",), ("escape",), over=True),
    View("go-to", ("ctrl+g", *"12 ft", "enter"), ("escape",), over=True),
    View("boats", ("ctrl+o",), ("escape",), over=True),
    View("help", ("f1",), ("escape",)),
    View("drum-notched", (*finding("drum"), "!", *finding("facets"), "!", *finding("drum"))),
    View("tally", ("|",), ("ctrl+a", *finding("roundover")), over=True),
    View("quit-unsaved", ("ctrl+p", "enter", *"bit", "enter"), ("escape",), over=True, then=("ctrl+q",)),
)
ON_THE_LUGGER = (
    View("metric-facets", ()),
    View("metric-taper", finding("taper")),
    View("metric-oval", ("ctrl+l", *"boom", "enter", *finding("facets"))),
)


@asynccontextmanager
async def no_time(monkeypatch: pytest.MonkeyPatch) -> AsyncIterator[None]:
    """Dates by one clock wherever the tests run."""
    with monkeypatch.context() as zone:
        zone.setenv("TZ", "UTC")
        time.tzset()
        yield
    time.tzset()


def kept(size: str, name: str, text: str) -> list[str]:
    """What is wrong with a screen as it is kept: nothing, or one line."""
    path = SCREENS / size / f"{name}.txt"
    if RENEW:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(f"{text}\n", encoding="utf-8")
    if not path.exists():
        return [f"{path.name} at {size} is not kept yet"]
    if path.read_text(encoding="utf-8") != f"{text}\n":
        return [f"{path.name} at {size} is another now:\n{text}"]
    return []


def without_list(it: Desk) -> str:
    """The screen without the list of calculators at its side: a new one changes no kept screen of another.

    `test_the_list_at_the_side_has_every_calculator` looks at the list.
    """
    listed = {line.ljust(LIST) for line in str(it.app.bench.parts.get("list", "")).splitlines() if line}
    lines = []
    for line in it.lines:
        column = line[1 : 1 + LIST].ljust(LIST)
        gone = column in listed or (column.strip().endswith("more") and column.strip()[0] in "↑↓" and listed)
        lines.append((" " * (1 + LIST) + line[1 + LIST :]).rstrip() if gone else line)
    return "\n".join(lines)


def laws(it: Desk, view: View, size: tuple[int, int]) -> list[str]:
    """The laws that the screen breaks."""
    columns, rows = size
    broken = [f"a line is wider than the screen: {line!r}" for line in it.lines if len(line) > columns]
    if len(it.lines) != rows:
        broken.append(f"{len(it.lines)} lines")
    if any(not (letter.isprintable()) for letter in it.text.replace("\n", "")):
        broken.append("a letter that cannot be shown")
    if view.over:
        corners = sum(it.text.count(corner) for corner in "╭╮╰╯")
        return broken if corners == 4 else [*broken, "the card does not stand whole on the screen"]

    if it.app.screen is not it.app.bench:
        return broken
    words = it.text.split()
    shown = it.session.shown()
    calculator, result = shown.calculator, shown.result
    plain = next(field for field in calculator.answer_fields if field.name == calculator.headline)
    headline = (result.heads() if result else (plain,))[0].kind.label
    if it.app.bench.view.page == "answers" and headline.upper() not in it.text:
        broken.append("no headline")
    said = " ".join(words)
    cautions = result.cautions if result else ()
    if not all(line in said for line in cautions) and f"cares, {show_key('f7')} shows all" not in said:
        broken.append("a caution is neither told nor counted")
    for action in ACTIONS:
        key = show_key(it.app.config.keys[action.name].split(",")[0])
        here = not action.of_a_fitting or calculator.fitting is not None
        here = here and "bench" in action.where and (action.on_narrow or columns >= 80)
        if action.short and here and f"{key} {action.short}" not in said:
            broken.append(f"the bar has no {action.short}")
    if it.field and "more" not in it.text:
        text = it.text.replace("\n", " \n")
        for label in it.part("#labels").splitlines():
            ways = [f"{label} ", *(f"{label[:length]}… " for length in range(12, len(label)))]
            if not any(f" {way}" in text for way in ways):
                broken.append(f"{label!r} is cut without a sign, or its value stands too near")
    view = it.app.bench.view
    goes_on = sum(view.tops[page] < view.furthest[page] for page in ("page", "side"))
    if it.text.count("↓") < goes_on:
        broken.append("a page goes on below without a sign")
    return broken


async def looked_at(it: Desk, views: tuple[View, ...], size: str) -> list[str]:
    wrong = []
    for view in views:
        for keys in (view.there, *filter(None, (view.then,))):
            await it.press(*keys)
            it.app.teller.silence()  # what was told goes by a clock, and stands behind a small screen till then
            await it.settle()
        wrong += kept(size, view.name, without_list(it))
        wrong += [f"{view.name} at {size}: {law}" for law in laws(it, view, SIZES[size])]
        await it.press(*view.back)
    return wrong


@pytest.mark.parametrize("size", SIZES)
async def test_screens_on_the_mizzen_at_five_feet(
    desk: Opener, home: Places, monkeypatch: pytest.MonkeyPatch, size: str
) -> None:
    async with no_time(monkeypatch):
        for number in range(1, 4):
            path = own_copy(
                home, f"dabchick-{number}", f'format = 1\n[boat]\nname = "Dabchick {number}"\nunits = "in"\n'
            )
            os.utime(path, (1_750_000_000 + number * 86400,) * 2)
        async with desk(size=SIZES[size]) as it:
            assert await looked_at(it, ON_THE_MIZZEN, size) == []


@pytest.mark.parametrize("size", SIZES)
async def test_screens_on_the_metric_lugger(desk: Opener, size: str) -> None:
    async with desk(LUGGER, spar="mast", at="2 m", size=SIZES[size]) as it:
        assert await looked_at(it, ON_THE_LUGGER, size) == []


async def test_the_list_at_the_side_has_every_calculator(desk: Opener) -> None:
    async with desk(size=(120, 60)) as it:
        lines = [line[1 : 1 + LIST].strip() for line in it.lines]
        wanted = [line for stage, names in STAGES.items() for line in (stage, *names)]
        assert [line.removeprefix("› ") for line in lines if line.removeprefix("› ") in wanted] == wanted
        assert lines[lines.index("weight") + 1].startswith("stock …")
        assert [line for line in lines if line.startswith("›")] == ["› facets"]


def test_no_screen_is_kept_that_nobody_looks_at() -> None:
    wanted = {view.name for view in (*ON_THE_MIZZEN, *ON_THE_LUGGER)}
    for size in SIZES:
        assert {path.stem for path in (SCREENS / size).glob("*")} == wanted
