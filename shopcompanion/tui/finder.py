"""The finder: everything that can be gone to or done, by some words of it."""

from collections.abc import Iterator, Mapping
from functools import partial
from time import monotonic
from typing import TYPE_CHECKING

from ..catalog import NAMES, STAGES, all_loaded, load
from ..errors import CompanionError
from . import other_words
from .keys import ACTIONS, Action, first_key
from .screens import Screens
from .search import PickerRow
from .session import Session
from .spars import Spars
from .themes import THEMES

if TYPE_CHECKING:
    from ..card.steps import Step
    from .app import Companion
    from .job import Job
    from .picker import Picker


WORK, REST = 0.003, 0.004  # seconds in turn, while something of the list is worked out
_OPENS = {"sheet": "sheet", "glance": "glance", "job": "job", "timber": "stock"}  # the action that opens a screen


class Finder:
    """Makes the list of what can be found, and opens what is picked. `keys` are the keys in force by action."""

    def __init__(
        self, app: "Companion", session: Session, screens: Screens, spars: Spars, keys: Mapping[str, str]
    ) -> None:
        self.app, self.session, self.screens, self.spars = app, session, screens, spars
        self.keys = keys
        self.looking = False  # whether something of the list is still being worked out
        self._left: Iterator[None] = iter(())  # what is to be done for that, in pieces
        self._steps: tuple[object, list[PickerRow]] = (None, [])  # of the job, with what they are of

    def do_find(self, typed: str = "") -> None:
        """List everything that can be gone to or done, found by name or by a question; `typed` stands there already."""
        title = "Find by a name, or ask: print the card"
        others = [*self._spars(), *self._actions(), *self._themes()]
        loaded, known = all_loaded(), self._steps[0] == self._of()
        choices = [*self._calculators(loaded), *others, *(self._steps[1] if known else ())]
        picker = self.screens.pick(
            title, choices, lambda act: act(), numbered=True, asked=self._only_asked(), typed=typed
        )
        if loaded and known:
            return
        self._left = self._rest(picker, others)
        if not self.looking:
            self.looking = True
            self.app.call_after_refresh(self._go_on)  # the list is painted before

    def _go_on(self) -> None:
        """Work for a moment, and leave the next one to the keys. (A thread would keep a megabyte of its own.)"""
        end = monotonic() + WORK
        for _ in self._left:
            if monotonic() > end:
                self.app.set_timer(REST, self._go_on)
                return
        self.looking = False

    def _rest(self, picker: "Picker", others: list[PickerRow]) -> Iterator[None]:
        """Say of the calculators what they answer, which takes loading them, and add the steps of the spar's job."""
        for name in NAMES:
            load(name)
            yield
        picker.replace([*self._calculators(whole=True), *others])
        yield
        from ..card.plan import CardPlan  # a piece of its own
        from ..card.steps import in_order

        yield
        boat, spar, rule, of = self.session.boat, self.session.spar, self.session.rule, self._of()
        steps: list[PickerRow] = []
        try:
            for step in in_order(CardPlan(boat, spar, rule)) if spar else ():
                steps.append(self._step(step))
                yield
        except CompanionError:  # told where the job is opened
            steps = []
        self._steps = (of, steps)
        picker.add(steps)

    def _of(self) -> object:
        """What the steps of the job hang on."""
        return self.session.state.text, self.session.spar_name, self.session.rule

    def _calculators(self, whole: bool) -> list[PickerRow]:
        """Their rows; not `whole`, with their names alone."""
        return [
            PickerRow(
                name, load(name).question if whole else "", partial(self.screens.bench.open, name), stage,
                _other_words(name) if whole else (),
            )
            for stage, names in STAGES.items()
            for name in names
        ]  # fmt: skip

    def _spars(self) -> list[PickerRow]:
        return [
            PickerRow(spar.name, "", partial(self.spars.open, spar.name), "spar") for spar in self.session.boat.spars
        ]

    def _actions(self) -> list[PickerRow]:
        return [
            self._action(action, action.name, first_key(self.keys, action.name))
            for action in ACTIONS
            if action.in_finder and "bench" in action.where
        ]

    def _only_asked(self) -> list[PickerRow]:
        """Actions that only a question finds: those that a key alone does at the bench, and those of a screen over it,
        which is then opened.
        """
        made = []
        for action in ACTIONS:
            key = first_key(self.keys, action.name)
            opener = next((_OPENS[place] for place in action.where if place in _OPENS), "")
            if "bench" in action.where:
                if not action.in_finder:
                    made.append(self._action(action, action.name, key))
            elif opener:
                made.append(self._action(action, opener, f"{first_key(self.keys, opener)} {key}"))
        return made

    def _action(self, action: Action, does: str, keys: str) -> PickerRow:
        """The row of an action, with its keys; picking it does the action `does`."""
        word = action.short or action.name.partition("(")[0].replace("_", " ")
        return PickerRow(word, action.says, partial(self.app.do, does), keys, other_words.ACTIONS.get(action.name, ()))

    def _themes(self) -> list[PickerRow]:
        return [
            PickerRow(
                name, "use this theme", partial(setattr, self.app, "theme", name), "theme", other_words.THEMES[name]
            )
            for name in (theme.name for theme in THEMES)
        ]

    def _step(self, step: "Step") -> PickerRow:
        return PickerRow(step.title, "", partial(self._open_step, step.id), "step of the job", after=2)

    def _open_step(self, step: str) -> None:
        """Open the job with the cursor on a step."""
        self.app.do("job")
        if self.screens.place == "job":
            job: Job = self.screens.top  # type: ignore[assignment]
            job.go_to(step)


def _other_words(name: str) -> tuple[str, ...]:
    """The other words of a calculator: the trade's, and the labels of what it answers and asks."""
    of = load(name)
    labels = (field.kind.label for field in (*of.answer_fields, *of.input_fields))
    return (*other_words.CALCULATORS.get(name, ()), *labels)
