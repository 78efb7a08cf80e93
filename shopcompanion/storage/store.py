"""Keeping boats: opening, saving, what came before, and unsaved work. The one door to a boat's files.

A save puts the new text in the file's place in one step; what it replaces is kept as a version first. What another
program wrote since the boat was opened is never overwritten. A file that has vanished is written anew, for the text in
hand may be all that is left of it.
"""

import os
from contextlib import suppress
from pathlib import Path

from ..errors import InputFault, printable
from ..lengths import DEFAULT_RULES
from ..profile.fields import check_field
from ..profile.parse import LARGEST, Reading, read
from ..profile.records import FORMAT, Head
from ..record import NamedTuple
from .atomic import KeepError, contents, create, folder_lock, keep_error, make_folder, saved_at, text_of, there
from .atomic import replace as replace_file
from .copies import forget
from .names import slug
from .places import (
    Listing,
    Places,
    find,
    free_name,
    latest,
    listings,
    newest_first,
    own,
    own_path,
    places,
    version_folder,
)
from .recovery import Recovered, recover_note, recovery, recovery_done, take_up, unsaved_work
from .recovery import saved as recovery_saved
from .versions import Version, keep_version, prune, versions

__all__ = [
    "Conflict", "KeepError", "Listing", "Opened", "Places", "Recovered", "Version", "copy_boat", "find", "latest",
    "listings", "new_boat", "newest_first", "open_boat", "places", "recover_note", "recovery", "recovery_done",
    "rename_boat", "restore", "restore_work", "save", "save_beside", "slug", "take_up", "unsaved_work", "versions",
]  # fmt: skip


class Opened(NamedTuple):
    """A boat as it was on the disk: its text and what it says. `began`: the file's bytes then, or their stamp."""

    listing: Listing
    text: str
    reading: Reading
    began: bytes | str

    @property
    def stamp(self) -> str:
        """By this a change of the file is seen; taken when asked for, as hashing is slow to load."""
        return self.began if isinstance(self.began, str) else _stamp(self.began)


class Conflict(KeepError):
    """The file was changed by another program since it was opened. Both texts are here; nothing was written."""

    def __init__(self, name: str, ours: str, theirs: str) -> None:
        self.name, self.ours, self.theirs = name, ours, theirs
        super().__init__(
            f"{printable(name)} was changed on the disk since it was opened: keep both, or look at the difference"
        )

    def difference(self) -> str:
        """What differs, line by line: `-` stands on the disk, `+` is ours."""
        from difflib import unified_diff

        theirs, ours = self.theirs.splitlines(), self.ours.splitlines()
        return "\n".join(unified_diff(theirs, ours, "on the disk", "here", lineterm=""))


def open_boat(boat: Listing) -> Opened:
    """The boat with its text and its faults; the file stays as it is. KeepError when it cannot be read."""
    data = contents(boat.path)
    text = text_of(data, boat.path)
    return Opened(boat, text, read(text), data)


def save(places: Places, opened: Opened, text: str) -> Opened:
    """Put `text` in the boat's file; what it held becomes a version. An example becomes a boat of one's own.

    A recovery copy of just this text goes. Conflict when another program changed the file since it was opened;
    KeepError when it cannot be written. Either way the file is as it was.
    """
    if opened.listing.is_example:
        return save_beside(places, opened, text)
    data = _data(text)
    _put(places, opened.listing.name, data, opened.stamp)
    recovery_saved(places, opened.listing, text)
    return _opened(places, opened.listing.name, data, text)


def save_beside(places: Places, opened: Opened, text: str) -> Opened:
    """Put `text` in a new file beside the boat's own, so that both are kept. KeepError when it cannot be written."""
    created = _created(places, opened.listing.name, text)
    recovery_saved(places, opened.listing, text)
    return created


def restore(places: Places, name: str, version: Version) -> Opened:
    """Put a version in the place of the boat whose file is called `name`; what is there becomes a version itself.

    A boat that has vanished is there again. KeepError when the file cannot be written.
    """
    if version.path.parent != version_folder(places, name):
        raise InputFault(f"that is not a version of {printable(name)}")
    data = contents(version.path, follow=False)
    text = text_of(data, version.path)
    path = own_path(places, name)
    _put(places, name, data, _stamp(contents(path)) if there(path) else None)
    return _opened(places, name, data, text)


def restore_work(places: Places, work: Recovered) -> Opened:
    """Save unsaved work: in the boat's file, whose text becomes a version, or beside it when that file is an example or
    was changed since the work began. KeepError when it cannot be written; the work is kept then.
    """
    name, data = work.copy.name, _data(work.text)
    path = own_path(places, name)
    changed = there(path) and _stamp(contents(path)) != work.base
    if work.is_example or changed:
        opened = _created(places, name, work.text)
    else:
        _put(places, name, data, work.base)
        opened = _opened(places, name, data, work.text)
    with suppress(KeepError):  # should it stay, it is offered once more, which harms nothing
        forget(work.copy)
    return opened


def new_boat(places: Places, name: str, units: str | None = None, like: Listing | None = None) -> Opened:
    """A new boat called `name`: an empty one in `units`, inches by default, or one like another with everything in it;
    its rule is then the other's, unless `units` says otherwise.

    InputFault for a name that will not do, KeepError when it cannot be written.
    """
    import tomli_w

    from ..profile_text.edit_boat import set_boat

    check_field(Head, "name", name)
    if units is not None:
        check_field(Head, "units", units)
    if like is not None:
        text = set_boat(open_boat(like).text, "name", name.strip())
        return _created(places, name, text if units is None else set_boat(text, "units", units))
    units = units or "in"
    rule = DEFAULT_RULES["mm" if units == "mm" else "in"]
    head = {"name": name.strip(), "units": units, "rule": str(rule)}
    return _created(places, name, tomli_w.dumps({"format": FORMAT, "boat": head}))


def copy_boat(places: Places, name: str, new: str) -> Opened:
    """A boat called `new` like the one called `name`, as it was last saved."""
    return new_boat(places, new, like=find(places, name))


def rename_boat(places: Places, name: str, new: str) -> Opened:
    """Call a boat of one's own something else, in its file and by its file's name; its versions go along.

    InputFault for an example, unsaved work, or a name that will not do; KeepError when a file cannot be written.
    """
    from ..profile_text.edit_boat import set_boat

    old = find(places, name)
    if old.is_example:
        raise InputFault("an example keeps its name; copy it under another one")
    if old.unfinished:
        raise InputFault(f"{printable(old.name)} has unsaved work: open it, then save or discard that")
    opened = open_boat(old)
    opened = save(places, opened, set_boat(opened.text, "name", new.strip()))
    if slug(new) == old.name:
        return opened
    with folder_lock(places.profiles):
        stem = free_name(places, new)
        before, past = own_path(places, old.name), version_folder(places, old.name)
        try:
            before.rename(own_path(places, stem))
            if past.is_dir():
                past.rename(version_folder(places, stem))
        except OSError as error:
            raise keep_error(error, "rename", before) from None
    return opened._replace(listing=own(places, stem))


def _stamp(data: bytes) -> str:
    from hashlib import sha256

    return sha256(data).hexdigest()


def _data(text: str) -> bytes:
    try:
        data = text.encode("utf-8")
    except UnicodeEncodeError as error:
        raise InputFault(f"a file cannot hold a character in line {text.count(chr(10), 0, error.start) + 1}") from None
    if len(data) > LARGEST:
        raise InputFault(f"larger than {LARGEST // 10**6} MB: too large for a profile")
    return data


def _opened(places: Places, name: str, data: bytes, text: str) -> Opened:
    """What has just been written, not what another program may have put there since."""
    return Opened(own(places, name), text, read(text), data)


def _created(places: Places, name: str, text: str) -> Opened:
    data = _data(text)
    make_folder(places.profiles)
    with folder_lock(places.profiles):
        while not create(own_path(places, stem := free_name(places, name)), data):
            pass  # another program was faster: the next name
    return _opened(places, stem, data, text)


def _put(places: Places, name: str, data: bytes, stamp: str | None) -> None:
    """`data` in the place of what has `stamp`, which becomes a version. Conflict when something else is there."""
    make_folder(places.profiles)
    target = Path(os.path.realpath(own_path(places, name)))
    with folder_lock(places.profiles):
        if not there(target) and create(target, data):
            return
        before, held = saved_at(target), contents(target)
        if held == data:
            return
        if _stamp(held) == stamp:
            keep_version(places, name, held, before)
            held = contents(target)  # right before it is replaced
        if _stamp(held) != stamp:
            raise Conflict(name, data.decode("utf-8", "replace"), held.decode("utf-8", "replace"))
        replace_file(target, data)
    with suppress(KeepError):  # the boat is saved; too many versions are let go next time
        prune(places, name)
