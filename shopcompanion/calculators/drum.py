"""Drum: does a sanding belt, turned grit inwards round spar and drum, keep moving with the drum?"""

from collections.abc import Mapping
from math import degrees, pi, sqrt

from ..calculator import Column, Said, Table, declared
from ..drawing.shapes import Arc, Dimension, Drawing, Fill, Line, Shape, Shown, along_arc
from ..errors import InputFault
from ..fields import Angle, Choice, Length, Ratio, Turning, Value
from ..quantities import Speed
from ..record import Annotated, Record
from ..spar import belt
from ..spar.outline import Outline, named
from .along_spar import EVERY, Law, RowEvery, Widths

_BELT = "open belt drive"
_ARC = f"{_BELT}; the angle in radians"
_EYTELWEIN = "Eytelwein: grip grows with friction times wrap, on drum and spar alike"
_LEAN = "(drum − widest)/(2·centres)"


def _round(spar: str, apart: str) -> str:
    lean = f"(drum − {spar})/(2·{apart})"
    return f"belt_length = 2·{apart}·√(1 − ({lean})²) + π·(drum + {spar})/2 + asin({lean})·(drum − {spar})"


class Inputs(Record):
    drum: Annotated[float, Length("Drum diameter", above=0, at_most=2000, follows="shop.drum")]
    belt_length: Annotated[
        float, Length("Belt length, inside", called="belt length", above=0, at_most=20000, follows="shop.belt_length")
    ]
    widest: Annotated[float, Length("Spar's widest", above=0, at_most=2000, follows="spar.largest")]
    narrowest: Annotated[float | None, Length("Spar's narrowest", above=0, at_most=2000, follows="spar.narrowest")] = (
        None
    )
    grip_ratio: Annotated[float, Ratio("Grip ratio", at_least=0.05, at_most=20)] = 1.0
    rpm: Annotated[float | None, Turning("Drum turns at", above=0, at_most=30000, follows="shop.rpm")] = None
    outline: Widths = None
    law: Law = "straight"
    station_step: RowEvery = EVERY


class Answers(Record):
    grips: Annotated[
        str,
        Choice(
            "The belt drives",
            options=("yes", "in part", "no"),
            formula="grip_ratio·wrap_drum > wrap_spar",
            source=_EYTELWEIN,
        ),
    ]
    wrap_drum: Annotated[float | None, Angle("Wrap on the drum", formula=f"180° + 2·asin({_LEAN})", source=_BELT)]
    wrap_spar: Annotated[float | None, Angle("Wrap on the spar", formula=f"180° − 2·asin({_LEAN})", source=_BELT)]
    centres: Annotated[float | None, Length("Centres at the widest", formula=_round("widest", "centres"), source=_ARC)]
    centres_narrowest: Annotated[
        float, Length("Centres at the narrowest", formula=_round("narrowest", "centres_narrowest"), source=_ARC)
    ]
    belt_fits: Annotated[
        str,
        Choice("Belt is long enough", options=("yes", "in part"), formula="centres > (drum + widest)/2", source=_BELT),
    ]
    smallest_drum: Annotated[
        float | None,
        Length(
            "Drum must be over",
            formula="widest + (belt_length − π·widest)·sin(slip_lean) / "
            "(cos(slip_lean) + (90° + slip_lean)·sin(slip_lean))",
            source=_EYTELWEIN,
            rounding="up",
        ),
    ]
    largest_driven: Annotated[
        float | None,
        Length(
            "Drives spars under",
            formula="drum − (belt_length − π·drum)·sin(slip_lean) / "
            "(cos(slip_lean) − (90° − slip_lean)·sin(slip_lean))",
            source=_EYTELWEIN,
            rounding="down",
        ),
    ]
    slips_from: Annotated[float | None, Length("Slips from", source="where the spar is as wide as the drum can drive")]
    slips_to: Annotated[float | None, Length("Slips to", source="where the spar is as wide as the drum can drive")]
    belt_speed: Annotated[
        float | None, Speed("Belt speed", formula="π·drum·rpm / {12|60000}", source="rim of the drum")
    ]
    slip_lean: Annotated[
        float | None,
        Angle("Belt angle at which it slips", formula="90°·(1 − grip_ratio) / (1 + grip_ratio)", source=_EYTELWEIN),
    ]


def along(inputs: Inputs) -> Outline | None:
    """The spar along its length: only while widest and narrowest are its own, and not typed over."""
    if inputs.outline is None:
        return None
    outline = named("outline", inputs.outline, inputs.law)
    return outline if outline.widest == inputs.widest and outline.narrowest == inputs.narrowest else None


def _drives(inputs: Inputs, apart: float, spar: float) -> bool:
    at = belt.lean(inputs.drum, spar, apart)
    return inputs.grip_ratio * (pi + 2 * at) > pi - 2 * at


def work(inputs: Inputs) -> Answers:
    narrowest = inputs.widest if inputs.narrowest is None else inputs.narrowest
    if narrowest > inputs.widest:
        raise InputFault("{} is wider than the spar's widest, {}", "narrowest", (narrowest, inputs.widest))
    apart = belt.centres(inputs.drum, inputs.widest, inputs.belt_length)
    apart_narrowest = belt.centres(inputs.drum, narrowest, inputs.belt_length)
    if apart_narrowest is None:
        least = belt.belt_length(inputs.drum, narrowest, (inputs.drum + narrowest) / 2)
        raise InputFault(
            "{} is too short to go round the drum and the spar; it takes a belt of more than {}",
            "belt_length",
            (inputs.belt_length, least),
        )
    driven = belt.largest_spar(inputs.drum, inputs.belt_length, inputs.grip_ratio)
    if apart is not None and _drives(inputs, apart, inputs.widest):
        grips = "yes"
    else:
        grips = "in part" if _drives(inputs, apart_narrowest, narrowest) else "no"
    lean = 0.0 if apart is None else degrees(belt.lean(inputs.drum, inputs.widest, apart))
    slips = None if grips == "yes" else _slips(along(inputs), 0.0 if grips == "no" else driven)
    return Answers(
        grips=grips,
        wrap_drum=None if apart is None else 180 + 2 * lean,
        wrap_spar=None if apart is None else 180 - 2 * lean,
        centres=apart,
        centres_narrowest=apart_narrowest,
        belt_fits="in part" if apart is None else "yes",
        smallest_drum=belt.smallest_drum(inputs.widest, inputs.belt_length, inputs.grip_ratio),
        largest_driven=driven,
        slips_from=slips and slips[0],
        slips_to=slips and slips[1],
        belt_speed=None if inputs.rpm is None else pi * inputs.drum / 1000 * inputs.rpm / 60,
        slip_lean=None if inputs.grip_ratio == 1 else degrees(belt.lean_at_slip(inputs.grip_ratio)),
    )


def formulas(inputs: Inputs) -> Mapping[str, str]:
    alone = {"centres_narrowest": _round("widest", "centres_narrowest")} if inputs.narrowest is None else {}
    even = {"smallest_drum": "widest", "largest_driven": "drum"} if inputs.grip_ratio == 1 else {}  # the bigger drives
    return {**alone, **even}


def _slips(spar: Outline | None, driven: float | None) -> tuple[float, float] | None:
    """From which station to which the spar is at least as wide as the drum drives."""
    if spar is None or driven is None:
        return None
    at = spar.crossings(driven)
    first = 0.0 if spar.width_at(0) >= driven else at[0] if at else None
    last = spar.length if spar.width_at(spar.length) >= driven else at[-1] if at else None
    return None if first is None or last is None else (first, last)


def tables(inputs: Inputs, answers: Answers) -> tuple[Table, ...]:
    columns = (
        Column("at", Length("Station")),
        Column("width", Length("Width")),
        Column("grips", Choice("Drives", options=("yes", "no", "too short"))),
        Column("wrap_drum", Angle("Wrap on drum")),
        Column("wrap_spar", Angle("Wrap on spar")),
        Column("centres", Length("Centres")),
    )
    spar = along(inputs)
    places: list[tuple[float | None, float]]
    if spar is None:
        widths = (inputs.widest,) if inputs.narrowest is None else (inputs.widest, inputs.narrowest)
        places = [(None, width) for width in widths]
    else:
        places = [(at, spar.width_at(at)) for at in spar.steps(inputs.station_step)]
    rows: list[tuple[Value, ...]] = []
    for at, width in places:
        apart = belt.centres(inputs.drum, width, inputs.belt_length)
        if apart is None:
            rows.append((at, width, "too short", None, None, None))
            continue
        lean = degrees(belt.lean(inputs.drum, width, apart))
        drives = "yes" if _drives(inputs, apart, width) else "no"
        rows.append((at, width, drives, 180 + 2 * lean, 180 - 2 * lean, apart))
    return (Table("stations", columns, tuple(rows)),)


def too_short(inputs: Inputs, answers: Answers) -> Said:
    """Where the belt is too short for the thick end."""
    if answers.belt_fits == "yes":
        return None
    return "The belt is long enough only where the spar is under {}.", belt.largest_reached(
        inputs.drum, inputs.belt_length
    )


def slipping(inputs: Inputs, answers: Answers) -> str | None:
    """Where the belt slips anywhere."""
    if answers.grips == "yes" or (answers.grips == "in part" and answers.largest_driven is None):
        return None  # where the belt goes round it drives
    if answers.smallest_drum is None:
        return "With this belt no drum drives at the widest: take a longer belt, or a lagging that grips better."
    return (
        "Where it slips the belt spins on the drum and stands still on the spar: "
        "take a bigger drum or lag it with rubber."
    )


def drawing(inputs: Inputs, answers: Answers) -> Drawing:
    """Belt, drum and spar from the end: how far the belt goes round each, and how far apart they stand."""
    reaches = answers.centres is not None or inputs.narrowest is None
    spar = inputs.widest if reaches or inputs.narrowest is None else inputs.narrowest
    apart = answers.centres_narrowest if answers.centres is None else answers.centres
    big, small = inputs.drum / 2, spar / 2
    sine = (big - small) / apart
    up = sqrt(1 - sine * sine)
    lean = degrees(belt.lean(inputs.drum, spar, apart))
    below, wood = -1.35 * max(big, small), Arc(apart, 0, small * 0.9, small * 0.9, pen="light")
    shapes: list[Shape] = [
        Fill(along_arc(wood)),
        *(Line(big * sine, j * big * up, apart + small * sine, j * small * up) for j in (-1, 1)),
        Arc(0, 0, big, big, 90 - lean, 270 + lean),
        Arc(apart, 0, small, small, lean - 90, 90 - lean),
        Arc(0, 0, big * 0.9, big * 0.9, pen="light"),
        wood,
        Dimension(0, below, apart, below, apart),
        Shown(apart / 2, -below, "grips", "drives: {}"),
        Shown(0, 0, "wrap_drum", "drum {}"),
        Shown(apart, 0, "wrap_spar", "spar {}"),
    ]
    return Drawing(f"belt, drum and spar at its {'widest' if reaches else 'narrowest'}, to scale", tuple(shapes))


CALCULATOR = declared(
    globals(),
    question="Will the inside-out belt drive, or spin on the drum?",
    headline="grips",
    cautions=(too_short, slipping, "A loose belt snatches: both hands on it, wrists clear; goggles and dust mask on."),
    sources=(
        "Open belt drive: length and wraps (geometry).",
        "Eytelwein's belt friction, e^(friction·wrap), on both pulleys.",
        "The drum bigger than any diameter of the spar (common practice, no source).",
    ),
)
