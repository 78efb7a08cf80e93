"""Opening, making, copying and renaming boats."""

from collections.abc import Callable, Iterable
from typing import Any

from ..profile.fields import check_field
from ..profile.records import Head
from ..storage import store
from ..storage.store import Listing, Places, Recovered
from .saving import Saving
from .screens import Screens
from .search import PickerRow
from .session import Session
from .teller import Teller

_UNITS = {"in": "a bare number is inches, answers are fractions", "mm": "a bare number is millimetres"}


class Boats:
    """Opens, makes, copies and renames boats. When one was opened, `greet` tells what is to be said of it, and
    `first_page` shows its first page.
    """

    def __init__(
        self,
        session: Session,
        places: Places,
        teller: Teller,
        screens: Screens,
        saving: Saving,
        *,
        greet: Callable[[], object],
        first_page: Callable[[], object],
    ) -> None:
        self.session, self.places, self.teller, self.screens = session, places, teller, screens
        self.saving, self.greet, self.first_page = saving, greet, first_page

    # --- opening --------------------------------------------------------------------------------------------------

    def open(self, listing: Listing) -> None:
        """Open a boat, at the bench."""

        def there() -> None:
            self.session.open(store.open_boat(listing))
            self.greet()
            self.screens.bench.renew()
            self.first_page()

        self.screens.home(there)

    # --- the list -------------------------------------------------------------------------------------------------

    def do_boats(self) -> None:
        """List the boats, the one saved last on top, and then the examples, to be opened, copied and renamed."""
        listings = store.newest_first(store.listings(self.places))
        choices = [
            PickerRow(listing.name, "", listing, "example" if listing.is_example else "") for listing in listings
        ]
        own = sum(not listing.is_example for listing in listings)
        choices[own:own] = [*self._work_of_deleted(listings), PickerRow("new boat …", "", "new")]
        extra = {"ctrl+n": ("new", "new"), "ctrl+t": ("copy", "copy"), "ctrl+r": ("rename", "rename")}
        does = {"copy": self._copy, "rename": self._rename}

        def picked(value: Any) -> None:
            if isinstance(value, Recovered):
                self._take_or_drop(value)
            elif isinstance(value, Listing):
                self._leave_for(lambda: self.open(value))
            elif value == "new" or value[0] == "new":
                self.do_new_boat()
            elif isinstance(value[1], Listing):
                does[value[0]](value[1])

        self.screens.pick("Boats", choices, picked, extra=extra, describe=_about)

    def _leave_for(self, then: Callable[[], object]) -> None:
        """Go to the bench, settle what is unsaved with the user, then go on."""
        self.screens.home(lambda: self.saving.leaving(then))

    def _work_of_deleted(self, listings: Iterable[Listing]) -> list[PickerRow]:
        """Rows for unsaved work whose boat is not there any more."""
        there = {(listing.name, listing.is_example) for listing in listings}
        return [
            PickerRow(work.copy.name, f"unsaved work from {work.when:%d %b %H:%M}; the boat itself is deleted", work)
            for work in store.unsaved_work(self.places)
            if (work.copy.name, work.is_example) not in there
        ]

    def _take_or_drop(self, work: Recovered) -> None:
        """Unsaved work of a deleted boat: a boat again, or gone."""
        choices = [
            PickerRow("restore", "the boat comes back, with this work saved", "take"),
            PickerRow("discard", "this work is deleted", "drop"),
            PickerRow("leave it", "", "leave"),
        ]

        def picked(value: str) -> None:
            if value == "take":
                self.open(store.restore_work(self.places, work).listing)
            elif value == "drop":
                store.recovery_done(self.places, work.copy.name, work)
                self.teller.tell(f"the unsaved work on {work.copy.name} is discarded")

        self._leave_for(lambda: self.screens.pick(f"Unsaved work on {work.copy.name}", choices, picked))

    # --- making ---------------------------------------------------------------------------------------------------

    def do_new_boat(self) -> None:
        """Ask the name, the units, and whether it begins empty or like an example; then make the boat."""
        ours, other = (("in", "inches"), ("mm", "millimetres"))[:: 1 if self.session.rule.unit == "in" else -1]

        def made(name: str, units: str, like: Listing | None) -> None:
            self.open(store.new_boat(self.places, name, units, like).listing)

        def like_what(name: str, units: str) -> None:
            examples = [listing for listing in store.listings(self.places) if listing.is_example]
            choices = [PickerRow("empty", "the spars, the shop and the timber are entered next", False)]
            choices += [PickerRow(f"like {example.name}", _about(example), example) for example in examples]
            self.screens.pick(f"{name}: how does it begin?", choices, lambda like: made(name, units, like or None))

        def units_of(name: str) -> None:
            choices = [PickerRow(words, _UNITS[unit], unit) for unit, words in (ours, other)]
            self.screens.pick(f"{name}: measured in", choices, lambda units: like_what(name, units))

        self._leave_for(lambda: self.screens.ask_line("Name of the new boat", check_name, units_of))

    def _copy(self, like: Listing) -> None:
        def made(name: str) -> None:
            self.open(store.new_boat(self.places, name, like=like).listing)

        self._leave_for(lambda: self.screens.ask_line(f"Name of the copy of {like.name}", check_name, made))

    def _rename(self, old: Listing) -> None:
        def made(name: str) -> None:
            session = self.session
            is_open = session.opened is not None and session.opened.listing.path == old.path
            renamed = store.rename_boat(self.places, old.name, name)
            if is_open:
                self.open(renamed.listing)
            self.teller.tell(f"{old.name} is now called {renamed.listing.name}")

        if old.is_example:
            self.teller.tell("an example keeps its name; copy it under a name of your own", wrong=True)
            return
        self.screens.ask_line(f"New name of {old.name}", check_name, made, old.peek().title)


def check_name(name: str) -> None:
    """InputFault unless a boat can be called so."""
    check_field(Head, "name", name)


def _about(listing: Listing | Recovered | str) -> str:
    """What the list says of a boat; read only for boats on the screen."""
    if isinstance(listing, str):
        return "its name, its units, and what it begins like"
    if isinstance(listing, Recovered):
        return f"deleted, but there is unsaved work from {listing.when:%d %b %H:%M}"
    known = listing.peek()
    spars = f"{len(known.spars)} spars" if len(known.spars) != 1 else "1 spar"
    saved = f", saved {listing.saved:%d %b %Y}" if listing.saved else ""
    faults = f", {known.faults} faults" if known.faults else ""
    return f"{known.title}, {spars}{saved}{', unsaved work' if listing.unfinished else ''}{faults}"
