"""From rough timber to a tapered square: join, true, centre line, and two pairs of faces."""

from collections.abc import Iterator, Sequence

from ..spar.tables import PUBLISHED
from ..stock.blanks import whole
from .ask import Answered, less_than, spelled
from .hollow import hollow, is_hollow, true_halves
from .joints import apart, joined, marked
from .plan import CardPlan
from .sawing import many, ripped, ripping, sawn_sides
from .step import Step, questions, unique

MANY = 6  # places, to be named in a line
SAW = "Use the guard, a push block and feather boards. Support the stick beyond the blade."


def squaring(plan: CardPlan) -> Iterator[Step]:
    joints = plan.spar.joints
    if scarfs := [joint.at for joint in joints if joint.kind == "scarf"]:
        yield _scarf(plan, scarfs)
    if is_hollow(plan):
        yield true_halves(plan)
        yield hollow(plan)
    yield _true(plan)
    if apart(plan):
        yield joined(plan)
    yield _centre(plan)
    if _comes_off(plan):
        yield _first(plan)
        yield _again(plan)
        yield _second(plan)


def _comes_off(plan: CardPlan) -> bool:
    """Whether any wood comes off the faces of the blank."""
    pair = (plan.taper, plan.taper_of_depth)
    return not plan.untapered or any(taper["off_each_face"] > 0 for taper in pair if taper)


def _places(plan: CardPlan, ats: Sequence[float]) -> str:
    return " and ".join(map(plan.job.length, ats))


def _middle_of_scarfs(plan: CardPlan, ats: list[float]) -> str:
    middle = "The middle of the scarf lies" if len(ats) == 1 else "The middles of the scarfs lie"
    return f"{middle} {_places(plan, ats)}"


def _scarf(plan: CardPlan, ats: list[float]) -> Step:
    job = plan.job
    thick = spelled(plan.spar.stick(job.boat.shop.planing or 0.0))
    answers = [job.ask("scarf", at, thickness=thick) for at in ats]
    scarf = answers[0]
    return Step(
        "scarf",
        "Scarf the stick to length",
        (
            f"{_middle_of_scarfs(plan, ats)} from the heel. A slope of {scarf.say('slope')} to 1 makes a scarf "
            f"{scarf.say('scarf_length')} long in a stick {scarf.say('thickness')} thick: together the pieces must be "
            f"{scarf.say('extra_length')} longer than the stick{', for each scarf' if len(ats) > 1 else ''}.",
            "Cut both slopes in one set-up, and try them dry against a straight edge.",
            "Glue on a flat, straight bed, the pieces lined up by a string. Leave the stick there until the glue is "
            "hard: it is trued as one piece.",
        ),
        checks=("Stretch a string along two faces side by side: there is no kink at the scarf.",),
        cautions=unique(*(scarf.result.cautions for scarf in answers)),
        asked=questions(*answers),
    )


def _true(plan: CardPlan) -> Step:
    job, spar, planing = plan.job, plan.spar, plan.job.boat.shop.planing
    rips = () if is_hollow(plan) else ripped(plan, sawn_sides(plan))
    made_of = ""
    if spar.blank is None and planing is not None:
        made_of = f", the thickest place and {job.length(planing)} on each face for planing"
    bow = []
    if is_hollow(plan):
        bow = [
            "Keep the glue line in the middle of A and C: as much comes off B as off D, or the wall is thinner on one "
            "side."
        ]
    elif spar.section == "hollow":
        bow = ["Make it solid: between ends, joints, fittings and square parts no hollow has room for its slopes."]
    if spar.bow and not is_hollow(plan):
        bow += [
            f"The stick is bowed {job.length(spar.bow)}: saw it that much thicker than the blank, or the bow will not "
            "come out."
        ]
    bare = []
    if spar.blank is None and planing is None:
        bare = [
            "The profile has no blank and no planing allowance: this is the finished size itself. Saw the blank larger."
        ]
    return Step(
        "true-blank",
        "True the blank",
        (
            f"The blank is {plan.blank}{made_of}. Leave it longer than {job.length(spar.length)}.",
            *_sawn(plan),
            *bow,
            _face(plan),
            f"Only now bring C and D parallel to A and B, to {plan.blank.removeprefix('a square of ')}.",
        ),
        setup=ripping(rips),
        checks=(
            "Stretch a string along A, then along B: no light shows under it anywhere.",
            "Lay winding sticks along it from heel to head: no twist. A and B are square at every station.",
        ),
        cautions=(SAW, *bare),
        asked=questions(plan.taper, *rips),
    )


def _sawn(plan: CardPlan) -> tuple[str, ...]:
    """The blank as it comes, of one stick; halves of a hollow spar have a step of their own."""
    if is_hollow(plan):
        return ()
    blank = whole(plan.job.boat, plan.spar, plan.rule)
    sides = tuple(map(plan.job.length, sawn_sides(plan)))
    size = f"{sides[0]} square" if len(sides) == 1 else " by ".join(sides)
    long = plan.job.length(blank.length)
    room = "the bow and for waste" if plan.spar.bow else "waste"
    several = " If it is made of several sticks, the cutting plan has the size of each." if apart(plan) else ""
    return (f"Saw the stick {size} and {long} long: that leaves room for {room} at both ends.{several}{many(plan)}",)


def _face(plan: CardPlan) -> str:
    """How the first face comes about, and the edge beside it."""
    beside = "Plane the edge beside it straight and square to A: that is B. Mark both."
    if is_hollow(plan):
        return (
            "Plane a face with the glue line in its middle straight, and take off no more than it needs: that is face "
            f"A. {beside}"
        )
    return (
        "Take the bow out first, before it is brought to size. Look along the stick for its hollow face, and plane "
        f"that straight: that is face A. {beside}"
    )


def _centre(plan: CardPlan) -> Step:
    says, check, saws = marked(plan)
    return Step(
        "mark-centre",
        "Strike the centre line and the stations",
        (
            f"{_middle(plan)} Carry it over the end grain at both ends, and mark A there: when the spar is round, its "
            "faces are found from those marks.",
            "Station 0 is the heel; leave the waste beyond both ends on. Set off the stations of the table along A, "
            "all from the heel with one tape, and square each round all four faces.",
            *says,
        ),
        checks=(check, "At both ends the lines of A and C lie square over each other."),
        asked=questions(*saws),
    )


def _middle(plan: CardPlan) -> str:
    """How the centre line is found."""
    if is_hollow(plan):
        return "On A and on C the glue line is the centre line, from end to end: darken it."
    faces = "A and on C" if _comes_off(plan) else "each of the four faces"
    return (
        f"On {faces} gauge from both edges at either end, take the middle, and strike the centre line between with a "
        "string."
    )


def _halves(plan: CardPlan, scarf: Answered) -> str:
    """How far the lines lie from the centre line, in words; the whole is in the table."""
    if plan.untapered:
        return f"{scarf.say('half_at')} all along"
    most = "deepest" if scarf is plan.taper_of_depth else "widest"
    return f"{scarf.say('half_at')} at {plan.place(scarf.asked.at)}, the {most} place, and so on by the table"


def _batten(plan: CardPlan, taper: Answered) -> str:
    """How far a natural batten would leave the curve of a faired spar if it went by the plan's own stations alone."""
    if taper["batten_off"] is None:
        return ""
    off, whose = taper["batten_off"], "book" if plan.spar.law in PUBLISHED else "plan"
    alone = f"Through the {whose}'s own stations alone a batten would lie"
    if plan.job.unseen(off):
        return f" {alone} the same, to {less_than(plan.rule)}."
    by, way = plan.job.length(abs(off)), "outside" if off > 0 else "inside"
    return f" {alone} {by} {way} at {plan.place(taper['batten_at'])}: use every mark."


def _joined(plan: CardPlan, answer: Answered) -> str:
    """How the marks are joined to a line."""
    if not plan.untapered and plan.spar.law != "straight":
        return f"Bend a batten fair through the marks and draw along it.{_batten(plan, answer)}"
    inner = [] if plan.untapered else [station.at for station in plan.spar.stations[1:-1]]
    where = _places(plan, inner) if len(inner) <= MANY else "every station of the plan"
    corner = f"; the line has a corner at {where}" if inner else ""
    return f"Draw along a straight edge{corner}."


def _worked(plan: CardPlan, which: str, faces: str) -> str:
    both = f"the {which} two faces, {faces}"
    return f"Plane {both}, to size" if plan.untapered else f"Taper {both}"


def _to_lines(plan: CardPlan, on: str = "") -> str:
    """How the wood outside the lines comes off: what is left on for planing alone is planed."""
    return "Plane down to the lines" if plan.untapered else f"Saw a little outside the lines{on} and plane to them"


def _first(plan: CardPlan) -> Step:
    keep = () if plan.untapered else ("Keep both offcuts: the stick will lie on one of them for the second pair.",)
    return Step(
        "first-faces",
        _worked(plan, "first", "B and D"),
        (
            f"On A and C set off half the width on each side of the centre line: {_halves(plan, plan.taper)}. "
            f"{_joined(plan, plan.taper)}",
            f"{_to_lines(plan)}, square to A. The table has what comes off each face.",
            *keep,
        ),
        (plan.of_stations("at", "width", "half", "off_each_face"),),
        checks=("Callipers across B and D read the width of the table at every station, or a hair over.",),
        cautions=(SAW,),
        asked=questions(plan.taper, *(plan.size(at).by for at in plan.ats)),
    )


def _again(plan: CardPlan) -> Step:
    what = "half the depth" if plan.oval else "the same halves"
    bearers = (
        "Turn B up. "
        if plan.untapered
        else "Tape the offcut of D back on, and lay the stick on that side: B is up, and bare. "
    )
    under = "" if plan.untapered else "; the offcut under it touches all along"
    return Step(
        "turn",
        "Turn it a quarter and mark afresh",
        (
            f"{bearers}The marks on B and D went with the wood: strike their centre lines anew and carry them over the "
            f"end grain, carry the stations over from A and C, and set off {what}.",
            "Never saw the second pair by lines that were drawn before the first pair was cut.",
        ),
        checks=(f"The stick lies flat and does not rock{under}.",),
    )


def _second(plan: CardPlan) -> Step:
    on = ", with the offcut underneath,"
    side = plan.taper_of_depth or plan.taper
    what, names, size = ("width", ("width", "half", "off_each_face"), plan.size)
    alike = f"Width both ways is alike at every station, to one mark of the rule ({plan.rule})."
    if plan.oval:
        what, names, size = ("depth", ("depth", "half_depth", "off_depth"), plan.depth)
        alike = "Callipers across A and C read the depth of the table at every station, or a hair over."
    return Step(
        "second-faces",
        _worked(plan, "second", "A and C"),
        (
            f"On B and D the lines lie half the {what} to each side of the centre line: {_halves(plan, side)}. "
            f"{_joined(plan, side)}",
            f"{_to_lines(plan, on)}, square to B.",
        ),
        (plan.of_stations("at", *names),),
        checks=(alike, "Try a square in all four corners at every station: a twist here shows in every facet."),
        cautions=(SAW,),
        asked=questions(side, *(size(at).by for at in plan.ats)),
    )
