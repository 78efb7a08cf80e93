"""Drum: drives, drives in part, or spins; and where along the spar.

The closed forms are held against root finding in tests/test_belt.py, against published values in tests/outside/.
"""

from math import asin, cos, degrees, pi, radians, sin, sqrt

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import brentq

from shopcompanion.errors import InputFaults
from shopcompanion.lengths import show

from ..asked.drum import questions
from ..asking import INCH_64, ask, refusal, typed

SPAR = ((0.0, 63.5), (1524.0, 76.2), (3429.0, 44.45))
ON_SPAR = {"widest": 76.2, "narrowest": 44.45, "outline": SPAR}


def test_json_agrees_with_the_formulas_written_again() -> None:
    """A 4 in drum, a 3 in spar, a belt of 36 in: the centres by a root finder out of the length of the belt."""
    in_json = typed("drum", drum="4", belt_length="36", widest="3", rpm="1725").as_json()
    d, s, length = 101.6, 76.2, 914.4

    def too_long(c: float) -> float:
        lean = asin((d - s) / (2 * c))
        return 2 * c * cos(lean) + pi * (d + s) / 2 + lean * (d - s) - length

    centres = brentq(too_long, 90, 900, xtol=1e-12)
    lean = degrees(asin((d - s) / (2 * centres)))
    wanted = {
        "grips": "yes",
        "wrap_drum": 180 + 2 * lean,
        "wrap_spar": 180 - 2 * lean,
        "centres": centres,
        "centres_narrowest": centres,
        "belt_fits": "yes",
        "smallest_drum": 76.2,
        "largest_driven": 101.6,
        "slips_from": None,
        "slips_to": None,
        "belt_speed": pi * 0.1016 * 1725 / 60,
        "slip_lean": None,
    }
    assert set(in_json["answers"]) == set(wanted)
    for name, value in wanted.items():
        got = in_json["answers"][name]["value"]
        assert got == pytest.approx(value, rel=1e-9, abs=1e-9) if isinstance(value, float) else got == value
    assert in_json["answers"]["smallest_drum"]["text"] == "3 in"
    assert in_json["answers"]["belt_speed"]["unit"] == "m/s"


@pytest.mark.parametrize(
    ("widest", "narrowest", "grips"),
    [("3", "2", "yes"), ("4", "2", "in part"), ("5", "2", "in part"), ("4", "4", "no"), ("5", "4-1/2", "no")],
)
def test_drives_drives_in_part_or_not(widest: str, narrowest: str, grips: str) -> None:
    result = typed("drum", drum="4", belt_length="36", widest=widest, narrowest=narrowest)
    assert result.answers.grips == grips
    assert any("spins on the drum" in line for line in result.cautions) == (grips != "yes")


@given(questions())
def test_the_answer_is_that_of_the_table(values) -> None:
    result = ask("drum", **values)
    rows = result.as_json()["tables"]["stations"]["rows"]
    said = [row[2] for row in rows]
    assert (result.answers.grips == "yes") == (set(said) == {"yes"})
    assert (result.answers.grips == "no") == (said.count("yes") == 0)
    assert (result.answers.belt_fits == "yes") == ("too short" not in said)
    for _, width, says, on_drum, on_spar, centres in rows:
        if says == "too short":
            assert (on_drum, on_spar, centres) == (None, None, None)
        else:
            assert on_drum + on_spar == pytest.approx(360)
            assert centres > (values["drum"] + width) / 2
            ratio = values["grip_ratio"]
            if abs(ratio * on_drum - on_spar) > 1e-6:
                assert (says == "yes") == (ratio * on_drum > on_spar)


ONE_WIDTH = st.fixed_dictionaries(
    {"drum": st.floats(30, 200), "widest": st.floats(30, 150), "belt_length": st.floats(900, 3000)},
    optional={"grip_ratio": st.floats(0.7, 1.4)},
)


@given(ONE_WIDTH)
def test_a_drum_over_the_smallest_drives_and_one_under_it_does_not(values) -> None:
    least = ask("drum", **values).answers.smallest_drum
    assume(least is not None and 20 < least < 250)
    for part, grips in ((1.0001, "yes"), (0.9999, "no")):
        assert ask("drum", **{**values, "drum": least * part}).answers.grips == grips


@given(ONE_WIDTH)
def test_spars_under_the_largest_driven_are_driven_and_those_over_it_are_not(values) -> None:
    driven = ask("drum", **values).answers.largest_driven
    assume(driven is not None and 20 < driven < 180)
    for part, grips in ((0.9999, "yes"), (1.0001, "no")):
        assert ask("drum", **{**values, "widest": driven * part}).answers.grips == grips


def test_with_equal_grip_the_bigger_drives_and_no_angle_of_nothing_stands_beside_it() -> None:
    result = typed("drum", drum="4", belt_length="36", widest="3")
    assert (result.answers.grips, result.answers.slip_lean) == ("yes", None)
    steps = {step.name: step.words for step in result.working()}
    assert (steps["smallest_drum"], steps["largest_driven"]) == ("spar's widest", "drum diameter")
    assert typed("drum", drum="4", belt_length="36", widest="3", grip_ratio="0.9").answers.slip_lean > 0


def test_equal_sizes_slip() -> None:
    assert typed("drum", drum="3", belt_length="36", widest="3").answers.grips == "no"


@pytest.mark.parametrize(("ratio", "smaller"), [("1.1", True), ("0.9", False)])
def test_a_drum_that_grips_better_may_be_smaller(ratio: str, smaller: bool) -> None:
    answers = typed("drum", drum="4", belt_length="36", widest="3", grip_ratio=ratio).answers
    assert answers.smallest_drum is not None
    assert (answers.smallest_drum < 76.2) == smaller
    assert (answers.slip_lean < 0) == smaller


# Along the spar


def test_where_it_begins_and_ends_to_slip() -> None:
    """A 2-3/4 in drum on a spar 2-1/2 in at the heel, 3 in at 5 ft, 1-3/4 in at the head: similar triangles by hand."""
    answers = ask("drum", drum=69.85, belt_length=914.4, **ON_SPAR).answers
    assert answers.grips == "in part"
    assert answers.slips_from == pytest.approx(1524 / 2)  # half way from 2-1/2 to 3
    assert answers.slips_to == pytest.approx(1524 + 1905 / 5)  # a fifth of the way from 3 to 1-3/4
    bowed = ask("drum", drum=69.85, belt_length=914.4, **ON_SPAR, law="bowed").answers
    assert bowed.slips_from == pytest.approx(1524 * (1 - sqrt(1 / 2)))
    assert bowed.slips_to == pytest.approx(1524 + 1905 * sqrt(1 / 5))


def test_slipping_from_an_end_begins_at_the_end() -> None:
    heel = ask("drum", drum=60.0, belt_length=914.4, **ON_SPAR).answers
    assert (heel.slips_from, heel.slips_to) == (0, pytest.approx(1524 + 1905 * (76.2 - 60) / 31.75))


@pytest.mark.parametrize("ratio", [1.0, 0.2])
def test_a_drum_that_drives_nothing_slips_from_end_to_end(ratio: float) -> None:
    answers = ask("drum", drum=40.0, belt_length=914.4, grip_ratio=ratio, **ON_SPAR).answers
    assert (answers.grips, answers.slips_from, answers.slips_to) == ("no", 0, 3429)


def test_a_width_typed_over_is_no_longer_the_spars() -> None:
    """Then there is no station to speak of: only the widths that were typed."""
    result = ask("drum", drum=69.85, belt_length=914.4, **{**ON_SPAR, "widest": 80.0})
    assert (result.answers.slips_from, result.answers.slips_to) == (None, None)
    assert [row[0] for row in result.as_json()["tables"]["stations"]["rows"]] == [None, None]


def test_the_table_holds_every_station() -> None:
    rows = ask("drum", drum=69.85, belt_length=914.4, **ON_SPAR).as_json()["tables"]["stations"]["rows"]
    assert {0.0, 1524.0, 3429.0} <= {row[0] for row in rows}
    assert {row[0]: row[2] for row in rows if row[0] in (0.0, 1524.0, 3429.0)} == {0: "yes", 1524: "no", 3429: "yes"}


# The belt


def test_a_belt_too_short_to_go_round_is_a_fault_with_what_it_takes() -> None:
    fault = refusal("drum", drum=101.6, belt_length=400.0, widest=76.2)
    assert fault.field == "belt_length"
    lean = asin(25.4 / 177.8)
    least = 177.8 * cos(lean) + pi * 88.9 + lean * 25.4  # the belt round both, touching
    assert f"too short to go round the drum and the spar; it takes a belt of more than {show(least, INCH_64)}" in str(
        fault
    )
    ask("drum", drum=101.6, belt_length=least + 0.001, widest=76.2)


def test_a_belt_that_fits_in_part_says_up_to_where() -> None:
    result = ask("drum", drum=101.6, belt_length=440.0, widest=90.0, narrowest=40.0)
    answers = result.answers
    assert (answers.belt_fits, answers.centres, answers.wrap_drum) == ("in part", None, None)
    assert answers.centres_narrowest is not None
    (line,) = (line for line in result.cautions if "is long enough only" in line)

    def too_long(spar: float) -> float:
        lean = asin((101.6 - spar) / (101.6 + spar))
        return (101.6 + spar) * cos(lean) + pi * (101.6 + spar) / 2 + lean * (101.6 - spar) - 440

    assert show(brentq(too_long, 1, 100), INCH_64) in line
    # as far as it goes round, it drives: a bigger drum would not help
    assert answers.grips == "in part"
    assert not any("spins on the drum" in line for line in result.cautions)


def test_a_belt_that_no_drum_can_drive_says_so() -> None:
    result = ask("drum", drum=40.0, belt_length=600.0, widest=120.0, narrowest=100.0, grip_ratio=0.3)
    assert result.answers.smallest_drum is None
    assert any("no drum drives" in line for line in result.cautions)


@given(st.floats(50, 200), st.floats(100, 3000))
def test_the_belt_runs_with_the_rim(size: float, rpm: float) -> None:
    answers = ask("drum", drum=size, belt_length=2000.0, widest=50.0, rpm=rpm).answers
    assert answers.belt_speed == pytest.approx(size / 1000 * pi * rpm / 60)


@pytest.mark.parametrize(
    ("values", "field", "words"),
    [
        ({"narrowest": 80.0}, "narrowest", "wider than the spar's widest"),
        ({"outline": ((0.0, 76.2),), "narrowest": 76.2}, "outline", "a width at 0, the heel, and at the head"),
        ({"outline": ((0.0, 76.2), (0.0, 70.0))}, "outline", "put them in order from the heel"),
    ],
)
def test_contradictions_are_refused(values, field: str, words: str) -> None:
    fault = refusal("drum", **{"drum": 101.6, "belt_length": 914.4, "widest": 76.2, **values})
    assert (fault.field, words in str(fault)) == (field, True)


@pytest.mark.parametrize(("field", "text"), [("grip_ratio", "0"), ("grip_ratio", "21"), ("drum", "0"), ("rpm", "-1")])
def test_out_of_bounds_is_refused(field: str, text: str) -> None:
    with pytest.raises(InputFaults, match=rf"^{field}: .*will not do"):
        typed("drum", **{"drum": "4", "belt_length": "36", "widest": "3", field: text})


def test_cautions_travel_along() -> None:
    said = " ".join(typed("drum", drum="4", belt_length="36", widest="3").cautions).lower()
    for word in ("loose belt", "wrist", "goggles", "dust"):
        assert word in said


@pytest.mark.parametrize(("lean", "grips"), [(4.6, "no"), (4.9, "yes")])
def test_with_nine_tenths_of_the_grip_it_drives_from_five_degrees_of_lean(lean: float, grips: str) -> None:
    """0.9·(180° + 2β) is more than 180° − 2β from β = 90°·0.1/1.9 = 4.737° on. 300 mm from centre to centre, a spar of
    50 mm: the drum is 600·sin β larger, the belt by its two straights and two arcs."""
    beta = radians(lean)
    drum = 50 + 600 * sin(beta)
    belt = 600 * cos(beta) + pi * (drum + 50) / 2 + beta * (drum - 50)
    answers = ask("drum", drum=drum, belt_length=belt, widest=50.0, grip_ratio=0.9).answers
    assert answers.centres == pytest.approx(300)
    assert answers.slip_lean == pytest.approx(4.7368, abs=1e-4)
    assert answers.grips == grips
