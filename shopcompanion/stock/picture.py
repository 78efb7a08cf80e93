"""A timber as it is to be sawn, as lines of characters: strips one under another, the length to scale."""

from string import ascii_lowercase

from ..record import NamedTuple
from .pieces import Plan, Problem, Sawn, StockTimber


class Signs(NamedTuple):
    """What stands for wood of a blank, a knot, an offcut, waste, and the saw across."""

    blank: str
    knot: str
    offcut: str
    waste: str
    saw: str


DRAWN = Signs("█", "╳", "─", "░", "│")
PLAIN = Signs("#", "x", "-", ".", "|")


def letters(plan: Plan) -> list[list[str]]:
    """A letter for every cut of the plan, by timber, in the order of its strips: a to z, then aa and so on."""
    letters, number = [], 0
    for sawn in plan.sawn:
        mine = []
        for _ in (cut for strip in sawn.strips for cut in strip.cuts):
            mine.append(_letter(number))
            number += 1
        letters.append(mine)
    return letters


def _letter(number: int) -> str:
    before, here = divmod(number, 26)
    return (_letter(before - 1) if before else "") + ascii_lowercase[here]


def picture(problem: Problem, plan: Plan, place: int, columns: int, ascii_only: bool = False) -> list[str]:
    """The timber at that place of the plan: a line for each strip, and one for what is not ripped if it is of use."""
    sawn, signs = plan.sawn[place], PLAIN if ascii_only else DRAWN
    timber = problem.timbers[sawn.timber]
    named = iter(letters(plan)[place])
    lines = []
    for strip in sawn.strips:
        row = _rest(plan, timber, place, strip.across, columns, signs=signs)
        for cut in strip.cuts:
            first, last = _span(cut.at, cut.at + cut.blank.length, timber.length, columns)
            room, word = last - first, f" {next(named)} "
            if room <= len(word):
                word = word.strip() if room >= len(word.strip()) else ""  # rather none than half of one
            row[first:last] = word.center(room, signs.blank)
            for beside in (first - 1, last):
                if 0 <= beside < columns and row[beside] in (signs.blank, signs.offcut, signs.waste):
                    row[beside] = signs.saw
        lines.append("".join(row))
    edge = _edge(sawn, problem.kerf)
    unripped = "".join(_rest(plan, timber, place, edge, columns, signs=signs))
    if timber.width - edge > problem.kerf and signs.offcut in unripped:
        lines.append(unripped)
    return lines


def _edge(sawn: Sawn, kerf: float) -> float:
    """How far across it is ripped, with the saw cut behind the last strip."""
    last = max(sawn.strips, key=lambda strip: strip.across, default=None)
    return 0.0 if last is None else last.across + last.width + kerf


def _span(start: float, end: float, length: float, columns: int) -> tuple[int, int]:
    """The columns from `start` to `end`, one at least."""
    first = min(columns - 1, round(start / length * columns))
    return first, max(first + 1, min(columns, round(end / length * columns)))


def _rest(plan: Plan, timber: StockTimber, place: int, across: float, columns: int, *, signs: Signs) -> list[str]:
    """A strip without its blanks: offcuts, waste and knots."""
    row = [signs.waste] * columns
    for offcut in plan.offcuts:
        if offcut.sawn == place and abs(offcut.across - across) < 1.0:
            first, last = _span(offcut.at, offcut.at + offcut.length, timber.length, columns)
            row[first:last] = [signs.offcut] * (last - first)
    for start, end in timber.knots:
        first, last = _span(start, end, timber.length, columns)
        row[first:last] = [signs.knot] * (last - first)
    return row
