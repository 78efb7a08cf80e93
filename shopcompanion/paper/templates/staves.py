"""The section of a stave with its notch, for a spar built of staves: to set the saw by and to try the staves with."""

from collections.abc import Iterator

from ...calculators.staves import case
from ...card.ask import Answered
from ...card.plan import CardPlan
from ...errors import CompanionError
from ..marks import Mark, line, loop
from .template import Template, note


def staves(plan: CardPlan) -> Iterator[Template]:
    """A stave where the spar is widest and, where it is another, where it is thinnest; none for other spars."""
    if not plan.of_staves:
        return
    ats = sorted({plan.outline.widest_at, min(plan.ats, key=lambda at: (plan.outline.width_at(at), at))})
    for at in ats:
        try:
            ring = plan.staves(at)
        except CompanionError:
            continue
        say = ring.brief
        yield Template(
            f"stave-{at:.0f}",
            "Section of a stave",
            (
                f"{plan.spar.name}, at {plan.place(at)}, {plan.job.length(plan.outline.width_at(at))} finished: one "
                f"of {plan.spar.staves}, {say('stave_width')} from plain edge to lips, {say('stave_thickness')} thick",
                f"Notch {say('notch_depth')} deep from its lips, {say('notch_below')} below the outer face. Hold it on "
                "a stave's end: set the saw by it, and taper only the plain edge.",
            ),
            tuple(_stave(ring)),
        )


def _stave(answer: Answered) -> Iterator[Mark]:
    """The stave with its outer face up and its notch at the right."""
    ring = case(answer.result.inputs).ring
    low = ring.diameter / 2 - ring.thickness
    points = [(x, y - low) for x, y in ring.stave]
    yield loop(points, "cut")
    middle = (min(x for x, _ in points) + max(x for x, _ in points)) / 2
    yield line(middle, ring.thickness, middle, ring.thickness + 6.0)
    yield note(middle, ring.thickness + 7.0, "outer face")
