"""Screens that handle a key at once, and among them those that fill the terminal with rows."""

from collections.abc import Callable
from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.screen import Screen

from .canvas import Canvas
from .editing import one_line
from .frame import LOW, foot_rows
from .keys import WRITTEN_IN, bound, on_bar
from .paint import Row, Rows, stack
from .tally_row import tally_row

if TYPE_CHECKING:
    from .app import Companion


class Keyed:
    """Takes keys and pasted text as one stream, so that nothing typed before the screen is drawn is lost."""

    def _forward_event(self, event: events.Event) -> None:
        if isinstance(event, events.Key):
            self.take_key(event)
        elif isinstance(event, events.Paste):
            self.take_text(one_line(event.text))
        else:
            super()._forward_event(event)  # type: ignore[misc]

    def take_key(self, event: events.Key) -> None:
        raise NotImplementedError

    def take_text(self, text: str) -> None:
        """Take pasted text; a screen that is not written in ignores it."""


class FullScreen(Keyed, Screen[None], inherit_css=False):
    """A screen made of rows alone, which `rows` gives at every change.

    A key of the table of keys does what it says there for this `place`: the screen's own `do_…` of that name, else the
    app's action. Other keys go to `take_other`. `moves` are the bar's words for those.
    """

    AUTO_FOCUS = ""
    app: "Companion"
    place: ClassVar[str] = "page"
    moves: ClassVar[tuple[tuple[str, str], ...]] = ()

    def __init__(self) -> None:
        super().__init__()
        self.canvas = Canvas(self.rows)
        self.without: tuple[str, ...] = ()  # actions of this place that do nothing as it stands

    def compose(self) -> ComposeResult:
        yield self.canvas

    # --- keys -----------------------------------------------------------------------------------------------------

    def take_key(self, event: events.Key) -> None:
        name = bound(self.app.config.keys, self.place).get(event.key)
        if name is None or (self.place in WRITTEN_IN and event.is_printable):  # a letter is text there
            self.take_other(event)
        else:
            getattr(self, f"do_{name}", lambda: self.app.do(name))()
        self.draw()

    def take_other(self, event: events.Key) -> None:
        """Handle a key that is not in the table of keys."""

    def do_back(self) -> None:
        self.dismiss(None)

    def settle(self, then: Callable[[], object]) -> None:
        """Call `then` when nothing is half done here, or once the user has decided what becomes of it."""
        then()

    # --- drawing --------------------------------------------------------------------------------------------------

    def rows(self, width: int, height: int) -> list[Row]:
        raise NotImplementedError

    def foot(self, width: int, most: int) -> Rows:
        """The rows at the foot: the keys or a message, above them the tally unless rows are few."""
        keys = on_bar(self.app.config.keys, self.place, self.moves, self.without)
        tally = tally_row(self.app.session, width) if self.size.height >= LOW else Rows()
        return stack(tally, foot_rows(self.app.teller.message, keys, width, most))

    def draw(self) -> None:
        """Paint what has changed."""
        if self.is_mounted and self.canvas.is_mounted:
            self.canvas.paint()
