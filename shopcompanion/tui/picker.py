"""Small screens over the bench: pick one of a list by typing some of it, or write a line.

They take their keys as one stream on the screen itself, each at once: letters typed before they are drawn are not lost,
and what is typed after the last key goes to the screen below.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

from textual import events
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from ..errors import InputFault
from .canvas import plain
from .keyed import Keyed
from .keys import show_key
from .paint import fitted
from .search import PickerRow, answers, meant, rank


def _styled(text: str, style: str = "") -> Content:
    """A row as Content for the terminal; its text is never markup."""
    return Content.styled(plain(text), style)


class Box(Vertical, inherit_css=False):
    """The box of a small screen."""


class Lines(Static, inherit_css=False):
    """Some of the lines in it."""


class Card(Keyed, ModalScreen[Any], inherit_css=False):
    """A box over the bench, with a head, rows and a foot; `draw` fills them."""

    DEFAULT_CSS = """
    Card { align: center middle; background: $background 70%; color: $foreground; }
    Card:ansi { background: transparent; }
    Box {
        width: auto; max-width: 106; min-width: 40; height: auto; max-height: 100%;
        padding: 0 1; border: round $accent; background: $background; overflow: hidden;
    }
    Lines { width: auto; max-width: 102; height: auto; }
    """
    SCOPED_CSS = False

    def compose(self) -> ComposeResult:
        self.head, self.rows, self.foot = Lines(), Lines(), Lines()
        with Box():
            yield from (self.head, self.rows, self.foot)

    def on_mount(self) -> None:
        self.draw()

    def on_resize(self) -> None:
        self.draw()

    def draw(self) -> None:
        raise NotImplementedError

    def fill(self, head: Sequence[Content], rows: Sequence[Content], foot: Content) -> None:
        self.head.update(Content("\n").join(head))
        self.rows.update(Content("\n").join(rows))
        self.foot.update(foot)


class Picker(Card):
    """A list to pick from by arrows and enter, or by typing; dismissed with the value, or None.

    `extra` maps a key to (name, words): it dismisses with (name, value of the row under the cursor). `describe` says
    more of a value, and is asked only for rows that are on the screen. With `must` there is no way out but to pick.
    With `numbered` the first nine rows have a number: typed alone, it goes to its row, and enter picks that; whatever
    is typed behind it makes it text. With `asked`, what is typed may be a question where no row holds all of its words;
    these rows answer it too, without being listed. `typed` is what stands there from the start.
    """

    def __init__(
        self,
        title: str,
        choices: list[PickerRow],
        *,
        extra: Mapping[str, tuple[str, str]] | None = None,
        message: str = "",
        start: int = 0,
        describe: Callable[[Any], str] | None = None,
        must: bool = False,
        numbered: bool = False,
        asked: Sequence[PickerRow] | None = None,
        typed: str = "",
    ) -> None:
        super().__init__()
        self.heading, self.choices, self.message = title, choices, message
        self.extra, self.describe, self.must, self.numbered = extra or {}, describe, must, numbered
        self.asked = asked
        self.typed = ""
        self.shown = choices
        self.cursor = start
        if typed:
            self.search(typed)

    def take_key(self, event: events.Key) -> None:
        key = event.key
        moves = {"down": 1, "tab": 1, "up": -1, "shift+tab": -1, "pagedown": 8, "pageup": -8}
        if key in ("escape", "ctrl+q", "ctrl+c"):
            if not self.must:
                self.dismiss(None)
        elif key in self.extra and self.shown:
            self.dismiss((self.extra[key][0], self.shown[self.cursor].value))
        elif key == "enter" and self.shown:
            self.dismiss(self.shown[self.cursor].value)
        elif key in moves:
            self.cursor = min(max(0, self.cursor + moves[key]), max(0, len(self.shown) - 1))
            self.draw()
        elif key == "backspace":
            self.search(self.typed[:-1])
        elif event.is_printable and event.character:
            self.take_text(event.character)

    def take_text(self, text: str) -> None:
        self.search(self.typed + text)

    def search(self, typed: str) -> None:
        self.typed, self.cursor = typed[:50], 0
        number = self.numbered and self.typed in tuple("123456789") and int(self.typed) <= len(self.choices)
        self.shown = self.choices if number else rank(self.choices, self.typed)
        if not self.shown and self.asked is not None:
            self.shown = answers([*self.choices, *self.asked], self.typed)
        if number:
            self.cursor = int(self.typed) - 1
        self.draw()

    def add(self, choices: Iterable[PickerRow]) -> None:
        """Add rows behind the others; what is typed and the cursor stay."""
        self.replace([*self.choices, *choices])

    def replace(self, choices: list[PickerRow]) -> None:
        """Have these rows; what is typed and the cursor stay."""
        cursor, self.choices = self.cursor, choices
        self.search(self.typed)
        self.cursor = min(cursor, max(0, len(self.shown) - 1))
        self.draw()

    def draw(self) -> None:
        if not self.is_mounted or self not in self.app.screen_stack:  # not yet there, or gone before its work was done
            return
        width = max(1, min(self.size.width - 6, 100))
        rows = max(3, min(len(self.choices), self.size.height - 10))
        first = max(0, min(self.cursor - rows // 2, len(self.shown) - rows))
        window = self.shown[first : first + rows]
        word = min(max((len(choice.word) for choice in window), default=0), width // 2) + 2
        lines = []
        for index, choice in enumerate(window, first):
            says = self.describe(choice.value) if self.describe else choice.says
            says = f"{choice.group}: {says}" if choice.group and says else choice.group or says
            if self.typed and rank([choice._replace(also=())], self.typed) == []:
                says = f"{meant(choice, self.typed)}: {says}" if meant(choice, self.typed) else says
            number = f"{index + 1 if index < 9 else ' '} " if self.numbered else ""
            line = f"{'▸' if index == self.cursor else ' '} {number}{fitted(choice.word, word - 2):<{word}}{says}"
            lines.append(_styled(fitted(line, width), "reverse bold" if index == self.cursor else ""))
        if not lines:
            lines = [Content("  no match; backspace deletes letters")]
        more = len(self.shown) - first - len(window)
        around = [f"↑ {first} more" if first else "", f"↓ {more} more" if more else ""]
        head = [_styled(self.heading, "bold $accent")]
        head += [_styled(self.message)] if self.message else []
        head += [_styled(f"› {self.typed}▏")] if len(self.choices) > 3 or self.typed else []
        keys = [
            "↑↓ or number, ⏎ picks" if self.numbered else "↑↓ ⏎ pick",
            *(f"{show_key(key)} {says}" for key, (_, says) in self.extra.items()),
            "" if self.must else "esc back",
            *around,
        ]
        self.fill(head, lines, _styled(fitted("  ".join(filter(None, keys)), width), "$quiet"))


class LineEntry(Card):
    """A line to write; dismissed with its text, or None. `check` raises InputFault when it will not do, and the reason
    then stands under it.
    """

    def __init__(self, title: str, check: Callable[[str], object], text: str = "") -> None:
        super().__init__()
        self.heading, self.check, self.text = title, check, text
        self.reason = ""

    def take_key(self, event: events.Key) -> None:
        if event.key in ("escape", "ctrl+q", "ctrl+c"):
            self.dismiss(None)
        elif event.key == "enter":
            try:
                self.check(self.text)
            except InputFault as fault:
                self.reason = str(fault)
                self.draw()
            else:
                self.dismiss(self.text)
        elif event.key == "backspace":
            self.write(self.text[:-1])
        elif event.key == "ctrl+u":
            self.write("")
        elif event.is_printable and event.character:
            self.take_text(event.character)

    def take_text(self, text: str) -> None:
        self.write(self.text + text)

    def write(self, text: str) -> None:
        self.text, self.reason = "".join(c for c in text if c.isprintable())[:80], ""
        self.draw()

    def draw(self) -> None:
        if not self.is_mounted:
            return
        reason = _styled(f"✗ {self.reason}", "$error") if self.reason else Content("")
        rows = [_styled(f"› {self.text}▏"), reason]
        self.fill([_styled(self.heading, "bold $accent")], rows, _styled("⏎ done  esc back", "$quiet"))
