"""NIST Special Publication 811, *Guide for the Use of the International System of Units*, appendix B.8.

From memory, the document not at hand; the first four are exact by definition, the last is as printed.
"""

import pytest

from shopcompanion.lengths import INCH, read
from shopcompanion.units import factor


@pytest.mark.parametrize(
    ("unit", "into", "published", "tolerance"),
    [
        ("in", "mm", 25.4, 1e-12),
        ("ft", "mm", 304.8, 1e-12),
        ("lb", "kg", 0.45359237, 1e-12),
        ("lbf", "N", 4.4482216152605, 1e-12),
        ("lbf/in^2", "Pa", 6894.757, 0.0005 / 6894.757),
        ("psi", "Pa", 6894.757, 0.0005 / 6894.757),
    ],
)
def test_factors(unit: str, into: str, published: float, tolerance: float) -> None:
    assert factor(unit, into) == pytest.approx(published, rel=tolerance)


def test_the_grammar_has_the_inch_and_the_foot_exact() -> None:
    assert INCH * 10 == 254
    assert read("1 ft") * 10 == 3048
