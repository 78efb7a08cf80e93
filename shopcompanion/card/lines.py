"""Steps and tables as lines for a page: boxes to tick, set-ups, checks, cautions, and sizes as a rule has them."""

from collections.abc import Sequence

from ..calculator import Column, Table
from ..errors import printable
from ..fields import Length, Value
from ..lengths import Rule, on_rule
from ..record import NamedTuple
from .origin import Origin
from .pages import WIDE, PageBlock, folded, gridded
from .step import Step

BODY = " " * 8
LEFT_OUT = "LEFT OUT, because the profile has a fault there. Mend it before you work by this:"
WRITE = "_________"  # room for what was measured
_LEAST = 8  # characters of it
# Heads of columns where the label is too long for one line.
_HEADS = {
    "half": "each side\nof centre",
    "off_each_face": "off each\nface",
    "half_depth": "each side\nof centre",
    "off_depth": "off each\nface",
    "mark_8": "line\nfor 8",
    "mark_8_depth": "line\nfor 8",
    "mark_16": "line\nfor 16",
    "cut_8": "off the\ncorner",
    "cut_16": "off the\ncorner",
    "cut": "off the\ncorner",
    "facet_8": "facet\nof 8",
    "facet_16": "facet\nof 16",
    "hole_depth": "bore each\npart",
    "circle": "on a\ncircle of",
    "set_back": "line back\nfrom the end",
    "past_round": "from\nthe round",
    "off_each_corner": "off each\ncorner",
    "girth": "tape\nreads",
    "off_plain": "off the\nplain edge",
    "plug_start": "whole\nfrom",
    "plug_end": "whole\nto",
    "heel_tail": "heelward\ntail",
    "head_tail": "headward\ntail",
    "hole_heel": "heelward\nhole",
    "hole_head": "headward\nhole",
    "edge_line": "in from\neach edge",
    "edge_off": "off the\ncorner",
    "pilot": "pilot\nat most",
    "way": "way",
    "needed_reach": "drill\nreach",
}
# For letters that plain ASCII does not have; others of the user's own are left to whoever writes the card out.
_ASCII = str.maketrans({"°": " deg", "─": "-", "╵": "'", "·": "-", "−": "-", "—": "-"})


class Paper(NamedTuple):
    """What the lines are written for: the rule in hand, whether in plain ASCII, and how wide; a screen as well."""

    rule: Rule
    ascii_only: bool = False
    wide: int = WIDE

    def plain(self, text: str) -> str:
        return text.translate(_ASCII) if self.ascii_only else text

    @property
    def line(self) -> str:
        """A line across the page."""
        return self.plain("─" * self.wide)

    def folded(self, text: str, first: str = "", wide: int | None = None) -> tuple[str, ...]:
        return folded(self.plain(text), first, wide or self.wide)

    def foot(self, source: str, version: str, date: str | None, paper: str = "card") -> tuple[str, ...]:
        """What stands at the end: the profile's name, the companion's version, the rule and the day, and who knows
        better.
        """
        made, day, first = Origin(self.rule, source, version, date, paper).sentences
        return (self.line, *self.folded(made), day, *self.folded(first))

    def step(self, step: Step, number: int, done: bool) -> PageBlock:
        """A step: its box, what to do, set-up, its numbers, checks, cautions, and which calculator gave the numbers.

        Tables that are part of the station table are not repeated.
        """
        title = f"{number:>2}  {step.title}"
        head = ("[x] " if done else "[ ] ") + title
        source = f"({whose(step, self.rule)})" if step.asked else ""
        beside = len(head) + 2 + len(source) <= self.wide
        parts: list[tuple[str, ...]] = [
            (self.plain((head.ljust(self.wide - len(source)) + source).rstrip() if beside else head),)
        ]
        if not beside:
            parts.append(self.folded(source, BODY))
        parts += [self.folded(f"LEFT OUT for a fault in the profile: {line}", "      ! ") for line in step.left_out]
        parts += [self.folded(line, BODY) for line in step.says]
        parts += [self.folded(line, "    set ") for line in step.setup]
        again: tuple[str, ...] = ()
        start = stop = 0
        own = [table for table in step.tables if table.name != "stations"]
        for table in own:
            heads, rows = self.grid(table, BODY)
            again = (*([f"{BODY}{table.name}:"] if len(own) > 1 else []), *heads)
            start = len(parts) + 1
            parts += [again, *rows]
            stop = len(parts)
            parts += [self.folded(line, BODY) for line in self.roundings(table)]
        parts += [self.folded(line, "  check ") for line in step.checks]
        parts += [self.folded(line, "   CARE ") for line in step.cautions]
        return PageBlock(tuple(parts), f"    {title}", again, start, stop)

    def left_out(self, lines: Sequence[str]) -> PageBlock:
        """What is not on the paper because the profile has a fault there; for the top of it."""
        return PageBlock((self.folded(LEFT_OUT), *(self.folded(line, "  ! ") for line in lines)))

    def table(self, table: Table, title: str) -> PageBlock:
        """A table that stands by itself."""
        heads, rows = self.grid(table)
        again = (*heads, self.line)
        parts = ((title, "", *again), *rows)
        said = tuple(map(self.folded, self.roundings(table)))
        return PageBlock((*parts, *said), title, again, 1, len(parts))

    def grid(self, table: Table, indent: str = "") -> tuple[list[str], list[tuple[str, ...]]]:
        """The lines of the heads, and those of every row; what is to be measured has room to write at its end.

        Notes for which there is no room are left out: the drawing's legend has them all.
        """
        heads, rows = self.cells(table)
        made = gridded(heads, rows, indent, self.wide)
        if table.name == "measured" and _sticks_out(made[1], self.wide):  # less room to write
            rows = [[*row[:-2], WRITE[:_LEAST], WRITE[:_LEAST]] for row in rows]
            made = gridded([*heads[:-1], "other\nway"], rows, indent, self.wide)
        if table.columns[-1].name == "note" and _sticks_out(made[1], self.wide):
            return gridded(heads[:-1], [row[:-1] for row in rows], indent, self.wide)
        return made

    def cells(self, table: Table) -> tuple[list[str], list[list[str]]]:
        """The heads (`\\n` breaks them) and the cells of every row as they are printed."""
        heads = list(map(_head, table.columns))
        rows = [list(map(self.cell, table.columns, row)) for row in table.rows]
        if table.name == "measured":
            heads += ["measured", "other way"]
            rows = [[*row, WRITE, WRITE] for row in rows]
        return heads, rows

    def roundings(self, table: Table) -> tuple[str, ...]:
        """Which columns do not show the nearest mark, where that makes a difference."""
        said = []
        for way in ("down", "up"):
            names = [
                _head(column).replace("\n", " ")
                for place, column in enumerate(table.columns)
                if column.kind.rounding == way and any(self._is_rounded(column, row[place]) for row in table.rows)
            ]
            said += [f"Rounded {way} to a mark: {', '.join(names)}."] if names else []
        return (" ".join(said),) if said else ()

    def _is_rounded(self, column: Column, value: Value) -> bool:
        if not isinstance(column.kind, Length) or not isinstance(value, float):
            return False
        return on_rule(value, self.rule, column.kind.rounding).lean.startswith("rounded")

    def cell(self, column: Column, value: Value) -> str:
        """A value in a table: a length as it stands on the rule without its unit, `f` for full and `b` for bare."""
        if value is None:
            return ""
        if not isinstance(column.kind, Length) or not isinstance(value, float):
            return self.plain(printable(column.kind.show(value, self.rule)))
        text = on_rule(value, self.rule, column.kind.rounding)
        lean = {"full": " f", "bare": " b"}.get(text.lean, "")
        if column.name == "at":
            return f"{text._replace(lean='')}{lean}" if value else "0"
        sign = "-" if text.negative else ""
        feet = f"{text.feet} ft " if text.feet else ""
        return f"{sign}{feet}{text.number}{lean}"


def _sticks_out(rows: Sequence[Sequence[str]], wide: int) -> bool:
    return any(len(line) > wide for row in rows for line in row)


def _head(column: Column) -> str:
    return _HEADS.get(column.name, column.kind.label[:1].lower() + column.kind.label[1:])


def whose(step: Step, rule: Rule) -> str:
    """Which calculators gave the step's numbers, and where."""
    said, along = [], []
    for name in dict.fromkeys(asked.calculator for asked in step.asked):
        those = [asked for asked in step.asked if asked.calculator == name]
        if len(those) > 1 and those[0].at is not None:
            along.append(name)
        else:
            said.append(those[0].words(rule))
    return ", ".join([*said, *([f"{' and '.join(along)} at stations"] if along else [])])
