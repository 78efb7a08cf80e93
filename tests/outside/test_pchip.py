"""The faired law against scipy's own PCHIP, to the last digits (a general-purpose library; nothing from a book)."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator

from shopcompanion.spar import faired
from shopcompanion.spar.outline import Outline


@st.composite
def stations(draw: st.DrawFn) -> list[tuple[float, float]]:
    ats = [0.0, *sorted(draw(st.sets(st.floats(1, 9999), min_size=2, max_size=9)))]
    ats = [at for at, before in zip(ats, [-1.0, *ats], strict=False) if at - before > 0.5]
    if len(ats) < 3:
        ats = [0.0, 100.0, 250.0]
    width = st.floats(5, 500) | st.sampled_from([50.0, 60.0])  # equal neighbours among them
    return [(at, draw(width)) for at in ats]


@given(stations())
def test_widths_slopes_and_knots(points: list[tuple[float, float]]) -> None:
    known = PchipInterpolator(*zip(*points, strict=True))
    rises = known.derivative()
    spar = Outline(tuple(points), "faired")
    for at in np.linspace(0, spar.length, 101):
        assert spar.width_at(at) == pytest.approx(known(at), rel=1e-12)
        # a steep piece magnifies the last digit of the station
        assert spar.slope_at(at) == pytest.approx(-rises(at), rel=1e-9, abs=1e-9)
    for k, (at, _) in enumerate(points):
        assert faired.slope(points, k) == pytest.approx(rises(at), rel=1e-9, abs=1e-12)


@given(stations(), st.floats(0.01, 0.99))
def test_where_a_width_is_passed(points: list[tuple[float, float]], part: float) -> None:
    spar = Outline(tuple(points), "faired")
    assume(spar.widest > spar.narrowest)
    width = spar.narrowest + part * (spar.widest - spar.narrowest)
    known = PchipInterpolator(*zip(*points, strict=True)).solve(width, extrapolate=False)
    crossing = spar.crossings(width)
    for at in crossing:
        assert spar.width_at(at) == pytest.approx(width, rel=1e-9)
    for at in known[~np.isnan(known)]:
        nearest = min(crossing, key=lambda crossing: abs(crossing - at))
        # level places have a width over a stretch
        assert abs(nearest - at) < 1e-3 or spar.width_at((nearest + at) / 2) == pytest.approx(width, rel=1e-9)


def test_two_stations_are_a_straight_line() -> None:
    two = ((0.0, 60.0), (2000.0, 40.0))
    for at in (0.0, 1.0, 700.0, 2000.0):
        assert Outline(two, "faired").width_at(at) == pytest.approx(Outline(two).width_at(at), rel=1e-15)
        assert Outline(two, "faired").slope_at(at) == pytest.approx(0.01, rel=1e-12)
