"""Shoulder: from square to round at an end, with a square shoulder or a run-out."""

from math import atan, degrees, sqrt

from ..calculator import Column, Table, declared
from ..drawing.shapes import Arc, Dimension, Drawing, Fill, along_arc, corners, loop, square
from ..errors import InputFault
from ..fields import Angle, Length, Value
from ..record import Annotated, Record
from ..spar.polygon import facet, mark

PARTS = 4  # of the run-out, in the table
_ROUND = "the round lies centred in the square"
_OCTAGON = "octagon about the round, on the square reduced to its size"
_EVENLY = "each face and each corner runs out evenly"


class Inputs(Record):
    blank: Annotated[float, Length("Side of the square", above=0, at_most=2000, follows="spar.blank")]
    round_diameter: Annotated[float, Length("Diameter of round", above=0, at_most=2000, follows="spar.width_at")]
    round_length: Annotated[float | None, Length("Length of the round", above=0)] = None
    run_out: Annotated[float, Length("Run-out", at_least=0)] = 0.0


class Answers(Record):
    shoulder_depth: Annotated[float, Length("Off each face", formula="(blank − round_diameter) / 2", source=_ROUND)]
    saw_depth: Annotated[
        float, Length("Set the saw to", formula="shoulder_depth", source="never deeper than the round", rounding="down")
    ]
    corner_depth: Annotated[
        float,
        Length(
            "Off each corner, 45°", called="off each corner", formula="(blank·√(2) − round_diameter) / 2", source=_ROUND
        ),
    ]
    mark_8: Annotated[float, Length("Line for 8", formula="round_diameter·(1 − tan(π/8)) / 2", source=_OCTAGON)]
    facet_8: Annotated[float, Length("Facet at 8 sides", formula="round_diameter·tan(π/8)", source=_OCTAGON)]
    mark_16: Annotated[
        float, Length("Line for 16", formula="(facet_8 − round_diameter·tan(π/16)) / 2", source=_OCTAGON)
    ]
    run_out_ends: Annotated[
        float | None,
        Length("Run-out ends at", formula="round_length + run_out", source="from the end; full square from there on"),
    ]
    face_angle: Annotated[float | None, Angle("Run-out, faces", formula="atan(shoulder_depth/run_out)", source=_EVENLY)]
    corner_angle: Annotated[
        float | None, Angle("Run-out, corners", formula="atan(corner_depth/run_out)", source=_EVENLY)
    ]


def work(inputs: Inputs) -> Answers:
    blank, across = inputs.blank, inputs.round_diameter
    if across > blank:
        raise InputFault("{} does not come out of a square of {}", "round_diameter", (across, blank))
    depth, corner = (blank - across) / 2, (blank * sqrt(2) - across) / 2
    long = inputs.run_out
    return Answers(
        shoulder_depth=depth,
        saw_depth=depth,
        corner_depth=corner,
        mark_8=mark(across, 8),
        facet_8=facet(across, 8),
        mark_16=mark(across, 16),
        run_out_ends=None if inputs.round_length is None else inputs.round_length + long,
        face_angle=degrees(atan(depth / long)) if long else None,
        corner_angle=degrees(atan(corner / long)) if long else None,
    )


def tables(inputs: Inputs, answers: Answers) -> tuple[Table, ...]:
    """The run-out in quarters, from the round to the full square."""
    if not inputs.run_out:
        return ()
    columns = (
        Column("past_round", Length("Past the round")),
        Column("from_end", Length("From the end")),
        Column("side", Length("Square there")),
        Column("off_each_face", Length("Off each face")),
        Column("off_each_corner", Length("Off each corner")),
        Column("mark_8", Length("Line for 8")),
    )
    rows: list[tuple[Value, ...]] = []
    for k in range(PARTS + 1):
        left = 1 - k / PARTS
        past = inputs.run_out * k / PARTS
        face = answers.shoulder_depth * left
        rows.append((
            past,
            None if inputs.round_length is None else inputs.round_length + past,
            inputs.blank - 2 * face,
            face,
            answers.corner_depth * left,
            answers.mark_8 * left,
        ))  # fmt: skip
    return (Table("quarters", columns, tuple(rows)),)


def abrupt(inputs: Inputs, answers: Answers) -> str | None:
    """Where there is a shoulder and no run-out."""
    if inputs.run_out or not answers.shoulder_depth:
        return None
    return "A spar breaks at a square shoulder: run it out, or pare the corner hollow."


def drawing(inputs: Inputs, answers: Answers) -> Drawing:
    """The end seen from in front: the round in its square, the square reduced and the octagon laid out about it."""
    side, across = inputs.blank, inputs.round_diameter
    x, flat = across / 2, answers.facet_8 / 2
    octagon = ((flat, x), (x, flat), (x, -flat), (flat, -x), (-flat, -x), (-x, -flat), (-x, flat), (-flat, x))
    end = Arc(0, 0, x, x)
    return Drawing(
        "the end seen from in front, to scale",
        (
            Fill(corners(-side / 2, -side / 2, side / 2, side / 2), "off"),
            Fill(along_arc(end)),
            *square(side, side),
            *square(across, across, "light"),
            *loop(*octagon, pen="light"),
            end,
            Dimension(0, x, 0, side / 2, answers.shoulder_depth),
            Dimension(-x, 0, x, 0, across),
        ),
    )


CALCULATOR = declared(
    globals(),
    question="From square to round at an end: how deep, where are the lines?",
    headline="shoulder_depth",
    cautions=(
        abrupt,
        "Four faces to one stop, just short of the line; pare to it.",
        "Set the depth on an offcut; guard on, hands clear of the cut.",
    ),
    sources=(
        "Round and octagon centred in a square (geometry).",
        "A run-out where each face and each corner runs out evenly (our own choice; the eye decides).",
    ),
)
