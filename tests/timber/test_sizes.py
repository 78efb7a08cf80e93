"""Sizes as lumber is sold: what is read, and what is refused. The table itself is checked in tests/outside/."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.errors import InputFault
from shopcompanion.timber.sizes import SIZES, board_feet, sold

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
    assert "1, 5/4, 1-1/2, 2, 3, 4, 5, 6, 8, 10, 12 as 2 x 6" in str(caught.value)


@given(st.sampled_from(SIZES), st.sampled_from(SIZES))
def test_dressed_is_smaller_than_its_name(one, other) -> None:
    found = sold(f"{one.nominal} x {other.nominal}")
    for nominal, dressed in zip(*found, strict=True):
        assert 0 < dressed < nominal
    assert {one.mark, other.mark} <= {"seen", "memory"}


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
