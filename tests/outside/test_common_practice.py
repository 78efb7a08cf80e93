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


def test_a_gauge_of_seven_ten_seven_marks_the_thin_end_too_near_the_edge() -> None:
    """Common practice, no source: pins of 1/2 in on a 4 in spar, 2-1/2 in at its thin end: 0.038 in, computed."""
    answers = typed("gauge", widest="4", narrowest="2-1/2", pin="1/2", clearance="0", ratio="7:10:7").answers
    assert answers.error_narrowest / 25.4 == pytest.approx(-0.038, abs=5e-4)
    assert answers.error_worst == answers.error_narrowest


def test_the_rule_laid_slantwise_has_its_ticks_at_seven_and_seventeen() -> None:
    """Common practice, no source: 24 units across the work, whatever its width."""
    answers = typed("gauge", widest="5", narrowest="2").answers
    assert (answers.slant_near / answers.slant_span, answers.slant_far / answers.slant_span) == (
        pytest.approx(7 / 24),
        pytest.approx(17 / 24),
    )


def test_the_first_chamfer_of_a_hemisphere_begins_0_5858_of_its_radius_back() -> None:
    """Common practice, no source: 45° first."""
    answers = typed("tip", diameter="2").answers
    assert (answers.set_back_1 / 25.4, answers.angle_1) == (pytest.approx(0.5858, abs=5e-5), pytest.approx(45))
    assert answers.bit_height / 25.4 == pytest.approx(0.5858, abs=5e-5)


def test_eight_then_sixteen_then_plane_and_sand() -> None:
    """Common practice, no source: at the size of a small boat's spars, sixteen sides are near enough to sand round."""
    for width in ("2", "2-1/2"):
        assert typed("facets", width=width, ridge_ok="1/32").answers.sides_needed == 16


def test_a_half_lap_takes_half_from_each() -> None:
    """Common practice, no source: equal stock, half of it from each, flush on both faces."""
    answers = typed("lap", stock_thickness="3", length="40", at="20").answers
    assert (answers.lap_depth, answers.crossing_depth) == (pytest.approx(1.5 * 25.4), pytest.approx(1.5 * 25.4))
    assert answers.proud is None


def test_butts_are_not_laid_side_by_side() -> None:
    """Common practice, no source: short strips end to end, the joints of neighbours well apart."""
    plank = {"needed_width": "7", "needed_length": "5 ft", "thickness": "1"}
    answers = typed("glueup", strips="2 x 2-1/2 = 42; 2 x 2-1/2 = 22; 2-1/2 = 6 ft", **plank).answers
    assert answers.plan.split("; ")[1] == "5"
