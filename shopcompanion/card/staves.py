"""A spar of staves: ripped, notched, tapered, plugged, tried dry and glued, and from the ring of faces to the round."""

from collections.abc import Iterator

from ..calculator import Column, Table
from ..fields import Length
from ..stock.blanks import whole
from .joints import marked
from .plan import Plan
from .rounding import DOWNHILL, DRAW
from .sawing import ripped, ripping
from .squaring import SAW
from .step import Step, questions

_LIPS = "The lips of the notch are knives, and break: carry staves by the plain edge, gloves off at the saw."


def of_staves(plan: Plan) -> Iterator[Step]:
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


def _rip(plan: Plan) -> Step:
    ring, blank = plan.staves(), whole(plan.job.boat, plan.spar, plan.rule)
    rips = ripped(plan, (blank.thickness,))
    count, many = plan.spar.staves, plan.spar.count
    made = f"{count} staves, and one to spare" + (f", for each of {many} spars" if many > 1 else "")
    return Step(
        "rip-staves",
        "Rip and plane the staves",
        (
            f"Rip {made}, each {ring.brief('rip_width')} by {ring.brief('rip_thickness')} and "
            f"{plan.job.length(blank.length)} long. Straight grain, no knot: a stave has no wood to spare round one.",
            "Where the timber is short, scarf the strips before they are planed, the scarf through the thickness: the "
            "cutting plan has the pieces. Turn every other stave end for end, so that no scarf lies beside another.",
            f"Plane them all to {ring.say('stave_thickness')} thick and {ring.say('widest_stave')} wide, both edges "
            "square. Thickness counts most: it sets the notch.",
        ),
        setup=ripping(rips),
        checks=(f"Callipers on every stave at both ends and in the middle: {ring.say('stave_thickness')}, all alike.",),
        cautions=(SAW,),
        asked=questions(ring, *rips),
    )


def _notch(plan: Plan) -> Step:
    ring = plan.staves()
    tilted = "upright" if ring["router_tilt"] < 0.05 else f"tilted {ring.say('router_tilt')} on a wedge"
    face = "inner" if plan.spar.staves < 8 else "outer"
    return Step(
        "notch-staves",
        "Notch one edge of every stave",
        (
            f"One edge only, at full width, before any taper. The notch is a right angle, its bottom "
            f"{ring.say('notch_depth')} in from the edge and {ring.say('notch_below')} below the outer face; its "
            f"outer side lies at {ring.say('notch_outer')} to the face, its inner side at {ring.say('notch_inner')}. "
            "Mark the outer face of every stave first.",
        ),
        setup=(
            f"Saw: tilted {ring.say('saw_tilt')}. First cut, the stave flat, {face} face down, blade "
            f"{ring.say('saw_flat')} high; second cut, the stave on the notched edge against a high fence, blade "
            f"{ring.say('saw_edge')} high. Both end in the bottom of the notch.",
            f"Or a router table: a V bit of 90°, {ring.brief('bit_least')} across at least, the stave on edge, "
            f"{tilted}; in two passes or three.",
        ),
        checks=(
            f"{plan.spar.staves} short offcuts of the set-up, taped to a ring: no gap anywhere, inside or out, and "
            "across its flats the widest size of the plan.",
        ),
        cautions=("Guard, feather boards on table and fence, push stick. Never stand behind a thin strip.", _LIPS),
        asked=questions(ring),
    )


def _taper(plan: Plan) -> Step:
    rows = plan.of_stations("at", "stave", "off_plain")
    return Step(
        "taper-staves",
        "Taper the plain edges",
        (
            "Wood comes off the plain edge only: set off the stave's width of the table at every station, measured "
            f"from the lips of the notch. {DRAW.replace('as the taper was joined', 'fair')}",
            "Saw or plane them stacked, all as one, the notches down on a bed with a V: all alike is worth more than "
            "exact. The thickness and the notch stay as they are.",
        ),
        (rows,),
        checks=("Two staves back to back, end for end: alike at every station.",),
        cautions=(SAW,),
        asked=questions(*(plan.staves(at) for at in plan.ats)),
    )


def _plugs(plan: Plan) -> Step:
    ring = plan.staves()
    columns = (
        Column("plug_start", Length("Whole from")),
        Column("plug_end", Length("Whole to")),
        Column("heel_tail", Length("Heelward tail")),
        Column("head_tail", Length("Headward tail")),
        Column("hole_heel", Length("Heelward hole", way="down")),
        Column("hole_head", Length("Headward hole", way="down")),
    )
    rows = tuple(tuple(row[column.name] for column in columns) for row in ring.rows("plugs"))
    return Step(
        "plugs",
        "Make the plugs",
        (
            f"One for every row, of {plan.spar.staves} sides, at the ends, the joints and under what is fitted. It is "
            "whole between the two stations; beyond them, tails. The hole is given "
            "across its flats, at the tip of either tail.",
            "Saw every tail to a swallowtail, two long points with a deep notch between: where a plug ends at once, "
            "the spar breaks. Bore a small hole along the axis of those between others, so that air and water pass.",
        ),
        (Table("plugs", columns, rows),),
        checks=("Each slides into the dry ring at its place, snug and not forced.",),
        asked=questions(ring),
    )


def _dry(plan: Plan) -> Step:
    ring = plan.staves()
    return Step(
        "dry-run",
        "Put it together dry",
        (
            "The whole spar, all staves and plugs, on a straight bed, with every clamp that the glue will get. Time "
            "it: the glue must stay open for twice that.",
            f"It is right when it closes everywhere and measures the width of the table across its flats. "
            f"The hole is {ring.say('hole')} across its flats where the spar is widest.",
        ),
        checks=("A string along two faces: straight. Sight along the seams: no twist.",),
        asked=questions(ring),
    )


def _glue(plan: Plan) -> Step:
    ring = plan.staves()
    return Step(
        "glue-staves",
        "Glue the ring",
        (
            f"Slow glue, about {ring.say('glue_mass')}, into every notch and round every plug. Lay the staves side by "
            "side, outer faces down on tape, brush the notches, set the plugs, and roll the ring up.",
            f"{ring.say('clamps')} clamps or bands at least, one every three to four diameters, drawn up together from "
            "the middle: until glue shows along every seam, no more. Then the string and the sighting again, before it "
            "sets.",
            "Leave it on the bed until the glue is hard.",
        ),
        checks=("Glue along every seam; straight, no twist; both ends closed.",),
        cautions=("Glue off the skin, gloves and goggles. Follow its maker on time, warmth and pressure.",),
        asked=questions(ring),
    )


def _mark(plan: Plan) -> Step:
    says, check, saws = marked(plan)
    return Step(
        "mark-ring",
        "Strike the centre line and the stations",
        (
            "The middle of a stave's outer face is the centre line of A; turn it a quarter for B, then C and D. The "
            "heel is 0; leave the waste beyond both ends on.",
            "Set off the stations of the table along A, all from the heel with one tape, and square each all round.",
            *says,
        ),
        checks=(check,),
        asked=questions(*saws),
    )


def _flush(plan: Plan) -> Step:
    ring, thin = plan.staves(), plan.staves(min(plan.ats, key=plan.outline.width_at))
    return Step(
        "flush",
        f"Plane the corners flush: {_sides(plan.spar.staves)} sides",
        (
            f"At every seam one lip stands proud, {ring.fine('proud')} at the widest. Plane it down to the outer face "
            f"beside it, and not into that: the faces are the size of the spar already. {DOWNHILL}",
        ),
        checks=(
            "Callipers across opposite faces at every station: the width of the table.",
            f"Each face {ring.say('face')} wide at {plan.place(ring.asked.at)}, {thin.say('face')} at "
            f"{plan.place(thin.asked.at)}.",
        ),
        cautions=("Dry glue chips and cuts: goggles. The spar held at both ends, hands behind the edge.",),
        asked=questions(ring, thin),
    )


def _to_round(plan: Plan) -> Iterator[Step]:
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
            f"On every face, in from each edge: {ring.fine('line_next')} at {plan.place(ring.asked.at)}, and so on by "
            f"the table. Plane each corner down to its two lines. {DOWNHILL}",
        ),
        (Table("twice the sides", columns, rows),),
        checks=(
            f"{_sides(sides).capitalize()} facets alike to the eye at every station; no line left, none gone past.",
        ),
        asked=questions(*map(plan.staves, ats)),
    )
    ridge, ridge_ok = "ridge_next", plan.facets(plan.widest_at)["ridge_ok"]
    if ring["ridge_next"] > ridge_ok:
        sides, ridge = 2 * sides, "ridge_last"
        yield Step(
            "cut-again",
            f"Take those corners off as well: {_sides(sides)} sides",
            (
                f"A few thin strokes on every corner, by eye: {ring.fine('ridge_next')} off at the widest. Where the "
                "spar is thin, sanding takes it.",
            ),
            checks=("Count the strokes, as many on every corner; the eye sees an uneven facet before callipers do.",),
            asked=questions(ring),
        )
    yield Step(
        "round",
        "Round it",
        (
            f"The corners of the {sides} sides stand {ring.fine(ridge)} proud at the widest. Take them with a fine "
            "plane, and go round with a hollow plane, a hollow scraper or a spokeshave.",
            f"Stop while a trace of every facet still shows: sanding takes that. Rounded, the wall is nowhere less "
            f"than {ring.brief('wall_least')}.",
        ),
        checks=("Turned slowly under the hand and under a low light: a facet that was missed shows at once.",),
        cautions=("Edges and splinters cut: hand behind the edge, the spar held at both ends.",),
        asked=questions(ring),
    )


def _sides(count: int) -> str:
    words = {
        6: "six", 8: "eight", 10: "ten", 12: "twelve", 16: "sixteen", 20: "twenty", 24: "twenty-four",
        32: "thirty-two", 40: "forty", 48: "forty-eight", 64: "sixty-four",
    }  # fmt: skip
    return words[count]
