"""The spar as it lies on the trestles: heel at the left, head at the right, along one strip of the screen."""

from collections.abc import Sequence
from typing import Literal

from ..lengths import Rule
from ..record import NamedTuple
from ..spar.outline import Outline
from .runs import add_to

Role = Literal["wood", "wood-turned", "square", "square-turned", "cursor", "hardest", "scale", "mark", "air"]
Run = tuple[str, Role]  # a piece of a line and what it is; `-turned` is drawn with front and back changed over

_EIGHTHS = " ▁▂▃▄▅▆▇█"
_SLOT = "▭"
_STEPS = {"in": (304.8, 609.6, 1524.0, 3048.0), "mm": (250.0, 500.0, 1000.0, 2000.0, 5000.0)}


class Mark(NamedTuple):
    """A joint or a fitting at its station."""

    at: float
    sign: str
    name: str


class SparStrip(NamedTuple):
    """Lines of runs, and how many times the thickness is drawn too big against the length."""

    lines: list[list[Run]]
    exaggerated: float


def strip(
    outline: Outline,
    at: float,
    rule: Rule,
    columns: int,
    *,
    square_to: float = 0,
    marks: Sequence[Mark] = (),
    slots: Sequence[tuple[float, float]] = (),
    low: bool = False,
    ascii_only: bool = False,
) -> SparStrip:
    """Five lines (marks, three of wood, scale), or with `low` two (wood, scale), each of `columns` characters.

    `slots` are cut right through, from a station to another; with `low` there is no room to show them.
    """
    length, widest = outline.length, outline.widest
    here = column_of(at, length, columns)
    rows = 1 if low else 3
    wood: list[list[Run]] = [[] for _ in range(rows)]
    slotted = {
        column
        for start, end in slots
        for column in range(column_of(start, length, columns), column_of(end, length, columns) + 1)
    }
    for column in range(columns):
        middle = (column + 0.5) / columns * length
        kind: Literal["wood", "square"] = "square" if middle < square_to else "wood"
        part = outline.width_at(middle) / widest
        cell = _cell(part, low)
        if column in slotted and not low:
            cell[1] = (_SLOT, False)
        for row, (letter, turned) in zip(wood, cell, strict=True):
            role: Role = "cursor" if column == here else f"{kind}-turned" if turned else kind  # type: ignore[assignment]
            add_to(row, letter, role)
    scale = scale_line(length, rule, columns, here)
    lines = [*wood, scale] if low else [marks_line(length, columns, marks), *wood, scale]
    lines = [in_ascii(line) for line in lines] if ascii_only else lines
    return SparStrip(lines, rows * 2 * length / columns / widest)


def in_ascii(line: list[Run]) -> list[Run]:
    """A line of a strip in plain letters, columns as they are; what is less than half a row of wood is its edge."""
    return [(text.translate(_TURNED if role.endswith("-turned") else _UPRIGHT), role) for text, role in line]


_SIGNS = {"◇": "o", "▾": "v", "▲": "^", "╵": "|", "×": "x", "■": "#", "━": "=", _SLOT: "0"}
_UPRIGHT = str.maketrans({**_SIGNS, **dict(zip(_EIGHTHS[1:], "___#####", strict=True))})
_TURNED = str.maketrans({**_SIGNS, **dict(zip(_EIGHTHS, "#####''' ", strict=True))})


def column_of(at: float, length: float, columns: int) -> int:
    return min(columns - 1, int(at / length * columns))


def _cell(part: float, low: bool) -> list[tuple[str, bool]]:
    """The characters of one column, top to bottom, for a width that is `part` of the widest."""
    if low:
        return [(_EIGHTHS[max(1, round(part * 8))], False)]
    edge = round(part * 12) - 4  # eighths that the edge reaches into the outer rows
    if edge < 0:
        return [(" ", False), ("━" if edge < -2 else "■", False), (" ", False)]
    return [(_EIGHTHS[min(edge, 8)], False), ("█", False), (_EIGHTHS[8 - min(edge, 8)], True)]


def _room(line: list[str], start: int, text: str, own: int = -1) -> bool:
    """Whether `text` can stand at `start`, with a gap to a sign and a wider one to a word; at `own` is its own sign."""
    end = start + len(text)
    around = range(max(0, start - 1), min(len(line), end + 1))
    words = line[max(0, start - 2) : max(0, start - 1)] + line[end + 1 : end + 2]
    return (
        start >= 0
        and end <= len(line)
        and all(line[column] == " " or column == own for column in around)
        and not any(letter.isalnum() for letter in words)
    )


def marks_line(length: float, columns: int, marks: Sequence[Mark]) -> list[Run]:
    """Every sign at its place, or beside one that stands there; then the names, and the ends, where there is room."""
    line = [" "] * columns
    own = [column_of(mark.at, length, columns) for mark in marks]
    placed: list[tuple[int, Mark]] = []
    for column, mark in zip(own, marks, strict=True):
        beside = (place for place in (column + 1, column - 1) if 0 <= place < columns and place not in own)
        where = next((place for place in (column, *beside) if line[place] == " "), column)
        placed.append((where, mark))
        line[where] = mark.sign
    for column, mark in placed:
        for start, text in ((column + 1, f" {mark.name}"), (column - len(mark.name) - 1, f"{mark.name} ")):
            if _room(line, start, text, column):
                line[start : start + len(text)] = text
                break
    for start, text in ((0, "heel"), (columns - 4, "head")):
        if _room(line, start, text):
            line[start : start + 4] = text
    return [("".join(line), "mark")]


def scale_line(
    length: float, rule: Rule, columns: int, here: int, *, note: str = "", sign: tuple[int, str] | None = None
) -> list[Run]:
    """The station and the lengths under the spar; a `note` at an end that the station leaves free, and a sign at a
    column, or beside the station's.
    """
    line = [" "] * columns
    line[here] = "▲"
    if sign is not None:
        column = sign[0] if sign[0] != here else here - 1 if here else here + 1
        line[column] = sign[1]
    if note and len(note) + 2 < columns:
        first = columns - len(note)
        if "".join(line[first - 1 :]).strip():
            first = 0
        if not "".join(line[first : first + len(note) + 1]).strip():
            line[first : first + len(note)] = note
    step = next((s for s in _STEPS[rule.unit] if s / length * columns >= 8), _STEPS[rule.unit][-1])
    for k in range(int(length / step) + 1):
        at = k * step
        word = "0" if not k else f"{at / 304.8:.0f} ft" if rule.unit == "in" else f"{at / 1000:g} m"
        column = column_of(at, length, columns)
        around = "".join(line[max(0, column - 1) : column + 1])
        if line[column] == " " and not (note and around.strip()):
            line[column] = "╵"
        elif note:
            continue
        if not "".join(line[column + 1 : column + 2 + len(word)]).strip() and column + 1 + len(word) <= columns:
            line[column + 1 : column + 1 + len(word)] = word
    runs: list[Run] = []
    for column, letter in enumerate(line):
        add_to(runs, letter, "cursor" if column == here else "scale")
    return runs
