"""The kind of field for what was measured: what it reads, what it refuses, and that a preset keeps its meaning."""

from math import pi

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.errors import InputFault
from shopcompanion.lengths import RULES
from shopcompanion.profile.preset import spell
from shopcompanion.spar.measures import Measure, Measures

from .asking import INCH_64, MM_01

KIND = Measures("Measured", above=0, at_most=2000)


def test_widths_and_girths_by_station() -> None:
    read = KIND.read("4 ft = 2-11/16 & 2-45/64 & 2-3/4; 5 ft = GIRTH 8-1/4;", INCH_64)
    assert read == (Measure(1219.2, (68.2625, 68.659375, 69.85)), Measure(1524.0, (), 209.55))


def test_a_decimal_comma_is_no_separator() -> None:
    assert KIND.read("1,2 m = 68,5 & 68,25", MM_01) == (Measure(1200.0, (68.5, 68.25)),)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("4 ft", "4 ft is not station = widths, try 4 ft = 2-11/16 & 2-45/64"),
        ("4 ft = 2-1/2", "at 4 ft: 2 to 4 widths round the spar with & between, or the girth"),
        ("4 ft = 2 & 2 & 2 & 2 & 2", "at 4 ft: 2 to 4 widths"),
        ("4 ft = 2 & ", "nothing is written here"),
        ("4 ft = girth", "nothing is written here"),
        ("4 ft = girth 8 & 2", "not understood here"),
        ("4 ft = 2 & 0", "at 4 ft: 0 in will not do, it must be more than 0 in"),
        ("4 ft = girth 0", "at 4 ft: 0 in will not do"),
        ("4 ft = girth -3", "at 4 ft: -.* will not do"),
        ("4 ft = 2 & 3 m", "at 4 ft: .* will not do, it must be at most"),
        ("4 ft = girth 10 m", "at 4 ft: .* will not do, it must be at most"),
        ("-4 ft = 2 & 2", "it must be at least 0 in"),
        ("= 2 & 2", "nothing is written here"),
        ("4 ft = 2 & x", "»x«: a number is needed here"),
        ("4 ft = 2 = 2", "2 to 4 widths|not understood here"),
        ("1 = 2 & 2;" * 2001, "the list is too long"),
    ],
)
def test_what_is_no_measure_is_refused_in_one_line(text: str, words: str) -> None:
    with pytest.raises(InputFault, match=words) as caught:
        KIND.read(text, INCH_64)
    assert str(caught.value).isprintable()


@pytest.mark.parametrize(
    "value", [None, 3.0, "4 ft", (1.0, 2.0), ((0.0, (1.0, 2.0)),), ((0.0, (), None),), ((0.0, (9.0, 9.0), 9.0),)]
)
def test_values_of_another_make_are_refused(value) -> None:
    with pytest.raises(InputFault):
        KIND.check(value, INCH_64)


@given(
    st.lists(
        st.tuples(st.integers(0, 9999), st.lists(st.integers(1, 640), min_size=1, max_size=4)), min_size=1, max_size=5
    )
)
def test_measures_read_as_they_are_shown(marks: list[tuple[int, list[int]]]) -> None:
    def mm(count: int) -> float:
        return count * 25.4 / 64

    rows = tuple(
        Measure(mm(at), (), mm(sizes[0])) if len(sizes) == 1 else Measure(mm(at), tuple(map(mm, sizes)))
        for at, sizes in marks
    )
    again = KIND.read(KIND.show(rows, INCH_64), INCH_64)
    assert isinstance(again, tuple)
    for measure, was in zip(again, rows, strict=True):
        assert (measure.at, measure.girth) == (pytest.approx(was.at), was.girth and pytest.approx(was.girth))
        assert measure.widths == pytest.approx(was.widths)


@given(st.text(alphabet="0123456789 =;&/.,girthGIRTH-mftin'\"", max_size=60), st.sampled_from(RULES))
def test_any_text_gives_measures_or_a_fault(text: str, rule) -> None:
    try:
        value = KIND.read(text, rule)
    except InputFault as fault:
        assert str(fault).isprintable()  # noqa: PT017  # either way is right
    else:
        KIND.check(value, rule)
        assert all(0 < (measure.girth or pi) / pi <= 2000 and len(measure.widths) in (0, 2, 3, 4) for measure in value)


def test_a_preset_keeps_its_meaning_in_another_unit() -> None:
    text = "48 = 2-1/2 & 64 mm; 5 ft = Girth 8"
    spelled = spell(KIND, text, "in")
    assert spelled == "48 in = 2-1/2 in & 64 mm; 5 ft = girth 8 in"
    assert KIND.read(spelled, MM_01) == KIND.read(text, INCH_64)
    with pytest.raises(InputFault):
        spell(KIND, "48 = x & 2", "in")


def test_the_schema_takes_the_example() -> None:
    jsonschema.validate(KIND.example, KIND.schema())
    KIND.read(KIND.example, INCH_64)


def test_of_a_girth_the_width_is_held_to_the_bounds() -> None:
    """Round 100 mm goes a tape of 314.16 mm."""
    kind = Measures("Measured", above=0, at_most=100)
    (row,) = kind.read("1000 = girth 314.1", MM_01)
    assert row.girth == 314.1
    with pytest.raises(InputFault, match="it must be at most 100 mm"):
        kind.read("1000 = girth 314.5", MM_01)


def test_as_many_rows_are_read_as_a_list_holds() -> None:
    assert len(KIND.read("1 = 2 & 2;" * 2000, INCH_64)) == 2000
