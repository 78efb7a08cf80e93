"""Scarf: how long the joint is, what length and glue it takes, and how strong it is."""

from math import atan, degrees, hypot

from ..calculator import Column, Said, Table, declared
from ..drawing.shapes import Dimension, Drawing, Fill, Label, Line, corners, loop
from ..fields import Angle, Length, Ratio, Text
from ..lengths import LONGEST
from ..quantities import OZ_FT2, Area, Mass, Percent, Spread
from ..record import Annotated, Record
from ..spar.body import Body
from ..spar.whole import WholeSpar

# Slope, and the part of the strength of unjointed wood in percent. Two sets are remembered; this is the lower one.
WORTH = ((12.0, 85.0), (10.0, 80.0), (8.0, 75.0), (5.0, 60.0))
_CLEAR = 10.0  # mm left between a scarf and what it is to be clear of
DEEPER = 4  # the drawing's thickness is larger by this than its length
_STICK = "the stick as it is glued, its bow still in it"


class Inputs(Record):
    thickness: Annotated[
        float, Length("Thickness, sloped", called="thickness", above=0, at_most=2000, follows="spar.sawn")
    ]
    width: Annotated[float, Length("Width", above=0, at_most=2000, follows="thickness")]
    slope: Annotated[float, Ratio("Slope, n to 1", called="slope", at_least=1, at_most=100)] = 12.0
    planing: Annotated[float, Length("Planed off a face", called="planing", at_least=0, at_most=100)] = 0.0
    trim: Annotated[float, Length("Cut off each end", called="trim", at_least=0, at_most=2000)] = 0.0
    spread: Annotated[
        float, Spread("Glue on the joint", called="spread of glue", above=0, at_most=5000, metric=400.0)
    ] = 1.3 * OZ_FT2
    at: Annotated[
        float | None, Length("Centred at", called="centre of the scarf", at_least=0, at_most=LONGEST, follows="spar.at")
    ] = None
    body: Annotated[Body | None, WholeSpar("The spar", follows="spar.body")] = None


class Answers(Record):
    scarf_length: Annotated[
        float, Length("Length of the scarf", formula="slope·(thickness + 2·planing)", source=_STICK, rounding="up")
    ]
    extra_length: Annotated[
        float,
        Length("Extra length per joint", formula="scarf_length + 2·trim", rounding="up",
               source="the slopes lie over each other: two sticks give their lengths less this"),
    ]  # fmt: skip
    slope_angle: Annotated[float, Angle("Angle of the slope", formula="atan(1/slope)", source="slope to 1")]
    slope_face: Annotated[
        float,
        Length(
            "Along the slope",
            called="length along the slope",
            formula="sqrt(scarf_length² + (thickness + 2·planing)²)",
            source=_STICK,
        ),
    ]
    glue_area: Annotated[
        float, Area("Area of glue", formula="slope_face·(width + 2·planing)", source="one sloped face, true size")
    ]
    glue_mass: Annotated[
        float, Mass("Glue to mix", formula="glue_area·spread / {(144·16)|1000³}", source="nothing added for waste")
    ]
    joint_factor: Annotated[
        float | None,
        Percent("Strength, of unjointed wood",
                source="from memory, unverified: the lower of two sets, and the steeper slope of its table"),
    ]  # fmt: skip
    scarf_from: Annotated[
        float | None, Length("Begins at", formula="at − scarf_length/2", source="its middle at the station")
    ]
    scarf_to: Annotated[
        float | None, Length("Ends at", formula="at + scarf_length/2", source="its middle at the station")
    ]
    within: Annotated[str | None, Text("What lies within it", source="joints and fittings of the spar", longest=400)]


def worth(slope: float) -> float | None:
    """Percent of the strength of unjointed wood, of the next steeper slope that is known; none below the steepest."""
    return next((part for known, part in WORTH if slope >= known), None)


def _spans(body: Body) -> list[tuple[float, float, float, str]]:
    """What a scarf keeps clear of on a spar: from where to where it reaches, its station (mm) and its kind."""
    spans = [(joint.at, joint.at, joint.at, joint.kind) for joint in body.joints if joint.kind != "scarf"]
    for fitting in body.fittings:
        middle, half = fitting.middle(body.length), max(fitting.length, fitting.hole) / 2
        spans.append((middle - half, middle + half, fitting.at, fitting.kind))
    return spans


def inside(body: Body, start: float, end: float) -> list[tuple[float, str]]:
    """Joints, other than scarfs, and fittings of a spar that reach into a stretch of it, heel to head: (at, kind)."""
    return sorted((at, kind) for low, high, at, kind in _spans(body) if high >= start and low <= end)


def clear_at(body: Body, at: float, long: float) -> float | None:
    """The nearest place for the middle of a scarf where nothing lies within it; None where there is none."""
    half = long / 2
    places = [half, body.length - half]
    for low, high, _, _ in _spans(body):
        places += [high + half + _CLEAR, low - half - _CLEAR]
    free = [
        place
        for place in places
        if half <= place <= body.length - half and not inside(body, place - half, place + half)
    ]
    return min(free, key=lambda place: abs(place - at), default=None)


def work(inputs: Inputs) -> Answers:
    thick, wide = (size + 2 * inputs.planing for size in (inputs.thickness, inputs.width))
    long = inputs.slope * thick
    face = hypot(long, thick)
    area = face * wide
    start, end = (None, None) if inputs.at is None else (inputs.at - long / 2, inputs.at + long / 2)
    within = None
    if inputs.body is not None and start is not None and end is not None:
        within = ", ".join(dict.fromkeys(kind for _, kind in inside(inputs.body, start, end))) or None
    return Answers(
        scarf_length=long,
        extra_length=long + 2 * inputs.trim,
        slope_angle=degrees(atan(1 / inputs.slope)),
        slope_face=face,
        glue_area=area,
        glue_mass=area * inputs.spread / 1e9,
        joint_factor=worth(inputs.slope),
        scarf_from=start,
        scarf_to=end,
        within=within,
    )


def tables(inputs: Inputs, answers: Answers) -> tuple[Table, ...]:
    """The same stick at the slopes whose worth is known."""
    columns = (
        Column("slope", Ratio("Slope to 1")),
        Column("scarf_length", Length("Length", rounding="up")),
        Column("joint_factor", Percent("Strength")),
    )
    thick = inputs.thickness + 2 * inputs.planing
    return (Table("slopes", columns, tuple((slope, slope * thick, part) for slope, part in WORTH)),)


def met(inputs: Inputs, answers: Answers) -> Said:
    """Where the scarf takes in a fitting, a joint or the partners.

    With the numbers, and the nearest place that is clear.
    """
    body, at, start, end = inputs.body, inputs.at, answers.scarf_from, answers.scarf_to
    if body is None or at is None or start is None or end is None or not answers.within:
        return None
    met_there = inside(body, start, end)
    names = ", ".join(f"{kind} at {{}}" for _, kind in met_there)
    lengths: tuple[float, ...] = (start, end, *(place for place, _ in met_there))
    free = clear_at(body, at, answers.scarf_length)
    if free is None:
        return f"From {{}} to {{}} the scarf takes in {names}; this spar has no clear place for it.", *lengths
    lengths = (*lengths, free)
    return f"From {{}} to {{}} the scarf takes in {names}: move its middle to {{}}.", *lengths


def beyond(inputs: Inputs, answers: Answers) -> str | None:
    """Where the scarf reaches past an end of the spar."""
    if inputs.body is None or answers.scarf_from is None or answers.scarf_to is None:
        return None
    off = answers.scarf_from < 0 or answers.scarf_to > inputs.body.length
    return "The scarf runs past an end of the spar: move it in." if off else None


def steep(inputs: Inputs, answers: Answers) -> str | None:
    """Where the slope is steeper than 12 to 1."""
    if inputs.slope >= WORTH[0][0]:
        return None
    return "A scarf steeper than 12 to 1 is weaker: for a spar take 12 to 1 or flatter."


def drawing(inputs: Inputs, answers: Answers) -> Drawing:
    """Both sticks from the side, the thickness drawn larger."""
    thick = (inputs.thickness + 2 * inputs.planing) * DEEPER
    half, rest = answers.scarf_length / 2, answers.scarf_length / 4
    low, high = -thick / 2, thick / 2
    sticks = corners(-half - rest, low, half + rest, high)
    return Drawing(
        f"from the side, {DEEPER} times as thick, lengths to scale",
        (
            Fill(sticks),
            *loop(*sticks),
            Line(-half, low, half, high),
            Line(-half, low, -half, low - thick / 2, "light"),
            Line(half, high, half, low - thick / 2, "light"),
            Dimension(-half, low - thick / 2, half, low - thick / 2, answers.scarf_length, of="scarf_length"),
            Label(-half - rest / 2, 0, "a"),
            Label(half + rest / 2, 0, "b"),
        ),
    )


CALCULATOR = declared(
    globals(),
    question="How long is the scarf, and how strong is it?",
    headline="scarf_length",
    cautions=(
        met,
        beyond,
        steep,
        "Keep a scarf away from partners, hinge and gooseneck.",
        "The strength left is from memory, unverified: grain, fit and glue decide. Plane both slopes in one set-up.",
        "Keep glue off the skin: gloves, fresh air; follow its maker, on quantity too.",
    ),
    sources=(
        "Slope and triangle (geometry).",
        "Wood Handbook (FPL-GTR-190, 2010) p. 10-17: 1 in 12 or flatter gives the highest strength.",
        "Strength by slope: from memory, unverified; between two slopes the steeper one's is taken.",
        "400 g/m² of glue: common practice, no source.",
    ),
)
