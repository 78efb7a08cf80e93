"""Keeping boats: nothing of the user's is overwritten, lost, or put outside the folder."""

import os
import stat
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.errors import CompanionError, InputFault
from shopcompanion.profile.parse import LARGEST, read
from shopcompanion.storage import versions as kept
from shopcompanion.storage.places import own_path
from shopcompanion.storage.store import (
    Conflict,
    KeepError,
    Opened,
    Places,
    copy_boat,
    find,
    listings,
    new_boat,
    open_boat,
    places,
    rename_boat,
    restore,
    save,
    save_beside,
    slug,
    versions,
)

from .conftest import DEMOS, demo

TEXT = 'format = 1\n[boat]\nname = "Teal"\nunits = "in"\n'


def put(home: Places, name: str, text: str) -> Path:
    """A file of the user's own making."""
    home.profiles.mkdir(parents=True, exist_ok=True)
    path = home.profiles / f"{name}.toml"
    path.write_bytes(text.encode())
    return path


def opened(home: Places, name: str) -> Opened:
    return open_boat(find(home, name))


def everything(folder: Path) -> dict[str, bytes]:
    return {str(one.relative_to(folder)): one.read_bytes() for one in folder.rglob("*") if one.is_file()}


# --- places and lists -------------------------------------------------------------------------------------------------


def test_looking_makes_no_folder(home: Places) -> None:
    assert [(one.name, one.is_example) for one in listings(home)] == [(name, True) for name in sorted(DEMOS)]
    open_boat(find(home, "Fjord lugger"))
    assert versions(home, "teal") == ()
    assert not home.profiles.exists()


def test_the_folder_is_the_given_one_or_the_environments_or_the_platforms(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("SHOPCOMPANION_PROFILES", str(tmp_path / "env"))
    assert places(str(tmp_path / "given")).profiles == tmp_path / "given"
    assert places().profiles == tmp_path / "env"
    monkeypatch.delenv("SHOPCOMPANION_PROFILES")
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    found = places()
    assert found.profiles.is_relative_to(tmp_path)
    assert found.profiles.parts[-2:] == ("shopcompanion", "profiles")
    assert found.versions.parent == found.recovery.parent == found.profiles
    with pytest.raises(InputFault, match="cannot be the name of a folder"):
        places("a\0b")
    assert list(tmp_path.iterdir()) == []


def test_only_profiles_are_listed_and_peeking_reads_them(home: Places) -> None:
    put(home, "Zebra b", TEXT)
    put(home, "broken", "[boat")
    put(home, ".hidden", TEXT)
    (home.profiles / "notes.txt").write_text("no")
    (home.profiles / "folder.toml").mkdir()
    (home.profiles / "nowhere.toml").symlink_to(home.profiles / "gone.toml")
    own = [one.peek() for one in listings(home) if not one.is_example]
    assert [(one.name, one.title, one.faults) for one in own] == [("broken", "broken", 1), ("Zebra b", "Teal", 0)]
    assert all(one.saved for one in own)
    yawl = find(home, "saltmarsh-yawl.toml").peek()
    assert (yawl.title, len(yawl.spars), yawl.saved) == ("Saltmarsh yawl", 6, None)


def test_own_boats_come_before_examples_of_the_same_name(home: Places) -> None:
    path = put(home, "fjord-lugger", TEXT)
    assert find(home, "Fjord lugger").path == path
    assert sum(one.name == "fjord-lugger" for one in listings(home)) == 2


@pytest.mark.parametrize(
    "name", ["../fjord-lugger", "/etc/passwd", "..", "", ".", "\0", "a\nb", "x" * 5000, "fjord lugr"]
)
def test_a_name_that_no_boat_has_is_one_line(home: Places, name: str) -> None:
    with pytest.raises(InputFault, match="no boat is called") as missed:
        find(home, name)
    assert str(missed.value).isprintable()
    assert "fjord-lugger" in str(missed.value)


@given(st.text() | st.text(alphabet="./\\:\0 ~aCON1", max_size=12))
def test_a_name_never_becomes_a_path(name: str) -> None:
    home = places("/home/of/boats")
    word = slug(name)
    assert own_path(home, word).parent == home.profiles
    assert Path(word).name == word
    assert not word.startswith(".")
    assert len(word.encode()) <= 70
    assert word.upper() not in {
        "CON",
        "PRN",
        "AUX",
        "NUL",
        *(f"{port}{n}" for port in ("COM", "LPT") for n in range(10)),
    }
    assert slug(word) == word


# --- saving -----------------------------------------------------------------------------------------------------------


def test_a_save_keeps_what_it_replaces_and_saving_the_same_does_nothing(home: Places) -> None:
    put(home, "teal", TEXT)
    first = opened(home, "teal")
    second = save(home, first, TEXT + "# one\n")
    third = save(home, second, TEXT + "# two\n")
    assert save(home, third, TEXT + "# two\n").stamp == third.stamp
    assert third.listing.path.read_text() == third.text == TEXT + "# two\n"
    assert [one.path.read_text() for one in versions(home, "teal")] == [TEXT + "# one\n", TEXT]
    assert third.reading == read(third.text)


def test_bytes_stay_as_they_are(home: Places) -> None:
    text = "\ufeff" + TEXT.replace("\n", "\r\n") + "# \u00e9\r# odd\x0b\u2028\r\n"
    path = put(home, "teal", text)
    boat = opened(home, "teal")
    assert boat.text == text
    save(home, boat, text + "#")
    assert path.read_bytes() == (text + "#").encode()
    assert versions(home, "teal")[0].path.read_bytes() == text.encode()


def test_opening_a_faulty_profile_leaves_it_as_it_is(home: Places) -> None:
    path = put(home, "teal", "[boat\nname = ")
    before = path.stat()
    boat = opened(home, "teal")
    assert len(boat.reading.faults) == 1
    assert (path.read_text(), path.stat().st_mtime_ns, path.stat().st_ino) == (
        boat.text,
        before.st_mtime_ns,
        before.st_ino,
    )


def test_an_example_becomes_a_boat_of_ones_own(home: Places) -> None:
    example = open_boat(find(home, "fjord-lugger"))
    mine = save(home, example, example.text + "# mine\n")
    assert mine.listing.path == home.profiles / "fjord-lugger.toml"
    assert not mine.listing.is_example
    assert demo("fjord-lugger") == example.text
    other = save(home, example, example.text + "# other\n")
    assert other.listing.name == "fjord-lugger-2"
    assert mine.listing.path.read_text().endswith("# mine\n")


def test_what_another_program_wrote_is_never_overwritten(home: Places) -> None:
    path = put(home, "teal", TEXT)
    boat = opened(home, "teal")
    path.write_text(TEXT + "# theirs\n")
    with pytest.raises(Conflict, match="teal was changed on the disk since it was opened") as conflict:
        save(home, boat, TEXT + "# ours\n")
    assert path.read_text() == TEXT + "# theirs\n" == conflict.value.theirs
    assert conflict.value.ours == TEXT + "# ours\n"
    assert conflict.value.difference().splitlines()[-2:] == ["-# theirs", "+# ours"]
    assert versions(home, "teal") == ()

    beside = save_beside(home, boat, TEXT + "# ours\n")
    assert beside.listing.name == "teal-2"
    assert path.read_text() == TEXT + "# theirs\n"

    over = save(home, opened(home, "teal"), TEXT + "# ours\n")
    assert over.text == TEXT + "# ours\n"
    assert versions(home, "teal")[0].path.read_text() == TEXT + "# theirs\n"


def test_a_change_while_the_version_is_kept_is_seen(home: Places, monkeypatch: pytest.MonkeyPatch) -> None:
    path = put(home, "teal", TEXT)
    boat = opened(home, "teal")
    keep_version = kept.keep_version

    def slow(*args: object) -> None:
        keep_version(*args)  # type: ignore[arg-type]
        path.write_text(TEXT + "# theirs\n")

    monkeypatch.setattr("shopcompanion.storage.store.keep_version", slow)
    with pytest.raises(Conflict):
        save(home, boat, TEXT + "# ours\n")
    assert path.read_text() == TEXT + "# theirs\n"


def test_a_touched_file_with_the_same_text_is_no_conflict(home: Places) -> None:
    path = put(home, "teal", TEXT)
    boat = opened(home, "teal")
    other = path.with_name("other")
    other.write_text(TEXT)
    other.replace(path)
    assert save(home, boat, TEXT + "#").text == TEXT + "#"


def test_a_vanished_file_is_written_anew(home: Places) -> None:
    path = put(home, "teal", TEXT)
    boat = opened(home, "teal")
    path.unlink()
    assert save(home, boat, TEXT + "# ours\n").text == path.read_text() == TEXT + "# ours\n"
    path.unlink()
    home.profiles.rmdir()
    save(home, boat, TEXT)
    assert path.read_text() == TEXT


def test_mode_and_symbolic_link_stay(home: Places, tmp_path: Path) -> None:
    real = tmp_path / "elsewhere" / "real.toml"
    real.parent.mkdir()
    real.write_text(TEXT)
    real.chmod(0o640)
    link = put(home, "teal", "")
    link.unlink()
    link.symlink_to(real)
    save(home, opened(home, "teal"), TEXT + "#")
    assert link.is_symlink()
    assert real.read_text() == TEXT + "#"
    assert stat.S_IMODE(real.stat().st_mode) == 0o640
    assert [one.name for one in real.parent.iterdir()] == ["real.toml"]
    assert [one.path.read_text() for one in versions(home, "teal")] == [TEXT]


def test_a_new_file_has_the_mode_that_the_user_gives_files(home: Places) -> None:
    before = os.umask(0o027)
    try:
        mine = new_boat(home, "Teal")
    finally:
        os.umask(before)
    assert stat.S_IMODE(mine.listing.path.stat().st_mode) == 0o640


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (b"a\n\xff\xfe", r"not UTF-8 text \(line 2\)"),
        (b"\n\xff", r"not UTF-8 text \(line 2\)"),
        (b"#" * (LARGEST + 1), "larger than 20 MB"),
    ],
    ids=["bytes", "second line", "size"],
)
def test_what_cannot_be_opened_is_one_line(home: Places, data: bytes, reason: str) -> None:
    put(home, "teal", "").write_bytes(data)
    with pytest.raises(KeepError, match=reason):
        opened(home, "teal")
    assert find(home, "teal").peek().faults == 1


def test_a_file_that_is_no_file_is_one_line(home: Places) -> None:
    listing = find(home, "fjord-lugger")
    put(home, "teal", TEXT)
    boat = opened(home, "teal")
    boat.listing.path.unlink()
    with pytest.raises(KeepError, match=r"could not read .*: it is not there"):
        open_boat(boat.listing)
    os.mkfifo(boat.listing.path)
    with pytest.raises(KeepError, match="is not a plain file"):
        open_boat(boat.listing)
    with pytest.raises(KeepError, match="is not a plain file"):
        save(home, boat, TEXT + "#")
    assert not listing.path.is_fifo()


def test_a_folder_that_is_a_file_is_one_line(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("mine")
    for home in (places(str(tmp_path / "file")), places(str(tmp_path / "file" / "under"))):
        with pytest.raises(KeepError, match="a file, not a folder"):
            listings(home)
        with pytest.raises(CompanionError):
            new_boat(home, "Teal")
    assert (tmp_path / "file").read_text() == "mine"


def test_a_text_that_no_file_can_hold_is_refused(home: Places) -> None:
    put(home, "teal", TEXT)
    before = everything(home.profiles)
    for text, reason in ((TEXT + "# \ud800", "line 5"), (TEXT + "#" * LARGEST, "larger than 20 MB")):
        with pytest.raises(InputFault, match=reason):
            save(home, opened(home, "teal"), text)
    assert everything(home.profiles) == before


def test_a_text_as_large_as_may_be_is_saved(home: Places, monkeypatch: pytest.MonkeyPatch) -> None:
    put(home, "teal", TEXT)
    text = TEXT + "# as large as may be: é\n"
    monkeypatch.setattr("shopcompanion.storage.store.LARGEST", len(text) + 1)  # bytes, of which é has two
    saved = save(home, opened(home, "teal"), text)
    assert saved.text == text
    with pytest.raises(InputFault, match="too large for a profile"):
        save(home, saved, text + "#")


# --- versions ---------------------------------------------------------------------------------------------------------


def test_restoring_is_a_save_itself(home: Places) -> None:
    put(home, "teal", TEXT)
    boat = opened(home, "teal")
    for k in range(3):
        boat = save(home, boat, TEXT + f"# {k}\n")
    oldest = versions(home, "teal")[-1]
    back = restore(home, "teal", oldest)
    assert back.text == back.listing.path.read_text() == TEXT
    assert [one.path.read_text()[len(TEXT) :] for one in versions(home, "teal")] == ["# 2\n", "# 1\n", "# 0\n", ""]
    back.listing.path.unlink()
    assert restore(home, "teal", versions(home, "teal")[0]).text == TEXT + "# 2\n"


def test_a_version_of_another_boat_or_place_is_refused(home: Places, tmp_path: Path) -> None:
    put(home, "teal", TEXT)
    put(home, "grebe", TEXT)
    save(home, opened(home, "grebe"), TEXT + "#")
    (of_grebe,) = versions(home, "grebe")
    for name, version in (("teal", of_grebe), ("grebe", of_grebe._replace(path=tmp_path / "x.toml"))):
        with pytest.raises(InputFault, match="not a version of"):
            restore(home, name, version)


def test_versions_carry_the_time_they_were_saved_and_the_newest_are_kept(home: Places) -> None:
    path = put(home, "teal", TEXT)
    os.utime(path, (1_000_000_000, 1_000_000_000))
    boat = save(home, opened(home, "teal"), TEXT + "# 0\n")
    assert versions(home, "teal")[0].when.timestamp() == 1_000_000_000
    assert versions(home, "teal")[0].size == len(TEXT)
    for k in range(1, kept.MOST + 3):
        boat = save(home, boat, TEXT + f"# {k}\n")
    found = versions(home, "teal")
    assert len(found) == kept.MOST
    assert found[0].path.read_text() == TEXT + f"# {kept.MOST + 1}\n"
    (home.versions / "teal" / "notes.toml").write_text("not ours")
    assert len(versions(home, "teal")) == kept.MOST


@pytest.mark.parametrize("name", ["../grebe", "/etc", "..", "", ".hidden", "a\0b"])
def test_versions_are_looked_for_only_in_their_folder(home: Places, name: str) -> None:
    assert versions(home, name) == ()


# --- new, copied, renamed ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("units", ["in", "mm"])
def test_a_new_boat_has_no_fault(home: Places, units: str) -> None:
    mine = new_boat(home, " Teal II ", units)
    assert mine.listing.path == home.profiles / "teal-ii.toml"
    assert mine.reading.faults == ()
    assert (mine.reading.boat.name, mine.reading.boat.units) == ("Teal II", units)


def test_a_new_boat_takes_no_others_place(home: Places) -> None:
    assert [new_boat(home, name).listing.name for name in ("Teal", "TEAL", "teal!")] == ["teal", "teal-2", "teal-3"]


def test_a_boat_like_another_has_all_of_it_but_the_name(home: Places) -> None:
    mine = copy_boat(home, "saltmarsh yawl", "Teal")
    assert mine.reading.boat.name == "Teal"
    assert mine.text == demo("saltmarsh-yawl").replace('name = "Saltmarsh yawl"', 'name = "Teal"')


def test_a_boat_is_renamed_with_its_versions(home: Places) -> None:
    put(home, "teal", TEXT)
    save(home, opened(home, "teal"), TEXT + "# one\n")
    grebe = rename_boat(home, "teal", "Great Grebe")
    assert grebe.listing.path.read_text() == TEXT.replace("Teal", "Great Grebe") + "# one\n"
    assert [one.path.read_text() for one in versions(home, "great-grebe")] == [TEXT + "# one\n", TEXT]
    assert [one.name for one in listings(home) if not one.is_example] == ["great-grebe"]
    again = rename_boat(home, "great-grebe", "GREAT grebe")
    assert again.listing == find(home, "great-grebe")
    assert save(home, again, again.text + "#").text == again.text + "#"


@pytest.mark.parametrize("name", ["", " ", "a\nb", "x" * 200, "\x1b[2J"])
def test_a_name_that_will_not_do_is_refused_and_nothing_is_made(home: Places, name: str) -> None:
    put(home, "teal", TEXT)
    before = everything(home.profiles)
    for make in (
        new_boat,
        lambda home, name: copy_boat(home, "teal", name),
        lambda home, name: rename_boat(home, "teal", name),
    ):
        with pytest.raises(InputFault, match="name: "):
            make(home, name)
    with pytest.raises(InputFault, match="units: 'ft' is none of"):
        new_boat(home, "Grebe", "ft")
    with pytest.raises(InputFault, match="an example keeps its name"):
        rename_boat(home, "fjord-lugger", "Grebe")
    assert everything(home.profiles) == before
