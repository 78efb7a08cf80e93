"""What lies along a spar: joints, and stretches of one section or of one running out into the next.

Each is checked here against the spar, so that a profile and a sum tell the same faults. Millimetres from the heel.
"""

from collections.abc import Callable, Container, Iterable, Iterator, Sequence
from typing import ClassVar

from ..errors import Why
from ..fields import Choice, Length
from ..lengths import LONGEST
from ..record import Annotated, NamedTuple, Record
from .fitting import Fitting
from .section import ROUND, SECTIONS, SIDES, WITH_HOLE

JOINTS = ("hinge", "scarf", "ferrule", "butt")
APART = ("hinge", "ferrule", "butt")  # joints at which the parts come apart


class Region(Record):
    """A stretch with a section of its own, and the length over which it runs out into what is on either side of it.

    At an end of the spar it does not run out, and two that meet share the run-out of the one nearer the heel.
    """

    LOOSE: ClassVar[tuple[str, ...]] = ()
    from_: Annotated[float, Length("From", at_least=0, at_most=LONGEST)]
    to: Annotated[float, Length("To", above=0, at_most=LONGEST)]
    section: Annotated[str, Choice("Section", options=SECTIONS)]
    run_out: Annotated[float, Length("Runs out over", at_least=0, at_most=LONGEST)] = 0.0

    @property
    def words(self) -> str:
        return f"the {self.section} from {{}} to {{}}"


class Joint(Record):
    """Where a spar is made of more than one part."""

    LOOSE: ClassVar[tuple[str, ...]] = ()
    at: Annotated[float, Length("Distance from the heel", at_least=0, at_most=LONGEST)]
    kind: Annotated[str, Choice("Kind of joint", options=JOINTS)]


class Stretch(NamedTuple):
    """A piece of the spar that has one section, or that runs out from one into another.

    In a run-out the corners are cut evenly deeper, from nothing where the fuller section ends to all of the cut where
    the other begins. So every line, cut and new facet is at each station the same share of what it is there at full:
    the section is the sum (Minkowski's) of that share of the one and the rest of the other.
    """

    start: float
    end: float
    heelward: str
    headward: str

    @property
    def runs_out(self) -> bool:
        return self.heelward != self.headward

    @property
    def sides(self) -> tuple[int, int]:
        """How many sides the outside has, fewer first."""
        fewer, more = sorted(SIDES.get(kind, ROUND) for kind in (self.heelward, self.headward))
        return fewer, more

    @property
    def whole_at(self) -> float:
        """The end where it has the corners of fewer sides."""
        return self.start if SIDES.get(self.heelward, ROUND) <= SIDES.get(self.headward, ROUND) else self.end

    @property
    def full_at(self) -> float:
        """The end where those corners are cut to the full."""
        return self.start + self.end - self.whole_at

    def part(self, at: float) -> float:
        """How far along it a station lies, 0 to 1."""
        return (at - self.start) / (self.end - self.start)

    def corners_off(self, at: float, sides: int) -> float:
        """The share that is cut at a station, 0 to 1, of the corners that go in making that many sides of half of them.

        >>> Stretch(400, 600, "square", "round").corners_off(450, 8)
        0.25
        """
        ends = (float(SIDES.get(kind, ROUND) >= sides) for kind in (self.heelward, self.headward))
        heelward, headward = ends
        return round(heelward + (headward - heelward) * self.part(at), 6)  # 1 is all, however the station was put


def region_fault(region: Region, before: Region | None, length: float, wall: float) -> Why | None:
    """What is wrong with a region that follows `before` on a spar of that length."""
    start, end, section, run_out = region.from_, region.to, region.section, region.run_out
    if end <= start:
        return f"the {section} that begins at {{}} ends at {{}}: it must end nearer the head", (start, end)
    if end > length:
        return f"{region.words} reaches past the head, which is at {{}}", (start, end, length)
    if section == "staves":
        return f"{region.words} is of staves, but only a whole spar is made of staves: set its section", (start, end)
    if section == "hollow" and not wall:
        return f"{region.words} is hollow, and the spar has no wall: give the spar one", (start, end)
    if end < length < end + run_out:
        return f"{region.words} runs out past the head, which is at {{}}", (start, end, length)
    return _beside(region, before)


def _beside(region: Region, before: Region | None) -> Why | None:
    start, end, run_out = region.from_, region.to, region.run_out
    if before is None:
        return (f"{region.words} runs out past the heel", (start, end)) if 0 < start < run_out else None
    both = (start, end, before.from_, before.to)
    if start < before.to:
        return f"{region.words} overlaps {before.words}", both
    meet = start == before.to
    room, needed = (end - start, before.run_out) if meet else (start - before.to, before.run_out + run_out)
    return (
        (f"{region.words} leaves {before.words} no room to run out: move them apart, or shorten run_out", both)
        if needed > room
        else None
    )


def joint_fault(joint: Joint, others: Container[float], length: float) -> Why | None:
    """What is wrong with a joint on a spar of that length that has joints at the others already."""
    if joint.at > length:
        return f"the {joint.kind} at {{}} lies past the head, which is at {{}}", (joint.at, length)
    if not 0 < joint.at < length:
        return f"the {joint.kind} at {{}} has nothing to join on one side: put it between heel and head", (joint.at,)
    if joint.at in others:
        return f"the {joint.kind} at {{}} is where another joint is already: move or drop one of them", (joint.at,)
    return None


def stretches(section: str, regions: Sequence[Region], length: float) -> tuple[Stretch, ...]:
    """The stretches of a spar from heel to head. Its `regions` are in order and without fault."""
    parts: list[Stretch] = []
    here, kind = 0.0, section
    for place, region in enumerate(regions):
        meets = place > 0 and regions[place - 1].to == region.from_
        run_in = 0.0 if meets or region.from_ == 0 else region.run_out
        if not meets:
            _add(parts, Stretch(here, region.from_ - run_in, section, section))
            _add(parts, Stretch(region.from_ - run_in, region.from_, section, region.section))
            here = region.from_
        _add(parts, Stretch(here, region.to, region.section, region.section))
        here = region.to
        if region.to < length:
            after = regions[place + 1] if place + 1 < len(regions) else None
            kind = after.section if after and after.from_ == region.to else section
            _add(parts, Stretch(here, here + region.run_out, region.section, kind))
            here += region.run_out
    _add(parts, Stretch(here, length, section, section))
    return tuple(parts)


def solid_places(
    width_at: Callable[[float], float], length: float, joints: Iterable[Joint], fittings: Iterable[Fitting]
) -> tuple[tuple[float, float], ...]:
    """Where a spar with a hole stays solid (our own choice): a width at either end and on each side of a joint, and
    half a width beyond what is fitted.
    """
    places = [(0.0, width_at(0.0)), (length - width_at(length), length)]
    for joint in joints:
        wide = width_at(min(joint.at, length))
        places.append((joint.at - wide, joint.at + wide))
    for fitting in fittings:
        middle = min(max(fitting.middle(length), 0.0), length)
        reach = fitting.reach + width_at(middle) / 2
        places.append((middle - reach, middle + reach))
    return tuple(places)


def left_solid(whole: Sequence[Stretch], solid: Iterable[tuple[float, float]], slope: float) -> tuple[Stretch, ...]:
    """The same stretches with each hollow parted by what stays solid, its bore rising to nothing over `slope`.

    A hollow too short for its two slopes stays solid.
    """
    parts: list[Stretch] = []
    for stretch in whole:
        kind = stretch.heelward
        if stretch.runs_out or kind not in WITH_HOLE:
            ends = ("round" if end in WITH_HOLE else end for end in (stretch.heelward, stretch.headward))
            parts.append(Stretch(stretch.start, stretch.end, *ends))
            continue
        here = stretch.start
        for start, end in _between(stretch, solid):
            if end - start > 2 * slope:
                _add(parts, Stretch(here, start, "round", "round"))
                _add(parts, Stretch(start, start + slope, "round", kind))
                _add(parts, Stretch(start + slope, end - slope, kind, kind))
                _add(parts, Stretch(end - slope, end, kind, "round"))
                here = end
        _add(parts, Stretch(here, stretch.end, "round", "round"))
    return tuple(parts)


def _between(stretch: Stretch, solid: Iterable[tuple[float, float]]) -> Iterator[tuple[float, float]]:
    """What lies of a stretch between the solid places."""
    here = stretch.start
    for start, end in sorted(solid):
        if start > here:
            yield here, min(start, stretch.end)
        here = max(here, end)
        if here >= stretch.end:
            return
    yield here, stretch.end


def _add(parts: list[Stretch], stretch: Stretch) -> None:
    if stretch.end > stretch.start:
        parts.append(stretch)
