"""Lightest: as stiff, as strong and no sooner buckled out of less wood; verified, and what cannot be found is told."""

from math import pi

import pytest

from shopcompanion import form
from shopcompanion.catalog import load
from shopcompanion.profile.follow import follow

from ..asked.lightest import _PLAIN
from ..asking import ask, refusal
from .test_strength import BOATS


def test_with_room_at_the_wall_a_cantilever_gives_its_wood_to_the_root() -> None:
    answers = ask("lightest", **_PLAIN, most_width=110.0).answers
    assert answers.saved > 0.05 * answers.mass_now
    assert answers.new_widths[0][1] > 90
    assert answers.new_widths[-1][1] < 80
    assert answers.deflection_then <= answers.deflection_now * (1 + 1e-6)
    assert answers.factor_then >= answers.factor_now * (1 - 1e-6)


def test_bound_by_its_strength_alone_a_cone_thins_to_two_thirds() -> None:
    """A cone with a load at its tip is worked hardest at its root as long as that is no more than one and a half times
    its tip (outside checks, proved): from 90 mm at the root the lightest of the same strength ends in 60 mm."""
    answers = ask("lightest", **_PLAIN, deflection_ok=1e6, least_width=20.0, most_width=90.0).answers
    assert answers.new_widths[0][1] == pytest.approx(90, rel=1e-4)
    assert answers.new_widths[-1][1] == pytest.approx(60, rel=2e-3)
    frustum = pi / 12 * 4000 * (90**2 + 90 * 60 + 60**2) * 448e-9
    assert answers.mass_then == pytest.approx(frustum, rel=2e-3)
    assert answers.governs == "the factor against breaking and how wide it may be"


def test_it_may_be_a_twentieth_wider_and_no_place_a_third_thinner_where_nothing_is_said() -> None:
    answers = ask("lightest", **_PLAIN).answers
    assert answers.saved > 0
    now = dict(_PLAIN["outline"])
    assert all(0.7 * now[at] <= width <= 1.05 * 90 + 1e-6 for at, width in answers.new_widths)
    kept = ask("lightest", **_PLAIN, most_width=90.0).answers
    assert max(width for _, width in kept.new_widths) <= 90 + 1e-6


def test_the_head_keeps_its_least_width() -> None:
    answers = ask("lightest", **_PLAIN, most_width=110.0, least_width=75.0).answers
    assert answers.new_widths[-1][1] >= 75.0 - 1e-6


def test_a_mast_of_the_boat() -> None:
    of = BOATS["fjord-lugger"]
    result = form.solve(load("lightest"), {"most_width": "112 mm"}, follow(of, of.spar("mast"), None), of.rule)
    answers = result.answers
    assert answers.new_law == "bowed"
    assert answers.mass_then < 0.99 * answers.mass_now
    assert answers.deflection_then <= answers.deflection_now * (1 + 1e-6)
    assert [at for at, _ in answers.new_widths] == [0.0, 620.0, 1900.0, 5400.0]
    assert any("not proved" in caution for caution in result.cautions)


def test_what_cannot_be_found_is_told() -> None:
    assert refusal("lightest", **_PLAIN, deflection_ok=20.0).field == "most_width"
    assert refusal("lightest", **_PLAIN, most_width=40.0).field == "most_width"
    assert refusal("lightest", **_PLAIN, least_width=95.0).field == "least_width"
    bare = {name: value for name, value in _PLAIN.items() if name != "species"}
    assert refusal("lightest", **bare, modulus=9000.0, rupture=60.0).field == "species"


@pytest.mark.parametrize("boat", BOATS)
def test_no_spar_of_the_demo_boats_gets_heavier(boat: str) -> None:
    of = BOATS[boat]
    for spar in of.spars:
        answers = form.solve(load("lightest"), {}, follow(of, spar, None), of.rule).answers
        assert answers.saved >= -1e-9, spar.name
