"""The list of boats, faulty boats, strange names, and leaving, by the keys."""

import errno
import os
import tomllib

import pytest

from shopcompanion.storage.store import Places, find, listings, new_boat, newest_first, open_boat, recovery, save

from .conftest import (
    NORMAL,
    SMALL,
    THEIRS,
    WIDE,
    YAWL,
    Opener,
    example,
    failing,
    keep_preset,
    own_copy,
    preset_names,
)

# --- boats --------------------------------------------------------------------------------------------------------


async def test_a_new_boat_is_made_and_opened(desk: Opener, home: Places) -> None:
    async with desk() as it:
        await it.press("ctrl+o", "ctrl+n", *"Dabchick", "enter", "enter", "enter")
        assert "Dabchick" in it.lines[0]
        assert it.session.boat.spars == ()
    assert tomllib.loads((home.profiles / "dabchick.toml").read_text(encoding="utf-8"))["boat"]["name"] == "Dabchick"


async def test_a_boat_is_copied_with_all_that_is_in_it(desk: Opener, home: Places) -> None:
    async with desk() as it:
        await it.press("ctrl+o", *"fjord", "ctrl+t", *"Kittiwake", "enter")
        assert "Kittiwake" in it.lines[0]
        assert [spar.name for spar in it.session.boat.spars] == ["mast", "yard", "boom", "mizzen mast"]
        assert it.session.rule.unit == "mm"
    assert (home.profiles / "kittiwake.toml").exists()


async def test_a_boat_is_renamed_and_an_example_is_not(desk: Opener, home: Places) -> None:
    own_copy(home)
    async with desk() as it:
        await it.press("ctrl+o", *"fjord", "ctrl+r")
        assert it.told == ["an example keeps its name; copy it under a name of your own"]
        await it.press("ctrl+o", "ctrl+r", "ctrl+u", *"Redshank", "enter")
        assert it.told[-1] == "saltmarsh-yawl is now called redshank"
        assert "Redshank" in it.lines[0]
        await it.press("ctrl+s")
    assert sorted(path.name for path in home.profiles.glob("*.toml")) == ["redshank.toml"]


async def test_a_name_that_will_not_do_is_refused_where_it_is_typed(desk: Opener, home: Places) -> None:
    async with desk() as it:
        await it.press("ctrl+o", "ctrl+n", "enter")
        assert "✗" in it.text
        assert "empty" in it.text
        await it.write("../../escaped", "enter")
    for path in home.profiles.rglob("*.toml"):
        assert path.parent == home.profiles
    assert not (home.profiles.parent.parent / "escaped.toml").exists()


async def test_another_boat_is_opened_after_asking_about_unsaved_work(desk: Opener, home: Places) -> None:
    own_copy(home)
    async with desk() as it:
        await keep_preset(it)
        await it.press("ctrl+o", *"fjord", "enter")
        assert "Saltmarsh yawl is not saved" in it.text
        await it.press("enter")
        assert "Fjord lugger" in it.lines[0]
        assert it.session.calculator == "facets"
        assert it.values() == {}
    assert preset_names(home.profiles / f"{YAWL}.toml")[-1] == "three"


async def test_boats_are_listed_newest_first_and_the_examples_after_them(desk: Opener, home: Places) -> None:
    for number in range(40):
        path = own_copy(home, f"boat-{number:02}", f'format = 1\n[boat]\nname = "Boat {number}"\nunits = "in"\n')
        os.utime(path, (1_700_000_000 + number * 100_000,) * 2)
    assert [listing.name for listing in newest_first(listings(home))][-2:] == [YAWL, "fjord-lugger"]
    async with desk(find(home, "boat-07")) as it:
        await it.press("ctrl+o")
        rows = [line for line in it.lines if "boat-" in line]
        assert [line.split("boat-")[1][:2] for line in rows] == [f"{39 - at}" for at in range(len(rows))]
        assert f"↓ {43 - len(rows)} more" in it.text
        await it.press(*["down"] * 60)
        assert "▸ fjord-lugger" in it.text
        assert "example: Fjord lugger, 4 spars" in it.text
        await it.press("up", "enter")
        assert "Saltmarsh yawl" in it.lines[0]


async def test_a_folder_without_boats_offers_the_examples(desk: Opener, home: Places) -> None:
    home.profiles.mkdir(parents=True)
    async with desk(newest_first(listings(home))[0]) as it:
        assert "Saltmarsh yawl" in it.lines[0]
        await it.press("ctrl+o")
        assert [line.split("example: ")[1].split(",")[0] for line in it.lines if "example: " in line] == [
            "Saltmarsh yawl",
            "Fjord lugger",
        ]
    assert os.listdir(home.profiles) == []


# --- faulty boats and strange names -------------------------------------------------------------------------------


async def test_a_boat_that_is_not_whole_says_so_on_top_and_beside_the_answers(desk: Opener, home: Places) -> None:
    """At 80 columns there is no room for words on top, and yet the sign is there."""
    text = (home.examples / f"{YAWL}.toml").read_text(encoding="utf-8")
    own_copy(home, "leaky", text.replace('kind = "cleat", name = "snotter', 'kind = "kleat", name = "snotter'))
    async with desk("leaky") as it:
        assert "mizzen mast  ✗" in it.lines[0]
        assert "Left out" not in it.text  # facets do not depend on a fitting
        await it.find("weight")
        assert "Left out for a fault in the boat's file: mizzen mast, kleat at 2 ft 9 in" in " ".join(it.text.split())


async def test_a_faulty_boat_opens_with_what_is_sound_and_lists_its_faults(desk: Opener, home: Places) -> None:
    text = (home.examples / f"{YAWL}.toml").read_text(encoding="utf-8")
    broken = text.replace('length = "11 ft 9 in"', 'length = "eleven"').replace("drums = [", "drumms = [")
    path = own_copy(home, "leaky", broken)
    async with desk("leaky", size=WIDE) as it:
        count = len(it.session.faults)
        assert count >= 3
        assert it.told == [f"{count} faults in this boat's file; the rest can be used"]
        assert f"✗ {count} faults in the file" in it.lines[0]
        assert it.part("#page").startswith("FACET AT 8 SIDES")
        await it.press("ctrl+l")
        assert "boom " not in it.text
        assert "mizzen mast" in it.text
        await it.press("escape")
        await it.find("faults")
        assert "spar 3 'boom', length: »eleven«" in it.text
        assert "drumms" in it.text
        await it.press("escape", "ctrl+s", "ctrl+q")
        assert not it.app.is_running
    assert path.read_text(encoding="utf-8") == broken


@pytest.mark.parametrize("text", ["", "[[[", "format = 99\n", '\ufeffboat = "x"\n[[spar]]\n'])
async def test_whatever_the_file_holds_the_app_opens(desk: Opener, home: Places, text: str) -> None:
    path = own_copy(home, "odd", text)
    async with desk("odd", spar=None) as it:
        assert it.app.is_running
        assert it.session.faults
        await it.find("faults")
        assert "What is wrong in this boat's file" in it.text
        await it.press("escape", *"3-1/2")
        assert "✗" not in it.part("#notes")
        await it.press("ctrl+p", "enter", *"x", "enter", "ctrl+q")
    assert path.read_bytes() == text.encode()


STRANGE = """format = 1
[boat]
name = "[b]x[/b]"
units = "in"
[[spar]]
name = "[red]mast[/] $accent"
kind = "mast"
length = "10 ft"
section = "round"
stations = [{ at = "0", width = "3 in" }, { at = "10 ft", width = "2 in" }]
fittings = [{ at = "5 ft", kind = "eye", name = "[@click=app.quit]eye[/]" }]
[[spar]]
name = "\\u001b[31mred"
kind = "mast"
length = "10 ft"
section = "round"
stations = [{ at = "0", width = "3 in" }, { at = "10 ft", width = "2 in" }]
[[preset]]
calculator = "facets"
name = "[link=x]p[/link]"
inputs = { width = "3 in" }
"""


@pytest.mark.parametrize("size", [NORMAL, SMALL])
async def test_names_are_shown_as_they_are_and_never_acted_on(
    desk: Opener, home: Places, size: tuple[int, int]
) -> None:
    own_copy(home, "strange", STRANGE)
    async with desk("strange", spar=None, size=size, corner=True) as it:
        assert "[red]mast[/] $accent" in it.lines[0]
        assert [spar.name for spar in it.session.boat.spars] == ["[red]mast[/] $accent"]
        if size != SMALL:
            assert "[b]x[/b] › [red]mast[/] $accent" in it.lines[0]
            assert "[@click=app.quit]eye[/]" in it.lines[1]
        seen = [it.text]
        for key in ("ctrl+l", "ctrl+o", "ctrl+p", "ctrl+f"):
            await it.press(key)
            seen.append(it.text)
            await it.press("escape")
        assert "Spars of [b]x[/b]" in seen[1]
        assert "[b]x[/b], 1 spar" in seen[2]
        assert "[link=x]p[/link]" in seen[3]
        assert "[red]mast[/] $accent" in seen[4]
        await it.find("faults")
        assert "\ufffd[31mred" in it.text
        await it.press("escape", "ctrl+p", "ctrl+x")
        assert it.told[-1] == "preset '[link=x]p[/link]' dropped; ^Z brings it back"
        assert "[link=x]p[/link]" in " ".join(it.text.split())
        assert not any("\x1b" in text for text in [*seen, it.text])


# --- leaving ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("key", ["ctrl+q", "f10"])
async def test_leaving_asks_once_when_something_is_unsaved_and_not_otherwise(desk: Opener, key: str) -> None:
    async with desk() as it:
        await it.press(*"3", key)
        assert not it.app.is_running
    async with desk() as it:
        await keep_preset(it)
        await it.press(key)
        assert it.app.is_running
        assert "Saltmarsh yawl is not saved" in it.text
        await it.press("escape", key, *"stay", "enter")
        assert it.app.is_running
        assert it.session.unsaved
        await it.press(key)
        assert "save and quit" in it.text
        await it.press(*"quit without", "enter")
        assert not it.app.is_running
        assert it.app.return_code == 0


async def test_leaving_without_saving_gives_the_changes_up(desk: Opener, home: Places) -> None:
    async with desk() as it:
        await keep_preset(it)
        await it.press("ctrl+q", "down", "enter")
        assert not it.app.is_running
    assert not (home.profiles / f"{YAWL}.toml").exists()
    assert recovery(home, example(home)) is None


async def test_nobody_is_kept_from_leaving_by_a_copy_that_cannot_be_removed(
    desk: Opener, home: Places, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with desk() as it:
        await keep_preset(it)
        with monkeypatch.context() as disk:
            disk.setattr(os, "unlink", failing("unlink", errno.EROFS))
            await it.press("ctrl+q", "down", "enter")
        assert not it.app.is_running
    assert recovery(home, example(home)) is not None


async def test_leaving_by_saving_leaves_a_saved_file(desk: Opener, home: Places) -> None:
    async with desk() as it:
        await keep_preset(it)
        await it.press("ctrl+q", "enter")
        assert not it.app.is_running
    assert preset_names(home.profiles / f"{YAWL}.toml")[-1] == "three"


async def test_leaving_stays_when_saving_fails(desk: Opener, home: Places, monkeypatch: pytest.MonkeyPatch) -> None:
    own_copy(home)
    async with desk() as it:
        await keep_preset(it)
        with monkeypatch.context() as disk:
            disk.setattr(os, "fsync", failing("fsync", errno.ENOSPC))
            await it.press("ctrl+q", "enter")
        assert it.app.is_running
        assert it.told[-1].endswith("the disk is full")
        assert it.session.unsaved


async def test_an_own_boat_saved_elsewhere_is_opened_as_it_is_now(desk: Opener, home: Places) -> None:
    opened = new_boat(home, "Dabchick", "in")
    save(home, opened, open_boat(opened.listing).text + THEIRS)
    async with desk("dabchick") as it:
        await it.find("taper")
        await it.press("ctrl+p")
        assert "theirs" in it.text
