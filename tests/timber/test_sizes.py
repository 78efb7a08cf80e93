"""Sizes as lumber is sold: what is read, and what is refused. The table itself is checked in tests/outside/."""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from shopcompanion.errors import InputFault
from shopcompanion.timber.sizes import CLASSES, board_feet, least, sold

INCH = 25.4


@pytest.mark.parametrize("text", ["2 x 6", "2x6", "2×6", " 2 X 6 ", "6 x 2"])
def test_one_size_written_in_many_ways(text: str) -> None:
    assert sold(text).nominal == pytest.approx((2 * INCH, 6 * INCH))
    assert sold(text).dressed == pytest.approx((1.5 * INCH, 5.5 * INCH))


@pytest.mark.parametrize("text", ["5/4 x 6", "1-1/4 x 6", "1 1/4 x 6"])
def test_five_quarter(text: str) -> None:
    assert sold(text).nominal == pytest.approx((1.25 * INCH, 6 * INCH))
    assert sold(text).dressed == pytest.approx((1 * INCH, 5.5 * INCH))


@pytest.mark.parametrize("text", ["7 x 2", "2", "", "2/0 x 4", "2 x 4 x 8", "two by four", "2 x", "-2 x 4", "2 x 1e3"])
def test_no_size_says_which_there_are(text: str) -> None:
    with pytest.raises(InputFault) as caught:
        sold(text)
    said = str(caught.value)
    assert "write it as 2 x 6; boards are 1, 5/4 or 1-1/2 thick, dimension 2, 3 or 4, both 2, 3, 4, 5, 6, 8" in said
    assert "timbers 5 to 24 either way" in said


@pytest.mark.parametrize("text", ["1 x 1", "5/4 x 3/2", "4 x 7", "3 x 14", "25 x 25", "5 x 11/2"])
def test_what_its_class_does_not_have_is_no_size(text: str) -> None:
    with pytest.raises(InputFault, match="not a nominal size"):
        sold(text)


SOLD = [
    sold(f"{thickness.nominal} x {width.nominal}")
    for size_class in CLASSES
    for thickness in size_class.thicknesses
    for width in size_class.widths
]


@pytest.mark.parametrize("size", SOLD)
def test_dressed_is_smaller_than_its_name(size) -> None:
    for nominal, dressed in zip(size.nominal, size.dressed, strict=True):
        assert 0 < dressed < nominal
    assert size.mark in ("seen", "memory")
    assert sold(size.name) == size


@pytest.mark.parametrize(
    ("text", "name", "state"),
    [("5/4 x 6", "board", "dry"), ("4 x 12", "dimension", "dry"), ("5 x 5", "timber", "green")],
)
def test_the_thinner_side_decides_the_class(text: str, name: str, state: str) -> None:
    size_class = sold(text).size_class
    assert (size_class.name, size_class.state) == (name, state)


@given(st.floats(5, 300), st.floats(5, 300))
@example(5.0, 38.1)  # a 1 x 2 is just that wide
def test_the_least_size_holds_and_none_of_its_class_that_is_less_does(thick: float, wide: float) -> None:
    size = least(thick, wide)
    assert size == least(wide, thick)
    thin, broad = sorted((thick, wide))
    holding = [other for other in SOLD if other.dressed[0] >= thin and other.dressed[1] >= broad]
    if size is None:
        assert not [other for other in holding if other.size_class.name != "timber"]
    else:
        assert size in holding
        same = [other for other in holding if other.size_class is size.size_class]
        assert all(other.nominal[0] >= size.nominal[0] and other.nominal[1] >= size.nominal[1] for other in same)


@given(st.text(max_size=60))
def test_any_text_is_a_size_or_one_line(text: str) -> None:
    try:
        said = str(sold(text).dressed)
    except InputFault as fault:
        said = str(fault)
    assert said.isprintable()


@given(st.floats(1, 300), st.floats(1, 300), st.floats(1, 9000))
def test_board_feet_are_a_volume(thick, wide, long) -> None:
    assert board_feet(thick, wide, long) * 144 == pytest.approx(thick * wide * long / INCH**3)
    assert board_feet(thick, 2 * wide, long) == pytest.approx(2 * board_feet(thick, wide, long))
