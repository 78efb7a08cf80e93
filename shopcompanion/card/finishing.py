"""From the rough round to the finished spar: run-outs, sanding, parts sawn apart, fittings, ends, and the measuring."""

from collections.abc import Iterator, Mapping
from functools import partial

from ..calculator import Column, Table
from ..errors import CompanionError, InputFault
from ..fields import Angle, Count, Length, Value
from ..lengths import show
from ..spar.section import ROUND
from .ask import Answered, spelled
from .fitted import fitted
from .jaws import jaws_of
from .joints import apart, further, part, saws_of
from .plan import CardPlan
from .run_outs import run_outs
from .step import Step, questions, unique

# What an end stands in or bears against: such an end is left flat.
BEARS = ("gooseneck", "heel", "jaws", "pin", "step")
_HAIR = 1e-6  # mm
CLOSE = 2  # widths from an end: what is there bears on it
STANDS = ("bitt", "mast", "mizzen", "topmast")  # spars whose heel is cut square
SHAPES = {"hemisphere": "a half ball", "blunt": "a blunt round"}
PAPER = (
    "Use coarse paper first, across the grain and aslant, until every tool mark is gone; then with finer, along "
    "the grain."
)
DUST = "Wear a dust mask and use extraction, with cedar above all."


def finishing(plan: CardPlan) -> Iterator[Step]:
    if plan.run_outs:
        yield run_outs(plan)
    yield _unsanded(plan)
    yield _sand(plan)
    if apart(plan):
        yield part(plan)
    yield from fitted(plan)
    yield _ends(plan)
    yield _measure(plan)


def _unsanded(plan: CardPlan) -> Step:
    """The sizes looked at while there is still wood to take off where it is wanted."""
    sizes = "width and depth" if plan.oval else "the width"
    return Step(
        "measure-unsanded",
        "Measure before sanding",
        (
            f"The station lines went with the wood: set them off again along the spar, from the heel with one tape"
            f"{further(plan)}.",
            f"Measure every station two ways with callipers, against {sizes} of the station table: a hair over at "
            "most, never under. Enter it in the log, which says how much is still to come off, and what can be made "
            "of a place that is too thin.",
        ),
        asked=questions(*saws_of(plan)),
    )


def _sand(plan: CardPlan) -> Step:
    if plan.sides < ROUND:
        return Step("sand", "Sand it", (f"Use a flat block, so that the faces stay flat. {PAPER}",), cautions=(DUST,))
    by_hand = "Sand by hand, with a strip of belt pulled to and fro round the spar"
    try:
        drum = _drum(plan)
    except InputFault as fault:
        told = fault.with_lengths(partial(show, rule=plan.rule)).reason
        return Step("sand", "Sand it", (f"{by_hand}; on the drum, {told}. {PAPER}",), cautions=(DUST,))
    except CompanionError:  # no drum or no belt in the shop
        return Step("sand", "Sand it", (f"{by_hand}. {PAPER}",), cautions=(DUST,))
    keep = " Guard what keeps its corners with a turn of tape." if plan.kept else ""
    turns = f", {drum.say('rpm')}" if drum["rpm"] else ""
    return Step(
        "sand",
        "Sand it",
        (f"{_drives(plan, drum)} Keep it moving along the spar.{keep}", PAPER),
        setup=(
            f"Drum {drum.say('drum')}{turns}; belt {drum.say('belt_length')} inside, grit inwards, round drum and "
            "spar.",
        ),
        checks=("Run callipers down the stations, two ways: no ring is worn in where the belt stood still.",),
        cautions=unique(drum.result.cautions, (DUST,)),
        asked=questions(drum),
    )


def _drum(plan: CardPlan) -> Answered:
    """An oval is as wide to a belt as it is deep."""
    if plan.depths is None:
        return plan.job.ask("drum")
    return plan.job.ask("drum", widest=spelled(max(plan.depths.widest, plan.outline.widest)))


def _drives(plan: CardPlan, drum: Answered) -> str:
    if drum["grips"] == "yes":
        return "The belt drives all along."
    wanted = f" A drum over {drum.brief('smallest_drum')} would drive everywhere." if drum["smallest_drum"] else ""
    if drum["grips"] == "no":
        return f"The belt only spins on the drum: sand it by hand.{wanted}"
    if drum["slips_from"] is None:
        return f"The belt drives in part: sand the rest by hand.{wanted}"
    slips = f"from {plan.place(drum['slips_from'])} to {plan.place(drum['slips_to'])}"
    return f"The belt slips {slips}: sand that by hand.{wanted}"


def _ends(plan: CardPlan) -> Step:
    """Both ends to length, and rounded where nothing bears on them."""
    tips = {end: tip for end in ("heel", "head") if (tip := tip_of(plan, end))}
    length = plan.job.length(plan.spar.length)
    throat = jaws_of(plan) is not None
    says = [
        f"Saw off the waste beyond the head, square: {length} from the bottom of the throat, along the middle."
        if throat
        else f"Saw off the waste beyond heel and head, square: {length} from one to the other."
    ]
    flat = [end for end in ("heel", "head") if end not in tips and not (throat and end == "heel")]
    says += [
        "Heel and head stay flat: ease their edges." if len(flat) == 2 else f"The {end} stays flat: ease its edge."
        for end in flat[:1]
    ]
    tables = []
    for end, (across, deep) in tips.items():
        shape = "an oval dome" if deep else SHAPES[across["shape"]]
        size = across.say("diameter") + (f" by {deep.say('diameter')}" if deep else "")
        says.append(
            f"The {end}: {shape} of {size}, beginning {across.say('tip_length')} from the end. Square the lines of the "
            "table round, cut flats to them in this order, then file round over the flats."
        )
        tables.append(_chamfers(end, across, deep))
    answers = [tip for pair in tips.values() for tip in pair if tip]
    ends = {0: "", 1: f", round the {next(iter(tips), '')}", 2: ", round the ends"}[len(tips)]
    return Step(
        "ends",
        f"Saw to length{ends}",
        tuple(says),
        tuple(tables),
        checks=(f"Both ends are square across{', before either is rounded' if tips else ''}.",),
        cautions=unique(_rounded_into(plan, tips), *(tip.result.cautions for tip in answers)),
        asked=questions(*answers),
    )


def _rounded_into(plan: CardPlan, tips: Mapping[str, tuple[Answered, Answered | None]]) -> list[str]:
    """What is cut into the spar so near to an end that the rounding reaches it."""
    cautions = []
    for end, (across, _) in tips.items():
        for fitting in plan.spar.fittings:
            middle = plan.middle(fitting)
            near = (middle if end == "heel" else plan.spar.length - middle) - fitting.reach
            if fitting.takes_wood and near < across["tip_length"] - _HAIR:
                cautions.append(
                    f"The rounding of the {end} reaches the {fitting.kind} at {plan.place(middle)}: round it "
                    f"shorter, or set the {fitting.kind} further in."
                )
    return cautions


def tip_of(plan: CardPlan, end: str) -> tuple[Answered, Answered | None] | None:
    """The rounding of an end, and of an oval's the other way, as long; None for an end that stays flat."""
    at = 0.0 if end == "heel" else plan.spar.length
    close = [
        fitting.kind for fitting in plan.spar.fittings if abs(fitting.at - at) <= CLOSE * plan.outline.width_at(at)
    ]
    bears = any(kind in BEARS for kind in close) or (end == "heel" and plan.spar.kind in STANDS)
    if bears or plan.body.corners_off(at, 16) < 1:
        return None
    own = end == "head"  # which the calculator follows by itself
    across = plan.job.ask("tip") if own else plan.job.ask("tip", diameter=spelled(plan.outline.width_at(at)))
    if plan.depths is None:
        return across, None
    deep = spelled(plan.depths.width_at(at))
    return across, plan.job.ask("tip", diameter=deep, shape="blunt", length=spelled(across["tip_length"]))


def _chamfers(end: str, across: Answered, deep: Answered | None) -> Table:
    """The flats in the order of work. Of an oval, whose flats lean two ways, what is left both ways."""
    columns = [Column("flat", Count("Flat")), Column("set_back", Length("Line back from the end"))]
    if deep:
        columns += [Column("across", Length("Left of width")), Column("deep", Length("Left of depth"))]
    else:
        columns += [Column("angle", Angle("To the axis")), Column("across", Length("Left across"))]
    columns.append(Column("proud", Length("Ridge left")))
    rows: list[tuple[Value, ...]] = []
    for k in (1, 2, 3):
        back, wide, lean = (across[f"{name}_{k}"] for name in ("set_back", "across", "angle"))
        proud = max(row[f"proud_{k}"] or 0.0 for row in (across, deep) if row)
        if back is not None:
            rows.append((k, back, wide, deep[f"across_{k}"], proud) if deep else (k, back, lean, wide, proud))
    return Table(end, tuple(columns), tuple(rows))


def _measure(plan: CardPlan) -> Step:
    """What callipers and tape should read; there is room to write beside it."""
    tape = plan.sides == ROUND
    columns = [Column("at", Length("Station")), Column("width", Length("Width"))]
    columns += [Column("depth", Length("Depth"))] if plan.oval else []
    columns += [Column("girth", Length("Tape reads"))] if tape else []
    rows: list[tuple[Value, ...]] = []
    full = set(plan.full(16))  # a tape says nothing of a corner
    for at in plan.ats:
        sizes = [size.across for size in plan.sizes(at)]
        girth = [plan.facets(at)["girth"] if at in full else None] if tape else []
        rows.append((at, *sizes, *girth))
    how = "two ways with callipers" + (", or once round with a tape" if tape else "")
    return Step(
        "measure",
        "Measure it",
        (
            f"Measure every station {how}, now that it is sanded. Write it beside the size that is meant, and enter it "
            "in the log.",
        ),
        (Table("measured", tuple(columns), tuple(rows)),),
        checks=(
            f"Heel to head {plan.job.length(plan.spar.length)}.",
            "Look along it from both ends, a quarter turn at a time: it is straight, without a hump or a hollow.",
        ),
        asked=questions(
            *(size.by for at in plan.ats for size in plan.sizes(at)),
            *(map(plan.facets, plan.full(16)) if tape else ()),
        ),
    )
