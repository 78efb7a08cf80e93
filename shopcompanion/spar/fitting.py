"""A fitting: what is fastened to a spar, what wood is cut for it, and why it cannot be. Millimetres from the heel."""

from collections.abc import Iterable
from math import sqrt
from typing import ClassVar

from ..errors import Why
from ..fields import Choice, Count, Length, Text
from ..lengths import LONGEST
from ..record import Annotated, Record
from .cuts import Recess, bore, flat, groove
from .section import Section

FACES = ("A", "B", "C", "D", "A and C", "B and D")
FITTINGS = (
    "band", "bar", "bee", "block", "bolt", "cheek", "cleat", "collar", "eye", "fairlead", "gammoning", "gooseneck",
    "heel", "hinge", "hounds", "jaws", "lap", "leather", "outhaul", "parrel", "partners", "pin", "shackle", "sheave",
    "sling", "step", "tack hook", "traveller", "other",
)  # fmt: skip


class Fitting(Record):
    """What is fastened to a spar, and the wood that goes for it: a flat, bars let in, holes, a slot, a hinge's barrel.

    It lies with its middle at `at`, half its `length` to either side; where it would pass an end it lies against that.
    What is cut is cut in `face`: A and C are the faces of the width, B and D those of the depth. A `hole` goes right
    through that face, and more `holes` are spread evenly along the length; `slot` is the width of a slot right through
    and `slot_long` its length along the spar; `barrel` the length along the spar of a hinge's barrel across it;
    `bar_deep` and `barrel_deep` are how far a floor lies below the crown. On a taper flat and barrel are planes
    parallel to the centre line, so deep in the fitting's middle; a bar follows the face. A size of 0 is not there.
    """

    LOOSE: ClassVar[tuple[str, ...]] = (
        "name", "length", "face", "flat", "hole", "holes", "slot", "slot_long", "bar", "bar_deep", "barrel",
        "barrel_deep",
    )  # fmt: skip
    at: Annotated[float, Length("Distance from the heel", at_least=0, at_most=LONGEST)]
    kind: Annotated[str, Choice("Kind of fitting", options=FITTINGS)]
    name: Annotated[str | None, Text("What it is for")] = None
    length: Annotated[float, Length("Length along the spar", above=0, at_most=LONGEST)] = 0.0
    face: Annotated[str, Choice("Cut in face", options=FACES)] = "A"
    flat: Annotated[float, Length("Depth of its flat", above=0, at_most=2000)] = 0.0
    hole: Annotated[float, Length("Hole through, across", above=0, at_most=2000)] = 0.0
    holes: Annotated[int, Count("Such holes, along it", at_least=1, at_most=50)] = 1
    slot: Annotated[float, Length("Slot through, its width", above=0, at_most=2000)] = 0.0
    slot_long: Annotated[float, Length("Slot's length along", above=0, at_most=LONGEST)] = 0.0
    bar: Annotated[float, Length("Bar let in, width", above=0, at_most=2000)] = 0.0
    bar_deep: Annotated[float, Length("Bar's floor, below the crown", above=0, at_most=2000)] = 0.0
    barrel: Annotated[float, Length("Barrel let in, along the spar", above=0, at_most=2000)] = 0.0
    barrel_deep: Annotated[float, Length("Barrel's floor, below the crown", above=0, at_most=2000)] = 0.0

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
        """Distances from its middle where it or a cut of it ends, or its hole gets narrower than one of the `bars`."""
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

    def cuts(self, section: Section, off: float, higher: float) -> list[Recess]:
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


def fitting_fault(fitting: Fitting, length: float) -> Why | None:
    """Why a fitting does not lie on a spar of that length, or which size of its cuts is missing or cannot be."""
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
            return f"{name} has a {word} of {{}} and no length for it: give its length along the spar", (at, size)
    for word, size, deep in (("bar", fitting.bar, fitting.bar_deep), ("barrel", fitting.barrel, fitting.barrel_deep)):
        if size and not deep:
            return f"{name} has a {word} of {{}} and no {word}_deep: give how far its floor lies below the crown", (
                at,
                size,
            )
        if deep and not size:
            return f"{name} has a {word}_deep of {{}} and no {word}: give its size", (at, deep)
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
            return f"{name} has {fitting.holes} holes and no hole: give their diameter", (at,)
        if not fitting.length:
            return f"{name} has {fitting.holes} holes and no length to spread them along: give its length", (at,)
        reason = (
            f"{name} has {fitting.holes} holes of {{}}, which do not lie apart along {{}}: fewer or smaller ones do"
        )
        return reason, (at, fitting.hole, fitting.length)
    if fitting.slot and not fitting.slot_long:
        return f"{name} has a slot {{}} wide and no slot_long: give its length along the spar", (at, fitting.slot)
    if fitting.slot_long and not fitting.slot:
        return f"{name} has a slot_long of {{}} and no slot: give its width", (at, fitting.slot_long)
    return None
