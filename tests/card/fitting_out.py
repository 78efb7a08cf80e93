"""What is let into the spar, bored through it and put on it, held against the profile and against plain geometry."""

import re
from math import cos, pi, radians, sin, sqrt, tan

from shopcompanion.spar.fitting import Fitting

from .shaping import APART, Rounded
from .stick import need
from .written import IN_WORDS, Row, WrittenStep, is_length

LEATHER, CLEARANCE = {"in": 25.4 / 8, "mm": 3.0}, {"in": 25.4 * 3 / 16, "mm": 5.0}  # mm: of jaws by default
CUT = ("length", "flat", "hole", "slot")
NAMES = {"length": "long", "flat": "flat deep", "hole": "hole", "slot": "slot"}


class FittedOut(Rounded):
    """Fittings marked, let in, bored and slotted; dowels clear of a hinge; jaws that go round the mast."""

    # Marks

    def mark_fittings(self, step: WrittenStep) -> None:
        need("part" in self.done or not any(joint.kind in APART for joint in self.spar.joints),
             "fittings are marked while the kerf is still to come off")  # fmt: skip
        need(("centre", "ends") in self.lines and "Strike the centre lines of the faces again" in step.words,
             "fittings are marked by lines that went with the wood")  # fmt: skip
        table = self._table(step)
        need(len(table.rows) == len(self.spar.fittings), f"{len(table.rows)} fittings of {len(self.spar.fittings)}")
        for fitting in self.spar.fittings:
            rows = [row for row in table.rows if re.match(rf"{fitting.kind}\b", row["fitting"])]
            at = self.meant.middle(fitting)
            row = next((row for row in rows if abs(self._at(row) - at) <= self.near), None)
            need(row is not None, f"the {fitting.kind} at {at:.0f} is not marked where its middle is")
            assert row
            for name in CUT:
                if size := getattr(fitting, name):
                    need(is_length(row.get(NAMES[name], "")), f"the {fitting.kind} at {at:.0f} has no '{NAMES[name]}'")
                    self._close(self.mm(row[NAMES[name]]), size, f"{NAMES[name]} of the {fitting.kind}")
        self.lines.add(("fittings", "all round"))

    def _at(self, row: Row) -> float:
        return self.mm(row.get("middle") or row["station"])

    # Flats, bars, barrels

    def let_in_step(self, step: WrittenStep) -> None:
        need(("fittings", "all round") in self.lines, "it is let in before it is marked")
        low, high = self._range(step)
        fitting = next((fitting for fitting in self.spar.fittings
                        if self._is_let_in(fitting) and fitting not in self.let_in
                        and abs(self.meant.middle(fitting) - (low + high) / 2) <= 2 * self.near
                        and f"the {fitting.kind}" in step.title), None)  # fmt: skip
        need(fitting is not None, f"'{step.title}' is let in for nothing that the profile has there")
        assert fitting
        self._close(high - low, fitting.length or 0.0, "how long it is let in", 2 * self.near)
        named = re.search(rf", at ({IN_WORDS})$", step.title)
        need(named is not None, f"'{step.title}' says not where")
        assert named
        self._close(self.place(named[1]), self.meant.middle(fitting), "the station in the title")
        need(-self.near <= low and high <= self.spar.length + self.near, "it is let in beyond an end")
        need(f"face {fitting.face[0]}" in step.words, f"it is let in in another face than {fitting.face}")
        if " and " in fitting.face:
            need(f"The same on {fitting.face[-1]}" in step.words, f"nothing is cut in {fitting.face[-1]}")
        self._deep_enough(step, fitting)
        if fitting.kind == "hinge":
            self._bolted(step, fitting)
        self.let_in.append(fitting)

    def _crown(self, fitting: Fitting, at: float) -> float:
        size = self.meant.depth_at if fitting.face[0] in "AC" else self.meant.width_at
        return size(min(max(at, 0.0), self.spar.length)) / 2

    def _deep_enough(self, step: WrittenStep, fitting: Fitting) -> None:
        """Flat, bar and barrel are as deep as the profile has them."""
        if fitting.flat:
            self._flat(step, fitting, self._crown(fitting, self.meant.middle(fitting)) - fitting.flat)
        floors = [self.mm(said) for said in re.findall(rf"its floor ({IN_WORDS}) below the crown", step.words)]
        for name in ("bar_deep", "barrel_deep"):
            if value := getattr(fitting, name):
                need(any(abs(floor - value) <= self.near for floor in floors), f"no {name} of {value:.1f} mm is said")
        for name in ("bar", "barrel"):
            if value := getattr(fitting, name):
                need(self._says(step, value), f"nothing says the {name} of the {fitting.kind}, {value:.1f} mm")

    def _flat(self, step: WrittenStep, fitting: Fitting, floor: float) -> None:
        """One plane at the floor that the profile has in the middle; told where the spar is too thin for it."""
        said = re.search(rf"a floor ({IN_WORDS}) above the centre line", step.words)
        if said:
            self._close(self.mm(said[1]), floor, "floor of the flat")
        else:
            need(self._says(step, fitting.flat or 0.0), "nothing says how deep the flat is")
        for table in step.tables:
            for row in table.rows if "flat" in (table.name, table.name or "flat") else []:
                at, deep = self.place(row["station"]), self.mm(row["below crown"])
                wrong = abs(self._crown(fitting, at + self.near) - self._crown(fitting, at - self.near))
                self._close(deep, max(0.0, self._crown(fitting, at) - floor), f"flat at {at:.0f}", self.near + wrong)
        middle, half = self.meant.middle(fitting), (fitting.length or 0.0) / 2
        out = [end for end in (middle - half, middle + half) if self._crown(fitting, end) < floor - self.near]
        told = re.search(rf"The flat runs out at ({IN_WORDS})(?: and ({IN_WORDS}))?:", step.words)
        need(not out or told is not None, f"the flat does not reach {(out or [0])[0]:.0f}, and nothing says so")
        for place in (self.place(text) for text in (told.groups() if told else ()) if text):
            slope = abs(self._crown(fitting, place + 1) - self._crown(fitting, place - 1)) / 2
            self._close(self._crown(fitting, place), floor, f"the crown at {place:.0f}", self.near * (slope + 0.02))

    @staticmethod
    def _is_let_in(fitting: Fitting) -> bool:
        return bool(fitting.flat or fitting.bar or fitting.barrel)

    def _range(self, step: WrittenStep) -> tuple[float, float]:
        said = re.search(rf"from ({IN_WORDS}) to ({IN_WORDS})", step.words)
        need(said is not None, f"'{step.title}' says not from where to where")
        assert said
        return self.place(said[1]), self.place(said[2])

    # The hinge

    def _bolted(self, step: WrittenStep, fitting: Fitting) -> None:
        """Its holes lie in its leaves, two diameters from every edge of them, and clear of its barrel."""
        if "Where its holes may be cannot be worked out" in step.words:
            return
        rows = re.search(
            rf"holes of ({IN_WORDS}) in each leaf, (?:two rows ({IN_WORDS}) apart|one row in the middle), the first "
            rf"({IN_WORDS}) from the joint or more, the last ({IN_WORDS}) or less",
            step.words,
        )
        need(rows is not None, "nothing says where the holes of the hinge are")
        assert rows
        hole, apart, first, last = (self.mm(text) if text else 0.0 for text in rows.groups())
        if fitting.hole:
            self._close(hole, fitting.hole, "holes of the hinge")
        leaf = (fitting.length or 0.0) / 2
        need(first >= (fitting.barrel or 0.0) / 2 + 2 * hole - self.near, "a hole too near to the barrel")
        need(not leaf or last <= leaf - 2 * hole + self.near, "a hole too near to the end of its leaf")
        need(first <= last + self.near, "the leaves have no room for a hole")
        if fitting.flat and leaf and self.meant.round_at(self.meant.middle(fitting)):
            middle = self.meant.middle(fitting)
            floor = self._crown(fitting, middle) - fitting.flat
            halves = [self._chord(fitting, at, floor) for at in (middle - leaf, middle, middle + leaf)]
            beside = min(halves) - apart / 2 + self.near  # from the middle of a hole to the edge
            told = "less than their own width of wood beside them" in step.words
            need(beside >= (2 if apart else 1.5) * hole or told, "a hole too near to the edge of the flat")

    def _chord(self, fitting: Fitting, at: float, floor: float) -> float:
        """Half the width of a flat in the round, or in the oval, whose floor is so high over the centre line."""
        crown = self._crown(fitting, at)
        at = min(max(at, 0.0), self.spar.length)
        across = self.meant.width_at(at) if fitting.face[0] in "AC" else self.meant.depth_at(at)
        return across / 2 * sqrt(max(0.0, 1 - (floor / crown) ** 2))

    def join(self, step: WrittenStep) -> None:
        super().join(step)
        for joint in (joint for joint in self.spar.joints if joint.kind == "hinge"):
            row = self._row(self._table(step), "joint", joint.at)
            hinge = next((fitting for fitting in self.spar.fittings if fitting.kind == "hinge" and
                          abs(self.meant.middle(fitting) - joint.at) < 1e-3), None)  # fmt: skip
            if hinge is None:
                need(
                    "No hinge is given" in step.words, f"the joint at {joint.at:.0f} has no hinge, and nothing says so"
                )
            elif row and "cannot be worked out" not in step.words:
                self._clear_of(row, hinge, joint.at)

    def _clear_of(self, row: Row, hinge: Fitting, at: float) -> None:
        """No dowel lies in what the hinge takes: above its floor, or where a row of its holes goes through."""
        thick, count = self.mm(row["thick"]), int(row["dowels"])
        circle = self.mm(row["on a circle of"]) if is_length(row.get("on a circle of", "")) else 0.0
        along = "x" if row["on the line"] == "B to D" else "y"
        up = "y" if hinge.face[0] in "AC" else "x"  # the way that the hinge's face looks
        turns = [(pi / count if count % 2 == 0 else pi / 2) + 2 * pi * k / count for k in range(count)]
        floor = self._crown(hinge, at) - max(hinge.flat or 0.0, hinge.barrel_deep or 0.0)
        for turn in turns if count > 1 else [0.0]:
            out, beside = circle / 2 * sin(turn), circle / 2 * cos(turn)
            deep, side = (out, beside) if along == up else (beside, out)
            need(deep + thick / 2 <= floor + self.near, f"a dowel at {at:.0f} lies in what the hinge takes")
            self._clear_of_holes(row, hinge, abs(side), thick)

    def _clear_of_holes(self, row: Row, hinge: Fitting, side: float, thick: float) -> None:
        step = next((step for step in self.card.steps if step.title.startswith("Let in the hinge")), None)
        said = step and re.search(rf"holes of ({IN_WORDS}) in each leaf, (?:two rows ({IN_WORDS}) apart)?", step.words)
        if not step or not said:
            return
        hole, apart = self.mm(said[1]), self.mm(said[2]) if said[2] else 0.0
        first = re.search(rf"the first ({IN_WORDS}) from the joint", step.words)
        short = first is not None and self.mm(row["bore each part"]) <= self.mm(first[1]) - hole / 2 + thick
        clear = (
            side - thick / 2 >= apart / 2 + hole / 2 - self.near or side + thick / 2 <= (apart - hole) / 2 + self.near
        )
        need(clear or short, "a dowel lies where the holes of the hinge go through")

    # Holes and slots

    def holes(self, step: WrittenStep) -> None:
        need(("fittings", "all round") in self.lines, "holes are bored before they are marked")
        table = self._table(step)
        wanted = [(fitting, self.meant.middle(fitting) + off) for fitting in self.spar.fittings if fitting.hole
                  for off in self._spread(fitting)]  # fmt: skip
        need(len(table.rows) == len(wanted), f"{len(table.rows)} holes, the profile has {len(wanted)}")
        for fitting, at in wanted:
            row = next((row for row in table.rows if abs(self._at(row) - at) <= self.near
                        and abs(self.mm(row["hole"]) - (fitting.hole or 0)) <= self.near
                        and row["for"].endswith(f", {fitting.kind}")), None)  # fmt: skip
            need(row is not None, f"the hole of the {fitting.kind} is not bored at {at:.0f}")
            assert row
            way = "B to D" if fitting.face[0] in "BD" else "A to C"
            need(way in row["for"], f"the hole of the {fitting.kind} goes not {way}")
            need((fitting.hole or 0) / 2 <= self._at(row) + self.near, "a hole in the end grain")
            need(self._at(row) + (fitting.hole or 0) / 2 <= self.spar.length + self.near, "a hole in the end grain")
        self.done.add("holes")

    @staticmethod
    def _spread(fitting: Fitting) -> list[float]:
        """How far its holes are from its middle: one in the middle of each of as many equal parts of its length."""
        parts = fitting.holes
        return [(fitting.length or 0.0) * (2 * k + 1 - parts) / (2 * parts) for k in range(parts)]

    def slots(self, step: WrittenStep) -> None:
        need(("fittings", "all round") in self.lines, "slots are cut before they are marked")
        table = self._table(step)
        wanted = [fitting for fitting in self.spar.fittings if fitting.slot]
        need(len(table.rows) == len(wanted), f"{len(table.rows)} slots, the profile has {len(wanted)}")
        for fitting in wanted:
            at = self.meant.middle(fitting)
            row = next((row for row in table.rows if abs(self._at(row) - at) <= self.near
                        and row["for"].endswith(f", {fitting.kind}")), None)  # fmt: skip
            need(row is not None, f"no slot for the {fitting.kind} at {at:.0f}")
            assert row
            self._close(self.mm(row["wide"]), fitting.slot or 0.0, f"slot of the {fitting.kind}")
            self._close(self.mm(row["long"]), fitting.slot_long or 0.0, f"length of the slot of the {fitting.kind}")
            need(("B to D" if fitting.face[0] in "BD" else "A to C") in row["for"], "a slot through other faces")

    # Jaws

    def throat(self, step: WrittenStep) -> None:
        need(any(fitting.kind == "jaws" for fitting in self.spar.fittings), "a heel is cut for jaws that it has not")
        need("jaws" not in self.done, "the heel is cut to the throat when the jaws are on")
        radius, deep = self._said(step, rf"to a radius of ({IN_WORDS}), ({IN_WORDS}) deep")
        seats = re.search(rf"a flat ({IN_WORDS}) deep in [A-D] and another in [A-D]", step.words)
        jaws = next(fitting for fitting in self.spar.fittings if fitting.kind == "jaws")
        if not jaws.flat:  # no step of its own has cut them
            need(seats is not None, "the heel is hollowed between seats that no step has cut")
        (across,) = self._said(step, rf"A template of the throat, ({IN_WORDS}) across")
        self._close(across, 2 * radius, "the throat's template")
        width, through = self.meant.width_at(0.0), self.meant.depth_at(0.0)
        if self.spar.section != "oval" and jaws.flat:
            half = min(width / 2 - jaws.flat, radius)
            self._close(deep, radius - sqrt(radius**2 - half**2), "how deep the heel is hollowed")
        bevel = re.search(r"Saw the heel ([0-9.]+)° off square", step.words)
        need(bevel is not None or "Saw the heel square" in step.words, "nothing says how the heel is sawn")
        if bevel:
            (off,) = self._said(step, rf"from one side of the spar to the other that is ({IN_WORDS})")
            if self.spar.section != "oval":
                self._close(off, through * tan(radians(float(bevel[1]))), "the bevel through the spar")
        self._goes_round(2 * radius)

    def _goes_round(self, opening: float) -> None:
        """The jaws go round the mast of the boat where it is thickest, with leather and clearance."""
        need(self.mast is not None, "jaws are made for no mast")
        least = (self.mast or 0.0) + 2 * (LEATHER[self.card.unit] + CLEARANCE[self.card.unit])
        self._close(opening, least, "between the horns, for the mast")

    def jaws(self, step: WrittenStep) -> None:
        jaws = next((fitting for fitting in self.spar.fittings if fitting.kind == "jaws"), None)
        need(jaws is not None, "jaws are made for a spar without any")
        assert jaws
        (opening,) = self._said(step, rf"Between the horns ({IN_WORDS})")
        (radius,) = self._said(step, rf"the throat a half round of ({IN_WORDS})")
        horn, horns = self._said(step, rf"each horn ({IN_WORDS}) wide and ({IN_WORDS}) from throat to tip")
        long, along, wide = self._said(
            step, rf"each ({IN_WORDS}) long, ({IN_WORDS}) of it on the spar, ({IN_WORDS}) wide across"
        )
        self._close(radius, opening / 2, "the throat's radius")
        self._goes_round(opening)
        self._close(long, along + horns, "length of a cheek", 2 * self.near)
        need(horns > opening / 2, "the horns do not reach the middle of the mast")
        if jaws.length:
            self._close(along, jaws.length, "cheeks along the spar")
        (seat,) = self._said(step, rf"({IN_WORDS}) deep, one on [A-D] and one on [A-D]")
        if jaws.flat:
            self._close(seat, jaws.flat, "flats of the jaws")
        if self.spar.section != "oval":
            outside = opening / 2 + horn
            self._close(wide, outside - (self.meant.width_at(0.0) / 2 - seat), "width of a cheek", 2 * self.near)
        self._rods(step, jaws, along, 2 * (opening / 2 + horn))

    def _rods(self, step: WrittenStep, jaws: Fitting, along: float, wood: float) -> None:
        """The rods lie evenly along the cheeks, go through both and the spar, and stand where their holes are bored."""
        said = re.search(
            rf"([0-9]+) rods, the first ({IN_WORDS}) from the heel(?: and then ({IN_WORDS}) apart)?", step.words
        )
        need(said is not None, "nothing says where the rods of the jaws go")
        assert said
        count, first = int(said[1]), self.mm(said[2])
        apart = self.mm(said[3]) if said[3] else 0.0
        need(not jaws.hole or not jaws.length or count == jaws.holes, f"{count} rods, the profile has {jaws.holes}")
        self._close(2 * first + (count - 1) * apart, along, "the rods along the cheeks", count * self.near)
        thick, long = self._said(step, rf"Each rod is ({IN_WORDS}) thick and ({IN_WORDS}) long")
        need(long >= wood - 2 * self.near, "a rod shorter than what it goes through")
        if jaws.hole:
            self._close(thick, jaws.hole, "rods of the jaws")
            bored = [step for step in self.card.steps if step.title.startswith("Bore the holes")]
            rows = [row for step in bored for row in self._table(step).rows if row["for"].endswith(", jaws")]
            for k, row in enumerate(rows):
                self._close(self._at(row), first + k * apart, f"rod {k + 1} of the jaws", 2 * self.near)

    def _said(self, step: WrittenStep, pattern: str) -> list[float]:
        """The lengths of a pattern in the words of a step."""
        match = re.search(pattern, step.words)
        need(match is not None, f"'{step.title}' does not say '{pattern.replace(IN_WORDS, '…')}'")
        assert match
        return [self.mm(text) for text in match.groups()]
