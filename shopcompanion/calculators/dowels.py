"""Dowels: hold two parts end to end as one while they are shaped, then saw them apart.

The dowels lie along the spar, across the joint, on a circle as far out as the wood beside them allows. Until it is
sawn the stick is longer than the spar by what the saw takes at every joint, so what lies beyond a joint is further on.
"""

from collections.abc import Mapping
from math import cos, pi, sin, sqrt

from ..calculator import Column, Said, Table, declared
from ..drawing.shapes import Arc, Dimension, Drawing, Fill, Label, Line, Shape, Shown, along_arc, corners, square
from ..errors import InputFault
from ..fields import Choice, Count, Length, Share, Value
from ..lengths import LONGEST
from ..quantities import LB_FT3, PSI, Density, Stress
from ..record import Annotated, Record

IN_EACH = 4  # diameters of the dowel in each part
THICKEST = 5  # a dowel by default takes no more than this part of the section
LINES = ("A to C", "B to D")
SOLD = {  # diameters of dowel rod, mm; common practice, no source
    "in": tuple(25.4 * n / 16 for n in (2, 3, 4, 5, 6, 7, 8, 10, 12, 14, 16, 20, 24)),
    "mm": (3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 25.0, 30.0, 35.0),
}
GRAVITY = 9.80665  # m/s², standard
_INSIDE = "the hole and its cover stay inside the finished round"
_PRACTICE = "common practice, no source"
_SAWN = "the kerf and what trues the ends, half on each side of the joint"
_TAPE = "while the parts are one stick"


class Inputs(Record):
    section: Annotated[float, Length("Finished size there", above=0, at_most=2000, follows="spar.width_at")]
    depth: Annotated[
        float | None, Length("Depth, if oval", called="depth", above=0, at_most=2000, follows="spar.depth_at")
    ] = None
    dowel: Annotated[float | None, Length("Dowel diameter", above=0, at_most=200)] = None
    sizes: Annotated[str, Choice("Dowels sold in", options=("in", "mm"), follows="rule.unit")] = "in"
    count: Annotated[int, Count("Dowels", at_least=1, at_most=6)] = 2
    line: Annotated[str, Choice("On the line", options=LINES)] = "B to D"
    keep_clear: Annotated[float, Length("Middle kept clear", at_least=0, at_most=2000)] = 0.0
    cut_away: Annotated[
        float, Length("Cut away beside it", called="depth of the cut beside it", at_least=0, at_most=2000)
    ] = 0.0
    cover: Annotated[float | None, Length("Wood outside a hole", called="cover", at_least=0, at_most=2000)] = None
    in_each: Annotated[float | None, Length("Dowel in each part", above=0, at_most=2000)] = None
    kerf: Annotated[float, Length("Kerf of the saw", above=0, at_most=50, follows="shop.kerf", metric=3.0)] = 3.175
    trued: Annotated[float, Length("Trued off each end", called="truing of an end", at_least=0, at_most=50)] = 0.0
    blank: Annotated[float | None, Length("Side of the blank", above=0, at_most=2000, follows="spar.blank")] = None
    at: Annotated[
        float | None, Length("Joint at", called="place of the joint", at_least=0, at_most=LONGEST, follows="spar.at")
    ] = None
    length: Annotated[float | None, Length("Length of the spar", above=0, at_most=LONGEST, follows="spar.length")] = (
        None
    )
    joints: Annotated[int, Count("Joints to saw", called="joints", at_least=1, at_most=2000, follows="spar.joints")] = 1
    before: Annotated[
        int,
        Count(
            "Joints nearer the heel",
            called="joints nearer the heel",
            at_least=0,
            at_most=2000,
            follows="spar.joints_before",
        ),
    ] = 0
    density: Annotated[float, Density("Density of the wood", above=0, at_most=2000, metric=500.0)] = 31 * LB_FT3
    stress: Annotated[float, Stress("Pull on a dowel", above=0, at_most=100, metric=10.0)] = 1500 * PSI


class Answers(Record):
    hole_depth: Annotated[
        float,
        Length("Bore each part", formula="dowel_in_each + dowel_used/8", source="an eighth of the dowel for the glue"),
    ]
    dowel_used: Annotated[
        float, Length("Dowel used", formula="dowel", source="thickest sold that fits, to a fifth of the section")
    ]
    circle: Annotated[
        float | None,
        Length(
            "Centres on a circle",
            called="circle of the centres",
            formula="least_size − 2·cover_used − dowel_used",
            source=_INSIDE,
        ),
    ]
    spacing: Annotated[
        float | None, Length("Centre to centre", formula="circle·sin(π/count)", source="chord of that circle")
    ]
    clear_by: Annotated[
        float | None,
        Length(
            "Clear of the middle by",
            formula="circle/2·sin(π/count) − dowel_used/2 − keep_clear/2",
            source="the hole nearest to it, its edge",
        ),
    ]
    clear_below: Annotated[
        float | None,
        Length(
            "Clear of the cut by",
            formula="least_size/2 − cut_away − dowel_used/2",
            source="from the crown down; the hole nearest to it, its edge",
        ),
    ]
    dowel_length: Annotated[float, Length("Cut the dowels to", formula="2·dowel_in_each", source="half in each part")]
    part_longer: Annotated[
        float,
        Length("Leave each longer by", called="waste of a part", formula="kerf/2 + trued", source=_SAWN, rounding="up"),
    ]
    joint_longer: Annotated[
        float,
        Length(
            "One stick longer by",
            called="waste of a joint",
            formula="kerf + 2·trued",
            source="for each joint that is sawn",
            rounding="up",
        ),
    ]
    saw_from: Annotated[
        float | None,
        Length(
            "Saw line, near",
            called="near saw line",
            formula="at + before·joint_longer",
            source=f"from the heel, {_TAPE}",
        ),
    ]
    saw_to: Annotated[
        float | None, Length("Saw line, far", formula="saw_from + joint_longer", source=f"from the heel, {_TAPE}")
    ]
    beyond_by: Annotated[
        float,
        Length(
            "Marks beyond it, further by", formula="(before + 1)·joint_longer", source=f"what lies beyond it, {_TAPE}"
        ),
    ]
    stick_length: Annotated[
        float | None, Length("Heel to head, unsawn", formula="length + joints·joint_longer", source=_TAPE)
    ]
    stub: Annotated[float, Length("Stays in each part", formula="dowel_in_each − part_longer", source=_SAWN)]
    trestles: Annotated[
        float,
        Length(
            "Trestles apart, at most",
            formula="dowel_used/blank_used·√(π·count·stress·least_size / (density{/1728|·9.80665/1000³}))",
            source="the joint half way between them: dowels pulled, far edge pressed; guidance",
            rounding="down",
        ),
    ]
    bored: Annotated[
        float,
        Share(
            "Section bored away", formula="count·dowel_used² / least_size²", source="areas; of an oval, of its round"
        ),
    ]
    largest_dowel: Annotated[
        float,
        Length("Largest that fits", called="largest dowel", source="cover, spacing and middle kept", rounding="down"),
    ]
    cover_used: Annotated[float, Length("Cover used", formula="dowel_used", source=_PRACTICE)]
    dowel_in_each: Annotated[
        float, Length("Each part holds", called="dowel in each part", formula=f"{IN_EACH}·dowel_used", source=_PRACTICE)
    ]
    least_size: Annotated[
        float,
        Length(
            "The round inside",
            called="round inside",
            formula="min(section, depth)",
            source="the smaller way of an oval",
        ),
    ]
    blank_used: Annotated[float, Length("Blank used", formula="blank", source="what lies on the trestles")]


def _sine(count: int) -> tuple[float, str]:
    """How far the hole nearest to the middle of the line is from it, for a circle of radius 1; and its formula."""
    return (sin(pi / count), "sin(π/count)") if count % 2 == 0 else (sin(pi / (2 * count)), "sin(π/(2·count))")


def _turns(count: int) -> list[float]:
    """Where on the circle the holes are, radians from square to the line, each as far out along it as may be."""
    first = pi / count if count % 2 == 0 else pi / 2
    return [first + 2 * pi * k / count for k in range(count)]


def _beside(count: int) -> float:
    """How far a hole is from the line, for a circle of radius 1."""
    return max(abs(_nought(cos(turn))) for turn in _turns(count))


def _largest(inputs: Inputs, least: float) -> tuple[float, str]:
    """The thickest dowel that fits, and the formula: the least of what cover, spacing, middle and cut allow."""
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
    if inputs.cut_away and not _beside(count):
        limits.append((least - 2 * inputs.cut_away, "least_size − 2·cut_away"))
    return min(limits)


def _dowel(inputs: Inputs, least: float, largest: float) -> float:
    """The dowel: as typed, or the thickest that is sold and fits. InputFault where none does."""
    if inputs.dowel is not None:
        return inputs.dowel
    sold = SOLD[inputs.sizes]
    most = min(largest, least / THICKEST) + 1e-9
    if most < sold[0]:
        reason = "no dowel that is sold fits a section of {}: it takes one of {} at most, and the thinnest sold is {}"
        raise InputFault(reason, "dowel", (least, most, sold[0]))
    return max(thickness for thickness in sold if thickness <= most)


def work(inputs: Inputs) -> Answers:
    least = inputs.section if inputs.depth is None else min(inputs.section, inputs.depth)
    most = inputs.section if inputs.depth is None else max(inputs.section, inputs.depth)
    if inputs.blank is not None and inputs.blank < most:
        raise InputFault("{} is thinner than the finished spar; {} or more will do", "blank", (inputs.blank, most))
    largest, _ = _largest(inputs, least)
    if largest <= 0:
        field = "cover" if inputs.cover is not None and inputs.cover >= least / 2 else "keep_clear"
        field = "cut_away" if inputs.cut_away >= least / 2 else field
        raise InputFault("leaves no room for a dowel in a round of {}; make it smaller", field, (least,))
    dowel = _dowel(inputs, least, largest)
    if dowel > largest + 1e-9:
        raise InputFault(
            f"{inputs.count} dowels of {{}} do not lie apart and inside a round of {{}}; thinner than {{}} will do"
            if inputs.count > 1
            else "a dowel of {} does not lie inside a round of {}; thinner than {} will do",
            "dowel",
            (dowel, least, largest),
        )
    part = inputs.kerf / 2 + inputs.trued
    in_each = IN_EACH * dowel if inputs.in_each is None else inputs.in_each
    if in_each <= part:
        raise InputFault("{} of dowel in each part is all sawn away; more than {} will do", "in_each", (in_each, part))
    cover = dowel if inputs.cover is None else inputs.cover
    circle = least - 2 * cover - dowel
    central = inputs.count == 1 and not inputs.keep_clear
    below = least / 2 - inputs.cut_away - dowel / 2 - circle / 2 * _beside(inputs.count)
    if inputs.cut_away and below < -1e-9:
        reason = "a cut {} below the crown meets a dowel; take two dowels on one line, or a cut of less than {}"
        raise InputFault(reason, "cut_away", (inputs.cut_away, inputs.cut_away + below))
    longer = 2 * part
    near = None if inputs.at is None else inputs.at + inputs.before * longer
    blank = most if inputs.blank is None else inputs.blank
    weight = inputs.density * 1e-9 * GRAVITY * blank**2  # N/mm
    carried = inputs.count * pi / 4 * dowel**2 * inputs.stress * least / 2
    return Answers(
        hole_depth=in_each + dowel / 8,
        dowel_used=dowel,
        circle=None if central else circle,
        spacing=circle * sin(pi / inputs.count) if inputs.count > 1 else None,
        clear_by=circle / 2 * _sine(inputs.count)[0] - dowel / 2 - inputs.keep_clear / 2 if inputs.keep_clear else None,
        clear_below=below if inputs.cut_away else None,
        dowel_length=2 * in_each,
        part_longer=part,
        joint_longer=longer,
        saw_from=near,
        saw_to=None if near is None else near + longer,
        beyond_by=(inputs.before + 1) * longer,
        stick_length=None if inputs.length is None else inputs.length + inputs.joints * longer,
        stub=in_each - part,
        trestles=sqrt(8 * carried / weight),
        bored=inputs.count * dowel**2 / least**2,
        largest_dowel=largest,
        cover_used=cover,
        dowel_in_each=in_each,
        least_size=least,
        blank_used=blank,
    )


def formulas(inputs: Inputs) -> Mapping[str, str]:
    least = inputs.section if inputs.depth is None else min(inputs.section, inputs.depth)
    sums = {"largest_dowel": _largest(inputs, least)[1]}
    sums["clear_by"] = f"circle/2·{_sine(inputs.count)[1]} − dowel_used/2 − keep_clear/2"
    if _beside(inputs.count):
        turn = "cos(π/count)" if inputs.count % 2 == 0 else "cos(π/(2·count))"
        sums["clear_below"] = f"least_size/2 − cut_away − dowel_used/2 − circle/2·{turn}"
    if inputs.dowel is None:
        sums["dowel_used"] = ""
    if inputs.depth is None:
        sums["least_size"] = "section"
    if inputs.blank is None:
        sums["blank_used"] = "section" if inputs.depth is None else "max(section, depth)"
    if inputs.cover is not None:
        sums["cover_used"] = "cover"
    if inputs.in_each is not None:
        sums["dowel_in_each"] = "in_each"
    return sums


def _nought(mm: float) -> float:
    return mm if abs(mm) > 1e-9 else 0.0


def positions(inputs: Inputs, answers: Answers) -> list[tuple[float, float]]:
    """Centres of the holes, from the middle of the section towards face B and towards face A."""
    if answers.circle is None:
        return [(0.0, 0.0)]
    radius = answers.circle / 2
    centres = [(_nought(radius * cos(turn)), _nought(radius * sin(turn))) for turn in _turns(inputs.count)]
    return centres if inputs.line == "A to C" else [(along, beside) for beside, along in centres]


def tables(inputs: Inputs, answers: Answers) -> tuple[Table, ...]:
    """Where each hole is bored, face A up and B at the right: from the centre lines and from faces D and C."""
    columns = (
        Column("dowel", Count("Dowel")),
        Column("across", Length("From the middle to B")),
        Column("up", Length("From the middle to A")),
        Column("from_left", Length("From face D")),
        Column("from_below", Length("From face C")),
    )
    half = None if inputs.blank is None else inputs.blank / 2
    rows: list[tuple[Value, ...]] = []
    for number, (x, y) in enumerate(positions(inputs, answers), 1):
        rows.append((number, x, y, None if half is None else half + x, None if half is None else half + y))
    return (Table("holes", columns, tuple(rows)),)


def drawing(inputs: Inputs, answers: Answers) -> Drawing:
    """The face of the joint: the finished section, the holes by number, and the band that is kept clear."""
    wide, deep = inputs.section, inputs.section if inputs.depth is None else inputs.depth
    side = max(wide, deep) if inputs.blank is None else inputs.blank
    band, upright = inputs.keep_clear / 2, inputs.line == "B to D"
    centres = positions(inputs, answers)
    lines = [
        Line(off, -side / 2, off, side / 2, "light") if upright else Line(-side / 2, off, side / 2, off, "light")
        for off in ((-band, band) if band else (0.0,))
    ]
    other = Line(-side / 2, 0, side / 2, 0, "light") if upright else Line(0, -side / 2, 0, side / 2, "light")
    radius = answers.dowel_used / 2
    round_, holes = Arc(0, 0, wide / 2, deep / 2), [Arc(x, y, radius, radius) for x, y in centres]
    shapes: list[Shape] = [
        Fill(corners(-side / 2, -side / 2, side / 2, side / 2), "off"), Fill(along_arc(round_)),
        *(Fill(along_arc(hole), "off") for hole in holes),
        *square(side, side, "light"), round_, *lines, other, *holes,
    ]  # fmt: skip
    if answers.spacing is not None:
        shapes.append(Dimension(*centres[0], *centres[1], answers.spacing))
    shapes += [Label(x, y - answers.dowel_used, str(number)) for number, (x, y) in enumerate(centres, 1)]
    shapes.append(Shown(0, deep / 3.5, "hole_depth", "bore {}"))
    return Drawing("the face of the joint, A up, to scale", tuple(shapes))


def heavy(inputs: Inputs, answers: Answers) -> Said:
    """Where the stick, laid on trestles at its ends, bends the joint more than the dowels carry.

    On trestles at its ends the stick's own weight bends the joint with q·a·b/2; q·s²/8 is what the dowels carry.
    """
    if inputs.at is None or inputs.length is None or not 0 < inputs.at < inputs.length:
        return None
    if 4 * inputs.at * (inputs.length - inputs.at) <= answers.trestles**2:
        return None
    return (
        "The dowels alone do not carry this stick: a trestle on each side of the joint, at most {} apart, and "
        "battens clamped along it when it is turned."
    ), answers.trestles


def short_stub(inputs: Inputs, answers: Answers) -> Said:
    """Where a dowel enters a part by less than two diameters."""
    if answers.dowel_in_each >= 2 * answers.dowel_used:
        return None
    return "Only {} of dowel in each part, less than two diameters: too little to hold well.", answers.dowel_in_each


CALCULATOR = declared(
    globals(),
    question="Where do dowels go that hold two parts as one, and how deep?",
    headline="hole_depth",
    cautions=(
        heavy,
        short_stub,
        "Bore both ends from one template, square to the joint, marks facing.",
        "Glue the holes, not the faces: wax or tape those. Keep epoxy off the skin.",
        "Wood only, no metal by the saw line. Saw on the joint; hold both parts.",
    ),
    sources=(
        "Circles inside a round (geometry).",
        "Cover of one diameter, two from centre to centre, four in each part; rods as sold (common practice, no "
        "source).",
        "Weight on trestles: own weight of the blank against a pull of 10 MPa on the dowels, about a tenth of what a "
        "hardwood rod breaks at, the lever half the section; density 500 kg/m³ (our own choice). Guidance only.",
    ),
)
