"""A spar of staves: ripped, notched, tapered, plugged, tried dry and glued, and from the ring of faces to the round."""

from collections.abc import Iterator

from ..calculator import Column, Table
from ..fields import Length
from ..stock.blanks import whole
from .joints import marked
from .plan import CardPlan
from .rounding import COUNT, DOWNHILL, EDGES, rounded
from .sawing import ripped, ripping
from .squaring import SAW
from .step import Step, questions

_LIPS = "The lips of the notch are sharp, and break easily: carry staves by the plain edge. Wear no gloves at the saw."


def of_staves(plan: CardPlan) -> Iterator[Step]:
    yield _rip(plan)
    yield _notch(plan)
    if not plan.untapered:
        yield _taper(plan)
    yield _plugs(plan)
    yield _dry(plan)
    yield _glue(plan)
    yield _mark(plan)
    yield _flush(plan)
    yield from _to_round(plan)


def _rip(plan: CardPlan) -> Step:
    ring, blank = plan.staves(), whole(plan.job.boat, plan.spar, plan.rule)
    rips = ripped(plan, (blank.thickness,))
    count, many = plan.spar.staves, plan.spar.count
    made = f"{count} staves, and one to spare" + (f", for each of {many} spars" if many > 1 else "")
    return Step(
        "rip-staves",
        "Rip and plane the staves",
        (
            f"Rip {made}, each {ring.brief('rip_width')} by {ring.brief('rip_thickness')} and "
            f"{plan.job.length(blank.length)} long, of straight grain without a knot: a stave has no wood to spare "
            "round one.",
            "Where the timber is short, scarf the strips before they are planed, the scarf through the thickness: the "
            "cutting plan has the pieces. Turn every other stave end for end, so that no scarf lies beside another.",
            f"Plane them all to {ring.say('stave_thickness')} thick and {ring.say('widest_stave')} wide, both edges "
            "square. Thickness counts most: the notch is set by it.",
        ),
        setup=ripping(rips),
        checks=(
            f"Callipers on every stave read {ring.say('stave_thickness')} at both ends and in the middle, all alike.",
        ),
        cautions=(SAW,),
        asked=questions(ring, *rips),
    )


def _notch(plan: CardPlan) -> Step:
    ring = plan.staves()
    tilted = "upright" if ring["router_tilt"] < 0.05 else f"tilted {ring.say('router_tilt')} on a wedge"
    face = "inner" if plan.spar.staves < 8 else "outer"
    return Step(
        "notch-staves",
        "Notch one edge of every stave",
        (
            "Mark the outer face of every stave. Notch one edge only, at full width, before any taper.",
            f"The notch is a right angle, its bottom {ring.say('notch_depth')} in from the edge and "
            f"{ring.say('notch_below')} below the outer face. Its outer side lies at {ring.say('notch_outer')} to the "
            f"face, its inner side at {ring.say('notch_inner')}.",
        ),
        setup=(
            f"Saw: tilted {ring.say('saw_tilt')}. First cut: the stave flat, {face} face down, blade "
            f"{ring.say('saw_flat')} high; second cut: the stave on the notched edge against a high fence, blade "
            f"{ring.say('saw_edge')} high. Both cuts end in the bottom of the notch.",
            f"Or a router table: a V bit of 90°, {ring.brief('bit_least')} across at least, the stave on edge, "
            f"{tilted}; in two passes or three.",
        ),
        checks=(
            f"Tape {plan.spar.staves} short offcuts of the set-up to a ring: no gap anywhere, inside or out, and the "
            "widest size of the plan across its flats.",
        ),
        cautions=(
            "Use the guard, a push stick, and feather boards on table and fence. Never stand behind a thin strip.",
            _LIPS,
        ),
        asked=questions(ring),
    )


def _taper(plan: CardPlan) -> Step:
    rows = plan.of_stations("at", "stave", "off_plain")
    return Step(
        "taper-staves",
        "Taper the plain edges",
        (
            "Take wood off the plain edge only: set off the stave's width of the table at every station, measured from "
            "the lips of the notch. Join the marks fair.",
            "Saw or plane them stacked, all as one, the notches down on a bed with a V: it matters more that they are "
            "alike than that they are exact. Leave the thickness and the notch as they are.",
        ),
        (rows,),
        checks=("Lay any two staves side by side: they are alike at every station.",),
        cautions=(SAW,),
        asked=questions(*(plan.staves(at) for at in plan.ats)),
    )


def _plugs(plan: CardPlan) -> Step:
    ring = plan.staves()
    columns = (
        Column("plug_start", Length("Whole from")),
        Column("plug_end", Length("Whole to")),
        Column("heel_tail", Length("Heelward tail")),
        Column("head_tail", Length("Headward tail")),
        Column("hole_heel", Length("Heelward hole", rounding="down")),
        Column("hole_head", Length("Headward hole", rounding="down")),
    )
    rows = tuple(tuple(row[column.name] for column in columns) for row in ring.rows("plugs"))
    return Step(
        "plugs",
        "Make the plugs",
        (
            f"Make a plug of {plan.spar.staves} sides for every row of the table: they fill the ends, the joints and "
            "the places under fittings. A plug is whole between its two stations, and beyond each it has a tail as "
            "long as the table says. The last two columns are the spar's hole, across its flats, at the tip of each "
            "tail.",
            "Saw every tail to a swallowtail, two long points with a deep notch between: where a plug ends at once, "
            "the spar breaks. Bore a small hole lengthwise through every plug that lies between others, so that air "
            "and water can pass.",
        ),
        (Table("plugs", columns, rows),),
        checks=("Every plug slides into the dry ring at its place, snug and not forced.",),
        asked=questions(ring),
    )


def _dry(plan: CardPlan) -> Step:
    ring = plan.staves()
    return Step(
        "dry-run",
        "Put it together dry",
        (
            "Put the whole spar together without glue, all staves and plugs, on a straight bed, with every clamp that "
            "you will use. Time yourself: the glue must stay open for twice as long.",
            f"It is right when it closes everywhere and measures the width of the table across its flats. "
            f"The hole is {ring.say('hole')} across its flats where the spar is widest.",
        ),
        checks=("Stretch a string along two faces: it is straight. Look along the seams: there is no twist.",),
        asked=questions(ring),
    )


def _glue(plan: CardPlan) -> Step:
    ring = plan.staves()
    return Step(
        "glue-staves",
        "Glue the ring",
        (
            "Lay the staves side by side, outer faces down on tape. Brush slow glue, about "
            f"{ring.say('glue_mass')}, into every notch and round every plug, set the plugs, and roll the ring up.",
            f"Use {ring.say('clamps')} clamps or bands at least, one every three to four diameters. Draw them up "
            "together from the middle until glue shows along every seam, no more. Stretch the string and look along "
            "the seams again before the glue sets.",
            "Leave it on the bed until the glue is hard.",
        ),
        checks=("Glue shows along every seam; the spar is straight, without twist; both ends are closed.",),
        cautions=(
            "Wear gloves and goggles, and keep glue off your skin. Follow its maker on time, warmth and pressure.",
        ),
        asked=questions(ring),
    )


def _mark(plan: CardPlan) -> Step:
    says, check, saws = marked(plan)
    return Step(
        "mark-ring",
        "Strike the centre line and the stations",
        (
            "Strike the centre line of A along the middle of a stave's outer face. Turn the spar a quarter for B, then "
            "for C and D. Carry all four over the end grain at both ends, and mark A there: when the spar is round, "
            "its faces are found from those marks.",
            "Station 0 is the heel; leave the waste beyond both ends on. Set off the stations of the table along A, "
            "all from the heel with one tape, and square each all round.",
            *says,
        ),
        checks=(check,),
        asked=questions(*saws),
    )


def _flush(plan: CardPlan) -> Step:
    ring, thin = plan.staves(), plan.staves(min(plan.ats, key=plan.outline.width_at))
    return Step(
        "flush",
        f"Plane the corners flush: {_sides(plan.spar.staves)} sides",
        (
            f"At every seam one lip is higher than the face beside it, by {ring.fine('proud')} at the widest place. "
            f"Plane it down to that face and not into it: the faces have the size of the spar already. {DOWNHILL}",
        ),
        checks=(
            "Callipers across opposite faces read the width of the table at every station.",
            f"Each face is {ring.say('face')} wide at {plan.place(ring.asked.at)}, {thin.say('face')} at "
            f"{plan.place(thin.asked.at)}.",
        ),
        cautions=("Dry glue chips and cuts: wear goggles.", EDGES),
        asked=questions(ring, thin),
    )


def _to_round(plan: CardPlan) -> Iterator[Step]:
    ring, sides = plan.staves(), 2 * plan.spar.staves
    ats = plan.ats
    columns = (Column("at", Length("Station")), Column("edge_line", Length("In from each edge")),
               Column("edge_off", Length("Off the corner")), Column("facet", Length("New facet")))  # fmt: skip
    names = ("line_next", "off_next", "face_next")
    rows = tuple((at, *(plan.staves(at)[name] for name in names)) for at in ats)
    yield Step(
        "cut-twice",
        f"Line out and take the corners off: {_sides(sides)} sides",
        (
            f"Set off two lines on every face, in from each edge: {ring.fine('line_next')} at "
            f"{plan.place(ring.asked.at)}, and so on by the table. Plane each corner down to its two lines. {DOWNHILL}",
        ),
        (Table("twice the sides", columns, rows),),
        checks=(f"All {_sides(sides)} facets look alike at every station; no line is left, and none is passed.",),
        asked=questions(*map(plan.staves, ats)),
    )
    ridge, ridge_ok = "ridge_next", plan.facets(plan.widest_at)["ridge_ok"]
    if ring["ridge_next"] > ridge_ok:
        sides, ridge = 2 * sides, "ridge_last"
        yield Step(
            "cut-again",
            f"Take those corners off as well: {_sides(sides)} sides",
            (
                f"Take a few thin strokes off every corner, by eye: {ring.fine('ridge_next')} at the widest place. "
                "Where the spar is thin, leave them for sanding.",
            ),
            checks=(COUNT,),
            asked=questions(ring),
        )
    yield rounded(ring, sides, ridge, f" The wall of the round is nowhere less than {ring.brief('wall_least')}.")


def _sides(count: int) -> str:
    words = {
        6: "six", 8: "eight", 10: "ten", 12: "twelve", 16: "sixteen", 20: "twenty", 24: "twenty-four",
        32: "thirty-two", 40: "forty", 48: "forty-eight", 64: "sixty-four",
    }  # fmt: skip
    return words[count]
