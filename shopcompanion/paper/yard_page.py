"""The cutting plan set for print: what to buy, every timber drawn to scale with its cuts, what is left over."""

from collections.abc import Iterator

from ..card.lines import Paper
from ..card.origin import Origin
from ..card.yard import (
    BLANKS,
    CAUTIONS,
    LEFT_OVER,
    NO_PLACE,
    TO_BUY,
    blanks_of,
    in_order,
    left_over,
    proof,
    sawing,
    shopping,
    without_place,
)  # fmt: skip
from ..errors import printable
from ..profile.records import Boat
from ..stock.blanks import Task
from ..stock.picture import letters
from ..stock.pieces import Plan
from .bench_card import care, framed, titled, told_left_out
from .faces import POINT, width
from .marks import Mark, Page, Point, TextMark, hatched, line, moved, rectangle
from .sheets import PaperSheet
from .typeset import SMALL, TEXT, Block, Flow, TypesetPart, inset, joined, paragraph, table

_YARD = 11.0  # points of what is read at the yard
_WIDER = 3.0  # the width of a timber against its length
_KEY = (
    "All to one scale, widths drawn three times. Grey with its letter, a blank; white within dashes, an offcut to "
    "keep; hatched, waste; crossed, a knot to stay out of."
)
_NARROWEST = 3.5  # mm of a strip that has words in it


def yard_page(boat: Boat, job: Task, plan: Plan, sheet: PaperSheet, origin: Origin) -> list[Page]:
    """The pages for the yard and the saw."""
    paper = Paper(origin.rule)
    flow = Flow(sheet, f"{printable(boat.name) or 'a boat'} · timber", origin._replace(paper="page").words)
    flow.bookmark(0, "Timber")
    room = flow.room
    if job.left_out:
        flow.full(told_left_out([lost.words for lost in job.left_out], room))
    flow.bookmark(1, TO_BUY)
    flow.full(_shopping(job, plan, paper, room))
    if plan.missing:
        lost = [TypesetPart(1.5), *inset(paragraph(NO_PLACE, room - 6, 11, bold=True), 3)]
        for told in without_place(job, plan, origin.rule):
            lost += inset(paragraph(told, room - 6, 10, label="!", indent=4), 3)
        flow.full(framed(lost, room))
    if plan.sawn:
        flow.bookmark(1, "How each timber is sawn")
        flow.full(Block((*titled("How each timber is sawn", room), *paragraph(_KEY, room, SMALL)), whole=True), 1.5)
    longest = max((job.problem.timbers[sawn.timber].length for sawn in plan.sawn), default=1.0)
    for place in range(len(plan.sawn)):
        flow.full(_timber(job, plan, place, paper=paper, room=room, scale=room / longest))
    if plan.offcuts:
        over = left_over(job, plan, paper)
        parts = titled(LEFT_OVER, room)
        parts += table(over.heads, over.rows, room, TEXT, ruled=True) if over.rows else []
        flow.full(Block((*parts, *paragraph(over.said, room))))
    if plan.sawn:
        listed = blanks_of(plan, paper)
        rows = table(listed.heads, listed.rows, room, TEXT, ruled=True)
        flow.full(Block((joined([*titled(BLANKS, room), rows[0]]), *rows[1:])))
    parts = [
        part
        for note in job.notes
        for part in paragraph(printable(note.on(origin.rule), 400), room, label="Note", indent=10)
    ]
    parts += [*paragraph(in_order(job, origin.rule), room), TypesetPart(1.5)]
    for caution in CAUTIONS:
        parts += care(caution, room)
    flow.full(Block(tuple(parts)))
    return flow.finished()


def _shopping(job: Task, plan: Plan, paper: Paper, room: float) -> Block:
    """What to buy, a box before each, and how good the plan is."""
    to_buy = shopping(job, plan, paper)
    parts = titled(TO_BUY, room, 16.0) if to_buy.rows else []
    if to_buy.rows:
        boxed = [
            part._replace(
                marks=(*moved(part.marks, 6.0, 0.0), rectangle((0.6, part.high - 4.6, 4.2, part.high - 1.0), "heavy"))
            )
            for part in table(to_buy.heads, to_buy.rows, room - 6.0, _YARD, head_size=SMALL + 1, ruled=True)
        ]
        parts += boxed
    parts += [TypesetPart(1.0), *paragraph(to_buy.said, room, _YARD, bold=True)]
    return Block((*parts, *paragraph(proof(job, plan), room, TEXT)))


def _timber(job: Task, plan: Plan, place: int, *, paper: Paper, room: float, scale: float) -> Block:
    """A timber: its name, how it is ripped, its drawing, and its cuts."""
    title, how, rows = sawing(job, plan, place, paper)
    parts = [*paragraph(title, room, 10.5, bold=True), *paragraph(how.removeprefix(", "), room), TypesetPart(1.5)]
    marks = tuple(_drawn(job, plan, place, scale))
    high = job.problem.timbers[plan.sawn[place].timber].width * scale * _WIDER
    parts.append(TypesetPart(high + 2.5, marks))
    cuts = table([""] * 5, rows, room, TEXT, beside=4.0)
    return Block((joined(parts), *cuts), whole=True)


def _drawn(job: Task, plan: Plan, place: int, scale: float) -> Iterator[Mark]:
    """The timber from its face, lengths to scale and widths three times that: strips across it, blanks in grey with
    their letters, offcuts dashed, waste hatched, knots crossed.
    """
    sawn, timber = plan.sawn[place], job.problem.timbers[plan.sawn[place].timber]
    up = scale * _WIDER

    def box(at: float, across: float, long: float, wide: float) -> tuple[float, float, float, float]:
        return at * scale, across * up, (at + long) * scale, (across + wide) * up

    whole = box(0.0, 0.0, timber.length, timber.width)
    kept = [box(cut.at, strip.across, cut.blank.length, strip.width) for strip in sawn.strips for cut in strip.cuts]
    over = [
        box(offcut.at, offcut.across, offcut.length, offcut.width) for offcut in plan.offcuts if offcut.sawn == place
    ]
    yield from hatched(_corners(whole), apart=1.2)
    for offcut in over:
        yield rectangle(offcut, "scribe", 1.0)
    named = iter(letters(plan)[place])
    for inside, cut in zip(kept, (cut for strip in sawn.strips for cut in strip.cuts), strict=True):
        yield rectangle(inside, "cut", 0.88)
        letter = next(named)
        size = min(TEXT, (inside[3] - inside[1]) / POINT * 0.7)
        if size * POINT >= _NARROWEST * 0.5:
            said = f"{letter}  {printable(cut.blank.name)}"
            fits = width(said, size, True) < inside[2] - inside[0] - 2.0
            base = (inside[1] + inside[3]) / 2 + size * POINT * 0.33
            yield TextMark((inside[0] + inside[2]) / 2, base, said if fits else letter, size, True, "centre")
    for start, end in timber.knots:
        left, _, right, low = box(start, 0.0, end - start, timber.width)
        yield rectangle((left, 0.0, right, low), "thin", 1.0)
        yield line(left, 0.0, right, low)
        yield line(left, low, right, 0.0)
    yield rectangle(whole, "heavy")


def _corners(box: tuple[float, float, float, float]) -> tuple[Point, ...]:
    left, top, right, low = box
    return ((left, top), (right, top), (right, low), (left, low))
