"""Regular polygons and circular segments, in the layout of *Machinery's Handbook*.

The figures are computed from the standard formulas, exact to the digits shown; no printing of the book was at hand.
"""

from math import asin, pi, sqrt

import pytest

from shopcompanion.calculators.roundover import waste_area
from shopcompanion.spar.polygon import facet, mark, ridge

from ..asking import ask

# across flats 1: sides, side, across corners, area
POLYGONS = [
    (8, 0.4142135624, 1.0823922003, 0.8284271247),
    (16, 0.1989123674, 1.0195911582, 0.7956494695),
    (32, 0.0984914034, 1.0048385724, 0.7879312269),
]


@pytest.mark.parametrize(("sides", "side", "corners", "area"), POLYGONS)
def test_polygons(sides: int, side: float, corners: float, area: float) -> None:
    assert facet(1, sides) == pytest.approx(side, abs=5e-11)
    assert 1 + 2 * ridge(1, sides) == pytest.approx(corners, abs=5e-11)
    assert sides * facet(1, sides) / 4 == pytest.approx(area, abs=5e-11)  # perimeter times half the inner radius
    answers = ask("facets", width=1.0).answers
    assert getattr(answers, f"facet_{sides}") == pytest.approx(side, abs=5e-11)
    assert 1 + 2 * getattr(answers, f"ridge_{sides}") == pytest.approx(corners, abs=5e-11)


def test_the_line_from_the_edge_of_the_square() -> None:
    """0.2928932188 of the side; 7/24, the spar gauge's 7:10:7, is short of it by 0.0012266."""
    assert mark(1, 8) == pytest.approx(0.2928932188, abs=5e-11)
    assert mark(1, 8) - 7 / 24 == pytest.approx(0.0012266, abs=5e-8)


@pytest.mark.parametrize(
    ("height", "chord", "area"),
    [
        (0.13397, 1.0, 0.09059),  # 60°
        (0.29289, 1.41421, 0.28540),  # 90°
        (0.5, 1.73205, 0.61418),  # 120°
    ],
)
def test_the_corner_a_lowered_bit_takes_off_by_segments(height: float, chord: float, area: float) -> None:
    """Lowered to h, the bit leaves a segment's half of its unit circle beside a rectangle: what is taken is the rest.

    The half chord is the bit's height left in the wood, so h = chord / 2 where the arc ends `height` short of the face.
    """
    h = chord / 2
    inside = area / 2 + h * (1 - height)  # half the segment, and the block between it and the bit's axis
    assert waste_area(1, h) == pytest.approx(h - inside, abs=1.5e-5)
    assert sqrt(1 - h * h) == pytest.approx(1 - height, abs=1e-5)


def test_the_whole_corner_is_the_square_less_the_quarter() -> None:
    assert waste_area(1, 1) == pytest.approx(1 - pi / 4, abs=1e-15)
    assert asin(1) == pytest.approx(pi / 2)


@pytest.mark.parametrize(
    ("height", "chord", "area"),
    [
        (0.13397, 1.0, 0.09059),  # 60°
        (0.29289, 1.41421, 0.28540),  # 90°
        (0.5, 1.73205, 0.61418),  # 120°
    ],
)
def test_a_flat_is_a_segment_of_the_round(height: float, chord: float, area: float) -> None:
    by_width = ask("flat", diameter=2.0, flat_width=chord).answers
    assert by_width.cut_depth == pytest.approx(height, abs=1.5e-5)
    assert pi - by_width.area_left == pytest.approx(area, abs=3e-5)
    by_depth = ask("flat", diameter=2.0, flat_depth=height).answers
    assert by_depth.cut_width == pytest.approx(chord, abs=3e-5)  # of a height to five digits
    assert ask("inlay", diameter=2.0, bar_width=chord, bar_thickness=0.1, hole=0.1).answers.sagitta == pytest.approx(
        height, abs=1.5e-5
    )
