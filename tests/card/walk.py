"""A card walked in its order as operations on a stick of wood, and what has come of it held against the profile."""

import re
from collections.abc import Callable

from shopcompanion.profile.records import Fitting

from .meant import CORNERS
from .shaping import APART, RIDGE, Rounded
from .stick import WalkFault, need
from .written import IN_WORDS, Row, WrittenStep, is_length


class Walk(Rounded):
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
        floor = re.search(rf"the floor ({IN_WORDS}) over the centre line", step.words)
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
        bored = [one for one in self.spar.fittings if one.hole and one.kind != "jaws"]
        if any(step.title.startswith("Cut the slots") for step in self.card.steps):
            bored = [one for one in bored if one.kind != "sheave"]
        others = [row for row in table.rows if not row["for"].endswith("jaws")]
        need(len(others) == len(bored), f"{len(others)} holes, the profile has {len(bored)}")
        self._rods([row for row in table.rows if row not in others])
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

    def _rods(self, rows: list[Row]) -> None:
        """The rods of the jaws: through the cheeks, so within their length on the spar, as thick as the profile has."""
        for fitting in (one for one in self.spar.fittings if one.kind == "jaws" and one.hole):
            need(bool(rows), "no rod goes through the jaws")
            middle, half = self.meant.middle(fitting), (fitting.length or 0.0) / 2
            for row in rows:
                self._close(self.mm(row["hole"]), fitting.hole or 0.0, "rod of the jaws")
                at = self._at(row)
                need(at > self.near and abs(at - middle) <= half + self.near, f"a rod at {at:.0f}, off the jaws")

    def before_sanding(self, step: WrittenStep) -> None:
        need("sand" not in self.done, "it is measured before sanding when it is sanded already")
        need("second" in self.done or not self._comes_off(), "it is measured before it is to size")

    def slots(self, step: WrittenStep) -> None:
        need(("fittings", "all round") in self.lines, "slots are cut before they are marked")
        for fitting in (one for one in self.spar.fittings if one.kind == "sheave"):
            at = self.meant.middle(fitting)
            need(any(abs(self._at(row) - at) <= self.near for table in step.tables for row in table.rows)
                 or self._says(step, at), f"no slot for the sheave at {at:.0f}")  # fmt: skip

    def throat(self, step: WrittenStep) -> None:
        need(any(one.kind == "jaws" for one in self.spar.fittings), "a heel is cut for jaws that it has not")
        need("jaws" not in self.done, "the heel is cut to the throat when the jaws are on")

    def jaws(self, step: WrittenStep) -> None:
        need(any(one.kind == "jaws" for one in self.spar.fittings), "jaws are made for a spar without any")

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


_OPERATIONS: tuple[tuple[str, Callable[["Walk", WrittenStep], None]], ...] = (
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
