"""The cutting plan: what to buy and how every timber is sawn. The first plan stands at once, the proof follows."""

from collections.abc import Callable
from datetime import date

from textual import events
from textual.message import Message

from .. import __version__
from ..card.lines import Paper
from ..card.pages import WIDE
from ..card.yard import lines, money, page, proof
from ..errors import CompanionError
from ..profile.records import Boat
from ..stock.blanks import Task, task
from ..stock.pieces import Plan
from ..stock.search import Search
from .frame import top_row
from .keyed import FullScreen
from .paint import Row, Rows, fitted, folded, row, rows, stack, window
from .reader import TextScreen, page_width
from .session import Session

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
    longest = max((offcut.length for offcut in plan.offcuts), default=0.0)
    return -len(plan.missing), -plan.cost, -plan.waste, longest


class StockPage(FullScreen):
    """The cutting plan's screen: cost and progress above, the plan below."""

    place = "timber"
    moves = (("↑↓ PgUp PgDn", "scroll"), ("tab", "next timber"))

    class News(Message):
        """The search has a plan, or with None has ended; `fault` says why if it did not end well."""

        def __init__(self, search: Search, plan: Plan | None, fault: str = "") -> None:
            super().__init__()
            self.search, self.plan, self.fault = search, plan, fault

    def __init__(self, session: Session, cutting: Cutting) -> None:
        super().__init__()
        self.session, self.cutting = session, cutting
        self.top = 0  # the first line of the plan that is shown
        self.high, self.furthest = 1, 0  # rows of the plan that are seen, and how far it scrolls
        self.told: tuple[tuple[Plan, Paper], list[str]] | None = None

    def on_mount(self) -> None:
        if not self.cutting.over:
            search = self.cutting.search
            self._begin(self.cutting.again() if search.stopped else search)

    def on_unmount(self) -> None:
        self.cutting.search.stop()

    # --- the search -----------------------------------------------------------------------------------------------

    def _begin(self, search: Search) -> None:
        def follow() -> None:
            fault = ""
            try:
                for plan in search:
                    self.post_message(self.News(search, plan))
            except CompanionError as error:
                fault = str(error)
            self.post_message(self.News(search, None, fault))

        self.run_worker(follow, thread=True, exit_on_error=False)

    def on_stock_page_news(self, news: "StockPage.News") -> None:
        if news.search is not self.cutting.search:
            return
        if news.plan is not None:
            self.cutting.take(news.plan)
        else:
            self.cutting.over = True
        if news.fault:
            self.app.teller.tell(news.fault, wrong=True)
        self.draw()

    def do_search(self) -> None:
        if not self.cutting.over:
            self.cutting.search.stop()
            self.cutting.over = self.cutting.stopped = True
        elif not self.cutting.plan.proof.proved:
            self._begin(self.cutting.again())

    # --- keys -----------------------------------------------------------------------------------------------------

    def take_other(self, event: events.Key) -> None:
        does: dict[str, Callable[[], object]] = {
            "up": lambda: self._scroll(-1),
            "down": lambda: self._scroll(1),
            "pageup": lambda: self._scroll(2 - self.high),
            "pagedown": lambda: self._scroll(self.high - 2),
            "tab": lambda: self._turn(1),
            "shift+tab": lambda: self._turn(-1),
        }
        if event.key in does:
            does[event.key]()

    def _scroll(self, by: int) -> None:
        self.top = min(max(0, self.top + by), self.furthest)

    def _turn(self, by: int) -> None:
        """To the next timber, or the one before."""
        heads = [0, *(at for at, line in enumerate(self._lines()) if line.startswith("Timber "))]
        ahead = [at for at in heads if (at > self.top if by > 0 else at < self.top)]
        if ahead:
            self.top = ahead[0] if by > 0 else ahead[-1]
            self._scroll(0)

    def _text(self, wide: int = WIDE) -> str:
        session, cutting = self.session, self.cutting
        source = session.opened.listing.name if session.opened else ""
        return page(
            cutting.boat, cutting.job, cutting.plan, rule=session.rule, source=source, version=__version__,
            date=date.today().isoformat(), ascii_only=self.app.config.ascii_only, wide=wide,
        )  # fmt: skip

    def do_yard_page(self) -> None:
        pages = self._text(page_width(self.size.width)).replace("\f", "\n")
        self.app.push_screen(TextScreen("Page for the yard", rows(pages.split("\n"))))

    def do_write(self) -> None:
        self.app.printing.write("timber", self._text().encode(), "txt")

    # --- drawing --------------------------------------------------------------------------------------------------

    def _lines(self) -> list[str]:
        """The plan in words, made anew only when it, the rule or the screen is another."""
        width = max(30, min(_WIDEST, self.size.width - 3))
        of = (self.cutting.plan, Paper(self.session.rule, self.app.config.ascii_only, width))
        if self.told is None or self.told[0] != of:
            self.told = (of, lines(self.cutting.job, *of))
        return self.told[1]

    def _progress(self) -> str:
        cutting = self.cutting
        said = proof(cutting.job, cutting.plan)
        if cutting.plan.proof.proved:
            return f"✓ {said}"
        if not cutting.over:
            return f"… Searching; space stops it. {said}"
        return f"· {'Stopped; space searches on. ' if cutting.stopped else ''}{said}"

    def rows(self, width: int, height: int) -> list[Row]:
        plan, job = self.cutting.plan, self.cutting.job
        left = f"    {len(plan.missing)} not placed" if plan.missing else ""
        where, count = f"{self.session.boat.name} › timber", f"{len(plan.sawn)} timbers, {money(plan.cost, job)}{left}"
        told = Rows(((" ", ""), *line) for line in folded([row(self._progress())], width - 2))
        head = stack([top_row([where, "timber"], [count], [""], width)], told, rows([""]))
        foot = self.foot(width, max(1, height // 5))
        if height - len(head) - len(foot) < 4:
            head, foot = Rows(head[:1]), Rows()
        lines = [row((f" {fitted(line, width - 2)}", _role(line))) for line in self._lines()]
        self.high = max(1, height - len(head) - len(foot))
        seen = window(lines, self.top, self.high)
        self.top, self.furthest = seen.top, seen.furthest
        return [*head, *seen.lines, *rows([""]) * (self.high - len(seen.lines)), *foot]


def _role(line: str) -> str:
    if line.startswith(("Timber ", "To buy", "Left over", "Could not", "The blanks")):
        return "bold"
    return "warning" if line.startswith("CARE") else ""
