"""What waits until nobody presses a key: it is done in pieces, gives way to a key, and collects after keys."""

import gc
from collections.abc import Callable

import pytest

from shopcompanion.tui import idle
from shopcompanion.tui.idle import BETWEEN, QUIET, Idle, pieces


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


def test_pieces_give_way_to_a_key_and_are_then_gone_on_with(clock: Clock) -> None:
    done: list[float] = []
    waiting = Idle(clock.later)
    waiting.left = iter([lambda: done.append(clock.now)] * 3)
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
    assert done[1:] == pytest.approx([again, again + BETWEEN])
    assert clock.due == []  # nothing wakes the machine while nothing is done


def test_after_keys_and_never_among_them_everything_is_collected(clock: Clock, monkeypatch: pytest.MonkeyPatch) -> None:
    collected: list[float] = []
    monkeypatch.setattr(gc, "collect", lambda: collected.append(clock.now))
    waiting = Idle(clock.later)
    waiting.left = iter(())
    for key in range(20):
        waiting.pressed()
        clock.run((key + 1) * 0.5)
    assert collected == []
    clock.run(30)
    assert len(collected) == 1
    assert collected == [pytest.approx(9.5 + QUIET)]
    clock.run(300)
    assert len(collected) == 1


def test_every_piece_can_be_done() -> None:
    for piece in pieces():
        if piece is not gc.freeze:
            piece()
