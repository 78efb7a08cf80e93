"""The stick as it comes from the saw: its sides, how many are made, and how it is ripped, in one pass or in two."""

from collections.abc import Sequence

from ..errors import CompanionError
from ..stock.blanks import whole
from .ask import Answered, spelled
from .plan import CardPlan


def sawn_sides(plan: CardPlan) -> tuple[float, ...]:
    """The sides of the blank as it is sawn from one stick, mm, bow and planing with them: one where it is square."""
    blank = whole(plan.job.boat, plan.spar, plan.rule)
    return tuple(dict.fromkeys((blank.thickness, blank.width)))


def many(plan: CardPlan) -> str:
    """How many are made, where it is more than the one."""
    return f" Make {plan.spar.count}, all alike." if plan.spar.count > 1 else ""


def ripped(plan: CardPlan, through: Sequence[float]) -> tuple[Answered, ...]:
    """How it is ripped through each of these thicknesses; nothing where no saw of the shop is known to do it."""
    try:
        return tuple(plan.job.ask("rip", thickness=spelled(size)) for size in through)
    except CompanionError:
        return ()


def ripping(rips: Sequence[Answered]) -> tuple[str, ...]:
    """The same as lines of a set-up."""
    return tuple(_said(rip, len(rips) > 1) for rip in rips)


def _said(rip: Answered, of_several: bool) -> str:
    where = f" through {rip.say('thickness')}" if of_several else ""
    if rip["passes"] == 1:
        return f"Rip{where} in one pass: the blade reaches {rip.say('depth')}."
    left = f", which leaves {rip.say('web_left')} between them for the hand saw" if rip["web_left"] else ""
    return f"Rip{where} in two passes, from both sides: the blade reaches {rip.say('depth')}{left}."
