"""A monotone cubic through stations: fair to the eye and never beyond the widths it is given.

Fritsch and Carlson's piecewise cubic in Fritsch and Butland's form (SIAM J. Sci. Stat. Comput. 5, 1984), with the
three-point slope at the ends: what is known as PCHIP. Two stations are joined by a straight line.
"""

from collections.abc import Sequence
from functools import lru_cache
from math import sqrt

from .halving import turns

Points = Sequence[tuple[float, float]]


@lru_cache(maxsize=64)
def slopes(points: tuple[tuple[float, float], ...]) -> tuple[float, ...]:
    """The rise of the curve at every point."""
    return tuple(slope(points, k) for k in range(len(points)))


def slope(points: Points, k: int) -> float:
    """The rise of the curve at point `k`, from the points next to it. Points are (x, y) in order of x.

    >>> slope([(0, 0), (1, 1), (2, 4)], 1)
    1.5
    """
    last = len(points) - 1
    if last == 1:
        return _chord(points, 0)
    if k in (0, last):
        near, far = (0, 1) if k == 0 else (last - 1, last - 2)
        return _end_slope(_run(points, near), _run(points, far), _chord(points, near), _chord(points, far))
    before, after = _chord(points, k - 1), _chord(points, k)
    if before * after <= 0:
        return 0.0
    run_before, run_after = _run(points, k - 1), _run(points, k)
    share = 2 * run_after + run_before, run_after + 2 * run_before
    return sum(share) / (share[0] / before + share[1] / after)


def value(points: Points, k: int, x: float) -> float:
    """The curve at `x` in the piece from point `k` to the next.

    >>> value([(0, 0), (1, 1), (2, 4)], 0, 0.5)
    0.3125
    """
    (x0, y0), (x1, y1) = points[k], points[k + 1]
    run, rises = x1 - x0, slopes(tuple(points))
    t = (x - x0) / run
    bend = rises[k] * t * (1 - t) ** 2 - rises[k + 1] * t * t * (1 - t)
    return y0 + (y1 - y0) * t * t * (3 - 2 * t) + run * bend


def rise(points: Points, k: int, x: float) -> float:
    """How steep the curve is at `x` in the piece from point `k` to the next."""
    t = (x - points[k][0]) / _run(points, k)
    chord, start, end = _chord(points, k), slope(points, k), slope(points, k + 1)
    return 6 * t * (1 - t) * chord + start * (1 - t) * (1 - 3 * t) + end * t * (3 * t - 2)


def where(points: Points, k: int, y: float) -> float:
    """The x at which the piece from point `k` to the next, which rises or falls, passes through `y`; by halving."""
    (low, y0), (high, y1) = points[k], points[k + 1]
    if y in (y0, y1):
        return low if y == y0 else high
    return turns(low, high, lambda x: (value(points, k, x) > y) != (y1 > y0))


def batten(points: Points) -> tuple[float, float]:
    """How far a natural batten lies above this curve (minus: below it) where it is farthest off, and where that is.

    A batten pinned at the points and free at its ends takes the natural cubic spline: the least bent line through them
    (Holladay 1957). Between two points both are cubics, so what lies between them is greatest at a root of a square.

    >>> batten([(0, 0), (1, 1)])
    (0.0, 0)
    """
    over, rises = [(0.0, points[0][0])], _natural(points)
    for k in range(len(points) - 1):
        run, start, end = _run(points, k), rises[k] - slope(points, k), rises[k + 1] - slope(points, k + 1)
        for t in _roots(3 * (start + end), -(4 * start + 2 * end), start):
            if 0 < t < 1:
                over.append((run * (start * t * (1 - t) ** 2 - end * t * t * (1 - t)), points[k][0] + t * run))
    return max(over, key=lambda place: abs(place[0]))


def _natural(points: Points) -> list[float]:
    """The rise of the natural cubic spline at every point: three unknowns a row, solved downwards and back."""
    last = len(points) - 1
    below, sides = [0.0] * (last + 1), [0.0] * (last + 1)
    for k in range(last + 1):
        before = 1 / _run(points, k - 1) if k else 0.0
        after = 1 / _run(points, k) if k < last else 0.0
        side = 3 * (before * _chord(points, k - 1) if k else 0.0) + 3 * (after * _chord(points, k) if k < last else 0.0)
        middle = 2 * (before + after) - (before * below[k - 1] if k else 0.0)
        below[k] = after / middle
        sides[k] = (side - (before * sides[k - 1] if k else 0.0)) / middle
    rises = [sides[last]]
    for k in range(last - 1, -1, -1):
        rises.append(sides[k] - below[k] * rises[-1])
    return rises[::-1]


def _roots(a: float, b: float, c: float) -> list[float]:
    """The real roots of a·t² + b·t + c."""
    if abs(a) < 1e-15:
        return [-c / b] if b else []
    under = b * b - 4 * a * c
    return [(-b + sign * sqrt(under)) / (2 * a) for sign in (-1, 1)] if under >= 0 else []


def _run(points: Points, k: int) -> float:
    return points[k + 1][0] - points[k][0]


def _chord(points: Points, k: int) -> float:
    return (points[k + 1][1] - points[k][1]) / _run(points, k)


def _end_slope(run: float, next_run: float, chord: float, next_chord: float) -> float:
    """The slope at an end, of the parabola through three points, limited to keep the curve within the first two."""
    rise = ((2 * run + next_run) * chord - run * next_chord) / (run + next_run)
    if rise * chord <= 0:
        return 0.0
    if chord * next_chord <= 0 and abs(rise) > 3 * abs(chord):
        return 3 * chord
    return rise
