"""The spar along the strip: to scale, with its station, its marks and a scale that is where it says it is."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.drawing.strip import Mark, SparStrip, strip
from shopcompanion.lengths import RULES, Rule
from shopcompanion.spar.outline import Outline

INCHES, METRIC = RULES[2], RULES[5]
FOOT = 304.8
LOWER, EIGHTHS = " ▁▂▃▄▅▆▇█", 8
MIZZEN = Outline(((0.0, 63.5), (609.6, 69.85), (3429.0, 44.45)))


def texts(drawn: SparStrip) -> list[str]:
    return ["".join(text for text, _ in line) for line in drawn.lines]


def roles(drawn: SparStrip, line: int) -> list[str]:
    return [role for text, role in drawn.lines[line] for _ in text]


def thickness(drawn: SparStrip, column: int) -> float:
    """The thickness that one column shows, as a part of all there is room for."""
    above, middle, below = (text[column] for text in texts(drawn)[1:4])
    if middle != "█":
        return {"■": 1 / 4, "━": 1 / 8}[middle]
    return (LOWER.index(above) + EIGHTHS + EIGHTHS - LOWER.index(below)) / (3 * EIGHTHS)


@st.composite
def outlines(draw: st.DrawFn) -> Outline:
    length = draw(st.floats(300, 12000))
    ats = sorted({0.0, length, *(length * draw(st.floats(0.05, 0.95)) for _ in range(draw(st.integers(0, 3))))})
    return Outline(tuple((at, draw(st.floats(10, 200))) for at in ats))


@st.composite
def strips(draw: st.DrawFn) -> tuple[Outline, float, Rule, int, list[Mark]]:
    outline = draw(outlines())
    at = outline.length * draw(st.floats(0, 1))
    signs = st.sampled_from(["◇", "▾"])
    names = st.sampled_from(["hinge", "throat and peak halyards", "step", "x", ""])
    marks = [
        Mark(outline.length * draw(st.floats(0, 1)), draw(signs), draw(names)) for _ in range(draw(st.integers(0, 5)))
    ]
    return outline, at, draw(st.sampled_from([INCHES, METRIC])), draw(st.integers(40, 200)), marks


@given(strips(), st.booleans())
def test_every_line_is_as_wide_as_there_is_room(drawn_from: tuple, low: bool) -> None:
    outline, at, rule, columns, marks = drawn_from
    drawn = strip(outline, at, rule, columns, marks=marks, low=low)
    assert [len(text) for text in texts(drawn)] == [columns] * (2 if low else 5)
    for line in drawn.lines:
        assert all(text for text, _ in line)
        assert all(span[1] != following[1] for span, following in pairwise(line))


@given(strips())
def test_the_thickness_is_to_scale(drawn_from: tuple) -> None:
    outline, at, rule, columns, _ = drawn_from
    drawn = strip(outline, at, rule, columns)
    for column in range(columns):
        part = outline.width_at((column + 0.5) / columns * outline.length) / outline.widest
        if part >= 1 / 3:  # thinner than one row a sign stands for it
            assert abs(thickness(drawn, column) - part) <= 1 / 24 + 1e-9
        else:
            assert thickness(drawn, column) <= 1 / 3


@given(strips(), st.booleans())
def test_the_station_is_where_it_is_on_the_wood_and_on_the_scale(drawn_from: tuple, low: bool) -> None:
    outline, at, rule, columns, marks = drawn_from
    drawn = strip(outline, at, rule, columns, marks=marks, low=low)
    here = min(columns - 1, int(at / outline.length * columns))
    scale = texts(drawn)[-1]
    assert [column for column, letter in enumerate(scale) if letter == "▲"] == [here]
    for line in range(0 if low else 1, len(drawn.lines)):
        assert [column for column, role in enumerate(roles(drawn, line)) if role == "cursor"] == [here]


@given(strips())
def test_every_mark_stands_at_its_place_and_no_name_runs_into_another(drawn_from: tuple) -> None:
    outline, at, rule, columns, marks = drawn_from
    line = texts(strip(outline, at, rule, columns, marks=marks))[0]
    places = [min(columns - 1, int(mark.at / outline.length * columns)) for mark in marks]
    signs = {column for column, letter in enumerate(line) if letter in "◇▾"}
    assert signs >= set(places)
    for beside in signs - set(places):  # a sign gives way by one column, and only to another in its place
        assert max(places.count(beside - 1), places.count(beside + 1)) > 1
    known = {"heel", "head", *(mark.name for mark in marks)}
    # What is left between the signs is whole names, with a gap that no name has between two of them.
    for piece in line.replace("◇", "\n").replace("▾", "\n").split("\n"):
        assert all(words.strip() in known for words in piece.split("  ") if words.strip()), line


def test_a_joint_and_the_fitting_on_it_both_have_their_sign() -> None:
    marks = [Mark(5 * FOOT, "◇", "hinge"), Mark(5 * FOOT, "▾", "hinge")]
    assert "◇▾" in texts(strip(MIZZEN, 0.0, INCHES, 78, marks=marks))[0]


def test_the_station_steps_along_with_every_foot() -> None:
    seen = [texts(strip(MIZZEN, k * FOOT, INCHES, 78))[-1].index("▲") for k in range(12)]
    assert seen == sorted(seen)
    assert len(set(seen)) == 12


@pytest.mark.parametrize("columns", [40, 58, 78, 118])
def test_the_scale_says_feet_where_they_are(columns: int) -> None:
    scale = texts(strip(MIZZEN, 3429.0, INCHES, columns))[-1]
    places = [
        column for column, letter in enumerate(scale) if letter == "╵" and scale[column + 1 : column + 2].isdigit()
    ]
    assert places
    for column in places:
        feet = float(scale[column + 1 :].split()[0])
        assert column == int(feet * FOOT / MIZZEN.length * columns)


@given(strips())
def test_the_scale_says_no_wrong_place(drawn_from: tuple) -> None:
    outline, at, rule, columns, _ = drawn_from
    scale = texts(strip(outline, at, rule, columns))[-1]
    for column, letter in enumerate(scale):
        words = scale[column + 1 :].split()
        if letter == "╵" and scale[column + 1 : column + 2].isdigit():
            where = float(words[0]) * (FOOT if rule.unit == "in" else 1000)
            assert column == min(columns - 1, int(where / outline.length * columns))
            assert words[0] == "0" or words[1].rstrip("╵▲") == ("ft" if rule.unit == "in" else "m")


def test_the_square_part_looks_other_than_the_round() -> None:
    drawn = strip(MIZZEN, 3000.0, INCHES, 100, square_to=355.6)
    squared = [role.startswith("square") for role in roles(drawn, 2)]
    assert squared == [(column + 0.5) / 100 * MIZZEN.length < 355.6 for column in range(100)]


def test_the_ends_are_named_where_there_is_room() -> None:
    line = texts(strip(MIZZEN, 0, INCHES, 60))[0]
    assert line.startswith("heel ")
    assert line.endswith(" head")
    line = texts(strip(MIZZEN, 0, INCHES, 60, marks=[Mark(0, "▾", "step"), Mark(3429.0, "▾", "cap")]))[0]
    assert line.startswith("▾ step")
    assert line.endswith("cap ▾")


def test_how_much_the_thickness_is_drawn_too_big() -> None:
    # 78 columns of 43.96 mm; three rows, each two columns high, hold 69.85 mm: 6 · 43.96 / 69.85.
    assert strip(MIZZEN, 0, INCHES, 78).exaggerated == pytest.approx(6 * 3429.0 / 78 / 69.85)
