"""What waits until nobody presses a key: loading what other panes need, a module at a time, and freeing memory."""

import gc
from collections.abc import Callable, Iterator
from importlib import import_module
from time import monotonic

from ..catalog import NAMES, load

QUIET = 1.0  # seconds without a key
BETWEEN = 0.03  # between two pieces, so that a key that comes is taken
_MODULES = (
    "tui.picker", "tui.finder", "tui.reader", "tui.help", "profile_text.edit_spar", "tui.measure", "tui.sheet",
    "card.lines", "card.plan", "card.squaring", "card.rounding",
    "card.fitted", "card.finishing", "card.steps", "tui.job", "stock.pieces", "stock.blanks", "stock.greedy",
    "stock.search", "card.yard", "tui.stock",
)  # fmt: skip


def pieces() -> Iterator[Callable[[], object]]:
    """What the first look at another pane or screen would wait for, a few thousandths of a second each."""
    package = __name__.split(".")[0]
    for name in NAMES:
        yield lambda name=name: load(name)  # type: ignore[misc]
    for module in _MODULES:
        yield lambda module=module: import_module(f"{package}.{module}")  # type: ignore[misc]
    yield gc.freeze


class Idle:
    """Does the pieces, one by one, while nothing is pressed; later it collects garbage when no key comes.

    A full collection stops everything for a quarter of a second: by itself it would come in the middle of typing.
    `later` calls something after some seconds.
    """

    def __init__(self, later: Callable[[float, Callable[[], None]], object]) -> None:
        self.later = later
        self.left = pieces()
        self.pressed_at = monotonic()
        self.waits = False  # whether a call is due
        self.to_collect = False

    def begin(self) -> None:
        """The first frame stands; what the start made stays."""
        gc.freeze()
        gc.enable()
        gc.set_threshold(700, 10, 1_000_000)  # the full ones only here
        self._wait(QUIET)

    def pressed(self) -> None:
        self.pressed_at, self.to_collect = monotonic(), True
        self._wait(QUIET)

    def _wait(self, seconds: float) -> None:
        if not self.waits:
            self.waits = True
            self.later(seconds, self.go_on)

    def go_on(self) -> None:
        """Do one piece if it has been quiet for long enough."""
        self.waits = False
        still = self.pressed_at + QUIET - monotonic()
        if still > 0:
            self._wait(still)
        elif piece := next(self.left, None):
            piece()
            self._wait(BETWEEN)
        elif self.to_collect:
            self.to_collect = False
            gc.collect()
