"""What is let into the finished spar: every fitting marked, and each cut by its own step: mark, set, cut, test."""

from collections.abc import Iterator
from typing import NamedTuple

from ..calculator import Column, Table
from ..errors import CompanionError
from ..fields import Length, Text, Value
from ..profile.records import Fitting
from .ask import Answered, spelled
from .joints import hinge_of
from .plan import Plan
from .step import Step, questions, unique

_HELD = "The spar chocked so that it cannot roll; hands behind the edge."
_PLACES = ("place", "at", "depth", "width")  # columns of the places under a flat or a bar


def fitted(plan: Plan) -> Iterator[Step]:
    """The steps of the fittings, from the heel; those that cut nothing are only marked."""
    if not plan.spar.fittings:
        return
    yield _mark(plan)
    taken: set[str] = set()
    for letter, one in plan.lettered:
        if isinstance(one, Fitting) and (one.flat or one.bar or one.barrel or one.kind == "hinge"):
            yield _seat(plan, letter, one, taken)
    jaws = next((one for one in plan.spar.fittings if one.kind == "jaws"), None)
    if jaws and (made := _jaws(plan, jaws)):
        yield made
    if any(one.hole for one in plan.spar.fittings):
        yield _holes(plan)


def _mark(plan: Plan) -> Step:
    return Step(
        "flats",
        "Mark the fittings",
        (
            "Mark them all from the heel with one tape, before the first is cut: the middle of each, and of "
            "those with a length half of it to either side.",
        ),
        (_places(plan),),
        asked=questions(*(plan.size(_middle(plan, one)).by for one in plan.spar.fittings)),
    )


def _middle(plan: Plan, one: Fitting) -> float:
    """Where its middle lies: one that would pass an end lies against that, so not always at its station."""
    return one.placed.middle(plan.spar.length)


def _places(plan: Plan) -> Table:
    """The fittings from the heel, the width of the spar in the middle of each, and what each takes away."""
    extra = [("length", "Long"), ("flat", "Flat deep"), ("hole", "Hole")]
    fittings = plan.spar.fittings
    kept = [(name, label) for name, label in extra if any(getattr(one, name) for one in fittings)]
    long = any(one.length for one in fittings)
    columns = [Column("letter", Text("")), Column("at", Length("Middle" if long else "Station"))]
    columns += [Column("width", Length("Width")), *(Column(name, Length(label)) for name, label in kept)]
    rows: list[tuple[Value, ...]] = []
    for letter, one in plan.lettered:
        if isinstance(one, Fitting):
            middle = _middle(plan, one)
            sizes = [getattr(one, name) for name, _ in kept]
            rows.append((letter, middle, plan.size(middle).across, *sizes, _called(one)))
    return Table("fittings", (*columns, Column("fitting", Text("Fitting"))), tuple(rows))


def _called(one: Fitting) -> str:
    return f"{one.kind}: {one.name}" if one.name else one.kind


class _Said(NamedTuple):
    """What a cut asks for: how it is set and cut, its sizes at both ends, and what was asked for them."""

    sets: str
    cuts: str
    table: Table | None = None
    answered: Answered | None = None


def _seat(plan: Plan, letter: str, one: Fitting, taken: set[str]) -> Step:
    """One fitting that is let in."""
    job, placed = plan.job, one.placed
    middle = _middle(plan, one)
    start, end = middle - placed.length / 2, middle + placed.length / 2
    faces = one.face.split(" and ")
    said = [found for made in (_flat, _bar, _barrel, _bolts) if (found := made(plan, one, middle))]
    own = f"fit-{one.kind.replace(' ', '-')}-{one.at:.0f}"
    own = own if own not in taken else f"{own}-{faces[0]}"
    taken.add(own)
    also = f" The same on {faces[1]}, its middle square across from the first." if len(faces) > 1 else ""
    return Step(
        own,
        f"Let in the {_called(one)} ({letter}), at {plan.place(one.at)}",
        (
            f"Mark: face {faces[0]}, from {plan.place(start)} to {plan.place(end)}; knife both ends square to the "
            f"middle line, and the edges by their widths.{also}",
            *(found.sets for found in said),
            *(found.cuts for found in said),
        ),
        tuple(found.table for found in said if found.table),
        checks=(
            f"Tried dry, it bears along all of {job.length(placed.length)} and does not rock."
            if placed.length
            else "Tried dry, it bears and does not rock.",
        ),
        cautions=unique(*(found.answered.result.cautions for found in said if found.answered)) or (_HELD,),
        asked=questions(*(found.answered for found in said)),
    )


def _ends(name: str, found: Answered) -> Table | None:
    """The places under the fitting, with what lies below the crown and how wide it is there."""
    table = next((one for one in found.result.tables if one.name == "places"), None)
    if table is None:
        return None
    names = [column.name for column in table.columns]
    kept = [names.index(one) for one in _PLACES]
    rows = tuple(tuple(row[place] for place in kept) for row in table.rows)
    return Table(name, tuple(table.columns[place] for place in kept), rows)


def _flat(plan: Plan, one: Fitting, middle: float) -> _Said | None:
    """The flat: one plane, as deep in its middle as the profile has it, and so at its thinnest a little less."""
    if not one.flat:
        return None
    face, size = one.face[0], plan.depths or plan.outline
    if one.face[0] in "BD":
        size = plan.outline
    half = (one.length or 0.0) / 2
    thinnest = min(size.width_at(at) for at in (middle - half, middle, middle + half))
    deep = one.flat - (size.width_at(middle) - thinnest) / 2
    try:
        found = plan.job.ask(
            "flat", middle, flat_depth=spelled(max(deep, 0.01)), fitting_length=spelled(one.length or 0.0), face=face
        )
    except CompanionError:  # a square there: it is a plain notch
        return _Said(
            f"Set: {plan.job.length(one.flat)} below the face.",
            "Cut: saw both ends to that depth, pare or rout down between.",
        )
    under = " with the other still to cut" if " and " in one.face else ""
    return _Said(
        f"Set: a router on rails, or a fence: the floor {found.say('floor')} over the middle line, which is "
        f"{found.say('cut_depth')} below the crown where the spar is thinnest and leaves {found.say('over_flat')} "
        f"under it there{under}.",
        "Cut: saw both ends to the depth first, then down between in shallow passes, one plane parallel to the middle "
        "line. Better a stroke too few.",
        _ends("flat", found),
        found,
    )


def _bar(plan: Plan, one: Fitting, middle: float) -> _Said | None:
    """The groove of a bar, with its floor where the profile has it."""
    if not one.bar or not one.bar_deep:
        return None
    try:
        found = plan.job.ask(
            "inlay", middle, bar_width=spelled(one.bar), bar_thickness=spelled(one.bar_deep), sit="crown flush",
            hole=spelled(min(one.hole or one.bar / 4, one.bar / 2)), both="yes" if " and " in one.face else "no",
            bar_length=spelled(one.length or one.bar), face=one.face[0],
        )  # fmt: skip
    except CompanionError:  # its floor lies no deeper than the crown stands over its edges
        return _Said(
            f"Set: its floor {plan.job.length(one.bar_deep)} below the crown: a bar {plan.job.length(one.bar)} wide "
            "has no wood beside it there.",
            "Cut: down to that depth, straight across.",
        )
    return _Said(
        f"Set: a groove {plan.job.length(one.bar)} wide, its floor {found.say('floor_below_crown')} below the crown, "
        f"{found.say('edge_depth')} deep at its edges.",
        "Cut: knife the edges, rout or pare between them down to the floor, the tool guided along the spar.",
        _ends("bar", found),
        found,
    )


def _barrel(plan: Plan, one: Fitting, middle: float) -> _Said | None:
    if not one.barrel or not one.barrel_deep:
        return None
    job = plan.job
    return _Said(
        f"Set for the barrel: {job.length(one.barrel)} along the spar, half to each side of {job.length(middle)}, its "
        f"floor {job.length(one.barrel_deep)} below the crown.",
        "Cut for the barrel last: saw down both sides to the floor, clear between, until the leaves lie flat with the "
        "pin where it turns.",
    )


def _bolts(plan: Plan, one: Fitting, middle: float) -> _Said | None:
    """The holes of a hinge's leaves, which no profile has: where they may be, from the joint."""
    if one.kind != "hinge":
        return None
    hinge = hinge_of(plan, middle, one)
    if hinge is None:
        return None
    rows = f"two rows {hinge.brief('rows_apart')} apart" if hinge["rows_apart"] else "one row in the middle"
    deep = "right through, square to the flat" if hinge["fasten"] == "bolt" else f"for screws of {hinge.say('screw')}"
    return _Said(
        f"Set for its {hinge['fasten']}s: holes of {hinge.say('hole')} in each leaf, {rows}, the first "
        f"{hinge.brief('first_hole')} from the joint or more, the last {hinge.brief('last_hole')} or less; where your "
        "hinge has its own, those.",
        f"Bore for the {hinge['fasten']}s last, {deep}, the hinge in its place and closed.",
        None,
        hinge,
    )


def _jaws(plan: Plan, one: Fitting) -> Step | None:
    """The jaws themselves, for the boat's mast, as long on the spar and on rods as thick as the profile has them.

    None where the boat has no mast, or the jaws as usual do not fit it.
    """
    sizes = {name: spelled(size) for name, size in (("on_pole", one.length), ("rod", one.hole)) if size}
    try:
        found = plan.job.ask("jaws", None, **sizes)
    except CompanionError:
        return None
    say, bevelled = found.brief, found["bevel_off"] > 0
    return Step(
        "jaws",
        "Make the jaws",
        (
            f"Mark: two cheeks of {say('plank')} plank, each {say('cheek_length')} long, {say('along_pole')} of it on "
            f"the spar. Between the horns {say('opening')}, the throat a half round of {say('throat_radius')}, the "
            f"horns {say('horn_length')} from throat to tip.",
            f"Set: the saw's table or the rasp's guide to {say('throat_bevel')} for the throat, for a spar peaked to "
            f"{say('peak_angle')}."
            if bevelled
            else "Set: the saw's table square: the throat has no bevel on a spar that lies level.",
            (
                f"Cut: the outline square, then the throat to its bevel, {say('bevel_off')} from face to face; ease "
                "its edges."
                if bevelled
                else "Cut: the outline, the throat with it; ease its edges."
            )
            + " Bore for the rods through both cheeks and the spar together.",
            f"Rods {say('rod_length')}; leather {say('leather_length')} by {say('leather_width')}; parrel "
            f"{say('parrel_length')} from horn to horn, {say('bead_count')} beads of {say('bead_diameter')}.",
        ),
        checks=("On the mast, peaked and lowered: it swings free, and bears in the throat.",),
        cautions=found.result.cautions,
        asked=questions(found),
    )


def _holes(plan: Plan) -> Step:
    """The holes, each from both sides."""
    columns = (
        Column("letter", Text("")), Column("at", Length("Station")), Column("hole", Length("Hole")),
        Column("pilot", Length("Pilot at most", way="down")),
        Column("needed_reach", Length("Drill reach", way="up")),
        Column("fitting", Text("For")),
    )  # fmt: skip
    rows: list[tuple[Value, ...]] = []
    bores = []
    for letter, one in plan.lettered:
        if isinstance(one, Fitting) and one.hole:
            across = one.face[0] in "BD"
            at = _middle(plan, one)
            size = plan.size(at) if across or not plan.oval else plan.depth(at)
            way = f"{'B to D' if across else 'A to C'}, {one.kind}"
            try:
                bore = plan.job.ask("bore", at, thickness=spelled(size.across), hole=spelled(one.hole))
            except CompanionError:  # wider than an oval is thin: cut rather than bored
                rows.append((letter, at, one.hole, None, None, way))
                continue
            bores.append(bore)
            rows.append((letter, at, one.hole, bore["pilot"], bore["needed_reach"], way))
    return Step(
        "holes",
        "Bore the holes",
        (
            "Mark the middle on both faces, square across from one another: a pair of dividers from the edges, not the "
            "eye.",
            "Set: a cradle that holds the spar square to the bit, and a pilot no larger than in the table, so that the "
            "full bit takes in both halves of it.",
            "Cut: the pilot from each face to past the middle, then ream straight through; back it with scrap.",
        ),
        (Table("holes", columns, tuple(rows)),),
        checks=("A rod of the size goes through by hand, and stands square to the spar both ways.",),
        cautions=unique(*(one.result.cautions for one in bores)),
        asked=questions(*bores),
    )
