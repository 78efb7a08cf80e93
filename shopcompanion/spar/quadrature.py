"""Integrals along a spar, by sums that are exact to the last digits where the curve is smooth."""

from collections.abc import Callable
from math import cos, pi, sin, sqrt

# Gauss and Legendre's five places and weights, exact for polynomials of the ninth degree.
_INNER, _OUTER = sqrt(5 - 2 * sqrt(10 / 7)) / 3, sqrt(5 + 2 * sqrt(10 / 7)) / 3
_HEAVY, _LIGHT = (322 + 13 * sqrt(70)) / 900, (322 - 13 * sqrt(70)) / 900
_GAUSS = ((0.0, 128 / 225), (-_INNER, _HEAVY), (_INNER, _HEAVY), (-_OUTER, _LIGHT), (_OUTER, _LIGHT))


def gauss(of: Callable[[float], float], start: float, end: float, pieces: int = 1) -> float:
    """The integral of `of` between two places, by Gauss and Legendre's five in each of so many pieces."""
    step = (end - start) / pieces
    total = 0.0
    for k in range(pieces):
        middle = start + (k + 0.5) * step
        total += sum(weight * of(middle + place * step / 2) for place, weight in _GAUSS) * step / 2
    return total


def by_angle(of: Callable[[float], float], start: float, end: float, pieces: int) -> float:
    """The integral of `of` in the angle of a circle, for what begins and ends as steeply as the edge of a hole does."""
    middle, half = (start + end) / 2, (end - start) / 2
    return gauss(lambda angle: of(middle + half * sin(angle)) * half * cos(angle), -pi / 2, pi / 2, pieces)
