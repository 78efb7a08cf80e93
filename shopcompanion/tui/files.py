"""Opening, saving and leaving: everything of the app that touches files, through `storage.store`."""

from collections.abc import Callable, Iterable, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

from ..errors import CompanionError, printable
from ..profile.fields import check_field
from ..profile.records import Head
from ..storage import store
from ..storage.atomic import FolderHeld, contents, text_of
from ..storage.store import Conflict, Listing, Places, Recovered
from ..storage.written import kept_as, write_over, written_new
from .paint import rows
from .picker import Choice
from .reader import Reader
from .session import Session

if TYPE_CHECKING:
    from .bench import Bench


DEMO = "saltmarsh-yawl"
SOON = 1.0  # seconds until a folder that another program holds is tried again
_UNITS = {"in": "a bare number is inches, answers are fractions", "mm": "a bare number is millimetres"}


class Files:
    """The part of the app that opens and keeps boats."""

    places: Places
    session: Session
    bench: "Bench"
    tell: Callable[..., None]
    attempt: Callable[[Callable[[], object]], bool]
    first_page: Callable[[], None]
    pick: Callable[..., Any]
    ask_line: Callable[..., None]
    push_screen: Callable[..., Any]
    exit: Callable[..., None]
    set_timer: Callable[..., Any]
    home: Callable[[Callable[[], object]], None]
    _key_of: Callable[[str], str]
    _settled: Callable[[Callable[[], object]], None]

    def write_out(self, what: str, data: bytes, ending: str) -> None:
        """Write pages to print beside the boats, named by the boat and `what` they are; where, is told.

        What stands there already is written over only when the user says so, and is kept under another name.
        """
        if self.session.opened is None:
            return
        path = self.places.profiles / f"{self.session.opened.listing.name}-{what}.{ending}"

        def write() -> None:
            if written_new(path, data):
                self.tell(f"written: {path}")
            elif contents(path, follow=False) == data:
                self.tell(f"it stands there as it is: {path}")
            else:
                choices = [
                    Choice("write over it", f"the old one is kept as {kept_as(path).name}", "over"),
                    Choice("leave it", "nothing is written", "leave"),
                ]
                self.pick(f"{path.name} is there already", choices, lambda does: over() if does == "over" else None)

        def over() -> None:
            kept = write_over(path, data)
            self.tell(f"written: {path}; the old one is {kept.name}")

        self.attempt(write)

    # --- opening --------------------------------------------------------------------------------------------------

    def take_up(self, listing: Listing) -> None:
        """Open a boat."""
        self.session.open(store.open_boat(listing))
        self.greet()

    def greet(self) -> None:
        """Tell of faults in the boat that was opened; unsaved work that a crash left behind is offered."""
        opened = self.session.opened
        if opened is None:
            return
        if self.session.faults:
            count = f"{len(self.session.faults)} fault{'s' if len(self.session.faults) > 1 else ''}"
            self.tell(f"{count} in this boat's file; what is sound can be used", wrong=True)
        recovered = store.recovery(self.places, opened.listing)
        if recovered is None:
            self.attempt(self._tell_of_others)
            return
        choices = [
            Choice("restore", f"changed {recovered.when:%d %b %H:%M}, never saved", "take"),
            Choice("discard", "go on with the boat as it was saved", "drop"),
        ]

        def picked(value: str) -> None:
            if value == "take":
                session, asked_for = self.session, self.session.spar_name
                session.open(store.take_up(self.places, opened, recovered), recovered.text)
                if asked_for in [spar.name for spar in session.boat.spars]:
                    session.choose_spar(asked_for)
            else:
                store.recovery_done(self.places, opened.listing, recovered)
            self.bench.renew()

        self.pick("Unsaved work was found", choices, picked, must=True)  # else the next change would write over it

    def _tell_of_others(self) -> None:
        """Unsaved work of other boats, deleted ones too."""
        opened = self.session.opened
        here = opened and (opened.listing.name, opened.listing.is_example)
        names = [
            work.copy.name for work in store.unsaved_work(self.places) if (work.copy.name, work.is_example) != here
        ]
        if names:
            more = f" and {len(names) - 3} more" if len(names) > 3 else ""
            self.tell(f"there is unsaved work of {', '.join(names[:3])}{more}: {self._key_of('boats')} lists it")

    def _work_of_deleted(self, listings: Iterable[Listing]) -> list[Choice]:
        """Rows for unsaved work whose boat is not there any more."""
        there = {(listing.name, listing.is_example) for listing in listings}
        return [
            Choice(work.copy.name, f"unsaved work of {work.when:%d %b %H:%M}; the boat itself is deleted", work)
            for work in store.unsaved_work(self.places)
            if (work.copy.name, work.is_example) not in there
        ]

    def _take_or_drop(self, work: Recovered) -> None:
        """Unsaved work of a deleted boat: a boat again, or gone."""
        choices = [
            Choice("restore", "it is a boat again, with this work saved", "take"),
            Choice("discard", "nothing of it stays", "drop"),
            Choice("leave it", "", "leave"),
        ]

        def picked(value: str) -> None:
            if value == "take":
                self._open(store.restore_work(self.places, work).listing)
            elif value == "drop":
                store.recovery_done(self.places, work.copy.name, work)
                self.tell(f"the unsaved work of {work.copy.name} is discarded")

        self.home(lambda: self.leaving(lambda: self.pick(f"Unsaved work of {work.copy.name}", choices, picked)))

    def note(self) -> None:
        """Keep the recovery copy as the document is: there while it is unsaved, gone when it is not."""
        session = self.session
        if session.opened is None:
            return
        if session.unsaved:
            store.recover_note(self.places, session.opened, session.state.text)
        else:
            store.recovery_done(self.places, session.opened.listing)

    def action_boats(self) -> None:
        self.attempt(self._boats)

    def _boats(self) -> None:
        """The boats there are, the one saved last on top, and the examples to start from."""
        listings = newest_first(store.listings(self.places))
        choices = [Choice(listing.name, "", listing, "example" if listing.is_example else "") for listing in listings]
        own = sum(not listing.is_example for listing in listings)
        choices[own:own] = [*self._work_of_deleted(listings), Choice("new boat …", "", "new")]
        extra = {"ctrl+n": ("new", "new"), "ctrl+t": ("copy", "copy"), "ctrl+r": ("rename", "rename")}
        does = {"copy": self._copy, "rename": self._rename}

        def picked(value: Any) -> None:
            if isinstance(value, Recovered):
                self._take_or_drop(value)
            elif value == "new" or (isinstance(value, tuple) and value[0] == "new"):
                self._new()
            elif isinstance(value, tuple):
                if isinstance(value[1], Listing):
                    does[value[0]](value[1])
            else:
                self.home(lambda: self.leaving(lambda: self._open(value)))

        self.pick("Boats", choices, picked, extra=extra, describe=_about)

    def _open(self, listing: Listing) -> None:
        def there() -> None:
            self.take_up(listing)
            self.bench.renew()
            self.first_page()

        self.home(there)

    def _new(self, _: object = None) -> None:
        """Three things make a boat: its name, its units, and whether it begins empty or like an example."""
        ours, other = (("in", "inches"), ("mm", "millimetres"))[:: 1 if self.session.rule.unit == "in" else -1]

        def made(name: str, units: str, like: Listing | None) -> None:
            self._open(store.new_boat(self.places, name, units, like).listing)

        def like_what(name: str, units: str) -> None:
            examples = [listing for listing in store.listings(self.places) if listing.is_example]
            choices = [Choice("empty", "the spars, the shop and the timber are entered next", False)]
            choices += [Choice(f"like {example.name}", _about(example), example) for example in examples]
            self.pick(f"{name}: begins", choices, lambda like: made(name, units, like or None))

        def units_of(name: str) -> None:
            choices = [Choice(words, _UNITS[unit], unit) for unit, words in (ours, other)]
            self.pick(f"{name}: measured in", choices, lambda units: like_what(name, units))

        self.home(lambda: self.leaving(lambda: self.ask_line("Name of the new boat", check_name, units_of)))

    def _copy(self, like: Listing) -> None:
        def made(name: str) -> None:
            self._open(store.new_boat(self.places, name, like=like).listing)

        ask = partial(self.ask_line, f"Name of the copy of {like.name}", check_name, made)
        self.home(lambda: self.leaving(ask))

    def _rename(self, old: Listing) -> None:
        def made(name: str) -> None:
            session = self.session
            is_open = session.opened is not None and session.opened.listing.path == old.path
            renamed = store.rename_boat(self.places, old.name, name)
            if is_open:
                self._open(renamed.listing)
            self.tell(f"{old.name} is called {renamed.listing.name} now")

        if old.is_example:
            self.tell("an example keeps its name; copy it under another one", wrong=True)
            return
        self.ask_line(f"New name of {old.name}", check_name, made, old.peek().title)

    # --- saving ---------------------------------------------------------------------------------------------------

    def action_save(self) -> None:
        self.save(lambda: None)

    def save(self, then: Callable[[], object]) -> None:
        """Save the boat, then go on. A file that another program changed is never written over: the user chooses."""
        session = self.session
        opened, text = session.opened, session.state.text
        if opened is None:
            self.tell("no boat is open", wrong=True)
            return
        if not session.unsaved and not opened.listing.is_example:
            self.tell("nothing to save")
            then()
            return
        try:
            saved = store.save(self.places, opened, text)
        except Conflict as conflict:
            self._conflict(conflict, then)
            return
        except FolderHeld as held:
            self.tell(f"{held}; saved as soon as it is free", wrong=True)
            self.set_timer(SOON, lambda: self._save_again(text, then))
            return
        except CompanionError as error:
            self.tell(str(error), wrong=True)
            return
        self._saved(saved, then)

    def _save_again(self, text: str, then: Callable[[], object]) -> None:
        """Save what could not be saved while another program had the folder; not when it was changed or saved since."""
        if self.session.unsaved and self.session.state.text == text:
            self.save(then)

    def _saved(self, saved: store.Opened, then: Callable[[], object]) -> None:
        before = self.session.opened
        self.session.saved(saved)
        if before is not None:
            self.attempt(lambda: store.recovery_done(self.places, before.listing))
        self.bench.redraw()
        own = before is not None and before.listing.path != saved.listing.path
        self.tell(f"saved as {saved.listing.name}, a boat of your own" if own else f"{saved.listing.name} saved")
        then()

    def _conflict(self, conflict: Conflict, then: Callable[[], object]) -> None:
        session = self.session
        choices = [
            Choice("keep both", "mine is saved beside it, under a name of its own", "both"),
            Choice("see the difference", "what the other program changed", "see"),
            Choice("take theirs", "what is not saved here is discarded", "theirs"),
        ]

        def picked(value: str) -> None:
            opened = session.opened
            if opened is None:
                return
            if value == "both":
                self._saved(store.save_beside(self.places, opened, session.state.text), then)
            elif value == "see":
                self.push_screen(
                    Reader(
                        "Theirs against mine", rows(printable(line, 400) for line in conflict.difference().split("\n"))
                    ),
                    lambda _: self._conflict(conflict, then),
                )
            else:
                theirs = store.open_boat(opened.listing)
                self.home(lambda: self._take_theirs(theirs))
                store.recovery_done(self.places, opened.listing)

        self.pick(str(conflict), choices, picked)

    def _take_theirs(self, theirs: store.Opened) -> None:
        self.session.open(theirs)
        self.bench.renew()

    def action_versions(self) -> None:
        self.attempt(self._versions)

    def _versions(self) -> None:
        """Earlier versions; the one that is picked becomes the document, unsaved, so it can be looked at first."""
        session = self.session
        if session.opened is None:
            self.tell("no boat is open", wrong=True)
            return
        versions = store.versions(self.places, session.opened.listing.name)
        if not versions:
            self.tell("no earlier versions: it has not been saved over yet")
            return
        choices = [
            Choice(f"{version.when:%d %b %Y  %H:%M:%S}", f"{version.size} bytes", version) for version in versions
        ]

        def picked(version: store.Version) -> None:
            text = text_of(contents(version.path), version.path)
            session.edit(f"the version of {version.when:%d %b %H:%M}", lambda _: text)
            self.attempt(self.note)
            self.bench.renew()

        self.pick("Earlier versions, newest first", choices, picked)

    def action_faults(self) -> None:
        faults = self.session.faults
        lines = [f"✗ {fault}" for fault in faults] or ["nothing: the file is sound"]
        self.push_screen(Reader("What is wrong in this boat's file", rows(lines)))

    # --- leaving --------------------------------------------------------------------------------------------------

    def leaving(self, then: Callable[[], object], does: str = "go on") -> None:
        """Go on (`does` says how, in words) when nothing is unsaved, or the user has said what becomes of it."""
        if not self.session.unsaved:
            then()
            return
        choices = [
            Choice(f"save and {does}", "", "save"),
            Choice(f"{does} without saving", "the changes are discarded", "drop"),
            Choice("stay", "", "stay"),
        ]

        def picked(value: str) -> None:
            if value == "save":
                self.save(then)
            elif value == "drop":
                opened = self.session.opened
                if opened is not None:  # what cannot be removed is offered again, and keeps nobody from leaving
                    self.attempt(lambda: store.recovery_done(self.places, opened.listing))
                then()

        self.pick(f"{self.session.boat.name} is not saved", choices, picked)

    def action_quit(self) -> None:
        self._settled(lambda: self.leaving(self.exit, "quit"))


def check_name(name: str) -> None:
    """InputFault unless a boat can be called so."""
    check_field(Head, "name", name)


def _about(listing: Listing | Recovered | str) -> str:
    """What the list says of a boat; read only for boats on the screen."""
    if isinstance(listing, str):
        return "its name, its units, and what it begins like"
    if isinstance(listing, Recovered):
        return f"deleted, but there is unsaved work of {listing.when:%d %b %H:%M}"
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
