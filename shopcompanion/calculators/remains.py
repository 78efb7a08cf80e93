"""What a fitting leaves of a section, as flat, inlay and hinge say it: the same answers, tables, formulas, caution."""

from collections.abc import Sequence
from typing import Any

from ..calculator import Column, Table
from ..fields import Choice, Length, Text, Value
from ..quantities import Area, Modulus, Percent, SecondMoment
from ..record import Annotated, NamedTuple, Record
from ..spar.cuts import Recess
from ..spar.seat import SHAPES, Place, Wood, wood

Diameter = Annotated[
    float, Length("Diameter, or width", called="diameter", above=0, at_most=2000, follows="spar.width_at")
]
OvalDepth = Annotated[
    float | None, Length("Depth, if oval", called="depth", above=0, at_most=2000, follows="spar.depth_at")
]
ShapeThere = Annotated[str, Choice("Shape there", options=SHAPES, follows="spar.shape_at")]
CentredAt = Annotated[float | None, Length("Centred at", at_least=0, follows="spar.at")]
_PLACE = Column("place", Text("Where"))
_PLACES = (
    _PLACE,
    Column("at", Length("Station")),
    Column("across", Length("Width")),
    Column("through", Length("Depth")),
    Column("depth", Length("Below crown")),
    Column("width", Length("Width of the cut")),
)
_LEFT = (
    _PLACE,
    Column("area", Area("Area")),
    Column("second_into", SecondMoment("Second moment into the face")),
    Column("second_along", SecondMoment("Second moment sideways")),
    Column("modulus_into", Modulus("Section modulus into the face")),
    Column("modulus_along", Modulus("Section modulus sideways")),
)
_PARTS = (_PLACE, *(Column(f"{answer.name}_part", Percent(answer.kind.label)) for answer in _LEFT[1:]))
EXACT = "exact segments and rectangles, about the centroid of what is left"
WORN = "These percentages are not strengths: grain and knots weaken it further."


_LEFT_OF = "of the whole section, where the spar is thinnest under the fitting; bars and holes taken out"
_UNDER = "of the sections under it"


class RemainingAnswers(Record):
    """The answers about what is left of a section; they stand after a calculator's own."""

    area_left: Annotated[float, Area("Area left", source=EXACT)]
    area_part: Annotated[float, Percent("Area, % left", source=_LEFT_OF)]
    second_into: Annotated[float, SecondMoment("Second moment into the face", source=EXACT)]
    second_into_part: Annotated[float, Percent("Second moment into the face, % left", source=_LEFT_OF)]
    second_along: Annotated[float, SecondMoment("Second moment sideways", source=EXACT)]
    second_along_part: Annotated[float, Percent("Second moment sideways, % left", source=_LEFT_OF)]
    modulus_into: Annotated[float, Modulus("Section modulus into the face", source=EXACT)]
    modulus_into_part: Annotated[float, Percent("Section modulus into the face, % left", source=_LEFT_OF)]
    modulus_along: Annotated[float, Modulus("Section modulus sideways", source=EXACT)]
    modulus_along_part: Annotated[float, Percent("Section modulus sideways, % left", source=_LEFT_OF)]
    across_least: Annotated[float, Length("Width at the thinnest place", formula="diameter", source=_UNDER)]
    through_least: Annotated[float, Length("Depth at the thinnest place", formula="diameter", source=_UNDER)]


def remaining(place: Place, cuts: Sequence[Recess]) -> dict[str, Any]:
    """The answers of `Remaining` for what the cuts leave at the thinnest place."""
    rest, parts = left_of(place, cuts)
    names = ("area_left", *Wood._fields[1:])
    return {
        **dict(zip(names, rest, strict=True)),
        **{f"{name}_part": part for name, part in zip(Wood._fields, parts, strict=True)},
        "across_least": place.shape.width,
        "through_least": place.shape.depth,
    }


def sizes_words(thinnest: Place, depth: float | None, face: str) -> dict[str, str]:
    """Formulas of across_least and through_least: the spar's own, or what was typed."""
    if thinnest.at is not None:
        return {"across_least": "", "through_least": ""}
    across, through = "diameter", "diameter" if depth is None else "depth"
    if face in "BD":
        across, through = through, across
    return {"across_least": across, "through_least": through}


def height_words(kind: str, width: str) -> str:
    """The formula of how far a chord of that width lies below the crown, where the spar is thinnest."""
    return {
        "oval": f"through_least/2·(1 − sqrt(1 − {width}²/across_least²))",
        "eight": f"max(0, {width}/across_least − tan(π/8))·through_least/2",
        "square": "0·through_least",
    }.get(kind, f"(through_least − sqrt(through_least² − {width}²)) / 2")


class Spot(NamedTuple):
    """A place, what lies below its crown there and how wide it is, and all that is cut away."""

    name: str
    place: Place
    depth: float
    width: float
    cuts: Sequence[Recess]


def wood_tables(spots: Sequence[Spot]) -> tuple[Table, ...]:
    """Sizes, what is left, and what part of the whole that is, by place."""
    sizes: list[tuple[Value, ...]] = []
    absolute: list[tuple[Value, ...]] = []
    parts: list[tuple[Value, ...]] = []
    for name, place, depth, width, cuts in spots:
        rest, part = left_of(place, cuts)
        sizes.append((name, place.at, place.shape.width, place.shape.depth, depth, width))
        absolute.append((name, *rest))
        parts.append((name, *part))
    return tuple(
        Table(name, columns, tuple(rows))
        for name, columns, rows in (("places", _PLACES, sizes), ("left", _LEFT, absolute), ("parts", _PARTS, parts))
    )


def left_of(place: Place, cuts: Sequence[Recess]) -> tuple[Wood, tuple[float, ...]]:
    """What the cuts leave there, and each as a part of the whole in percent."""
    rest = wood(place, cuts)
    return rest, rest.parts(wood(place))


def end_names(count: int) -> list[str]:
    """Names of the places under a fitting, heel to head."""
    return ["here"] if count == 1 else ["heelward end", *["between"] * (count - 2), "headward end"]
