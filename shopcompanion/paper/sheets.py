"""Sheets of paper: their sizes, and what a printer can print on."""

from ..lengths import Rule
from ..record import NamedTuple

MARGIN = 10.0  # mm; more than any common printer needs


class PaperSheet(NamedTuple):
    """A sheet upright, in mm."""

    name: str
    width: float
    height: float


# ISO 216 A4; ANSI/ASME Y14.1 size A, letter: 8-1/2 by 11 in.
SHEETS = {"a4": PaperSheet("A4", 210.0, 297.0), "letter": PaperSheet("Letter", 215.9, 279.4)}


def usual(rule: Rule) -> PaperSheet:
    """The sheet that is at hand where the rule is."""
    return SHEETS["letter" if rule.unit == "in" else "a4"]
