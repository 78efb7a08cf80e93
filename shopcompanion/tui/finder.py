"""The finder: everything that can be gone to or done, by some words of it."""

from collections.abc import Mapping
from contextlib import suppress
from functools import partial
from typing import TYPE_CHECKING

from ..catalog import STAGES, load
from ..errors import CompanionError
from . import other_words
from .keys import ACTIONS, first_key
from .screens import Screens
from .search import Choice
from .session import Session
from .spars import Spars
from .themes import THEMES

if TYPE_CHECKING:
    from ..card.steps import Step
    from .app import Companion
    from .job import Job
    from .picker import Picker


class Finder:
    """`keys` are those in force."""

    def __init__(
        self, app: "Companion", session: Session, screens: Screens, spars: Spars, keys: Mapping[str, str]
    ) -> None:
        self.app, self.session, self.screens, self.spars = app, session, screens, spars
        self.keys = keys
        self.looking = False  # whether steps of the job are being worked out
        self._steps: tuple[object, tuple[Step, ...]] = (None, ())  # with what they are of

    def do_find(self) -> None:
        """Everything that can be gone to or done, by some of its name."""
        choices = [*self._calculators(), *self._spars(), *self._actions(), *self._themes()]
        self._add_steps(self.screens.pick("Find", choices, lambda act: act(), numbered=True))

    def _calculators(self) -> list[Choice]:
        return [
            Choice(name, load(name).question, partial(self.screens.bench.open, name), stage, _other_words(name))
            for stage, names in STAGES.items()
            for name in names
        ]

    def _spars(self) -> list[Choice]:
        return [Choice(spar.name, "", partial(self.spars.open, spar.name), "spar") for spar in self.session.boat.spars]

    def _actions(self) -> list[Choice]:
        return [
            Choice(
                action.short or action.name.replace("_", " "),
                action.says,
                partial(self.app.call_next, self.app.do, action.name),
                first_key(self.keys, action.name),
                other_words.ACTIONS.get(action.name, ()),
            )
            for action in ACTIONS
            if action.in_finder and "bench" in action.where
        ]

    def _themes(self) -> list[Choice]:
        return [
            Choice(theme.name, "use this theme", partial(setattr, self.app, "theme", theme.name), "theme")
            for theme in THEMES
        ]

    # --- the steps of the job -------------------------------------------------------------------------------------

    def _add_steps(self, picker: "Picker") -> None:
        """Add the steps of the spar's job to what can be found: at once when they are known, else beside the keys."""
        from ..card.steps import steps

        boat, spar, rule = self.session.boat, self.session.spar, self.session.rule
        of = (self.session.state.text, self.session.spar_name, rule)
        if self._steps[0] == of or spar is None:
            picker.add(map(self._step_choice, self._steps[1] if spar else ()))
            return

        def work() -> None:
            listed: tuple[Step, ...] = ()
            with suppress(CompanionError):  # told where the job is opened
                listed = steps(boat, spar, rule)
            self.app.call_from_thread(take, listed)

        def take(listed: "tuple[Step, ...]") -> None:
            self._steps, self.looking = (of, listed), False
            picker.add(map(self._step_choice, listed))

        self.looking = True
        self.app.run_worker(work, thread=True, exit_on_error=False)

    def _step_choice(self, step: "Step") -> Choice:
        return Choice(step.title, "", partial(self._open_step, step.id), "step of the job", after=2)

    def _open_step(self, step: str) -> None:
        """The job, with the cursor on a step."""
        self.app.do("job")
        if self.screens.place == "job":
            job: Job = self.screens.top  # type: ignore[assignment]
            job.go_to(step)


def _other_words(name: str) -> tuple[str, ...]:
    """By what a calculator is found beside its name and question: what it asks and answers, and the trade's words."""
    of = load(name)
    labels = (field.kind.label for field in (*of.answer_fields, *of.input_fields))
    return (*other_words.CALCULATORS.get(name, ()), *labels)
