"""Sizes that softwood lumber is sold by, and what is left of them when it is dry and dressed: NIST PS 20."""

import re
from fractions import Fraction
from typing import NamedTuple

from ..errors import InputFault, printable
from ..lengths import INCH

BOARD_FOOT = 144 * 25.4**3  # mm³, of the nominal size


class Size(NamedTuple):
    """A nominal inch size, what it is dressed, dry, and how the figure was come by."""

    nominal: Fraction
    dressed: Fraction
    mark: str


def _size(nominal: str, dressed: str, mark: str = "seen") -> Size:
    return Size(Fraction(nominal), Fraction(dressed), mark)


# American Softwood Lumber Standard, NIST PS 20, dry; the two between 1 and 2 in are from memory.
SIZES = (
    _size("1", "3/4"), _size("5/4", "1", "memory"), _size("3/2", "5/4", "memory"), _size("2", "3/2"),
    _size("3", "5/2"), _size("4", "7/2"), _size("5", "9/2"), _size("6", "11/2"), _size("8", "29/4"),
    _size("10", "37/4"), _size("12", "45/4"),
)  # fmt: skip
_DRESSED = {one.nominal: one.dressed for one in SIZES}
_FROM_MEMORY = tuple(float(one.nominal * INCH) for one in SIZES if one.mark == "memory")
_NUMBER = r"(\d{1,2}(?:[ -]\d/[1-9])?|\d/[1-9])"
_TWO = re.compile(rf"\s*{_NUMBER}\s*[x×]\s*{_NUMBER}\s*", re.IGNORECASE)


class Sold(NamedTuple):
    """Thickness and width as timber is sold, and as it is when dressed. Millimetres."""

    nominal: tuple[float, float]
    dressed: tuple[float, float]


def sold(text: str) -> Sold:
    """The sizes of timber sold as `2 x 6`. InputFault with the sizes there are.

    >>> sold("2 x 6").dressed
    (38.1, 139.7)
    """
    found = _TWO.fullmatch(text)
    parts = [_inches(part) for part in found.groups()] if found else []
    if not parts or not all(part in _DRESSED for part in parts):
        known = ", ".join(words(one.nominal) for one in SIZES)
        raise InputFault(f"'{printable(text)}' is no nominal size; write two of {known} as 2 x 6")
    nominal, dressed = sorted(parts), sorted(_DRESSED[part] for part in parts)
    return Sold(_mm(nominal), _mm(dressed))


def _inches(text: str) -> Fraction:
    return sum((Fraction(part) for part in re.split("[ -]", text)), Fraction())


def words(inches: Fraction) -> str:
    """A nominal size as it is said, as `2`, `5/4` or `1-1/2`."""
    return f"{inches}" if inches.denominator != 2 else f"{inches.numerator // 2}-1/2"


def _mm(inches: list[Fraction]) -> tuple[float, float]:
    thickness, width = inches
    return float(thickness * INCH), float(width * INCH)


def remembered(size: Sold) -> bool:
    """Whether what it is when dressed is from memory, one way or the other.

    >>> remembered(sold("5/4 x 6")), remembered(sold("2 x 6"))
    (True, False)
    """
    return any(side in size.nominal for side in _FROM_MEMORY)


def board_feet(thickness: float, width: float, length: float) -> float:
    """Board feet of a nominal size in millimetres.

    >>> round(board_feet(2 * 25.4, 4 * 25.4, 8 * 304.8), 6)
    5.333333
    """
    return thickness * width * length / BOARD_FOOT
