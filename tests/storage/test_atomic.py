"""Reading, holding and tidying a folder, in this process: what a killed one leaves is in test_disk."""

import errno
import os
import stat
from collections.abc import Iterator
from pathlib import Path
from time import time

import pytest

from shopcompanion.profile.parse import LARGEST
from shopcompanion.storage import atomic

fcntl = pytest.importorskip("fcntl")


@pytest.fixture
def held(tmp_path: Path) -> Iterator[int]:
    """A handle of the folder by which another program holds it."""
    handle = os.open(tmp_path, os.O_RDONLY)
    fcntl.flock(handle, fcntl.LOCK_EX)
    yield handle
    os.close(handle)
    atomic.wait_no_longer(atomic.WAIT)


def test_a_folder_that_is_held_is_waited_for(held: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    waits = []

    def let_go(seconds: float) -> None:
        waits.append(seconds)
        fcntl.flock(held, fcntl.LOCK_UN)

    monkeypatch.setattr(atomic, "sleep", let_go)
    with atomic.folder_lock(tmp_path), pytest.raises(BlockingIOError):
        fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)  # now it is ours
    assert len(waits) == 1
    fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)  # and free again


def test_a_screen_does_not_wait_longer_than_it_may(held: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    clock = [100.0]
    monkeypatch.setattr(atomic, "monotonic", lambda: clock[0])
    monkeypatch.setattr(atomic, "sleep", lambda seconds: clock.__setitem__(0, clock[0] + 0.25))
    for patience, until in ((0.5, 100.75), (atomic.WAIT, 102.25)):
        clock[0] = 100.0
        atomic.wait_no_longer(patience)
        with (
            pytest.raises(atomic.FolderHeld, match="is held by another program: try again"),
            atomic.folder_lock(tmp_path),
        ):
            pass
        assert clock[0] == until


def test_the_largest_file_is_read_and_the_next_is_not(tmp_path: Path) -> None:
    path = tmp_path / "large.toml"
    path.touch()
    os.truncate(path, LARGEST)
    assert len(atomic.contents(path)) == LARGEST
    os.truncate(path, LARGEST + 1)
    with pytest.raises(atomic.KeepError, match=r"is larger than \d+ MB: not a profile"):
        atomic.contents(path)


@pytest.mark.parametrize("tidy", ["by the machine's clock", "by the file just written"])
def test_parts_an_hour_old_are_removed_and_younger_ones_and_other_files_stay(tmp_path: Path, tidy: str) -> None:
    now = time()
    ages = {"a": 3590, "b": 3610, "c": 0, "d": -3610}
    for letter, age in ages.items():
        part = tmp_path / f".{letter * 32}.part"
        part.write_bytes(b"left")
        os.utime(part, (now - age, now - age))
    old = tmp_path / "boat.toml"
    old.write_bytes(b"old")
    os.utime(old, (0, 0))
    if tidy == "by the machine's clock":
        atomic.tidy(tmp_path)
    else:
        atomic.replace(tmp_path / "other.toml", b"new")
        (tmp_path / "other.toml").unlink()
    assert sorted(path.name[1] for path in tmp_path.glob(".*.part")) == ["a", "c", "d"]
    assert old.exists()


def test_a_fault_that_the_system_gives_no_number_is_told_in_its_own_words(tmp_path: Path) -> None:
    path = tmp_path / "teal.toml"
    assert str(atomic.keep_error(OSError("Odd thing"), "read", path)) == f"could not read {path}: odd thing"
    numbered = OSError(errno.EIO, os.strerror(errno.EIO))
    assert str(atomic.keep_error(numbered, "write", path)).endswith(": input/output error")


def test_a_file_keeps_its_mode_and_is_never_kept_from_its_owner(tmp_path: Path) -> None:
    path = tmp_path / "teal.toml"
    path.write_bytes(b"old")
    for mode, kept in ((0o640, 0o640), (0o604, 0o604), (0o444, 0o644)):
        path.chmod(mode)
        atomic.replace(path, b"new")
        assert stat.S_IMODE(path.stat().st_mode) == kept


def test_a_new_file_is_for_whom_the_user_lets_in_and_until_it_is_like_another_for_its_owner(tmp_path: Path) -> None:
    before = os.umask(0)
    try:
        atomic.replace(tmp_path / "teal.toml", b"new")
        atomic.create(tmp_path / "copy.toml", b"new", like=tmp_path / "not there")
    finally:
        os.umask(before)
    modes = [stat.S_IMODE((tmp_path / name).stat().st_mode) for name in ("teal.toml", "copy.toml")]
    assert modes == [0o666, 0o600]


def test_the_file_of_another_owner_stays_theirs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "teal.toml"
    path.write_bytes(b"old")
    owner, given = path.stat(), []
    monkeypatch.setattr(os, "fchown", lambda handle, user, group: given.append((user, group)))
    atomic.replace(path, b"new")
    assert given == []
    monkeypatch.setattr(os, "geteuid", lambda: owner.st_uid + 1)
    atomic.replace(path, b"newer")
    assert given == [(owner.st_uid, owner.st_gid)]
