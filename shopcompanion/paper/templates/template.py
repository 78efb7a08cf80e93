"""What a template is: lines at full size, y upwards, and the words that stand below it."""

from collections.abc import Sequence

from ...record import NamedTuple
from ..marks import Box, Mark, TextMark, bounds

SMALL_WORDS = 7.0  # points of words on a template
EDGE = 8.0  # mm of card left round a cut-out


class Template(NamedTuple):
    """One template. `name` is its own on the spar and names its file; `title` says what it is; `says` whose it is and
    where, its size in words, and what to hold it against. `marks` are in mm at full size.
    """

    name: str
    title: str
    says: tuple[str, ...]
    marks: tuple[Mark, ...]

    @property
    def box(self) -> Box:
        return bounds(self.marks)


def note(x: float, y: float, text: str, turn: float = 0.0) -> TextMark:
    """Small words in the middle of a line of a template."""
    return TextMark(x, y, text, SMALL_WORDS, align="centre", turn=turn)


def named_alike(names: Sequence[str]) -> str:
    """Stations that share a template, in a few words: one, two, or the first and the last.

    >>> named_alike(["2 ft"]), named_alike(["2 ft", "3 ft"]), named_alike(["2 ft", "3 ft", "4 ft"])
    ('2 ft', '2 ft and 3 ft', '2 ft to 4 ft')
    """
    return names[0] if len(names) == 1 else f"{names[0]} {'and' if len(names) == 2 else 'to'} {names[-1]}"
