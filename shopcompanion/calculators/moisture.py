"""Moisture: how wide timber is when it has settled in other air."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

from ..calculator import Calculator, Column, Table
from ..drawing.shapes import Dimension, Drawing, Line, square
from ..errors import InputFault
from ..fields import Length, Text, Value
from ..quantities import Percent, Temperature
from ..timber.moisture import COLDEST, DAMPEST, DRIEST, HOTTEST, emc, width_at
from ..timber.species import Named, Own, Species, Timbers, find, published

ROOM = (70 - 32) / 1.8  # °C
LARGER = 3  # the drawing shows the change so many times
_IN_TABLE = (6.0, 8.0, 10.0, 12.0, 14.0, 16.0, 18.0, 20.0, 25.0, 30.0)
_AIR = "as given, or what wood settles to in that air: Wood Handbook eq. 4-5 (FPL-GTR-190)"
_MOVES = "evenly from where it begins to shrink to oven-dry: Wood Handbook eq. 4-9 (GTR-282), 4-7 (GTR-190)"
_WHEN = ("later", "now")
_FIGURES = "as typed, or the timber's own figure"


def _settled(total: str) -> str:
    """The formula of `width_at`, with what both moistures have in common left out."""
    later, now = (f"100·shrinks_below/{total} − shrinks_below + min(emc_{when}, shrinks_below)" for when in _WHEN)
    return f"width·({later}) / ({now})"


@dataclass(frozen=True, slots=True, kw_only=True)
class Inputs:
    species: Annotated[str, Named("Timber", follows="spar.species")]
    own: Annotated[Own | None, Timbers("The boat's own timbers", follows="boat.species")] = None
    width: Annotated[float, Length("Width now", above=0, at_most=2000, follows="spar.width_at")]
    mc_now: Annotated[float | None, Percent("Moisture measured now", at_least=0, at_most=200)] = None
    temp_now: Annotated[float, Temperature("Air temperature now", at_least=COLDEST, at_most=HOTTEST)] = ROOM
    rh_now: Annotated[float, Percent("Relative humidity now", at_least=DRIEST, at_most=DAMPEST)] = 50.0
    mc_later: Annotated[float | None, Percent("Moisture measured later", at_least=0, at_most=200)] = None
    temp_later: Annotated[float, Temperature("Air temperature later", at_least=COLDEST, at_most=HOTTEST)] = ROOM
    rh_later: Annotated[float, Percent("Relative humidity later", at_least=DRIEST, at_most=DAMPEST)] = 75.0
    radial: Annotated[float | None, Percent("Radial shrinkage, green to dry", above=0, below=30)] = None
    tangential: Annotated[float | None, Percent("Tangential shrinkage, green to dry", above=0, below=30)] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Answers:
    width_tangential: Annotated[
        float, Length("Width along the rings, later", formula=_settled("tangential_total"), source=_MOVES)
    ]
    width_radial: Annotated[
        float, Length("Width across the rings, later", formula=_settled("radial_total"), source=_MOVES)
    ]
    change_tangential: Annotated[
        float, Length("Change along the rings", formula="width_tangential − width", source="minus where it shrinks")
    ]
    change_radial: Annotated[
        float, Length("Change across the rings", formula="width_radial − width", source="minus where it shrinks")
    ]
    emc_now: Annotated[float, Percent("Moisture now", formula="emc_now", source=_AIR)]
    emc_later: Annotated[float, Percent("Moisture later", formula="emc_later", source=_AIR)]
    tangential_total: Annotated[
        float, Percent("Tangential shrinkage, used", formula="tangential_total", source=_FIGURES)
    ]
    radial_total: Annotated[float, Percent("Radial shrinkage, used", formula="radial_total", source=_FIGURES)]
    shrinks_below: Annotated[
        float,
        Percent("Begins to shrink at", formula="shrinks_below", source="30 % as a rule, or the timber's own figure"),
    ]
    timber: Annotated[str, Text("Timber used", formula="timber", source="the timber of that name", longest=200)]
    species_source: Annotated[
        str | None,
        Text("Source of its figures", formula="species_source", source="where they are published", longest=400),
    ]
    species_mark: Annotated[
        str | None, Text("How checked", formula="species_mark", source="the table's own word", longest=400)
    ]


def _species(inputs: Inputs) -> Species:
    try:
        return find(inputs.species, inputs.own)
    except InputFault as fault:
        raise InputFault(fault.reason, "species") from None


def _unknown(one: Species) -> InputFault:
    known = [each.name for each in published() if each.radial and each.tangential]
    reason = (
        f"no shrinkage is known of {one.name}: type radial and tangential, or choose one of the {len(known)} timbers "
        f"that have it, as {known[0]} or {known[1]}"
    )
    return InputFault(reason, "species")


def work(inputs: Inputs) -> Answers:
    one = _species(inputs)
    radial = inputs.radial if inputs.radial is not None else one.radial
    tangential = inputs.tangential if inputs.tangential is not None else one.tangential
    if radial is None or tangential is None:
        raise _unknown(one)
    typed = None not in (inputs.radial, inputs.tangential) and one.saturation is None
    now = inputs.mc_now if inputs.mc_now is not None else emc(inputs.temp_now, inputs.rh_now)
    later = inputs.mc_later if inputs.mc_later is not None else emc(inputs.temp_later, inputs.rh_later)
    begins = one.shrinks_below
    along, across = (width_at(inputs.width, each, now, later, saturation=begins) for each in (tangential, radial))
    return Answers(
        width_tangential=along,
        width_radial=across,
        change_tangential=along - inputs.width,
        change_radial=across - inputs.width,
        emc_now=now,
        emc_later=later,
        tangential_total=tangential,
        radial_total=radial,
        shrinks_below=begins,
        timber=one.name,
        species_source=None if typed else one.source,
        species_mark=None if typed else one.mark,
    )


def formulas(inputs: Inputs) -> Mapping[str, str]:
    typed = {"emc_now": "mc_now", "emc_later": "mc_later", "radial_total": "radial", "tangential_total": "tangential"}
    return {answer: name for answer, name in typed.items() if getattr(inputs, name) is not None}


def tables(inputs: Inputs, answers: Answers) -> tuple[Table, ...]:
    """The width at other moistures."""
    columns = (
        Column("moisture", Percent("Moisture")),
        Column("tangential", Length("Along the rings")),
        Column("radial", Length("Across the rings")),
    )
    rows: list[tuple[Value, ...]] = [
        (mc, *(width_at(inputs.width, each, answers.emc_now, mc, saturation=answers.shrinks_below)
               for each in (answers.tangential_total, answers.radial_total)))
        for mc in _IN_TABLE
    ]  # fmt: skip
    return (Table("widths", columns, tuple(rows)),)


def drawing(inputs: Inputs, answers: Answers) -> Drawing:
    """The end of a square that is now of that width, rings lying flat, and what it settles to."""
    wide, deep = (inputs.width + LARGER * change for change in (answers.change_tangential, answers.change_radial))
    rings = (Line(-wide / 2, k * deep / 6, wide / 2, k * deep / 6, "light") for k in (-2, -1, 0, 1, 2))
    return Drawing(
        f"rings flat: as it is now (light) and settled (dark), the change {LARGER} times to scale",
        (
            *square(inputs.width, inputs.width, "light"),
            *square(wide, deep),
            *rings,
            Dimension(-wide / 2, 0, wide / 2, 0, answers.width_tangential),
        ),
    )


def saturated(inputs: Inputs, answers: Answers) -> str | None:
    begins = answers.shrinks_below
    if max(answers.emc_now, answers.emc_later) <= begins:
        return None
    return f"Above {begins:g} %, fibre saturation, it neither swells nor shrinks: only what is below counts."


def typed_over(inputs: Inputs, answers: Answers) -> str | None:
    if inputs.radial is None and inputs.tangential is None:
        return None
    return "Shrinkage as typed, instead of the published figure."


CALCULATOR = Calculator(
    name="moisture",
    question="What will it measure when it has settled?",
    inputs=Inputs,
    answers=Answers,
    work=work,
    headline="width_tangential",
    tables=tables,
    drawing=drawing,
    formulas=formulas,
    cautions=(
        saturated,
        typed_over,
        "These are means of many trees: a plank will differ. Along the grain it hardly moves.",
        "A round spar settles oval: leave play where a fitting goes round it.",
    ),
    sources=(
        "USDA Forest Products Laboratory, Wood Handbook: eq. 4-5; shrinkage eq. 4-9 of FPL-GTR-282 (2021), which is "
        "4-7 of FPL-GTR-190 (2010).",
        "Shrinkage: Wood Handbook tables 4-3 and 4-4, or as the boat's own timber has it. It begins at 30 % as a rule; "
        "western redcedar, northern white cedar and redwood 22 %, Table 13-5, from memory.",
    ),
)
