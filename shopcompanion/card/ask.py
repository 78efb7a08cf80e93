"""Questions put to the calculators for one spar. Every number of the order of work is an answer to one of them."""

from dataclasses import dataclass, field
from functools import partial
from typing import Any

from ..calculator import Field, Result
from ..errors import CompanionError, InputFault, InputFaults, printable
from ..fields import Value
from ..lengths import FINEST, Rule, in_millimetres, show
from ..profile.asking import answered
from ..profile.records import Boat, Preset, Spar
from ..record import NamedTuple


class Asked(NamedTuple):
    """A question as the command line would put it: the calculator, the station (mm from the heel), what is typed."""

    calculator: str
    at: float | None = None
    typed: tuple[tuple[str, str], ...] = ()
    preset: str | None = None
    unused: tuple[str, ...] = ()  # other presets of the tool for the spar

    def words(self, rule: Rule) -> str:
        """The question in a few words, as `facets at 5 ft`, with the preset that counts, and those that do not."""
        where = "" if self.at is None else f" at {show(self.at, rule)}" if self.at else " at the heel"
        others = " or ".join(f"'{printable(name)}'" for name in self.unused[:2])
        more = f" or {len(self.unused) - 2} more" if len(self.unused) > 2 else ""
        preset = f", set up as '{printable(self.preset)}'" if self.preset else ""
        return f"{self.calculator}{where}{preset}" + (f", not as {others}{more}" if preset and others else "")

    def options(self) -> tuple[str, ...]:
        """What to put behind the calculator's name on the command line, after boat, spar and rule."""
        options = [] if self.at is None else ["--at", spelled(self.at)]
        if self.preset is not None:
            options += ["--preset", self.preset]
        for name, text in self.typed:
            options += ["--" + name.replace("_", "-"), text]
        return tuple(options)


@dataclass(frozen=True, slots=True)
class Answered:
    """A question with its result."""

    asked: Asked
    result: Result

    def __getitem__(self, name: str) -> Any:
        """The value of an answer or an input."""
        owner = self.result.answers if hasattr(self.result.answers, name) else self.result.inputs
        return getattr(owner, name)

    def say(self, name: str) -> str:
        """An answer or an input in words, as the rule has it."""
        return self._declared(name).kind.show(self[name], self.result.rule)

    def brief(self, name: str) -> str:
        """The same by the nearest mark, full or bare, where `say` would bring it up or down to one and say so."""
        rounds = self._declared(name).kind.rounding != "nearest" and isinstance(self[name], float)
        return show(self[name], self.result.rule) if rounds else self.say(name)

    def _declared(self, name: str) -> Field:
        declared = (*self.result.calculator.answer_fields, *self.result.calculator.input_fields)
        return next(field for field in declared if field.name == name)

    def fine(self, name: str) -> str:
        """A small length in words; one that the rule cannot show is told by what it stays under."""
        value, least = self[name], float(self.result.rule.step) / 2
        if not 0 < abs(value) < least:
            return self.say(name)
        return f"{'minus ' if value < 0 else ''}{less_than(self.result.rule)}"

    def limit(self, name: str) -> str:
        """An input that is a limit, exact to the finest rule of the unit in force."""
        return show(self[name], FINEST[self.result.rule.unit])

    def rows(self, table: str) -> tuple[dict[str, Value], ...]:
        """The rows of a table by the names of its columns; none when there is no such table."""
        for own in self.result.tables:
            if own.name == table:
                names = [column.name for column in own.columns]
                return tuple(dict(zip(names, row, strict=True)) for row in own.rows)
        return ()


@dataclass(frozen=True, slots=True)
class SparJob:
    """A spar of a boat on the bench, with the rule in hand."""

    boat: Boat
    spar: Spar
    rule: Rule
    known: dict[Asked, Answered] = field(default_factory=dict, compare=False, repr=False)
    unanswered: list[tuple[Asked, CompanionError]] = field(default_factory=list, compare=False, repr=False)
    aside: dict[Asked, tuple[Preset, CompanionError]] = field(default_factory=dict, compare=False, repr=False)

    def ask(self, calculator: str, at: float | None = None, **typed: str) -> Answered:
        """The answer for the spar at that station, with `typed` over what follows the boat.

        A preset for the spar is taken up, where it still answers. InputFault or InputFaults when there is no answer;
        `unanswered` then has the question. `aside` has those for which a preset for the spar has no answer, and why.
        """
        at = None if at is None else round(at, 6)
        question = Asked(calculator, at, tuple(typed.items()))
        if question not in self.known:
            try:
                solved = answered(self.boat, self.spar, calculator, at=at, texts=typed, rule=self.rule)
            except CompanionError as fault:
                self.unanswered.append((question, fault))
                raise
            used = solved.preset if solved.fault is None else None
            unused = tuple(preset.name for preset in solved.others)
            told = question._replace(preset=used.name if used else None, unused=unused)
            self.known[question] = Answered(told, solved.result)
            if solved.preset and solved.fault:
                self.aside[question] = (solved.preset, solved.fault)
        return self.known[question]

    def length(self, mm: float) -> str:
        """A length of the profile itself, by the rule."""
        return show(mm, self.rule)

    def unseen(self, mm: float) -> bool:
        """Whether it is too small for the rule to show."""
        return abs(mm) < float(self.rule.step) / 2


def less_than(rule: Rule) -> str:
    """What is said of a length that is nearer to nothing than to the first mark."""
    return f"less than {show(float(rule.step), rule)}"


def reason_of(error: CompanionError, rule: Rule) -> str:
    """All that is wrong, in one line, lengths by the rule; an input by its name in words, never as an option."""
    faults = error.faults if isinstance(error, InputFaults) else [error]
    said = []
    for fault in faults:
        if isinstance(fault, InputFault):
            reason = fault.with_lengths(partial(show, rule=rule)).reason
            said.append(f"{fault.field.replace('_', ' ')}: {reason}" if fault.field else reason)
        else:
            said.append(str(fault))
    return "; ".join(said)


def spelled(mm: float) -> str:
    """A length as text that reads back as the same one, in millimetres.

    >>> spelled(609.6), spelled(3429.0)
    ('609.6 mm', '3429 mm')
    """
    return in_millimetres(round(mm, 6))
