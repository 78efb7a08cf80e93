"""Taper: the width at a station, what comes off each face, and the whole station table."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import atan, degrees
from typing import Annotated

from ..calculator import Calculator, Column, Table
from ..drawing.shapes import Dimension, Drawing, square
from ..errors import InputFault
from ..fields import Angle, Choice, Length, Pairs, Slope
from ..spar.outline import LAWS, Outline
from ..spar.polygon import mark


@dataclass(frozen=True, slots=True, kw_only=True)
class Inputs:
    length: Annotated[float, Length("Length of the spar", above=0, follows="spar.length")]
    butt: Annotated[float, Length("Width at the heel", above=0, at_most=2000, follows="spar.butt")]
    head: Annotated[float, Length("Width at the head", above=0, at_most=2000, follows="spar.head")]
    at: Annotated[float, Length("Station", at_least=0, follows="spar.at")]
    law: Annotated[str, Choice("Law of the taper", options=LAWS, follows="spar.law")] = "straight"
    parallel_to: Annotated[float | None, Length("Full width up to", at_least=0)] = None
    stations: Annotated[
        tuple[tuple[float, float], ...] | None,
        Pairs("Widths in between", above=0, at_most=2000, columns=("station", "width"), follows="spar.between"),
    ] = None
    blank: Annotated[float | None, Length("Side of the blank", above=0, at_most=2000, follows="spar.blank")] = None
    station_step: Annotated[float, Length("A row every", at_least=1, follows="rule.station_step")] = 304.8


@dataclass(frozen=True, slots=True, kw_only=True)
class Answers:
    off_each_face: Annotated[
        float,
        Length("Off each face", formula="(blank_side − width_at) / 2", source="the spar lies centred in its blank"),
    ]
    width_at: Annotated[
        float,
        Length(
            "Width here",
            formula="width_from + (width_to − width_from)·(at − piece_from) / (piece_to − piece_from)",
            source="straight from station to station",
        ),
    ]
    half_at: Annotated[float, Length("Each side of the centre line", formula="width_at / 2", source="half the width")]
    slope: Annotated[
        float,
        Slope(
            "Gets thinner by",
            formula="(width_from − width_to) / (piece_to − piece_from)",
            source="the whole width, towards the head",
        ),
    ]
    slope_angle: Annotated[
        float,
        Angle("Face to centre line", formula="atan(slope / 2)·180/π", source="half of the taper is on each face"),
    ]
    blank_side: Annotated[
        float, Length("Blank reckoned with", formula="blank", source="as given, or else the widest place", way="up")
    ]
    piece_from: Annotated[float, Length("This piece begins at", formula="piece_from", source="the stations")]
    width_from: Annotated[float, Length("Width where it begins", formula="width_from", source="the stations")]
    piece_to: Annotated[float, Length("This piece ends at", formula="piece_to", source="the stations")]
    width_to: Annotated[float, Length("Width where it ends", formula="width_to", source="the stations")]


def outline(inputs: Inputs) -> Outline:
    """The spar that the inputs describe. InputFault, naming its field, when they contradict one another."""
    length, inner = inputs.length, list(inputs.stations or ())
    for at, _ in inner:
        if not 0 < at < length:
            raise InputFault("the station at {} is not between the heel and the head", "stations", (at,))
    if inputs.parallel_to:
        if inputs.parallel_to >= length:
            raise InputFault("the full width reaches past the head", "parallel_to")
        if inner and inner[0][0] <= inputs.parallel_to:
            raise InputFault("a width in between falls where the full width still runs", "parallel_to")
        inner.insert(0, (inputs.parallel_to, inputs.butt))
    try:
        return Outline(((0.0, inputs.butt), *inner, (length, inputs.head)), inputs.law)
    except InputFault as fault:
        raise InputFault(fault.template, "stations" if inputs.stations else "parallel_to", fault.lengths) from None


def work(inputs: Inputs) -> Answers:
    spar = outline(inputs)
    blank = spar.widest if inputs.blank is None else inputs.blank
    if blank < spar.widest - 1e-6:
        raise InputFault(
            "{} is less than the spar's widest; it takes a blank of {} or more", "blank", (blank, spar.widest)
        )
    width, slope = spar.width_at(inputs.at), spar.slope_at(inputs.at)
    (piece_from, width_from), (piece_to, width_to) = spar.piece_at(inputs.at)
    return Answers(
        off_each_face=(blank - width) / 2,
        width_at=width,
        half_at=width / 2,
        slope=slope,
        slope_angle=degrees(atan(slope / 2)),
        blank_side=blank,
        piece_from=piece_from,
        width_from=width_from,
        piece_to=piece_to,
        width_to=width_to,
    )


def formulas(inputs: Inputs) -> Mapping[str, str]:
    given = {"blank_side": "max(width of the stations)"} if inputs.blank is None else {}
    if inputs.law == "straight":
        return given
    (_, before), (_, after) = outline(inputs).piece_at(inputs.at)
    run = "(piece_to − piece_from)"
    if before >= after:
        part, width = f"(at − piece_from)/{run}", "width_from − (width_from − width_to)"
    else:
        part, width = f"(piece_to − at)/{run}", "width_to − (width_to − width_from)"
    return {**given, "width_at": f"{width}·({part})²", "slope": f"2·(width_from − width_to)/{run}·{part}"}


def tables(inputs: Inputs, answers: Answers) -> tuple[Table, ...]:
    spar = outline(inputs)
    columns = (
        Column("at", Length("Station")),
        Column("width", Length("Width")),
        Column("half", Length("From centre line")),
        Column("off_each_face", Length("Off each face")),
        Column("mark_8", Length("Line for 8")),
        Column("mark_16", Length("Line for 16")),
    )
    rows = []
    for at in spar.steps(inputs.station_step):
        width = spar.width_at(at)
        rows.append((at, width, width / 2, (answers.blank_side - width) / 2, mark(width, 8), mark(width, 16)))
    return (Table("stations", columns, tuple(rows)),)


def drawing(inputs: Inputs, answers: Answers) -> Drawing:
    blank, width = answers.blank_side, answers.width_at
    return Drawing(
        "the section in its blank, to scale",
        (
            *square(blank, blank, "light"),
            *square(width, width),
            Dimension(-width / 2, 0, width / 2, 0, width),
        ),
    )


CALCULATOR = Calculator(
    name="taper",
    question="How thick is it at this station, and how much comes off?",
    inputs=Inputs,
    answers=Answers,
    work=work,
    headline="off_each_face",
    tables=tables,
    drawing=drawing,
    formulas=formulas,
    cautions=(
        "First faces from the centre line, offcuts kept as bearers; turn, mark the second pair afresh.",
        "Guard, push block, feather board; hold the spar up past the blade.",
    ),
    sources=(
        "Straight line, and bow of the second degree with its top at the widest part (geometry).",
        "Second faces marked afresh after the first (common practice, no source).",
    ),
)
