"""What is bored and cut right through the finished spar: holes, and the slots of sheaves."""

from ..calculator import Column, Table
from ..errors import CompanionError
from ..fields import Length, Text, Value
from ..record import NamedTuple
from ..spar.fitting import Fitting
from .ask import Answered, spelled
from .plan import CardPlan
from .step import HELD, Step, questions, unique


class _Bored(NamedTuple):
    """A hole or the end of a slot: where, how wide, through how much wood, in which way, and for what."""

    letter: str
    at: float
    wide: float
    through: float
    way: str


def bores(plan: CardPlan, jaws: Answered | None) -> list[_Bored]:
    """Every hole from the heel; those for the rods of jaws go through their cheeks as well."""
    bored = []
    for letter, part in plan.lettered:
        if isinstance(part, Fitting) and part.hole:
            for off in part.bored_at:
                at = plan.middle(part) + off
                through = _through(plan, part, at)
                if part.kind == "jaws" and jaws:
                    through = jaws["bored_through"]
                bored.append(_Bored(letter, at, part.hole, through, _way(part)))
    return bored


def _through(plan: CardPlan, fitting: Fitting, at: float) -> float:
    return (plan.depth(at) if plan.oval and fitting.face[0] in "AC" else plan.size(at)).across


def _way(fitting: Fitting) -> str:
    return f"{'B to D' if fitting.face[0] in 'BD' else 'A to C'}, {fitting.kind}"


def _reached(plan: CardPlan, bored: _Bored) -> Answered | None:
    """None where it is wider than an oval is thin: cut rather than bored."""
    try:
        return plan.job.ask("bore", bored.at, thickness=spelled(bored.through), hole=spelled(bored.wide))
    except CompanionError:
        return None


def holes(plan: CardPlan, bored: list[_Bored]) -> Step:
    """The holes, each from both sides."""
    columns = (
        Column("letter", Text("")), Column("at", Length("Station")), Column("hole", Length("Hole")),
        Column("pilot", Length("Pilot at most", rounding="down")),
        Column("needed_reach", Length("Drill reach", rounding="up")),
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
            "Mark the middle on both faces, each on its own centre line and square across from the other.",
            "Set: a cradle that holds the spar square to the bit, and a pilot bit no larger than in the table, so that "
            "the full hole takes in both halves of the pilot's.",
            "Cut: bore the pilot from each face to past the middle, then ream straight through, with scrap behind.",
        ),
        (Table("holes", columns, tuple(rows)),),
        checks=("Push a rod of the size through by hand: it stands square to the spar both ways.",),
        cautions=unique(*(bore.result.cautions for bore in bores if bore)),
        asked=questions(*bores),
    )


def slots(plan: CardPlan) -> Step:
    """The slots, as of sheaves: bored at both ends from both faces, and cleared between."""
    columns = (
        Column("letter", Text("")), Column("at", Length("Middle")), Column("slot", Length("Wide")),
        Column("slot_long", Length("Long")), Column("needed_reach", Length("Drill reach", rounding="up")),
        Column("fitting", Text("For")),
    )  # fmt: skip
    rows: list[tuple[Value, ...]] = []
    bores = []
    for letter, part in plan.lettered:
        if isinstance(part, Fitting) and part.slot and part.slot_long:
            at = plan.middle(part)
            bore = _reached(plan, _Bored(letter, at, part.slot, _through(plan, part, at), _way(part)))
            bores.append(bore)
            reach = bore["needed_reach"] if bore else None
            rows.append((letter, at, part.slot, part.slot_long, reach, _way(part)))
    return Step(
        "slots",
        "Cut the slots",
        (
            "Mark both ends, half the length to each side of the middle, and both sides, half the width to each side "
            "of the centre line. Mark the same on the other face, square across.",
            "Bore a hole as wide as the slot at each end, inside the line, from both faces to past the middle. Bore or "
            "saw away what is between, and pare to the lines from both faces.",
        ),
        (Table("slots", columns, tuple(rows)),),
        checks=("What goes into it turns or slides free, and stands square to the spar both ways.",),
        cautions=unique(*(bore.result.cautions for bore in bores if bore)) or (HELD,),
        asked=questions(*bores),
    )
