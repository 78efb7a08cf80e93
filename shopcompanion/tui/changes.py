"""Every change of the boat: put in the recovery copy as it is made, undone, and done again."""

from collections.abc import Callable
from contextlib import suppress
from typing import TYPE_CHECKING

from textual.screen import Screen
from textual.timer import Timer

from ..errors import CompanionError
from ..storage import store
from ..storage.store import Places
from .guard import line_of
from .session import Session
from .teller import Teller

if TYPE_CHECKING:
    from .bench import Bench

AGAIN = 5.0  # seconds until a recovery copy that could not be written is tried again


class Changes:
    """Makes, undoes and redoes changes, and keeps the recovery copy. `every` calls a function every so many seconds."""

    def __init__(
        self,
        session: Session,
        places: Places,
        teller: Teller,
        bench: "Bench",
        *,
        every: Callable[[float, Callable[[], None]], Timer],
    ) -> None:
        self.session, self.places, self.teller, self.bench = session, places, teller, bench
        self.every = every
        self._trying: Timer | None = None  # while the recovery copy cannot be written

    def make(self, change: Callable[[], object]) -> None:
        """Make a change of the boat. What it raises when it is refused."""
        change()
        self.keep()
        self.bench.redraw()

    # --- the recovery copy ----------------------------------------------------------------------------------------

    def keep(self) -> None:
        """Put unsaved work into the recovery copy at once; while the disk will not take it, again and again."""
        try:
            self.write()
        except (CompanionError, OSError) as error:
            if self._trying is None:
                said = f"{line_of(error, self.places)}; your work is still here, and the copy is tried again"
                self.teller.tell(said, wrong=True)
                self._trying = self.every(AGAIN, self.keep_trying)
        else:
            self._give_over()

    def write(self) -> None:
        """Write the recovery copy, or remove it when nothing is unsaved. What storage raises."""
        session = self.session
        if session.opened is None:
            return
        if session.unsaved:
            store.recover_note(self.places, session.opened, session.state.text)
        else:
            store.recovery_done(self.places, session.opened.listing)

    def keep_trying(self) -> None:
        """Write the recovery copy that could not be written, if the disk takes it now."""
        with suppress(CompanionError, OSError):  # told when it began
            self.write()
            self._give_over()

    def _give_over(self) -> None:
        if self._trying is not None:
            self._trying.stop()
            self._trying = None
            self.teller.tell("the recovery copy is written now")

    # --- undo -----------------------------------------------------------------------------------------------------

    def do_undo(self) -> None:
        self._went(self.session.undo(), "undone", "nothing to undo")

    def do_redo(self) -> None:
        self._went(self.session.redo(), "done again", "nothing to do again")

    def _went(self, what: str, done: str, nothing: str) -> None:
        self.teller.tell(f"{done}: {what}" if what else nothing)
        if what:
            self.keep()
            self.bench.renew_texts()

    def undo_here(self, renew: Callable[[], object]) -> None:
        """Undo the last change on a screen of the whole boat; `renew` shows it."""
        what = self.session.undo()
        self.teller.tell(f"undone: {what}" if what else "nothing to undo")
        renew()

    def undo_under(self, screen: Screen[None], spar: str, renew: Callable[[], object]) -> None:
        """Undo on a screen of the spar `spar`, which goes when the spar does."""
        what = self.session.undo()
        self.teller.tell(f"undone: {what}" if what else "nothing to undo")
        if self.session.spar_name == spar:
            renew()
        else:
            self.teller.tell(f"that also removed {spar}; {self.teller.key('redo')} brings it back")
            self.keep()
            screen.dismiss(None)
