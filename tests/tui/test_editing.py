"""A line of text under a cursor: what keys do to it, and what of it is seen in few columns."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.tui.editing import LONGEST, Edit, one_line
from shopcompanion.tui.paint import size_of, words_of

KEYS = (
    "left", "right", "home", "end", "ctrl+a", "ctrl+e", "shift+left", "shift+right", "shift+home", "shift+end",
    "ctrl+left", "ctrl+right", "ctrl+shift+left", "ctrl+shift+right", "backspace", "delete", "ctrl+w", "ctrl+u",
    "ctrl+c", "ctrl+x", "ctrl+v",
)  # fmt: skip


def after(text: str, *keys: str, clip: str = "") -> Edit:
    edit = Edit()
    edit.set(text)
    for key in keys:
        if len(key) == 1:
            edit.put(key)
        else:
            assert edit.press(key, clip)
    return edit


@pytest.mark.parametrize(
    ("keys", "text", "at"),
    [
        (("left", "left", "4"), "12 ft 6 4in", 9),
        (("backspace",), "12 ft 6 i", 9),
        (("home", "delete"), "2 ft 6 in", 0),
        (("ctrl+w",), "12 ft 6 ", 8),
        (("ctrl+w", "ctrl+w"), "12 ft ", 6),
        (("ctrl+left", "ctrl+left", "ctrl+left", "x"), "12 xft 6 in", 4),
        (("left", "ctrl+u"), "n", 0),
        (("shift+home", "3"), "3", 1),
        (("home", "shift+right", "shift+right", "3"), "3 ft 6 in", 1),
        (("shift+left", "shift+left", "left"), "12 ft 6 in", 8),
        (("ctrl+a", "shift+end", "delete"), "", 0),
        (("home", "ctrl+right", "x"), "12 xft 6 in", 4),
    ],
)
def test_what_keys_do(keys: tuple[str, ...], text: str, at: int) -> None:
    edit = after("12 ft 6 in", *keys)
    assert (edit.text, edit.at) == (text, at)


def test_copy_cut_and_paste() -> None:
    edit = after("3-1/2", "shift+left", "shift+left", "shift+left", "ctrl+c")
    assert (edit.copied, edit.text) == ("1/2", "3-1/2")
    edit = after("3-1/2", "shift+left", "shift+left", "shift+left", "ctrl+x")
    assert (edit.copied, edit.text) == ("1/2", "3-")
    assert after("3-1/2", "shift+left", "ctrl+v", clip="4\n5").text == "3-1/4"
    assert after("3", "ctrl+c").copied is None


def test_a_key_that_edits_nothing_is_not_taken() -> None:
    for key in ("f1", "ctrl+s", "up", "tab", "escape", "enter"):
        assert not Edit("3", 1, 1).press(key)


def test_no_text_grows_beyond_its_limit() -> None:
    edit = after("")
    edit.put("9" * 3000)
    assert len(edit.text) == LONGEST
    edit.put("1")
    assert edit.text == "9" * LONGEST


@given(
    st.text(max_size=30), st.lists(st.sampled_from(KEYS) | st.characters(categories=["L", "N", "P", "Zs"]), max_size=25)
)
def test_whatever_is_pressed_the_cursor_stays_in_the_text(text: str, keys: list[str]) -> None:
    edit = Edit()
    edit.set(one_line(text))
    for key in keys:
        if len(key) == 1:
            edit.put(key)
        else:
            edit.press(key, "3/4")
        assert 0 <= edit.at <= len(edit.text)
        assert 0 <= edit.mark <= len(edit.text)


@given(st.text(st.sampled_from("0123456789-/ ftin長"), max_size=40), st.integers(0, 40), st.integers(4, 20))
def test_what_is_seen_has_the_cursor_and_a_sign_where_it_is_cut(text: str, at: int, width: int) -> None:
    at = min(at, len(text))
    drawn = Edit(text, at, at).drawn(width, "field", has_cursor=True)
    seen = words_of(drawn)
    assert size_of(drawn) == width
    turned = [piece for piece, role in drawn if "reverse" in role]
    assert turned == [text[at] if at < len(text) else " "]
    inner = seen.removeprefix("…").removesuffix("…").strip(" ")
    assert inner in text
    if inner != text.strip(" "):
        assert "…" in seen


def test_a_pasted_text_is_one_line_of_what_can_be_shown() -> None:
    assert one_line("3\t1/2\nmore") == "3 1/2"
    assert one_line("") == ""
    assert one_line("\x1b[31m3") == " [31m3"
