"""Lift: levers by hand, a line's triangle, a gin pole, and what cannot lift."""

from math import cos, hypot, radians, sin

import pytest

from shopcompanion import form
from shopcompanion.catalog import load
from shopcompanion.profile.follow import follow

from ..asking import ask, refusal
from .test_strength import BOATS

G = 9.80665
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
        ({"hand_at": 400.0}, "hand_at"),
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
