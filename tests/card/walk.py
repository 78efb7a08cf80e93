"""A card walked in its order as operations on a stick of wood, and what has come of it held against the profile."""

import re
from collections.abc import Callable
from math import pi

from .fitting_out import FittedOut
from .meant import CORNERS
from .shaping import APART, RIDGE
from .staves import Staved
from .stick import WalkFault, need
from .written import IN_WORDS, WrittenStep, is_length

TOLERANCE = 0.4  # mm, of what was measured


class Walk(Staved, FittedOut):
    """All of the card; the last steps are here."""

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

    def _sizes(self) -> None:
        """The station table against the profile: widths, halves and what comes off add up."""
        need(self.ats[0] == 0, "the station table does not begin at the heel")
        self._close(self.ats[-1], self.spar.length, "the last station")
        for at in self.rows:
            self._close(self.width[at], self.meant.width_at(min(at, self.spar.length)), f"width at {at:.0f}")
        if self.spar.section == "staves":  # no blank: what else the table has is for the staves
            return
        blank = {self.mm(row["each side of centre"]) + self.mm(row["off each face"]) for row in self.rows.values()}
        need(max(blank) - min(blank) <= 2 * self.near, "half and what comes off do not make one blank")
        for at, row in self.rows.items():
            real = min(at, self.spar.length)
            self._close(2 * self.mm(row["each side of centre"]), self.width[at], f"half at {at:.0f}", 2 * self.near)
            if "depth" in row:
                self._close(self.depth[at], self.meant.depth_at(real), f"depth at {at:.0f}")
        self._measured()
        self._counted()
        for joint in self.spar.joints:
            need(any(abs(at - joint.at) <= self.near for at in self.ats), f"no station at the {joint.kind}")
        for start, end, kind, run_out in self.meant.regions:
            for edge, out in ((start, start - run_out), (end, end + run_out)):
                if not 0 < edge < self.spar.length or CORNERS.get(kind, 99) == self._beside(edge, edge == end):
                    continue
                met = edge == start and any(region[1] == start for region in self.meant.regions)
                for at in (edge, edge if met else out):
                    need(
                        any(abs(station - at) <= self.near for station in self.ats),
                        f"no station at {at:.0f}, by the {kind}",
                    )

    def _counted(self) -> None:
        """Spars that are made alike: so many, at the head and where the first stick is made."""
        if self.spar.count == 1:
            return
        many = f"{self.spar.count}, all alike"
        need(f"Make {many}" in self.card.head, f"the head does not say to make {many}")
        need(f"Make {many}" in self.card.steps[0].words or f"Make {many}" in self.card.steps[1].words,
             f"no step says to make {many}")  # fmt: skip

    def _measured(self) -> None:
        """The log: every place that was measured, what is to come off there, and where it is too thin already."""
        words, tables = self.card.log
        if not self.spar.log:
            need(not words, "measures of a spar that was not measured")
            return
        if "cannot be held against the spar" in words:
            return
        need(bool(tables), "the spar was measured, and the card has nothing of it")
        rows, oval = list(tables[0].rows), self.spar.section == "oval"
        thin = False
        for way in ("across", "deep") if oval else ("",):
            own = [row for row in rows if row.get("measured") != way] if not oval else [
                row for row in rows if way in row.values()]  # fmt: skip
            for entry in {round(entry.at, 3): entry for entry in self.spar.log}.values():
                sizes = ((entry.widths or ())[("across", "deep").index(way) :: 2] if oval else entry.widths) or (
                    (entry.girth or 0.0) / pi,
                )
                meant = (self.meant.depth_at if way == "deep" else self.meant.width_at)(min(entry.at, self.spar.length))
                row = next((row for row in own if abs(self.mm(row["station"]) - entry.at) <= self.near), None)
                need(row is not None, f"what was measured at {entry.at:.0f} is not on the card")
                assert row
                off = sum(sizes) / len(sizes) - meant
                self._close(self.mm(row["to come off"]), off, f"to come off at {entry.at:.0f}")
                self._close(self.mm(row["each face"]), off / 2, f"off each face at {entry.at:.0f}")
                is_thin = min(sizes) < meant - TOLERANCE
                need((row["is"] == "thin") == is_thin, f"at {entry.at:.0f} it is called '{row['is']}'")
                thin = thin or is_thin
        need(thin == ("Too thin at" in words), "nothing says that it is too thin" if thin else "it is not too thin")

    def part(self, step: WrittenStep) -> None:
        need("sand" in self.done or "round_it" in self.done, "the parts are sawn before they are shaped as one")
        need(not self.let_in, "the saw goes through what is let in already")
        need("centre" in self.done, "there is no line to saw by")
        said = re.findall(rf"from ({IN_WORDS}) to ({IN_WORDS}) \(([a-z]+)\)", step.words)
        joints = sorted((joint for joint in self.spar.joints if joint.kind in APART), key=lambda joint: joint.at)
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

    def before_sanding(self, step: WrittenStep) -> None:
        need("sand" not in self.done, "it is measured before sanding when it is sanded already")
        need("second" in self.done or not self._comes_off(), "it is measured before it is to size")
        need("set them off again" in step.words, "it is measured at stations whose lines went with the wood")
        for joint in (joint for joint in self.spar.joints if joint.kind in APART):
            need(self._says(step, joint.at), f"nothing says how far on the stations beyond {joint.at:.0f} lie")

    def ends(self, step: WrittenStep) -> None:
        need("sand" in self.done, "it is sawn to length before it is shaped: the marks hang on the waste")
        said = re.search(
            rf"Saw off the waste .*?({IN_WORDS}) from (?:one to the other|the bottom of the throat)", step.words
        )
        if said and "throat" in said[0]:
            need("throat" in self.done, "the length is measured from a throat that is not cut")
        need(said is not None, "nothing says how long it is sawn")
        assert said
        self._close(self.mm(said[1]), self.spar.length, "sawn to length")
        self.lines.discard(("centre", "ends"))
        for end, begins in re.findall(rf"The (heel|head): [^.]*? beginning ({IN_WORDS}) from the end", step.words):
            for fitting in (
                fitting for fitting in self.spar.fittings if self._is_let_in(fitting) or fitting.hole or fitting.slot
            ):
                at = self.meant.middle(fitting)
                sizes = (fitting.length, fitting.hole, fitting.slot_long, fitting.barrel)
                free = (at if end == "heel" else self.spar.length - at) - max(size or 0.0 for size in sizes) / 2
                told = f"The rounding of the {end} reaches the {fitting.kind}" in step.words
                need(told or free >= self.mm(begins) - self.near, f"the {fitting.kind} at {at:.0f} is rounded over")

    def measure(self, step: WrittenStep) -> None:
        need("ends" in self.done, "it is measured before it is sawn to length")
        for row in self._table(step).rows:
            at = min(self.mm(row["station"]), self.spar.length)
            self._close(self.mm(row["width"]), self.meant.width_at(at), f"measured width at {at:.0f}")
            if is_length(row.get("depth", "")):
                self._close(self.mm(row["depth"]), self.meant.depth_at(at), f"measured depth at {at:.0f}")
            if is_length(row.get("tape reads", "")):
                near = min(self.wood, key=lambda station: abs(station - at))
                self._close(self.mm(row["tape reads"]), self._meant(near).length, f"tape at {at:.0f}", 6 * self.near)

    def _finished(self) -> None:
        need(self.card.steps[-1].title.startswith("Measure"), "it is not measured at the end")
        for at in self.ats:
            meant, left = self._meant(at), self.wood[at]
            over = left.difference(meant.buffer(RIDGE[self.card.unit] + 2 * self.near))
            need(over.area < 1e-6, f"at {at:.0f} more is left than sanding takes")
            need(
                meant.difference(left.buffer(2 * self.near)).area < 1e-3 * meant.area, f"too little is left at {at:.0f}"
            )
        for fitting in self.spar.fittings:
            need(("fittings", "all round") in self.lines, f"the {fitting.kind} is nowhere on the card")
            need(not self._is_let_in(fitting) or fitting in self.let_in, f"the {fitting.kind} is not let in")
            need(not fitting.slot or "slots" in self.done, f"the slot of the {fitting.kind} is not cut")
            need(not fitting.hole or "holes" in self.done, f"the hole of the {fitting.kind} is not bored")
        for joint in self.spar.joints:
            need("part" in self.done or joint.kind not in APART, f"the {joint.kind} is not sawn")
            need("scarf" in self.done or joint.kind != "scarf", "the scarf is not made")
        need("hollow" in self.done or not self._is_hollow(), "it is not hollowed")
        need("glue" in self.done or self.spar.section != "staves", "the staves are not glued")
        for start, end, kind, _ in self.meant.regions:
            alike = CORNERS.get(kind, 99) == CORNERS.get(self.spar.section, 99)
            need(alike or f"{kind} from" in self.card.head, f"the {kind} from {start:.0f} to {end:.0f} is lost")


_OPERATIONS: tuple[tuple[str, Callable[["Walk", WrittenStep], None]], ...] = (
    ("Rip and plane the staves", Walk.rip),
    ("Notch one edge", Walk.notch),
    ("Taper the plain edges", Walk.taper),
    ("Make the plugs", Walk.plugs),
    ("Put it together dry", Walk.dry),
    ("Glue the ring", Walk.glue),
    ("Plane the corners flush", Walk.flush),
    ("Line out and take the corners off", Walk.twice),
    ("Take those corners off as well", Walk.again),
    ("Scarf the stick", Walk.scarf),
    ("True the two halves", Walk.halves),
    ("Hollow the two halves", Walk.hollow),
    ("True the blank", Walk.true),
    ("Join the parts", Walk.join),
    ("Strike the centre line", Walk.centre),
    ("(Taper|Plane) the first", Walk.first),
    ("Turn it a quarter", Walk.turn),
    ("(Taper|Plane) the second", Walk.second),
    ("Ease the edges", Walk.edges),
    ("Line out the eight", Walk.lines_8),
    ("Take the corners off: eight", Walk.eight),
    ("Line out the sixteen", Walk.lines_16),
    ("Take the eight corners off", Walk.sixteen),
    ("Take the sixteen corners off", Walk.thirty_two),
    ("Round it with the router", Walk.routed),
    ("Round it", Walk.round_it),
    ("Pare the run-outs", Walk.run_outs),
    ("Sand it", Walk.sand),
    ("Saw the parts apart", Walk.part),
    ("Mark the fittings", Walk.mark_fittings),
    ("Let in", Walk.let_in_step),
    ("Make the jaws", Walk.jaws),
    ("Bore the holes", Walk.holes),
    ("Saw to length", Walk.ends),
    ("Measure before sanding", Walk.before_sanding),
    ("Cut the slots", Walk.slots),
    ("Cut the heel to the throat", Walk.throat),
    ("Measure it", Walk.measure),
)
