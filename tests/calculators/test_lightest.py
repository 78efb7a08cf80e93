"""Lightest: as stiff, as strong and no sooner buckled out of less wood; verified, and what cannot be found is told."""

from math import pi

import pytest

from shopcompanion import form
from shopcompanion.calculators.lightest import Limits, UnderLoad, governs
from shopcompanion.catalog import load
from shopcompanion.profile.follow import follow
from shopcompanion.spar.body import Body
from shopcompanion.spar.outline import Outline

from ..asked.lightest import _HOLLOW, _PLAIN, _PRESSED
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


POLE = Body(Outline(_PLAIN["outline"]))  # 90 mm to 80 mm


def at_limits(then: UnderLoad, limits: Limits, **asked: float) -> str:
    return governs(load("lightest").inputs(**_PLAIN, **asked), then, limits, POLE)


@pytest.mark.parametrize(
    ("moves", "factor", "load_factor", "words"),
    [
        (99.4, 5.03, 2.02, "its fittings, or how thin a place may be"),
        (99.6, 5.03, 2.02, "how far it moves"),
        (99.4, 5.02, 2.02, "the factor against breaking"),
        (99.4, 5.03, 2.005, "the factor against buckling"),
        (99.6, 5.02, 2.005, "how far it moves and the factor against breaking and the factor against buckling"),
    ],
)
def test_within_half_a_percent_of_a_limit_it_is_at_it(moves, factor, load_factor, words) -> None:
    """It may move 100 mm, with factors of 5 and 2 at least; how wide it may be is far off."""
    then = UnderLoad(10.0, moves, factor, load_factor)
    assert at_limits(then, Limits(100.0, 5.0, 2.0), most_width=110.0) == words


def test_what_is_not_limited_is_no_limit() -> None:
    assert at_limits(UnderLoad(10.0, 99.9, 6.0, None), Limits(None, 5.0, None), most_width=110.0).startswith("its fit")


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"most_width": 90.0}, "how wide it may be"),
        ({"most_width": 90.05}, "how wide it may be"),
        ({"most_width": 90.15}, "its fittings, or how thin a place may be"),
        ({"most_width": 110.0, "least_width": 80.0}, "the least width at the head"),
        ({"most_width": 110.0, "least_width": 79.95}, "the least width at the head"),
        ({"most_width": 110.0, "least_width": 79.85}, "its fittings, or how thin a place may be"),
    ],
)
def test_within_a_thousandth_of_a_width_it_is_at_it(asked: dict[str, float], words: str) -> None:
    """The pole is 90 mm at its widest and 80 mm at its head."""
    assert at_limits(UnderLoad(10.0, 50.0, 9.0, None), Limits(100.0, 5.0, None), **asked) == words


def test_where_nothing_is_said_a_twentieth_more_is_how_wide_it_may_be() -> None:
    assert "how wide it may be" in ask("lightest", **_PLAIN).answers.governs
    assert "how wide" not in at_limits(UnderLoad(10.0, 50.0, 9.0, None), Limits(100.0, 5.0, None))


def test_its_tables_have_the_eighths_of_its_length_and_what_is_to_spare() -> None:
    result = ask("lightest", **_PLAIN)
    stations, spare = result.tables
    assert [row[0] for row in stations.rows] == [500.0 * k for k in range(9)]
    new = dict(result.answers.new_widths)
    for at, now, then, less in stations.rows:
        assert now == pytest.approx(90 - at / 400)
        assert less == pytest.approx(now - then)
        assert at not in new or then == pytest.approx(new[at])
    left = dict(spare.rows)
    assert (1 - left["how far it moves"] / 100) * result.answers.deflection_now == pytest.approx(
        result.answers.deflection_then
    )
    assert (1 + left["factor against breaking"] / 100) * result.answers.factor_now == pytest.approx(
        result.answers.factor_then
    )


def test_the_buckling_that_is_to_spare_is_of_todays() -> None:
    result = ask("lightest", **_PRESSED)
    left = dict(result.tables[1].rows)["factor against buckling"]
    answers = result.answers
    assert (1 + left / 100) * answers.load_factor_now == pytest.approx(answers.load_factor_then)


def test_only_a_lighter_spar_of_the_boat_can_be_put_on_it() -> None:
    target = load("lightest").target
    alone = ask("lightest", **_PLAIN)
    assert target(alone.inputs, alone.answers) is None
    inputs = alone.inputs._replace(whole=POLE)
    put = target(inputs, alone.answers)
    assert put is not None
    assert put.widths == alone.answers.new_widths
    assert target(inputs, alone.answers._replace(saved=0.0)) is None
    other = alone.inputs._replace(whole=Body(Outline(((0.0, 90.0), (2000.0, 86.0), (4000.0, 80.0)))))
    assert target(other, alone.answers) is None


def test_by_a_books_table_every_width_changes_alike() -> None:
    """So stress goes by the cube of the part, and bending by its fourth power."""
    book = Outline.published("kemp 1880 bowsprit", 4000.0, 1000.0, 90.0)
    asked = {**_PLAIN, "outline": book.stations, "law": book.law, "deflection_ok": 300.0, "factor_ok": 3.0}
    answers = ask("lightest", **asked).answers
    parts = [new / old for (_, new), (_, old) in zip(answers.new_widths, book.stations, strict=True)]
    assert parts == pytest.approx([parts[0]] * len(parts))
    by_factor, by_bend = (3 / answers.factor_now) ** (1 / 3), (answers.deflection_now / 300) ** 0.25
    assert 0.7 < max(by_factor, by_bend) < 1
    assert parts[0] == pytest.approx(max(by_factor, by_bend), rel=2e-3)
    assert answers.new_law == "faired"


def test_the_wall_of_a_hollow_is_made_no_thinner_than_an_eighth_of_the_spar_or_so() -> None:
    """0.12 of 80 mm at its narrowest, and no more than twice as thick as now."""
    answers = ask("lightest", **_HOLLOW).answers
    assert 0.12 * 80 - 1e-6 <= answers.new_wall <= 50
    assert answers.mass_then < 0.7 * answers.mass_now
    thin = ask("lightest", **{**_HOLLOW, "wall": 8.0, "deflection_ok": 400.0, "factor_ok": 2.5}).answers
    assert thin.new_wall >= 8 - 1e-6  # thinner than that already: no thinner still
