"""Facets: round, oval, out of square, and how many sides are enough."""

from math import atan, cos, degrees, pi, sqrt, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.drawing.shapes import Dimension, Label
from shopcompanion.errors import InputFault, InputFaults
from shopcompanion.spar.polygon import ridge

from ..asking import MM_01, ask, typed

# a width of 1, worked by hand to five figures; tests/outside/ has ten
ONE = {
    "facet_8": 0.41421, "mark_8": 0.29289, "cut_8": 0.20711,
    "facet_16": 0.19891, "mark_16": 0.10765, "cut_16": 0.04120,
    "facet_32": 0.09849, "mark_32": 0.05021, "cut_32": 0.00980,
}  # fmt: skip


@given(st.floats(10, 500))
def test_everything_grows_with_the_width(width: float) -> None:
    answers = ask("facets", width=width).answers
    for name, share in ONE.items():
        assert getattr(answers, name) / width == pytest.approx(share, abs=5.1e-6)


def test_json_agrees_with_the_formulas_written_again() -> None:
    """Three and a half inches, every number out of tan, cos and the root of two."""
    in_json = typed("facets", width="3-1/2").as_json()
    d = 88.9
    wanted = {"facet_8": d * (sqrt(2) - 1), "mark_8": d * (1 - 1 / sqrt(2)), "cut_8": d * (sqrt(2) - 1) / 2}
    for n in (16, 32):
        wanted[f"facet_{n}"] = d * tan(pi / n)
        wanted[f"mark_{n}"] = d * (tan(2 * pi / n) - tan(pi / n)) / 2
        wanted[f"cut_{n}"] = d / 2 * (1 / cos(2 * pi / n) - 1)
    for n in (8, 16, 32):
        wanted[f"ridge_{n}"] = d / 2 * (1 / cos(pi / n) - 1)
    wanted |= {
        "saw_tilt": 45.0,
        "sides_needed": 32,
        "across": d,
        "girth": d * pi,
    }
    values = {name: answer["value"] for name, answer in in_json["answers"].items()}
    assert values.pop("out_of_square") is values.pop("mark_8_depth") is None
    assert values == pytest.approx(wanted, rel=1e-9, abs=1e-9)
    assert {answer["unit"] for answer in in_json["answers"].values()} == {"mm", "deg", "1"}
    assert in_json["answers"]["facet_8"]["text"] == "1-29/64 in bare"
    assert in_json["inputs"]["width"] == {"value": pytest.approx(88.9), "unit": "mm", "text": "3-1/2 in"}
    assert in_json["tables"] == {}


@given(st.floats(10, 500), st.floats(0.01, 20))
def test_the_sides_needed_are_the_first_whose_ridge_sanding_takes_off(width: float, ridge_ok: float) -> None:
    n = ask("facets", width=width, ridge_ok=ridge_ok).answers.sides_needed
    assert n >= 8
    assert n & (n - 1) == 0
    assert ridge(width, n) <= ridge_ok
    assert n == 8 or ridge(width, n // 2) > ridge_ok


def test_a_ridge_as_high_as_is_allowed_may_stay() -> None:
    ridges = ask("facets", width=100.0).answers
    for sides in (8, 16, 32):
        assert ask("facets", width=100.0, ridge_ok=getattr(ridges, f"ridge_{sides}")).answers.sides_needed == sides


def test_a_ridge_too_fine_to_sand_is_refused() -> None:
    for text in ("0", "0.001mm", "-1/64"):
        with pytest.raises(InputFaults, match=r"ridge_ok: .* will not do, it must be at least"):
            typed("facets", width="3", ridge_ok=text)


# Out of square, or an oval


def test_stock_out_of_square_is_reckoned_from_its_smaller_side_and_told() -> None:
    result = typed("facets", width="3", depth="2-3/4")
    assert result.answers.across == pytest.approx(69.85)
    assert result.answers.out_of_square == pytest.approx(6.35)
    assert result.answers.mark_8 == pytest.approx(69.85 * 0.2928932188)
    assert result.answers.saw_tilt == pytest.approx(45)
    assert any("The sides differ by 1/4 in, more than a division of the rule" in line for line in result.cautions)
    assert typed("facets", width="2-3/4", depth="3").answers == result.answers


@pytest.mark.parametrize(("depth", "told"), [("3", False), ("3-1/64", False), ("3-1/32", True), ("2-31/32", True)])
def test_a_division_of_the_rule_is_square_enough(depth: str, told: bool) -> None:
    result = typed("facets", width="3", depth=depth)
    assert any("sides differ" in line for line in result.cautions) == told


def test_the_rule_in_force_says_what_is_square() -> None:
    assert any("differ by 0.4 mm" in line for line in typed("facets", MM_01, width="70", depth="70.4").cautions)
    assert not any("differ" in line for line in typed("facets", MM_01, width="70", depth="70.1").cautions)


def test_a_meant_oval_is_not_out_of_square() -> None:
    result = typed("facets", width="2", depth="3", section="oval")
    assert not any("sides differ" in line for line in result.cautions)
    assert result.answers.across == pytest.approx(50.8)


@given(st.floats(20, 300), st.floats(0.3, 3))
def test_an_oval_is_the_affine_image_of_the_round(width: float, part: float) -> None:
    depth = width * part
    oval = ask("facets", width=width, depth=depth, section="oval").answers
    assert oval.mark_8 / width == pytest.approx(1 - 1 / sqrt(2))
    assert oval.mark_8_depth / depth == pytest.approx(1 - 1 / sqrt(2))
    assert oval.facet_8 / width == pytest.approx(sqrt(2) - 1)
    assert oval.saw_tilt == pytest.approx(degrees(atan(width / depth)))
    # sawn along both lines, the corner is a triangle with the two marks for legs; the tilt is its hypotenuse's
    assert degrees(atan(oval.mark_8 / oval.mark_8_depth)) == pytest.approx(oval.saw_tilt)
    legs = oval.mark_8, oval.mark_8_depth
    assert oval.cut_8 == pytest.approx(legs[0] * legs[1] / sqrt(legs[0] ** 2 + legs[1] ** 2))


@given(st.floats(20, 300), st.floats(0.3, 3))
def test_an_oval_gives_all_its_facets(width: float, part: float) -> None:
    result = ask("facets", width=width, depth=width * part, section="oval")
    table = result.as_json()["tables"]["facets"]
    assert table["columns"] == ["sides", "tilt", "facet", "next_mark", "cut", "ridge"]
    rows = table["rows"]
    assert [sum(row[0] == n for row in rows) for n in (4, 8, 16, 32)] == [2, 3, 5, 9]
    for n in (8, 16, 32):
        tilts = [row[1] for row in rows if row[0] == n]
        assert tilts == sorted(tilts)
        assert (tilts[0], tilts[-1]) == (pytest.approx(0, abs=1e-9), pytest.approx(90))
        assert getattr(result.answers, f"ridge_{n}") == max(row[5] for row in rows if row[0] == n)
        assert getattr(result.answers, f"cut_{n}") == max(row[4] for row in rows if row[0] == n)
    assert rows[0][3] == pytest.approx(result.answers.mark_8)
    assert rows[1][3] == pytest.approx(result.answers.mark_8_depth)


def test_a_round_that_is_called_an_oval_gives_the_same_numbers() -> None:
    as_round, as_oval = (ask("facets", width=70.0, section=section).answers for section in ("round", "oval"))
    for name in ("facet_8", "mark_16", "cut_8", "cut_32", "ridge_8", "ridge_32", "saw_tilt", "sides_needed"):
        assert getattr(as_oval, name) == pytest.approx(getattr(as_round, name), rel=1e-6)


def test_cautions_and_sources_travel_with_the_answer() -> None:
    result = typed("facets", width="3-1/2")
    assert any("guard" in line.lower() for line in result.cautions)
    assert any("geometry" in line for line in result.as_json()["sources"])


def test_nothing_of_a_size_beyond_the_trade() -> None:
    for text in ("0", "-3", "7 ft", "3 kg"):
        with pytest.raises(InputFaults, match=r"^width: "):
            typed("facets", width=text)


def test_no_oval_is_so_flat_that_it_fails() -> None:
    answers = ask("facets", width=2000.0, depth=0.5, section="oval", ridge_ok=0.01).answers
    assert answers.sides_needed >= 8
    assert answers.saw_tilt == pytest.approx(90, abs=0.1)


# In a run-out


def test_nothing_is_marked_where_the_corner_is_whole() -> None:
    answers = ask("facets", width=80.0, corners_8=0.0, corners_16=0.0).answers
    assert all(getattr(answers, name) == 0 for name in ONE)
    assert answers.girth == pytest.approx(320)
    assert answers.sides_needed == 4


@given(st.floats(0, 100))
def test_every_line_and_cut_is_the_same_share_of_its_full_size(share: float) -> None:
    answers = ask("facets", width=100.0, corners_8=share, corners_16=share).answers
    for name, at_width_1 in ONE.items():
        assert getattr(answers, name) == pytest.approx(share * at_width_1, abs=5.1e-4)
    oval = ask("facets", width=100.0, depth=200.0, section="oval", corners_8=share, corners_16=share).answers
    assert oval.mark_8_depth == pytest.approx(2 * share * ONE["mark_8"], abs=1.1e-3)


def test_what_is_drawn_of_a_run_out() -> None:
    """60 mm, half of the corners off: lines 8.787 mm from the edges; of an oval the facet's words stand in the wood."""
    half = {"width": 60.0, "corners_8": 50.0, "corners_16": 0.0}
    round_ = ask("facets", MM_01, **half).drawing().shapes
    facet = next(shape for shape in round_ if isinstance(shape, Dimension))
    assert facet[:5] == pytest.approx((21.213, 30, 30, 21.213, 8.787 * sqrt(2)), abs=1e-3)
    assert not any(isinstance(shape, Label) for shape in round_)
    oval = ask("facets", MM_01, **half, depth=80.0, section="oval").drawing().shapes
    assert [shape.value for shape in oval if isinstance(shape, Dimension)] == pytest.approx([42.426, 8.787], abs=1e-3)
    assert [shape.text for shape in oval if isinstance(shape, Label)] == ["facet 12.4 mm full"]


def test_the_first_line_of_a_run_out_is_a_sum_of_a_square() -> None:
    (step,) = (s for s in ask("facets", width=60.0, corners_8=50.0, corners_16=0.0).working() if s.name == "mark_8")
    assert step.formula == "corners_8/100·(across − across·tan(π/8)) / 2"


def test_sixteen_is_not_ahead_of_eight() -> None:
    with pytest.raises(InputFault, match=r"corners_16: no more can be cut to 16 sides than to 8, which is 50 %"):
        typed("facets", width="3", corners_8="50", corners_16="60")


@pytest.mark.parametrize("sides", [4, 8, 16, 32])
def test_an_ovals_facets_close_round_it_in_a_run_out(sides: int) -> None:
    """As wide as deep it is a round, whose square, eight and sixteen each have their share of the way round."""
    result = ask("facets", width=100.0, depth=100.0, section="oval", corners_8=75.0, corners_16=25.0)
    facets = [row[2] for row in result.as_json()["tables"]["facets"]["rows"] if row[0] == sides]
    assert len(facets) == sides // 4 + 1
    round_it = 4 * (facets[0] / 2 + sum(facets[1:-1]) + facets[-1] / 2)
    octagon, finer = 800 * tan(pi / 8), sides * 100 * tan(pi / sides)
    wanted = {4: 400.0, 8: 0.25 * 400 + 0.75 * octagon}.get(sides, 0.25 * 400 + 0.5 * octagon + 0.25 * finer)
    assert round_it == pytest.approx(wanted)


@pytest.mark.parametrize(
    ("cut_8", "cut_16", "girth"),
    [(0.0, 0.0, 400.0), (100.0, 0.0, 331.371), (50.0, 0.0, 365.685), (100.0, 100.0, 314.159), (100.0, 50.0, 322.765)],
)
def test_once_round_a_run_out(cut_8: float, cut_16: float, girth: float) -> None:
    """100 mm: 4·100 square, 8·41.4214 eight-sided, π·100 round; cut half of the way, the mean of two of them."""
    answers = ask("facets", width=100.0, corners_8=cut_8, corners_16=cut_16).answers
    assert answers.girth == pytest.approx(girth, abs=1e-3)


@pytest.mark.parametrize(("depth", "told"), [(51.0, False), (51.1, True)])
def test_sides_that_differ_by_more_than_counts_as_square_are_told(depth: float, told: bool) -> None:
    said = ask("facets", width=50.0, depth=depth, square_within=1.0).cautions
    assert any("The sides differ" in line for line in said) == told
