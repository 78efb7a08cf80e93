"""The finder and the presets by their keys."""

import gc
import weakref

import pytest

from shopcompanion.card.steps import steps
from shopcompanion.catalog import NAMES, load
from shopcompanion.tui import finder
from shopcompanion.tui.idle import forget
from shopcompanion.tui.job import Job
from shopcompanion.tui.picker import Picker

from .conftest import Opener

# --- finding ------------------------------------------------------------------------------------------------------


async def test_every_calculator_is_a_few_strokes_away_even_while_typing(desk: Opener) -> None:
    async with desk() as it:
        for place, name in enumerate(NAMES, 1):
            await it.press("down", *"3-")
            if place <= 9:  # its number, three strokes
                await it.press("ctrl+f", str(place), "enter")
            else:
                letters = next(
                    k for k in range(1, 9) if next(other for other in NAMES if other.startswith(name[:k])) == name
                )
                await it.press("ctrl+f", *name[: max(2, letters)], "enter")
            assert it.session.calculator == name


@pytest.mark.parametrize(
    ("typed", "wanted"),
    [
        ("octagon", "facets"),
        ("eight-siding", "facets"),
        ("leather, if on", "jaws"),  # the label of an answer
        ("girth, finished", "facets"),
        ("reach needed", "bore"),
        ("cut list", "stock"),
        ("print", "job"),
        ("metric", "units"),
        ("new boat", "new boat"),
        ("hinged mast", "hinge"),
        ("3/4", ""),
        ("8 sides", "facets"),
        ("sheave slot", "sheet"),
    ],
)
async def test_the_trade_s_words_find_what_is_meant(desk: Opener, typed: str, wanted: str) -> None:
    async with desk() as it:
        await it.press("ctrl+f", *typed)
        finder = it.app.screen
        assert isinstance(finder, Picker)  # no figure has picked a row
        assert finder.typed == typed
        if wanted:
            assert finder.shown[0].word == wanted
            assert typed in it.text


async def test_calculators_that_are_not_loaded_yet_stand_in_the_list_at_once(desk: Opener, monkeypatch) -> None:
    """And are found by their questions and other words a moment later."""
    monkeypatch.setattr(finder, "all_loaded", lambda: False)
    async with desk() as it:
        it.app.finder.do_find()
        listed = it.app.screen.choices
        assert [row.word for row in listed[: len(NAMES)]] == list(NAMES)
        assert {row.says for row in listed[: len(NAMES)]} == {""}
        await it.settle()
        assert it.app.screen.choices[0].says == load("facets").question
        assert [row.word for row in it.app.screen.choices[: len(listed)]] == [row.word for row in listed]
        await it.write("sand the mast", "enter")
        assert it.session.calculator == "drum"


async def test_a_step_of_the_job_is_found_by_its_title(desk: Opener) -> None:
    async with desk() as it:
        await it.press("ctrl+f", *"true the blank")
        finder = it.app.screen
        assert isinstance(finder, Picker)
        await it.press("enter")
        job = it.app.screen
        assert isinstance(job, Job)
        assert "True the blank" in job.steps[job.at].title


async def test_the_steps_that_are_found_are_those_of_the_spar_in_hand(desk: Opener) -> None:
    """Also when another spar is taken up before they are all worked out; and a list that is gone is let go."""
    async with desk() as it:
        it.app.finder.do_find()
        it.app.screen.dismiss(None)
        it.session.choose_spar("bowsprit bitt")
        it.app.finder.do_find()
        gone = weakref.ref(it.app.screen)
        await it.settle()
        listed = [row.word for row in it.app.screen.choices if row.group == "step of the job"]
        boat, spar = it.session.boat, it.session.spar
        assert listed == [step.title for step in steps(boat, spar, it.session.rule)]
        await it.press("escape")
        it.app.finder.do_find()
        await it.settle()
        assert [row.word for row in it.app.screen.choices if row.group == "step of the job"] == listed
        await it.press("escape")
        forget()
        gc.collect()
        assert gone() is None


async def test_a_number_alone_goes_to_its_row(desk: Opener) -> None:
    async with desk() as it:
        await it.press("ctrl+f", "4")
        finder = it.app.screen
        assert isinstance(finder, Picker)
        assert (finder.cursor, len(finder.shown)) == (3, len(finder.choices))
        await it.press("backspace", *"2 ")
        assert finder.typed == "2 "
        assert len(finder.shown) < len(finder.choices)


async def test_a_digit_that_goes_on_with_a_name_is_typed(desk: Opener) -> None:
    async with desk() as it:
        await it.press("ctrl+l", "ctrl+r", *" 2", "enter")
        await it.press("ctrl+f", *"mast 2", "enter")
        assert it.session.spar_name == "mizzen mast 2"


async def test_every_calculator_is_found_by_two_letters_or_by_those_that_tell_it_from_another(desk: Opener) -> None:
    async with desk() as it:
        await it.press("ctrl+f")
        finder = it.app.screen
        assert isinstance(finder, Picker)
        for name in NAMES:
            letters = next(
                k for k in range(2, 9) if next(other for other in NAMES if other.startswith(name[:k])) == name
            )
            assert letters <= 3
            await it.press(*name[:letters])
            assert finder.shown[0].word == name
            await it.press(*["backspace"] * letters)


async def test_the_finder_finds_spars_actions_and_the_rule(desk: Opener) -> None:
    async with desk() as it:
        await it.find("boom")
        assert it.session.spar_name == "boom"
        await it.find("units")
        assert it.session.rule.unit == "mm"
        await it.find("keep rule")
        assert it.session.boat.units == "mm"
        assert "not saved ●" in it.lines[0]
        await it.find("undo")
        assert it.session.boat.units == "in"
        await it.find("redo")
        assert it.session.boat.units == "mm"
        await it.find("help")
        assert "Help" in it.text
        await it.press("escape")
        await it.find("station")
        await it.write("1 ft", "enter")
        assert it.session.at == pytest.approx(304.8)


async def test_the_finder_lists_the_timbers_the_boats_own_first(desk: Opener) -> None:
    async with desk("fjord-lugger") as it:
        await it.find("species")
        assert "Timbers" in it.text
        assert "Larch, fjord side" in it.text
        assert "invented for this example; the boat's own" in it.text
        assert it.text.index("Larch, fjord side") < it.text.index("Spruce, Sitka")
        await it.press("escape")
        assert "Larch, fjord side" not in it.text


async def test_nothing_happens_when_nothing_is_picked(desk: Opener) -> None:
    async with desk() as it:
        before = it.text
        for key in ("ctrl+f", "ctrl+l", "ctrl+o", "ctrl+p", "ctrl+g", "f1"):
            await it.press(key)
            assert it.text != before
            await it.press("escape")
            assert it.text == before


# --- presets ------------------------------------------------------------------------------------------------------


async def test_a_preset_is_kept_and_called_back(desk: Opener) -> None:
    async with desk() as it:
        await it.find("rou")
        await it.press("down", "down", *"3/4", "ctrl+p", "enter", *"small bit", "enter")
        assert it.told == ["kept as 'small bit'; ^S saves the boat"]
        assert "not saved ●" in it.lines[0]
        await it.press("escape", *"1", "ctrl+p")
        assert "small bit" in it.text
        assert "bit_radius 3/4 in" in it.text
        await it.write("small", "enter")
        assert it.values() == {"bit_radius": "3/4 in"}


async def test_a_preset_is_renamed_and_dropped_and_undo_brings_it_back(desk: Opener) -> None:
    async with desk() as it:
        await it.find("drum")
        first = it.session.state.text
        await it.press("ctrl+p", *"rubber", "ctrl+r", "ctrl+u", *"lagged", "enter")
        assert [preset.name for preset in it.session.presets()] == ["lagged"]
        await it.press("ctrl+p", *"lag", "ctrl+x")
        assert it.session.presets() == []
        assert it.told[-1] == "preset 'lagged' dropped; ^Z brings it back"
        await it.press("ctrl+z")
        assert [preset.name for preset in it.session.presets()] == ["lagged"]
        assert it.told[-1] == "undone: dropping preset 'lagged'"
        await it.press("ctrl+z")
        assert it.session.state.text == first
        assert "example" in it.lines[0]
        await it.press("ctrl+z")
        assert it.told[-1] == "nothing to undo"
        await it.press("ctrl+n", "ctrl+n", "ctrl+n")
        assert it.told[-3:] == [
            "done again: renaming preset 'rubber on the drum'",
            "done again: dropping preset 'lagged'",
            "nothing to do again",
        ]


async def test_what_cannot_be_kept_is_told(desk: Opener) -> None:
    async with desk() as it:
        await it.press("ctrl+p", *"keep", "enter")
        assert it.told == ["nothing is typed here; type the values to keep first"]
        await it.press(*"3-", "ctrl+p", "enter")
        assert it.told[-1].startswith("width: 3»-«")
        await it.press("backspace", "ctrl+p", "enter", "enter")
        assert "✗ empty" in it.text
        await it.press("escape")
        assert not it.session.unsaved


async def test_the_row_to_keep_cannot_be_renamed_or_dropped(desk: Opener) -> None:
    async with desk() as it:
        await it.press(*"3", "ctrl+p", "ctrl+x")
        assert not it.session.unsaved
        await it.press("ctrl+p", "ctrl+r")
        assert not it.session.unsaved
        assert it.told == []
