"""Volume and surface of tapered bodies against closed forms of geometry and numerical integration by scipy.

A cone frustum of radii 5 and 3 and height 10 has a volume of 513.1268001 and a lateral area of 256.3046759 (computed;
standard formulas). A pyramid's frustum: h/3·(A + B + √(A·B)).
"""

from math import hypot, pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from shopcompanion.spar.body import Body
from shopcompanion.spar.outline import Outline

LENGTH = st.floats(100, 9000)
WIDTH = st.floats(10, 300)


def test_the_cone_frustum() -> None:
    spar = Body(Outline(((0.0, 10.0), (10.0, 6.0))))
    assert spar.volume() == pytest.approx(513.1268001, abs=5e-8)
    assert spar.side_area() == pytest.approx(256.3046759, abs=5e-8)
    assert spar.end_area == pytest.approx(pi * (25 + 9))


@given(LENGTH, WIDTH, WIDTH)
def test_cones_by_the_standard_formulas(length: float, a: float, b: float) -> None:
    spar = Body(Outline(((0.0, a), (length, b))))
    assert spar.volume() == pytest.approx(pi * length / 12 * (a * a + a * b + b * b), rel=1e-12)
    assert spar.side_area() == pytest.approx(pi * (a + b) / 2 * hypot(length, (a - b) / 2), rel=1e-12)
    balance = length / 4 * (a * a + 2 * a * b + 3 * b * b) / (a * a + a * b + b * b)  # centroid of a frustum
    assert spar.balance_at == pytest.approx(balance, rel=1e-12)


@given(LENGTH, WIDTH, WIDTH)
def test_pyramids_by_the_standard_formulas(length: float, a: float, b: float) -> None:
    outline = Outline(((0.0, a), (length, b)))
    octagon = 2 * (sqrt(2) - 1)
    for section, part, sides in (("square", 1.0, 4.0), ("eight", octagon, 4 * octagon)):
        spar = Body(outline, section=section)
        heel_area, other = part * a * a, part * b * b
        assert spar.volume() == pytest.approx(length / 3 * (heel_area + other + sqrt(heel_area * other)), rel=1e-12)
        assert spar.side_area() == pytest.approx(sides * (a + b) / 2 * hypot(length, (a - b) / 2), rel=1e-12)


@given(LENGTH, WIDTH, WIDTH, WIDTH, WIDTH)
def test_a_rectangular_beam_by_the_prismoid(length: float, a: float, b: float, c: float, d: float) -> None:
    """Simpson's rule is exact for it: h/6·(A + 4M + B). Its sides are four plane trapezia."""
    spar = Body(Outline(((0.0, a), (length, b))), Outline(((0.0, c), (length, d))), "square")
    assert spar.volume() == pytest.approx(length / 6 * (a * c + (a + b) * (c + d) + b * d), rel=1e-12)
    wide = (a + b) * hypot(length, (c - d) / 2)
    deep = (c + d) * hypot(length, (a - b) / 2)
    assert spar.side_area() == pytest.approx(wide + deep, rel=1e-12)


@given(LENGTH, WIDTH, st.floats(0.1, 1))
def test_a_bowed_spar_by_its_polynomial(length: float, widest: float, part: float) -> None:
    """∫(1 − k·t²)² dt = 1 − 2k/3 + k²/5."""
    spar = Body(Outline(((0.0, widest), (length, widest * part)), "bowed"))
    k = 1 - part
    assert spar.volume() == pytest.approx(pi / 4 * widest**2 * length * (1 - 2 * k / 3 + k * k / 5), rel=1e-12)


@given(st.lists(WIDTH, min_size=3, max_size=6), st.sampled_from(["straight", "faired"]))
def test_any_outline_against_scipys_integration(widths: list[float], law: str) -> None:
    spar = Body(Outline(tuple((700.0 * k, width) for k, width in enumerate(widths)), law))

    def over(of) -> float:
        return sum(quad(of, 700 * k, 700 * (k + 1), epsabs=0, epsrel=1e-11)[0] for k in range(len(widths) - 1))

    outline = spar.outline
    assert spar.volume() == pytest.approx(over(lambda at: pi / 4 * outline.width_at(at) ** 2), rel=1e-9)
    side = over(lambda at: pi * outline.width_at(at) * hypot(1, outline.slope_at(at) / 2))
    assert spar.side_area() == pytest.approx(side, rel=1e-7)
    first = over(lambda at: at * pi / 4 * outline.width_at(at) ** 2)
    assert spar.moment() == pytest.approx(first, rel=1e-9)
