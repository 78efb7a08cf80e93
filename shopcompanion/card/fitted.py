"""What is let into the finished spar: every fitting marked, and each cut by its own step: mark, set, cut, test."""

from collections.abc import Iterator

from ..calculator import Column, Table
from ..calculators.remains import WORN
from ..errors import CompanionError
from ..fields import Length, Text, Value
from ..record import NamedTuple
from ..spar.fitting import Fitting
from .ask import Answered, spelled
from .bored import bores, holes, slots
from .jaws import jaws_fault, jaws_of, jaws_steps
from .joints import hinge_of
from .plan import CardPlan
from .step import HELD, Step, questions, unique

_BARELY = 1e-4  # mm: as thin as a flat may be where it runs out
_PLACES = ("place", "at", "depth", "width")  # columns of the places under a flat or a bar


def fitted(plan: CardPlan) -> Iterator[Step]:
    """The steps of the fittings, from the heel; those that cut nothing are only marked."""
    if not plan.spar.fittings:
        return
    yield _mark(plan)
    taken: set[str] = set()
    for letter, part in plan.lettered:
        if isinstance(part, Fitting) and (part.flat or part.bar or part.barrel or part.kind == "hinge"):
            yield _seat(plan, letter, part, taken)
    jaws = jaws_of(plan)
    if jaws:
        yield from jaws_steps(plan, jaws)
    if bored := bores(plan, jaws):
        yield holes(plan, bored)
    if any(fitting.slot for fitting in plan.spar.fittings):
        yield slots(plan)


def _mark(plan: CardPlan) -> Step:
    says = [
        "Strike the centre lines of the faces again, from the marks on both ends. Mark all fittings from the heel with "
        "one tape before the first is cut: the middle of each, and where it has a length, half of that to each side."
    ]
    if plan.moved:
        ends = ", ".join(f"the {fitting.kind} at {plan.place(fitting.at)}" for fitting in plan.moved)
        says.append(
            f"The profile has {ends}, where half the length would stick out past the end. Here the fitting is set "
            "level with the end."
        )
    if why := jaws_fault(plan):
        says.append(f"No step makes the jaws: {why}.")
    return Step(
        "flats",
        "Mark the fittings",
        tuple(says),
        (_places(plan),),
        asked=questions(*(plan.size(plan.middle(fitting)).by for fitting in plan.spar.fittings)),
    )


def _places(plan: CardPlan) -> Table:
    """The fittings from the heel, the width of the spar in the middle of each, and what each takes away."""
    extra = [("length", "Long"), ("flat", "Flat deep"), ("hole", "Hole"), ("slot", "Slot")]
    fittings = plan.spar.fittings
    kept = [(name, label) for name, label in extra if any(getattr(fitting, name) for fitting in fittings)]
    long = any(fitting.length for fitting in fittings)
    columns = [Column("letter", Text("")), Column("at", Length("Middle" if long else "Station"))]
    columns += [Column("width", Length("Width")), *(Column(name, Length(label)) for name, label in kept)]
    rows: list[tuple[Value, ...]] = []
    for letter, part in plan.lettered:
        if isinstance(part, Fitting):
            middle = plan.middle(part)
            sizes = [getattr(part, name) or None for name, _ in kept]
            rows.append((letter, middle, plan.size(middle).across, *sizes, _called(part)))
    return Table("fittings", (*columns, Column("fitting", Text("Fitting"))), tuple(rows))


def _called(fitting: Fitting) -> str:
    return f"{fitting.kind}: {fitting.name}" if fitting.name else fitting.kind


class _Said(NamedTuple):
    """What a cut asks for: how it is set and cut, its sizes at both ends, what was asked for them, and cautions."""

    sets: str
    cuts: str
    table: Table | None = None
    answered: Answered | None = None
    cautions: tuple[str, ...] = ()


def _seat(plan: CardPlan, letter: str, fitting: Fitting, taken: set[str]) -> Step:
    """One fitting that is let in."""
    middle = plan.middle(fitting)
    start, end = middle - fitting.length / 2, middle + fitting.length / 2
    faces = fitting.face.split(" and ")
    said = [cuts for made in (_flat, _bar, _barrel, _bolts) if (cuts := made(plan, fitting, middle))]
    own = f"fit-{fitting.kind.replace(' ', '-')}-{fitting.at:.0f}"
    own = own if own not in taken else f"{own}-{faces[0]}"
    taken.add(own)
    also = f" The same on {faces[1]}, square across from the first." if len(faces) > 1 else ""
    return Step(
        own,
        f"Let in the {_called(fitting)} ({letter}), at {plan.place(middle)}",
        (
            f"Mark: face {faces[0]}, the middle at {plan.place(middle)}, from {plan.place(start)} to "
            f"{plan.place(end)}. Knife both ends square to the centre line, and the edges by their widths.{also}",
            *(cut.sets for cut in said),
            *(cut.cuts for cut in said if cut.cuts),
        ),
        tuple(cut.table for cut in said if cut.table),
        checks=(_bears(plan, fitting, middle),),
        cautions=unique(
            *(cut.cautions for cut in said),
            *(
                [line for line in cut.answered.result.cautions if line != WORN]  # no percentage stands here
                for cut in said
                if cut.answered
            ),
        )
        or (HELD,),
        asked=questions(*(cut.answered for cut in said)),
    )


def _ends(name: str, answer: Answered) -> Table | None:
    """The places under the fitting, with what lies below the crown and how wide it is there."""
    table = next((table for table in answer.result.tables if table.name == "places"), None)
    if table is None:
        return None
    names = [column.name for column in table.columns]
    kept = [names.index(name) for name in _PLACES]
    rows = {row[1:]: row for row in (tuple(row[place] for place in kept) for row in reversed(table.rows))}
    return Table(name, tuple(table.columns[place] for place in kept), tuple(reversed(rows.values())))  # bolts beside it


class _Plane(NamedTuple):
    """A flat: its face, how high its one plane lies over the centre line, from where to where it is in the wood, and
    how deep at the thinnest place there."""

    face: str
    floor: float
    start: float
    end: float
    least: float


def _plane(plan: CardPlan, fitting: Fitting, middle: float) -> _Plane:
    """The flat as the profile has it: so deep in the fitting's middle, and running out where the spar is too thin."""
    size, half, deep = plan.through(fitting.face[0]), fitting.length / 2, fitting.flat
    floor = size.width_at(middle) / 2 - deep
    out = size.thicker(2 * floor, middle)
    start, end = max(middle - half, out[0]), min(middle + half, out[1])
    inside = [at for at, _ in size.stations if start < at < end]
    return _Plane(
        fitting.face[0], floor, start, end, min(size.width_at(at) for at in (start, *inside, middle, end)) / 2 - floor
    )


def _short(fitting: Fitting, plane: _Plane) -> bool:
    """Whether the flat runs out before the fitting ends."""
    return plane.end - plane.start < fitting.length - 2 * _BARELY


def _bears(plan: CardPlan, fitting: Fitting, middle: float) -> str:
    """What it must do, tried in its place."""
    if not fitting.length:
        return "Try it dry: it bears and does not rock."
    if fitting.flat and _short(fitting, plane := _plane(plan, fitting, middle)):
        return f"Try it dry: it bears from {plan.place(plane.start)} to {plan.place(plane.end)} and does not rock."
    return f"Try it dry: it bears along all of {plan.job.length(fitting.length)} and does not rock."


def _flat(plan: CardPlan, fitting: Fitting, middle: float) -> _Said | None:
    """The flat: one plane, as deep in its middle as the profile has it, so less where the spar is thinner."""
    if not fitting.flat:
        return None
    plane, length = _plane(plan, fitting, middle), fitting.length
    short = _short(fitting, plane)
    at, long = ((plane.start + plane.end) / 2, plane.end - plane.start) if short else (middle, length)
    try:
        flat = plan.job.ask(
            "flat",
            at,
            flat_depth=spelled(max(plane.least, _BARELY)),
            fitting_length=spelled(long),
            face=fitting.face[0],
        )
    except CompanionError:  # deeper than half the spar
        return _Said(
            f"Set: its floor {plan.job.length(fitting.flat)} below the crown in its middle.",
            "Cut: saw both ends to that depth, and pare or rout down between to one plane, parallel to the centre "
            "line.",
        )
    under = " before the other is cut" if " and " in fitting.face else ""
    least = (
        f"{plan.job.length(fitting.flat)} below the crown in its middle"
        if short
        else f"{flat.say('cut_depth')} below the crown where the spar is thinnest, with {flat.say('over_flat')} left "
        f"under it there{under}"
    )
    return _Said(
        f"Set: a router on rails, or a fence, for a floor {flat.say('floor')} above the centre line: {least}.",
        f"Cut: {_sawn(plan, plane)}down in shallow passes to one plane, parallel to the centre line. Better a stroke "
        "too few. At last pare the ends hollow, so that no saw cut is left in a corner.",
        _ends("flat", flat),
        flat,
        (_runs_out(plan, fitting, middle, plane),) if short else (),
    )


def _sawn(plan: CardPlan, plane: _Plane) -> str:
    """Where the flat ends in wood that stands above it, there sawn first."""
    size = plan.through(plane.face)
    walls = [
        plan.place(at)
        for at in (plane.start, plane.end)
        if 0 < at < plan.spar.length and size.width_at(at) / 2 - plane.floor > _BARELY
    ]
    return f"saw at {' and '.join(walls)} not quite to the depth, then " if walls else ""


def _runs_out(plan: CardPlan, fitting: Fitting, middle: float, plane: _Plane) -> str:
    """Where a flat is too shallow for the taper under it, and what would carry the fitting from end to end."""
    half, size = fitting.length / 2, plan.through(fitting.face[0])
    ends = ((middle - half, plane.start), (middle + half, plane.end))
    short = [(end, out) for end, out in ends if abs(end - out) > _BARELY]
    places = " and ".join(plan.place(out) for _, out in short)
    deep = (size.width_at(middle) - min(size.width_at(end) for end, _ in short)) / 2
    return (
        f"The flat runs out at {places}: beyond that the fitting does not touch the wood. A flat more than "
        f"{plan.job.length(deep)} deep in its middle, or a shorter fitting, would bear all along."
    )


def _bar(plan: CardPlan, fitting: Fitting, middle: float) -> _Said | None:
    """The groove of a bar, with its floor where the profile has it."""
    if not fitting.bar or not fitting.bar_deep:
        return None
    try:
        bar = plan.job.ask(
            "inlay", middle, bar_width=spelled(fitting.bar), bar_thickness=spelled(fitting.bar_deep), sit="crown flush",
            hole=spelled(min(fitting.hole or fitting.bar / 4, fitting.bar / 2)),
            both="yes" if " and " in fitting.face else "no",
            bar_length=spelled(fitting.length or fitting.bar), face=fitting.face[0],
        )  # fmt: skip
    except CompanionError:  # its floor lies no deeper than the crown stands over its edges
        return _Said(
            f"Set: its floor {plan.job.length(fitting.bar_deep)} below the crown: a bar "
            f"{plan.job.length(fitting.bar)} wide has no wood beside it there.",
            "Cut: down to that depth, straight across.",
        )
    return _Said(
        f"Set: a groove {plan.job.length(fitting.bar)} wide, its floor {bar.say('floor_below_crown')} below the crown "
        f"and {bar.say('edge_depth')} deep at its edges.",
        "Cut: knife the edges, and rout or pare down to the floor between them, with the tool guided along the spar.",
        _ends("bar", bar),
        bar,
    )


def _barrel(plan: CardPlan, fitting: Fitting, middle: float) -> _Said | None:
    if not fitting.barrel or not fitting.barrel_deep:
        return None
    job = plan.job
    return _Said(
        f"Set for the barrel: {job.length(fitting.barrel)} along the spar, half to each side of {job.length(middle)}, "
        f"its floor {job.length(fitting.barrel_deep)} below the crown.",
        "Cut for the barrel after the flat: saw down both sides to the floor, and clear between, until the leaves lie "
        "flat with the pin in its place.",
    )


def _bolts(plan: CardPlan, fitting: Fitting, middle: float) -> _Said | None:
    """The holes of a hinge's leaves, which no profile has: where they may be, from the joint."""
    if fitting.kind != "hinge":
        return None
    hinge = hinge_of(plan, middle, fitting)
    if isinstance(hinge, str):
        return _Said(f"Where its holes may be cannot be worked out: {hinge}.", "")
    rows = f"two rows {hinge.brief('rows_apart')} apart" if hinge["rows_apart"] else "one row in the middle"
    deep = "right through, square to the flat" if hinge["fasten"] == "bolt" else f"for screws of {hinge.say('screw')}"
    return _Said(
        f"Set for its {hinge['fasten']}s: use the holes of your hinge; where it has none, holes of {hinge.say('hole')} "
        f"in each leaf, {rows}, the first {hinge.brief('first_hole')} from the joint or more, the last "
        f"{hinge.brief('last_hole')} or less.",
        f"Bore for the {hinge['fasten']}s last, {deep}, with the hinge in its place and closed.",
        None,
        hinge,
    )
