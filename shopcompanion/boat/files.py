"""Files that are whole at every moment: a reader, and a crash, find the old text or the new one, never a part.

A new file is written beside its place, flushed to the disk, and only then moved there. Everything that goes wrong is a
KeepError of one line; the old file is then as it was and nothing is left lying about.
"""

import errno
import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from itertools import count
from pathlib import Path
from zlib import crc32

from ..errors import CompanionError, printable
from .read import LARGEST

_PART = ".part"
_COUNT = count()
_STALE = 3600  # seconds; a part this much older than ours was left by a process that died
_WHY = {
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "your share of the disk is full",
    errno.EROFS: "the disk is read-only",
    errno.EACCES: "there is no permission",
    errno.EPERM: "there is no permission",
    errno.ENOENT: "it is not there",
    errno.ENOTDIR: "part of its path is a file, not a folder",
    errno.EISDIR: "it is a folder",
    errno.ENAMETOOLONG: "its name is too long",
    errno.ELOOP: "its links lead in a circle",
}
_NO_FOLDER_SYNC = (errno.EINVAL, errno.ENOTSUP, errno.EBADF)
_NO_LINKS = (errno.EPERM, errno.ENOTSUP, errno.ENOSYS, errno.EMLINK)


class KeepError(CompanionError):
    """A file could not be read or written. One line; what was there before is as it was."""


def keep_error(error: OSError, doing: str, path: Path) -> KeepError:
    why = _WHY.get(error.errno or 0) or (error.strerror or str(error)).lower()
    return KeepError(f"could not {doing} {printable(str(path), 200)}: {why}")


def contents(path: Path) -> bytes:
    """The bytes of a file. KeepError when there is none, or more than a profile can hold."""
    try:
        found = os.stat(path)
        if not stat.S_ISREG(found.st_mode):
            raise KeepError(f"{printable(str(path), 200)} is no file")
        if found.st_size > LARGEST:
            raise KeepError(f"{printable(str(path), 200)} is larger than {LARGEST // 10**6} MB, no profile is")
        return path.read_bytes()
    except OSError as error:
        raise keep_error(error, "read", path) from None


def text_of(data: bytes, path: Path) -> str:
    """The text with its own line ends and byte order mark. KeepError when it is no UTF-8."""
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        where = data.count(b"\n", 0, error.start) + 1
        raise KeepError(f"{printable(str(path), 200)} is not UTF-8 text (line {where})") from None


def replace(path: Path, data: bytes) -> None:
    """Put `data` in the place of `path`, whose folder is there; mode and owner stay as they were.

    A symbolic link stays, and what it leads to is replaced.
    """
    target = Path(os.path.realpath(path))
    part = _written(target, data)
    try:
        os.replace(part, target)
    except OSError as error:
        _removed(part)
        raise keep_error(error, "write", target) from None
    _sync_folder(target.parent)
    _clear(target, part)


def create(path: Path, data: bytes, when_ns: int | None = None) -> bool:
    """Put `data` where no file is yet. False when there is one, which stays. `when_ns` becomes its time."""
    make_folder(path.parent)
    part = _written(path, data)
    try:
        if when_ns is not None:
            os.utime(part, ns=(when_ns, when_ns))
        try:
            os.link(part, path)
        except OSError as error:
            if error.errno not in _NO_LINKS:
                raise
            if path.exists():  # no links on this disk: look first, which is the best that can be had
                raise FileExistsError from None
            os.replace(part, path)
    except FileExistsError:
        return False
    except OSError as error:
        raise keep_error(error, "write", path) from None
    finally:
        _removed(part)
    _sync_folder(path.parent)
    return True


def remove(path: Path) -> None:
    """Remove a file if it is there."""
    try:
        path.unlink(missing_ok=True)
    except OSError as error:
        raise keep_error(error, "remove", path) from None


def make_folder(folder: Path) -> None:
    """Make a folder, and those above it, if it is not there."""
    if folder.is_dir():
        return
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise keep_error(error, "make the folder", folder) from None
    _sync_folder(folder.parent)


@contextmanager
def alone(folder: Path) -> Iterator[None]:
    """Keep other companions from writing in `folder`, which is there, until the end of the block."""
    try:
        import fcntl
    except ImportError:  # not on every system; the look at the file right before it is replaced has to do there
        yield
        return
    try:
        held = os.open(folder, os.O_RDONLY)
    except OSError as error:
        raise keep_error(error, "open the folder", folder) from None
    try:
        with suppress(OSError):  # a disk that has no locks
            fcntl.flock(held, fcntl.LOCK_EX)
        yield
    finally:
        os.close(held)


def _written(path: Path, data: bytes) -> Path:
    """A file beside `path` that holds `data`, on the disk; with the mode of `path` if that is there."""
    part = path.parent / f"{_mark(path)}{os.getpid()}-{next(_COUNT)}{_PART}"
    try:
        handle = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_TRUNC | getattr(os, "O_BINARY", 0), 0o666)
    except OSError as error:
        raise keep_error(error, "write", path) from None
    try:
        with os.fdopen(handle, "wb") as file:
            _as_before(path, handle)
            file.write(data)
            file.flush()
            os.fsync(handle)
    except OSError as error:
        _removed(part)
        raise keep_error(error, "write", path) from None
    return part


def _mark(path: Path) -> str:
    """How the parts of a file begin; short, whatever its name."""
    return f".{crc32(os.fsencode(path.name)):08x}."


def _as_before(path: Path, handle: int) -> None:
    """Give an open file the mode and owner of `path`, if that is there."""
    try:
        before = os.stat(path)
    except FileNotFoundError:
        return
    if hasattr(os, "fchown") and (before.st_uid, before.st_gid) != (os.geteuid(), os.getegid()):
        with suppress(OSError):  # only root may give files away
            os.fchown(handle, before.st_uid, before.st_gid)
    if hasattr(os, "fchmod"):
        os.fchmod(handle, stat.S_IMODE(before.st_mode))


def _removed(part: Path) -> None:
    with suppress(OSError):  # the fault that led here is the one to tell
        part.unlink(missing_ok=True)


def _sync_folder(folder: Path) -> None:
    """Have the folder itself on the disk, where the system can do that."""
    if not hasattr(os, "O_DIRECTORY"):
        return
    try:
        held = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(held)
        finally:
            os.close(held)
    except OSError as error:
        if error.errno not in _NO_FOLDER_SYNC:
            raise KeepError(
                f"written to {printable(str(folder), 200)}, but the disk does not confirm it: save again"
            ) from None


def _clear(target: Path, ours: Path) -> None:
    """Remove the parts that dead processes left beside `target`, by the clock of the file just written."""
    with suppress(OSError):  # tidying only
        now = target.stat().st_mtime
        for one in target.parent.glob(f"{_mark(target)}*{_PART}"):
            if one != ours and one.stat().st_mtime < now - _STALE:
                one.unlink(missing_ok=True)
