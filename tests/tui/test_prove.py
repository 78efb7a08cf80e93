"""Strength and its like at the bench: worked out beside the keys, and new widths put on the spar or on a copy."""

import sys
from threading import Event

import pytest

from shopcompanion.errors import InputFault
from shopcompanion.profile.parse import read
from shopcompanion.tui import bench
from shopcompanion.tui.adopt import adopt
from shopcompanion.tui.beside import Beside

from .conftest import LUGGER, Opener, own_copy, session_on


def worked_out(session, shown):
    """As the bench's thread does it."""
    outcome = Beside.work_out(shown.calculator, shown.pending, session.rule)
    session.beside.take(shown.calculator, shown.pending, outcome)


def test_a_slow_answer_is_pending_until_it_is_taken(home):
    session = session_on(home, LUGGER, "mast")
    session.calculator, session.beside = "strength", Beside()
    shown = session.shown()
    assert shown.pending is not None
    assert shown.result is None
    worked_out(session, shown)
    first = session.shown()
    assert first.pending is None
    assert first.result.answers.factor > 1
    session.type("wind", "4")
    later = session.shown()
    assert later.pending is not None
    assert later.stale
    assert later.result.answers == first.result.answers  # the last good answer stays
    worked_out(session, later)
    assert session.shown().result.answers.load_from == "the breeze"


def test_a_fault_that_was_worked_out_stands_at_its_field(home):
    session = session_on(home, LUGGER, "mast")
    session.calculator, session.beside = "strength", Beside()
    session.type("push", "5 m = 900 kN")
    shown = session.shown()
    worked_out(session, shown)
    (fault,) = session.shown().faults
    assert fault.field == "push"
    assert "buckles" in fault.reason


def test_the_lightest_becomes_the_spars_own_and_can_be_undone(home):
    session = session_on(home, LUGGER, "mast")
    session.calculator = "lightest"
    session.type("most_width", "112 mm")
    before, was = session.state.text, session.spar.outline().stations
    assert adopt(session) == "mast has the new widths, at 4 stations"
    now = session.spar.outline().stations
    assert [at for at, _ in now] == [at for at, _ in was]
    assert now[-1][1] < was[-1][1]
    assert read(session.state.text).faults == ()
    session.undo()
    assert session.state.text == before


def test_another_timber_goes_on_a_copy(home):
    session = session_on(home, LUGGER, "mast")
    session.calculator = "swap"
    session.type("other", "Douglas-fir, Coast")
    assert adopt(session) == "mast in Douglas-fir, Coast is added to the boat, beside mast"
    copy = session.boat.spar("mast in Douglas-fir, Coast")
    assert copy.species == "Douglas-fir, Coast"
    assert copy.outline().widest < session.boat.spar("mast").outline().widest
    assert read(session.state.text).faults == ()


def test_what_gives_no_widths_says_so(home):
    session = session_on(home, LUGGER, "mast")
    session.calculator = "facets"
    with pytest.raises(InputFault, match="gives no widths for a spar; lightest and swap do"):
        adopt(session)


async def test_keys_go_on_while_it_is_worked_out_and_the_answer_comes(desk: Opener, home) -> None:
    own_copy(home, LUGGER)
    async with desk(LUGGER, spar="mast") as it:
        await it.find("strength")
        await it.answered()
        assert "FACTOR AGAINST BREAKING" in it.text
        assert it.session.shown().result.answers.governs == "bending, at the partners"
        await it.find("swap")
        await it.press("f4")
        assert "is added to the boat" in it.told[-1]
        assert len(it.session.boat.spars) == 5
        await it.press("ctrl+z")
        assert len(it.session.boat.spars) == 4


async def test_a_key_does_not_wait_for_the_work(desk: Opener, home, monkeypatch) -> None:
    """While it is worked out threads change turns ten times as often, so that a key has its turn at once."""
    own_copy(home, LUGGER)
    seen = []
    usual, work_out = sys.getswitchinterval(), Beside.work_out

    def watched(*given):
        seen.append(sys.getswitchinterval())
        return work_out(*given)

    monkeypatch.setattr(Beside, "work_out", staticmethod(watched))
    async with desk(LUGGER, spar="mast") as it:
        await it.find("strength")
        await it.answered()
        assert it.session.shown().result is not None
    assert seen
    assert max(seen) <= usual / 5
    assert sys.getswitchinterval() == usual


async def test_a_slow_answer_that_comes_soon_is_painted_with_the_key(desk: Opener, monkeypatch) -> None:
    monkeypatch.setattr(bench, "_SOON", 60.0)
    async with desk(LUGGER, spar="mast") as it:
        await it.find("strength")
        await it.press("down")
        before = it.session.shown().result.answers
        it.app.bench.write("8 mm")
        shown = it.app.bench.view.shown
        assert shown.pending is None
        assert not shown.stale
        assert shown.result.answers != before


async def test_one_that_takes_longer_is_painted_when_it_is_there(desk: Opener, monkeypatch) -> None:
    """What is typed stands in its field before."""
    monkeypatch.setattr(bench, "_SOON", 0.0)
    going_on = Event()
    work_out = Beside.work_out

    def slowly(*asked):
        assert going_on.wait(60)
        return work_out(*asked)

    async with desk(LUGGER, spar="mast") as it:
        await it.find("strength")
        await it.answered()
        before = it.session.shown().result.answers
        monkeypatch.setattr(Beside, "work_out", staticmethod(slowly))
        await it.press("down", *"8 mm")
        shown = it.app.bench.view.shown
        assert shown.pending is not None
        assert shown.result.answers == before
        assert "8 mm" in it.text
        going_on.set()
        await it.answered()
        assert it.session.shown().result.answers != before
