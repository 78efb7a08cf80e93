"""Sound questions for lift, and its pulls by work: as the weight rises, the line comes in."""

from math import cos, hypot, radians, sin
from typing import Any

import pytest
from hypothesis import strategies as st

from shopcompanion.calculator import Result

from . import SOMETIMES

GIVEN = ("--mass", "30 lb", "--balance-at", "7 ft", "--length", "16 ft")
_G = 9.80665
_TURN = 1e-4  # degrees


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    length = draw(st.floats(3000, 10000))
    asked: dict[str, Any] = {
        "mass": draw(st.floats(3, 120)), "length": length, "balance_at": length * draw(st.floats(0.35, 0.55)),
        "hinge_at": length * draw(st.floats(0.0, 0.2)), "start_angle": draw(st.floats(0, 60)),
    }  # fmt: skip
    if draw(SOMETIMES):
        asked |= {"aloft": draw(st.floats(0.5, 10)), "aloft_at": length * 0.9}
    way = draw(st.sampled_from(["hands", "line", "pole", "far hands"]))
    if way == "far hands":
        asked["hand_at"] = length * draw(st.floats(0.3, 1.0))
    if way in ("line", "pole"):
        asked |= {"lead_ahead": length * draw(st.floats(0.2, 1.0)), "lead_height": length * draw(st.floats(0.05, 0.3))}
    if way == "line":
        asked["line_at"] = length * draw(st.floats(0.5, 1.0))
    if way == "pole":
        asked |= {"gin_pole": length * draw(st.floats(0.15, 0.4)), "lead_ahead": length * draw(st.floats(0.5, 1.2))}
        asked["lead_height"] = -length * draw(st.floats(0.0, 0.1))
    return asked


QUESTION = questions()


def pull(result: Result, angle: float) -> float:
    """Work over a small turn: weight times the rise, over how much of the line comes in or how far the hands go."""
    inputs, answers = result.inputs, result.answers

    def at(turn: float, far: float) -> tuple[float, float]:
        return -far * cos(turn), far * sin(turn)

    low, high = radians(angle - _TURN), radians(angle + _TURN)
    rise = answers.lever * (sin(high) - sin(low))
    lead = (inputs.lead_ahead, inputs.lead_height)
    if answers.raised == "by hand":
        far = (
            min(2000.0, inputs.length - answers.turns_at)
            if inputs.hand_at is None
            else inputs.hand_at - answers.turns_at
        )
        way = far * (high - low)
    elif answers.raised == "by a line":
        ends = [at(turn, inputs.line_at - answers.turns_at) for turn in (low, high)]
        way = hypot(lead[0] - ends[0][0], lead[1] - ends[0][1]) - hypot(lead[0] - ends[1][0], lead[1] - ends[1][1])
    else:
        ends = [(inputs.gin_pole * sin(turn), inputs.gin_pole * cos(turn)) for turn in (low, high)]
        way = hypot(lead[0] - ends[0][0], lead[1] - ends[0][1]) - hypot(lead[0] - ends[1][0], lead[1] - ends[1][1])
    return float(answers.lifted * _G * rise / way)


def worst_pull(result: Result) -> None:
    answers = result.answers
    assert answers.worst_pull == pytest.approx(pull(result, answers.worst_angle), rel=1e-4)
    start = result.inputs.start_angle
    assert all(pull(result, start + (89 - start) * k / 20) <= answers.worst_pull * 1.001 for k in range(21))


def worst_angle(result: Result) -> None:
    assert result.inputs.start_angle <= result.answers.worst_angle <= 90


def raised(result: Result) -> None:
    inputs = result.inputs
    known = "over a gin pole" if inputs.gin_pole else "by a line" if inputs.line_at else "by hand"
    assert result.answers.raised == known


def first_pull(result: Result) -> None:
    assert result.answers.first_pull == pytest.approx(pull(result, result.inputs.start_angle), rel=1e-4)


def people(result: Result) -> None:
    """So many that none has more than 23 kg, and one less would."""
    share = result.answers.worst_pull / _G / 23
    assert share <= result.answers.people * (1 + 1e-6)
    assert result.answers.people == 1 or share > result.answers.people - 1 - 1e-6


def hinge_reaction(result: Result) -> None:
    """Never less than what weight and pull leave over when they point opposite ways, nor more than both together."""
    answers = result.answers
    assert answers.hinge_reaction >= abs(answers.worst_pull - answers.lifted * _G) * (1 - 1e-9)
    assert answers.hinge_reaction <= answers.worst_pull + answers.lifted * _G * (1 + 1e-9)


def flattest(result: Result) -> None:
    """The cosine rule, all the way up."""
    inputs, answers = result.inputs, result.answers
    far, best = inputs.line_at - answers.turns_at, 180.0
    for k in range(200):
        turn = radians(inputs.start_angle + (89.5 - inputs.start_angle) * k / 199)
        x, y = -far * cos(turn), far * sin(turn)
        line = hypot(inputs.lead_ahead - x, inputs.lead_height - y)
        other = hypot(inputs.lead_ahead, inputs.lead_height)
        cosine = (far**2 + line**2 - other**2) / (2 * far * line)
        best = min(best, abs(_degrees_of(cosine)))
    assert answers.flattest == pytest.approx(best, abs=0.3)


def _degrees_of(cosine: float) -> float:
    from math import acos, degrees

    return degrees(acos(max(-1.0, min(1.0, cosine))))


def lifted(result: Result) -> None:
    assert result.answers.lifted == pytest.approx(result.inputs.mass + result.inputs.aloft)


def lever(result: Result) -> None:
    inputs = result.inputs
    known = inputs.mass * inputs.balance_at + inputs.aloft * (inputs.aloft_at or 0.0)
    assert result.answers.lever == pytest.approx(known / (inputs.mass + inputs.aloft) - inputs.hinge_at)


def pole_pull(result: Result) -> None:
    from ..asking import ask

    inputs = result.inputs
    asked = {name: getattr(inputs, name) for name in (
        "mass", "length", "balance_at", "hinge_at", "start_angle", "aloft", "aloft_at", "lead_ahead",
    )}  # fmt: skip
    asked["lead_height"] = min(0.0, inputs.lead_height)
    over = ask("lift", **asked, gin_pole=(inputs.length - inputs.hinge_at) / 5)
    assert result.answers.pole_pull == pytest.approx(over.answers.worst_pull)
    worst_pull(over)


def turns_at(result: Result) -> None:
    assert result.answers.turns_at == result.inputs.hinge_at


IN_WORDS = {
    caution.__name__: caution
    for caution in (
        worst_pull, worst_angle, raised, first_pull, people, hinge_reaction, flattest, lifted, lever, pole_pull,
        turns_at,
    )
}  # fmt: skip
