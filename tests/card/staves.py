"""The steps of a spar of staves as operations: planks, their notch, the ring put together, and its corners taken off.

The ring is worked out here by itself: the planks are as the card has them, and must close (shapely, shapely.org).
"""

import re
from itertools import pairwise
from math import cos, pi, radians, sin, tan

import shapely

from .meant import regular
from .shaping import RIDGE, Rounded, _clipped
from .stick import need
from .written import IN_WORDS, WrittenStep

ANGLE = r"([0-9.]+)°"


class Staved(Rounded):
    """From strips to a ring of faces."""

    notch_in = notch_below = 0.0

    @property
    def thick(self) -> float:
        return self.spar.wall or 0.0

    def rip(self, step: WrittenStep) -> None:
        said = re.search(rf"Rip ([0-9]+) staves, and one to .*?, each ({IN_WORDS}) by ({IN_WORDS}) and ({IN_WORDS}) "
                         rf"long.*Plane them all to ({IN_WORDS}) thick and ({IN_WORDS}) wide", step.words)  # fmt: skip
        need(said is not None, "nothing says how the staves are ripped")
        assert said
        need(int(said[1]) == self.spar.staves, f"{said[1]} staves of {self.spar.staves}")
        wide, thick, long, planed, finished = (self.mm(said[k]) for k in range(2, 7))
        self._close(planed, self.thick, "thickness of the staves")
        self._close(finished, self._stave(max(map(self.meant.width_at, self._ends()))), "width of the staves")
        need(
            wide >= finished - self.near and thick >= planed - self.near, "they are ripped thinner than they are planed"
        )
        need(long >= self.spar.length - self.near, "the staves are shorter than the spar")

    def _ends(self) -> list[float]:
        return [min(at, self.spar.length) for at in self.ats]

    def _stave(self, across: float) -> float:
        """How wide a stave has to be for n of them to close round a spar, by the trade's own sum for n sides."""
        turn = 2 * pi / self.spar.staves
        return tan(turn / 2) * (across - self.thick * (1 - cos(turn)))

    def notch(self, step: WrittenStep) -> None:
        need({"rip"} == self.done & {"rip", "taper"}, "staves are notched at their full width")
        said = re.search(rf"its bottom ({IN_WORDS}) in from the edge and ({IN_WORDS}) below the outer face. Its outer "
                         rf"side lies at {ANGLE} to the face, its inner side at {ANGLE}", step.words)  # fmt: skip
        need(said is not None, "nothing says how the notch is")
        assert said
        self.notch_in, self.notch_below = self.mm(said[1]), self.mm(said[2])
        outer, inner = radians(float(said[3])), radians(float(said[4]))
        need(abs(outer + inner - pi / 2) < 0.005, "the sides of the notch make no right angle")
        need(abs(inner - 2 * pi / self.spar.staves) < 0.005, "the notch is for another number of staves")
        self._close(self.notch_below, self.notch_in * tan(outer), "where the outer side comes out", 2.5 * self.near)
        self._close(
            self.thick - self.notch_below, self.notch_in * tan(inner), "where the inner one does", 2.5 * self.near
        )
        saw = re.search(rf"Saw: tilted {ANGLE}.*?(inner|outer) face down, blade ({IN_WORDS}) high; second .*? "
                        rf"blade ({IN_WORDS}) high", step.words)  # fmt: skip
        need(saw is not None, "nothing says how the saw is set")
        assert saw
        tilt, flat, edge = radians(float(saw[1])), self.mm(saw[3]), self.mm(saw[4])
        deep = self.notch_below if saw[2] == "outer" else self.thick - self.notch_below
        self._close(flat, deep, "the first cut ends in the bottom of the notch")
        self._close(flat * tan(tilt), self.notch_in, "the first cut, tilted so", 2.5 * self.near)
        self._close(edge, self.notch_in, "the second cut ends there as well")

    def taper(self, step: WrittenStep) -> None:
        need("notch" in self.done, "a tapered stave has no straight edge to notch it by")
        widest = max(self.mm(row["stave"]) for row in self.rows.values())
        for at, row in self.rows.items():
            stave, off = self.mm(row["stave"]), self.mm(row["off the plain edge"])
            self._close(stave, self._stave(self.width[at]), f"stave at {at:.0f}", 2 * self.near)
            self._close(stave + off, widest, f"stave and what comes off at {at:.0f}", 2 * self.near)

    def plugs(self, step: WrittenStep) -> None:
        need("notch" in self.done, "plugs are made to the hole of a ring")
        rows = [{name: self.mm(cell) for name, cell in row.items()} for row in self._table(step).rows]
        for row in rows:
            for end, tail, hole, way in (("whole from", "heelward tail", "heelward hole", -1),
                                         ("whole to", "headward tail", "headward hole", 1)):  # fmt: skip
                tip = min(max(row[end] + way * row[tail], 0.0), self.spar.length)
                across = self.meant.width_at(tip) - 2 * self.thick
                self._close(row[hole], across, f"the plug's size at {tip:.0f}", 2 * self.near)
                at_end = row[end] <= self.near or row[end] >= self.spar.length - self.near
                need(at_end or row[tail] >= 3 * across - self.near, f"the tail at {row[end]:.0f} is too short")
        reaches = [
            (self.meant.middle(fitting), max(fitting.length or 0.0, fitting.hole or 0.0) / 2)
            for fitting in self.spar.fittings
        ]
        reaches += [(joint.at, 0.0) for joint in self.spar.joints] + [(0.0, 0.0), (self.spar.length, 0.0)]
        reaches += [((stretch.from_ + stretch.to) / 2, (stretch.to - stretch.from_) / 2) for stretch in self.spar.solid]
        for at, reach in reaches:
            low, high = max(0.0, at - reach), min(self.spar.length, at + reach)
            need(any(row["whole from"] - self.near <= low and high <= row["whole to"] + self.near for row in rows),
                 f"no plug from {low:.0f} to {high:.0f}, where there is an end, a joint or a fitting")  # fmt: skip

    def dry(self, step: WrittenStep) -> None:
        need({"notch", "plugs"} <= self.done, "it is put together before there is anything to put together")
        need("taper" in self.done or max(self.width.values()) - min(self.width.values()) < 2 * self.near,
             "it is put together before it is tapered")  # fmt: skip

    def glue(self, step: WrittenStep) -> None:
        need("dry" in self.done, "it is glued before it was tried dry")
        need("clamps" in step.words, "nothing clamps it")
        self.wood = {at: self._ring(at) for at in self.ats}
        self.lines = set()

    def _ring(self, at: float) -> shapely.Polygon:
        """The outside of the ring as it is glued there: planks by the card's own sizes, turned into one another."""
        top, count = self.width[at] / 2, self.spar.staves
        wide, inner = self._stave(self.width[at]), 2 * pi / count
        left = -(top + self.thick * cos(inner)) * tan(inner / 2)
        right, far = left + wide, 9 * self.thick
        bottom = (right - self.thick * sin(inner) * cos(inner), top - self.thick * cos(inner) ** 2)
        notch = shapely.Polygon([bottom, (bottom[0] + far * sin(inner), bottom[1] + far * cos(inner)),
                                 (bottom[0] + 2 * far, bottom[1]),
                                 (bottom[0] + far * cos(inner), bottom[1] - far * sin(inner))])  # fmt: skip
        plank = shapely.box(left, top - self.thick, right, top) - notch
        turned = [shapely.affinity.rotate(plank, -360 * k / count, origin=(0, 0)) for k in range(count)]
        need(sum(turned[0].intersection(stave).area for stave in turned[1:]) < 1e-6, f"staves overlap at {at:.0f}")
        ring = shapely.union_all([stave.buffer(1e-6, join_style="mitre") for stave in turned])
        need(ring.geom_type == "Polygon" and len(ring.interiors) == 1, f"the ring does not close at {at:.0f}")
        return shapely.Polygon(ring.exterior)

    def flush(self, step: WrittenStep) -> None:
        need("glue" in self.done, "corners are planed before the ring is glued")
        said = re.search(rf"one lip is higher than the face beside it, by (?:less than )?({IN_WORDS})", step.words)
        need(said is not None, "nothing says how high the lips are")
        assert said
        widest = max(self.ats, key=lambda at: self.width[at])
        proud = max(shapely.Point(0, 0).distance(shapely.Point(coord)) for coord in self.wood[widest].exterior.coords)
        self._close(self.mm(said[1]), proud - self.width[widest] / 2, "how high the lips are", 2 * self.near)
        for at in self.ats:
            self._cut(at, self.wood[at] & shapely.Polygon(regular(self.spar.staves, self.width[at], self.width[at])))
        self.sides = self.spar.staves

    def twice(self, step: WrittenStep) -> None:
        need("flush" in self.done, "there are no faces to line out yet")
        table = self._table(step)
        for at in self.ats:
            row = self._row(table, "station", at)
            need(row is not None, f"no line at {at:.0f}")
            assert row
            line = self.mm(row["in from each edge"])
            need(abs(line - self.mm(self.rows[at][f"line for {2 * self.sides}"])) < 1e-9, "two lines for one place")
            before = max(shapely.Point(0, 0).distance(shapely.Point(coord)) for coord in self.wood[at].exterior.coords)
            self._close(
                self.mm(row["off the corner"]),
                before - self.width[at] / 2,
                f"off the corner at {at:.0f}",
                2 * self.near,
            )
            self._cut(at, _clipped(self.wood[at], (line, line, line)))
            new = [side for side in self._sides_of(at) if side > 2 * self.near]
            need(len(new) == 2 * self.sides, f"{len(new)} facets at {at:.0f}, {2 * self.sides} meant")
            self._close(self.mm(row["new facet"]), min(new), f"facet at {at:.0f}", 3 * self.near)
        self.sides *= 2

    def _sides_of(self, at: float) -> list[float]:
        ring = list(self.wood[at].simplify(1e-4).exterior.coords)
        return [shapely.Point(a).distance(shapely.Point(b)) for a, b in pairwise(ring)]

    def again(self, step: WrittenStep) -> None:
        need("twice" in self.done, "those corners are not there yet")
        need(
            max(self._proud(at) for at in self.ats) > RIDGE[self.card.unit] - 2 * self.near,
            "they are small enough for sanding",
        )
        self.sides *= 2
        for at in self.ats:
            self.wood[at] &= shapely.Polygon(regular(self.sides, self.width[at], self.width[at])).buffer(self.near / 2)
