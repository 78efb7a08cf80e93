"""Common practice, no source: what spar makers hold to be so, and the companion has to agree with."""

import pytest

from ..asking import typed


def test_the_drum_is_bigger_than_any_diameter_of_the_spar() -> None:
    """Common practice, no source."""
    for drum, spar, grips in (("4", "3-1/2", "yes"), ("4", "4", "no"), ("3-1/2", "4", "no")):
        assert typed("drum", drum=drum, belt_length="36", widest=spar).answers.grips == grips


def test_a_one_inch_radius_rounds_a_two_inch_square() -> None:
    """Common practice, no source: a bit of half the side turns a square into a round."""
    answers = typed("roundover", stock="2", bit_radius="1").answers
    assert (answers.verdict, answers.flat_left) == ("full round", 0)
    assert typed("roundover", stock="2-1/8", bit_radius="1").answers.verdict == "leaves flats"
    assert typed("roundover", stock="1-7/8", bit_radius="1").answers.verdict == "bit too big"


def test_a_mast_of_three_and_a_half_inches_tapers_to_two_and_a_quarter() -> None:
    """Common practice, no source: half of the difference comes off each face at the head, nothing at the heel."""
    mast = {"length": "16 ft", "butt": "3-1/2", "head": "2-1/4"}
    shown = [typed("taper", **mast, at=at).as_json()["answers"]["off_each_face"]["text"] for at in ("0", "8'", "16'")]
    assert shown == ["0 in", "5/16 in", "5/8 in"]


def test_the_gauge_of_seven_ten_seven_is_near_the_octagon() -> None:
    """Common practice, no source: 7:10:7 of the side; it marks the side facets narrower by a quarter of a percent."""
    answers = typed("facets", width="24").answers
    assert answers.mark_8 / 25.4 == pytest.approx(7, abs=0.03)
    assert answers.facet_8 / 25.4 == pytest.approx(10, abs=0.06)
    assert answers.mark_8 / 25.4 > 7


def test_eight_then_sixteen_then_plane_and_sand() -> None:
    """Common practice, no source: at the size of a small boat's spars, sixteen sides are near enough to sand round."""
    for width in ("2", "2-1/2"):
        assert typed("facets", width=width, ridge_ok="1/32").answers.sides_needed == 16
