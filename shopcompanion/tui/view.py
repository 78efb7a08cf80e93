"""The bench as rows: the spar across the top, the list of calculators, the form with its answers, the keys at the foot.

`BenchView.draw` is a pure function from what is open to rows of styled text; it knows no terminal and no widget.
"""

from collections.abc import Callable, Mapping, Sequence

from ..catalog import STAGES, load
from ..lengths import show
from ..record import NamedTuple
from . import pages
from .begin import next_row, trestles
from .form_view import FormView
from .frame import BLANK, LEAST, LEFT, LOW, NARROW, WIDE, Message, foot_rows, holding, top_row
from .keys import ACTIONS, first_key, show_key
from .paint import Row, Rows, beside, cells, fit, fitted, folded, row, rows, stack, window, words_of
from .session import Session, ShownCalculator
from .spar_strip import spar_rows
from .tally_row import tally_row

FOLDED = 24  # rows of a screen with no more, where several cautions are told in one line
_NOTCHED = 20  # columns beside the question, under which no notch stands there
FEW = 10  # rows of a page with fewer have no large figures
LIST, SIDE = 14, 44  # columns of the list and of the side


class Drawn(NamedTuple):
    """A screen: all of its rows, and by name the whole of every part, scrolled out of sight or not."""

    rows: list[Row]
    parts: Mapping[str, Rows]


class BenchView:
    """What the bench shows of a session: its page, its form, and how far each page is scrolled."""

    def __init__(self, session: Session, keys: Mapping[str, str], ascii_only: bool) -> None:
        self.session, self.keys, self.ascii_only = session, keys, ascii_only
        self.page = pages.PAGES[0]
        self.form = FormView(session, keys)
        self.tops = {"page": 0, "side": 0}
        self.furthest = {"page": 0, "side": 0}
        self.shown: ShownCalculator | None = None
        self.answers_width, self.few = 40, False  # how wide the answers are, and whether they have few rows
        self._held = 0  # rows that cautions took last, so that nothing jumps from key to key
        self._size = (0, 0)
        self._side: tuple[tuple[object, ...], Rows] = ((), Rows())
        self._drawn: dict[str, tuple[tuple[object, ...], Rows]] = {}  # parts that few keys change, and what they are of
        self._chosen = 0  # row of the list that the open calculator has
        self.all_cares = True  # or one line of them, on a low screen
        self._cared_for: set[str] = set()  # the calculators whose cautions were all shown once
        self._of = ""  # the calculator that was taken up last
        self.message: Message | None = None
        self.behind = False  # whether the side has yet to catch up with the answers
        self.renew()

    # --- state ----------------------------------------------------------------------------------------------------

    def renew(self) -> None:
        """Take up another calculator, spar or boat."""
        self.form.renew()
        self.tops = dict.fromkeys(self.tops, 0)
        self._forget()
        if self._of != self.session.calculator:
            self._of = self.session.calculator
            self.all_cares = self._of not in self._cared_for  # the first time none goes unseen
            self._cared_for.add(self._of)
        self.take_texts()

    def take_texts(self) -> None:
        """Show what is typed as the session has it now, as after undo."""
        self.form.take_texts()
        self.look()

    def look(self) -> None:
        """Work out what is to be shown, as the session is now."""
        self.shown = self.form.shown = self.session.shown()

    def _forget(self) -> None:
        """Let every part take the rows that it needs."""
        self._held = self.form.held = 0

    def turn_cares(self) -> None:
        """All cautions on a low screen, or one line of them again."""
        self.all_cares = not self.all_cares
        self._forget()

    def turn(self, wide: bool) -> None:
        """Answers, working, drawing, table, and round again; a wide screen shows all but the table at once."""
        turns = [page for page in pages.PAGES if not wide or page in ("answers", "table")]
        if self.shown is None or self.shown.result is None or not self.shown.result.tables:
            turns.remove("table")
        now = turns.index(self.page) if self.page in turns else 0
        self.page = turns[(now + 1) % len(turns)]
        self.tops, self.form.top = dict.fromkeys(self.tops, 0), 0
        self._forget()

    def hides_form(self, width: int) -> bool:
        """Whether another page stands in place of the form."""
        return self.page == "table" or (width < WIDE and self.page != "answers")

    def scroll(self, page: str, by: int) -> bool:
        """Scroll a page; False when it is at its end."""
        to = min(max(0, self.tops[page] + by), self.furthest[page])
        moved = to != self.tops[page]
        self.tops[page] = to
        return moved

    # --- drawing --------------------------------------------------------------------------------------------------

    def draw(self, width: int, height: int, whole: bool = True) -> Drawn:
        """The screen in so many columns and rows. Not `whole`: what stands at the side may be that of the last look."""
        if self.shown is None:
            self.look()
        shown = self.shown
        assert shown is not None
        if (width, height) != self._size:
            self._size = (width, height)
            self._forget()
        low = height < LOW
        here = self.session.spar, self.session.at, self.session.rule
        of = *here, self.session.state.text, self.session.opened, self.session.unsaved, width
        parts = {"top": self._unchanged("top", of, lambda: Rows([self._top(width)]))}
        bent = shown.result if shown.calculator.bend else None
        parts["strip"] = self._unchanged(
            "strip", (*here, width, low, bent),
            lambda: spar_rows(self.session, width, low, shown=shown, ascii_only=self.ascii_only),
        )  # fmt: skip
        parts["cautions"] = self._cautions(shown)
        most = max(1, height // 5)
        of_the_keys = (self.session.calculator, width, most, self.message)
        parts["keys"] = self._unchanged("keys", of_the_keys, lambda: self._keys(width, most))
        if self.session.opened is not None and self.session.spar is None:
            high = len(parts["strip"])
            parts["strip"] = trestles(self.session, self.keys, width, high, ascii_only=self.ascii_only)
        parts["next"] = Rows() if low else next_row(self.session, self.keys)
        head = stack(parts["top"], parts["strip"], parts["next"])
        told = parts["cautions"] if self.all_cares or height > FOLDED else self._one_line(parts["cautions"], width - 2)
        cares = Rows(((" ", ""), *line) for line in folded(told, width - 2))
        spare = height - len(head) - len(parts["keys"]) - LEAST
        cares = holding(cares, self._held, max(1, height // 3, spare))
        self._held = len(cares)
        foot = stack(cares, parts["keys"])
        room = height - len(head) - len(foot)
        if room < 4:  # hardly a screen: the form and its answer before anything else
            head, foot = parts["top"], Rows(parts["keys"][: max(0, height - 4)])
            room = max(1, height - len(head) - len(foot))
        parts["tally"] = tally_row(self.session, width)
        body: list[Row] = []
        if parts["tally"] and not low:
            body = self._body(shown, width, room - 1, whole, parts)
            if self.page == "answers" and (self.furthest["page"] or self.form.furthest):  # an answer's place, no
                body = []
            else:
                room, foot = room - 1, stack(parts["tally"], foot)
        if not body:
            body = self._body(shown, width, room, whole, parts)
            body[:1] = [self._shared(line, width) for line in body[:1]]
        lines = [*head, *body, *[BLANK] * (room - len(body)), *foot]
        return Drawn(lines[:height], parts)

    def _shared(self, question: Row, width: int) -> Row:
        """The row of the question with the newest notches at its end, where it leaves room for them."""
        asked = words_of(question).rstrip()
        room = width - cells(asked) - 2
        notched = tally_row(self.session, room) if room > _NOTCHED else Rows()
        return (*fit(question, width - room), *fit(notched[0], room)) if notched else question

    def _unchanged(self, part: str, of: tuple[object, ...], draw: Callable[[], Rows]) -> Rows:
        """A part as it was drawn last while `of` is the same, else drawn anew."""
        if part not in self._drawn or self._drawn[part][0] != of:
            self._drawn[part] = of, draw()
        return self._drawn[part][1]

    def _top(self, width: int) -> Row:
        """Boat, spar, station, thickness, rule, saved or not: the fullest wording that there is room for."""
        session, rule, spar = self.session, self.session.rule, self.session.spar
        division = str(rule).split()[0]
        rights = (
            f"{'inches' if rule.unit == 'in' else 'millimetres'} · {division}   {session.state_word}",
            f"{rule}  {session.state_word}",
        )
        boat = session.boat.name if session.opened else "no boat open"
        faults = f"  ✗ {len(session.faults)} faults in the file" if session.faults else ""
        sign = faults and "  ✗"  # where there is no room for the words
        lefts, stations = [boat + faults, boat + sign], [""]
        if spar is not None:
            lefts = [f"{boat} › {spar.name}{words}" for words in (faults, sign)] + [spar.name + sign]
            here, at = show(spar.outline().width_at(session.at), rule), show(session.at, rule)
            stations = [f"at {at} of {show(spar.length, rule)}    {here}", f"at {at}    {here}", f"{at}  {here}"]
        return top_row(lefts, stations, rights, width)

    def _cautions(self, shown: ShownCalculator) -> Rows:
        here = self.session.said_of_section()
        said = shown.result.cautions if shown.result else ()
        always = [line for line in said if line in shown.calculator.cautions]
        only_here = [line for line in said if line not in always]
        cautions = (*self.session.lacking(shown), *([here] if here else []), *only_here, *always)
        return rows([f"⚠ {words}" for words in cautions], "warning")

    def _one_line(self, cares: Rows, width: int) -> Rows:
        """The first of several cautions, how many there are and the key that shows them all."""
        key = first_key(self.keys, "cares") or f"{first_key(self.keys, 'find')} cares"
        if len(cares) < 2:
            return cares
        first = words_of(cares[0]).removeprefix("⚠ ")
        return rows([fitted(f"⚠ {len(cares)} cares, {key} shows all: {first}", width)], "warning")

    def _keys(self, width: int, most: int) -> Rows:
        """Every key with a short name that does something here, or what there is to tell."""
        calculator = load(self.session.calculator)
        fits = calculator.fitting is not None or calculator.target is not None
        shown = []
        for action in ACTIONS:
            names = (action.name,) if width < NARROW else (*action.beside, action.name)
            keys = " ".join(show_key(self.keys[name].split(",")[0]) for name in names if self.keys[name])
            here = "bench" in action.where and (fits or not action.of_a_fitting)
            if action.short and keys and here and (action.on_narrow or width >= NARROW):
                shown.append((keys, action.short))
        return foot_rows(self.message, shown, width, most)

    def _body(self, shown: ShownCalculator, width: int, height: int, whole: bool, parts: dict[str, Rows]) -> list[Row]:
        """List, form, answers and side, a column in from either edge. The parts that it makes are put in `parts`."""
        wide, narrow = width >= WIDE and self.page != "table", width < NARROW  # a table has all the room there is
        side = SIDE if wide else 0
        work = max(1, width - 2 - (LIST + side if wide else 0))
        page = "answers" if wide else self.page
        turned = f"{shown.calculator.name}: {page} (escape for the answers)"
        question = shown.calculator.question if page == "answers" else turned
        parts["question"] = rows([question], "bold")
        asked = folded(parts["question"], work)
        if height < FEW:  # the form and its answer come first
            asked = Rows(asked[: height // 4])
        high = max(1, height - len(asked))
        hidden = page != "answers"
        if hidden:
            pane = self._page(page, shown, work, high, parts)
        elif wide or narrow:
            share = 4 if high < FEW else 6  # tenths: the answers keep their rows
            left = self.form.draw(shown, work, max(1, high * share // 10), parts, narrow=narrow)
            left = left if narrow else [*left, BLANK]
            pane = [*left, *self._page(page, shown, work, max(1, high - len(left)), parts)]
        else:
            left = self.form.draw(shown, LEFT - 1, high, parts, narrow=False)
            right = self._page(page, shown, work - LEFT, high, parts)
            pane = beside(work, (left, LEFT), (right, work - LEFT))
        middle = [*asked, *pane][:height]
        columns: list[tuple[list[Row], int]] = [([BLANK], 1), (middle, work)]
        if wide:
            parts["list"] = self._unchanged("list", (self.session.calculator,), self._list)
            columns.insert(1, (list(_about(parts["list"], self._chosen, height)), LIST))
            columns += [([BLANK], 2), (self._beside(shown, side - 2, height, whole, parts), side - 2)]
        else:
            self.tops["side"] = self.furthest["side"] = 0
            self.behind = False  # nothing stands there
        return beside(width - 1, *columns)

    def _list(self) -> Rows:
        lines: list[Row] = []
        for stage, names in STAGES.items():
            lines.append(row((stage, "quiet")))
            for name in names:
                here = name == self.session.calculator
                self._chosen = len(lines) if here else self._chosen
                lines.append(row((f"{'›' if here else ' '} {name}", "bold accent" if here else "")))
            if stage == "Timber":
                lines.append(row(f"  stock … {first_key(self.keys, 'stock')}"))
        return Rows(lines)

    # --- the pages ------------------------------------------------------------------------------------------------

    def _page(self, page: str, shown: ShownCalculator, width: int, height: int, parts: dict[str, Rows]) -> list[Row]:
        self.answers_width = width
        parts["page"] = self._rows_of(page, shown, width, height)
        seen = window(folded(parts["page"], width), self.tops["page"], height)
        self.tops["page"], self.furthest["page"] = seen.top, seen.furthest
        return list(seen.lines)

    def _beside(
        self, shown: ShownCalculator, width: int, height: int, whole: bool, parts: dict[str, Rows]
    ) -> list[Row]:
        """Drawing and working. What is slow waits until the answers are painted."""
        of = (id(shown), self.page, width, height, self.session.at)
        self.behind = not whole and shown.pending is None and self._side[0] != of
        if not self.behind:
            self._side = (of, self._rows_of("side", shown, width, height))
        parts["side"] = self._side[1]
        seen = window(folded(parts["side"], width), self.tops["side"], height)
        self.tops["side"], self.furthest["side"] = seen.top, seen.furthest
        return list(seen.lines)

    def _rows_of(self, page: str, shown: ShownCalculator, width: int, height: int) -> Rows:
        before = rows(["(last good answer)"], "italic") if shown.stale and shown.result is not None else Rows()
        if page == "working":
            return stack(before, pages.working(shown))
        if page == "drawing":
            return stack(before, pages.drawing(shown, width, height - len(before), self.ascii_only))
        if page == "table":
            return stack(before, pages.tables(shown, self.session.at, width, height - len(before)))
        if page == "side":
            drawing = pages.drawing(shown, width, min(16, height // 2), self.ascii_only)
            return stack(drawing, rows([""]), pages.working(shown))
        self.few = height < FEW
        if height < 3:  # the number itself, whatever else has no room
            *title, value = pages.headline(shown, width, plain=True)
            return stack(
                [(*value, *(span for line in title for span in (("  ", ""), *line)))], pages.answers(shown, width)
            )
        return stack(pages.headline(shown, width, self.few), pages.answers(shown, width))


def _about(lines: Sequence[Row], here: int, height: int) -> Rows:
    """As many of the lines as there is room for, the one that is `here` among them, with a sign where some are cut."""
    if len(lines) <= height:
        return Rows(lines)
    room = max(1, height - 2)
    first = max(0, min(here - room // 2, len(lines) - room))
    below = len(lines) - first - room
    above = rows([f"  ↑ {first} more" if first else ""], "quiet")
    return stack(above, lines[first : first + room], rows([f"  ↓ {below} more" if below else ""], "quiet"))
