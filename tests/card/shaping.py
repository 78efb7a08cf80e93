"""The steps that shape a spar, as operations on the stick: from the blank to the round."""

import re
from collections.abc import Callable
from itertools import pairwise
from math import cos, hypot, pi, tan

import shapely

from .meant import CORNERS, Point, hull, regular
from .stick import Stick, need
from .written import IN_WORDS, WrittenStep, is_length

RIDGE = {"in": 25.4 / 64, "mm": 0.5}  # mm left for sanding, by default
APART = ("hinge", "ferrule", "butt")
ACROSS = ("B", "D")


class Squared(Stick):
    """Halves, blank, joints, centre line, and the two pairs of faces."""

    def scarf(self, step: WrittenStep) -> None:
        need("true" not in self.done, "a stick is scarfed before it is trued")
        for joint in (joint for joint in self.spar.joints if joint.kind == "scarf"):
            need(self._says(step, joint.at), f"the scarf at {joint.at:.0f} is not in its step")

    def halves(self, step: WrittenStep) -> None:
        need(not self.wood, "the halves are there before the blank is")
        joints = sorted(joint.at for joint in self.spar.joints if joint.kind in APART)
        for count, at in enumerate(joints, 1):  # so that what stays solid lies where the stick will be sawn
            said = re.search(rf"({IN_WORDS}) further on beyond {re.escape(self._printed(at))}", step.words)
            need(said is not None, f"nothing says where the stations beyond {at:.0f} lie on the halves")
            assert said
            self._close(self.mm(said[1]), count * self._kerf(None), f"stations beyond {at:.0f} on the halves")

    def _printed(self, at: float) -> str:
        """A station as the card has it in words: the one of those in its steps that is nearest."""
        said = {text for step in self.card.steps for text in re.findall(IN_WORDS, step.words)}
        return min((text for text in said if text[:3] != "the"), key=lambda text: abs(self.mm(text) - at))

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
            abs(at - self.meant.middle(fitting))
            < max(fitting.length or 0, fitting.hole or 0, fitting.barrel or 0) / 2 + wide / 4
            for fitting in self.spar.fittings
        )

    def true(self, step: WrittenStep) -> None:
        square = re.search(rf"The blank is a square of ({IN_WORDS})", step.words)
        up = "(?:, rounded up,?)?"
        oval = re.search(rf"The blank is ({IN_WORDS}){up} across B and D, ({IN_WORDS}){up} across A and C", step.words)
        said = square or oval
        need(said is not None, "the blank has no size")
        assert said
        across, through = self.mm(said[1]), self.mm(said[len(said.groups())])
        for side, thick in ((across, max(self.width.values())), (through, max(self.depth.values()))):
            need(side >= thick - self.near, f"the blank of {side:.1f} mm is less than the spar, {thick:.1f} mm")
        self.made_solid = "Make it solid" in step.words
        need("hollow" in self.done or not self._is_hollow(), "a hollow spar is glued before it is hollowed")
        self.wood = dict.fromkeys(self.ats, shapely.box(-across / 2, -through / 2, across / 2, through / 2))
        for row in self.rows.values():
            both = self.mm(row["each side of centre"]) + self.mm(row["off each face"])
            self._close(2 * both, across, "blank and what comes off", 3 * self.near)  # it is rounded up

    def join(self, step: WrittenStep) -> None:
        need(bool(self.wood), "parts are joined when they are trued")
        table = self._table(step)
        for joint in (joint for joint in self.spar.joints if joint.kind in APART):
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
        need("over the end grain at both ends" in step.words, "nothing on the ends tells the faces of a round spar")
        self.lines.add(("centre", "ends"))
        self.lines |= {("centre", "A"), ("centre", "C"), ("stations", "A"), ("stations", "C")}
        kerfs = [joint for joint in self.spar.joints if joint.kind in APART]
        for joint in kerfs:
            need(self._says(step, joint.at), f"no line for the saw at the {joint.kind}, {joint.at:.0f}")
        said = re.findall(rf"Heel to head ({IN_WORDS})", step.words)
        need(bool(said), "the length is not checked")
        allowed = sum(map(self._kerf, kerfs))
        self._close(self.mm(said[0]), self.spar.length + allowed, "heel to head, with room for the saw", 2 * self.near)

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
        self.lines -= {(line, face) for line, face in self.lines if face in "AC"}

    def _plane(self, tool: Callable[[float], shapely.Polygon]) -> None:
        for at in self.ats:
            self._cut(at, self.wood[at].intersection(tool(at)))


class Rounded(Squared):
    """Eight sides, sixteen, thirty-two, round, and the run-outs."""

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
            cuts = fewer_than[before], fewer_than[after]
            if set(cuts) == {0.0, 1.0} and after - before > 0 and self._inside_run_out((before + after) / 2):
                for at in (before, after):
                    need(self._says(step, at), f"the run-out's end at {at:.0f} is not in '{step.title}'")

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
            self._cut(at, self.wood[at].intersection(hull(points)))
        self.sides = 8

    def _marks(self, at: float, name: str) -> Point | None:
        row = self.rows[at]
        if not is_length(row.get(name, "")):
            return None
        text = self.mm(row[name])
        deep = row.get(f"{name} of depth", "")
        return text, self.mm(deep) if is_length(deep) else text

    def lines_16(self, step: WrittenStep) -> None:
        need(self.sides == 8, "lines for 16 lie on eight facets")
        self.lines.add(("sixteen", "facets"))
        self._runs_said(step, 16)

    def sixteen(self, step: WrittenStep) -> None:
        need(("sixteen", "facets") in self.lines, "corners are cut by lines that are not there")
        lines = next((step for step in self.card.steps if step.title.startswith("Line out the sixteen")), None)
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
        if line := self._marks(at, "line for 16"):
            return line[0], line[0], line[0]
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
        ridge = RIDGE[self.card.unit]
        for at in self.ats:
            inside = any(low - self.near <= at <= high + self.near for low, high in ranges)
            proud = self._share(at, 16) * self._ideal(at)
            if abs(proud - ridge) > 0.02:
                need(inside == (proud > ridge), f"sixteen sides stand {proud:.2f} mm out at {at:.0f}")
        for low, high in ranges:
            for end in (low, high):
                inner = 2 < end < self.spar.length - 2
                if inner and self.spar.section != "oval" and not self._at_shoulder(end):
                    share = self._share(end, 16)
                    proud = share * self.meant.width_at(end) / 2 * (1 / cos(pi / 16) - 1)
                    need(abs(proud - ridge) < 0.03, f"thirty-two sides end at {end:.0f}, where {proud:.2f} mm stand")
        for at in self.ats:
            if any(low - self.near <= at <= high + self.near for low, high in ranges):
                self.wood[at] = self.wood[at].intersection(self._meant(at).buffer(ridge * 0.9))
        self.sides = 32

    def _at_shoulder(self, at: float) -> bool:
        """Whether corners begin or end there at once, without a run-out."""
        edges = {edge for start, end, _, run_out in self.meant.regions if not run_out for edge in (start, end)}
        return any(abs(edge - at) <= self.near for edge in edges)

    def _ideal(self, at: float) -> float:
        """How far the corners of a true sixteen stick out there."""
        inside = min(at, self.spar.length)
        width, depth = self.meant.width_at(inside), self.meant.depth_at(inside)
        oval = shapely.polygons(regular(512, width, depth))
        return float(shapely.distance(oval, shapely.points(regular(16, width, depth))).max())

    def _proud(self, at: float) -> float:
        corners = shapely.points(shapely.get_coordinates(self.wood[at].exterior))
        return float(shapely.distance(self._meant(at), corners).max(initial=0.0))

    def round_it(self, step: WrittenStep) -> None:
        need(self.sides >= 8, "a square is not rounded by hand")
        said = re.search(rf"corners of the ([0-9]+) sides stick out by (?:less than )?({IN_WORDS})", step.words)
        need(said is not None, "nothing says how far the corners stick out")
        assert said
        need(int(said[1]) == self.sides, f"{said[1]} sides are rounded, {self.sides} are there")
        most = self.mm(said[2]) + 3 * self.near
        for at in self.ats:
            proud = self._proud(at)
            need(proud <= most, f"{proud:.2f} mm stick out at {at:.0f}")
            if self.meant.round_at(at) or self._inside_run_out(at):
                self._cut(at, self.wood[at].intersection(self._meant(at).buffer(0.01)))

    def routed(self, step: WrittenStep) -> None:
        need("second" in self.done or not self._comes_off(), "it is rounded over before it is to size")
        for at in self.ats:
            self._cut(at, self.wood[at].intersection(self._meant(at).buffer(0.01)))
        self.sides = 99

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

    def sand(self, step: WrittenStep) -> None:
        need("first" in self.done or not self._comes_off(), "it is sanded before it is to size")
        need(self.sides >= 16 or "round_it" in self.done or not any(map(self.meant.round_at, self.ats)),
             "it is sanded before it is round")  # fmt: skip
        self.lines -= {(line, face) for line, face in self.lines if face in "ABCD"}


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
    return hull(points)
