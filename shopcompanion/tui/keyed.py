"""Screens that take a key when it comes, not when its own turn does; and those that fill the terminal with rows."""

from textual import events
from textual.app import ComposeResult
from textual.screen import Screen

from .canvas import Canvas
from .editing import one_line
from .paint import Row


class Keyed:
    """Keys and pasted text as one stream: what is typed before the screen is drawn is not lost."""

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
        """Nothing is written here, unless a screen says so."""


class FullScreen(Keyed, Screen[None]):
    """A screen of rows alone: `rows` is asked for them at every change."""

    AUTO_FOCUS = ""

    def __init__(self) -> None:
        super().__init__()
        self.canvas = Canvas(self.rows)

    def compose(self) -> ComposeResult:
        yield self.canvas

    def rows(self, width: int, height: int) -> list[Row]:
        raise NotImplementedError

    def draw(self) -> None:
        """Paint what has changed."""
        if self.is_mounted and self.canvas.is_mounted:
            self.canvas.paint()
