"""Laws of the bench grammar: what is shown reads back, sums are exact, reading never fails in another way."""

from collections.abc import Callable
from fractions import Fraction as F

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopcompanion import length_grammar
from shopcompanion.length_grammar import TEXT_LIMIT, LengthFault
from shopcompanion.lengths import LONGEST, RULES, Unit, in_millimetres, on_rule, read, show, spelled

from .examples import share

UNITS = st.sampled_from(["in", "mm"])
SOUND = st.fractions(min_value=10 - LONGEST, max_value=LONGEST - 10, max_denominator=10**6)  # its marks are read too


@given(mm=SOUND, on=st.sampled_from(RULES), way=st.sampled_from(["nearest", "up", "down"]))
@settings(max_examples=share(200))
def test_what_is_shown_reads_back_within_the_rule(mm: F, on, way) -> None:
    shown = show(mm, on, way)
    off = read(shown, "in") - mm
    noise = on.step / 10**6  # nearer to a mark than this, it is on the mark
    if way == "nearest":
        assert abs(off) <= on.step / 2
    else:
        assert abs(off) < on.step
        grown = abs(mm + off) - abs(mm)
        assert grown >= -noise if way == "up" else grown <= noise
    assert read(shown, "mm") == mm + off
    assert (mm + off) / on.step % 1 == 0


@given(mm=SOUND, on=st.sampled_from(RULES))
def test_full_and_bare_tell_the_side_the_length_lies_on(mm: F, on) -> None:
    reading = on_rule(abs(mm), on)
    off = abs(mm) - read(str(reading))
    assert {"full": off > 0, "bare": off < 0, "": abs(off) <= on.step / 32}[reading.lean]


@given(st.integers(0, 4000 * 64), st.sampled_from(RULES[:4]))
def test_a_mark_of_the_rule_is_shown_as_itself(marks: int, on) -> None:
    mm = marks * on.step
    reading = on_rule(mm, on)
    assert (reading.lean, reading.negative, reading.unit) == ("", False, "in")
    assert reading.feet * 12 + reading.whole + reading.over == marks * on.division
    assert 0 <= reading.over < 1
    assert (reading.feet > 0) == (marks * on.division >= 24)


@given(st.text(max_size=TEXT_LIMIT + 5), UNITS)
@settings(max_examples=share(150))
def test_reading_any_text_gives_a_length_or_a_fault(text: str, unit) -> None:
    _length_or_fault(text, unit)


@given(
    st.lists(
        st.sampled_from(
            [*"0123456789", *" -/.,+*'\"½⅞’″–×", " + ", " - ", " / ", " * ", "in", "ft", "mm", "m", " full"]
        ),
        max_size=24,
    ).map("".join),
    UNITS,
)
@settings(max_examples=share(600))
def test_reading_its_own_alphabet_gives_a_length_or_a_fault(text: str, unit) -> None:
    _length_or_fault(text, unit)


def assert_one_clear_line(fault: LengthFault, text: str) -> None:
    assert 0 <= fault.start <= fault.end <= len(text)
    assert str(fault).isprintable()
    assert len(str(fault)) < 300


def _length_or_fault(text: str, unit) -> None:
    try:
        length = read(text, unit)
    except LengthFault as fault:
        assert_one_clear_line(fault, text)
    else:
        assert isinstance(length, F)
        assert abs(length) <= LONGEST
        kept = spelled(text, unit)
        assert read(kept, "in") == read(kept, "mm")
        assert abs(read(kept) - length) <= F(1, 10**6)


@given(
    st.lists(
        st.tuples(st.sampled_from("+-"), st.integers(0, 40), st.integers(1, 63), st.sampled_from([8, 16, 64])),
        min_size=1,
        max_size=5,
    ),
    UNITS,
)
def test_sums_are_exact(terms, unit) -> None:
    """Terms such as 3-7/8 added and taken away by Python's own fractions, beside the grammar."""
    text, total = "0", F(0)
    for sign, whole, above, below in terms:
        part = F(above % below, below)
        text += f" {sign} {whole}-{above % below}/{below}"
        total += (whole + part) * (1 if sign == "+" else -1)
    assert read(text, unit) == total * (F(254, 10) if unit == "in" else 1)


@given(st.integers(0, 99), st.integers(0, 11), st.integers(0, 63))
def test_every_way_to_write_feet_and_inches_is_the_same_length(feet: int, inches: int, sixty_fourths: int) -> None:
    wanted = (12 * feet + inches + F(sixty_fourths, 64)) * F(254, 10)
    for foot in ("' ", "'", "'-", " ft ", "ft", "′ ", "’"):
        for close in ("-", " "):
            for inch in ('"', "''", " in", "in.", "″", ""):
                assert read(f"{feet}{foot}{inches}{close}{sixty_fourths}/64{inch}", "mm") == wanted


@given(st.integers(1, 999), st.integers(0, 999), st.sampled_from(".,"), st.sampled_from(["mm", "cm", ""]), UNITS)
def test_three_figures_behind_a_comma_or_a_point_are_no_millimetres(whole, part, mark, unit, in_force) -> None:
    text = f"{whole}{mark}{part:03d} {unit}"
    if mark == "." and not unit and in_force == "in":
        assert read(text, in_force) == (whole + F(part, 1000)) * F(254, 10)
        return
    with pytest.raises(LengthFault, match="could be thousands or a decimal") as caught:
        read(text, in_force)
    fault = caught.value
    assert text[fault.start : fault.end] == f"{whole}{mark}{part:03d}"
    *thousands, near = (read(f"{example} {unit}", in_force) for example in fault.example.split(" or "))
    assert thousands == [1000 * near] * (1000 * near <= LONGEST)


@given(st.floats(0, 99_999), st.integers(0, 6))
def test_millimetres_of_our_own_writing_read_back(mm: float, places: int) -> None:
    mm = round(mm, places)
    assert float(read(in_millimetres(mm))) == mm
    assert float(read(in_millimetres(-mm))) == -mm


_FEET = st.sampled_from(["", "0 ft", "3 ft", "12 ft", "12 ft ", "3 ft ", "999 ft ", "1000 ft "])
_WHOLE = st.one_of(st.just(""), st.integers(0, 20000).map(str), st.sampled_from(["007", "012", "11", "12"]))
_PART = st.sampled_from(["", "1/2", "-1/2", "-15/16", "-16/16", "-3/0", "17/16", "100/3", "-1/1000", "-3/4.", "-1/04"])
_NAMED = st.sampled_from(["", " in", " mm", " ft", " m", " ", "in", " in ", " in full"])


@given(st.tuples(_FEET, _WHOLE, _PART, _NAMED).map("".join), UNITS)
@settings(max_examples=share(400))
def test_a_usual_spelling_is_read_as_the_grammar_reads_it(text: str, unit) -> None:
    """Feet, whole, fraction and unit put together in every way, the sound ones and the others."""
    assert _said(read, text, unit) == _said(length_grammar.read, text, unit)


def _said(reader: Callable[[str, Unit], F], text: str, unit: Unit) -> F | str:
    try:
        return reader(text, unit)
    except LengthFault as fault:
        return str(fault)
