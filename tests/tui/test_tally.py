"""The tally: a key notches the answer in hand, in words, and it stays while one goes on; it is kept with the boat."""

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.errors import InputFault
from shopcompanion.profile.parse import read
from shopcompanion.profile_text.edit_boat import add_notch, drop_notches
from shopcompanion.storage.store import Places
from shopcompanion.tui.keys import ACTIONS
from shopcompanion.tui.picker import Picker
from shopcompanion.tui.session import Session
from shopcompanion.tui.tally import MOST, fields

from .conftest import NORMAL, SMALL, WIDE, Opener, own_copy

FACET = "mizzen mast, 5 ft, facets: Facet at 8 sides 1 in full"
WEIGHT = "mizzen mast, 5 ft, weight: Mass 9.64 lb"


async def test_the_answer_in_hand_is_notched_and_stays_from_calculator_to_card(desk: Opener) -> None:
    async with desk() as it:
        await it.press("!")
        assert it.session.tally == (FACET,)
        assert it.told[-1] == f"notched: {FACET}; | shows the tally"
        await it.find("weight")
        await it.press("!")
        assert it.session.tally == (FACET, WEIGHT)
        await it.quiet()
        row = " 2 ▏5 ft, facets: Facet at 8 sides 1 in full ▏5 ft, weight: Mass 9.64 lb"
        assert any(line.endswith(" 2 … ▏5 ft, weight: Mass 9.64 lb") for line in it.lines)
        for keys in (("ctrl+d",), ("escape", "ctrl+k"), ("c",)):  # the sheet, the job, its card
            await it.press(*keys)
            assert it.app.screen is not it.app.bench
            assert row in it.lines
        await it.press("escape", "escape")
        await it.find("drum")
        assert row in it.lines  # there is room for it


async def test_what_was_typed_over_is_told_with_it(desk: Opener) -> None:
    async with desk() as it:
        await it.write("3-1/2", "!")
        (notch,) = it.session.tally
        assert notch == "mizzen mast, 5 ft, facets: Facet at 8 sides 1-7/16 in full (Width across flats…"
        assert len(notch) == 79


@pytest.mark.parametrize("size", [SMALL, NORMAL, WIDE])
async def test_it_takes_no_answer_s_place(desk: Opener, size: tuple[int, int]) -> None:
    """Of all answers that stood on the screen before, none is gone with the notches."""
    async with desk(size=size) as it:
        for name in ("facets", "taper", "weight", "drum", "strength"):
            await it.find(name)
            await it.answered()
            await it.press("f7")  # all cautions were shown; from here on they are as they are
            await it.quiet()
            before = [line for line in it.part("#page").splitlines() if line.strip() and line.rstrip() in it.text]
            await it.press("!")
            await it.quiet()
            assert all(line.rstrip() in it.text for line in before), name
            assert len(it.lines) == size[1]
            await it.press("ctrl+z")


async def test_a_row_of_its_own_only_where_all_answers_stand(desk: Opener) -> None:
    async with desk() as it:
        await it.press("!")
        await it.quiet()
        asked = next(line for line in it.lines if line.startswith(" How wide is each facet"))
        assert asked.endswith("1 ▏…at 8 sides 1 in full")
        await it.find("drum")
        await it.quiet()
        assert " 1 ▏5 ft, facets: Facet at 8 sides 1 in full" in it.text


async def test_with_few_rows_the_key_has_it(desk: Opener) -> None:
    async with desk(size=SMALL) as it:
        await it.press("!", "|")
        assert isinstance(it.app.screen, Picker)
        assert "Tally: 1 notched" in it.text
        assert "Facet at 8 sides 1 in full" in it.text


async def test_it_is_saved_with_the_boat_and_there_at_the_next_start(desk: Opener, home: Places) -> None:
    path = own_copy(home)
    before = path.read_text(encoding="utf-8")
    async with desk() as it:
        await it.press("!", "ctrl+s")
    assert tomllib.loads(path.read_text(encoding="utf-8"))["boat"]["tally"] == [FACET]
    async with desk() as it:
        assert it.session.tally == (FACET,)
        await it.press("|", "ctrl+x", "ctrl+s")
    assert path.read_text(encoding="utf-8") == before


async def test_any_answer_can_be_notched_and_notches_are_cleared_and_come_back(desk: Opener) -> None:
    async with desk() as it:
        await it.press("!", "|", *"girth", "enter")
        assert it.session.tally == (FACET, "mizzen mast, 5 ft, facets: Girth, finished 7-5/8 in bare")
        both = it.session.tally
        await it.press("|", "ctrl+a")
        assert it.session.tally == ()
        assert it.told[-1] == "2 notches cleared; ^Z brings them back"
        await it.press("ctrl+z")
        assert it.session.tally == both
        await it.press("|", *"facet at", "ctrl+x")
        assert it.session.tally == both[1:]
        assert it.told[-1] == "1 notch cleared; ^Z brings them back"


async def test_without_a_boat_it_is_kept_for_the_run(desk: Opener) -> None:
    async with desk(boat=None) as it:
        await it.write("3", "!")
        assert it.session.tally == ("facets: Facet at 8 sides 1-1/4 in bare (Width across flats 3 in)",)
        assert not it.session.unsaved
        await it.press("!")
        assert it.told[-1] == "that is notched already"
        await it.press("|", "ctrl+a")
        assert it.session.tally == ()
        assert it.told[-1] == "1 notch cleared"


async def test_what_is_no_answer_is_refused(desk: Opener) -> None:
    async with desk() as it:
        await it.write("3-", "!")
        assert it.session.tally == ()
        assert it.told[-1].startswith("there is no answer to notch: ")
        await it.press("|")  # the tally itself opens
        assert "Tally: nothing notched yet" in it.text
        await it.press("escape", "escape", "!", "!")
        assert it.session.tally == (FACET,)
        assert "that is notched already" in it.told[-1]


async def test_a_notch_stays_as_it_was_cut(desk: Opener) -> None:
    """In the unit in force then, of the spar as it was then."""
    async with desk() as it:
        await it.press("!", "ctrl+t")
        assert it.session.tally == (FACET,)
        await it.press("!")
        assert it.session.tally == (FACET, "mizzen mast, 1524 mm, facets: Facet at 8 sides 25.5 mm full")


async def test_a_full_tally_says_so(desk: Opener) -> None:
    async with desk() as it:
        for k in range(MOST):
            it.session.notch(f"notch {k}")
        await it.press("!")
        assert len(it.session.tally) == MOST
        assert it.told[-1] == f"the tally has {MOST} notches, which is all it holds; | clears them"


@pytest.mark.parametrize("words", ["notch", "tally", "remember"])
async def test_the_finder_and_the_help_have_it(desk: Opener, words: str) -> None:
    async with desk() as it:
        await it.press("ctrl+f", *words)
        assert it.app.screen.shown[0].word in ("notch", "tally")
        await it.press("escape", "f1")
        help_text = str(it.app.screen.text)
        for name in ("notch", "tally"):
            action = next(action for action in ACTIONS if action.name == name)
            assert action.says in help_text


def test_the_answer_that_stands_large_comes_first(session: Session) -> None:
    assert fields(session)[0].name == session.shown().calculator.headline


PLAIN = 'format = 1\n\n[boat]  # ours\nname = "Dabchick"\nunits = "in"\n\n[shop]\nkerf = "1/8 in"  # thin\n'
WORDS = st.text(st.characters(exclude_categories=["C", "Z"]), min_size=1, max_size=40)


@given(st.lists(WORDS, max_size=6, unique=True), st.data())
def test_a_profile_keeps_every_byte_but_the_tally(notches: list[str], data: st.DataObject) -> None:
    text = PLAIN
    for notch in notches:
        text = add_notch(text, notch)
    assert read(text).boat.tally == tuple(notches)
    assert read(text).faults == ()
    gone = data.draw(st.sets(st.sampled_from(notches))) if notches else set()
    left = drop_notches(text, gone)
    assert read(left).boat.tally == tuple(notch for notch in notches if notch not in gone)
    assert drop_notches(text, notches) == PLAIN


def test_a_long_tally_has_a_line_for_each_notch() -> None:
    text = add_notch(add_notch(PLAIN, FACET), WEIGHT)
    text = add_notch(text, "bowsprit, 1 ft, drum: The belt drives yes")
    lines = [
        "tally = [",
        f'    "{FACET}",',
        f'    "{WEIGHT}",',
        '    "bowsprit, 1 ft, drum: The belt drives yes",',
        "]",
    ]
    assert "\n".join(lines) in text


@pytest.mark.parametrize("kept", ['tally = "one"', "tally = [3]"])
def test_a_tally_that_is_no_list_of_words_is_a_fault_and_stays(kept: str) -> None:
    text = PLAIN.replace('units = "in"\n', f'units = "in"\n{kept}\n')
    assert [fault.key.split()[0] for fault in read(text).faults] == ["tally"]
    with pytest.raises(InputFault, match="mend it first"):
        add_notch(text, FACET)
