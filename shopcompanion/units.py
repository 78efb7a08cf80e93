"""The one door to pint: named quantities other than lengths.

The units that the house uses are worked out from a short table of exact definitions, held against pint by a test. pint
takes a third of a second to load and is asked only for others; unit names come from our own closed lists, never from
user text.
"""

from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pint

_POUND, _INCH, _GRAVITY = Fraction(45359237, 10**8), Fraction(254, 10**4), Fraction(980665, 10**5)
_FORCE, _PRESSURE = (1, 1, -2), (1, -1, -2)
# What each is in kilograms, metres and seconds, and the powers of those.
_UNITS: dict[str, tuple[Fraction, tuple[int, int, int]]] = {
    "kg": (Fraction(1), (1, 0, 0)), "g": (Fraction(1, 1000), (1, 0, 0)),
    "lb": (_POUND, (1, 0, 0)), "oz": (_POUND / 16, (1, 0, 0)),
    "m": (Fraction(1), (0, 1, 0)), "cm": (Fraction(1, 100), (0, 1, 0)), "mm": (Fraction(1, 1000), (0, 1, 0)),
    "km": (Fraction(1000), (0, 1, 0)), "in": (_INCH, (0, 1, 0)), "ft": (12 * _INCH, (0, 1, 0)),
    "s": (Fraction(1), (0, 0, 1)), "min": (Fraction(60), (0, 0, 1)), "h": (Fraction(3600), (0, 0, 1)),
    "N": (Fraction(1), _FORCE), "kN": (Fraction(1000), _FORCE), "lbf": (_POUND * _GRAVITY, _FORCE),
    "Pa": (Fraction(1), _PRESSURE), "kPa": (Fraction(10**3), _PRESSURE), "MPa": (Fraction(10**6), _PRESSURE),
    "GPa": (Fraction(10**9), _PRESSURE), "psi": (_POUND * _GRAVITY / _INCH**2, _PRESSURE),
    "ksi": (1000 * _POUND * _GRAVITY / _INCH**2, _PRESSURE),
    "L": (Fraction(1, 1000), (0, 3, 0)), "mL": (Fraction(1, 10**6), (0, 3, 0)),
    "gal": (231 * _INCH**3, (0, 3, 0)), "qt": (231 * _INCH**3 / 4, (0, 3, 0)), "pt": (231 * _INCH**3 / 8, (0, 3, 0)),
    "floz": (231 * _INCH**3 / 128, (0, 3, 0)), "day": (Fraction(86400), (0, 0, 1)),
    "knots": (Fraction(1852, 3600), (0, 1, -1)), "mph": (5280 * 12 * _INCH / 3600, (0, 1, -1)),
}  # fmt: skip


@cache
def factor(unit: str, into: str) -> float:
    """How many `into` one `unit` is; units as `lb`, `ft/min`, `lbf*ft`, `kg/m^3`.

    >>> factor("lb", "kg"), factor("ft/min", "m/s")
    (0.45359237, 0.00508)
    """
    if unit == into:
        return 1.0
    ours, theirs = _worked_out(unit), _worked_out(into)
    if ours and theirs and ours[1] == theirs[1]:
        return float(ours[0] / theirs[0])
    return float(_registry().Quantity(1.0, unit).to(into).magnitude)


def _worked_out(unit: str) -> tuple[Fraction, tuple[int, ...]] | None:
    """What a unit is in kilograms, metres and seconds, and their powers. None when one of its names is not ours."""
    size, powers = Fraction(1), [0, 0, 0]
    for place, part in enumerate(unit.split("/")):
        for word in part.replace("*", " ").split():
            name, _, power = word.partition("^")
            if name not in _UNITS or not (power or "1").isdigit():
                return None
            times = int(power or 1) * (-1 if place else 1)
            factor, dimensions = _UNITS[name]
            size *= factor**times
            powers = [have + times * more for have, more in zip(powers, dimensions, strict=True)]
    return size, tuple(powers)


@cache
def _registry() -> "pint.UnitRegistry[float]":
    import pint

    return pint.UnitRegistry()
