"""The finder: everything that can be gone to or done, by some words of it."""

from collections.abc import Mapping
from contextlib import suppress
from functools import partial
from typing import TYPE_CHECKING

from ..catalog import STAGES, all_loaded, load
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


_OPENS = {"sheet": "sheet", "glance": "glance", "job": "job", "timber": "stock"}  # the action that opens a screen


class Finder:
    """Makes the list of what can be found, and opens what is picked. `keys` are the keys in force by action."""

    def __init__(
        self, app: "Companion", session: Session, screens: Screens, spars: Spars, keys: Mapping[str, str]
    ) -> None:
        self.app, self.session, self.screens, self.spars = app, session, screens, spars
        self.keys = keys
        self.looking = False  # whether steps of the job are being worked out
        self._steps: tuple[object, list[PickerRow]] = (None, [])  # with what they are of

    def do_find(self, typed: str = "") -> None:
        """List everything that can be gone to or done, found by name or by a question; `typed` stands there already."""
        title = "Find by a name, or ask: print the card"
        others = [*self._spars(), *self._actions(), *self._themes()]
        choices = [*self._calculators(all_loaded()), *others]
        picker = self.screens.pick(
            title, choices, lambda act: act(), numbered=True, asked=self._only_asked(), typed=typed
        )
        if all_loaded():
            self._add_steps(picker)
        else:
            self.app.call_after_refresh(self._complete, picker, others)

    def _complete(self, picker: "Picker", others: list[PickerRow]) -> None:
        """Say of the calculators what they answer, which takes loading them: the list is painted before."""
        picker.replace([*self._calculators(whole=True), *others])
        self._add_steps(picker)

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

    # --- the steps of the job -------------------------------------------------------------------------------------

    def _add_steps(self, picker: "Picker") -> None:
        """Add the steps of the spar's job to what can be found: at once when they are known, else beside the keys."""
        from ..card.steps import steps

        boat, spar, rule = self.session.boat, self.session.spar, self.session.rule
        of = (self.session.state.text, self.session.spar_name, rule)
        if self._steps[0] == of or spar is None:
            picker.add(self._steps[1] if spar else ())
            return

        def work() -> None:
            listed: list[PickerRow] = []
            with suppress(CompanionError):  # told where the job is opened
                listed = [self._step_choice(step) for step in steps(boat, spar, rule)]
            self.app.call_from_thread(take, listed)

        def take(listed: list[PickerRow]) -> None:
            self._steps, self.looking = (of, listed), False
            picker.add(listed)

        self.looking = True
        self.app.run_worker(work, thread=True, exit_on_error=False)

    def _step_choice(self, step: "Step") -> PickerRow:
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
