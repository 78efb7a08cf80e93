"""Unsaved work on the disk: a copy of the document at every change, offered after a crash.

The copy is TOML: which boat it is of, what its file held when it was opened, and the whole text.
"""

from collections.abc import Iterator
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ..errors import InputFault
from ..record import NamedTuple
from .atomic import KeepError, contents, keep_error, make_folder, text_of, there
from .atomic import replace as replace_file
from .copies import CopyFile, copy_files, forget, hold, own_copy, release
from .names import slug
from .places import ENDING, Listing, Places, find, own_path, recovery_folder, when

if TYPE_CHECKING:
    from .store import Opened


class Recovered(NamedTuple):
    """Unsaved work. `base` is the stamp of the file it began from; `tried`: taken up once, not finished."""

    name: str
    is_example: bool
    text: str
    base: str | None
    when: datetime
    tried: bool
    copy: CopyFile


def recover_note(places: Places, opened: "Opened", text: str) -> Path:
    """Put the document, as it is now, where it is found after a crash, with the mode of the boat's file; where that is.

    KeepError when it cannot be.
    """
    import tomli_w

    copy = own_copy(recovery_folder(places, opened.listing.is_example), opened.listing.name)
    note = {
        "format": 1,
        "boat": opened.listing.name,
        "file": str(opened.listing.path),
        "base": opened.stamp,
        "text": text,
    }
    # line ends of another system do not pass through a text of many lines
    whole = tomli_w.dumps(note, multiline_strings="\r" not in text)
    make_folder(copy.path.parent)
    hold(copy)
    replace_file(copy.path, whole.encode("utf-8"), like=opened.listing.path)
    return copy.path


def recovery(places: Places, boat: Listing | str) -> Recovered | None:
    """Unsaved work of a boat that no running app is at: the newest; what was taken up already comes last.

    None when there is none or nothing can be read from it.
    """
    return next(_recovered(places, *_place(places, boat)), None)


def unsaved_work(places: Places) -> tuple[Recovered, ...]:
    """The unsaved work of every boat, examples and deleted ones too, by name; of each boat what is offered first.

    KeepError when a folder cannot be read.
    """
    copies_left = []
    for is_example in (False, True):
        folder = recovery_folder(places, is_example)
        for name in sorted({copy.name for copy in copy_files(folder)}):
            copies_left += [copy for copy in (next(_recovered(places, folder, name, is_example), None),) if copy]
    return tuple(copies_left)


def take_up(places: Places, opened: "Opened", recovered: Recovered) -> "Opened":
    """Put the copy aside, as ours, before its text is worked on, and the boat as it was when that work began.

    Should the work fail again, the copy is still there, marked as tried. A save then sees what another program wrote
    to the file since. KeepError when the copy cannot be put aside.
    """
    copy = recovered.copy
    ours = own_copy(copy.path.parent, copy.name, tried=True)
    hold(ours)
    try:
        copy.path.replace(ours.path)
    except OSError as error:
        raise keep_error(error, "put aside", copy.path) from None
    if copy.token not in ("", ours.token):
        with suppress(KeepError):  # what that work began from; it is in it
            forget(copy)
    return opened._replace(began=recovered.base or "")


def recovery_done(places: Places, boat: Listing | str, copy: Recovered | None = None) -> None:
    """Forget this app's copy of the work on a boat: it is saved, or discarded; with `found`, that copy as well."""
    folder, name, _ = _place(places, boat)
    forget(own_copy(folder, name))
    if copy is not None:
        forget(copy.copy)


def saved(places: Places, boat: Listing, text: str) -> None:
    """Forget the unsaved work of a boat if it is just what was saved; other work stays, to be offered."""
    with suppress(KeepError):  # should it stay, it is offered once more, which harms nothing
        for copy in list(_recovered(places, *_place(places, boat), whole=True)):
            if copy.text == text:
                forget(copy.copy)
        folder = recovery_folder(places, boat.is_example)
        if not any(there(own_copy(folder, boat.name, tried).path) for tried in (False, True)):
            release(own_copy(folder, boat.name))


def _place(places: Places, boat: Listing | str) -> tuple[Path, str, bool]:
    """The folder of a boat's copies, the name of its file, and whether it is an example."""
    if isinstance(boat, Listing):
        return recovery_folder(places, boat.is_example), boat.name, boat.is_example
    try:
        return _place(places, find(places, boat))
    except InputFault:  # the boat itself has gone, its unsaved work may be there
        return recovery_folder(places, False), slug(boat), False


def _recovered(
    places: Places, folder: Path, name: str, is_example: bool, *, whole: bool = False
) -> Iterator[Recovered]:
    """What can be read of the copies of a boat that no running app is at, the first to be offered first.

    Unless the `whole` is wanted, what the boat's file holds, or a newer copy, is not among them: it is tidied away.
    """
    copies = [copy for copy in copy_files(folder) if copy.name == name and not copy.live]
    read = [copy for copy in (_read(copy, is_example) for copy in copies) if copy is not None]
    read.sort(key=lambda copy: copy.when, reverse=True)
    read.sort(key=lambda copy: copy.tried)
    path = own_path(places, name) if not is_example else places.examples / f"{name}{ENDING}"
    known: set[str] = set()
    if copies and not whole:
        with suppress(KeepError):  # a boat that has gone
            known.add(text_of(contents(path), path))
    for copy in read:
        if whole or copy.text not in known:
            yield copy
        elif copy.copy != own_copy(folder, name, copy.tried):
            with suppress(KeepError):
                forget(copy.copy)
        known.add(copy.text)


def _read(copy: CopyFile, is_example: bool) -> Recovered | None:
    import tomllib

    try:
        note: dict[str, Any] = tomllib.loads(text_of(contents(copy.path, follow=False), copy.path))
        name, base, text = (note[key] for key in ("boat", "base", "text"))
        written = when(copy.path.stat())
    except (KeepError, OSError, ValueError, LookupError, RecursionError):  # no copy of ours: there is nothing to offer
        return None
    if not all(isinstance(part, str) for part in (name, base, text)):
        return None
    return Recovered(name, is_example, text, base or None, written, copy.tried, copy)
