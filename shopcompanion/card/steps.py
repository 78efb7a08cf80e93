"""The order of work: what is done to a spar, step by step, each with its numbers."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from functools import partial

from ..errors import CompanionError, InputFault, InputFaults, printable
from ..lengths import Rule, show
from ..profile.asking import SET_UP
from ..profile.left_out import LeftOut, for_card
from ..profile.records import Boat, Spar, folded
from .finishing import finishing
from .plan import Plan
from .rounding import rounding
from .squaring import squaring
from .step import Progress, Step, progress

__all__ = ["Progress", "Step", "progress", "steps"]

# By the key of a spar, the steps (the first that there is) beside which it is told that something is left out.
_BESIDE = {
    "joints": ("scarf", "dowel", "true-blank"),
    "fittings": ("flats", "ends"),
    "log": ("measure",),
    "square_to": ("run-outs", "edges", "round"),
    "square_run_out": ("run-outs", "edges", "round"),
    "regions": ("run-outs", "edges", "round"),
    "wall": ("hollow", "true-blank"),
    "kind": ("ends",),
}


def steps(boat: Boat, spar: Spar, rule: Rule) -> tuple[Step, ...]:
    """The steps from rough timber to the finished spar, in their order, as the spar asks for them.

    InputFault, which names the spar and the step, when its entries leave a calculator without an answer.
    """
    return of_plan(Plan(boat, spar, rule))


def of_plan(plan: Plan) -> tuple[Step, ...]:
    """The same from a plan that is there already."""
    made: list[Step] = []
    with naming(plan, made):
        for step in _in_order(plan):
            made.append(step)  # those before a fault tell where it is
    return _with_left_out(made, plan)


@contextmanager
def naming(plan: Plan, made: Sequence[Step] | None = None) -> Iterator[None]:
    """A fault within becomes one line that names the spar, the step after those `made`, and what works."""
    try:
        yield
    except NoCard:
        raise
    except CompanionError as error:
        raise _told(plan, made, error) from None


class NoCard(InputFault):
    """A spar whose order of work cannot be worked out: which, where, why and what works."""


def _in_order(plan: Plan) -> Iterator[Step]:
    yield from squaring(plan)
    yield from rounding(plan)
    yield from finishing(plan)


def _told(plan: Plan, made: Sequence[Step] | None, error: CompanionError) -> NoCard:
    spar = printable(plan.spar.name)
    where = "its head" if made is None else f"the step after '{made[-1].title}'" if made else "the first step"
    reason = _reason(error, plan.rule)
    asked = next((asked for asked, fault in plan.job.unanswered if fault is error), None)
    if asked is None:
        return NoCard(f"no card of the {spar}: {where} cannot be worked out: {reason}")
    works = "change that in the profile"
    if asked.calculator in SET_UP:
        works += f", or keep a preset of {asked.calculator} for the {spar} that has an answer"
    return NoCard(f"no card of the {spar}: {where} needs {asked.words(plan.rule)}: {reason}; {works}")


def _reason(error: CompanionError, rule: Rule) -> str:
    """All that is wrong, in one line, lengths by the rule; an input by its name in words, never as an option."""
    faults = error.faults if isinstance(error, InputFaults) else [error]
    said = []
    for fault in faults:
        if isinstance(fault, InputFault):
            reason = fault.told(partial(show, rule=rule)).reason
            said.append(f"{fault.field.replace('_', ' ')}: {reason}" if fault.field else reason)
        else:
            said.append(str(fault))
    return "; ".join(said)


def _with_left_out(made: list[Step], plan: Plan) -> tuple[Step, ...]:
    """The steps, each with what is left out of the spar that would have been in it."""
    ids = {step.id: place for place, step in reversed(list(enumerate(made)))}
    told: dict[int, list[LeftOut]] = {}
    for one in for_card(plan.job.boat, plan.spar):
        if one.table == "spar" and one.key and folded(one.row) == folded(plan.spar.name):
            place = next((ids[name] for name in _BESIDE.get(one.first, ()) if name in ids), 0)
            told.setdefault(place, []).append(one)
    return tuple(
        step._replace(left_out=tuple(f"{one.name}: {one.reason}" for one in told.get(place, ())))
        for place, step in enumerate(made)
    )
