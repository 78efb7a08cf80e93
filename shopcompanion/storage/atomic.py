"""Files that are whole at every moment: a reader, and a crash, find the old text or the new one, never a part.

A new file is written beside its place, flushed to the disk, and only then moved there. Everything that goes wrong is a
KeepError of one line; the old file is then as it was and nothing is left lying about.
"""

import errno
import os
import re
import stat
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from time import monotonic, sleep, time
from typing import BinaryIO

from ..errors import CompanionError, printable
from ..profile.parse import LARGEST

_PART = r"\.[0-9a-f]{32}\.part"
_STALE = 3600  # seconds; a part this much older than ours was left by a process that died
WAIT = 2.0  # seconds for another companion that saves; a program that holds the folder longer is told of
_SOON = 0.01
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
    errno.ELOOP: "it is a link, or its links lead in a circle",
    errno.ESTALE: "the share it is on has gone",
    errno.ENOTCONN: "the drive or share it is on is not connected",
    errno.ENODEV: "the drive it is on has gone",
    errno.ENXIO: "the drive it is on has gone",
}
_NO_FOLDER_SYNC = (errno.EINVAL, errno.ENOTSUP, errno.EBADF)
_NO_LINKS = (errno.EPERM, errno.ENOTSUP, errno.ENOSYS, errno.EMLINK)


_patience = [WAIT]  # of this process


def wait_no_longer(seconds: float) -> None:
    """From now on wait at most so many seconds for a folder that another program holds: a screen must not freeze."""
    _patience[0] = seconds


class KeepError(CompanionError):
    """A file could not be read or written. One line; what was there before is as it was."""


class FolderHeld(KeepError):
    """Another program holds the folder; nothing was written, and it can be tried again."""


def keep_error(error: OSError, doing: str, path: Path) -> KeepError:
    why = _WHY.get(error.errno or 0) or (error.strerror or str(error)).lower()
    return KeepError(f"could not {doing} {printable(str(path), 200)}: {why}")


def contents(path: Path, follow: bool = True) -> bytes:
    """The bytes of a file, with `follow` of what a link leads to.

    KeepError when there is none, when it is no plain file, or more than a profile can hold.
    """
    with _plain_file(path, follow) as file:
        if os.fstat(file.fileno()).st_size > LARGEST:
            raise KeepError(f"{printable(str(path), 200)} is larger than {LARGEST // 10**6} MB: not a profile")
        return file.read(LARGEST)


def first_bytes(path: Path, count: int) -> bytes:
    """How a file begins. KeepError when there is none or it is no plain file."""
    with _plain_file(path) as file:
        return file.read(count)


@contextmanager
def _plain_file(path: Path, follow: bool = True) -> Iterator[BinaryIO]:
    flags = os.O_RDONLY | getattr(os, "O_BINARY", 0) | getattr(os, "O_NONBLOCK", 0)  # never wait for a pipe's writer
    try:
        handle = os.open(path, flags | (0 if follow else getattr(os, "O_NOFOLLOW", 0)))
        with open(handle, "rb") as file:
            if not stat.S_ISREG(os.fstat(handle).st_mode):
                raise KeepError(f"{printable(str(path), 200)} is not a plain file")
            yield file
    except OSError as error:
        raise keep_error(error, "read", path) from None


def there(path: Path) -> bool:
    """Whether a file is there. KeepError when that cannot be told."""
    try:
        os.stat(path)
    except (FileNotFoundError, NotADirectoryError):
        return False
    except OSError as error:
        raise keep_error(error, "read", path) from None
    return True


def saved_at(path: Path) -> int:
    """When a file was written, in nanoseconds. KeepError when that cannot be told."""
    try:
        return os.stat(path).st_mtime_ns
    except OSError as error:
        raise keep_error(error, "read", path) from None


def refuse_link(folder: Path) -> None:
    """KeepError when a folder that the companion makes for itself is a link to somewhere else."""
    if os.path.islink(folder):
        raise KeepError(f"{printable(str(folder), 200)} is a link: the companion keeps nothing there, remove the link")


def text_of(data: bytes, path: Path) -> str:
    """The text with its own line ends and byte order mark. KeepError when it is no UTF-8."""
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        where = data.count(b"\n", 0, error.start) + 1
        raise KeepError(f"{printable(str(path), 200)} is not UTF-8 text (line {where})") from None


def replace(path: Path, data: bytes, like: Path | None = None) -> None:
    """Put `data` in the place of `path`, whose folder is there; mode and owner are those of `like`, or stay.

    A symbolic link stays, and what it leads to is replaced; with `like` the link itself is.
    """
    target = path if like else Path(os.path.realpath(path))
    part = _written(target, data, like)
    try:
        os.replace(part, target)
    except OSError as error:
        _removed(part)
        raise keep_error(error, "write", target) from None
    _sync_folder(target.parent)
    _clear(target)


def create(path: Path, data: bytes, when_ns: int | None = None, like: Path | None = None) -> bool:
    """Put `data` where no file is yet. False when there is one, which stays.

    `when_ns` becomes its time, and it gets mode and owner of `like`.
    """
    make_folder(path.parent)
    part = _written(path, data, like)
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
    _clear(path)
    return True


def remove(path: Path) -> None:
    """Remove a file if it is there."""
    try:
        path.unlink(missing_ok=True)
    except OSError as error:
        raise keep_error(error, "remove", path) from None


def make_folder(folder: Path) -> None:
    """Make a folder, and those above it, if it is not there."""
    try:
        if folder.is_dir():
            return
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise keep_error(error, "make the folder", folder) from None
    _sync_folder(folder.parent)


@contextmanager
def folder_lock(folder: Path) -> Iterator[None]:
    """Keep other companions from writing in `folder`, which is there, until the end of the block.

    KeepError when a program holds the folder longer than a save takes.
    """
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
        until = monotonic() + _patience[0]
        while True:
            try:
                fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError:
                if monotonic() > until:
                    raise FolderHeld(
                        f"{printable(str(folder), 200)} is held by another program: try again when it is done"
                    ) from None
                sleep(_SOON)
                continue
            except OSError:  # a disk that has no locks
                pass
            break
        yield
    finally:
        os.close(held)


def _written(path: Path, data: bytes, like: Path | None = None) -> Path:
    """A file beside `path` that holds `data`, on the disk; with the mode of `like` or `path` if that is there."""
    part = path.parent / f".{os.urandom(16).hex()}.part"  # a name that nobody can have put there before
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)
    try:
        handle = os.open(part, flags, 0o600 if like else 0o666)
    except OSError as error:
        raise keep_error(error, "write", path) from None
    try:
        with os.fdopen(handle, "wb") as file:
            _as_before(like or path, handle)
            file.write(data)
            file.flush()
            os.fsync(handle)
    except OSError as error:
        _removed(part)
        raise keep_error(error, "write", path) from None
    return part


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
        os.fchmod(handle, stat.S_IMODE(before.st_mode) | stat.S_IRUSR | stat.S_IWUSR)


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


def tidy(folder: Path) -> None:
    """Remove the parts that dead processes left in a folder, by the clock of this machine."""
    with suppress(OSError):  # tidying only
        _remove_parts(folder, time())


def _clear(target: Path) -> None:
    """Remove the parts that dead processes left beside `target`, by the clock of the file just written."""
    with suppress(OSError):  # tidying only
        _remove_parts(target.parent, target.stat().st_mtime)


def _remove_parts(folder: Path, now: float) -> None:
    with os.scandir(folder) as entries:
        stale = [
            entry
            for entry in entries
            if re.fullmatch(_PART, entry.name) and entry.stat(follow_symlinks=False).st_mtime < now - _STALE
        ]
    for entry in stale:
        os.unlink(entry.path)
