"""Drawings: shapes in millimetres, and the same as lines of text."""

from importlib import import_module
from math import hypot
from pathlib import Path

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from shopcompanion.calculator import Result
from shopcompanion.catalog import NAMES, load
from shopcompanion.drawing.shapes import Arc, Dimension, Drawing, Fill, Label, Line, corners, loop, square
from shopcompanion.drawing.strip import strip
from shopcompanion.drawing.terminal import painted, render
from shopcompanion.fields import Length
from shopcompanion.form import solve
from shopcompanion.lengths import show
from shopcompanion.profile.follow import follow
from shopcompanion.profile.parse import read
from shopcompanion.spar.outline import Outline

from .asked import QUESTIONS
from .asking import INCH_64, MM_01, ask

CASES = {
    "facets": [{"width": 76.2}, {"width": 60.0, "depth": 90.0, "section": "oval"}],
    "taper": [{"length": 3000.0, "butt": 70.0, "head": 45.0, "at": 1000.0, "blank": 80.0}],
    "drum": [{"drum": 101.6, "belt_length": 914.4, "widest": 70.0}],
    "roundover": [{"stock": 50.8, "bit_radius": 19.05}, {"stock": 50.8, "stock_other": 60.0, "bit_radius": 19.05}],
}
LARGER = ("moisture", "strength")  # their measure is drawn larger than it is, and the title says how many times
# Every calculator that draws, as it stands on a demo spar, and those cases.
DRAWN = [name for name in NAMES if "drawing" in vars(import_module(f"shopcompanion.calculators.{name}"))]
PICTURES = [(name, None) for name in DRAWN] + [(name, values) for name, many in CASES.items() for values in many]


def pictured(name: str, values: dict[str, object] | None) -> Result:
    if values is not None:
        return ask(name, **values)
    boat = read((Path(__file__).parents[1] / "profiles" / "saltmarsh-yawl.toml").read_text(encoding="utf-8")).boat
    return solve(load(name), {}, follow(boat, boat.spar("mizzen mast"), 1524.0), INCH_64)


def picture(name: str, values: dict[str, object] | None) -> Drawing:
    drawing = pictured(name, values).drawing()
    assert drawing is not None
    return drawing


def dots(lines: list[str]) -> set[tuple[int, int]]:
    """The dots that are set in lines of braille, by their place across and down (Unicode block U+2800)."""
    bits = {0x01: (0, 0), 0x02: (0, 1), 0x04: (0, 2), 0x40: (0, 3), 0x08: (1, 0), 0x10: (1, 1), 0x20: (1, 2)}
    bits[0x80] = (1, 3)
    return {
        (2 * column + x, 4 * row + y)
        for row, line in enumerate(lines)
        for column, letter in enumerate(line)
        if 0x2800 <= ord(letter) <= 0x28FF
        for bit, (x, y) in bits.items()
        if ord(letter) - 0x2800 & bit
    }


@pytest.mark.parametrize(("name", "values"), PICTURES)
@pytest.mark.parametrize("ascii_only", [False, True])
@pytest.mark.parametrize(("columns", "rows"), [(40, 12), (20, 6), (60, 20), (7, 3)])
def test_every_drawing_fills_its_frame_and_no_more(name, values, ascii_only, columns, rows) -> None:
    drawing = picture(name, values)
    lines = render(drawing, columns, rows, INCH_64, ascii_only)
    assert [len(line) for line in lines] == [columns] * rows
    text = "".join(lines)
    assert text.isprintable()
    assert text.strip()
    if ascii_only:
        assert text.isascii()
    touches = [any(line[0] != " " for line in lines), bool(lines[0].strip())]
    assert any(touches)  # to scale, it reaches across or up


@pytest.mark.parametrize(("name", "values"), PICTURES)
@pytest.mark.parametrize(("columns", "rows"), [(60, 20), (46, 16)])
def test_the_answer_stands_on_the_drawing_and_the_wood_is_filled(name, values, columns, rows) -> None:
    result = pictured(name, values)
    head, drawing = result.heads()[0], result.drawing()
    assert drawing is not None
    lines = painted(drawing, columns, rows, result.rule)
    said = "\n".join("".join(text for text, _ in line) for line in lines)
    assert head.kind.show(getattr(result.answers, head.name), result.rule) in said
    assert any(role.startswith("wood") for line in lines for _, role in line) or name in (
        "lift",
        "glueup",
    )  # as thin as a line
    plain = "".join(render(drawing, columns, rows, result.rule, filled=False))
    assert not {"▓", "░"} & {*plain}


@pytest.mark.parametrize("name", [name for name in DRAWN if name not in ("compare", "lightest")])
@given(st.data())
@settings(max_examples=12)
def test_the_answer_stands_on_the_drawing_of_any_case(name: str, data: st.DataObject) -> None:
    """At the two sizes of a pane, every measure as long as it says; the two that search are slow, and stand above."""
    columns, rows = data.draw(st.sampled_from([(60, 20), (46, 16)]))
    result = ask(name, data.draw(st.sampled_from([INCH_64, MM_01])), **data.draw(QUESTIONS[name]))
    head, drawing = result.heads()[0], result.drawing()
    if drawing is not None:
        said = "\n".join(render(drawing, columns, rows, result.rule))
        assert head.kind.show(getattr(result.answers, head.name), result.rule) in said
        measures = [shape for shape in drawing.shapes if isinstance(shape, Dimension) and name not in LARGER]
        for shape in measures:
            assert hypot(shape.x2 - shape.x1, shape.y2 - shape.y1) == pytest.approx(shape.value, abs=1e-6)


def test_a_drill_that_falls_short_is_drawn_short() -> None:
    drawing = ask("bore", thickness=100.0, hole=10.0, drill_reach=40.0, angle_error=0.0, centring=0.0).drawing()
    bored = [shape.points for shape in drawing.shapes if isinstance(shape, Fill) and shape.tone == "off"]
    ends = {round(x, 6) for points in bored for x, _ in points}
    assert ends == {-50, -10, 10, 50}
    assert [shape.value for shape in drawing.shapes if isinstance(shape, Dimension)] == [20, 0]


@pytest.mark.parametrize(("name", "values"), PICTURES)
def test_a_measure_of_an_answer_is_written_as_the_answer_is(name, values) -> None:
    """The same width never stands once rounded up in the list and once to the nearest mark on the drawing."""
    result = pictured(name, values)
    shown = {}
    for field in result.calculator.answer_fields:
        value = getattr(result.answers, field.name)
        if isinstance(field.kind, Length) and isinstance(value, float):
            shown.setdefault(round(value, 6), set()).add(field.kind.show(value, result.rule))
    for shape in result.drawing().shapes:
        if isinstance(shape, Dimension) and round(shape.value, 6) in shown:
            assert (shape.text or show(shape.value, result.rule)) in shown[round(shape.value, 6)]


def wood_of(drawing: Drawing) -> shapely.Geometry:
    """What is left as wood when every fill lies over those before it."""
    wood: shapely.Geometry = shapely.Polygon()
    for shape in drawing.shapes:
        if isinstance(shape, Fill):
            area = shapely.Polygon(shape.points)
            wood = wood.union(area) if shape.tone == "wood" else wood.difference(area)
    return wood


@pytest.mark.parametrize(
    ("name", "values", "area"),
    [
        ("flat", {"diameter": 80.0, "flat_width": 40.0}, "area_left"),
        ("flat", {"diameter": 80.0, "flat_width": 40.0, "shape": "eight"}, "area_left"),
        ("inlay", {"diameter": 90.0, "hole": 0.01, "bar_width": 30.0}, "area_left"),
        ("inlay", {"diameter": 90.0, "hole": 0.01, "both": "no", "sit": "crown flush"}, "area_left"),
        ("staves", {"diameter": 100.0, "thickness": 20.0}, "area"),
        ("staves", {"diameter": 100.0, "thickness": 20.0, "staves": 6}, "area"),
    ],
)
def test_the_wood_that_is_filled_is_the_wood_that_is_left(name: str, values: dict[str, object], area: str) -> None:
    result = ask(name, **values)
    assert wood_of(result.drawing()).area == pytest.approx(getattr(result.answers, area), rel=3e-3)


def test_a_later_fill_lies_over_an_earlier_one_and_lines_over_both() -> None:
    fills = (Fill(corners(0, 0, 10, 10), "off"), Fill(corners(0, 0, 10, 5)), Fill(corners(0, 0, 2, 10), "air"))
    lines = painted(Drawing("", (*fills, Line(5, 2, 10, 2))), 20, 10, INCH_64)
    roles = [[role for text, role in line for _ in text] for line in lines]
    assert [roles[1][x] for x in (1, 10)] == ["", "off"]
    assert [roles[9][x] for x in (1, 10, 19)] == ["", "wood", "wood"]
    assert "wood line" in roles[7]
    assert render(Drawing("", fills), 20, 10, INCH_64, ascii_only=True)[1][10] == "."


def test_a_measure_has_its_ends_and_no_word_stands_in_another() -> None:
    drawing = Drawing("", (*square(80, 40), Dimension(-40, 0, 40, 0, 80), Label(0, 0, "in the way")))
    lines = render(drawing, 40, 10, MM_01)
    (measured,) = [line for line in lines if "80 mm" in line]
    assert measured.strip()[0] == "├"
    assert measured.strip()[-1] == "┤"
    assert "in the way" not in measured
    assert any("in the way" in line for line in lines)


def test_a_measure_too_short_for_its_size_has_it_beside() -> None:
    drawing = Drawing("", (*square(80, 40), Dimension(-40, 0, -38, 0, 2)))
    (line,) = [line for line in render(drawing, 60, 12, MM_01) if "2 mm" in line]
    assert line.index("2 mm") > line.index("├" if "├" in line else "┤")


@pytest.mark.parametrize(("name", "values"), PICTURES)
def test_titles_say_what_is_drawn(name, values) -> None:
    drawing = picture(name, values)
    assert drawing.title.isprintable()
    left, bottom, right, top = drawing.bounds()
    assert left < right
    assert bottom < top


def test_bounds_hold_lines_arcs_and_dimensions() -> None:
    drawing = Drawing("", (Line(0, 0, 5, 1), Arc(0, 0, 3, 2), Dimension(0, 0, 0, 9, 9), Label(100, 100, "far")))
    assert drawing.bounds() == (-3, -2, 5, 9)


def test_a_loop_comes_back_to_its_beginning() -> None:
    lines = loop((0, 0), (1, 0), (1, 1), pen="light")
    assert [(line.x1, line.y1) for line in lines] == [(0, 0), (1, 0), (1, 1)]
    assert all((a.x2, a.y2) == (b.x1, b.y1) for a, b in zip(lines, (*lines[1:], lines[0]), strict=True))
    assert {line.pen for line in lines} == {"light"}
    assert Drawing("", square(4, 2)).bounds() == (-2, -1, 2, 1)


def test_a_line_across_is_a_row_of_dots() -> None:
    (line,) = render(Drawing("", (Line(0, 0, 10, 0),)), 10, 1, INCH_64)
    assert dots([line]) == {(x, min(y for _, y in dots([line]))) for x in range(20)}
    plain = render(Drawing("", (Line(0, 0, 10, 0),)), 10, 3, INCH_64, ascii_only=True)
    assert plain == [" " * 10, "*" * 10, " " * 10]


def test_what_is_cut_away_is_broken() -> None:
    (work,) = render(Drawing("", (Line(0, 0, 10, 0),)), 10, 1, INCH_64)
    (light,) = render(Drawing("", (Line(0, 0, 10, 0, "light"),)), 10, 1, INCH_64)
    assert dots([light]) < dots([work])


@given(st.integers(10, 60), st.integers(5, 30))
def test_a_circle_is_round_where_a_character_is_twice_as_high_as_wide(columns: int, rows: int) -> None:
    """A dot is half a character across and a quarter of it down: as wide as it is high, so equal counts are equal."""
    dot = dots(render(Drawing("", (Arc(0, 0, 10, 10),)), columns, rows, INCH_64))
    across = max(x for x, _ in dot) - min(x for x, _ in dot)
    down = max(y for _, y in dot) - min(y for _, y in dot)
    assert abs(across - down) <= 1
    assert max(across, down) == min(2 * columns, 4 * rows) - 1
    middle_x = (max(x for x, _ in dot) + min(x for x, _ in dot)) / 2
    middle_y = (max(y for _, y in dot) + min(y for _, y in dot)) / 2
    for x, y in dot:
        assert ((x - middle_x) ** 2 + (y - middle_y) ** 2) ** 0.5 == pytest.approx(across / 2, abs=1.5)


def test_up_is_up_and_right_is_right() -> None:
    drawing = Drawing("", (*square(10, 10), Line(0, 0, 5, 5)))
    plain = Drawing("", square(10, 10))
    more = dots(render(drawing, 20, 10, INCH_64)) - dots(render(plain, 20, 10, INCH_64))
    assert more
    assert all(x >= 19 and y <= 20 for x, y in more)


def test_a_measure_is_written_by_the_rule() -> None:
    drawing = Drawing("", (*square(88.9, 40), Dimension(-44.45, 0, 44.45, 0, 88.9)))
    assert any("3-1/2 in" in line for line in render(drawing, 40, 10, INCH_64))
    assert any("88.9 mm" in line for line in render(drawing, 40, 10, MM_01))


def test_words_stay_inside() -> None:
    drawing = Drawing("", (*square(10, 10), Label(5, 5, "right up"), Label(-5, -5, "a word that is far too long here")))
    lines = render(drawing, 16, 5, INCH_64)
    assert [len(line) for line in lines] == [16] * 5
    assert any("right up" in line for line in lines)


def test_a_point_is_drawn_too() -> None:
    assert dots(render(Drawing("", (Line(3, 3, 3, 3),)), 5, 3, INCH_64))


def test_a_slot_is_seen_in_the_strip_of_the_spar() -> None:
    """From 4.9 to 5 m of 10 m on 20 columns of half a metre: in the column that holds it, and in no other."""
    lines = strip(Outline(((0, 60), (10000, 60))), 0.0, INCH_64, 20, slots=[(4900, 4990)]).lines
    texts = ["".join(text for text, _ in line) for line in lines]
    assert [line.find("▭") for line in texts] == [-1, -1, 9, -1, -1]
    assert texts[2].count("▭") == 1
    longer = strip(Outline(((0, 60), (10000, 60))), 0.0, INCH_64, 20, slots=[(4900, 6100)]).lines
    assert "".join(text for text, _ in longer[2]).find("▭▭▭▭") == 9
