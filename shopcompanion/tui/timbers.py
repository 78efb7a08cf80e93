"""The page of the timbers: all there are, with their figures, where those stand and how they were seen."""

from ..lengths import Rule
from ..timber.listing import every, in_brief
from ..timber.species import Own
from .paint import Rows, row


def timbers_text(own: Own, rule: Rule) -> Rows:
    """Everything on one scrolling page, the boat's own timbers first."""
    lines = [row("Means at 12 % moisture of small clear pieces; a plank of your own will differ.")]
    for timber in every(own):
        name, figures, source = in_brief(timber, rule)
        lines += [row(""), row((name, "bold")), row(figures), row((source, "quiet"))]
    return Rows(lines)
