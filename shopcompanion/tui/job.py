"""The job: the steps of a spar in the order it is made, with their numbers, to be ticked off; and its card."""

from collections.abc import Callable
from datetime import date
from typing import TYPE_CHECKING

from textual import events
from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import Static

from ..card.lines import BODY, Paper
from ..card.pages import WIDE
from ..card.steps import progress, steps
from ..card.text import card
from ..profile_text import edit_spar
from ..storage import store
from .picker import Keyed, Reader
from .session import Session
from .widgets import fitted

if TYPE_CHECKING:
    from .app import Companion

_KEYS = "↑↓ step  space done  ⏎ done, next  PgUp PgDn read on  c card  w write the card  ^Z undo  esc back"


class Job(Keyed[None]):
    """The steps above, the one under the cursor below with everything it needs."""

    app: "Companion"

    def __init__(self, session: Session, changed: Callable[[], None], version: str | None) -> None:
        super().__init__()
        self.session, self.changed, self.version, self.spar_name = session, changed, version, session.spar_name
        self.top = 0  # the first line of the step that is shown
        self.renew()
        ahead = progress(self.steps, self._done()).next
        self.at = self.steps.index(ahead) if ahead in self.steps else 0

    def renew(self) -> None:
        """Derive the steps anew. What steps() raises."""
        spar = self.session.spar
        self.steps = steps(self.session.boat, spar, self.session.rule) if spar else ()

    def _done(self) -> tuple[str, ...]:
        return self.session.spar.done if self.session.spar else ()

    def compose(self) -> ComposeResult:
        yield Static(id="top")
        yield Static(id="job_steps")
        yield Static(id="job_step")
        yield Static(id="keys")

    def on_mount(self) -> None:
        self.call_after_refresh(self.draw)

    def on_resize(self) -> None:
        self.call_after_refresh(self.draw)

    # --- keys -----------------------------------------------------------------------------------------------------

    def take_key(self, event: events.Key) -> None:
        does: dict[str, Callable[[], object]] = {
            "escape": lambda: self.dismiss(None),
            "ctrl+q": lambda: self.dismiss(None),
            "up": lambda: self._move(-1),
            "down": lambda: self._move(1),
            "space": self._tick,
            "enter": self._tick_and_on,
            "pagedown": lambda: self._scroll(1),
            "pageup": lambda: self._scroll(-1),
            "c": self._card,
            "w": self._write,
            "ctrl+z": self._undo,
            "ctrl+s": self.app.action_save,
        }
        if event.key in does:
            does[event.key]()
            self.draw()

    def take_text(self, text: str) -> None:
        """Nothing is written here."""

    def _move(self, by: int) -> None:
        self.at, self.top = max(0, min(self.at + by, len(self.steps) - 1)), 0

    def _scroll(self, by: int) -> None:
        high = max(1, self._high() - 1)
        self.top = min(max(0, self.top + by * high), max(0, len(self._lines()) - high))

    def _tick(self) -> None:
        step, spar = self.steps[self.at], self.session.spar_name
        on = step.id not in self._done()
        said = f"{step.title}: {'done' if on else 'not done'}"
        self.app.attempt(lambda: self.session.edit(said, lambda text: edit_spar.tick(text, spar, step.id, on)))
        self.changed()

    def _tick_and_on(self) -> None:
        if self.steps[self.at].id not in self._done():
            self._tick()
        self._move(1)

    def _undo(self) -> None:
        self.app.undo_under(self, self.spar_name, self._renew)

    def _renew(self) -> None:
        self.app.attempt(self.renew)
        self._move(0)
        self.changed()

    def _text(self) -> str:
        session = self.session
        source = session.opened.listing.name if session.opened else ""
        today = date.today().isoformat()
        return card(session.boat, session.spar, rule=session.rule, source=source, version=self.version, date=today)

    def _card(self) -> None:
        pages = self._text().replace("\f", "\n")
        self.app.push_screen(Reader(f"Card of {self.session.spar_name}", Content(pages)))

    def _write(self) -> None:
        self.app.write_out(f"{store.slug(self.session.spar_name)}-card", self._text())

    # --- drawing --------------------------------------------------------------------------------------------------

    def _lines(self) -> list[str]:
        step = self.steps[self.at]
        width = max(30, min(WIDE, self.size.width - 1))
        paper = Paper(self.session.rule, self.app.config.ascii_only, width)
        block = paper.step(step, self.at + 1, step.id in self._done())
        lines = [line for part in block.parts for line in part]
        if max(map(len, lines)) > width:  # a table is as wide as it is: everything moves to the left for it
            lines = [line.removeprefix(BODY) for line in lines]
        return [fitted(line, width) for line in lines]

    def _listed(self) -> int:
        """How many steps the list shows."""
        return min(len(self.steps), max(4, self.size.height // 3))

    def _high(self) -> int:
        return max(3, self.size.height - self._listed() - 5)

    def draw(self) -> None:
        if not self.is_mounted or not self.steps:
            return
        session, width, done = self.session, self.size.width - 2, self._done()
        far = progress(self.steps, done)
        saved = "not saved ●" if session.unsaved else "saved"
        head = f" {session.boat.name} › {session.spar_name}    {far.done} of {far.of} steps done    {saved}"
        self._say("top", Content.styled(fitted(head, width), "bold"))
        high = self._listed()
        first = max(0, min(self.at - high // 2, len(self.steps) - high))
        lines = []
        for index, step in enumerate(self.steps[first : first + high], first):
            sign = "▸" if index == self.at else " "
            text = fitted(f"{sign} [{'x' if step.id in done else ' '}] {index + 1:>2}  {step.title}", width)
            lines.append(Content.styled(text, "reverse bold" if index == self.at else ""))
        self._say("job_steps", Content("\n").join(lines))
        told = self._lines()[1:]
        shown = told[self.top : self.top + self._high()]
        lines = [Content.styled(line, "$warning" if line.lstrip().startswith("CARE") else "") for line in shown]
        left = len(told) - self.top - len(shown)
        lines.append(Content.styled(f"↓ {left} more lines" if left else "", "$quiet"))
        self._say("job_step", Content("\n").join(lines))
        self._say("keys", Content(_KEYS))

    def _say(self, where: str, content: Content) -> None:
        self.query_one(f"#{where}", Static).update(content)
