"""Templates laid out on sheets at full size: a check bar on every sheet, the large ones tiled with register marks."""

from collections.abc import Iterable, Iterator, Sequence
from math import ceil
from string import ascii_uppercase

from ..card.origin import Origin
from ..errors import InputFault, printable
from ..lengths import read
from ..record import NamedTuple
from .faces import POINT, width
from .marks import Box, Mark, Page, Pen, Point, TextMark, flipped, line, moved, turned, within
from .sheets import PaperSheet
from .svg import svg
from .templates.every import Templates
from .templates.template import SMALL_WORDS, Template
from .typeset import Flow, joined, leading, paragraph, wrapped

BAR = 100.0  # mm of a check bar; 3-15/16 in, but for an eightieth of a millimetre
_LEAST, _MOST = 0.9, 1.1  # of a correction
_GAP = 5.0  # mm between templates
_OVERLAP = 12.0  # mm that two sheets share
_LEFT, _BELOW = 12.0, 16.0  # mm for the check bars
_LEAST_ROOM = 60.0  # mm each way, or nothing is laid out
_WORDS = 8.0
_TITLE = 10.0
_AGAIN = "Measure both bars before you cut: {long} = {inches} in. Print at 100 %, without fitting to the page."


class Correction(NamedTuple):
    """How much larger everything is drawn, so that it comes out right on a printer that is not."""

    across: float = 1.0
    along: float = 1.0


def correction(text: str, unit: str) -> Correction:
    """From what the check bars measure on the last sheet: one length for both, or two, across and along, as
    `98.7 mm` or `98.7 mm & 99.4 mm`. InputFault when it says none, or where a bar is off by more than a tenth.
    """
    parts = text.split("&")
    if len(parts) > 2:
        raise InputFault("one length, or two with & between them: across the sheet, then along it", "measured")
    sizes = []
    for part in parts:
        try:
            measured = float(read(part.strip(), unit))  # type: ignore[arg-type]  # in or mm
        except InputFault as fault:
            raise InputFault(fault.template, "measured", fault.lengths) from None
        factor = BAR / measured if measured > 0 else 0.0
        if not _LEAST <= factor <= _MOST:
            raise InputFault(
                f"'{printable(part.strip())}' is too far from the bar's 100 mm: print at 100 % and measure it again; "
                "from {} to {} can be corrected",
                "measured",
                (BAR / _MOST, BAR / _LEAST),
            )
        sizes.append(factor)
    return Correction(sizes[0], sizes[-1])


TRUE = Correction()


class _Placed(NamedTuple):
    """A template as it lies on a sheet: its figure above its words, `wide` and `high` mm."""

    template: Template
    marks: tuple[Mark, ...]
    wide: float
    high: float


class Sheets:
    """The sheets as they fill: templates in rows from the top down."""

    def __init__(self, sheet: PaperSheet, name: str, origin: Origin, by: Correction) -> None:
        self.flow = Flow(sheet, name, origin.words)
        self.rule, self.by = origin.rule, by
        self.left, self.right = self.flow.left + _LEFT, self.flow.right
        self.top, self.bottom = self.flow.top + 1.0, self.flow.bottom - _BELOW
        if min(self.right - self.left, self.bottom - self.top) < _LEAST_ROOM:
            raise InputFault(f"a sheet of {sheet.width:g} by {sheet.height:g} mm has no room for templates", "paper")
        self.x, self.y, self.deep = self.left, self.top, 0.0
        self.used = False

    @property
    def room(self) -> Point:
        return self.right - self.left, self.bottom - self.top

    def add(self, template: Template) -> None:
        """Put a template on the sheet, on the next one, or on as many as it takes; turned where that takes fewer."""
        ways = (template, template._replace(marks=turned(template.marks)))
        template = min(ways, key=self._sheets_for)
        placed = _placed(template, self.by, self.room[0])
        if placed.wide > self.room[0] or placed.high > self.room[1]:
            self._tiled(template)
            return
        if self.x + placed.wide > self.right + 1e-6:
            self._next_row()
        if self.y + placed.high > self.bottom + 1e-6:
            self._next_sheet()
        self._draw(moved(placed.marks, self.x, self.y))
        self.x += placed.wide + _GAP
        self.deep = max(self.deep, placed.high)

    def tell(self, lines: Sequence[str]) -> None:
        """What is missing, over everything else."""
        parts = [part for told in lines for part in paragraph(printable(told, 400), self.room[0], label="!", indent=4)]
        block = joined(parts)
        self._draw(moved(block.marks, self.left, self.y))
        self.y += block.high + _GAP

    def _sheets_for(self, template: Template) -> int:
        left, low, right, high = template.box
        size = ((right - left) * self.by.across, (high - low) * self.by.along)
        room = (self.room[0], self.room[1] - sum(step for step, _ in _words(template, self.room[0])) - 8.0)
        return _count(size[0], room[0]) * _count(size[1], room[1])

    def _draw(self, marks: Iterable[Mark]) -> None:
        self.flow.pages[-1] += marks
        self.used = True

    def _next_row(self) -> None:
        self.x, self.y, self.deep = self.left, self.y + self.deep + _GAP, 0.0

    def _next_sheet(self) -> None:
        if self.used:
            self.flow.new_page()
        self.x, self.y, self.deep, self.used = self.left, self.top, 0.0, False

    def _tiled(self, template: Template) -> None:
        """A template over several sheets: each has its part, a letter, and the crosses that it shares with the next."""
        words = _words(template, self.room[0])
        head = sum(high for high, _ in words) + 8.0
        wide, high = self.room[0], self.room[1] - head
        low = template.box
        scaled = flipped(template.marks, -low[0] * self.by.across, low[3] * self.by.along, self.by)
        whole = ((low[2] - low[0]) * self.by.across, (low[3] - low[1]) * self.by.along)
        across, down = (_count(size, space) for size, space in zip(whole, (wide, high), strict=True))
        for row in range(down):
            for column in range(across):
                self._next_sheet()
                number = row * across + column
                x, y = column * (wide - _OVERLAP), row * (high - _OVERLAP)
                tile: Box = (x, y, min(x + wide, whole[0] + 0.5), min(y + high, whole[1] + 0.5))
                marks = [
                    *within(scaled, (x - 0.01, y - 0.01, x + wide, y + high)),
                    *_register(tile, column, row, (across, down), (wide, high)),
                ]
                self._draw(moved(marks, self.left - x, self.top + head - y))
                self._draw(_standing(words, self.left, self.top))
                said = f"Sheet {_letter(number)} of {across * down}: lay the crosses of one letter on one another"
                self._draw([TextMark(self.left, self.top + head - 3.0, said, _WORDS, True)])
        self._next_sheet()

    def finished(self) -> list[Page]:
        """The sheets, each with both check bars."""
        if not self.used and len(self.flow.pages) > 1:
            self.flow.pages.pop()
            self.flow.named.pop()
        bars = tuple(self._bars())
        for marks in self.flow.pages:
            marks.extend(bars)
        return self.flow.finished()

    def _bars(self) -> Iterator[Mark]:
        """A bar across the sheet and one along it, in millimetres on one side and in inches on the other."""
        x, y = self.left, self.flow.bottom - 7.0
        yield from _bar((x, y), (self.by.across, 0.0))
        said = _AGAIN.format(long="100 mm", inches="3-15/16")
        if self.by != (1.0, 1.0):
            said += f" Drawn {100 * self.by.across:.2f} % across and {100 * self.by.along:.2f} % along, as measured."
        room = self.right - x - BAR * self.by.across - 6.0
        beside = x + BAR * self.by.across + 5.0
        for k, told in enumerate(wrapped(said, room, SMALL_WORDS)):
            yield TextMark(beside, y - 4.0 + k * leading(SMALL_WORDS), told, SMALL_WORDS)
        pens: tuple[tuple[Pen, str], ...] = (("cut", "cut"), ("scribe", "scribe"), ("centre", "middle or fold"))
        for pen, word in pens:
            yield line(beside, y + 4.4, beside + 12.0, y + 4.4, pen)
            yield TextMark(beside + 13.0, y + 5.2, word, SMALL_WORDS)
            beside += 15.0 + width(word, SMALL_WORDS)
        yield from _bar((self.flow.left + 4.0, self.bottom), (0.0, self.by.along))


def _bar(start: Point, by: Point) -> Iterator[Mark]:
    """A bar of 100 mm from a point to the right or upwards: ticks of 10 mm on one side, of 1/2 in on the other."""
    x, y = start
    across, along = by

    def at(mm: float) -> Point:
        return x + mm * across, y - mm * along

    (x1, y1), (x2, y2) = at(0.0), at(BAR)
    yield line(x1, y1, x2, y2, "cut")
    side = (0.0, 1.0) if across else (1.0, 0.0)
    for k in range(11):
        a, b = at(10.0 * k)
        deep = 3.0 if k in (0, 5, 10) else 1.8
        yield line(a, b, a - side[0] * deep, b - side[1] * deep, "thin")
    for k in range(8):
        a, b = at(12.7 * k)
        deep = 3.0 if k % 2 == 0 else 1.8
        yield line(a, b, a + side[0] * deep, b + side[1] * deep, "thin")
    a, b = at(0.0)
    turn = 0.0 if across else 90.0
    for mm, word, way in ((50.0, "measure this: 100 mm", -1), (25.4, "1", 1), (50.8, "2", 1), (76.2, "3 in", 1)):
        a, b = at(mm)
        off = 3.6 if way < 0 else 5.2
        yield TextMark(a + side[0] * way * off, b + side[1] * way * off, word, 6.5, align="centre", turn=turn)


def _count(size: float, room: float) -> int:
    return 1 if size <= room else ceil((size - _OVERLAP) / (room - _OVERLAP) - 1e-9)


def _letter(number: int) -> str:
    before, here = divmod(number, 26)
    return (_letter(before - 1) if before else "") + ascii_uppercase[here]


def _register(tile: Box, column: int, row: int, count: tuple[int, int], room: Point) -> Iterator[Mark]:
    """Crosses in the middle of what a sheet shares with its neighbours, in the template's own place: a letter each."""
    across, down = count
    step_x, step_y = room[0] - _OVERLAP, room[1] - _OVERLAP
    for seam, first in ((column - 1, 0), (column, 1)):
        if 0 <= seam < across - 1:
            x = (seam + 1) * step_x + _OVERLAP / 2
            for part in (0.25, 0.75):
                y = row * step_y + part * min(room[1], tile[3] - tile[1])
                yield from _cross(x, y, f"{_letter(row * (across - 1) + seam)}{1 if part < 0.5 else 2}", bool(first))
    for seam in (row - 1, row):
        if 0 <= seam < down - 1:
            y = (seam + 1) * step_y + _OVERLAP / 2
            for part in (0.25, 0.75):
                x = column * step_x + part * min(room[0], tile[2] - tile[0])
                yield from _cross(
                    x, y, f"{_letter(down * (across - 1) + seam * across + column)}{1 if part < 0.5 else 2}", False
                )


def _cross(x: float, y: float, word: str, before: bool) -> Iterator[Mark]:
    yield line(x - 4.0, y, x + 4.0, y, "thin")
    yield line(x, y - 4.0, x, y + 4.0, "thin")
    yield TextMark(x - 1.0 if before else x + 1.0, y - 1.0, word, SMALL_WORDS, True, "right" if before else "left")


def _placed(template: Template, by: Correction, most: float) -> _Placed:
    left, low, right, high = template.box
    wide, tall = (right - left) * by.across, (high - low) * by.along
    words = _words(template, min(most, max(wide, 88.0)))
    across = max([wide, *(width(said.text, said.size, said.bold) for _, said in words)])
    below = _standing(words, 0.0, tall + 1.5)
    figure = flipped(template.marks, -left * by.across, high * by.along, by)
    return _Placed(template, (*figure, *below), across, tall + 1.5 + sum(step for step, _ in words))


def _words(template: Template, room: float) -> list[tuple[float, TextMark]]:
    """The lines of a template's words: how far each goes down, and the line at 0, 0."""
    words = [(leading(_TITLE), TextMark(0, _TITLE * POINT, template.title, _TITLE, True))]
    for said in template.says:
        words += [
            (leading(_WORDS), TextMark(0, _WORDS * POINT, told, _WORDS))
            for told in wrapped(printable(said, 400), room, _WORDS)
        ]
    return words


def _standing(words: Sequence[tuple[float, TextMark]], left: float, top: float) -> tuple[Mark, ...]:
    placed: list[Mark] = []
    for high, said in words:
        placed += moved([said], left, top)
        top += high
    return tuple(placed)


def sheets_of(
    templates: Templates, sheet: PaperSheet, name: str, origin: Origin, by: Correction = TRUE
) -> list[Page]:  # fmt: skip
    """The templates at full size on sheets, with what is missing on the first. InputFault when a sheet is too small."""
    pages = Sheets(sheet, name, origin, by)
    pages.flow.bookmark(0, f"Templates: {printable(templates.spar)}")
    if templates.told:
        pages.tell(templates.told)
    for template in templates.all:
        pages.add(template)
    return pages.finished()


def drawing(template: Template) -> str:
    """One template at full size as SVG, its words below it."""
    placed = _placed(template, TRUE, 180.0)
    marks = moved(placed.marks, _GAP, _GAP)
    return svg(marks, placed.wide + 2 * _GAP, placed.high + 2 * _GAP, f"{template.title}, {template.says[0]}")
