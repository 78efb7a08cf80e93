"""Opening, saving and leaving: everything of the app that touches files, through `boat.keep`."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from textual.content import Content

from ..boat import keep
from ..boat.keep import Conflict, Listing, Places
from ..errors import CompanionError
from .picker import Choice, Reader
from .session import Session

if TYPE_CHECKING:
    from .bench import Bench


class Files:
    """The part of the app that opens and keeps boats."""

    places: Places
    session: Session
    bench: "Bench"
    tell: Callable[..., None]
    attempt: Callable[[Callable[[], object]], bool]
    pick: Callable[..., None]
    ask_line: Callable[..., None]
    push_screen: Callable[..., Any]
    exit: Callable[..., None]

    # --- opening --------------------------------------------------------------------------------------------------

    def take_up(self, listing: Listing) -> None:
        """Open a boat; unsaved work that a crash left behind is offered."""
        self.session.open(keep.open_boat(listing))
        if self.session.faults:
            self.tell(f"{len(self.session.faults)} faults in this boat's file; the rest can be used", wrong=True)
        found = keep.recovery(self.places, listing.name)
        if found is None:
            return
        choices = [
            Choice("take it up", f"changed {found.when:%d %b %H:%M}, not saved", "take"),
            Choice("leave it out", "go on with the boat as it was saved; the copy is put aside", "leave"),
        ]

        def picked(value: str) -> None:
            if value == "take":
                self.session.open(
                    self.session.opened or keep.open_boat(listing), keep.take_recovery(self.places, found)
                )
                self.note()
            else:
                keep.recovery_done(self.places, listing.name)
            self.bench.renew()

        self.pick("Unsaved work was found", choices, picked)

    def note(self) -> None:
        """Keep the recovery copy as the document is: there while it is unsaved, gone when it is not."""
        session = self.session
        if session.opened is None:
            return
        if session.unsaved:
            keep.recover_note(self.places, session.opened, session.state.text)
        else:
            keep.recovery_done(self.places, session.opened.listing.name)

    def action_boats(self) -> None:
        """The boats there are, and the examples to start from."""
        listings = keep.listings(self.places)
        choices = [Choice(one.name, "", one, "example" if one.is_example else "") for one in listings]
        extra = {"ctrl+n": ("new", "new"), "ctrl+t": ("copy", "copy"), "ctrl+r": ("rename", "rename")}
        does = {"new": self._new, "copy": self._copy, "rename": self._rename}

        def picked(value: Any) -> None:
            if isinstance(value, tuple) and value[0] in does:
                does[value[0]](value[1])
            else:
                self.leaving(lambda: self._open(value))

        self.pick("Boats", choices, picked, extra=extra, describe=_about)

    def _open(self, listing: Listing) -> None:
        self.take_up(listing)
        self.bench.renew()

    def _new(self, _: Listing) -> None:
        def made(name: str) -> None:
            listing = keep.new_boat(self.places, name, self.session.rule.unit)
            self.leaving(lambda: self._open(listing))

        self.ask_line("Name of the new boat", self._free, made)

    def _copy(self, like: Listing) -> None:
        def made(name: str) -> None:
            listing = keep.copy_boat(self.places, like, name)
            self.leaving(lambda: self._open(listing))

        self.ask_line(f"Name of the copy of {like.name}", self._free, made)

    def _rename(self, old: Listing) -> None:
        def made(name: str) -> None:
            listing = keep.rename_boat(self.places, old, name)
            opened = self.session.opened
            if opened is not None and opened.listing.path == old.path:
                self.session.moved(listing)
                self.bench.redraw()
            self.tell(f"{old.name} is called {listing.name} now")

        self.ask_line(f"New name of {old.name}", self._free, made, old.name)

    def _free(self, name: str) -> None:
        """InputFault unless a boat can be called so."""
        keep.free_name(self.places, name)

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
            saved = keep.save(self.places, opened, text)
        except Conflict as conflict:
            self._conflict(conflict, then)
            return
        except CompanionError as error:
            self.tell(str(error), wrong=True)
            return
        self._saved(saved, then)

    def _saved(self, saved: keep.Opened, then: Callable[[], object]) -> None:
        was_example = self.session.opened is not None and self.session.opened.listing.is_example
        self.session.saved(saved)
        self.attempt(self.note)
        self.bench.redraw()
        self.tell(
            f"saved as {saved.listing.name}, a boat of your own" if was_example else f"{saved.listing.name} saved"
        )
        then()

    def _conflict(self, conflict: Conflict, then: Callable[[], object]) -> None:
        session = self.session
        choices = [
            Choice("keep both", "mine is saved beside it, under a name of its own", "both"),
            Choice("see the difference", "what the other program changed", "see"),
            Choice("take theirs", "mine stays as the recovery copy until the next change", "theirs"),
        ]

        def picked(value: str) -> None:
            opened = session.opened
            if opened is None:
                return
            if value == "both":
                self._saved(keep.save_beside(self.places, opened, session.state.text), then)
            elif value == "see":
                self.push_screen(
                    Reader("Theirs against mine", Content(conflict.difference())),
                    lambda _: self._conflict(conflict, then),
                )
            else:
                session.open(keep.open_boat(opened.listing))
                self.bench.renew()

        self.pick(str(conflict), choices, picked)

    def action_versions(self) -> None:
        """Earlier versions; the one that is picked becomes the document, unsaved, so it can be looked at first."""
        session = self.session
        if session.opened is None:
            self.tell("no boat is open", wrong=True)
            return
        versions = keep.versions(self.places, session.opened.listing.name)
        if not versions:
            self.tell("no earlier versions: it has not been saved over yet")
            return
        choices = [Choice(f"{one.when:%d %b %Y  %H:%M:%S}", f"{one.size} bytes", one) for one in versions]

        def picked(version: keep.Version) -> None:
            text = keep.version_text(version)
            session.edit(f"the version of {version.when:%d %b %H:%M}", lambda _: text)
            self.attempt(self.note)
            self.bench.renew()

        self.pick("Earlier versions, newest first", choices, picked)

    def action_faults(self) -> None:
        faults = self.session.faults
        lines = [f"✗ {fault}" for fault in faults] or ["nothing: the file is sound"]
        self.push_screen(Reader("What is wrong in this boat's file", Content("\n".join(lines))))

    # --- leaving --------------------------------------------------------------------------------------------------

    def leaving(self, then: Callable[[], object]) -> None:
        """Go on when nothing is unsaved, or when the user has said what is to become of it."""
        if not self.session.unsaved:
            then()
            return
        choices = [
            Choice("save", "then go on", "save"),
            Choice("go on without saving", "the changes are given up", "drop"),
            Choice("stay", "", "stay"),
        ]

        def picked(value: str) -> None:
            if value == "save":
                self.save(then)
            elif value == "drop":
                opened = self.session.opened
                if opened is not None:
                    keep.recovery_done(self.places, opened.listing.name)
                then()

        self.pick(f"{self.session.boat.name} is not saved", choices, picked)

    async def action_quit(self) -> None:
        self.leaving(self.exit)


def _about(listing: Listing) -> str:
    """What the list says of a boat; read only for boats on the screen."""
    known = listing.peek()
    spars = f"{len(known.spars)} spars" if len(known.spars) != 1 else "1 spar"
    saved = f", saved {listing.saved:%d %b %Y}" if listing.saved and not listing.is_example else ""
    return f"{known.title}, {spars}{saved}{', unsaved work' if listing.unfinished else ''}"
