"""A cutting plan for 12 timbers, 30 blanks and 3 knots: when there is a first plan, and when the best is proved."""

from time import perf_counter

from shopcompanion.stock.check import faults
from shopcompanion.stock.first import first_plan
from shopcompanion.stock.pieces import Problem
from shopcompanion.stock.search import Search
from tests.stock.problems import boat

from .figures import Figure, medians
from .lookup import run

TARGET = 2000.0  # ms to the proof


def measure(runs: int = 5, problem: Problem | None = None) -> list[Figure]:
    whole = boat() if problem is None else problem
    plan = first_plan(whole)

    def first() -> float:
        started = perf_counter()
        first_plan(whole)
        return (perf_counter() - started) * 1e3

    def check() -> float:
        started = perf_counter()
        assert faults(whole, plan) == []
        return (perf_counter() - started) * 1e3

    def proof() -> float:
        started = perf_counter()
        with Search(whole) as search:
            *_, last = search
        assert last.proof.proved, last.proof
        return (perf_counter() - started) * 1e3

    begun, checked = medians(runs * 3, [first, check])
    proved, library = medians(runs, [proof, lambda: run(("-c", "import scipy.optimize"))])
    return [
        Figure("stock: first plan", begun, "ms", "its check", checked, None, runs * 3),
        Figure("stock: best plan proved", proved, "ms", "importing scipy.optimize", library, TARGET, runs, True),
    ]
