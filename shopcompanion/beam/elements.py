"""Euler and Bernoulli's beam in pieces with cubic shapes, its stiffness summed inside each of them.

Stiffness over the length of a piece is whatever it is at four places (Gauss and Legendre), which is exact for a round
of straight taper. By energy, so what bends is never too soft and what buckles never too weak: with pieces half as long
the error is a sixteenth. Bending and turning forces are those of the pieces' ends, so they balance to the last digits.

A piece has four numbers: how far its heelward end goes and turns, and its headward end.
"""

from collections.abc import Container, Sequence
from itertools import pairwise
from math import sqrt

Four = tuple[float, float, float, float]
Matrix = tuple[Four, Four, Four, Four]  # symmetric
Band = list[list[float]]  # of a symmetric matrix, a row: the three numbers left of its diagonal, and that

_FAR, _NEAR = sqrt(3 / 7 + 2 / 7 * sqrt(6 / 5)), sqrt(3 / 7 - 2 / 7 * sqrt(6 / 5))
PLACES = tuple((1 + x) / 2 for x in (-_FAR, -_NEAR, _NEAR, _FAR))  # of a piece of length 1
_LIGHT, _HEAVY = (18 - sqrt(30)) / 72, (18 + sqrt(30)) / 72
WEIGHTS = (_LIGHT, _HEAVY, _HEAVY, _LIGHT)
BAND = 3  # a number is tied to three on either side

# What a turn of either end curves a piece of length 1 at the places, and what moving and turning slope it there.
_CURVES = tuple((6 * s - 4, 6 * s - 2) for s in PLACES)
_SLOPES = tuple((6 * s * s - 6 * s, 1 - 4 * s + 3 * s * s, 3 * s * s - 2 * s) for s in PLACES)
_SHAPES = tuple(
    (1 - 3 * s**2 + 2 * s**3, s - 2 * s**2 + s**3, 3 * s**2 - 2 * s**3, s**3 - s**2) for s in PLACES
)  # fmt: skip


def places(nodes: Sequence[float]) -> list[Four]:
    """The four places inside each piece at which its stiffness is asked for."""
    a, b, c, d = PLACES
    return [
        (low + (high - low) * a, low + (high - low) * b, low + (high - low) * c, low + (high - low) * d)
        for low, high in pairwise(nodes)
    ]


def over(length: float, values: Four) -> float:
    """The integral over a piece of what has these values at its places."""
    return length * sum(weight * value for weight, value in zip(WEIGHTS, values, strict=True))


def bent(length: float, stiffness: Four) -> Matrix:
    """The stiffness of a piece; `stiffness` is EI at its places, N·mm²."""
    near = both = far = 0.0
    for weight, value, (first, last) in zip(WEIGHTS, stiffness, _CURVES, strict=True):
        near += weight * value * first * first
        both += weight * value * first * last
        far += weight * value * last * last
    near, both, far = near / length, both / length, far / length
    first, last = (near + both) / length, (both + far) / length
    move = (first + last) / length
    return (
        (move, first, -move, last), (first, near, -first, both),
        (-move, -first, move, -last), (last, both, -last, far),
    )  # fmt: skip


def pressed(length: float, push: Four) -> Matrix:
    """What a push along a piece takes from its stiffness; `push` is the compression at its places, N."""
    move = first = last = near = both = far = 0.0
    for weight, value, (moves, heel, head) in zip(WEIGHTS, push, _SLOPES, strict=True):
        force = weight * value
        move += force * moves * moves
        first += force * moves * heel
        last += force * moves * head
        near += force * heel * heel
        both += force * heel * head
        far += force * head * head
    move, near, both, far = move / length, near * length, both * length, far * length
    return (
        (move, first, -move, last), (first, near, -first, both),
        (-move, -first, move, -last), (last, both, -last, far),
    )  # fmt: skip


def loaded(length: float, load: Four) -> Four:
    """The forces and moments at the ends of a piece that do the work of a load per length, given at its places."""
    heel = heel_turn = head = head_turn = 0.0
    for weight, value, (a, b, c, d) in zip(WEIGHTS, load, _SHAPES, strict=True):
        part = length * weight * value
        heel += part * a
        heel_turn += part * b
        head += part * c
        head_turn += part * d
    return heel, length * heel_turn, head, length * head_turn


def less(matrix: Matrix, other: Matrix) -> Matrix:
    """One matrix minus another."""
    a, b, c, d = (tuple(x - y for x, y in zip(*rows, strict=True)) for rows in zip(matrix, other, strict=True))
    return a, b, c, d  # type: ignore[return-value]


def banded(pieces: Sequence[Matrix], held: Container[int], alone: float) -> Band:
    """All pieces put together, two numbers a node; a number that is `held` has `alone` on its diagonal and no other."""
    band = [[0.0] * (BAND + 1) for _ in range(2 * len(pieces) + 2)]
    for first, matrix in zip(range(0, 2 * len(pieces), 2), pieces, strict=True):
        for a in range(4):
            if first + a in held:
                continue
            row, values = band[first + a], matrix[a]
            for b in range(a + 1):
                if first + b not in held:
                    row[BAND + b - a] += values[b]
    for number, row in enumerate(band):
        if number in held:
            row[BAND] = alone
    return band
