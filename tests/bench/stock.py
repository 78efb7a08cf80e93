"""A cutting plan for 12 timbers, 30 blanks and 3 knots: when there is a first plan, and when the best is proved."""

from time import perf_counter

from shopcompanion.stock.check import faults
from shopcompanion.stock.pieces import Problem
from shopcompanion.stock.plan import first_plan
from shopcompanion.stock.search import Search
from tests.stock.problems import boat, medley

from .figures import Figure, medians
from .lookup import run

TARGET = 2000.0  # ms to the proof


def proof(problem: Problem) -> float:
    """From the question to the proof, with the start of the process: milliseconds. AssertionError without one."""
    started = perf_counter()
    with Search(problem) as search:
        *_, last = search
    assert last.proof.proved, last.proof
    return (perf_counter() - started) * 1e3


def measure(runs: int = 3, pairs: Problem | None = None, different: Problem | None = None) -> list[Figure]:
    """For a boat whose spars and timbers come in pairs, and for one where hardly two are alike."""
    pairs, different = pairs or boat(), different or medley()
    plan = first_plan(pairs)

    def first() -> float:
        started = perf_counter()
        first_plan(pairs)
        return (perf_counter() - started) * 1e3

    def check() -> float:
        started = perf_counter()
        assert faults(pairs, plan) == []
        return (perf_counter() - started) * 1e3

    begun, checked = medians(runs * 3, [first, check])
    acts = [lambda: proof(pairs), lambda: proof(different), lambda: run(("-c", "import scipy.optimize"))]
    proved, hard, library = medians(runs, acts)
    yardstick = "importing scipy.optimize", library
    return [
        Figure("stock: first plan", begun, "ms", "its check", checked, None, runs * 3),
        Figure("stock: best plan proved", proved, "ms", *yardstick, TARGET, runs, True),
        Figure("stock: the same, hardly two alike", hard, "ms", *yardstick, TARGET, runs, True),
    ]
