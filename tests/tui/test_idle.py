"""What waits until nobody presses a key: it is done in pieces, gives way to a key, and collects after keys."""

import gc
from collections import Counter
from collections.abc import Callable
from functools import partial

import pytest

from shopcompanion.tui import idle
from shopcompanion.tui.idle import BETWEEN, LONG, QUIET, SHORT, TICK, Idle, left_over, pieces

from .conftest import Opener

OPENED = ("ctrl+f", "d", "r", "escape", "f1", "escape")


class Clock:
    """A clock, and the calls that are due."""

    def __init__(self) -> None:
        self.now = 0.0
        self.due: list[tuple[float, Callable[[], None]]] = []

    def later(self, seconds: float, call: Callable[[], None]) -> None:
        self.due.append((self.now + seconds, call))

    def run(self, until: float) -> None:
        while self.due and min(at for at, _ in self.due) <= until:
            at, call = min(self.due, key=lambda wait: wait[0])
            self.due.remove((at, call))
            self.now = max(self.now, at)
            call()
        self.now = until


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> Clock:
    it = Clock()
    monkeypatch.setattr(idle, "monotonic", lambda: it.now)
    return it


def working(clock: Clock, monkeypatch: pytest.MonkeyPatch, left: list[tuple[float, Callable[[], object]]]) -> Idle:
    """With these pieces left to do."""
    monkeypatch.setattr(idle, "pieces", lambda folders: iter(left))
    return Idle(clock.later)


def test_pieces_give_way_to_a_key_and_are_then_gone_on_with(clock: Clock, monkeypatch: pytest.MonkeyPatch) -> None:
    done: list[float] = []
    waiting = working(clock, monkeypatch, [(QUIET, lambda: done.append(clock.now))] * 3)
    waiting.pressed()
    clock.run(QUIET - 0.01)
    assert done == []
    clock.run(QUIET + BETWEEN / 2)
    assert done == [QUIET]
    waiting.pressed()
    again = clock.now + QUIET
    clock.run(again - 0.01)
    assert done == [QUIET]
    clock.run(60)
    assert done[1:] == pytest.approx([again, again + BETWEEN], abs=2 * TICK)
    assert clock.due == []  # nothing wakes the machine while nothing is done


def test_screens_are_loaded_after_a_longer_quiet_than_calculators(
    clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    done: list[tuple[str, float]] = []
    pane, screen = (partial(lambda what: done.append((what, clock.now)), what) for what in ("pane", "screen"))
    waiting = working(clock, monkeypatch, [(QUIET, pane), (LONG, screen), (LONG, screen)])
    waiting.pressed()
    clock.run(LONG - 0.01)
    assert done == [("pane", pytest.approx(QUIET, abs=2 * TICK))]
    waiting.pressed()
    again = clock.now + LONG
    clock.run(60)
    assert done[1:] == [("screen", pytest.approx(at, abs=2 * TICK)) for at in (again, again + BETWEEN)]


def test_between_keys_what_was_left_over_is_collected_once(clock: Clock, monkeypatch: pytest.MonkeyPatch) -> None:
    collected: list[float] = []
    left = [True]

    def collect() -> None:
        collected.append(clock.now)
        left[0] = False

    monkeypatch.setattr(gc, "collect", collect)
    monkeypatch.setattr(idle, "left_over", lambda: left[0])
    waiting = working(clock, monkeypatch, [])
    for key in range(20):  # faster than that no key waits for it
        waiting.pressed()
        clock.run((key + 1) * 0.9 * SHORT)
    assert collected == []
    clock.run(30)
    assert collected == [pytest.approx(19 * 0.9 * SHORT + SHORT)]
    waiting.pressed()  # and leaves nothing
    clock.run(60)
    assert len(collected) == 1
    left[0] = True
    waiting.pressed()
    clock.run(90)
    assert len(collected) == 2


def test_a_key_is_soon_collected_after_however_much_is_still_to_be_loaded(
    clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    collected: list[float] = []
    done: list[float] = []
    monkeypatch.setattr(gc, "collect", lambda: collected.append(clock.now))
    monkeypatch.setattr(idle, "left_over", lambda: True)
    waiting = working(clock, monkeypatch, [(QUIET, lambda: done.append(clock.now))])
    apart = 2 * SHORT  # sooner than it loads
    for key in range(5):
        waiting.pressed()
        clock.run((key + 1) * apart)
    assert collected == pytest.approx([key * apart + SHORT for key in range(5)], abs=2 * TICK)
    clock.run(60)
    assert done == [pytest.approx(4 * apart + QUIET, abs=2 * TICK)]
    assert clock.due == []


def test_what_takes_memory_is_left_over_and_a_sum_is_not() -> None:
    usual = gc.get_threshold()
    gc.set_threshold(700, 10, 1_000_000)  # the app's
    try:
        gc.collect()
        assert not left_over()
        kept = [[k] for k in range(20_000)]
        assert left_over()
        assert len(kept) == 20_000
    finally:
        gc.set_threshold(*usual)


async def test_what_is_closed_is_freed(desk: Opener) -> None:
    """Of a list that was opened and closed nothing is kept, not even its rows; the last may still be on its way."""

    def alive() -> Counter[str]:
        idle.forget()
        gc.collect()
        return Counter(type(thing).__name__ for thing in gc.get_objects())

    async with desk() as it:
        for _ in range(2):
            await it.press(*OPENED)
        before = alive()
        for _ in range(4):
            await it.press(*OPENED)
        more = alive() - before
    assert more["StylesCache"] < 10  # of four lists and four pages of help it would be some thirty
    assert more["Picker"] <= 1
    assert more["Strip"] < 20
    assert sum(more.values()) < 1500  # it would be tens of thousands


def test_every_piece_can_be_done() -> None:
    for _, piece in pieces():
        if piece is not gc.freeze:
            piece()
