"""What the sheet edits: pages of rows and columns over the profile's text. They know no screen.

A page keeps its rows as the user's own texts. A cell that is put in is taken at once when the whole makes a sound spar;
until then the rows wait, and the reason is told. Nothing typed is thrown away.
"""

from collections.abc import Sequence
from typing import Any, NamedTuple

from ..calculator import Field
from ..errors import InputFault, printable
from ..fields import Choice
from ..profile.fields import Rows, declared
from ..profile.names import folded
from ..profile.preset import spell
from ..profile.records import Spar
from ..profile_text import edit_spar
from .session import Session


class Column(NamedTuple):
    name: str
    label: str
    options: tuple[str, ...] = ()


def column(field: Field) -> Column:
    kind = field.kind
    return Column(field.name, kind.label, kind.options if isinstance(kind, Choice) else ())


class RowsPage:
    """Stations, joints, fittings or regions of the spar: rows that can be added and dropped."""

    fixed: tuple[str, ...] = ()

    def __init__(self, session: Session, key: str) -> None:
        self.session, self.key, self.title = session, key, key
        kind: Any = next(one.kind for one in declared(Spar) if one.name == key)
        self._fields = declared(kind.of)
        self.columns: Sequence[Column] = [column(one) for one in self._fields]
        self.waits = ""  # why the rows are not taken yet
        self.shut = ""  # why the file's rows cannot be changed here
        self.rows: list[dict[str, str]] = []
        self.renew()

    def renew(self) -> None:
        """Take the rows as the profile has them; none when the file has something else in their place."""
        self.rows, self.waits = [], ""
        try:
            self.rows = [dict(row) for row in edit_spar.rows(self.session.state.text, self.session.spar_name, self.key)]
            self.shut = ""
        except InputFault as fault:
            self.shut = fault.reason

    def gives_way(self, here: str) -> list[str]:
        """The columns to go where it is narrow, in that order: the empty ones, then those farthest from `here`."""
        names = [one.name for one in self.columns]

        def worth(name: str) -> tuple[bool, int]:
            return any(name in row for row in self.rows), -abs(names.index(name) - names.index(here))

        return sorted((name for name in names[2:] if name != here), key=worth)

    def cell(self, row: int, name: str) -> str:
        return self.rows[row].get(name, "")

    def put(self, row: int, name: str, text: str) -> None:
        """Put `text` in a cell, nothing to leave it out. InputFault when it does not read; the rows then stay."""
        kind = next(one.kind for one in self._fields if one.name == name)
        if text.strip():
            rule = self.session.rule
            value = kind.read(text, rule)
            self.rows[row][name] = str(value) if isinstance(kind, Choice) else spell(kind, text, rule.unit)
        else:
            self.rows[row].pop(name, None)
        self._take()

    def add(self, after: int) -> int:
        """An empty row after that one; where it stands. InputFault when the file's rows cannot be changed here."""
        if self.shut:
            raise InputFault(self.shut)
        place = min(after + 1, len(self.rows))
        self.rows.insert(place, {})
        self.waits = "the new row is added once complete"
        return place

    def drop(self, row: int) -> None:
        del self.rows[row]
        self._take()

    def _take(self) -> None:
        rows = [row for row in self.rows if row]
        text, spar, unit = self.session.state.text, self.session.spar_name, self.session.rule.unit
        try:
            changed = edit_spar.set_rows(text, spar, self.key, rows, unit)
        except InputFault as fault:
            self.waits = str(fault)
            return
        self.waits = ""
        if changed != text:
            self.session.edit(f"{self.key} of {spar}", lambda _: changed)
            self.renew()


class KeysPage:
    """The spar itself: one row for each of its single values."""

    columns: Sequence[Column] = (Column("key", "What"), Column("value", "Value"))
    title = "spar"
    waits = shut = ""
    fixed = ("key",)

    def __init__(self, session: Session) -> None:
        self.session = session
        self._fields = [
            one for one in declared(Spar) if not isinstance(one.kind, Rows) and one.name not in ("name", "done")
        ]
        self.renew()

    def renew(self) -> None:
        values = self._values()
        self.rows = [{"key": one.kind.label, "value": printable(str(values.get(one.name, "")))} for one in self._fields]

    def _values(self) -> dict[str, Any]:
        """The spar's single values as the profile has them."""
        import tomllib

        spars = tomllib.loads(self.session.state.text.removeprefix("\ufeff")).get("spar", [])
        wanted = folded(self.session.spar_name)
        tables = [one for one in spars if isinstance(one, dict)] if isinstance(spars, list) else []
        return next((one for one in tables if folded(str(one.get("name", ""))) == wanted), {})

    def gives_way(self, here: str) -> list[str]:
        return []

    def options(self, row: int) -> tuple[str, ...]:
        return column(self._fields[row]).options

    def cell(self, row: int, name: str) -> str:
        return self.rows[row][name]

    def put(self, row: int, name: str, text: str) -> None:
        """Set the value of a row, nothing to leave it out. InputFault when the spar would not be sound."""
        session, one = self.session, self._fields[row]
        value: str | None = None
        if text.strip():
            read = one.kind.read(text, session.rule)
            value = str(read) if isinstance(one.kind, Choice) else text
        spar = session.spar_name
        session.edit(
            f"{one.kind.label.lower()} of {spar}",
            lambda profile: edit_spar.set_key(profile, spar, one.name, value, session.rule.unit),
        )
        self.renew()
