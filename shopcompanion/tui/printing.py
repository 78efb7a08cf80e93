"""Files for print and to read, written beside the boats; what takes long is made in a thread while the keys go on."""

from collections.abc import Callable
from datetime import date
from typing import TYPE_CHECKING

from textual.worker import Worker, get_current_worker

from .. import __version__
from ..card.origin import Origin
from ..errors import CompanionError, InputFault, printable
from ..profile.records import Spar
from ..storage import store
from ..storage.atomic import contents
from ..storage.store import Places
from ..storage.written import kept_as, write_over, written_new
from .planning import Planning
from .screens import Screens
from .search import PickerRow
from .session import Session
from .teller import Teller

if TYPE_CHECKING:
    from ..paper.marks import Page

Tell = Callable[[int, int, str], None]
SEARCH = 1.0  # seconds for a cutting plan that was not looked for yet


class Stopped(CompanionError):
    """Raised in the thread when the user has stopped it, or left."""


class Printing:
    """One file is made at a time; the same key stops it. `run` runs work in a thread, `call` is called from there."""

    def __init__(
        self,
        session: Session,
        places: Places,
        teller: Teller,
        screens: Screens,
        planning: Planning,
        *,
        run: Callable[..., "Worker[None]"],
        call: Callable[..., object],
    ) -> None:
        self.session, self.places, self.teller, self.screens = session, places, teller, screens
        self.planning, self.run, self.call = planning, run, call
        self._made: Worker[None] | None = None  # what is being made, or was last

    def card(self, of: Spar | None = None) -> None:
        """Write the card of a spar, by default the one in hand, as a PDF."""
        boat, spar, origin = self.session.boat, of or self.session.spar, self._origin()
        if spar is None:
            raise InputFault("no spar is chosen")

        def make(tell: Tell) -> "list[Page]":
            from ..paper.bench_card import cards
            from ..paper.sheets import usual

            tell(0, 1, "the card")
            return cards(boat, spar, usual(origin.rule), origin).pages

        self._set(f"{store.slug(spar.name)}-card", f"{printable(boat.name)}: {printable(spar.name)}", origin, make)

    def do_book(self) -> None:
        """Write the boat's book as a PDF, with the cutting plan so far."""
        boat, origin = self.session.boat, self._origin()
        known = self.planning.known()

        def make(tell: Tell) -> "list[Page]":
            from ..paper.book import BookTimber, book
            from ..paper.sheets import usual
            from ..stock.blanks import task
            from ..stock.search import within

            if known is not None:
                timber = BookTimber(known.job, known.plan)
            else:
                tell(0, 1, "the cutting plan")
                try:
                    job = task(boat, boat.rule)
                    timber = BookTimber(job, within(job.problem, SEARCH))
                except InputFault as fault:
                    timber = BookTimber(None, None, fault.reason)
            return book(boat, timber, usual(origin.rule), origin, tell=tell).pages

        self._set("book", f"{printable(boat.name)}: the book of its spars", origin, make)

    def _origin(self) -> Origin:
        session = self.session
        if session.opened is None:
            raise InputFault("no boat is open; open or make one first")
        return Origin(session.rule, session.opened.listing.name, __version__, date.today().isoformat())

    def _set(self, what: str, title: str, origin: Origin, make: "Callable[[Tell], list[Page]]") -> None:
        if self._made is not None and self._made.is_running:
            self._made.cancel()
            self.teller.tell("stopped; nothing was written")
            return

        def work() -> None:
            worker = get_current_worker()

            def tell(done: int, of: int, part: str) -> None:
                if worker.is_cancelled:
                    raise Stopped("stopped")
                self.call(self.teller.tell, f"{what}: {done} of {of}, {part}; the same key stops it")

            try:
                from ..paper.pdf import pdf

                data = pdf(make(tell), title, origin.date)
            except Stopped:
                return
            except CompanionError as fault:
                if not worker.is_cancelled:
                    self.call(self.teller.tell, str(fault), True)
                return
            if not worker.is_cancelled:
                self.call(self.write, what, data, "pdf")

        self._made = self.run(work, thread=True)

    def write(self, what: str, data: bytes, ending: str) -> None:
        """Write a file beside the boats, named by the boat and `what` it is, and tell where.

        A file that is there already is written over only when the user says so, and kept under another name.
        """
        if self.session.opened is None:
            return
        path = self.places.profiles / f"{self.session.opened.listing.name}-{what}.{ending}"

        def new() -> None:
            if written_new(path, data):
                self.teller.tell(f"written: {path}")
            elif contents(path, follow=False) == data:
                self.teller.tell(f"already there, unchanged: {path}")
            else:
                choices = [
                    PickerRow("write over it", f"the old one is kept as {kept_as(path).name}", "over"),
                    PickerRow("leave it", "nothing is written", "leave"),
                ]
                self.screens.pick(
                    f"{path.name} is there already", choices, lambda does: over() if does == "over" else None
                )

        def over() -> None:
            kept = write_over(path, data)
            self.teller.tell(f"written: {path}; the old one is {kept.name}")

        self.teller.attempt(new)
