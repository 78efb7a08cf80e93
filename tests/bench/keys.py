"""From a key to the answer it changes, painted: real keys into the running app, and the last change of the screen.

What is painted is put on an emulated screen afterwards, so a blinking cursor, which changes no letter, does not count.
"""

import re
from collections.abc import Iterator, Sequence
from tempfile import TemporaryDirectory

import pyte

from shopcompanion.catalog import NAMES

from .figures import Figure, quantile
from .start import PLAIN, WIDE, headline
from .terminal import Terminal

TARGET = 16.0  # ms
SETTLED = 0.05  # seconds without anything painted
_PRIVATE = re.compile(rb"\x1b\[[<>=?][0-9;]*[a-zA-Z]")  # modes, which the emulated screen has no use for
TYPED = (b"4", b"\x7f", b"3", b"\x7f", b">", b"<")  # each changes the answers, or the station
ECHOED = (b"4", b"\x7f")


class Hand:
    """Presses keys one by one, and tells how long each took to be on the screen."""

    def __init__(self, terminal: Terminal, size: tuple[int, int]) -> None:
        self.terminal = terminal
        self.screen = pyte.Screen(*size)
        self.stream = pyte.ByteStream(self.screen)
        self.fed = 0
        self.settle()

    def settle(self, seconds: float = SETTLED) -> float:
        """Wait until nothing is painted any more; when a letter on the screen changed last, or 0."""
        self.terminal.quiet(seconds)
        changed = 0.0
        for at, piece in self.terminal.painted[self.fed :]:
            before = self.screen.display
            self.stream.feed(_PRIVATE.sub(b"", piece))
            if self.screen.display != before:
                changed = at
        self.fed = len(self.terminal.painted)
        return changed

    def press(self, keys: bytes, seconds: float = SETTLED) -> float:
        """Milliseconds until the last letter that changes has changed. AssertionError when none does."""
        pressed = self.terminal.press(keys)
        changed = self.settle(seconds)
        while not changed and self.terminal.now() < pressed + 1:
            changed = self.settle(seconds)
        assert changed, f"{keys!r} changed nothing on the screen"
        return (changed - pressed) * 1e3


def panes(names: Sequence[str], runs: int, size: tuple[int, int] = WIDE) -> Iterator[tuple[str, float, list[float]]]:
    """Every pane of `names`: the time of its first show, and of `runs` keys in it."""
    with TemporaryDirectory() as folder:
        terminal = Terminal(["-m", "shopcompanion", "--profiles", folder], *size)
        terminal.until(headline().search)
        hand = Hand(terminal, size)
        hand.settle(0.5)
        for name in names:
            hand.press(b"\x06")
            hand.press(name.encode())
            first = hand.press(b"\r", 0.3)
            yield name, first, [hand.press(TYPED[k % len(TYPED)]) for k in range(runs)]
        terminal.close()


def echo(runs: int, size: tuple[int, int] = WIDE) -> tuple[float, list[float]]:
    """The first key, and the others, in an app that only repeats what is typed."""
    terminal = Terminal([PLAIN, "echo"], *size)
    terminal.until(re.compile(b"ready").search)
    hand = Hand(terminal, size)
    hand.settle(0.5)
    first = hand.press(ECHOED[0])
    hand.press(ECHOED[1])
    found = [hand.press(ECHOED[k % len(ECHOED)]) for k in range(runs)]
    terminal.close()
    return first, found


def measure(runs: int = 102, names: Sequence[str] = NAMES) -> list[Figure]:
    first_echo, echoed = echo(runs)
    beside = "an app that echoes"
    figures, every = [], []
    firsts = []
    for name, first, taken in panes(names, runs):
        every += taken
        firsts.append((name, first))
        for part, words in ((0.5, "median"), (0.99, "99th of 100")):
            least = quantile(echoed, part)
            figures.append(
                Figure(f"key to answer, {name}, {words}", quantile(taken, part), "ms", beside, least, None, runs)
            )
    figures.append(
        Figure("key to answer, all panes, 99th of 100", quantile(every, 0.99), "ms", beside, quantile(echoed, 0.99),
               TARGET, len(every), of_value=True)
    )  # fmt: skip
    return figures + [
        Figure(f"first show of {name}", first, "ms", beside, first_echo, None, 1) for name, first in firsts
    ]
