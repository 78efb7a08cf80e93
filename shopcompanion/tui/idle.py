"""What waits until nobody presses a key: tidying, loading what other panes need a module at a time, freeing memory."""

import gc
from collections.abc import Callable, Iterable, Iterator
from functools import partial
from importlib import import_module
from math import inf
from pathlib import Path
from time import monotonic

from rich.cells import cached_cell_len
from textual._styles_cache import StylesCache

from ..catalog import NAMES, load
from ..storage.atomic import tidy

QUIET, LONG = 0.5, 2.0  # seconds without a key, after which it loads calculators, and then screens
SHORT = 0.1  # seconds without a key, after which it collects: some thousandths of a second, which no key waits for
TICK = 0.001  # seconds, what a wait is at least
BETWEEN = 0.005  # between two pieces, so that a key that comes is taken
_MODULES = (  # of the finder and the job; the other screens are there in half the time that a hand notices
    "tui.picker", "tui.finder", "card.lines", "card.plan", "card.squaring", "card.rounding", "card.fitted",
    "card.finishing", "card.steps", "tui.job", "card.text",
)  # fmt: skip


def pieces(folders: Iterable[Path] = ()) -> Iterator[tuple[float, Callable[[], object]]]:
    """What dead processes left in folders, and what the first look at another pane or screen would wait for: a few
    thousandths of a second each, and after how many seconds without a key it is done."""
    for folder in folders:
        yield QUIET, partial(tidy, folder)
    package = __name__.split(".")[0]
    for name in NAMES:
        yield QUIET, partial(load, name)
    for module in _MODULES:
        yield LONG, partial(import_module, f"{package}.{module}")
    yield LONG, gc.freeze


def left_over() -> bool:
    """Whether much was made and is still there, as of a screen that was closed; most keys leave nothing."""
    _, young, old = gc.get_count()
    return young > 1 or old > 0


def forget() -> None:
    """Free what libraries keep: Textual's cache of grounds, by widget, would keep all the rows of those that are gone,
    and rich's of widths every text that was ever painted.
    """
    StylesCache.get_inner_outer.cache_clear()
    cached_cell_len.cache_clear()


class Idle:
    """Does the pieces, one by one, while nothing is pressed, and collects garbage between keys.

    By itself a full collection would come in the middle of typing. `later` calls something after some seconds;
    `folders` are kept tidy.
    """

    def __init__(self, later: Callable[[float, Callable[[], None]], object], folders: Iterable[Path] = ()) -> None:
        self.later = later
        self.left = pieces(folders)
        self.next: tuple[float, Callable[[], object]] | None = next(self.left, None)
        self.pressed_at = monotonic()
        self.due = inf  # when the next call counts

    def begin(self) -> None:
        """The first frame stands; what the start made stays, and no collection looks at it."""
        gc.freeze()
        gc.enable()
        gc.set_threshold(700, 10, 1_000_000)  # the full ones only here
        self._wait(QUIET)

    def pressed(self) -> None:
        self.pressed_at = monotonic()
        self._wait(SHORT)

    def _wait(self, seconds: float) -> None:
        due = monotonic() + seconds
        if due < self.due:  # sooner than what was waited for, which then counts no more
            self.due = due
            self.later(seconds, self.go_on)

    def go_on(self) -> None:
        """Collect, or do one piece, if it has been quiet for long enough."""
        now = monotonic()
        if now < self.due - TICK:
            return
        self.due = inf
        quiet = now - self.pressed_at
        if quiet < SHORT:
            self._wait(max(SHORT - quiet, TICK))
            return
        forget()
        if left_over():
            gc.collect()
        if self.next is None:
            return
        after, piece = self.next
        if quiet < after:
            self._wait(max(after - quiet, TICK))
            return
        self.next = next(self.left, None)
        piece()
        self._wait(BETWEEN)
