"""From a key to the answer it changes, painted: real keys into the running app, and the last change of the screen.

What is painted is put on an emulated screen afterwards, so a blinking cursor, which changes no letter, does not count.
"""

import re
from collections.abc import Iterator, Sequence
from tempfile import TemporaryDirectory
from time import sleep
from typing import NamedTuple

import pyte

from shopcompanion.catalog import NAMES

from .figures import Figure, quantile
from .start import NORMAL, PLAIN, WIDE, headline
from .terminal import Terminal

TARGET = 16.0  # ms
ANSWERS = 75  # columns; what a wide screen has at the side begins there
SETTLED = 0.1  # seconds without anything painted
_PRIVATE = re.compile(rb"\x1b\[[<>=?][0-9;]*[a-zA-Z]")  # modes, which the emulated screen has no use for
TYPED = (b"4", b"\x7f", b"3", b"\x7f", b">", b"<")  # each changes the answers, or the station
ECHOED = (b"4", b"\x7f")
WORKS = "lightest"  # a pane that works for seconds, beside the keys


class Took(NamedTuple):
    """Milliseconds from a key to the last letter that it changed: of the answers, and of the whole screen, where a wide
    one has the working at the side."""

    answer: float
    whole: float


class Hand:
    """Presses keys one by one, and tells how long each took to be on the screen."""

    def __init__(self, terminal: Terminal, size: tuple[int, int]) -> None:
        self.terminal = terminal
        self.screen = pyte.Screen(*size)
        self.stream = pyte.ByteStream(self.screen)
        self.fed = 0
        self.settle()

    def settle(self, seconds: float = SETTLED) -> list[float]:
        """Wait until nothing is painted any more. When a letter changed last, of the answers and of all, or 0."""
        self.terminal.quiet(seconds)
        changed = [0.0, 0.0]
        for at, piece in self.terminal.painted[self.fed :]:
            before = self.screen.display
            self.stream.feed(_PRIVATE.sub(b"", piece))
            after = self.screen.display
            if after != before:
                changed[1] = at
            if [line[:ANSWERS] for line in after] != [line[:ANSWERS] for line in before]:
                changed[0] = at
        self.fed = len(self.terminal.painted)
        return changed

    def press(self, keys: bytes, seconds: float = SETTLED) -> Took:
        """Press a key and wait for what it changes. AssertionError when that is nothing among the answers."""
        pressed = self.terminal.press(keys)
        answer, whole = self.settle(seconds)
        while not answer and self.terminal.now() < pressed + 5:
            answer, whole = self.settle(seconds)
        assert answer, f"{keys!r} changed nothing on the screen"
        return Took((answer - pressed) * 1e3, (whole - pressed) * 1e3)


def panes(
    names: Sequence[str], runs: int, size: tuple[int, int], looked: float
) -> Iterator[tuple[str, Took, list[Took]]]:
    """Every pane of `names`: its first show, and `runs` keys in it, after a first look of some seconds."""
    with TemporaryDirectory() as folder:
        terminal = Terminal(["-m", "shopcompanion", "--profiles", folder], *size)
        terminal.until(headline().search)
        hand = Hand(terminal, size)
        hand.settle(0.4)  # the cursor blinks twice a second
        sleep(looked)
        for name in names:
            hand.press(b"\x06")
            hand.press(name.encode())
            first = hand.press(b"\r", 0.3)
            yield name, first, [hand.press(TYPED[k % len(TYPED)]) for k in range(runs)]
        terminal.close()


def echo(runs: int, size: tuple[int, int]) -> tuple[Took, list[Took]]:
    """The first key, and the others, in an app that only repeats what is typed."""
    terminal = Terminal([PLAIN, "echo"], *size)
    terminal.until(re.compile(b"ready").search)
    hand = Hand(terminal, size)
    hand.settle(0.4)
    first = hand.press(ECHOED[0])
    hand.press(ECHOED[1])
    found = [hand.press(ECHOED[k % len(ECHOED)]) for k in range(runs)]
    terminal.close()
    return first, found


class Sight:
    """Presses keys one by one, and tells how long each took to be seen: the first change of a letter."""

    def __init__(self, terminal: Terminal, size: tuple[int, int]) -> None:
        self.terminal = terminal
        self.screen = pyte.Screen(*size)
        self.stream = pyte.ByteStream(self.screen)
        self.fed = 0

    def feed(self) -> bool:
        """Whether what was painted since changes a letter."""
        before = self.screen.display
        for _, piece in self.terminal.painted[self.fed :]:
            self.stream.feed(_PRIVATE.sub(b"", piece))
        self.fed = len(self.terminal.painted)
        return self.screen.display != before

    def press(self, keys: bytes) -> float:
        """Milliseconds. AssertionError when nothing changes."""
        while self.terminal.take(0):
            pass
        self.feed()
        pressed = self.terminal.press(keys)
        while not self.feed():
            assert self.terminal.now() < pressed + 5, f"{keys!r} changed nothing on the screen"
            self.terminal.take(0.5)
        return (self.terminal.painted[-1][0] - pressed) * 1e3


def while_working(runs: int, size: tuple[int, int] = NORMAL) -> list[float]:
    """Keys in a pane that searches for seconds, each while it does: until what is typed stands in its field."""
    with TemporaryDirectory() as folder:
        terminal = Terminal(["-m", "shopcompanion", "--profiles", folder], *size)
        terminal.until(headline().search)
        sight = Sight(terminal, size)
        for key in (b"\x06", *(letter.encode() for letter in WORKS), b"\r"):
            sight.press(key)
            terminal.quiet(0.05)
        terminal.press(b"\x1b[B")  # to a field of numbers
        terminal.quiet(0.05)
        found = []
        for k in range(runs):
            found.append(sight.press(ECHOED[k % len(ECHOED)]))
            terminal.take(0.05)
        terminal.quiet(2.0)  # it ends what it works on
        terminal.close()
        return found


def measure(
    runs: int = 36, names: Sequence[str] = NAMES, sizes: Sequence[tuple[int, int]] = (NORMAL, WIDE), looked: float = 2.0
) -> list[Figure]:
    """The keys of all panes of a screen together, and each pane's first show."""
    beside = "an app that echoes"
    figures = []
    for size in sizes:
        first_echo, echoed = echo(runs, size)
        least = [one.answer for one in echoed]
        found = list(panes(names, runs, size, looked))
        every = [one for _, _, taken in found for one in taken]
        answers, wholes = [one.answer for one in every], [one.whole for one in every]
        across = f"{size[0]}x{size[1]}"
        for of, what, target in ((answers, "answer", TARGET), (wholes, "whole screen", None)):
            for part, words in ((0.5, "median"), (0.99, "99th of 100")):
                figures.append(
                    Figure(
                        f"key to {what}, {across}, {words}", quantile(of, part), "ms", beside, quantile(least, part),
                        target if part > 0.5 else None, len(of), of_value=True,
                    )
                )  # fmt: skip
        slow, name = max((quantile([one.answer for one in taken], 0.5), name) for name, _, taken in found)
        figures.append(
            Figure(
                f"key to answer, {across}, slowest pane ({name}), median",
                slow,
                "ms",
                beside,
                quantile(least, 0.5),
                None,
                runs,
            )
        )
        slow, name = max((first.answer, name) for name, first, _ in found)
        words = f"first show of a pane, {across}, slowest ({name})"
        figures.append(Figure(words, slow, "ms", beside, first_echo.answer, None, len(found)))
    busy = while_working(runs)
    for part, words in ((0.5, "median"), (0.99, "99th of 100")):
        name = f"key to its field while {WORKS} works, {words}"
        target = TARGET if part > 0.5 else None
        figures.append(Figure(name, quantile(busy, part), "ms", beside, quantile(least, part), target, len(busy),
                              of_value=True))  # fmt: skip
    return figures
