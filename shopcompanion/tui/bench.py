"""The bench: keys in, what they do to the view and the session, and the view painted."""

import sys
from collections.abc import Callable, Mapping
from functools import cached_property, partial
from typing import TYPE_CHECKING

from textual import events
from textual.app import ComposeResult
from textual.screen import Screen

from ..calculator import Calculator, Result
from ..catalog import NAMES
from ..errors import InputFault
from ..fields import Choice
from ..lengths import Rule, read, show
from . import pages
from .apart import Apart
from .beside import Beside
from .canvas import Canvas
from .editing import one_line
from .frame import WIDE
from .keys import bound
from .paint import Row, Rows
from .session import Session
from .view import BenchView

if TYPE_CHECKING:
    from concurrent.futures import Future, ThreadPoolExecutor

    from .app import Companion

_MOVES = {"up": -1, "shift+tab": -1, "down": 1, "tab": 1, "enter": 1}
_PASSED_ON = "<>?!|"  # they stand in no length: here they are keys
_SCROLLED = 3  # rows of a page for a key
_TURN = 0.0005  # seconds for which the work on a slow answer keeps a key waiting; the usual 5 ms come several to a key
_SOON = 0.012  # seconds that a key waits for a slow answer: painted without it, the answer comes a frame later


class Bench(Screen[None], inherit_css=False):
    """The bench's screen. It takes keys as one stream, each when it comes, so that letters typed fast land in the field
    that was meant.
    """

    AUTO_FOCUS = ""
    app: "Companion"

    def __init__(self, session: Session, keys: Mapping[str, str], ascii_only: bool) -> None:
        super().__init__()
        self.session = session
        self.view = BenchView(session, keys, ascii_only)
        self.parts: Mapping[str, Rows] = {}
        self.canvas = Canvas(self.draw)
        session.beside = self._beside = Beside()
        self._apart = Apart()
        self._working: object = None  # the inputs of a slow answer, beside the keys
        self.work: Future[Result | InputFault | None] | None = None  # on the last of them
        self._does = bound(keys, "bench")

    def compose(self) -> ComposeResult:
        yield self.canvas

    # --- drawing --------------------------------------------------------------------------------------------------

    def draw(self, width: int, height: int) -> list[Row]:
        self._work_beside()
        drawn = self.view.draw(width, height, whole=not self.canvas.lines or self._catching_up)
        self.parts = drawn.parts
        if self.view.behind:
            self.canvas.when_painted(self._catch_up)  # the answers are painted first
        return drawn.rows

    def _work_beside(self) -> None:
        """Have a slow answer worked out, one at a time; the last good one stays until it is there.

        What is worked out in another process is given up when another answer is wanted, and begun when the key is
        painted.
        """
        shown = self.view.shown
        if shown is None or shown.pending is None:
            return
        if self._working is not None:
            if self._working != shown.pending:
                self._apart.stop()
        elif shown.calculator.apart:
            self.canvas.when_painted(self._begin)
        else:
            self._begin()

    def _begin(self) -> None:
        """Begin on the slow answer that is wanted now, unless one is being worked on; one that comes soon is taken."""
        shown, rule = self.view.shown, self.session.rule
        if shown is None or shown.pending is None or self._working is not None:
            return
        calculator, inputs = shown.calculator, shown.pending
        self._working = inputs
        self.work = work = self.threads.submit(self._work_out, calculator, inputs, rule)
        if not calculator.apart:
            try:
                self._know(calculator, inputs, work.result(_SOON))
            except TimeoutError:
                pass
            else:
                self.view.look()
                return
        work.add_done_callback(lambda done: self.call_later(self._take, calculator, inputs, done))

    @cached_property
    def threads(self) -> "ThreadPoolExecutor":
        """Those beside the keys, shared with all that is worked out there: every thread has memory of its own."""
        from concurrent.futures import ThreadPoolExecutor

        return ThreadPoolExecutor()

    def _work_out(self, calculator: Calculator, inputs: object, rule: Rule) -> Result | InputFault | None:
        """In a thread: the answer or the fault; None when it was given up."""
        if calculator.apart:
            try:
                calculator.apart(inputs)
                return self._apart.ask(calculator, inputs, rule)
            except InputFault as fault:
                return fault.with_lengths(partial(show, rule=rule))
            except OSError:  # this machine gives no process: it is worked out here
                pass
        usual = sys.getswitchinterval()
        sys.setswitchinterval(_TURN)
        try:
            return Beside.work_out(calculator, inputs, rule)
        finally:
            sys.setswitchinterval(usual)

    def _take(self, calculator: Calculator, inputs: object, work: "Future[Result | InputFault | None]") -> None:
        """Show what was worked out; when more was typed since, that is worked out next."""
        self._know(calculator, inputs, work.result())
        self.redraw()

    def _know(self, calculator: Calculator, inputs: object, outcome: Result | InputFault | None) -> None:
        self._working = None
        if outcome is not None:
            self._beside.take(calculator, inputs, outcome)

    def on_unmount(self) -> None:
        self._apart.stop()

    _catching_up = False

    def _catch_up(self) -> None:
        self._catching_up = True
        try:
            self.canvas.paint()
        finally:
            self._catching_up = False

    def renew(self) -> None:
        """Take up another calculator, spar or boat."""
        self.view.renew()
        self.canvas.paint()

    def renew_texts(self) -> None:
        """Show what is typed as the session has it now, as after undo."""
        self.view.take_texts()
        self.canvas.paint()

    def redraw(self) -> None:
        """Show everything as the session has it now."""
        self.view.look()
        self.canvas.paint()

    def settle(self, then: Callable[[], object]) -> None:
        """Nothing is half done at the bench: what is typed is the session's at once."""
        then()

    # --- keys -----------------------------------------------------------------------------------------------------

    def _forward_event(self, event: events.Event) -> None:
        if isinstance(event, events.Key):
            self.take_key(event)
        elif isinstance(event, events.Paste):
            self.write(one_line(event.text))
        else:
            super()._forward_event(event)

    def take_key(self, event: events.Key) -> None:
        key, letter = event.key, event.character or ""
        if key in self._does:
            self.app.do(self._does[key])
        elif key in _MOVES:
            self.move(_MOVES[key], goes_on=key == "enter")
        elif event.is_printable and letter and letter not in _PASSED_ON:
            self.write(letter)
        elif not self.view.hides_form(self.size.width) and self.view.form.fields:
            self._edit(key)

    def write(self, text: str) -> None:
        """Put a text where the cursor is."""
        if not self.view.hides_form(self.size.width) and self.view.form.fields:
            self.view.form.edits[self.view.form.in_hand].put(text)
            self._typed()

    def _edit(self, key: str) -> None:
        edit = self.view.form.edits[self.view.form.in_hand]
        if key in ("left", "right") and self._turned(-1 if key == "left" else 1):
            return
        if edit.press(key, self.app.clipboard):
            if edit.copied:
                self.app.copy_to_clipboard(edit.copied)
            self._typed()

    def _turned(self, by: int) -> bool:
        """In a field of choices the arrows turn to the next one."""
        field, edit = self.view.form.fields[self.view.form.in_hand], self.view.form.edits[self.view.form.in_hand]
        kind = field.kind
        if not isinstance(kind, Choice):
            return False
        entry = next(entry for entry in self.session.shown().form.typed if entry.field is field)
        now = edit.text.strip() or self.view.form.placeholder(entry, 100)
        place = kind.options.index(now) if now in kind.options else -1
        edit.set(kind.options[(place + by) % len(kind.options)])
        self._typed()
        return True

    def _typed(self) -> None:
        """Take up what the field in hand holds now."""
        field, edit = self.view.form.fields[self.view.form.in_hand], self.view.form.edits[self.view.form.in_hand]
        if edit.text != self.session.texts().get(field.name, ""):
            self.session.type(field.name, edit.text)
            self.redraw()
        else:
            self.canvas.paint()

    def move(self, by: int, *, goes_on: bool = False) -> None:
        """To the next field; past the last one the page scrolls, and back. On a table by stations, to the next one.

        What `goes_on` past the last one has the fields that are asked seldom, where there are some.
        """
        view = self.view
        if view.hides_form(self.size.width):
            if view.page == "table" and view.shown and pages.by_station(view.shown):
                self.do_station(by)
                return
            view.scroll("page", _SCROLLED * by)
        elif view.form.fields:
            last = view.form.in_hand == view.form.asked()[-1]
            if not (last and ((goes_on and view.form.ask_all()) or view.scroll("page", _SCROLLED * by))):
                view.form.go(by)
            self.session.end_run()
        self.canvas.paint()

    # --- what keys do ---------------------------------------------------------------------------------------------

    def open(self, calculator: str) -> None:
        """Take up a calculator, from whatever screen."""

        def there() -> None:
            self.session.end_run()
            self.session.calculator = calculator
            self.view.page = "answers"
            self.renew()

        self.app.screens.home(there)

    def do_calculator(self, by: int) -> None:
        """Walk the list of calculators, each with its answers; from either end on to the other."""
        self.open(NAMES[(NAMES.index(self.session.calculator) + by) % len(NAMES)])

    def do_station(self, by: int) -> None:
        self.session.step(by)
        self.redraw()

    def do_go_to(self) -> None:
        """Ask for a station by its distance from the heel, and go there."""
        if self.session.spar is None:
            self.app.teller.tell(f"no spar is chosen; {self.app.teller.key('spars')} chooses one", wrong=True)
            return

        def check(text: str) -> None:
            self.session.go_to(float(read(text, self.session.rule.unit)))  # refused beyond an end

        self.app.screens.ask_line("Go to the station at this distance from the heel", check, lambda _: self.redraw())

    def do_units(self) -> None:
        """Inches or millimetres on the screen; on a boat of one's own it can be kept so."""
        session = self.session
        session.next_unit()
        self.renew_texts()
        opened = session.opened
        if opened is None or opened.listing.is_example or session.rule.unit == session.boat.units:
            return
        words = "inches" if session.rule.unit == "in" else "millimetres"
        find = self.app.teller.key("find") or "the finder"
        self.app.teller.tell(f"shown in {words}; {find} and 'keep rule' measures {session.boat.name} so from now on")

    def do_rule(self) -> None:
        self.session.next_rule()
        self.redraw()

    def do_keep_rule(self) -> None:
        """Measure the boat by the rule in force from now on."""
        session, teller = self.session, self.app.teller
        self.app.changes.make(session.keep_rule)
        teller.tell(f"{session.boat.name} is measured by {session.rule}; {teller.key('save')} saves it")

    def do_cares(self) -> None:
        """Every caution on a low screen, or one line of them again."""
        self.view.turn_cares()
        self.redraw()

    def do_follow(self) -> None:
        """Let the field with the cursor follow the boat again; on another page, go back to the answers."""
        if self.view.hides_form(self.size.width):
            self.view.page = "answers"
            self.canvas.paint()
        elif self.view.form.fields:
            self.session.end_run()
            self.view.form.edits[self.view.form.in_hand].set("")
            self._typed()

    def do_turn_page(self) -> None:
        self.view.turn(self.size.width >= WIDE)
        self.canvas.paint()
