"""Taper: the width at a station, what comes off each face, and the whole station table."""

from collections.abc import Mapping
from math import atan, degrees

from ..calculator import Column, Table, declared
from ..drawing.shapes import Dimension, Drawing, Fill, Shown, corners, square
from ..errors import InputFault
from ..fields import Angle, Length, Pairs, Share, Slope
from ..record import Annotated, Record
from ..spar.body import Body
from ..spar.faired import batten
from ..spar.outline import Outline
from ..spar.polygon import mark
from ..spar.tables import PUBLISHED
from ..spar.whole import WholeSpar
from .along_spar import EVERY, Law, RowEvery

_STATIONS = "the stations on either side"
_PCHIP = "monotone cubic: from the slopes of the stretches on either side"
_RUN = "(piece_to − piece_from)"
_FAIRED = (
    "width_from + (width_to − width_from)·part²·(3 − 2·part)"
    f" − {_RUN}·(slope_from·part·(1 − part)² − slope_to·part²·(1 − part))"
)
_FAIRED_SLOPE = (
    f"6·part·(1 − part)·(width_from − width_to) / {_RUN}"
    " + slope_from·(1 − part)·(1 − 3·part) + slope_to·part·(3·part − 2)"
)


class Inputs(Record):
    length: Annotated[float, Length("Length of the spar", above=0, follows="spar.length")]
    butt: Annotated[float | None, Length("Width at the heel", above=0, at_most=2000, follows="spar.butt")] = None
    head: Annotated[float | None, Length("Width at the head", above=0, at_most=2000, follows="spar.head")] = None
    at: Annotated[float, Length("Station", at_least=0, follows="spar.at")]
    law: Law = "straight"
    widest: Annotated[
        float | None,
        Length("Book: largest width", called="largest width", above=0, at_most=2000, follows="spar.widest"),
    ] = None
    widest_at: Annotated[float | None, Length("Book: largest width is at", at_least=0, follows="spar.widest_at")] = None
    parallel_to: Annotated[float | None, Length("Full width up to", at_least=0)] = None
    stations: Annotated[
        tuple[tuple[float, float], ...] | None,
        Pairs("Widths in between", above=0, at_most=2000, columns=("station", "width"), follows="spar.between"),
    ] = None
    blank: Annotated[float | None, Length("Side of the blank", above=0, at_most=2000, follows="spar.blank")] = None
    body: Annotated[Body | None, WholeSpar("The spar", follows="spar.body")] = None
    station_step: RowEvery = EVERY


class Answers(Record):
    off_each_face: Annotated[
        float,
        Length("Off each face", formula="(blank_side − width_at) / 2", source="the spar lies centred in its blank"),
    ]
    width_at: Annotated[
        float,
        Length(
            "Width here",
            formula="width_from + (width_to − width_from)·(at − piece_from) / (piece_to − piece_from)",
            source="the law of the taper, from one station to the next",
        ),
    ]
    half_at: Annotated[float, Length("Each side of the centre line", formula="width_at / 2", source="half the width")]
    slope: Annotated[
        float,
        Slope(
            "Taper",
            formula="(width_from − width_to) / (piece_to − piece_from)",
            source="the whole width, towards the head",
        ),
    ]
    slope_angle: Annotated[
        float, Angle("Face to centre line", formula="atan(slope / 2)", source="half of the taper is on each face")
    ]
    blank_side: Annotated[
        float,
        Length("Blank used", formula="blank", source="as given; else the widest place of the spar", rounding="up"),
    ]
    piece_from: Annotated[float, Length("Stretch begins at", source=_STATIONS)]
    width_from: Annotated[float, Length("Width where it begins", source=_STATIONS)]
    piece_to: Annotated[float, Length("Stretch ends at", source=_STATIONS)]
    width_to: Annotated[float, Length("Width where it ends", source=_STATIONS)]
    part: Annotated[
        float | None,
        Share(
            "Part of the way along the stretch",
            formula="(at − piece_from) / (piece_to − piece_from)",
            source="for a faired spar only",
        ),
    ]
    slope_from: Annotated[float | None, Slope("Taper where it begins", source=_PCHIP)]
    slope_to: Annotated[float | None, Slope("Taper where it ends", source=_PCHIP)]
    batten_off: Annotated[
        float | None, Length("Batten, each side (minus: inside)", source="natural cubic spline, against this curve")
    ]
    batten_at: Annotated[float | None, Length("Batten is farthest off at", source="where the two lie farthest apart")]


def outline(inputs: Inputs) -> Outline:
    """The spar that the inputs describe. InputFault, naming its field, when they contradict one another."""
    if inputs.law in PUBLISHED:
        return _published(inputs)
    length, inner = inputs.length, list(inputs.stations or ())
    butt, head = _wanted(inputs, "butt"), _wanted(inputs, "head")
    for at, _ in inner:
        if not 0 < at < length:
            raise InputFault("the station at {} is not between the heel and the head", "stations", (at,))
    if inputs.parallel_to:
        if inputs.parallel_to >= length:
            raise InputFault("the full width reaches past the head", "parallel_to")
        if inner and inner[0][0] <= inputs.parallel_to:
            raise InputFault("a width in between falls where the full width still runs", "parallel_to")
        inner.insert(0, (inputs.parallel_to, butt))
    try:
        return Outline(((0.0, butt), *inner, (length, head)), inputs.law)
    except InputFault as fault:
        raise InputFault(fault.template, "stations" if inputs.stations else "parallel_to", fault.lengths) from None


def _published(inputs: Inputs) -> Outline:
    if inputs.parallel_to:
        raise InputFault(f"leave it out: by {inputs.law} the widths follow from where the largest is", "parallel_to")
    widest, place = _wanted(inputs, "widest"), PUBLISHED[inputs.law].place
    at = inputs.widest_at
    if at is None and place is None:
        raise InputFault(f"{inputs.law} starts from the largest width: say where it is", "widest_at")
    try:
        return Outline.published(
            inputs.law, inputs.length, (place or 0.0) * inputs.length if at is None else at, widest
        )
    except InputFault as fault:
        raise InputFault(fault.template, "widest_at", fault.lengths) from None


def _wanted(inputs: Inputs, name: str) -> float:
    value: float | None = getattr(inputs, name)
    if value is None:
        words = {"butt": "the width at the heel", "head": "the width at the head", "widest": "the largest width"}
        raise InputFault(f"{words[name]} is needed for the law {inputs.law}", name)
    return value


def work(inputs: Inputs) -> Answers:
    spar = outline(inputs)
    blank = spar.widest if inputs.blank is None else inputs.blank
    if blank < spar.widest - 1e-6:
        raise InputFault(
            "{} is less than the spar's widest; it takes a blank of {} or more", "blank", (blank, spar.widest)
        )
    width, slope = spar.width_at(inputs.at), spar.slope_at(inputs.at)
    (piece_from, width_from), (piece_to, width_to) = spar.piece_at(inputs.at)
    faired = inputs.law not in ("straight", "bowed")
    batten_off, batten_at = batten(spar.stations) if faired and len(spar.stations) > 2 else (None, None)
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
        part=(inputs.at - piece_from) / (piece_to - piece_from) if faired else None,
        slope_from=spar.slope_at(piece_from) if faired else None,
        slope_to=spar.slope_at(piece_to) if faired else None,
        batten_off=None if batten_off is None else batten_off / 2,
        batten_at=batten_at,
    )


def formulas(inputs: Inputs) -> Mapping[str, str]:
    given = {"blank_side": ""} if inputs.blank is None else {}
    if inputs.law == "straight":
        return given
    if inputs.law != "bowed":
        return {**given, "width_at": _FAIRED, "slope": _FAIRED_SLOPE}
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
        lines = (_line(inputs.body, at, width, sides) for sides in (8, 16))
        rows.append((at, width, width / 2, (answers.blank_side - width) / 2, *lines))
    return (Table("stations", columns, tuple(rows)),)


def _line(body: Body | None, at: float, width: float, sides: int) -> float | None:
    """The line for that many sides, where the spar's section has one; all along where it is on no spar."""
    cut = body.corners_off(at, sides) if body and at <= body.length else 1.0
    return mark(width, sides) * cut if cut else None


def not_used(inputs: Inputs, answers: Answers) -> str | None:
    """Where a book's table is chosen and other widths are given as well."""
    if inputs.law not in PUBLISHED:
        return None
    stations = dict(outline(inputs).stations)
    given = (*(inputs.stations or ()), (0.0, inputs.butt), (inputs.length, inputs.head))
    if all(width is None or abs(stations.get(at, 0.0) - width) < 1e-6 for at, width in given):
        return None
    return "A table from a book gives every width from the largest: heel, head and widths in between are not used."


def ours(inputs: Inputs, answers: Answers) -> str | None:
    """Where a book's table had to be completed."""
    table = PUBLISHED.get(inputs.law)
    return f"{table.source}. Ours, not the book's: {table.ours}." if table and table.ours else None


def drawing(inputs: Inputs, answers: Answers) -> Drawing:
    """The section at the station in its blank: what comes off each face, and what stays."""
    half, rough, width = answers.half_at, answers.blank_side / 2, answers.width_at
    return Drawing(
        "the section in its blank, to scale",
        (
            Fill(corners(-rough, -rough, rough, rough), "off"),
            Fill(corners(-half, -half, half, half)),
            *square(2 * rough, 2 * rough, "light"),
            *square(width, width),
            Dimension(-rough, half * 0.5, -half, half * 0.5, answers.off_each_face),
            Dimension(-half, 0, half, 0, width, of="width_at"),
            Shown(0, -half * 0.5, "at", "at {}"),
        ),
    )


CALCULATOR = declared(
    globals(),
    question="How thick is it at this station, and how much comes off?",
    headline="off_each_face",
    cautions=(
        not_used,
        ours,
        "First faces from the centre line, offcuts kept as bearers; turn, mark the second pair afresh.",
        "Guard, push block, feather board; hold the spar up past the blade.",
    ),
    sources=(
        "Straight line, and bow of the second degree with its top at the widest part (geometry).",
        "Monotone cubic through the stations, Fritsch and Butland 1984 (PCHIP); a batten takes the natural spline.",
        "Tables of Skene 1927, Kemp 1880 and Steel's masts of 1794: seen in copies. Faired in between (ours).",
        "Steel's yards and gaffs: at second hand.",
        "Second faces marked afresh after the first (common practice, no source).",
    ),
)
