"""What is said of a hinge and how it is drawn: the section under it, and the spar along the joint."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from ..calculator import Said
from ..drawing.section import box, rim
from ..drawing.shapes import Arc, Dimension, Drawing, Fill, Label, Line, Shape, Shown, corners
from ..spar.cuts import Recess
from ..spar.seat import Place

if TYPE_CHECKING:
    from .hinge import Answers, Inputs


def hingeless(inputs: "Inputs", answers: "Answers") -> str | None:
    """Where the chosen spar has no hinge at that place."""
    if inputs.body is None or inputs.joint_at is None or inputs.diameter is not None:
        return None
    if any(joint.kind == "hinge" and abs(joint.at - inputs.joint_at) < 1e-6 for joint in inputs.body.joints):
        return None
    return "The spar has no hinge joint here: add one once the place is settled."


def past_end(inputs: "Inputs", answers: "Answers") -> str | None:
    """Where a leaf would reach past an end of the spar."""
    if inputs.body is None or inputs.joint_at is None or inputs.diameter is not None:
        return None
    if inputs.leaf_length <= inputs.joint_at <= inputs.body.length - inputs.leaf_length:
        return None
    return "A leaf reaches past the end of the spar: move the joint in, or take a shorter leaf."


def too_deep(inputs: "Inputs", answers: "Answers") -> Said:
    """Where the leaf is wider than the widest that the allowed flat takes."""
    if answers.leaf <= answers.widest_leaf + 1e-9:
        return None
    return "The flat is deeper than allowed: a leaf of {} or less keeps it within that.", answers.widest_leaf


def edges(inputs: "Inputs", answers: "Answers") -> str | None:
    """Where the wood beside a hole is narrower than the hole."""
    if answers.beside_hole >= inputs.hole:
        return None
    return "There is less wood beside a hole than the hole is wide: set the rows closer together."


def views(
    inputs: "Inputs", answers: "Answers", ends: tuple[Place, Place], thinnest: Place, holes: Sequence[Recess]
) -> Drawing:
    """The section at its thinnest seen from the heel, and beside it the spar at the joint, its heel to the left.

    The dotted arc is the way of the far part as it folds.
    """
    shape, floor = thinnest.shape, answers.floor
    half, pin = answers.leaf / 2, floor + inputs.pin_above
    crown, radius = shape.depth / 2, inputs.barrel / 2
    top = floor + inputs.leaf_thickness
    section: list[Shape] = [*rim(shape, floor), *box(-half, floor, half, top)]
    section.append(Line(-answers.flat_width / 2, floor, answers.flat_width / 2, floor))
    section += box(-half, pin - radius, half, pin + radius, "light")
    for hole in holes:
        low = max(hole.bottom, -crown)
        section += [Line(x, low, x, top, "light") for x in (hole.left, hole.right)]
    section.append(Dimension(-half, -1.2 * crown, half, -1.2 * crown, answers.leaf))
    long = inputs.leaf_length
    x = shape.width / 2 + 1.25 * long + 0.15 * shape.width + radius  # of the joint
    side: list[Shape] = []
    for way, place in zip((-1, 1), ends, strict=True):
        out, end = x + way * 1.2 * long, x + way * long
        side += [
            Fill(
                (
                    (out, place.crown),
                    (end, place.crown),
                    (end, floor),
                    (x, floor),
                    (x, -answers.crown),
                    (out, -place.crown),
                )
            ),
            Line(out, place.crown, end, place.crown),
            Line(end, place.crown, end, floor),
            Line(end, floor, x + way * answers.barrel_along / 2, floor),
            Line(out, -place.crown, x, -answers.crown),
            *box(min(x + way * radius, end), floor, max(x + way * radius, end), top),
        ]
    bottom = floor - answers.barrel_recess
    recess = (x - answers.barrel_along / 2, bottom, x + answers.barrel_along / 2, floor)
    side += [Fill(corners(*recess), "off"), *box(*recess), Line(x, -answers.crown, x, bottom)]
    return Drawing(
        f"across where it is thinnest, face {inputs.face} up; along the joint; to scale",
        (
            *section,
            *side,
            Arc(x, pin, radius, radius),
            Arc(x, pin, inputs.pin / 2, inputs.pin / 2),
            Arc(x, pin, long, long, 8, min(75.0, answers.fold), "light"),
            Label(x + 0.55 * long, pin + 0.6 * long, "folds"),
            Label(x, -answers.crown, "opens"),
            *(
                (Shown(x, -1.2 * crown, "widest_leaf", "widest leaf {}"),)
                if answers.leaf != answers.widest_leaf
                else ()
            ),
        ),
    )
