"""What is let in, seen square on to its face: flats, bars, barrels, slots and holes of the fittings."""

from collections.abc import Iterator

from ...card.joints import hinge_of
from ...card.plan import CardPlan
from ...spar.fitting import Fitting
from ...spar.seat import chord, turned
from ..marks import ArcMark, Mark, line, loop, rectangle
from .template import EDGE, Template, note

_PARTS = 24  # of a flat's sides


def flats(plan: CardPlan) -> Iterator[Template]:
    """A template for every fitting that takes wood, once for its faces."""
    for letter, part in plan.lettered:
        if isinstance(part, Fitting) and part.takes_wood and part.kind != "lap":
            yield _of(plan, letter, part)


def _of(plan: CardPlan, letter: str, fitting: Fitting) -> Template:
    say = plan.job.length
    middle = plan.middle(fitting)
    sizes = [
        f"{words} {say(size)}"
        for words, size in (
            ("long", fitting.length), ("flat deep", fitting.flat), ("hole", fitting.hole), ("slot wide", fitting.slot),
            ("slot long", fitting.slot_long), ("bar wide", fitting.bar),
            ("bar's floor below the crown", fitting.bar_deep), ("barrel along", fitting.barrel),
            ("barrel's floor below the crown", fitting.barrel_deep),
        )
        if size
    ]  # fmt: skip
    inside = (fitting.barrel, fitting.bar, fitting.hole, fitting.slot)
    faces = fitting.face.replace("and", "and on")
    called = f"{fitting.kind}: {fitting.name}" if fitting.name else fitting.kind
    return Template(
        f"flat-{letter}-{middle:.0f}",
        f"Cut for the {called} ({letter})",
        (
            f"{plan.spar.name}, middle at {plan.place(middle)}, on face {faces}: {', '.join(sizes)}",
            "Cut it out along the full line. Lay its centre line on the spar's, the arrow to the head, and knife "
            "round it" + (", then scribe the dashed lines." if any(inside) else "."),
        ),
        tuple(_marks(plan, fitting, middle)),
    )


def _marks(plan: CardPlan, fitting: Fitting, middle: float) -> Iterator[Mark]:
    reach = max(fitting.reach, 10.0)
    across = plan.size(middle).across if fitting.face[0] in "AC" or not plan.oval else plan.depth(middle).across
    if fitting.flat and fitting.length:
        half = fitting.length / 2
        ats = [middle - half + fitting.length * k / _PARTS for k in range(_PARTS + 1)]
        sides = [(at - middle, flat_across(plan, fitting, at, fitting.flat) / 2) for at in ats]
        yield loop([*sides, *((x, -y) for x, y in reversed(sides))], "cut")
    else:
        yield rectangle((-reach - EDGE / 2, -across / 2, reach + EDGE / 2, across / 2), "cut")
    if fitting.bar and fitting.length:
        yield rectangle((-fitting.length / 2, -fitting.bar / 2, fitting.length / 2, fitting.bar / 2), "scribe")
    if fitting.barrel:
        wide = flat_across(plan, fitting, middle, fitting.barrel_deep)
        yield rectangle((-fitting.barrel / 2, -wide / 2, fitting.barrel / 2, wide / 2), "scribe")
    yield from _bolts(plan, fitting, middle)
    if fitting.slot:
        yield rectangle((-fitting.slot_long / 2, -fitting.slot / 2, fitting.slot_long / 2, fitting.slot / 2), "scribe")
    if fitting.hole:
        for off in fitting.bored_at:
            yield ArcMark(off, 0.0, fitting.hole / 2, fitting.hole / 2, pen="scribe")
            yield line(off, -fitting.hole / 2 - 2.5, off, fitting.hole / 2 + 2.5)
    end = reach + 8.0
    yield line(-end, 0.0, end, 0.0, "centre")
    yield line(end - 3.0, 1.2, end, 0.0)
    yield line(end - 3.0, -1.2, end, 0.0)
    yield note(end - 2.0, 2.2, "head")
    yield line(0.0, -across / 2 - 3.0, 0.0, -across / 2 + 1.0)


def _bolts(plan: CardPlan, fitting: Fitting, middle: float) -> Iterator[Mark]:
    """Where the holes of a hinge's leaves may be: a line for each row, from the first to the last."""
    hinge = hinge_of(plan, middle, fitting) if fitting.kind == "hinge" else ""
    if isinstance(hinge, str) or hinge["first_hole"] is None or hinge["last_hole"] is None:
        return
    apart = hinge["rows_apart"] or 0.0
    for y in {apart / 2, -apart / 2}:
        for way in (-1, 1):
            first, last = way * hinge["first_hole"], way * hinge["last_hole"]
            yield line(first, y, last, y, "scribe")
            for x in (first, last):
                yield ArcMark(x, y, hinge["hole"] / 2, hinge["hole"] / 2, pen="scribe")
    yield note(
        hinge["last_hole"] / 2 + hinge["first_hole"] / 2, apart / 2 + 4.0, "holes along these, or as your hinge has"
    )


def flat_across(plan: CardPlan, fitting: Fitting, at: float, deep: float) -> float:
    """How wide a floor is at a station that lies `deep` below the crown in the fitting's middle, parallel to the centre
    line.
    """
    at = min(max(at, 0.0), plan.spar.length)
    higher = (_through(plan, fitting, at) - _through(plan, fitting, plan.middle(fitting))) / 2
    here = plan.body.section_at(at)
    return here.each(lambda section: chord(turned(section, fitting.face[0]), deep + higher))


def _through(plan: CardPlan, fitting: Fitting, at: float) -> float:
    return plan.depth(at).across if plan.oval and fitting.face[0] in "AC" else plan.size(at).across
