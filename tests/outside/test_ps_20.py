"""Sizes of softwood lumber against NIST Voluntary Product Standard PS 20, American Softwood Lumber Standard.

Inches. Dry sizes of boards and dimension: seen in a copy of its table that does not say of which edition,
except the thicknesses of MEMORY, which are from memory. Timbers, 5 in and thicker: dressed green to 1/2 in off, from
memory.
"""

from fractions import Fraction

import pytest

from shopcompanion.timber.sizes import CLASSES, board_feet, sold

SEEN = {
    "1": "3/4", "2": "3/2", "3": "5/2", "4": "7/2", "5": "9/2", "6": "11/2", "8": "29/4", "10": "37/4", "12": "45/4",
}  # fmt: skip
MEMORY = {"5/4": "1", "3/2": "5/4"}
INCH, FOOT = 25.4, 304.8


@pytest.mark.parametrize(("rows", "mark"), [(SEEN, "seen"), (MEMORY, "memory")])
def test_dry_sizes_with_how_they_were_seen(rows: dict[str, str], mark: str) -> None:
    sizes = [
        size for by_class in CLASSES if by_class.state == "dry" for size in (*by_class.thicknesses, *by_class.widths)
    ]
    dressed = {size.nominal: size.dressed for size in sizes if size.mark == mark}
    assert dressed == {Fraction(nominal): Fraction(dressed) for nominal, dressed in rows.items()}


@pytest.mark.parametrize(
    ("name", "dressed"),
    [
        ("8 x 8", (7.5, 7.5)),
        ("5 x 5", (4.5, 4.5)),
        ("6 x 12", (5.5, 11.5)),
        ("10 x 10", (9.5, 9.5)),
        ("8 x 5", (4.5, 7.5)),
    ],
)
def test_timbers_are_dressed_green_to_half_an_inch_off(name: str, dressed: tuple[float, float]) -> None:
    """From memory: 5 in and thicker, 1/2 in off. 7-1/4 in is what an 8 is as a width of boards and dimension."""
    sizes = sold(name)
    assert sizes.dressed == pytest.approx([side * INCH for side in dressed])
    assert sizes.mark == "memory"


@pytest.mark.parametrize(
    ("name", "dressed"),
    [
        ("2 x 4", (1.5, 3.5)),
        ("2 x 10", (1.5, 9.25)),
        ("1 x 8", (0.75, 7.25)),
        ("4 x 4", (3.5, 3.5)),
        ("4 x 8", (3.5, 7.25)),
    ],
)
def test_the_common_sizes_in_millimetres(name: str, dressed: tuple[float, float]) -> None:
    assert sold(name).dressed == pytest.approx([side * INCH for side in dressed])


@pytest.mark.parametrize(
    ("name", "feet", "wanted"),
    [("2 x 4", 8, 16 / 3), ("1 x 12", 10, 10)],
)
def test_board_feet_of_144_cubic_inches_nominal(name: str, feet: float, wanted: float) -> None:
    """Worked examples: common practice; a board foot is 144 in³ of the nominal size."""
    assert board_feet(*sold(name).nominal, feet * FOOT) == pytest.approx(wanted)
