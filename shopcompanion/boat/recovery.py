"""Unsaved work on the disk: a copy of the document at every change, offered after a crash.

The copy is TOML: which boat it is of, what its file held when it was opened, and the whole text.
"""

from contextlib import suppress
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from ..errors import InputFault
from .files import KeepError, contents, keep_error, make_folder, remove, text_of
from .files import replace as replace_file
from .names import slug
from .places import Listing, Places, find, recovery_path, when

if TYPE_CHECKING:
    from .keep import Opened

_TRIED = ".tried"


class Recovered(NamedTuple):
    """Unsaved work. `base` is the stamp of the file it began from; `tried`: taken up once, not finished."""

    name: str
    is_example: bool
    text: str
    base: str | None
    when: datetime
    tried: bool


def recover_note(places: Places, opened: "Opened", text: str) -> None:
    """Put the document, as it is now, where it is found after a crash. KeepError when that cannot be."""
    import tomllib

    import tomli_w

    path = _path(places, opened.listing)
    note = {
        "format": 1,
        "boat": opened.listing.name,
        "file": str(opened.listing.path),
        "base": opened.stamp or "",
        "text": text,
    }
    whole = tomli_w.dumps(note, multiline_strings=True)
    if tomllib.loads(whole) != note:  # line ends of another system do not pass through a text of many lines
        whole = tomli_w.dumps(note)
    make_folder(path.parent)
    replace_file(path, whole.encode("utf-8"))


def recovery(places: Places, boat: Listing | str) -> Recovered | None:
    """Unsaved work of a boat, None when there is none or nothing can be read from it."""
    import tomllib

    path = _path(places, boat)
    for place, tried in ((path, False), (_tried(path), True)):
        if not place.is_file():
            continue
        try:
            note = tomllib.loads(text_of(contents(place), place))
            found = [note[key] for key in ("boat", "base", "text")]
            written = when(place.stat())
        except (KeepError, OSError, ValueError, LookupError):  # no copy of ours: there is nothing to offer
            continue
        if all(isinstance(one, str) for one in found):
            name, base, text = found
            return Recovered(name, path.parent != places.recovery, text, base or None, written, tried)
    return None


def take_up(places: Places, opened: "Opened", recovered: Recovered) -> "Opened":
    """Put the copy aside before its text is worked on, and the boat as it was when that work began.

    Should the work fail again, the copy is still there, marked as tried. A save then sees what another program wrote
    to the file since. KeepError when the copy cannot be put aside.
    """
    path = _path(places, opened.listing)
    try:
        if not recovered.tried:
            path.replace(_tried(path))
    except OSError as error:
        raise keep_error(error, "put aside", path) from None
    return replace(opened, stamp=recovered.base)


def recovery_done(places: Places, boat: Listing | str) -> None:
    """Forget the unsaved work of a boat: it is saved, or given up."""
    path = _path(places, boat)
    remove(path)
    remove(_tried(path))


def saved(places: Places, boat: Listing, text: str) -> None:
    """Forget the unsaved work of a boat if it is just what was saved; other work stays, to be offered."""
    found = recovery(places, boat)
    if found and found.text == text:
        with suppress(KeepError):  # should it stay, it is offered once more, which harms nothing
            recovery_done(places, boat)


def _tried(path: Path) -> Path:
    return path.with_name(path.name + _TRIED)


def _path(places: Places, boat: Listing | str) -> Path:
    if isinstance(boat, Listing):
        return recovery_path(places, boat.name, boat.is_example)
    try:
        return _path(places, find(places, boat))
    except InputFault:  # the boat itself has gone, its unsaved work may be there
        return recovery_path(places, slug(boat), False)
