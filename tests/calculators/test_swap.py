"""Swap: closed forms of similar sections, hollow against solid, every timber in one table, those without figures."""

from math import pi

import pytest

from shopcompanion.spar.body import Body
from shopcompanion.spar.outline import Outline
from shopcompanion.timber.species import Own, Species, published

from ..asking import ask, refusal
from .test_strength import FIXED, TIP

SITKA = {"species": "Spruce, Sitka", "other": "Douglas-fir, Coast", "width": 100.0, "length": 4000.0}


def test_the_same_stiffness_and_strength() -> None:
    """d·(E₁/E₂)^¼ and d·(MOR₁/MOR₂)^⅓ by the Wood Handbook's figures: 10.8 and 13.4 GPa, 70 and 85 MPa."""
    answers = ask("swap", **SITKA).answers
    assert answers.stiff_width == pytest.approx(100 * (10800 / 13400) ** 0.25)
    assert answers.strong_width == pytest.approx(100 * (70 / 85) ** (1 / 3))
    assert answers.wanted_width == answers.stiff_width
    assert answers.mass_now == pytest.approx(448.0 * pi / 4 * 0.1**2 * 4)
    assert answers.mass_then == pytest.approx(537.6 * pi / 4 * (answers.wanted_width / 1000) ** 2 * 4)


def test_the_swapped_spar_is_as_stiff_and_strong_by_strength() -> None:
    outline = ((0.0, 80.0), (3000.0, 60.0))
    asked = {"supports": FIXED, "loads": TIP, "own_weight": "no"}
    now = ask("strength", **asked, species="Spruce, Sitka", outline=outline).answers
    ratio = ask("swap", **SITKA).answers.wanted_width / 100
    wide = tuple((at, width * ratio) for at, width in outline)
    then = ask("strength", **asked, species="Douglas-fir, Coast", outline=wide).answers
    assert then.tip_deflection == pytest.approx(now.tip_deflection, rel=1e-6)
    assert then.factor >= now.factor


def test_hollow_for_solid() -> None:
    """A ring of the same second moment: D⁴ − d⁴ of it is the solid's; and the wall at the same outside likewise."""
    answers = ask("swap", **SITKA, wall_ratio=0.2).answers
    wide, hole = answers.hollow_width, answers.hollow_width - 2 * answers.hollow_wall
    assert wide**4 - hole**4 == pytest.approx(answers.stiff_width**4)
    assert answers.hollow_mass == pytest.approx(537.6 * pi / 4 * (wide**2 - hole**2) * 4e-6)
    wall = answers.same_outside_wall
    assert wall < 50
    assert 13400 * (100**4 - (100 - 2 * wall) ** 4) == pytest.approx(10800 * 100**4)
    assert ask("swap", **{**SITKA, "other": "Cedar, Western redcedar"}).answers.same_outside_wall is None


def test_every_timber_stands_in_the_table_the_lightest_first() -> None:
    own = Own((Species("Pine, from the barn", 0.47),))
    result = ask("swap", **SITKA, own=own)
    (table,) = result.tables
    assert {row[0].removesuffix(" (no figures)") for row in table.rows} == {
        "Pine, from the barn", *(timber.name for timber in published()),
    }  # fmt: skip
    ratios = [row[5] for row in table.rows if row[5] is not None]
    assert ratios == sorted(ratios)
    assert [row[0] for row in table.rows if row[5] is None] == ["Pine, from the barn (no figures)"]
    same = next(row for row in table.rows if row[0] == "Spruce, Sitka")
    assert same[1:4] == (100.0, 100.0, 100.0)
    assert same[4] == result.answers.mass_now
    fir = next(row for row in table.rows if row[0] == "Douglas-fir, Coast")
    assert fir[4] == pytest.approx(result.answers.mass_then)


def test_with_no_other_it_is_the_lightest() -> None:
    result = ask("swap", species="Ash, White", width=80.0)
    assert result.answers.timber_then == result.tables[0].rows[0][0]
    assert result.answers.mass_now is None


def test_a_timber_without_figures_is_refused() -> None:
    own = Own((Species("Pine, from the barn", 0.47),))
    assert refusal("swap", **{**SITKA, "other": "barn"}, own=own).field == "other"
    assert refusal("swap", **{**SITKA, "species": "barn"}, own=own).field == "species"
    assert refusal("swap", **{**SITKA, "other": "plasticine"}).field == "other"
    stiff = Own((Species("Larch, from the barn", 0.5, modulus=9000.0),))
    assert refusal("swap", **{**SITKA, "other": "larch, from"}, own=stiff).field == "other"


def test_the_same_timber_has_no_wall_at_the_same_outside() -> None:
    assert ask("swap", **{**SITKA, "other": "Spruce, Sitka"}).answers.same_outside_wall is None


def test_the_spar_of_the_boat_weighs_by_its_own_taper() -> None:
    """A cone of 80 to 40 mm, 1 m long: π/12·(80² + 80·40 + 40²)·1000 mm³; half as wide everywhere, a quarter of it."""
    cone = Body(Outline(((0.0, 80.0), (1000.0, 40.0))))
    known = 448e-9 * pi / 12 * (80**2 + 80 * 40 + 40**2) * 1000
    for width, part in ((80.0, 1.0), (40.0, 0.25)):
        answers = ask("swap", **{**SITKA, "width": width}, whole=cone).answers
        assert answers.mass_now == pytest.approx(known * part)


def test_tests_of_two_books_are_not_ranked() -> None:
    mixed = ask("swap", **{**SITKA, "other": "Whitewood, European (Picea abies, Europe)"})
    assert any("BR 241" in caution for caution in mixed.cautions)
    assert not any("BR 241" in caution for caution in ask("swap", **SITKA).cautions)


def test_timbers_that_weigh_the_same_stand_by_name() -> None:
    sitka = next(timber for timber in published() if timber.name == "Spruce, Sitka")
    own = Own((sitka._replace(name="Zebra spruce"), sitka._replace(name="Able spruce")))
    names = [row[0] for row in ask("swap", **SITKA, own=own).tables[0].rows]
    at = names.index("Spruce, Sitka")
    assert names[at - 1] == "Able spruce"
    assert names[at + 1] == "Zebra spruce"


def test_a_hollow_spars_wall_is_made_thicker_with_it() -> None:
    spar = Body(Outline(((0.0, 100.0), (4000.0, 80.0))), section="hollow", wall=20.0)
    result = ask("swap", **SITKA, whole=spar)
    target = result.calculator.target(result.inputs, result.answers)
    assert target.wall == pytest.approx(20 * result.answers.wanted_width / 100)
