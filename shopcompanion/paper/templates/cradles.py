"""The cradle that holds a spar square under the drill: its end board, cut to the spar at each hole."""

from collections.abc import Iterator
from math import cos, pi, sin

from ...card.plan import CardPlan
from ...errors import CompanionError
from ...spar.fitting import Fitting
from ..marks import ArcMark, Mark, Stroke, line
from .template import Template, note

_ASIDE = 18.0  # mm of board beside the V


def cradles(plan: CardPlan) -> Iterator[Template]:
    """A board with its V for every station where a hole is bored right through a round."""
    done: set[float] = set()
    for letter, part in plan.lettered:
        if not isinstance(part, Fitting) or not part.hole:
            continue
        middle = plan.middle(part)
        across = plan.size(middle).across
        if round(across, 2) in done or plan.oval or plan.body.section_at(middle).headward.kind == "square":
            continue
        try:
            bore = plan.job.ask("bore", middle, hole=f"{part.hole:.6f} mm")
        except CompanionError:
            continue
        done.add(round(across, 2))
        yield Template(
            f"cradle-{letter}-{middle:.0f}",
            f"Cradle for boring ({letter})",
            (
                f"{plan.spar.name}, at {plan.place(middle)}: {plan.job.length(across)} across, the V "
                f"{bore.say('v_deep')} deep, its corner {bore.say('block_height')} above the table",
                "Make two alike for a spar of one size; where it tapers, cut each to the size of the spar above it, "
                "so that the dashed axis stands at one height.",
            ),
            tuple(_board(across / 2, bore["block_height"], bore["v_deep"], bore["v_angle"])),
        )


def _board(radius: float, height: float, deep: float, angle: float) -> Iterator[Mark]:
    """Looking along the spar: the table at 0, the V open above, the round lying in it."""
    half = angle / 2 * pi / 180
    axis = height + radius / sin(half)
    top = height + deep
    side = deep * sin(half) / cos(half)
    wide = side + _ASIDE
    yield Stroke(
        ((-side, top), (-wide, top), (-wide, 0.0), (wide, 0.0), (wide, top), (side, top), (0.0, height)), "cut", True
    )
    yield ArcMark(0.0, axis, radius, radius, pen="scribe")
    yield line(-wide, axis, wide, axis, "scribe")
    yield line(0.0, 0.0, 0.0, axis + radius + 4.0, "centre")
    yield note(0.0, 2.0, "table")
