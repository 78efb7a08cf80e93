"""The large figures: three lines, every figure another shape, nothing of a headline left out."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.catalog import NAMES, load
from shopcompanion.fields import Choice
from shopcompanion.tui.figures import large

FACES = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-/.'°, "
DOTS = {" ": "..", "▀": "#.", "▄": ".#", "█": "##"}


def dots(lines: list[str]) -> list[str]:
    """The rows of dots that the half blocks stand for, top to bottom."""
    rows = []
    for line in lines:
        rows += ["".join(DOTS[letter][half] for letter in line) for half in (0, 1)]
    return rows


def test_a_figure_by_hand() -> None:
    assert large("2") == ["▀▀█", "█▀▀", "▀▀▀"]
    assert large("7/8") == ["▀▀█   █ █▀█", " ▄▀ ▄▀  █▀█", " ▀  ▀   ▀▀▀"]
    assert dots(large("4")) == ["#.#", "#.#", "###", "..#", "..#", "..."]


@pytest.mark.parametrize("letter", FACES)
def test_every_face_is_three_lines_of_one_width_and_the_sixth_row_is_free(letter: str) -> None:
    lines = large(letter)
    assert len(lines) == 3
    assert len({len(line) for line in lines}) == 1
    assert set(dots(lines)[5]) == {"."}


def test_no_two_faces_look_alike_but_the_two_that_do_on_every_such_display() -> None:
    seen = {letter: tuple(large(letter)) for letter in FACES if letter not in "OS"}
    assert (large("O"), large("S")) == (large("0"), large("5"))
    assert len(set(seen.values())) == len(seen)


@given(st.text(st.sampled_from(FACES + "abcxyz"), max_size=12), st.text(st.sampled_from(FACES), max_size=12))
def test_a_text_is_its_letters_side_by_side(first: str, other: str) -> None:
    lines = large(first + other)
    assert len(lines) == 3
    gap = " " if first and other else ""
    assert lines == [a + gap + b for a, b in zip(large(first), large(other), strict=True)]
    assert large(first.lower()) == large(first.upper())


@given(st.text(max_size=20))
def test_any_text_makes_three_lines_and_loses_no_letter(text: str) -> None:
    lines = large(text)
    assert len(lines) == 3
    unknown = [letter for letter in text.upper() if letter not in FACES]
    assert all(letter in lines[1] for letter in unknown)


def test_every_headline_is_large() -> None:
    known = set(FACES)
    for name in NAMES:
        calculator = load(name)
        kind = next(field.kind for field in calculator.answer_fields if field.name == calculator.headline)
        words = kind.options if isinstance(kind, Choice) else ["12' 6-29/64", "-0.5"]
        assert all(set(word.upper()) <= known for word in words)
