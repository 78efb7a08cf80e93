"""Saving a boat, its earlier versions, and leaving it: what is unsaved is never lost without a word."""

from collections.abc import Callable

from ..errors import CompanionError, printable
from ..storage import store
from ..storage.atomic import FolderHeld, contents, text_of
from ..storage.store import Conflict, Places
from .changes import Changes
from .paint import rows
from .screens import Screens
from .search import PickerRow
from .session import Session
from .teller import Teller

SOON = 1.0  # seconds until a folder that another program holds is tried again


class Saving:
    """Saves the boat, and asks before unsaved work goes. `later` calls a function after so many seconds; `leave` ends
    the app.
    """

    def __init__(
        self,
        session: Session,
        places: Places,
        teller: Teller,
        screens: Screens,
        changes: Changes,
        *,
        later: Callable[[float, Callable[[], None]], object],
        leave: Callable[[], object],
    ) -> None:
        self.session, self.places, self.teller, self.screens = session, places, teller, screens
        self.changes, self.later, self.leave = changes, later, leave

    def do_save(self) -> None:
        self.save(lambda: None)

    def save(self, then: Callable[[], object]) -> None:
        """Save the boat, then go on. A file that another program changed is never written over: the user chooses."""
        session = self.session
        opened, text = session.opened, session.state.text
        if opened is None:
            self.teller.tell(f"no boat is open; {self.teller.key('boats')} opens or makes one", wrong=True)
            return
        if not session.unsaved and not opened.listing.is_example:
            self.teller.tell("nothing to save")
            then()
            return
        try:
            saved = store.save(self.places, opened, text)
        except Conflict as conflict:
            self._conflict(conflict, then)
            return
        except FolderHeld as held:
            self.teller.tell(f"{held}; saved as soon as it is free", wrong=True)
            self.later(SOON, lambda: self._save_again(text, then))
            return
        except CompanionError as error:
            self.teller.tell(str(error), wrong=True)
            return
        self._saved(saved, then)

    def _save_again(self, text: str, then: Callable[[], object]) -> None:
        """Save what could not be saved while another program had the folder; not when it was changed or saved since."""
        if self.session.unsaved and self.session.state.text == text:
            self.save(then)

    def _saved(self, saved: store.Opened, then: Callable[[], object]) -> None:
        before = self.session.opened
        self.session.saved(saved)
        if before is not None:
            self.teller.attempt(lambda: store.recovery_done(self.places, before.listing))
        self.screens.bench.redraw()
        own = before is not None and before.listing.path != saved.listing.path
        name = saved.listing.name
        self.teller.tell(f"saved as {name}, a boat of your own" if own else f"{name} saved")
        then()

    def _conflict(self, conflict: Conflict, then: Callable[[], object]) -> None:
        session = self.session
        choices = [
            PickerRow("keep both", "yours is saved beside it, under another name", "both"),
            PickerRow("see the difference", "what the other program changed", "see"),
            PickerRow("take theirs", "your unsaved changes are discarded", "theirs"),
        ]

        def picked(value: str) -> None:
            opened = session.opened
            if opened is None:
                return
            if value == "both":
                self._saved(store.save_beside(self.places, opened, session.state.text), then)
            elif value == "see":
                from .reader import TextScreen

                lines = rows(printable(line, 400) for line in conflict.difference().split("\n"))
                self.screens.show(
                    TextScreen("Their file and yours, compared", lines), lambda: self._conflict(conflict, then)
                )
            else:
                theirs = store.open_boat(opened.listing)
                self.screens.home(lambda: self._take_theirs(theirs))
                store.recovery_done(self.places, opened.listing)

        self.screens.pick(str(conflict), choices, picked)

    def _take_theirs(self, theirs: store.Opened) -> None:
        self.session.open(theirs)
        self.screens.bench.renew()

    def do_versions(self) -> None:
        """List earlier versions; the one that is picked becomes the document, unsaved, to be looked at first."""
        session = self.session
        if session.opened is None:
            self.teller.tell(f"no boat is open; {self.teller.key('boats')} opens or makes one", wrong=True)
            return
        versions = store.versions(self.places, session.opened.listing.name)
        if not versions:
            self.teller.tell("no earlier versions: it has not been saved over yet")
            return
        choices = [
            PickerRow(f"{version.when:%d %b %Y  %H:%M:%S}", f"{version.size} bytes", version) for version in versions
        ]

        def picked(version: store.Version) -> None:
            text = text_of(contents(version.path), version.path)
            session.edit(f"the version of {version.when:%d %b %H:%M}", lambda _: text)
            self.teller.attempt(self.changes.write)
            self.screens.bench.renew()

        self.screens.pick("Earlier versions, newest first", choices, picked)

    # --- leaving --------------------------------------------------------------------------------------------------

    def leaving(self, then: Callable[[], object], does: str = "go on") -> None:
        """Go on (`does` says how, in words) when nothing is unsaved, or the user has said what becomes of it."""
        if not self.session.unsaved:
            then()
            return
        choices = [
            PickerRow(f"save and {does}", "", "save"),
            PickerRow(f"{does} without saving", "the changes are discarded", "drop"),
            PickerRow("stay", "", "stay"),
        ]

        def picked(value: str) -> None:
            if value == "save":
                self.save(then)
            elif value == "drop":
                opened = self.session.opened
                if opened is not None:  # what cannot be removed is offered again, and keeps nobody from leaving
                    self.teller.attempt(lambda: store.recovery_done(self.places, opened.listing))
                then()

        self.screens.pick(f"{self.session.boat.name} is not saved", choices, picked)

    def do_quit(self) -> None:
        self.screens.settled(lambda: self.leaving(self.leave, "quit"))
