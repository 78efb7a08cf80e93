"""A figure beside its yardstick, from the same run, and how they are shown."""

from collections.abc import Callable, Iterable, Sequence
from math import ceil
from statistics import median
from typing import NamedTuple


class Figure(NamedTuple):
    """What was reached, and what it is held against. `target` is the most that `ratio` may be, or, with `of_value`,
    that `value` may be; None is for information."""

    name: str
    value: float
    unit: str
    yardstick: str
    yardstick_value: float
    target: float | None
    runs: int
    of_value: bool = False

    @property
    def ratio(self) -> float:
        return self.value / self.yardstick_value

    @property
    def reached(self) -> bool | None:
        """Whether the target is reached; None without one."""
        return None if self.target is None else (self.value if self.of_value else self.ratio) <= self.target

    def as_json(self) -> dict[str, object]:
        return {**self._asdict(), "ratio": self.ratio, "reached": self.reached}


def quantile(values: Sequence[float], part: float) -> float:
    """The smallest value that at least `part` of all do not exceed.

    >>> quantile([3.0, 1.0, 2.0, 4.0], 0.5)
    2.0
    """
    return sorted(values)[max(0, ceil(part * len(values)) - 1)]


def in_turn(runs: int, acts: Sequence[Callable[[], float]]) -> list[list[float]]:
    """The figures of every act, each run once in every round; a first round warms up and does not count."""
    taken: list[list[float]] = [[] for _ in acts]
    for turn in range(runs + 1):
        for values, act in zip(taken, acts, strict=True):
            value = act()
            if turn:
                values.append(value)
    return taken


def medians(runs: int, acts: Sequence[Callable[[], float]]) -> list[float]:
    return [median(values) for values in in_turn(runs, acts)]


def table(figures: Iterable[Figure]) -> list[str]:
    """One line for every figure, under headings."""
    rows = [("figure", "reached", "yardstick", "", "ratio", "target", "n", "")]
    for one in figures:
        told = "" if one.target is None else f"≤ {one.target:g} {one.unit}" if one.of_value else f"≤ {one.target:g} ×"
        held = {True: "ok", False: "missed", None: ""}[one.reached]
        value, beside = (f"{number:.4g} {one.unit}" for number in (one.value, one.yardstick_value))
        rows.append((one.name, value, one.yardstick, beside, f"{one.ratio:.2f} ×", told, str(one.runs), held))
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return ["  ".join(map(str.ljust, row, widths)).rstrip() for row in rows]
