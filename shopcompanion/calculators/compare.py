"""Compare: a spar beside its variants: as drawn, as measured, in another timber, hollow, and the lightest that does."""

from collections.abc import Callable, Iterator
from functools import lru_cache

from ..beam.proof import prove
from ..calculator import Column, Table, declared
from ..drawing.shapes import Drawing, Fill, Label, Shape, corners, loop
from ..errors import InputFault
from ..fields import Count, Length, Ratio, Text, Value
from ..quantities import Mass, Money
from ..record import Annotated, NamedTuple, Record, fields
from ..spar.body import Body
from ..timber.offers import Offers, Yard
from ..timber.species import Named
from . import lightest, proved_spar, proving, swap
from .proved_spar import TimberFigures
from .proving import LoadInputs

_TABLE = "the table of variants"
_COST = "the cheapest timber of the yard that its blank comes out of in one piece, bought for it alone"


class Inputs(LoadInputs):
    other: Annotated[str | None, Named("Other timber")] = None
    wall_ratio: Annotated[float, Ratio("Wall, part of width", called="wall ratio", above=0, below=0.5)] = 0.2
    yard: Annotated[Offers | None, Yard("What the yard sells", follows="boat.yard")] = None
    planing: Annotated[
        float, Length("Planed off each face", at_least=0, at_most=500, follows="blank.planing", asked="seldom")
    ] = 0.0
    bow: Annotated[float, Length("Bow of the blank", at_least=0, at_most=500, follows="spar.bow", asked="seldom")] = 0.0
    trim: Annotated[
        float, Length("Left on at each end", at_least=0, at_most=1000, follows="shop.trim", asked="seldom")
    ] = 0.0


class Answers(Record):
    lightest_of_all: Annotated[str, Text("Lightest", longest=200, source=_TABLE)]
    mass_least: Annotated[float, Mass("Weight of the lightest", source=_TABLE)]
    mass_drawn: Annotated[float, Mass("Weight as drawn", source=_TABLE)]
    lighter_by: Annotated[
        float, Mass("Lighter by", formula="mass_drawn − mass_least", source="the lightest against as drawn")
    ]
    stiffest: Annotated[str, Text("Moves least", longest=200, source=_TABLE)]
    safest: Annotated[str, Text("Farthest from breaking", longest=200, source=_TABLE)]
    cost_drawn: Annotated[float | None, Money("Cost of timber, as drawn", source=_COST)]
    cost_least: Annotated[float | None, Money("Cost of timber, lightest", source=_COST)]
    currency: Annotated[str | None, Text("Currency", source="the prices of the yard")]
    compared: Annotated[int, Count("Compared", source=_TABLE)]


class Variant(NamedTuple):
    """One way to make the spar, and how it stands; `cost` is that of its timber, and `fault` says why it cannot be
    told.
    """

    name: str
    mass: float | None = None
    widest: float | None = None
    deflection: float | None = None
    factor: float | None = None
    load_factor: float | None = None
    cost: float | None = None
    fault: str = ""


@lru_cache(maxsize=8)
def variants(inputs: Inputs) -> tuple[Variant, ...]:
    """Every variant, the spar as drawn first. InputFault where that one fails; the fault of another is in its row."""
    drawn, body, timber = apart(inputs)
    first = _standing(drawn, "as drawn", body, timber)
    return (first, *_others(inputs, drawn, body, timber))


def apart(inputs: Inputs) -> tuple[Inputs, Body, TimberFigures]:
    """The spar as drawn and its timber; InputFault where it is seen at once that they cannot be compared."""
    drawn = inputs._replace(as_built="no")
    body, timber = proved_spar.spar_of(drawn), proved_spar.timber_of(drawn)
    if timber.density is None or timber.rupture is None:
        raise InputFault("variants are compared by weight and strength: name a timber that has both", "species")
    return drawn, body, timber


def _others(inputs: Inputs, drawn: Inputs, body: Body, timber: TimberFigures) -> Iterator[Variant]:
    def tried(name: str, make: Callable[[], Variant]) -> Variant:
        try:
            return make()
        except InputFault as fault:
            return Variant(name, fault=fault.template.format(*(f"{length:.0f} mm" for length in fault.lengths)))

    if inputs.measured:
        built = drawn._replace(yard=None)  # it is bought and made
        yield tried("as measured", lambda: _standing(built, "as measured", proved_spar.as_built(body, inputs), timber))
    if inputs.species is not None:
        yield tried("in another timber", lambda: _in_other(inputs, drawn, body))
    yield tried("hollow, as stiff", lambda: _hollow(inputs, drawn, body, timber))
    yield tried("lightest that does", lambda: _lightest(drawn, timber))


def _standing(inputs: Inputs, name: str, body: Body, timber: TimberFigures) -> Variant:
    asked = proving.asked_of(inputs, body, timber)
    proof = prove(asked.case)
    factor = (timber.rupture or 0.0) / proof.worst_stress
    widest = max(width for outline in (body.outline, body.depths) if outline for _, width in outline.stations)
    return Variant(
        name, proving.mass_of(asked), widest, abs(proof.farthest[1]), factor, proof.gives and proof.gives.times,
        None if body.section == "staves" else _cost(inputs, timber.name, widest, body.length),
    )  # fmt: skip


def _cost(inputs: Inputs, timber: str, widest: float, length: float) -> float | None:
    """What the timber of a blank costs, bought for it alone and in one piece; None where the yard has none."""
    if inputs.yard is None:
        return None
    buy = inputs.yard.cheapest(timber, widest + 2 * inputs.planing + inputs.bow, length + 2 * inputs.trim)
    return None if buy is None else buy.price / 100


def _in_other(inputs: Inputs, drawn: Inputs, body: Body) -> Variant:
    asked = swap.Inputs(own=inputs.own, species=inputs.species or "", other=inputs.other, width=body.outline.widest)
    _, then = swap.pair(asked)
    answers = swap.work(asked)
    other = drawn._replace(species=then.name, modulus=None, rupture=None)
    made = proved_spar.scaled(body, answers.wanted_width / body.outline.widest)
    return _standing(other, f"in {then.name}", made, proved_spar.timber_of(other))


def _hollow(inputs: Inputs, drawn: Inputs, body: Body, timber: TimberFigures) -> Variant:
    if body.section != "round":
        raise InputFault("only a round spar is worked out hollow here", "section")
    ring = 1 - 2 * inputs.wall_ratio
    wide = proved_spar.scaled(body, (1 - ring**4) ** -0.25)
    wall = inputs.wall_ratio * wide.outline.widest
    made = Body(wide.outline, None, "hollow", wall, wide.regions, wide.joints, wide.fittings)
    if why := made.wall_fault():
        raise InputFault(why[0], "wall_ratio", why[1])
    return _standing(drawn, "hollow, as stiff", made, timber)


def _lightest(drawn: Inputs, timber: TimberFigures) -> Variant:
    shared = {field.name: getattr(drawn, field.name) for field in fields(LoadInputs)}
    _, _, _, _, made = lightest.lightest(lightest.Inputs(**shared))
    return _standing(drawn, "lightest that does", made, timber)


def work(inputs: Inputs) -> Answers:
    told = [variant for variant in variants(inputs) if variant.mass is not None]
    least = min(told, key=lambda variant: variant.mass or 0.0)
    return Answers(
        lightest_of_all=least.name,
        mass_least=least.mass or 0.0,
        mass_drawn=told[0].mass or 0.0,
        lighter_by=(told[0].mass or 0.0) - (least.mass or 0.0),
        stiffest=min(told, key=lambda variant: variant.deflection or 0.0).name,
        safest=max(told, key=lambda variant: variant.factor or 0.0).name,
        cost_drawn=told[0].cost,
        cost_least=least.cost,
        currency=inputs.yard.currency if inputs.yard else None,
        compared=len(told),
    )


_COLUMNS = (
    Column("variant", Text("Variant", longest=200)),
    Column("mass", Mass("Weighs")),
    Column("widest", Length("Widest", rounding="up")),
    Column("deflection", Length("Moves")),
    Column("factor", Ratio("Factor")),
    Column("load_factor", Ratio("Buckling")),
)


def tables(inputs: Inputs, answers: Answers) -> tuple[Table, ...]:
    columns: tuple[Column, ...] = _COLUMNS
    if inputs.yard is not None:
        columns = (*columns, Column("cost", Money(f"Timber, {inputs.yard.currency}")))
    rows: list[tuple[Value, ...]] = [
        (f"{variant.name}: {variant.fault}" if variant.fault else variant.name, *variant[1 : len(columns)])
        for variant in variants(inputs)
    ]
    return (Table("variants", columns, tuple(rows)),)


def drawing(inputs: Inputs, answers: Answers) -> Drawing:
    """A bar for every variant, as long as it is heavy; the lightest one filled as wood."""
    told = [variant for variant in variants(inputs) if variant.mass is not None]
    shapes: list[Shape] = []
    for place, variant in enumerate(told):
        long, low = 400.0 * (variant.mass or 0.0) / max(other.mass or 0.0 for other in told), -60.0 * place
        bar = corners(0.0, low, long, low + 36.0)
        shapes += [Fill(bar, "wood" if variant.name == answers.lightest_of_all else "off"), *loop(*bar)]
        shapes.append(Label(long / 2, low + 18.0, variant.name))
    return Drawing("what each weighs, to scale", tuple(shapes))


def costing(inputs: Inputs, answers: Answers) -> str | None:
    """Where the boat's yard list has prices."""
    if inputs.yard is None:
        return None
    return (
        "Cost: the cheapest timber of the yard that the blank comes out of in one piece, bought for it alone; the plan "
        "for the whole boat may do with less."
    )


CALCULATOR = declared(
    globals(),
    question="How does it compare: as drawn, as measured, in another timber, hollow, lightest?",
    headline="lightest_of_all",
    slow=True,
    cautions=(
        proving.GUIDANCE,
        "A thicker spar catches more wind and wants other fittings; neither is counted here.",
        costing,
    ),
    sources=(
        "Bending and buckling: as strength has them.",
        "Other timber and hollow: as swap. Lightest: as lightest finds it.",
    ),
)
