"""The jaws at a spar's heel: the heel cut to the throat, the cheeks made and put on."""

from collections.abc import Sequence

from ..errors import CompanionError
from ..profile.asking import jaws_texts
from ..spar.kinds import MASTS
from .ask import Answered, reason_of
from .plan import CardPlan
from .step import Step, questions


def jaws_of(plan: CardPlan) -> Answered | None:
    """The jaws at the heel, for the boat's mast: flats, length on the spar and rods as the profile has them.

    None where the spar has none or the boat no mast, or no jaws as they are by default fit it.
    """
    texts = jaws_texts(plan.spar)
    if texts is None:
        return None
    try:
        return plan.job.ask("jaws", None, **texts)
    except CompanionError:
        return None


def jaws_fault(plan: CardPlan) -> str | None:
    """Why no step makes the jaws that the spar has; None where there are steps, or no jaws."""
    fitting = next((fitting for fitting in plan.spar.fittings if fitting.kind == "jaws"), None)
    if fitting is None or jaws_of(plan) is not None:
        return None
    texts = jaws_texts(plan.spar)
    if texts is not None:
        return next(reason_of(fault, plan.rule) for asked, fault in plan.job.unanswered if asked.calculator == "jaws")
    if plan.spar.kind in MASTS:
        return "jaws go round a mast, on the spar that it carries"
    return (
        "they are worked out for jaws at the heel, and these stand nearer to the head. Turn the spar round in its "
        "profile, so that its stations count from the jaws, and print this again"
    )


def jaws_steps(plan: CardPlan, jaws: Answered) -> tuple[Step, Step]:
    """The heel cut to the throat, and the jaws made and put on it; the holes for their rods come next."""
    fitting = next(fitting for fitting in plan.spar.fittings if fitting.kind == "jaws")
    sides = fitting.faces if len(fitting.faces) > 1 else ["B", "D"]
    return _throat(jaws, None if fitting.flat else sides), _cheeks(jaws, sides, bool(fitting.hole))


def _lies(jaws: Answered) -> str:
    """How the spar stands to the mast."""
    peaked = f"peaked to {jaws.say('peak_angle')}" if jaws["peak_angle"] else "that lies level"
    return peaked + (f", the mast raked {jaws.say('rake')}" if jaws["rake"] else "")


def _throat(jaws: Answered, seats: Sequence[str] | None) -> Step:
    """The spar's own heel is the bottom of the throat: cut to it before the cheeks go on.

    `seats` are the faces in which no step has cut the cheeks' seats yet.
    """
    say = jaws.brief
    bevelled = abs(jaws["heel_off"]) > 0
    along = " and along the bevel" if bevelled else ""
    tilted = ", tilted as the bevel is" if bevelled else ""
    first = []
    if seats and jaws["seat"] == "flat":
        first.append(
            f"First cut the flats for the cheeks: a flat {say('seat_depth')} deep in {seats[0]} and another in "
            f"{seats[1]}, each from the heel to {say('along_pole')}, in one plane parallel to the centre line."
        )
    says = [
        *first,
        "The line at station 0 is the bottom of the throat, half way through the spar. The cut needs "
        f"{say('heel_waste')} of waste beyond it.",
        f"Saw the heel {say('throat_bevel')} off square, for a spar {_lies(jaws)}: from one side of the spar to the "
        f"other that is {say('heel_off')}, half to each side of the line, with the spar longer underneath."
        if bevelled
        else f"Saw the heel square, for a spar {_lies(jaws)}.",
        f"Hollow it between the flats of the cheeks to a radius of {say('throat_radius')}, {say('heel_hollow')} deep "
        f"in the middle, down to the line{along}.",
    ]
    return Step(
        "throat",
        "Cut the heel to the throat",
        tuple(says),
        checks=(f"A template of the throat, {say('opening')} across, fits the hollow all through{tilted}.",),
        cautions=("Clamp the spar, and keep both hands behind the gouge's edge.",),
        asked=questions(jaws),
    )


def _cheeks(jaws: Answered, sides: Sequence[str], bored: bool) -> Step:
    """The cheeks themselves, put on the heel that is cut for them."""
    say, bevelled = jaws.brief, abs(jaws["bevel_off"]) > 0
    sits = (
        f"The cheeks sit on the flats, {say('seat_depth')} deep"
        if jaws["seat"] == "flat"
        else f"Each cheek sits on the round with a cove of {say('cove_used')}, {say('seat_depth')} deep"
    )
    swung = "peaked and lowered" if jaws["peak_angle"] else "raised and lowered"
    rods = f"{jaws['rods_used']} rods, the first {say('rod_first')} from the heel"
    rods += f" and then {say('rod_apart')} apart" if jaws["rod_apart"] is not None else ""
    return Step(
        "jaws",
        "Make the jaws and put them on",
        (
            f"Mark: two cheeks of {say('plank')} plank, each {say('cheek_length')} long, {say('along_pole')} of it on "
            f"the spar, {say('cheek_width')} wide across at the heel. Between the horns {say('opening')}, the throat a "
            f"half round of {say('throat_radius')}; each horn {say('horn_used')} wide and {say('horn_length')} from "
            "throat to tip.",
            f"{sits}, one on {sides[0]} and one on {sides[1]}, and {'meet' if jaws['seat'] == 'flat' else 'meets'} "
            "the spar's hollowed heel in one curve.",
            f"Set: the saw's table or a guide for the rasp to {say('throat_bevel')} for the throat, for a spar "
            f"{_lies(jaws)}."
            if bevelled
            else f"Set: the saw's table square: the throat has no bevel on a spar {_lies(jaws)}.",
            (
                f"Cut: the outline square, then the throat to its bevel, {say('bevel_off')} from face to face. Ease "
                "its edges."
                if bevelled
                else "Cut: the outline and the throat with it. Ease the edges of the throat."
            ),
            f"Clamp the cheeks on. The rods go through both and the spar together: {rods}. Each rod is {say('rod')} "
            f"thick and {say('rod_length')} long. "
            + (
                "Bore for them in the next step."
                if bored
                else "Bore for them from both sides, to meet in the middle, and bolt the cheeks on."
            ),
            f"Leather the throat with a piece {say('leather_length')} by {say('leather_width')}. The parrel is "
            f"{say('parrel_length')} from horn to horn, with {say('bead_count')} beads of {say('bead_diameter')}.",
        ),
        checks=(f"Try it on the mast, {swung}: it swings free, and bears in the throat.",),
        cautions=jaws.result.cautions,
        asked=questions(jaws),
    )
