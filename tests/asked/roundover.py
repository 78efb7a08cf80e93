"""Sound questions for roundover, and what it says in words checked by other means."""

import math
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import strategies as st
from scipy.integrate import quad

from shopcompanion.calculator import Result

from . import SOMETIMES

GIVEN = ("--stock", "2", "--bit-radius", "1")


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    stock = draw(st.floats(15, 150))
    asked: dict[str, Any] = {"stock": stock, "passes": draw(st.integers(1, 6))}
    least = stock
    if draw(SOMETIMES):
        asked["stock_other"] = stock * draw(st.floats(0.5, 2))
        least = min(stock, asked["stock_other"])
    if draw(SOMETIMES):
        sizes = draw(st.lists(st.floats(3, 60), min_size=1, max_size=5))
        pilots = st.none() | st.floats(5, 20)
        asked["rack"] = tuple((size, draw(pilots)) for size in [*sizes, least * draw(st.floats(0.1, 0.9))])
        if min(size for size, _ in asked["rack"]) >= least:
            asked["rack"] = ((least / 2, None),)
    if "rack" not in asked or draw(SOMETIMES):
        asked["bit_radius"] = least * draw(st.just(0.5) | st.floats(0.1, 0.9))
    if draw(SOMETIMES):
        asked["pilot"] = draw(st.floats(5, 30))
    if draw(SOMETIMES):
        asked["speed_set"] = draw(st.floats(5000, 30000))
    return asked


def round_flats_or_too_big(result: Result) -> None:
    """By hand: a bit of half the side makes it round, a smaller one leaves a flat, a bigger one cuts below the face."""
    given, answers = result.inputs, result.answers
    sides = [given.stock] if given.stock_other is None else [given.stock, given.stock_other]
    over = [side / 2 - answers.bit_used for side in sides]
    wanted = "bit too big" if min(over) < -0.05 else "full round" if max(over) <= 0.05 else "leaves flats"
    assert answers.verdict == wanted


def the_bit_chosen(result: Result) -> None:
    given, answers = result.inputs, result.answers
    if given.bit_radius is not None:
        assert answers.bit_used == given.bit_radius
        return
    least = min(given.stock, given.stock if given.stock_other is None else given.stock_other)
    sizes = [size for size, _ in given.rack]
    assert answers.bit_used in sizes
    fitting = [size for size in sizes if 2 * size <= least + 0.1]
    assert answers.bit_used == (max(fitting) if fitting else min(sizes))


def the_pilot_chosen(result: Result) -> None:
    given, answers = result.inputs, result.answers
    own = [pilot for size, pilot in given.rack or () if abs(size - answers.bit_used) < 0.1 and pilot is not None]
    assert answers.pilot_used in ([given.pilot] if given.pilot is not None else own or [12.7])


def the_nearest_on_the_rack(result: Result) -> None:
    need, sizes = result.answers.needed_radius, sorted(size for size, _ in result.inputs.rack)
    between = [size for size in sizes if (result.answers.rack_below or 0) < size < (result.answers.rack_above or 1e9)]
    assert between == []
    assert (result.answers.rack_below or 0) <= need < (result.answers.rack_above or 1e9)


def the_speed_of_its_size(result: Result) -> None:
    inches = result.answers.bit_diameter / 25.4
    steps = [(1, 24000), (2, 18000), (2.5, 16000), (3.5, 12000)]
    beyond = 56 * 60 / (math.pi * result.answers.bit_diameter / 1000)
    known = next((rpm for up_to, rpm in steps if inches <= up_to + 1e-6), beyond)
    assert result.answers.speed_limit == pytest.approx(known, rel=1e-12)


def taken_off(r: float, h: float) -> float:
    """What a bit lowered to `h` cuts off a corner: how deep it cuts at every place from the face, added up."""
    reach = r - math.sqrt(r * r - h * h)
    return float(quad(lambda x: h - math.sqrt(r * r - (r - x) ** 2), 0, reach, epsabs=0, epsrel=1e-9)[0])


def equal_parts(result: Result) -> None:
    depths, r = result.answers.pass_depths, result.answers.bit_used
    taken = [taken_off(r, h) for h in depths]
    assert taken == pytest.approx([(1 - math.pi / 4) * r**2 * (k + 1) / len(depths) for k in range(len(depths))])
    assert depths[-1] == r


QUESTION = questions()
IN_WORDS: dict[str, Callable[[Result], None]] = {
    "verdict": round_flats_or_too_big,
    "bit_used": the_bit_chosen,
    "pilot_used": the_pilot_chosen,
    "rack_below": the_nearest_on_the_rack,
    "rack_above": the_nearest_on_the_rack,
    "speed_limit": the_speed_of_its_size,
    "pass_depths": equal_parts,
}
