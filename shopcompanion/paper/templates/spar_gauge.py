"""The drilling strip of the spar gauge: glued on its bar, it shows where the pins and the pencils go."""

from collections.abc import Iterator

from ...card.plan import CardPlan
from ...errors import CompanionError
from ..marks import ArcMark, Mark, TextMark, line, rectangle
from .template import SMALL_WORDS, Template

_HIGH = 24.0  # mm
_END = 20.0  # mm beyond the pins
_LEAD = 2.0  # mm across, the point of a pencil


def spar_gauge(plan: CardPlan) -> Iterator[Template]:
    """The strip of the gauge that lines out eight sides; none for a spar that stays square, or is of staves."""
    if plan.sides < 8 or plan.of_staves:
        return
    try:
        gauge = plan.job.ask("gauge")
    except CompanionError:
        return
    yield Template(
        "spar-gauge",
        "Spar gauge, drilling strip",
        (
            f"{plan.spar.name}: pins {gauge.say('pin')} thick, {gauge.say('pin_spacing')} from centre to centre; each "
            f"pencil {gauge.say('pencil_from_pin')} from its pin",
            "Glue it on the bar, its line along the middle, and drill through the crosses, square to the bar.",
        ),
        tuple(_strip(gauge["pin_spacing"], gauge["pencil_from_pin"], gauge["pin"])),
    )


def _strip(spacing: float, pencil: float, pin: float) -> Iterator[Mark]:
    yield rectangle((-_END, -_HIGH / 2, spacing + _END, _HIGH / 2), "cut")
    yield line(-_END, 0.0, spacing + _END, 0.0, "centre")
    for x, across, word in (
        (0.0, pin, "pin"),
        (pencil, _LEAD, "pencil"),
        (spacing - pencil, _LEAD, "pencil"),
        (spacing, pin, "pin"),
    ):
        yield ArcMark(x, 0.0, across / 2, across / 2, pen="scribe")
        yield line(x, -_HIGH / 3, x, _HIGH / 3, "thin")
        yield TextMark(x - 0.8, _HIGH / 4, word, SMALL_WORDS, turn=90.0)
