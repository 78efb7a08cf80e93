"""The job: the steps of a spar in the order it is made, with their numbers, to be ticked off; and its card."""

from collections.abc import Callable
from datetime import date

from textual import events

from .. import __version__
from ..card.lines import BODY, Paper
from ..card.pages import WIDE
from ..card.standing import Change, changes
from ..card.steps import progress, steps
from ..lengths import show
from ..profile.records import Spar
from ..storage import store
from .frame import NARROW, top_row
from .frame import WIDE as WIDE_SCREEN
from .keyed import FullScreen
from .paint import Row, Rows, beside, fitted, row, rows, stack, window
from .reader import TextScreen, page_width
from .session import Session
from .wood import wood

_WOOD, _LESS = 34, 20  # columns of the wood as it stands, on a wide screen and on another


class Job(FullScreen):
    """The job's screen: the list of steps above, the step under the cursor in full below."""

    place = "job"
    moves = (("↑↓", "step"), ("PgUp PgDn", "read on"))

    def __init__(self, session: Session, changed: Callable[[], None]) -> None:
        super().__init__()
        self.session, self.changed, self.spar_name = session, changed, session.spar_name
        self.top = 0  # the first line of the step that is shown
        self.first = 0  # the first step of the list that is shown
        self.page, self.furthest = 1, 0  # lines that a key reads on, and how far there is to read
        self._wood: tuple[object, tuple[Change, ...]] = (None, ())  # with what it is of
        self.renew()
        ahead = progress(self.steps, self._done()).next
        self.at = self.steps.index(ahead) if ahead in self.steps else 0

    def renew(self) -> None:
        """Derive the steps anew. What steps() raises."""
        spar = self.session.spar
        self.steps = steps(self.session.boat, spar, self.session.rule) if spar else ()

    def _changes(self, spar: Spar) -> tuple[Change, ...]:
        """What every step does to the wood at the station, worked out once for a boat and a station."""
        of = self.session.state.text, self.session.at
        if self._wood[0] != of:
            self._wood = of, changes(self.session.boat, spar, self.steps, self.session.at)
        return self._wood[1]

    def _done(self) -> tuple[str, ...]:
        return self.session.spar.done if self.session.spar else ()

    # --- keys -----------------------------------------------------------------------------------------------------

    def take_other(self, event: events.Key) -> None:
        does: dict[str, Callable[[], object]] = {
            "up": lambda: self._move(-1),
            "down": lambda: self._move(1),
            "pagedown": lambda: self._scroll(1),
            "pageup": lambda: self._scroll(-1),
        }
        if event.key in does:
            does[event.key]()

    def go_to(self, step_id: str) -> None:
        """Put the cursor on a step, by its id."""
        self.at, self.top = next((n for n, step in enumerate(self.steps) if step.id == step_id), self.at), 0
        self.draw()

    def _move(self, by: int) -> None:
        self.at, self.top = max(0, min(self.at + by, len(self.steps) - 1)), 0

    def _scroll(self, by: int) -> None:
        self.top = min(max(0, self.top + by * self.page), self.furthest)

    def do_tick(self) -> None:
        from ..profile_text import edit_spar

        step, spar = self.steps[self.at], self.session.spar_name
        on = step.id not in self._done()
        said = f"{step.title}: {'done' if on else 'not done'}"
        self.app.teller.attempt(lambda: self.session.edit(said, lambda text: edit_spar.tick(text, spar, step.id, on)))
        self.changed()

    def do_tick_on(self) -> None:
        if self.steps[self.at].id not in self._done():
            self.do_tick()
        self._move(1)

    def do_undo(self) -> None:
        self.app.changes.undo_under(self, self.spar_name, self._renew)

    def _renew(self) -> None:
        self.app.teller.attempt(self.renew)
        self._move(0)
        self.changed()

    def _text(self, wide: int = WIDE) -> str:
        from ..card.text import card

        session = self.session
        source = session.opened.listing.name if session.opened else ""
        today = date.today().isoformat()
        made = card(
            session.boat, session.spar, rule=session.rule, source=source, version=__version__, date=today,
            ascii_only=self.app.config.ascii_only, wide=wide,
        )  # fmt: skip
        return made.text

    def do_card(self) -> None:
        pages = self._text(page_width(self.size.width)).replace("\f", "\n")
        self.app.push_screen(TextScreen(f"Card of {self.session.spar_name}", rows(pages.split("\n"))))

    def do_write(self) -> None:
        self.app.printing.write(f"{store.slug(self.session.spar_name)}-card", self._text().encode(), "txt")

    def do_print(self) -> None:
        self.app.teller.attempt(self.app.printing.card)

    # --- drawing --------------------------------------------------------------------------------------------------

    def _lines(self, width: int) -> list[str]:
        """The step under the cursor with everything it needs."""
        step = self.steps[self.at]
        wide = max(30, min(WIDE, width - 1))
        paper = Paper(self.session.rule, self.app.config.ascii_only, wide)
        block = paper.step(step, self.at + 1, step.id in self._done())
        lines = [line for part in block.parts for line in part]
        if max(map(len, lines)) > wide:  # a table is as wide as it is: everything moves to the left for it
            lines = [line.removeprefix(BODY) for line in lines]
        return [fitted(line, wide) for line in lines]

    def rows(self, width: int, height: int) -> list[Row]:
        spar = self.session.spar
        if not self.steps or spar is None:  # the job goes when its spar does
            return []
        session, done = self.session, self._done()
        far = progress(self.steps, done)
        where = f"{session.boat.name} › {session.spar_name}"
        count = f"{far.done} of {far.of} steps done"
        top = Rows([top_row([where, session.spar_name], [count], [session.state_word], width)])
        foot = self.foot(width, max(1, height // 5))
        if height < 8:
            foot = Rows()
        listed = []
        beside_it = _WOOD if width >= WIDE_SCREEN else _LESS if width >= NARROW else 0
        wide = width - 1 - (beside_it + 1 if beside_it else 0)
        for index, step in enumerate(self.steps):
            sign = "▸" if index == self.at else " "
            text = f" {sign} [{'x' if step.id in done else ' '}] {index + 1:>2}  {step.title}"
            listed.append(row((fitted(text, wide), "reverse bold" if index == self.at else "")))
        room = max(1, height - len(top) - len(foot))
        shown = window(listed, self.first, min(max(4, height // 3), max(1, room - 3)), self.at)
        self.first = shown.top
        high = max(1, room - len(shown.lines) - 1)
        listing = list(shown.lines)
        if beside_it:
            change = self._changes(spar)[self.at]
            place = show(session.at, session.rule)
            picture = wood(change, place, session.rule, (beside_it, len(listing)), self.app.config.ascii_only)
            listing = beside(width, (listing, width - beside_it - 1), (picture, beside_it))
        told = [
            row(((" " + line), "warning" if line.lstrip().startswith("CARE") else "")) for line in self._lines(width)
        ]
        step_seen = window(told[1:], self.top, high)
        self.top, self.furthest, self.page = step_seen.top, step_seen.furthest, max(1, high - 2)
        lines = stack(top, listing, rows([""]), step_seen.lines)
        return [*lines, *rows([""]) * (height - len(foot) - len(lines)), *foot]
