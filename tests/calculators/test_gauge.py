"""Gauge: setting out, errors and their sign, advice. The marks themselves are simulated in tests/outside/."""

from math import sqrt

import pytest
from hypothesis import given

from shopcompanion.catalog import load
from shopcompanion.form import solve
from shopcompanion.lengths import RULES
from shopcompanion.profile.follow import follow
from shopcompanion.profile.parse import read

from ..asked.gauge import questions
from ..asking import MM_01, ask, refusal, typed
from ..storage.conftest import demo

RIGHT = 1 - 1 / sqrt(2)
SPAR = ((0.0, 63.5), (1524.0, 76.2), (3429.0, 44.45))


def test_json_agrees_with_the_formulas_written_again() -> None:
    """Four inches to two and a half, pins of a half: worked in inches, all from the sine of the bar's lean."""
    in_json = typed("gauge", widest="4", narrowest="2-1/2", pin="1/2", clearance="1/16").as_json()
    spacing = 4 + 1 / 2 + 1 / 16
    pencil = (RIGHT * 4 + 1 / 4) / (4.5 / spacing)  # at the widest, sin = 4.5/spacing, it marks right
    thin = pencil * 3 / spacing - 1 / 4 - RIGHT * 2.5
    wanted = {
        "pencil_from_pin": pencil,
        "pin_spacing": spacing,
        "inside": 4 + 1 / 16,
        "pencil_gap": spacing - 2 * pencil,
        "error_widest": 0.0,
        "error_narrowest": thin,
        "error_worst": thin,
        "facet_difference": -(2 + sqrt(2)) * thin,
        "right_width": 4.0,
        "pin_good": 4 / 64 / ((0.5 - RIGHT) * 1.5 - 1 / 64),
        "slant_span": 6.0,
        "slant_near": 1.75,
        "slant_far": 4.25,
        "slant_error": 4 * 7 / 24 - 4 * RIGHT,
        "widest_face": 4.0,
        "narrowest_face": 2.5,
    }
    values = {name: answer["value"] / 25.4 for name, answer in in_json["answers"].items()}
    assert values == pytest.approx(wanted, rel=1e-9, abs=1e-12)
    assert {answer["unit"] for answer in in_json["answers"].values()} == {"mm"}
    assert in_json["answers"]["pin_spacing"]["text"] == "4-9/16 in"
    assert in_json["answers"]["error_worst"]["text"] == "-0.0345 in"
    assert in_json["answers"]["error_widest"]["text"] == "0.0000 in"


def test_seven_ten_seven_on_a_half_inch_pin() -> None:
    """Pencils at 7:10:7 of the gap between the pins; at 2-1/2 in by hand: sin = 3/4.5, 1.41667·2/3 − 1/4 = 0.6944."""
    answers = typed("gauge", widest="4", narrowest="2-1/2", pin="1/2", clearance="0", ratio="7:10:7").answers
    assert answers.pencil_from_pin / 25.4 == pytest.approx(7 / 6 + 1 / 4)
    assert answers.error_narrowest / 25.4 == pytest.approx(1.4166667 * 2 / 3 - 1 / 4 - 2.5 * RIGHT, abs=1e-6)
    assert answers.error_narrowest / 25.4 == pytest.approx(-0.038, abs=5e-4)


# The sign, and where it is right


@given(questions())
def test_right_at_the_widest_leaves_wood_everywhere(values) -> None:
    result = ask("gauge", **{**values, "ratio": "true", "exact_at": "widest"})
    for row in next(iter(result.as_json()["tables"].values()))["rows"]:
        assert row[4] <= 1e-9
        assert row[5] >= -1e-9
    assert not any("too far in" in line for line in result.cautions)


@given(questions())
def test_right_at_the_narrowest_marks_the_widest_too_far_in(values) -> None:
    result = ask("gauge", **{**values, "ratio": "true", "exact_at": "narrowest"})
    answers = result.answers
    assert answers.error_narrowest == pytest.approx(0, abs=1e-9)
    assert answers.error_widest >= -1e-9
    told = any("too far in" in line for line in result.cautions)
    assert told == (answers.error_widest > values["division"] / 2)


@given(questions())
def test_the_middle_halves_the_worst(values) -> None:
    worst = {}
    for at in ("widest", "middle", "narrowest"):
        answers = ask("gauge", **{**values, "ratio": "true", "exact_at": at}).answers
        worst[at] = abs(answers.error_worst)
        if at == "middle":
            assert answers.error_widest == pytest.approx(-answers.error_narrowest, abs=1e-9)
            assert answers.right_width == pytest.approx((answers.widest_face + answers.narrowest_face) / 2)
    assert worst["middle"] <= min(worst.values()) + 1e-9


@given(questions())
def test_where_it_is_right_there_is_no_error(values) -> None:
    answers = ask("gauge", **values).answers
    if answers.right_width is not None:
        at = answers.pencil_from_pin * (answers.right_width + values["pin"]) / answers.pin_spacing - values["pin"] / 2
        assert at == pytest.approx(RIGHT * answers.right_width, abs=1e-9)
        assert answers.narrowest_face - 1e-9 <= answers.right_width <= answers.widest_face + 1e-9


@given(questions())
def test_pins_and_pencils_stand_apart(values) -> None:
    answers = ask("gauge", **values).answers
    assert answers.pencil_gap > 0
    assert answers.pencil_from_pin > values["pin"] / 2
    assert 2 * answers.pencil_from_pin + answers.pencil_gap == pytest.approx(answers.pin_spacing)
    assert answers.inside >= answers.widest_face - 1e-9


def test_one_width_has_one_right_setting() -> None:
    settings = {typed("gauge", widest="3", exact_at=at).answers for at in ("widest", "middle", "narrowest")}
    assert len({round(setting.pencil_from_pin, 9) for setting in settings}) == 1
    assert all(setting.error_worst == pytest.approx(0, abs=1e-12) and setting.pin_good is None for setting in settings)


def test_as_bad_at_both_ends_the_one_that_cuts_into_the_round_is_told() -> None:
    answers = ask("gauge", widest=100.0, narrowest=60.0, pin=10.0, exact_at="middle").answers
    assert answers.error_worst == answers.error_widest > 0


@pytest.mark.parametrize(
    ("narrowest", "at", "good"),
    [
        (94.2, "widest", 49.9),  # 0.20711·5.8 mm = 1.2012 mm, and 49.9/149.9 of that are 0.4 mm
        (98.1, "widest", None),  # 0.20711·1.9 mm are under 0.4 mm, however thick
        (60.0, "widest", 5.07),  # 0.20711·40 mm = 8.2843 mm; 5.07/105.07 of that
        (60.0, "narrowest", 3.04),  # exact at 60 mm: 3.04/63.04 of it
    ],
)
def test_the_thickest_pins_whose_error_is_a_division(narrowest: float, at: str, good: float | None) -> None:
    answers = ask("gauge", widest=100.0, narrowest=narrowest, division=0.4, exact_at=at).answers
    assert answers.pin_good == (None if good is None else pytest.approx(good, rel=2e-3))


@pytest.mark.parametrize(("ratio", "widest", "pencil"), [("5:7:5", 85.0, 28.0), ("12:17:12", 82.0, 27.0)])
def test_a_ratio_divides_the_gap_between_the_pins(ratio: str, widest: float, pencil: float) -> None:
    """5 of 17 parts of 85 mm are 25 mm, 12 of 41 parts of 82 mm are 24 mm; and half a pin of 6 mm."""
    assert ask("gauge", widest=widest, pin=6.0, clearance=0.0, ratio=ratio).answers.pencil_from_pin == pencil


# Advice


def test_where_the_pencils_run_off_is_told() -> None:
    """100 mm wide, pins of 50 mm: pencils 54.289 mm from them, so they are off where sin is under 25/54.289."""
    result = ask("gauge", MM_01, widest=100.0, narrowest=15.0, pin=50.0, clearance=0.0)
    assert any("under 19.1 mm bare wide the pencils run off" in line for line in result.cautions)


@pytest.mark.parametrize(("narrowest", "told"), [(12.0, False), (10.0, True)])
def test_half_a_millimetre_from_the_edge_is_still_on_the_work(narrowest: float, told: bool) -> None:
    """100 mm wide, pins of 20 mm: on 12 mm the pencils mark 39.289·32/120 − 10 = 0.477 mm in, on 10 mm 0.177 off."""
    said = ask("gauge", MM_01, widest=100.0, narrowest=narrowest, pin=20.0).cautions
    assert any("the pencils run off" in line for line in said) == told


@pytest.mark.parametrize(("division", "told"), [(2.5, False), (2.3, True)])
def test_too_far_in_is_more_than_half_a_division(division: float, told: bool) -> None:
    """Exact at 60 mm, pins of 10 mm: at 100 mm it marks 0.20711·10·40/70 = 1.183 mm too far in."""
    result = ask("gauge", widest=100.0, narrowest=60.0, pin=10.0, exact_at="narrowest", division=division)
    assert any("too far in" in line for line in result.cautions) == told


@pytest.mark.parametrize(("division", "told"), [(0.16, False), (0.14, True)])
def test_a_ratio_is_told_when_it_errs_half_a_division_more_than_it_need(division: float, told: bool) -> None:
    """On 60 mm 7:10:7 of 100 mm marks 16.742 mm, 0.831 mm short; set true it is 0.20711·10·40/110 = 0.753 mm."""
    asked = {"widest": 100.0, "narrowest": 60.0, "pin": 10.0, "clearance": 0.0, "ratio": "7:10:7"}
    said = ask("gauge", MM_01, **asked, division=division).cautions
    assert any("exact at the widest, would be off by 0.8 mm bare at most" in line for line in said) == told


def test_thinner_pins_are_advised_only_where_they_would_show() -> None:
    thick = typed("gauge", widest="4", narrowest="2-1/2", pin="1/2")
    assert "Pins of 13/64 in or less would keep the error within one division of the rule." in thick.cautions
    thin = typed("gauge", widest="4", narrowest="2-1/2", pin="3/16")
    assert not any("Pins of" in line for line in thin.cautions)
    just = ask("gauge", widest=101.6, narrowest=63.5, pin=thick.answers.pin_good)
    assert not any("Pins of" in line for line in just.cautions)
    coarse = typed("gauge", RULES[0], widest="4", narrowest="2-1/2", pin="1/2")
    assert not any("Pins of" in line for line in coarse.cautions)


@pytest.mark.parametrize(("pin", "told"), [("1/4", False), ("1-1/2", True)])
def test_pencils_that_leave_the_work(pin: str, told: bool) -> None:
    result = typed("gauge", widest="4", narrowest="1/2", pin=pin)
    (row,) = (row for row in result.as_json()["tables"]["stations"]["rows"] if row[1] == pytest.approx(12.7))
    assert (row[2] <= 0) == told
    assert any("the pencils run off it" in line for line in result.cautions) == told


def test_a_ratio_is_held_against_the_true_setting() -> None:
    poor = typed("gauge", widest="12", narrowest="11-1/2", pin="1/4", clearance="0", ratio="7:10:7")
    better = typed("gauge", widest="12", narrowest="11-1/2", pin="1/4", clearance="0")
    assert abs(better.answers.error_worst) < abs(poor.answers.error_worst)
    assert any("Pencils set true, exact at the widest, would be off by 0 in" in line for line in poor.cautions)
    assert any("too far in" in line for line in typed("gauge", widest="12", ratio="5:7:5").cautions)


def test_the_rule_slantwise_is_on_the_rules_marks() -> None:
    for rule, widest, span in ((RULES[3], "3-3/4", 6 * 25.4), (RULES[3], "3", 3 * 25.4), (RULES[5], "95", 96.0)):
        answers = typed("gauge", rule, widest=widest).answers
        assert answers.slant_span == pytest.approx(span)
        for tick in (answers.slant_near, answers.slant_far):
            assert tick / float(rule.step) == pytest.approx(round(tick / float(rule.step)))


def test_cautions_and_sources_travel_with_the_answer() -> None:
    result = typed("gauge", widest="4", narrowest="2")
    assert any("minus marks nearer the edge: it leaves wood" in line for line in result.cautions)
    assert any("24 units across, ticks at 7 and 17" in line for line in result.cautions)
    assert all(len(line) <= 78 for line in result.cautions)


# The spar


def test_the_table_has_every_station_of_the_spar() -> None:
    table = ask("gauge", widest=76.2, narrowest=44.45, outline=SPAR).as_json()["tables"]["stations"]
    assert table["columns"] == ["at", "width", "marks", "right_line", "error", "facet_difference"]
    rows = {row[0]: row for row in table["rows"]}
    assert {0.0, 304.8, 1524.0, 3048.0, 3429.0} <= set(rows)
    assert rows[1524.0][4] == pytest.approx(0, abs=1e-9)
    assert rows[3429.0][4] == min(row[4] for row in rows.values())
    for _, width, marks, right, error, difference in rows.values():
        assert right == pytest.approx(RIGHT * width)
        assert error == pytest.approx(marks - right)
        assert difference == pytest.approx(-(2 + sqrt(2)) * error)


def test_a_width_typed_over_is_no_longer_the_spars() -> None:
    result = ask("gauge", widest=80.0, narrowest=44.45, outline=SPAR, depths=SPAR)
    rows = result.as_json()["tables"]["stations"]["rows"]
    assert [row[:2] for row in rows] == [[None, 80.0], [None, 44.45]]


def test_the_oval_boom_takes_a_gauge_that_goes_over_its_depth() -> None:
    boat = read(demo("fjord-lugger")).boat
    result = solve(load("gauge"), {}, follow(boat, boat.spar("boom"), 0.0), boat.rule)
    assert (result.answers.widest_face, result.answers.narrowest_face) == (66, 42)
    assert result.answers.inside == pytest.approx(66.5)
    tables = result.as_json()["tables"]
    assert list(tables) == ["stations", "depths"]
    assert max(row[1] for row in tables["depths"]["rows"]) == 66


@pytest.mark.parametrize(
    ("values", "field", "words"),
    [
        ({"narrowest": 110.0}, "narrowest", "is wider than the spar's widest"),
        ({"ratio": "5:7:5", "exact_at": "middle"}, "exact_at", "5:7:5 sets where the gauge is exact"),
        ({"outline": ((0.0, 101.6),), "narrowest": 50.0}, "outline", "a width at 0, the heel, and at the head"),
        (
            {"outline": ((0.0, 101.6), (900.0, 50.0)), "narrowest": 50.0, "depths": ((0.0, 5.0), (0.0, 6.0))},
            "depths",
            "put them in order from the heel",
        ),
    ],
)
def test_contradictions_are_refused(values, field: str, words: str) -> None:
    fault = refusal("gauge", **{"widest": 101.6, **values})
    assert (fault.field, words in str(fault)) == (field, True)


def test_the_units_choose_the_pin() -> None:
    assert typed("gauge", widest="3").inputs.pin == pytest.approx(6.35)
    assert typed("gauge", MM_01, widest="80").inputs.pin == 6


def test_an_error_stands_in_a_sum_in_the_units_of_the_rule() -> None:
    """0.877 mm too near the edge, as in the first check, is 0.0345 in."""
    steps = {step.name: step for step in typed("gauge", widest="4", narrowest="2-1/2", pin="1/2").working()}
    assert steps["facet_difference"].put_in == "−(2 + √(2))·(−0.0345178)"
