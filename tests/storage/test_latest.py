"""The boat that was saved last."""

import os

import pytest

from shopcompanion.storage.store import KeepError, latest, listings, new_boat, places


def test_the_boat_saved_last_is_the_latest(tmp_path):
    home = places(str(tmp_path / "boats"))
    assert latest(home) is None
    for name, at in (("Dabchick", 2000), ("Avocet", 3000), ("Whimbrel", 1000)):
        os.utime(new_boat(home, name).listing.path, (at, at))
    (home.profiles / "later.toml~").write_text("", encoding="utf-8")
    (home.profiles / "folder.toml").mkdir()
    found = latest(home)
    assert found is not None
    assert found in listings(home)
    assert found.name == "avocet"


def test_a_folder_that_is_none_is_told(tmp_path):
    (tmp_path / "boats").write_text("", encoding="utf-8")
    with pytest.raises(KeepError):
        latest(places(str(tmp_path / "boats")))
