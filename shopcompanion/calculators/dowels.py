"""Dowels: hold two parts end to end as one while they are shaped, then saw them apart.

The dowels lie along the spar, across the joint, on a circle as far out as the wood beside them allows.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import cos, pi, sin
from typing import Annotated

from ..calculator import Calculator, Column, Table
from ..drawing.shapes import Arc, Drawing, Label, Line, square
from ..errors import InputFault
from ..fields import Count, Length, Ratio, Value

IN_EACH = 4  # diameters of the dowel in each part
_INSIDE = "the hole and its cover stay inside the finished round"
_PRACTICE = "common practice, no source"
_SAWN = "the kerf, half of it on each side of the joint"


@dataclass(frozen=True, slots=True, kw_only=True)
class Inputs:
    section: Annotated[float, Length("Finished size there", above=0, at_most=2000, follows="spar.width_at")]
    depth: Annotated[float | None, Length("Depth, if oval", above=0, at_most=2000, follows="spar.depth_at")] = None
    dowel: Annotated[float, Length("Dowel diameter", above=0, at_most=200, follows="rule.dowel")] = 6.35
    count: Annotated[int, Count("Dowels", at_least=1, at_most=6)] = 2
    keep_clear: Annotated[float, Length("Band kept clear", at_least=0, at_most=2000)] = 0.0
    cover: Annotated[float | None, Length("Wood outside a hole", at_least=0, at_most=2000)] = None
    in_each: Annotated[float | None, Length("Dowel in each part", above=0, at_most=2000)] = None
    kerf: Annotated[float, Length("Kerf of the saw", above=0, at_most=50, follows="shop.kerf")] = 3.175
    blank: Annotated[float | None, Length("Side of the blank", above=0, at_most=2000, follows="spar.blank")] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Answers:
    hole_depth: Annotated[
        float,
        Length("Bore each part", formula="dowel_in_each + dowel/8", source="an eighth of the dowel for the glue"),
    ]
    circle: Annotated[
        float | None,
        Length("Centres on a circle", formula="least_size − 2·cover_used − dowel", source=_INSIDE),
    ]
    spacing: Annotated[
        float | None, Length("Centre to centre", formula="circle·sin(π/count)", source="chord of that circle")
    ]
    clear_by: Annotated[
        float | None,
        Length(
            "Clear of the band by",
            formula="circle/2·sin(π/count) − dowel/2 − keep_clear/2",
            source="the hole nearest to it, its edge",
        ),
    ]
    dowel_length: Annotated[float, Length("Cut the dowels", formula="2·dowel_in_each", source="half in each part")]
    part_longer: Annotated[float, Length("Leave each longer by", formula="kerf / 2", source=_SAWN, way="up")]
    stub: Annotated[float, Length("Stays in each part", formula="dowel_in_each − kerf/2", source=_SAWN)]
    bored: Annotated[
        float,
        Ratio("Part bored away", formula="count·dowel² / least_size²", source="areas; of an oval, of its round"),
    ]
    largest_dowel: Annotated[
        float,
        Length("Thickest dowel", formula="least_size / 3", way="down",
               source="inside, two diameters apart at least, and clear of the band"),
    ]  # fmt: skip
    cover_used: Annotated[float, Length("Cover reckoned with", formula="dowel", source=_PRACTICE)]
    dowel_in_each: Annotated[float, Length("Each part holds", formula=f"{IN_EACH}·dowel", source=_PRACTICE)]
    least_size: Annotated[
        float, Length("The round inside", formula="min(section, depth)", source="the smaller way of an oval")
    ]


def _sine(count: int) -> tuple[float, str]:
    """How far the hole nearest to the band's middle line is from it, for a circle of radius 1; and its formula."""
    return (sin(pi / count), "sin(π/count)") if count % 2 == 0 else (sin(pi / (2 * count)), "sin(π/(2·count))")


def _turns(count: int) -> list[float]:
    """Where on the circle the holes are, radians from the band's direction, each as far from it as may be."""
    first = pi / count if count % 2 == 0 else pi / 2
    return [first + 2 * pi * k / count for k in range(count)]


def _largest(inputs: Inputs, least: float) -> tuple[float, str]:
    """The thickest dowel that fits, and the formula: the least of what cover, spacing and band allow."""
    count, given, (sine, sine_words) = inputs.count, inputs.cover, _sine(inputs.count)
    room, room_words = (least / 2, "least_size/2") if given is None else (least / 2 - given, "(least_size/2 − cover)")
    own, own_words = (1.5, "1.5") if given is None else (0.5, "0.5")  # what a dowel takes of the radius
    limits = [(room / own, f"{room_words}/{own_words}")]
    if count > 1:
        chord = sin(pi / count)
        limits.append((room * chord / (1 + own * chord), f"{room_words}·sin(π/count) / (1 + {own_words}·sin(π/count))"))
    if inputs.keep_clear:
        limits.append((
            (room * sine - inputs.keep_clear / 2) / (own * sine + 0.5),
            f"({room_words}·{sine_words} − keep_clear/2) / ({own_words}·{sine_words} + 0.5)",
        ))  # fmt: skip
    return min(limits)


def work(inputs: Inputs) -> Answers:
    least = inputs.section if inputs.depth is None else min(inputs.section, inputs.depth)
    most = inputs.section if inputs.depth is None else max(inputs.section, inputs.depth)
    if inputs.blank is not None and inputs.blank < most:
        raise InputFault("{} is less than the finished spar, {}", "blank", (inputs.blank, most))
    largest, _ = _largest(inputs, least)
    if largest <= 0:
        field = "cover" if inputs.cover is not None and inputs.cover >= least / 2 else "keep_clear"
        raise InputFault("leaves no room for a dowel in a round of {}", field, (least,))
    if inputs.dowel > largest + 1e-9:
        raise InputFault(
            f"{inputs.count} of {{}} do not lie apart and inside a round of {{}}; thinner than {{}} will do"
            if inputs.count > 1
            else "{} does not lie inside a round of {}; thinner than {} will do",
            "dowel",
            (inputs.dowel, least, largest),
        )
    in_each = IN_EACH * inputs.dowel if inputs.in_each is None else inputs.in_each
    if in_each <= inputs.kerf / 2:
        raise InputFault("{} is no more than the saw takes of it, {}", "in_each", (in_each, inputs.kerf / 2))
    cover = inputs.dowel if inputs.cover is None else inputs.cover
    circle = least - 2 * cover - inputs.dowel
    central = inputs.count == 1 and not inputs.keep_clear
    return Answers(
        hole_depth=in_each + inputs.dowel / 8,
        circle=None if central else circle,
        spacing=circle * sin(pi / inputs.count) if inputs.count > 1 else None,
        clear_by=circle / 2 * _sine(inputs.count)[0] - inputs.dowel / 2 - inputs.keep_clear / 2
        if inputs.keep_clear
        else None,
        dowel_length=2 * in_each,
        part_longer=inputs.kerf / 2,
        stub=in_each - inputs.kerf / 2,
        bored=inputs.count * inputs.dowel**2 / least**2,
        largest_dowel=largest,
        cover_used=cover,
        dowel_in_each=in_each,
        least_size=least,
    )


def formulas(inputs: Inputs) -> Mapping[str, str]:
    least = inputs.section if inputs.depth is None else min(inputs.section, inputs.depth)
    found = {"largest_dowel": _largest(inputs, least)[1]}
    found["clear_by"] = f"circle/2·{_sine(inputs.count)[1]} − dowel/2 − keep_clear/2"
    if inputs.depth is None:
        found["least_size"] = "section"
    if inputs.cover is not None:
        found["cover_used"] = "cover"
    if inputs.in_each is not None:
        found["dowel_in_each"] = "in_each"
    return found


def _nought(mm: float) -> float:
    return mm if abs(mm) > 1e-9 else 0.0


def positions(inputs: Inputs, answers: Answers) -> list[tuple[float, float]]:
    """Centres of the holes, across and up from the middle of the section."""
    if answers.circle is None:
        return [(0.0, 0.0)]
    radius = answers.circle / 2
    return [(_nought(radius * cos(turn)), radius * sin(turn)) for turn in _turns(inputs.count)]


def tables(inputs: Inputs, answers: Answers) -> tuple[Table, ...]:
    """Where each hole is bored: from the centre lines, and from two edges of the blank."""
    columns = (
        Column("dowel", Count("Dowel")),
        Column("across", Length("Across, from the middle")),
        Column("up", Length("Up, from the middle")),
        Column("from_left", Length("From the left edge")),
        Column("from_below", Length("From the lower edge")),
    )
    half = None if inputs.blank is None else inputs.blank / 2
    rows: list[tuple[Value, ...]] = []
    for number, (x, y) in enumerate(positions(inputs, answers), 1):
        rows.append((number, x, y, None if half is None else half + x, None if half is None else half + y))
    return (Table("holes", columns, tuple(rows)),)


def drawing(inputs: Inputs, answers: Answers) -> Drawing:
    """The faces of the joint: the finished section, the holes, and the band that is kept clear."""
    wide, deep = inputs.section, inputs.section if inputs.depth is None else inputs.depth
    side = max(wide, deep) if inputs.blank is None else inputs.blank
    band = inputs.keep_clear / 2
    centres = positions(inputs, answers)
    return Drawing(
        "the face of the joint, to scale",
        (
            *square(side, side, "light"),
            Arc(0, 0, wide / 2, deep / 2),
            *(Line(-side / 2, j * band, side / 2, j * band, "light") for j in ((-1, 1) if band else (0,))),
            Line(0, -side / 2, 0, side / 2, "light"),
            *(Arc(x, y, inputs.dowel / 2, inputs.dowel / 2) for x, y in centres),
            *(Label(x, y, str(number)) for number, (x, y) in enumerate(centres, 1)),
        ),
    )


CALCULATOR = Calculator(
    name="dowels",
    question="Where do dowels go that hold two parts as one, and how deep?",
    inputs=Inputs,
    answers=Answers,
    work=work,
    headline="hole_depth",
    tables=tables,
    drawing=drawing,
    formulas=formulas,
    cautions=(
        "Bore both ends from one template, square to the joint, marks facing.",
        "Glue the holes, not the faces: wax or tape those. Epoxy off the skin.",
        "Wood only, no metal by the saw line. Saw on the joint; hold both parts.",
    ),
    sources=(
        "Circles inside a round (geometry).",
        "Cover of one diameter, two from centre to centre, four in each part (common practice, no source).",
    ),
)
