"""Flat: how deep for a fitting this wide, or how wide at this depth, at both ends of the fitting on a taper.

The flat is one plane parallel to the centre line: the fitting does not rock on it, and a router on rails or a saw's
fence cuts it at one setting. It is as wide as it must be where the spar is thinnest, and wider and deeper everywhere
else.
"""

from collections.abc import Mapping
from math import inf

from ..calculator import Said, Table, declared
from ..drawing.section import box, rim
from ..drawing.shapes import Dimension, Drawing, Line, Shown
from ..errors import InputFault
from ..fields import Choice, Length, Value
from ..quantities import Percent
from ..record import Annotated, NamedTuple, Record
from ..spar.body import Body
from ..spar.cuts import Recess
from ..spar.seat import ONE_FACE, Place, chord, highest_plane, middle, under
from ..spar.section import WITH_HOLE, Section
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

_CHORD = "chord of the section"
_PLANE = "one plane parallel to the centre line"


class Inputs(Record):
    diameter: Diameter
    flat_width: Annotated[float | None, Length("Flat's width", above=0, at_most=2000)] = None
    flat_depth: Annotated[float | None, Length("Or the flat's depth", above=0, at_most=2000)] = None
    fitting_length: Annotated[float, Length("Fitting's length", above=0, metric=100.0)] = 101.6
    barrel: Annotated[float | None, Length("Hinge's barrel", above=0, at_most=500)] = None
    pin_above: Annotated[float, Length("Pin above the flat", at_least=0, at_most=500)] = 0.0
    depth: OvalDepth = None
    shape: ShapeThere = "round"
    face: Annotated[str, Choice("Face it is cut in", options=ONE_FACE)] = "A"
    body: Annotated[Body | None, WholeSpar("The spar", follows="spar.body")] = None
    at: CentredAt = None
    deepest: Annotated[float, Percent("Warn when deeper than", above=0, at_most=50)] = 15.0


class Answers(RemainingAnswers):
    cut_depth: Annotated[
        float,
        Length("Flat's depth", source=_CHORD,
               formula="through_least/2·(1 − sqrt(1 − cut_width²/across_least²))"),
    ]  # fmt: skip
    cut_width: Annotated[
        float, Length("Flat's width", formula="flat_width", source="where the spar is thinnest; elsewhere it is wider")
    ]
    depth_heelward: Annotated[float, Length("Depth, heelward", source=_PLANE, row="Depth", column="heelward")]
    depth_headward: Annotated[float, Length("Depth, headward", source=_PLANE, row="Depth", column="headward")]
    width_heelward: Annotated[float, Length("Width, heelward", source=_CHORD, row="Width", column="heelward")]
    width_headward: Annotated[float, Length("Width, headward", source=_CHORD, row="Width", column="headward")]
    floor: Annotated[
        float,
        Length("Flat above centre line", formula="through_least/2 − cut_depth", source="the router's or saw's stop"),
    ]
    over_flat: Annotated[
        float,
        Length(
            "Wood under the flat",
            formula="through_least − cut_depth",
            source="for the callipers, at the thinnest place",
        ),
    ]
    widest_fitting: Annotated[
        float,
        Length("Widest fitting it can carry", formula="across_least", source="a flat in the middle", rounding="down"),
    ]
    barrel_recess: Annotated[
        float | None,
        Length(
            "Barrel recess, below the flat",
            called="barrel recess",
            formula="max(0, barrel/2 − pin_above)",
            source="let in to its pin",
            rounding="up",
        ),
    ]
    barrel_floor: Annotated[
        float | None,
        Length("Recess floor above centre line", formula="floor − barrel_recess", source="the stop for the recess"),
    ]


class FlatBed(NamedTuple):
    """The places under the fitting, heel to head, the plane's height above the centre line, and the thinnest place."""

    places: tuple[Place, ...]
    floor: float
    thinnest: Place

    @property
    def cuts(self) -> tuple[Recess, ...]:
        return (Recess(-inf, inf, self.floor, inf),)


def bedded(inputs: Inputs) -> FlatBed:
    """Where the flat lies. InputFault where it does not fit, with what would."""
    size = Section(inputs.shape, inputs.diameter, inputs.diameter if inputs.depth is None else inputs.depth)
    places = under(inputs.body, inputs.at, size, inputs.face, fitting_length=inputs.fitting_length)
    width, depth = inputs.flat_width, inputs.flat_depth
    if width is not None and depth is not None:
        raise InputFault("the width of a flat settles its depth: give one of them, not both", "flat_depth")
    narrowest = min(place.shape.width for place in places)
    if depth is None:
        width = narrowest / 2 if width is None else width
        if width > narrowest:
            raise InputFault("{} is wider than the spar; the widest flat that it can carry is {}", "flat_width",
                             (width, narrowest))  # fmt: skip
        return FlatBed(places, *highest_plane(places, width))
    thinnest = min(places, key=lambda place: (place.crown, chord(place.shape, min(depth, place.crown))))
    if depth > thinnest.crown:
        raise InputFault("{} reaches past the centre line; a flat {} deep is as wide as the spar, {}", "flat_depth",
                         (depth, thinnest.crown, narrowest))  # fmt: skip
    return FlatBed(places, thinnest.crown - depth, thinnest)


def work(inputs: Inputs) -> Answers:
    bed = bedded(inputs)
    heelward, headward, thinnest = bed.places[0], bed.places[-1], bed.thinnest
    depth = thinnest.crown - bed.floor
    narrowest = min(place.shape.width for place in bed.places)
    width = narrowest / 2 if inputs.flat_width is None else inputs.flat_width
    recess = None if inputs.barrel is None else max(0.0, inputs.barrel / 2 - inputs.pin_above)
    if recess is not None and recess >= bed.floor + thinnest.crown:
        raise InputFault("a barrel of {} comes out through the far side; thinner than {} will do", "barrel",
                         (inputs.barrel or 0.0, 2 * (bed.floor + thinnest.crown + inputs.pin_above)))  # fmt: skip
    return Answers(
        cut_depth=depth,
        cut_width=chord(thinnest.shape, depth) if inputs.flat_depth is not None else width,
        depth_heelward=heelward.crown - bed.floor,
        depth_headward=headward.crown - bed.floor,
        width_heelward=chord(heelward.shape, heelward.crown - bed.floor),
        width_headward=chord(headward.shape, headward.crown - bed.floor),
        floor=bed.floor,
        over_flat=thinnest.crown + bed.floor,
        widest_fitting=narrowest,
        barrel_recess=recess,
        barrel_floor=None if recess is None else bed.floor - recess,
        **remaining(thinnest, bed.cuts),
    )


WIDTHS = {
    "round": "2·sqrt(cut_depth·(through_least − cut_depth))",
    "oval": "2·across_least/through_least·sqrt(cut_depth·(through_least − cut_depth))",
    "eight": "across_least·min(1, tan(π/8) + 2·cut_depth/through_least)",
    "square": "across_least",
}


SEGMENT = (
    "π/4·through_least² − through_least²/4·acos(1 − 2·cut_depth/through_least)"
    " + (through_least/2 − cut_depth)·sqrt(cut_depth·(through_least − cut_depth))"
)


def formulas(inputs: Inputs) -> Mapping[str, str]:
    bed = bedded(inputs)
    kind = bed.thinnest.shape.kind
    said = sizes_words(bed.thinnest, inputs.depth, inputs.face)
    if kind == "round":
        said |= {"area_left": SEGMENT, "area_part": "100·area_left / (π/4·through_least²)"}
    kind = "round" if kind in WITH_HOLE else kind
    said["cut_depth"] = height_words(kind, "cut_width")
    if inputs.flat_width is None:
        said["cut_width"] = "widest_fitting/2"
    if inputs.flat_depth is not None:
        said |= {"cut_depth": "flat_depth", "cut_width": WIDTHS[kind]}
    if len({place.shape.width for place in bed.places}) > 1:
        said["widest_fitting"] = ""
    return said


def tables(inputs: Inputs, answers: Answers) -> tuple[Table, ...]:
    """What is left, and the flat's depth and width, at each place under the fitting."""
    bed = bedded(inputs)
    spots = []
    for name, place in zip(end_names(len(bed.places)), bed.places, strict=True):
        depth = place.crown - bed.floor
        spots.append(Spot(name, place, depth, chord(place.shape, depth), bed.cuts))
    return wood_tables(spots)


def width_not_given(inputs: Inputs, answers: Answers) -> str | None:
    """Where neither width nor depth of the flat is given."""
    if inputs.flat_width is not None or inputs.flat_depth is not None:
        return None
    return "No width is given: these numbers are for a fitting half as wide as the spar."


def no_flat_needed(inputs: Inputs, answers: Answers) -> str | None:
    """Where the face is already wide enough."""
    if answers.cut_depth > 0 or inputs.flat_depth is not None:
        return None
    return "No flat is needed: the face is as wide as the fitting."


def hollow(inputs: Inputs, answers: Answers) -> Said:
    """Where the spar is hollow and the cut goes through its wall."""
    if inputs.body is None or not {place.across.heelward.kind for place in bedded(inputs).places} & {*WITH_HOLE}:
        return None
    deepest = max(answers.depth_heelward, answers.depth_headward) + (answers.barrel_recess or 0.0)
    if deepest < inputs.body.wall:
        return None
    return "The flat cuts through the wall of {}: put a solid block inside the spar there.", inputs.body.wall


def tapered(inputs: Inputs, answers: Answers) -> Said:
    """Where one end of the flat is 0.4 mm (1/64 in) or more deeper than the other."""
    differs = abs(answers.depth_heelward - answers.depth_headward)
    if differs < 0.4:  # a sixty-fourth of an inch
        return None
    return "The spar tapers: one end of the flat is {} deeper than the other.", differs


def too_deep(inputs: Inputs, answers: Answers) -> Said:
    """Where the flat is deeper anywhere than the share that is warned of."""
    bed, share = bedded(inputs), inputs.deepest / 100
    if all(place.crown - bed.floor <= share * place.shape.depth + 1e-9 for place in bed.places):
        return None
    floor = max(place.crown - share * place.shape.depth for place in bed.places)
    said = f"The flat takes more than {inputs.deepest:g} % of the spar's depth"
    deep = bed.thinnest.crown - floor
    wide = min(chord(place.shape, max(0.0, place.crown - floor)) for place in bed.places)
    if min(deep, wide) <= 0:
        return f"{said} at its thicker end: on so much taper only a shorter fitting stays within that."
    if inputs.flat_depth is not None:
        return f"{said}: a flat {{}} deep at the thinnest place stays within that.", deep
    return f"{said}: a fitting {{}} wide stays within that.", wide


def abrupt(inputs: Inputs, answers: Answers) -> str | None:
    """Where a flat is cut at all."""
    if max(answers.depth_heelward, answers.depth_headward) <= 0:
        return None
    return "Abrupt ends are where a spar breaks: run the flat out at both ends, or pare them hollow."


def barrel_let_in(inputs: Inputs, answers: Answers) -> str | None:
    """Where a hinge's barrel is let in."""
    if not answers.barrel_recess:
        return None
    return "The wood left counts the flat alone; the barrel's recess takes more: see hinge."


def drawing(inputs: Inputs, answers: Answers) -> Drawing:
    """The section where the spar is thinnest under the fitting, seen from the heel, its face up."""
    bed = bedded(inputs)
    shape, floor, half = bed.thinnest.shape, bed.floor, answers.cut_width / 2
    crown, depth = shape.depth / 2, answers.cut_depth
    beside = 0.62 * shape.width
    ledge, no_flat = Line(0, crown, beside, crown, "light"), Shown(0, -crown / 2, "cut_depth", "flat {} deep")
    barrel: tuple[Line, ...] = ()
    if inputs.barrel is not None:
        pin = floor + inputs.pin_above
        barrel = box(-half, pin - inputs.barrel / 2, half, pin + inputs.barrel / 2, "light")
        barrel += (Line(-half, pin, half, pin, "light"),)
    return Drawing(
        f"the section where it is thinnest, face {inputs.face} up, to scale",
        (
            *rim(shape, floor),
            *barrel,
            Line(-half, floor, half, floor),
            Dimension(-half, floor, half, floor, answers.cut_width),
            *((Dimension(beside, floor, beside, crown, depth), ledge) if depth else (no_flat,)),
            Dimension(0, -crown, 0, floor, answers.over_flat),
        ),
    )


def fitting(inputs: Inputs, answers: Answers) -> Mapping[str, Value] | None:
    """A fitting with its flat, deep as it is in its middle. None where no spar carries it."""
    bed = bedded(inputs)
    if bed.thinnest.at is None or answers.cut_depth <= 0 or width_not_given(inputs, answers):
        return None
    length = inputs.fitting_length
    crown = middle(bed.places).crown
    kept: dict[str, Value] = {
        "at": inputs.at, "kind": "other", "length": length, "face": inputs.face, "flat": crown - bed.floor,
    }  # fmt: skip
    if answers.barrel_floor is not None and answers.barrel_recess:
        kept |= {"kind": "hinge", "barrel": inputs.barrel, "barrel_deep": crown - answers.barrel_floor}
    return kept


CALCULATOR = declared(
    globals(),
    question="How deep is the flat for a fitting this wide?",
    headline="cut_depth",
    cautions=(
        width_not_given,
        no_flat_needed,
        hollow,
        barrel_let_in,
        tapered,
        too_deep,
        abrupt,
        "Chock the spar so that it cannot roll. Shallow passes, hands behind the edge.",
        WORN,
    ),
    sources=(
        "Chord and height of a circular segment: w = 2√(h(D − h)), h = (D − √(D² − w²))/2 (geometry).",
        "What is left of the section: exact segments and rectangles (geometry).",
        "A barrel let in to its pin: half of it below the flat (common practice, no source).",
        "Warned of when deeper than 15 % of the spar, as hinge is (our own choice).",
    ),
)
