"""Symmetric matrices of a beam, of few diagonals: factored, solved, and the largest root of a pair of them.

In plain floats: numpy's and scipy's would be as good, and take longer to load than a card to be written.
"""

from collections.abc import Sequence
from math import sqrt
from operator import mul

from .elements import BAND, Band

_STEPS = 200  # most that Lanczos' method takes; ten to thirty are usual
_ENOUGH = 1e-9  # of the root: what is left of its error is the square of that
_HALVINGS = 100


class NotPositive(ArithmeticError):
    """A matrix that is no stiffness: something it holds gives way."""


class Factor:
    """Cholesky's factor L of a matrix L·Lᵀ, given by its band as `elements.banded` makes it.

    NotPositive when it has none.
    """

    def __init__(self, band: Band) -> None:
        rows: list[tuple[float, float, float, float]] = []  # of each row of L, as of a band, but one over the diagonal
        nothing = (0.0, 0.0, 0.0, 0.0)
        third, second, first = nothing, nothing, nothing  # the three rows before, `first` the last
        for far, middle, near, corner in band:
            a = far * third[BAND]
            b = (middle - a * second[2]) * second[BAND]
            c = (near - a * first[1] - b * first[2]) * first[BAND]
            rest = corner - a * a - b * b - c * c
            if not rest > 0:
                raise NotPositive
            third, second, first = second, first, (a, b, c, 1 / sqrt(rest))
            rows.append(first)
        self._rows = rows
        # Of each row of Lᵀ, the three numbers right of its diagonal, nearest first, and one over the diagonal.
        padded = [*rows, *[nothing] * BAND]
        self._columns = [
            (a[2], b[1], c[0], row[BAND])
            for row, a, b, c in zip(rows, padded[1:], padded[2:], padded[3:], strict=False)
        ]

    def down(self, vector: Sequence[float]) -> list[float]:
        """x of L·x = vector."""
        x, a, b, c = [], 0.0, 0.0, 0.0  # the three before, the last of them c
        for value, (far, middle, near, inverse) in zip(vector, self._rows, strict=True):
            a, b, c = b, c, (value - far * a - middle * b - near * c) * inverse
            x.append(c)
        return x

    def up(self, vector: Sequence[float]) -> list[float]:
        """x of Lᵀ·x = vector."""
        x, a, b, c = [], 0.0, 0.0, 0.0  # the three behind, the nearest of them a
        for value, (near, middle, far, inverse) in zip(reversed(vector), reversed(self._columns), strict=True):
            a, b, c = (value - near * a - middle * b - far * c) * inverse, a, b
            x.append(a)
        return x[::-1]

    def solve(self, vector: Sequence[float]) -> list[float]:
        """x of L·Lᵀ·x = vector."""
        return self.up(self.down(vector))


def largest(factor: Factor, band: Band) -> tuple[float, list[float]]:
    """The largest root t of A·x = t·L·Lᵀ·x, with its x; `band` is that of A.

    By Lanczos' method on L⁻¹·A·L⁻ᵀ, every new direction made square to all before it.
    """
    size = len(band)
    rows = _whole(band)
    directions: list[list[float]] = []
    main: list[float] = []
    beside: list[float] = []
    new = factor.down([1 + place / max(size - 1, 1) for place in range(size)])
    norm = sqrt(_dot(new, new))
    while True:
        direction = [value / norm for value in new]
        directions.append(direction)
        new = factor.down(_times(rows, factor.up(direction)))
        main.append(_dot(new, direction))
        for other in directions:  # one after another, so that what rounding makes of one is taken out with the next
            part = _dot(new, other)
            new = [value - part * along for value, along in zip(new, other, strict=True)]
        norm = sqrt(_dot(new, new))
        step = len(main)
        if step % 4 == 1 or step >= min(size, _STEPS) or norm == 0:
            root, parts = _greatest(main, beside)
            scale = max(map(abs, (*main, *beside)))
            if norm * abs(parts[-1]) <= _ENOUGH * scale or norm <= 1e-14 * scale or step >= min(size, _STEPS):
                break
        beside.append(norm)
    return root, factor.up([_dot(parts, column) for column in zip(*directions, strict=True)])


def _dot(a: Sequence[float], b: Sequence[float]) -> float:
    product: float = sum(map(mul, a, b))
    return product


def _whole(band: Band) -> list[tuple[float, ...]]:
    """Rows of all seven diagonals, of a symmetric matrix."""
    padded = [*band, *[[0.0] * (BAND + 1)] * BAND]
    below = zip(padded[1:], padded[2:], padded[3:], strict=False)
    return [(*row, near[2], middle[1], far[0]) for row, (near, middle, far) in zip(band, below, strict=False)]


def _times(rows: Sequence[tuple[float, ...]], vector: Sequence[float]) -> list[float]:
    """A matrix of seven diagonals times a vector."""
    none = (0.0,) * BAND
    x = [*none, *vector, *none]
    return [
        a * p + b * q + c * r + d * s + e * t + f * u + g * v
        for (a, b, c, d, e, f, g), p, q, r, s, t, u, v in zip(
            rows, x, x[1:], x[2:], x[3:], x[4:], x[5:], x[6:], strict=False
        )
    ]


def _greatest(main: Sequence[float], beside: Sequence[float]) -> tuple[float, list[float]]:
    """The largest root of a symmetric matrix of three diagonals, by halving, with its vector of length 1."""
    around = [0.0, *map(abs, beside), 0.0]
    high = max(value + left + right for value, left, right in zip(main, around, around[1:], strict=False))
    low = max(main)
    high += 1e-12 * max(abs(low), abs(high)) or 1.0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        if not low < middle < high:
            break
        low, high = (low, middle) if _pivots(main, beside, middle) else (middle, high)
    vector = [1.0] * len(main)
    pivots = _pivots(main, beside, high)
    for _ in range(2):  # against the inverse of what is left of the matrix there, its vector outgrows all others
        for k in range(1, len(vector)):
            vector[k] += beside[k - 1] / pivots[k - 1] * vector[k - 1]
        vector[-1] /= pivots[-1]
        for k in range(len(vector) - 2, -1, -1):
            vector[k] = (vector[k] + beside[k] * vector[k + 1]) / pivots[k]
        norm = sqrt(_dot(vector, vector))
        vector = [value / norm for value in vector]
    return high, vector


def _pivots(main: Sequence[float], beside: Sequence[float], at: float) -> list[float]:
    """Of the matrix `at`·1 less that of three diagonals; none when `at` is not over all its roots."""
    pivots: list[float] = []
    pivot, off = 0.0, 0.0
    for value, after in zip(main, (*beside, 0.0), strict=True):
        pivot = at - value - (off * off / pivot if pivots else 0.0)
        if not pivot > 0:
            return []
        pivots.append(pivot)
        off = after
    return pivots
