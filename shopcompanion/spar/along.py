"""What lies along a spar: stretches of one section or of one running out into the next, joints, and fittings.

Each is checked here against the spar, so that a profile and a sum tell the same faults. Millimetres from the heel.
"""

from collections.abc import Callable, Container, Iterable, Iterator, Sequence
from math import sqrt
from typing import NamedTuple

from .cuts import Cut, bore, flat, groove
from .section import ROUND, SIDES, WITH_HOLE, Section

FACES = ("A", "B", "C", "D", "A and C", "B and D")
APART = ("hinge", "ferrule", "butt")  # joints at which the parts come apart
Why = tuple[str, tuple[float, ...]]  # a reason with `{}` for each of the lengths


class Region(NamedTuple):
    """A stretch with a section of its own, and over what length it runs out into what is on either side of it.

    At an end of the spar it does not run out, and two that meet share the run-out of the one nearer the heel.
    """

    start: float
    end: float
    section: str
    run_out: float = 0.0

    @property
    def words(self) -> str:
        return f"the {self.section} from {{}} to {{}}"


class Joint(NamedTuple):
    """Where two parts meet."""

    at: float
    kind: str


class Fitting(NamedTuple):
    """What is fastened on, its length along the spar, and what is cut for it in `face`, one of FACES.

    It lies with its middle at `at`, or against the end of the spar that it would pass otherwise. A and C are the faces
    of the width, B and D those of the depth. `flat` is the depth of the flat it sits on; `hole` the diameter of a hole
    right through that face, and where there are more `holes` they are spread evenly along its length; `slot` the width
    of a slot right through and `slot_long` its length along the spar; `bar` the width of a bar let in and `bar_deep`
    how far its floor lies below the crown; `barrel` the length along the spar of a hinge's barrel let in across it,
    `barrel_deep` the same for that. On a taper flat and barrel are planes parallel to the centre line, so deep in the
    fitting's middle; a bar follows the face.
    """

    at: float
    kind: str
    length: float = 0.0
    flat: float = 0.0
    hole: float = 0.0
    bar: float = 0.0
    bar_deep: float = 0.0
    barrel: float = 0.0
    barrel_deep: float = 0.0
    face: str = "A"
    slot: float = 0.0
    slot_long: float = 0.0
    holes: int = 1

    @property
    def faces(self) -> list[str]:
        """The faces it is cut in, by their letters."""
        return self.face.split(" and ")

    @property
    def takes_wood(self) -> bool:
        return any((self.flat, self.hole, self.slot, self.bar, self.barrel))

    @property
    def reach(self) -> float:
        """How far it goes from its middle, either way."""
        return max(self.length, self.hole, self.slot_long, self.barrel) / 2

    def changes(self, bars: Iterable[float]) -> list[float]:
        """How far from its middle it or one of its cuts ends, or its hole gets narrower than one of the bars there."""
        offs = [size / 2 for size in (self.length, self.slot_long, self.barrel) if size]
        edges = [self.hole / 2, *(sqrt(self.hole**2 - bar**2) / 2 for bar in bars if 0 < bar < self.hole)]
        if self.hole:
            offs += [abs(out + way * edge) for out in self.bored_at for edge in edges for way in (-1, 1)]
        return offs

    @property
    def bored_at(self) -> list[float]:
        """How far its holes are from its middle, towards the head."""
        return [self.length * ((number + 0.5) / self.holes - 0.5) for number in range(self.holes)]

    @property
    def let_in(self) -> list[tuple[float, float]]:
        """What is let in from a face: how far it goes from the middle either way, and how deep, below the crown."""
        return [(self.length / 2, max(self.flat, self.bar_deep)), (self.barrel / 2, self.barrel_deep)]

    def middle(self, spar: float) -> float:
        """Where its middle lies on a spar of that length."""
        return min(max(self.at, self.reach), spar - self.reach)

    def slotted(self, spar: float) -> tuple[float, float]:
        """From where to where its slot goes, on a spar of that length."""
        return self.middle(spar) - self.slot_long / 2, self.middle(spar) + self.slot_long / 2

    def cuts(self, section: Section, off: float, higher: float) -> list[Cut]:
        """What it takes from the section that is that far `off` its middle, its crown that much `higher` than there."""
        cuts = []
        for face in self.faces:
            if off <= self.length / 2:
                cuts += [flat(section, self.flat + higher, face)] if self.flat else []
                cuts += [groove(section, self.bar, self.bar_deep, face)] if self.bar else []
            if self.barrel and off <= self.barrel / 2:
                cuts.append(flat(section, self.barrel_deep + higher, face))
        out = min(abs(off - abs(at)) for at in self.bored_at)  # from the nearest, which lie alike to either side
        if 2 * out < self.hole:
            cuts.append(bore(section, sqrt(self.hole**2 - 4 * out**2), self.faces[0]))
        if self.slot and off <= self.slot_long / 2:
            cuts.append(bore(section, self.slot, self.faces[0]))
        return cuts


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
        """The end where its corners are those of fewer sides."""
        return self.start if SIDES.get(self.heelward, ROUND) <= SIDES.get(self.headward, ROUND) else self.end

    @property
    def full_at(self) -> float:
        """The end where they are cut all of the way."""
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
    start, end, section, run_out = region
    if end <= start:
        return f"the {section} that begins at {{}} ends at {{}}: it must end further on", (start, end)
    if end > length:
        return f"{region.words} reaches past the head, which is at {{}}", (start, end, length)
    if section == "staves":
        return f"{region.words} is of staves, and a spar is of staves whole or not at all", (start, end)
    if section == "hollow" and not wall:
        return f"{region.words} is hollow, and the spar has no wall", (start, end)
    if end < length < end + run_out:
        return f"{region.words} runs out past the head, which is at {{}}", (start, end, length)
    return _beside(region, before)


def _beside(region: Region, before: Region | None) -> Why | None:
    start, end, _, run_out = region
    if before is None:
        return (f"{region.words} runs out past the heel", (start, end)) if 0 < start < run_out else None
    both = (start, end, before.start, before.end)
    if start < before.end:
        return f"{region.words} overlaps {before.words}", both
    meet = start == before.end
    room, needed = (end - start, before.run_out) if meet else (start - before.end, before.run_out + run_out)
    return (f"{region.words} leaves {before.words} no room to run out", both) if needed > room else None


def joint_fault(joint: Joint, others: Container[float], length: float) -> Why | None:
    """What is wrong with a joint on a spar of that length that has joints at the others already."""
    if joint.at > length:
        return f"the {joint.kind} at {{}} lies past the head, which is at {{}}", (joint.at, length)
    if not 0 < joint.at < length:
        return f"the {joint.kind} at {{}} has nothing to join on one side", (joint.at,)
    if joint.at in others:
        return f"the {joint.kind} at {{}} is where another joint is already", (joint.at,)
    return None


def fitting_fault(fitting: Fitting, length: float) -> Why | None:
    """Why a fitting does not lie on a spar of that length, or what of its cuts is not said or cannot be."""
    at, name = fitting.at, f"the {fitting.kind} at {{}}"
    if at > length:
        return f"{name} lies past the head, which is at {{}}", (at, length)
    if 2 * fitting.reach > length:
        return f"{name} is longer than the spar, {{}}", (at, length)
    if fitting.length and fitting.barrel > fitting.length:
        return f"{name} has a barrel of {{}} along it, and is only {{}} long", (at, fitting.barrel, fitting.length)
    return _unsaid(fitting, name)


def _unsaid(fitting: Fitting, name: str) -> Why | None:
    at = fitting.at
    for word, size in (("flat", fitting.flat), ("bar", fitting.bar)):
        if size and not fitting.length:
            return f"{name} has a {word} of {{}} and no length for it", (at, size)
    for word, size, deep in (("bar", fitting.bar, fitting.bar_deep), ("barrel", fitting.barrel, fitting.barrel_deep)):
        if size and not deep:
            return f"{name} has a {word} of {{}} and no {word}_deep, its floor below the crown", (at, size)
        if deep and not size:
            return f"{name} has a {word}_deep of {{}} and no {word}", (at, deep)
        if deep and deep <= fitting.flat:
            reason = (
                f"{name} has its {word} {{}} deep, in a flat that is {{}} deep: a {word}_deep of more than that fits"
            )
            return reason, (at, deep, fitting.flat)
    return _bored_fault(fitting, name)


def _bored_fault(fitting: Fitting, name: str) -> Why | None:
    at = fitting.at
    if fitting.holes > 1 and (not fitting.hole or fitting.holes * fitting.hole >= fitting.length):
        if not fitting.hole:
            return f"{name} has {fitting.holes} holes and no hole, their diameter", (at,)
        if not fitting.length:
            return f"{name} has {fitting.holes} holes and no length to spread them along", (at,)
        reason = f"{name} has {fitting.holes} holes of {{}}, which do not lie apart along {{}}"
        return reason, (at, fitting.hole, fitting.length)
    if fitting.slot and not fitting.slot_long:
        return f"{name} has a slot {{}} wide and no slot_long, its length along the spar", (at, fitting.slot)
    if fitting.slot_long and not fitting.slot:
        return f"{name} has a slot_long of {{}} and no slot, its width", (at, fitting.slot_long)
    return None


def stretches(section: str, regions: Sequence[Region], length: float) -> tuple[Stretch, ...]:
    """The spar from heel to head. `regions` are in order and without fault."""
    parts: list[Stretch] = []
    here, kind = 0.0, section
    for place, region in enumerate(regions):
        meets = place > 0 and regions[place - 1].end == region.start
        run_in = 0.0 if meets or region.start == 0 else region.run_out
        if not meets:
            _add(parts, Stretch(here, region.start - run_in, section, section))
            _add(parts, Stretch(region.start - run_in, region.start, section, region.section))
            here = region.start
        _add(parts, Stretch(here, region.end, region.section, region.section))
        here = region.end
        if region.end < length:
            after = regions[place + 1] if place + 1 < len(regions) else None
            kind = after.section if after and after.start == region.end else section
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
