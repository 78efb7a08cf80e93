"""Shoulder: the step, the lines on the reduced square, and the run-out."""

from functools import partial
from math import atan, degrees, pi, sqrt, tan

import pytest
from hypothesis import given

from shopcompanion.lengths import show

from ..asked.shoulder import questions
from ..asking import INCH_64, ask, refusal, typed


def test_json_agrees_with_the_formulas_written_again() -> None:
    """A 3 in square to a 2-1/8 in round of 5 in, running out over 2 in: in inches, by hand."""
    in_json = typed("shoulder", blank="3", round_diameter="2-1/8", round_length="5", run_out="2").as_json()
    corner = 3 / sqrt(2) - 2.125 / 2
    wanted = {
        "shoulder_depth": 7 / 16,
        "saw_depth": 7 / 16,
        "corner_depth": corner,
        "mark_8": 2.125 * (1 - 1 / sqrt(2)),
        "facet_8": 2.125 * (sqrt(2) - 1),
        "mark_16": 2.125 * (tan(pi / 8) - tan(pi / 16)) / 2,
        "run_out_ends": 7.0,
        "face_angle": degrees(atan(7 / 32)),
        "corner_angle": degrees(atan(corner / 2)),
    }
    scale = {"mm": 25.4, "deg": 1}
    values = {name: answer["value"] / scale[answer["unit"]] for name, answer in in_json["answers"].items()}
    assert values == pytest.approx(wanted, rel=1e-12)
    rows = in_json["tables"]["quarters"]["rows"]
    assert [row[0] / 25.4 for row in rows] == pytest.approx([0, 0.5, 1, 1.5, 2])
    assert [row[1] / 25.4 for row in rows] == pytest.approx([5, 5.5, 6, 6.5, 7])
    assert [row[2] / 25.4 for row in rows] == pytest.approx([2.125, 2.34375, 2.5625, 2.78125, 3])


@given(questions())
def test_the_run_out_goes_from_the_octagon_to_the_full_square(values) -> None:
    result = ask("shoulder", **values)
    answers, tables = result.answers, result.as_json()["tables"]
    if not values.get("run_out"):
        assert tables == {}
        assert answers.face_angle is answers.corner_angle is None
        return
    rows = tables["quarters"]["rows"]
    first, last = rows[0], rows[-1]
    assert first[2:] == pytest.approx(
        [values["round_diameter"], answers.shoulder_depth, answers.corner_depth, answers.mark_8]
    )
    assert last[2:] == pytest.approx([values["blank"], 0, 0, 0])
    for past, from_end, side, face, corner, line in rows:
        assert side + 2 * face == pytest.approx(values["blank"])
        # sawn off along that line on a square of that side, the corner has lost just that much
        assert (values["blank"] - side) / sqrt(2) + line / sqrt(2) == pytest.approx(corner, abs=1e-9)
        assert (from_end is None) == ("round_length" not in values)
        if from_end is not None:
            assert from_end == pytest.approx(values["round_length"] + past)
            assert past <= answers.run_out_ends


@given(questions())
def test_a_saw_set_so_stays_out_of_the_round(values) -> None:
    answers = ask("shoulder", **values).answers
    assert values["blank"] / 2 - answers.saw_depth == pytest.approx(values["round_diameter"] / 2)
    assert values["blank"] / sqrt(2) - answers.corner_depth == pytest.approx(values["round_diameter"] / 2)


def test_the_saws_depth_is_rounded_down_and_says_so() -> None:
    in_json = typed("shoulder", blank="3", round_diameter="2-1/8 + 1/128").as_json()["answers"]
    assert in_json["saw_depth"]["text"] == "27/64 in, rounded down"


def test_a_square_shoulder_is_warned_of_and_a_run_out_is_not() -> None:
    told = "A spar breaks"
    assert any(told in line for line in typed("shoulder", blank="3", round_diameter="2").cautions)
    assert not any(told in line for line in typed("shoulder", blank="3", round_diameter="2", run_out="3").cautions)
    assert not any(told in line for line in typed("shoulder", blank="3", round_diameter="3").cautions)
    assert all(len(line) <= 78 for line in typed("shoulder", blank="3", round_diameter="2").cautions)


def test_a_round_as_big_as_the_square_has_no_shoulder() -> None:
    answers = typed("shoulder", blank="3", round_diameter="3", run_out="6").answers
    assert (answers.shoulder_depth, answers.face_angle) == (0, 0)
    assert answers.corner_depth / 25.4 == pytest.approx(3 * (sqrt(2) - 1) / 2)


def test_a_round_bigger_than_the_square_is_refused() -> None:
    fault = refusal("shoulder", blank=50.8, round_diameter=63.5)
    assert fault.field == "round_diameter"
    assert "2-1/2 in does not come out of a square of 2 in" in str(fault.with_lengths(partial(show, rule=INCH_64)))
