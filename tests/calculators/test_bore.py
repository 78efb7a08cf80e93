"""Bore: how far the halves miss, what passes, what a pilot and a cradle must be, and what is refused."""

from math import radians, sqrt, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.catalog import load
from shopcompanion.drawing.shapes import Label, Line
from shopcompanion.fields import Value

from ..asked.bore import questions
from ..asking import MM_01, ask, refusal, typed


def test_json_agrees_with_the_formulas_written_again() -> None:
    """Three inches at 2°, no error of centring: in inches, by hand."""
    in_json = typed(
        "bore", thickness="3", hole="1/2", angle_error="2", centring="0", bolt="3/8", drill_reach="2",
        other_diameter="2", axis_height="3",
    ).as_json()  # fmt: skip
    values = {name: answer["value"] for name, answer in in_json["answers"].items()}
    assert values.pop("verdict") == "meets in the middle"
    assert values.pop("wood_between") is None
    assert values.pop("angle_ok") == pytest.approx(2.385944, abs=1e-6)  # atan(1/24)
    miss = 3 * 0.0349207695  # tan 2°
    along = 0.9993908270  # cos 2°
    wanted = {
        "mismatch": miss, "exit_error": miss, "needed_reach": 1.5 / along, "overlap": 4 * along - 3,
        "passes": 0.5 - miss, "pilot": 0.5 - miss, "ream_to": 0.5 + miss, "bolt_play": 0.125 - miss,
        "hole_for_bolt": 0.375 + miss, "block_height": 3 - 1.5 * sqrt(2), "block_other": 3 - sqrt(2),
        "v_deep": 1.5 / sqrt(2), "axis_used": 3.0,
    }  # fmt: skip
    assert {name: value / 25.4 for name, value in values.items()} == pytest.approx(wanted, rel=1e-8)


def test_a_true_drill_on_true_centres_misses_by_nothing() -> None:
    answers = ask("bore", thickness=80.0, hole=10.0, angle_error=0.0, centring=0.0, bolt=10.0).answers
    assert (answers.mismatch, answers.exit_error, answers.passes, answers.bolt_play) == (0, 0, 10, 0)


@pytest.mark.parametrize(
    ("reach", "verdict"),
    [(80.0, "goes right through"), (79.9, "meets in the middle"), (40.0, "meets in the middle"), (39.9, "falls short")],
)
def test_the_verdict_turns_at_the_whole_and_the_half_thickness(reach: float, verdict: str) -> None:
    result = ask("bore", thickness=80.0, hole=10.0, angle_error=0.0, drill_reach=reach)
    assert result.answers.verdict == verdict
    short = [line for line in result.cautions if "too short from both sides" in line]
    assert bool(short) == (verdict == "falls short")
    if short:
        assert "1-37/64 in bare will do" in short[0]  # 40 mm
        assert result.answers.wood_between == pytest.approx(0.2)
        assert result.answers.overlap is None


def test_a_leaning_drill_reaches_less_far() -> None:
    """At 2° a reach of 80 mm is 80·0.99939 = 79.95 mm deep, and 80.1 mm are 80.05 mm."""
    for reach, verdict in ((80.0, "meets in the middle"), (80.1, "goes right through")):
        assert ask("bore", thickness=80.0, hole=10.0, angle_error=2.0, drill_reach=reach).answers.verdict == verdict


def test_halves_that_miss_say_so() -> None:
    result = ask("bore", thickness=100.0, hole=5.0, angle_error=4.0)
    assert (result.answers.passes, result.answers.pilot) == (0, None)
    assert any("may miss each other" in line for line in result.cautions)


def test_a_bolt_that_jams_says_what_hole_it_needs() -> None:
    result = ask("bore", thickness=80.0, hole=9.0, angle_error=1.0, centring=0.0, bolt=8.5)
    assert result.answers.bolt_play == pytest.approx(0.5 - 80 * tan(radians(1)))
    assert any("jams" in line for line in result.cautions)
    assert result.answers.angle_ok == pytest.approx(0.358, abs=1e-3)  # 0.5 in 80
    close = ask("bore", thickness=80.0, hole=10.0, angle_error=0.0, centring=0.0, bolt=10.0)
    assert not any("jams" in line for line in close.cautions)
    assert close.answers.angle_ok == 0


def test_halves_that_just_meet_overlap_by_nothing() -> None:
    answers = ask("bore", thickness=80.0, hole=10.0, angle_error=0.0, drill_reach=40.0).answers
    assert (answers.overlap, answers.wood_between) == (0, None)


def test_what_cannot_be_is_refused() -> None:
    assert "does not go into a hole of 8 mm" in str(refusal("bore", MM_01, thickness=50.0, hole=8.0, bolt=9.0))
    assert refusal("bore", MM_01, thickness=8.0, hole=9.0).field == "hole"
    assert refusal("bore", MM_01, thickness=9.0, hole=9.0).field == "hole"
    fault = refusal("bore", MM_01, thickness=80.0, hole=9.0, axis_height=50.0)
    assert fault.field == "axis_height"
    assert "more than 56.6 mm bare will do" in str(fault)


@given(questions())
def test_halves_overlap_or_leave_wood_between_them_and_neither_is_negative(values) -> None:
    answers = ask("bore", **values).answers
    if "drill_reach" not in values:
        assert answers.overlap is answers.wood_between is None
    else:
        overlaps = answers.verdict != "falls short"
        assert (answers.overlap is not None, answers.wood_between is not None) == (overlaps, not overlaps)
        assert (answers.overlap if overlaps else answers.wood_between) >= 0


@given(questions())
def test_the_hole_that_the_bolt_needs_lets_it_pass(values) -> None:
    answers = ask("bore", **values).answers
    assert answers.mismatch >= answers.exit_error - 1e-12
    assert answers.block_height > 0
    if "bolt" in values and answers.hole_for_bolt < values["thickness"]:
        again = ask("bore", **{**values, "hole": answers.hole_for_bolt}).answers
        assert again.bolt_play == pytest.approx(0, abs=1e-9)
    if answers.angle_ok is not None and answers.angle_ok <= 20:
        again = ask("bore", **{**values, "angle_error": answers.angle_ok}).answers
        assert again.bolt_play == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("v_angle", [60.0, 90.0, 120.0])
def test_a_quarter_of_the_thicker_round_stays_below_the_v(v_angle: float) -> None:
    asked = {"thickness": 80.0, "hole": 9.0, "v_angle": v_angle}
    assert ask("bore", **asked).answers.block_height == pytest.approx(20)
    assert ask("bore", **asked, other_diameter=60.0).answers.block_height == pytest.approx(20)
    assert ask("bore", **asked, other_diameter=100.0).answers.block_other == pytest.approx(25)


def test_a_v_of_sixty_degrees() -> None:
    """The axis stands a whole diameter over the V; the sides are touched a quarter of the diameter below the axis."""
    answers = ask("bore", thickness=80.0, hole=9.0, v_angle=60.0, other_diameter=60.0, axis_height=150.0).answers
    assert (answers.block_height, answers.block_other) == pytest.approx((150 - 80, 150 - 60))
    assert answers.v_deep == pytest.approx(80 - 20)


@given(st.floats(20, 200), st.floats(0.1, 5))
def test_twice_the_thickness_misses_twice_as_far(thick, lean) -> None:
    twice, two = (
        ask("bore", thickness=size, hole=5.0, angle_error=lean, centring=0.0).answers for size in (thick, 2 * thick)
    )
    assert two.mismatch == pytest.approx(2 * twice.mismatch)


def test_two_cradles_hold_a_tapered_spar_level() -> None:
    """A thinner end sits deeper in its V, so that its block is higher by (D − d)/2 / sin 45°."""
    twice = ask("bore", thickness=80.0, hole=9.0, other_diameter=60.0).answers
    assert twice.block_other - twice.block_height == pytest.approx(10 * sqrt(2))


def test_the_fitting_is_a_bolt_with_its_hole_and_the_drawing_shows_the_step() -> None:
    result = ask("bore", thickness=80.0, hole=9.0, angle_error=2.0)
    fitting = load("bore").fitting
    assert fitting is not None
    wanted: dict[str, Value] = {"kind": "bolt", "hole": 9.0}
    assert fitting(result.inputs, result.answers) == wanted
    drawn = result.drawing()
    assert drawn is not None
    ends = [shape for shape in drawn.shapes if type(shape).__name__ == "Arc"]
    assert abs(ends[0].y - ends[1].y) == pytest.approx(result.answers.mismatch)
    steps = [shape for shape in drawn.shapes if type(shape).__name__ == "Line" and shape.x1 == shape.x2 == 0]
    assert [abs(step.y2 - step.y1) for step in steps] == pytest.approx([result.answers.mismatch] * 2)


def test_a_drill_that_falls_short_is_drawn_with_the_wood_between() -> None:
    """Reaching 30 mm from either side of 80 mm: a hole of 10 mm ends 10 mm from the middle, on both sides."""
    drawn = ask("bore", thickness=80.0, hole=10.0, angle_error=0.0, centring=0.0, drill_reach=30.0).drawing()
    ends = {(shape.x1, shape.x2, *sorted((shape.y1, shape.y2))) for shape in drawn.shapes
            if isinstance(shape, Line) and shape.x1 == shape.x2 and abs(shape.x1) < 40}  # fmt: skip
    assert ends == {(-10, -10, -5, 5), (10, 10, -5, 5)}
    (words,) = [shape for shape in drawn.shapes if isinstance(shape, Label) and "short" in shape.text]
    assert -40 < words.y < -5  # in the wood under the hole


def test_a_short_drill_that_leans_is_drawn_off_by_its_lean() -> None:
    """At 2° and 30 mm it comes 29.98 mm deep, and 29.98·tan 2° = 1.047 mm off, up from the left."""
    drawn = ask("bore", thickness=80.0, hole=10.0, angle_error=2.0, centring=0.0, drill_reach=30.0).drawing()
    middles = {round(shape.x1, 2): (shape.y1 + shape.y2) / 2 for shape in drawn.shapes
               if isinstance(shape, Line) and shape.x1 == shape.x2 and abs(shape.x1) < 40}  # fmt: skip
    assert middles == pytest.approx({-10.02: 1.047, 10.02: -1.047}, abs=1e-3)


def test_centres_that_are_off_leave_a_hole_of_half_a_millimetre() -> None:
    """Each centre 4.75 mm off: 0.5 mm of the hole of 10 mm goes straight through, 1.5 mm less than the bolt."""
    answers = ask("bore", thickness=40.0, hole=10.0, angle_error=0.0, centring=4.75, bolt=2.0).answers
    assert (answers.exit_error, answers.mismatch) == (4.75, 9.5)
    assert (answers.passes, answers.pilot, answers.bolt_play) == (0.5, 0.5, -1.5)
    none = ask("bore", thickness=40.0, hole=10.0, angle_error=0.0, centring=5.0, bolt=2.0).answers
    assert (none.passes, none.pilot, none.bolt_play) == (0, None, -2)


def test_a_leaning_drill_comes_out_off_by_its_lean_and_its_centre() -> None:
    """0.08749, the tangent of 5°, of 40 mm; and 2 mm."""
    steep = ask("bore", thickness=40.0, hole=10.0, angle_error=5.0, centring=2.0).answers
    assert steep.exit_error == pytest.approx(40 * 0.0874887 + 2, abs=1e-5)
