"""The slope of a scarf, seen from the side of the stick: a wedge to be laid on its face."""

from collections.abc import Iterator

from ...card.plan import CardPlan
from ...errors import CompanionError
from ..marks import Mark, Stroke, line
from .template import Template, note


def scarfs(plan: CardPlan) -> Iterator[Template]:
    """A wedge for every scarf of the spar."""
    for joint in plan.spar.joints:
        if joint.kind != "scarf":
            continue
        try:
            scarf = plan.job.ask("scarf", joint.at)
        except CompanionError:
            continue
        yield Template(
            f"scarf-{joint.at:.0f}",
            "Slope of the scarf",
            (
                f"{plan.spar.name}, middle at {plan.place(joint.at)}: {scarf.say('scarf_length')} long on a stick of "
                f"{scarf.say('thickness')}, {scarf.say('slope')} to 1",
                "Lay it on the side of the stick, its long edge along one face and its square end on the line of the "
                "scarf; turn it round for the other stick.",
            ),
            tuple(_wedge(scarf["scarf_length"], scarf["thickness"] + 2 * scarf["planing"])),
        )


def _wedge(long: float, thick: float) -> Iterator[Mark]:
    yield Stroke(((0.0, 0.0), (long, 0.0), (long, thick)), "cut", True)
    yield line(long / 2, 0.0, long / 2, thick / 2, "scribe")
    yield note(long * 0.75, thick * 0.2, "along the face")
