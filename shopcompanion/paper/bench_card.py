"""The job card set for print, from the same records as the card in text: what it says, and in the same order."""

from collections.abc import Iterator, Sequence

from ..calculator import Table
from ..calculators.proving import GUIDANCE
from ..card.good_for import TITLE as GOOD_FOR
from ..card.good_for import good_for_rows
from ..card.head import COVER, MARKS, facts, legend, list_of_spars
from ..card.lines import LEFT_OUT, WRITE, Paper, whose
from ..card.measured import TITLE as MEASURED
from ..card.measured import LogInWords, as_measured
from ..card.origin import Origin
from ..card.plan import CardPlan
from ..card.step import Step
from ..card.steps import lacking, naming
from ..card.text import station_tables, worked_out
from ..errors import printable
from ..profile.left_out import LeftOut
from ..profile.records import Boat, Spar
from ..record import NamedTuple
from .faces import CAPITAL, POINT, width
from .marks import Mark, Page, TextMark, line, loop, moved, rectangle
from .sheets import PaperSheet
from .typeset import (
    SMALL,
    TEXT,
    Block,
    Flow,
    TypesetPart,
    banked,
    columns_of,
    headed,
    inset,
    joined,
    leading,
    paragraph,
    table,
    wrapped,
)
from .views import section, views

_TITLE = 26.0
_STEP = 10.5
_LABEL = 10.0  # mm: the indent of what belongs to a step
_LONG = 6  # rows of a table that stands in two banks
_BOX = 3.6  # mm: the box to tick
_FROM_AFAR = 2000.0  # mm, from where the station table is read
_FAR = 14.0  # points that a station table has at least, if a page of its own allows it
_HEADS = 0.55  # of the size
_LARGEST, _SMALLEST = 18.0, 9.0  # points of the station table
_NOTES = 24.0  # mm: the column of what is at a station


class Cards(NamedTuple):
    """The pages, and what of the boat is left out of them, as stands at their top."""

    pages: list[Page]
    left_out: tuple[LeftOut, ...]


def cards(boat: Boat, spar: Spar | None, sheet: PaperSheet, origin: Origin) -> Cards:
    """The cards of a spar, or with None of all behind a list of them. What `card.text.card` raises."""
    worked, left_out = worked_out(boat, spar, origin.rule)
    pages = [] if spar else cover(boat, left_out, sheet, origin)
    for plan, steps in worked:
        pages += card(plan, steps, sheet, origin)
    return Cards(pages, left_out)


def cover(boat: Boat, left_out: Sequence[LeftOut], sheet: PaperSheet, origin: Origin) -> list[Page]:
    """The list of a boat's cards."""
    name = printable(boat.name) or "a boat"
    flow = Flow(sheet, f"{name} · job cards", origin.words)
    flow.bookmark(0, "Job cards")
    if left_out:
        flow.full(told_left_out([lost.words for lost in left_out], flow.room))
    flow.full(Block(tuple(paragraph(f"Job cards of the {name}", flow.room, 20, bold=True))))
    listed = list_of_spars(boat, Paper(origin.rule))
    flow.full(Block(tuple(table(COVER, listed, flow.room, 13, head_size=10, ruled=True))))
    return flow.finished()


def card(plan: CardPlan, steps: Sequence[Step], sheet: PaperSheet, origin: Origin) -> list[Page]:
    """The pages of one spar's card."""
    spar = plan.spar
    with naming(plan):
        flow = Flow(sheet, f"{printable(plan.job.boat.name) or 'a boat'} · {printable(spar.name)}", origin.words)
        flow.bookmark(0, printable(spar.name))
        if left_out := lacking(plan):
            flow.full(told_left_out([lost.words for lost in left_out], flow.room))
        _head(flow, plan, origin)
        tables = station_tables(plan)
        own_page = [named for named in tables if not _stations(flow, *named, Paper(origin.rule))]
        if log := as_measured(plan):
            flow.full(_measured(log, Paper(origin.rule), flow.room))
        if worth := _good_for(plan, flow.room):
            flow.full(worth)
        flow.bookmark(1, "The steps")
        flow.two([_step(step, k, step.id in spar.done, flow.column, origin) for k, step in enumerate(steps, 1)])
        for named in own_page:
            _stations(flow, *named, Paper(origin.rule), True)
    return flow.finished()


def told_left_out(lines: Sequence[str], room: float) -> Block:
    """What is not on the paper because the profile has a fault there, in a frame."""
    parts = [TypesetPart(1.5), *inset(paragraph(LEFT_OUT, room - 6, 11, bold=True), 3)]
    for text in lines:
        parts += inset(paragraph(text, room - 6, 10, label="!", indent=4), 3)
    return framed(parts, room)


def framed(parts: Sequence[TypesetPart], room: float) -> Block:
    """Parts within a frame, which is drawn part by part, so that it holds over a page's end."""
    made = []
    for number, part in enumerate(parts):
        last = number == len(parts) - 1
        high = part.high + (1.5 if last else 0.0)
        sides: list[Mark] = [line(0, 0, 0, high, "heavy"), line(room, 0, room, high, "heavy")]
        sides += [line(0, 0, room, 0, "heavy")] if not number else []
        sides += [line(0, high, room, high, "heavy")] if last else []
        made.append(TypesetPart(high, (*sides, *part.marks)))
    return Block(tuple(made))


# --- the first page ---------------------------------------------------------------------------------------------------


def _head(flow: Flow, plan: CardPlan, origin: Origin) -> None:
    """The spar in words with its section beside them, and seen from two sides."""
    drawn_wide = 66.0
    room = flow.room - drawn_wide - 5
    parts = paragraph(printable(plan.spar.name).upper(), room, _TITLE, bold=True)
    parts.append(TypesetPart(2.0))
    for label, text in facts(plan):
        parts += paragraph(text, room, 10, label=label, indent=18)
    parts.append(TypesetPart(1.5))
    parts += paragraph(f"Rule {origin.rule}. {MARKS}", room, TEXT)
    drawn = section(plan, drawn_wide, 62.0)
    left = flow.room - drawn_wide
    high = sum(part.high for part in parts)
    caption = paragraph(drawn.caption, drawn_wide, SMALL)
    beside: list[Mark] = list(moved(drawn.marks, left, 0))
    below = drawn.high
    for part in caption:
        beside += moved(part.marks, left, below)
        below += part.high
    marks: list[Mark] = []
    y = 0.0
    for part in parts:
        marks += moved(part.marks, 0, y)
        y += part.high
    flow.full(Block((TypesetPart(max(high, below), (*marks, *beside)),)))
    both = views(plan, flow.room)
    scaled = f"Heel at the left; seen on face A and on face B, thickness exaggerated {both.taller:.1f} times."
    said = "; ".join(legend(plan))
    words = paragraph(f"{said}. {scaled}" if said else scaled, flow.room, TEXT)
    flow.full(Block((TypesetPart(both.high, both.marks), *words)), 4)


def _good_for(plan: CardPlan, room: float) -> Block | None:
    rows = good_for_rows(plan)
    if not rows:
        return None
    parts = titled(GOOD_FOR, room)
    for label, text in rows:
        parts += paragraph(text, room, TEXT, label=label, indent=18)
    return Block((*parts, *paragraph(GUIDANCE, room, SMALL)), whole=True)


def _measured(log: LogInWords, paper: Paper, room: float) -> Block:
    """What was measured, against the sizes meant."""
    parts = titled(MEASURED, room)
    for said in log.says:
        parts += paragraph(said, room)
    for measured in log.tables:
        parts += [TypesetPart(1.0), *table(*paper.cells(measured), room, TEXT, ruled=True)]
        parts += [part for said in paper.roundings(measured) for part in paragraph(said, room, SMALL)]
    return Block((joined(parts[:3]), *parts[3:]), tuple(paragraph(f"{MEASURED}, continued", room, 10, bold=True)))


def titled(title: str, room: float, size: float = 13.0) -> list[TypesetPart]:
    return [*paragraph(title, room, size, bold=True), TypesetPart(1.4, (line(0, 0.4, room, 0.4, "thin"),))]


# --- the station table ------------------------------------------------------------------------------------------------


def legible(size: float) -> float:
    """How many minutes of arc a digit of that size, in points, is high from two metres; five are the least that a good
    eye reads (the letters of the 6/6 line of an eye chart; ISO 8596, from memory).

    >>> round(legible(13), 1)
    5.2
    """
    from math import atan, degrees

    return 60 * degrees(atan(size * POINT * CAPITAL / _FROM_AFAR))


def _stations(flow: Flow, stations: Table, title: str, paper: Paper, own_page: bool = False) -> bool:
    """The station table as large as the page allows, if it can be read from afar in what is left of the page; with
    `own_page` on another where it has to be. Whether it was set.
    """
    heads, rows = paper.cells(stations)
    notes = [row[-1] for row in rows] if stations.columns[-1].name == "note" else []
    if notes:
        heads, rows = heads[:-1], [row[:-1] for row in rows]
    above = 12.0  # mm: the title and its line
    size = _size(heads, rows, flow.room - (_NOTES if notes else 0), flow.left_over - above)
    alone = _size(heads, rows, flow.room - (_NOTES if notes else 0), flow.bottom - flow.top - above)
    if size < min(alone, _FAR):
        if not own_page:
            return False
        flow.new_page()
        size = alone
    flow.bookmark(1, title)
    title_parts = titled(title, flow.room)
    lines = _large(heads, rows, notes, flow.room, size)
    lines += [part for said in paper.roundings(stations) for part in paragraph(said, flow.room, SMALL)]
    again = paragraph(f"{title}, continued", flow.room, 10, bold=True)
    flow.full(Block((joined([*title_parts, lines[0]]), *lines[1:]), tuple(again)))
    return True


def _size(heads: Sequence[str], rows: Sequence[Sequence[str]], room: float, high: float) -> float:
    """The largest size in points at which the columns fit beside one another, and the rows below where they can."""
    size = _LARGEST
    while size > _SMALLEST:
        wide = sum(columns_of(heads, rows, size, _HEADS * size, True)) + 4.0 * (len(heads) - 1)
        deep = len(rows) * _row(size) + 3 * leading(_HEADS * size)
        if wide <= room and (deep <= high or size <= 14.0):
            break
        size -= 0.5
    return size


def _row(size: float) -> float:
    return size * POINT * 1.28


def _large(
    heads: Sequence[str], rows: Sequence[Sequence[str]], notes: Sequence[str], room: float, size: float
) -> list[TypesetPart]:
    """Rows spread over the room, with the heads over the first, a hair line under each, and a note in small type."""
    small = _HEADS * size
    widths = columns_of(heads, rows, size, small, True)
    free = room - (_NOTES if notes else 0) - sum(widths)
    gap = min(12.0, free / max(1, len(widths) - 1))
    lefts = [sum(widths[:k]) + gap * k for k in range(len(widths))]
    tops = headed(heads, lefts, room, small, "heavy")
    made = []
    for number, row in enumerate(rows):
        high, base = _row(size), size * POINT * 0.98
        marks: list[Mark] = [
            TextMark(left, base, cell, size, k == 0)
            for k, (left, cell) in enumerate(zip(lefts, row, strict=True))
            if cell
        ]
        if notes and notes[number]:
            folds = wrapped(notes[number], _NOTES - 2, SMALL)
            first = base - (len(folds) - 1) * leading(SMALL)
            marks += [
                TextMark(room - _NOTES + 2, first + k * leading(SMALL), said, SMALL) for k, said in enumerate(folds)
            ]
            high = max(high, len(folds) * leading(SMALL) + 0.6)
        marks.append(line(0, high - 0.2, room, high - 0.2, "light"))
        made.append(TypesetPart(high, tuple(marks), tuple(tops)))
    return [joined([*tops, made[0]]), *made[1:]]


# --- the steps --------------------------------------------------------------------------------------------------------


def _step(step: Step, number: int, done: bool, room: float, origin: Origin) -> Block:
    """A step: its box, what to do, how the tools are set, its numbers, checks, and the cautions framed beside them."""
    paper, inner = Paper(origin.rule), room - _LABEL
    title = [TypesetPart(1.6, (line(0, 0, room, 0, "thin"),)), *_step_title(step, number, done, room)]
    if step.asked:
        title += inset(paragraph(f"({whose(step, origin.rule)})", inner, 7, grey=0.3), _LABEL)
    parts: list[TypesetPart] = []
    for said in step.left_out:
        parts += paragraph(
            f"LEFT OUT for a fault in the profile: {said}", room, TEXT, bold=True, label="!", indent=_LABEL
        )
    for said in step.says:
        parts += [*inset(paragraph(said, inner), _LABEL), TypesetPart(0.6)]
    for said in step.setup:
        parts += [*paragraph(said, room, label="set", indent=_LABEL), TypesetPart(0.6)]
    own = [table for table in step.tables if table.name != "stations"]
    for numbers in own:
        if len(own) > 1:
            parts += inset(paragraph(f"{numbers.name}:", inner, SMALL, bold=True), _LABEL)
        parts += [*_numbers(*paper.cells(numbers), room), TypesetPart(0.6)]
        for said in paper.roundings(numbers):
            parts += [*inset(paragraph(said, inner, SMALL), _LABEL), TypesetPart(0.6)]
    for said in step.checks:
        parts += [*paragraph(said, room, label="check", indent=_LABEL), TypesetPart(0.6)]
    for said in step.cautions:
        parts += care(said, room)
    again = paragraph(f"{number}  {step.title}, continued", room, TEXT, bold=True)
    return Block((joined([*title, *parts[:2]]), *parts[2:]), (*again, TypesetPart(1.0)))


def _numbers(heads: list[str], rows: list[list[str]], room: float) -> list[TypesetPart]:
    """A table of a step: in two banks where it is long and narrow, from the edge where it is wide."""
    wide = sum(columns_of(heads, rows, TEXT, SMALL)) + 2.0 * (len(heads) - 1)
    bank = (room - 4.0) / 2
    if len(rows) >= _LONG and wide <= bank and not any(WRITE in row for row in rows):
        return [banked(table(heads, rows, bank, TEXT, beside=2.0, ruled=True), bank + 4.0)]
    left = 0.0 if wide > room - _LABEL else _LABEL
    return inset(table(heads, rows, room - left, TEXT, beside=2.0, ruled=True), left)


def _step_title(step: Step, number: int, done: bool, room: float) -> Iterator[TypesetPart]:
    box: list[Mark] = [rectangle((0, 0.6, _BOX, 0.6 + _BOX), "heavy")]
    if done:
        box += [line(0.7, 1.3, _BOX - 0.7, _BOX - 0.1, "heavy"), line(0.7, _BOX - 0.1, _BOX - 0.7, 1.3, "heavy")]
    for k, said in enumerate(wrapped(step.title, room - _LABEL, _STEP, True)):
        marks: list[Mark] = [TextMark(_LABEL, _STEP * POINT, said, _STEP, True)]
        if not k:
            marks = [*box, TextMark(_LABEL - 1.6, _STEP * POINT, str(number), _STEP, True, "right"), *marks]
        yield TypesetPart(leading(_STEP), tuple(marks))


def care(said: str, room: float) -> list[TypesetPart]:
    """A caution: a triangle and the word, a bar at its side, on grey."""
    size, left = TEXT, 5.5
    word = width("CARE", size, True) + 2.0
    first, *_ = wrapped(said, room - left - word - 1.5, size)
    rest = said[len(first) :].strip()
    lines = [first, *(wrapped(rest, room - left - 1.5, size) if rest else [])]
    parts = []
    for k, text in enumerate(lines):
        high = leading(size) + (0.8 if k == 0 else 0.0) + (0.8 if k == len(lines) - 1 else 0.0)
        base = size * POINT + (0.8 if k == 0 else 0.0)
        marks: list[Mark] = [
            loop(((0, 0), (room, 0), (room, high), (0, high)), "none", 0.92),
            line(0.3, 0, 0.3, high, "heavy"),
        ]
        if k == 0:
            marks += [
                loop(((1.6, base), (4.6, base), (3.1, base - 2.7)), "thin"),
                TextMark(3.1, base - 0.35, "!", 6, True, "centre"),
                TextMark(left, base, "CARE", size, True),
            ]
        marks.append(TextMark(left + (word if k == 0 else 0.0), base, text, size))
        parts.append(TypesetPart(high, tuple(marks)))
    return [*parts, TypesetPart(0.9)]
