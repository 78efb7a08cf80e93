"""An open belt: its closed forms against root finding (scipy) and against shapely's own idea of a taut string."""

from math import cos, pi, sin

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import brentq

from shopcompanion.spar import belt

DIAMETER = st.floats(10, 300)
BELT = st.floats(300, 4000)
GRIP = st.floats(0.05, 20)


def grips(drum: float, spar: float, length: float, ratio: float) -> float:
    """Grip of the drum over that of the spar, as a difference of friction times wrap: more than nothing drives."""
    apart = belt.centres(drum, spar, length)
    assert apart is not None
    lean = belt.lean(drum, spar, apart)
    return ratio * (pi + 2 * lean) - (pi - 2 * lean)


@given(DIAMETER, DIAMETER, st.floats(1.001, 20))
def test_the_length_is_the_outline_of_both_circles(drum: float, spar: float, out: float) -> None:
    """The convex hull of two discs is what a taut belt encloses."""
    apart = out * (drum + spar) / 2
    discs = [shapely.Point(x, 0).buffer(d / 2, quad_segs=2000) for x, d in ((0, drum), (apart, spar))]
    hull = shapely.union_all(discs).convex_hull
    assert belt.belt_length(drum, spar, apart) == pytest.approx(hull.length, rel=1e-6)


@given(DIAMETER, DIAMETER, BELT)
def test_centres_give_the_belt_back(drum: float, spar: float, length: float) -> None:
    apart = belt.centres(drum, spar, length)
    touching = (drum + spar) / 2
    if apart is None:
        assert length <= belt.belt_length(drum, spar, touching) + 1e-9
    else:
        assert apart > touching
        assert belt.belt_length(drum, spar, apart) == pytest.approx(length, rel=1e-9)


@given(DIAMETER, BELT, GRIP)
def test_the_smallest_drum_is_the_root_of_the_grip(spar: float, length: float, ratio: float) -> None:
    smallest = belt.smallest_drum(spar, length, ratio)
    most = belt.largest_reached(spar, length)  # the largest drum the belt goes round beside this spar
    assume(most > 1)
    least, most = 1e-6, most * (1 - 1e-9)
    low, high = grips(least, spar, length, ratio), grips(most, spar, length, ratio)
    if low < 0 < high:
        root = brentq(lambda drum: grips(drum, spar, length, ratio), least, most, xtol=1e-10)
        assert smallest == pytest.approx(root, abs=1e-6)
    elif abs(low) > 1e-6 and abs(high) > 1e-6:
        assert smallest is None


@given(DIAMETER, BELT, GRIP)
def test_the_largest_spar_driven_is_the_root_of_the_grip(drum: float, length: float, ratio: float) -> None:
    largest = belt.largest_spar(drum, length, ratio)
    most = belt.largest_reached(drum, length)
    assume(most > 1)
    least, most = 1e-6, most * (1 - 1e-9)
    low, high = grips(drum, least, length, ratio), grips(drum, most, length, ratio)
    if high < 0 < low:
        root = brentq(lambda spar: grips(drum, spar, length, ratio), least, most, xtol=1e-10)
        assert largest == pytest.approx(root, abs=1e-6)
    elif abs(low) > 1e-6 and abs(high) > 1e-6:
        assert largest is None


@given(DIAMETER, BELT)
def test_with_equal_grip_the_drum_must_be_the_bigger_one(diameter: float, length: float) -> None:
    reaches = belt.centres(diameter, diameter, length) is not None
    wanted = pytest.approx(diameter, rel=1e-12) if reaches else None
    assert belt.smallest_drum(diameter, length, 1) == wanted
    assert belt.largest_spar(diameter, length, 1) == wanted


@given(DIAMETER, DIAMETER, BELT, GRIP)
def test_a_thinner_spar_is_driven_if_a_thicker_one_is(drum: float, spar: float, length: float, ratio: float) -> None:
    assume(belt.centres(drum, spar, length) is not None)
    assert grips(drum, spar * 0.9, length, ratio) > grips(drum, spar, length, ratio)


@given(GRIP)
def test_at_the_lean_of_slip_both_grip_alike(ratio: float) -> None:
    lean = belt.lean_at_slip(ratio)
    assert ratio * (pi + 2 * lean) == pytest.approx(pi - 2 * lean)


@given(DIAMETER, BELT)
def test_the_largest_spar_reached_just_touches_the_drum(drum: float, length: float) -> None:
    spar = belt.largest_reached(drum, length)
    if spar < 1e-6:
        assert belt.centres(drum, 1e-6, length) is None
    else:
        touching = (drum + spar) / 2
        assert belt.belt_length(drum, spar, touching) == pytest.approx(length, rel=1e-9)


@given(DIAMETER, DIAMETER, st.floats(1.01, 10))
def test_the_straight_runs_are_tangents(drum: float, spar: float, out: float) -> None:
    apart = out * (drum + spar) / 2
    lean = belt.lean(drum, spar, apart)
    # the run's direction stands square on both radii, which lean alike
    run = (apart + (spar - drum) / 2 * sin(lean), (spar - drum) / 2 * cos(lean))
    assert run[0] * sin(lean) + run[1] * cos(lean) == pytest.approx(0, abs=1e-9 * apart)


def test_a_belt_that_just_goes_round_both_touching_does_not_reach() -> None:
    """Two circles of 8 mm that touch: two straight runs of 8 mm and two half circles."""
    touching = 16 + 8 * pi
    assert belt.centres(8, 8, touching) is None
    assert belt.centres(8, 8, touching + 2) == pytest.approx(9)
    assert belt.smallest_drum(8, touching, 1) is None
    assert belt.largest_spar(8, touching, 1) is None
    assert belt.smallest_drum(8, touching + 2, 1) == belt.largest_spar(8, touching + 2, 1) == pytest.approx(8)


@given(DIAMETER, BELT, GRIP)
def test_at_a_thousandth_of_the_size_everything_is_a_thousandth(diameter: float, length: float, ratio: float) -> None:
    for solve in (belt.smallest_drum, belt.largest_spar):
        whole, small = solve(diameter, length, ratio), solve(diameter / 1000, length / 1000, ratio)
        assert (small and small * 1000) == (whole and pytest.approx(whole, rel=1e-9, abs=1e-6))
