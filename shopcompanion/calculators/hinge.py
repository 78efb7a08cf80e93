"""Hinge: where a folding spar's parts meet, the widest leaf that it carries, and all that hangs together with it.

The leaves lie along the spar on one flat plane, parallel to its centre line, one on each part; the barrel lies across,
over the joint, with the pin at the face. So the joint opens on the far side, the halves fold towards the hinge's
own face, and where the crown stands over the pin beyond the leaves the crowns of both parts meet and end the folding.
"""

from collections.abc import Mapping
from math import atan, degrees, sqrt

from ..calculator import Table, declared
from ..drawing.shapes import Drawing
from ..errors import InputFault
from ..fields import Angle, Choice, Length, Ratio, Value
from ..quantities import Percent
from ..record import Annotated, Record
from ..spar.body import Body
from ..spar.cuts import Recess
from ..spar.seat import ONE_FACE, Place, chord
from ..spar.whole import WholeSpar
from .hinge_bed import LeafBed, bedded, between, holes, plane, recess, rows_apart
from .hinge_view import edges, hingeless, past_end, too_deep, views
from .remains import EXACT, WORN, Spot, height_words, left_of, sizes_words, wood_tables

_PLANE = "one plane parallel to the centre line"
_PRACTICE = "common practice, no source"
_JOINT = "from the heel; the kerf lies on the joint"
_LEAST = f"the less of both ways; {EXACT}"


class Inputs(Record):
    joint_at: Annotated[
        float | None, Length("Parts meet at", called="place of the joint", at_least=0, follows="spar.hinge_at")
    ] = None
    diameter: Annotated[float | None, Length("Diameter, if typed", called="diameter", above=0, at_most=2000)] = None
    shape: Annotated[str, Choice("Shape, if typed", options=("round", "eight", "square"))] = "round"
    face: Annotated[str, Choice("Hinge on face", options=ONE_FACE)] = "A"
    deepest: Annotated[float, Percent("Flat at most", called="flat's share at most", above=0, at_most=50)] = 15.0
    edge_room: Annotated[
        float, Length("Wood beside the leaf", called="wood beside the leaf", at_least=0, at_most=500, metric=3.0)
    ] = 3.175
    leaf_width: Annotated[float | None, Length("Leaf's width", above=0, at_most=2000)] = None
    flat_at_joint: Annotated[
        float | None, Length("Or flat at the joint", called="flat at the joint", above=0, at_most=2000)
    ] = None
    leaf_length: Annotated[
        float, Length("Leaf from the pin", called="length of a leaf", above=0, at_most=5000, metric=75.0)
    ] = 76.2
    leaf_thickness: Annotated[float, Length("Leaf's thickness", above=0, at_most=100, metric=3.0)] = 3.175
    barrel: Annotated[float, Length("Barrel's diameter", above=0, at_most=200, metric=10.0)] = 9.525
    pin: Annotated[float, Length("Pin's diameter", above=0, at_most=200, metric=5.0)] = 4.7625
    pin_above: Annotated[float, Length("Pin over the flat", at_least=0, at_most=200)] = 0.0
    fasten: Annotated[str, Choice("Fastened by", options=("bolt", "screw"))] = "bolt"
    hole: Annotated[float, Length("Hole for it", called="hole", above=0, at_most=200, metric=5.0)] = 4.7625
    screw: Annotated[float, Length("Screw's length", above=0, at_most=500, metric=30.0)] = 31.75
    edge_holes: Annotated[float, Ratio("Edge distance, in holes", called="edge in holes", at_least=1, at_most=10)] = 2.0
    kerf: Annotated[float, Length("Kerf of the saw", above=0, at_most=50, follows="shop.kerf", metric=3.0)] = 3.175
    body: Annotated[Body | None, WholeSpar("The spar", follows="spar.body")] = None


class Answers(Record):
    widest_leaf: Annotated[
        float,
        Length("Widest leaf", source="chord at the deepest flat, where the spar is thinnest",
               formula="2·across_least·sqrt(deepest/100·(1 − deepest/100)) − 2·edge_room"),
    ]  # fmt: skip
    leaf: Annotated[float, Length("Leaf used", formula="leaf_width", source="as typed, else the widest")]
    flat_depth: Annotated[
        float,
        Length("Flat's depth", source="chord, where the spar is thinnest under the leaves",
               formula="(through_least − sqrt(through_least² − flat_width²)) / 2"),
    ]  # fmt: skip
    flat_width: Annotated[
        float,
        Length(
            "Flat's width", formula="leaf + 2·edge_room", source="where the spar is thinnest; elsewhere it is wider"
        ),
    ]
    depth_heelward: Annotated[
        float, Length("Depth, heelward", called="depth heelward", source=_PLANE, row="Depth", column="heelward")
    ]
    depth_headward: Annotated[
        float, Length("Depth, headward", called="depth headward", source=_PLANE, row="Depth", column="headward")
    ]
    width_heelward: Annotated[float, Length("Width, heelward", source="chord", row="Width", column="heelward")]
    width_headward: Annotated[float, Length("Width, headward", source="chord", row="Width", column="headward")]
    floor: Annotated[
        float,
        Length("Flat above centre line", formula="through_least/2 − flat_depth", source="the saw's or router's stop"),
    ]
    barrel_recess: Annotated[
        float,
        Length(
            "Barrel, below the flat",
            called="barrel below the flat",
            formula="max(0, barrel/2 − pin_above)",
            source="let in to its pin",
            rounding="up",
        ),
    ]
    barrel_deep: Annotated[
        float,
        Length(
            "Barrel, below the crown",
            called="barrel below the crown",
            formula="crown − floor + barrel_recess",
            source="at the joint",
            rounding="up",
        ),
    ]
    barrel_along: Annotated[
        float,
        Length(
            "Recess along the spar",
            formula="2·sqrt(max(0, barrel²/4 − pin_above²))",
            source="round barrel",
            rounding="up",
        ),
    ]
    fold: Annotated[
        float,
        Angle(
            "Folds until wood meets wood",
            formula="180° − (atan(max(0, depth_heelward − pin_above)/leaf_length)"
            " + atan(max(0, depth_headward − pin_above)/leaf_length))",
            source="the crowns beyond the leaves meet",
        ),
    ]
    rows_apart: Annotated[
        float,
        Length(
            "Rows of holes apart",
            called="distance of the rows",
            formula="leaf − 2·edge_holes·hole",
            source=_PRACTICE,
            rounding="down",
        ),
    ]
    beside_hole: Annotated[
        float,
        Length(
            "Wood beside a hole", formula="(flat_width − rows_apart − hole) / 2", source="at the flat", rounding="down"
        ),
    ]
    first_hole: Annotated[
        float,
        Length(
            "First hole from the joint",
            called="first hole",
            formula="barrel/2 + edge_holes·hole",
            source=_PRACTICE,
            rounding="up",
        ),
    ]
    last_hole: Annotated[
        float, Length("Last hole at most", formula="leaf_length − edge_holes·hole", source=_PRACTICE, rounding="down")
    ]
    keep_clear: Annotated[
        float,
        Length(
            "Keep dowels outside", formula="rows_apart + hole", source="of a band with the holes in it", rounding="up"
        ),
    ]
    between_rows: Annotated[
        float,
        Length("or between", formula="max(0, rows_apart − hole)", source="of a band up and down", rounding="down"),
    ]
    dowels_below: Annotated[
        float,
        Length(
            "at least this far below the crown",
            formula="barrel_deep",
            source="flat and recess are cut away",
            rounding="up",
        ),
    ]
    dowel_free: Annotated[
        float,
        Length(
            "Or dowel in each part, at most", formula="first_hole − hole/2", source="short of any hole", rounding="down"
        ),
    ]
    cut_from: Annotated[
        float | None, Length("Saw from", formula="joint_at − kerf/2", source=_JOINT, row="Saw", column="from")
    ]
    cut_to: Annotated[
        float | None, Length("Saw to", formula="joint_at + kerf/2", source=_JOINT, row="Saw", column="to")
    ]
    flat_left: Annotated[float, Percent("Modulus left, flat", source=_LEAST, row="Modulus left", column="flat")]
    barrel_left: Annotated[float, Percent("Modulus left, barrel", source=_LEAST, row="Modulus left", column="barrel")]
    holes_left: Annotated[float, Percent("Modulus left, holes", source=_LEAST, row="Modulus left", column="holes")]
    across_least: Annotated[
        float,
        Length(
            "Across, thinnest place",
            called="width at the thinnest place",
            formula="diameter",
            source="under the leaves",
        ),
    ]
    through_least: Annotated[
        float,
        Length(
            "Through, thinnest place",
            called="depth at the thinnest place",
            formula="diameter",
            source="under the leaves",
        ),
    ]
    crown: Annotated[float, Length("Crown over centre line", formula="diameter/2", source="at the joint")]


def _refuse(inputs: Inputs, bed: LeafBed) -> None:
    if inputs.pin >= inputs.barrel:
        raise InputFault("a pin of {} does not go into a barrel of {}", "pin", (inputs.pin, inputs.barrel))
    below = bed.floor + bed.joint.crown
    if inputs.barrel / 2 - inputs.pin_above >= below:
        reason = "a barrel of {} comes out through the far side at the joint; thinner than {} will do"
        raise InputFault(reason, "barrel", (inputs.barrel, 2 * (below + inputs.pin_above)))
    if inputs.hole >= bed.leaf:
        raise InputFault("a hole of {} is as wide as the leaf, {}", "hole", (inputs.hole, bed.leaf))
    least = inputs.barrel / 2 + 2 * inputs.edge_holes * inputs.hole
    if inputs.leaf_length < least:
        reason = "a leaf of {} has no room for a hole between barrel and end; {} or more will do"
        raise InputFault(reason, "leaf_length", (inputs.leaf_length, least))
    reach = inputs.screw - inputs.leaf_thickness
    deep = bed.floor + bed.thinnest.crown
    if inputs.fasten == "screw" and not 0 < reach < deep:
        reason = "a screw of {} is too short to hold, or comes through; more than {} and less than {} will do"
        raise InputFault(reason, "screw", (inputs.screw, inputs.leaf_thickness, deep + inputs.leaf_thickness))


def work(inputs: Inputs) -> Answers:
    bed = bedded(inputs)
    _refuse(inputs, bed)
    heelward, headward, thinnest, joint = bed.places[0], bed.places[-1], bed.thinnest, bed.joint
    every = (*bed.places, *between(inputs, bed))
    recessed = max(0.0, inputs.barrel / 2 - inputs.pin_above)
    deep = [place.crown - bed.floor for place in (heelward, headward)]
    stops = [atan(max(0.0, deep_there - inputs.pin_above) / inputs.leaf_length) for deep_there in deep]
    apart, first = rows_apart(inputs, bed), inputs.barrel / 2 + inputs.edge_holes * inputs.hole
    wide = bed.leaf + 2 * inputs.edge_room
    at = None if inputs.diameter is not None else inputs.joint_at
    return Answers(
        widest_leaf=bed.widest_leaf,
        leaf=bed.leaf,
        flat_depth=thinnest.crown - bed.floor,
        flat_width=wide,
        depth_heelward=deep[0],
        depth_headward=deep[1],
        width_heelward=chord(heelward.shape, deep[0]),
        width_headward=chord(headward.shape, deep[1]),
        floor=bed.floor,
        barrel_recess=recessed,
        barrel_deep=joint.crown - bed.floor + recessed,
        barrel_along=2 * sqrt(max(0.0, inputs.barrel**2 / 4 - inputs.pin_above**2)),
        fold=180 - degrees(sum(stops)),
        rows_apart=apart,
        beside_hole=(wide - apart - inputs.hole) / 2,
        first_hole=first,
        last_hole=inputs.leaf_length - inputs.edge_holes * inputs.hole,
        keep_clear=apart + inputs.hole,
        between_rows=max(0.0, apart - inputs.hole),
        dowels_below=joint.crown - bed.floor + recessed,
        dowel_free=first - inputs.hole / 2,
        cut_from=None if at is None else at - inputs.kerf / 2,
        cut_to=None if at is None else at + inputs.kerf / 2,
        flat_left=min(_least_modulus(place, plane(bed)) for place in every),
        barrel_left=min(_least_modulus(place, recess(inputs, bed)) for place in bed.places if _here(place, joint)),
        holes_left=min(_least_modulus(place, plane(bed), *holes(inputs, bed)) for place in every),
        across_least=thinnest.shape.width,
        through_least=thinnest.shape.depth,
        crown=joint.crown,
    )


def _here(place: Place, joint: Place) -> bool:
    """Whether a place lies at the joint, to a millionth of a millimetre."""
    return place is joint or (place.at is not None and joint.at is not None and abs(place.at - joint.at) < 1e-6)


def _least_modulus(place: Place, *cuts: Recess) -> float:
    _, parts = left_of(place, cuts)
    return min(parts[3:])


WIDEST = {
    "eight": "across_least·min(1, tan(π/8) + 2·deepest/100) − 2·edge_room",
    "square": "across_least − 2·edge_room",
}


def formulas(inputs: Inputs) -> Mapping[str, str]:
    bed = bedded(inputs)
    kind = bed.thinnest.shape.kind
    said = sizes_words(bed.thinnest, None, inputs.face)
    said["flat_depth"] = height_words(kind, "flat_width")
    if bed.joint.at is not None:
        said["crown"] = ""
    if kind in WIDEST:
        said["widest_leaf"] = WIDEST[kind]
    if bed.narrowest is not bed.thinnest:
        said["widest_leaf"] = ""
    if not rows_apart(inputs, bed):
        said["rows_apart"] = ""
    if inputs.flat_at_joint is not None:
        said |= {"flat_depth": "flat_at_joint − crown + through_least/2", "leaf": "flat_width − 2·edge_room",
                 "flat_width": ""}  # fmt: skip
    elif inputs.leaf_width is None:
        said["leaf"] = "widest_leaf"
    return said


def tables(inputs: Inputs, answers: Answers) -> tuple[Table, ...]:
    """What is left at each place under the leaves, under the barrel, and where a row of holes is."""
    bed = bedded(inputs)
    flat, through = plane(bed), holes(inputs, bed)
    spots = []
    for place in bed.places:
        depth = place.crown - bed.floor
        wide = chord(place.shape, depth)
        name = "flat" if len(bed.places) == 1 else _named(bed, place)
        spots.append(Spot(name, place, depth, wide, (flat,)))
        if place is not bed.joint or place.at is None:
            spots.append(Spot(f"{name}, {inputs.fasten}s", place, depth, wide, (flat, *through)))
    joint, deep = bed.joint, answers.barrel_deep
    wide = chord(joint.shape, min(deep, joint.crown))
    spots.append(Spot("under the barrel", joint, deep, wide, (recess(inputs, bed),)))
    return wood_tables(spots)


def _named(bed: LeafBed, place: Place) -> str:
    names = ((bed.joint, "joint"), (bed.places[0], "heelward end"), (bed.places[-1], "headward end"))
    return next((name for shown, name in names if shown is place), "between")


def drawing(inputs: Inputs, answers: Answers) -> Drawing:
    bed = bedded(inputs)
    return views(inputs, answers, (bed.places[0], bed.places[-1]), bed.thinnest, holes(inputs, bed))


def fitting(inputs: Inputs, answers: Answers) -> Mapping[str, Value] | None:
    """The hinge at the joint, its flat as deep as it is there. None where no spar carries it."""
    bed = bedded(inputs)
    if bed.joint.at is None or past_end(inputs, answers):
        return None
    kept: dict[str, Value] = {
        "at": bed.joint.at, "kind": "hinge", "length": 2 * inputs.leaf_length, "face": inputs.face,
    }  # fmt: skip
    if bed.joint.crown > bed.floor:
        kept["flat"] = bed.joint.crown - bed.floor
    if answers.barrel_recess:
        kept |= {"barrel": answers.barrel_along, "barrel_deep": answers.barrel_deep}
    return kept


CALCULATOR = declared(
    globals(),
    question="What is the widest hinge that this spar can take?",
    headline="widest_leaf",
    cautions=(
        hingeless,
        past_end,
        too_deep,
        edges,
        "The spar folds towards the hinge's face. Try it by hand: metal may meet before wood.",
        "Saw with both parts held; lower the spar with people clear and no power line near.",
        WORN,
    ),
    sources=(
        "Chord of a circular segment; what is left by exact segments and rectangles (geometry).",
        "Flat at most 15 % of the depth (our own choice).",
        "Holes two diameters from the leaf's edge (common practice, no source).",
        "A barrel let in to its pin: half of it below the flat (common practice, no source).",
    ),
)
