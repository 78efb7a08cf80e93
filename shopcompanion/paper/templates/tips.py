"""The rounded end: a gauge for its shape from the side, with the flats that come first."""

from collections.abc import Iterator
from itertools import pairwise

from ...calculators.tip import chamfers, corners
from ...card.ask import Answered
from ...card.finishing import tip_of
from ...card.plan import CardPlan
from ..marks import ArcMark, Mark, Stroke, TextMark, line
from .template import EDGE, SMALL_WORDS, Template, note


def tips(plan: CardPlan) -> Iterator[Template]:
    """A gauge for every end that is rounded, and of an oval for either way across."""
    for end in ("heel", "head"):
        tip = tip_of(plan, end)
        if tip is None:
            continue
        for way, answered in zip(("width", "depth"), tip, strict=True):
            if answered is not None:
                faces = f", across its {way}" if tip[1] is not None else ""
                yield _gauge(plan, end, way, faces, answered)


def _gauge(plan: CardPlan, end: str, way: str, faces: str, tip: Answered) -> Template:
    shape = "half ball" if tip["shape"] == "hemisphere" else "dome"
    return Template(
        f"tip-{end}" + (f"-{way}" if faces else ""),
        f"End of the {end}, {shape}",
        (
            f"{plan.spar.name}, the {end}{faces}: {tip.say('diameter')} across, beginning {tip.say('tip_length')} "
            "from the end",
            "Cut it out along the full line and hold it over the end, along the spar; the dashed lines are the flats, "
            "which you saw or file first.",
        ),
        tuple(_card(tip["tip_length"], tip["diameter"] / 2, tip["chamfers"])),
    )


def _card(long: float, radius: float, count: int) -> Iterator[Mark]:
    """The end at the right, x from where the shape begins."""
    left, right, high = -radius, long + EDGE, radius + EDGE
    yield Stroke(((left, radius), (left, high), (right, high), (right, -high), (left, -high), (left, -radius)), "cut")
    for j in (-1, 1):
        yield line(left, j * radius, 0.0, j * radius, "cut")
    yield ArcMark(0.0, 0.0, long, radius, -90.0, 90.0, "cut")
    ring = corners(long, radius, [0.0, *sorted(cut.lean for cut in chamfers(count)), 90.0])
    for j in (-1, 1):
        points = [(0.0, radius), *ring, (long, 0.0)]
        for (x1, y1), (x2, y2) in pairwise(points):
            yield line(x1, j * y1, x2, j * y2, "scribe")
    for back, _ in ring:
        yield line(back, radius + 1.5, back, radius + 5.0, "thin")
    yield line(left, 0.0, right, 0.0, "centre")
    yield note(left / 2, 2.0, "spar")
    yield TextMark(left + 2.0, radius + 2.5, "cut", SMALL_WORDS)
