"""Euler and Bernoulli's beam in pieces with cubic shapes, its stiffness summed inside each of them.

Stiffness over the length of a piece is whatever it is at four places (Gauss and Legendre), which is exact for a round
of straight taper. By energy, so what bends is never too soft and what buckles never too weak: with pieces half as long
the error is a sixteenth. Bending and turning forces are those of the pieces' ends, so they balance to the last digits.
"""

from math import sqrt
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

_FAR, _NEAR = sqrt(3 / 7 + 2 / 7 * sqrt(6 / 5)), sqrt(3 / 7 - 2 / 7 * sqrt(6 / 5))
PLACES = tuple((1 + x) / 2 for x in (-_FAR, -_NEAR, _NEAR, _FAR))  # of a piece of length 1
_LIGHT, _HEAVY = (18 - sqrt(30)) / 72, (18 + sqrt(30)) / 72
WEIGHTS = (_LIGHT, _HEAVY, _HEAVY, _LIGHT)
BAND = 3  # a number is tied to three on either side


def places(nodes: "Floats") -> "Floats":
    """The four places inside each piece at which its stiffness is asked for, one row a piece."""
    import numpy as np

    inside: Floats = nodes[:-1, None] + np.diff(nodes)[:, None] * np.array(PLACES)
    return inside


def bent(lengths: "Floats", stiffness: "Floats") -> "Floats":
    """The stiffness of each piece, 4 × 4 for deflection and turn at either end; `stiffness` is EI at `places`."""
    import numpy as np

    s, h = np.array(PLACES), lengths[:, None]
    ones = np.ones_like(h)
    shapes = np.stack([
        (12 * s - 6) / h**2, (6 * s - 4) / h, (6 - 12 * s) / h**2, (6 * s - 2) / h * ones,
    ])  # fmt: skip
    matrices: Floats = np.einsum("aeg,beg,eg,g,e->eab", shapes, shapes, stiffness, np.array(WEIGHTS), lengths)
    return matrices


def pressed(lengths: "Floats", push: "Floats") -> "Floats":
    """What a push along each piece takes from its stiffness; `push` is the compression at `places`, N."""
    import numpy as np

    s, h = np.array(PLACES), lengths[:, None]
    ones = np.ones_like(h)
    slopes = np.stack([
        (6 * s * s - 6 * s) / h, (1 - 4 * s + 3 * s * s) * ones, (6 * s - 6 * s * s) / h, (3 * s * s - 2 * s) * ones,
    ])  # fmt: skip
    matrices: Floats = np.einsum("aeg,beg,eg,g,e->eab", slopes, slopes, push, np.array(WEIGHTS), lengths)
    return matrices


def loaded(lengths: "Floats", load: "Floats") -> "Floats":
    """The forces and moments at the ends of each piece that do the work of a load per length, given at `places`."""
    import numpy as np

    s, h = np.array(PLACES), lengths[:, None]
    ones = np.ones_like(h)
    shapes = np.stack([
        (1 - 3 * s**2 + 2 * s**3) * ones, h * (s - 2 * s**2 + s**3), (3 * s**2 - 2 * s**3) * ones, h * (s**3 - s**2),
    ])  # fmt: skip
    forces: Floats = np.einsum("aeg,eg,g,e->ea", shapes, load, np.array(WEIGHTS), lengths)
    return forces


def banded(pieces: "Floats", free: "NDArray[np.int64]") -> "Floats":
    """All pieces put together, the upper band; `free` numbers what can move, -1 for what cannot."""
    import numpy as np

    band = np.zeros((BAND + 1, int(free.max()) + 1))
    first = 2 * np.arange(len(pieces))
    for a in range(4):
        for b in range(4):
            i, j = free[first + a], free[first + b]
            counts = (i >= 0) & (j >= i)
            np.add.at(band, (BAND + i[counts] - j[counts], j[counts]), pieces[counts, a, b])
    return band


def times(band: "Floats", vector: "Floats") -> "Floats":
    """A symmetric matrix, given by its upper band, times a vector."""
    product: Floats = band[BAND] * vector
    for off in range(1, BAND + 1):
        product[off:] += band[BAND - off, off:] * vector[:-off]
        product[:-off] += band[BAND - off, off:] * vector[off:]
    return product
