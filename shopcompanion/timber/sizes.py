"""Sizes that softwood lumber is sold by, and what is left of them when it is dressed: NIST PS 20.

The standard has three classes, told apart by the nominal size: boards, dimension and timbers. The class decides what
dressing takes off: an 8 is 7-1/4 in as the width of a board or of dimension, dry, and 7-1/2 in as a side of a timber,
green.
"""

import re
from fractions import Fraction

from ..errors import InputFault, printable
from ..lengths import INCH
from ..record import NamedTuple

BOARD_FOOT = 144 * 25.4**3  # mm³, of the nominal size


class Size(NamedTuple):
    """A nominal inch size, what it is dressed, and how the figure was come by."""

    nominal: Fraction
    dressed: Fraction
    mark: str


class SizeClass(NamedTuple):
    """A class of sizes: the thicknesses and the widths there are, and whether it is dressed dry or green."""

    name: str
    thicknesses: tuple[Size, ...]
    widths: tuple[Size, ...]
    state: str


def _size(nominal: str, dressed: str, mark: str = "seen") -> Size:
    return Size(Fraction(nominal), Fraction(dressed), mark)


# American Softwood Lumber Standard, NIST PS 20, as a copy that does not say its edition. Boards and dimension:
# dry; two thicknesses are from memory. Timbers, 5 in and thicker: green, 1/2 in off each side, all from memory.
_WIDTHS = (
    _size("2", "3/2"), _size("3", "5/2"), _size("4", "7/2"), _size("5", "9/2"), _size("6", "11/2"), _size("8", "29/4"),
    _size("10", "37/4"), _size("12", "45/4"),
)  # fmt: skip
_SIDES = tuple(Size(Fraction(inches), inches - Fraction(1, 2), "memory") for inches in range(5, 25))
CLASSES = (
    SizeClass("board", (_size("1", "3/4"), _size("5/4", "1", "memory"), _size("3/2", "5/4", "memory")), _WIDTHS, "dry"),
    SizeClass("dimension", _WIDTHS[:3], _WIDTHS, "dry"),
    SizeClass("timber", _SIDES, _SIDES, "green"),
)
_KNOWN = (
    "boards are 1, 5/4 or 1-1/2 thick, dimension 2, 3 or 4, both 2, 3, 4, 5, 6, 8, 10 or 12 wide; timbers 5 to 24 "
    "either way"
)
_NUMBER = r"(\d{1,2}(?:[ -]\d/[1-9])?|\d/[1-9])"
_TWO = re.compile(rf"\s*{_NUMBER}\s*[x×]\s*{_NUMBER}\s*", re.IGNORECASE)


class SoldSize(NamedTuple):
    """Thickness and width as timber is sold, and as it is when dressed, in millimetres; the class of the size, and
    `memory` where a dressed side is from memory, `seen` where both were seen. Timber of a size of its own has no class.
    """

    nominal: tuple[float, float]
    dressed: tuple[float, float]
    size_class: SizeClass | None = None
    mark: str = ""

    @property
    def name(self) -> str:
        """How the size is asked for at the yard, as `2 x 6` or `5/4 x 8`."""
        return " x ".join(_words(Fraction(round(side / 25.4 * 4), 4)) for side in self.nominal)


def sold(text: str) -> SoldSize:
    """The sizes of timber sold as `2 x 6`. InputFault with the sizes there are.

    >>> sold("2 x 6").dressed
    (38.1, 139.7)
    >>> [side / 25.4 for side in sold("8 x 8").dressed]
    [7.5, 7.5]
    """
    named = _TWO.fullmatch(text)
    sides = sorted(_inches(part) for part in named.groups()) if named else []
    for size_class in CLASSES if sides else ():
        thickness = next((size for size in size_class.thicknesses if size.nominal == sides[0]), None)
        width = next((size for size in size_class.widths if size.nominal == sides[1]), None)
        if thickness and width:
            return _sold(size_class, thickness, width)
    raise InputFault(f"'{printable(text)}' is not a nominal size, write it as 2 x 6; {_KNOWN}")


def least(thickness: float, width: float) -> SoldSize | None:
    """The least nominal size that holds a thickness and a width, mm, when it is dressed. None where the class that is
    thick enough has none as wide: no timber is named for a wide thin blank.

    >>> least(38, 88).name, least(38, 300)
    ('2 x 4', None)
    """
    thin, wide = sorted((thickness, width))
    for size_class in CLASSES:
        for thick in size_class.thicknesses:
            if float(thick.dressed * INCH) >= thin:
                wider = (other for other in size_class.widths if float(other.dressed * INCH) >= wide and other >= thick)
                other = next(wider, None)
                return other and _sold(size_class, thick, other)
    return None


def _sold(size_class: SizeClass, thickness: Size, width: Size) -> SoldSize:
    mark = "memory" if "memory" in (thickness.mark, width.mark) else "seen"
    return SoldSize(
        _mm(thickness.nominal, width.nominal), _mm(*sorted((thickness.dressed, width.dressed))), size_class, mark
    )


def _inches(text: str) -> Fraction:
    return sum((Fraction(part) for part in re.split("[ -]", text)), Fraction())


def _words(inches: Fraction) -> str:
    return f"{inches}" if inches.denominator != 2 else f"{inches.numerator // 2}-1/2"


def _mm(thickness: Fraction, width: Fraction) -> tuple[float, float]:
    return float(thickness * INCH), float(width * INCH)


def board_feet(thickness: float, width: float, length: float) -> float:
    """Board feet of a nominal size in millimetres.

    >>> round(board_feet(2 * 25.4, 4 * 25.4, 8 * 304.8), 6)
    5.333333
    """
    return thickness * width * length / BOARD_FOOT
