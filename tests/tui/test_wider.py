"""A wider screen never shows less: tables keep their columns, nothing is cut; stale answers say so everywhere."""

import pytest

from shopcompanion.catalog import NAMES, load
from shopcompanion.storage.store import Places
from shopcompanion.tui import pages
from shopcompanion.tui.keys import keymap
from shopcompanion.tui.paint import words_of
from shopcompanion.tui.session import Session
from shopcompanion.tui.view import BenchView

from .conftest import Opener, session_on

KEYS, _ = keymap({})


def screen(session: Session, calculator: str, page: str, width: int, height: int = 40) -> str:
    session.calculator = calculator
    view = BenchView(session, KEYS, ascii_only=False)
    view.page = page
    return "\n".join(map(words_of, view.draw(width, height).rows))


def left_out(text: str) -> int:
    """How many columns a table says it has no room for."""
    said = [line.partition("on a wider screen: ")[2] for line in text.splitlines() if "on a wider screen: " in line]
    return sum(len(line.split(", ")) for line in said)


@pytest.mark.parametrize("calculator", [name for name in NAMES if not load(name).slow])
def test_a_table_has_no_fewer_columns_on_a_wider_screen(home: Places, calculator: str) -> None:
    session = session_on(home)
    session.calculator = calculator
    shown = session.shown()
    assert shown.result is not None
    if not shown.result.tables:
        assert str(pages.tables(shown, session.at, 60, 40)) == "this calculator has no table"
        return
    counts = [left_out(str(pages.tables(shown, session.at, width - 2, 40))) for width in range(60, 201, 2)]
    assert counts == sorted(counts, reverse=True)


def cut(text: str) -> list[str]:
    """The lines of a screen on which something is cut."""
    lines = text.replace("stock …", "").splitlines()
    return [line for line in lines if "…" in line and "more: enter at the last one" not in line]


@pytest.mark.parametrize("width", [120, 200])
@pytest.mark.parametrize("calculator", [name for name in NAMES if not load(name).slow])
def test_nothing_is_cut_on_a_wide_screen(home: Places, calculator: str, width: int) -> None:
    session = session_on(home)
    session.calculator = calculator
    view = BenchView(session, KEYS, ascii_only=False)
    for line in cut(screen(session, calculator, "answers", width)):  # a long list is cut in its field, with a sign
        place = next(at for at, field in enumerate(view.form.fields) if field.kind.label in line)
        assert ";" in line
        view.form.in_hand = place  # with the cursor in it all of it is told
        drawn = view.draw(width, 40)
        entry = next(entry for entry in session.shown().form.typed if entry.field is view.form.fields[place])
        told = " ".join(str(drawn.parts["told"]).split())
        assert view.form.placeholder(entry, 400) in told


async def test_stale_answers_say_so_on_every_page_and_are_never_another_spar_s(desk: Opener) -> None:
    async with desk() as it:
        await it.press("down", "down", "down", *"1/")
        assert it.field
        for _ in range(4):
            assert "(last good answer)" in it.text
            await it.press("ctrl+y")
        await it.press("ctrl+l", *"boom", "enter")
        assert it.session.spar_name == "boom"
        if it.session.shown().faults:
            assert it.session.shown().result is None
            assert "(last good answer)" not in it.text


async def test_a_table_that_takes_the_place_of_the_side_comes_to_rest(desk: Opener) -> None:
    async with desk(size=(120, 40)) as it:
        await it.find("taper")
        it.app.bench.view.behind = True  # as while a key is held
        await it.press("ctrl+y")
        assert it.app.bench.view.page == "table"
        assert not it.app.bench.view.behind
        await it.pilot.resize_terminal(80, 24)
        await it.settle()
