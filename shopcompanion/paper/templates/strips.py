"""Marking strips: laid across a face at a station, they give both edges, and the lines for eight and sixteen sides."""

from collections.abc import Iterator
from itertools import groupby

from ...card.plan import CardPlan
from ..marks import Mark, TextMark, line, rectangle
from .template import EDGE, SMALL_WORDS, Template, named_alike

_HIGH = 13.0  # mm of a strip along the spar


def strips(plan: CardPlan) -> Iterator[Template]:
    """A strip for every station and, of an oval, for either pair of faces; alike ones once."""
    if plan.of_staves:  # they are marked before they are glued, by the station table
        return
    names = [column.name for column in plan.stations.columns]
    rows = [dict(zip(names, row, strict=True)) for row in plan.stations.rows]
    ways = [("A and C", "width", "mark_8")] + ([("B and D", "depth", "mark_8_depth")] if plan.oval else [])
    for faces, size, mark in ways:
        for (across, inset), those in groupby(rows, key=lambda row: (row[size], row.get(mark))):
            ats = [row["at"] for row in those]
            assert isinstance(across, float)
            yield _strip(plan, [at for at in ats if isinstance(at, float)], faces, across, inset)


def _strip(plan: CardPlan, ats: list[float], faces: str, across: float, inset: object) -> Template:
    say = plan.job.length
    lines = say(inset) if isinstance(inset, float) and inset else None
    on = f"faces {faces}" if plan.oval else "all four faces"
    says = [
        f"{plan.spar.name}, at {named_alike([plan.place(at) for at in ats])}, {on}: {say(across)} wide, "
        f"{say(across / 2)} each side"
    ]
    says.append(
        "Lay its centre on the centre line and its lower edge on the station: prick the long lines for the taper"
        + (f", the dashed ones for eight sides, {lines} in." if lines else ".")
    )
    return Template(
        f"strip-{ats[0]:.0f}{'-' + faces[0].lower() if plan.oval else ''}",
        "Marking strip",
        tuple(says),
        tuple(_marks(plan, ats[0], across, inset if isinstance(inset, float) and inset else None)),
    )


def _marks(plan: CardPlan, at: float, across: float, inset: float | None) -> Iterator[Mark]:
    half = across / 2
    yield rectangle((-half - EDGE, 0.0, half + EDGE, _HIGH), "cut")
    yield line(0.0, 0.0, 0.0, _HIGH, "centre")
    for way in (-1, 1):
        yield line(way * half, 0.0, way * half, _HIGH, "thin")
        if inset is not None:
            yield line(way * (half - inset), 0.0, way * (half - inset), _HIGH * 0.6, "scribe")
    yield TextMark(-half + 1.2, _HIGH - 3.5, plan.place(at), SMALL_WORDS, True)
