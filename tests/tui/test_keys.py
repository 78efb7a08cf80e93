"""The keys: one declaration for the bindings, the bar, the finder and the help; a keymap of one's own is checked."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.tui.app import Companion
from shopcompanion.tui.help import help_text
from shopcompanion.tui.keys import ACTIONS, keymap, show_key

from .conftest import NORMAL, SMALL, WIDE, Opener

OURS = {action.name: action.keys for action in ACTIONS}


def test_every_action_is_an_action_of_the_app_and_the_other_way_round() -> None:
    named = {action.name.partition("(")[0] for action in ACTIONS}
    there = {name.removeprefix("action_") for name in vars(Companion) if name.startswith("action_")}
    for base in Companion.__mro__:
        if base.__module__.startswith("shopcompanion"):
            there |= {name.removeprefix("action_") for name in vars(base) if name.startswith("action_")}
    assert named == there


def test_no_action_needs_alt_or_a_function_key_alone() -> None:
    for action in ACTIONS:
        keys = [key for key in action.keys.split(",") if key]
        assert not any("alt" in key or "meta" in key for key in keys)
        assert not keys or not all(re.fullmatch(r"f\d+", key) for key in keys), action.name


def test_no_key_is_one_that_a_terminal_sends_as_another_or_that_edits_a_field() -> None:
    held = {key for action in ACTIONS for key in action.keys.split(",")}
    assert not held & {"ctrl+h", "ctrl+j", "ctrl+m", "ctrl+i", *(f"ctrl+{letter}" for letter in "aeuwxcv")}
    assert not held & {"up", "down", "left", "right", "home", "end", "enter", "tab", "backspace", "delete"}


def test_no_key_has_two_meanings() -> None:
    held = [key for action in ACTIONS for key in action.keys.split(",") if key]
    assert len(held) == len(set(held))


def test_what_has_no_key_is_in_the_finder() -> None:
    assert all(action.in_finder for action in ACTIONS if not action.keys)


def test_our_own_keys_pass_our_own_check() -> None:
    assert keymap({}) == (OURS, [])
    assert keymap({name: keys for name, keys in OURS.items() if keys}) == (OURS, [])


def test_a_key_of_ones_own() -> None:
    keys, wrong = keymap({"save": "f2,f2", "boats": "ctrl+b , f3"})
    assert not wrong
    assert (keys["save"], keys["boats"]) == ("f2", "ctrl+b,f3")
    assert {name: held for name, held in keys.items() if name not in ("save", "boats")} == {
        name: held for name, held in OURS.items() if name not in ("save", "boats")
    }


def test_an_action_may_take_a_key_that_another_one_gave_up() -> None:
    keys, wrong = keymap({"rule": "f11", "redo": "ctrl+r"})
    assert not wrong
    assert (keys["rule"], keys["redo"]) == ("f11", "ctrl+r")


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
        ({"save": "s"}, "keys.save: 's' is no key to bind, try ctrl+f, f2 or pageup"),
        ({"save": "7"}, "keys.save: '7' is no key to bind, try ctrl+f, f2 or pageup"),
        ({"save": "alt+s"}, "keys.save: 'alt+s' is no key to bind, try ctrl+f, f2 or pageup"),
        ({"save": "ctrl+shift+s"}, "keys.save: 'ctrl+shift+s' is no key to bind, try ctrl+f, f2 or pageup"),
        ({"save": "f13"}, "keys.save: 'f13' is no key to bind, try ctrl+f, f2 or pageup"),
        ({"save": "shift+s"}, "keys.save: 'shift+s' is no key to bind, try ctrl+f, f2 or pageup"),
        ({"save": "wrong_key"}, "keys.save: 'wrong_key' is no key to bind, try ctrl+f, f2 or pageup"),
        ({"save": ""}, "keys.save: '' is no key to bind, try ctrl+f, f2 or pageup"),
        ({"save": 7}, "keys.save: '' is no key to bind, try ctrl+f, f2 or pageup"),
        ({"save": "ctrl+f"}, "keys.save: 'ctrl+f' is the key of find already"),
        ({"save": "f2", "undo": "f2"}, "keys.undo: 'f2' is the key of save already"),
        ({"save": "f1"}, "keys.save: 'f1' is the key of help already"),
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
    held = [key for asked in keys.values() for key in asked.split(",") if key]
    assert len(held) == len(set(held))
    assert all(str(fault).isprintable() for fault in wrong)
    assert set(keys) == set(OURS)


def test_keys_as_they_stand_on_the_bar() -> None:
    assert [show_key(key) for key in ("ctrl+f", "pageup", "f10", "less_than_sign", "escape")] == [
        "^F",
        "PgUp",
        "F10",
        "<",
        "Esc",
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
            if action.short:
                beside = () if size == SMALL else action.beside
                shown = " ".join(show_key(OURS[one].split(",")[0]) for one in (*beside, action.name))
                assert f"{shown} {action.short}" in bar


def test_the_names_that_actions_stand_beside_are_actions() -> None:
    assert all(name in OURS for action in ACTIONS for name in action.beside)
