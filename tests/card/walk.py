"""A card walked in its order as operations on a stick of wood, with an oracle that shares no code with the card.

Sections are shapely polygons (shapely.org): x from D to B across the width, y from C to A through the depth, the
spar's centre line at the origin. What is meant comes from the profile alone: `Meant`.
"""

import re
from collections.abc import Callable
from itertools import pairwise
from math import cos, hypot, pi, sin, tan

import shapely
from scipy.interpolate import PchipInterpolator

from shopcompanion.profile.records import Fitting, Spar

from .written import IN_WORDS, Row, Written, WrittenStep, WrittenTable, is_length

RIDGE = 0.5  # mm left for sanding, by default
APART = ("hinge", "ferrule", "butt")
CORNERS = {"square": 4, "eight": 8}
ACROSS = ("B", "D")
Point = tuple[float, float]


class WalkFault(AssertionError):
    """A step that cannot be done, or spoils the spar."""


def need(holds: bool, why: str) -> None:
    if not holds:
        raise WalkFault(why)


# What is meant


class Meant:
    """The finished spar by its profile: widths by their law, sections, run-outs, and what is fitted."""

    def __init__(self, spar: Spar) -> None:
        self.spar = spar
        self.length = spar.length
        self.width_at = self._law("width")
        self.depth_at = self._law("depth") if spar.section == "oval" else self.width_at
        own = [(region.from_, region.to, region.section, region.run_out) for region in spar.regions]
        own += [(0.0, spar.square_to, "square", spar.square_run_out)] if spar.square_to else []
        self.regions = sorted(own)

    def _law(self, name: str) -> Callable[[float], float]:
        spar = self.spar
        ats, sizes = [one.at for one in spar.stations], [getattr(one, name) for one in spar.stations]
        if spar.law == "straight":
            return lambda at: _interpolated(list(zip(ats, sizes, strict=True)), at)
        if spar.law == "bowed":
            return lambda at: _bowed(list(zip(ats, sizes, strict=True)), at)
        if spar.law == "faired":
            curve = PchipInterpolator(ats, sizes)
            return lambda at: float(curve(at))
        outline = spar.outline() if name == "width" else spar.depth_outline()  # a book's, checked against the book
        assert outline is not None
        return outline.width_at

    def sections_at(self, at: float) -> tuple[str, str, float]:
        """The fuller section, the finer, and how far from the one to the other it is there, 0 to 1."""
        own = self.spar.section
        for place, (start, end, kind, run_out) in enumerate(self.regions):
            before = self.regions[place - 1] if place else None
            after = self.regions[place + 1] if place + 1 < len(self.regions) else None
            meets, met = before is not None and before[1] == start, after is not None and after[0] == end
            if meets and before and start <= at < start + before[3]:
                return self._between(before[2], kind, (at - start) / before[3])
            if start <= at <= end:
                return kind, kind, 0.0
            if not meets and start > 0 and start - run_out < at < start:
                return self._between(own, kind, 1 - (start - at) / run_out)
            if not met and end < at < end + run_out:
                return self._between(kind, own, (at - end) / run_out)
        return own, own, 0.0

    @staticmethod
    def _between(heelward: str, headward: str, part: float) -> tuple[str, str, float]:
        if CORNERS.get(heelward, 99) <= CORNERS.get(headward, 99):
            return heelward, headward, part
        return headward, heelward, 1 - part

    def outside(self, at: float, width: float, depth: float) -> shapely.Polygon:
        """The finished outside at a station for a width and depth: in a run-out the sum of both sections' shares."""
        fuller, finer, part = self.sections_at(at)
        one = _regular(CORNERS.get(fuller, 128), width, depth)
        if fuller == finer or not part:
            return shapely.Polygon(one)
        other = _regular(CORNERS.get(finer, 128), width, depth)
        points = [((1 - part) * a + part * c, (1 - part) * b + part * d) for a, b in one for c, d in other]
        return shapely.MultiPoint(points).convex_hull

    def round_at(self, at: float) -> bool:
        """Whether it is to be round there all of the way."""
        fuller, finer, part = self.sections_at(at)
        return CORNERS.get(finer, 99) > 8 and (fuller == finer or part == 1)

    def middle(self, fitting: Fitting) -> float:
        reach = max(fitting.length or 0.0, fitting.hole or 0.0, fitting.barrel or 0.0) / 2
        return min(max(fitting.at, reach), self.length - reach)


def _interpolated(pairs: list[Point], at: float) -> float:
    for (x0, y0), (x1, y1) in pairwise(pairs):
        if x0 <= at <= x1:
            return y0 + (y1 - y0) * (at - x0) / (x1 - x0)
    raise AssertionError(f"{at} lies beyond the stations")


def _bowed(pairs: list[Point], at: float) -> float:
    for (x0, y0), (x1, y1) in pairwise(pairs):
        if x0 <= at <= x1:
            part = (at - x0) / (x1 - x0)
            return y0 - (y0 - y1) * part**2 if y0 >= y1 else y1 - (y1 - y0) * (1 - part) ** 2
    raise AssertionError(f"{at} lies beyond the stations")


def _regular(sides: int, width: float, depth: float) -> list[Point]:
    """The corners of the polygon about the oval that the rectangle holds, a side in each of its faces."""
    far = 1 / cos(pi / sides)
    turns = [(2 * k + 1) * pi / sides for k in range(sides)]
    return [(width / 2 * far * sin(turn), depth / 2 * far * cos(turn)) for turn in turns]


# The stick


class Stick:
    """The wood at every station of the card, and what is marked on it; the operations are the steps."""

    def __init__(self, card: Written, spar: Spar) -> None:
        self.card, self.spar, self.meant = card, spar, Meant(spar)
        self.near = 0.75 * card.division  # how far a printed size may be from what is meant
        edges = [edge for start, end, _, out in self.meant.regions for edge in (start - out, start, end, end + out)]
        places = [one.at for one in (*spar.joints, *spar.stations)] + list(map(self.meant.middle, spar.fittings))
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

    def walk(self) -> None:
        """All steps in their order, then what has come of it. WalkFault at the first that is wrong."""
        self._sizes()
        for number, step in enumerate(self.card.steps, 1):
            need(step.number == number, f"step {step.number} comes as the {number}.")
            for words, made in _OPERATIONS:
                if re.match(words, step.title):
                    made(self, step)
                    self.done.add(made.__name__)
                    break
            else:
                raise WalkFault(f"'{step.title}' is a step that nobody knows")
        self._finished()

    def _close(self, one: float, other: float, what: str, by: float | None = None) -> None:
        by = self.near if by is None else by
        need(abs(one - other) <= by, f"{what}: {one:.2f} mm on the card, {other:.2f} mm meant")

    def _sizes(self) -> None:
        """The station table against the profile: widths, halves and what comes off add up."""
        need(self.ats[0] == 0, "the station table does not begin at the heel")
        self._close(self.ats[-1], self.spar.length, "the last station")
        blank = {self.mm(row["each side of centre"]) + self.mm(row["off each face"]) for row in self.rows.values()}
        need(max(blank) - min(blank) <= 2 * self.near, "half and what comes off do not make one blank")
        for at, row in self.rows.items():
            real = min(at, self.spar.length)
            self._close(self.width[at], self.meant.width_at(real), f"width at {at:.0f}")
            self._close(2 * self.mm(row["each side of centre"]), self.width[at], f"half at {at:.0f}", 2 * self.near)
            if "depth" in row:
                self._close(self.depth[at], self.meant.depth_at(real), f"depth at {at:.0f}")
        for joint in self.spar.joints:
            need(any(abs(at - joint.at) <= self.near for at in self.ats), f"no station at the {joint.kind}")
        for start, end, kind, run_out in self.meant.regions:
            for edge, out in ((start, start - run_out), (end, end + run_out)):
                if not 0 < edge < self.spar.length or CORNERS.get(kind, 99) == self._beside(edge, edge == end):
                    continue
                met = edge == start and any(region[1] == start for region in self.meant.regions)
                for at in (edge, edge if met else out):
                    need(any(abs(one - at) <= self.near for one in self.ats), f"no station at {at:.0f}, by the {kind}")

    # the steps

    def scarf(self, step: WrittenStep) -> None:
        need("true" not in self.done, "a stick is scarfed before it is trued")
        for joint in (one for one in self.spar.joints if one.kind == "scarf"):
            need(self._says(step, joint.at), f"the scarf at {joint.at:.0f} is not in its step")

    def halves(self, step: WrittenStep) -> None:
        need(not self.wood, "the halves are there before the blank is")

    def hollow(self, step: WrittenStep) -> None:
        need("halves" in self.done, "halves are straightened before they are hollowed: what is planed off is wall")
        need(not self.wood, "halves are hollowed before they are glued")
        wall, table = self.spar.wall or 0.0, self._table(step) if step.tables else None
        for row in table.rows if table else []:
            at, bore, deep = self.station(row["station"]), self.mm(row["bore"]), self.mm(row["deep in each half"])
            quarter = self.card.division / 4  # of a mark, by which a station may be printed over or under
            sides = [self.meant.width_at(min(max(at + way, 0.0), self.spar.length)) for way in (-quarter, 0, quarter)]
            need((max(sides) - bore) / 2 >= wall - 1e-6, f"the wall at {at:.0f} is thinner than asked for")
            need(max(sides) / 2 - deep >= wall - 1e-6, f"the half at {at:.0f} is hollowed deeper than its wall")
            need(not self._solid(at), f"a bore at {at:.0f}, where it stays solid")
            self.bore.append((at, bore, deep))

    def _solid(self, at: float) -> bool:
        """Ends, joints, what is fitted, and what is square."""
        wide = self.meant.width_at(min(at, self.spar.length))
        if at < wide / 2 or at > self.spar.length - wide / 2:
            return True
        if any(abs(at - joint.at) < wide / 2 for joint in self.spar.joints):
            return True
        if self.meant.sections_at(at)[0] != "hollow":
            return True
        return any(
            abs(at - self.meant.middle(one)) < max(one.length or 0, one.hole or 0, one.barrel or 0) / 2 + wide / 4
            for one in self.spar.fittings
        )

    def true(self, step: WrittenStep) -> None:
        said = re.search(rf"The blank is a square of ({IN_WORDS})", step.words)
        need(said is not None, "the blank has no size")
        assert said
        side = self.mm(said[1])
        thick = max(*self.width.values(), *self.depth.values())
        need(side >= thick - self.near, f"the blank of {side:.1f} mm is less than the spar, {thick:.1f} mm")
        need("hollow" in self.done or not self._is_hollow(), "a hollow spar is glued before it is hollowed")
        half = side / 2
        self.wood = dict.fromkeys(self.ats, shapely.box(-half, -half, half, half))
        for row in self.rows.values():
            both = self.mm(row["each side of centre"]) + self.mm(row["off each face"])
            self._close(2 * both, side, "blank and what comes off", 2 * self.near)

    def _is_hollow(self) -> bool:
        return self.spar.section == "hollow"

    def join(self, step: WrittenStep) -> None:
        need(bool(self.wood), "parts are joined when they are trued")
        table = self._table(step)
        for joint in (one for one in self.spar.joints if one.kind in APART):
            row = self._row(table, "joint", joint.at)
            need(row is not None, f"the {joint.kind} at {joint.at:.0f} has no dowels")
            assert row
            thick = self.mm(row["thick"])
            circle = self.mm(row["on a circle of"]) if is_length(row.get("on a circle of", "")) else 0.0
            inside = min(self.meant.width_at(joint.at), self.meant.depth_at(joint.at))
            need(circle + thick <= inside, f"dowels at {joint.at:.0f} lie outside the finished spar")
            need(2 * self.mm(row["bore each part"]) >= self.mm(row["long"]) - 2 * self.near, "dowels longer than holes")

    def centre(self, step: WrittenStep) -> None:
        need(bool(self.wood), "a centre line is struck on the trued blank")
        self.lines |= {("centre", "A"), ("centre", "C"), ("stations", "A"), ("stations", "C")}
        kerfs = [joint for joint in self.spar.joints if joint.kind in APART]
        for joint in kerfs:
            need(self._says(step, joint.at), f"no line for the saw at the {joint.kind}, {joint.at:.0f}")
        said = re.findall(rf"Heel to head ({IN_WORDS})", step.words)
        need(bool(said), "the length is not checked")
        allowed = sum(map(self._kerf, kerfs))
        self._close(self.mm(said[0]), self.spar.length + allowed, "heel to head, with room for the saw", 2 * self.near)

    def _kerf(self, joint: object) -> float:
        text = " ".join(step.words for step in self.card.steps if step.title.startswith("Saw the parts"))
        said = re.search(rf"the kerf is ({IN_WORDS})", text)
        need(said is not None, "the parts are sawn by a kerf of no size")
        assert said
        return self.mm(said[1])

    def first(self, step: WrittenStep) -> None:
        need({("centre", "A"), ("centre", "C")} <= self.lines, "the first pair is cut by lines that are not there")
        self._plane(lambda at: shapely.box(-self.width[at] / 2, -9e3, self.width[at] / 2, 9e3))
        self.lines -= {(line, face) for line, face in self.lines if face in ACROSS}

    def turn(self, step: WrittenStep) -> None:
        need("first" in self.done, "it is turned before the first pair is cut")
        self.lines |= {(line, face) for line in ("centre", "stations") for face in ACROSS}

    def second(self, step: WrittenStep) -> None:
        need({("centre", "B"), ("centre", "D")} <= self.lines, "the second pair is cut by lines on faces that are gone")
        self._plane(lambda at: shapely.box(-9e3, -self.depth[at] / 2, 9e3, self.depth[at] / 2))
        self.lines -= {(line, face) for line, face in self.lines if face not in ACROSS}

    def _plane(self, tool: Callable[[float], shapely.Polygon]) -> None:
        for at in self.ats:
            self._cut(at, self.wood[at].intersection(tool(at)))

    def _cut(self, at: float, left: shapely.Polygon) -> None:
        """Takes wood off, none of it the finished spar's: a step that does spoils it."""
        meant = self._meant(at)
        lost = meant.difference(left.buffer(2 * self.near))
        need(lost.area < 1e-6 or lost.area < 1e-4 * meant.area, f"at {at:.0f} wood is cut that the spar needs")
        self.wood[at] = left

    def _meant(self, at: float) -> shapely.Polygon:
        """The finished outside by the printed sizes; where it changes at once, the side where more comes off."""
        beside = (min(max(at + way, 0.0), self.spar.length) for way in (-1e-4, 1e-4))
        sides = [self.meant.outside(one, self.width[at], self.depth[at]) for one in beside]
        return min(sides, key=lambda one: one.area)

    def lines_8(self, step: WrittenStep) -> None:
        for at in self.ats:
            left = self.wood[at]
            self._close(left.bounds[2] * 2, self.width[at], f"lines for 8 on a stick of another width at {at:.0f}")
            self._close(left.bounds[3] * 2, self.depth[at], f"lines for 8 on a stick of another depth at {at:.0f}")
        self.lines |= {("eight", face) for face in "ABCD"}
        self._runs_said(step, 8)

    def _runs_said(self, step: WrittenStep, sides: int) -> None:
        """Both ends of every run-out in which corners go in making so many sides."""
        fewer_than = {at: self._share(at, sides) for at in self.ats}
        for before, after in pairwise(self.ats):
            one, other = fewer_than[before], fewer_than[after]
            if {one, other} == {0.0, 1.0} and after - before > 0 and self._inside_run_out((before + after) / 2):
                for at in (before, after):
                    need(self._says(step, at), f"the run-out's end at {at:.0f} is not in '{step.title}'")

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

    def eight(self, step: WrittenStep) -> None:
        need(("eight", "A") in self.lines, "corners are cut by lines that are not there")
        table = self._table(step)
        for at in self.ats:
            row, cut = self._row(table, "station", at), self._row(table, "station", at)
            marks = self._marks(at, "line for 8")
            share = self._share(at, 8)
            need((row is not None) == (marks is not None), f"line and cut for 8 at {at:.0f}: one without the other")
            if share > 0:
                need(marks is not None, f"no line for 8 at {at:.0f}, where the corner comes off")
            if marks is None or cut is None:
                continue
            a, b = marks
            width, depth = self.width[at], self.depth[at]
            full = 1 - tan(pi / 8)
            self._close(a, share * full * width / 2, f"line for 8 at {at:.0f}")
            self._close(b, share * full * depth / 2, f"line for 8 on the deep face at {at:.0f}")
            off = a * b / hypot(a, b) if a and b else 0.0
            self._close(self.mm(cut["off the corner"]), off, f"what is off the corner at {at:.0f}", 2 * self.near)
            x, y = width / 2, depth / 2
            points = [(i * (x - a), j * y) for i in (-1, 1) for j in (-1, 1)]
            points += [(i * x, j * (y - b)) for i in (-1, 1) for j in (-1, 1)]
            self._cut(at, self.wood[at].intersection(shapely.MultiPoint(points).convex_hull))
        self.sides = 8

    def _marks(self, at: float, name: str) -> Point | None:
        row = self.rows[at]
        if not is_length(row.get(name, "")):
            return None
        one = self.mm(row[name])
        deep = row.get(f"{name} of depth", "")
        return one, self.mm(deep) if is_length(deep) else one

    def lines_16(self, step: WrittenStep) -> None:
        need(self.sides == 8, "lines for 16 lie on eight facets")
        self.lines.add(("sixteen", "facets"))
        self._runs_said(step, 16)

    def sixteen(self, step: WrittenStep) -> None:
        need(("sixteen", "facets") in self.lines, "corners are cut by lines that are not there")
        lines = next((one for one in self.card.steps if one.title.startswith("Line out the sixteen")), None)
        table = self._table(step)
        for at in self.ats:
            row, share = self._row(table, "station", at), self._share(at, 16)
            need(row is not None or not share, f"no cut to 16 at {at:.0f}, where the corner comes off")
            if row is None:
                continue
            need(share > 0 or all(self.mm(row[name]) == 0 for name in row if name.startswith("off")),
                 f"corners are cut to 16 at {at:.0f}, where they stay on")  # fmt: skip
            marks = self._marks_16(at, lines)
            need(marks is not None, f"no line for 16 at {at:.0f}")
            assert marks
            full = (tan(pi / 8) - tan(pi / 16)) / 2
            self._close(marks[0], share * full * self.width[at], f"line for 16 at {at:.0f}")
            if share:
                self._cut(at, _clipped(self.wood[at], marks))
        self.sides = 16

    def _marks_16(self, at: float, lines: WrittenStep | None) -> tuple[float, float, float] | None:
        """From the edges of the facets in A and C, of the four between, and of those in B and D."""
        if one := self._marks(at, "line for 16"):
            return one[0], one[0], one[0]
        row = self._row(self._table(lines), "station", at) if lines and lines.tables else None
        if row is None:
            return None
        a, between, b = (self.mm(row[name]) for name in ("on A and C", "on the four between", "on B and D"))
        return a, between, b

    def thirty_two(self, step: WrittenStep) -> None:
        """Where sixteen sides leave too much, and nowhere else."""
        need(self.sides == 16, "thirty-two sides come out of sixteen")
        text = re.split(": sixteen sides", step.words)[0]
        ends = re.findall(rf"[Ff]rom ({IN_WORDS}) to ({IN_WORDS})", text)
        ranges = [(self.place(a), self.place(b)) for a, b in ends] or [(0.0, self.spar.length)]
        for at in self.ats:
            inside = any(low - self.near <= at <= high + self.near for low, high in ranges)
            proud = self._share(at, 16) * self._ideal(at)
            if abs(proud - RIDGE) > 0.02:
                need(inside == (proud > RIDGE), f"sixteen sides stand {proud:.2f} mm proud at {at:.0f}")
        for low, high in ranges:
            for end in (low, high):
                inner = 2 < end < self.spar.length - 2
                if inner and self.spar.section != "oval" and not self._at_shoulder(end):
                    share = self._share(end, 16)
                    proud = share * self.meant.width_at(end) / 2 * (1 / cos(pi / 16) - 1)
                    need(abs(proud - RIDGE) < 0.03, f"thirty-two sides end at {end:.0f}, where {proud:.2f} mm stand")
        for at in self.ats:
            if any(low <= at <= high for low, high in ranges):
                self.wood[at] = self.wood[at].intersection(self._meant(at).buffer(RIDGE * 0.9))
        self.sides = 32

    def _at_shoulder(self, at: float) -> bool:
        """Whether corners begin or end there at once, without a run-out."""
        edges = {edge for start, end, _, run_out in self.meant.regions if not run_out for edge in (start, end)}
        return any(abs(edge - at) <= self.near for edge in edges)

    def _ideal(self, at: float) -> float:
        """How proud the corners of a true sixteen stand there."""
        one = min(at, self.spar.length)
        width, depth = self.meant.width_at(one), self.meant.depth_at(one)
        oval = shapely.Polygon(_regular(512, width, depth))
        return max(oval.distance(shapely.Point(corner)) for corner in _regular(16, width, depth))

    def _proud(self, at: float) -> float:
        meant = self._meant(at)
        return max((meant.distance(shapely.Point(one)) for one in self.wood[at].exterior.coords), default=0.0)

    def round_it(self, step: WrittenStep) -> None:
        need(self.sides >= 8, "a square is not rounded by hand")
        said = re.search(r"corners of the ([0-9]+) sides stand (?:less than )?(.*?) proud", step.words)
        need(said is not None, "nothing says how proud the corners stand")
        assert said
        need(int(said[1]) == self.sides, f"{said[1]} sides are rounded, {self.sides} are there")
        most = self.mm(said[2]) + 3 * self.near
        for at in self.ats:
            need(self._proud(at) <= most, f"{self._proud(at):.2f} mm stand proud at {at:.0f}")
            if self.meant.round_at(at) or self._inside_run_out(at):
                self._cut(at, self.wood[at].intersection(self._meant(at).buffer(0.01)))

    def routed(self, step: WrittenStep) -> None:
        need("second" in self.done or not self._comes_off(), "it is rounded over before it is to size")
        for at in self.ats:
            self._cut(at, self.wood[at].intersection(self._meant(at).buffer(0.01)))
        self.sides = 99

    def _comes_off(self) -> bool:
        return any(self.mm(row["off each face"]) > self.near for row in self.rows.values())

    def edges(self, step: WrittenStep) -> None:
        need("second" in self.done or not self._comes_off(), "edges are eased before it is to size")

    def run_outs(self, step: WrittenStep) -> None:
        need(self.sides > 4, "corners run out before any are cut")
        for table in step.tables:
            for row in table.rows:
                at, off = self.station(row["station"]), self.mm(row["off each corner"])
                if self.spar.section == "oval":
                    continue
                width = self.meant.width_at(min(at, self.spar.length))
                fuller, finer, part = self.meant.sections_at(at)
                whole = width * (2**0.5 - 1) / 2
                share = part if fuller != finer else float(CORNERS.get(fuller, 99) > 4)
                self._close(off, share * whole, f"off the corner at {at:.0f}", 1.5 * self.card.division)
        for start, end, kind, run_out in self.meant.regions:
            for edge, out in ((start, start - run_out), (end, end + run_out)):
                if 0 < edge < self.spar.length and CORNERS.get(kind, 99) != self._beside(edge, end == edge):
                    need(
                        self._says(step, edge) or self._says(step, out),
                        f"the {kind} that ends at {edge:.0f} is not run out",
                    )

    def _beside(self, edge: float, headward: bool) -> int:
        """The sides of what lies on the other side of a region's end."""
        for start, end, kind, _ in self.meant.regions:
            if edge == (start if headward else end):
                return CORNERS.get(kind, 99)
        return CORNERS.get(self.spar.section, 99)

    def sand(self, step: WrittenStep) -> None:
        need("first" in self.done or not self._comes_off(), "it is sanded before it is to size")
        need(self.sides >= 16 or "round_it" in self.done or not any(map(self.meant.round_at, self.ats)),
             "it is sanded before it is round")  # fmt: skip

    def part(self, step: WrittenStep) -> None:
        need("sand" in self.done or "round_it" in self.done, "the parts are sawn before they are shaped as one")
        need(not self.let_in, "the saw goes through what is let in already")
        need("centre" in self.done, "there is no line to saw by")
        said = re.findall(rf"from ({IN_WORDS}) to ({IN_WORDS}) \(([a-z]+)\)", step.words)
        joints = sorted((one for one in self.spar.joints if one.kind in APART), key=lambda one: one.at)
        need(len(said) == len(joints), f"{len(said)} cuts for {len(joints)} joints")
        before = 0.0
        for (low, high, kind), joint in zip(said, joints, strict=True):
            need(kind == joint.kind, f"a {kind} is sawn for a {joint.kind}")
            self._close(self.mm(low), joint.at + before, f"the cut at {joint.at:.0f}", 2 * self.near)
            before += self.mm(high) - self.mm(low)
        need(abs(before - len(joints) * self._kerf(None)) <= 2 * len(joints) * self.near, "the kerfs do not add up")
        left = re.findall(rf"Heel to head ({IN_WORDS}), the ends closed", step.words)
        need(bool(left), "the length after the saw is not said")
        self._close(self.mm(left[0]), self.spar.length, "heel to head after the saw")

    def mark_fittings(self, step: WrittenStep) -> None:
        need("part" in self.done or not any(one.kind in APART for one in self.spar.joints),
             "fittings are marked while the kerf is still to come off")  # fmt: skip
        table = self._table(step)
        need(len(table.rows) == len(self.spar.fittings), f"{len(table.rows)} fittings of {len(self.spar.fittings)}")
        for fitting in self.spar.fittings:
            rows = [row for row in table.rows if re.match(rf"{fitting.kind}\b", row["fitting"])]
            at = self.meant.middle(fitting)
            row = next((row for row in rows if abs(self._at(row) - at) <= self.near), None)
            need(row is not None, f"the {fitting.kind} at {at:.0f} is not marked where its middle is")
            assert row
            for name, size in (("long", fitting.length), ("flat deep", fitting.flat), ("hole", fitting.hole)):
                if size:
                    need(is_length(row.get(name, "")), f"the {fitting.kind} at {at:.0f} has no '{name}'")
                    self._close(self.mm(row[name]), size, f"{name} of the {fitting.kind}")
        self.lines.add(("fittings", "all round"))

    def _at(self, row: Row) -> float:
        return self.mm(row.get("middle") or row["station"])

    def let_in_step(self, step: WrittenStep) -> None:
        need(("fittings", "all round") in self.lines, "it is let in before it is marked")
        low, high = self._range(step)
        fitting = next((one for one in self.spar.fittings if self._is_let_in(one) and one not in self.let_in
                        and abs(self.meant.middle(one) - (low + high) / 2) <= 2 * self.near
                        and f"the {one.kind}" in step.title), None)  # fmt: skip
        need(fitting is not None, f"'{step.title}' is let in for nothing that the profile has there")
        assert fitting
        self._close(high - low, fitting.length or 0.0, "how long it is let in", 2 * self.near)
        need(-self.near <= low and high <= self.spar.length + self.near, "it is let in beyond an end")
        need(f"face {fitting.face[0]}" in step.words, f"it is let in in another face than {fitting.face}")
        if " and " in fitting.face:
            need(f"The same on {fitting.face[-1]}" in step.words, f"nothing is cut in {fitting.face[-1]}")
        self._deep_enough(step, fitting)
        self.let_in.append(fitting)

    def _deep_enough(self, step: WrittenStep, fitting: Fitting) -> None:
        """Flat, bar and barrel are as deep as the profile has them."""
        middle = self.meant.middle(fitting)
        size = self.meant.depth_at if fitting.face[0] in "AC" else self.meant.width_at
        floor = re.search(rf"the floor ({IN_WORDS}) over the middle line", step.words)
        half = (fitting.length or 0.0) / 2
        ends = [size(min(max(middle + way * half, 0.0), self.spar.length)) for way in (-1, 1)]
        if fitting.flat and fitting.flat < (size(middle) - min(ends)) / 2:
            return  # a plane that does not reach the thinner end: it is marked where it runs out
        if fitting.flat and floor:
            self._close(self.mm(floor[1]), size(middle) / 2 - fitting.flat, "floor of the flat", self.card.division)
        elif fitting.flat:
            need(self._says(step, fitting.flat), "nothing says how deep the flat is")
        floors = [self.mm(said) for said in re.findall(rf"its floor ({IN_WORDS}) below the crown", step.words)]
        for name in ("bar_deep", "barrel_deep"):
            if value := getattr(fitting, name):
                need(any(abs(one - value) <= self.near for one in floors), f"no {name} of {value:.1f} mm is said")
        for name in ("bar", "barrel"):
            if value := getattr(fitting, name):
                need(self._says(step, value), f"nothing says the {name} of the {fitting.kind}, {value:.1f} mm")

    @staticmethod
    def _is_let_in(fitting: Fitting) -> bool:
        return bool(fitting.flat or fitting.bar or fitting.barrel)

    def _range(self, step: WrittenStep) -> tuple[float, float]:
        said = re.search(rf"from ({IN_WORDS}) to ({IN_WORDS})", step.words)
        need(said is not None, f"'{step.title}' says not from where to where")
        assert said
        return self.place(said[1]), self.place(said[2])

    def holes(self, step: WrittenStep) -> None:
        need(("fittings", "all round") in self.lines, "holes are bored before they are marked")
        table = self._table(step)
        bored = [one for one in self.spar.fittings if one.hole]
        need(len(table.rows) == len(bored), f"{len(table.rows)} holes, the profile has {len(bored)}")
        for fitting in bored:
            at = self.meant.middle(fitting)
            row = next((one for one in table.rows if abs(self._at(one) - at) <= self.near
                        and abs(self.mm(one["hole"]) - (fitting.hole or 0)) <= self.near), None)  # fmt: skip
            need(row is not None, f"the hole of the {fitting.kind} is not bored at {at:.0f}, where its middle is")
            assert row
            way = "B to D" if fitting.face[0] in "BD" else "A to C"
            need(way in row["for"], f"the hole of the {fitting.kind} goes not {way}")
            need((fitting.hole or 0) / 2 <= self._at(row) + self.near, "a hole in the end grain")
            need(self._at(row) + (fitting.hole or 0) / 2 <= self.spar.length + self.near, "a hole in the end grain")
        self.done.add("holes")

    def jaws(self, step: WrittenStep) -> None:
        need(any(one.kind == "jaws" for one in self.spar.fittings), "jaws are made for a spar without any")

    def ends(self, step: WrittenStep) -> None:
        need("sand" in self.done, "it is sawn to length before it is shaped: the marks hang on the waste")
        said = re.search(rf"Saw off the waste .*?({IN_WORDS}) from one to the other", step.words)
        need(said is not None, "nothing says how long it is sawn")
        assert said
        self._close(self.mm(said[1]), self.spar.length, "sawn to length")

    def measure(self, step: WrittenStep) -> None:
        need("ends" in self.done, "it is measured before it is sawn to length")
        for row in self._table(step).rows:
            at = min(self.mm(row["station"]), self.spar.length)
            self._close(self.mm(row["width"]), self.meant.width_at(at), f"measured width at {at:.0f}")
            if is_length(row.get("depth", "")):
                self._close(self.mm(row["depth"]), self.meant.depth_at(at), f"measured depth at {at:.0f}")
            if is_length(row.get("tape reads", "")):
                near = min(self.wood, key=lambda one: abs(one - at))
                self._close(self.mm(row["tape reads"]), self._meant(near).length, f"tape at {at:.0f}", 6 * self.near)

    # what has come of it

    def _finished(self) -> None:
        need(self.card.steps[-1].title.startswith("Measure"), "it is not measured at the end")
        for at in self.ats:
            meant, left = self._meant(at), self.wood[at]
            over = left.difference(meant.buffer(RIDGE + 2 * self.near))
            need(over.area < 1e-6, f"at {at:.0f} more is left than sanding takes")
            need(
                meant.difference(left.buffer(2 * self.near)).area < 1e-3 * meant.area, f"too little is left at {at:.0f}"
            )
        for fitting in self.spar.fittings:
            need(("fittings", "all round") in self.lines, f"the {fitting.kind} is nowhere on the card")
            need(not self._is_let_in(fitting) or fitting in self.let_in, f"the {fitting.kind} is not let in")
            need(not fitting.hole or "holes" in self.done, f"the hole of the {fitting.kind} is not bored")
        for joint in self.spar.joints:
            need("part" in self.done or joint.kind not in APART, f"the {joint.kind} is not sawn")
            need("scarf" in self.done or joint.kind != "scarf", "the scarf is not made")
        need("hollow" in self.done or not self._is_hollow(), "it is not hollowed")
        for start, end, kind, _ in self.meant.regions:
            alike = CORNERS.get(kind, 99) == CORNERS.get(self.spar.section, 99)
            need(alike or f"{kind} from" in self.card.head, f"the {kind} from {start:.0f} to {end:.0f} is lost")

    # reading

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


def _clipped(shape: shapely.Polygon, marks: tuple[float, float, float]) -> shapely.Polygon:
    """Eight facets with their corners cut by lines in from each edge."""
    ring = list(shape.exterior.coords)[:-1]
    points: list[Point] = []
    for (ax, ay), (bx, by) in zip(ring, [*ring[1:], ring[0]], strict=True):
        long = hypot(bx - ax, by - ay)
        if long < 1e-9:
            continue
        across, through = abs(by - ay) < 1e-6, abs(bx - ax) < 1e-6
        mark = min(marks[0] if across else marks[2] if through else marks[1], long / 2)
        part = mark / long
        points += [(ax + (bx - ax) * part, ay + (by - ay) * part), (bx - (bx - ax) * part, by - (by - ay) * part)]
    return shapely.MultiPoint(points).convex_hull


_OPERATIONS: tuple[tuple[str, Callable[[Stick, WrittenStep], None]], ...] = (
    ("Scarf the stick", Stick.scarf),
    ("True the two halves", Stick.halves),
    ("Hollow the two halves", Stick.hollow),
    ("True the blank", Stick.true),
    ("Join the parts", Stick.join),
    ("Strike the centre line", Stick.centre),
    ("(Taper|Plane) the first", Stick.first),
    ("Turn it a quarter", Stick.turn),
    ("(Taper|Plane) the second", Stick.second),
    ("Ease the edges", Stick.edges),
    ("Line out the eight", Stick.lines_8),
    ("Take the corners off: eight", Stick.eight),
    ("Line out the sixteen", Stick.lines_16),
    ("Take the eight corners off", Stick.sixteen),
    ("Take the sixteen corners off", Stick.thirty_two),
    ("Round it with the router", Stick.routed),
    ("Round it", Stick.round_it),
    ("Pare the run-outs", Stick.run_outs),
    ("Sand it", Stick.sand),
    ("Saw the parts apart", Stick.part),
    ("Mark the fittings", Stick.mark_fittings),
    ("Let in", Stick.let_in_step),
    ("Make the jaws", Stick.jaws),
    ("Bore the holes", Stick.holes),
    ("Saw to length", Stick.ends),
    ("Measure it", Stick.measure),
)
