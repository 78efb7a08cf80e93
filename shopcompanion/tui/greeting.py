"""What is told and offered when a boat is opened: faults in its file, and unsaved work that a crash left behind."""

from ..storage import store
from ..storage.store import Places
from .screens import Screens
from .session import Session
from .teller import Teller


class Greeting:
    """Greets the user with the boat that the session has just opened."""

    def __init__(self, session: Session, places: Places, teller: Teller, screens: Screens) -> None:
        self.session, self.places, self.teller, self.screens = session, places, teller, screens

    def greet(self) -> None:
        """Tell of faults, and offer unsaved work; else tell of unsaved work on other boats."""
        opened = self.session.opened
        if opened is None:
            return
        if self.session.faults:
            count = f"{len(self.session.faults)} fault{'s' if len(self.session.faults) > 1 else ''}"
            self.teller.tell(f"{count} in this boat's file; the rest can be used", wrong=True)
        recovered = store.recovery(self.places, opened.listing)
        if recovered is None:
            self.teller.attempt(self._tell_of_others)
            return
        from .search import PickerRow

        choices = [
            PickerRow("restore", f"changed {recovered.when:%d %b %H:%M}, never saved", "take"),
            PickerRow("discard", "go on with the boat as it was saved", "drop"),
        ]

        def picked(value: str) -> None:
            if value == "take":
                session, asked_for = self.session, self.session.spar_name
                session.open(store.take_up(self.places, opened, recovered), recovered.text)
                if asked_for in [spar.name for spar in session.boat.spars]:
                    session.choose_spar(asked_for)
            else:
                store.recovery_done(self.places, opened.listing, recovered)
            self.screens.bench.renew()

        # else the next change would write over it
        self.screens.pick("Unsaved work was found", choices, picked, must=True)

    def _tell_of_others(self) -> None:
        """Unsaved work of other boats, deleted ones too."""
        opened = self.session.opened
        here = opened and (opened.listing.name, opened.listing.is_example)
        names = [
            work.copy.name for work in store.unsaved_work(self.places) if (work.copy.name, work.is_example) != here
        ]
        if names:
            more = f" and {len(names) - 3} more" if len(names) > 3 else ""
            listed = f"{', '.join(names[:3])}{more}"
            self.teller.tell(f"there is unsaved work on {listed}; {self.teller.key('boats')} lists it")
