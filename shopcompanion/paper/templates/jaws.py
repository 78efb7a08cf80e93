"""The cheeks of a gaff's jaws: the outline on the plank, the run of the grain, the throat at both of its faces."""

from collections.abc import Iterator
from math import asin, degrees

from ...card.ask import Answered
from ...card.jaws import jaws_of
from ...card.plan import CardPlan
from ..marks import ArcMark, Mark, Stroke, TextMark, line
from .template import SMALL_WORDS, Template, note


def jaws(plan: CardPlan) -> Iterator[Template]:
    """The cheek, which is cut twice, the second one turned over; none for a spar without jaws."""
    jaws = jaws_of(plan)
    if jaws is None:
        return
    say = jaws.brief
    off = (
        f"The bevel runs {say('bevel_off')} from face to face at {say('throat_bevel')}: full line on the upper face, "
        "dashed line on the lower."
        if abs(jaws["bevel_off"]) > 0
        else "The throat is square to the plank."
    )
    yield Template(
        "jaws-cheek",
        "Cheek of the jaws",
        (
            f"{plan.spar.name}, at the heel; cut two of {say('plank')} plank, the second turned over: opening "
            f"{say('opening')}, throat radius {say('throat_radius')}, {say('cheek_length')} long",
            f"Grain along the arrows. {off}",
        ),
        tuple(_cheek(jaws)),
    )


def _cheek(jaws: Answered) -> Iterator[Mark]:
    """Half of the jaws, above the gaff's centre line: x from the throat's bottom towards the horn's tip."""
    half, tip, outer = jaws["opening"] / 2, jaws["horn_length"], jaws["opening"] / 2 + jaws["horn_used"]
    inner = jaws["gaff_width"] / 2 - jaws["seat_depth"]
    back, after = -jaws["along_pole"], inner + jaws["cheek_width"]
    begins = degrees(asin(min(1.0, inner / half))) if inner > 0 else 0.0  # where the throat leaves the gaff's side
    off = jaws["bevel_off"] / 2  # the mast leans towards the gaff above the middle of the plank, away from it below
    meets = half - off - (half**2 - min(inner, half) ** 2) ** 0.5
    yield ArcMark(half - off, 0.0, half, half, 90.0, 180.0 - begins, "cut")
    outline = (
        (half - off, half),
        (tip, half),
        (tip, outer),
        (0.0, outer),
        (back, after),
        (back, inner),
        (meets, inner),
    )
    yield Stroke(outline, "cut")
    if abs(off) > 0:
        yield ArcMark(half + off, 0.0, half, half, 90.0, 180.0 - begins, "scribe")
    yield line(back - 5.0, 0.0, tip, 0.0, "centre")
    yield note((back + tip) / 3, -4.0, "centre line of the spar")
    for part in ((k + 0.5) / jaws["rods_used"] for k in range(jaws["rods_used"])):
        x = -part * jaws["along_pole"]
        yield line(x, inner, x, outer + part * (after - outer), "scribe")
        yield TextMark(x + 1.0, inner + 2.0, "rod", SMALL_WORDS)
    middle = (inner + after) / 2
    yield line(back * 0.8, middle, back * 0.2, middle)
    for way, x in ((1, back * 0.8), (-1, back * 0.2)):
        yield Stroke(((x + way * 4.0, middle + 1.5), (x, middle), (x + way * 4.0, middle - 1.5)))
    yield note(back * 0.5, middle + 1.5, "grain")
