"""What a plan buys, and how much timber that is."""

from collections import Counter
from collections.abc import Iterable
from typing import NamedTuple

from ..timber.sizes import board_feet
from .pieces import Plan, Problem, Timber


class Bought(NamedTuple):
    """Timber of the yard, and how many of it."""

    timber: Timber
    times: int

    @property
    def price(self) -> int:
        """Of all together, in hundredths."""
        return (self.timber.price or 0) * self.times


def bought(problem: Problem, plan: Plan) -> list[Bought]:
    """What is to be bought, dearest first."""
    counted = Counter(one.timber for one in plan.sawn if problem.timbers[one.timber].price is not None)
    found = [Bought(problem.timbers[place], count) for place, count in counted.items()]
    return sorted(found, key=lambda one: (-one.price, one.timber.name, one.timber.length))


def volumes(found: Iterable[Bought]) -> tuple[float, float]:
    """Board feet of the sizes as sold, and cubic metres as it is."""
    feet = cubic = 0.0
    for timber, times in found:
        feet += times * board_feet(*(timber.nominal or (timber.thickness, timber.width, timber.length)))
        cubic += times * timber.thickness * timber.width * timber.length / 1e9
    return feet, cubic
