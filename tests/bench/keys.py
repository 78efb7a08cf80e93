"""From a key to the answer it changes, painted: real keys into the running app, and the last change of the screen.

What is painted is put on an emulated screen afterwards, so a blinking cursor, which changes no letter, does not count.
"""

import re
from collections.abc import Sequence
from tempfile import TemporaryDirectory
from time import sleep
from typing import NamedTuple

import pyte

from shopcompanion.catalog import NAMES

from .figures import Figure, quantile
from .start import HELD, NORMAL, PLAIN, WIDE, headline
from .terminal import Terminal

TARGET = 16.0  # ms, of 99 keys in 100
SHOWN = 50.0  # ms, the first show of any pane
PAUSE = 50.0  # ms, no key may wait longer
ANSWERS = 75  # columns; what a wide screen has at the side begins there
SETTLED = 0.1  # seconds without anything painted
_PRIVATE = re.compile(rb"\x1b\[[<>=?][0-9;]*[a-zA-Z]")  # modes, which the emulated screen has no use for
TYPED = (b"4", b"\x7f", b"3", b"\x7f", b">", b"<")  # each changes the answers, or the station
UP, DOWN, PAGE_UP, PAGE_DOWN = b"\x1b[A", b"\x1b[B", b"\x1b[5~", b"\x1b[6~"
MOVED = (DOWN, UP, PAGE_DOWN, PAGE_UP)
ESCAPE = b"\x1b"
SCREENS = {"find": b"\x06", "spar": b"\x0c", "sheet": b"\x04", "job": b"\x0b", "boats": b"\x0f", "help": b"\x1bOP"}
EVERY = 0.033  # seconds, of a key that is held down
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

    def move(self, key: bytes) -> list[Took]:
        """Press a key that may have nowhere to go: what it took, where it changed something."""
        pressed = self.terminal.press(key)
        answer, whole = self.settle()
        return [Took((answer - pressed) * 1e3, (whole - pressed) * 1e3)] if answer else []

    def press(self, keys: bytes, seconds: float = SETTLED) -> Took:
        """Press a key and wait for what it changes. AssertionError when that is nothing among the answers."""
        pressed = self.terminal.press(keys)
        answer, whole = self.settle(seconds)
        while not answer and self.terminal.now() < pressed + 5:
            answer, whole = self.settle(seconds)
        assert answer, f"{keys!r} changed nothing on the screen"
        return Took((answer - pressed) * 1e3, (whole - pressed) * 1e3)


class Pane(NamedTuple):
    """What the keys of a pane took."""

    name: str
    first: Took
    keys: list[Took]


def panes(names: Sequence[str], runs: int, size: tuple[int, int], looked: float) -> tuple[list[Pane], float]:
    """Every pane of `names`: its first show, `runs` keys typed in it and those that move, from the first frame on or
    after a first look of some seconds. And the most memory that the app has held, MB, when each was shown once more.
    """
    shown = []
    with TemporaryDirectory() as folder:
        terminal = Terminal(["-m", "shopcompanion", "--profiles", folder], *size)
        terminal.until(headline().search)
        hand = Hand(terminal, size)
        sleep(looked)
        for name in names:
            hand.press(b"\x06")
            hand.press(name.encode())
            first = hand.press(b"\r", 0.3)
            keys = [hand.press(TYPED[k % len(TYPED)]) for k in range(runs)]
            keys += [took for key in MOVED for took in hand.move(key)]
            shown.append(Pane(name, first, keys))
        for name in names:
            hand.press(b"\x06" + name.encode() + b"\r")
        memory = terminal.memory()
        terminal.close()
    return shown, memory


def screens(runs: int, size: tuple[int, int]) -> dict[str, list[float]]:
    """Opening each full screen and each list by its key: ms to the last letter of it."""
    with TemporaryDirectory() as folder:
        terminal = Terminal(["-m", "shopcompanion", "--profiles", folder], *size)
        terminal.until(headline().search)
        hand = Hand(terminal, size)
        opened: dict[str, list[float]] = {name: [] for name in SCREENS}
        for _ in range(runs):
            for name, key in SCREENS.items():
                opened[name].append(hand.press(key, 0.15).whole)
                hand.press(ESCAPE, 0.15)
        terminal.close()
        return opened


def held_down(repeats: int, size: tuple[int, int]) -> float:
    """A key that is held down, at the pace of a keyboard: ms from the last of its repeats to the last letter."""
    with TemporaryDirectory() as folder:
        terminal = Terminal(["-m", "shopcompanion", "--profiles", folder], *size)
        terminal.until(headline().search)
        hand = Hand(terminal, size)
        for repeat in range(repeats):
            pressed = terminal.press((b">", b"<")[repeat // 6 % 2])
            while terminal.now() < pressed + EVERY:
                terminal.take(pressed + EVERY - terminal.now())
        _, whole = hand.settle()
        terminal.close()
        return max(0.0, whole - pressed) * 1e3


def empty(size: tuple[int, int]) -> float:
    """The most memory that an empty app holds, MB."""
    terminal = Terminal([PLAIN, "empty"], *size)
    terminal.until(re.compile(b"ready").search)
    terminal.quiet(0.4)
    terminal.close()
    return terminal.peak


def echo(runs: int, size: tuple[int, int]) -> tuple[Took, list[Took]]:
    """The first key, and the others, in an app that only repeats what is typed."""
    terminal = Terminal([PLAIN, "echo"], *size)
    terminal.until(re.compile(b"ready").search)
    hand = Hand(terminal, size)
    hand.settle(0.4)
    first = hand.press(ECHOED[0])
    hand.press(ECHOED[1])
    keys = [hand.press(ECHOED[k % len(ECHOED)]) for k in range(runs)]
    terminal.close()
    return first, keys


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
    runs: int = 12, names: Sequence[str] = NAMES, sizes: Sequence[tuple[int, int]] = (NORMAL, WIDE), looked: float = 0.0
) -> list[Figure]:
    """The keys of all panes together, each pane's first show, the other screens, a key held down, and the memory."""
    beside = "an app that echoes"
    figures = []

    def add(name: str, values: Sequence[float], part: float, yardstick: float, target: float | None) -> None:
        value = quantile(values, part)
        figures.append(Figure(name, value, "ms", beside, yardstick, target, len(values), of_value=True))

    for size in sizes:
        across = f"{size[0]}x{size[1]}"
        first_echo, echoed = echo(4 * runs, size)
        least = [took.answer for took in echoed]
        shown, memory = panes(names, runs, size, looked)
        keys = [took for pane in shown for took in pane.keys]
        answers, wholes = [took.answer for took in keys], [took.whole for took in keys]
        add(f"key to answer, {across}, median", answers, 0.5, quantile(least, 0.5), None)
        add(f"key to answer, {across}, 99th of 100", answers, 0.99, quantile(least, 0.99), TARGET)
        add(f"key to whole screen, {across}, 99th of 100", wholes, 0.99, quantile(least, 0.99), None)
        add(f"key to whole screen, {across}, the slowest", wholes, 1, max(least), PAUSE)
        slow, name = max((quantile([took.answer for took in pane.keys], 0.5), pane.name) for pane in shown)
        add(f"key to answer, {across}, slowest pane ({name}), median", [slow], 1, quantile(least, 0.5), None)
        slow, name = max((pane.first.answer, pane.name) for pane in shown)
        add(f"first show of a pane, {across}, slowest ({name})", [slow], 1, first_echo.answer, SHOWN)
        for name, opened in screens(max(1, runs // 4), size).items():
            add(f"{name} by its key, {across}, median", opened, 0.5, first_echo.answer, None)
        add(f"a key held down, {across}, after its last", [held_down(5 * runs, size)], 1, quantile(least, 0.99), PAUSE)
        held = f"memory when every pane was shown twice, {across}"
        figures.append(Figure(held, memory, "MB", "an empty app", empty(size), HELD, 1))
    busy = while_working(3 * runs)
    for part, words, target in ((0.5, "median", None), (0.99, "99th of 100", TARGET)):
        add(f"key to its field while {WORKS} works, {words}", busy, part, quantile(least, part), target)
    return figures
