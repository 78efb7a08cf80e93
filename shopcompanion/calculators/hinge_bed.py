"""Where a hinge lies on a spar: the places under its leaves, the plane of its flat, and what it takes out of them."""

from math import inf
from typing import TYPE_CHECKING

from ..errors import InputFault
from ..record import NamedTuple
from ..spar.across import Across
from ..spar.cuts import Recess
from ..spar.seat import Place, chord, highest_plane, places, turned
from ..spar.section import WITH_HOLE, Section

if TYPE_CHECKING:
    from .hinge import Inputs

_PARTS = 20  # of the length under both leaves, in looking for the least of a hollow


class LeafBed(NamedTuple):
    """The places under the leaves, the one at the joint, and where the plane lies."""

    places: tuple[Place, ...]
    joint: Place
    narrowest: Place  # where the widest leaf is decided
    widest_leaf: float
    leaf: float
    floor: float
    thinnest: Place


def bedded(inputs: "Inputs") -> LeafBed:
    """Where the hinge and its flat lie. InputFault where they do not fit, with what would."""
    under, joint = _under(inputs)
    part = inputs.deepest / 100

    def carries(place: Place) -> float:
        return chord(place.shape, part * place.shape.depth)

    narrowest = min(under, key=carries)
    widest = carries(narrowest) - 2 * inputs.edge_room
    most = min(place.shape.width for place in under) - 2 * inputs.edge_room
    if inputs.flat_at_joint is not None:
        return _on_flat(inputs, under, joint, narrowest, widest)
    leaf = widest if inputs.leaf_width is None else inputs.leaf_width
    if leaf <= 0:
        raise InputFault("{} on either side leaves no leaf on a flat {} wide; less than {} will do", "edge_room",
                         (inputs.edge_room, carries(narrowest), carries(narrowest) / 2))  # fmt: skip
    if leaf > most + 1e-9:
        reason = "a leaf of {} with wood beside it is wider than the spar, {}; the widest leaf that fits is {}"
        raise InputFault(reason, "leaf_width", (leaf, min(place.shape.width for place in under), widest))
    floor, thinnest = highest_plane(under, min(leaf, most) + 2 * inputs.edge_room)
    return LeafBed(under, joint, narrowest, widest, leaf, floor, thinnest)


def _on_flat(inputs: "Inputs", under: tuple[Place, ...], joint: Place, narrowest: Place, widest: float) -> LeafBed:
    """The bed on a flat whose depth at the joint is given: its leaf is as wide as it carries from end to end."""
    deep = inputs.flat_at_joint or 0.0
    if inputs.leaf_width is not None:
        reason = "a flat {} deep at the joint settles the width of the leaf: give one of them, not both"
        raise InputFault(reason, "leaf_width", (deep,))
    floor = joint.crown - deep
    lowest_crown = min(under, key=lambda place: place.crown)
    if floor >= lowest_crown.crown:
        reason = "a flat {} deep at the joint does not reach both ends of the leaves; one of more than {} does"
        raise InputFault(reason, "flat_at_joint", (deep, joint.crown - lowest_crown.crown))
    if floor <= 0:
        raise InputFault("{} reaches the centre line; less than {} will do", "flat_at_joint",
                         (deep, joint.crown))  # fmt: skip
    thinnest = min(under, key=lambda place: chord(place.shape, place.crown - floor))
    leaf = chord(thinnest.shape, thinnest.crown - floor) - 2 * inputs.edge_room
    if leaf <= 0:
        raise InputFault("{} on either side leaves no leaf on a flat {} wide; less than {} will do", "edge_room",
                         (inputs.edge_room, leaf + 2 * inputs.edge_room, leaf / 2 + inputs.edge_room))  # fmt: skip
    return LeafBed(under, joint, narrowest, widest, leaf, floor, thinnest)


def _under(inputs: "Inputs") -> tuple[tuple[Place, ...], Place]:
    spar, at, long = inputs.body, inputs.joint_at, inputs.leaf_length
    if inputs.diameter is not None:
        section = turned(Section(inputs.shape, inputs.diameter, inputs.diameter), inputs.face)
        alone = Place(None, Across(section, section, 0.0))
        return (alone,), alone
    if spar is None:
        raise InputFault("the diameter where the parts meet is missing; type it, or choose a spar", "diameter")
    if at is None:
        raise InputFault(
            "the spar has no hinge, so the place where the parts meet is missing; type it, as {}",
            "joint_at",
            (spar.length / 2,),
        )
    if at > spar.length:
        raise InputFault("{} lies beyond the head, which is at {}", "joint_at", (at, spar.length))
    sections = places(spar, max(0.0, at - long), min(spar.length, at + long), inputs.face, (at,))
    return sections, next(place for place in sections if place.at == at)


def plane(bed: LeafBed) -> Recess:
    """What the flat takes off, as a cut."""
    return Recess(-inf, inf, bed.floor, inf)


def recess(inputs: "Inputs", bed: LeafBed) -> Recess:
    """What the barrel's recess takes out at the joint, as a cut right across."""
    return Recess(-inf, inf, bed.floor - max(0.0, inputs.barrel / 2 - inputs.pin_above), inf)


def holes(inputs: "Inputs", bed: LeafBed) -> tuple[Recess, ...]:
    """The holes of one row across, through and through or as deep as a screw."""
    apart, half = rows_apart(inputs, bed), inputs.hole / 2
    tip = bed.floor - (inputs.screw - inputs.leaf_thickness) if inputs.fasten == "screw" else -inf
    return tuple(Recess(x - half, x + half, tip, inf) for x in ((-apart / 2, apart / 2) if apart else (0.0,)))


def rows_apart(inputs: "Inputs", bed: LeafBed) -> float:
    """How far apart two rows of holes are; 0 where they would be less than three holes apart: then there is one row."""
    apart = bed.leaf - 2 * inputs.edge_holes * inputs.hole
    return apart if apart >= 3 * inputs.hole else 0.0


def between(inputs: "Inputs", bed: LeafBed) -> tuple[Place, ...]:
    """More places of a hollow: where its bore runs out past rows of holes, the least may lie between two changes."""
    spar, start, end = inputs.body, bed.places[0].at, bed.places[-1].at
    if inputs.diameter is not None or spar is None or spar.section not in WITH_HOLE or start is None or end is None:
        return ()
    ats = [start + (end - start) * k / _PARTS for k in range(1, _PARTS)]
    return tuple(places(spar, at, at, inputs.face)[0] for at in ats)
