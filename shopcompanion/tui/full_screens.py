"""The screens that take the whole terminal, each opened by its key."""

from collections.abc import Callable, Mapping
from typing import Any

from ..errors import InputFault
from .changes import Changes
from .keys import first_key
from .paint import rows
from .screens import Screens
from .session import Session
from .teller import Teller


class FullScreens:
    """Opens the sheet, the job, the glance and the pages to read. `keys` are the keys in force by action."""

    def __init__(
        self, session: Session, teller: Teller, screens: Screens, changes: Changes, keys: Mapping[str, str]
    ) -> None:
        self.session, self.teller, self.screens, self.changes = session, teller, screens, changes
        self.keys = keys

    def do_sheet(self) -> None:
        """Open the spar's sheet."""
        self._on_the_spar("sheet")

    def do_job(self) -> None:
        """Open the spar's job."""
        self._on_the_spar("job")

    def _on_the_spar(self, place: str) -> None:
        if self.session.spar is None:
            self.teller.tell(f"no spar is chosen; {first_key(self.keys, 'spars')} adds one", wrong=True)
            return
        self.screens.home(lambda: self.teller.attempt(lambda: self.open(place)))

    def do_shop(self) -> None:
        """Open the sheet of the boat's shop, timber, yard, pieces and species."""
        if self.session.opened is None:
            self.teller.tell(f"no boat is open; {first_key(self.keys, 'boats')} opens or makes one", wrong=True)
            return
        self.screens.home(lambda: self.open("shop"))

    def open(self, place: str) -> None:
        """Open a screen over the bench, which shows afterwards what was changed there."""
        from .job import Job
        from .sheet import Sheet

        makes: dict[str, Callable[[], Any]] = {
            "sheet": lambda: Sheet(self.session, self.changes.keep),
            "shop": lambda: Sheet(self.session, self.changes.keep, of_spar=False),
            "job": lambda: Job(self.session, self.changes.keep),
        }
        self.screens.show(makes[place](), self.screens.bench.renew)

    def do_glance(self) -> None:
        """Open the boat at a glance."""
        from .glance import Glance

        if self.session.opened is None:
            raise InputFault("no boat is open; open or make one first")
        self.screens.home(lambda: self.screens.show(Glance(self.session), self.screens.bench.renew))

    # --- to read --------------------------------------------------------------------------------------------------

    def do_legend(self) -> None:
        """Show what lies on the spar, by its signs."""
        from .legend import legend
        from .reader import TextScreen

        session = self.session
        if session.spar is None:
            self.teller.tell(f"no spar is chosen; {first_key(self.keys, 'spars')} chooses one", wrong=True)
            return
        words = legend(session.spar, session.at, session.rule, max(1, self.screens.width - 2))
        self.screens.show(TextScreen("On the spar", words))

    def do_species(self) -> None:
        """Show all known timbers, the boat's own first."""
        from .reader import TextScreen
        from .timbers import timbers_text

        self.screens.show(TextScreen("Timbers", timbers_text(self.session.boat.own, self.session.rule)))

    def do_faults(self) -> None:
        """Show what is wrong in the boat's file."""
        from .reader import TextScreen

        lines = [f"✗ {fault}" for fault in self.session.faults] or ["nothing: the file is sound"]
        self.screens.show(TextScreen("What is wrong in this boat's file", rows(lines)))

    def do_help(self) -> None:
        """Show the keys in force, those of this screen first."""
        from .help import help_text
        from .reader import HELP, TextScreen

        self.screens.show(TextScreen(HELP, help_text(self.keys, self.screens.place)))
