"""The drawings of a card by themselves, as SVG: the section in its blank, and the spar from two sides."""

from ..card.head import legend
from ..card.plan import CardPlan
from ..errors import printable
from .svg import svg
from .views import section, views

WIDE, HIGH = 180.0, 120.0  # mm of the two drawings of the spar, and of the section at most


def card_drawings(plan: CardPlan) -> dict[str, str]:
    """The SVG of each drawing by its name, its words in the title. What the plan of the spar raises."""
    name = printable(plan.spar.name)
    drawn = section(plan, HIGH, HIGH)
    both = views(plan, WIDE)
    seen = f"seen on face A and on face B, heel at the left, thickness exaggerated {both.taller:.1f} times"
    said = "; ".join(legend(plan))
    return {
        "section": svg(drawn.marks, HIGH, drawn.high, f"{name}: {drawn.caption}"),
        "views": svg(both.marks, WIDE, both.high, f"{name}, {seen}{f': {said}' if said else ''}"),
    }
