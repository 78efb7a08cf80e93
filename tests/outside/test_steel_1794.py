"""David Steel, The Elements and Practice of Rigging and Seamanship, 1794: diameters as parts of the largest.

Masts seen in a copy: rough-tree masts above the partners 60/61, 13/14, 6/7, hounds 2/3, heel 5/6. Yards and
gaffs at second hand, from a later note: yards from the slings by quarters 30/31, 7/8, 7/10, arm 3/7; gaffs 40/41,
11/12, 4/5, 5/9. The sizes of the spars here are ours.
"""

from fractions import Fraction

import pytest

from ..asking import ask

YARD = ("30/31", "7/8", "7/10", "3/7")
GAFF = ("40/41", "11/12", "4/5", "5/9")
MAST = ("60/61", "13/14", "6/7", "2/3")


def width(law: str, at: float, widest: float, widest_at: float | None = None) -> float:
    """On a spar of 12 m."""
    return ask("taper", length=12000.0, law=law, widest=widest, widest_at=widest_at, at=at).answers.width_at


@pytest.mark.parametrize(("quarter", "part"), list(enumerate(YARD, 1)))
def test_a_yard_from_the_slings_to_either_arm(quarter: int, part: str) -> None:
    for way in (-1, 1):
        at = 6000 + way * 1500 * quarter
        assert width("steel 1794 yard", at, 310.0) == pytest.approx(310 * float(Fraction(part)), rel=1e-12)
    assert width("steel 1794 yard", 6000.0, 310.0) == 310


@pytest.mark.parametrize(("quarter", "part"), list(enumerate(GAFF, 1)))
def test_a_gaff_from_the_jaws_to_the_outer_end(quarter: int, part: str) -> None:
    assert width("steel 1794 gaff", 3000.0 * quarter, 205.0) == pytest.approx(205 * float(Fraction(part)), rel=1e-12)


@pytest.mark.parametrize(("quarter", "part"), list(enumerate(MAST, 1)))
def test_a_mast_from_the_partners_to_the_hounds(quarter: int, part: str) -> None:
    at = 2000.0 + 2500 * quarter
    assert width("steel 1794 mast", at, 305.0, 2000.0) == pytest.approx(305 * float(Fraction(part)), rel=1e-12)


def test_a_mast_at_the_partners_and_the_heel() -> None:
    assert width("steel 1794 mast", 2000.0, 305.0, 2000.0) == 305
    assert width("steel 1794 mast", 0.0, 305.0, 2000.0) == pytest.approx(305 * 5 / 6, rel=1e-12)
