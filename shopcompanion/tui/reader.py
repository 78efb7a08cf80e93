"""A text to read on a screen of its own: help, a card, a page for the yard, faults. It scrolls and changes nothing."""

from collections.abc import Iterable

from textual import events

from ..card.pages import WIDE
from .frame import top_row
from .keyed import FullScreen
from .paint import Row, Rows, folded, row, stack, window

_LEAST = 40  # characters of a page for paper, which is folded where a screen is narrower


def page_width(width: int) -> int:
    """The characters of a line of a page for paper, as it is read on a screen of that width."""
    return max(_LEAST, min(WIDE, width - 2))


class TextScreen(FullScreen):
    """The screen of a page to read. `text` are its rows, each folded where the screen is too narrow for it."""

    place = "page"
    moves = (("↑↓", "scroll"),)

    def __init__(self, title: str, text: Iterable[Row]) -> None:
        super().__init__()
        self.heading, self.text = title, Rows(text)
        self.top, self.high, self.furthest = 0, 1, 0

    def take_other(self, event: events.Key) -> None:
        letter = event.character or ""
        if self.heading == HELP and event.is_printable and letter.isalpha():  # a question: the finder answers it
            self.app.finder.do_find(letter)
            return
        page = max(1, self.high - 2)
        by = {"up": -1, "down": 1, "pageup": -page, "pagedown": page, "space": page, "home": -self.top}
        if event.key == "enter":
            self.dismiss(None)
            return
        to = self.furthest if event.key == "end" else self.top + by.get(event.key, 0)
        self.top = min(max(0, to), self.furthest)

    def do_help(self) -> None:
        """From help back to where it was asked for; from another page to the help."""
        if self.heading == HELP:
            self.dismiss(None)
        else:
            self.app.do("help")

    def rows(self, width: int, height: int) -> list[Row]:
        head = [top_row([self.heading], [""], [""], width)]
        foot = self.foot(width, 1) if height > 2 else Rows()
        self.high = max(1, height - len(head) - len(foot))
        inset = [((" ", ""), *line) for line in folded(self.text, max(1, width - 2))]
        seen = window(inset, self.top, self.high)
        self.top, self.furthest = seen.top, seen.furthest
        return list(stack(head, seen.lines, [row("")] * (self.high - len(seen.lines)), foot))


HELP = "Help"
