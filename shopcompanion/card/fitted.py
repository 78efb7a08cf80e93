"""What is let into the finished spar: every fitting marked, and each cut by its own step: mark, set, cut, test."""

from collections.abc import Iterator
from typing import NamedTuple

from ..calculator import Column, Table
from ..errors import CompanionError
from ..fields import Length, Text, Value
from ..profile.records import Fitting
from .ask import Answered, spelled
from .jaws import jaws_of, jaws_steps
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
    jaws = jaws_of(plan)
    if jaws:
        yield from jaws_steps(jaws)
    if bored := _bores(plan, jaws):
        yield _holes(plan, bored)
    if any(one.slot for one in plan.spar.fittings):
        yield _slots(plan)


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
    extra = [("length", "Long"), ("flat", "Flat deep"), ("hole", "Hole"), ("slot", "Slot")]
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
            f"centre line, and the edges by their widths.{also}",
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
        f"Set: a router on rails, or a fence: the floor {found.say('floor')} over the centre line, which is "
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


class _Bored(NamedTuple):
    """A hole or the end of a slot: where, how wide, through how much wood, in which way, and for what."""

    letter: str
    at: float
    wide: float
    through: float
    way: str


def _bores(plan: Plan, jaws: Answered | None) -> list[_Bored]:
    """Every hole from the heel; those for the rods of jaws go through their cheeks as well."""
    found = []
    for letter, one in plan.lettered:
        if isinstance(one, Fitting) and one.hole:
            for off in one.placed.bored_at:
                at = _middle(plan, one) + off
                through = _through(plan, one, at)
                if one.kind == "jaws" and jaws:
                    through = jaws["bored_through"]
                found.append(_Bored(letter, at, one.hole, through, _way(one)))
    return found


def _through(plan: Plan, one: Fitting, at: float) -> float:
    return (plan.depth(at) if plan.oval and one.face[0] in "AC" else plan.size(at)).across


def _way(one: Fitting) -> str:
    return f"{'B to D' if one.face[0] in 'BD' else 'A to C'}, {one.kind}"


def _reached(plan: Plan, bored: _Bored) -> Answered | None:
    """None where it is wider than an oval is thin: cut rather than bored."""
    try:
        return plan.job.ask("bore", bored.at, thickness=spelled(bored.through), hole=spelled(bored.wide))
    except CompanionError:
        return None


def _holes(plan: Plan, bored: list[_Bored]) -> Step:
    """The holes, each from both sides."""
    columns = (
        Column("letter", Text("")), Column("at", Length("Station")), Column("hole", Length("Hole")),
        Column("pilot", Length("Pilot at most", way="down")),
        Column("needed_reach", Length("Drill reach", way="up")),
        Column("fitting", Text("For")),
    )  # fmt: skip
    rows: list[tuple[Value, ...]] = []
    bores = [_reached(plan, hole) for hole in bored]
    for hole, bore in zip(bored, bores, strict=True):
        sizes = (bore["pilot"], bore["needed_reach"]) if bore else (None, None)
        rows.append((hole.letter, hole.at, hole.wide, *sizes, hole.way))
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
        cautions=unique(*(bore.result.cautions for bore in bores if bore)),
        asked=questions(*bores),
    )


def _slots(plan: Plan) -> Step:
    """The slots, as of sheaves: bored at both ends from both faces, and cleared between."""
    columns = (
        Column("letter", Text("")), Column("at", Length("Middle")), Column("from", Length("From")),
        Column("to", Length("To")), Column("slot", Length("Wide")),
        Column("needed_reach", Length("Drill reach", way="up")),
        Column("fitting", Text("For")),
    )  # fmt: skip
    rows: list[tuple[Value, ...]] = []
    bores = []
    for letter, one in plan.lettered:
        if isinstance(one, Fitting) and one.slot and one.slot_long:
            at, half = _middle(plan, one), one.slot_long / 2
            bore = _reached(plan, _Bored(letter, at, one.slot, _through(plan, one, at), _way(one)))
            bores.append(bore)
            reach = bore["needed_reach"] if bore else None
            rows.append((letter, at, at - half, at + half, one.slot, reach, _way(one)))
    return Step(
        "slots",
        "Cut the slots",
        (
            "Mark both ends and both sides on both faces, about the centre line and square across from one another.",
            "Bore at each end, from both faces to past the middle, with a bit as wide as the slot; bore or saw away "
            "what is between, and pare to the lines from both faces.",
        ),
        (Table("slots", columns, tuple(rows)),),
        checks=("What goes in turns or slides free, and stands square to the spar both ways.",),
        cautions=unique(*(bore.result.cautions for bore in bores if bore)) or (_HELD,),
        asked=questions(*bores),
    )
