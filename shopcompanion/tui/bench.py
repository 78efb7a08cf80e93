"""The bench: the spar across the top, the list of calculators, the form with its answers, and the keys at the foot."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Container, Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.geometry import Size
from textual.screen import Screen
from textual.widget import Widget

from ..catalog import STAGES, load
from ..fields import Choice
from ..form import Entry
from ..lengths import show
from . import pages
from .keys import ACTIONS, show_key
from .session import Session, Shown
from .widgets import FieldInput, Page, SparStrip, Words

if TYPE_CHECKING:
    from .app import Companion

_MOVES: list[Binding | tuple[str, str] | tuple[str, str, str]] = [
    Binding("up", "move(-1)", show=False, priority=True),
    Binding("down,enter", "move(1)", show=False, priority=True),
    Binding("shift+tab", "move(-1)", show=False, priority=True),
    Binding("tab", "move(1)", show=False, priority=True),
]


class Bench(Screen[None]):
    BINDINGS: ClassVar = _MOVES
    AUTO_FOCUS = ""
    app: "Companion"

    def __init__(self, session: Session, keys: Mapping[str, str], ascii_only: bool) -> None:
        super().__init__()
        self.session, self.keys, self.ascii_only = session, keys, ascii_only
        self.page = pages.PAGES[0]
        self._is_new = True
        self.shown: Shown | None = None
        self._drawn_in: tuple[Size, ...] = ()
        self._beside: Shown | None = None  # what stands on the page at the side
        self.fields: list[FieldInput] = []  # those of the open calculator
        self.in_hand: FieldInput | None = None  # the one that has the cursor, or gets it back with the answers
        for action in ACTIONS:
            if keys[action.name]:
                self._bindings.bind(keys[action.name], f"app.{action.name}", action.says, show=False, priority=True)

    def compose(self) -> ComposeResult:
        for size, steps in zip(
            self.app.size, (self.app.HORIZONTAL_BREAKPOINTS, self.app.VERTICAL_BREAKPOINTS), strict=True
        ):
            self.add_class([name for least, name in steps if size >= least][-1])  # now, or all is laid out twice
        self._take_fields()
        yield Words(id="top")
        yield SparStrip(self.session, id="strip")
        with Horizontal(id="bench"):
            yield Words(id="list")
            with Vertical(id="work"):
                yield Words(id="question")
                with Container(id="pane"):
                    with Vertical(id="left"):
                        with VerticalScroll(id="form", can_focus=False), Horizontal(id="rows"):
                            yield Words(id="labels")
                            yield Vertical(*self.fields, id="inputs")
                            yield Words(id="notes")
                        yield Words(id="told", keeps_room=True)
                    with Page(id="right", can_focus=False):
                        yield Words(id="page", keeps_room=True)
            with Page(id="side", can_focus=False):
                yield Words(id="side_page")
        yield Words(id="cautions", keeps_room=True)
        yield Words(id="keys")

    def on_mount(self) -> None:
        self.redraw()

    def on_screen_resume(self, event: events.ScreenResume) -> None:
        if self._is_new:
            event.refresh_styles = False  # everything was styled as it was mounted, a moment ago
            self._is_new = False

    def on_page_resized(self) -> None:
        if self.shown is not None and self._room() != self._drawn_in:  # both pages tell of one change
            self.redraw()

    def _room(self) -> tuple[Size, ...]:
        return (self.size, *(page.size for page in self.query(Page)))

    def on_descendant_focus(self) -> None:
        if self.shown is not None:
            self._draw_told(self.shown)

    # --- drawing --------------------------------------------------------------------------------------------------

    def renew(self) -> None:
        """Take up another calculator, spar or boat: the fields are mounted anew."""
        inputs = self.query_one("#inputs")
        self._take_fields()
        self._give_room_back()
        with self.app.batch_update():
            inputs.remove_children()
            inputs.mount_all(self.fields)
            self.set_focus(None)
            self.redraw()
        self.query_one("#form").scroll_home(animate=False)

    def _take_fields(self) -> None:
        texts = self.session.texts()
        fields = load(self.session.calculator).typed_fields
        self.fields = [FieldInput(field, texts.get(field.name, ""), self.typed) for field in fields]
        self.in_hand = self.fields[0]

    def renew_texts(self) -> None:
        """Show what is typed as the session has it now, as after undo."""
        texts = self.session.texts()
        for field in self.fields:
            field.value = texts.get(field.field.name, "")
        self.redraw()

    def redraw(self) -> None:
        """Show everything as the session has it now."""
        self.shown = shown = self.session.shown()
        self._drawn_in = self._room()
        with self.app.batch_update():
            self._draw_top()
            self.query_one(SparStrip).draw()
            self._draw_list()
            self._draw_form(shown)
            self._draw_pages(shown)
            here = self.session.said_of_section()
            cautions = (
                *self.session.lacking(shown),
                *([here] if here else []),
                *(shown.result.cautions if shown.result else ()),
            )
            self._put("#cautions", Content("\n").join([Content.styled(f"⚠ {line}", "$warning") for line in cautions]))
            self._draw_keys()
        self._take_in_hand()

    def _take_in_hand(self) -> None:
        """A field has the cursor whenever the form is on the screen, and none while another page hides it."""
        if isinstance(self.focused, FieldInput):
            self.in_hand = self.focused
        self.set_focus(None if self.has_class("-page") else self.focused or self.in_hand)

    def _give_room_back(self) -> None:
        """Other words come, and take as many lines as they need."""
        for words in self.query(Words):
            words.held = None

    def _put(self, where: str, content: Content) -> None:
        widget = self.query_one(where, Words)
        if widget.held != content:  # nothing is painted again that stands already
            widget.put(content)

    def _draw_top(self) -> None:
        """Boat, spar, station, thickness, rule, saved or not: the fullest wording that there is room for."""
        session, rule, spar = self.session, self.session.rule, self.session.spar
        state = "no boat" if session.opened is None else "example" if session.opened.listing.is_example else "saved"
        state = "not saved ●" if session.unsaved else state
        division = str(rule).split()[0]
        rules = (f"{'inches' if rule.unit == 'in' else 'millimetres'} · {division}   {state}", f"{rule}  {state}")
        boat = session.boat.name if session.opened else "no boat open"
        faults = f"  ✗ {len(session.faults)} faults in the file" if session.faults else ""
        sign = faults and "  ✗"  # where there is no room for the words
        lefts, stations = [boat + faults, boat + sign], [""]
        if spar is not None:
            lefts = [f"{boat} › {spar.name}{words}" for words in (faults, sign)] + [spar.name + sign]
            here, at = show(spar.outline().width_at(session.at), rule), show(session.at, rule)
            stations = [f"at {at} of {show(spar.length, rule)}    {here}", f"at {at}    {here}", f"{at}  {here}"]
        width = self.size.width - 2
        tries = [(left, station, right) for right in rules for left in lefts for station in stations]
        best = next((one for one in tries if sum(map(len, one)) + 4 <= width), tries[-1])
        gap = width - sum(map(len, best))
        line = best[0] + " " * (gap // 2) + best[1] + " " * (gap - gap // 2) + best[2]
        self._put("#top", Content.styled(f" {line} ", "bold"))

    def _draw_list(self) -> None:
        lines = []
        for stage, names in STAGES.items():
            lines.append(Content.styled(stage, "$quiet"))
            for name in names:
                here = name == self.session.calculator
                lines.append(Content.styled(f"{'›' if here else ' '} {name}", "bold $accent" if here else ""))
            if stage == "Timber":
                key = show_key(self.keys["stock"].split(",")[0]) if self.keys["stock"] else ""
                lines.append(Content(f"  stock … {key}"))
        chosen = next(place for place, line in enumerate(lines) if line.plain.startswith("›"))
        self._put("#list", Content("\n").join(_about(lines, chosen, self.query_one("#list").size.height or len(lines))))

    def _draw_form(self, shown: Shown) -> None:
        wide = self.has_class("-wide")
        faulty = {fault.field for fault in shown.faults}
        labels, notes = [], []
        for entry in shown.form.typed:
            sign, words = self._note(entry, entry.field.name in faulty)
            labels.append(Content(entry.field.kind.label))
            style = "$error" if sign == "✗" else "bold" if sign == "=" else "$quiet"
            notes.append(Content.styled(f"{sign} {words}" if wide else sign, style))
        self._put("#labels", Content("\n").join(labels))
        self._put("#notes", Content("\n").join(notes))
        room = (self.query_one("#inputs").size.width or 16) - 1
        for field, entry in zip(self.fields, shown.form.typed, strict=True):
            field.stand(entry, self.session.rule, room)
            field.set_class(entry.field.name in faulty, "-fault")
        self._draw_told(shown)

    def _note(self, entry: Entry, faulty: bool) -> tuple[str, str]:
        """The sign beside a field, and what it says."""
        kind, rule = entry.field.kind, self.session.rule
        if faulty:
            return "✗", ""
        if entry.origin == "typed":
            was = "" if entry.would_be is None else f", not {kind.show(entry.would_be, rule)}"
            return "=", f"{kind.show(entry.value, rule)}{was}"
        if entry.origin == "follows":
            return "⇠", entry.follows
        return "·", "optional" if entry.value is None else "default"

    def _draw_told(self, shown: Shown) -> None:
        """Every fault; else, where there is no room beside the fields, what the one with the cursor says."""
        labels = {one.name: one.kind.label for one in shown.calculator.input_fields}
        told = []
        for fault in shown.faults:
            label = f"{labels[fault.field]}: " if fault.field in labels else ""
            told.append(Content.styled(f"✗ {label}{fault.reason}", "$error"))
        here = self.focused
        if not told and isinstance(here, FieldInput) and not self.has_class("-wide"):
            entry = next((one for one in shown.form.entries if one.field is here.field), None)
            if entry is not None:
                kind = entry.field.kind
                options = f" ({' | '.join(kind.options)})" if isinstance(kind, Choice) else ""
                told.append(Content.styled(f"{' '.join(self._note(entry, False))}{options}", "$quiet"))
        self._put("#told", Content("\n").join(told))

    def _draw_pages(self, shown: Shown) -> None:
        wide = self.has_class("-wide")
        page = "answers" if wide else self.page
        self.set_class(page != "answers", "-page")
        self.set_class(self.page == "table", "-table")
        turned = f"{shown.calculator.name}: {page} (escape for the answers)"
        question = shown.calculator.question if page == "answers" else turned
        self._put("#question", Content.styled(question, "bold"))
        self._put("#page", self._page(page, shown, self.query_one("#right")))
        if wide:
            self.call_after_refresh(self._draw_side)  # the answers are painted first

    def _draw_side(self) -> None:
        if self.shown is not None and self.shown is not self._beside and self.has_class("-wide"):
            self._beside = self.shown
            page = "table" if self.page == "table" else "side"
            self._put("#side_page", self._page(page, self.shown, self.query_one("#side")))

    def _page(self, page: str, shown: Shown, place: Widget) -> Content:
        width, height = place.scrollable_content_region.width or 40, place.scrollable_content_region.height or 12
        if page == "working":
            return pages.working(shown)
        if page == "drawing":
            return pages.drawing(shown, width, height, self.ascii_only)
        if page == "table":
            return pages.tables(shown, self.session.at, width, height)
        if page == "side":
            drawing = pages.drawing(shown, width, min(16, height // 2), self.ascii_only)
            return Content("\n").join([drawing, Content(""), pages.working(shown)])
        return Content("\n").join([pages.headline(shown, width), pages.answers(shown, width)])

    def _draw_keys(self) -> None:
        """Every key with a short name that does something here, in as many lines as it takes; closer where narrow."""
        width, narrow = self.size.width - 2, self.has_class("-narrow")
        gap = 1 if narrow else 2
        lines: list[list[Content]] = [[]]
        used = 0
        fits = load(self.session.calculator).fitting is not None
        for action in ACTIONS:
            names = (action.name,) if narrow else (*action.beside, action.name)
            keys = " ".join(show_key(self.keys[name].split(",")[0]) for name in names if self.keys[name])
            if not action.short or not keys or (action.of_a_fitting and not fits):
                continue
            size = len(keys) + 1 + len(action.short)
            if used + size > width and lines[-1]:
                lines.append([])
                used = 0
            lines[-1].append(Content.assemble((keys, "bold $accent"), f" {action.short}"))
            used += size + gap
        self._put("#keys", Content("\n").join([Content(" " * gap).join(line) for line in lines]))

    # --- keys -----------------------------------------------------------------------------------------------------

    def typed(self, field: FieldInput) -> None:
        """Take up what a field of the open calculator holds now."""
        if field in self.fields and field.value != self.session.texts().get(field.field.name, ""):
            self.session.type(field.field.name, field.value)
            self.redraw()

    def action_move(self, by: int) -> None:
        """To the next field; past the last one the page scrolls, and back. On a table by stations, to the next one."""
        fields = self.fields
        page = self.query_one("#right")
        if self.has_class("-page"):
            if self.page == "table" and self.shown and pages.by_station(self.shown):
                self.app.action_station(by)
            else:
                page.scroll_relative(y=3 * by, animate=False)
            return
        here = next((index for index, field in enumerate(fields) if field is self.focused), 0)
        last = here == len(fields) - 1
        if last and ((by > 0 and page.scroll_y < page.max_scroll_y) or (by < 0 and page.scroll_y > 0)):
            page.scroll_relative(y=3 * by, animate=False)
            return
        self.session.end_run()
        self.set_focus(fields[min(max(0, here + by), len(fields) - 1)])

    def follow_again(self) -> None:
        """Let the field with the cursor follow the boat again; on another page, go back to the answers."""
        if self.has_class("-page"):
            self.page = "answers"
            self.redraw()
        elif isinstance(self.focused, FieldInput):
            self.session.end_run()
            self.focused.value = ""

    def turn_page(self) -> None:
        """Answers, working, drawing, table, and round again; a wide screen shows all but the table at once."""
        wide = self.has_class("-wide")
        turns = [page for page in pages.PAGES if not wide or page in ("answers", "table")]
        if self.shown is None or self.shown.result is None or not self.shown.result.tables:
            turns.remove("table")
        now = turns.index(self.page) if self.page in turns else 0
        self.page = turns[(now + 1) % len(turns)]
        self._give_room_back()
        self.redraw()
        self.query_one("#right").scroll_home(animate=False)
        self.query_one("#side").scroll_home(animate=False)


def _about(lines: list[Content], here: int, height: int) -> list[Content]:
    """As many of the lines as there is room for, the one that is `here` among them, with a sign where some are cut."""
    if len(lines) <= height:
        return lines
    room = max(1, height - 2)
    first = max(0, min(here - room // 2, len(lines) - room))
    below = len(lines) - first - room
    above = Content.styled(f"  ↑ {first} more", "$quiet") if first else Content("")
    return [above, *lines[first : first + room], Content.styled(f"  ↓ {below} more" if below else "", "$quiet")]
