"""Where boats are kept, and the list of them. Nothing here makes a folder or opens a file but `peek`."""

import os
import stat
from collections.abc import Iterator, Sequence
from datetime import UTC, datetime
from pathlib import Path

from ..errors import InputFault, nearest, printable
from ..profile.parse import read
from ..record import NamedTuple
from .atomic import KeepError, contents, keep_error, text_of
from .copies import copy_files
from .names import slug

DEMO = "saltmarsh-yawl"
ENDING = ".toml"
VARIABLE = "SHOPCOMPANION_PROFILES"


class Places(NamedTuple):
    """The folders: the boats, their versions, unsaved work, and the examples, which are only read."""

    profiles: Path
    versions: Path
    recovery: Path
    examples: Path


class Listing(NamedTuple):
    """A boat in the list. `name` is its file's name without the ending. `title` and `spars` are there after `peek`."""

    name: str
    path: Path
    is_example: bool
    title: str = ""
    spars: tuple[str, ...] = ()
    saved: datetime | None = None
    unfinished: bool = False
    faults: int = 0

    def peek(self) -> "Listing":
        """The same with the boat's own name, the names of its spars and the number of faults; reads the file.

        A file that cannot be read has its name for a title, and one fault.
        """
        try:
            reading = read(text_of(contents(self.path), self.path))
        except KeepError:
            return self._replace(title=self.name, faults=1)
        names = tuple(spar.name for spar in reading.boat.spars)
        return self._replace(title=reading.boat.name or self.name, spars=names, faults=len(reading.faults))


def places(folder: str | None = None) -> Places:
    """The places for `folder`, or SHOPCOMPANION_PROFILES, or the platform's data folder. Makes none of them.

    InputFault when that cannot be the name of a folder.
    """
    named = folder or os.environ.get(VARIABLE)
    if named:
        if "\0" in named:
            raise InputFault(f"'{printable(named)}' cannot be the name of a folder")
        profiles = _whole(os.path.expanduser(named))
    else:
        from platformdirs import user_data_path

        profiles = user_data_path("shopcompanion", appauthor=False) / "profiles"
    package = Path(__file__).resolve().parents[1]
    installed = package / "profiles"
    examples = installed if installed.is_dir() else package.parent / "profiles"
    return Places(profiles, profiles / ".versions", profiles / ".recovery", examples)


def config_path() -> Path:
    """Where the user's config file is looked for: SHOPCOMPANION_CONFIG, or the platform's own folder."""
    named = os.environ.get("SHOPCOMPANION_CONFIG")
    if named:
        return _whole(os.path.expanduser(named))
    from platformdirs import user_config_path

    return user_config_path("shopcompanion", appauthor=False) / "config.toml"


def _whole(path: str) -> Path:
    """The path from the root. KeepError when it hangs on a working directory that is no more."""
    try:
        return Path(os.path.abspath(path))
    except OSError as error:
        raise keep_error(error, "find the working directory for", Path(path)) from None


def own_path(places: Places, name: str) -> Path:
    return places.profiles / f"{name}{ENDING}"


def version_folder(places: Places, name: str) -> Path:
    return places.versions / name


def recovery_folder(places: Places, is_example: bool) -> Path:
    """Where the unsaved work of own boats, or of examples, is."""
    return places.recovery / "examples" if is_example else places.recovery


def unfinished(places: Places, is_example: bool) -> set[str]:
    """The names of the boats with unsaved work that no running app is at."""
    return {copy.name for copy in copy_files(recovery_folder(places, is_example)) if not copy.live}


def listings(places: Places) -> tuple[Listing, ...]:
    """The boats by name, own ones first, then the examples. A folder that is not there has none.

    KeepError when a folder cannot be read.
    """
    return (*_listed(places, places.profiles, False), *_listed(places, places.examples, True))


def latest(places: Places) -> Listing | None:
    """The own boat saved last, without a look at more than the times of the files. None when there is none."""
    newest = max(_boats(places.profiles), key=lambda boat: boat[1].st_mtime, default=None)
    return own(places, newest[0].name.removesuffix(ENDING)) if newest else None


def newest_first(listings: Sequence[Listing]) -> list[Listing]:
    """Own boats, the one saved last on top; then the examples, the demo boat on top."""
    own = [listing for listing in listings if listing.saved]
    examples = [listing for listing in listings if not listing.saved]
    own.sort(key=lambda boat: boat.saved.timestamp(), reverse=True)  # type: ignore[union-attr]
    return own + sorted(examples, key=lambda boat: boat.name != DEMO)


def own(places: Places, name: str) -> Listing:
    """The own boat whose file is called `name`, as it is now on the disk."""
    path = own_path(places, name)
    try:
        saved = when(path.stat())
    except OSError:  # gone again at once: opening it will tell
        saved = None
    try:
        waiting = name in unfinished(places, False)
    except KeepError:  # the boat itself can be read, or its opening will tell
        waiting = False
    return Listing(name, path, False, saved=saved, unfinished=waiting)


def find(places: Places, name: str) -> Listing:
    """The boat of that name, by its file's name or by a name that makes the same file; own boats before examples.

    InputFault with the nearest names when there is none. The name is only compared, never used as a path.
    """
    every = listings(places)
    wanted = name.strip().removesuffix(ENDING)
    for listing in every:
        if listing.name == wanted:
            return listing
    if not set(wanted) & set("/\\\0"):
        for listing in every:
            if slug(listing.name) == slug(wanted):
                return listing
    names = list(dict.fromkeys(listing.name for listing in every))
    hint = nearest(wanted, names) or f"; there are {', '.join(names[:8])}{'…' if len(names) > 8 else ''}" * bool(names)
    raise InputFault(f"no boat is called '{printable(name)}'{hint}")


def free_name(places: Places, name: str) -> str:
    """The file name for a new boat called `name`: one that no boat, no version and no unsaved work has."""
    first = slug(name)
    count, free = 1, first
    worked_on = {copy.name for copy in copy_files(recovery_folder(places, False))}
    while os.path.lexists(own_path(places, free)) or os.path.lexists(version_folder(places, free)) or free in worked_on:
        count += 1
        free = f"{first}-{count}"
    return free


def when(status: os.stat_result) -> datetime:
    """A file's time, in the local zone; the first of 1970 when it has one that no calendar holds."""
    try:
        return datetime.fromtimestamp(status.st_mtime).astimezone()
    except (OverflowError, ValueError, OSError):
        return datetime.fromtimestamp(0, UTC)


def _listed(places: Places, folder: Path, is_example: bool) -> list[Listing]:
    waiting = unfinished(places, is_example)
    listings = []
    for entry, status in _boats(folder):
        name, saved = entry.name.removesuffix(ENDING), None if is_example else when(status)
        listings.append(Listing(name, Path(entry.path), is_example, saved=saved, unfinished=name in waiting))
    return sorted(listings, key=lambda listing: (listing.name.casefold(), listing.name))


def _boats(folder: Path) -> Iterator[tuple[os.DirEntry[str], os.stat_result]]:
    for entry in _entries(folder):
        if entry.name.startswith(".") or not entry.name.endswith(ENDING):
            continue
        try:
            status = entry.stat()
        except OSError:  # gone since, or a link to nowhere: no boat
            continue
        if stat.S_ISREG(status.st_mode):
            yield entry, status


def _entries(folder: Path) -> list[os.DirEntry[str]]:
    try:
        with os.scandir(folder) as entries:
            return list(entries)
    except FileNotFoundError:
        return []
    except OSError as error:
        raise keep_error(error, "read the folder", folder) from None
