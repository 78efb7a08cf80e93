"""A beam of 1,000 pieces, bent and looked at for buckling; and a spar with eight fittings."""

from time import perf_counter

from shopcompanion.beam.model import Push, Support
from shopcompanion.beam.proof import Case, prove
from shopcompanion.beam.sections import along
from shopcompanion.spar.body import Body
from shopcompanion.spar.fitting import Fitting
from shopcompanion.spar.outline import Outline
from tests.beams import force, round_beam

from .figures import Figure, medians
from .lookup import run

TARGET = 100.0  # ms
_TIP = (force(6000, 200),)


def _spar() -> Case:
    flats = tuple(Fitting(at=600.0 * k, kind="cleat", length=100.0, flat=4.0, hole=8.0) for k in range(1, 9))
    body = Body(Outline(((0.0, 100.0), (6000.0, 60.0))), fittings=flats)
    return Case(body, 10000.0, (Support(0, "pinned"), Support(700, "pinned")), _TIP, (Push(6000, 100.0),))


def measure(runs: int = 15, pieces: int = 1000) -> list[Figure]:
    """A solver's time, its yardstick loading the library it is made with."""
    supports, pushes = [Support(0, "fixed")], [Push(6000, 1000.0)]
    case = _spar()

    def solver() -> float:
        started = perf_counter()
        beam = round_beam(6000, 140, 80, supports, _TIP, pushes=pushes, pieces=pieces)
        assert beam.buckling()
        beam.bent(_TIP)
        return (perf_counter() - started) * 1e3

    def spar() -> float:
        along.cache_clear()
        prove.cache_clear()
        started = perf_counter()
        prove(case)
        return (perf_counter() - started) * 1e3

    beam, whole = medians(runs, [solver, spar])
    (library,) = medians(3, [lambda: run(("-c", "import scipy.linalg, scipy.sparse.linalg"))])
    yardstick = "importing scipy.linalg", library
    return [
        Figure(f"beam: {pieces:,} pieces, with buckling", beam, "ms", *yardstick, TARGET, runs, True),
        Figure("beam: a spar with eight fittings", whole, "ms", *yardstick, None, runs),
    ]
