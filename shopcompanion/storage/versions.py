"""The versions of a boat that were there before the present one: every save keeps what it replaces."""

import os
from datetime import datetime
from pathlib import Path

from ..record import NamedTuple
from .atomic import KeepError, contents, create, keep_error, refuse_link, remove
from .names import slug
from .places import ENDING, Places, own_path, version_folder, when

MOST = 50


class Version(NamedTuple):
    """What a boat's file held before. `when` is when that was saved."""

    when: datetime
    path: Path
    size: int


def versions(places: Places, name: str) -> tuple[Version, ...]:
    """What there is of earlier versions, the newest first. `name` is the name of the boat's file."""
    listed = []
    for _, path in _numbered(_folder(places, name)):
        try:
            status = path.stat()
        except FileNotFoundError:  # another companion has just let it go
            continue
        except OSError as error:
            raise keep_error(error, "read", path) from None
        listed.append(Version(when(status), path, status.st_size))
    return tuple(listed)


def keep_version(places: Places, name: str, data: bytes, when_ns: int) -> None:
    """Keep `data`, saved at `when_ns`, as the newest version; nothing to do when the newest is the same."""
    folder = _folder(places, name)
    numbered = _numbered(folder)
    if numbered and _same(numbered[0][1], data):
        return
    number = numbered[0][0] + 1 if numbered else 1
    while not create(folder / f"{number:06d}{ENDING}", data, when_ns, like=own_path(places, name)):
        number += 1


def prune(places: Places, name: str) -> None:
    """Let all but the newest MOST versions go."""
    for _, path in _numbered(_folder(places, name))[MOST:]:
        remove(path)


def _same(path: Path, data: bytes) -> bool:
    try:
        return contents(path, follow=False) == data
    except KeepError:  # a version that cannot be read is no reason not to keep another
        return False


def _folder(places: Places, name: str) -> Path:
    plain = name if os.path.basename(name) == name and not name.startswith(".") and "\0" not in name else slug(name)
    folder = version_folder(places, plain)
    for directory in (places.versions, folder):
        refuse_link(directory)
    return folder


def _numbered(folder: Path) -> list[tuple[int, Path]]:
    try:
        names = os.listdir(folder)
    except FileNotFoundError:
        return []
    except OSError as error:
        raise keep_error(error, "read the folder", folder) from None
    stems = [(os.path.splitext(name), name) for name in names]
    kept = [(int(stem), folder / name) for (stem, ending), name in stems if ending == ENDING and stem.isdecimal()]
    return sorted(kept, reverse=True)
