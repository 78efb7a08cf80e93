"""Inlay: a flat bar let into a spar along its length, one on a face or one on either side of it.

The groove follows the face, so that its floor lies as deep below the crown all along but for the crown's own height
over the bar, which grows where the spar is thinner.
"""

from collections.abc import Mapping
from math import inf

from ..calculator import Said, Table, declared
from ..drawing.section import box, rim
from ..drawing.shapes import Dimension, Drawing, Fill, Line, corners
from ..errors import InputFault
from ..fields import Choice, Length, Value
from ..record import Annotated, Record
from ..spar.body import Body
from ..spar.cuts import Recess, groove
from ..spar.seat import ONE_FACE, Place, chord, depth_for, middle, under
from ..spar.section import Section
from ..spar.whole import WholeSpar
from .remains import (
    WORN,
    CentredAt,
    Diameter,
    OvalDepth,
    RemainingAnswers,
    ShapeThere,
    Spot,
    end_names,
    height_words,
    remaining,
    sizes_words,
    wood_tables,
)

_SAGITTA = "height of the crown over the bar's width"
_SIT = "where the spar is thinnest under the bar"
_FOLLOWS = "the groove follows the face"


class Inputs(Record):
    diameter: Diameter
    bar_width: Annotated[float, Length("Bar's width", above=0, at_most=2000, metric=20.0)] = 19.05
    bar_thickness: Annotated[float, Length("Bar's thickness", above=0, at_most=500, metric=5.0)] = 4.7625
    sit: Annotated[str, Choice("Bar sits", options=("corners flush", "crown flush"))] = "corners flush"
    both: Annotated[str, Choice("A bar on both sides", options=("yes", "no"))] = "yes"
    fasten: Annotated[str, Choice("Fastened by", options=("bolt", "screw"))] = "bolt"
    hole: Annotated[float, Length("Hole's diameter", above=0, at_most=200, metric=6.0)] = 6.35
    screw: Annotated[float, Length("Screw's length", above=0, at_most=500, metric=25.0)] = 25.4
    washer: Annotated[float, Length("Washer's thickness", at_least=0, at_most=50, metric=1.5)] = 1.5875
    nut: Annotated[float, Length("Nut and spare thread", at_least=0, at_most=100, metric=10.0)] = 9.525
    bar_length: Annotated[float, Length("Bar's length", above=0, metric=300.0)] = 304.8
    depth: OvalDepth = None
    shape: ShapeThere = "round"
    face: Annotated[str, Choice("Face it is let into", options=ONE_FACE)] = "A"
    body: Annotated[Body | None, WholeSpar("The spar", follows="spar.body")] = None
    at: CentredAt = None


class Answers(RemainingAnswers):
    floor_below_crown: Annotated[float, Length("Floor below the crown", formula="sagitta + bar_thickness", source=_SIT)]
    edge_depth: Annotated[
        float,
        Length("Depth at the bar's edges", formula="floor_below_crown − sagitta", source="from the face, at the line"),
    ]
    centre_depth: Annotated[float, Length("Depth in the middle", formula="floor_below_crown", source="from the crown")]
    sagitta: Annotated[
        float,
        Length("Crown over the bar's width", source=_SAGITTA,
               formula="through_least/2·(1 − sqrt(1 − bar_width²/across_least²))"),
    ]  # fmt: skip
    floor_heelward: Annotated[
        float, Length("Floor below crown, heelward", source=_FOLLOWS, row="Floor below crown", column="heelward")
    ]
    floor_headward: Annotated[
        float, Length("Floor below crown, headward", source=_FOLLOWS, row="Floor below crown", column="headward")
    ]
    corner_proud: Annotated[
        float,
        Length(
            "Bar's corners above the wood",
            formula="bar_thickness − edge_depth",
            source="of the face, at the edges of the bar",
        ),
    ]
    wood_between: Annotated[
        float,
        Length("Wood between the bars", formula="through_least − 2·floor_below_crown", source=_SIT, rounding="down"),
    ]
    bolt_length: Annotated[
        float | None,
        Length("Bolt length, under its head", rounding="up", source="where the spar is thickest under the bar",
               formula="wood_most + 2·bar_thickness + 2·washer + nut"),
    ]  # fmt: skip
    wood_most: Annotated[float, Length("Wood to bore through", source="where the spar is thickest under the bar")]
    screw_longest: Annotated[
        float | None,
        Length(
            "Longest screw",
            formula="wood_between/2 + bar_thickness",
            rounding="down",
            source="two screws must not meet",
        ),
    ]
    widest_bar: Annotated[
        float, Length("Widest bar of that thickness", source="so that some wood is left under it", rounding="down")
    ]


def places_of(inputs: Inputs) -> tuple[Place, ...]:
    """The places under the bar, heel to head."""
    size = Section(inputs.shape, inputs.diameter, inputs.diameter if inputs.depth is None else inputs.depth)
    return under(inputs.body, inputs.at, size, inputs.face, bar_length=inputs.bar_length)


def floor_at(inputs: Inputs, shape: Section) -> float:
    """How far below the crown the floor of the groove lies, mm."""
    return inputs.bar_thickness + (depth_for(shape, inputs.bar_width) if inputs.sit == "corners flush" else 0.0)


def _bars(inputs: Inputs) -> int:
    return 2 if inputs.both == "yes" else 1


def _least(inputs: Inputs, places: tuple[Place, ...]) -> Place:
    """Where the least wood is left."""
    return min(places, key=lambda place: place.shape.depth - _bars(inputs) * floor_at(inputs, place.shape))


def cuts_at(inputs: Inputs, place: Place, hole: bool) -> tuple[Recess, ...]:
    """What the grooves take out there, and with `hole` the bolt or screw in each."""
    shape, floor = place.shape, floor_at(inputs, place.shape)
    faces = "AC" if inputs.both == "yes" else "A"
    cuts_there = [groove(shape, inputs.bar_width, floor, face) for face in faces]
    half = inputs.hole / 2
    if hole and inputs.fasten == "bolt":
        cuts_there.append(Recess(-half, half, -inf, inf))
    elif hole:
        tip = place.crown - floor - (inputs.screw - inputs.bar_thickness)
        cuts_there += [Recess(-half, half, tip, inf), Recess(-half, half, -inf, -tip)][: len(faces)]
    return tuple(cuts_there)


def work(inputs: Inputs) -> Answers:
    places = places_of(inputs)
    _refuse_width(inputs, places)
    place = _least(inputs, places)
    shape, bars = place.shape, _bars(inputs)
    sagitta, floor = depth_for(shape, inputs.bar_width), floor_at(inputs, place.shape)
    between = shape.depth - bars * floor
    _refuse_depth(inputs, place, sagitta, between)
    longest = between / bars + inputs.bar_thickness
    if inputs.fasten == "screw" and not inputs.bar_thickness < inputs.screw < longest:
        reason = "a screw of {} ends in the bar, or goes right through the wood; more than {} and less than {} will do"
        raise InputFault(reason, "screw", (inputs.screw, inputs.bar_thickness, longest))
    if inputs.hole >= inputs.bar_width:
        raise InputFault("a hole of {} is as wide as the bar, {}", "hole", (inputs.hole, inputs.bar_width))
    most = max(place.shape.depth - bars * floor_at(inputs, place.shape) for place in places)
    bolt = inputs.fasten == "bolt"
    return Answers(
        floor_below_crown=floor,
        edge_depth=floor - sagitta,
        centre_depth=floor,
        sagitta=sagitta,
        floor_heelward=floor_at(inputs, places[0].shape),
        floor_headward=floor_at(inputs, places[-1].shape),
        corner_proud=0.0 if inputs.sit == "corners flush" else sagitta,
        wood_between=between,
        bolt_length=most + bars * inputs.bar_thickness + 2 * inputs.washer + inputs.nut if bolt else None,
        wood_most=most,
        screw_longest=None if bolt else longest,
        widest_bar=_widest(inputs, places),
        **remaining(place, cuts_at(inputs, place, hole=True)),
    )


def _widest(inputs: Inputs, places: tuple[Place, ...]) -> float:
    """The widest bar of that thickness that leaves wood under it, or lies in its groove all the way across."""
    widest = inf
    for place in places:
        room = place.shape.depth / _bars(inputs) - inputs.bar_thickness
        if inputs.sit == "crown flush":
            room = inputs.bar_thickness if room > 0 else 0.0
        widest = min(widest, chord(place.shape, min(max(room, 0.0), place.crown)))
    return widest


def _refuse_width(inputs: Inputs, places: tuple[Place, ...]) -> None:
    narrowest = min(place.shape.width for place in places)
    if inputs.bar_width >= narrowest:
        reason = "a bar of {} is as wide as the spar, {}, or wider; of that thickness one narrower than {} will do"
        raise InputFault(reason, "bar_width", (inputs.bar_width, narrowest, _widest(inputs, places)))


def _refuse_depth(inputs: Inputs, place: Place, sagitta: float, between: float) -> None:
    if between <= 0:
        above = sagitta if inputs.sit == "corners flush" else 0.0
        what = "two bars of {} meet in the middle of" if inputs.both == "yes" else "a bar of {} leaves no wood of"
        reason = f"{what} a spar {{}} deep; thinner than {{}} will do"
        fits = place.shape.depth / _bars(inputs) - above
        raise InputFault(reason, "bar_thickness", (inputs.bar_thickness, place.shape.depth, fits))
    if inputs.sit == "crown flush" and inputs.bar_thickness <= sagitta:
        reason = "crown flush, a bar {} thick has no wood beside it; thicker than {} or narrower than {} will do"
        fits = chord(place.shape, min(inputs.bar_thickness, place.crown))
        raise InputFault(reason, "bar_thickness", (inputs.bar_thickness, sagitta, fits))


def formulas(inputs: Inputs) -> Mapping[str, str]:
    place = _least(inputs, places_of(inputs))
    said = sizes_words(place, inputs.depth, inputs.face)
    said["sagitta"] = height_words(place.shape.kind, "bar_width")
    if inputs.sit == "crown flush":
        said["floor_below_crown"] = "bar_thickness"
        said["floor_heelward"] = said["floor_headward"] = "bar_thickness"
    if inputs.both == "no":
        said |= {
            "wood_between": "through_least − floor_below_crown",
            "bolt_length": "wood_most + bar_thickness + 2·washer + nut",
            "screw_longest": "wood_between + bar_thickness",
        }
    return said


def tables(inputs: Inputs, answers: Answers) -> tuple[Table, ...]:
    """What is left at each place under the bar, without and with a fastening."""
    places = places_of(inputs)
    spots = []
    for name, place in zip(end_names(len(places)), places, strict=True):
        for hole in (False, True):
            said = f"{name}, {inputs.fasten}" if hole else name
            floor = floor_at(inputs, place.shape)
            spots.append(Spot(said, place, floor, inputs.bar_width, cuts_at(inputs, place, hole)))
    return wood_tables(spots)


def thin(inputs: Inputs, answers: Answers) -> Said:
    """Where less than half of the wood is left."""
    bars = _bars(inputs)
    if answers.wood_between >= answers.through_least / 2:
        return None
    return (
        f"Less than half the spar is left {'between the bars' if bars == 2 else 'under the bar'}: {{}}.",
        answers.wood_between,
    )


def drawing(inputs: Inputs, answers: Answers) -> Drawing:
    """The section where the least is left, seen from the heel, the bar's face up."""
    place = _least(inputs, places_of(inputs))
    shape, half = place.shape, inputs.bar_width / 2
    floor = place.crown - answers.floor_below_crown
    corner = place.crown - answers.sagitta
    two = inputs.both == "yes"
    bars = [box(-half, floor, half, floor + inputs.bar_thickness)]
    holes = [Recess(*cut) for cut in cuts_at(inputs, place, hole=True)[2 if two else 1 :]]
    if two:
        bars.append(box(-half, -floor - inputs.bar_thickness, half, -floor))
    low, high = (-floor if two else -place.crown), floor
    beside, grooves = 0.62 * shape.width, [(floor, corner), (-corner, -floor)][: 2 if two else 1]
    sides = [
        Line(x, max(low, hole.bottom), x, min(high, hole.top), "light")
        for hole in holes
        for x in (hole.left, hole.right)
    ]
    return Drawing(
        f"the section where it is thinnest, face {inputs.face} up, to scale",
        (
            *rim(shape, corner, -corner if two else -inf),
            *(Fill(corners(-half, low, half, high), "off") for low, high in grooves),
            *(line for bar in bars for line in bar),
            *sides,
            Dimension(beside, floor, beside, place.crown, answers.floor_below_crown),
            Line(0, place.crown, beside, place.crown, "light"),
            Line(half, floor, beside, floor, "light"),
            Dimension(-half, floor, half, floor, inputs.bar_width),
            Dimension(half * 0.7, low, half * 0.7, high, answers.wood_between, of="wood_between"),
        ),
    )


def fitting(inputs: Inputs, answers: Answers) -> Mapping[str, Value] | None:
    """The bars, as deep as they are in their middle. None where no spar carries them."""
    places = places_of(inputs)
    if places[0].at is None:
        return None
    opposite = {"A": "A and C", "C": "A and C", "B": "B and D", "D": "B and D"}
    return {
        "at": inputs.at,
        "kind": "bar",
        "length": inputs.bar_length,
        "face": opposite[inputs.face] if inputs.both == "yes" else inputs.face,
        "bar": inputs.bar_width,
        "bar_deep": floor_at(inputs, middle(places).shape),
    }


CALCULATOR = declared(
    globals(),
    question="How deep is the groove that lets a flat bar in?",
    headline="floor_below_crown",
    cautions=(
        thin,
        "Chock the spar, rout in shallow passes, and try the bar before you bore.",
        "Metal against wood holds water: bed the bar, and seal every hole.",
        WORN,
    ),
    sources=(
        "Sagitta of a chord: D/2 − √(D² − w²)/2 (geometry).",
        "What is left of the section: exact segments and rectangles (geometry).",
    ),
)
