"""Lift: levers by hand, a line's triangle, a gin pole, and what cannot lift."""

from math import cos, hypot, radians, sin, sqrt

import pytest

from shopcompanion import form
from shopcompanion.calculator import Result
from shopcompanion.catalog import load
from shopcompanion.drawing.shapes import Fill, Label, Line
from shopcompanion.errors import InputFault
from shopcompanion.profile.follow import follow
from shopcompanion.spar.body import Body
from shopcompanion.spar.outline import Outline

from ..asking import ask, refusal
from .test_strength import BOATS

G = 9.80665
STICK = Body(Outline(((0.0, 80.0), (6000.0, 60.0))))
MAST = {"mass": 20.0, "balance_at": 2500.0, "length": 6000.0, "hinge_at": 500.0}


def test_by_hand_it_is_a_lever() -> None:
    """20 kg two metres beyond the hinge, hands at two metres: all of it, when it lies level."""
    answers = ask("lift", **MAST).answers
    assert answers.worst_pull == pytest.approx(20 * G)
    assert (answers.worst_angle, answers.people) == (0.0, 1)
    assert ask("lift", **MAST, hand_at=4500.0).answers.worst_pull == pytest.approx(20 * G / 2)
    heavy = ask("lift", **{**MAST, "mass": 50.0})
    assert heavy.answers.people == 3
    assert heavy.answers.hand_for_one == pytest.approx(500 + 50 * 2000 / 23)
    assert "More than one person" in heavy.cautions[0]


def test_from_where_it_lies_to_upright_every_pull_counts() -> None:
    """Begun at 60°: the pull falls as the cosine does; the hinge bears the rest of the weight, and the push."""
    weight, lever, hand = 20 * G, 2000.0, 5000.0
    turns = [radians(60 + k / 2) for k in range(60)]
    pulls = [weight * lever * cos(turn) / hand for turn in turns]
    borne = [hypot(pull * sin(turn), weight - pull * cos(turn)) for pull, turn in zip(pulls, turns, strict=True)]
    result = ask("lift", **MAST, start_angle=60.0, hand_at=5500.0)
    assert (result.answers.worst_angle, result.answers.worst_pull) == (60.0, pytest.approx(pulls[0]))
    assert result.answers.hinge_reaction == pytest.approx(max(borne), rel=1e-4)
    (table,) = result.tables
    for angle, pull, _, hinge in table.rows:
        turn = radians(angle)
        assert pull == pytest.approx(weight * lever * cos(turn) / hand)
        assert hinge == pytest.approx(hypot(pull * sin(turn), weight - pull * cos(turn)))


def test_by_a_line_it_is_a_triangle() -> None:
    """Level, fast at 5 m, led 3 m ahead and 2 m up: the arm of the line is 5·2/hypot(8, 2) m."""
    answers = ask("lift", **MAST, line_at=5500.0, lead_ahead=3000.0, lead_height=2000.0).answers
    assert answers.first_pull == pytest.approx(20 * G * 2 / (5 * 2 / hypot(8, 2)))
    assert answers.worst_pull == answers.first_pull
    assert answers.raised == "by a line"


def test_the_hinge_bears_what_line_and_weight_leave_over() -> None:
    """Level, the line above pulls 1.6 times the weight forward and 0.4 of it up; the other 0.6 hang on the hinge."""
    result = ask("lift", **MAST, line_at=5500.0, lead_ahead=3000.0, lead_height=2000.0)
    angle, pull, line, hinge = result.tables[0].rows[0]
    assert angle == 0.0
    assert pull == pytest.approx(20 * G * 0.4 * hypot(4, 1))
    assert hinge == pytest.approx(20 * G * hypot(1.6, 0.6))
    assert line == pytest.approx(14.0362, abs=1e-3)  # 1 in 4: the tangent of 14.0362° is 0.25


def test_a_line_is_told_what_a_pole_of_a_fifth_would_take() -> None:
    """5.5 m beyond the hinge: a pole of 1.1 m, with the line led as far ahead."""
    line = ask("lift", **MAST, line_at=5500.0, lead_ahead=3000.0, lead_height=2000.0).answers
    pole = ask("lift", **MAST, gin_pole=1100.0, lead_ahead=3000.0).answers
    assert line.pole_pull == pytest.approx(pole.worst_pull)
    assert pole.pole_pull is None
    assert ask("lift", **MAST).answers.pole_pull is None


def test_a_mast_of_no_known_length_is_twice_as_long_as_to_its_balance() -> None:
    """It balances at 0.8 m, so its head is at 1.6 m, within reach: half of its weight."""
    answers = ask("lift", mass=20.0, balance_at=800.0).answers
    assert answers.worst_pull == pytest.approx(20 * G / 2)


def test_the_table_has_the_start_and_every_tenth_degree_above_it() -> None:
    rows = ask("lift", **MAST, start_angle=25.0).tables[0].rows
    assert [row[0] for row in rows] == [25.0, 30.0, 40.0, 50.0, 60.0, 70.0, 80.0]


def test_one_person_may_lift_twenty_three_kilograms_and_no_more() -> None:
    for mass, people in ((23.0, 1), (23.1, 2)):
        result = ask("lift", **{**MAST, "mass": mass})
        assert result.answers.people == people
        assert any("More than one person" in caution for caution in result.cautions) == (people > 1)


@pytest.mark.parametrize(("angle", "flat"), [(14.5, True), (15.5, False)])
def test_a_lead_is_flat_under_fifteen_degrees(angle: float, flat: bool) -> None:
    """The line is flattest where it starts: 8 m of it ahead, and so high."""
    height = 8000 * sin(radians(angle)) / cos(radians(angle))
    result = ask("lift", **MAST, line_at=5500.0, lead_ahead=3000.0, lead_height=height)
    assert result.answers.flattest == pytest.approx(angle)
    assert any("too flat" in caution for caution in result.cautions) == flat


def lines(result: Result) -> list[tuple[float, ...]]:
    """The ends of what is drawn, in whole millimetres."""
    drawn = result.drawing()
    assert drawn is not None
    return [tuple(round(part) for part in shape[:4]) for shape in drawn.shapes if isinstance(shape, Line)]


def words(result: Result) -> dict[str, tuple[int, int]]:
    drawn = result.drawing()
    assert drawn is not None
    return {
        shape.text.split()[0]: (round(shape.x), round(shape.y)) for shape in drawn.shapes if isinstance(shape, Label)
    }


def test_the_drawing_has_the_mast_at_its_worst_angle() -> None:
    """Begun at 60° it is worst there: 5.5 m of mast end 2.75 m aft of the hinge and 2.75·√3 m above it."""
    result = ask("lift", **MAST, start_angle=60.0, hand_at=2500.0)
    tip = (-2750.0, 2750 * sqrt(3))
    (mast,) = (shape.points for shape in result.drawing().shapes if isinstance(shape, Fill))
    a, b, c, d = mast
    assert (a[0] + d[0], a[1] + d[1]) == pytest.approx((0, 0))
    assert ((b[0] + c[0]) / 2, (b[1] + c[1]) / 2) == pytest.approx(tip)
    assert [hypot(p[0] - q[0], p[1] - q[1]) for p, q in ((a, b), (b, c), (c, d), (d, a))] == pytest.approx(
        [5500, 275, 5500, 275]  # drawn a twentieth as thick as it is long
    )
    # Hands 2 m beyond the hinge push square to it: 1 m aft, √3 m up, then √3 parts up the mast's side to 1 forward.
    x1, y1, x2, y2 = lines(result)[-1]
    assert (x1, y1) == words(result)["hands"] == (-1000, 1732)
    assert (x2 - x1) * tip[0] + (y2 - y1) * tip[1] == pytest.approx(0, abs=5000)
    assert x2 > x1
    assert y2 > y1


def test_the_drawing_has_the_line_from_where_it_is_fast_to_its_lead() -> None:
    """Begun at 30°, fast 4 m beyond the hinge: 2·√3 m aft and 2 m up."""
    result = ask("lift", **MAST, start_angle=30.0, line_at=4500.0, lead_ahead=3000.0, lead_height=2000.0)
    assert result.answers.worst_angle == 30.0
    assert (-3464, 2000, 3000, 2000) in lines(result)
    assert words(result)["lead"] == (3000, 2000)


def test_the_drawing_has_the_pole_square_to_the_mast() -> None:
    """Begun at 30°, the pole of 2 m leans 30° forward: 1 m ahead, √3 m up; its lines go to mast's head and lead."""
    result = ask("lift", **MAST, start_angle=30.0, gin_pole=2000.0, lead_ahead=3000.0)
    assert result.answers.worst_angle == 30.0
    drawn = lines(result)
    assert (0, 0, 1000, 1732) in drawn
    assert (1000, 1732, -4763, 2750) in drawn
    assert (1000, 1732, 3000, 0) in drawn
    assert words(result)["lead"] == (3000, 0)


def test_what_hangs_aloft_moves_the_balance_out() -> None:
    """20 kg two metres beyond the hinge and 5 kg four: 60 kg·m, of 25 kg."""
    answers = ask("lift", **MAST, aloft=5.0, aloft_at=4500.0).answers
    assert (answers.lifted, answers.lever) == (25, pytest.approx(2400))


def test_a_spar_of_no_timber_has_no_weight() -> None:
    of = BOATS["saltmarsh-yawl"]
    known = {**follow(of, of.spar("main mast"), None), "spar.species": None}
    with pytest.raises(InputFault) as caught:
        form.solve(load("lift"), {}, known, of.rule)
    assert caught.value.field == "mass"


def test_a_flat_lead_is_told_with_the_pole_that_helps() -> None:
    result = ask("lift", **MAST, line_at=5500.0, lead_ahead=3000.0, lead_height=400.0)
    assert result.answers.flattest < 15
    assert any("too flat" in caution for caution in result.cautions)
    lower = ask("lift", **MAST, line_at=5500.0, lead_ahead=3000.0, lead_height=2500.0)
    assert not any("too flat" in caution for caution in lower.cautions)


def test_a_gin_pole_is_lighter_than_a_flat_line() -> None:
    flat = ask("lift", **MAST, line_at=5500.0, lead_ahead=3000.0, lead_height=150.0).answers
    pole = ask("lift", **MAST, gin_pole=1500.0, lead_ahead=3000.0).answers
    assert pole.raised == "over a gin pole"
    assert pole.worst_pull < 0.5 * flat.worst_pull


def test_a_folding_mast_is_lifted_above_its_hinge_alone() -> None:
    of = BOATS["saltmarsh-yawl"]
    spar = of.spar("main mast")
    answers = form.solve(load("lift"), {}, follow(of, spar, None), of.rule).answers
    assert answers.turns_at == pytest.approx(609.6)
    whole = form.solve(load("weight"), {}, follow(of, spar, None), of.rule).answers.mass
    assert 0.8 * whole < answers.lifted < 0.95 * whole


@pytest.mark.parametrize(
    ("asked", "field"),
    [
        ({"mass": None}, "mass"),
        ({"balance_at": None}, "balance_at"),
        ({"hinge_at": 2600.0}, "balance_at"),
        ({"hinge_at": 2500.0}, "balance_at"),
        ({"hinge_at": 6000.0, "whole": STICK}, "hinge_at"),
        ({"hand_at": 400.0}, "hand_at"),
        ({"hand_at": 500.0}, "hand_at"),
        ({"line_at": 500.0, "lead_ahead": 3000.0}, "line_at"),
        ({"line_at": 5000.0}, "lead_ahead"),
        ({"lead_ahead": 5000.0}, "line_at"),
        ({"gin_pole": 1500.0}, "lead_ahead"),
        ({"line_at": 400.0, "lead_ahead": 3000.0}, "line_at"),
        ({"line_at": 5000.0, "lead_ahead": 3000.0}, "lead_height"),
        ({"gin_pole": 1500.0, "lead_ahead": 3000.0, "lead_height": 2500.0}, "lead_height"),
    ],
)
def test_what_cannot_be_lifted_is_told(asked: dict[str, float | None], field: str) -> None:
    assert refusal("lift", **{**MAST, **asked}).field == field


def test_hands_and_line_may_be_hard_by_the_hinge() -> None:
    """Half a millimetre beyond it, and the balance point two metres: four thousand times the weight."""
    assert ask("lift", **MAST, hand_at=500.5).answers.worst_pull == pytest.approx(4000 * 20 * G)
    near = ask("lift", **MAST, line_at=500.5, lead_ahead=3000.0, lead_height=2000.0).answers
    assert near.first_pull == pytest.approx(2000 * 20 * G / (0.5 * 2000 / hypot(3000.5, 2000)))


@pytest.mark.parametrize(
    ("asked", "mend"),
    [
        ({"line_at": 5000.0}, "lead it higher, or use a gin pole"),
        ({"gin_pole": 1500.0, "lead_height": 2500.0}, "lead it lower, or further ahead"),
    ],
)
def test_a_lead_that_does_not_lift_is_told_where_to_go(asked: dict[str, float], mend: str) -> None:
    assert refusal("lift", **MAST, lead_ahead=3000.0, **asked).reason.endswith(mend)


def test_the_drawing_has_the_weight_under_its_balance_point() -> None:
    """Begun at 60°, it balances 2 m beyond the hinge: 1 m aft and √3 m up, and its line hangs down from there."""
    result = ask("lift", **MAST, start_angle=60.0, hand_at=5500.0)
    assert (-1000, 1732, -1000, 1045) in lines(result)  # an eighth of 5.5 m, 687.5 mm, below
    assert words(result)["weight"] == (-1000, 815)  # a sixth of it, 916.67 mm, below
