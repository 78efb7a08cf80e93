"""The sheet's first page: every station, what it is to be, what was measured, and what is still to come off."""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from .. import form
from ..calculator import Result
from ..catalog import load
from ..errors import InputFault, InputFaults
from ..lengths import RULES, Rule, Unit, read, show
from ..profile.follow import follow
from ..profile_text import edit_spar
from .rows import SheetColumn
from .session import Session

_GIRTH = "girth"


class MeasurePage:
    """The first page of the sheet.

    Only `measured` can be written: two to four widths with `&` between them, one for all ways alike, or `girth` and the
    tape's reading.
    """

    title = "measure"
    pending_reason = shut = ""
    columns: Sequence[SheetColumn] = (
        SheetColumn("at", "Station"),
        SheetColumn("width", "Width"),
        SheetColumn("off_each_face", "Off each face"),
        SheetColumn("mark_8", "Line for 8"),
        SheetColumn("mark_16", "Line for 16"),
        SheetColumn("measured", "Measured"),
        SheetColumn("to_come_off", "To come off"),
    )
    fixed = ("at", "width", "off_each_face", "mark_8", "mark_16", "to_come_off")  # cannot be written

    def __init__(self, session: Session) -> None:
        self.session = session
        self.log: Result | None = None
        self._ats: list[float] = []
        self.rows: list[dict[str, str]] = []
        self.renew()

    def columns_to_hide(self, here: str) -> list[str]:
        """The columns to go where it is narrow, in that order."""
        return ["mark_16", "mark_8", "off_each_face"]

    def renew(self) -> None:
        """Every station of the spar and of its log, by the calculators."""
        session = self.session
        rule, spar = session.rule, session.spar
        self.rows, self._ats = [], []
        if spar is None:
            return
        steps = spar.outline().steps(304.8 if rule.unit == "in" else 500.0)
        self._ats = sorted({*steps, *(measured.at for measured in spar.log)})
        written = {round(at, 3): row for at, row in self._logged() if at is not None}
        self.log = self._run("log")
        states = self._states()
        for at in self._ats:
            taper, facets = self._answers("taper", at), self._answers("facets", at)
            row = written.get(round(at, 3), {})
            girth = f"{_GIRTH} {row['girth']}" if row.get("girth") else ""
            numbers = {
                "width": taper and taper.width_at,
                "off_each_face": taper and taper.off_each_face,
                "mark_8": (facets and facets.mark_8) or None,  # nothing where the corner is whole
                "mark_16": (facets and facets.mark_16) or None,
            }
            said = {name: "" if value is None else show(value, rule) for name, value in numbers.items()}
            said["measured"] = girth or row.get("widths", "").replace(";", " &")
            said["to_come_off"] = states.get(round(at, 3), "")
            self.rows.append({"at": show(at, rule), **{name: bare(text, rule) for name, text in said.items()}})

    def _logged(self) -> list[tuple[float | None, Mapping[str, str]]]:
        """The log's rows as the file has them, each with its place, None where that cannot be read."""
        session = self.session
        try:
            rows = edit_spar.rows(session.state.text, session.spar_name, "log")
            self.shut = ""
        except InputFault as fault:
            self.shut = fault.reason
            return []
        return [(_place(row.get("at", ""), session.boat.units), row) for row in rows]

    def _answers(self, name: str, at: float) -> Any:
        """The answers of a calculator at a station, or None where it has none."""
        session, calculator = self.session, load(name)
        values = follow(session.boat, session.spar, at)
        try:
            return calculator.work(form.fill(calculator, {}, values, session.rule).inputs(calculator))
        except (InputFault, InputFaults):
            return None

    def _run(self, name: str) -> Result | None:
        session = self.session
        try:
            result: Result = form.solve(load(name), {}, follow(session.boat, session.spar, session.at), session.rule)
        except (InputFault, InputFaults):
            return None
        return result

    def _states(self) -> dict[float, str]:
        """What the log says of each measured station: how much is to come off, or that it is thin."""
        states: dict[float, str] = {}
        for table in self.log.tables if self.log else ():
            names = [column.name for column in table.columns]
            if table.name != "stations":
                continue
            for row in table.rows:
                values: dict[str, Any] = dict(zip(names, row, strict=True))
                off, state = values["to_come_off"], values["state"]
                words = state if state == "at size" else show(abs(off), self.session.rule)
                said = f"thin by {words}" if state == "thin" else words
                key = round(values["at"], 3)
                states[key] = f"{states[key]}, {said}" if key in states else said
        return states

    def ats(self) -> list[float]:
        return self._ats

    def options(self, row: int, name: str) -> tuple[str, ...]:
        return ()

    def cell(self, row: int, name: str) -> str:
        return self.rows[row][name]

    def put(self, row: int, name: str, text: str) -> None:
        """Put what was measured at a station in the log, or take it out. InputFault when it does not read."""
        session, at = self.session, self._ats[row]
        spar, unit = session.spar_name, session.rule.unit
        if self.shut:
            raise InputFault(self.shut)
        said = text.strip()
        if said:
            girth = said[len(_GIRTH) :].strip() if said.casefold().startswith(_GIRTH) else None
            widths = None if girth is not None else [part.strip() for part in said.replace(";", "&").split("&")]
            if widths is not None and len(widths) == 1:  # one reading: all ways alike
                widths *= 2
            where = exact(at)
            session.edit(
                f"measure at {show(at, session.rule)}",
                lambda text: edit_spar.put_measure(text, spar, where, widths, girth, when=date.today(), unit=unit),
            )
        elif self.rows[row]["measured"]:
            kept = [row for place, row in self._logged() if place is None or abs(place - at) > 1e-3]
            session.edit(
                f"no measure at {show(at, session.rule)}",
                lambda profile: edit_spar.set_rows(profile, spar, "log", kept, session.boat.units),
            )
        self.renew()

    def adopt(self) -> None:
        """Take the log's new target for the spar's own. InputFault when there is none."""
        answers = self.log.answers if self.log else None
        if answers is None or answers.new_widths is None:
            raise InputFault("nothing is too thin, so the spar keeps its widths")
        session, spar = self.session, self.session.spar
        if spar is None:
            return

        widths, depths = answers.new_widths, answers.new_depths or ()
        session.edit(f"new target for {spar.name}", lambda text: edit_spar.retarget(text, spar.name, widths, depths))
        self.renew()

    def summary(self, adopts: str) -> list[str]:
        """What the log says of the whole spar; `adopts` is the key that adopts its new target."""
        if self.log is None:
            return []
        answers, rule = self.log.answers, self.session.rule
        if answers.verdict == "nothing measured":
            return ["Type one to four widths in Measured, as 2-11/16 & 2-45/64, or girth 8-1/4; enter goes on."]
        lines = [f"The spar is: {answers.verdict}; its line is {answers.line}."]
        if answers.out_of_round:
            lines[0] += f" Out of round by {show(answers.out_of_round, rule)} at {show(answers.out_of_round_at, rule)}."
        if answers.new_widths is not None:
            widths = ", ".join(show(width, rule, "down").split(",")[0] for _, width in answers.new_widths)
            lines.append(
                f"Too thin by {show(answers.under, rule)} at {show(answers.under_at, rule)}. {adopts} adopts {widths}"
            )
            kept = f"stiffness {answers.stiffness_tip:.0%}, at the worst section {answers.stiffness_worst:.0%}"
            lines.append(f"It keeps: {kept}, strength there {answers.strength_worst:.0%}. A guide, not an approval.")
        return lines


def _place(text: str, unit: Unit) -> float | None:
    try:
        return float(read(text, unit))
    except InputFault:  # the fault is told with the file's others
        return None


def bare(text: str, rule: Rule) -> str:
    """`text` without the unit in force, which stands at the top; as it is where it has feet."""
    return text if " ft" in text else text.replace(f" {rule.unit}", "")


def exact(at: float) -> str:
    """A station as a text that reads back as it is: by the finest rule where it has the mark, else in decimals."""
    text = show(at, RULES[3])
    return text if abs(float(read(text)) - at) < 1e-6 else f"{at:.6f}".rstrip("0").rstrip(".") + " mm"
