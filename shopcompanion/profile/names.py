"""The names in a profile: how its tables are called, and when two names are the same."""

from ..record import NamedTuple


def folded(name: str) -> str:
    """A name as it is compared: case and spacing make no other spar."""
    return " ".join(name.split()).casefold()


class TableName(NamedTuple):
    """A table of a profile: its kind, "" for the file itself, and of a list the number of the row and its name."""

    kind: str = ""
    number: int = 0
    name: str | None = None

    def __str__(self) -> str:
        if not self.number:
            return self.kind
        return f"{self.kind} {self.number}" if self.name is None else f"{self.kind} {self.number} '{self.name}'"
