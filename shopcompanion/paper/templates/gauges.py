"""Gauges for the finished section: half of it cut out of a card, to be held against the spar, at every station."""

from collections.abc import Iterator
from itertools import groupby
from math import cos, pi, sin

from ...card.plan import CardPlan
from ...spar.section import ROUND, SIDES
from ..marks import ArcMark, Mark, Point, Stroke, along, line
from .template import EDGE, Template, named_alike, note

_END = 1e-6  # of a run-out, which there is over
_ROOMY = 36.0  # mm across that have room for words
_SAME = 1e-3  # mm; sizes nearer than that share a gauge


def gauges(plan: CardPlan) -> Iterator[Template]:
    """A gauge for the finished section of every station, and for those on the way to it; alike ones once."""
    rows = [(at, sides, plan.size(at).across, plan.depth(at).across if plan.oval else plan.size(at).across)
            for at in plan.ats for sides in [_finished(plan, at)] if sides]  # fmt: skip
    for (sides, wide, deep), those in groupby(
        rows, key=lambda row: (row[1], round(row[2] / _SAME), round(row[3] / _SAME))
    ):
        ats = [row[0] for row in those]
        on_the_way = () if plan.of_staves or sides == 4 else (8, 16)
        for of in [*(n for n in on_the_way if n < sides), sides]:
            yield from _of_station(plan, ats, of, wide * _SAME, deep * _SAME)


def _finished(plan: CardPlan, at: float) -> int:
    """How many sides the finished section has at a station; 0 within a run-out, where it is on the way."""
    here = plan.body.section_at(at)
    if here.heelward == here.headward or min(here.part, 1 - here.part) < _END:
        return SIDES.get((here.headward if here.part > 0.5 else here.heelward).kind, ROUND)
    return 0


def _of_station(plan: CardPlan, ats: list[float], sides: int, wide: float, deep: float) -> Iterator[Template]:
    say = plan.job.length
    places = named_alike([plan.place(at) for at in ats])
    shape = {4: "square", 8: "eight sides", 16: "sixteen sides"}.get(sides, "oval" if plan.oval else "round")
    both = [("", wide, deep)] if not plan.oval else [("A", wide, deep), ("B", deep, wide)]
    for face, across, other in both:
        held = f"Hold it on face {face}: " if face else "Hold it square across the spar: "
        touches = "no light shows between, down to the middle" if sides in (4, ROUND) else "every facet touches"
        size = say(across) if not face else f"{say(across)} across, {say(other)} deep"
        yield Template(
            f"gauge-{ats[0]:.0f}-{'round' if sides == ROUND else sides}{f'-{face.lower()}' if face else ''}",
            f"Gauge, {shape}",
            (f"{plan.spar.name}, at {places}: {size}", f"{held}{touches}."),
            tuple(_card(across, other, sides, say(across), plan.place(ats[0]))),
        )


def _card(across: float, other: float, sides: int, size: str, place: str) -> Iterator[Mark]:
    """A card with half of the section cut out of its upper edge, which is the middle of the spar."""
    x, low = across / 2 + EDGE, -other / 2 - EDGE
    half = half_outline(across, other, sides)
    yield Stroke(((-across / 2, 0.0), (-x, 0.0), (-x, low), (x, low), (x, 0.0), (across / 2, 0.0)), "cut")
    if sides == ROUND:
        yield ArcMark(0.0, 0.0, across / 2, other / 2, 180.0, 360.0, "cut")
    else:
        yield Stroke(half, "cut")
    yield line(0.0, -other / 2, 0.0, low, "centre")
    if min(across, other) > _ROOMY:
        yield note(0.0, -other / 2 + 3.0, size)
    yield note(-x / 2, low + 2.0, place)
    yield note(x / 2, low + 2.0, "cut")


def half_outline(across: float, other: float, sides: int) -> tuple[Point, ...]:
    """The lower half of a polygon with a flat below, from left to right; of a thousand sides, the half round.

    >>> [(round(x, 3), round(y, 3)) for x, y in half_outline(2.0, 2.0, 4)]
    [(-1.0, 0.0), (-1.0, -1.0), (1.0, -1.0), (1.0, 0.0)]
    """
    if sides == ROUND:
        return along(ArcMark(0.0, 0.0, across / 2, other / 2, 180.0, 360.0))
    out = 1 / cos(pi / sides)
    corners = [
        (across / 2 * out * cos(turn), other / 2 * out * sin(turn))
        for turn in (pi + (2 * k + 1) * pi / sides for k in range(sides // 2))
    ]
    return ((-across / 2, 0.0), *corners, (across / 2, 0.0))
