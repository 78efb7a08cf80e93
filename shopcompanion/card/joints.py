"""Joints at which a spar comes apart: its parts made as one stick, the saw's place in it, and the sawing.

While the parts are one stick it is longer than the spar by what the saw takes at every joint, and what lies beyond a
joint is marked that much further on. Once sawn and laid end to end, the parts have the stations of the plans; what is
let in across a joint is cut then.
"""

from collections.abc import Sequence
from itertools import pairwise

from ..calculator import Column, Table
from ..errors import CompanionError
from ..fields import Count, Length, Text
from ..spar.along import APART, Joint
from ..spar.fitting import Fitting
from ..stock.blanks import largest_between
from .ask import Answered, reason_of, spelled
from .plan import CardPlan
from .step import Step, questions, unique

_NEAR = 1e-3  # mm; a hinge no farther from a joint lies on it


def apart(plan: CardPlan) -> list[Joint]:
    """The joints that are sawn, from the heel."""
    return sorted((joint for joint in plan.spar.joints if joint.kind in APART), key=lambda joint: joint.at)


def hinge_on(plan: CardPlan, joint: Joint) -> Fitting | None:
    """The hinge that lies over a joint, where the profile has one."""
    return next(
        (
            fitting
            for fitting in plan.spar.fittings
            if fitting.kind == "hinge" and abs(fitting.middle(plan.spar.length) - joint.at) < _NEAR
        ),
        None,
    )


def hinge_of(plan: CardPlan, at: float, fitting: Fitting | None) -> Answered | str:
    """The hinge at a joint as the profile has it, or as wide as the spar carries where it has none.

    Where no hinge can be there as it is given, why.
    """
    texts: dict[str, str] = {"joint_at": spelled(at)}
    if fitting is not None:
        texts["face"] = fitting.faces[0]
        if fitting.length:
            texts["leaf_length"] = spelled(fitting.length / 2)
        sizes = {"flat_at_joint": fitting.flat, "hole": fitting.hole, "barrel": fitting.barrel}
        texts |= {name: spelled(size) for name, size in sizes.items() if size}
    try:
        return plan.job.ask("hinge", at, **texts)
    except CompanionError as fault:
        return reason_of(fault, plan.rule)


def saw_at(plan: CardPlan, joint: Joint) -> Answered:
    """Where the saw goes at a joint, and how much longer the stick is for it; the dowels there are another question."""
    thin = plan.outline.width_at(joint.at) / 10
    return plan.job.ask("dowels", joint.at, dowel=spelled(thin), count="1", in_each="100 mm")


def saws_of(plan: CardPlan) -> tuple[Answered, ...]:
    """The same for every joint that is sawn, from the heel."""
    return tuple(saw_at(plan, joint) for joint in apart(plan))


def further(plan: CardPlan) -> str:
    """How much further on than in the table the stations lie while the parts are one stick, behind what says so."""
    beyond = [f"{saw.say('beyond_by')} further on beyond {plan.place(saw.asked.at)}" for saw in saws_of(plan)]
    return f", for the saw {' and '.join(beyond)}" if beyond else ""


def dowels_at(plan: CardPlan, joint: Joint) -> Answered | None:
    """The dowels that hold the parts at a joint while they are shaped as one; None where none fit."""
    hinge = hinge_of(plan, joint.at, hinge_on(plan, joint)) if joint.kind == "hinge" else None
    return _dowels_at(plan, joint, hinge)


def _dowels_at(plan: CardPlan, joint: Joint, hinge: Answered | str | None) -> Answered | None:
    """The dowels at a joint, clear of its hinge: outside the rows of holes or between them, whichever takes the
    thicker ones; where neither takes any, short of the first hole.

    None where none fit.
    """
    if not isinstance(hinge, Answered):
        return _asked(plan, joint, {})
    cut = {"line": "B to D" if hinge["face"] in "AC" else "A to C", "cut_away": spelled(hinge["dowels_below"])}
    ways = [{**cut, "keep_clear": spelled(hinge["keep_clear"])}]
    if hinge["between_rows"]:
        least = min(size.across for size in plan.sizes(joint.at))
        ways.append({**cut, "cover": spelled((least - hinge["between_rows"]) / 2)})
    possible = [dowels for way in ways if (dowels := _asked(plan, joint, way))]
    if possible:
        return max(possible, key=lambda dowels: float(dowels["dowel_used"]))
    return _asked(plan, joint, {**cut, "in_each": spelled(hinge["dowel_free"])})


def _asked(plan: CardPlan, joint: Joint, way: dict[str, str]) -> Answered | None:
    try:
        return plan.job.ask("dowels", joint.at, **way, **_density(plan))
    except CompanionError:
        return None


def _density(plan: CardPlan) -> dict[str, str]:
    """How heavy the spar's timber is, where it is known."""
    try:
        return {"density": f"{plan.job.ask('weight')['density']:.6g} kg/m^3"}
    except CompanionError:
        return {}


def joined(plan: CardPlan) -> Step:
    """The parts held end to end while they are shaped as one, from one stick or from several."""
    joints = apart(plan)
    saws = saws_of(plan)
    hinges = [hinge_of(plan, joint.at, hinge_on(plan, joint)) if joint.kind == "hinge" else None for joint in joints]
    dowels = [_dowels_at(plan, joint, hinge) for joint, hinge in zip(joints, hinges, strict=True)]
    saw = saws[0]
    says = [
        f"If one stick is long enough, make the parts of that: it needs no dowels. The saw takes {_kerf(plan, saw)} at "
        f"each joint when the spar is finished, so until then the stick is {saws[-1].say('stick_length')} from heel to "
        "head.",
        f"If they are made of several sticks, leave each part {saw.brief('part_longer')} longer at a joint, square the "
        "ends that meet, and gauge both centre lines on them from A and from B."
        + (
            " Bore for dowels along the spar, and glue them in with a string along two faces until the glue is hard."
            if any(dowels)
            else ""
        ),
    ]
    if _has_a_thinner_part(plan):
        says.append(
            "A part that is thinner all along may be made of a thinner stick, as the cutting plan may have it. Join it "
            "centre line to centre line, and mark it by its half widths: what the table has off each face is for "
            f"{plan.blank}."
        )
    for joint, hinge, joint_dowels in zip(joints, hinges, dowels, strict=True):
        says += _said_of(plan, joint, hinge, joint_dowels)
    table = _dowel_table([dowel for dowel in dowels if dowel])
    return Step(
        "dowel",
        "Join the parts end to end, to be shaped as one",
        tuple(says),
        (table,) if table.rows else (),
        checks=("Try it dry: the ends close all round, and the string touches all along.",),
        cautions=_cautions(plan, [dowel for dowel in dowels if dowel]),
        asked=questions(*saws, *(hinge for hinge in hinges if isinstance(hinge, Answered)), *dowels),
    )


def _has_a_thinner_part(plan: CardPlan) -> bool:
    """Whether a part between two joints is everywhere thinner than the widest place of the spar."""
    ends = [0.0, *(joint.at for joint in apart(plan)), plan.spar.length]
    return any(
        plan.outline.widest - largest_between(plan.outline, start, end) >= float(plan.rule.step)
        for start, end in pairwise(ends)
    )


def _cautions(plan: CardPlan, dowels: Sequence[Answered]) -> tuple[str, ...]:
    """What all the joints' dowels warn of; what only some of them do, with the joint that it is said of."""
    said = [dowel.result.cautions for dowel in dowels]
    everywhere = [line for line in unique(*said) if all(line in own for own in said)]
    of_one = [
        f"At {plan.place(dowel.asked.at)}: {line[0].lower()}{line[1:]}"
        for dowel, own in zip(dowels, said, strict=True)
        for line in own
        if line not in everywhere
    ]
    return (*of_one, *everywhere)


def _said_of(plan: CardPlan, joint: Joint, hinge: Answered | str | None, dowels: Answered | None) -> list[str]:
    """What is to be said of one joint's dowels: where they keep clear of its hinge, or that none fit."""
    where = plan.place(joint.at)
    says = []
    if isinstance(hinge, str):
        says.append(
            f"The hinge at {where} cannot be worked out: {hinge}. The dowels are not set clear of it: correct the "
            "profile, and print this again."
        )
        hinge = None
    elif joint.kind == "hinge" and hinge_on(plan, joint) is None:
        wide = f" The widest leaf that fits the spar there is {hinge.brief('widest_leaf')}" if hinge else ""
        clear = ", and the dowels are set clear of that one." if hinge and dowels else "." if hinge else ""
        says.append(
            f"No hinge is given for the joint at {where}: choose one now, put it in the profile, and print this again."
            f"{wide}{clear}"
        )
    if dowels is None:
        beside = " beside the hinge" if hinge else ""
        says.append(
            f"At {where} no dowel that is sold fits{beside}. Make the parts of one stick, or hold them end to end with "
            "battens clamped along two faces, and move the battens as the work goes round."
        )
    elif hinge is not None:
        way = dict(dowels.asked.typed)
        rows = f"and end short of its first holes, {hinge.brief('first_hole')} from the joint"
        if "keep_clear" in way:
            rows = f"outside the middle {hinge.brief('keep_clear')}, where its holes are"
        elif "cover" in way:
            rows = f"within the middle {hinge.brief('between_rows')}, between its rows of holes"
        says.append(
            f"At {where} set the dowels on the line {dowels['line']}, clear of the hinge in face {hinge['face']}: "
            f"below its flat and barrel, which reach {hinge.brief('dowels_below')} below the crown, {rows}."
        )
    return says


def _dowel_table(dowels: Sequence[Answered]) -> Table:
    columns = (
        Column("at", Length("Joint")),
        Column("count", Count("Dowels")),
        Column("dowel_used", Length("Thick")),
        Column("dowel_length", Length("Long")),
        Column("line", Text("On the line")),
        Column("circle", Length("On a circle of", rounding="down")),
        Column("hole_depth", Length("Bore each part", rounding="up")),
    )
    rows = tuple((dowel.asked.at, *(dowel[column.name] for column in columns[1:])) for dowel in dowels)
    return Table("dowels", columns, rows)


def marked(plan: CardPlan) -> tuple[tuple[str, ...], str, tuple[Answered, ...]]:
    """How the joints are set off along one stick: paragraphs, the check of its length, and what was asked."""
    saws = saws_of(plan)
    length = plan.job.length(plan.spar.length)
    if not saws:
        return (), f"Heel to head {length}.", ()
    says = tuple(
        f"For the joint at {plan.place(saw.asked.at)} square two lines round, at {saw.say('saw_from')} and "
        f"{saw.say('saw_to')}: the saw will take what is between. Set off the stations beyond from the second line, as "
        f"if that were {plan.place(saw.asked.at)}: on the tape they are {saw.say('beyond_by')} further than in the "
        "table."
        for saw in saws
    )
    check = f"Heel to head {saws[-1].say('stick_length')}: {length}, and {saws[-1].say('beyond_by')} for the saw."
    return says, check, saws


def _kerf(plan: CardPlan, saw: Answered) -> str:
    """The kerf in words; that it is assumed, where nobody entered the saw's."""
    return saw.say("kerf") + (" (assumed, none was entered)" if plan.job.boat.shop.kerf is None else "")


def part(plan: CardPlan) -> Step:
    """The parts sawn apart and laid end to end again, before anything is let in across a joint."""
    joints = apart(plan)
    saws = saws_of(plan)
    where = "; ".join(
        f"from {saw.say('saw_from')} to {saw.say('saw_to')} ({joint.kind})"
        for joint, saw in zip(joints, saws, strict=True)
    )
    kerf = f"Saw between the two lines: the kerf is {_kerf(plan, saws[0])}"
    trued = f", and {saws[0].say('trued')} is left on each end to plane to the line" if saws[0]["trued"] else ""
    says = [
        f"Before the first cut measure the two lines of each joint from the heel again: {where}. Square them round, "
        "and strike a mark along the spar across them, so that the parts go together as they were shaped.",
        f"{kerf}{trued}." + ("" if plan.of_staves else " Leave the stubs of dowels where they are."),
        "Lay the parts end to end on a straight bed, marks together and strings along two sides, and clamp them so. "
        "From here on every station is that of the table.",
    ]
    if any(joint.kind == "ferrule" for joint in joints):
        says.append("Fit the ferrule to both ends now, as its maker says.")
    return Step(
        "part",
        "Saw the parts apart",
        tuple(says),
        checks=(
            "The ends are square both ways, and close all round when the parts lie end to end in one straight line.",
            f"Heel to head {plan.job.length(plan.spar.length)}, the ends closed.",
        ),
        cautions=("Support both parts, so that the saw is not pinched at the end of the cut.",),
        asked=questions(*saws),
    )
