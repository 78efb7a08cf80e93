"""Seat: which cove sits, by how much it gaps, and what is refused. The arcs themselves are in tests/outside/."""

from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.catalog import load
from shopcompanion.drawing.shapes import Arc, Line

from ..asked.seat import questions
from ..asking import MM_01, ask, refusal, typed


def test_json_agrees_with_the_formulas_written_again() -> None:
    """A pole of 2-1/2 in on a 3/4 in cove, half a seat of 1/2 in: in inches, by hand."""
    in_json = typed("seat", pole_diameter="2-1/2", cove_radius="3/4", edge="1/2", coves="1/2; 1; 1-1/2").as_json()
    cove, pole = 0.75 - sqrt(0.75**2 - 0.25), 1.25 - sqrt(1.25**2 - 0.25)
    values = {name: answer["value"] for name, answer in in_json["answers"].items()}
    assert values.pop("touches") == "edges"
    wanted = {
        "gap": cove - pole, "cove_depth": cove, "sinks": pole, "rack_best": 1.0, "wanted_radius": 1.25,
        "cove_used": 0.75, "half_width": 0.5, "pole_depth": pole,
    }  # fmt: skip
    assert {name: value / 25.4 for name, value in values.items()} == pytest.approx(wanted)


def test_a_smaller_cove_touches_at_its_edges_and_a_larger_one_in_the_middle() -> None:
    for cove, touches in ((20, "edges"), (25, "all over"), (30, "middle")):
        answers = ask("seat", pole_diameter=50.0, cove_radius=float(cove), edge=15.0).answers
        assert answers.touches == touches
        assert (answers.gap == pytest.approx(0, abs=1e-9)) == (touches == "all over")


@pytest.mark.parametrize(
    ("cove", "touches"), [(24.988, "edges"), (24.991, "all over"), (25.009, "all over"), (25.012, "middle")]
)
def test_to_a_hundredth_of_a_millimetre_a_cove_fits_all_over(cove: float, touches: str) -> None:
    assert ask("seat", pole_diameter=50.0, cove_radius=cove, edge=15.0).answers.touches == touches


def test_the_cove_of_the_poles_own_radius_is_the_best() -> None:
    assert ask("seat", pole_diameter=50.0, coves=(20.0, 25.0, 30.0)).answers.rack_best == 25


@pytest.mark.parametrize(("cove", "told"), [(20.0, True), (28.0, False), (40.0, False)])
def test_a_wide_gap_under_the_pole_is_told(cove: float, told: bool) -> None:
    """On a pole of 60 mm over 30 mm, 4.019 mm deep: the first cove is 6.771 mm deep, and more than a quarter of
    that stands open; the second is 4.357 mm deep; the third touches in the middle."""
    said = ask("seat", pole_diameter=60.0, cove_radius=cove, edge=15.0).cautions
    assert any("bears on two edges only" in line for line in said) == told
    rocking = ask("seat", pole_diameter=60.0, cove_radius=40.0).cautions
    assert not any("bears on two edges only" in line for line in rocking)  # though it gapes


def test_a_cove_that_rocks_says_what_would_fit() -> None:
    on_rack = ask("seat", pole_diameter=50.0, cove_radius=30.0, coves=(10.0, 20.0, 40.0))
    assert any("rocks" in line and "25/32 in full" in line for line in on_rack.cautions)  # 20 mm
    none = ask("seat", pole_diameter=50.8, coves=(30.0, 40.0))
    assert none.answers.touches == "middle"
    assert none.answers.rack_best is None
    assert any("take one of 1 in radius or less" in line for line in none.cautions)
    assert not any("rocks" in line for line in ask("seat", pole_diameter=50.8, cove_radius=20.0).cautions)


def test_a_seat_wider_than_cove_or_pole_is_refused() -> None:
    fault = refusal("seat", MM_01, pole_diameter=80.0, cove_radius=10.0, edge=12.0)
    assert fault.field == "edge"
    assert "12 mm is more than a cove of 10 mm radius cuts; 10 mm or less will do" in str(fault)
    even = refusal("seat", MM_01, pole_diameter=80.0, cove_radius=40.0, edge=50.0)
    assert "more than half the pole's diameter; 40 mm or less" in str(even)
    assert "more than half the pole's diameter; 40 mm or less" in str(
        refusal("seat", MM_01, pole_diameter=80.0, cove_radius=60.0, edge=50.0)
    )


def test_with_no_cove_at_all_one_is_asked_for_and_none_is_invented() -> None:
    fault = refusal("seat", MM_01, pole_diameter=60.0)
    assert str(fault) == (
        "cove_radius: type the radius of the cove, or the coves on the rack; 30 mm or less sits on this pole"
    )
    assert ask("seat", pole_diameter=60.0, coves=(25.0,)).answers.cove_used == 25


@given(questions())
def test_what_touches_is_what_has_the_least_gap(values) -> None:
    result = ask("seat", **values)
    answers, pole = result.answers, values["pole_diameter"]
    assert answers.gap >= 0
    assert answers.sinks <= min(answers.cove_depth, answers.pole_depth)
    assert (answers.touches == "middle") == (answers.cove_used > pole / 2 + 0.01)
    if answers.touches == "edges":
        assert answers.cove_depth >= answers.pole_depth


@given(st.floats(30, 120), st.floats(0.2, 0.9), st.floats(0.02, 0.09))
def test_a_cove_nearer_to_the_pole_gaps_less(pole, part, more) -> None:
    edge = pole / 2 * 0.15
    near, far = (ask("seat", pole_diameter=pole, cove_radius=pole / 2 * p, edge=edge) for p in (part + more, part))
    assert near.answers.gap < far.answers.gap


def test_the_drawing_has_the_pole_where_the_numbers_say() -> None:
    result = ask("seat", pole_diameter=60.0, cove_radius=20.0, edge=15.0)
    drawn = result.drawing()
    assert drawn is not None
    cove, pole = [shape for shape in drawn.shapes if type(shape).__name__ == "Arc"]
    assert pole.y - pole.radius_y == pytest.approx(-result.answers.sinks)
    assert cove.y - cove.radius_y == pytest.approx(-result.answers.cove_depth)
    assert load("seat").fitting is None


@pytest.mark.parametrize(("edge", "wide"), [(None, 1.3 * 28), (15.0, 15 + 30 / 4)])
def test_the_cheek_is_drawn_wider_than_its_seat(edge: float | None, wide: float) -> None:
    drawn = ask("seat", pole_diameter=60.0, cove_radius=28.0, edge=edge).drawing()
    lines = [shape for shape in drawn.shapes if isinstance(shape, Line)]
    assert max(max(line.x1, line.x2) for line in lines) == pytest.approx(wide)


def test_a_cove_of_the_rack_may_be_larger_by_a_hundredth() -> None:
    for cove, best in ((30.008, 30.008), (30.012, 25.0)):
        assert ask("seat", pole_diameter=60.0, coves=(25.0, cove)).answers.rack_best == best


@pytest.mark.parametrize(("cove", "told"), [(97.0, False), (96.0, False), (95.9, True)])
def test_a_gap_of_a_quarter_of_the_cove_may_stay(cove: float, told: bool) -> None:
    """A pole of 100 mm radius sinks 100 − 28 = 72 mm into a cove of 96 (7-24-25): a gap of 24 mm, a quarter."""
    said = ask("seat", pole_diameter=200.0, cove_radius=cove).cautions
    assert any("on two edges only" in line for line in said) == told


def test_the_hollow_is_drawn_as_far_as_its_edges() -> None:
    """Half a seat of 15 mm on a cove of 30 mm radius: 30° to either side of straight down."""
    drawn = ask("seat", pole_diameter=80.0, cove_radius=30.0, edge=15.0).drawing()
    hollow = next(shape for shape in drawn.shapes if isinstance(shape, Arc))
    assert (hollow.start, hollow.end) == pytest.approx((240, 300))
