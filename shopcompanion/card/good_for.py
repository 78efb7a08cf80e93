"""What a spar is good for, in a few lines of its card: never without the words that it is guidance."""

from ..calculators.proving import GUIDANCE
from ..errors import CompanionError
from .ask import Answered
from .lines import Paper
from .pages import PageBlock
from .plan import CardPlan

TITLE = "What it is good for"


def good_for(plan: CardPlan, paper: Paper) -> PageBlock | None:
    """The answer of `strength` with nothing typed; None where the profile does not say what loads the spar."""
    rows = good_for_rows(plan)
    if not rows:
        return None
    lines = [TITLE, paper.line]
    for label, text in rows:
        lines += paper.folded(text, f"{label:<10}")
    return PageBlock(((*lines, "", *paper.folded(GUIDANCE)),))


def good_for_rows(plan: CardPlan) -> list[tuple[str, str]]:
    """The same as labels and texts; none where there is no answer."""
    try:
        strength = plan.job.ask("strength")
    except CompanionError:
        return []
    return _rows(plan, strength)


def _rows(plan: CardPlan, strength: Answered) -> list[tuple[str, str]]:
    say, at = strength.say, plan.place
    source = {"as typed": "as the profile says", "stability": "what the boat bears upright"}
    by = source.get(strength["load_from"], f"wind of {say('wind')}")
    rows = [("Load", f"{say('load')} across it: {by}")]
    if strength["pressed"] is not None:
        rows.append(("", f"pressed along it by {say('pressed')} at most"))
    rows.append(("Assumes", say("assumes")))
    rows.append(("Held", say("supports")))
    if strength["mass"] is not None:
        weight = plan.job.ask("weight")
        rows.append(("Weight", f"about {say('mass')}, balancing {plan.job.length(weight['balance_at'])} from the heel"))
    if strength["most_deflection"] >= float(plan.rule.step) / 2:
        rows.append(("Bends", f"{say('most_deflection')} at most, at {at(strength['most_deflection_at'])}"))
    worst = f"{say('worst_stress')} at most, at {at(strength['worst_at'])}"
    rows.append(("Stress", f"{worst}: a factor of {say('factor')} against breaking"))
    if strength["load_factor"] is not None:
        rows.append(("Buckles", f"at {say('load_factor')} times the force that presses it along"))
    return [*rows, ("Fails", f"first by {say('governs')}")]
