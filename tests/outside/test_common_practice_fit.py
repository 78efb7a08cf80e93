"""Common practice, no source: what is held to be so about jaws, seats and holes from both sides."""

from math import tan

import pytest

from ..asking import typed


def test_a_cove_smaller_than_the_pole_sits_and_a_larger_one_rocks() -> None:
    """Common practice, no source: a seat touches at its edges."""
    for cove, touches in (("1/2", "edges"), ("1", "all over"), ("1-1/4", "middle")):
        assert typed("seat", pole_diameter="2", cove_radius=cove).answers.touches == touches


def test_a_degree_is_about_a_sixtieth() -> None:
    """Common practice, no source: one in sixty to a degree; from one side 4 in thick comes out about 1/15 in off."""
    answers = typed("bore", thickness="4", angle_error="1", centring="0").answers
    assert answers.exit_error / 25.4 == pytest.approx(4 / 60, rel=0.06)
    assert answers.exit_error / 25.4 == pytest.approx(4 * tan(0.0174532925), rel=1e-8)


def test_jaws_are_wider_than_the_mast_by_leather_and_play_and_their_horns_pass_its_middle() -> None:
    """Common practice, no source: 1/8 in of leather and 1/8 in of play a side make a 4 in mast's jaws 4-1/2 in."""
    result = typed("jaws", mast_diameter="4", gaff_width="2-1/4", leather="1/8", clearance="1/8")
    assert result.as_json()["answers"]["opening"]["text"] == "4-1/2 in"
    assert result.answers.horn_reach > 0
