"""The one widget that paints: it is given rows of styled text and paints those that changed."""

from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache
from itertools import groupby
from operator import itemgetter

from rich.color import Color
from rich.segment import Segment
from rich.style import Style
from textual.app import RenderResult
from textual.filter import ANSIToTruecolor, LineFilter
from textual.geometry import Region
from textual.strip import Strip
from textual.theme import Theme
from textual.widget import Widget

from ..errors import shown
from .paint import Row, fit, words_of
from .themes import THEMES

_PLAIN = {"bold", "italic", "reverse", "underline"}


def _named(colour: str | None) -> str | None:
    return colour.removeprefix("ansi_") if colour else colour


@lru_cache(maxsize=128)
def style_of(theme: str, role: str) -> Style:
    """The style of a role in a theme. A word that is no role is a ValueError."""
    of = next(known for known in THEMES if known.name == theme)
    front, back = of.foreground, of.background
    own = _colours(of)
    effects = {}
    for word in role.split():
        if word in _PLAIN:
            effects[word] = True
        elif word in own:
            front = own[word]
        elif word in ("bar", "field"):
            back = of.panel
        elif word == "held":  # the field with the cursor
            back = of.variables["held"]
        else:
            raise ValueError(f"{word} is no role")
    if of.ansi and {"field", "held"} & {*role.split()}:
        effects["underline"] = True
    return Style(color=_colour(_named(front)), bgcolor=_colour(_named(back)), **effects)  # type: ignore[arg-type]


def _colours(theme: Theme) -> dict[str, str | None]:
    named = {name: theme.variables[name] for name in ("quiet", "wood", "squared")}
    return {**named, "accent": theme.accent, "warning": theme.warning, "error": theme.error}


@lru_cache(maxsize=64)
def _colour(name: str) -> Color:
    return Color.parse(name)


@lru_cache(maxsize=48)  # a strip keeps what it was rendered to: some kilobytes
def _strip(row: Row, width: int, theme: str) -> Strip:
    runs = groupby([span for span in fit(row, width) if span[0]], key=itemgetter(1))
    return Strip([Segment("".join([text for text, _ in run]), style_of(theme, role)) for role, run in runs], width)


def safe(row: Row) -> Row:
    """The row without control characters: every row goes through here to the screen."""
    if words_of(row).isprintable():
        return row
    return tuple((plain(text), role) for text, role in row)


def plain(text: str) -> str:
    """A piece of one row as it may go to the terminal."""
    return shown(text).translate(_BLANKS)


_BLANKS = {ord(letter): " " for letter in "\t\n\r\x0c"}


class Canvas(Widget, inherit_css=False):
    """A widget of rows. `draw` gives them for a width and a height; `paint` calls it and repaints the changed rows."""

    def __init__(self, draw: Callable[[int, int], Iterable[Row]]) -> None:
        super().__init__()
        self.styles.width = self.styles.height = "100%"
        self.draw = draw
        self.lines: list[Row] = []
        self._of: tuple[object, ...] = ()  # size and theme that the lines are of
        self._then: list[Callable[[], object]] = []

    def paint(self) -> None:
        """Take the rows as they are now, and repaint those that changed."""
        if self.size and (changed := self._take()):
            self.refresh(*(Region(0, y, self.size.width, 1) for y in changed))
        else:
            self._go_on()

    def when_painted(self, call: Callable[[], object]) -> None:
        """Have this called when the rows that are being taken are on the screen. Textual's `call_after_refresh` comes
        before, as a widget says only later that it is to be painted.
        """
        if call not in self._then:
            self._then.append(call)

    def _go_on(self) -> None:
        due, self._then = self._then, []
        for call in due:
            self.call_later(call)

    def paint_if_shown(self) -> None:
        """Do so if the canvas is on a screen already."""
        if self.is_mounted:
            self.paint()

    def _take(self) -> list[int]:
        """Take the rows as they are now; the numbers of those that changed."""
        width, height = self.size
        rows = [safe(row) for row in list(self.draw(width, height))[:height]]
        rows += [()] * (height - len(rows))
        of = (self.size, self.app.theme)
        anew = of != self._of
        changed = [y for y, row in enumerate(rows) if anew or row != self.lines[y]]
        self.lines, self._of = rows, of
        return changed

    def on_resize(self) -> None:
        if self._of != (self.size, self.app.theme):  # else they were taken for this size when it was first painted
            self.paint()

    def render(self) -> RenderResult:
        return ""

    def get_line_filters(self) -> Sequence[LineFilter]:
        """Without the one for the terminal's sixteen colours: where it counts, all colours here are a theme's own."""
        return [one for one in super().get_line_filters() if not isinstance(one, ANSIToTruecolor)]

    def render_lines(self, crop: Region) -> list[Strip]:
        if self._of[:1] != (self.size,):  # the first time, or of another size: not a frame without it
            self._take()
        width = self.size.width
        background = self.background_colors[1]
        filters = self.get_line_filters()
        strips = []
        for y in crop.line_range:
            strip = _strip(self.lines[y] if y < len(self.lines) else (), width, self.app.theme)
            for line_filter in filters:
                strip = strip.apply_filter(line_filter, background)
            strips.append(strip)
        if crop.column_span != (0, width):
            strips = [strip.crop(*crop.column_span) for strip in strips]
        self._go_on()
        return strips
