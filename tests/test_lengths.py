"""The bench grammar both ways. The lengths wanted are worked out by hand from 1 in = 25.4 mm."""

import re
import unicodedata
from fractions import Fraction as F

import pytest

from shopcompanion.errors import InputFault
from shopcompanion.length_grammar import LengthFault
from shopcompanion.lengths import DEFAULT_RULES, LONGEST, RULES, decimal, read, rule, show, spelled

INCHES = {
    # as builders write them
    "3-1/2": F(7, 2),
    '3 1/2"': F(7, 2),
    "3.5 in": F(7, 2),
    "3½": F(7, 2),
    "12' 6-1/2\"": F(301, 2),
    "12ft 6 1/2in": F(301, 2),
    "12'-6 1/2\"": F(301, 2),
    "7/8": F(7, 8),
    "½": F(1, 2),
    ".5": F(1, 2),
    "0,125": F(1, 8),
    "9/8": F(9, 8),
    "3  1/2": F(7, 2),
    "3\t1/2": F(7, 2),
    "  3  ": F(3),
    "07/08": F(7, 8),
    "-3-1/2": F(-7, 2),
    "0": F(0),
    "3-1/2 in.": F(7, 2),
    "3 INCHES": F(3),
    "3''": F(3),
    "3 '": F(36),
    "1 foot 6 inch": F(18),
    "2 feet": F(24),
    "12' 6": F(150),
    "12'6\"": F(150),
    "12.0' 6\"": F(150),
    "1 ft 1/2": F(25, 2),
    "1' ½\"": F(25, 2),
    "1'-1/2\"": F(25, 2),
    "0' 6\"": F(6),
    "-1' 6\"": F(-18),
    "6' 11-63/64\"": F(5375, 64),
    "1.5'": F(18),
    "2-1/2'": F(30),
    "½ ft": F(6),
    # as they come out of a word processor or a drawing
    "12′ 6½″": F(301, 2),
    "12’ 6½”": F(301, 2),
    "12‘6“": F(150),
    "3–1/2": F(7, 2),
    "3−1/2": F(7, 2),
    "3‑1/2": F(7, 2),
    "3⁄4": F(3, 4),
    "3 3∕4": F(15, 4),
    "3\u00a01/2": F(7, 2),
    "3\u20091/2\u202fin": F(7, 2),
    # small sums
    "3-1/2 + 1/16": F(57, 16),
    "12' 6\" / 2": F(75),
    "2 * 7/8": F(7, 4),
    "2 × 7/8": F(7, 4),
    "7 ÷ 2": F(7, 2),
    "3 - 1/2": F(5, 2),
    "3 - -1": F(4),
    "1 + 2 * 3": F(7),
    "3-1/2 - 1/16 - 1/16": F(27, 8),
    "12 / 2 / 3": F(2),
    "1/2 in * 3 + 1": F(5, 2),
    "12 ft 0 in - 6 in": F(138),
    "12 ft - 18 in": F(126),
    "12 ft - 12 in": F(132),  # a foot and more are no inches of those feet
    "12 ft - 12": F(132),
    "3 + 1 ft": F(15),
    "1 ft + 3": F(15),
    "½in": F(1, 2),
    "1'½\"": F(25, 2),
    "12 ft-6 in": F(150),
    "1.125 in": F(9, 8),
    "1.250 ft": F(15),
    "12' 0\" - 6\"": F(138),
    "12' - 18\"": F(126),
    "12' - 6'": F(72),
    "1 / 3": F(1, 3),
    "1/3 + 1/3 + 1/3": F(1),
    "1 ft + 25.4 mm": F(13),
    # as the companion itself shows them
    "1-29/64 in bare": F(93, 64),
    "12 ft 6-1/2 in full": F(301, 2),
    "7/8 in, rounded up": F(7, 8),
    "2 ft, rounded down": F(24),
}  # fmt: skip
MILLIMETRES = {
    "89mm": F(89),
    "8,9 cm": F(89),
    "1.2 m": F(1200),
    "1.2m": F(1200),
    "36.5 mm full": F(73, 2),
    "5 millimetres": F(5),
    "2 centimeters": F(20),
    "1 metre": F(1000),
    "1.234 m": F(1234),
    "0,001 m": F(1),
    "0.125 mm": F(1, 8),
    "9.5250 mm": F(381, 40),
    "1.00 mm": F(1),
    "1524.125 mm": F(12193, 8),
    "1 in": F(127, 5),
    "1 ft": F(1524, 5),
}


@pytest.mark.parametrize(("text", "inches"), INCHES.items())
def test_reads_inches(text: str, inches: F) -> None:
    assert read(text, "in") == inches * F(254, 10)


@pytest.mark.parametrize(("text", "mm"), MILLIMETRES.items())
def test_reads_named_units_whatever_unit_is_in_force(text: str, mm: F) -> None:
    assert read(text, "in") == read(text, "mm") == mm


@pytest.mark.parametrize(
    ("text", "mm"), [("3-1/2", F(7, 2)), ("8,9", F(89, 10)), ("25.4 + 1 in", F(254, 5)), ("2 * 7/8", F(7, 4))]
)
def test_a_bare_number_takes_the_unit_in_force(text: str, mm: F) -> None:
    assert read(text, "mm") == mm


# text -> what is marked as wrong
REFUSED = {
    "": "",
    "   ": "",
    "3/0": "0",
    "1/000": "000",
    "1/2/3": "/",
    "3..5": "3..5",
    "3.5.5": "3.5.5",
    "12'6'": "'",
    "5.": ".",
    "3/": "3/",
    "3/ 4": "3/",
    "/2": "/",
    "x": "x",
    "three": "three",
    "٣": "٣",
    "３½": "３",
    "3²": "²",
    "3 kg": "kg",
    "3 lbf": "lbf",
    "45°": "°",
    "3 min": "min",
    "5 psi": "psi",
    "10 rpm": "rpm",
    "2 gal": "gal",
    "12 %": "%",
    "3 yd": "yd",
    "3 µm": "µm",
    "1e3": "e",
    "0x10": "x",
    "nan": "nan",
    "inf": "inf",
    "__import__('os')": "_",
    "9**9**9": "*",
    "101 m": "101 m",
    "-101 m": "-101 m",
    "999999999999": "999999999999",
    "1234567890123": "1234567890123",
    "1.2345678901234": "1.2345678901234",
    "1/1234567890123": "1234567890123",
    "1,234": "1,234",
    "1,125": "1,125",
    "1,234.5": "1,234.5",
    "1'000": "1'000",
    "1.000 mm": "1.000",
    "1,000 mm": "1,000",
    "1.250 cm": "1.250",
    "1,250 m": "1,250",
    "12 ft - 6 in": " - ",
    "12 ft - 11-63/64 in": " - ",
    "12 ft - 11-63/64": " - ",
    "12 ft - 6": " - ",
    "12 ft -6 in": "-",
    "12' - 6\"": " - ",
    "12' - 6": " - ",
    "12' -6\"": "-",
    "12 6": " 6",
    "1 000": " 000",
    "12-6": "-6",
    "3-5/4": "5/4",
    "3 4/4": "4/4",
    "3-4/4": "4/4",
    "1 ft 12 in": "12",
    "1 ft 001 in": "1 ft 001",
    "1 ft 100/64": "1 ft 100",
    "3- 1/2": "- ",
    "3 -1/2": "-",
    "3-1/2-1/4": "-",
    "3+1": "+",
    "3 +1": "+",
    "3*2": "*",
    "3 + ": "",
    "+3": "+",
    "- 3": " ",
    "1/2.5": ".",
    "1.5/2": "/",
    "6\" 1/2": "1/2",
    "6\" 12'": "12'",
    "6\"\"": '"',
    "3½½": "½",
    "1.5' 6\"": "1.5'",
    "6'12\"": "12",
    "3 ft 4 mm": " mm",
    "1 m 20 cm": "20",
    "2 in * 3 in": "3 in",
    "6 / 2 in": "2 in",
    "6\" / 0": "0",
    "6\" / (1 - 1)": "(",
    "3 ! 4": "!",
    "3-1/2;": ";",
    "3\x1b[31m": "\x1b[31m",
}  # fmt: skip


@pytest.mark.parametrize(("text", "marked"), REFUSED.items())
def test_refuses_with_the_place_and_an_example_that_works(text: str, marked: str) -> None:
    with pytest.raises(LengthFault) as caught:
        read(text)
    fault = caught.value
    assert 0 <= fault.start <= fault.end <= len(text)
    assert text[fault.start : fault.end] == marked
    assert str(fault).isprintable()
    assert fault.exit_status == 2
    for example in re.split(r", or |, | or ", fault.example.removesuffix(" to take away")):
        read(example)


@pytest.mark.parametrize("pair", [("12' - 6\"", "12 ft - 6 in"), ("1,000 mm", "1.000 mm"), ("2,700", "2.700")])
def test_two_spellings_of_one_doubt_are_refused_alike(pair: tuple[str, str]) -> None:
    reasons = set()
    for text in pair:
        with pytest.raises(LengthFault) as caught:
            read(text, "mm")
        reasons.add((str(caught.value).rpartition(": ")[2], caught.value.example))
    assert len(reasons) == 1


@pytest.mark.parametrize("text", ["", "x", "101 m", "3+1"])
def test_the_example_is_of_the_unit_in_force(text: str) -> None:
    for unit, here, other in (("in", "3-1/2", "90"), ("mm", "90", "3-1/2")):
        with pytest.raises(LengthFault) as caught:
            read(text, unit)  # type: ignore[arg-type]
        assert caught.value.example.startswith(here)
        assert other not in caught.value.example


def test_the_place_is_marked_in_the_line_that_is_shown() -> None:
    with pytest.raises(LengthFault, match=re.escape("3-1/2 + »1/0«") + "|" + re.escape("3-1/2 + 1/»0«: ")):
        read("3-1/2 + 1/0")


def test_text_and_digits_are_bounded() -> None:
    assert read("1" + " + 1" * 29) == 30 * F(254, 10)
    assert read(" " * 119 + "1") == F(254, 10)
    with pytest.raises(LengthFault, match="longer than 120 characters"):
        read(" " * 120 + "1")
    assert read("0" * 11 + "1") == F(254, 10)
    with pytest.raises(LengthFault, match="more than 12 digits"):
        read("0" * 12 + "1")


def test_the_longest_length_is_taken_and_the_next_refused() -> None:
    assert read("100 m") == LONGEST
    with pytest.raises(LengthFault, match="longer than 100 m is no spar"):
        read("100.001 m")


@pytest.mark.parametrize(
    ("text", "example"),
    [("100,000 mm", "100000 or 100.00"), ("100,001 mm", "100.0010"), ("10,000 cm", "10000 or 10.00")],
)
def test_thousands_are_meant_only_where_a_spar_can_be_as_long(text: str, example: str) -> None:
    """100 m is 100000 mm and 10000 cm."""
    with pytest.raises(LengthFault, match="this could be thousands or a decimal") as caught:
        read(text)
    assert caught.value.example == example


@pytest.mark.parametrize(
    ("mm", "on", "way", "shown"),
    [
        (F(889, 10), "1/64 in", "nearest", "3-1/2 in"),
        (36.8236, "1/64 in", "nearest", "1-29/64 in bare"),
        (36.8236, "1/64 in", "up", "1-29/64 in, rounded up"),
        (36.8236, "1/64 in", "down", "1-7/16 in, rounded down"),
        (36.8236, "0.5 mm", "nearest", "37 mm bare"),
        (36.8236, "0.1 mm", "nearest", "36.8 mm full"),
        (0, "1/8 in", "up", "0 in"),
        (-0.5, "1/8 in", "nearest", "0 in bare"),
        (0.5, "1/8 in", "nearest", "0 in full"),
        (-25.4, "1/8 in", "nearest", "-1 in"),
        (609.6, "1/32 in", "nearest", "2 ft"),
        (609.5, "1/32 in", "nearest", "2 ft bare"),
        (596.9, "1/32 in", "nearest", "23-1/2 in"),
        (3822.7, "1/32 in", "nearest", "12 ft 6-1/2 in"),
        (3822.7, "1 mm", "nearest", "3823 mm bare"),
        (76.2 * 3, "1/64 in", "up", "9 in"),  # 228.60000000000002
        (12.7, "1/64 in", "nearest", "1/2 in"),
        (F(254, 160), "1/8 in", "nearest", "1/8 in bare"),  # 1/16 in, half way between two marks: the one up
        (-F(254, 160), "1/8 in", "nearest", "-1/8 in bare"),  # bare in size
        (F(1, 4), "0.5 mm", "nearest", "0.5 mm bare"),
        (1 + F(1, 32), "1 mm", "nearest", "1 mm"),  # a 32nd of a division is on the mark
        (1 - F(1, 32), "1 mm", "nearest", "1 mm"),
        (1 + F(1, 31), "1 mm", "nearest", "1 mm full"),
        (1 - F(1, 31), "1 mm", "nearest", "1 mm bare"),
        (F(1, 4), "1 mm", "nearest", "0 mm full"),
        (F(-11, 10), "1 mm", "nearest", "-1 mm full"),
        (F(-9, 10), "1 mm", "nearest", "-1 mm bare"),
        (1 + F(9, 10**7), "1 mm", "up", "1 mm"),  # a millionth of a division is no reason to go on to the next
        (1 + F(11, 10**7), "1 mm", "up", "2 mm, rounded up"),
        (1 - F(9, 10**7), "1 mm", "down", "1 mm"),
        (1 - F(11, 10**7), "1 mm", "down", "0 mm, rounded down"),
        (F(9, 2), "0.5 mm", "up", "4.5 mm"),
        (F(41, 10), "0.5 mm", "up", "4.5 mm, rounded up"),
        (F(41, 10), "0.5 mm", "down", "4 mm, rounded down"),
        (-F(41, 10), "0.5 mm", "up", "-4.5 mm, rounded up"),  # by size
        (F(1, 10), "0.1 mm", "nearest", "0.1 mm"),
        (F(254, 10) * (24 - F(1, 8)), "1/8 in", "nearest", "23-7/8 in"),
        (F(254, 10) * (24 + F(1, 8)), "1/8 in", "nearest", "2 ft 1/8 in"),
        (F(254, 10) * (24 - F(1, 100)), "1/8 in", "nearest", "2 ft bare"),  # feet go by what is shown
        (F(254, 10) * (36 - F(1, 100)), "1/8 in", "down", "2 ft 11-7/8 in, rounded down"),
        (-F(254, 10) * F(77, 2), "1/8 in", "nearest", "-3 ft 2-1/2 in"),
    ],
)
def test_shows(mm, on: str, way, shown: str) -> None:
    assert show(mm, rule(on), way) == shown


@pytest.mark.parametrize(
    ("text", "unit", "kept"),
    [
        ("3-1/2", "in", "3-1/2 in"),
        (' 3-1/2"', "in", '3-1/2"'),
        ("89", "mm", "89 mm"),
        ("3-1/2 + 1/16", "in", "3-9/16 in"),
        ("10 + 2.7", "mm", "12.7 mm"),
        ("1 / 3", "in", "1/3 in"),
        ("2 / 3", "mm", "2/3 mm"),
        ("0", "mm", "0"),
        ("1 ft + 2", "mm", "1 ft + 2 mm"),
        ("2 + 1 ft", "mm", "306.8 mm"),
        ("4000", "mm", "4000 mm"),
        ("5000 / 2", "mm", "2500 mm"),
        ("-1 / 3", "in", "-1/3 in"),
    ],
)
def test_a_spelling_is_kept_and_its_unit_put_to_it(text: str, unit, kept: str) -> None:
    assert spelled(text, unit) == kept
    assert read(kept, "in") == read(kept, "mm") == read(text, unit)


def test_rules_have_names_that_read() -> None:
    assert [str(division) for division in RULES] == [
        "1/8 in",
        "1/16 in",
        "1/32 in",
        "1/64 in",
        "1 mm",
        "0.5 mm",
        "0.1 mm",
    ]
    assert all(rule(f"  {division} ") == division for division in RULES)
    assert all(division in RULES and division.unit == unit for unit, division in DEFAULT_RULES.items())
    with pytest.raises(InputFault, match="no rule is divided in '1/10 in'"):
        rule("1/10 in")


def test_the_decimal_beside_a_fraction() -> None:
    assert decimal(36.8236, "in") == "1.4497"
    assert decimal(F(889, 10), "mm") == "88.90"


def test_a_fraction_of_one_character_is_what_unicode_says_it_is() -> None:
    """The Unicode Character Database as Python's own library has it, for all of its vulgar fractions but 1/7, 1/9, 1/10
    and 0/3, which are on no rule."""
    fractions = {
        chr(code): unicodedata.name(chr(code)) for code in range(0xBC, 0x2190) if unicodedata.numeric(chr(code), 0)
    }
    vulgar = [sign for sign, name in fractions.items() if name.startswith("VULGAR FRACTION")]
    assert len(vulgar) == 18
    for sign in set(vulgar) - set("⅐⅑⅒"):
        wanted = F(unicodedata.numeric(sign)).limit_denominator(10)
        assert read(sign, "mm") == wanted
        assert read(f"3{sign} in") == (3 + wanted) * F(254, 10)


def test_a_fault_in_a_long_text_shows_thirty_characters_to_either_side() -> None:
    text = "1 + 2 + 3 + 4 + 5 + 6 + 7 + 8 + 9 + x" + " + 9 + 8 + 7 + 6 + 5 + 4 + 3 + 2 + 1"
    with pytest.raises(LengthFault) as caught:
        read(text)
    shown = str(caught.value).partition(": ")[0]
    before, _, rest = shown.partition("»")
    marked, _, after = rest.partition("«")
    assert (len(before), marked, len(after)) == (30, "x", 30)
    assert text.endswith(after + text.partition("x")[2][30:])
    assert text.partition("x")[0].endswith(before)
    with pytest.raises(LengthFault) as caught:
        read("3 " + "y" * 60)
    assert f"3 »{'y' * 30}«: " in str(caught.value)
