"""The section across a spar at a station: of one kind, or on its way from one into another. Millimetres."""

from collections.abc import Callable

from ..record import NamedTuple
from .section import Section


class Across(NamedTuple):
    """The section at a station: `part` of the way from the one towards the heel to the one towards the head.

    In a run-out lengths across it (lines, cuts, the way round) change evenly. What is off a corner changes evenly
    both ways across, so the area that has gone is the square of that share of what goes in all; exact for every pair
    of sections, which lie in one rectangle and touch its sides (mixed areas), and for the bore of a hollow, a cone.
    """

    heelward: Section
    headward: Section
    part: float

    @property
    def headward_share(self) -> float:
        """What the section towards the head counts for in an area, the other having the rest.

        The end of a plug between staves is a swallowtail, whose area changes evenly along it.
        """
        if "staves" in (self.heelward.kind, self.headward.kind):
            return self.part
        if self.heelward.area >= self.headward.area:
            return self.part**2
        return 1 - (1 - self.part) ** 2

    def blend(self, ends: tuple[float, float]) -> float:
        """An area, or what goes with the area, between those of the two sections."""
        return ends[0] + (ends[1] - ends[0]) * self.headward_share

    def each(self, of: Callable[[Section], float]) -> float:
        """A length across it (a width, a girth), between those of the two sections."""
        heelward, headward = of(self.heelward), of(self.headward)
        return heelward + (headward - heelward) * self.part

    @property
    def area(self) -> float:
        return self.blend((self.heelward.area, self.headward.area))

    @property
    def perimeter(self) -> float:
        return self.each(lambda section: section.perimeter)
