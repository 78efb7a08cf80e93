"""Sound questions for seat, and what it says in words checked by other means."""

from collections.abc import Callable
from typing import Any

from hypothesis import strategies as st

from shopcompanion.calculator import Result

from . import SOMETIMES

GIVEN = ("--pole-diameter", "2-1/4", "--cove-radius", "1/2", "--edge", "3/8")


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    pole = draw(st.floats(20, 200))
    asked: dict[str, Any] = {"pole_diameter": pole}
    cove = pole / 2
    own = draw(SOMETIMES)
    if own:
        asked["cove_radius"] = cove = pole / 2 * draw(st.just(1.0) | st.floats(0.1, 2))
    if not own or draw(SOMETIMES):
        asked["coves"] = tuple(draw(st.lists(st.floats(3, 100), min_size=1, max_size=4)))
        cove = min(cove, *asked["coves"])
    if draw(SOMETIMES):
        asked["edge"] = min(cove, pole / 2) * draw(st.just(1.0) | st.floats(0.1, 1))
    return asked


def what_touches(result: Result) -> None:
    """Lowered on to the hollow, the pole stops at the least gap: at the edges, in the middle, or everywhere."""
    cove, pole, half = result.answers.cove_used, result.inputs.pole_diameter / 2, result.answers.half_width

    def apart(x: float) -> float:  # pole's underside over the hollow, from crown and floor at one height
        return (pole - (pole**2 - x * x) ** 0.5) - (cove - (cove**2 - x * x) ** 0.5)

    at_edge = apart(half * (1 - 1e-12))
    if result.answers.touches == "middle":
        assert at_edge > 0
    elif result.answers.touches == "edges":
        assert at_edge < 0
    else:
        assert abs(cove - pole) <= 0.01


def the_cove_chosen(result: Result) -> None:
    given, used = result.inputs, result.answers.cove_used
    if given.cove_radius is not None:
        assert used == given.cove_radius
    else:
        sitting = [cove for cove in given.coves if cove <= given.pole_diameter / 2 + 0.01]
        assert used == (max(sitting) if sitting else min(given.coves))


def the_best_on_the_rack(result: Result) -> None:
    best, wanted = result.answers.rack_best, result.inputs.pole_diameter / 2
    assert best in result.inputs.coves
    assert best <= wanted + 0.01
    assert not [cove for cove in result.inputs.coves if best < cove <= wanted]


QUESTION = questions()
IN_WORDS: dict[str, Callable[[Result], None]] = {
    "touches": what_touches,
    "cove_used": the_cove_chosen,
    "rack_best": the_best_on_the_rack,
}
