"""The app: one session, the bench, and everything that a key does."""

import os
import sys
from collections import deque
from collections.abc import Callable
from contextlib import suppress
from functools import partial
from typing import TYPE_CHECKING, Any

from textual import events
from textual.app import App
from textual.driver import Driver
from textual.reactive import Reactive
from textual.screen import Screen
from textual.theme import Theme
from textual.timer import Timer

from .. import version
from ..catalog import NAMES, STAGES, load
from ..errors import CompanionError, InputFault
from ..fields import Text
from ..lengths import read
from ..storage import store
from ..storage.atomic import tidy, wait_no_longer
from ..storage.store import Listing, Places
from . import other_words
from .bench import Bench
from .config import Config, load_config
from .editing import LONGEST
from .files import Files, newest_first
from .flood import Flood
from .guard import last_words, line_of
from .help import help_text
from .idle import Idle
from .keyed import FullScreen
from .keys import ACTIONS, first_key
from .legend import legend
from .paint import rows
from .picker import Choice, Line, Picker
from .printing import Printing
from .reader import HELP, Reader
from .session import Session
from .spars import Spars
from .themes import THEMES, usual
from .timbers import timbers_text
from .view import Message

if TYPE_CHECKING:
    from ..card.steps import Step
    from .ending import Ending
    from .stock import Cutting


SHORT, LONG = 5.0, 9.0  # seconds that a message stands, and a refusal
MOMENT = 0.05  # seconds that a key may wait for a folder that another program holds
AGAIN = 5.0  # seconds until a recovery copy that could not be written is tried again


class Companion(Files, Spars, Printing, App[None], inherit_bindings=False):  # type: ignore[misc]
    CSS_PATH = "bench.tcss"
    ENABLE_COMMAND_PALETTE = False
    TITLE = "shopcompanion"
    theme: Reactive[str] = Reactive(THEMES[0].name)  # the usual one: what is styled by another is styled twice

    def __init__(self, places: Places, listing: Listing | None, spar: str | None, config: Config) -> None:
        self.flood = Flood()
        super().__init__()
        self.places, self.config = places, config
        self.session = Session()
        if listing is not None:
            self.session.open(store.open_boat(listing))
        if spar:
            self.session.choose_spar(spar)
        self._cutting: tuple[str, Cutting] | None = None  # with the boat's text that it is of
        self.finding = False  # whether steps of the job are being worked out for the finder
        self._known_steps: tuple[object, tuple[Step, ...]] = (None, ())  # with what they are of
        self._trying: Timer | None = None  # while the recovery copy cannot be written
        self.idle: Idle | None = None  # in the real program only
        self.ending: Ending | None = None  # there too
        self.told: deque[str] = deque(maxlen=50)  # every message, the newest last
        self.message: Message | None = None  # the one that stands
        self._silence: Timer | None = None  # when it goes
        self.glances = False  # at the first page of a boat that is opened; in the real program
        self.begins_at_bench = False  # without that, when no boat was asked for: on with the work
        self.last_words = ""  # what is said when the app ended by a fault of its own
        self.theme = config.theme or usual(self.console.color_system)
        self.bench = Bench(self.session, config.keys, config.ascii_only)

    @property
    def available_themes(self) -> dict[str, Theme]:
        return {theme.name: theme for theme in THEMES}

    def get_default_screen(self) -> Bench:
        return self.bench

    def on_ready(self) -> None:
        if self.idle:
            self.idle.begin()
        if self.ending:
            self.ending.begin()

    def on_mount(self) -> None:
        self.greet()
        for fault in self.config.faults:
            self.tell(f"in the config file: {fault}", wrong=True)
        if not self.begins_at_bench:
            self.first_page()

    def first_page(self) -> None:
        """The boat at a glance, unless something else is asked first or there is nothing to see."""
        if self.glances and self.screen is self.bench and self.session.boat.spars:
            self.action_glance()

    # --- saying things --------------------------------------------------------------------------------------------

    def tell(self, words: str, wrong: bool = False) -> None:
        """One line at the foot of the screen, in the place of the keys, gone by itself."""
        self.told.append(words)
        self._show_message(Message(words, wrong))
        if self._silence is not None:
            self._silence.stop()
        self._silence = self.set_timer(LONG if wrong else SHORT, self.silence)

    def silence(self) -> None:
        """Take away what stands at the foot."""
        if self._silence is not None:
            self._silence.stop()
            self._silence = None
            self._show_message(None)

    def _show_message(self, message: Message | None) -> None:
        self.message = self.bench.view.message = message
        self.bench.canvas.paint_if_shown()
        for screen in self.screen_stack:
            if isinstance(screen, FullScreen):
                screen.draw()

    def attempt(self, act: Callable[[], object]) -> bool:
        """Do something that may be refused; the reason is told."""
        try:
            act()
        except (CompanionError, OSError) as error:
            self.tell(line_of(error, self.places), wrong=True)
            return False
        return True

    async def on_event(self, event: events.Event) -> None:
        """The one guard of every key and paste: what is refused is told. None is taken once the app is leaving."""
        if isinstance(event, events.Key | events.Paste):
            if self._exit:
                return
            self._too_much(event)
            if self.idle:
                self.idle.pressed()
        try:
            await super().on_event(event)
        except (CompanionError, OSError) as error:
            self.tell(line_of(error, self.places), wrong=True)

    def _too_much(self, event: events.Key | events.Paste) -> None:
        """Tell of a paste that a field cannot hold, and of keys that were let go."""
        if isinstance(event, events.Paste):
            if len(event.text) > LONGEST:
                said = f"pasted {len(event.text):,} characters: a field takes the first {LONGEST} of a line"
                self.tell(said, wrong=True)
        elif gone := self.flood.take():
            self.tell(f"{gone:,} keys came at once, more than a hand types: they were not taken", wrong=True)

    def get_driver_class(self) -> type[Driver]:
        """The terminal's driver, which sends no more keys than can be taken."""
        flood, plain = self.flood, super().get_driver_class()

        class Bounded(plain):  # type: ignore[misc, valid-type]
            def process_message(self, message: events.Event) -> None:
                if not isinstance(message, events.Key) or flood.lets_through():
                    super().process_message(message)

        return Bounded

    def _handle_exception(self, error: Exception) -> None:
        """A fault of the program itself: the work is put where it is found again, and the app ends with one line."""
        self._return_code = 1
        if self._exception is None:
            self._exception = error  # a test is told of it
            self._exception_event.set()
            self.last_words = last_words(error, self.session, self.places)
        self._close_messages_no_wait()

    def pick(self, title: str, choices: list[Choice], then: Callable[[Any], object], **keywords: Any) -> Picker:
        """Show a picker, which is given back; `then` gets what was picked, and nothing happens when none was."""

        def done(value: Any) -> None:
            if value is not None:
                self.attempt(lambda: then(value))

        picker = Picker(title, choices, **keywords)
        self.push_screen(picker, done)
        return picker

    def ask_line(
        self, title: str, check: Callable[[str], object], then: Callable[[str], object], text: str = ""
    ) -> None:
        def done(value: str | None) -> None:
            if value is not None:
                self.attempt(lambda: then(value))

        self.push_screen(Line(title, check, text), done)

    def do(self, name: str) -> None:
        """Do an action by its name in the table of keys, as `save` or `station(-1)`."""
        word, _, given = name.partition("(")
        act = getattr(self, f"action_{word}")
        act(int(given.removesuffix(")"))) if given else act()

    def home(self, then: Callable[[], object]) -> None:
        """Back to the bench, when what is half done on a screen over it is settled; then go on."""

        def there() -> None:
            while self.screen is not self.bench:
                self.screen.dismiss(None)
            then()

        self._settled(there)

    def _settled(self, then: Callable[[], object]) -> None:
        screen = self.screen
        if isinstance(screen, FullScreen):
            screen.settle(then)
        else:
            then()

    # --- finding --------------------------------------------------------------------------------------------------

    def action_find(self) -> None:
        """Everything that can be gone to or done, by some of its name."""
        choices = [
            Choice(name, load(name).question, partial(self._open_calculator, name), stage, _other_words(name))
            for stage, names in STAGES.items()
            for name in names
        ]
        choices += [
            Choice(spar.name, "", partial(self.open_spar, spar.name), "spar") for spar in self.session.boat.spars
        ]
        choices += [
            Choice(
                action.short or action.name.replace("_", " "),
                action.says,
                partial(self.call_next, self.do, action.name),
                self._key_of(action.name),
                other_words.ACTIONS.get(action.name, ()),
            )
            for action in ACTIONS
            if action.in_finder and "bench" in action.where
        ]
        choices.append(Choice("new boat", "a boat of your own: name, units, and what it begins like", self._new))
        choices.append(Choice("species", "all timbers, their figures and where those are from", self._show_timbers))
        choices.append(Choice("keep rule", f"measure this boat by {self.session.rule} from now on", self._keep_rule))
        choices += [
            Choice(theme.name, "use this theme", partial(setattr, self, "theme", theme.name), "theme")
            for theme in THEMES
        ]

        self._add_steps(self.pick("Find", choices, lambda act: act(), numbered=True))

    def _add_steps(self, finder: Picker) -> None:
        """Add the steps of the spar's job to what can be found: at once when they are known, else beside the keys."""
        from ..card.steps import steps

        boat, spar, rule = self.session.boat, self.session.spar, self.session.rule
        of = (self.session.state.text, self.session.spar_name, rule)
        if self._known_steps[0] == of or spar is None:
            finder.add(map(self._step_choice, self._known_steps[1] if spar else ()))
            return

        def work() -> None:
            listed: tuple[Step, ...] = ()
            with suppress(CompanionError):  # told where the job is opened
                listed = steps(boat, spar, rule)
            self.call_from_thread(take, listed)

        def take(listed: "tuple[Step, ...]") -> None:
            self._known_steps, self.finding = (of, listed), False
            finder.add(map(self._step_choice, listed))

        self.finding = True
        self.run_worker(work, thread=True, exit_on_error=False)

    def _step_choice(self, step: "Step") -> Choice:
        return Choice(step.title, "", partial(self._open_step, step.id), "step of the job", after=2)

    def _open_step(self, step: str) -> None:
        """The job, with the cursor on a step."""
        self.action_job()
        job = self.screen
        if getattr(job, "place", "") == "job":
            job.go_to(step)

    def action_stock(self) -> None:
        """The cutting plan of the boat, as far as it was found while the boat was the same."""
        self.attempt(self._stock)

    def _stock(self) -> None:
        from .stock import Cutting, StockPage

        session = self.session
        if session.opened is None:
            raise InputFault("no boat is open; open or make one first")
        if self._cutting is None or self._cutting[0] != session.state.text:
            self._cutting = (session.state.text, Cutting(session.boat))
        page = StockPage(session, self._cutting[1], version())
        self.home(lambda: self.push_screen(page, lambda _: self.bench.renew()))

    def action_glance(self) -> None:
        """The boat's first page."""
        from .glance import Glance

        if self.session.opened is None:
            raise InputFault("no boat is open; open or make one first")
        self.home(lambda: self.push_screen(Glance(self.session), lambda _: self.bench.renew()))

    def action_supplies(self) -> None:
        """All that is to be bought, by the cutting plan as far as it was found."""
        self.attempt(self._supplies)

    def _supplies(self) -> None:
        from ..card.lines import Paper
        from ..card.supplies import planned, screen_lines, supplies
        from .stock import Cutting

        session = self.session
        if session.opened is None:
            raise InputFault("no boat is open; open or make one first")
        boat, job, plan = session.boat, planned(session.boat), None
        if job is not None:
            if self._cutting is None or self._cutting[0] != session.state.text:
                self._cutting = (session.state.text, Cutting(boat))
            job, plan = self._cutting[1].job, self._cutting[1].plan
        made = supplies(boat, job, plan, session.rule)
        lines = screen_lines(made, Paper(session.rule, self.config.ascii_only, max(40, min(100, self.size.width - 3))))
        self.home(lambda: self.push_screen(Reader("To buy", rows(lines))))

    def action_legend(self) -> None:
        """What lies on the spar, by its signs."""
        session = self.session
        if session.spar is None:
            self.tell("no spar is chosen", wrong=True)
            return
        words = legend(session.spar, session.at, session.rule, max(1, self.size.width - 2))
        self.push_screen(Reader("On the spar", words))

    def _show_timbers(self) -> None:
        self.push_screen(Reader("Timbers", timbers_text(self.session.boat.own, self.session.rule)))

    def _keep_rule(self) -> None:
        self.change(self.session.keep_rule)
        self.tell(f"{self.session.boat.name} is measured by {self.session.rule}; {self._key_of('save')} saves it")

    def _key_of(self, name: str) -> str:
        return first_key(self.config.keys, name)

    def _open_calculator(self, name: str) -> None:
        def there() -> None:
            self.session.end_run()
            self.session.calculator = name
            self.bench.view.page = "answers"
            self.bench.renew()

        self.home(there)

    def action_calculator(self, by: int) -> None:
        """Walk the list of calculators, each with its answers; from either end on to the other."""
        self._open_calculator(NAMES[(NAMES.index(self.session.calculator) + by) % len(NAMES)])

    # --- the station and the rule ---------------------------------------------------------------------------------

    def action_station(self, by: int) -> None:
        self.session.step(by)
        self.bench.redraw()

    def action_go_to(self) -> None:
        if self.session.spar is None:
            self.tell("no spar is chosen", wrong=True)
            return

        def check(text: str) -> float:
            at = float(read(text, self.session.rule.unit))
            self.session.go_to(at)  # refused beyond an end
            return at

        def go(text: str) -> None:
            self.bench.redraw()

        self.ask_line("Go to the station at, from the heel", check, go)

    def action_units(self) -> None:
        """Inches or millimetres on the screen; on a boat of one's own it can be kept so."""
        session = self.session
        session.next_unit()
        self.bench.renew_texts()
        opened = session.opened
        if opened is None or opened.listing.is_example or session.rule.unit == session.boat.units:
            return
        words = "inches" if session.rule.unit == "in" else "millimetres"
        find = self._key_of("find") or "the finder"
        self.tell(f"shown in {words}; {find} and 'keep rule' measures {session.boat.name} so from now on")

    def action_rule(self) -> None:
        self.session.next_rule()
        self.bench.redraw()

    def action_cares(self) -> None:
        self.bench.view.turn_cares()
        self.bench.redraw()

    def action_turn_page(self) -> None:
        self.bench.turn_page()

    def action_follow(self) -> None:
        self.bench.follow_again()

    # --- presets --------------------------------------------------------------------------------------------------

    def action_presets(self) -> None:
        session = self.session
        presets = session.presets()
        choices = [
            Choice(preset.name, ", ".join(f"{name} {text}" for name, text in preset.inputs), preset)
            for preset in presets
        ]
        keep_it = Choice("keep what is typed here …", "as a preset of this boat", "keep")
        choices.insert(0 if session.texts() else len(choices), keep_it)

        def picked(value: Any) -> None:
            if value == "keep":
                session.check_preset()
                self.ask_line("Name of the preset", self.check_name, self._keep_preset)
                return
            does, preset = value if isinstance(value, tuple) and value[0] in ("drop", "rename") else ("use", value)
            if preset == "keep":
                return
            if does == "drop":
                session.drop_preset(preset)
                self.tell(f"preset '{preset.name}' dropped; {self._key_of('undo')} brings it back")
            elif does == "rename":
                self.ask_line(
                    "New name of the preset",
                    self.check_name,
                    lambda name: self.change(lambda: session.rename_preset(preset, name)),
                    preset.name,
                )
                return
            else:
                session.use_preset(preset)
            self.note_change()
            self.bench.renew()

        extra = {"ctrl+r": ("rename", "rename"), "ctrl+x": ("drop", "drop")} if presets else {}
        self.pick(f"Presets for {session.calculator}", choices, picked, extra=extra)

    def check_name(self, name: str) -> None:
        Text("Name").read(name, self.session.rule)

    def _keep_preset(self, name: str) -> None:
        self.change(lambda: self.session.keep_preset(name.strip()))
        self.tell(f"kept as '{name.strip()}'; {self._key_of('save')} saves the boat")

    def change(self, act: Callable[[], object]) -> None:
        act()
        self.note_change()
        self.bench.redraw()

    def note_change(self) -> None:
        """Unsaved work goes into the recovery copy at once; while the disk will not take it, again and again."""
        try:
            self.note()
        except (CompanionError, OSError) as error:
            if self._trying is None:
                self.tell(f"{line_of(error, self.places)}; your work is kept here, and this is tried again", wrong=True)
                self._trying = self.set_interval(AGAIN, self.keep_trying)
        else:
            self._give_over()

    def keep_trying(self) -> None:
        """Write the recovery copy that could not be written, if the disk takes it now."""
        with suppress(CompanionError, OSError):  # told when it began
            self.note()
            self._give_over()

    def _give_over(self) -> None:
        if self._trying is not None:
            self._trying.stop()
            self._trying = None
            self.tell("the recovery copy is written again")

    def undo_here(self, renew: Callable[[], object]) -> None:
        """Undo on a screen of the whole boat."""
        what = self.session.undo()
        self.tell(f"undone: {what}" if what else "nothing to undo")
        renew()

    def undo_under(self, screen: Screen[None], spar: str, renew: Callable[[], object]) -> None:
        """Undo on a screen of the spar `spar`, which goes when the spar does."""
        what = self.session.undo()
        self.tell(f"undone: {what}" if what else "nothing to undo")
        if self.session.spar_name == spar:
            renew()
        else:
            self.tell(f"{spar} is gone with that; {self._key_of('redo')} brings it back")
            self.note_change()
            screen.dismiss(None)

    def action_undo(self) -> None:
        self._went(self.session.undo(), "undone", "nothing to undo")

    def action_redo(self) -> None:
        self._went(self.session.redo(), "done again", "nothing to do again")

    def _went(self, what: str, done: str, nothing: str) -> None:
        self.tell(f"{done}: {what}" if what else nothing)
        if what:
            self.note_change()
            self.bench.renew_texts()

    def action_help(self) -> None:
        place = self.screen.place if isinstance(self.screen, FullScreen) else "bench"
        self.push_screen(Reader(HELP, help_text(self.config.keys, place)))


def _other_words(name: str) -> tuple[str, ...]:
    """By what a calculator is found beside its name and question: what it asks and answers, and the trade's words."""
    of = load(name)
    labels = (field.kind.label for field in (*of.answer_fields, *of.input_fields))
    return (*other_words.CALCULATORS.get(name, ()), *labels)


def main(places: Places, boat: str | None, spar: str | None) -> int:
    """Run the app on a boat, by default the one saved last, else the demo boat. The exit status."""
    listing = (
        store.find(places, boat)
        if boat
        else store.latest(places) or next(iter(newest_first(store.listings(places))), None)
    )
    if spar and listing is not None:
        spar = store.open_boat(listing).reading.boat.spar(spar).name
    app = Companion(places, listing, spar, load_config())
    app.idle = Idle(app.set_timer)
    app.glances, app.begins_at_bench = True, boat is None or spar is not None
    wait_no_longer(MOMENT)
    for folder in (places.profiles, places.recovery, places.versions):
        tidy(folder)
    if os.name == "posix":
        from .ending import Ending

        app.ending = Ending(app.session, places, lambda status: app.exit(return_code=status))
    app.run()
    if app.last_words:
        print(app.last_words, file=sys.stderr)
    return app.return_code or 0
