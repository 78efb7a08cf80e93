"""Kinds of field: what they read, what they refuse, how they show it."""

import math
from typing import Any

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.errors import InputFault
from shopcompanion.fields import Angle, Choice, Count, Kind, Length, Lengths, Pairs, Ratio, Share, Slope, Text, Turning
from shopcompanion.lengths import RULES
from shopcompanion.quantities import (
    Area,
    Density,
    Mass,
    Modulus,
    Percent,
    SecondMoment,
    Speed,
    Spread,
    Temperature,
    Volume,
)  # fmt: skip

from .asking import INCH_64, MM_01

NUMBERS: tuple[Kind, ...] = (
    Length("Width"),
    Ratio("Ratio"),
    Angle("Tilt"),
    Turning("Turns at"),
    Count("Passes"),
    Slope("Slope"),
    Speed("Rim"),
    Area("Off"),
    Volume("Wood"),
    Mass("Heavy"),
    Density("Dense"),
    Spread("Glue"),
    SecondMoment("Stiff"),
    Modulus("Strong"),
    Temperature("Warm"),
    Percent("Moist"),
    Share("Left"),
)
KINDS: tuple[Kind, ...] = (
    *NUMBERS,
    Choice("Law", options=("straight", "bowed")),
    Text("Name"),
    Lengths("Depths"),
    Pairs("Widths", columns=("station", "width")),
)
ids = [type(kind).__name__ for kind in NUMBERS]


@pytest.mark.parametrize(
    ("kind", "text", "value"),
    [
        (Length("Width"), "3-1/2", 88.9),
        (Length("Width"), "89mm", 89.0),
        (Ratio("Ratio"), "1,5", 1.5),
        (Ratio("Ratio"), " .5 ", 0.5),
        (Ratio("Ratio"), "-2", -2.0),
        (Angle("Tilt"), "45°", 45.0),
        (Angle("Tilt"), "22.5", 22.5),
        (Turning("Turns at"), "1725", 1725.0),
        (Turning("Turns at"), "1,725 rpm", 1725.0),
        (Turning("Turns at"), "18 000 RPM", 18000.0),
        (Turning("Turns at"), "1725.5rpm", 1725.5),
        (Count("Passes"), "3", 3),
        (Speed("Rim"), "10 m/s", 10.0),
        (Speed("Rim"), "6000 ft/min", 30.48),
        (Speed("Rim"), "6000", 30.48),
        (Area("Off"), "1 in^2", 645.16),
        *(
            (Temperature("Warm"), f"68 {scale}", 20.0)
            for scale in (
                "F",
                "°F",
                "° F",
                "f",
                "degF",
                "deg F",
                "deg. f",
                "degrees F",
                "Fahrenheit",
                "degrees fahrenheit",
            )
        ),
        *(
            (Temperature("Warm"), f"21,5{scale}", 21.5)
            for scale in (
                "C",
                " °C",
                "°c",
                " degC",
                " deg C",
                " Celsius",
                " degrees celsius",
                " centigrade",
                "celsius",
            )
        ),
        (Temperature("Warm"), "-4 degF", -20.0),
        (Speed("Rim"), "6 000 ft/min", 30.48),
        (Speed("Rim"), "6000ft/min", 30.48),
        (Mass("Heavy"), "2 kg", 2.0),
        (Density("Dense"), "1000 kg/m^3", 1000.0),
        (Temperature("Warm"), "212 °F", 100.0),
        (Temperature("Warm"), "20 C", 20.0),
        (Temperature("Warm"), "-40", -40.0),
        (Percent("Moist"), "12%", 12.0),
        (Choice("Law", options=("straight", "bowed")), "BOWED", "bowed"),
        (Choice("Law", options=("straight", "bowed")), "s", "straight"),
        (Choice("Fit", options=("in", "in part")), "in", "in"),
        (Text("Name"), " mizzen ", "mizzen"),
        (Lengths("Depths"), "1/4; 1/2;", (6.35, 12.7)),
        (Pairs("Widths", columns=("station", "width")), "0 = 2-1/2; 5 ft = 2-3/4", ((0.0, 63.5), (1524.0, 69.85))),
        (Pairs("Bits", columns=("radius", "pilot"), alone=True), "3/4 = 1/2; 1", ((19.05, 12.7), (25.4, None))),
    ],
)
def test_reads(kind: Kind, text: str, value: Any) -> None:
    read = kind.read(text, INCH_64)
    assert read == pytest.approx(value, rel=1e-12) if isinstance(value, float) else read == value


@pytest.mark.parametrize(
    ("kind", "text", "words"),
    [
        (Length("Width", above=0), "0", "it must be more than 0 in"),
        (Length("Width", at_most=2000), "3 m", "it must be at most 6 ft 6-47/64 in"),
        (Ratio("Ratio"), "", "empty"),
        (Ratio("Ratio"), "1/2", "is not a number, try 1.5"),
        (Ratio("Ratio"), "1,234", "could be thousands or a decimal, write 1234"),
        (Ratio("Ratio"), "1 234", "could be thousands or a decimal, write 1234"),
        (Ratio("Ratio"), "1-2", "is not a number"),
        (Ratio("Ratio"), "1.2.3", "is not a number"),
        (Ratio("Ratio"), "nan", "is not a number"),
        (Ratio("Ratio"), "inf", "is not a number"),
        (Ratio("Ratio"), "1e9", "is not a number"),
        (Ratio("Ratio"), "9" * 29, "absurdly large"),
        (Ratio("Ratio"), "9" * 31, "is not a number"),
        (Temperature("Warm"), "70 deg", "70 deg is not understood, try 70 °F"),
        (Temperature("Warm"), "70 fc", "is not a number"),
        (Temperature("Warm"), "70 K", "try 70 °F"),
        (Angle("Tilt"), "45 in", "is not a number, try 45"),
        (Turning("Turns at"), "17,25,1", "is not a number"),
        (Count("Passes"), "2.5", "is not a whole number"),
        (Count("Passes", at_least=1), "0", "it must be at least 1"),
        (Speed("Rim"), "10 mph", "is not understood, try 1.5 ft/min"),
        (Speed("Rim"), "", "empty"),
        (
            Choice("Law", options=("straight", "bowed")),
            "bwed",
            r"is none of straight, bowed \(did you mean 'bowed'\?\)",
        ),
        (Choice("Law", options=("straight", "bowed")), "", "is none of"),
        (Choice("Law", options=("stay", "straight")), "st", "is none of"),
        (Text("Name"), "  ", "empty"),
        (Text("Name", longest=5), "mizzen", "longer than 5 characters"),
        (Text("Name"), "a\x1b[2Jb", "characters that cannot be shown"),
        (Lengths("Depths", above=0), "1/4; 0", "more than 0 in"),
        (Lengths("Depths"), "1/4; x", "a number is needed here"),
        (Lengths("Depths"), "1/4, 1/2", "put a semicolon between lengths, as 1/4; 1/2; 3/4"),
        (Lengths("Depths"), "1;" * 3000, "the list is too long"),
        (Pairs("Widths", columns=("station", "width")), "2-1/2", "is not station = width"),
        (Pairs("Widths", columns=("station", "width")), "0 = 1 = 2", "not understood here"),
        (Pairs("Widths", columns=("station", "width")), "-1 = 2", "at least 0 in"),
        (Pairs("Widths", columns=("station", "width"), above=0), "0 = 0", "more than 0 in"),
        (Pairs("Bits", columns=("radius", "pilot"), alone=True, above=0), "1; 0 = 1/2", "more than 0 in"),
        (Pairs("Bits", columns=("radius", "pilot"), alone=True, above=0), "1; 0", "more than 0 in"),
        (Pairs("Bits", columns=("radius", "pilot"), alone=True, at_most=200), "12 in", "at most"),
    ],
)
def test_refuses_in_one_line(kind: Kind, text: str, words: str) -> None:
    with pytest.raises(InputFault, match=words) as caught:
        kind.read(text, INCH_64)
    assert str(caught.value).isprintable()


@pytest.mark.parametrize("kind", NUMBERS, ids=ids)
@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, 1e13, -(10**400), True, None, "3", (1.0,)])
def test_no_number_and_absurd_numbers_are_refused_at_the_door(kind: Kind, value: Any) -> None:
    with pytest.raises(InputFault):
        kind.check(value, INCH_64)


def test_a_count_is_whole() -> None:
    Count("Passes").check(3, INCH_64)
    with pytest.raises(InputFault, match=r"2\.5 is not a whole number"):
        Count("Passes").check(2.5, INCH_64)


@pytest.mark.parametrize("bound", ["above", "at_least", "below", "at_most"])
def test_bounds_say_whether_they_belong(bound: str) -> None:
    kind = Ratio("Ratio", **{bound: 5})  # type: ignore[arg-type]
    inside = {"above": 5.001, "at_least": 5.0, "below": 4.999, "at_most": 5.0}[bound]
    outside = {"above": 5.0, "at_least": 4.999, "below": 5.0, "at_most": 5.001}[bound]
    kind.check(inside, INCH_64)
    with pytest.raises(InputFault, match="will not do"):
        kind.check(outside, INCH_64)


@pytest.mark.parametrize(
    ("kind", "value", "inches", "metric"),
    [
        (Length("Width"), 88.9, "3-1/2 in", "88.9 mm"),
        (Length("Width", rounding="up"), 36.8236, "1-29/64 in, rounded up", "36.9 mm, rounded up"),
        (Angle("Tilt"), 45.0, "45°", "45°"),
        (Angle("Tilt"), 26.565, "26.6°", "26.6°"),
        (Turning("Turns at"), 18000.0, "18 000 rpm", "18 000 rpm"),
        (Slope("Gets thinner by"), 0.01, "1/8 in bare per ft", "10 mm per m"),
        (Speed("Rim"), 30.48, "6 000 ft/min", "30.5 m/s"),
        (Count("Sides"), 16, "16", "16"),
        (Lengths("Depths"), (6.0, 12.7), "15/64 in full; 1/2 in", "6 mm; 12.7 mm"),
        (Pairs("Bits", columns=("radius", "pilot"), alone=True), ((25.4, None),), "1 in", "25.4 mm"),
        (Pairs("Widths"), ((0.0, 63.5),), "0 in = 2-1/2 in", "0 mm = 63.5 mm"),
        (Text("Name"), "mizzen", "mizzen", "mizzen"),
        (Length("Width"), None, "—", "—"),
    ],
)
def test_shows_by_the_rule_in_force(kind: Kind, value: Any, inches: str, metric: str) -> None:
    assert (kind.show(value, INCH_64), kind.show(value, MM_01)) == (inches, metric)


@pytest.mark.parametrize(
    ("kind", "value", "inches", "metric"),
    [
        (Length("Width"), 88.9, "3.5000", "88.90"),
        (Ratio("Ratio"), 1 / 3, "0.33333", "0.33333"),
        (Lengths("Depths"), (6.35, 12.7), "0.2500; 0.5000", "6.35; 12.70"),
        (Choice("Law"), "bowed", "bowed", "bowed"),
        (Length("Width"), None, "—", "—"),
    ],
)
def test_figures_stand_in_a_sum(kind: Kind, value: Any, inches: str, metric: str) -> None:
    assert (kind.figures(value, INCH_64), kind.figures(value, MM_01)) == (inches, metric)


@pytest.mark.parametrize(
    ("kind", "value", "inches", "metric"),
    [
        (Length("Width"), 88.9, "3.5", "88.9"),
        (Length("Width"), 100 / 3, "1.31234", "33.3333"),
        (Length("Width"), -0.396875, "(−0.015625)", "(−0.396875)"),
        (Angle("Tilt"), 22.5, "22.5°", "22.5°"),
        (Ratio("Ratio"), 2 / 3, "0.666667", "0.666667"),
        (Count("Sides"), 16, "16", "16"),
        (Percent("Moist"), 12.0, "12", "12"),
        (Share("Bored"), 0.0088889, "0.0088889", "0.0088889"),
        (Mass("Heavy"), 0.45359237, "1", "0.453592"),
        (Speed("Rim"), 30.48, "6000", "30.48"),
        (Ratio("Ratio"), 1e-14, "0", "0"),
        (Mass("Heavy"), None, "—", "—"),
    ],
)
def test_a_number_in_a_sum_has_six_figures_and_the_unit_on_the_page(
    kind: Kind, value: Any, inches: str, metric: str
) -> None:
    assert (kind.in_sum(value, INCH_64), kind.in_sum(value, MM_01)) == (inches, metric)


@pytest.mark.parametrize(
    ("kind", "value", "inches", "metric"),
    [
        (Mass("Heavy"), 16.76, "36.9 lb", "16.8 kg"),
        (Mass("Heavy"), 0.0001, "0.00022 lb", "0.0001 kg"),
        (Density("Dense"), 448.03, "28 lb/ft^3", "448 kg/m^3"),
        (Share("Bored"), 0.0088889, "0.89 %", "0.89 %"),
        (Share("Left"), 0.5544, "55.4 %", "55.4 %"),
        (Percent("Left"), 100.0, "100 %", "100 %"),
        (Ratio("Ratio"), 1 / 3, "0.333", "0.333"),
        (Volume("Wood"), 94247.8, "5.75 in^3", "0.0000942 m^3"),
        (Turning("Turns at", rounding="down"), 11999.6, "11 999 rpm, rounded down", "11 999 rpm, rounded down"),
        (Turning("Turns at", rounding="down"), 12000.0, "12 000 rpm", "12 000 rpm"),
        (Pairs("New", rounding="down"), ((0.0, 63.4),), "0 in = 2-31/64 in, rounded down", "0 mm = 63.4 mm"),
    ],
)
def test_a_bench_gets_three_figures_and_percent(kind: Kind, value: Any, inches: str, metric: str) -> None:
    assert (kind.show(value, INCH_64), kind.show(value, MM_01)) == (inches, metric)


def test_a_hair_beyond_a_bound_is_told_apart_from_it() -> None:
    with pytest.raises(InputFault, match=r"0\.99999 will not do, it must be at least 1$"):
        Ratio("Slope", at_least=1).read("0.99999", INCH_64)


@given(st.sampled_from(KINDS), st.text(max_size=60), st.sampled_from(RULES))
def test_reading_any_text_gives_a_value_of_the_kind_or_a_fault(kind: Kind, text: str, rule) -> None:
    try:
        value = kind.read(text, rule)
    except InputFault as fault:
        assert str(fault).isprintable(), fault  # noqa: PT017  # either way is right
    else:
        assert isinstance(value, kind.python)
        kind.check(value, rule)


@given(st.integers(0, 60000), st.sampled_from(RULES))
def test_a_speed_of_turning_reads_as_it_is_shown(rpm: int, rule) -> None:
    kind = Turning("Turns at")
    assert kind.read(kind.show(float(rpm), rule), rule) == rpm


@given(st.lists(st.tuples(st.integers(0, 640), st.integers(1, 640)), min_size=1, max_size=6))
def test_rows_read_as_they_are_shown(marks: list[tuple[int, int]]) -> None:
    kind = Pairs("Widths", columns=("station", "width"), above=0)
    rows = tuple((a * 25.4 / 64, b * 25.4 / 64) for a, b in marks)
    for (a, b), (c, d) in zip(kind.read(kind.show(rows, INCH_64), INCH_64), rows, strict=True):  # type: ignore[arg-type]
        assert (a, b) == (pytest.approx(c), pytest.approx(d))


@pytest.mark.parametrize("kind", KINDS, ids=[type(kind).__name__ for kind in KINDS])
def test_the_schema_is_one_and_takes_the_example(kind: Kind) -> None:
    schema = kind.schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    example = kind.example or getattr(kind, "options", ("mizzen",))[0]
    jsonschema.validate(example, schema)
    kind.read(example, INCH_64)
    assert schema["title"] == kind.label


def test_the_schema_of_a_choice_holds_its_words() -> None:
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate("hollow", Choice("Law", options=("straight", "bowed")).schema())
