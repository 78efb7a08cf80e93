"""Tip: round an end with flats first, each a chamfer that touches the hemisphere or the blunter shape.

The shape is a quarter of an ellipse turned round the spar's axis, `tip_length` long; a hemisphere is as long as its
radius. Its chamfers are the affine image of those of the hemisphere, as an oval's facets are of the round's: one
that leans φ on the hemisphere runs from the facet before it to the next at the same parts of length and diameter.
"""

from collections.abc import Mapping
from itertools import pairwise
from math import atan2, cos, degrees, hypot, radians, sin, sqrt

from ..calculator import Column, Table, declared
from ..drawing.shapes import Arc, Dimension, Drawing, Fill, Line, Shape, mirrored
from ..errors import InputFault
from ..fields import Angle, Choice, Count, Length
from ..record import Annotated, NamedTuple, Record
from ..spar.polygon import above_oval

# On a hemisphere: the leans of one, two or three chamfers, in the order of work, degrees from the axis.
LEANS = {1: (45.0,), 2: (30.0, 60.0), 3: (45.0, 22.5, 67.5)}
PARTS = 8  # of the tip, in the table
_TANGENT = "the chamfer touches the shape; on a hemisphere the chamfers are evenly spaced"


class Chamfer(NamedTuple):
    """One chamfer: how it leans on a hemisphere, halfway to the flats on either side, and the widest gap then left."""

    lean: float
    before: float  # halfway to the flat nearer the spar
    after: float  # halfway to the flat nearer the end
    gap: float

    @property
    def half_before(self) -> float:
        return self.lean - self.before

    @property
    def half_after(self) -> float:
        return self.after - self.lean


def chamfers(count: int) -> tuple[Chamfer, ...]:
    """The chamfers in the order of work, in degrees.

    >>> chamfers(1)
    (Chamfer(lean=45.0, before=22.5, after=67.5, gap=45.0),)
    """
    flats, cuts = [0.0, 90.0], []
    for lean in LEANS[count]:
        below = max(flat for flat in flats if flat < lean)
        above = min(flat for flat in flats if flat > lean)
        flats = sorted([*flats, lean])
        gap = max(b - a for a, b in pairwise(flats))
        cuts.append(Chamfer(lean, (below + lean) / 2, (lean + above) / 2, gap))
    return tuple(cuts)


def _back(k: int) -> Length:
    cut = chamfers(3)[k - 1]
    return Length(f"Line {k} back from end", formula=_back_formula(cut), source=_TANGENT, row="Line back",
                  column=str(k))  # fmt: skip


def _across(k: int) -> Length:
    cut = chamfers(3)[k - 1]
    return Length(f"Across where {k} ends", formula=_across_formula(cut), source=_TANGENT, row="Across",
                  column=str(k))  # fmt: skip


def _angle(k: int) -> Angle:
    cut = chamfers(3)[k - 1]
    return Angle(f"Angle of chamfer {k}", formula=_angle_formula(cut), source=_TANGENT, row="Angle", column=str(k))


def _proud(k: int) -> Length:
    cut = chamfers(3)[k - 1]
    source = "its sharpest corner, square to the shape"
    return Length(f"Ridge left after {k}", formula=_proud_formula(cut), source=source, row="Ridge", column=str(k))


def _back_formula(cut: Chamfer) -> str:
    if cut.half_before == cut.before:  # it begins on the spar itself
        return f"tip_length·(1 − tan({cut.before:g}°))"
    return f"tip_length·(1 − sin({cut.before:g}°)/cos({cut.half_before:g}°))"


def _across_formula(cut: Chamfer) -> str:
    if cut.half_after + cut.after == 90:  # it ends on the end itself
        return f"diameter·tan({cut.half_after:g}°)"
    return f"diameter·cos({cut.after:g}°)/cos({cut.half_after:g}°)"


def _angle_formula(cut: Chamfer) -> str:
    return f"atan(diameter/2·tan({cut.lean:g}°) / tip_length)"


def _proud_formula(cut: Chamfer) -> str:
    return f"diameter/2·(1/cos({cut.gap / 2:g}°) − 1)"


class Inputs(Record):
    diameter: Annotated[float, Length("Diameter of the end", above=0, at_most=2000, follows="spar.head")]
    shape: Annotated[str, Choice("Shape", options=("hemisphere", "blunt"))] = "hemisphere"
    length: Annotated[float | None, Length("Length, if blunt", called="length", above=0, at_most=2000)] = None
    chamfers: Annotated[int, Count("Chamfers", at_least=1, at_most=3)] = 3


class Answers(Record):
    set_back_1: Annotated[float, _back(1)]
    across_1: Annotated[float, _across(1)]
    angle_1: Annotated[float, _angle(1)]
    proud_1: Annotated[float, _proud(1)]
    set_back_2: Annotated[float | None, _back(2)]
    across_2: Annotated[float | None, _across(2)]
    angle_2: Annotated[float | None, _angle(2)]
    proud_2: Annotated[float | None, _proud(2)]
    set_back_3: Annotated[float | None, _back(3)]
    across_3: Annotated[float | None, _across(3)]
    angle_3: Annotated[float | None, _angle(3)]
    proud_3: Annotated[float | None, _proud(3)]
    bit_height: Annotated[
        float,
        Length("Height of a 45° bit", formula="tip_length + diameter/2 − √(tip_length² + diameter²/4)",
               source="a plane at 45° that touches the shape", rounding="down"),
    ]  # fmt: skip
    tip_length: Annotated[
        float, Length("Rounding begins", called="length of the tip", formula="diameter / 2", source="from the end")
    ]


def _tip_length(inputs: Inputs) -> float:
    radius = inputs.diameter / 2
    if inputs.shape == "blunt":
        if inputs.length is None:
            raise InputFault("give the length of the blunt end, as {}", "length", (radius / 2,))
        return inputs.length
    if inputs.length is not None and abs(inputs.length - radius) > 1e-6:
        raise InputFault("a hemisphere is {} long; leave the length out, or say blunt", "length", (radius,))
    return radius


def work(inputs: Inputs) -> Answers:
    long, radius = _tip_length(inputs), inputs.diameter / 2
    sizes: dict[str, float | None] = {
        f"{name}_{k}": None for k in (1, 2, 3) for name in ("set_back", "across", "angle", "proud")
    }
    flats = [0.0, 90.0]
    for k, cut in enumerate(chamfers(inputs.chamfers), 1):
        flats = sorted([*flats, cut.lean])
        lean = radians(cut.lean)
        sizes[f"set_back_{k}"] = long * (1 - sin(radians(cut.before)) / cos(radians(cut.half_before)))
        sizes[f"across_{k}"] = inputs.diameter * cos(radians(cut.after)) / cos(radians(cut.half_after))
        sizes[f"angle_{k}"] = degrees(atan2(radius * sin(lean), long * cos(lean)))
        sizes[f"proud_{k}"] = max(above_oval(long, radius, *at) for at in corners(long, radius, flats))
    return Answers(
        **sizes,  # type: ignore[arg-type]  # the first chamfer is always there
        bit_height=long + radius - hypot(long, radius),
        tip_length=long,
    )


def corners(long: float, radius: float, leans: list[float]) -> tuple[tuple[float, float], ...]:
    """Where the flats of those leans meet: along the axis from where the shape begins, and off the axis."""
    ridges = []
    for below, above in pairwise(leans):
        middle, out = radians((below + above) / 2), cos(radians((above - below) / 2))
        ridges.append((long * sin(middle) / out, radius * cos(middle) / out))
    return tuple(ridges)


def formulas(inputs: Inputs) -> Mapping[str, str]:
    sums = {} if inputs.shape == "hemisphere" else {"tip_length": "length"}
    for k, cut in enumerate(chamfers(inputs.chamfers), 1):
        sums |= {
            f"set_back_{k}": _back_formula(cut),
            f"across_{k}": _across_formula(cut),
            f"angle_{k}": _angle_formula(cut),
            f"proud_{k}": _proud_formula(cut) if inputs.shape == "hemisphere" else "",
        }
    return sums


def tables(inputs: Inputs, answers: Answers) -> tuple[Table, ...]:
    """The finished shape, for a template or calipers."""
    columns = (Column("from_end", Length("From the end")), Column("across", Length("Diameter there")))
    rows = [
        (answers.tip_length * k / PARTS, inputs.diameter * sqrt(1 - (1 - k / PARTS) ** 2)) for k in range(PARTS + 1)
    ]
    return (Table("shape", columns, tuple(rows)),)


def steep(inputs: Inputs, answers: Answers) -> str | None:
    """Where the end is blunt."""
    if inputs.shape == "hemisphere":
        return None
    return "A blunt end has chamfers at other angles than a 45° bit: work line to line."


def drawing(inputs: Inputs, answers: Answers) -> Drawing:
    """From the side, the end at the right: the chamfers, what they take off, and their lines back from the end."""
    long, radius = answers.tip_length, inputs.diameter / 2
    ring = corners(long, radius, [0.0, *sorted(cut.lean for cut in chamfers(inputs.chamfers)), 90.0])
    spar = -radius
    upper = ((spar, radius), *ring, (long, 0.0))
    square_end = ((0.0, -radius), (long, -radius), (long, radius), (0.0, radius))
    shapes: list[Shape] = [Fill(square_end, "off"), Fill((*upper, *reversed(mirrored(upper))))]
    for points in (upper, mirrored(upper)):
        shapes += [Line(*a, *b) for a, b in pairwise(points)]
        edge = points[0][1]
        shapes += [Line(0, edge, long, edge, "light"), Line(long, points[-2][1], long, edge, "light")]
    for step, back in enumerate((answers.set_back_1, answers.set_back_2, answers.set_back_3)):
        if back is not None:
            over = radius * (1.2 + 0.25 * step)
            shapes += [
                Dimension(long - back, over, long, over, back),
                Line(long - back, radius, long - back, over, "light"),
            ]
    return Drawing(
        "the end from the side, to scale",
        (
            *shapes,
            Arc(0, 0, long, radius, -90, 90, "light"),
            Dimension(spar * 0.8, -radius, spar * 0.8, radius, inputs.diameter),
            Dimension(0, 0, long, 0, long),
        ),
    )


CALCULATOR = declared(
    globals(),
    question="How is an end rounded: which flats first, and what is left to sand?",
    headline="set_back_1",
    cautions=(
        steep,
        "Cut downhill, from the full spar towards the end, so that the grain holds.",
        "Bit: fine steps, fence and pilot set, spar held; its marked speed rules.",
    ),
    sources=(
        "Planes that touch a hemisphere, and their affine image on a half ellipsoid (geometry).",
        "One chamfer or three begin at 45°, 0.5858 of the radius back from the end (common practice, no source).",
        "Two lean 30° and 60°: evenly turned from the side to the end, so that both leave the same ridge (geometry).",
    ),
)
