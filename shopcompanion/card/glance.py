"""A boat at a glance: every spar with its size, its weight, how far the work is and what is next; and what is aloft."""

from collections.abc import Iterable

from ..errors import CompanionError
from ..lengths import Rule
from ..profile.records import Boat, Spar
from ..record import NamedTuple
from ..spar.kinds import MASTS
from ..spar.outline import Outline
from .plan import CardPlan
from .step import progress
from .steps import of_plan

ON_DECK = ("bitt", "bowsprit", "other")  # spars that are not aloft


class Lying(NamedTuple):
    """A spar on its trestles. `mass` (kg, of each) and `balance` (mm from the heel) are None where its timber is not
    known; `next` is the title of the first step that is not done, "" when all are, and `fault` why there are none.
    """

    name: str
    alike: int
    kind: str
    outline: Outline
    mass: float | None
    balance: float | None
    done: int
    of: int
    next: str
    fault: str = ""


class Aloft(NamedTuple):
    """What is aloft, kg in all; how many of those spars have no known weight; the masts among them, kg, and where those
    balance together above their heels, mm, None where there is none.
    """

    mass: float
    unknown: int
    masts: float
    balance: float | None


def lying(boat: Boat, spar: Spar, rule: Rule) -> Lying:
    """A spar as it stands."""
    plan, fault, done, of, ahead = CardPlan(boat, spar, rule), "", 0, 0, ""
    mass = balance = None
    try:
        weight = plan.job.ask("weight")
        mass, balance = float(weight["mass"]), float(weight["balance_at"])
    except CompanionError:  # its timber is not known
        pass
    try:
        far = progress(of_plan(plan), spar.done)
        done, of, ahead = far.done, far.of, far.next.title if far.next else ""
    except CompanionError as error:
        fault = str(error)
    return Lying(spar.name, spar.count, spar.kind, spar.outline(), mass, balance, done, of, ahead, fault)


def aloft(spars: Iterable[Lying]) -> Aloft:
    """The sum of what is aloft. Only masts stand by their heels: where the others hang is not in the profile."""
    up = [spar for spar in spars if spar.kind not in ON_DECK]
    masts = [spar for spar in up if spar.kind in MASTS and spar.mass is not None]
    heavy = sum(spar.alike * (spar.mass or 0.0) for spar in masts)
    moment = sum(spar.alike * (spar.mass or 0.0) * (spar.balance or 0.0) for spar in masts)
    return Aloft(
        sum(spar.alike * (spar.mass or 0.0) for spar in up), sum(spar.mass is None for spar in up), heavy,
        moment / heavy if heavy else None,
    )  # fmt: skip
