"""Moisture: how wide timber is when it has settled in other air."""

from collections.abc import Callable, Mapping

from ..calculator import Column, Table, declared
from ..drawing.shapes import Dimension, Drawing, Fill, Line, corners, square
from ..errors import InputFault
from ..fields import Length, Ratio, Text, Value
from ..quantities import Percent, Temperature
from ..record import Annotated, Record
from ..timber.moisture import COLDEST, DAMPEST, DRIEST, HOTTEST, coefficients, emc, width_at
from ..timber.species import Named, Own, Species, Timbers, published
from .timber_asked import timber_asked

ROOM = (70 - 32) / 1.8  # °C
LARGER = 3  # the drawing shows the change so many times
_IN_TABLE = (6.0, 8.0, 10.0, 12.0, 14.0, 16.0, 18.0, 20.0, 25.0, 30.0)
_EQUATION = "Wood Handbook eq. 4-5 (FPL-GTR-190), temperature in °C"
_AIR = "as given, or what wood settles to in that air: Wood Handbook eq. 4-5 (FPL-GTR-190)"
_MOVES = "evenly from where it begins to shrink to oven-dry: Wood Handbook eq. 4-9 (GTR-282), 4-7 (GTR-190)"
_WHEN = ("later", "now")
_NAMES = ("emc_w", "emc_kh", "emc_k1", "emc_k2")
_FIGURES = "as typed, or the timber's own figure"


def _settled(total: str) -> str:
    """The formula of `width_at`, with what both moistures have in common left out."""
    later, now = (f"100·shrinks_below/{total} − shrinks_below + min(emc_{when}, shrinks_below)" for when in _WHEN)
    return f"width·({later}) / ({now})"


def _air(when: str) -> str:
    """The air's temperature in °C, whatever it is shown in."""
    return f"{{((temp_{when} − 32)/1.8)|temp_{when}}}"


def _emc(when: str) -> str:
    """The formula of `emc` in its coefficients, which are answers of their own."""
    w, kh, k1, k2 = (f"{name}_{when}" for name in _NAMES)
    return f"1800/{w}·({kh}/(1 − {kh}) + ({k1}·{kh} + 2·{k1}·{k2}·{kh}²) / (1 + {k1}·{kh} + {k1}·{k2}·{kh}²))"


def _w(when: str) -> str:
    return f"349 + 1.29·{_air(when)} + 0.0135·{_air(when)}²"


def _kh(when: str) -> str:
    return f"(0.805 + 0.000736·{_air(when)} − 0.00000273·{_air(when)}²)·rh_{when}/100"


def _k1(when: str) -> str:
    return f"6.27 − 0.00938·{_air(when)} − 0.000303·{_air(when)}²"


def _k2(when: str) -> str:
    return f"1.91 + 0.0407·{_air(when)} − 0.000293·{_air(when)}²"


def _coefficient(name: str, called: str, formula: Callable[[str], str], when: str) -> Ratio:
    """A coefficient of the equation for the air at one time, as an answer."""
    row = f"Coefficient {name}"
    return Ratio(f"{row} {when}", called=called, formula=formula(when), source=_EQUATION, row=row, column=when)


class Inputs(Record):
    species: Annotated[str, Named("Timber", follows="spar.species")]
    own: Annotated[Own | None, Timbers("The boat's own timbers", follows="boat.species")] = None
    width: Annotated[float, Length("Width now", above=0, at_most=2000, follows="spar.width_at")]
    mc_now: Annotated[float | None, Percent("Moisture measured now", at_least=0, at_most=200)] = None
    temp_now: Annotated[float, Temperature("Air temperature now", at_least=COLDEST, at_most=HOTTEST, metric=20.0)] = (
        ROOM
    )
    rh_now: Annotated[float, Percent("Relative humidity now", at_least=DRIEST, at_most=DAMPEST)] = 50.0
    mc_later: Annotated[float | None, Percent("Moisture measured later", at_least=0, at_most=200)] = None
    temp_later: Annotated[
        float, Temperature("Air temperature later", at_least=COLDEST, at_most=HOTTEST, metric=20.0)
    ] = ROOM
    rh_later: Annotated[float, Percent("Relative humidity later", at_least=DRIEST, at_most=DAMPEST)] = 75.0
    radial: Annotated[
        float | None, Percent("Radial shrinkage, green to dry", called="radial shrinkage typed", above=0, below=30)
    ] = None
    tangential: Annotated[
        float | None,
        Percent("Tangential shrinkage, green to dry", called="tangential shrinkage typed", above=0, below=30),
    ] = None


class Answers(Record):
    width_tangential: Annotated[
        float,
        Length(
            "Width along the rings, later",
            called="width along the rings later",
            formula=_settled("tangential_total"),
            source=_MOVES,
        ),
    ]
    width_radial: Annotated[
        float,
        Length(
            "Width across the rings, later",
            called="width across the rings later",
            formula=_settled("radial_total"),
            source=_MOVES,
        ),
    ]
    change_tangential: Annotated[
        float, Length("Change along the rings", formula="width_tangential − width", source="minus where it shrinks")
    ]
    change_radial: Annotated[
        float, Length("Change across the rings", formula="width_radial − width", source="minus where it shrinks")
    ]
    emc_now: Annotated[float, Percent("Moisture now", formula=_emc("now"), source=_AIR)]
    emc_later: Annotated[float, Percent("Moisture later", formula=_emc("later"), source=_AIR)]
    tangential_total: Annotated[
        float, Percent("Tangential shrinkage, used", called="tangential shrinkage", source=_FIGURES)
    ]
    radial_total: Annotated[float, Percent("Radial shrinkage, used", called="radial shrinkage", source=_FIGURES)]
    shrinks_below: Annotated[
        float,
        Percent("Begins to shrink at", called="fibre saturation", source="30 % as a rule, or the timber's own figure"),
    ]
    timber: Annotated[str, Text("Timber used", source="the timber of that name", longest=200)]
    species_source: Annotated[str | None, Text("Source of its figures", source="where they are published", longest=400)]
    species_mark: Annotated[str | None, Text("How checked", source="the table's own word", longest=400)]
    emc_w_now: Annotated[float | None, _coefficient("W", "W", _w, "now")]
    emc_w_later: Annotated[float | None, _coefficient("W", "W", _w, "later")]
    emc_kh_now: Annotated[float | None, _coefficient("K times humidity", "KH", _kh, "now")]
    emc_kh_later: Annotated[float | None, _coefficient("K times humidity", "KH", _kh, "later")]
    emc_k1_now: Annotated[float | None, _coefficient("K1", "K1", _k1, "now")]
    emc_k1_later: Annotated[float | None, _coefficient("K1", "K1", _k1, "later")]
    emc_k2_now: Annotated[float | None, _coefficient("K2", "K2", _k2, "now")]
    emc_k2_later: Annotated[float | None, _coefficient("K2", "K2", _k2, "later")]


def _unknown(species: Species) -> InputFault:
    known = [each.name for each in published() if each.radial and each.tangential]
    reason = (
        f"{species.name} has no published shrinkage: type radial and tangential, or choose one of the {len(known)} "
        f"timbers that have it, as {known[0]} or {known[1]}"
    )
    return InputFault(reason, "species")


def work(inputs: Inputs) -> Answers:
    timber = timber_asked(inputs.species, inputs.own)
    radial = inputs.radial if inputs.radial is not None else timber.radial
    tangential = inputs.tangential if inputs.tangential is not None else timber.tangential
    if radial is None or tangential is None:
        raise _unknown(timber)
    typed = None not in (inputs.radial, inputs.tangential) and timber.saturation is None
    now = inputs.mc_now if inputs.mc_now is not None else emc(inputs.temp_now, inputs.rh_now)
    later = inputs.mc_later if inputs.mc_later is not None else emc(inputs.temp_later, inputs.rh_later)
    begins = timber.shrinks_below
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
        timber=timber.name,
        species_source=None if typed else timber.source,
        species_mark=None if typed else timber.mark,
        **_coefficients(inputs),
    )


def _coefficients(inputs: Inputs) -> dict[str, float | None]:
    """The coefficients of the equation for the air now and later; None where the moisture was measured."""
    contents: dict[str, float | None] = {}
    for when in _WHEN:
        measured, temperature, humidity = (getattr(inputs, f"{name}_{when}") for name in ("mc", "temp", "rh"))
        w, k, k1, k2 = coefficients(temperature)
        for name, value in zip(_NAMES, (w, k * humidity / 100, k1, k2), strict=True):
            contents[f"{name}_{when}"] = value if measured is None else None
    return contents


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
        f"rings lying flat: dotted as it is now, filled as it settles; the change {LARGER} times to scale",
        (
            Fill(corners(-inputs.width / 2, -inputs.width / 2, inputs.width / 2, inputs.width / 2), "off"),
            Fill(corners(-wide / 2, -deep / 2, wide / 2, deep / 2)),
            *square(inputs.width, inputs.width, "light"),
            *square(wide, deep),
            *rings,
            Dimension(-wide / 2, 0, wide / 2, 0, answers.width_tangential),
        ),
    )


def saturated(inputs: Inputs, answers: Answers) -> str | None:
    """Where the wood is wetter than the moisture at which it begins to shrink."""
    begins = answers.shrinks_below
    if max(answers.emc_now, answers.emc_later) <= begins:
        return None
    return f"Above {begins:g} %, fibre saturation, wood neither swells nor shrinks: only what is below that counts."


def typed_over(inputs: Inputs, answers: Answers) -> str | None:
    """Where a shrinkage is typed."""
    if inputs.radial is None and inputs.tangential is None:
        return None
    return "Shrinkage as typed, instead of the published figure."


CALCULATOR = declared(
    globals(),
    question="What will it measure when it has settled?",
    headline="width_tangential",
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
