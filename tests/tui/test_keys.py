"""The keys: one declaration for the bindings, the bar, the finder and the help; a keymap of one's own is checked."""

import re
from collections.abc import Mapping

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.tui.bench import Bench
from shopcompanion.tui.boats import Boats
from shopcompanion.tui.changes import Changes
from shopcompanion.tui.finder import Finder
from shopcompanion.tui.fitting import FittingActions
from shopcompanion.tui.full_screens import FullScreens
from shopcompanion.tui.glance import Glance
from shopcompanion.tui.help import help_text
from shopcompanion.tui.job import Job
from shopcompanion.tui.keys import ACTIONS, PLACES, keymap, show_key
from shopcompanion.tui.planning import Planning
from shopcompanion.tui.presets import Presets
from shopcompanion.tui.printing import Printing
from shopcompanion.tui.reader import TextScreen
from shopcompanion.tui.saving import Saving
from shopcompanion.tui.sheet import Sheet
from shopcompanion.tui.spars import Spars
from shopcompanion.tui.stock import StockPage
from shopcompanion.tui.tally import Tally

from .conftest import NORMAL, SMALL, WIDE, Opener

OURS = {action.name: action.keys for action in ACTIONS}


SCREENS = {"sheet": (Sheet,), "glance": (Glance,), "job": (Job,), "timber": (StockPage,), "page": (TextScreen,)}


OWNERS = {
    "": Bench, "boats": Boats, "changes": Changes, "finder": Finder, "fitting": FittingActions,
    "full_screens": FullScreens,
    "planning": Planning, "presets": Presets, "printing": Printing, "saving": Saving, "spars": Spars,
    "tally": Tally,
}  # fmt: skip


def does(of: type) -> set[str]:
    """What an object of the app or a screen says that it does."""
    return {name.removeprefix("do_") for name in dir(of) if name.startswith("do_")}


def test_every_action_is_done_by_its_object_or_by_each_of_its_screens_and_the_other_way_round() -> None:
    done: dict[str, set[str]] = {}
    for action in ACTIONS:
        name = action.name.partition("(")[0]
        for place in action.where:
            by_the_screen = place != "bench" and all(name in does(screen) for screen in SCREENS[place])
            assert by_the_screen or name in does(OWNERS[action.of]), name
        done.setdefault(action.of, set()).add(name)
    for owner, of in OWNERS.items():
        assert does(of) == done[owner] & does(of), owner
    screens = {screen for several in SCREENS.values() for screen in several}
    assert set().union(*map(does, screens)) <= set().union(*done.values())


async def test_the_app_has_every_object_that_does_something(desk: Opener) -> None:
    async with desk() as it:
        for action in ACTIONS:
            assert type(getattr(it.app, action.of or "bench")) is OWNERS[action.of]


def test_no_action_needs_alt_or_a_function_key_alone() -> None:
    for action in ACTIONS:
        keys = [key for key in action.keys.split(",") if key]
        assert not any("alt" in key or "meta" in key for key in keys)
        assert not keys or not all(re.fullmatch(r"f\d+", key) for key in keys), action.name


def test_no_key_is_one_that_a_terminal_sends_as_another_or_that_edits_a_field() -> None:
    held = {key for action in ACTIONS for key in action.keys.split(",")}
    assert not held & {"ctrl+h", "ctrl+j", "ctrl+m", "ctrl+i", "up", "down", "left", "right", "home", "tab"}
    at_the_bench = {key for action in ACTIONS if "bench" in action.where for key in action.keys.split(",")}
    assert not at_the_bench & {*(f"ctrl+{letter}" for letter in "aeuwxcv"), "enter", "space", "backspace", "delete"}


def assert_one_meaning(keys: Mapping[str, str]) -> None:
    for place in PLACES:
        held = [key for action in ACTIONS if place in action.where for key in keys[action.name].split(",") if key]
        assert len(held) == len(set(held)), place


def test_no_key_has_two_meanings_on_a_screen() -> None:
    assert_one_meaning(OURS)


def test_what_has_no_key_is_in_the_finder() -> None:
    assert all(action.in_finder for action in ACTIONS if not action.keys)


def test_our_own_keys_pass_our_own_check() -> None:
    assert keymap({}) == (OURS, [])
    assert keymap({name: keys for name, keys in OURS.items() if keys}) == (OURS, [])


def test_a_key_of_ones_own() -> None:
    keys, wrong = keymap({"save": "f2,f2", "boats": "ctrl+o , f12"})
    assert not wrong
    assert (keys["save"], keys["boats"]) == ("f2", "ctrl+o,f12")
    assert {name: held for name, held in keys.items() if name not in ("save", "boats")} == {
        name: held for name, held in OURS.items() if name not in ("save", "boats")
    }


def test_an_action_may_take_a_key_that_another_one_gave_up() -> None:
    keys, wrong = keymap({"rule": "f12", "redo": "ctrl+r"})
    assert not wrong
    assert (keys["rule"], keys["redo"]) == ("f12", "ctrl+r")


def test_a_letter_is_a_key_only_where_nothing_is_written() -> None:
    keys, wrong = keymap({"card": "v", "tick": "f2,space", "new_row": "ctrl+b"})
    assert (keys["card"], keys["tick"]) == ("v", "f2,space")
    assert [str(fault) for fault in wrong] == ["keys.new_row: 'ctrl+b' is already the key of shop"]
    _, wrong = keymap({"new_row": "n", "card": "w", "find": "f"})
    assert [str(fault) for fault in wrong] == [
        "keys.new_row: 'n' cannot be used as a key; try ctrl+f, f2 or pageup",
        "keys.card: 'w' is already the key of write",
        "keys.find: 'f' cannot be used as a key; try ctrl+f, f2 or pageup",
    ]


@pytest.mark.parametrize(
    ("wanted", "said"),
    [
        ({"sav": "f2"}, "keys.sav: no such action (did you mean 'save'?)"),
        ({"\x1b[31m": "f2"}, "keys.\ufffd[31m: no such action"),
        ({"save": "ctrl+h"}, "keys.save: 'ctrl+h' reaches the program as another key"),
        ({"save": "ctrl+j"}, "keys.save: 'ctrl+j' reaches the program as another key"),
        ({"save": "ctrl+m"}, "keys.save: 'ctrl+m' reaches the program as another key"),
        ({"save": "ctrl+i"}, "keys.save: 'ctrl+i' reaches the program as another key"),
        ({"save": "ctrl+a"}, "keys.save: 'ctrl+a' is for editing in a field"),
        ({"save": "ctrl+v"}, "keys.save: 'ctrl+v' is for editing in a field"),
        ({"save": "down"}, "keys.save: 'down' is for moving in a field"),
        ({"save": "home"}, "keys.save: 'home' is for moving in a field"),
        ({"save": "s"}, "keys.save: 's' cannot be used as a key; try ctrl+f, f2 or pageup"),
        ({"save": "7"}, "keys.save: '7' cannot be used as a key; try ctrl+f, f2 or pageup"),
        ({"save": "alt+s"}, "keys.save: 'alt+s' cannot be used as a key; try ctrl+f, f2 or pageup"),
        ({"save": "ctrl+shift+s"}, "keys.save: 'ctrl+shift+s' cannot be used as a key; try ctrl+f, f2 or pageup"),
        ({"save": "f13"}, "keys.save: 'f13' cannot be used as a key; try ctrl+f, f2 or pageup"),
        ({"save": "shift+s"}, "keys.save: 'shift+s' cannot be used as a key; try ctrl+f, f2 or pageup"),
        ({"save": "wrong_key"}, "keys.save: 'wrong_key' cannot be used as a key; try ctrl+f, f2 or pageup"),
        ({"save": ""}, "keys.save: '' cannot be used as a key; try ctrl+f, f2 or pageup"),
        ({"save": 7}, "keys.save: '' cannot be used as a key; try ctrl+f, f2 or pageup"),
        ({"save": "ctrl+f"}, "keys.save: 'ctrl+f' is already the key of find"),
        ({"save": "f2", "undo": "f2"}, "keys.undo: 'f2' is already the key of save"),
        ({"save": "f1"}, "keys.save: 'f1' is already the key of help"),
    ],
)
def test_a_key_that_cannot_be_is_told_and_left_out(wanted: dict[str, object], said: str) -> None:
    keys, wrong = keymap(wanted)
    assert [str(fault) for fault in wrong] == [said]
    left = {name: held for name, held in keys.items() if name != "save" or "undo" not in wanted}
    assert left == {name: held for name, held in OURS.items() if name in left}


@given(st.dictionaries(st.sampled_from([*OURS, "nothing"]), st.text(max_size=8) | st.sampled_from(list(OURS.values()))))
def test_whatever_is_asked_for_no_key_comes_to_have_two_meanings(wanted: dict[str, str]) -> None:
    keys, wrong = keymap(wanted)
    assert_one_meaning(keys)
    assert all(str(fault).isprintable() for fault in wrong)
    assert set(keys) == set(OURS)


def test_keys_as_they_stand_on_the_bar() -> None:
    assert [show_key(key) for key in ("ctrl+f", "pageup", "f10", "less_than_sign", "escape")] == [
        "^F",
        "PgUp",
        "F10",
        "<",
        "esc",
    ]


def test_help_has_every_key_in_force_with_what_it_does() -> None:
    keys, _ = keymap({"save": "f2"})
    lines = str(help_text(keys)).splitlines()
    for action in ACTIONS:
        shown = "  ".join(show_key(key) for key in keys[action.name].split(",") if key)
        if shown:
            assert [line for line in lines if line.startswith(f"{shown} ") and line.endswith(action.says)], action.name
    assert not any("^S" in line for line in lines)


@pytest.mark.parametrize("size", [NORMAL, WIDE, SMALL])
async def test_the_bar_shows_every_action_that_has_a_short_name(desk: Opener, size: tuple[int, int]) -> None:
    async with desk(size=size) as it:
        await it.find("lap")  # one with a fitting
        bar = " ".join(it.lines[-4:])
        for action in ACTIONS:
            if action.short and "bench" in action.where and (action.on_narrow or size != SMALL):
                beside = () if size == SMALL else action.beside
                shown = " ".join(show_key(OURS[key].split(",")[0]) for key in (*beside, action.name))
                assert f"{shown} {action.short}" in bar


def test_the_names_that_actions_stand_beside_are_actions() -> None:
    assert all(name in OURS for action in ACTIONS for name in action.beside)
