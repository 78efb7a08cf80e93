"""Symmetric matrices of a beam, of few diagonals: factored, solved, and the largest root of a pair of them.

In plain floats and numpy: scipy's own would be as good, and takes longer to load than a card to be written.
"""

from math import sqrt
from typing import TYPE_CHECKING

from .elements import BAND, times

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

_STEPS = 200  # most that Lanczos' method takes; ten to thirty are usual
_ENOUGH = 1e-9  # of the root: what is left of its error is the square of that


class NotPositive(ArithmeticError):
    """A matrix that is no stiffness: something it holds gives way."""


class Factor:
    """Cholesky's factor L of a matrix L·Lᵀ, given by its upper band as `elements.banded` makes it.

    NotPositive when it has none.
    """

    def __init__(self, band: "Floats") -> None:
        rows: list[list[float]] = []  # of each row of L, the BAND numbers left of its diagonal, then one over that
        columns = band.T.tolist()
        for place, column in enumerate(columns):
            row = [0.0] * BAND
            for back in range(min(BAND, place), 0, -1):
                other, k = rows[place - back], BAND - back
                row[k] = (column[k] - sum(row[j] * other[j + back] for j in range(k))) * other[BAND]
            rest = column[BAND] - sum(part * part for part in row)
            if not rest > 0:
                raise NotPositive
            rows.append([*row, 1 / sqrt(rest)])
        self._rows = rows
        # Of each row of Lᵀ, the BAND numbers right of its diagonal, nearest first.
        padded = [*rows, *([0.0] * (BAND + 1) for _ in range(BAND))]
        self._columns = [[padded[place + off][BAND - off] for off in range(1, BAND + 1)] for place in range(len(rows))]

    def down(self, vector: "Floats") -> "Floats":
        """x of L·x = vector."""
        import numpy as np

        x, a, b, c = [], 0.0, 0.0, 0.0  # the three before, the last of them c
        for value, (left, middle, right, inverse) in zip(vector.tolist(), self._rows, strict=True):
            a, b, c = b, c, (value - left * a - middle * b - right * c) * inverse
            x.append(c)
        return np.array(x)

    def up(self, vector: "Floats") -> "Floats":
        """x of Lᵀ·x = vector."""
        import numpy as np

        x, a, b, c = [], 0.0, 0.0, 0.0  # the three behind, the nearest of them a
        for value, (near, middle, far), row in zip(
            reversed(vector.tolist()), reversed(self._columns), reversed(self._rows), strict=True
        ):
            a, b, c = (value - near * a - middle * b - far * c) * row[BAND], a, b
            x.append(a)
        return np.array(x[::-1])

    def solve(self, vector: "Floats") -> "Floats":
        """x of L·Lᵀ·x = vector."""
        return self.up(self.down(vector))


def largest(factor: Factor, band: "Floats") -> tuple[float, "Floats"]:
    """The largest root t of A·x = t·L·Lᵀ·x, with its x; `band` is the upper band of A.

    By Lanczos' method on L⁻¹·A·L⁻ᵀ, every new direction made square to all before it.
    """
    import numpy as np

    size = band.shape[1]
    most = min(size, _STEPS)
    root, vector = 0.0, np.zeros(size)
    directions = np.zeros((most, size))
    main, beside = np.zeros(most), np.zeros(most)
    new = factor.down(np.linspace(1.0, 2.0, size))
    for step in range(most):
        directions[step] = new / np.linalg.norm(new)
        so_far = directions[: step + 1]
        new = factor.down(times(band, factor.up(directions[step])))
        main[step] = new @ directions[step]
        for _ in range(2):  # once leaves what rounding made of it
            new = new - so_far.T @ (so_far @ new)
        beside[step] = np.linalg.norm(new)
        if step % 4 and step + 1 < most and beside[step] > 0:
            continue
        small = np.diag(main[: step + 1]) + np.diag(beside[:step], 1) + np.diag(beside[:step], -1)
        roots, ways = np.linalg.eigh(small)
        root, vector = float(roots[-1]), factor.up(so_far.T @ ways[:, -1])
        scale = float(np.max(np.abs(roots)))
        if beside[step] * abs(ways[-1, -1]) <= _ENOUGH * scale or beside[step] <= 1e-14 * scale:
            break
    return root, vector
