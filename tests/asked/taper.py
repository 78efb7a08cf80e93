"""Sound questions for taper, and what it says in words checked by other means."""

from collections.abc import Callable
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import assume
from hypothesis import strategies as st
from scipy.interpolate import CubicSpline, PchipInterpolator

from shopcompanion.calculator import Result
from shopcompanion.spar.tables import PUBLISHED

from . import SOMETIMES, WIDTH

GIVEN = ("--length", "11 ft 3 in", "--butt", "3-1/2", "--head", "2-1/4", "--at", "5 ft")


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    length, butt, head = draw(st.floats(500, 12000)), draw(WIDTH), draw(WIDTH)
    asked: dict[str, Any] = {"length": length, "at": length * draw(st.floats(0, 1))}
    asked["law"] = draw(st.sampled_from(["straight", "bowed", "faired", "table"]))
    if asked["law"] == "table":
        asked["law"] = draw(st.sampled_from(sorted(PUBLISHED)))
        asked["widest"] = butt
        if PUBLISHED[asked["law"]].place is None or draw(SOMETIMES):
            asked["widest_at"] = length * draw(st.just(0.0) | st.floats(0.01, 0.9))
        if draw(SOMETIMES):
            asked["blank"] = butt + draw(st.floats(0, 30))
        return asked
    asked |= {"butt": butt, "head": head}
    if draw(SOMETIMES):
        ats = sorted(draw(st.sets(st.integers(1, 99), max_size=3)))
        fullest = max(butt, head, draw(WIDTH))
        asked["stations"] = tuple(
            (length * at / 100, fullest if asked["law"] == "bowed" else draw(WIDTH)) for at in ats
        )
    elif draw(SOMETIMES):
        asked["parallel_to"] = length * draw(st.floats(0.01, 0.9))
        asked["head"] = min(butt, head)
    rows = [(0.0, butt), *asked.get("stations", ()), (length, asked["head"])]
    assume(all(2 * abs(b - a) <= y - x for (x, a), (y, b) in pairwise(rows)))  # what thins faster is no spar's
    if draw(SOMETIMES):
        widest = max(butt, head, *(width for _, width in asked.get("stations", ())))
        asked["blank"] = widest + draw(st.floats(0, 30))
    return asked


def stations_of(result: Result) -> list[tuple[float, float]]:
    """The stations of a taper, put together again."""
    given = result.inputs
    if given.law not in PUBLISHED:
        parallel = [(given.parallel_to, given.butt)] if given.parallel_to else []
        return [(0.0, given.butt), *parallel, *(given.stations or ()), (given.length, given.head)]
    table, length = PUBLISHED[given.law], given.length
    at = (table.place or 0) * length if given.widest_at is None else given.widest_at
    parts = {at: 1.0, 0.0: 1.0 if at == 0 or not table.to_heel else table.to_heel[-1][1]}
    parts |= {at * (1 - way): part for way, part in table.to_heel if at}
    parts |= {at + (length - at) * way: part for way, part in table.to_head}
    return [(place, given.widest * part) for place, part in sorted(parts.items())]


def widest_of_the_stations(result: Result) -> None:
    assert result.answers.blank_side == pytest.approx(max(width for _, width in stations_of(result)), rel=1e-12)


def the_piece_that_holds_the_station(result: Result) -> None:
    given, answers, ends = result.inputs, result.answers, stations_of(result)
    assert answers.piece_from <= given.at <= answers.piece_to
    for place, start in enumerate(ends[:-1]):
        if start == pytest.approx((answers.piece_from, answers.width_from)):
            assert ends[place + 1] == pytest.approx((answers.piece_to, answers.width_to))
            return
    pytest.fail("the piece begins at no station")


def the_slopes_of_the_curve(result: Result) -> None:
    ends, answers = stations_of(result), result.answers
    rise = PchipInterpolator(*zip(*ends, strict=True)).derivative() if len(ends) > 2 else lambda at: chord(*ends)
    assert answers.slope_from == pytest.approx(-rise(answers.piece_from), rel=1e-9, abs=1e-12)
    assert answers.slope_to == pytest.approx(-rise(answers.piece_to), rel=1e-9, abs=1e-12)


def the_batten_against_the_curve(result: Result) -> None:
    """Both curves by scipy, at many places: farthest apart as told, and there."""
    ends, answers = stations_of(result), result.answers
    xs, ys = map(np.array, zip(*ends, strict=True))
    spring, curve = CubicSpline(xs, ys, bc_type="natural"), PchipInterpolator(xs, ys)
    ats = np.concatenate([np.linspace(a, b, 400) for a, b in pairwise(xs)])
    apart = (spring(ats) - curve(ats)) / 2
    assert abs(answers.batten_off) == pytest.approx(np.abs(apart).max(), rel=1e-4, abs=1e-9)
    assert answers.batten_off == pytest.approx((spring(answers.batten_at) - curve(answers.batten_at)) / 2, abs=1e-9)


def chord(start: tuple[float, float], other: tuple[float, float]) -> float:
    return (other[1] - start[1]) / (other[0] - start[0])


QUESTION = questions()
IN_WORDS: dict[str, Callable[[Result], None]] = {
    "blank_side": widest_of_the_stations,
    **dict.fromkeys(("piece_from", "width_from", "piece_to", "width_to"), the_piece_that_holds_the_station),
    **dict.fromkeys(("slope_from", "slope_to"), the_slopes_of_the_curve),
    **dict.fromkeys(("batten_off", "batten_at"), the_batten_against_the_curve),
}
