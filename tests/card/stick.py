"""The stick that a card is walked on: its wood at every station, what is marked on it, and how the paper is asked.

Sections are shapely polygons (shapely.org): x from D to B across the width, y from C to A through the depth, the
spar's centre line at the origin.
"""

import re

import shapely

from shopcompanion.profile.records import Boat, Spar
from shopcompanion.spar.fitting import Fitting

from .meant import CORNERS, Meant
from .written import IN_WORDS, Row, Written, WrittenStep, WrittenTable


class WalkFault(AssertionError):
    """A step that cannot be done, or spoils the spar."""


def need(holds: bool, why: str) -> None:
    if not holds:
        raise WalkFault(why)


class Stick:
    """The wood at every station of the card, and what is marked on it; the operations are the steps."""

    def __init__(self, card: Written, spar: Spar, boat: Boat) -> None:
        self.card, self.spar, self.meant = card, spar, Meant(spar)
        mast = next((spar for spar in boat.spars if spar.kind == "mast"), None)
        self.mast = mast and max(station.width for station in mast.stations)  # what its jaws go round
        self.near = 0.75 * card.division  # how far a printed size may be from what is meant
        edges = [edge for start, end, _, out in self.meant.regions for edge in (start - out, start, end, end + out)]
        places = [part.at for part in (*spar.joints, *spar.stations)] + list(map(self.meant.middle, spar.fittings))
        self.places = [0.0, spar.length, *edges, *places]
        self.rows = {self.station(row["station"]): row for row in card.stations}
        self.ats = sorted(self.rows)
        self.wood: dict[float, shapely.Polygon] = {}
        self.width = {at: self.mm(row["width"]) for at, row in self.rows.items()}
        self.depth = {at: self.mm(row.get("depth", row["width"])) for at, row in self.rows.items()}
        self.bore: list[tuple[float, float, float]] = []
        self.lines: set[tuple[str, str]] = set()  # what is drawn, and on which face
        self.done: set[str] = set()
        self.let_in: list[Fitting] = []
        self.sides = 4
        self.made_solid = False

    def mm(self, text: str) -> float:
        return self.card.mm(text)

    def station(self, text: str) -> float:
        """A printed station; the place of the profile that it is the nearest mark to."""
        at = self.mm(text)
        nearest = min(self.places, key=lambda place: abs(place - at))
        return nearest if abs(nearest - at) <= self.near else at

    def place(self, text: str) -> float:
        """A station in words."""
        ends = {"the heel": 0.0, "the head": self.spar.length}
        return ends[text] if text in ends else self.mm(text)

    def _close(self, printed: float, other: float, what: str, by: float | None = None) -> None:
        by = self.near if by is None else by
        need(abs(printed - other) <= by, f"{what}: {printed:.2f} mm on the card, {other:.2f} mm meant")

    def _inside_run_out(self, at: float) -> bool:
        fuller, finer, part = self.meant.sections_at(at)
        return fuller != finer and part > 0

    def _share(self, at: float, sides: int) -> float:
        """How much of the cut to so many sides is meant at a station; at a shoulder, of the side with more."""
        shares = []
        for way in (-1e-4, 1e-4):
            fuller, finer, part = self.meant.sections_at(min(max(at + way, 0.0), self.spar.length))
            low, high = (float(CORNERS.get(kind, 99) >= sides) for kind in (fuller, finer))
            shares.append(round(low + (high - low) * part, 3))
        return max(shares)

    def _beside(self, edge: float, headward: bool) -> int:
        """The sides of what lies on the other side of a region's end."""
        for start, end, kind, _ in self.meant.regions:
            if edge == (start if headward else end):
                return CORNERS.get(kind, 99)
        return CORNERS.get(self.spar.section, 99)

    def _comes_off(self) -> bool:
        if self.spar.section == "staves":
            return False
        return any(self.mm(row["off each face"]) > self.near for row in self.rows.values())

    def _cut(self, at: float, left: shapely.Polygon) -> None:
        """Takes wood off, none of it the finished spar's: a step that does spoils it."""
        meant = self._meant(at)
        lost = meant.difference(left.buffer(2 * self.near))
        need(lost.area < 1e-6 or lost.area < 1e-4 * meant.area, f"at {at:.0f} wood is cut that the spar needs")
        self.wood[at] = left

    def _meant(self, at: float) -> shapely.Polygon:
        """The finished outside by the printed sizes; where it changes at once, the side where more comes off."""
        beside = (min(max(at + way, 0.0), self.spar.length) for way in (-1e-4, 1e-4))
        sides = [self.meant.outside(place, self.width[at], self.depth[at]) for place in beside]
        return min(sides, key=lambda polygon: polygon.area)

    def _is_hollow(self) -> bool:
        return self.spar.section == "hollow" and not self.made_solid

    def _kerf(self, joint: object) -> float:
        text = " ".join(step.words for step in self.card.steps if step.title.startswith("Saw the parts"))
        said = re.search(rf"the kerf is ({IN_WORDS})", text)
        need(said is not None, "the parts are sawn by a kerf of no size")
        assert said
        return self.mm(said[1])

    def _table(self, step: WrittenStep) -> WrittenTable:
        need(bool(step.tables), f"'{step.title}' has no table")
        return step.tables[0]

    def _row(self, table: WrittenTable, name: str, at: float) -> Row | None:
        return next((row for row in table.rows if abs(self.mm(row[name]) - at) <= self.near), None)

    def _says(self, step: WrittenStep, mm: float) -> bool:
        """Whether a length stands in the words of a step."""
        if mm <= self.near and "the heel" in step.words:
            return True
        if mm >= self.spar.length - self.near and "the head" in step.words:
            return True
        return any(
            abs(self.mm(said) - mm) <= self.near for said in re.findall(IN_WORDS, step.words) if said[:3] != "the"
        )
