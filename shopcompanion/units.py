"""The one door to pint: named quantities other than lengths.

pint is loaded at the first conversion and never reads user text: unit names come from our own closed lists.
"""

from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pint


@cache
def factor(unit: str, into: str) -> float:
    """How many `into` one `unit` is.

    >>> round(factor("lb", "kg"), 12)
    0.45359237
    """
    if unit == into:
        return 1.0
    return float(_registry().Quantity(1.0, unit).to(into).magnitude)


@cache
def _registry() -> "pint.UnitRegistry[float]":
    import pint

    return pint.UnitRegistry()
