"""Words set in lines, tables in columns, and blocks of both laid out over pages: in one column or in two."""

from collections.abc import Callable, Iterable, Sequence

from ..card.lines import WRITE
from ..card.pages import TIED, TIES
from ..record import NamedTuple
from .faces import POINT, width
from .marks import Mark, Page, Pen, TextMark, line, moved
from .sheets import MARGIN, PaperSheet

TEXT = 8.5  # points
SMALL = 7.0
LEADING = 1.17  # of the size
_TO_WRITE = 15.0  # mm of a line to write on
_GUTTER = 6.0  # mm between two columns
_BESIDE = 3.0  # mm between columns of a table
HEAD = 3.2  # mm from the margin down to the running head
_HEADER = 8.0  # mm for the running head
_FOOTER = 7.0
_LONE = 34.0  # mm at the foot of a column in which no block is begun that fits whole into the next


class TypesetPart(NamedTuple):
    """What is never torn: a line, a row. Its marks stand from 0, 0 down to `high`.

    `over` are the heads of its table, which are put over it again where it begins another column.
    """

    high: float
    marks: tuple[Mark, ...] = ()
    over: tuple["TypesetPart", ...] = ()


class Block(NamedTuple):
    """Parts that stay together where they fit; where they do not, `again` stands over the rest."""

    parts: tuple[TypesetPart, ...]
    again: tuple[TypesetPart, ...] = ()
    whole: bool = False  # never parted where a page holds it

    @property
    def high(self) -> float:
        return sum(part.high for part in self.parts)


def joined(parts: Sequence[TypesetPart]) -> TypesetPart:
    """Parts as one that is never torn."""
    marks: list[Mark] = []
    y = 0.0
    for part in parts:
        marks += moved(part.marks, 0, y)
        y += part.high
    return TypesetPart(y, tuple(marks))


def inset(parts: Iterable[TypesetPart], by: float) -> list[TypesetPart]:
    """The same parts further to the right."""
    return [part._replace(marks=moved(part.marks, by, 0), over=tuple(inset(part.over, by))) for part in parts]


def leading(size: float) -> float:
    """From one baseline to the next, mm."""
    return size * POINT * LEADING


def wrapped(text: str, room: float, size: float = TEXT, bold: bool = False) -> list[str]:
    """`text` in lines of at most `room` mm; a length is not parted from its unit, and a word only where it must be."""
    lines: list[str] = []
    room += 1e-6  # a column is as wide as its longest word, but for the last digits
    here = ""
    for word in TIES.sub(TIED, text).split():
        longer = f"{here} {word}" if here else word
        if width(longer.replace(TIED, " "), size, bold) <= room:
            here = longer
            continue
        if here:
            lines.append(here)
        while width(word.replace(TIED, " "), size, bold) > room and len(word) > 1:
            fits = next(
                (k for k in range(len(word) - 1, 1, -1) if width(word[:k].replace(TIED, " "), size, bold) <= room), 1
            )
            lines.append(word[:fits])
            word = word[fits:]  # noqa: PLW2901  # the rest of it
        here = word
    return [said.replace(TIED, " ") for said in (*lines, here) if said] or [""]


def paragraph(
    text: str, room: float, size: float = TEXT, *, bold: bool = False, label: str = "", indent: float = 0.0,
    grey: float = 0.0,
) -> list[TypesetPart]:  # fmt: skip
    """The lines of a paragraph; the label stands in bold in the indent of the first."""
    parts = []
    for number, said in enumerate(wrapped(text, room - indent, size, bold)):
        marks: list[Mark] = [TextMark(0, size * POINT, label, size, True, grey=grey)] if label and not number else []
        marks.append(TextMark(indent, size * POINT, said, size, bold, grey=grey))
        parts.append(TypesetPart(leading(size), tuple(marks)))
    return parts


def columns_of(
    heads: Sequence[str], rows: Sequence[Sequence[str]], size: float, head_size: float, bold_first: bool = False
) -> list[float]:
    """How wide each column has to be for its cells and heads (`\\n` breaks them)."""

    def wide(cell: str, bold: bool) -> float:
        return _TO_WRITE if cell == WRITE else width(cell, size, bold)

    cells = [max((wide(row[k], bold_first and not k) for row in rows), default=0.0) for k in range(len(heads))]
    tops = [max(width(piece, head_size, True) for piece in head.split("\n")) for head in heads]
    return [max(pair) for pair in zip(cells, tops, strict=True)]


def headed(
    heads: Sequence[str], lefts: Sequence[float], room: float, size: float, pen: Pen = "thin"
) -> list[TypesetPart]:
    """The heads of a table over a line, their last lines on one level; nothing where all of them are empty."""
    if not any(heads):
        return []
    deep = max(head.count("\n") + 1 for head in heads)
    parts = []
    for level in range(deep):
        marks: list[Mark] = []
        for left, head in zip(lefts, heads, strict=True):
            pieces = head.split("\n")
            place = level - (deep - len(pieces))
            if place >= 0 and pieces[place]:
                marks.append(TextMark(left, size * POINT, pieces[place], size, True))
        parts.append(TypesetPart(leading(size), tuple(marks)))
    return [*parts, TypesetPart(1.4, (line(0, 0.7, room, 0.7, pen),))]


def table(
    heads: Sequence[str], rows: Sequence[Sequence[str]], room: float, size: float = TEXT, *, head_size: float = SMALL,
    beside: float = _BESIDE, ruled: bool = False,
) -> list[TypesetPart]:  # fmt: skip
    """The rows, with the heads over the first; the last column is folded where the room is too narrow.

    Where even that is too wide everything is set smaller, so that nothing sticks out.
    """
    widths = columns_of(heads, rows, size, head_size)
    before = sum(widths[:-1]) + beside * (len(widths) - 1)
    longest = max((width(word, size) for row in rows for word in row[-1].split()), default=0.0)
    if before + max(longest, min(widths[-1], 18.0)) > room and size > 5:
        return table(heads, rows, room, size - 0.5, head_size=min(head_size, size - 0.5), beside=beside, ruled=ruled)
    spare = max(0.0, room - before - widths[-1])
    gap = beside + min(4.0, spare / max(1, len(widths) - 1))
    lefts = [sum(widths[:k]) + gap * k for k in range(len(widths))]
    tops = headed(heads, lefts, room, head_size)
    made = [
        _row(row, lefts, last=max(room - lefts[-1], 8.0), size=size, ruled=ruled, room=room)._replace(over=tuple(tops))
        for row in rows
    ]
    return [joined([*tops, made[0]]), *made[1:]] if made else tops


def banked(rows: Sequence[TypesetPart], across: float) -> TypesetPart:
    """The rows of a table in two banks side by side, the second `across` mm to the right; its heads over both."""
    half = (len(rows) + 1) // 2
    second = [joined([*rows[half].over, rows[half]]), *rows[half + 1 :]]
    left, right = joined(rows[:half]), joined(inset(second, across))
    return TypesetPart(max(left.high, right.high), (*left.marks, *right.marks))


def _row(
    row: Sequence[str], lefts: Sequence[float], *, last: float, size: float, ruled: bool, room: float
) -> TypesetPart:
    base, step = size * POINT, leading(size)
    folds = [""] if row[-1] == WRITE else wrapped(row[-1], last, size)
    marks: list[Mark] = []
    for left, cell in zip(lefts, row, strict=True):
        if cell == WRITE:
            marks.append(line(left, base + 0.5, left + _TO_WRITE, base + 0.5))
        elif cell and left != lefts[-1]:
            marks.append(TextMark(left, base, cell, size))
    marks += [TextMark(lefts[-1], base + k * step, said, size) for k, said in enumerate(folds) if said]
    high = step * len(folds) + (0.3 if ruled else 0.0)
    if ruled:
        marks.append(line(0, high - 0.4, room, high - 0.4, "light"))
    return TypesetPart(high, tuple(marks))


class Flow:
    """Pages as they fill. `name` stands at the head of every page and `foot`, in small type, at the foot."""

    def __init__(self, sheet: PaperSheet, name: str, foot: str) -> None:
        self.sheet, self.name, self.foot = sheet, name, foot
        self.left, self.right = MARGIN, sheet.width - MARGIN
        self.top, self.bottom = MARGIN + _HEADER, sheet.height - MARGIN - _FOOTER
        self.pages: list[list[Mark]] = [[]]
        self.named: list[list[tuple[int, str]]] = [[]]
        self.y = self.top

    @property
    def room(self) -> float:
        """How wide one column over the page is."""
        return self.right - self.left

    @property
    def column(self) -> float:
        """How wide each of two columns is."""
        return (self.room - _GUTTER) / 2

    @property
    def left_over(self) -> float:
        """What is still free of the page, from the top down."""
        return self.bottom - self.y

    def bookmark(self, level: int, words: str) -> None:
        self.named[-1].append((level, words))

    def new_page(self) -> None:
        self.pages.append([])
        self.named.append([])
        self.y = self.top

    def full(self, block: Block, gap: float = 3.0) -> None:
        """A block over the width of the page."""
        if block.high > self.left_over and block.high <= self.bottom - self.top and (block.whole or self._lone(block)):
            self.new_page()
        for place, part in enumerate(block.parts):
            if part.high > self.left_over and self.y > self.top:
                self.new_page()
                if place:
                    self._put((*block.again, *part.over), self.left)
            self._put((part,), self.left)
        self.y += gap

    def _lone(self, block: Block) -> bool:
        return self.left_over < _LONE and block.high < self.bottom - self.top

    def _put(self, parts: Iterable[TypesetPart], left: float) -> None:
        for part in parts:
            self.pages[-1] += moved(part.marks, left, self.y)
            self.y += part.high

    def two(self, blocks: Sequence[Block], gap: float = 2.4) -> None:
        """Blocks down the left column and then the right one, page after page; the last page is filled evenly."""
        if self.left_over < _LONE:
            self.new_page()
        start, lefts = self.y, (self.left, self.left + self.column + _GUTTER)
        waiting = list(blocks)
        even = self._even(waiting, gap, start)
        column, floor = 0, even
        lowest = start

        def on() -> None:
            nonlocal column, start, lowest, floor
            column += 1
            if column == 2:
                self.new_page()
                column, start = 0, self.top
                lowest = start
                floor = self._even(waiting, gap, start)
            self.y = start

        for place, block in enumerate(blocks):
            waiting = list(blocks[place:])
            bottom = floor if column == 0 else self.bottom
            if self.y > start and self.y + block.high > bottom and (bottom - self.y < _LONE or floor < self.bottom):
                on()
            for number, part in enumerate(block.parts):
                while self.y + part.high > self.bottom and (self.y > start or start > self.top):
                    on()
                    if number:
                        self._put((*block.again, *part.over), lefts[column])
                self._put((part,), lefts[column])
            lowest = max(lowest, self.y)
            self.y += gap
        self.y = lowest + gap

    def _even(self, blocks: Sequence[Block], gap: float, start: float) -> float:
        """How far down the left column is filled: all the way, or where what is left takes one page, to its half."""
        highs = [block.high + gap for block in blocks]
        room = self.bottom - start
        if sum(highs) > 1.9 * room:
            return self.bottom
        best, reached = self.bottom, 0.0
        for place, high in enumerate(highs):
            reached += high
            rest = sum(highs[place + 1 :])
            if reached <= room and rest <= room and rest <= reached:
                best = start + reached
                break
        return best

    def finished(self, numbered: Callable[[int, int], str] | None = None) -> list[Page]:
        """The pages with head, number and foot."""
        made = []
        for number, (marks, named) in enumerate(zip(self.pages, self.named, strict=True), 1):
            place = numbered(number, len(self.pages)) if numbered else f"page {number} of {len(self.pages)}"
            running = _running(self, place)
            made.append(Page(self.sheet.width, self.sheet.height, (*running, *marks, *_foot(self)), tuple(named)))
        return made


def _running(flow: Flow, place: str) -> tuple[Mark, ...]:
    y = MARGIN + HEAD
    name = flow.name
    while width(name, 10, True) > flow.room - 30 and len(name) > 8:
        name = name[:-2].rstrip("…") + "…"
    return (
        TextMark(flow.left, y, name, 10, True),
        TextMark(flow.right, y, place, TEXT, align="right"),
        line(flow.left, y + 1.8, flow.right, y + 1.8, "thin"),
    )


def _foot(flow: Flow) -> tuple[Mark, ...]:
    y = flow.sheet.height - MARGIN
    said = wrapped(flow.foot, flow.room, SMALL)
    step = leading(SMALL)
    marks: list[Mark] = [line(flow.left, y - step * len(said) - 1.0, flow.right, y - step * len(said) - 1.0, "light")]
    marks += [TextMark(flow.left, y - step * (len(said) - 1 - k), words, SMALL) for k, words in enumerate(said)]
    return tuple(marks)
