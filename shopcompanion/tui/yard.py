"""The timber of a boat: what to buy and how it is sawn. The first plan stands at once; the search goes on beside it."""

from collections.abc import Callable
from datetime import date
from time import monotonic
from typing import TYPE_CHECKING

from textual import events
from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import Static

from ..boat.files import make_folder, replace
from ..card.lines import Paper
from ..card.pages import WIDE
from ..card.yard import lines, page
from ..errors import CompanionError, InputFault
from ..stock.blanks import task
from ..stock.pieces import Plan
from ..stock.search import Search, SearchFault
from .picker import Keyed
from .session import Session
from .widgets import fitted

if TYPE_CHECKING:
    from .app import Companion

_KEYS = "↑↓ PgUp PgDn read on  s stop  a search again  w write  esc back"


class Yard(Keyed[None]):
    """One plan, read from top to bottom."""

    app: "Companion"

    def __init__(self, session: Session, version: str | None) -> None:
        super().__init__()
        if session.opened is None:
            raise InputFault("no boat is open; open or make one first")
        self.session, self.version = session, version
        self.job = task(session.boat, session.rule)
        self.search = Search(self.job.problem)
        self.running = False
        self.begun = monotonic()
        self.top = 0  # the first line that is shown
        self.told = ""

    def compose(self) -> ComposeResult:
        yield Static(id="top")
        yield Static(id="yard")
        yield Static(id="keys")

    def on_mount(self) -> None:
        self.set_interval(0.5, self._tick)
        self.call_after_refresh(self.draw)
        self._begin()

    def on_unmount(self) -> None:
        self.search.stop()

    def on_resize(self) -> None:
        self.call_after_refresh(self.draw)

    # --- the search -----------------------------------------------------------------------------------------------

    def _begin(self) -> None:
        self.running, self.begun, self.told = True, monotonic(), ""
        self.run_worker(self._follow, thread=True, exclusive=True)

    def _follow(self) -> None:
        """In a thread of its own: every plan is shown as it comes."""
        told = ""
        try:
            for _ in self.search:
                if not self.search.stopped:
                    self.app.call_from_thread(self.draw)
        except SearchFault as fault:
            told = str(fault)
        if self.is_mounted and self.app.is_running:
            self.app.call_from_thread(self._ended, told)

    def _ended(self, told: str) -> None:
        self.running, self.told = False, told
        self.draw()

    def _tick(self) -> None:
        if self.running:
            self._draw_top()

    def _stop(self) -> None:
        self.search.stop()

    def _again(self) -> None:
        if not self.running:
            self.search = Search(self.job.problem)
            self._begin()

    # --- keys -----------------------------------------------------------------------------------------------------

    def take_key(self, event: events.Key) -> None:
        does: dict[str, Callable[[], object]] = {
            "escape": lambda: self.dismiss(None),
            "ctrl+q": lambda: self.dismiss(None),
            "up": lambda: self._scroll(-1),
            "down": lambda: self._scroll(1),
            "pagedown": lambda: self._scroll(self._high() - 1),
            "pageup": lambda: self._scroll(1 - self._high()),
            "home": lambda: self._scroll(-self.top),
            "s": self._stop,
            "a": self._again,
            "w": self._write,
        }
        if event.key in does:
            does[event.key]()
            self.draw()

    def take_text(self, text: str) -> None:
        """Nothing is written here."""

    def _scroll(self, by: int) -> None:
        self.top = min(max(0, self.top + by), max(0, len(self._lines()) - self._high()))

    def _write(self) -> None:
        session, places = self.session, self.app.places
        if session.opened is None:
            return
        name = session.opened.listing.name
        text = page(
            session.boat, self.job, self.plan, rule=session.rule, source=name, version=self.version,
            date=date.today().isoformat(), ascii_only=self.app.config.ascii_only,
        )  # fmt: skip
        path = places.profiles / f"{name}-timber.txt"
        try:
            make_folder(path.parent)
            replace(path, text.encode())
        except CompanionError as error:
            self.app.tell(str(error), wrong=True)
        else:
            self.app.tell(f"written: {path}")

    # --- drawing --------------------------------------------------------------------------------------------------

    @property
    def plan(self) -> Plan:
        return self.search.plan

    def _lines(self) -> list[str]:
        paper = Paper(self.session.rule, self.app.config.ascii_only, max(30, min(WIDE, self.size.width - 2)))
        return [fitted(line, paper.wide) for line in lines(self.job, self.plan, paper)]

    def _high(self) -> int:
        return max(3, self.size.height - 4)

    def draw(self) -> None:
        if not self.is_mounted:
            return
        self._draw_top()
        told = self._lines()
        self.top = min(self.top, max(0, len(told) - self._high()))
        shown = told[self.top : self.top + self._high()]
        content = [Content.styled(line, "$warning" if line.startswith("CARE") else "") for line in shown]
        left = len(told) - self.top - len(shown)
        content.append(Content.styled(f"↓ {left} more lines" if left else "", "$quiet"))
        self.query_one("#yard", Static).update(Content("\n").join(content))
        self.query_one("#keys", Static).update(Content(fitted(_KEYS, self.size.width - 2)))

    def _draw_top(self) -> None:
        """Boat, and how far the search is."""
        proof = self.plan.proof
        if self.running:
            state = f"searching, {monotonic() - self.begun:.0f} s: {proof.stage}"
        else:
            state = self.told or ("proved" if proof.proved else f"stopped: {proof.stage}")
        head = f" {self.session.boat.name} › timber    {state}"
        self.query_one("#top", Static).update(Content.styled(fitted(head, self.size.width - 2), "bold"))
