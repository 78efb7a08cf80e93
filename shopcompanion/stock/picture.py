"""A timber as it is to be sawn, as lines of characters: strips one under another, the length to scale."""

from string import ascii_lowercase
from typing import NamedTuple

from .pieces import Plan, Problem, Sawn, Timber


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
    found, number = [], 0
    for sawn in plan.sawn:
        mine = []
        for _ in (cut for strip in sawn.strips for cut in strip.cuts):
            mine.append(_letter(number))
            number += 1
        found.append(mine)
    return found


def _letter(number: int) -> str:
    before, here = divmod(number, 26)
    return (_letter(before - 1) if before else "") + ascii_lowercase[here]


def picture(problem: Problem, plan: Plan, place: int, columns: int, ascii_only: bool = False) -> list[str]:
    """The timber at that place of the plan: a line for each strip and one for what is not ripped, if there is any."""
    return _Picture(problem, plan, place, columns, PLAIN if ascii_only else DRAWN).lines()


class _Picture(NamedTuple):
    problem: Problem
    plan: Plan
    place: int
    columns: int
    signs: Signs

    @property
    def timber(self) -> Timber:
        return self.problem.timbers[self.plan.sawn[self.place].timber]

    def lines(self) -> list[str]:
        sawn, signs = self.plan.sawn[self.place], self.signs
        named = iter(letters(self.plan)[self.place])
        lines = []
        for strip in sawn.strips:
            row = self.rest(strip.across)
            for cut in strip.cuts:
                first, last = self.span(cut.at, cut.at + cut.blank.length)
                word = f" {next(named)} "
                middle = word if last - first > len(word) else word.strip()
                row[first:last] = list(middle.center(last - first, signs.blank))[: last - first]
                for beside in (first - 1, last):
                    if 0 <= beside < self.columns and row[beside] != signs.knot:
                        row[beside] = signs.saw
            lines.append("".join(row))
        edge = _edge(sawn, self.problem.kerf)
        if self.timber.width - edge > self.problem.kerf:
            lines.append("".join(self.rest(edge)))
        return lines

    def span(self, start: float, end: float) -> tuple[int, int]:
        """The columns from `start` to `end`, one at least."""
        length, columns = self.timber.length, self.columns
        first = min(columns - 1, round(start / length * columns))
        return first, max(first + 1, min(columns, round(end / length * columns)))

    def rest(self, across: float) -> list[str]:
        """A strip without its blanks: offcuts, waste and knots."""
        signs = self.signs
        row = [signs.waste] * self.columns
        for one in self.plan.offcuts:
            if one.sawn == self.place and abs(one.across - across) < 1.0:
                first, last = self.span(one.at, one.at + one.length)
                row[first:last] = [signs.offcut] * (last - first)
        for start, end in self.timber.knots:
            first, last = self.span(start, end)
            row[first:last] = [signs.knot] * (last - first)
        return row


def _edge(sawn: Sawn, kerf: float) -> float:
    """How far across it is ripped, with the saw cut behind the last strip."""
    last = max(sawn.strips, key=lambda strip: strip.across, default=None)
    return 0.0 if last is None else last.across + last.width + kerf
