"""Where a fitting sits: the sections under it from end to end, and the one flat plane that carries it. Millimetres.

Every section is turned so that the fitting's face is up. The plane lies parallel to the centre line of the spar, so
that what is screwed to it stays flat; on a taper its depth below the crown differs from end to end.
"""

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import sqrt

from ..errors import InputFault
from ..record import NamedTuple
from .across import Across
from .along import Stretch
from .body import Body
from .cuts import Recess, remaining_section
from .section import EIGHT, Section

SHAPES = ("round", "oval", "eight", "square")  # the outside of a section, that of a hollow is round
ONE_FACE = ("A", "B", "C", "D")
_ROUNDNESS = {"eight": 1, "square": 2}  # the rest is round


class Place(NamedTuple):
    """A station under the fitting, None when it is on no spar, and the section there with its face up."""

    at: float | None
    across: Across

    @property
    def shape(self) -> Section:
        """The section; where one runs out into another, the rounder of the two, which carries less."""
        return min(self.across.heelward, self.across.headward, key=lambda section: _ROUNDNESS.get(section.kind, 0))

    @property
    def crown(self) -> float:
        """How high the face stands over the centre line."""
        return self.shape.depth / 2


class Wood(NamedTuple):
    """What is left of a section: area (mm²), second moments (mm⁴) and moduli (mm³), each about its own middle.

    `into` is bending the way the face looks, `along` bending sideways, along the plane of the flat.
    """

    area: float
    second_into: float
    second_along: float
    modulus_into: float
    modulus_along: float

    def parts(self, whole: "Wood") -> tuple[float, ...]:
        """Each figure as a percentage of the whole section's."""
        return tuple(100 * amount / other for amount, other in zip(self, whole, strict=True))


def chord(section: Section, depth: float) -> float:
    """How wide a flat is that lies `depth` below the crown, down to the middle.

    >>> round(chord(Section("round", 2, 2), 0.5), 5)
    1.73205
    """
    part = depth / section.depth
    if section.kind == "square":
        return section.width
    if section.kind == "eight":
        return section.width * min(1.0, EIGHT + 2 * part)
    return 2 * section.width * sqrt(max(0.0, part * (1 - part)))


def depth_for(section: Section, width: float) -> float:
    """How far below the crown a flat lies that is `width` wide, at most as wide as the section.

    >>> round(depth_for(Section("round", 10, 10), 8), 12)
    2.0
    """
    part = min(1.0, width / section.width)
    if section.kind == "square":
        return 0.0
    if section.kind == "eight":
        return max(0.0, part - EIGHT) * section.depth / 2
    return section.depth / 2 * part * part / (1 + sqrt(1 - part * part))


def turned(section: Section, face: str) -> Section:
    """The section as it lies with one of ONE_FACE up."""
    return section if face in "AC" else section._replace(width=section.depth, depth=section.width)


def places(spar: Body, start: float, end: float, face: str, also: Iterable[float] = ()) -> tuple[Place, ...]:
    """The sections from one station to another: at both, at those in `also`, and wherever the spar bends or changes.

    Between two of them it only thickens or only thins.
    """
    marks = {start, end, *also, *(stretch.start for stretch in spar.stretches)}
    marks |= {at for outline in (spar.outline, spar.depths) if outline for at, _ in outline.stations}
    ats = sorted(at for at in marks if start <= at <= end)
    passed: list[Place] = []
    for low, high in pairwise(ats if len(ats) > 1 else ats * 2):
        middle = (low + high) / 2
        here = next(
            (stretch for stretch in spar.stretches if stretch.start <= middle < stretch.end), spar.stretches[-1]
        )
        for at in (low, high):
            place = Place(at, _across(spar, here, at, face))
            if place not in passed[-1:]:
                passed.append(place)
    return tuple(passed)


def _across(spar: Body, here: Stretch, at: float, face: str) -> Across:
    part = here.part(at)
    heelward = here.headward if part >= 1 else here.heelward
    headward = here.heelward if part <= 0 else here.headward
    width, depth = spar.width_at(at), spar.depth_at(at)
    first, other = (turned(Section(kind, width, depth, spar.wall, spar.staves), face) for kind in (heelward, headward))
    return Across(first, other, part if heelward != headward else 0.0)


def shape_at(spar: Body, at: float) -> str:
    """The shape of the spar at a station, one of SHAPES."""
    (place, *_) = places(spar, at, at, "A")
    return place.shape.solid


def under(spar: Body | None, at: float | None, size: Section, face: str, **length: float) -> tuple[Place, ...]:
    """The places under a fitting with its middle at `at`, or against the end that it would pass.

    `size` is what the spar is at that station: where it is not the spar's own, it was typed, and stands alone.
    `length` is the fitting's, by the name of its field. InputFault when it is longer than the spar.
    """
    ((field, reach),) = length.items()
    alone = (Place(None, Across(turned(size, face), turned(size, face), 0.0)),)
    if spar is None or at is None or not 0 <= at <= spar.length:
        return alone
    own = (spar.width_at(at), spar.depth_at(at))
    if shape_at(spar, at) != size.kind or max(abs(own[0] - size.width), abs(own[1] - size.depth)) > 1e-6:
        return alone
    if reach > spar.length:
        raise InputFault("{} is longer than the spar, {}", field, (reach, spar.length))
    lies = min(max(at, reach / 2), spar.length - reach / 2)
    return places(spar, lies - reach / 2, lies + reach / 2, face, (lies,))


def middle(under: Sequence[Place]) -> Place:
    """The place in the middle of the fitting."""
    ends = (under[0].at or 0.0) + (under[-1].at or 0.0)
    return min(under, key=lambda place: abs((place.at or 0.0) - ends / 2))


def highest_plane(under: Sequence[Place], width: float) -> tuple[float, Place]:
    """The highest plane that is `width` wide everywhere, as its height over the centre line; and where it is no wider.

    The width is at most that of the narrowest section.
    """
    return min(((place.crown - depth_for(place.shape, width), place) for place in under), key=lambda plane: plane[0])


def wood(place: Place, cuts: Sequence[Recess] = ()) -> Wood:
    """The wood left at a place after the cuts; where one section runs out into another, each counts with its share."""
    heelward, headward = (remaining_section(section, cuts) for section in place.across[:2])
    return Wood(*(place.across.blend((heelward[k], headward[k])) for k in (0, 3, 4, 5, 6)))
