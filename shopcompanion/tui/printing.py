"""Files for print, made in a thread while the keys go on: the card of a spar, and the boat's book."""

from collections.abc import Callable
from datetime import date
from typing import TYPE_CHECKING, Any

from textual.worker import Worker, get_current_worker

from .. import version
from ..card.origin import Origin
from ..errors import CompanionError, InputFault, printable
from ..profile.records import Spar
from ..storage import store
from ..storage.store import Places
from .session import Session

if TYPE_CHECKING:
    from ..paper.marks import Page
    from .stock import Cutting

Tell = Callable[[int, int, str], None]
SEARCH = 1.0  # seconds for a cutting plan that was not looked for yet


class Stopped(CompanionError):
    """The user has stopped it, or left."""


class Printing:
    """The part of the app that makes files for print, one at a time; the same key stops the one that is being made."""

    places: Places
    session: Session
    tell: Callable[..., None]
    call_from_thread: Callable[..., Any]
    run_worker: Callable[..., Worker[None]]
    write_out: Callable[[str, bytes, str], None]
    _cutting: "tuple[str, Cutting] | None"
    _made: Worker[None] | None = None  # what is being made, or was last

    def print_card(self, of: Spar | None = None) -> None:
        """The card of a spar, the one that is taken up unless another is given, set for print."""
        boat, spar, origin = self.session.boat, of or self.session.spar, self._origin()
        if spar is None:
            raise InputFault("no spar is chosen")

        def make(tell: Tell) -> "list[Page]":
            from ..paper.bench_card import cards
            from ..paper.sheets import usual

            tell(0, 1, "the card")
            return cards(boat, spar, usual(origin.rule), origin).pages

        self._set(f"{store.slug(spar.name)}-card", f"{printable(boat.name)}: {printable(spar.name)}", origin, make)

    def action_book(self) -> None:
        """The boat's book, with the cutting plan as far as it was found."""
        boat, origin = self.session.boat, self._origin()
        known = self._cutting[1] if self._cutting and self._cutting[0] == self.session.state.text else None

        def make(tell: Tell) -> "list[Page]":
            from ..paper.book import Timber, book
            from ..paper.sheets import usual
            from ..stock.blanks import task
            from ..stock.search import within

            if known is not None:
                timber = Timber(known.job, known.plan)
            else:
                tell(0, 1, "the cutting plan")
                try:
                    job = task(boat, boat.rule)
                    timber = Timber(job, within(job.problem, SEARCH))
                except InputFault as fault:
                    timber = Timber(None, None, fault.reason)
            return book(boat, timber, usual(origin.rule), origin, tell=tell).pages

        self._set("book", f"{printable(boat.name)}: the book of its spars", origin, make)

    def _origin(self) -> Origin:
        session = self.session
        if session.opened is None:
            raise InputFault("no boat is open; open or make one first")
        return Origin(session.rule, session.opened.listing.name, version(), date.today().isoformat())

    def _set(self, what: str, title: str, origin: Origin, make: "Callable[[Tell], list[Page]]") -> None:
        if self._made is not None and self._made.is_running:
            self._made.cancel()
            self.tell("stopped; nothing was written")
            return

        def work() -> None:
            worker = get_current_worker()

            def tell(done: int, of: int, part: str) -> None:
                if worker.is_cancelled:
                    raise Stopped("stopped")
                self.call_from_thread(self.tell, f"{what}: {done} of {of}, {part}; the same key stops it")

            try:
                from ..paper.pdf import pdf

                data = pdf(make(tell), title, origin.date)
            except Stopped:
                return
            except CompanionError as fault:
                if not worker.is_cancelled:
                    self.call_from_thread(self.tell, str(fault), True)
                return
            if not worker.is_cancelled:
                self.call_from_thread(self.write_out, what, data, "pdf")

        self._made = self.run_worker(work, thread=True)
