"""Half laps: the lines of the shoulders on the face that is cut, and how deep on the faces beside it."""

from collections.abc import Iterator

from ...card.plan import CardPlan
from ...spar.fitting import Fitting
from ..marks import Mark, line, rectangle
from .template import Template, note

_BEYOND = 20.0  # mm of the wrap beyond a shoulder


def laps(plan: CardPlan) -> Iterator[Template]:
    """A wrap for every lap: three faces side by side, to be folded round the stock and pricked through."""
    for letter, part in plan.lettered:
        if isinstance(part, Fitting) and part.kind == "lap" and part.flat and part.length:
            middle, say = plan.middle(part), plan.job.length
            size = plan.size(middle).across
            yield Template(
                f"lap-{letter}-{middle:.0f}",
                f"Half lap ({letter})",
                (
                    f"{plan.spar.name}, middle at {plan.place(middle)}, cut in face {part.face[0]}: "
                    f"{say(part.length)} wide, {say(part.flat)} deep",
                    "Fold it along the long dashes over the edges of the face that is cut, its middle on the station. "
                    "Knife the dashed lines: both shoulders, and the floor on the faces beside it.",
                ),
                tuple(_wrap(part.length, part.flat, size)),
            )


def _wrap(wide: float, deep: float, stock: float) -> Iterator[Mark]:
    half, edge = wide / 2, stock / 2
    yield rectangle((-half - _BEYOND, -edge - stock, half + _BEYOND, edge + stock), "cut")
    for y in (-edge, edge):
        yield line(-half - _BEYOND, y, half + _BEYOND, y, "centre")
    for x in (-half, half):
        yield line(x, -edge - deep, x, edge + deep, "scribe")
    for y in (-edge - deep, edge + deep):
        yield line(-half, y, half, y, "scribe")
    yield line(0.0, -edge, 0.0, edge)
    yield note(0.0, 0.0, "comes out")
    yield note(-half - _BEYOND / 2, 0.0, "stays")
    yield note(half + _BEYOND / 2, 0.0, "stays")
