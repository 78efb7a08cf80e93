"""A hollow spar: its two halves straightened, hollowed and glued, before it is worked as if it were solid."""

from ..calculator import Column, Table
from ..fields import Length, Value
from ..spar.body import SLOPE
from .joints import saws_of
from .plan import Plan
from .sawing import many, ripped, ripping
from .step import Step, questions


def is_hollow(plan: Plan) -> bool:
    """Whether it is hollow anywhere."""
    return any("hollow" in (stretch.heelward, stretch.headward) for stretch in plan.body.stretches)


def true_halves(plan: Plan) -> Step:
    """Straight before they are hollowed: what is planed off a hollowed half comes off its wall."""
    side, bow = plan.taper.say("blank_side"), []
    whole, half = plan.taper["blank_side"], plan.taper["blank_side"] / 2 + (plan.spar.bow or 0.0)
    rips = ripped(plan, (half, whole))
    if plan.spar.bow:
        bow = [
            f"They are bowed {plan.job.length(plan.spar.bow)}: sawn, each must be thicker by the bow, or the bow does "
            "not come out of it."
        ]
    beyond = [f"{saw.say('beyond_by')} further on beyond {plan.place(saw.asked.at)}" for saw in saws_of(plan)]
    further = f", for the saw {' and '.join(beyond)}" if beyond else ""
    return Step(
        "true-halves",
        "True the two halves",
        (
            f"The blank is made of two halves that meet along the centre lines of A and C: each is as wide as the "
            f"blank, {side}, and half as thick, with the allowance on its outside only. They are longer than "
            f"{plan.job.length(plan.spar.length)}.{many(plan)}",
            *bow,
            "Take all bow out now: none may be left to be planed out of a wall, or to spring the glue. Lay the hollow "
            "face down and plane it straight: that is the face to be glued. Square one edge to it.",
            "On both faces to be glued strike the centre line and set off the stations of the table, from the heel"
            f"{further}.",
        ),
        checks=("Laid face to face without a clamp: no light between them from end to end, and no rocking.",),
        cautions=("Guard, push block, feather board; hold it up past the blade.",),
        setup=ripping(rips),
        asked=questions(plan.taper, *rips, *saws_of(plan)),
    )


def hollow(plan: Plan) -> Step:
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
        Column("bore", Length("Bore", way="down")),
        Column("deep", Length("Deep in each half", way="down")),
    )
    solid = ", ".join(f"from {plan.place(start)} to {plan.place(end)}" for start, end in _solid(plan))
    return Step(
        "hollow",
        "Hollow the two halves",
        (
            f"Hollow both before they are glued, to a wall of {plan.job.length(plan.body.wall)}, measured from the "
            "centre line of the face to be glued: by the table the wall is nowhere thinner.",
            f"Solid for ends, joints and fittings, a mark to spare: {solid}. From there the hollow deepens from "
            f"nothing to what the table has over {SLOPE} widths of the spar, in a long slope, never in a step. Bore a "
            "drain where water could stand.",
            "Glue the halves, their stations together. From here on the blank is worked as if it were solid.",
        ),
        (Table("hollow", columns, tuple(rows)),) if rows else (),
        checks=("A template of half the bore, tried at every station before gluing.",),
        cautions=("The half clamped, both hands behind the edge. Glue off the skin.",),
        asked=questions(*sizes),
    )


def _stations(plan: Plan) -> list[float]:
    """The stations of the table where it is hollow, and both ends of every bore of full size."""
    bored = [stretch for stretch in plan.body.stretches if stretch.heelward == stretch.headward == "hollow"]
    ends = {round(end, 6) for stretch in bored for end in (stretch.start, stretch.end)}
    inside = {at for at in plan.ats for stretch in bored if stretch.start < at < stretch.end}
    return sorted(ends | inside)


def _solid(plan: Plan) -> list[tuple[float, float]]:
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
