"""A ring of staves, each with a right-angled notch in one edge that takes the square corner of the next.

A stave is a plank `width` × `thickness`. Turned by α = 2π/n from one to the next, the notch of one has its sides along
the plain edge and the inner face of the next, so at 90° − α and α to its own face, and it is cut until both sides come
out at the corners of the edge. The ring is worked out from that alone: the inner corner of the plain edge, turned by α
about the axis, is the bottom of the notch. (Our own derivation; for eight staves it is the usual notch of 45°.)
"""

from math import cos, hypot, pi, sin, tan

from ..errors import Why
from ..record import NamedTuple
from .outline import Outline

NUMBERS = (6, 8, 10, 12, 16)
USUAL = 5  # part of the diameter: the thickness of a stave (common practice, no source)
TAIL = 3.5  # widths of the hole: the swallowtail at the end of a plug (common practice, 3 to 4)


class Ring(NamedTuple):
    """`staves` staves of a `thickness` round a finished `diameter`, the largest round inside the ring. Millimetres."""

    staves: int
    diameter: float
    thickness: float

    @property
    def turn(self) -> float:
        """From one stave to the next, radians."""
        return 2 * pi / self.staves

    @property
    def stave_width(self) -> float:
        """Of the plank, from its plain edge to the lips of its notch.

        >>> round(Ring(8, 100, 20).stave_width, 3)
        38.995
        """
        return tan(self.turn / 2) * (self.diameter - self.thickness * (1 - cos(self.turn)))

    @property
    def notch_depth(self) -> float:
        """From the lips of the notch to its bottom.

        >>> round(Ring(8, 100, 20).notch_depth, 6)
        10.0
        """
        return self.thickness * sin(self.turn) * cos(self.turn)

    @property
    def notch_below(self) -> float:
        """From the outer face to the bottom of the notch.

        >>> round(Ring(12, 100, 20).notch_below, 6)
        15.0
        """
        return self.thickness * cos(self.turn) ** 2

    @property
    def hole(self) -> float:
        """Across the flats of the hole, which has as many sides as there are staves."""
        return self.diameter - 2 * self.thickness

    @property
    def wall_least(self) -> float:
        """From the round to the corners of the hole."""
        return self.diameter / 2 - self.hole / 2 / cos(self.turn / 2)

    @property
    def proud(self) -> float:
        """How far the outermost corner stands over the round, before it is rounded."""
        return hypot(self._plain_edge, self.diameter / 2) - self.diameter / 2

    @property
    def stave(self) -> tuple[tuple[float, float], ...]:
        """The corners of the stave at the top, its notch to the right, the axis at 0, 0."""
        top, left = self.diameter / 2, -self._plain_edge
        right, low = left + self.stave_width, top - self.thickness
        bottom = (right - self.notch_depth, top - self.notch_below)
        return ((left, low), (left, top), (right, top), bottom, (right, low))

    @property
    def all_staves(self) -> tuple[tuple[tuple[float, float], ...], ...]:
        """The corners of every stave, clockwise from the top."""
        turns = [(cos(k * self.turn), sin(k * self.turn)) for k in range(self.staves)]
        return tuple(tuple((x * c + y * s, y * c - x * s) for x, y in self.stave) for c, s in turns)

    @property
    def _plain_edge(self) -> float:
        """How far the plain edge lies from the middle of the outer face, where that touches the round."""
        return (self.diameter / 2 + self.thickness * cos(self.turn)) * tan(self.turn / 2)


def thickness_for(staves: int, diameter: float, wall: float) -> float:
    """The thickness of staves that leaves this wall at the corners of the hole.

    >>> round(Ring(8, 100, thickness_for(8, 100, 15)).wall_least, 9)
    15.0
    """
    return diameter / 2 - (diameter / 2 - wall) * cos(pi / staves)


def staves_fault(staves: int, thickness: float, outline: Outline) -> Why | None:
    """Why a spar cannot be of so many staves of that thickness, with `{}` for each of the lengths."""
    if staves not in NUMBERS:
        return f"{staves} staves: a ring has {', '.join(map(str, NUMBERS[:-1]))} or {NUMBERS[-1]}", ()
    if not thickness:
        return "a spar of staves has their thickness as its wall", ()
    if 2 * thickness >= outline.narrowest:
        return "staves of {} leave no hole where the spar is {}: less than {} does", (
            thickness, outline.narrowest, outline.narrowest / 2,
        )  # fmt: skip
    if Ring(staves, outline.widest, thickness).wall_least <= 0:
        return "staves of {} are rounded through where the spar is {}: more than {} holds", (
            thickness, outline.widest, outline.widest / 2 * (1 - cos(pi / staves)),
        )  # fmt: skip
    return None
