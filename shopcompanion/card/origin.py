"""What a page was computed from: it stands on every page, so that a stale one can be told."""

from ..errors import printable
from ..lengths import Rule
from ..record import NamedTuple


class Origin(NamedTuple):
    """The rule in hand, the profile's name, the companion's version, and the day if it is known."""

    rule: Rule
    source: str
    version: str
    date: str | None
    paper: str = "card"  # what the page calls itself

    @property
    def sentences(self) -> tuple[str, str, str]:
        """What it was computed from, by which rule and when, and who knows better."""
        return (
            f"Computed from {printable(self.source)} by shopcompanion {self.version}.",
            f"Rule: {self.rule}. Date: {self.date or '______________'}",
            f"The tools' own manuals, local rules and a qualified person come before this {self.paper}.",
        )

    @property
    def words(self) -> str:
        """The same in one line."""
        computed, ruled, first = self.sentences
        return f"{computed} {ruled}. {first}"
