"""Whose recovery copy is whose: the files in the folder of unsaved work, and whether the app that made one still runs.

Every process has copies of its own, `teal.~TOKEN.toml`, so that two apps on one boat do not write over one another; a
copy that was taken up again ends in `.tried`. Beside them stands `teal.~TOKEN.lock`, locked as long as the process
lives: the lock dies with it, whatever kills it.
"""

import os
import re
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from ..record import NamedTuple
from .atomic import KeepError, keep_error, make_folder, refuse_link, remove

COPY, TRIED, _LOCK = ".toml", ".tried", ".lock"
_NAME = r"(?s)(?P<name>.+)\.~(?P<token>[0-9a-f]+-[0-9a-f]+)(?P<ending>\.toml|\.tried|\.lock)"
_BEFORE = r"(?s)(?P<name>.+)\.toml(?P<tried>\.tried)?"  # as they were called before
_process: tuple[int, str] = (0, "")
_held: dict[Path, int] = {}


class CopyFile(NamedTuple):
    """A recovery copy: of which boat's file, of which process ("" for one of an older companion), and whether tried."""

    path: Path
    name: str
    token: str
    tried: bool

    @property
    def lock(self) -> Path:
        return self.path.with_name(f"{self.name}.~{self.token}{_LOCK}")

    @property
    def live(self) -> bool:
        """Whether another process that still runs is at work on it."""
        return bool(self.token) and self.token != _token() and _locked(self.lock)


def copy_files(folder: Path) -> Iterator[CopyFile]:
    """The copies in a folder of unsaved work; none when it is not there. KeepError when it cannot be read."""
    refuse_link(folder)
    try:
        names = os.listdir(folder)
    except FileNotFoundError:
        return
    except OSError as error:
        raise keep_error(error, "read the folder", folder) from None
    for name in sorted(names):
        if name.startswith("."):
            continue
        if match := re.fullmatch(_NAME, name):
            if match["ending"] != _LOCK:
                yield CopyFile(folder / name, match["name"], match["token"], match["ending"] == TRIED)
        elif before := re.fullmatch(_BEFORE, name):
            yield CopyFile(folder / name, before["name"], "", before["tried"] is not None)


def own_copy(folder: Path, name: str, tried: bool = False) -> CopyFile:
    """This process's copy of a boat's file; nothing is made."""
    ending = TRIED if tried else COPY
    return CopyFile(folder / f"{name}.~{_token()}{ending}", name, _token(), tried)


def hold(copy: CopyFile) -> None:
    """Mark a copy of ours as that of a process that runs. KeepError when the folder cannot be used."""
    lock = copy.lock
    if lock in _held:
        return
    make_folder(lock.parent)
    refuse_link(lock.parent)
    try:
        handle = os.open(lock, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o600)
    except OSError as error:
        raise keep_error(error, "write", lock) from None
    with suppress(ImportError, OSError):  # a system or a disk without locks: there the copy is taken for a dead one's
        import fcntl

        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    _held[lock] = handle


def forget(copy: CopyFile) -> None:
    """Remove a copy, tried or not, and its lock. KeepError when it cannot be removed."""
    folder, stem = copy.path.parent, f"{copy.name}.~{copy.token}"
    paths = [folder / f"{stem}{ending}" for ending in (COPY, TRIED)] if copy.token else [copy.path]
    for path in paths:
        remove(path)
    if copy.token:
        release(copy)


def release(copy: CopyFile) -> None:
    """Remove the lock of a copy that is no more."""
    if (handle := _held.pop(copy.lock, None)) is not None:
        os.close(handle)
    with suppress(KeepError):  # tidying only
        remove(copy.lock)


def _token() -> str:
    global _process  # noqa: PLW0603  # one for the process; a forked child gets its own
    if _process[0] != os.getpid():
        _process = (os.getpid(), f"{os.getpid():x}-{os.urandom(4).hex()}")
        _held.clear()
    return _process[1]


def _locked(lock: Path) -> bool:
    try:
        import fcntl

        handle = os.open(lock, os.O_RDWR | getattr(os, "O_NOFOLLOW", 0))
    except (ImportError, OSError):
        return False
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return True
    except OSError:  # a disk without locks
        return False
    finally:
        os.close(handle)
    return False
