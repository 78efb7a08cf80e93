"""What a plan buys, and how much timber that is."""

from collections import Counter
from collections.abc import Iterable

from ..record import NamedTuple
from ..timber.sizes import board_feet
from .pieces import Plan, Problem, StockTimber


class Bought(NamedTuple):
    """Timber of the yard, and how many of it."""

    timber: StockTimber
    times: int

    @property
    def price(self) -> int:
        """Of all together, in hundredths."""
        return (self.timber.price or 0) * self.times


def bought(problem: Problem, plan: Plan) -> list[Bought]:
    """What is to be bought, dearest first."""
    counted = Counter(sawn.timber for sawn in plan.sawn if problem.timbers[sawn.timber].price is not None)
    purchases = [Bought(problem.timbers[place], count) for place, count in counted.items()]
    return sorted(purchases, key=lambda purchase: (-purchase.price, purchase.timber.name, purchase.timber.length))


def volumes(purchases: Iterable[Bought]) -> tuple[float, float]:
    """Board feet of the sizes as sold, and cubic metres as it is."""
    feet = cubic = 0.0
    for timber, times in purchases:
        feet += times * board_feet(*(timber.nominal or (timber.thickness, timber.width, timber.length)))
        cubic += times * timber.thickness * timber.width * timber.length / 1e9
    return feet, cubic
