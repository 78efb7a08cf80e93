"""Bisection: where a condition turns from true to false."""

from collections.abc import Callable

STEPS = 60  # what is left is the last digit of a float


def turns(low: float, high: float, before: Callable[[float], bool]) -> float:
    """Where `before` turns from true to false between `low` and `high`; `high` where it never does.

    >>> round(turns(0.0, 2.0, lambda x: x * x < 2), 9)
    1.414213562
    """
    for _ in range(STEPS):
        middle = (low + high) / 2
        low, high = (middle, high) if before(middle) else (low, middle)
    return (low + high) / 2
