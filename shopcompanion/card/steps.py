"""The order of work: what is done to a spar, step by step, each with its numbers."""

from collections.abc import Iterator

from ..boat.model import Boat, Spar
from ..lengths import Rule
from .finishing import finishing
from .plan import Plan
from .rounding import rounding
from .squaring import squaring
from .step import Progress, Step, progress

__all__ = ["Progress", "Step", "progress", "steps"]


def steps(boat: Boat, spar: Spar, rule: Rule) -> tuple[Step, ...]:
    """The steps from rough timber to the finished spar, in their order, as the spar asks for them.

    InputFault or InputFaults when the spar's own entries leave a calculator without an answer.
    """
    return tuple(in_order(Plan(boat, spar, rule)))


def in_order(plan: Plan) -> Iterator[Step]:
    """The same from a plan that is there already."""
    yield from squaring(plan)
    yield from rounding(plan)
    yield from finishing(plan)
