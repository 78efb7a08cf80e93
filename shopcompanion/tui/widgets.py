"""The pieces of the bench: the spar's strip, and a field of the form."""

from collections.abc import Callable
from dataclasses import replace
from typing import ClassVar

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.reactive import Reactive
from textual.strip import Strip as ScreenLine
from textual.widget import Widget
from textual.widgets import Input, Static

from ..calculator import Field
from ..drawing.strip import Mark, strip
from ..fields import Choice, Value
from ..form import Entry
from ..lengths import Rule
from .session import Session

PASSED_ON = ("less_than_sign", "greater_than_sign", "question_mark")  # they stand in no length: here they are keys


def fitted(text: str, width: int) -> str:
    """`text` in no more than `width` characters, with a sign where it is cut."""
    return text if len(text) <= width else text[: max(0, width - 1)] + "…"


def one_line(pasted: str) -> str:
    """The first line of a pasted text; what cannot be shown becomes a space, so that no two figures run together."""
    return "".join(letter if letter.isprintable() else " " for letter in (pasted.splitlines() or [""])[0])


class SparStrip(Widget):
    """The spar across the screen, with its station; redrawn whole, as it is only a few lines."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "strip--wood",
        "strip--square",
        "strip--cursor",
        "strip--scale",
        "strip--mark",
    }

    def __init__(self, session: Session, *, id: str) -> None:
        super().__init__(id=id)
        self.session = session
        self._lines: list[ScreenLine] = []
        self._drawn_from: tuple[object, ...] = ()

    def draw(self) -> None:
        """Take the spar and the station as they are now."""
        spar, width = self.session.spar, self.size.width
        drawn_from = (spar, self.session.at, self.session.rule, self.size, self.app.theme)
        if drawn_from == self._drawn_from:
            return
        self._drawn_from = drawn_from
        self._lines = []
        if spar is not None and width >= 20:
            marks = [Mark(one.at, "◇", one.kind) for one in spar.joints]
            marks += [Mark(one.at, "▾", one.name or one.kind) for one in spar.fittings]
            drawn = strip(
                spar.outline(),
                self.session.at,
                self.session.rule,
                width,
                square_to=spar.length if spar.section == "square" else spar.square_to or 0,
                marks=marks,
                low=self.size.height < 5,
            )
            self._lines = [ScreenLine([self._segment(*run) for run in line], width) for line in drawn.lines]
        self.refresh()

    def _segment(self, text: str, role: str) -> Segment:
        style = self.get_component_rich_style(f"strip--{role.removesuffix('-turned')}")
        return Segment(text, style + Style(reverse=True) if role.endswith("-turned") else style)

    def render_line(self, y: int) -> ScreenLine:
        if y < len(self._lines):
            return self._lines[y]
        return ScreenLine.blank(self.size.width, self.rich_style)

    def on_resize(self) -> None:
        self.draw()


class Words(Static):
    """Words that change with every key. The whole screen is laid out anew only when they take more lines or fewer:
    that takes longer than all the sums. Those that keep their room give no line back until it is laid out for
    something else, so that nothing jumps from key to key.
    """

    virtual_size = Reactive(Size(0, 0))  # nor is it laid out a second time for that; this scrolls nowhere

    def __init__(self, *, id: str, keeps_room: bool = False) -> None:
        super().__init__(id=id)
        self.held: Content | None = None
        self.keeps_room = keeps_room

    def put(self, content: Content) -> None:
        width, height = self.content_size
        wanted = content.get_height(self.styles.get_rules(), width) if width > 0 else -1
        stays = wanted == height or (self.keeps_room and self.held is not None and 0 <= wanted < height <= self._room())
        self.held = content
        self.update(content, layout=not stays)

    def _room(self) -> int:
        """How high it may be kept: on a page no higher than the page, which would scroll over nothing."""
        return self.parent.size.height if isinstance(self.parent, Page) else self.screen.size.height


class Page(VerticalScroll):
    """A scrolling page; what stands on it is set for its width."""

    class Resized(Message):
        """The page has another size."""

    def on_resize(self) -> None:
        self.post_message(self.Resized())


class FieldInput(Input, inherit_bindings=False):
    """One field of a form. Empty, it follows the boat and shows what that gives; typing over it cuts the link.

    Letters and editing keys are taken at once, in the order they were typed, however fast that was: none is overtaken
    by a key that leads elsewhere. `changed` is called whenever the text has changed.
    """

    BINDINGS: ClassVar = [
        replace(one, priority=True) for one in Input.BINDINGS if isinstance(one, Binding) and one.key != "enter"
    ]
    virtual_size = Reactive(Size(0, 0))  # how long the text is asks for no other layout: the column is as wide as it is

    def __init__(self, field: Field, text: str, changed: Callable[["FieldInput"], None]) -> None:
        self.field, self.changed = field, changed
        super().__init__(text, compact=True, select_on_focus=False, max_length=400)

    def _forward_event(self, event: events.Event) -> None:
        if isinstance(event, events.Key) and event.is_printable and event.character:
            self.replace(event.character, *self.selection)
            self._restart_blink()
        elif isinstance(event, events.Paste):
            self.replace(one_line(event.text), *self.selection)
        else:
            super()._forward_event(event)

    def watch_value(self) -> None:
        self.changed(self)

    def check_consume_key(self, key: str, character: str | None) -> bool:
        return key not in PASSED_ON and super().check_consume_key(key, character)

    def stand(self, entry: Entry, rule: Rule, room: int) -> None:
        """Show what the field follows, or takes by default, while nothing is typed over it, in `room` characters."""
        kind = self.field.kind
        value = entry.would_be if entry.would_be is not None else self._default()
        shown = "" if value is None else kind.show(value, rule)
        if len(shown) > room:  # the unit stands at the top of the screen too
            shown = shown.replace(f" {rule.unit}", "")
        self.placeholder = "wanted" if entry.origin == "missing" else fitted(shown, room)
        self.set_class(entry.fault is not None, "-fault")

    def _default(self) -> Value:
        value: Value = None if self.field.required else self.field.default
        return value

    def action_cursor_left(self, select: bool = False) -> None:
        if not self._turn(-1):
            super().action_cursor_left(select)

    def action_cursor_right(self, select: bool = False) -> None:
        if not self._turn(1):
            super().action_cursor_right(select)

    def _turn(self, by: int) -> bool:
        """In a field of choices the arrows turn to the next one."""
        kind = self.field.kind
        if not isinstance(kind, Choice):
            return False
        now = self.value.strip() or self.placeholder
        found = kind.options.index(now) if now in kind.options else -1
        self.value = kind.options[(found + by) % len(kind.options)]
        return True
