"""The finder: everything that can be gone to or done, by some words of it."""

from collections.abc import Iterator, Mapping
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
    from ..lengths import Rule
    from ..profile.records import Boat, Spar
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
        self._picker: Picker | None = None  # that waits for the steps of the job
        self._making: Iterator[PickerRow] | None = None  # those that are still to come
        self._steps: list[PickerRow] = []
        self._steps_of: object = None

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
        """Add the steps of the spar's job to what can be found: at once when they are known, else one by one, so that
        no key waits for them all. (A thread would keep a megabyte of its own.)
        """
        boat, spar, rule = self.session.boat, self.session.spar, self.session.rule
        of = (self.session.state.text, self.session.spar_name, rule)
        if spar is None:
            return
        if self._steps_of == of and not self.looking:
            picker.add(self._steps)
            return
        if self._steps_of != of:
            begins = not self.looking
            self._steps_of, self._steps, self._making = of, [], self._made(boat, spar, rule)
            if begins:
                self.app.call_later(self._make_one)
        self._picker = picker

    def _made(self, boat: "Boat", spar: "Spar", rule: "Rule") -> Iterator[PickerRow]:
        from ..card.plan import CardPlan
        from ..card.steps import in_order

        for step in in_order(CardPlan(boat, spar, rule)):
            yield PickerRow(step.title, "", partial(self._open_step, step.id), "step of the job", after=2)

    @property
    def looking(self) -> bool:
        """Whether steps of the job are still being worked out."""
        return self._making is not None

    def _make_one(self) -> None:
        try:
            made = next(self._making, None) if self._making else None
        except CompanionError:  # told where the job is opened
            made, self._steps = None, []
        if made:
            self._steps.append(made)
            self.app.call_later(self._make_one)
        else:
            self._making, picker, self._picker = None, self._picker, None
            if picker:
                picker.add(self._steps)

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
