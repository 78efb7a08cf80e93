"""Open belt drive and belt friction. The figures are computed from the standard formulas, exact to the digits shown.

Belt length and wraps: as handbooks print them, L = 2·C·cos β + π(D + d)/2 + β(D − d), sin β = (D − d)/(2C).
Belt friction: Eytelwein's e^(μθ).
"""

from math import exp, log, pi, radians

import pytest

from shopcompanion.spar import belt

from ..asking import ask


@pytest.mark.parametrize(("drum", "spar", "centres", "length"), [(10, 5, 24, 71.822598), (8, 8, 20, 65.132741)])
def test_belt_length(drum: float, spar: float, centres: float, length: float) -> None:
    assert belt.belt_length(drum, spar, centres) == pytest.approx(length, abs=5e-7)
    assert belt.centres(drum, spar, length) == pytest.approx(centres, abs=5e-7)


def test_wraps() -> None:
    """D = 10, d = 5, C = 24: 168.041686° on the small one, 191.958314° on the big one."""
    answers = ask("drum", drum=10.0, widest=5.0, belt_length=71.822598).answers
    assert answers.wrap_spar == pytest.approx(168.041686, abs=1e-6)
    assert answers.wrap_drum == pytest.approx(191.958314, abs=1e-6)


def test_eytelwein() -> None:
    """μ = 0.3 over 180° holds 2.566332 to one. With one friction the greater wrap holds more: that pulley has the belt.

    The drum drives when e^(μ_drum·wrap_drum) > e^(μ_spar·wrap_spar), which `grips` compares by the exponents.
    """
    assert exp(0.3 * pi) == pytest.approx(2.566332, abs=5e-7)
    for drum, spar in ((10, 5), (5, 10), (101.6, 95.0), (95.0, 101.6)):
        for ratio in (0.5, 0.9, 1.0, 1.2, 2.5):
            answers = ask("drum", drum=drum, widest=spar, belt_length=20 * drum, grip_ratio=ratio).answers
            on_drum = exp(0.3 * ratio * radians(answers.wrap_drum))
            on_spar = exp(0.3 * radians(answers.wrap_spar))
            assert (answers.grips == "yes") == (on_drum > on_spar)
            assert log(on_drum / on_spar) != pytest.approx(0, abs=1e-9)  # none of these stands on the edge


def test_equal_wraps_hold_the_published_value_each() -> None:
    answers = ask("drum", drum=8.0, widest=8.0, belt_length=65.132741).answers
    for wrap in (answers.wrap_drum, answers.wrap_spar):
        assert exp(0.3 * radians(wrap)) == pytest.approx(2.566332, abs=5e-7)
    assert answers.grips == "no"  # equal is not enough
