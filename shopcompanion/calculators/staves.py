"""Staves: a hollow spar of notched staves: their widths, the set-ups, the plugs, and what the ring is worth."""

from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache
from itertools import pairwise
from math import ceil, cos, pi, sin, sqrt, tan

from ..calculator import Column, Said, Table, declared
from ..drawing.section import inside
from ..drawing.shapes import Arc, Dimension, Drawing, Fill, Shape, along_arc, loop
from ..errors import InputFault
from ..fields import Angle, Count, Length, Ratio, Share, Value
from ..quantities import OZ_FT2, Area, Mass, SecondMoment, Spread
from ..record import Annotated, NamedTuple, Record
from ..spar.along import solid_places
from ..spar.body import Body
from ..spar.outline import Outline, named
from ..spar.quadrature import gauss
from ..spar.section import Section
from ..spar.staves import NUMBERS, USUAL, Ring, staves_fault, thickness_for
from ..spar.whole import WholeSpar
from ..timber.moisture import density
from ..timber.species import Named, Own, Timbers
from .along_spar import EVERY, Law, RowEvery, Widths
from .timber_asked import timber_asked

_MC = 12.0  # percent of moisture that it is weighed at
_RING = "one stave turned into the next: geometry of the ring, our own"
_ALONG = "the sections summed along it"
_PRACTICE = "common practice, no source"
_SAW = "geometry of the notch"
_TURN = "360°/staves"
_POLYGON = "regular polygon about the round"
_COS, _SIN = "cos(2·π/staves)", "sin(2·π/staves)"


class Inputs(Record):
    whole: Annotated[Body | None, WholeSpar("The spar", follows="spar.body")] = None
    staves: Annotated[int, Count("Staves", at_least=3, at_most=100, follows="spar.ring")] = 8
    diameter: Annotated[float | None, Length("Finished diameter", above=0, at_most=2000, follows="spar.width_at")] = (
        None
    )
    thickness: Annotated[
        float | None,
        Length("Thickness of a stave", called="thickness as given", above=0, at_most=500, follows="spar.stave"),
    ] = None
    wall: Annotated[float | None, Length("Or the least wall wanted", called="wall", above=0, at_most=500)] = None
    outline: Widths = None
    law: Law = "straight"
    station_step: RowEvery = EVERY
    species: Annotated[str | None, Named("Timber", follows="spar.species")] = None
    own: Annotated[Own | None, Timbers("The boat's own timbers", follows="boat.species")] = None
    planing: Annotated[
        float,
        Length("Planing on each face", called="planing", at_least=0, at_most=50, follows="shop.planing", metric=1.5),
    ] = 1.5875
    clamp_every: Annotated[float, Ratio("A clamp every so many diameters", at_least=0.5, at_most=20)] = 3.5
    spread: Annotated[float, Spread("Glue spread", above=0, at_most=5000, metric=250.0)] = 0.8 * OZ_FT2


class Answers(Record):
    stave_width: Annotated[
        float,
        Length("Stave width here", called="stave width",
               formula=f"tan(π/staves)·(diameter_used − stave_thickness·(1 − {_COS}))", source=_RING),
    ]  # fmt: skip
    widest_stave: Annotated[
        float | None,
        Length(
            "Stave width, widest",
            called="widest stave",
            source="the same where the spar is widest: notch it at this width",
        ),
    ]
    rip_width: Annotated[
        float | None,
        Length("Rip the staves at", formula="widest_stave + 2·planing", source="planed on both edges", rounding="up"),
    ]
    rip_thickness: Annotated[
        float,
        Length("Rough thickness", formula="stave_thickness + 2·planing", source="planed on both faces", rounding="up"),
    ]
    stave_thickness: Annotated[float, Length("Finished thickness", source="as given")]
    notch_depth: Annotated[
        float, Length("Notch, deep from its lips", called="notch deep", formula=f"stave_thickness·{_SIN}·{_COS}",
                      source=_RING)
    ]  # fmt: skip
    notch_below: Annotated[
        float, Length("Notch, below the outer face", called="notch below the face",
                      formula=f"stave_thickness·{_COS}²", source=_RING)
    ]  # fmt: skip
    notch_inner: Annotated[
        float, Angle("Inner side of notch, to the face", called="inner side of notch", formula=_TURN, source=_RING)
    ]
    notch_outer: Annotated[
        float,
        Angle("Outer side of notch, to the face", called="outer side of notch", formula="90° − 360°/staves",
              source=_RING),
    ]  # fmt: skip
    saw_tilt: Annotated[
        float,
        Angle("Saw tilt, both cuts", called="saw tilt", formula="min(360°/staves, 90° − 360°/staves)", source=_SAW),
    ]
    saw_flat: Annotated[
        float,
        Length("Blade height, stave flat", called="blade height flat",
               formula=f"stave_thickness·max({_COS}², {_SIN}²)", source=_SAW),
    ]  # fmt: skip
    saw_edge: Annotated[
        float, Length("Blade height, stave on edge", called="blade height on edge", formula="notch_depth", source=_SAW)
    ]
    router_tilt: Annotated[
        float, Angle("Stave tilted over a V bit", called="tilt over the bit", formula="abs(45° − 360°/staves)",
                     source="a bit of 90°, upright")
    ]  # fmt: skip
    bit_least: Annotated[
        float,
        Length("V bit of 90°, at least", called="bit", formula=f"√(2)·stave_thickness·max({_COS}, {_SIN})",
               source="its flank is as long as the longer side of the notch", rounding="up"),
    ]  # fmt: skip
    proud: Annotated[
        float,
        Length("Corners, above the finished round", called="corner above",
               formula=f"√((diameter_used/2)² + ((diameter_used/2 + stave_thickness·{_COS})·tan(π/staves))²)"
               " − diameter_used/2", source=_RING),
    ]  # fmt: skip
    face: Annotated[
        float, Length("Face, corners flush", called="face", formula="diameter_used·tan(π/staves)", source=_POLYGON)
    ]
    line_next: Annotated[
        float, Length("Line for twice the sides", called="line", formula="(face − face_next)/2", source=_POLYGON)
    ]
    face_next: Annotated[
        float,
        Length("Face at twice the sides", called="face at twice the sides",
               formula="diameter_used·tan(π/(2·staves))", source=_POLYGON),
    ]  # fmt: skip
    off_next: Annotated[
        float,
        Length("Off each corner for them", called="off each corner",
               formula="diameter_used/2·(1/cos(π/staves) − 1)", source=_POLYGON),
    ]  # fmt: skip
    ridge_next: Annotated[
        float,
        Length("Ridge left at twice the sides", called="ridge at twice",
               formula="diameter_used/2·(1/cos(π/(2·staves)) − 1)", source=_POLYGON),
    ]  # fmt: skip
    ridge_last: Annotated[
        float,
        Length("Ridge left at four times the sides", called="ridge at four times",
               formula="diameter_used/2·(1/cos(π/(4·staves)) − 1)", source=_POLYGON),
    ]  # fmt: skip
    wall_least: Annotated[
        float,
        Length("Wall, least", formula="diameter_used/2 − hole/2 / cos(π/staves)",
               source="rounded, at the corners of the hole", rounding="down"),
    ]  # fmt: skip
    hole: Annotated[
        float,
        Length("Hole, across its flats", called="hole", formula="diameter_used − 2·stave_thickness", source=_RING),
    ]
    area: Annotated[
        float,
        Area(
            "Area of wood",
            formula="π/4·diameter_used² − staves·tan(π/staves)·hole²/4",
            source="the round less the hole",
        ),
    ]
    second: Annotated[
        float,
        SecondMoment("Second moment",
                     formula="π/64·diameter_used⁴ − staves·tan(π/staves)·(1 + tan(π/staves)²/3)·hole⁴/64",
                     source="the round less a regular polygon (geometry); the same in every direction"),
    ]  # fmt: skip
    area_part: Annotated[
        float,
        Share("Wood, of the solid", called="wood", formula="area / (π/4·diameter_used²)", source="the same outside"),
    ]
    second_part: Annotated[
        float,
        Share("Stiffness, of the solid", called="stiffness", formula="second / (π/64·diameter_used⁴)",
              source="the same outside and timber, the glue sound"),
    ]  # fmt: skip
    solid_alike: Annotated[
        float,
        Length(
            "Solid, as stiff", called="solid as stiff", formula="√(√(64·second/π))", source="a solid round of that I"
        ),
    ]
    mass: Annotated[float | None, Mass("Spar of staves", source=f"{_ALONG}, its plugs in it, at 12 % of moisture")]
    mass_solid: Annotated[float | None, Mass("Solid, same outside", source=f"{_ALONG}, at 12 % of moisture")]
    mass_alike: Annotated[float | None, Mass("Solid, as stiff all along", source=f"{_ALONG}, at 12 % of moisture")]
    glue_area: Annotated[
        float | None, Area("Glued area", source="both sides of every notch, from end to end; plugs not counted")
    ]
    glue_mass: Annotated[
        float | None,
        Mass("Glue", formula="glue_area·spread / {(144·16)|1000³}", source="spread on one side of each joint"),
    ]
    clamps: Annotated[int | None, Count("Clamps", source=f"by the spar's least diameter, and one more ({_PRACTICE})")]
    diameter_used: Annotated[float, Length("Diameter used", source="as given, or else the widest")]


class RingCase(NamedTuple):
    """The ring asked for, its thickness everywhere, the outline where there is one, and the spar made of both."""

    ring: Ring
    outline: Outline | None
    body: Body | None


@lru_cache(maxsize=16)  # answers, tables, drawing and cautions ask the same
def case(inputs: Inputs) -> RingCase:
    """The ring and the spar. InputFault, naming the input, for what makes none."""
    outline = None if inputs.outline is None else named("outline", inputs.outline, inputs.law)
    if inputs.diameter is None and outline is None:
        raise InputFault("type the finished diameter, or the widths along the spar", "diameter")
    diameter = inputs.diameter if inputs.diameter is not None else outline.widest if outline else 0.0
    if inputs.staves not in NUMBERS:
        numbers = f"{', '.join(map(str, NUMBERS[:-1]))} or {NUMBERS[-1]}"
        raise InputFault(f"a ring of {inputs.staves} staves will not do; {numbers} will", "staves")
    wanted = outline or Outline(((0.0, diameter), (1.0, diameter)))
    widest = max(wanted.widest, diameter)
    given = "thickness"
    thickness = inputs.thickness if inputs.thickness is not None else widest / USUAL
    if inputs.wall is not None:
        thickness, given = thickness_for(inputs.staves, widest, inputs.wall), "wall"
        if inputs.wall >= wanted.narrowest / 2:
            raise InputFault("a wall of {} leaves no hole where the spar is {}; a thinner one will do", given,
                             (inputs.wall, wanted.narrowest))  # fmt: skip
    for size in (wanted, Outline(((0.0, diameter), (1.0, diameter)))):
        if why := staves_fault(inputs.staves, thickness, size):
            raise InputFault(why[0], given, why[1])
    body = None if outline is None else _body(inputs, outline, thickness)
    return RingCase(Ring(inputs.staves, diameter, thickness), outline, body)


def _body(inputs: Inputs, outline: Outline, thickness: float) -> Body:
    """The spar of staves: the boat's own with these, or a bare one with a plug at either end."""
    whole = inputs.whole
    if whole is not None and whole.outline == outline:
        if (whole.section, whole.staves, whole.wall) == ("staves", inputs.staves, thickness):
            return whole
        joints, fittings = whole.joints, whole.fittings
        solid = solid_places(outline.width_at, outline.length, joints, fittings)
        return Body(outline, None, "staves", thickness, (), joints, fittings, solid, inputs.staves)
    solid = solid_places(outline.width_at, outline.length, (), ())
    return Body(outline, None, "staves", thickness, solid=solid, staves=inputs.staves)


def _along(outline: Outline, of: Callable[[float], float]) -> float:
    """The integral along a spar of a function of its diameter."""
    return sum(gauss(lambda at: of(outline.width_at(at)), a[0], b[0], 4) for a, b in pairwise(outline.stations))


def _section(inputs: Inputs, diameter: float, thickness: float) -> Section:
    return Section("staves", diameter, diameter, thickness, inputs.staves)


def _alike(second: float) -> float:
    """The diameter of the solid round with that second moment, mm."""
    return sqrt(sqrt(64 * second / pi))


def _masses(inputs: Inputs, layout: RingCase) -> tuple[float | None, float | None, float | None]:
    """Mass of the spar of staves, of a solid one of the same outside, and of a solid one as stiff, kg."""
    if layout.body is None or layout.outline is None or inputs.species is None:
        return None, None, None
    heavy = density(timber_asked(inputs.species, inputs.own).sg12, _MC) * 1e-9
    thickness, outline = layout.ring.thickness, layout.outline
    alike = _along(outline, lambda wide: pi / 4 * _alike(_section(inputs, wide, thickness).second_moments[0]) ** 2)
    return heavy * layout.body.volume(), heavy * _along(outline, lambda wide: pi / 4 * wide**2), heavy * alike


def work(inputs: Inputs) -> Answers:
    layout = case(inputs)
    ring, outline = layout.ring, layout.outline
    section = _section(inputs, ring.diameter, ring.thickness)
    second, solid = section.second_moments[0], pi * ring.diameter**2 / 4
    mass, mass_solid, mass_alike = _masses(inputs, layout)
    across, deep = cos(ring.turn), sin(ring.turn)
    glue = widest = clamps = None
    if outline is not None:
        glue = inputs.staves * (across + deep) * ring.thickness * outline.length
        widest = ring._replace(diameter=outline.widest).stave_width
        clamps = ceil(outline.length / (inputs.clamp_every * outline.narrowest) - 1e-9) + 1
    inner = 360 / inputs.staves
    return Answers(
        stave_width=ring.stave_width,
        widest_stave=widest,
        rip_width=None if widest is None else widest + 2 * inputs.planing,
        rip_thickness=ring.thickness + 2 * inputs.planing,
        stave_thickness=ring.thickness,
        notch_depth=ring.notch_depth,
        notch_below=ring.notch_below,
        notch_inner=inner,
        notch_outer=90 - inner,
        saw_tilt=min(inner, 90 - inner),
        saw_flat=ring.thickness * max(across, deep) ** 2,
        saw_edge=ring.notch_depth,
        router_tilt=abs(45 - inner),
        bit_least=sqrt(2) * ring.thickness * max(across, deep),
        proud=ring.proud,
        face=ring.diameter * tan(pi / inputs.staves),
        line_next=ring.diameter * (tan(pi / inputs.staves) - tan(pi / (2 * inputs.staves))) / 2,
        face_next=ring.diameter * tan(pi / (2 * inputs.staves)),
        off_next=ring.diameter / 2 * (1 / cos(pi / inputs.staves) - 1),
        ridge_next=ring.diameter / 2 * (1 / cos(pi / (2 * inputs.staves)) - 1),
        ridge_last=ring.diameter / 2 * (1 / cos(pi / (4 * inputs.staves)) - 1),
        wall_least=ring.wall_least,
        hole=ring.hole,
        area=section.area,
        second=second,
        area_part=section.area / solid,
        second_part=second / (pi * ring.diameter**4 / 64),
        solid_alike=_alike(second),
        mass=mass,
        mass_solid=mass_solid,
        mass_alike=mass_alike,
        glue_area=glue,
        glue_mass=None if glue is None else glue * inputs.spread * 1e-9,
        clamps=clamps,
        diameter_used=ring.diameter,
    )


def formulas(inputs: Inputs) -> Mapping[str, str]:
    sums = {}
    if inputs.diameter is not None:
        sums["diameter_used"] = "diameter"
    if inputs.wall is not None and (inputs.outline is None or len({width for _, width in inputs.outline}) == 1):
        sums["stave_thickness"] = "diameter_used/2 − (diameter_used/2 − wall)·cos(π/staves)"
    return sums


def plugs(body: Body) -> Iterator[tuple[float, float, float, float]]:
    """Every plug: from where to where it is whole, and how long its tail is towards heel and head; mm."""
    start: float | None = None
    before = 0.0
    for stretch in (*body.stretches, None):
        whole = stretch is not None and stretch.heelward == stretch.headward == "round"
        if whole and start is None and stretch is not None:
            start = stretch.start
        if stretch is None or not whole:
            tail = stretch.end - stretch.start if stretch is not None and stretch.runs_out else 0.0
            if start is not None:
                yield start, body.length if stretch is None else stretch.start, before, tail
                start = None
            before = tail


def tables(inputs: Inputs, answers: Answers) -> tuple[Table, ...]:
    """Stave and wall at every station; and the plugs."""
    layout = case(inputs)
    if layout.outline is None or layout.body is None:
        return ()
    columns = (
        Column("at", Length("Station")),
        Column("diameter", Length("Diameter")),
        Column("stave_width", Length("Stave width")),
        Column("off_plain", Length("Off plain edge")),
        Column("wall_least", Length("Wall, least", rounding="down")),
    )
    rows: list[tuple[Value, ...]] = []
    for at in layout.outline.steps(inputs.station_step):
        ring = layout.ring._replace(diameter=layout.outline.width_at(at))
        off = (answers.widest_stave or 0.0) - ring.stave_width
        rows.append((at, ring.diameter, ring.stave_width, max(0.0, off), ring.wall_least))
    blocks = (
        Column("plug_start", Length("Whole from")),
        Column("plug_end", Length("Whole to")),
        Column("heel_tail", Length("Tail to heel")),
        Column("head_tail", Length("Tail to head")),
        Column("hole_heel", Length("Across flats, heelward", rounding="down")),
        Column("hole_head", Length("Across flats, headward", rounding="down")),
    )
    made = []
    for start, end, before, after in plugs(layout.body):
        holes = [layout.outline.width_at(at) - 2 * layout.ring.thickness for at in (start - before, end + after)]
        made.append((start, end, before, after, *holes))
    return (Table("stations", columns, tuple(rows)), Table("plugs", blocks, tuple(made)))


def drawing(inputs: Inputs, answers: Answers) -> Drawing:
    """The ring as it is glued, and the round in it; a stave's width over the top."""
    ring = case(inputs).ring
    radius = ring.diameter / 2
    round_ = Arc(0.0, 0.0, radius, radius, pen="light")
    shapes: list[Shape] = [Fill(tuple(stave), "off") for stave in ring.all_staves]
    shapes += [Fill(along_arc(round_)), Fill(inside(_section(inputs, ring.diameter, ring.thickness)), "air")]
    shapes += [piece for stave in ring.all_staves for piece in loop(*stave)]
    shapes.append(round_)
    (left, _), _, (right, top), *_ = ring.stave
    high = top + ring.proud + radius / 6
    shapes.append(Dimension(left, high, right, high, answers.stave_width, of="stave_width"))
    return Drawing("the ring as it is glued, the round dotted, to scale", tuple(shapes))


def thin(inputs: Inputs, answers: Answers) -> Said:
    """Where the wall is thinner than an eighth of the diameter."""
    if answers.wall_least >= answers.diameter_used / 8:
        return None
    return "The wall is only {} at its thinnest: a fitting or a clamp can crush it; {} thick is usual.", (
        answers.wall_least), answers.diameter_used / USUAL  # fmt: skip


def faces_down(inputs: Inputs, answers: Answers) -> str:
    """Always."""
    face = "inner" if inputs.staves < 8 else "outer"
    return (
        f"Two cuts make the notch and meet in its bottom: one with the stave flat on the saw, {face} face down, "
        "one with the stave on its notched edge."
    )


CALCULATOR = declared(
    globals(),
    question="How wide are the staves of a hollow spar, and how are they notched?",
    headline="stave_width",
    cautions=(
        thin,
        faces_down,
        "Guard, feather boards and push stick: staves are thin, and their lips break out and fly.",
        "Try the set-up on offcuts: a whole short ring, dry, without a gap, before any stave is notched.",
        "Taper the plain edge only, after the notch. Slow glue: every stave is wet before the first clamp.",
    ),
    sources=(
        "Ring and notch: turned staves, derived here (geometry).",
        "A fifth of the diameter thick, clamps three to four diameters apart, tails of three to four widths"
        " (common practice, no source).",
        "Density at 12 %: USDA Wood Handbook, FPL-GTR-282 (2021), eq. 4-14.",
    ),
)
