"""What is open: the boat's text, the spar, the station, the rule, and what was typed. It knows no screen.

The document is the profile's text itself. Every change to it is a text made from a text, so saving, undo, recovery and
the conflict check all speak of the same thing.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Collection, Mapping
from functools import partial
from typing import TYPE_CHECKING, Any

from .. import form, lengths
from ..calculator import Calculator, Result
from ..catalog import NAMES, load
from ..errors import InputFault, InputFaults
from ..fields import Kind, Text, Value
from ..form import Form
from ..lengths import DEFAULT_RULES, RULES, Rule, Unit, show
from ..profile.follow import follow, notice
from ..profile.left_out import for_answer
from ..profile.parse import Reading, read
from ..profile.preset import spell
from ..profile.read_table import ProfileFault
from ..profile.records import Boat
from ..record import NamedTuple
from .beside import WAIT, Beside

if TYPE_CHECKING:
    from ..profile.records import Preset, Spar
    from ..storage.store import Opened

Typed = Mapping[str, Mapping[str, str]]  # calculator -> input -> the text typed over it
HISTORY = 200


class State(NamedTuple):
    """A step of the history: the boat's text, what is typed, and what the change was."""

    text: str = ""
    typed: Typed = {}  # noqa: RUF012
    what: str = ""  # what the change was, in words
    run: str = ""  # changes of the same run are undone together


class ShownCalculator(NamedTuple):
    """A calculator as it stands: its form, and its result or, while the form has a fault, the last result there was."""

    calculator: Calculator
    form: Form
    result: Result | None
    faults: tuple[InputFault, ...]
    pending: Any = None  # the inputs that are still to be worked out, beside the keys

    @property
    def stale(self) -> bool:
        return bool(self.faults)


class Session:
    """The open boat with its history, the spar, station and rule in hand, and what is typed in every calculator."""

    def __init__(self) -> None:
        self.opened: Opened | None = None
        self.state = State()
        self.saved_text, self.spar_name, self.at = "", "", 0.0
        self.rule: Rule = DEFAULT_RULES["in"]
        self.calculator = NAMES[0]
        self._past: list[State] = []
        self._future: list[State] = []
        self._last: dict[str, Result] = {}
        self._loose: tuple[str, ...] = ()  # what is notched without a boat
        self.beside: Beside | None = None  # where slow answers are worked out beside the keys
        self._read = Reading(Boat(), ())

    # --- the boat -------------------------------------------------------------------------------------------------

    def open(self, opened: "Opened", text: str | None = None) -> None:
        """Take up a boat; `text` when unsaved work is taken up with it."""
        self.opened = opened
        self.saved_text = opened.text
        self._past, self._future, self._last = [], [], {}
        self._read = opened.reading if text is None else read(text)
        self.state = State(opened.text if text is None else text)
        self.rule = self.boat.rule
        self.spar_name = ""
        self.choose_spar(self.boat.spars[0].name if self.boat.spars else "")

    def saved(self, opened: "Opened") -> None:
        self.opened, self.saved_text = opened, opened.text

    def _put(self, state: State) -> None:
        if state.text != self.state.text:
            self._read = read(state.text)
        self.state = state
        names = [spar.name for spar in self.boat.spars]
        if self.spar_name not in names:
            self.choose_spar(names[0] if names else "")

    @property
    def boat(self) -> "Boat":
        return self._read.boat

    @property
    def faults(self) -> tuple[ProfileFault, ...]:
        """What is wrong in the boat's file."""
        return tuple(self._read.faults)

    @property
    def unsaved(self) -> bool:
        return self.opened is not None and self.state.text != self.saved_text

    @property
    def state_word(self) -> str:
        """How the boat in hand stands, for the top of a screen."""
        if self.unsaved:
            return "not saved ●"
        return "no boat" if self.opened is None else "example" if self.opened.listing.is_example else "saved"

    # --- the spar and the station ---------------------------------------------------------------------------------

    @property
    def spar(self) -> "Spar | None":
        for spar in self.boat.spars:
            if spar.name == self.spar_name:
                return spar
        return None

    def choose_spar(self, name: str) -> None:
        """Take up a spar, in the middle of its length; what was typed over another spar's own values is let go."""
        if name == self.spar_name:
            return
        self.spar_name = name
        self._last = {}  # the last good answers are another spar's
        self._retype(self._let_go)
        self.at = 0.0
        stops = self.stops()
        self.at = stops[len(stops) // 2] if stops else 0.0

    def said_of_section(self) -> str:
        """What is to be said of the section at the station: it stays square there, or an oval is taken one way."""
        return notice(load(self.calculator), self.spar, self.at, self.rule)

    def lacking(self, shown: ShownCalculator) -> tuple[str, ...]:
        """What is left out of the boat's file for a fault, and might have changed the answers that are shown."""
        follows = [entry.field.kind.follows for entry in shown.form.entries if entry.origin != "typed"]
        left_out = for_answer(self.boat, self.spar, follows, chosen=True, preset=("", ""))
        return tuple(f"Left out for a fault in the boat's file: {missing.words}" for missing in left_out)

    def stops(self) -> tuple[float, ...]:
        """Where the station key stops: every foot or half metre, and every station, joint, fitting and end."""
        spar = self.spar
        if spar is None:
            return ()
        step = 304.8 if self.rule.unit == "in" else 500.0
        outline = spar.outline()
        marks = {*(joint.at for joint in spar.joints), *(fitting.at for fitting in spar.fittings)}
        if spar.square_to:
            marks.add(spar.square_to)
        places = sorted({*outline.steps(step), *marks})
        return tuple(at for at, before in zip(places, [-1.0, *places], strict=False) if at - before > 1e-6)

    def step(self, by: int) -> bool:
        """Move to the next stop that way. False at the end of the spar."""
        stops = self.stops()
        place = bisect_right(stops, self.at + 1e-6) if by > 0 else bisect_left(stops, self.at - 1e-6) - 1
        if not 0 <= place < len(stops):
            return False
        self.at = stops[place]
        return True

    def go_to(self, at: float) -> None:
        """Go to a station. InputFault when the spar does not reach there."""
        if self.spar is None:
            raise InputFault("no spar is chosen")
        try:
            self.spar.outline().width_at(at)
        except InputFault as fault:
            raise InputFault(fault.with_lengths(partial(show, rule=self.rule)).reason) from None
        self.at = at

    # --- units and rule -------------------------------------------------------------------------------------------

    def next_unit(self) -> None:
        """Inches to millimetres and back; the boat's own rule where it has that unit."""
        other: Unit = "mm" if self.rule.unit == "in" else "in"
        self.use_rule(self.boat.rule if self.boat.rule.unit == other else DEFAULT_RULES[other])

    def next_rule(self) -> None:
        """The next finer rule of the same unit, and after the finest the coarsest."""
        same = [rule for rule in RULES if rule.unit == self.rule.unit]
        self.use_rule(same[(same.index(self.rule) + 1) % len(same)])

    def use_rule(self, rule: Rule) -> None:
        """Put a rule in force. What was typed keeps its meaning: bare numbers get the unit they were typed in."""
        if rule.unit != self.rule.unit:
            self._retype(self._with_unit)
        self.rule = rule

    def _retype(self, change: Callable[[str, str, str], str]) -> None:
        """Change every typed text, those that undo and redo go to as well; an empty one is let go."""

        def changed(state: State) -> State:
            typed = {
                calculator: {name: new for name, text in texts.items() if (new := change(calculator, name, text))}
                for calculator, texts in state.typed.items()
            }
            return state._replace(typed=typed)

        self.state = changed(self.state)
        self._past = [changed(state) for state in self._past]
        self._future = [changed(state) for state in self._future]

    def _let_go(self, calculator: str, name: str, text: str) -> str:
        return "" if self._kind(calculator, name).follows.startswith("spar.") else text

    def _kind(self, calculator: str, name: str) -> Kind:
        return next(field.kind for field in load(calculator).input_fields if field.name == name)

    def _with_unit(self, calculator: str, name: str, text: str) -> str:
        try:
            return spell(self._kind(calculator, name), text, self.rule.unit)
        except InputFault:
            return text  # half typed: it stays as it is

    def keep_rule(self) -> None:
        """Make the rule in force the boat's own."""
        from ..profile_text.edit_boat import set_boat

        rule = self.rule
        self.edit(f"the rule {rule}", lambda text: set_boat(set_boat(text, "units", rule.unit), "rule", str(rule)))

    # --- the form -------------------------------------------------------------------------------------------------

    def texts(self) -> Mapping[str, str]:
        return self.state.typed.get(self.calculator, {})

    def follows(self) -> Mapping[str, Value]:
        return follow(self.boat if self.opened else None, self.spar, self._asked_at())

    def _asked_at(self) -> float:
        """The station, or the place on the spar that is typed over it: what follows the spar is of one place."""
        text = self.texts().get("at", "")
        if self.spar is None or not text:
            return self.at
        try:
            at = float(lengths.read(text, self.rule.unit))
        except InputFault:  # the form tells it
            return self.at
        return at if 0 <= at <= self.spar.length else self.at

    def type(self, name: str, text: str) -> None:
        """Type over a field of the open calculator; an empty text lets it follow again."""
        texts = dict(self.texts())
        if text == texts.get(name, ""):
            return
        if text:
            texts[name] = text
        else:
            texts.pop(name, None)
        self._change(self.state._replace(typed={**self.state.typed, self.calculator: texts}), self._typing(name), name)

    def _typing(self, name: str) -> str:
        """What undo calls the typing in an input."""
        return f"typing in {self._kind(self.calculator, name).label}"

    def shown(self) -> ShownCalculator:
        """The open calculator with everything that fills it now."""
        calculator = load(self.calculator)
        filled = form.fill(calculator, self.texts(), self.follows(), self.rule)
        try:
            inputs = filled.inputs(calculator)
            slow = self.beside if calculator.slow else None
            result = slow.result(calculator, inputs, self.rule) if slow else calculator.run(inputs, self.rule)
            if result is None:
                return ShownCalculator(calculator, filled, self._last_in_rule(), (WAIT,), inputs)
        except InputFaults as several:
            return ShownCalculator(calculator, filled, self._last_in_rule(), tuple(several.faults))
        except InputFault as fault:
            return ShownCalculator(calculator, filled, self._last_in_rule(), (fault,))
        self._last[self.calculator] = result
        return ShownCalculator(calculator, filled, result, ())

    def _last_in_rule(self) -> Result | None:
        last = self._last.get(self.calculator)
        return None if last is None else last._replace(rule=self.rule)

    def check_name(self, name: str) -> None:
        """InputFault unless something of the boat can be called so."""
        Text("Name").read(name, self.rule)

    # --- presets --------------------------------------------------------------------------------------------------

    def presets(self) -> list["Preset"]:
        """The boat's presets of the open calculator that are for any spar or for this one."""
        return [
            preset
            for preset in self.boat.presets
            if preset.calculator == self.calculator and preset.spar in (None, self.spar_name)
        ]

    def check_preset(self) -> None:
        """InputFault unless what is typed in the open calculator can be kept."""
        if not self.texts():
            raise InputFault("nothing is typed here; type the values to keep first")
        for fault in self.shown().faults:
            if fault.field in self.texts():
                raise fault

    def keep_preset(self, name: str) -> None:
        """Keep what is typed in the open calculator under a name, with the boat."""
        from ..profile.records import Preset
        from ..profile_text.edit_boat import put_preset

        self.check_preset()
        inputs = tuple((key, self._with_unit(self.calculator, key, text)) for key, text in self.texts().items())
        preset = Preset(calculator=self.calculator, name=name, spar=None, inputs=inputs)
        self.edit(f"preset '{name}'", lambda text: put_preset(text, preset))

    def rename_preset(self, preset: "Preset", name: str) -> None:
        from ..profile_text.edit_boat import rename_preset

        self.edit(
            f"renaming preset '{preset.name}'",
            lambda text: rename_preset(text, preset.calculator, preset.name, preset.spar, name),
        )

    def use_preset(self, preset: "Preset") -> None:
        typed = {**self.state.typed, self.calculator: dict(preset.inputs)}
        self._change(self.state._replace(typed=typed), f"preset '{preset.name}'")

    def drop_preset(self, preset: "Preset") -> None:
        from ..profile_text.edit_boat import drop_preset

        self.edit(
            f"dropping preset '{preset.name}'",
            lambda text: drop_preset(text, preset.calculator, preset.name, preset.spar),
        )

    # --- the tally ------------------------------------------------------------------------------------------------

    @property
    def tally(self) -> tuple[str, ...]:
        """What is notched, the oldest first: the boat's, or without a boat what was notched since the start."""
        return self.boat.tally if self.opened else self._loose

    def notch(self, words: str) -> None:
        """Put an answer, in words, in the tally. InputFault when it is there already."""
        from ..profile_text.edit_boat import add_notch

        if self.opened:
            self.edit(f"notch '{words}'", lambda text: add_notch(text, words))
        elif words in self._loose:
            raise InputFault("that is notched already")
        else:
            self._loose = (*self._loose, words)

    def drop_notches(self, notches: Collection[str]) -> None:
        """Take notches out of the tally."""
        from ..profile_text.edit_boat import drop_notches

        if self.opened:
            self.edit("clearing notches", lambda text: drop_notches(text, notches))
        else:
            self._loose = tuple(notch for notch in self._loose if notch not in notches)

    # --- changes --------------------------------------------------------------------------------------------------

    def edit(self, what: str, change: Callable[[str], str], run: str = "") -> None:
        """Change the boat's text, undoably, those of one `run` together. InputFault without a boat to change."""
        if self.opened is None:
            raise InputFault("no boat is open; open or make one first")
        self._change(self.state._replace(text=change(self.state.text)), what, run)

    def _change(self, state: State, what: str, run: str = "") -> None:
        if not (run and run == self.state.run and self._past):
            self._past = [*self._past[-HISTORY:], self.state]
        self._future = []
        self._put(state._replace(what=what, run=run))

    def end_run(self) -> None:
        """The next typing is a change of its own."""
        self.state = self.state._replace(run="")

    def undo(self) -> str:
        """Take the last change back; what it was, or nothing."""
        if not self._past:
            return ""
        what = self.state.what
        self._future.append(self.state)
        self._put(self._past.pop()._replace(run=""))
        return what

    def redo(self) -> str:
        """Do the last undone change again; what it was, or nothing."""
        if not self._future:
            return ""
        self._past.append(self.state)
        self._put(self._future.pop()._replace(run=""))
        return self.state.what
