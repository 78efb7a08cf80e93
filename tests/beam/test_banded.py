"""Matrices of few diagonals, against numpy's and scipy's for full ones."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.linalg import eigh

from shopcompanion.beam.banded import Factor, NotPositive, largest
from shopcompanion.beam.elements import BAND, Band

from ..test_imports import loaded_by


def banded(matrix: np.ndarray) -> Band:
    """The rows of a symmetric matrix up to the diagonal, as its factor takes them."""
    band = np.zeros((len(matrix), BAND + 1))
    for off in range(min(BAND + 1, len(matrix))):
        band[off:, BAND - off] = np.diagonal(matrix, off)
    return band.tolist()


def symmetric(size: int, seed: int) -> np.ndarray:
    """Of seven diagonals, with roots above and below 0."""
    values = np.random.default_rng(seed).normal(size=(size, size))
    values = np.triu(np.tril(values, BAND), -BAND)
    return values + values.T


def positive(size: int, seed: int) -> np.ndarray:
    """A stiffness: more on its diagonal than beside it, and of sizes far apart."""
    matrix = symmetric(size, seed)
    matrix += np.diag(np.abs(matrix).sum(axis=1) + 0.01)
    scale = 10 ** np.random.default_rng(seed + 1).uniform(-2, 2, size)
    return matrix * scale * scale[:, None]


SIZES, SEEDS = st.integers(1, 40), st.integers(0, 10_000)


@given(SIZES, SEEDS)
def test_what_is_solved_is_what_a_full_matrix_gives(size: int, seed: int) -> None:
    matrix, right = positive(size, seed), np.random.default_rng(seed + 2).normal(size=size)
    known = np.linalg.solve(matrix, right)
    assert Factor(banded(matrix)).solve(right) == pytest.approx(known, rel=1e-8, abs=1e-10 * np.max(np.abs(known)))


@given(SIZES, SEEDS)
def test_the_two_halves_of_a_factor_make_the_matrix(size: int, seed: int) -> None:
    matrix, factor = positive(size, seed), Factor(banded(positive(size, seed)))
    for column in range(size):
        unit = np.eye(size)[column]
        assert matrix @ factor.up(factor.down(unit)) == pytest.approx(unit, abs=1e-8)


@given(SIZES, SEEDS)
@settings(max_examples=40)
def test_the_largest_root_is_that_of_full_matrices(size: int, seed: int) -> None:
    """By LAPACK's generalised symmetric problem, from scipy."""
    stiff, pressed = positive(size, seed), symmetric(size, seed + 3)
    root, way = largest(Factor(banded(stiff)), banded(pressed))
    known = eigh(pressed, stiff, eigvals_only=True)
    assert root == pytest.approx(known[-1], rel=1e-9, abs=1e-9 * np.max(np.abs(known)))
    left = pressed @ way - root * (stiff @ way)
    assert np.max(np.abs(left)) <= 1e-5 * np.max(np.abs(known)) * np.max(np.abs(stiff @ way))


def test_a_column_of_a_thousand_pieces_buckles_as_euler_says() -> None:
    """Pinned at both ends, by differences: the least root of -u'' = t·u on a unit length is π²."""
    size = 1000
    step = 1 / (size + 1)
    stiff = (np.diag(np.full(size, 2.0)) - np.diag(np.ones(size - 1), 1) - np.diag(np.ones(size - 1), -1)) / step**2
    root, way = largest(Factor(banded(stiff)), banded(np.eye(size)))
    assert 1 / root == pytest.approx(np.pi**2, rel=1e-5)
    half_wave = np.sin(np.pi * step * np.arange(1, size + 1))
    assert np.abs(way) / np.max(np.abs(way)) == pytest.approx(half_wave, abs=1e-4)


@pytest.mark.parametrize("low", [0.0, -1.0, float("nan")])
def test_what_gives_way_has_no_factor(low: float) -> None:
    with pytest.raises(NotPositive):
        Factor(banded(np.diag([1.0, 2.0, low, 3.0])))


def test_a_proof_loads_no_numpy() -> None:
    """That and scipy take as long to load as all the rest of a card."""
    loaded = loaded_by(
        "from shopcompanion.catalog import load; from shopcompanion.form import solve; "
        "from shopcompanion.lengths import RULES; "
        "solve(load('strength'), {'length': '10 ft', 'butt': '3', 'head': '2', 'modulus': '10 GPa', "
        "'rupture': '65 MPa', 'supports': '0 = fixed', 'push': '10 ft = 100 lbf'}, {}, RULES[0])"
    )
    assert not {"numpy", "scipy"} & set(loaded)
