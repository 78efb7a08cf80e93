"""Sound questions for the log, and what it says in words by other means: from the measures, with numpy and scipy."""

from collections.abc import Callable, Iterator
from itertools import pairwise
from math import pi
from typing import Any, NamedTuple

import numpy as np
import pytest
from hypothesis import strategies as st
from scipy.integrate import quad

from shopcompanion.calculator import Result
from shopcompanion.spar.measures import Measure
from shopcompanion.spar.outline import Outline
from shopcompanion.spar.tables import PUBLISHED

from ..spars import outlines
from . import SOMETIMES

GIVEN = ("--outline", "0 = 2-1/2; 11 ft = 2-1/4", "--measured", "1 ft = 2 & 2-1/8; 5 ft = girth 8")


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    design = draw(outlines())
    asked: dict[str, Any] = {"outline": design.stations, "law": design.law}
    oval = design.law == "straight" and draw(SOMETIMES)
    if oval:
        asked["depths"] = tuple((at, width * draw(st.floats(0.6, 1.6))) for at, width in design.stations)
    deep = Outline(asked["depths"]) if oval else design
    low = draw(st.sampled_from([0.7, 0.95, 1.0]))
    measured = []
    for part in draw(st.sets(st.integers(0, 50), max_size=5)):
        at = design.length * part / 50
        if not oval and draw(SOMETIMES):
            measured.append(Measure(at, (), pi * design.width_at(at) * draw(st.floats(low, 1.2))))
            continue
        count = draw(st.sampled_from([2, 4])) if oval else draw(st.integers(2, 4))
        meant = (design.width_at(at), deep.width_at(at))
        measured.append(Measure(at, tuple(meant[k % 2] * draw(st.floats(low, 1.2)) for k in range(count))))
    if measured:
        asked["measured"] = tuple(measured)
    asked["tolerance"] = draw(st.floats(0, 2))
    return asked


class Seen(NamedTuple):
    at: float
    meant: float
    sizes: list[float]

    @property
    def over(self) -> float:
        return float(np.mean(self.sizes)) - self.meant


def designs(given: Any) -> list[Outline]:
    return [Outline(rows, given.law) for rows in (given.outline, given.depths) if rows is not None]


def targets(result: Result) -> list[Outline]:
    answers = result.answers
    return [Outline(rows, answers.new_law) for rows in (answers.new_widths, answers.new_depths) if rows is not None]


def seen(given: Any) -> list[list[Seen]]:
    """The stations of every way, heel to head; the questions have no station twice."""
    ways_along = []
    for way, design in enumerate(designs(given)):
        rows = []
        for at, widths, girth in sorted(given.measured or ()):
            sizes = [girth / pi] if girth else list(widths[way::2] if given.depths else widths)
            rows.append(Seen(at, design.width_at(at), sizes))
        ways_along.append(rows)
    return ways_along


def every(given: Any) -> list[Seen]:
    return [row for way in seen(given) for row in way]


def verdict(result: Result) -> None:
    given = result.inputs
    rows = every(given)
    thin = any(size < row.meant - given.tolerance for row in rows for size in row.sizes)
    high = any(size > row.meant + given.tolerance for row in rows for size in row.sizes)
    words = "too thin" if thin else "wood to come off" if high else "at size"
    assert result.answers.verdict == (words if rows else "nothing measured")
    assert (result.answers.new_widths is not None) == thin


def most_to_come_off(result: Result) -> None:
    rows, answers = every(result.inputs), result.answers
    assert answers.to_come_off == pytest.approx(max(0.0, *(row.over for row in rows), -1.0), abs=1e-9)
    if answers.to_come_off_at is not None:
        assert any(row.at == answers.to_come_off_at and row.over >= answers.to_come_off - 1e-9 for row in rows)


def thinnest(result: Result) -> None:
    rows, answers = every(result.inputs), result.answers
    under = [(row.meant - size, row.at) for row in rows for size in row.sizes]
    assert answers.under == pytest.approx(max(under)[0])
    assert any(at == answers.under_at and lost >= answers.under - 1e-9 for lost, at in under)


def least_round(result: Result) -> None:
    rows, answers = every(result.inputs), result.answers
    spread = [(float(np.ptp(row.sizes)), row.at) for row in rows if len(row.sizes) > 1]
    assert answers.out_of_round == pytest.approx(max(spread)[0], abs=1e-9)
    assert any(at == answers.out_of_round_at and size >= answers.out_of_round - 1e-9 for size, at in spread)


def _humps(given: Any) -> Iterator[tuple[float, float]]:
    for way in seen(given):
        for k in range(1, len(way) - 1):
            beside = way[k - 1], way[k + 1]
            line = np.interp(way[k].at, [row.at for row in beside], [row.over for row in beside])
            yield way[k].over - float(line), way[k].at


def least_fair(result: Result) -> None:
    given, answers = result.inputs, result.answers
    told = list(_humps(given))
    if not told:
        assert (answers.line, answers.hump, answers.hump_at) == ("not known", None, None)
        return
    worst = max(abs(size) for size, _ in told)
    assert abs(answers.hump) == pytest.approx(worst, abs=1e-9)
    assert any(at == answers.hump_at and size == pytest.approx(answers.hump, abs=1e-9) for size, at in told)
    uneven = "humped" if answers.hump > 0 else "hollow"
    assert answers.line == ("fair" if abs(answers.hump) <= given.fair_ok else uneven)


def still_in_the_wood(result: Result) -> None:
    """Within the measures and the design, at the design's stations; `tests/outside` shows that it is the largest."""
    law = result.inputs.law
    assert result.answers.new_law == ("faired" if law in PUBLISHED else law)
    for design, new, rows in zip(designs(result.inputs), targets(result), seen(result.inputs), strict=True):
        assert [at for at, _ in new.stations] == [at for at, _ in design.stations]
        assert all(new.width_at(row.at) <= min(row.sizes) + 1e-9 for row in rows)
        assert all(now <= was + 1e-9 for (_, now), (_, was) in zip(new.stations, design.stations, strict=True))
        lost = [min(row.sizes) / row.meant for row in rows]
        scaled = min(1.0, *lost)
        assert max(now / was for (_, now), (_, was) in zip(new.stations, design.stations, strict=True)) > scaled - 0.02


def _kept(result: Result) -> list[np.ndarray]:
    return [
        np.array([new.width_at(at) / was.width_at(at) for at in np.linspace(0, was.length, 801).clip(0, was.length)])
        for was, new in zip(designs(result.inputs), targets(result), strict=True)
    ]


def least_kept(result: Result) -> None:
    assert result.answers.least_ratio == pytest.approx(min(part.min() for part in _kept(result)), abs=2e-3)


def kept_there(power: int) -> Callable[[Result], None]:
    """Stiffness (3) and strength (2) by the depth's power, of the worse way round at every place."""

    def check(result: Result) -> None:
        across, deep = _kept(result)[0], _kept(result)[-1]
        worst = np.minimum(across * deep**power, deep * across**power).min()
        told = result.answers.stiffness_worst if power == 3 else result.answers.strength_worst
        assert told == pytest.approx(worst, abs=5e-3)

    return check


def bends(result: Result) -> None:
    """∫ x²/I by adaptive quadrature, station by station."""

    def bent(across: Outline, deep: Outline) -> float:
        def curve(at: float) -> float:
            return (across.length - at) ** 2 / (across.width_at(at) * deep.width_at(at) ** 3)

        ats = [at for at, _ in across.stations]
        return float(sum(quad(curve, a, b, epsabs=0, epsrel=1e-7)[0] for a, b in pairwise(ats)))

    was, new = designs(result.inputs), targets(result)
    ways = ((0, -1), (-1, 0))
    told = min(bent(was[a], was[b]) / bent(new[a], new[b]) for a, b in ways)
    assert result.answers.stiffness_tip == pytest.approx(told, rel=2e-3)


QUESTION = questions()
IN_WORDS: dict[str, Callable[[Result], None]] = {
    "verdict": verdict,
    **dict.fromkeys(("to_come_off", "to_come_off_at"), most_to_come_off),
    **dict.fromkeys(("under", "under_at"), thinnest),
    **dict.fromkeys(("out_of_round", "out_of_round_at"), least_round),
    **dict.fromkeys(("line", "hump", "hump_at"), least_fair),
    **dict.fromkeys(("new_widths", "new_depths", "new_law"), still_in_the_wood),
    "least_ratio": least_kept,
    "stiffness_worst": kept_there(3),
    "strength_worst": kept_there(2),
    "stiffness_tip": bends,
}
