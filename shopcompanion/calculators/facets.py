"""Facets of eight, sixteen and thirty-two sides: widths, lines, cuts and ridges, for a round or an oval."""

from collections.abc import Mapping
from math import atan2, degrees

from ..calculator import Column, Said, Table, declared
from ..drawing.shapes import Arc, Dimension, Drawing, Fill, Shown, corners, loop, square
from ..errors import InputFault
from ..fields import Angle, Choice, Count, Length
from ..quantities import Percent
from ..record import Annotated, Record
from ..spar.polygon import cut, facet, mark, oval_facets, ridge
from ..spar.section import Section

_FLATS = "regular polygon, across flats"


def _facet(n: int) -> Length:
    return Length(f"Facet at {n} sides", formula=f"across·tan(π/{n})", source=_FLATS, row="Facet", column=str(n))


def _mark(n: int, before: str) -> Length:
    formula = f"({before} − facet_{n}) / 2"
    return Length(f"Line for {n}, from each edge", called=f"line for {n}", formula=formula, source=_FLATS, row="Line",
                  column=str(n))  # fmt: skip


def _cut(n: int) -> Length:
    formula = f"across/2·(1/cos(2·π/{n}) − 1)"
    return Length(f"Off the corner for {n}", formula=formula, source=_FLATS, row="Cut", column=str(n))


def _ridge(n: int) -> Length:
    formula = f"across/2·(1/cos(π/{n}) − 1)"
    return Length(f"Ridge left at {n} sides", formula=formula, source=_FLATS, row="Ridge", column=str(n))


class Inputs(Record):
    width: Annotated[float, Length("Width across flats", above=0, at_most=2000, follows="spar.width_at")]
    depth: Annotated[
        float | None, Length("Depth, if different", called="depth", above=0, at_most=2000, follows="spar.depth_at")
    ] = None
    section: Annotated[str, Choice("Finished section", options=("round", "oval"), follows="spar.shape")] = "round"
    ridge_ok: Annotated[float, Length("Ridge for sanding", at_least=0.01, at_most=20, metric=0.5)] = 25.4 / 64
    square_within: Annotated[float, Length("Square if within", above=0, at_most=20, follows="rule.division")] = (
        25.4 / 32
    )
    corners_8: Annotated[float, Percent("Cut to 8 sides", at_least=0, at_most=100, follows="spar.corners_8")] = 100.0
    corners_16: Annotated[float, Percent("Cut to 16 sides", at_least=0, at_most=100, follows="spar.corners_16")] = 100.0


class Answers(Record):
    mark_8: Annotated[float, _mark(8, "across")]
    facet_8: Annotated[float, _facet(8)]
    cut_8: Annotated[float, _cut(8)]
    ridge_8: Annotated[float, _ridge(8)]
    mark_16: Annotated[float, _mark(16, "facet_8")]
    facet_16: Annotated[float, _facet(16)]
    cut_16: Annotated[float, _cut(16)]
    ridge_16: Annotated[float, _ridge(16)]
    mark_32: Annotated[float, _mark(32, "facet_16")]
    facet_32: Annotated[float, _facet(32)]
    cut_32: Annotated[float, _cut(32)]
    ridge_32: Annotated[float, _ridge(32)]
    saw_tilt: Annotated[
        float, Angle("Saw tilt", formula="atan(1)", source="from upright, with the width's face on the table")
    ]
    sides_needed: Annotated[
        int, Count("Sides before sanding", source="first of 8, 16, 32 and so on whose ridge can be sanded off")
    ]
    across: Annotated[
        float, Length("Finished size", formula="min(width, depth)", source="the round that fits in the stock")
    ]
    out_of_square: Annotated[
        float | None, Length("Sides differ by", formula="max(width, depth) − min(width, depth)", source="as measured")
    ]
    mark_8_depth: Annotated[
        float | None,
        Length(
            "Line for 8 on the deep faces", formula="depth·(1 − tan(π/8)) / 2", source="affine image of the octagon"
        ),
    ]
    girth: Annotated[float, Length("Girth, finished", formula="π·across", source="once round the finished section")]


def work(inputs: Inputs) -> Answers:
    width = inputs.width
    depth = width if inputs.depth is None else inputs.depth
    oval = inputs.section == "oval"
    across = width if oval else min(width, depth)
    other = depth if oval else across
    if inputs.corners_16 > inputs.corners_8:
        raise InputFault(f"no more can be cut to 16 sides than to 8, which is {inputs.corners_8:g} %", "corners_16")
    cut_to = _cut_to(inputs)

    def worst_ridge(n: int) -> float:  # over what is meant: in a run-out that is rounded as far as it is cut
        whole = max(facet.ridge for facet in oval_facets(across, other, n)) if oval else ridge(across, n)
        return whole * cut_to[16]

    def worst_cut(n: int) -> float:
        return max(facet.cut for facet in oval_facets(across, other, n)) if oval else cut(across, n)

    sides = 8 if cut_to[8] else 4
    while sides > 4 and worst_ridge(sides) > inputs.ridge_ok:
        sides *= 2
    return Answers(
        **{f"facet_{n}": facet(across, n) * cut_to[n] for n in (8, 16, 32)},
        **{f"mark_{n}": mark(across, n) * cut_to[n] for n in (8, 16, 32)},
        **{f"cut_{n}": worst_cut(n) * cut_to[n] for n in (8, 16, 32)},
        **{f"ridge_{n}": worst_ridge(n) for n in (8, 16, 32)},
        mark_8_depth=mark(other, 8) * cut_to[8] if oval else None,
        saw_tilt=degrees(atan2(across, other)),
        sides_needed=sides,
        across=across,
        out_of_square=None if inputs.depth is None else abs(width - depth),
        girth=_girth(across, other, inputs),
    )


def _cut_to(inputs: Inputs) -> dict[int, float]:
    """The share of the corners that is cut there in going to so many sides, 0 to 1."""
    return {8: inputs.corners_8 / 100, 16: inputs.corners_16 / 100, 32: inputs.corners_16 / 100}


def _girth(across: float, other: float, inputs: Inputs) -> float:
    """Once round: in a run-out each section that it is made of has its share."""
    square, eight, whole = (Section(kind, across, other).perimeter for kind in ("square", "eight", "round"))
    cut_to = _cut_to(inputs)
    return (1 - cut_to[8]) * square + (cut_to[8] - cut_to[16]) * eight + cut_to[16] * whole


def formulas(inputs: Inputs) -> Mapping[str, str]:
    return _by_section(inputs) if inputs.corners_16 == 100 else {**_by_section(inputs), **_in_run_out(inputs)}


def _in_run_out(inputs: Inputs) -> dict[str, str]:
    """What is marked and cut where the corners are not off, or not all of the way."""
    said = {}
    for n, before in ((8, 4), (16, 8), (32, 16)):
        part = f"corners_{min(n, 16)}/100"
        wide = "" if before == 4 else f"·tan(π/{before})"
        said[f"facet_{n}"] = f"{part}·across·tan(π/{n})"
        said[f"mark_{n}"] = f"{part}·(across{wide} − across·tan(π/{n})) / 2"
        if inputs.section != "oval":
            said[f"cut_{n}"] = f"{part}·across/2·(1/cos(2·π/{n}) − 1)"
            said[f"ridge_{n}"] = f"corners_16/100·across/2·(1/cos(π/{n}) − 1)"
    if inputs.section == "oval":
        deep = "width" if inputs.depth is None else "depth"
        said["mark_8_depth"] = f"corners_8/100·{deep}·(1 − tan(π/8)) / 2"
        said["girth"] = ""
    else:
        said["girth"] = "across·((1 − corners_8/100)·4 + (corners_8 − corners_16)/100·8·tan(π/8) + corners_16/100·π)"
    return said


def _by_section(inputs: Inputs) -> dict[str, str]:
    alone = {"across": "width"} if inputs.depth is None else {}
    if inputs.section != "oval":
        return alone
    deep = "width" if inputs.depth is None else "depth"
    return {
        **alone,
        **{f"{name}_{n}": "" for name in ("cut", "ridge") for n in (8, 16, 32)},  # the worst of several corners
        "saw_tilt": f"atan(width / {deep})",
        "across": "width",
        "mark_8_depth": f"{deep}·(1 − tan(π/8)) / 2",
        "girth": "",  # an elliptic integral
    }


def tables(inputs: Inputs, answers: Answers) -> tuple[Table, ...]:
    """The several facets of an oval, from the middle of the width's face to the middle of the depth's."""
    if inputs.section != "oval":
        return ()
    columns = (
        Column("sides", Count("Sides")),
        Column("tilt", Angle("Tilt from the width's face")),
        Column("facet", Length("Facet")),
        Column("next_mark", Length("Line for the next")),
        Column("cut", Length("Off the corner")),
        Column("ridge", Length("Ridge left")),
    )
    depth = inputs.width if inputs.depth is None else inputs.depth
    cut_to = _cut_to(inputs)
    rows = []
    for n in (4, 8, 16, 32):
        for k, side in enumerate(oval_facets(inputs.width, depth, n)):
            wide = _facet_there(inputs.width, depth, n, k, cut_to)
            off = side.cut * cut_to.get(n, 1.0)
            rows.append((
                n, degrees(side.tilt), wide, side.mark * cut_to[min(2 * n, 32)], off, side.ridge * cut_to[16],
            ))  # fmt: skip
    return (Table("facets", columns, tuple(rows)),)


def _facet_there(width: float, depth: float, sides: int, place: int, cut_to: Mapping[int, float]) -> float:
    """How wide the facet of that place is: sides that look the same way add up, each section's by its share."""
    shares = {4: 1.0, **{n: cut_to[n] for n in (8, 16, 32) if n <= sides}}
    corner = 0.0
    for n, share in shares.items():
        later = shares.get(2 * n, 0.0) if n < sides else 0.0
        steps = sides // n  # between facets that the section of n sides has as well
        if place % steps == 0:
            corner += (share - later) * oval_facets(width, depth, n)[place // steps].width
    return corner


def out_of_square(inputs: Inputs, answers: Answers) -> Said:
    """Where the sides of a round differ by more than counts as square."""
    if inputs.section == "oval" or (answers.out_of_square or 0.0) <= inputs.square_within:
        return None
    return (
        "The sides differ by {}, more than a division of the rule: plane the thicker pair down first "
        "(the numbers are for the smaller side), or say that an oval is meant.",
        answers.out_of_square or 0.0,
    )


def drawing(inputs: Inputs, answers: Answers) -> Drawing:
    """The square with its corners off; above it the facet, and its line from the edge."""
    wide = answers.across
    deep = inputs.depth if inputs.section == "oval" and inputs.depth is not None else wide
    x, y = wide / 2, deep / 2
    flat_x, flat_y = x - answers.mark_8, y - mark(deep, 8) * _cut_to(inputs)[8]
    half = ((flat_x, y), (x, flat_y), (x, -flat_y), (flat_x, -y))
    eight = (*half, *((-i, -j) for i, j in half))
    measures = [Dimension(-flat_x, y + 0.24 * deep, flat_x, y + 0.24 * deep, 2 * flat_x)]
    if answers.mark_8:
        measures.append(Dimension(flat_x, y + 0.12 * deep, x, y + 0.12 * deep, answers.mark_8))
    whole = answers.facet_8 and inputs.corners_8 == 100
    if answers.facet_8 and not whole and inputs.section != "oval":
        measures.insert(0, Dimension(flat_x, y, x, flat_y, answers.facet_8))
        whole = True
    return Drawing(
        "the section, to scale",
        (
            Fill(corners(-x, -y, x, y), "off"),
            Fill(eight),
            *square(wide, deep, "light"),
            *loop(*eight),
            *_round_in(inputs, x, y),
            *measures,
            *(() if whole else (Shown(0, 0, "facet_8", "facet {}"),)),
        ),
    )


def _round_in(inputs: Inputs, x: float, y: float) -> tuple[Arc, ...]:
    """The finished round or oval, where the corners are off all of the way."""
    return (Arc(0, 0, x, y, pen="light"),) if inputs.corners_16 == 100 else ()


def heads(inputs: Inputs, answers: Answers) -> tuple[str, ...]:
    """The facet with its line."""
    return "facet_8", "mark_8"


CALCULATOR = declared(
    globals(),
    question="How wide is each facet, and where do the lines go?",
    headline="facet_8",
    cautions=(out_of_square, "Blade guard on; let the corner fall free, away from the fence; hands clear."),
    sources=("Regular polygon about a circle; line of the octagon 1 − 1/√2 = 0.29289 of the side (geometry).",),
)
