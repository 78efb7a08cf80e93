"""What the sheets edit: pages of rows and columns over the profile's text. They know no screen.

A page is made of the profile's own declarations: a list of records is a page of rows, the single values of a record are
a page of keys. It keeps its rows as the user's own texts. A cell that is put in is taken at once when the whole is
sound; until then the rows wait, and the reason is told. Nothing typed is thrown away.
"""

from collections.abc import Callable, Mapping, Sequence
from functools import partial

from ..calculator import Field
from ..errors import InputFault
from ..fields import Choice, Text
from ..lengths import Unit, show
from ..profile.fields import TableRows, declared
from ..profile.preset import spell
from ..profile.records import ROWS, TABLES, Spar
from ..profile_text import edit_spar, edit_table
from ..profile_text.row_texts import Texts
from ..record import NamedTuple
from ..stock.assumed import assumed
from ..timber.listing import every
from ..timber.species import find
from .session import Session

_OF_ANOTHER_PAGE = {
    "boat": ("name", "units", "rule", "tally"),
    "spar": ("name", "done"),
}  # they have a key of their own
_TITLES = {"piece": "pieces"}


class SheetColumn(NamedTuple):
    name: str
    label: str
    options: tuple[str, ...] = ()


def column(field: Field, session: Session) -> SheetColumn:
    kind = field.kind
    options = kind.options if isinstance(kind, Choice) else ()
    if field.name == "species" and isinstance(kind, Text):
        options = tuple(timber.name for timber in every(session.boat.own))
    return SheetColumn(field.name, kind.label, options)


def as_kept(field: Field, text: str, session: Session) -> str:
    """A typed text as the profile keeps it. InputFault when it does not read."""
    value = field.kind.read(text, session.rule)
    if isinstance(field.kind, Choice):
        return str(value)
    if field.name == "species":
        return find(text, session.boat.own).name
    return spell(field.kind, text, session.rule.unit)


class RowsPlace(NamedTuple):
    """Where in the profile's text a page has its rows, and how they are put back; `said` is what undo calls it."""

    read: Callable[[str], Sequence[Texts]]
    put: Callable[[str, Sequence[Mapping[str, str]], Unit], str]
    said: str


class RowsPage:
    """Rows that can be added and dropped: stations and fittings of a spar, bits of the shop, timber of the boat."""

    fixed: tuple[str, ...] = ()

    def __init__(self, session: Session, title: str, record: type, place: RowsPlace) -> None:
        self.session, self.title, self.place = session, title, place
        self._fields = declared(record)
        self.pending_reason = ""  # why the rows are not taken yet
        self.shut = ""  # why the file's rows cannot be changed here
        self.rows: list[dict[str, str]] = []
        self.renew()

    @property
    def columns(self) -> Sequence[SheetColumn]:
        return [column(field, self.session) for field in self._fields]

    def renew(self) -> None:
        """Take the rows as the profile has them; none when the file has something else in their place."""
        self.rows, self.pending_reason = [], ""
        try:
            self.rows = [dict(row) for row in self.place.read(self.session.state.text)]
            self.shut = ""
        except InputFault as fault:
            self.shut = fault.reason

    def columns_to_hide(self, here: str) -> list[str]:
        """The columns to go where it is narrow, in that order: the empty ones, then those farthest from `here`."""
        names = [field.name for field in self._fields]

        def worth(name: str) -> tuple[bool, int]:
            return any(name in row for row in self.rows), -abs(names.index(name) - names.index(here))

        return sorted((name for name in names[2:] if name != here), key=worth)

    def options(self, row: int, name: str) -> tuple[str, ...]:
        return next(column for column in self.columns if column.name == name).options

    def cell(self, row: int, name: str) -> str:
        return self.rows[row].get(name, "")

    def put(self, row: int, name: str, text: str) -> None:
        """Put `text` in a cell, nothing to leave it out. InputFault when it does not read; the rows then stay."""
        field = next(field for field in self._fields if field.name == name)
        if isinstance(field.kind, TableRows):  # read with its row
            self.rows[row] |= {name: text.strip()}
        elif text.strip():
            self.rows[row][name] = as_kept(field, text, self.session)
        else:
            self.rows[row].pop(name, None)
        self._take()

    def add(self, after: int) -> int:
        """An empty row after that one; where it stands. InputFault when the file's rows cannot be changed here."""
        if self.shut:
            raise InputFault(self.shut)
        place = min(after + 1, len(self.rows))
        self.rows.insert(place, {})
        self.pending_reason = "the new row is added once complete"
        return place

    def drop(self, row: int) -> None:
        del self.rows[row]
        self._take()

    def _take(self) -> None:
        rows = [row for row in self.rows if row]
        text, unit = self.session.state.text, self.session.rule.unit
        try:
            changed = self.place.put(text, rows, unit)
        except InputFault as fault:
            self.pending_reason = self._told(fault)
            return
        self.pending_reason = ""
        if changed != text:
            self.session.edit(self.place.said, lambda _: changed)
            self.renew()

    def _told(self, fault: InputFault) -> str:
        """The fault with its column by the label that stands over it."""
        key = (fault.field or "").rpartition(", ")[2]
        label = next((field.kind.label for field in self._fields if field.name == key), fault.field)
        return f"{label}: {fault.reason}" if label else fault.reason


class KeysPage:
    """The single values of a spar, of the shop or of the boat, a row for each."""

    pending_reason = shut = ""
    fixed = ("key", "note")

    def __init__(
        self,
        session: Session,
        title: str,
        record: type,
        *,
        read: Callable[[str], Mapping[str, str]],
        put: Callable[[str, str, str | None, Unit], str],
        said: str = "",
    ) -> None:
        self.session, self.title, self._read, self._put, self._said = session, title, read, put, said or title
        self._fields = [
            field
            for field in declared(record)
            if not isinstance(field.kind, TableRows) and field.name not in _OF_ANOTHER_PAGE.get(title, ())
        ]
        self.columns: Sequence[SheetColumn] = (SheetColumn("key", "What"), SheetColumn("value", "Value"))
        self.renew()

    def renew(self) -> None:
        session = self.session
        try:
            values = self._read(session.state.text)
            self.shut = ""
        except InputFault as fault:
            values, self.shut = {}, fault.reason
        notes = {key: show(mm, session.rule) for key, mm in assumed(session.boat).items() if self.title == "shop"}
        self.rows = [
            {
                "key": field.kind.label,
                "value": values.get(field.name, ""),
                "note": f"{notes[field.name]} is assumed" if field.name in notes else "",
            }
            for field in self._fields
        ]
        with_notes = [SheetColumn("note", "Note")] if any(row["note"] for row in self.rows) else []
        self.columns = (SheetColumn("key", "What"), SheetColumn("value", "Value"), *with_notes)

    def columns_to_hide(self, here: str) -> list[str]:
        return []

    def options(self, row: int, name: str) -> tuple[str, ...]:
        return column(self._fields[row], self.session).options

    def cell(self, row: int, name: str) -> str:
        return self.rows[row][name]

    def put(self, row: int, name: str, text: str) -> None:
        """Set the value of a row, nothing to leave it out. InputFault when the whole would not be sound."""
        session, field = self.session, self._fields[row]
        value = as_kept(field, text, session) if text.strip() else None
        session.edit(
            f"{field.kind.label.lower()} of {self._said}",
            lambda profile: self._put(profile, field.name, value, session.rule.unit),
        )
        self.renew()


def spar_pages(session: Session) -> list[RowsPage | KeysPage]:
    """The pages of the spar in hand: all of it but its log."""
    name = session.spar_name

    def page(field: Field, record: type) -> RowsPage:
        def read(text: str) -> Sequence[Texts]:
            return edit_spar.rows(text, name, field.name)

        def put(text: str, rows: Sequence[Mapping[str, str]], unit: Unit) -> str:
            return edit_spar.set_rows(text, name, field.name, rows, unit)

        return RowsPage(session, field.name, record, RowsPlace(read, put, f"{field.name} of {name}"))

    lists = [
        page(field, field.kind.of)
        for field in declared(Spar)
        if isinstance(field.kind, TableRows) and field.name != "log"
    ]
    order = ("stations", "joints", "fittings", "regions")
    lists.sort(key=lambda page: order.index(page.title) if page.title in order else len(order))

    def put(text: str, key: str, value: str | None, unit: Unit) -> str:
        return edit_spar.set_key(text, name, key, value, unit)

    return [*lists, KeysPage(session, "spar", Spar, read=partial(edit_spar.values, spar=name), put=put, said=name)]


def boat_pages(session: Session) -> list[RowsPage | KeysPage]:
    """The pages of the shop with its lists, of the boat's timber, yard, pieces and species, and of its own values."""

    def keys(table: str) -> KeysPage:
        def put(text: str, key: str, value: str | None, unit: Unit) -> str:
            return edit_table.set_value(text, table, key, value, unit)

        return KeysPage(session, table, TABLES[table], read=partial(edit_table.values, table=table), put=put)

    def rows_in(table: str, field: Field, record: type) -> RowsPage:
        def read(text: str) -> Sequence[Texts]:
            return edit_table.rows(text, table, field.name)

        def put(text: str, rows: Sequence[Mapping[str, str]], unit: Unit) -> str:
            return edit_table.set_rows(text, table, field.name, rows, unit)

        return RowsPage(session, field.name, record, RowsPlace(read, put, f"{field.name} of the {table}"))

    def listed(kind: str) -> RowsPage:
        def put(text: str, rows: Sequence[Mapping[str, str]], unit: Unit) -> str:
            return edit_table.set_listed(text, kind, rows, unit)

        title = _TITLES.get(kind, kind)
        return RowsPage(session, title, ROWS[kind], RowsPlace(partial(edit_table.listed, kind=kind), put, title))

    pages: list[RowsPage | KeysPage] = [keys("shop")]
    pages += [
        rows_in("shop", field, field.kind.of) for field in declared(TABLES["shop"]) if isinstance(field.kind, TableRows)
    ]
    pages += [listed(kind) for kind in ("timber", "yard", "piece", "species")]
    return [*pages, keys("boat")]
