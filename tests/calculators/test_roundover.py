"""Roundover: the verdict, the rack, the passes, what is left to bear on, the speed."""

from math import acos, pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from shopcompanion.drawing.shapes import Arc
from shopcompanion.errors import InputFault, InputFaults

from ..asked.roundover import questions
from ..asking import MM_01, ask, refusal, typed

RACK = "1/4 = 1/2; 1/2 = 1/2; 3/4 = 1/2; 1; 1-1/4 = 5/8"


def off_the_face(r: float, h: float, x: float) -> float:
    """How deep the bit of radius r, lowered to h, cuts at x from the face."""
    return max(0.0, r - sqrt(r * r - (r - x) ** 2) - (r - h))


def area(r: float, h: float) -> float:
    edge = r - sqrt(r * r - (r - h) ** 2) if h < r else 0.0  # keeps the quadrature off the steep start
    return quad(lambda x: off_the_face(r, h, x), 0, r, points=[edge], limit=200, epsabs=1e-12)[0]


def test_json_agrees_with_the_formulas_written_again() -> None:
    in_json = typed("roundover", stock="1-3/4", bit_radius="3/4", pilot="1/2", passes="3", speed_set="20000").as_json()
    r = 19.05

    def taken(h: float) -> float:
        """The same area by the segment's own formula, written for the waste's angle."""
        angle = acos(sqrt(r * r - h * h) / r)
        return h * r - (r * r * angle / 2 + h * sqrt(r * r - h * h) / 2)

    whole = (1 - pi / 4) * r * r
    first, second = (brentq(lambda h, k=k: taken(h) - whole * k / 3, 1, r, xtol=1e-13) for k in (1, 2))
    wanted = {
        "verdict": "leaves flats",
        "round_stock": 38.1,
        "bit_used": r,
        "flat_left": 6.35,
        "flat_left_other": None,
        "needed_radius": 22.225,
        "rack_below": None,
        "rack_above": None,
        "pilot_used": 12.7,
        "bit_diameter": 50.8,
        "speed_limit": 18000.0,
        "rim_speed": pi * 0.0508 * 300,
        "pass_depths": (first, second, r),
        "bearing_land": 6.35,
    }
    assert set(in_json["answers"]) == set(wanted)
    for name, value in wanted.items():
        got = in_json["answers"][name]["value"]
        if isinstance(value, float | tuple):
            assert got == pytest.approx(value, rel=1e-9), name
        else:
            assert got == value, name
    assert in_json["tables"]["corners"]["rows"][0] == pytest.approx([1, 44.45 - r, 44.45 - r])


@pytest.mark.parametrize(
    ("stock", "radius", "verdict"),
    [
        ("1-1/2", "3/4", "full round"),
        ("1-3/4", "3/4", "leaves flats"),
        ("1-7/16", "3/4", "bit too big"),
        ("38.19mm", "3/4", "full round"),  # a tenth of a millimetre is nothing a shop can measure
        ("38.01mm", "3/4", "full round"),
        ("38.21mm", "3/4", "leaves flats"),
        ("37.99mm", "3/4", "bit too big"),
    ],
)
def test_the_verdict(stock: str, radius: str, verdict: str) -> None:
    assert typed("roundover", stock=stock, bit_radius=radius).answers.verdict == verdict


@given(questions())
def test_the_verdict_agrees_with_the_flats(values) -> None:
    answers = ask("roundover", **values).answers
    if answers.verdict == "bit too big":
        assert (answers.flat_left, answers.pass_depths, answers.bearing_land) == (None, None, None)
        return
    flats = [answers.flat_left, answers.flat_left_other or 0.0]
    assert all(flat >= 0 for flat in flats)
    assert (answers.verdict == "full round") == (max(flats) <= 0.1)
    assert answers.flat_left == pytest.approx(max(0.0, values["stock"] - answers.round_stock))


def test_a_bit_too_big_gives_no_depths_and_says_not_to_run_it() -> None:
    result = typed("roundover", stock="1-1/4", bit_radius="3/4")
    assert result.answers.pass_depths is None
    assert result.as_json()["tables"] == {}
    assert any("Do not run it" in line for line in result.cautions)


@pytest.mark.parametrize("stock", ["3/4", "1/2"])
def test_a_bit_as_big_as_the_stock_is_refused(stock: str) -> None:
    with pytest.raises(InputFault, match=r"a bit of 3/4 in radius is bigger than the .* stock; a full round takes"):
        typed("roundover", stock=stock, bit_radius="3/4")
    assert refusal("roundover", stock=19.05, bit_radius=19.05).field == "bit_radius"


def test_without_a_bit_or_a_rack_one_is_asked_for() -> None:
    fault = refusal("roundover", stock=38.1)
    assert fault.field == "bit_radius"
    assert "a rack of bits to choose from" in str(fault)


@pytest.mark.parametrize(
    ("stock", "used", "below", "above"),
    [
        ("1-1/2", "3/4", "3/4", "1"),
        ("1-5/8", "3/4", "3/4", "1"),
        ("2", "1", "1", "1-1/4"),
        ("3", "1-1/4", "1-1/4", None),
        ("3/8", "1/4", None, "1/4"),
    ],
)
def test_the_rack_gives_the_biggest_that_the_stock_takes(stock: str, used: str, below, above) -> None:
    answers = typed("roundover", stock=stock, rack=RACK).answers
    inches = {"1/4": 6.35, "1/2": 12.7, "3/4": 19.05, "1": 25.4, "1-1/4": 31.75, None: None}
    wanted = (inches[used], inches[below], inches[above])
    assert (answers.bit_used, answers.rack_below, answers.rack_above) == pytest.approx(wanted)


@pytest.mark.parametrize(
    ("given_", "pilot"),
    [({}, 12.7), ({"bit_radius": "1-1/4"}, 15.875), ({"bit_radius": "1"}, 12.7), ({"pilot": "3/8"}, 9.525)],
)
def test_the_pilot_is_as_given_or_off_the_rack_or_the_common_one(given_, pilot: float) -> None:
    answers = typed("roundover", stock="3", rack=RACK, **{"bit_radius": "1/2", **given_}).answers
    assert answers.pilot_used == pytest.approx(pilot)
    assert answers.bit_diameter == pytest.approx(2 * answers.bit_used + pilot)


@given(st.floats(3, 40), st.integers(1, 8))
def test_every_pass_takes_an_equal_area(radius: float, passes: int) -> None:
    """Integrated numerically from what the bit cuts at every place of the face."""
    depths = ask("roundover", stock=2 * radius, bit_radius=radius, passes=passes).answers.pass_depths
    assert len(depths) == passes
    assert list(depths) == sorted(depths)
    assert depths[-1] == radius
    whole = (1 - pi / 4) * radius**2
    for k, h in enumerate(depths, 1):
        assert area(radius, h) == pytest.approx(whole * k / passes, rel=1e-5)


def test_the_lands_shrink_corner_by_corner() -> None:
    """Square stock: two corners leave a face its whole width less one arc, the last leaves the flat between two."""
    rows = ask("roundover", stock=50.0, bit_radius=20.0).as_json()["tables"]["corners"]["rows"]
    assert rows == [[1, 30, 30], [2, 30, 10], [3, 30, 10], [4, 10, 10]]
    full = ask("roundover", stock=40.0, bit_radius=20.0).as_json()["tables"]["corners"]["rows"]
    assert full == [[1, 20, 20], [2, 20, 0], [3, 20, 0], [4, 0, 0]]  # nothing for the pilot: why the ends stay square


def test_two_sides_leave_flats_of_two_widths() -> None:
    answers = ask("roundover", stock=50.0, stock_other=40.0, bit_radius=20.0).answers
    assert (answers.verdict, answers.flat_left, answers.flat_left_other) == ("leaves flats", 10, 0)
    assert answers.needed_radius == 20
    assert answers.bearing_land == 0  # on the narrower face
    for sides in ({"stock": 50.0, "stock_other": 44.0}, {"stock": 44.0, "stock_other": 50.0}):
        result = ask("roundover", bit_radius=20.0, **sides)
        assert result.answers.bearing_land == 4
        assert result.as_json()["tables"]["corners"]["rows"][-1] == [4, 4, 10]
    assert ask("roundover", stock=50.0, stock_other=39.0, bit_radius=20.0).answers.verdict == "bit too big"


@pytest.mark.parametrize(
    ("diameter", "rpm"),
    [(1, 24000), (1.001, 18000), (2, 18000), (2.001, 16000), (2.5, 16000), (2.501, 12000), (3.5, 12000)],
)
def test_the_speed_by_the_outside_diameter(diameter: float, rpm: float) -> None:
    """A common trade convention, no standard: 1 in 24,000, 2 in 18,000, 2-1/2 in 16,000, 3-1/2 in 12,000."""
    radius = 25.4 * (diameter - 0.25) / 2
    answers = ask("roundover", stock=3 * radius, bit_radius=radius, pilot=6.35).answers
    assert answers.speed_limit == rpm
    assert answers.rim_speed == pytest.approx(pi * diameter * 0.0254 * rpm / 60)


@given(st.floats(45, 150))
def test_bits_bigger_than_the_convention_names_keep_its_fastest_rim(radius: float) -> None:
    answers = ask("roundover", stock=3 * radius, bit_radius=radius).answers
    assert answers.rim_speed == pytest.approx(56)
    assert answers.speed_limit < 12000


@pytest.mark.parametrize(("radius", "summed"), [(38.0, False), (38.2, True)])
def test_the_speed_is_worked_out_from_the_rim_only_beyond_the_convention(radius: float, summed: bool) -> None:
    """The convention ends at 3-1/2 in, 88.9 mm: two radii and a pilot of 12.7 mm are 88.7 and 89.1 mm."""
    steps = ask("roundover", stock=100.0, bit_radius=radius, pilot=12.7).working()
    assert any(step.name == "speed_limit" for step in steps) == summed


@pytest.mark.parametrize("sides", [(40.0, 60.0), (60.0, 40.0)])
def test_a_bit_too_big_is_drawn_round_no_more_than_the_stock(sides: tuple[float, float]) -> None:
    drawn = ask("roundover", stock=sides[0], stock_other=sides[1], bit_radius=25.0).drawing()
    assert drawn is not None
    *stock, bit = [shape.radius_x for shape in drawn.shapes if isinstance(shape, Arc)]
    assert (stock, bit) == ([20.0] * 4, 25.0)


@given(questions())
def test_the_rim_stays_within_the_convention(values) -> None:
    answers = ask("roundover", **values).answers
    assert 0 < answers.rim_speed <= 56.5


@pytest.mark.parametrize(("set_to", "told"), [("18000", False), ("18001", True), ("24,000 rpm", True)])
def test_a_router_set_too_fast_is_told(set_to: str, told: bool) -> None:
    result = typed("roundover", stock="2", bit_radius="3/4", pilot="1/2", speed_set=set_to)
    assert any("too fast for this bit: set 18000 or less" in line for line in result.cautions) == told


def test_cautions_travel_along() -> None:
    said = " ".join(typed("roundover", stock="2", bit_radius="1").cautions)
    for words in ("in steps", "ends square", "on the cutter", "one station only", "against the turn of the bit"):
        assert words in said


@pytest.mark.parametrize(
    ("field", "text"), [("passes", "0"), ("passes", "2.5"), ("passes", "21"), ("bit_radius", "0"), ("stock", "-2")]
)
def test_out_of_bounds_is_refused(field: str, text: str) -> None:
    with pytest.raises(InputFaults, match=f"^{field}: "):
        typed("roundover", **{"stock": "2", "bit_radius": "1", field: text})


def test_a_fault_is_told_by_the_rule_in_force() -> None:
    with pytest.raises(
        InputFault, match=r"a bit of 25\.4 mm radius is bigger than the 20 mm stock; a full round takes 10"
    ):
        typed("roundover", MM_01, stock="20", bit_radius="1 in")


@pytest.mark.parametrize(("bit", "told"), [(88.9, False), (89.0, True)])
def test_the_speed_of_a_bit_that_the_convention_names_is_no_sum(bit: float, told: bool) -> None:
    """It names bits up to 3-1/2 in; a bigger one turns as its fastest rim allows."""
    steps = ask("roundover", stock=200.0, bit_radius=(bit - 12.7) / 2, pilot=12.7).working()
    assert ("speed_limit" in {step.name for step in steps}) == told
