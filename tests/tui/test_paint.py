"""Rows of styled text: cut with a sign, folded between words, scrolled in one kind of window; the bench in any size."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from shopcompanion.catalog import NAMES
from shopcompanion.tui.canvas import style_of
from shopcompanion.tui.config import read_config
from shopcompanion.tui.paint import (
    NARROW,
    Rows,
    beside,
    cells,
    fit,
    fitted,
    folded,
    row,
    rows,
    size_of,
    window,
    words_of,
    wrapped,
)
from shopcompanion.tui.session import Session
from shopcompanion.tui.themes import THEMES
from shopcompanion.tui.view import BenchView

WORDS = st.text(st.sampled_from("ab ▲長é"), max_size=60)
SPANS = st.lists(st.tuples(WORDS, st.sampled_from(["", "bold", "quiet"])), max_size=5).map(tuple)


@given(st.text(st.sampled_from("ab½⅛°·–…⚠▓⠿長🪵e\u0301\u200d\ufe0f\uff21")))
def test_a_text_is_as_wide_as_rich_has_it(text: str) -> None:
    assert cells(text) == cell_len(text)


def test_what_our_words_and_drawings_are_made_of_is_narrow() -> None:
    assert {cell_len(sign) for sign in NARROW} == {1}


@given(SPANS, st.integers(0, 80))
def test_a_fitted_row_is_just_as_wide(line: tuple[tuple[str, str], ...], width: int) -> None:
    made = fit(line, width)
    assert size_of(made) == width or (size_of(line) > width and size_of(made) == width - 1)  # half a wide letter
    if size_of(line) > width > 0:
        assert words_of(made).rstrip().endswith("…")
    elif size_of(line) <= width:
        assert words_of(made).rstrip() == words_of(line).rstrip()


@given(SPANS, st.integers(2, 80))
def test_folding_loses_no_letter_and_runs_over_no_edge(line: tuple[tuple[str, str], ...], width: int) -> None:
    made = wrapped(line, width)
    assert "".join(words_of(piece) for piece in made).replace(" ", "") == words_of(line).replace(" ", "")
    assert all(size_of(piece) <= width for piece in made)
    letters = [(letter, role) for text, role in line for letter in text if letter != " "]
    assert [(letter, role) for piece in made for text, role in piece for letter in text if letter != " "] == letters


def test_folding_keeps_words_whole_and_hangs_as_far_in_as_it_began() -> None:
    assert str(folded([row("  set the fence to 3/4 in")], 14)) == "  set the\n  fence to 3/4\n  in"
    assert str(folded([row("abcdefgh")], 3)) == "abc\ndef\ngh"


@given(st.integers(0, 40), st.integers(-5, 50), st.integers(0, 20))
def test_a_window_says_how_much_is_above_and_below(many: int, top: int, height: int) -> None:
    page = rows([f"line {k}" for k in range(many)])
    seen = window(page, top, height)
    assert len(seen.lines) <= height
    if many <= height:
        assert seen.lines == page
        assert seen.furthest == 0
    elif height > 1:
        sign = words_of(seen.lines[-1])
        above = int(sign.split("↑ ")[1].split()[0]) if "↑" in sign else 0
        below = int(sign.split("↓ ")[1].split()[0]) if "↓" in sign else 0
        assert above == seen.top
        assert above + len(seen.lines) - 1 + below == many
        assert window(page, seen.furthest, height).top == seen.furthest
        assert "↓" not in words_of(window(page, seen.furthest, height).lines[-1])


@given(st.integers(1, 40), st.integers(0, 39), st.integers(2, 12), st.integers(0, 40))
def test_a_window_about_a_row_has_it(many: int, here: int, height: int, top: int) -> None:
    here = min(here, many - 1)
    seen = window(rows([f"line {k}." for k in range(many)]), top, height, here)
    assert f"line {here}." in str(seen.lines)


def test_columns_side_by_side() -> None:
    made = beside(12, (rows(["abc", "d"]), 5), (rows(["much too long"]), 7))
    assert [words_of(line) for line in made] == ["abc  much t…", "d           "]


def test_a_text_is_cut_with_a_sign() -> None:
    assert [fitted("mizzen", width) for width in (0, 1, 4, 6, 7)] == ["", "…", "miz…", "mizzen", "mizzen"]


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
def test_every_role_that_is_drawn_has_a_style(session: Session, theme: object) -> None:
    view = BenchView(session, read_config("").keys, False)
    for name in NAMES:
        session.calculator = name
        view.renew()
        for width, height in ((80, 24), (120, 40)):
            for line in view.draw(width, height).rows:
                assert all(style_of(theme.name, role) is not None for _, role in line)  # type: ignore[attr-defined]
    with pytest.raises(ValueError, match="no role"):
        style_of("lamplight", "purple")


def test_the_bench_fills_a_screen_of_any_size(session: Session) -> None:
    view = BenchView(session, read_config("").keys, False)
    for name in ("facets", "drum", "weight"):
        session.calculator = name
        view.renew()
        for width in (1, 2, 5, 11, 20, 37, 59, 75, 76, 80, 111, 112, 200):
            for height in (1, 2, 3, 4, 6, 10, 20, 24, 60):
                drawn = view.draw(width, height)
                assert len(drawn.rows) == height, (name, width, height)
                assert isinstance(drawn.parts["page"], Rows)
                if width > 19 and height > 5:
                    assert view.form.fields[0].kind.label[:8] in "".join(map(words_of, drawn.rows))


def test_what_a_label_says_goes_on_under_itself() -> None:
    assert str(folded([row(("^F      ", "bold"), "find a calculator or a spar")], 24)) == (
        "^F      find a\n        calculator or a\n        spar"
    )
