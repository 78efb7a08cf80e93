"""Linear programmes of one sort: the largest `gain`·x with rows·x ≤ `most`, x ≥ 0, where no `most` is under 0.

Small ones, as of any common spar, are solved here in a few milliseconds by the simplex method, so that an answer comes
with the key that asks for it. Large ones go to HiGHS, which takes a third of a second to load.
"""

from collections.abc import Sequence

Row = dict[int, float]  # column to coefficient; the others are 0
SMALL = 32  # columns
_NOUGHT = 1e-11


def largest(gain: Sequence[float], rows: Sequence[Row], most: Sequence[float]) -> list[float]:
    """The x ≥ 0 of the largest gain·x with rows·x ≤ most. The rows must bound it, and have numbers of about 1."""
    return simplex(gain, rows, most) if len(gain) <= SMALL else highs(gain, rows, most)


def simplex(gain: Sequence[float], rows: Sequence[Row], most: Sequence[float]) -> list[float]:
    """Dantzig's simplex method from x = 0, which is feasible. By Bland's rule while it gains nothing, so that it never
    goes in circles.

    >>> simplex([3, 2], [{0: 1, 1: 1}, {0: 1}], [4, 3])
    [3.0, 1.0]
    """
    columns = len(gain)
    table = [[row.get(j, 0.0) for j in range(columns)] + [bound] for row, bound in zip(rows, most, strict=True)]
    price = [*gain, 0.0]
    outside = list(range(columns))  # the variables at 0, by column
    inside = list(range(columns, columns + len(rows)))  # the others, by row; from `columns` up they are slacks
    step = 1.0
    while entering := [j for j in range(columns) if price[j] > _NOUGHT]:
        j = max(entering, key=price.__getitem__) if step > _NOUGHT else min(entering, key=outside.__getitem__)
        leaving = [(max(row[-1], 0.0) / row[j], inside[i], i) for i, row in enumerate(table) if row[j] > _NOUGHT]
        step = min(leaving)[0]
        _, i = min((variable, i) for ratio, variable, i in leaving if ratio <= step + _NOUGHT)
        pivot = table[i][j]
        row = table[i] = [number / pivot for number in table[i]]
        row[j] = 1 / pivot
        for other in (*table, price):
            factor = other[j]
            if other is not row and factor:
                other[:] = [a - factor * b for a, b in zip(other, row, strict=True)]
                other[j] = -factor / pivot
        inside[i], outside[j] = outside[j], inside[i]
    solution = dict(zip(inside, (max(row[-1], 0.0) for row in table), strict=True))
    return [solution.get(j, 0.0) for j in range(columns)]


def highs(gain: Sequence[float], rows: Sequence[Row], most: Sequence[float]) -> list[float]:
    """The same by scipy's HiGHS."""
    from scipy.optimize import linprog  # type: ignore[import-untyped]
    from scipy.sparse import csr_array  # type: ignore[import-untyped]

    places = [(i, j, number) for i, row in enumerate(rows) for j, number in row.items()]
    down, across, sizes = zip(*places, strict=True)
    matrix = csr_array((sizes, (down, across)), shape=(len(rows), len(gain)))
    told = linprog([-number for number in gain], A_ub=matrix, b_ub=list(most), method="highs")
    if told.status != 0:
        raise ArithmeticError(told.message)  # it is feasible and bounded
    return [max(float(number), 0.0) for number in told.x]
