"""The list of all that is to be bought, set for print: a box before every line, by where it is bought."""

from ..card.lines import Paper
from ..card.origin import Origin
from ..card.supplies import BLANK, GROUPS, MADE, Supplies, SupplyLine, summary, where_used
from ..card.yard import figures
from ..errors import printable
from ..profile.records import Boat
from .bench_card import titled, told_left_out
from .faces import POINT, width
from .marks import Mark, Page, TextMark, line, rectangle
from .sheets import PaperSheet
from .typeset import SMALL, TEXT, Block, Flow, TypesetPart, joined, leading, paragraph, wrapped

_SIZE = 10.0  # points of a line
_BOX, _PRICE = 6.0, 22.0  # mm of their columns
_AMOUNT = 26.0  # mm at most


def supplies_page(boat: Boat, made: Supplies, sheet: PaperSheet, origin: Origin) -> list[Page]:
    """The pages of the list."""
    flow = Flow(sheet, f"{printable(boat.name) or 'a boat'} · to buy", origin.words)
    flow.bookmark(0, "To buy")
    if made.left_out:
        flow.full(told_left_out([lost.words for lost in made.left_out], flow.room))
    paper = Paper(origin.rule)
    for group in GROUPS:
        lines = [line for line in made.lines if line.group == group]
        if lines:
            rows = [_row(line, paper, flow.room) for line in lines]
            again = paragraph(f"{group}, continued", flow.room, _SIZE, bold=True)
            flow.full(Block((joined([*titled(group, flow.room), rows[0]]), *rows[1:]), tuple(again)))
    parts = paragraph(summary(made), flow.room, 11, bold=True)
    parts += [
        part for note in made.notes for part in paragraph(printable(note, 400), flow.room, label="Note", indent=10)
    ]
    flow.full(Block(tuple(parts)))
    return flow.finished()


def _row(bought: SupplyLine, paper: Paper, room: float) -> TypesetPart:
    """A line: its box, how much, what, and its price or a place for it; below, what it is for and why so much."""
    amount = wrapped(bought.amount or BLANK, _AMOUNT, _SIZE)
    left = _BOX + max(12.0, max(width(said, _SIZE) for said in amount) + 3.0)
    what = wrapped(printable(bought.what, 200), room - left - _PRICE, _SIZE)
    used = wrapped(where_used(bought), room - left - _PRICE, SMALL)
    base, step = _SIZE * POINT, leading(_SIZE)
    marks: list[Mark] = [rectangle((0.3, base - 3.2, 3.9, base + 0.4), "heavy")]
    marks += [TextMark(_BOX, base + k * step, said, _SIZE) for k, said in enumerate(amount)]
    marks += [TextMark(left, base + k * step, said, _SIZE) for k, said in enumerate(what)]
    if bought.price is not None:
        marks.append(TextMark(room, base, figures(bought.price), _SIZE, align="right"))
    elif bought.group != MADE:
        marks.append(line(room - _PRICE + 4.0, base + 0.6, room, base + 0.6))
    under = step * len(what)
    marks += [TextMark(left, under + TEXT * POINT + k * leading(SMALL), said, SMALL) for k, said in enumerate(used)]
    high = max(under + leading(SMALL) * len(used), step * len(amount)) + 1.6
    marks.append(line(0, high - 0.3, room, high - 0.3, "light"))
    return TypesetPart(high, tuple(marks))
