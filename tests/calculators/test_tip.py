"""Tip: chamfers that touch the shape, what they leave, and the finished shape. See also tests/outside/."""

from math import cos, radians, sqrt, tan

import pytest
from hypothesis import given

from shopcompanion.drawing.shapes import Dimension, Fill, Line
from shopcompanion.errors import InputFaults

from ..asked.tip import questions
from ..asking import ask, refusal, typed


def test_json_agrees_with_the_formulas_written_again() -> None:
    """A diameter of 2: sixteen sides about the circle of radius 1, seen from the side."""
    in_json = typed("tip", diameter="2").as_json()
    corner = [1 / cos(radians(11.25)) * cos(radians(turn)) for turn in (11.25, 33.75, 56.25, 78.75)]
    wanted = {
        "set_back_1": 2 - sqrt(2), "across_1": 2 * (sqrt(2) - 1), "angle_1": 45, "proud_1": 1 / cos(radians(22.5)) - 1,
        "set_back_2": 1 - tan(radians(11.25)), "across_2": 2 * corner[1], "angle_2": 22.5,
        "proud_2": 1 / cos(radians(22.5)) - 1,
        "set_back_3": 1 - corner[1], "across_3": 2 * corner[3], "angle_3": 67.5, "proud_3": 1 / cos(radians(11.25)) - 1,
        "bit_height": 2 - sqrt(2), "tip_length": 1,
    }  # fmt: skip
    scale = {"mm": 25.4, "deg": 1}
    values = {name: answer["value"] / scale[answer["unit"]] for name, answer in in_json["answers"].items()}
    assert values == pytest.approx(wanted, rel=1e-9)
    assert [row[0] / 25.4 for row in in_json["tables"]["shape"]["rows"]] == pytest.approx([k / 8 for k in range(9)])
    across = [row[1] / 25.4 for row in in_json["tables"]["shape"]["rows"]]
    assert across == pytest.approx([2 * sqrt(1 - (1 - k / 8) ** 2) for k in range(9)])


@pytest.mark.parametrize(("chamfers", "leans"), [(1, [45]), (2, [30, 60]), (3, [45, 22.5, 67.5])])
def test_a_hemisphere_is_evenly_turned(chamfers: int, leans: list[float]) -> None:
    answers = ask("tip", diameter=60.0, chamfers=chamfers).answers
    said = [answers.angle_1, answers.angle_2, answers.angle_3]
    assert said[:chamfers] == pytest.approx(leans)
    assert said[chamfers:] == [None] * (3 - chamfers)
    assert answers.set_back_1 / 30 == pytest.approx(1 - tan(radians(leans[0]) / 2))


def test_two_chamfers_do_not_begin_at_45_and_the_source_says_so() -> None:
    result = ask("tip", diameter=60.0, chamfers=2)
    assert result.answers.angle_1 == pytest.approx(30)
    assert any("Two lean 30° and 60°" in line for line in result.calculator.sources)
    assert any("One chamfer or three begin at 45°" in line for line in result.calculator.sources)


@given(questions())
def test_every_chamfer_leaves_less_or_as_much(values) -> None:
    answers = ask("tip", **values).answers
    proud = [size for size in (answers.proud_1, answers.proud_2, answers.proud_3) if size is not None]
    assert len(proud) == values["chamfers"]
    assert proud == sorted(proud, reverse=True)
    assert proud[-1] > 0
    backs = [size for size in (answers.set_back_1, answers.set_back_2, answers.set_back_3) if size is not None]
    assert all(0 < back < answers.tip_length for back in backs)
    acrosses = [size for size in (answers.across_1, answers.across_2, answers.across_3) if size is not None]
    assert all(0 < across < values["diameter"] for across in acrosses)


@given(questions())
def test_more_chamfers_leave_less(values) -> None:
    last = [getattr(ask("tip", **{**values, "chamfers": n}).answers, f"proud_{n}") for n in (1, 2, 3)]
    assert last == sorted(last, reverse=True)


@given(questions())
def test_the_45_degree_bit_touches_the_shape(values) -> None:
    """The line x + y = L + R − h off the axis: it meets the ellipse in one point when (L + R − h)² = L² + R²."""
    answers = ask("tip", **values).answers
    long, radius = answers.tip_length, values["diameter"] / 2
    assert (long + radius - answers.bit_height) ** 2 == pytest.approx(long**2 + radius**2)


def test_a_blunt_end_as_long_as_the_radius_is_the_hemisphere() -> None:
    as_blunt, as_half = ask("tip", diameter=60.0, shape="blunt", length=30.0), ask("tip", diameter=60.0)
    for name in ("set_back_1", "across_2", "angle_3", "proud_1", "proud_3", "bit_height"):
        assert getattr(as_blunt.answers, name) == pytest.approx(getattr(as_half.answers, name), rel=1e-9)
    assert any("other angles than a 45° bit" in line for line in as_blunt.cautions)
    assert not any("other angles than a 45° bit" in line for line in as_half.cautions)
    assert all(len(line) <= 78 for line in as_blunt.cautions)


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"shape": "blunt"}, "give the length of the blunt end, as"),
        ({"length": 20.0}, "a hemisphere is"),
    ],
)
def test_contradictions_are_refused(values, words: str) -> None:
    fault = refusal("tip", diameter=60.0, **values)
    assert (fault.field, words in str(fault)) == ("length", True)
    ask("tip", diameter=60.0, length=30.0)  # what it is anyway


def test_out_of_bounds_is_refused() -> None:
    for field, text in (("chamfers", "4"), ("chamfers", "0"), ("diameter", "0"), ("length", "-1")):
        with pytest.raises(InputFaults, match=rf"^{field}: .*will not do"):
            typed("tip", **{"diameter": "2", "shape": "blunt", "length": "1/2", field: text})


def test_the_drawing_has_the_square_end_that_the_chamfers_are_cut_from() -> None:
    drawn = ask("tip", diameter=60.0, shape="blunt", length=20.0).drawing()
    square, tip = [shape.points for shape in drawn.shapes if isinstance(shape, Fill)]
    assert set(square) == {(0, -30), (20, -30), (20, 30), (0, 30)}
    assert (20, 0) in tip
    light = {shape[:4] for shape in drawn.shapes if isinstance(shape, Line) and shape.pen == "light"}
    assert {(0, 30, 20, 30), (0, -30, 20, -30)} <= light


def test_the_table_goes_from_the_end_to_where_the_rounding_begins() -> None:
    """A hemisphere of 30 mm by eighths: at half of it 60·√(1 − 1/4) mm across."""
    table = ask("tip", diameter=60.0).as_json()["tables"]["shape"]["rows"]
    assert [row[0] for row in table] == pytest.approx([0, 3.75, 7.5, 11.25, 15, 18.75, 22.5, 26.25, 30])
    assert (table[0][1], table[4][1], table[8][1]) == pytest.approx((0, 60 * sqrt(3) / 2, 60))


def test_the_drawing_says_its_sizes_where_they_lie() -> None:
    drawn = ask("tip", diameter=60.0, shape="blunt", length=20.0, chamfers=1).drawing()
    back = 20 * (1 - tan(radians(22.5)))  # of the line from the end
    sizes = [(shape.x1, shape.x2, shape.value) for shape in drawn.shapes if isinstance(shape, Dimension)]
    assert [*map(pytest.approx, sizes)] == [(20 - back, 20, back), (-24, -24, 60), (0, 20, 20)]


@pytest.mark.parametrize(("chamfers", "gaps"), [(1, (45.0,)), (2, (60.0, 30.0)), (3, (45.0, 45.0, 22.5))])
def test_the_widest_gap_between_flats_is_what_leaves_the_ridge(chamfers: int, gaps: tuple[float, ...]) -> None:
    """Of 2 across: 0, 30 and 90° leave a gap of 60°, whose corner is 1/cos 30° out."""
    answers = ask("tip", diameter=2.0, chamfers=chamfers).answers
    wanted = [1 / cos(radians(gap / 2)) - 1 for gap in gaps]
    assert [answers.proud_1, answers.proud_2, answers.proud_3][:chamfers] == pytest.approx(wanted)


def test_the_last_flat_meets_the_end_itself_so_its_sum_is_short() -> None:
    """One chamfer ends where the square end of 2·tan(22.5°) by 1 across is left."""
    (step,) = (step for step in ask("tip", diameter=60.0, chamfers=1).working() if step.name == "across_1")
    assert step.formula == "diameter·tan(22.5°)"


def test_the_sum_of_a_ridge_has_half_of_the_widest_gap() -> None:
    """0, 30 and 90°: half of the 60° between two of them; then 0, 30, 60 and 90°."""
    steps = {step.name: step.formula for step in ask("tip", diameter=60.0, chamfers=2).working()}
    assert (steps["proud_1"], steps["proud_2"]) == ("diameter/2·(1/cos(30°) − 1)", "diameter/2·(1/cos(15°) − 1)")
