"""From the command to the first frame that answers, in a real terminal, against an app with nothing in it.

By the clock, which a hand feels, and by processor time, which a busy machine changes little. Of the starts of each the
one counts that a quarter of them do not exceed: what else the machine does can only add.
"""

import re
from collections.abc import Sequence
from pathlib import Path
from tempfile import TemporaryDirectory
from time import sleep

from shopcompanion.catalog import load
from shopcompanion.storage.store import find, open_boat, places
from shopcompanion.tui.session import Session

from .figures import Figure, in_turn, quantile
from .terminal import Terminal

PLAIN = str(Path(__file__).with_name("plain_app.py"))
WIDE, NORMAL = (120, 40), (80, 24)
TARGETS = {WIDE: 1.10, NORMAL: 1.05}  # times the empty app
HELD = 1.25  # times the memory of the empty app


def headline() -> re.Pattern[bytes]:
    """What is painted when the pane that opens first has its answer: the label, and the figures after it."""
    session = Session()
    session.open(open_boat(find(places("no such folder"), "saltmarsh-yawl")))
    field = next(one for one in load(session.calculator).answer_fields if one.name == load(session.calculator).headline)
    result = session.shown().result
    assert result is not None
    figures = field.kind.figures(getattr(result.answers, field.name), session.rule)
    return re.compile(re.escape(field.kind.label.upper().encode()) + b".*?" + re.escape(figures.encode()), re.DOTALL)


class Starts:
    """Starts of the two apps; the most memory that each held is kept, in MB, and the processor time of each start."""

    def __init__(self) -> None:
        self.wanted = headline()
        self.peaks: dict[str, float] = {}
        self.spent: dict[str, list[float]] = {}

    def app(self, folder: str, size: tuple[int, int], name: str = "app") -> float:
        terminal = Terminal(["-m", "shopcompanion", "--profiles", folder], *size)
        return self._seen(terminal, name, self.wanted)

    def empty(self, size: tuple[int, int]) -> float:
        return self._seen(Terminal([PLAIN, "empty"], *size), "empty", re.compile(b"ready"))

    def _seen(self, terminal: Terminal, name: str, wanted: re.Pattern[bytes]) -> float:
        seconds = terminal.until(wanted.search)
        self.spent.setdefault(name, []).append(terminal.spent)
        terminal.quiet(0.05)
        terminal.kill()
        self.peaks[name] = terminal.peak
        return seconds * 1e3


def left_alone(folder: str, size: tuple[int, int], seconds: float) -> float:
    """The most memory that the app has held when nobody has touched it for so long, MB."""
    terminal = Terminal(["-m", "shopcompanion", "--profiles", folder], *size)
    terminal.until(headline().search)
    sleep(seconds)
    terminal.kill()
    return terminal.peak


def quick(taken: Sequence[float]) -> float:
    return quantile(taken, 0.25)


def measure(runs: int = 41, sizes: tuple[tuple[int, int], ...] = (WIDE, NORMAL), alone: float = 3.0) -> list[Figure]:
    figures = []
    with TemporaryDirectory() as folder:
        for size in sizes:
            starts = Starts()
            acts = [lambda: starts.empty(size), lambda: starts.app(folder, size)]  # noqa: B023
            empty, app = map(quick, in_turn(runs, acts))
            name, beside = f"start to the answer, {size[0]}x{size[1]}", "an empty app"
            figures.append(Figure(name, app, "ms", beside, empty, TARGETS[size], runs))
            spent, least = (quick(starts.spent[which]) for which in ("app", "empty"))
            figures.append(Figure(f"{name}, processor time", spent, "ms", beside, least, None, runs))
            peak, least = (starts.peaks[which] for which in ("app", "empty"))
            words = f"memory at the first answer, {size[0]}x{size[1]}"
            figures.append(Figure(words, peak, "MB", beside, least, HELD, 1))
            held = left_alone(folder, size, alone)
            words = f"memory after {alone:g} s alone, {size[0]}x{size[1]}"
            figures.append(Figure(words, held, "MB", beside, least, HELD, 1))
    return figures
