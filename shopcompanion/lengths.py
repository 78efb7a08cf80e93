"""Lengths as a builder writes them: text to an exact length, and a length to the marks on a rule.

What most people write, as `3-1/2`, `12 ft 6-1/2 in` or `89 mm`, is read here; the whole grammar is `length_grammar`.
"""

import re
from collections.abc import Iterator
from fractions import Fraction
from typing import Literal

from .errors import InputFault, printable
from .length_units import IN_MM, INCH, LONGEST, Unit
from .record import NamedTuple

__all__ = [
    "DEFAULT_RULES", "FINEST", "INCH", "LONGEST", "RULES", "Phrase", "Rounding", "Rule", "RuleReading", "Unit",
    "decimal", "in_millimetres", "in_mm", "literal", "on_rule", "read", "rule", "show", "spelled",
]  # fmt: skip

Rounding = Literal["nearest", "up", "down"]

# Feet, and inches or millimetres: whole, a fraction, or both. Each is a part of the grammar with one meaning.
_USUAL = re.compile(
    "(?:([0-9]{1,3}) ft ?)?(?:([0-9]{1,4})(?![0-9/]))?(?:(?:(?<=[0-9])-)?([0-9]{1,3})/([1-9][0-9]{0,2}))?( in| mm|)"
)


class Rule(NamedTuple):
    """The rule on the bench: its unit, its smallest division (in that unit), and where feet begin (inches)."""

    unit: Unit
    division: Fraction
    feet_from: int = 24

    @property
    def step(self) -> Fraction:
        """The division in millimetres."""
        return self.division * IN_MM[self.unit]

    def __str__(self) -> str:
        division = self.division if self.unit == "in" else float(self.division)
        return f"{division:g} {self.unit}" if self.unit == "mm" else f"{division} {self.unit}"


RULES = tuple([Rule("in", Fraction(1, n)) for n in (8, 16, 32, 64)] + [Rule("mm", Fraction(n, 10)) for n in (10, 5, 1)])
DEFAULT_RULES: dict[Unit, Rule] = {"in": RULES[3], "mm": RULES[5]}
FINEST: dict[Unit, Rule] = {"in": RULES[3], "mm": RULES[6]}


def rule(text: str) -> Rule:
    """The rule named by its division, as `1/32 in` or `0.5 mm`; InputFault when no such rule is made."""
    for known in RULES:
        if str(known) == " ".join(text.split()):
            return known
    raise InputFault(f"no rule is divided in '{printable(text)}'; use {', '.join(map(str, RULES))}")


def read(text: str, unit: Unit = "in") -> Fraction:
    """The exact length in millimetres that `text` says; a bare number takes `unit`. LengthFault when it says none.

    >>> read("12' 6-1/2\\"") == Fraction(301, 2) * INCH
    True
    >>> read("8,9 cm")
    Fraction(89, 1)
    """
    usual = _USUAL.fullmatch(text)
    length = usual and _usual(usual, unit)
    if length is None or length > LONGEST:
        from .length_grammar import read as read_by_grammar

        return read_by_grammar(text, unit)
    return length


def _usual(parts: re.Match[str], unit: Unit) -> Fraction | None:
    """The length of a text in the usual spelling; None where the grammar has more to say of it."""
    feet, whole, above, below, named = parts.groups()
    over, under = int(above or 0), int(below or 1)
    amount = int(whole or 0) * under + over
    if whole is None and above is None and (feet is None or named):
        return None  # nothing stands before the unit
    if whole is not None and over >= under:
        return None  # the fraction of a mixed number is under one
    if feet is None:
        inches = (named.strip() or unit) == "in"
        return Fraction(amount * 127, under * 5) if inches else Fraction(amount, under)
    if named == " mm" or amount >= 12 * under or len(whole or above or "") > 2:
        return None  # after feet come inches, under a foot
    return Fraction((int(feet) * 12 * under + amount) * 127, under * 5)


def in_millimetres(mm: float | Fraction) -> str:
    """`mm` as text that reads back as the same length, to a millionth.

    >>> in_millimetres(609.6), in_millimetres(9.525)
    ('609.6 mm', '9.5250 mm')
    """
    from .length_grammar import COULD_BE_THOUSANDS

    figures = f"{float(mm):.6f}".rstrip("0").rstrip(".")
    return f"{figures}0 mm" if COULD_BE_THOUSANDS.fullmatch(figures) else f"{figures} mm"


def spelled(text: str, unit: Unit) -> str:
    """`text` in the user's own spelling, with `unit` put to it where a bare number leaned on the unit in force."""
    length = read(text, unit)
    for spelling in _spellings(text.strip(), length, unit):
        try:
            if read(spelling, "in") == read(spelling, "mm") == length:
                return spelling
        except InputFault:  # too long in the other unit, or a sum that takes no unit behind it
            continue
    return in_millimetres(length)  # more digits than are read


def _spellings(own: str, length: Fraction, unit: Unit) -> Iterator[str]:
    yield own
    yield f"{own} {unit}"
    yield show(length, RULES[3]) if unit == "in" else in_millimetres(length)
    yield f"{length / IN_MM[unit]} {unit}"


class RuleReading(NamedTuple):
    """A length as it stands on a rule: sign, feet, whole units, fraction, and how the true length lies to that mark."""

    negative: bool
    feet: int
    whole: int
    over: Fraction
    unit: Unit
    lean: str  # "", "full" (a little over the mark), "bare" (a little under), "rounded up" or "rounded down"

    @property
    def number(self) -> str:
        """The figures without feet and unit, as `3-1/2`, `7/8`, `0` or `36.5`."""
        if self.unit == "mm":
            return f"{float(self.whole + self.over):.10g}"
        if not self.over:
            return str(self.whole)
        return f"{self.whole}-{self.over}" if self.whole else str(self.over)

    def __str__(self) -> str:
        body = f"{self.number} {self.unit}"
        if self.feet:
            alone = not self.whole and not self.over
            body = f"{self.feet} ft" if alone else f"{self.feet} ft {body}"
        return (
            ("-" if self.negative else "") + body + (f", {self.lean}" if " " in self.lean else f" {self.lean}").rstrip()
        )


def on_rule(mm: float | Fraction, rule: Rule, rounding: Rounding = "nearest") -> RuleReading:
    """Where `mm` falls on `rule`: the nearest mark, or the next one up or down; rounding is by size, not by sign."""
    marks, a_unit = rule.division.as_integer_ratio()  # the division as marks / a_unit, in whole numbers for speed
    size, parts = mm.as_integer_ratio()
    num, den = (
        (abs(size) * a_unit, parts * marks) if rule.unit == "mm" else (5 * abs(size) * a_unit, 127 * parts * marks)
    )
    near = (2 * num + den) // (2 * den)
    off = num - near * den  # from the nearest mark, in divisions times den
    if rounding == "nearest" or abs(off) * 10**6 < den:  # float noise is no reason to go up a mark
        count = near
        over = off > 0 and (count > 0 or mm > 0)  # a little less than nothing is bare
        lean = "" if abs(off) * 32 <= den else "full" if over else "bare"
    else:
        count = -(-num // den) if rounding == "up" else num // den
        lean = f"rounded {rounding}"
    total = count * marks  # in parts of a unit
    feet = total // (12 * a_unit) if rule.unit == "in" and total >= rule.feet_from * a_unit else 0
    whole, part = divmod(total - 12 * feet * a_unit, a_unit)
    return RuleReading(mm < 0 and count > 0, feet, whole, Fraction(part, a_unit), rule.unit, lean)


def show(mm: float | Fraction, rule: Rule, rounding: Rounding = "nearest") -> str:
    """`mm` to the marks of `rule`, as `1-29/64 in bare`, `12 ft 6-1/2 in`, `36.5 mm full`.

    >>> show(36.8236, RULES[3])
    '1-29/64 in bare'
    """
    return str(on_rule(mm, rule, rounding))


class Phrase(NamedTuple):
    """Words with `{}` for each of `lengths` (mm), which are written once the rule is known."""

    text: str
    lengths: tuple[float, ...] = ()

    def on(self, rule: Rule) -> str:
        """The words with every length to the marks of `rule`.

        >>> Phrase("{} finished", (50.8,)).on(RULES[3]), Phrase("{} finished", (50.8,)).on(RULES[6])
        ('2 in finished', '50.8 mm finished')
        """
        return self.text.format(*(show(mm, rule) for mm in self.lengths))


def literal(text: str) -> str:
    """`text`, such as a name, as a part of a phrase.

    >>> Phrase(literal("a {} of {pine}")).on(RULES[3])
    'a {} of {pine}'
    """
    return text.replace("{", "{{").replace("}", "}}")


def in_mm(unit: Unit) -> float:
    """How many millimetres one `unit` is."""
    return float(IN_MM[unit])


def decimal(mm: float | Fraction, unit: Unit) -> str:
    """The same length in figures, for beside the fraction: four places of an inch, two of a millimetre."""
    size, parts = mm.as_integer_ratio()
    return f"{size * 5 / (parts * 127):.4f}" if unit == "in" else f"{size / parts:.2f}"
