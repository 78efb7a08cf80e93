"""The app: what is open, the bench, the objects that do what a key asks for, and the one guard of every key."""

import os
import sys
from asyncio import get_running_loop
from collections.abc import Callable
from functools import cached_property
from typing import TYPE_CHECKING

from textual import events
from textual.app import App
from textual.driver import Driver
from textual.reactive import Reactive
from textual.theme import Theme

from ..errors import CompanionError
from ..storage import store
from ..storage.atomic import wait_no_longer
from ..storage.store import Listing, Places
from .bench import Bench
from .changes import Changes
from .config import Config, load_config
from .editing import LONGEST
from .flood import Flood
from .greeting import Greeting
from .guard import last_words
from .keys import ACTIONS
from .screens import Screens
from .session import Session
from .teller import Teller
from .themes import THEMES, usual

if TYPE_CHECKING:
    from .boats import Boats
    from .ending import Ending
    from .finder import Finder
    from .fitting import FittingActions
    from .full_screens import FullScreens
    from .idle import Idle
    from .planning import Planning
    from .presets import Presets
    from .printing import Printing
    from .saving import Saving
    from .spars import Spars
    from .tally import Tally


MOMENT = 0.05  # seconds that a key may wait for a folder that another program holds


class Companion(App[None], inherit_bindings=False, inherit_css=False):
    """The Textual app. `of` of an action in the table of keys names one of its objects; those that the start does not
    need are made when they are first asked for.
    """

    ENABLE_COMMAND_PALETTE = False
    TITLE = "shopcompanion"
    theme: Reactive[str] = Reactive(THEMES[0].name)  # the usual one: what is styled by another is styled twice

    def __init__(self, places: Places, listing: Listing | None, spar: str | None, config: Config) -> None:
        self.flood = Flood()
        super().__init__()
        self._disable_tooltips = self._disable_notifications = True  # no mouse, and what is told is told at the foot
        self.places, self.config = places, config
        self.session = Session()
        if listing is not None:
            self.session.open(store.open_boat(listing))
        if spar:
            self.session.choose_spar(spar)
        self.in_earnest = False  # in the real program: it has work for when no key is pressed
        self.idle: Idle | None = None  # there only, as the next
        self.ending: Ending | None = None
        self.glances = False  # at the first page of a boat that is opened; in the real program
        self.begins_at_bench = False  # without that, when no boat was asked for: on with the work
        self.last_words = ""  # what is said when the app ended by a fault of its own
        self.theme = config.theme or usual(self.console.color_system)
        self.bench = Bench(self.session, config.keys, config.ascii_only)
        self.teller = Teller(places, config.keys, self.set_timer, self._show_message)
        self.screens = Screens(self, self.bench, self.teller.attempt)
        self.changes = Changes(self.session, places, self.teller, self.bench, every=self.set_interval)
        self.greeting = Greeting(self.session, places, self.teller, self.screens)

    @cached_property
    def saving(self) -> "Saving":
        from .saving import Saving

        return Saving(
            self.session, self.places, self.teller, self.screens, self.changes, later=self.set_timer, leave=self.exit
        )

    @cached_property
    def boats(self) -> "Boats":
        from .boats import Boats

        return Boats(
            self.session, self.places, self.teller, self.screens, self.saving,
            greet=self.greeting.greet, first_page=self.first_page,
        )  # fmt: skip

    @cached_property
    def full_screens(self) -> "FullScreens":
        from .full_screens import FullScreens

        return FullScreens(self.session, self.teller, self.screens, self.changes, self.config.keys)

    @cached_property
    def spars(self) -> "Spars":
        from .spars import Spars

        return Spars(self.session, self.teller, self.screens, self.changes, self.full_screens)

    @cached_property
    def fitting(self) -> "FittingActions":
        from .fitting import FittingActions

        return FittingActions(self.session, self.teller, self.screens, self.changes)

    @cached_property
    def presets(self) -> "Presets":
        from .presets import Presets

        return Presets(self.session, self.teller, self.screens, self.changes)

    @cached_property
    def tally(self) -> "Tally":
        from .tally import Tally

        return Tally(self.session, self.teller, self.screens, self.changes)

    @cached_property
    def planning(self) -> "Planning":
        from .planning import Planning

        return Planning(self.session, self.screens, self.config.ascii_only)

    @cached_property
    def printing(self) -> "Printing":
        from .printing import Printing

        return Printing(
            self.session, self.places, self.teller, self.screens, self.planning,
            run=self.run_worker, call=self.call_from_thread,
        )  # fmt: skip

    @cached_property
    def finder(self) -> "Finder":
        from .finder import Finder

        return Finder(self, self.session, self.screens, self.spars, self.config.keys)

    def get_css_variables(self) -> dict[str, str]:
        """The colours that our styles name. Textual's own name 160 more, and no screen or widget here has those."""
        theme = self.current_theme
        named = {"accent": theme.accent, "background": theme.background, "error": theme.error}
        named |= {"foreground": theme.foreground, "quiet": theme.variables["quiet"]}
        return {name: colour for name, colour in named.items() if colour}

    @property
    def available_themes(self) -> dict[str, Theme]:
        return {theme.name: theme for theme in THEMES}

    def get_default_screen(self) -> Bench:
        return self.bench

    def on_ready(self) -> None:
        get_running_loop().set_default_executor(self.bench.threads)  # Textual's workers have the same
        if self.in_earnest:
            from .idle import Idle

            self.idle = Idle(self.set_timer, (self.places.profiles, self.places.recovery, self.places.versions))
            self.idle.begin()
        if self.ending:
            self.ending.begin()

    def on_mount(self) -> None:
        self.greeting.greet()
        for fault in self.config.faults:
            self.teller.tell(f"in the config file: {fault}", wrong=True)
        if not self.begins_at_bench:
            self.first_page()

    def first_page(self) -> None:
        """The boat at a glance, unless something else is asked first or there is nothing to see."""
        if self.glances and self.screen is self.bench and self.session.boat.spars:
            self.do("glance")

    def do(self, name: str) -> None:
        """Do an action of the table of keys by its name, as `save` or `station(-1)`; why it is refused is told."""
        word, _, given = name.partition("(")
        owner = getattr(self, _OWNERS[name]) if _OWNERS[name] else self.bench
        act: Callable[..., object] = getattr(owner, f"do_{word}")
        self.teller.attempt(lambda: act(int(given.removesuffix(")"))) if given else act())

    def _show_message(self) -> None:
        """Paint the foot of every screen anew."""
        self.bench.view.message = self.teller.message
        self.bench.canvas.paint_if_shown()
        for screen in self.screen_stack[1:]:
            from .keyed import FullScreen

            if isinstance(screen, FullScreen):
                screen.draw()

    # --- the guard ------------------------------------------------------------------------------------------------

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
            self.teller.refused(error)

    def _too_much(self, event: events.Key | events.Paste) -> None:
        """Tell of a paste that a field cannot hold, and of keys that were let go."""
        if isinstance(event, events.Paste):
            if len(event.text) > LONGEST:
                said = f"pasted {len(event.text):,} characters; a field holds the first {LONGEST} of one line"
                self.teller.tell(said, wrong=True)
        elif gone := self.flood.take():
            self.teller.tell(f"{gone:,} keys came faster than a hand types, and were ignored", wrong=True)

    def get_driver_class(self) -> type[Driver]:
        """The terminal's driver, which sends no more keys than can be taken."""
        flood, plain = self.flood, super().get_driver_class()

        class Bounded(plain):  # type: ignore[misc, valid-type]
            def process_message(self, message: events.Event) -> None:
                if not isinstance(message, events.Key) or flood.lets_through():
                    super().process_message(message)

        return Bounded

    def _handle_exception(self, error: Exception) -> None:
        """Handle an error in the program: keep the work where it is found again, and end with one line."""
        self._return_code = 1
        if self._exception is None:
            self._exception = error  # a test is told of it
            self._exception_event.set()
            self.last_words = last_words(error, self.session, self.places)
        self._close_messages_no_wait()


_OWNERS = {action.name: action.of for action in ACTIONS}


def main(places: Places, boat: str | None, spar: str | None) -> int:
    """Run the app on a boat, by default the one saved last, else the demo boat. The exit status."""
    listing = (
        store.find(places, boat)
        if boat
        else store.latest(places) or next(iter(store.newest_first(store.listings(places))), None)
    )
    if spar and listing is not None:
        spar = store.open_boat(listing).reading.boat.spar(spar).name
    app = Companion(places, listing, spar, load_config())
    app.in_earnest, app.glances, app.begins_at_bench = True, True, boat is None or spar is not None
    wait_no_longer(MOMENT)
    if os.name == "posix":
        from .ending import Ending

        app.ending = Ending(app.session, places, lambda status: app.exit(return_code=status))
    app.run(mouse=False)  # so the terminal's own is at hand, to select and copy a figure
    if app.last_words:
        print(app.last_words, file=sys.stderr)
    return app.return_code or 0
