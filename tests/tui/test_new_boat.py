"""A boat of one's own from nothing: three questions, then the next thing to do until all of it is there."""

import pytest

from shopcompanion.storage.store import Places, find, open_boat
from shopcompanion.tui.sheet import Sheet

from .conftest import NORMAL, SMALL, WIDE, YAWL, Desk, Opener, own_copy


async def new_boat(it: Desk, *choices: str) -> None:
    """By keys: the list of boats, a new one called Dabchick, then arrows and enter for each of its two choices."""
    await it.press("ctrl+o", "ctrl+n", *"Dabchick", "enter", *choices)


@pytest.mark.parametrize("size", [NORMAL, WIDE, SMALL])
async def test_an_empty_boat_says_what_is_next_until_it_is_all_there(
    desk: Opener, home: Places, size: tuple[int, int]
) -> None:
    async with desk(size=size) as it:
        await new_boat(it, "enter", "enter")
        assert it.session.boat.name == "Dabchick"
        assert (home.profiles / "dabchick.toml").exists()
        said = " ".join(it.text.split())
        if size != SMALL:
            assert "no spar yet" in said
        steps = "1 inches ✓ 2 the first spar ^L 3 the shop F3 4 yard and timber F3"
        assert ("inches ✓ spar ^L shop F3 timber F3" if size == SMALL else steps) in said
        await it.press("ctrl+l")
        for line in ("main mast", "14 ft", "3-1/2", "2-1/4"):
            await it.write(line, "enter")
        assert it.session.spar is not None
        assert it.session.spar.kind == "mast"
        await it.quiet()
        if size != SMALL:
            assert "Next: the shop: saw, bits, drum, F3" in it.text
        await it.press("f3")
        assert isinstance(it.app.screen, Sheet)
        await it.write("1/8", "enter", "escape")
        if size != SMALL:
            assert "Next: yard and timber, F3" in it.text
        await it.press("f3", *["ctrl+y"] * 4, *"plank", "tab", "tab", *"4 x 4", "tab", "tab", "tab", *"16 ft", "enter")
        await it.press("escape")
        assert it.session.boat.timbers
        assert "Next:" not in it.text


async def test_a_boat_in_millimetres_reopens_so(desk: Opener, home: Places) -> None:
    async with desk() as it:
        await new_boat(it, "down", "enter", "enter")
        assert it.session.rule.unit == "mm"
        await it.press("ctrl+q")
    async with desk("dabchick", spar=None, at=None) as it:
        assert it.session.rule.unit == "mm"
        assert "millimetres" in it.lines[0]
        assert "1 millimetres ✓" in it.text


@pytest.mark.parametrize(("units", "unit"), [((), "in"), (("down",), "mm")])
async def test_a_boat_like_an_example_in_its_units_or_others(
    desk: Opener, home: Places, units: tuple[str, ...], unit: str
) -> None:
    async with desk() as it:
        await new_boat(it, *units, "enter", *"salt", "enter")
        boat = it.session.boat
        assert boat.name == "Dabchick"
        assert boat.spars == open_boat(find(home, YAWL)).reading.boat.spars
        assert boat.rule.unit == unit
        assert it.session.faults == ()
        assert "Next:" not in it.text


async def test_going_back_from_a_question_makes_no_boat(desk: Opener, home: Places) -> None:
    for back in ((), ("enter",)):
        async with desk() as it:
            await new_boat(it, *back, "escape")
            assert not home.profiles.exists()
            assert it.session.boat.name == "Saltmarsh yawl"


async def test_a_new_boat_is_in_the_list_and_in_the_finder(desk: Opener) -> None:
    async with desk() as it:
        await it.press("ctrl+o", *"new boat", "enter")
        assert "Name of the new boat" in it.text
        await it.press("escape", "ctrl+f", *"new boat", "enter")
        assert "Name of the new boat" in it.text


async def test_other_units_on_a_boat_of_ones_own_are_shown_and_may_be_kept(desk: Opener, home: Places) -> None:
    own_copy(home)
    async with desk(YAWL) as it:
        await it.press("ctrl+t")
        assert it.told[-1].startswith("shown in millimetres; ^F and 'keep rule'")
        assert it.session.rule.unit == "mm"
        assert not it.session.unsaved
        told = len(it.told)
        await it.press("ctrl+t")  # back to its own: nothing is told
        assert len(it.told) == told
        await it.press("ctrl+t")
        await it.find("keep rule")
        await it.press("ctrl+s")
        assert it.session.boat.rule.unit == "mm"
    async with desk(YAWL) as it:
        assert it.session.rule.unit == "mm"


async def test_on_an_example_other_units_are_only_shown(desk: Opener) -> None:
    async with desk() as it:
        await it.press("ctrl+t")
        assert it.app.screen is it.app.bench
        assert it.session.rule.unit == "mm"
