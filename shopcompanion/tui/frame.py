"""The edges of every screen: its first row, and at its foot the keys, or what there is to tell."""

from collections.abc import Iterable

from ..record import NamedTuple
from .paint import Row, Rows, cells, fit, fitted, folded, on_ground, row, stack, window, words_of

NARROW, WIDE, LOW = 76, 112, 22  # columns under which a pane stands under its form, and beside it; rows
LEAST = 4  # rows that cautions leave to the form and its answer
LEFT = 35  # columns of a form beside its answers
BLANK: Row = (("", ""),)


def bar_rows(keys: Iterable[tuple[str, str]], width: int, most: int) -> Rows:
    """The bar of keys with what they do, in as many rows as it takes, up to `most`."""
    gap = 1 if width < NARROW else 2
    lines: list[list[tuple[str, str]]] = [[]]
    used = 0
    for key, says in keys:
        size = cells(key) + 1 + len(says)
        if used + size > width - 2 and lines[-1]:
            if len(lines) == most:
                lines[-1].append(("…", ""))
                break
            lines.append([])
            used = 0
        lines[-1] += [(" " * (gap if lines[-1] else 1), ""), (key, "bold accent"), (f" {says}", "")]
        used += size + gap
    return Rows(on_ground(fit(tuple(line), width), "bar") for line in lines)


class Message(NamedTuple):
    """A line told at the foot of the screen for a while, where it covers no answer."""

    words: str
    wrong: bool = False


def foot_rows(message: Message | None, keys: Iterable[tuple[str, str]], width: int, most: int) -> Rows:
    """The keys of a screen, or in their place, and in no more rows, what there is to tell."""
    bar = bar_rows(keys, width, most)
    if message is None or not bar:
        return bar
    said = folded([row((f"{'✗' if message.wrong else '·'} {message.words}", ""))], max(1, width - 2))
    high = max(len(bar), min(2, most))
    if len(said) > high:
        rest = " ".join(words_of(line).strip() for line in said[high - 1 :])
        said = Rows((*said[: high - 1], row(fitted(rest, width - 2))))
    role = "bold error" if message.wrong else "bold"
    lines = [row((f" {words_of(line)}", role)) for line in said] + [BLANK] * (high - len(said))
    return Rows(on_ground(fit(line, width), "bar") for line in lines)


def holding(lines: Rows, held: int, most: int) -> Rows:
    """The rows with blanks under them up to as many as were `held` before, in no more than `most`: nothing jumps."""
    seen = window(lines, 0, most).lines
    return stack(seen, [BLANK] * (max(len(seen), min(held, most)) - len(seen)))


def top_row(lefts: Iterable[str], middles: Iterable[str], rights: Iterable[str], width: int) -> Row:
    """The first row of a screen: of every part the fullest wording that there is room for."""
    room = width - 2
    tries = [(left, middle, right) for right in rights for left in lefts for middle in middles]
    best = next((words for words in tries if sum(map(cells, words)) + 4 <= room), None)
    if best is None:
        left, middle, _ = tries[-1]
        spare = room - cells(middle) - 2
        best = (fitted(left, spare), middle, "") if spare > 3 else ("", fitted(middle or left, room), "")
    gap = max(0, room - sum(map(cells, best)))
    line = best[0] + " " * (gap // 2) + best[1] + " " * (gap - gap // 2) + best[2]
    return on_ground(fit(row((f" {line} ", "bold")), width), "bar")
