"""A hollow spar: its two halves straightened, hollowed and glued, before it is worked as if it were solid."""

from ..calculator import Column, Table
from ..fields import Length, Value
from ..spar.body import SLOPE
from ..stock.blanks import is_hollow as spar_is_hollow
from ..stock.blanks import whole as blank_of
from .joints import apart, further, saws_of
from .plan import CardPlan
from .sawing import many, ripped, ripping
from .step import Step, questions


def is_hollow(plan: CardPlan) -> bool:
    """Whether it is hollow anywhere."""
    return spar_is_hollow(plan.spar)


def true_halves(plan: CardPlan) -> Step:
    """Straight before they are hollowed: what is planed off a hollowed half comes off its wall."""
    side, bow = plan.taper.say("blank_side"), []
    sawn = blank_of(plan.job.boat, plan.spar, plan.rule)
    room = "the bow and for waste" if plan.spar.bow else "waste"
    several = " If they are made of several sticks, the cutting plan has the size of each." if apart(plan) else ""
    whole, half = plan.taper["blank_side"], plan.taper["blank_side"] / 2 + (plan.spar.bow or 0.0)
    rips = ripped(plan, (half, whole))
    if plan.spar.bow:
        bow = [f"They are bowed {plan.job.length(plan.spar.bow)}, which is in that thickness already."]
    return Step(
        "true-halves",
        "True the two halves",
        (
            f"The blank is made of two halves that meet along the centre lines of A and C. Each is as wide as the "
            f"blank, {side}, and half as thick, with the allowance on its outside only.",
            f"Saw each {plan.job.length(sawn.thickness)} by {plan.job.length(sawn.width)} and "
            f"{plan.job.length(sawn.length)} long: that leaves room for {room} at both ends.{several}{many(plan)}",
            *bow,
            "Take all the bow out now: what is planed off later comes off a wall, and a bent half pulls at the glue. "
            "Plane the hollow face straight: that is the face to be glued. Square one edge to it.",
            "On both faces to be glued strike the centre line and set off the stations of the table, from the heel"
            f"{further(plan)}.",
        ),
        checks=("Lay the halves face to face without a clamp: no light between them from end to end, no rocking.",),
        cautions=("Use the guard, a push block and feather boards. Support the half beyond the blade.",),
        setup=ripping(rips),
        asked=questions(plan.taper, *rips, *saws_of(plan)),
    )


def hollow(plan: CardPlan) -> Step:
    """The bore at every station where there is one, and where it stays solid."""
    rows: list[tuple[Value, ...]] = []
    sizes = []
    for at in _stations(plan):
        size = plan.size(at)
        across = size.across - 2 * plan.body.wall
        if across > 0:
            rows.append((at, across, across / 2))
            sizes.append(size.by)
    columns = (
        Column("at", Length("Station")),
        Column("bore", Length("Bore", rounding="down")),
        Column("deep", Length("Deep in each half", rounding="down")),
    )
    solid = ", ".join(f"from {plan.place(start)} to {plan.place(end)}" for start, end in _solid(plan))
    return Step(
        "hollow",
        "Hollow the two halves",
        (
            f"Hollow both halves before they are glued, half the bore to each side of the centre line. By the table "
            f"the wall of the finished spar is nowhere thinner than {plan.job.length(plan.body.wall)}.",
            f"Leave them solid for ends, joints and fittings, with a little to spare: {solid}. From there let the "
            f"hollow deepen from nothing to the size of the table over {SLOPE} widths of the spar, in a long slope, "
            "never in a step. Bore a drain where water could stand.",
            "Glue the halves, their stations together. From here on work the blank as if it were solid.",
        ),
        (Table("hollow", columns, tuple(rows)),) if rows else (),
        checks=("Try a template of half the bore at every station before gluing.",),
        cautions=(
            "Clamp the half, and keep both hands behind the edge.",
            "Keep glue off your skin, and wash it off at once as its maker says.",
        ),
        asked=questions(*sizes),
    )


def _stations(plan: CardPlan) -> list[float]:
    """The stations of the table where it is hollow, and both ends of every bore of full size."""
    bored = [stretch for stretch in plan.body.stretches if stretch.heelward == stretch.headward == "hollow"]
    ends = {round(end, 6) for stretch in bored for end in (stretch.start, stretch.end)}
    inside = {at for at in plan.ats for stretch in bored if stretch.start < at < stretch.end}
    return sorted(ends | inside)


def _solid(plan: CardPlan) -> list[tuple[float, float]]:
    """Where there is no hollow at all, from the heel."""
    solid: list[tuple[float, float]] = []
    for stretch in plan.body.stretches:
        if "hollow" in (stretch.heelward, stretch.headward):
            continue
        if solid and solid[-1][1] == stretch.start:
            solid[-1] = (solid[-1][0], stretch.end)
        else:
            solid.append((stretch.start, stretch.end))
    return solid
