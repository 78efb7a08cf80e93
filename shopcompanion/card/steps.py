"""The order of work: what is done to a spar, step by step, each with its numbers."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager

from ..errors import CompanionError, InputFault, printable
from ..lengths import Rule
from ..profile.asking import SET_UP
from ..profile.left_out import LeftOut, for_card
from ..profile.names import folded
from ..profile.records import Boat, Preset, Spar
from .ask import reason_of
from .finishing import finishing
from .plan import CardPlan
from .rounding import rounding
from .squaring import squaring
from .staves import of_staves
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
    "wall": ("hollow", "true-blank", "rip-staves"),
    "staves": ("rip-staves",),
    "solid": ("plugs", "hollow", "true-blank"),
    "kind": ("ends",),
}


def steps(boat: Boat, spar: Spar, rule: Rule) -> tuple[Step, ...]:
    """The steps from rough timber to the finished spar, in their order, as the spar asks for them.

    InputFault, which names the spar and the step, when its entries leave a calculator without an answer.
    """
    return of_plan(CardPlan(boat, spar, rule))


def of_plan(plan: CardPlan) -> tuple[Step, ...]:
    """The same from a plan that is there already."""
    made: list[Step] = []
    with naming(plan, made):
        for step in in_order(plan):
            made.append(step)  # those before a fault tell where it is
    return _with_left_out(made, plan)


@contextmanager
def naming(plan: CardPlan, made: Sequence[Step] | None = None) -> Iterator[None]:
    """A fault within becomes one line that names the spar, the step after those `made`, and what works."""
    try:
        yield
    except NoCard:
        raise
    except CompanionError as error:
        raise _told(plan, made, error) from None


class NoCard(InputFault):
    """A spar whose order of work cannot be worked out: which, where, why and what works."""


def in_order(plan: CardPlan) -> Iterator[Step]:
    """The same one by one, each worked out when it is asked for, without what is left out of it. CompanionError for a
    step without an answer.
    """
    if plan.of_staves:
        yield from of_staves(plan)
    else:
        yield from squaring(plan)
        yield from rounding(plan)
    yield from finishing(plan)


def _told(plan: CardPlan, made: Sequence[Step] | None, error: CompanionError) -> NoCard:
    spar = printable(plan.spar.name)
    where = "its head" if made is None else f"the step after '{made[-1].title}'" if made else "the first step"
    reason = reason_of(error, plan.rule)
    asked = next((asked for asked, fault in plan.job.unanswered if fault is error), None)
    if asked is None:
        return NoCard(f"no card of the {spar}: {where} cannot be worked out: {reason}")
    works = "change that in the profile"
    if asked.calculator in SET_UP:
        works += f", or keep a preset of {asked.calculator} for the {spar} that has an answer"
    return NoCard(f"no card of the {spar}: {where} needs {asked.words(plan.rule)}: {reason}; {works}")


def lacking(plan: CardPlan) -> tuple[LeftOut, ...]:
    """What the card of a spar lacks when its steps are made: what the profile has a fault in, and the presets for the
    spar that have no answer.
    """
    aside = dict.fromkeys(_without(plan, *preset) for preset in plan.job.aside.values())
    return (*for_card(plan.job.boat, plan.spar), *aside)


def _without(plan: CardPlan, preset: Preset, fault: CompanionError) -> LeftOut:
    name = f"preset '{printable(preset.name)}' of {preset.calculator}"
    reason = f"{reason_of(fault, plan.rule)}; worked out without it"
    return LeftOut("preset", preset.name, "", name, reason, spar=plan.spar.name, calculator=preset.calculator)


def _with_left_out(made: list[Step], plan: CardPlan) -> tuple[Step, ...]:
    """The steps, each with what is left out of the spar that would have been in it."""
    ids = {step.id: place for place, step in reversed(list(enumerate(made)))}
    told: dict[int, list[LeftOut]] = {}
    for left_out in for_card(plan.job.boat, plan.spar):
        if left_out.table == "spar" and left_out.key and folded(left_out.row) == folded(plan.spar.name):
            place = next((ids[name] for name in _BESIDE.get(left_out.first, ()) if name in ids), 0)
            told.setdefault(place, []).append(left_out)
    for place, step in enumerate(made):
        without = [plan.job.aside[asked] for asked in step.asked if asked in plan.job.aside]
        told[place] = [*told.get(place, ()), *dict.fromkeys(_without(plan, *preset) for preset in without)]
    return tuple(
        step._replace(left_out=tuple(f"{lost.name}: {lost.reason}" for lost in told.get(place, ())))
        for place, step in enumerate(made)
    )
