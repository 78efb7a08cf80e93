"""How do I …? What a maker would type for a job, in the finder or the help, gives the key or the calculator for it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.catalog import NAMES
from shopcompanion.tui import other_words
from shopcompanion.tui.keys import ACTIONS
from shopcompanion.tui.picker import Picker
from shopcompanion.tui.reader import TextScreen
from shopcompanion.tui.search import PickerRow, answers
from shopcompanion.tui.themes import THEMES

from .conftest import NORMAL, SMALL, Desk, Opener


def finder(it: Desk) -> Picker:
    assert isinstance(it.app.screen, Picker)
    return it.app.screen


@pytest.mark.parametrize(
    ("question", "word", "keys"),
    [
        ("make a mast lighter", "lightest", ""),
        ("cut the taper", "taper", ""),
        ("how do I round the boom?", "roundover", ""),
        ("which bit for the boom", "roundover", ""),
        ("sand the mast", "drum", ""),
        ("how stiff is the mast?", "strength", ""),
        ("how much wood do I need", "stock", "F6"),
        ("change the wood", "swap", ""),
        ("which wood", "compare", ""),
        ("how do I make a mast lighter?", "lightest", ""),
        ("print the card", "PDF", "^K p"),
        ("change to millimetres", "units", "^T"),
        ("mark a hinge", "hinge", ""),
        ("undo my last change", "undo", "^Z"),
        ("go back to an earlier version", "versions", ""),
        ("drill a long hole", "bore", ""),
        ("how heavy is the boom", "weight", ""),
        ("put a cleat on the spar", "fit", "F4"),
        ("write the page for the yard", "write", "^K w"),
        ("go to the next station", "station", "PgDn"),
        ("how do I enter my saw", "shop", "F3"),
        ("order timber", "stock", "F6"),
        ("measure the spar", "sheet", "^D"),
        ("clear the notches", "tally", "|"),
        ("add a new spar", "spar", "^L"),
        ("adopt the new widths", "adopt", "^D ^A"),
        ("will it break", "strength", ""),
        ("make the screen bright", "daylight", ""),
    ],
)
async def test_a_question_has_its_answer_on_top(desk: Opener, question: str, word: str, keys: str) -> None:
    async with desk() as it:
        await it.press("ctrl+f", *question)
        first = finder(it).shown[0]
        assert first.word == word
        assert not keys or first.group == keys
        assert f"▸ 1 {word}" in it.text


async def test_what_is_picked_is_done(desk: Opener) -> None:
    async with desk() as it:
        await it.press("ctrl+f", *"make a mast lighter", "enter")
        assert it.session.calculator == "lightest"
        await it.press("ctrl+f", *"change to millimetres", "enter")
        assert it.session.rule.unit == "mm"
        await it.press("ctrl+f", *"print the card", "enter")  # where its key works
        assert it.app.screen.place == "job"


@pytest.mark.parametrize("size", [NORMAL, SMALL])
async def test_letters_typed_in_the_help_are_a_question(desk: Opener, size: tuple[int, int]) -> None:
    async with desk(size=size) as it:
        await it.press("f1", *"print the card")
        assert finder(it).typed == "print the card"
        assert "▸ 1 PDF" in it.text
        await it.press("escape")
        assert isinstance(it.app.screen, TextScreen)  # back in the help
        await it.press(*"order timber", "enter")
        assert it.app.screen.place == "timber"


async def test_a_page_that_is_no_help_takes_no_question(desk: Opener) -> None:
    async with desk() as it:
        await it.press("f5", *"octagon")
        assert isinstance(it.app.screen, TextScreen)


async def test_a_name_goes_before_a_question_and_nonsense_finds_nothing(desk: Opener) -> None:
    async with desk() as it:
        await it.press("ctrl+f", *"taper")
        assert finder(it).shown[0].word == "taper"
        await it.press(*["backspace"] * 5, *"sharpen a chisel")
        assert finder(it).shown == []
        assert "no match" in it.text


async def test_what_is_typed_behind_a_pick_goes_to_what_it_opened(desk: Opener) -> None:
    async with desk() as it:
        await it.press("ctrl+f", *"preset", "enter", *"keep")
        assert it.app.screen.typed == "keep"
        assert it.session.texts() == {}
        await it.press("escape", "ctrl+f", *"go to", "enter", *"7 ft", "enter")
        assert it.session.at == pytest.approx(7 * 304.8)


def test_other_words_are_of_what_there_is() -> None:
    assert {*other_words.CALCULATORS} <= {*NAMES}
    assert {*other_words.ACTIONS} <= {action.name for action in ACTIONS}
    assert {*other_words.THEMES} == {theme.name for theme in THEMES}


SHEET = PickerRow("sheet", "The spar's stations", 1, "^D", ("measure the spar",))
UNITS = PickerRow("units", "Inches or millimetres", 2, "^T")
LIGHT = PickerRow("lightest", "What is the lightest spar?", 3, "Prove")
ALL = [SHEET, UNITS, LIGHT]


@pytest.mark.parametrize(
    ("question", "wanted"),
    [
        ("how do I measure the spar?", [SHEET, LIGHT]),  # the whole of it, then half of it
        ("a lighter mast", [LIGHT, SHEET]),  # a mast is a spar
        ("lighter", [LIGHT]),
        ("in mm", [UNITS]),
        ("sheets", [SHEET]),
        ("the", []),
        ("", []),
        ("polish brass", []),
    ],
)
def test_answers(question: str, wanted: list[PickerRow]) -> None:
    assert answers(ALL, question) == wanted


@given(st.text(st.sampled_from("abelmprst ?'-"), max_size=30))
def test_any_question_is_answered_from_the_list_or_not_at_all(question: str) -> None:
    given_back = answers(ALL, question)
    assert len(given_back) == len({choice.value for choice in given_back})
    assert all(choice in ALL for choice in given_back)
