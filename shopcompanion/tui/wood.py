"""The wood as it stands beside a step: what stays in its colour, what comes off lighter, and both named."""

from ..card.standing import Change, Standing
from ..lengths import Rule, show
from .paint import Row, Rows, fitted, row, rows, stack

_SIGNS, _PLAIN = ("█", "░"), ("#", ".")  # what stays and what comes off; and where there are no blocks


_FEW = 30  # columns of a picture with fewer have no room for sentences


def wood(change: Change, place: str, rule: Rule, size: tuple[int, int], ascii_only: bool = False) -> Rows:
    """A picture of the section in `size`, columns and rows, with what it is in words under it."""
    width, height = size
    signs = _PLAIN if ascii_only else _SIGNS
    off = f"{signs[1]} {show(change.size, rule)}" if change.off else ""
    words = [f"at {place}: {change.before.name}"]
    if change.after != change.before:
        words.append(f"next: {change.after.name}")
    words.append(change.off.format(off))
    if width < _FEW:  # the picture, and how much comes off
        words = [off or change.after.name]
    words = [fitted(line, width) for line in words if line]
    told = rows(words, "quiet")
    room = height - len(words)
    if room < 3:
        return told
    return stack(_picture(change.before, change.after, width, room, signs), told)


def _picture(before: Standing, after: Standing, width: int, height: int, signs: tuple[str, str]) -> list[Row]:
    """Cells twice as high as wide, each of what is in its middle."""
    cell = max(before.width / width, before.depth / height / 2)  # mm of a column
    columns = min(width, round(before.width / cell))
    lines = []
    for line in range(height):
        y = (height / 2 - line - 0.5) * cell * 2
        spans = []
        for column in range(columns):
            x = (column + 0.5 - columns / 2) * cell
            if not before.holds(x, y):
                spans.append((" ", ""))
            else:
                spans.append((signs[0], "wood") if after.holds(x, y) else (signs[1], "squared"))
        lines.append(row(*spans))
    return lines
