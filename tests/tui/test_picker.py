"""The small screens: picking by typing, a long list through its window, a line with its reason, a text to read."""

from collections.abc import Sequence
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from textual import events
from textual.app import App

from shopcompanion.errors import InputFault
from shopcompanion.tui.picker import LineEntry, Picker
from shopcompanion.tui.search import PickerRow, rank
from shopcompanion.tui.themes import LAMPLIGHT

from .conftest import Desk, Opener, painted

SPARS = [
    PickerRow("main mast", "mast, round", 1),
    PickerRow("gaff", "gaff, round", 2),
    PickerRow("mizzen mast", "mizzen, round", 3),
    PickerRow("bowsprit bitt", "a bitt", 4, "spar"),
]


# --- ranking ------------------------------------------------------------------------------------------------------


def test_without_letters_the_order_is_as_given() -> None:
    assert rank(SPARS, "") == SPARS
    assert rank(SPARS, "  ") == SPARS


def test_what_begins_with_the_letters_comes_first() -> None:
    choices = [PickerRow("redo", "undo again", 1), PickerRow("undo", "", 2), PickerRow("bounds", "", 3)]
    assert [choice.word for choice in rank(choices, "und")] == ["undo", "bounds", "redo"]


def test_every_word_must_be_there_somewhere_in_any_case() -> None:
    assert [choice.value for choice in rank(SPARS, "MAST mizz")] == [3]
    assert [choice.value for choice in rank(SPARS, "spar")] == [4]
    assert rank(SPARS, "mast nothing") == []


LETTERS = st.text(st.sampled_from("abc "), max_size=5)
CHOICES = st.lists(st.builds(PickerRow, LETTERS, LETTERS, st.integers(), LETTERS, st.just(()), st.just(0)), max_size=8)


@given(CHOICES, LETTERS)
def test_ranking_only_leaves_out_and_orders(choices: list[PickerRow], query: str) -> None:
    ranked = rank(choices, query)
    assert all(ranked.count(choice) <= choices.count(choice) for choice in ranked)
    for choice in choices:
        whole = f"{choice.word} {choice.group} {choice.says}".casefold()
        assert (choice in ranked) == all(word in whole for word in query.split())
    starts = [choice.word.startswith(" ".join(query.split())) for choice in ranked]
    assert not query.split() or starts == sorted(starts, reverse=True)


# --- picking ------------------------------------------------------------------------------------------------------


class Bare(App[None], inherit_bindings=False):
    """An app with nothing on it."""

    def __init__(self) -> None:
        super().__init__()
        self.animation_level = "none"
        self.register_theme(LAMPLIGHT)
        self.theme = LAMPLIGHT.name


class Small(Desk):
    @property
    def rows(self) -> list[str]:
        """What stands in the card, a line for every row."""
        return [line.strip().strip("│").strip() for line in painted(self.app) if "│" in line]


async def showing(
    screen: Any, keys: Sequence[str] = (), size: tuple[int, int] = (80, 24)
) -> tuple[list[str], list[object]]:
    """The rows after the keys, and what was given."""
    return (await all_showing([(screen, keys)], size))[0]


async def all_showing(
    cases: Sequence[tuple[Any, Sequence[str]]], size: tuple[int, int] = (80, 24)
) -> list[tuple[list[str], list[object]]]:
    """For every small screen in turn, the rows after the keys and what was given."""
    app = Bare()
    seen = []
    async with app.run_test(size=size) as pilot:
        it = Small(app, pilot)  # type: ignore[arg-type]
        for screen, keys in cases:
            given: list[object] = []
            app.push_screen(screen, given.append)
            await it.settle()
            await it.press(*keys)
            seen.append((it.rows, list(given)))
            if app.screen is screen:
                app.pop_screen()
                await it.settle()
    return seen


PICKED: list[tuple[list[str], list[object]]] = [
    (["enter"], [1]),
    (["down", "down", "enter"], [3]),
    (["down", "down", "up", "enter"], [2]),
    (["up", "enter"], [1]),
    (["down"] * 9 + ["enter"], [4]),
    (["pagedown", "enter"], [4]),
    (["tab", "shift+tab", "tab", "enter"], [2]),
    ([*"mizz", "enter"], [3]),
    ([*"mizzx", "backspace", "enter"], [3]),
    ([*"gaffx", "enter"], []),
    (["escape"], [None]),
    (["ctrl+q"], [None]),
    (["ctrl+c"], [None]),
    (["ctrl+x"], []),
]


async def test_picking() -> None:
    seen = await all_showing([(Picker("Spars", SPARS), keys) for keys, _ in PICKED])
    assert [given for _, given in seen] == [given for _, given in PICKED]


async def test_it_can_start_on_any_row() -> None:
    assert (await showing(Picker("Spars", SPARS, start=2), ["enter"]))[1] == [3]


async def test_another_key_gives_its_name_and_the_row() -> None:
    picker = Picker("Boats", SPARS, extra={"ctrl+t": ("copy", "make a copy")})
    rows, _ = await showing(picker)
    assert rows[-1] == "↑↓ ⏎ pick  ^T make a copy  esc back"
    picker = Picker("Boats", SPARS, extra={"ctrl+t": ("copy", "copy")})
    assert (await showing(picker, ["down", "ctrl+t"]))[1] == [("copy", 2)]


async def test_letters_typed_before_it_is_drawn_and_after_it_is_done_are_kept() -> None:
    class Eager(Bare):
        def on_mount(self) -> None:
            def picked(value: object) -> None:
                self.push_screen(LineEntry(f"Name of {value}", check))

            self.push_screen(Picker("Spars", SPARS), picked)
            for key in (*"mizz", "enter", *"Dab"):
                self.post_message(events.Key(key, key if len(key) == 1 else None))

    app = Eager()
    async with app.run_test(size=(80, 24)) as pilot:
        it = Small(app, pilot)  # type: ignore[arg-type]
        await it.settle()
        assert it.rows[:2] == ["Name of 3", "› Dab▏"]


async def test_what_is_pasted_is_typed_up_to_the_line_end() -> None:
    app = Bare()
    async with app.run_test(size=(80, 24)) as pilot:
        it = Small(app, pilot)  # type: ignore[arg-type]
        app.push_screen(Picker("Spars", SPARS))
        await it.settle()
        await it.paste("mizz\nen")
        assert it.rows[1] == "› mizz▏"
        await it.paste("\x1b[31m")
        assert it.rows[1] == "› mizz [31m▏"


async def test_nothing_found_is_said() -> None:
    rows, given = await showing(Picker("Spars", SPARS), [*"zzz", "enter", "down"])
    assert rows[2] == "no match; backspace deletes letters"
    assert given == []


MANY = [PickerRow(f"boat {number:03}", "", number) for number in range(500)]


async def test_a_long_list_shows_a_window_about_the_cursor() -> None:
    windows = [(0, 0, 13), (8, 1, 14), (250, 243, 256), (499, 486, 499)]
    seen = await all_showing([(Picker("Boats", MANY, start=moves - 1), ["down"]) for moves, _, _ in windows])
    for (moves, first, last), (rows, _) in zip(windows, seen, strict=True):
        shown = [int(row.removeprefix("▸ ").removeprefix("boat ")) for row in rows[2:-1]]
        assert shown == list(range(first, last + 1))
        assert [row for row in rows if row.startswith("▸")] == [f"▸ boat {moves:03}"]
        assert (f"↑ {first} more" in rows[-1]) == (first > 0)
        assert (f"↓ {499 - last} more" in rows[-1]) == (last < 499)


async def test_only_rows_on_the_screen_are_described() -> None:
    asked: list[int] = []

    def describe(number: int) -> str:
        asked.append(number)
        return f"number {number}"

    rows, _ = await showing(Picker("Boats", MANY, describe=describe))
    assert rows[2] == "▸ boat 000  number 0"
    assert set(asked) == set(range(14))


async def test_what_is_too_long_ends_in_a_sign() -> None:
    long = [PickerRow("a very long name indeed " * 4, "and much to say about it " * 5, 1)]
    rows, _ = await showing(Picker("Boats", long), size=(60, 20))
    row = next(row for row in rows if row.startswith("▸"))
    assert row.endswith("…")
    assert len(row) <= 54
    assert "and much" in row


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_the_card_stays_on_the_screen(size: tuple[int, int]) -> None:
    rows, _ = await showing(Picker("Boats", [PickerRow("x" * 200, "y" * 200, 1)] * 60), size=size)
    assert rows[0] == "Boats"
    assert rows[-1].startswith("↑↓ ⏎ pick  esc back")
    assert len(rows) < size[1] - 1


async def test_names_are_never_markup() -> None:
    names = ["[b]x[/b]", "[red]x", "[/]", "x\\[b]", "$accent", "{x}"]
    seen = await all_showing([(Picker(name, [PickerRow(name, name, 1, name)]), []) for name in names])
    for name, (rows, _) in zip(names, seen, strict=True):
        assert rows[:2] == [name, f"▸ {name}  {name}: {name}"]


# --- a line -------------------------------------------------------------------------------------------------------


def check(text: str) -> None:
    if not text.strip():
        raise InputFault("empty")
    if "[" in text:
        raise InputFault(f"'{text}' will not do")


WRITTEN: list[tuple[list[str], list[object]]] = [
    ([*"my bit", "enter"], ["my bit"]),
    ([*"my bitt", "backspace", "enter"], ["my bit"]),
    ([*"wrong", "ctrl+u", *"right", "enter"], ["right"]),
    (["enter"], []),
    (["escape"], [None]),
    (["ctrl+q"], [None]),
    ([*"a<b>?", "enter"], ["a<b>?"]),
    (["down", "f5", *"a", "enter"], ["a"]),
]


async def test_writing_a_line() -> None:
    seen = await all_showing([(LineEntry("Name", check), keys) for keys, _ in WRITTEN])
    assert [given for _, given in seen] == [given for _, given in WRITTEN]


async def test_a_line_that_will_not_do_says_why_until_it_is_changed() -> None:
    keys = [*"[b]", "enter"]
    (rows, given), (after, _) = await all_showing(
        [(LineEntry("Name", check), keys), (LineEntry("Name", check), [*keys, "backspace"])]
    )
    assert rows[1:3] == ["› [b]▏", "✗ '[b]' will not do"]
    assert given == []
    assert after[1:3] == ["› [b▏", ""]


async def test_a_line_says_what_it_is_for_before_anything_is_typed() -> None:
    rows, _ = await showing(LineEntry("Name of the boat", check))
    assert rows == ["Name of the boat", "› ▏", "", "⏎ done  esc back"]


async def test_a_line_starts_with_what_there_is() -> None:
    assert (await showing(LineEntry("Name", check, "old"), [*"er", "enter"]))[1] == ["older"]


async def test_a_line_takes_no_letter_that_cannot_be_shown() -> None:
    app = Bare()
    given: list[str | None] = []
    async with app.run_test(size=(80, 24)) as pilot:
        it = Small(app, pilot)  # type: ignore[arg-type]
        app.push_screen(LineEntry("Name", lambda text: None), given.append)
        await it.settle()
        await it.paste("a\x1b[31mb\nnext")
        assert it.rows[1] == "› a [31mb▏"
        await it.write("c" * 200, "enter")
    assert given == ["a [31mb" + "c" * 73]


async def test_what_is_found_after_the_finder_is_gone_is_let_go(desk: Opener) -> None:
    async with desk() as it:
        await it.press("ctrl+f")
        finder = it.app.screen
        assert isinstance(finder, Picker)
        await it.press("escape")
        before = it.text
        finder.add([PickerRow("late", "", "late")])
        await it.settle()
        assert it.text == before
