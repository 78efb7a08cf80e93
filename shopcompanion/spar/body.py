"""A spar as a body: its sections along an outline, what its fittings take away, its volume, surface and parts.

Sums along it are taken between its breaks, where every curve is smooth: exact for the volume, and for the rest to the
last few digits.
"""

from collections.abc import Callable, Iterator, Sequence
from functools import cache, lru_cache, partial
from itertools import pairwise
from math import hypot
from typing import Any

from ..errors import InputFault, Why
from ..fields import OpaqueValue
from ..record import NamedTuple
from .across import Across
from .along import Joint, Region, Stretch, joint_fault, left_solid, region_fault, stretches
from .cuts import Remaining, remaining_section
from .fitting import Fitting, fitting_fault
from .outline import Outline
from .quadrature import by_angle, gauss
from .section import EIGHT, WITH_HOLE, Section
from .staves import TAIL, staves_fault

_OUT = 1e-6  # mm
SLOPE = 2  # widths over which a bore rises to nothing (ours)
_OPPOSITE = {"A": "C", "C": "A", "B": "D", "D": "B"}


class Part(NamedTuple):
    """A piece between joints; the joints are None at the spar's own ends."""

    start: float
    end: float
    heel: Joint | None
    head: Joint | None


class Body(OpaqueValue):
    """A spar from heel to head. InputFault, with the entry that is at fault, when it contradicts itself.

    `depths` is the other way of an oval. `wall` is that of a hollow section, which stays solid in the ranges `solid`,
    its bore rising to nothing over two widths; None is for a hollow from end to end. With the section `staves` it is
    their thickness, `solid` are the plugs, and each ends in a swallowtail.
    """

    _GIVEN = ("outline", "depths", "section", "wall", "regions", "joints", "fittings", "solid", "staves")
    __slots__ = (*_GIVEN, "breaks", "stretches")

    def __init__(  # noqa: PLR0917  # as many as there are
        self,
        outline: Outline,
        depths: Outline | None = None,
        section: str = "round",
        wall: float = 0.0,
        regions: tuple[Region, ...] = (),
        joints: tuple[Joint, ...] = (),
        fittings: tuple[Fitting, ...] = (),
        solid: tuple[tuple[float, float], ...] | None = None,
        staves: int = 8,
    ) -> None:
        self.outline, self.depths, self.section, self.wall = outline, depths, section, wall
        self.regions = tuple(sorted(regions, key=lambda region: region.from_))
        self.joints = tuple(sorted(joints, key=lambda joint: joint.at))
        self.fittings, self.solid, self.staves = fittings, solid, staves
        length = self.length
        if depths is not None and abs(depths.length - length) > 1e-6:
            _refuse(("the depths end at {}, the widths at {}", (depths.length, length)), "stations")
        for before, region in zip((None, *self.regions), self.regions, strict=False):
            _refuse(region_fault(region, before, length, wall), "regions")
        joined: set[float] = set()
        for joint in joints:
            _refuse(joint_fault(joint, joined, length), "joints")
            joined.add(joint.at)
        self.stretches = stretches(section, self.regions, length)
        if solid is not None:
            self.stretches = left_solid(self.stretches, solid, self.slope)
        if section == "hollow" and not wall:
            _refuse(("a hollow spar has a wall", ()), "wall")
        if section == "staves":
            _refuse(staves_fault(staves, wall, outline), "wall")
            _refuse(("a spar of staves is round from heel to head", ()) if regions else None, "regions")
        for place, fitting in enumerate(fittings):
            _refuse(self.fitting_fault(fitting, fittings[:place]), "fittings")
        self.breaks = self._breaks()  # every place where something begins, ends or bends

    def _given(self) -> tuple[Any, ...]:
        return tuple(getattr(self, name) for name in self._GIVEN)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Body) and self._given() == other._given()

    def __hash__(self) -> int:
        return hash(self._given())

    def __repr__(self) -> str:
        return f"Body{self._given()!r}"

    def _replace(self, **changes: Any) -> "Body":
        """The same spar with something else on it."""
        return Body(**{**{name: getattr(self, name) for name in self._GIVEN}, **changes})

    @property
    def length(self) -> float:
        return self.outline.length

    @property
    def slope(self) -> float:
        """Over what length a bore rises to nothing, or a plug between staves ends in its swallowtail."""
        if self.section == "staves":
            return TAIL * (self.outline.widest - 2 * self.wall)
        return SLOPE * self.outline.widest

    def width_at(self, at: float) -> float:
        return self.outline.width_at(at)

    def depth_at(self, at: float) -> float:
        """The other way of an oval; of any other, the width."""
        return self.outline.width_at(at) if self.depths is None else self.depths.width_at(at)

    def section_at(self, at: float) -> Across:
        """What the spar is at a station before anything is fitted; at a break, towards the head.

        InputFault beyond either end.
        """
        width = self.outline.width_at(at)
        depth = width if self.depths is None else self.depths.width_at(at)
        here = self.stretch_at(at)
        heelward = headward = Section(here.heelward, width, depth, self.wall, self.staves)
        if here.headward != here.heelward:
            headward = heelward._replace(kind=here.headward)
        return Across(heelward, headward, here.part(at))

    def corners_off(self, at: float, sides: int) -> float:
        """The share that is cut at a station, 0 to 1, of the corners that go in making that many sides of half of them.

        At a shoulder without a run-out, that of the side where more is cut.
        """
        return max(stretch.corners_off(at, sides) for stretch in self.stretches if stretch.start <= at <= stretch.end)

    def stretch_at(self, at: float) -> Stretch:
        """The stretch that a station lies in; at a break, the one towards the head."""
        return next((stretch for stretch in self.stretches if stretch.start <= at < stretch.end), self.stretches[-1])

    def left_at(self, at: float) -> Remaining:
        """What the fittings leave of the section at a station; in a run-out every figure changes as the area does."""
        return self._left(at, [fitting for fitting in self.fittings if self._off(fitting, at) <= fitting.reach])

    def volume(self, start: float = 0.0, end: float | None = None) -> float:
        """The wood between two stations, mm³, without what the fittings take."""
        return self._wood(start, end)[0]

    def moment(self, start: float = 0.0, end: float | None = None) -> float:
        """The wood between two stations times its distance from the heel, mm⁴."""
        return self._wood(start, end)[1]

    def taken(self, start: float = 0.0, end: float | None = None) -> float:
        """The wood between two stations that goes for the fittings, mm³."""
        return self._wood(start, end)[2]

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
        ends = ((0.0, None), *((joint.at, joint) for joint in self.joints), (self.length, None))
        return tuple(Part(start, end, heel, head) for (start, heel), (end, head) in pairwise(ends))

    def wall_fault(self) -> Why | None:
        """Why a hollow is not hollow everywhere: the spar is too thin for its wall there, and stays solid."""
        for stretch in self.stretches:
            if not {*WITH_HOLE} & {stretch.heelward, stretch.headward}:
                continue
            inside = (at for at, _ in self.outline.stations if stretch.start < at < stretch.end)
            for at in (stretch.start, *inside, stretch.end):
                width = min(self.width_at(at), self.depth_at(at))
                if 2 * self.wall >= width:
                    return "{} leaves no hollow at {}, where the spar is {}", (self.wall, at, width)
        return None

    def fitting_fault(self, fitting: Fitting, others: Sequence[Fitting] = ()) -> Why | None:
        """Why a fitting does not fit on the spar, takes all the wood there is, or meets one of the others in it."""
        if why := fitting_fault(fitting, self.length):
            return why
        middle, reach = fitting.middle(self.length), fitting.reach
        places = [middle - reach, *(at for at, _ in self.outline.stations if abs(at - middle) < reach), middle + reach]
        across_at, deep_at = (
            (self.width_at, self.depth_at) if fitting.faces[0] in "AC" else (self.depth_at, self.width_at)
        )
        across, deep = min(map(across_at, places)), min(map(deep_at, places))
        sizes = (
            ("a flat of {}", fitting.flat, deep), ("a bar let in {}", fitting.bar_deep, deep),
            ("a barrel let in {}", fitting.barrel_deep, deep), ("a hole of {}", fitting.hole, across_at(middle)),
            ("a bar of {}", fitting.bar, across), ("a slot of {}", fitting.slot, across),
        )  # fmt: skip
        for words, size, wood in sizes:
            if size >= wood:
                reason = f"the {fitting.kind} at {{}} has {words}, and the spar is {{}} there: less than that fits"
                return reason, (fitting.at, size, wood)
        for other in (fitting, *others):
            if why := self._meet(fitting, other, deep):
                return why
        return None

    def _meet(self, fitting: Fitting, other: Fitting, deep: float) -> Why | None:
        """The fault of two fittings let in from opposite faces until no wood is left; `deep` is the wood, mm."""
        if not any(_OPPOSITE[face] in other.faces for face in fitting.faces):
            return None
        apart = abs(fitting.middle(self.length) - other.middle(self.length))
        for half, down in fitting.let_in:
            for reach, up in other.let_in:
                if not down or not up or apart >= half + reach or down + up < deep:
                    continue
                if fitting is other:
                    reason = f"the {fitting.kind} at {{}} is let in {{}} from both sides, and the spar is {{}} there"
                    return f"{reason}: less than {{}} fits", (fitting.at, max(down, up), deep, deep / 2)
                reason = (
                    f"the {fitting.kind} at {{}} is let in {{}}, and from the other side the {other.kind} at {{}} {{}}"
                )
                return f"{reason}: less than {{}} fits", (fitting.at, down, other.at, up, max(0.0, deep - up))
        return None

    def _breaks(self) -> tuple[float, ...]:
        breaks = {0.0, self.length}
        for outline in (self.outline, self.depths):
            breaks |= {at for at, _ in outline.stations} if outline else set()
        for stretch in self.stretches:
            breaks |= {stretch.start, stretch.end}
        for fitting in self.fittings:
            middle = fitting.middle(self.length)
            near = [other for other in self.fittings if self._off(other, middle) < other.reach + fitting.reach]
            breaks |= {middle + way * off for off in fitting.changes([other.bar for other in near]) for way in (-1, 1)}
            if fitting.takes_wood:
                breaks |= self._met(fitting, near)
        return tuple(sorted(at for at in breaks if 0 <= at <= self.length))

    def _met(self, fitting: Fitting, near: Sequence[Fitting]) -> set[float]:
        """Where, on a taper, what is cut for a fitting begins to meet an edge of the section, or another cut's.

        A plane keeps its height over the centre line while crown, facet and bore fall past it; a bar its width and its
        depth, while the section gets narrower. Thicknesses at which that happens are looked for along the fitting.
        """
        middle, reach = fitting.middle(self.length), fitting.reach
        stations: set[float] = set()
        for face in fitting.faces:
            through = self.depths if self.depths is not None and face in "AC" else self.outline
            sizes = [size for floor in self._floors(fitting, through) for size in self._passed(floor, near)]
            sizes += _corners(fitting.bar, fitting.bar_deep, self.wall)
            for size in sizes:
                stations |= {at for at in through.crossings(size) if abs(at - middle) < reach}
        return stations

    def _floors(self, fitting: Fitting, through: Outline) -> list[float]:
        """How high over the centre line the planes of a fitting lie."""
        crown = through.width_at(fitting.middle(self.length)) / 2
        return [abs(crown - deep) for deep in (fitting.flat, fitting.barrel_deep) if deep]

    def _passed(self, floor: float, near: Sequence[Fitting]) -> Iterator[float]:
        """How thick the section is where a plane passes its crown, the edge of its facet, its bore, a bar, a slot."""
        yield from (2 * floor, 2 * floor / EIGHT, 2 * (floor + self.wall))
        for other in near:
            yield from (
                2 * (floor + other.bar_deep),
                *(2 * hypot(floor, wide / 2) for wide in (other.bar, other.slot) if wide),
            )

    def _off(self, fitting: Fitting, at: float) -> float:
        return abs(at - fitting.middle(self.length))

    def _runs_out(self, fitting: Fitting, at: float) -> bool:
        """Whether a plane of the fitting comes out of the wood there, or through to the bore."""
        down = self._higher(fitting, at)
        return any(
            deep and min(abs(deep + down), abs(deep + down - self.wall)) < _OUT
            for deep in (fitting.flat, fitting.barrel_deep)
        )

    def _higher(self, fitting: Fitting, at: float) -> float:
        """How much higher the crown of its face stands than in its middle."""
        size_at = self.depth_at if fitting.faces[0] in "AC" else self.width_at
        return (size_at(at) - size_at(fitting.middle(self.length))) / 2

    def _left(self, at: float, fittings: Sequence[Fitting]) -> Remaining:
        across = self.section_at(at)
        placed = [(fitting, self._off(fitting, at), self._higher(fitting, at)) for fitting in fittings]

        def of(section: Section) -> Remaining:
            return remaining_section(
                section, [cut for fitting, off, higher in placed for cut in fitting.cuts(section, off, higher)]
            )

        heelward = of(across.heelward)
        if across.headward == across.heelward:
            return heelward
        return Remaining(*(across.blend(part) for part in zip(heelward, of(across.headward), strict=True)))

    def _area(self, fittings: Sequence[Fitting], at: float) -> float:
        return self._left(at, fittings).area if fittings else self.section_at(at).area

    def _wood(self, start: float, end: float | None) -> tuple[float, float, float]:
        """Volume, moment and what fittings take between two stations."""
        known = _known(self)
        pieces = list(self._pieces(start, self.length if end is None else end))
        for piece in pieces:
            if piece not in known:
                known[piece] = self._wood_of(*piece)
        volume, moment, taken = (sum(column) for column in zip(*map(known.__getitem__, pieces), strict=True))
        return volume, moment, taken

    def _wood_of(self, low: float, high: float) -> tuple[float, float, float]:
        """The three sums of a piece, with the fittings that take wood there."""
        middle = (low + high) / 2
        here = [one for one in self.fittings if one.takes_wood and self._off(one, middle) < one.reach]
        steep = any(one.hole or self._runs_out(one, at) for one in here for at in (low, high))
        integral = by_angle if steep else gauss
        pieces = 3 if steep else 2 if here else 1
        area = cache(partial(self._area, here))  # the three ask at the same places
        return (
            integral(area, low, high, pieces),
            integral(lambda at: at * area(at), low, high, pieces),
            integral(lambda at: self.section_at(at).area - area(at), low, high, pieces) if here else 0.0,
        )

    def _side(self, at: float) -> float:
        across = self.section_at(at)
        wide = hypot(1, self.outline.slope_at(at) / 2)
        deep = wide if self.depths is None else hypot(1, self.depths.slope_at(at) / 2)

        def side(section: Section) -> float:
            if section.kind == "square":  # the faces of the width lie half the depth off, and slope with it
                return 2 * section.width * deep + 2 * section.depth * wide
            return section.perimeter * (wide + deep) / 2

        return across.each(side)

    def _sum(self, of: Callable[[float], float], start: float, end: float, pieces: int = 1) -> float:
        return sum(gauss(of, low, high, pieces) for low, high in self._pieces(start, end))

    def _pieces(self, start: float, end: float) -> Iterator[tuple[float, float]]:
        ends = sorted({*self.breaks, *(joint.at for joint in self.joints)})
        return pairwise((start, *(at for at in ends if start < at < end), end))


def _corners(bar: float, deep: float, wall: float) -> Iterator[float]:
    """How thick a section is where the corners of a bar let in leave it, pass a facet's edge, or come to the bore."""
    if not bar or not deep:
        return
    yield deep + bar**2 / (4 * deep)
    yield from ((bar - 2 * deep) / EIGHT, bar / EIGHT, bar + 2 * wall)
    if wall and deep != wall:
        yield (bar**2 / 4 + deep**2 - wall**2) / (deep - wall)


def _refuse(why: Why | None, field: str) -> None:
    if why is not None:
        raise InputFault(why[0], field, why[1])


@lru_cache(maxsize=16)
def _known(spar: Body) -> dict[tuple[float, float], tuple[float, float, float]]:
    """The sums of a spar's wood by piece, as they become known: the whole and its parts share them, and a pane asks the
    same of one spar with every key.
    """
    return {}
