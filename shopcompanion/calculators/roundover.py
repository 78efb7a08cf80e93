"""Roundover: does this bit turn this square into a round, in which passes, and how fast may it turn?"""

from collections.abc import Mapping
from math import asin, pi, sqrt

from ..calculator import Column, Table, declared
from ..drawing.shapes import Arc, Dimension, Drawing, Fill, Line, Shape, Shown, along_arc, corners, square
from ..errors import InputFault
from ..fields import Choice, Count, Length, Lengths, Pairs, Turning
from ..quantities import Speed
from ..record import Annotated, Record
from ..spar.halving import turns

SAME = 0.1  # mm; nearer than a shop can measure
COMMON_PILOT = 12.7
# Outside diameter of the bit up to (mm) -> rpm. A common trade convention, no standard; the cutter's own marking rules.
SPEEDS = ((25.4, 24000.0), (50.8, 18000.0), (63.5, 16000.0), (88.9, 12000.0))
RIM = 56.0  # m/s, the fastest rim in that convention, for bits bigger than it names
_TWICE = "a quarter round of radius r meets its neighbour when the side is 2·r"
_CONVENTION = "common trade convention, no standard; the bit's own marking rules"


class Inputs(Record):
    stock: Annotated[float, Length("Side of the stock", above=0, at_most=2000, follows="spar.width_at")]
    stock_other: Annotated[float | None, Length("Other side", above=0, at_most=2000, follows="spar.depth_at")] = None
    bit_radius: Annotated[float | None, Length("Radius of the bit", above=0, at_most=200)] = None
    rack: Annotated[
        tuple[tuple[float, float | None], ...] | None,
        Pairs("Bits on the rack", above=0, at_most=200, columns=("radius", "pilot"), alone=True, follows="shop.bits"),
    ] = None
    pilot: Annotated[float | None, Length("Pilot diameter", above=0, at_most=200)] = None
    passes: Annotated[int, Count("Passes", at_least=1, at_most=20)] = 3
    speed_set: Annotated[float | None, Turning("Router speed", above=0, at_most=60000)] = None


class Answers(Record):
    verdict: Annotated[str, Choice("This bit", options=("full round", "leaves flats", "bit too big"), source=_TWICE)]
    round_stock: Annotated[
        float, Length("Rounds a square of", called="side that it rounds", formula="2·bit_used", source=_TWICE)
    ]
    bit_used: Annotated[float, Length("Radius used", source="as given, or else off the rack")]
    flat_left: Annotated[
        float | None, Length("Flat left on this side", formula="max(0, stock − 2·bit_used)", source=_TWICE)
    ]
    flat_left_other: Annotated[
        float | None, Length("Flat left on the other side", formula="max(0, stock_other − 2·bit_used)", source=_TWICE)
    ]
    needed_radius: Annotated[
        float, Length("Radius for a full round", formula="min(stock, stock_other) / 2", source=_TWICE)
    ]
    rack_below: Annotated[float | None, Length("Nearest smaller on the rack", source="the rack")]
    rack_above: Annotated[float | None, Length("Nearest bigger on the rack", source="the rack")]
    pilot_used: Annotated[float, Length("Pilot used", source="as given, off the rack, or 1/2 in")]
    bit_diameter: Annotated[
        float, Length("Bit's outside diameter", formula="2·bit_used + pilot_used", source="two radii and the pilot")
    ]
    speed_limit: Annotated[
        float, Turning("No faster than", called="fastest speed", source=_CONVENTION, rounding="down")
    ]
    rim_speed: Annotated[
        float, Speed("Rim speed at that", formula="π·bit_diameter·speed_limit / {12|60000}", source="rim of the bit")
    ]
    pass_depths: Annotated[
        tuple[float, ...] | None,
        Lengths("Lower the bit to", source="each takes an equal part of the corner, (1 − π/4)·r² in all"),
    ]
    bearing_land: Annotated[
        float | None,
        Length(
            "Flat left for the bearing",
            formula="max(0, stock − 2·bit_used)",
            source="last corner, the narrower face: it has an arc at both edges",
        ),
    ]


def _pick(inputs: Inputs) -> tuple[float, float]:
    """Radius and pilot to use: as given, or the biggest bit on the rack that the stock can take."""
    rack = sorted(inputs.rack or (), key=lambda bit: bit[0])
    radius = inputs.bit_radius
    if radius is None:
        if not rack:
            raise InputFault("give the radius of the bit, or a rack of bits to choose from", "bit_radius")
        fits = [size for size, _ in rack if 2 * size <= _least(inputs) + SAME]
        radius = fits[-1] if fits else rack[0][0]
    if inputs.pilot is not None:
        return radius, inputs.pilot
    pilots = [pilot for size, pilot in rack if abs(size - radius) < SAME and pilot is not None]
    return radius, pilots[0] if pilots else COMMON_PILOT


def _other(inputs: Inputs) -> float:
    return inputs.stock if inputs.stock_other is None else inputs.stock_other


def _least(inputs: Inputs) -> float:
    return min(inputs.stock, _other(inputs))


def waste_area(radius: float, lowered: float) -> float:
    """Area that the bit takes off a corner when lowered to `lowered` of its radius.

    >>> round(waste_area(1, 1), 6) == round(1 - pi / 4, 6)
    True
    """
    h, r = lowered, radius
    return h * r - h * sqrt(max(0.0, r * r - h * h)) / 2 - r * r / 2 * asin(min(1.0, h / r))


def pass_depths(radius: float, passes: int) -> tuple[float, ...]:
    """How far to lower the bit for each of `passes` that take equal areas."""
    whole = waste_area(radius, radius)

    def depth(part: float) -> float:
        return turns(0.0, radius, lambda h: waste_area(radius, h) < part)

    return (*(depth(whole * k / passes) for k in range(1, passes)), radius)


def speed_limit(diameter: float) -> float:
    """Rpm for a bit of that outside diameter, by the trade's convention; bigger ones by its fastest rim."""
    for up_to, rpm in SPEEDS:
        if diameter <= up_to + 1e-6:
            return rpm
    return RIM * 60 / (pi * diameter / 1000)


def work(inputs: Inputs) -> Answers:
    radius, pilot = _pick(inputs)
    least = _least(inputs)
    if radius >= least:
        raise InputFault(
            "a bit of {} radius is bigger than the {} stock; a full round takes {}",
            "bit_radius",
            (radius, least, least / 2),
        )
    over = [side - 2 * radius for side in (inputs.stock, _other(inputs))]
    verdict = "bit too big" if min(over) < -SAME else "full round" if max(over) <= SAME else "leaves flats"
    fits = verdict != "bit too big"
    diameter = 2 * radius + pilot
    limit = speed_limit(diameter)
    rack = sorted(size for size, _ in inputs.rack or ())
    return Answers(
        verdict=verdict,
        round_stock=2 * radius,
        bit_used=radius,
        flat_left=max(0.0, over[0]) if fits else None,
        flat_left_other=max(0.0, over[1]) if fits and inputs.stock_other is not None else None,
        needed_radius=least / 2,
        rack_below=max((size for size in rack if size <= least / 2), default=None),
        rack_above=min((size for size in rack if size > least / 2), default=None),
        pilot_used=pilot,
        bit_diameter=diameter,
        speed_limit=limit,
        rim_speed=pi * diameter / 1000 * limit / 60,
        pass_depths=pass_depths(radius, inputs.passes) if fits else None,
        bearing_land=max(0.0, min(over)) if fits else None,
    )


def formulas(inputs: Inputs) -> Mapping[str, str]:
    radius, pilot = _pick(inputs)
    diameter = 2 * radius + pilot
    named = diameter <= SPEEDS[-1][0] + 1e-6
    speed = "" if named else f"{RIM:.0f}·60·{{39.3701|1000}} / (π·bit_diameter)"  # m/s to inches or mm a minute
    if inputs.stock_other is None:
        return {"speed_limit": speed, "needed_radius": "stock / 2"}
    return {"speed_limit": speed, "bearing_land": "max(0, min(stock, stock_other) − 2·bit_used)"}


def tables(inputs: Inputs, answers: Answers) -> tuple[Table, ...]:
    """What is left to bear on when each corner is cut: the face against the pilot, and the one on the table.

    The last corner runs with its narrower face against the pilot.
    """
    if answers.verdict == "bit too big":
        return ()
    r, (side, other) = answers.bit_used, sorted((inputs.stock, _other(inputs)))
    columns = (
        Column("corner", Count("Corner")),
        Column("land_pilot", Length("Left against the pilot")),
        Column("land_table", Length("Left on the table")),
    )
    rows = (
        (1, other - r, side - r),
        (2, side - r, max(0.0, other - 2 * r)),
        (3, other - r, max(0.0, side - 2 * r)),
        (4, max(0.0, side - 2 * r), max(0.0, other - 2 * r)),
    )
    return (Table("corners", columns, rows),)


def too_fast(inputs: Inputs, answers: Answers) -> str | None:
    """Where the router is set faster than the bit's limit."""
    if inputs.speed_set is None or inputs.speed_set <= answers.speed_limit:
        return None
    return f"{inputs.speed_set:.0f} rpm is too fast for this bit: set {answers.speed_limit:.0f} or less."


def ends(inputs: Inputs, answers: Answers) -> str | None:
    """Always; the first where the bit is too big."""
    if answers.verdict == "bit too big":
        return "Do not run it: the arcs would meet below the face. Take a smaller bit, or thicker stock."
    return "Leave both ends square: they carry the stock and the pilot once the arcs meet."


def drawing(inputs: Inputs, answers: Answers) -> Drawing:
    """The section as the bit leaves it, what comes off, and the circle of the bit at one corner."""
    wide, deep = inputs.stock, _other(inputs)
    r = min(answers.bit_used, wide / 2, deep / 2)
    x, y = wide / 2 - r, deep / 2 - r
    turns = ((1, 1, 0), (-1, 1, 90), (-1, -1, 180), (1, -1, 270))
    arcs = [Arc(i * x, j * y, r, r, start, start + 90) for i, j, start in turns]
    flats = [Line(-x, j * deep / 2, x, j * deep / 2) for j in (-1, 1)]
    flats += [Line(i * wide / 2, -y, i * wide / 2, y) for i in (-1, 1)]
    shapes: list[Shape] = [
        Fill(corners(-wide / 2, -deep / 2, wide / 2, deep / 2), "off"),
        Fill(tuple(point for arc in arcs for point in along_arc(arc))),
        *square(wide, deep, "light"),
        *arcs,
        *flats,
        Arc(x, y, answers.bit_used, answers.bit_used, pen="light"),
        Shown(0, -deep / 4, "verdict"),
    ]
    if answers.bit_used == r:
        shapes.append(Dimension(x, y, x + r, y, r))
    if answers.flat_left:
        shapes.append(Dimension(-x, 0.6 * deep, x, 0.6 * deep, answers.flat_left))
    return Drawing("the section and the bit's arc, to scale", tuple(shapes))


CALCULATOR = declared(
    globals(),
    question="Does this bit turn this square into a round?",
    headline="verdict",
    cautions=(
        too_fast,
        ends,
        "Feed against the turn of the bit, or the bit grabs the wood and throws it.",
        "Run big bits slowly and in steps, ends held down; the speed on the cutter rules.",
        "One bit rounds one size: on a taper it fits at one station only.",
    ),
    sources=(
        "Quarter rounds in a square (geometry).",
        "A bit of half the side turns a square into a round (common practice, no source).",
        "Rpm by outside diameter: common trade convention, no standard; conventions conflict.",
    ),
)
