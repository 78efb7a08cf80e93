"""The page of the timbers: all there are, with their figures, where those stand and how they were seen."""

from textual.content import Content

from ..lengths import Rule
from ..timber.listing import every, in_brief
from ..timber.species import Own


def timbers_text(own: Own, rule: Rule) -> Content:
    """Everything on one scrolling page, the boat's own timbers first."""
    lines: list[Content] = [Content("Means at 12 % moisture of small clear pieces; a plank of your own will differ.")]
    for one in every(own):
        name, figures, source = in_brief(one, rule)
        lines += [Content(""), Content.styled(name, "bold"), Content(figures), Content.styled(source, "$quiet")]
    return Content("\n").join(lines)
