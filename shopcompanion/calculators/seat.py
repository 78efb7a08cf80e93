"""Seat: does a cove bit's hollow sit on a round pole by its edges, or rock on its middle?"""

from collections.abc import Mapping
from math import asin, degrees, sqrt

from ..calculator import Said, declared
from ..drawing.shapes import Arc, Dimension, Drawing, Fill, Line, Shape, Shown, along_arc
from ..errors import InputFault
from ..fields import Choice, Length, Lengths
from ..record import Annotated, Record

SAME = 0.01  # mm between two radii; below what wood and a bit hold
_SAGITTA = "sagitta of a circle, R − √(R² − half²)"


class Inputs(Record):
    pole_diameter: Annotated[float, Length("Pole's diameter", above=0, at_most=2000, follows="spar.width_at")]
    cove_radius: Annotated[float | None, Length("Cove's radius", above=0, at_most=1000)] = None
    coves: Annotated[
        tuple[float, ...] | None, Lengths("Coves on the rack", above=0, at_most=1000, follows="shop.coves")
    ] = None
    edge: Annotated[float | None, Length("Half the seat's width", above=0, at_most=1000)] = None


class Answers(Record):
    touches: Annotated[
        str,
        Choice("The pole touches", options=("edges", "all over", "middle"),
               source="the smaller of two circles has the deeper sagitta"),
    ]  # fmt: skip
    gap: Annotated[
        float, Length("Gap", formula="abs(cove_depth − pole_depth)", source="difference of the two sagittas")
    ]
    cove_depth: Annotated[
        float, Length("Depth to set the bit", formula="cove_used − √(cove_used² − half_width²)", source=_SAGITTA)
    ]
    sinks: Annotated[
        float,
        Length("The pole sinks in by", formula="min(cove_depth, pole_depth)", source="until edges or middle touch"),
    ]
    rack_best: Annotated[float | None, Length("Best cove on the rack", source="the largest that does not rock")]
    wanted_radius: Annotated[
        float,
        Length("Largest cove that sits", formula="pole_diameter / 2", source="a larger one rocks", rounding="down"),
    ]
    cove_used: Annotated[
        float, Length("Cove's radius, used", called="cove's radius", source="as given, or the best on the rack")
    ]
    half_width: Annotated[
        float,
        Length("Half the seat's width, used", called="half width", formula="min(edge, cove_used, pole_diameter/2)",
               source="a cove is no wider than its bit, nor a seat than the pole"),
    ]  # fmt: skip
    pole_depth: Annotated[
        float,
        Length("Pole's sagitta over the seat", formula="pole_diameter/2 − √((pole_diameter/2)² − half_width²)",
               source=_SAGITTA),
    ]  # fmt: skip


def sagitta(radius: float, half: float) -> float:
    """Height of the arc of `radius` over a chord of twice `half`, mm; `half` is at most the radius.

    >>> sagitta(5, 3)
    1.0
    """
    return radius - sqrt(max(0.0, radius * radius - half * half))


def best_cove(coves: tuple[float, ...] | None, diameter: float) -> float | None:
    """The largest radius of the rack that sits on its edges on a pole of `diameter`, mm; None where each rocks."""
    return max((cove for cove in coves or () if cove <= diameter / 2 + SAME), default=None)


def work(inputs: Inputs) -> Answers:
    pole = inputs.pole_diameter / 2
    best = best_cove(inputs.coves, inputs.pole_diameter)
    cove = inputs.cove_radius or best or (min(inputs.coves) if inputs.coves else None)
    if cove is None:
        raise InputFault("type the radius of the cove, or the coves on the rack; {} or less sits on this pole",
                         "cove_radius", (pole,))  # fmt: skip
    if inputs.edge is not None and inputs.edge > min(cove, pole) + SAME:
        if cove < pole:
            raise InputFault(
                "{} is more than a cove of {} radius cuts; {} or less will do, or a larger cove", "edge",
                (inputs.edge, cove, cove),
            )  # fmt: skip
        raise InputFault("{} is more than half the pole's diameter; {} or less will do", "edge", (inputs.edge, pole))
    half = min(cove, pole) if inputs.edge is None else min(inputs.edge, cove, pole)
    deep, own = sagitta(cove, half), sagitta(pole, half)
    return Answers(
        touches="all over" if abs(cove - pole) <= SAME else "edges" if cove < pole else "middle",
        gap=abs(deep - own),
        cove_depth=deep,
        sinks=min(deep, own),
        rack_best=best,
        wanted_radius=pole,
        cove_used=cove,
        half_width=half,
        pole_depth=own,
    )


def formulas(inputs: Inputs) -> Mapping[str, str]:
    cove, said = work(inputs), {}
    if inputs.edge is None:
        said["half_width"] = "min(cove_used, pole_diameter/2)"
    if cove.half_width == cove.cove_used:  # the whole width of the cove, or of the pole: no root of nothing
        said["cove_depth"] = "cove_used"
    if cove.half_width == inputs.pole_diameter / 2:
        said["pole_depth"] = "pole_diameter/2"
    return said


def rocks(inputs: Inputs, answers: Answers) -> Said:
    """Where the pole touches the middle of the cove only."""
    if answers.touches != "middle":
        return None
    if answers.rack_best is not None:
        return (
            "The pole rocks on the middle of the cove: use the cove of {} on the rack, which bears on both edges.",
            answers.rack_best,
        )
    return (
        "The pole rocks on the middle of the cove: take one of {} radius or less, or cut a flat on the pole.",
        answers.wanted_radius,
    )


def narrow(inputs: Inputs, answers: Answers) -> str | None:
    """Where the pole touches the edges only and the gap under it is more than a quarter of the cove's depth."""
    if answers.touches != "edges" or answers.gap <= answers.cove_depth / 4:
        return None
    return "The pole bears on two edges only: ease them, and bed the seat in thickened glue."


def drawing(inputs: Inputs, answers: Answers) -> Drawing:
    """Across the pole: the pole above, its seat in the cheek below, where they touch."""
    pole, cove, half = inputs.pole_diameter / 2, answers.cove_used, answers.half_width
    turn = degrees(asin(min(1.0, half / cove)))
    centre = pole - answers.sinks  # of the pole, above the cheek's face
    wide = max(1.3 * half, half + pole / 4)
    low = -answers.cove_depth - pole / 4
    hollow, round_ = Arc(0, cove - answers.cove_depth, cove, cove, 270 - turn, 270 + turn), Arc(0, centre, pole, pole)
    shapes: list[Shape] = [
        Fill(((-wide, 0), (-wide, low), (wide, low), (wide, 0), *reversed(along_arc(hollow)))),
        Fill(along_arc(round_)),
        hollow,
        *(Line(j * half, 0, j * wide, 0) for j in (-1, 1)),
        *(Line(j * wide, 0, j * wide, low, "light") for j in (-1, 1)),
        Line(-wide, low, wide, low, "light"),
        round_,
    ]
    if answers.touches == "edges":
        shapes.append(Dimension(0, -answers.cove_depth, 0, -answers.sinks, answers.gap))
    shapes.append(Shown(0, centre, "touches", "touches: {}"))
    return Drawing("the cheek's hollow and the pole, to scale", tuple(shapes))


CALCULATOR = declared(
    globals(),
    question="Does a cove of this radius sit on this pole, or rock?",
    headline="touches",
    cautions=(
        rocks,
        narrow,
        "Cut coves in shallow passes, the stock held by push blocks. The speed marked on the bit is the limit.",
    ),
    sources=(
        "Sagittas of two circles over one chord (geometry).",
        "A seat that touches at its edges is steady (common practice, no source).",
    ),
)
