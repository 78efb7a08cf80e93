"""A sheet: pages of a table to read, to measure against and to change; of the spar, with the strip above it, or of the
shop and the timber.
"""

from collections.abc import Callable, Iterable, Mapping

from textual import events

from ..errors import CompanionError, InputFault
from .frame import LOW, top_row
from .keyed import FullScreen
from .keys import first_key
from .measure import MeasurePage
from .pages import two_lines
from .paint import Row, Rows, Span, cells, fit, fitted, folded, row, rows, stack, window
from .rows import KeysPage, RowsPage, SheetColumn, boat_pages, spar_pages
from .search import PickerRow
from .session import Session
from .spar_strip import spar_rows

Page = MeasurePage | RowsPage | KeysPage


class Sheet(FullScreen):
    """The sheet's screen. Typing replaces a cell, backspace edits it as it is, enter puts it in."""

    place = "sheet"
    moves = (("↑↓ ⏎", "row"), ("tab", "column"))

    def __init__(self, session: Session, changed: Callable[[], None], of_spar: bool = True) -> None:
        super().__init__()
        self.session, self.changed, self.of_spar, self.spar_name = session, changed, of_spar, session.spar_name
        self.pages: list[Page] = [MeasurePage(session), *spar_pages(session)] if of_spar else list(boat_pages(session))
        self.page, self.row, self.column = self.pages[0], 0, 0
        self.top = 0  # the first row of the table that is seen
        self.writing: str | None = None
        self.reason = ""
        self.row = self._row_here()
        self.column = self._first_column()

    # --- keys -----------------------------------------------------------------------------------------------------

    def take_other(self, event: events.Key) -> None:
        does: dict[str, Callable[[], object]] = {
            "enter": lambda: self._put(1),
            "down": lambda: self._put(1),
            "up": lambda: self._put(-1),
            "tab": lambda: self._across(1),
            "shift+tab": lambda: self._across(-1),
            "left": lambda: self._turn(-1),
            "right": lambda: self._turn(1),
            "backspace": lambda: self._edit((self._cell() if self.writing is None else self.writing)[:-1]),
            "delete": lambda: self._edit(""),
        }
        if event.key in does:
            does[event.key]()
        elif event.is_printable and event.character:
            self.take_text(event.character)

    def take_text(self, text: str) -> None:
        """Write into the cell; on a page without rows the first letter makes the first row."""
        if text.strip() and isinstance(self.page, RowsPage) and not self.page.rows:
            self.do_new_row()
        self._edit((self.writing or "") + text)
        self.draw()

    def _edit(self, text: str) -> None:
        if self._columns()[self.column].name in self.page.fixed:
            return
        if self.page.rows:
            self.writing = "".join(letter for letter in text if letter.isprintable())[:200]
            self.reason = ""

    def _try(self, act: Callable[[], object]) -> bool:
        try:
            act()
        except InputFault as fault:
            self.reason = fault.reason
            return False
        except CompanionError as error:
            self.reason = str(error)
            return False
        self.reason = ""
        return True

    def _put(self, by: int) -> bool:
        """Put in what is being written, then go `by` rows on. False, staying there, when it does not read."""
        if self.writing is not None:
            text, name = self.writing, self._columns()[self.column].name
            if not self._try(lambda: self.page.put(self.row, name, text)):
                return False
            self.writing = None
            self._changed()
        self.row = min(max(0, self.row + by), max(0, len(self.page.rows) - 1))
        self._follow()
        return True

    def _across(self, by: int) -> None:
        if not self._put(0):
            return
        columns = self._columns()
        free = [k for k, column in enumerate(columns) if column.name not in self.page.fixed]
        self.column = free[(free.index(self.column) + by) % len(free)] if self.column in free else free[0]

    def _turn(self, by: int) -> None:
        """In a cell of choices the arrows turn to the next; elsewhere they go across."""
        options = self.page.options(self.row, self._columns()[self.column].name) if self.page.rows else ()
        if not options or not self.page.rows:
            self._across(by)
            return
        now = self.writing if self.writing is not None else self._cell()
        place = options.index(now) if now in options else -1
        self.writing = options[(place + by) % len(options)]

    def do_undo(self) -> None:
        """What is half done goes first; then the last change is taken back."""
        if self.writing is not None:
            self.writing, self.reason = None, ""
        elif self.page.pending_reason:
            self._as_the_boat_has_them()
        elif self.of_spar:
            self.app.changes.undo_under(self, self.spar_name, self._renew)
        else:
            self.app.changes.undo_here(self._renew)

    def do_new_row(self) -> None:
        page = self.page
        if isinstance(page, RowsPage) and self._put(0) and self._try(lambda: self._add_to(page)):
            self.column = 0

    def _add_to(self, page: RowsPage) -> None:
        self.row = page.add(self.row)

    def do_drop_row(self) -> None:
        if isinstance(self.page, RowsPage) and self.page.rows:
            self.writing = None
            self.page.drop(self.row)
            self._changed()

    def do_adopt(self) -> None:
        if isinstance(self.page, MeasurePage) and self._put(0) and self._try(self.page.adopt):
            self.app.teller.tell(f"the new target is the spar's own now; {self._key('undo')} takes it back")
            self._changed()

    def do_back(self) -> None:
        if self.writing is not None:
            self.writing, self.reason = None, ""
        else:
            self.settle(lambda: self.dismiss(None))

    def settle(self, then: Callable[[], object]) -> None:
        """A cell that is being written is put in; of rows that are not whole the user says what becomes of them."""
        waiting = next((page for page in self.pages if page.pending_reason), None)
        if self.writing is not None and not self._put(0):
            why = self.reason
        elif waiting is not None:
            why = f"{waiting.title}: {waiting.pending_reason}"
        else:
            then()
            return

        def picked(value: str) -> None:
            if value == "drop":
                self.writing, self.reason = None, ""
                for page in self.pages:
                    if page.pending_reason:
                        page.renew()
                self._changed()
                then()
            elif waiting is not None and waiting is not self.page:
                self._show(waiting)
            self.draw()

        choices = [
            PickerRow("complete it", "go on writing it", "stay"),
            PickerRow("leave it out", "the rest is kept", "drop"),
        ]
        self.app.screens.pick("A row is not complete", choices, picked, message=why)

    def _as_the_boat_has_them(self) -> None:
        self.page.renew()
        self.row = min(self.row, max(0, len(self.page.rows) - 1))
        self.app.teller.tell("the rows are as the boat has them")

    def _key(self, name: str) -> str:
        return first_key(self.app.config.keys, name)

    # --- pages ----------------------------------------------------------------------------------------------------

    def do_turn_page(self) -> None:
        """The next page; rows that are not whole stay as they are on theirs."""
        if self._put(0):
            self._show(self.pages[(self.pages.index(self.page) + 1) % len(self.pages)])

    def _show(self, page: Page) -> None:
        self.page = page
        if not page.pending_reason:
            page.renew()
        self.row, self.writing, self.reason, self.top = self._row_here(), None, "", 0
        self.column = self._first_column()

    def _columns(self) -> list[SheetColumn]:
        return list(self.page.columns)

    def _first_column(self) -> int:
        fixed = self.page.fixed
        return next((k for k, column in enumerate(self.page.columns) if column.name not in fixed), 0)

    def _cell(self) -> str:
        return self.page.cell(self.row, self._columns()[self.column].name) if self.page.rows else ""

    def _row_here(self) -> int:
        """The row of the station, where the page has stations."""
        ats = self.page.ats() if isinstance(self.page, MeasurePage) else []
        return min(range(len(ats)), key=lambda row: abs(ats[row] - self.session.at), default=0)

    def _follow(self) -> None:
        """The station goes along with the row."""
        if isinstance(self.page, MeasurePage) and self.page.rows:
            self.session.at = self.page.ats()[self.row]

    def _changed(self) -> None:
        self.row = min(self.row, max(0, len(self.page.rows) - 1))
        self.changed()

    def _renew(self) -> None:
        self.page.renew()
        self._changed()

    # --- drawing --------------------------------------------------------------------------------------------------

    def rows(self, width: int, height: int) -> list[Row]:
        session = self.session
        name = session.boat.name
        wheres = [f"{name} › {session.spar_name}", session.spar_name] if self.of_spar else [f"{name} › shop", "shop"]
        top = Rows([top_row(wheres, [""], [session.state_word], width)])
        if self.of_spar:
            top = stack(top, spar_rows(session, width, height < LOW, ascii_only=self.app.config.ascii_only))
        names = self._titles(width - 2)
        self.without = ("new_row", "drop_row", "adopt")[0 if isinstance(self.page, KeysPage) else 2 :]
        if isinstance(self.page, MeasurePage):
            self.without = ("new_row", "drop_row")
        told = self.reason or self.page.pending_reason or self.page.shut
        said = [row((f"✗ {told}", "error"))] if told else []
        said += map(row, self.page.summary(self._key("adopt")) if isinstance(self.page, MeasurePage) else ())
        foot = stack(_inset(folded(said, width - 2)), self.foot(width, max(1, height // 5)))
        head = stack(top, [fit(row(" ", *names), width)])
        if height - len(head) - len(foot) < 4:
            head = Rows(top[:1])
            foot = Rows(foot[-max(0, height - 5) :]) if height > 5 else Rows()
        room = max(1, height - len(head) - len(foot))
        table = _inset(self._table(max(1, width - 2), room))
        return [*head, *table, *[row("")] * (room - len(table)), *foot]

    def _titles(self, width: int) -> Row:
        """The names of the pages, the one in hand in brackets, about it where there is no room for all."""
        here = self.pages.index(self.page)
        words = [f"[{page.title}]" if page is self.page else f" {page.title} " for page in self.pages]
        first, last = 0, len(words)
        while last - first > 1 and len(" ".join(words[first:last])) + 2 * (last - first < len(words)) > width:
            first, last = (first + 1, last) if here - first > last - 1 - here else (first, last - 1)
        around = (("‹ " if first else "", ""), (" ›" if last < len(words) else "", ""))
        spans = [span for text in words[first:last] for span in ((text, "bold"), (" ", ""))]
        return (around[0], *spans[:-1], around[1])

    def _table(self, width: int, height: int) -> Rows:
        """The page's table about the row in hand: heads, as many rows as there is room for, and what is left out."""
        page = self.page
        if not page.rows:
            return rows(["" if page.shut else f"no rows yet; type to begin the first, or press {self._key('new_row')}"])
        columns = self._columns()
        here = columns[self.column].name
        texts = {
            column.name: [self._written(place, column.name) for place in range(len(page.rows))] for column in columns
        }
        columns, wide = self._fitting(columns, texts, width)
        heads = [two_lines(column.label) for column in columns]
        top = [
            row(("  " + "  ".join(_cell(head[k], w) for head, w in zip(heads, wide, strict=True)), "bold"))
            for k in (0, 1)
            if any(head[k] for head in heads)
        ]
        lines = []
        for place in range(len(page.rows)):
            spans: list[Span] = [("▸ " if place == self.row else "  ", "")]
            for column, w in zip(columns, wide, strict=True):
                marked = place == self.row and column.name == here
                text = texts[column.name][place]
                spans += [(_cell(_end(text, w) if marked else text, w), "reverse bold" if marked else ""), ("  ", "")]
            lines.append(tuple(spans))
        away = ", ".join(column.label for column in self._columns() if column not in columns)
        foot = rows([f"on a wider screen: {away}"], "quiet italic") if away else Rows()
        seen = window(lines, self.top, max(1, height - len(top) - len(foot)), self.row)
        self.top = seen.top
        return stack(top, seen.lines, foot) if height > len(top) + 1 else seen.lines

    def _fitting(
        self, columns: list[SheetColumn], texts: Mapping[str, list[str]], width: int
    ) -> tuple[list[SheetColumn], list[int]]:
        """The columns for which there is room, and how wide each is."""
        hidden = self.page.columns_to_hide(columns[self.column].name)
        while True:
            wide = [max(map(cells, (*two_lines(column.label), *texts[column.name]))) for column in columns]
            if sum(wide) + 2 * len(wide) <= width or not hidden:
                break
            columns = [column for column in columns if column.name != hidden[0]]
            del hidden[0]
        while sum(wide) + 2 * len(wide) > width and max(wide) > 6:  # the widest gives way
            wide[wide.index(max(wide))] -= 1
        return columns, wide

    def _written(self, row: int, name: str) -> str:
        if self.writing is not None and row == self.row and name == self._columns()[self.column].name:
            return self.writing + "▏"
        return self.page.cell(row, name)


def _inset(lines: Iterable[Row]) -> Rows:
    """Rows a column in from the edge."""
    return Rows(((" ", ""), *line) for line in lines)


def _cell(text: str, width: int) -> str:
    text = fitted(text, width)
    return text + " " * (width - cells(text))


def _end(text: str, width: int) -> str:
    """The end of what is being written, with a sign where it is cut."""
    return text if cells(text) <= width else "…" + text[len(text) - width + 1 :]
