"""The half of the job that no table answers, by keys alone: what a maker asks of a mast, and what is put on it."""

import re

import pytest

from shopcompanion.card.text import card
from shopcompanion.profile.parse import read
from shopcompanion.tui.sheet import Sheet

from .conftest import LUGGER, NORMAL, YAWL, Desk, Opener, own_copy


class Counted:
    """A pair of hands, and how many keys they pressed."""

    def __init__(self, it: Desk) -> None:
        self.it, self.keys = it, 0

    async def press(self, *keys: str) -> str:
        self.keys += len(keys)
        await self.it.press(*keys)
        await self.it.answered()
        return self.it.text


def said(text: str, label: str) -> str:
    """What stands on the screen behind a label."""
    match = re.search(rf"{re.escape(label)}  +(\S.*?)(?:   |$)", text, re.MULTILINE)
    assert match, (label, text)
    return match[1].strip()


async def test_what_a_maker_asks_of_a_mast_takes_few_keys(desk: Opener, home) -> None:
    """How far the masthead goes in a blow, where it breaks first, what half an inch less at the partners costs, and
    what the lightest mast as stiff as this one weighs: at 80 × 24, no more than 50 keys, two seconds for each."""
    own_copy(home, LUGGER)
    async with desk(LUGGER, spar="mast", size=NORMAL) as it:
        hand = Counted(it)
        screen = await hand.press("ctrl+f", *"strength", "enter")
        assert said(screen, "Head moves") == "158 mm bare"
        assert said(screen, "Gives first") == "bending, at the partners"
        factor = float(said(screen, "FACTOR AGAINST BREAKING"))
        screen = await hand.press("down", *"1/2 in")
        assert said(screen, "Head moves as drawn") == "158 mm bare"
        answers = it.session.shown().result.answers
        assert answers.tip_deflection > 1.5 * answers.tip_drawn
        assert said(screen, "Factor as drawn") == f"{factor:g}"
        assert float(said(screen, "FACTOR AGAINST BREAKING")) < 0.75 * factor
        screen = await hand.press("ctrl+f", *"lightest", "enter")
        assert it.session.calculator == "lightest"
        assert float(said(screen, "Weighs then").split()[0]) < float(said(screen, "Weighs now").split()[0])
        assert hand.keys <= 50, hand.keys


async def test_the_lightest_goes_on_the_spar_by_a_key_and_comes_off_again(desk: Opener, home) -> None:
    own_copy(home, LUGGER)
    async with desk(LUGGER, spar="mast") as it:
        before, was = it.session.state.text, it.session.spar.outline()
        await it.find("lightest")
        await it.answered()
        wanted = it.session.shown().result.answers.new_widths
        await it.press("f4")
        assert it.told[-1].startswith("mast has the new widths")
        now = it.session.spar.outline()
        for (at, width), (station, least) in zip(now.stations, wanted, strict=True):
            assert at == pytest.approx(station)
            assert 0 <= width - least < 0.5  # up to the mark of the rule
        assert now.law == was.law
        mast = it.session.spar
        text = card(it.session.boat, mast, rule=it.session.rule, source="", version="", date=None).text
        assert f"{now.stations[-1][1]:g} mm" in text  # the card then is for that
        assert f"{was.stations[-1][1]:g} mm" not in text
        await it.press("ctrl+z")
        assert it.session.state.text == before


async def test_another_timber_goes_on_a_copy_by_keys_and_comes_off_again(desk: Opener, home) -> None:
    own_copy(home, LUGGER)
    async with desk(LUGGER, spar="mast") as it:
        before = it.session.state.text
        await it.find("swap")
        await it.press("down")
        assert it.field == "other"
        await it.write("douglas-fir, coast", "f4")
        copy = it.session.boat.spar("mast in Douglas-fir, Coast")
        assert copy.species == "Douglas-fir, Coast"
        assert it.session.boat.spar("mast").species.startswith("Whitewood")
        assert read(it.session.state.text).faults == ()
        await it.press("ctrl+l", *"mast in", "enter")
        assert it.session.spar_name == copy.name
        await it.find("strength")
        await it.answered()
        assert "Douglas-fir, Coast" in it.session.shown().result.answers.timber
        while it.session.state.text != before:
            await it.press("ctrl+z")
        assert it.session.boat.spar("mast")


async def of_the_spar(it: Desk, label: str, *keys: str) -> None:
    """Write in a row of the sheet's page of the spar's own values."""
    await it.press("ctrl+d")
    screen = it.app.screen
    assert isinstance(screen, Sheet)
    while screen.page.title != "spar":
        await it.press("ctrl+y")
    while screen.page.cell(screen.row, "key") != label:
        await it.press("down")
    await it.press(*keys, "enter")


async def test_supports_and_loads_are_entered_in_the_sheet(desk: Opener, home) -> None:
    own_copy(home, LUGGER)
    async with desk(LUGGER, spar="mast") as it:
        await of_the_spar(it, "Held at", *"0 = fixed; 3 m = pinned")
        await it.press("escape")
        await of_the_spar(it, "Loads across it", *"0 to 3 m = 100 to 20 N/m; 5 m = 50 N")
        await it.press("escape")
        await of_the_spar(it, "Pushed along it", *"5 m = 0.2 kN")
        await it.press("escape")
        assert 'supports = "0 = fixed; 3 m = pinned"' in it.session.state.text
        assert 'loads = "0 to 3 m = 100 to 20 N/m; 5 m = 50 N"' in it.session.state.text
        assert read(it.session.state.text).faults == ()
        await it.find("strength")
        await it.answered()
        answers = it.session.shown().result.answers
        assert answers.load_from == "as typed"
        assert answers.load == pytest.approx(0.06 * 3000 + 50)
        assert answers.pressed > 200  # its own weight as well


async def test_what_cannot_be_is_told_in_the_sheet_and_changes_nothing(desk: Opener, home) -> None:
    own_copy(home, LUGGER)
    async with desk(LUGGER, spar="mast") as it:
        before = it.session.state.text
        for label, text, words in (
            ("Held at", "2 m = pinned", "turns about that place"),
            ("Held at", "0 = glued", "fixed, pinned or a spring"),
            ("Loads across it", "0 to 3 m = 100 to", "is not understood"),
            ("Loads across it", "9 m = 5 N", "lies off the spar"),
            ("Sail, to", "9 m", "past the head"),
        ):
            await of_the_spar(it, label, *text)
            assert words in " ".join(it.text.split())
            assert it.session.state.text == before
            await it.press("escape", "escape")


BAD = [
    ("thinner", "900 mm", "it must be at most 500 mm"),
    ("as_built", "yes", "nothing is measured yet"),
    ("wind", "nan", "is not understood"),
    ("wind", "900", "at most 60 m/s"),
    ("section", "hollow", "a hollow spar has a wall"),
    ("supports", "2 m = pinned", "turns about that place"),
    ("supports", "-1 m = fixed", "lies off the spar"),
    ("loads", "9 m = 5 N", "lies off the spar"),
    ("loads", "1 m = nan N", "is not understood"),
    ("loads", "1 m = 99999999999999999 N", "absurdly large"),
    ("push", "5 m = 900 kN", "it buckles under its load"),
]


async def test_a_bad_input_is_told_in_a_line_and_the_last_answer_stays(desk: Opener, home) -> None:
    own_copy(home, LUGGER)
    async with desk(LUGGER, spar="mast") as it:
        await it.find("strength")
        await it.answered()
        good = it.session.shown().result.answers
        await it.paste("moonwood")
        await it.answered()
        assert "no timber is called" in it.said("#told")
        await it.press("escape")
        for field, text, words in BAD:
            while it.field != field:
                await it.press("enter" if it.field == "wind" else "down")
            await it.paste(text)
            await it.answered()
            shown = it.session.shown()
            assert len(shown.faults) == 1, field
            assert words in shown.faults[0].reason
            assert words in it.said("#told")
            assert shown.result.answers == good
            await it.press("escape")
            await it.answered()


async def test_a_bowsprits_strip_and_answer_on_the_yawl(desk: Opener, home) -> None:
    own_copy(home, YAWL)
    async with desk(YAWL, spar="bowsprit", at=None) as it:
        await it.find("strength")
        await it.answered()
        assert it.session.shown().result.answers.bent_plane == "width"
        assert "times its size" in it.text
