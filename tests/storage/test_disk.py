"""A disk that fails at any step, and a process killed at any moment: the file and every version stay whole."""

import errno
import os
import random
import resource
import select
import signal
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from shopcompanion.profile.parse import read
from shopcompanion.storage import atomic
from shopcompanion.storage.store import (
    Conflict,
    KeepError,
    Places,
    find,
    new_boat,
    open_boat,
    recover_note,
    recovery,
    restore,
    save,
    versions,
)

from .test_store import TEXT, everything, put

STEPS = ("open", "fsync", "replace", "link", "utime", "fchmod")
CODES = {
    errno.ENOSPC: "the disk is full",
    errno.EROFS: "the disk is read-only",
    errno.EACCES: "there is no permission",
    errno.EIO: "input/output error",
}
DOINGS: dict[str, Callable[[Places], object]] = {
    "save": lambda home: save(home, open_boat(find(home, "teal")), TEXT + "# new\n"),
    "restore": lambda home: restore(home, "teal", versions(home, "teal")[-1]),
    "new": lambda home: new_boat(home, "Grebe"),
    "example": lambda home: save(home, open_boat(find(home, "fjord-lugger")), TEXT),
    "recovery": lambda home: recover_note(home, open_boat(find(home, "teal")), TEXT + "# work\n"),
}


@pytest.fixture
def kept(home: Places) -> Places:
    """A boat with one version and a first recovery copy."""
    put(home, "teal", TEXT + "# first\n")
    boat = save(home, open_boat(find(home, "teal")), TEXT)
    recover_note(home, boat, TEXT + "# before\n")
    return home


class Failing:
    """os.`step` that fails with `code` at its `at`-th call, counted from 0."""

    def __init__(self, step: str, at: int, code: int) -> None:
        self.real, self.left, self.code, self.failed = getattr(os, step), at, code, False

    def __call__(self, *args: Any, **named: Any) -> Any:
        self.left -= 1
        if self.left == -1:
            self.failed = True
            raise OSError(self.code, os.strerror(self.code))
        return self.real(*args, **named)


def parts(folder: Path) -> list[str]:
    return [name for name in everything(folder) if name.endswith(".part")]


def assert_failed_cleanly(home: Places, doing: str, before: dict[str, bytes], told: str, reason: str) -> None:
    assert told.isprintable()
    assert parts(home.profiles) == []
    after = everything(home.profiles)
    if "does not confirm it: save again" in told:
        for data in after.values():
            assert not data or read(data.decode()).faults == () or b"text = " in data
    else:
        assert reason in told
        assert {name: after[name] for name in before} == before
    DOINGS[doing](home)


@pytest.mark.parametrize("code", CODES)
@pytest.mark.parametrize("step", STEPS)
@pytest.mark.parametrize("doing", DOINGS)
def test_a_disk_that_fails_at_a_step_loses_nothing(
    kept: Places, monkeypatch: pytest.MonkeyPatch, doing: str, step: str, code: int
) -> None:
    before = everything(kept.profiles)
    at, failed = 0, True
    while failed:
        failing = Failing(step, at, code)
        with monkeypatch.context() as patch:
            patch.setattr(os, step, failing)
            try:
                DOINGS[doing](kept)
            except KeepError as error:
                assert failing.failed
                told = str(error)
            else:
                told = ""
        failed = failing.failed
        if told:
            assert_failed_cleanly(kept, doing, before, told, CODES[code])
        at += 1
        for name in set(everything(kept.profiles)) - set(before):
            (kept.profiles / name).unlink()
        for name, data in before.items():
            (kept.profiles / name).write_bytes(data)
    assert at < 20


class Full:
    """A file on a disk that fills up after a few bytes."""

    def __init__(self, handle: int) -> None:
        self.handle = handle

    def __enter__(self) -> "Full":
        return self

    def __exit__(self, *_: object) -> None:
        os.close(self.handle)

    def write(self, data: bytes) -> None:
        os.write(self.handle, data[: len(data) // 2])
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


@pytest.mark.parametrize("doing", DOINGS)
def test_a_disk_that_fills_up_while_writing_loses_nothing(
    kept: Places, monkeypatch: pytest.MonkeyPatch, doing: str
) -> None:
    before = everything(kept.profiles)
    with monkeypatch.context() as patch:
        patch.setattr(os, "fdopen", lambda handle, mode: Full(handle))
        with pytest.raises(KeepError, match=r"could not write .*: the disk is full") as error:
            DOINGS[doing](kept)
    assert_failed_cleanly(kept, doing, before, str(error.value), "the disk is full")


def in_child(work: Callable[[], None]) -> int:
    """Run `work` in a process of its own that leaves without tidying; its exit status."""
    child = os.fork()
    if child == 0:
        status = 1
        try:
            work()
            status = 0
        finally:
            os._exit(status)
    _, status = os.waitpid(child, 0)
    return status


def test_a_real_limit_on_the_size_of_files_loses_nothing(kept: Places) -> None:
    before = everything(kept.profiles)

    def work() -> None:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096))
        with pytest.raises(KeepError, match="could not write"):
            save(kept, open_boat(find(kept, "teal")), TEXT + "#" * 100_000)

    assert in_child(work) == 0
    assert everything(kept.profiles).keys() >= before.keys()
    assert (kept.profiles / "teal.toml").read_text() == TEXT
    assert parts(kept.profiles) == []


def test_a_disk_without_links_still_takes_new_files_but_replaces_none(
    kept: Places, monkeypatch: pytest.MonkeyPatch
) -> None:
    def none(*_: object) -> None:
        raise OSError(errno.EPERM, os.strerror(errno.EPERM))

    monkeypatch.setattr(os, "link", none)
    assert new_boat(kept, "Grebe").listing.path.exists()
    assert not atomic.create(kept.profiles / "teal.toml", b"no")
    assert save(kept, open_boat(find(kept, "teal")), TEXT + "# new\n").text == TEXT + "# new\n"
    assert versions(kept, "teal")[0].path.read_text() == TEXT


def test_a_folder_that_cannot_be_flushed_is_no_fault(kept: Places, monkeypatch: pytest.MonkeyPatch) -> None:
    sync = os.fsync

    def no_folders(handle: int) -> None:
        if os.path.isdir(f"/proc/self/fd/{handle}"):
            raise OSError(errno.EINVAL, os.strerror(errno.EINVAL))
        sync(handle)

    monkeypatch.setattr(os, "fsync", no_folders)
    assert DOINGS["save"](kept)


def test_parts_of_dead_processes_are_cleared_and_those_of_the_living_are_not(kept: Places) -> None:
    part = atomic._written(kept.profiles / "teal.toml", b"left behind")
    fresh = atomic._written(kept.profiles / "teal.toml", b"being written")
    os.utime(part, (1_000_000_000, 1_000_000_000))
    DOINGS["save"](kept)
    assert not part.exists()
    assert fresh.exists()


# --- killed -----------------------------------------------------------------------------------------------------------


def long_text(n: int) -> str:
    """One of many whole texts, of very different sizes, that says which one it is and that it is whole."""
    return TEXT + f"# {n}\n" + "#" * (n * 7919 % 60_000) + f"\n# end of {n}\n"


def number(data: bytes) -> int:
    """Which of the long texts it is; fails unless it is one of them, whole."""
    text = data.decode()
    n = int(text.removeprefix(TEXT).split("\n", 1)[0].removeprefix("# "))
    assert text == long_text(n)
    return n


def assert_whole(home: Places, confirmed: int, newest: int = 6) -> None:
    numbers = [number((home.profiles / "teal.toml").read_bytes())]
    numbers += [number(one.path.read_bytes()) for one in versions(home, "teal")[:newest]]
    assert numbers == sorted(numbers, reverse=True)
    assert numbers[0] in (confirmed, confirmed + 1)
    assert numbers[1:2] in ([], [numbers[0]], [numbers[0] - 1])
    found = recovery(home, find(home, "teal"))
    assert found is None or number(found.text.encode()) in (confirmed, confirmed + 1)


def saving(home: Places, first: int, tell: int) -> None:
    """Save one long text after another, and tell the number of each that is saved."""
    boat = open_boat(find(home, "teal"))
    for n in range(first, first + 10_000):
        recover_note(home, boat, long_text(n))
        boat = save(home, boat, long_text(n))
        os.write(tell, n.to_bytes(4, "big"))


def killed(work: Callable[[int], None], after: float | None) -> list[int]:
    """Run `work` in a process that is killed `after` seconds from its first word (None: it kills itself); its words."""
    hear, tell = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.close(hear)
            work(tell)
        finally:
            os._exit(1)
    os.close(tell)
    heard = os.read(hear, 4) if after is not None else b""
    if after is not None:
        select.select([], [], [], after)
        os.kill(child, signal.SIGKILL)
    while more := os.read(hear, 65536):
        heard += more
    os.close(hear)
    _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status)
    assert os.WTERMSIG(status) == signal.SIGKILL
    return [int.from_bytes(heard[at : at + 4], "big") for at in range(0, len(heard), 4)]


def test_a_saving_process_killed_hundreds_of_times_leaves_every_text_whole(home: Places) -> None:
    put(home, "teal", long_text(0))
    moments, confirmed = random.Random(1897), 0
    for _ in range(120):
        first = confirmed + 1
        words = killed(lambda tell, first=first: saving(home, first, tell), moments.uniform(0, 0.006))  # type: ignore[misc]
        assert words == list(range(first, first + len(words)))
        confirmed = words[-1]
        assert_whole(home, confirmed)
        confirmed = number((home.profiles / "teal.toml").read_bytes())
    assert confirmed >= 120  # on a busy machine each process comes to one save
    assert_whole(home, confirmed, newest=1000)
    assert read(long_text(confirmed)).faults == ()


def dying(steps: Iterator[int]) -> None:
    """Have every call that touches the disk kill this process when `steps` has run out."""

    def dying_at(real: Any) -> Any:
        def step(*args: Any, **named: Any) -> Any:
            if next(steps, None) is None:
                os.kill(os.getpid(), signal.SIGKILL)
            return real(*args, **named)

        return step

    for name in ("open", "fsync", "replace", "link", "utime", "fchmod", "unlink", "mkdir"):
        setattr(os, name, dying_at(getattr(os, name)))


def test_a_process_killed_before_each_step_of_a_save_leaves_every_text_whole(home: Places) -> None:
    put(home, "teal", long_text(0))
    confirmed, most = 0, 0
    for steps in range(75):

        def work(tell: int, steps: int = steps, first: int = confirmed + 1) -> None:
            boat = open_boat(find(home, "teal"))
            dying(iter(range(steps)))
            for n in range(first, first + 100):
                recover_note(home, boat, long_text(n))
                boat = save(home, boat, long_text(n))
                os.write(tell, n.to_bytes(4, "big"))

        words = killed(work, None)
        most = max(most, len(words))
        assert_whole(home, words[-1] if words else confirmed)
        confirmed = number((home.profiles / "teal.toml").read_bytes())
    assert most >= 2  # so the steps of more than one whole save were gone through


def test_two_companions_saving_at_once_lose_nothing_that_was_saved(home: Places) -> None:
    put(home, "teal", TEXT)

    def work(who: str) -> None:
        for n in range(40):
            while True:
                boat = open_boat(find(home, "teal"))
                try:
                    save(home, boat, boat.text + f"# {who} {n}\n")
                    break
                except Conflict:
                    continue

    children = []
    for who in ("a", "b"):
        child = os.fork()
        if child == 0:
            status = 1
            try:
                work(who)
                status = 0
            finally:
                os._exit(status)
        children.append(child)
    assert [os.waitpid(child, 0)[1] for child in children] == [0, 0]
    lines = (home.profiles / "teal.toml").read_text().removeprefix(TEXT).splitlines()
    assert sorted(lines) == sorted(f"# {who} {n}" for who in "ab" for n in range(40))
