"""The drawing of jaws, in plan: square on to the plank, the gaff at the left, the mast's shadow at the peak angle."""

from itertools import pairwise
from math import acos, atan2, cos, hypot, radians, sin, tan
from typing import TYPE_CHECKING

from ..drawing.shapes import Arc, Dimension, Drawing, Fill, Line, along_arc, corners

if TYPE_CHECKING:
    from .jaws import Answers, Inputs

PARTS = 24  # of the parrel's arc


def drawing(inputs: "Inputs", answers: "Answers") -> Drawing:
    """x along the gaff from the throat, y across; half way through the plank, but the mast through all of it."""
    half, tip, wide = answers.opening / 2, answers.horn_length, answers.horn_used
    outside = half + wide
    pole = inputs.gaff_width / 2
    shown = min(1.0, answers.opening / answers.along_pole)  # long cheeks are broken off, the gaff with them
    back = -shown * answers.along_pole
    inner = pole - answers.seat_depth
    narrows = inner + answers.cheek_width - outside
    after = outside + shown * narrows
    cheeks = ((tip, -outside), (tip, outside), (0, outside), (back, after), (back, -after), (0, -outside))
    throat = Arc(half, 0, half, half, 90, 270)
    shapes: list[Line | Arc | Dimension | Fill] = [
        Fill(cheeks),
        Fill((*along_arc(throat), *corners(half, -half, tip, half)[1:3]), "air"),
        throat,
        Arc(
            half, 0, half - inputs.leather / cos(radians(answers.throat_bevel)), half - inputs.leather, 90, 270, "light"
        ),
    ]
    for j in (-1, 1):
        shapes += [
            Line(half, j * half, tip, j * half),
            Line(half, j * (half - inputs.leather), tip, j * (half - inputs.leather), "light"),
            Line(tip, j * half, tip, j * outside),
            Line(tip, j * outside, 0, j * outside),
            Line(0, j * outside, back, j * after),
            *([Line(back, j * after, back, j * inner)] if shown == 1 else []),
            Line(back, j * inner, 0, j * inner),
            Line(back * 1.15, j * pole, 0, j * pole, "light"),
        ]
    for part in ((number + 0.5) / answers.rods_used for number in range(answers.rods_used)):
        if part <= shown:
            x, across = -part * answers.along_pole, outside + part * narrows
            shapes.append(Line(x, -across, x, across, "light"))
    shapes += _mast(inputs, answers)
    shapes += _parrel(inputs, answers)
    shapes.append(Dimension(tip, -half, tip, half, answers.opening, of="opening"))
    return Drawing("in plan, square on to the plank, gaff peaked; to scale", tuple(shapes))


def _mast(inputs: "Inputs", answers: "Answers") -> list[Line | Arc]:
    """The mast within the plank, seen square on to it: one ellipse for each face, and what lies between them."""
    peak = radians(answers.throat_bevel)
    a, b, shift = inputs.mast_diameter / 2 / cos(peak), inputs.mast_diameter / 2, inputs.plank / 2 * tan(peak)
    x = inputs.leather / cos(peak) + a
    faces: list[Line | Arc] = [Arc(x - shift, 0, a, b, 90, 270), Arc(x + shift, 0, a, b, -90, 90), Arc(x, 0, a, b)]
    return faces + [Line(x - shift, j * b, x + shift, j * b) for j in (-1, 1)]


def _parrel(inputs: "Inputs", answers: "Answers") -> list[Line]:
    """The line of the beads from horn to horn, level, so drawn out by 1/cos of the peak angle along the gaff."""
    peak = radians(answers.throat_bevel)
    x = (inputs.leather + inputs.mast_diameter / 2) / cos(peak)
    ring, aside = answers.parrel_ring, (answers.opening + answers.horn_used) / 2
    ahead = (answers.horn_length - x) * cos(peak)
    turn = atan2(aside, ahead) - acos(min(1.0, ring / hypot(ahead, aside)))
    points = [(ahead, aside)]
    if turn > 0:
        points += [(ring * cos(t), ring * sin(t)) for t in (turn * (1 - 2 * k / PARTS) for k in range(PARTS + 1))]
    points.append((ahead, -aside))
    return [Line(x + x1 / cos(peak), y1, x + x2 / cos(peak), y2, "light") for (x1, y1), (x2, y2) in pairwise(points)]
