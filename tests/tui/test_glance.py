"""The boat at a glance: its rows as plain values, and its keys."""

import re

import pytest

from shopcompanion.card.glance import aloft, lying
from shopcompanion.card.steps import progress, steps
from shopcompanion.profile.parse import read
from shopcompanion.storage.store import Places
from shopcompanion.tui.glance import Glance, Seen, below, page
from shopcompanion.tui.paint import size_of
from shopcompanion.tui.reader import TextScreen

from ..storage.conftest import demo
from .conftest import LUGGER, NORMAL, SMALL, WIDE, Desk, Opener, own_copy

BOAT = read(demo("fjord-lugger")).boat
POLE = """
format = 1
[boat]
name = "Dabchick"
units = "mm"
[[spar]]
name = "pole"
count = 2
kind = "mast"
length = "2 m"
stations = [{ at = "0", width = "40 mm" }, { at = "2 m", width = "40 mm" }]
"""
KNOWN = {spar.name: lying(BOAT, spar, BOAT.rule) for spar in BOAT.spars}
SEEN = Seen(BOAT, KNOWN, "about 163.23 EUR", BOAT.rule)


def lines(seen: Seen, width: int) -> list[str]:
    return [line for rows in page(seen, 0, width) for line in str(rows).split("\n")]


@pytest.mark.parametrize("width", [59, 79, 119, 160])
def test_every_spar_stands_with_its_size_weight_and_what_is_next(width: int) -> None:
    text = "\n".join(lines(SEEN, width))
    for spar in BOAT.spars:
        far = progress(steps(BOAT, spar, BOAT.rule), spar.done)
        assert f"{far.done:>2}/{far.of}" in text
        assert far.next
        assert far.next.title[:9] in text
    for words in ("mast", "yard", "boom", "mizzen mast", "5400 mm", "104 mm", "2.55 kg"):
        assert words in text
    for rows in page(SEEN, 0, width):
        assert size_of(rows[0]) <= width


def test_the_bars_are_to_one_scale() -> None:
    """As long as the spars are, and as high as they are thick, whichever it is."""
    bars = {rows[0][1][0].rstrip(): spar for rows, spar in zip(page(SEEN, 0, 119), BOAT.spars, strict=True)}
    longest = max(spar.length for spar in BOAT.spars)
    columns = max(map(len, bars))
    thickest = max(spar.outline().widest for spar in BOAT.spars)
    for bar, spar in bars.items():
        assert abs(len(bar) - columns * spar.length / longest) <= 0.5
        assert abs("▁▂▃▄▅▆▇█".index(max(bar)) + 1 - 8 * spar.outline().widest / thickest) <= 1


def test_what_is_aloft_is_the_sum_and_the_masts_balance() -> None:
    up = aloft(KNOWN.values())
    assert up.mass == pytest.approx(sum(far.mass for far in KNOWN.values()))
    mast, mizzen = KNOWN["mast"], KNOWN["mizzen mast"]
    assert up.balance == pytest.approx(
        (mast.mass * mast.balance + mizzen.mass * mizzen.balance) / (mast.mass + mizzen.mass)
    )
    said = below(SEEN)
    assert re.search(r"aloft [\d.]+ kg +masts [\d.]+ kg, balancing \d+ mm above their heels", said)
    assert up.unknown == 0


def test_a_spar_without_a_known_timber_or_steps_says_so() -> None:
    boat = read(POLE).boat
    far = lying(boat, boat.spars[0], boat.rule)
    assert far.mass is None
    assert far.of > 5
    seen = Seen(boat, {"pole": far}, "", boat.rule, left_out=1)
    assert "pole × 2" in lines(seen, 79)[0]
    assert "—" in lines(seen, 79)[0]
    assert "1 of unknown weight" in below(seen)
    assert "1 thing left out" in below(seen)
    assert "…" in lines(Seen(boat, {}, "", boat.rule), 79)[0]


def test_an_empty_boat_has_its_trestles_and_the_next_thing_to_do() -> None:
    boat = read('format = 1\n[boat]\nname = "Dabchick"\nunits = "mm"\n').boat
    text = "\n".join(lines(Seen(boat, {}, "", boat.rule), 59))
    assert "no spar yet" in text
    assert "╥" in text
    assert "Add the first spar" in text


def shown(it: Desk) -> Glance:
    assert isinstance(it.app.screen, Glance)
    return it.app.screen


@pytest.mark.parametrize("size", [SMALL, NORMAL, WIDE], ids=str)
async def test_the_page_by_its_keys(desk: Opener, size: tuple[int, int]) -> None:
    async with desk(LUGGER, spar=None, at=None, size=size) as it:
        await it.press("shift+f5")
        await it.app.workers.wait_for_complete()
        await it.settle()
        assert "1 of 4 spars begun" in it.text
        assert "▸1" in it.text
        assert all(len(line) <= size[0] for line in it.lines)
        assert set(shown(it).known) == {spar.name for spar in BOAT.spars}
        await it.press("down", "down")
        assert "▸3" in it.text
        await it.press("4")
        assert it.app.screen is it.app.bench
        assert it.app.session.spar_name == "mizzen mast"
        await it.press("shift+f5", "up", "enter")
        assert it.app.session.spar_name == "boom"
        await it.press("shift+f5", "escape")
        assert it.app.screen is it.app.bench


async def test_what_is_to_be_bought_is_a_page_of_its_own(desk: Opener) -> None:
    async with desk(LUGGER, spar=None, at=None) as it:
        await it.press("shift+f6")
        assert isinstance(it.app.screen, TextScreen)
        assert "Timber yard" in it.text
        await it.press("end")
        assert "without one: fill in the" in " ".join(it.text.split())
        await it.press("escape")
        assert it.app.screen is it.app.bench


async def test_a_boat_that_is_opened_begins_at_a_glance(desk: Opener) -> None:
    """As the real program does: with a boat that is asked for, and with each that is picked from the list."""
    async with desk(None) as it:
        it.app.glances = True
        await it.press("ctrl+o", *LUGGER, "enter")
        assert isinstance(it.app.screen, Glance)
        assert "Fjord lugger" in it.lines[0]
        await it.press("2")
        assert it.app.screen is it.app.bench
        assert it.session.spar_name == BOAT.spars[1].name
        await it.press("ctrl+o", *"saltmarsh", "enter", "escape")
        assert it.app.screen is it.app.bench
        assert it.session.boat.name == "Saltmarsh yawl"


async def test_a_boat_without_spars_begins_at_the_bench(desk: Opener, home: Places) -> None:
    own_copy(home, "dabchick", 'format = 1\n[boat]\nname = "Dabchick"\nunits = "in"\n')
    async with desk(None) as it:
        it.app.glances = True
        await it.press("ctrl+o", *"dabchick", "enter")
        assert it.app.screen is it.app.bench
        assert "no spar yet" in it.text
