"""Opening, making, copying and renaming boats, and unsaved work that is offered when the app starts."""

from collections.abc import Callable, Iterable, Sequence
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

DEMO = "saltmarsh-yawl"
_UNITS = {"in": "a bare number is inches, answers are fractions", "mm": "a bare number is millimetres"}


class Boats:
    """Opens, makes, copies and renames boats. `first_page` shows the first page of a boat that was just opened."""

    def __init__(
        self,
        session: Session,
        places: Places,
        teller: Teller,
        screens: Screens,
        saving: Saving,
        *,
        first_page: Callable[[], object],
    ) -> None:
        self.session, self.places, self.teller, self.screens = session, places, teller, screens
        self.saving, self.first_page = saving, first_page

    # --- opening --------------------------------------------------------------------------------------------------

    def open(self, listing: Listing) -> None:
        """Open a boat, at the bench."""

        def there() -> None:
            self.session.open(store.open_boat(listing))
            self.greet()
            self.screens.bench.renew()
            self.first_page()

        self.screens.home(there)

    def greet(self) -> None:
        """Tell of faults in the boat that was opened; unsaved work that a crash left behind is offered."""
        opened = self.session.opened
        if opened is None:
            return
        if self.session.faults:
            count = f"{len(self.session.faults)} fault{'s' if len(self.session.faults) > 1 else ''}"
            self.teller.tell(f"{count} in this boat's file; the rest can be used", wrong=True)
        recovered = store.recovery(self.places, opened.listing)
        if recovered is None:
            self.teller.attempt(self._tell_of_others)
            return
        choices = [
            PickerRow("restore", f"changed {recovered.when:%d %b %H:%M}, never saved", "take"),
            PickerRow("discard", "go on with the boat as it was saved", "drop"),
        ]

        def picked(value: str) -> None:
            if value == "take":
                session, asked_for = self.session, self.session.spar_name
                session.open(store.take_up(self.places, opened, recovered), recovered.text)
                if asked_for in [spar.name for spar in session.boat.spars]:
                    session.choose_spar(asked_for)
            else:
                store.recovery_done(self.places, opened.listing, recovered)
            self.screens.bench.renew()

        # else the next change would write over it
        self.screens.pick("Unsaved work was found", choices, picked, must=True)

    def _tell_of_others(self) -> None:
        """Unsaved work of other boats, deleted ones too."""
        opened = self.session.opened
        here = opened and (opened.listing.name, opened.listing.is_example)
        names = [
            work.copy.name for work in store.unsaved_work(self.places) if (work.copy.name, work.is_example) != here
        ]
        if names:
            more = f" and {len(names) - 3} more" if len(names) > 3 else ""
            listed = f"{', '.join(names[:3])}{more}"
            self.teller.tell(f"there is unsaved work on {listed}; {self.teller.key('boats')} lists it")

    # --- the list -------------------------------------------------------------------------------------------------

    def do_boats(self) -> None:
        """List the boats, the one saved last on top, and then the examples, to be opened, copied and renamed."""
        listings = newest_first(store.listings(self.places))
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


def newest_first(listings: Sequence[Listing]) -> list[Listing]:
    """Own boats, the one saved last on top; then the examples, the demo boat on top."""
    own = [listing for listing in listings if listing.saved]
    examples = [listing for listing in listings if not listing.saved]
    own.sort(key=lambda boat: boat.saved.timestamp(), reverse=True)  # type: ignore[union-attr]
    return own + sorted(examples, key=lambda boat: boat.name != DEMO)
