"""A spar as a body: its sections along an outline, what its fittings take away, its volume, surface and parts.

Sums along it are taken between its breaks, where every curve is smooth: exact for the volume, and for the rest to the
last few digits.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from itertools import pairwise
from math import asin, cos, hypot, sin, sqrt
from typing import NamedTuple

from ..errors import InputFault
from ..fields import Thing
from .along import Fitting, Joint, Region, Stretch, Why, fitting_fault, joint_fault, region_fault, stretches
from .cuts import bore, left
from .cuts import flat as flat_cut
from .outline import Outline
from .polygon import cut, oval_facets
from .section import Section

# Gauss and Legendre's five places and weights, exact for polynomials of the ninth degree.
_INNER, _OUTER = sqrt(5 - 2 * sqrt(10 / 7)) / 3, sqrt(5 + 2 * sqrt(10 / 7)) / 3
_HEAVY, _LIGHT = (322 + 13 * sqrt(70)) / 900, (322 - 13 * sqrt(70)) / 900
_GAUSS = ((0.0, 128 / 225), (-_INNER, _HEAVY), (_INNER, _HEAVY), (-_OUTER, _LIGHT), (_OUTER, _LIGHT))


class Across(NamedTuple):
    """The section at a station: `part` of the way from the one towards the heel to the one towards the head."""

    heelward: Section
    headward: Section
    part: float

    def blend(self, of: Callable[[Section], float]) -> float:
        return (1 - self.part) * of(self.heelward) + self.part * of(self.headward)

    @property
    def area(self) -> float:
        return self.blend(lambda one: one.area)

    @property
    def perimeter(self) -> float:
        return self.blend(lambda one: one.perimeter)

    @property
    def corner_off(self) -> float:
        """What is off the square's corner, measured square to the facet of eight: it grows evenly in a run-out."""
        return self.blend(_corner_off)


class Part(NamedTuple):
    """A piece between joints; the joints are None at the spar's own ends."""

    start: float
    end: float
    heel: Joint | None
    head: Joint | None


@dataclass(frozen=True, slots=True)
class Body(Thing):
    """A spar from heel to head. InputFault, with the entry that is at fault, when it contradicts itself.

    `depths` is the other way of an oval. `wall` is that of a hollow section.
    """

    outline: Outline
    depths: Outline | None = None
    section: str = "round"
    wall: float = 0.0
    regions: tuple[Region, ...] = ()
    joints: tuple[Joint, ...] = ()
    fittings: tuple[Fitting, ...] = ()
    stretches: tuple[Stretch, ...] = field(init=False)
    breaks: tuple[float, ...] = field(init=False)  # every place where something begins, ends or bends

    def __post_init__(self) -> None:
        length = self.length
        if self.depths is not None and abs(self.depths.length - length) > 1e-6:
            _refuse(("the depths end at {}, the widths at {}", (self.depths.length, length)), "stations")
        regions = tuple(sorted(self.regions))
        for before, region in zip((None, *regions), regions, strict=False):
            _refuse(region_fault(region, before, length, self.wall), "regions")
        joined: set[float] = set()
        for joint in self.joints:
            _refuse(joint_fault(joint, joined, length), "joints")
            joined.add(joint.at)
        object.__setattr__(self, "regions", regions)
        object.__setattr__(self, "joints", tuple(sorted(self.joints)))
        object.__setattr__(self, "stretches", stretches(self.section, regions, length))
        if self.section == "hollow" and not self.wall:
            _refuse(("a hollow spar has a wall", ()), "wall")
        for fitting in self.fittings:
            _refuse(self.fitting_fault(fitting), "fittings")
        object.__setattr__(self, "breaks", self._breaks())

    @property
    def length(self) -> float:
        return self.outline.length

    def width_at(self, at: float) -> float:
        return self.outline.width_at(at)

    def depth_at(self, at: float) -> float:
        """The other way of an oval; of any other, the width."""
        return self.outline.width_at(at) if self.depths is None else self.depths.width_at(at)

    def section_at(self, at: float) -> Across:
        """What the spar is at a station before anything is fitted; at a break, towards the head.

        InputFault beyond either end.
        """
        width, depth = self.width_at(at), self.depth_at(at)
        here = next((one for one in self.stretches if one.start <= at < one.end), self.stretches[-1])
        heelward, headward = (Section(kind, width, depth, self.wall) for kind in (here.heelward, here.headward))
        return Across(heelward, headward, (at - here.start) / (here.end - here.start))

    def area_at(self, at: float) -> float:
        """Area of the wood at a station, mm², without what the fittings take; two in one place each take their own."""
        return max(0.0, self.section_at(at).area - sum(self._taken_at(one, at) for one in self.fittings))

    def perimeter_at(self, at: float) -> float:
        """All the way round the outside, as if nothing were fitted."""
        return self.section_at(at).perimeter

    def volume(self, start: float = 0.0, end: float | None = None) -> float:
        """The wood between two stations, mm³, without what the fittings take."""
        till = self.length if end is None else end
        whole = self._sum(lambda at: self.section_at(at).area, start, till)
        return whole - sum(self.taken(one, start, till) for one in self.fittings)

    def taken(self, fitting: Fitting, start: float = 0.0, end: float | None = None, moment: int = 0) -> float:
        """The wood between two stations that goes for a fitting, mm³; with `moment` 1 times its station, mm⁴."""
        found = 0.0
        till = self.length if end is None else end
        middle, radius = fitting.middle(self.length), fitting.hole / 2
        reach = max(fitting.length / 2, radius)
        own = (middle + j * half for j in (-1, 1) for half in (fitting.length / 2, radius))
        inside = sorted({at for at in (*self.breaks, *own, start, till) if middle - reach <= at <= middle + reach})
        for low, high in pairwise(inside):
            if not start <= low < high <= till:
                continue
            if abs((low + high) / 2 - middle) >= radius:
                found += _gauss(lambda at: at**moment * self._taken_at(fitting, at), low, high, pieces=4)
                continue

            def turned(angle: float) -> float:  # the hole's edge is smooth by the angle, not by the station
                at = middle + radius * sin(angle)
                return at**moment * self._taken_at(fitting, at) * radius * cos(angle)

            begins, stops = (asin(min(1.0, max(-1.0, (at - middle) / radius))) for at in (low, high))
            found += _gauss(turned, begins, stops, pieces=4)
        return found

    def moment(self, start: float = 0.0, end: float | None = None) -> float:
        """The wood between two stations times its distance from the heel, mm⁴."""
        till = self.length if end is None else end
        whole = self._sum(lambda at: at * self.section_at(at).area, start, till)
        return whole - sum(self.taken(one, start, till, moment=1) for one in self.fittings)

    @property
    def balance_at(self) -> float:
        """The station where it balances, of one timber throughout."""
        return self.moment() / self.volume()

    def side_area(self, start: float = 0.0, end: float | None = None) -> float:
        """The outside between two stations, mm², along its slope and without the ends, as if nothing were fitted.

        For an oval the slope all the way round is taken as the mean of the two, which is right to the second order.
        """
        return self._sum(self._side, start, self.length if end is None else end, pieces=4)

    @property
    def end_area(self) -> float:
        """Both ends together, mm²."""
        return self.section_at(0.0).area + self.section_at(self.length).area

    @property
    def parts(self) -> tuple[Part, ...]:
        """The pieces from joint to joint, heel to head."""
        ends = ((0.0, None), *((one.at, one) for one in self.joints), (self.length, None))
        return tuple(Part(start, end, heel, head) for (start, heel), (end, head) in pairwise(ends))

    def wall_fault(self) -> Why | None:
        """Where a hollow is too thin for its wall, and is solid therefore."""
        for one in self.stretches:
            if "hollow" not in (one.heelward, one.headward):
                continue
            inside = (at for at, _ in self.outline.stations if one.start < at < one.end)
            for at in (one.start, *inside, one.end):
                width = min(self.width_at(at), self.depth_at(at))
                if 2 * self.wall >= width:
                    return "{} leaves no hollow at {}, where the spar is {}", (self.wall, at, width)
        return None

    def fitting_fault(self, fitting: Fitting) -> Why | None:
        """Why a fitting does not fit on the spar, or takes all the wood there is."""
        if found := fitting_fault(fitting, self.length):
            return found
        middle = fitting.middle(self.length)
        width, depth = self.width_at(middle), self.depth_at(middle)
        for word, size, wood in (("flat", fitting.flat, depth), ("hole", fitting.hole, width)):
            if size >= wood:
                reason = f"the {fitting.kind} at {{}} has a {word} of {{}}, and the spar is {{}} there"
                return reason, (fitting.at, size, wood)
        return None

    def _breaks(self) -> tuple[float, ...]:
        found = {0.0, self.length}
        for outline in (self.outline, self.depths):
            found |= {at for at, _ in outline.stations} if outline else set()
        for one in self.stretches:
            found |= {one.start, one.end}
        for fitting in self.fittings:
            middle = fitting.middle(self.length)
            found |= {middle + j * size / 2 for j in (-1, 1) for size in (fitting.length, fitting.hole) if size}
        return tuple(sorted(at for at in found if 0 <= at <= self.length))

    def _taken_at(self, fitting: Fitting, at: float) -> float:
        off = abs(at - fitting.middle(self.length))
        flat = fitting.flat if off <= fitting.length / 2 else 0.0
        half = sqrt(max(0.0, fitting.hole**2 / 4 - off**2))
        if not flat and not half:
            return 0.0
        return self.section_at(at).blend(
            lambda one: one.area - left(one, [flat_cut(one, flat, "A"), bore(one, 2 * half, "A")]).area
        )

    def _side(self, at: float) -> float:
        across = self.section_at(at)
        wide = hypot(1, self.outline.slope_at(at) / 2)
        deep = wide if self.depths is None else hypot(1, self.depths.slope_at(at) / 2)

        def side(one: Section) -> float:
            if one.kind == "square":  # the faces of the width lie half the depth off, and slope with it
                return 2 * one.width * deep + 2 * one.depth * wide
            return one.perimeter * (wide + deep) / 2

        return across.blend(side)

    def _sum(self, of: Callable[[float], float], start: float, end: float, pieces: int = 1) -> float:
        inside = [at for at in self.breaks if start < at < end]
        return sum(_gauss(of, low, high, pieces) for low, high in pairwise((start, *inside, end)))


def _refuse(why: Why | None, field: str) -> None:
    if why is not None:
        raise InputFault(why[0], field, why[1])


def _corner_off(one: Section) -> float:
    if one.kind == "square":
        return 0.0
    return cut(one.width, 8) if one.width == one.depth else oval_facets(one.width, one.depth, 8)[1].cut


def _gauss(of: Callable[[float], float], start: float, end: float, pieces: int = 1) -> float:
    step = (end - start) / pieces
    found = 0.0
    for k in range(pieces):
        middle = start + (k + 0.5) * step
        found += sum(weight * of(middle + place * step / 2) for place, weight in _GAUSS) * step / 2
    return found
