"""A process of its own gives what would be worked out here, and is ended when that is wanted no more."""

from threading import Thread
from time import monotonic

import pytest

from shopcompanion.beam.model import Load, Support
from shopcompanion.calculator import Result
from shopcompanion.catalog import NAMES, load
from shopcompanion.errors import InputFault
from shopcompanion.tui.apart import Apart

from ..asking import INCH_64
from ..test_imports import loaded_by

BEAM = {
    "outline": ((0.0, 80.0), (3000.0, 60.0)), "species": "Spruce, Sitka", "own_weight": "no",
    "supports": (Support(0.0, "fixed"),), "loads": (Load("force", 3000.0, 3000.0, 200.0, 200.0),),
}  # fmt: skip


@pytest.mark.parametrize("name", [name for name in NAMES if load(name).apart])
def test_its_answer_and_its_drawing_are_the_same(name: str) -> None:
    calculator = load(name)
    inputs = calculator.inputs(**BEAM)
    here, there = calculator.run(inputs, INCH_64), Apart().ask(calculator, inputs, INCH_64)
    assert isinstance(there, Result)
    assert there.as_json() == here.as_json()
    assert there.cautions == here.cautions
    assert there.drawn is not None
    assert there.drawing() == here.drawing()


def test_its_fault_is_the_same() -> None:
    calculator = load("lightest")
    inputs = calculator.inputs(**{**BEAM, "most_width": 40.0})
    fault = Apart().ask(calculator, inputs, INCH_64)
    with pytest.raises(InputFault) as caught:
        calculator.run(inputs, INCH_64)
    assert isinstance(fault, InputFault)
    assert (fault.field, fault.reason) == (caught.value.field, caught.value.reason)


@pytest.mark.parametrize("name", [name for name in NAMES if load(name).apart])
def test_what_is_seen_at_once_is_told_before_it_begins(name: str) -> None:
    """A process takes as long to begin as the eye to see."""
    calculator = load(name)
    assert calculator.apart is not None
    inputs = calculator.inputs(**{**BEAM, "species": "no such wood"})
    with pytest.raises(InputFault) as at_once:
        calculator.apart(inputs)
    with pytest.raises(InputFault) as after_all:
        calculator.run(inputs, INCH_64)
    assert str(at_once.value) == str(after_all.value)
    assert "no such wood" in str(at_once.value)


def test_what_is_stopped_gives_nothing_and_the_next_question_is_answered() -> None:
    apart, told = Apart(), []
    calculator = load("lightest")
    inputs = calculator.inputs(**BEAM)
    asking = Thread(target=lambda: told.append(apart.ask(calculator, inputs, INCH_64)))
    asking.start()
    end = monotonic() + 20
    while asking.is_alive() and monotonic() < end:
        apart.stop()
        asking.join(0.02)
    assert told == [None]
    assert isinstance(apart.ask(calculator, inputs, INCH_64), Result)


def test_here_nothing_large_is_loaded() -> None:
    loaded = loaded_by(
        "from shopcompanion.beam.model import Load, Support; from shopcompanion.catalog import load; "
        "from shopcompanion.lengths import RULES; from shopcompanion.tui.apart import Apart; "
        f"of = load('lightest'); print(Apart().ask(of, of.inputs(**{BEAM!r}), RULES[0]).answers.saved)"
    )
    assert "shopcompanion.tui.apart" in loaded
    assert not {"numpy", "scipy"} & set(loaded)
