"""One step of the order of work."""

from collections.abc import Collection, Sequence

from ..calculator import Table
from ..record import NamedTuple
from .ask import Answered, Asked

HELD = "Chock the spar so that it cannot roll. Keep both hands behind the edge."


class Step(NamedTuple):
    """What is done in one go at the bench. `id` is stable, so that a tick keeps its meaning.

    `says` are paragraphs; `tables` the numbers by station (one named `stations` is a part of the station table);
    `setup` how the tools are set; `checks` what must be true afterwards; `asked` the questions that gave the numbers;
    `left_out` what would be in this step but for a fault in the profile.
    """

    id: str
    title: str
    says: tuple[str, ...]
    tables: tuple[Table, ...] = ()
    setup: tuple[str, ...] = ()
    checks: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    asked: tuple[Asked, ...] = ()
    left_out: tuple[str, ...] = ()


class Progress(NamedTuple):
    """How far the work is: steps done, steps in all, and the first that is not done."""

    done: int
    of: int
    next: Step | None


def progress(steps: Sequence[Step], done: Collection[str]) -> Progress:
    """How far the work is when the steps of these ids are ticked; ids of no step count for nothing."""
    left = [step for step in steps if step.id not in done]
    return Progress(len(steps) - len(left), len(steps), left[0] if left else None)


def questions(*answers: Answered | None) -> tuple[Asked, ...]:
    """What was asked for these answers, each question once."""
    return tuple(dict.fromkeys(answer.asked for answer in answers if answer is not None))


def unique(*lines: Sequence[str]) -> tuple[str, ...]:
    """The lines of all of them in their order, each once."""
    return tuple(dict.fromkeys(line for group in lines for line in group))
