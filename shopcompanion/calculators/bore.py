"""Bore: a hole drilled from both sides to meet in the middle, how far the halves miss, and what still passes."""

from collections.abc import Mapping
from math import atan, cos, degrees, radians, sin, tan

from ..calculator import Said, declared
from ..drawing.shapes import Arc, Dimension, Drawing, Fill, Line, Shape, Shown, corners, square
from ..errors import InputFault
from ..fields import Angle, Choice, Length, Value
from ..record import Annotated, Record

_LENS = "what two holes side by side leave open in a line"
_V = "circle between the two sides of a V"


class Inputs(Record):
    thickness: Annotated[float, Length("Thickness", above=0, at_most=2000, follows="spar.width_at")]
    hole: Annotated[float, Length("Hole's diameter", above=0, at_most=500, metric=10.0)] = 9.525
    angle_error: Annotated[float, Angle("Drill may lean", called="lean of the drill", at_least=0, at_most=20)] = 1.0
    centring: Annotated[
        float, Length("Centred within", called="error of centring", at_least=0, at_most=50, metric=0.5)
    ] = 25.4 / 64
    drill_reach: Annotated[float | None, Length("Drill's reach", above=0, at_most=2000)] = None
    bolt: Annotated[float | None, Length("Bolt or screw", above=0, at_most=500)] = None
    v_angle: Annotated[float, Angle("Angle of the cradle's V", at_least=30, at_most=150)] = 90.0
    other_diameter: Annotated[float | None, Length("Diameter at the other cradle", above=0, at_most=2000)] = None
    axis_height: Annotated[float | None, Length("Axis above the table", above=0, at_most=2000)] = None


class Answers(Record):
    mismatch: Annotated[
        float,
        Length("Halves miss by up to", called="miss of the halves", rounding="up",
               formula="thickness·tan(angle_error) + 2·centring",
               source="each wanders half the thickness times the tangent, in opposite directions"),
    ]  # fmt: skip
    exit_error: Annotated[
        float,
        Length("Drilled from one side, off by", formula="thickness·tan(angle_error) + centring", rounding="up",
               source="the whole thickness from one centre"),
    ]  # fmt: skip
    verdict: Annotated[
        str | None,
        Choice("Drill", options=("goes right through", "meets in the middle", "falls short"),
               source="its reach against the thickness, and twice its reach"),
    ]  # fmt: skip
    needed_reach: Annotated[
        float,
        Length("Reach needed, each side", formula="thickness / 2 / cos(angle_error)", rounding="up",
               source="half way, along a leaning drill"),
    ]  # fmt: skip
    overlap: Annotated[
        float | None,
        Length("Halves overlap by", formula="2·drill_reach·cos(angle_error) − thickness",
               source="twice the reach, less the thickness"),
    ]  # fmt: skip
    wood_between: Annotated[
        float | None,
        Length("Wood left between the halves", formula="thickness − 2·drill_reach·cos(angle_error)", rounding="up",
               source="the thickness, less twice the reach"),
    ]  # fmt: skip
    passes: Annotated[
        float,
        Length(
            "Thickest straight rod through",
            called="thickest straight rod",
            formula="max(0, hole − mismatch)",
            source=_LENS,
            rounding="down",
        ),
    ]
    pilot: Annotated[
        float | None,
        Length("Largest pilot hole", formula="hole − mismatch", rounding="down",
               source="a straight ream to full size takes in both halves of it"),
    ]  # fmt: skip
    ream_to: Annotated[
        float,
        Length(
            "Reamer that cleans both halves",
            formula="hole + mismatch",
            source="takes in both halves of the hole",
            rounding="up",
        ),
    ]
    bolt_play: Annotated[
        float | None, Length("Play of the bolt", formula="passes − bolt", source="negative: the bolt jams")
    ]
    hole_for_bolt: Annotated[
        float | None, Length("Hole needed for the bolt", formula="bolt + mismatch", source=_LENS, rounding="up")
    ]
    angle_ok: Annotated[
        float | None,
        Angle("Lean allowed for the bolt", formula="atan((hole − bolt − 2·centring) / thickness)", source=_LENS),
    ]
    block_height: Annotated[
        float, Length("Cradle, table to the V", formula="axis_used − thickness/2 / sin(v_angle/2)", source=_V)
    ]
    block_other: Annotated[
        float | None,
        Length("Other cradle, table to the V", formula="axis_used − other_diameter/2 / sin(v_angle/2)", source=_V),
    ]
    v_deep: Annotated[
        float,
        Length("Depth of the V, at least", formula="thickness/2·cos(v_angle/2)² / sin(v_angle/2)", rounding="up",
               source="to where the round touches its sides"),
    ]  # fmt: skip
    axis_used: Annotated[
        float,
        Length(
            "Axis above the table, used",
            called="height of the axis",
            formula="axis_height",
            source="as given, or with sound wood under the V",
        ),
    ]


def _axis(inputs: Inputs) -> tuple[float, str]:
    """Height of the axis above the table, and its formula: a quarter of the largest round stays below the V."""
    if inputs.axis_height is not None:
        return inputs.axis_height, "axis_height"
    largest, words = inputs.thickness, "thickness"
    if inputs.other_diameter is not None:
        largest, words = max(largest, inputs.other_diameter), "max(thickness, other_diameter)"
    return largest / 4 + largest / 2 / sin(radians(inputs.v_angle / 2)), f"{words}/4 + {words}/2 / sin(v_angle/2)"


def work(inputs: Inputs) -> Answers:
    thick, lean, half_v = inputs.thickness, radians(inputs.angle_error), radians(inputs.v_angle / 2)
    if inputs.hole >= thick:
        raise InputFault(
            "a hole of {} is as wide as the wood, {}, or wider; a smaller one will do", "hole", (inputs.hole, thick)
        )
    if inputs.bolt is not None and inputs.bolt > inputs.hole:
        raise InputFault("a bolt of {} does not go into a hole of {}", "bolt", (inputs.bolt, inputs.hole))
    miss = thick * tan(lean) + 2 * inputs.centring
    axis, _ = _axis(inputs)
    largest = max(thick, inputs.other_diameter or 0.0)
    if axis <= largest / 2 / sin(half_v):
        raise InputFault(
            "{} leaves no wood under the V; more than {} will do", "axis_height",
            (axis, largest / 2 / sin(half_v)),
        )  # fmt: skip
    reach, bolt = inputs.drill_reach, inputs.bolt
    room = None if bolt is None else inputs.hole - bolt - 2 * inputs.centring
    short = None if reach is None else thick - 2 * reach * cos(lean)
    return Answers(
        mismatch=miss,
        exit_error=thick * tan(lean) + inputs.centring,
        verdict=_verdict(reach, thick, lean),
        needed_reach=thick / 2 / cos(lean),
        overlap=-short if short is not None and short <= 0 else None,
        wood_between=short if short is not None and short > 0 else None,
        passes=max(0.0, inputs.hole - miss),
        pilot=inputs.hole - miss if inputs.hole > miss else None,
        ream_to=inputs.hole + miss,
        bolt_play=None if bolt is None else max(0.0, inputs.hole - miss) - bolt,
        hole_for_bolt=None if bolt is None else bolt + miss,
        angle_ok=degrees(atan(room / thick)) if room is not None and room >= 0 else None,
        block_height=axis - thick / 2 / sin(half_v),
        block_other=None if inputs.other_diameter is None else axis - inputs.other_diameter / 2 / sin(half_v),
        v_deep=thick / 2 * cos(half_v) ** 2 / sin(half_v),
        axis_used=axis,
    )


def _verdict(reach: float | None, thick: float, lean: float) -> str | None:
    if reach is None:
        return None
    along = reach * cos(lean)
    return "goes right through" if along >= thick else "meets in the middle" if 2 * along >= thick else "falls short"


def formulas(inputs: Inputs) -> Mapping[str, str]:
    return {"axis_used": _axis(inputs)[1]}


def short(inputs: Inputs, answers: Answers) -> Said:
    """Where the drill does not reach past the middle."""
    if answers.verdict != "falls short":
        return None
    return "The drill is too short from both sides: one that reaches {} will do.", answers.needed_reach


def jams(inputs: Inputs, answers: Answers) -> Said:
    """Where the two halves may miss each other, or the bolt may not go through."""
    if answers.pilot is None:
        return (
            "The halves may miss each other: guide the drill better, or make the hole larger than {}.",
            answers.mismatch,
        )
    if answers.bolt_play is not None and answers.bolt_play < 0 and answers.hole_for_bolt is not None:
        return "At worst the bolt jams: bore {}, or bore a pilot from both sides and ream it.", answers.hole_for_bolt
    return None


def fitting(inputs: Inputs, answers: Answers) -> Mapping[str, Value] | None:
    """A bolt with its hole, for the spar."""
    return {"kind": "bolt", "hole": inputs.hole}


def drawing(inputs: Inputs, answers: Answers) -> Drawing:
    """Along the hole, the two halves leaning as far as they may; what passes straight is in the light pen."""
    x, r = inputs.thickness / 2, inputs.hole / 2
    off, slope = inputs.centring, tan(radians(inputs.angle_error))
    left = (answers.wood_between or 0.0) / 2  # of the wood, on either side of the middle
    shapes: list[Shape] = [Fill(corners(-x, -x, x, x))]
    for side in (-1, 1):  # from the left the drill starts high and climbs, from the right it starts low and falls
        starts, ends = -side * off, -side * (off + (x - left) * slope)
        half = ((side * x, starts - r), (side * left, ends - r), (side * left, ends + r), (side * x, starts + r))
        shapes += [Fill(half, "off"), Line(*half[0], *half[1]), Line(*half[3], *half[2])]
        shapes += [Line(*half[1], *half[2])] if left else []
    step, clear = answers.mismatch / 2, answers.passes / 2
    shapes += square(2 * x, 2 * x, "light")
    if left:
        shapes.append(Dimension(-left, 0, left, 0, 2 * left, of="wood_between"))
    else:
        shapes += [Line(0, j * (r - step), 0, j * (r + step)) for j in (-1, 1)]
        shapes += [Line(-x, j * clear, x, j * clear, "light") for j in (-1, 1)] if clear else []
    beside = x + 2 * r + step
    shapes += [Arc(beside, j * step, r, r) for j in (-1, 1)]
    shapes.append(Dimension(beside + 1.5 * r, -step, beside + 1.5 * r, step, answers.mismatch, of="mismatch"))
    if answers.verdict:
        shapes.append(Shown(0, -(x + r) / 2, "verdict"))
    return Drawing("along the hole, both halves at their worst, to scale", tuple(shapes))


def heads(inputs: Inputs, answers: Answers) -> tuple[str, ...]:
    """Whether the halves meet and by how much; how far they miss one another at most."""
    return ("verdict", "wood_between", "overlap", "mismatch") if answers.verdict else ("mismatch",)


CALCULATOR = declared(
    globals(),
    question="Do two holes meet in the middle, and what passes?",
    headline="mismatch",
    cautions=(
        short,
        jams,
        "Clamp the work in its cradle, back the far side, and clear the chips often.",
        "A long drill flexes: start it slowly. No gloves near it.",
    ),
    sources=(
        "Two half holes that lean opposite ways, and a round in a V (geometry).",
        "A pilot from both sides, then a ream right through (common practice, no source).",
    ),
)
