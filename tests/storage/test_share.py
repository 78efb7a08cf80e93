"""A data folder that goes away under the app: a pulled stick, a dropped share, a folder that may not be searched.

From any call on, every call to the system fails; each door of `keep` then says so in one line, and what was there is
there again when the disk is.
"""

import errno
import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from shopcompanion.errors import CompanionError
from shopcompanion.profile.parse import read
from shopcompanion.storage import store
from shopcompanion.storage.store import Places, open_boat

from .test_store import TEXT, everything, put

CALLS = ("open", "stat", "lstat", "listdir", "scandir", "mkdir", "rename", "replace", "link", "unlink", "fsync")
CODES = {
    errno.EACCES: "there is no permission",
    errno.ESTALE: "the share it is on has gone",
    errno.ENOTCONN: "the drive or share it is on is not connected",
}
Doing = Callable[[Places, store.Opened], object]
DOINGS: dict[str, Doing] = {
    "listings": lambda home, boat: [one.peek() for one in store.listings(home)],
    "latest": lambda home, boat: store.latest(home),
    "find": lambda home, boat: store.find(home, "teal"),
    "open": lambda home, boat: open_boat(boat.listing),
    "save": lambda home, boat: store.save(home, boat, TEXT + "# c\n"),
    "save beside": lambda home, boat: store.save_beside(home, boat, TEXT + "# c\n"),
    "versions": lambda home, boat: store.versions(home, "teal"),
    "restore": lambda home, boat: store.restore(home, "teal", store.versions(home, "teal")[0]),
    "new": lambda home, boat: store.new_boat(home, "Grebe"),
    "copy": lambda home, boat: store.copy_boat(home, "teal", "Grebe"),
    "rename": lambda home, boat: (store.recovery_done(home, "teal"), store.rename_boat(home, "teal", "Grebe")),
    "note": lambda home, boat: store.recover_note(home, boat, TEXT + "# x\n"),
    "recovery": lambda home, boat: store.recovery(home, "teal"),
    "unsaved": lambda home, boat: store.unsaved_work(home),
    "done": lambda home, boat: store.recovery_done(home, "teal"),
}


class Gone:
    """os.`call` that fails from its `at`-th call on."""

    def __init__(self, call: str, at: int, code: int) -> None:
        self.real, self.at, self.code, self.asked = getattr(os, call), at, code, 0

    def __call__(self, *args: object, **named: object) -> object:
        self.asked += 1
        if self.asked > self.at:
            raise OSError(self.code, os.strerror(self.code))
        return self.real(*args, **named)


@pytest.fixture
def homes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Places]:
    """Places with a saved boat, a version of it and unsaved work, as many as are asked for."""
    monkeypatch.setattr(os, "fsync", lambda handle: None)

    def made() -> Iterator[Places]:
        for number in range(10_000):
            home = store.places(str(tmp_path / str(number)))
            put(home, "teal", TEXT + "# first\n")
            boat = store.save(home, open_boat(store.find(home, "teal")), TEXT)
            store.recover_note(home, boat, TEXT + "# work\n")
            yield home

    return made()


@pytest.mark.parametrize("call", CALLS)
@pytest.mark.parametrize("doing", DOINGS)
def test_a_share_that_goes_is_one_line(
    homes: Iterator[Places], monkeypatch: pytest.MonkeyPatch, doing: str, call: str
) -> None:
    for at in range(100):
        code = list(CODES)[at % len(CODES)]
        home = next(homes)
        boat, before = open_boat(store.find(home, "teal")), everything(home.profiles)
        gone = Gone(call, at, code)
        said = ""
        with monkeypatch.context() as patch:
            patch.setattr(os, call, gone)
            try:
                DOINGS[doing](home, boat)
            except CompanionError as error:
                said = str(error)
        assert said.isprintable()
        assert "Errno" not in said
        after = everything(home.profiles)
        assert TEXT.encode() in after.values() or doing == "rename"  # the saved text: in its file, or as a version
        for name, data in after.items():
            assert (
                name.endswith((".lock", ".part"))
                or data in before.values()
                or read(data.decode()).faults == ()
                or b"text = " in data
            )
        if gone.asked <= at:
            return
    raise AssertionError("it never ends")


def test_the_reason_is_told_in_words(homes: Iterator[Places], monkeypatch: pytest.MonkeyPatch) -> None:
    for code, words in CODES.items():
        home = next(homes)
        boat = open_boat(store.find(home, "teal"))
        with monkeypatch.context() as patch:
            patch.setattr(os, "open", Gone("open", 0, code))
            for doing in ("open", "save", "note"):
                with pytest.raises(store.KeepError, match=words):
                    DOINGS[doing](home, boat)
