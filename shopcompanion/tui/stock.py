"""The cutting plan: what to buy and how every timber is sawn. The first plan stands at once, the proof follows."""

from collections.abc import Callable
from datetime import date
from typing import TYPE_CHECKING

from textual import events
from textual.app import ComposeResult
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from ..card.lines import Paper
from ..card.yard import lines, money, page, proof
from ..errors import CompanionError
from ..profile.records import Boat
from ..stock.blanks import Task, task
from ..stock.pieces import Plan
from ..stock.search import Search
from .picker import Keyed, Reader
from .session import Session
from .widgets import fitted

if TYPE_CHECKING:
    from .app import Companion

_KEYS = "↑↓ PgUp PgDn scroll  tab next timber  space stop or go on  p page  w write the page  esc back"
_WIDEST = 100  # characters of a line that is read with ease


class Cutting:
    """A boat's plan, as good as it has been found. It stands until the boat is changed."""

    def __init__(self, boat: Boat) -> None:
        self.boat = boat
        self.job: Task = task(boat, boat.rule)
        self.search = Search(self.job.problem)
        self.plan: Plan = self.search.plan
        self.over = False  # nothing better is looked for any more
        self.stopped = False  # by the user

    def again(self) -> Search:
        """Another search; the plan stays until a better one comes."""
        self.search, self.over, self.stopped = Search(self.job.problem), False, False
        return self.search

    def take(self, plan: Plan) -> None:
        """Take up a plan, unless it is worse than the one there is."""
        if (plan.proof.proved, *_worth(plan)) >= (self.plan.proof.proved, *_worth(self.plan)):
            self.plan = plan


def _worth(plan: Plan) -> tuple[float, ...]:
    longest = max((one.length for one in plan.offcuts), default=0.0)
    return -len(plan.missing), -plan.cost, -plan.waste, longest


class StockPage(Keyed[None]):
    """Head and progress above, the plan below."""

    app: "Companion"

    class Found(Message):
        """The search has a plan, or with None has ended; `fault` says why if it did not end well."""

        def __init__(self, search: Search, plan: Plan | None, fault: str = "") -> None:
            super().__init__()
            self.search, self.plan, self.fault = search, plan, fault

    def __init__(self, session: Session, cutting: Cutting, version: str | None) -> None:
        super().__init__()
        self.session, self.cutting, self.version = session, cutting, version
        self.top = 0  # the first line of the plan that is shown
        self.drawn_high = 0
        self.told: tuple[tuple[Plan, Paper], list[str]] | None = None

    def compose(self) -> ComposeResult:
        yield Static(id="top")
        yield Static(id="stock_told")
        yield Static(id="stock_plan")
        yield Static(id="keys")

    def on_mount(self) -> None:
        if not self.cutting.over:
            search = self.cutting.search
            self._begin(self.cutting.again() if search.stopped else search)
        self.call_after_refresh(self.draw)

    def on_unmount(self) -> None:
        self.cutting.search.stop()

    def on_resize(self) -> None:
        self.call_after_refresh(self.draw)

    # --- the search -----------------------------------------------------------------------------------------------

    def _begin(self, search: Search) -> None:
        def follow() -> None:
            fault = ""
            try:
                for plan in search:
                    self.post_message(self.Found(search, plan))
            except CompanionError as error:
                fault = str(error)
            self.post_message(self.Found(search, None, fault))

        self.run_worker(follow, thread=True, exit_on_error=False)

    def on_stock_page_found(self, found: "StockPage.Found") -> None:
        if found.search is not self.cutting.search:
            return
        if found.plan is not None:
            self.cutting.take(found.plan)
        else:
            self.cutting.over = True
        if found.fault:
            self.app.tell(found.fault, wrong=True)
        self.draw()

    def _stop_or_go_on(self) -> None:
        if not self.cutting.over:
            self.cutting.search.stop()
            self.cutting.over = self.cutting.stopped = True
        elif not self.cutting.plan.proof.proved:
            self._begin(self.cutting.again())

    # --- keys -----------------------------------------------------------------------------------------------------

    def take_key(self, event: events.Key) -> None:
        does: dict[str, Callable[[], object]] = {
            "escape": lambda: self.dismiss(None),
            "ctrl+q": lambda: self.dismiss(None),
            "up": lambda: self._scroll(-1),
            "down": lambda: self._scroll(1),
            "pageup": lambda: self._scroll(1 - self._high()),
            "pagedown": lambda: self._scroll(self._high() - 1),
            "tab": lambda: self._turn(1),
            "shift+tab": lambda: self._turn(-1),
            "space": self._stop_or_go_on,
            "p": self._page,
            "w": self._write,
            "ctrl+s": self.app.action_save,
        }
        if event.key in does:
            does[event.key]()
            self.draw()

    def take_text(self, text: str) -> None:
        """Nothing is written here."""

    def _scroll(self, by: int) -> None:
        self.top = min(max(0, self.top + by), max(0, len(self._lines()) - self._high()))

    def _turn(self, by: int) -> None:
        """To the next timber, or the one before."""
        heads = [0, *(at for at, line in enumerate(self._lines()) if line.startswith("Timber "))]
        ahead = [at for at in heads if (at > self.top if by > 0 else at < self.top)]
        if ahead:
            self.top = ahead[0] if by > 0 else ahead[-1]
            self._scroll(0)

    def _text(self) -> str:
        session, cutting = self.session, self.cutting
        source = session.opened.listing.name if session.opened else ""
        return page(
            cutting.boat, cutting.job, cutting.plan, rule=session.rule, source=source, version=self.version,
            date=date.today().isoformat(), ascii_only=self.app.config.ascii_only,
        )  # fmt: skip

    def _page(self) -> None:
        self.app.push_screen(Reader("Page for the yard", Content(self._text().replace("\f", "\n"))))

    def _write(self) -> None:
        self.app.write_out("timber", self._text())

    # --- drawing --------------------------------------------------------------------------------------------------

    def _lines(self) -> list[str]:
        """The plan in words, made anew only when it, the rule or the screen is another."""
        width = max(30, min(_WIDEST, self.size.width - 3))
        of = (self.cutting.plan, Paper(self.session.rule, self.app.config.ascii_only, width))
        if self.told is None or self.told[0] != of:
            self.told = (of, lines(self.cutting.job, *of))
        return self.told[1]

    @property
    def _stands(self) -> bool:
        """Whether there is anything to draw on; what was found may be told after the screen was left."""
        return self.is_mounted and bool(self.query("#stock_plan"))

    def _high(self) -> int:
        return max(3, self.query_one("#stock_plan").size.height - 1)

    def _progress(self) -> str:
        cutting = self.cutting
        said = proof(cutting.job, cutting.plan)
        if cutting.plan.proof.proved:
            return f"✓ {said}"
        if not cutting.over:
            return f"… Searching; space stops it. {said}"
        return f"· {'Stopped; space searches on. ' if cutting.stopped else ''}{said}"

    def draw(self) -> None:
        if not self._stands:
            return
        width = self.size.width - 2
        plan, job = self.cutting.plan, self.cutting.job
        left = f"    {len(plan.missing)} not placed" if plan.missing else ""
        head = f" {self.session.boat.name} › timber    {len(plan.sawn)} timbers, {money(plan.cost, job)}{left}"
        self._say("top", Content.styled(fitted(head, width), "bold"))
        self._say("stock_told", Content(self._progress()))
        self._say("keys", Content(_KEYS))
        self._draw_plan()
        self.call_after_refresh(self._fit)  # what is said above may have taken more lines, or fewer

    def _fit(self) -> None:
        if self._stands and self._high() != self.drawn_high:
            self._draw_plan()

    def _draw_plan(self) -> None:
        width = self.size.width - 2
        told, high = self._lines(), self._high()
        self.drawn_high = high
        self.top = min(self.top, max(0, len(told) - high))
        shown = told[self.top : self.top + high]
        styled = [Content.styled(fitted(line, width), _style(line)) for line in shown]
        more = len(told) - self.top - len(shown)
        around = [f"↑ {self.top} more lines" if self.top else "", f"↓ {more} more lines" if more else ""]
        styled.append(Content.styled("  ".join(filter(None, around)), "$quiet"))
        self._say("stock_plan", Content("\n").join(styled))

    def _say(self, where: str, content: Content) -> None:
        self.query_one(f"#{where}", Static).update(content)


def _style(line: str) -> str:
    if line.startswith(("Timber ", "To buy", "Left over", "Could not", "The blanks")):
        return "bold"
    return "$warning" if line.startswith("CARE") else ""
