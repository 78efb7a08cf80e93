"""The working is true: what is printed as a sum gives the result that is printed beside it.

`sums` redoes each line from its text alone, in inches and in millimetres, on every rule. The same sums with unrounded
values give the unrounded answers. An answer without a sum has a check of its own by other means in `IN_WORDS`.
"""

import math
import re
from collections.abc import Collection
from fractions import Fraction
from random import Random
from typing import Any

import pytest
from hypothesis import Phase, find, given, settings
from hypothesis import strategies as st

from shopcompanion.calculator import Field, Result, WorkingStep
from shopcompanion.catalog import NAMES
from shopcompanion.fields import Angle, Slope
from shopcompanion.lengths import RULES, Rule

from .asked import IN_WORDS, QUESTIONS
from .asking import INCH_64, ask
from .examples import share
from .sums import FUNCTIONS, NoSum, nudged, tokens, worth

# Inside to shown, by NIST SP 811, appendix B.8 (inch, pound and pound-force exact).
IN_INCHES = {
    "mm": 1 / 25.4, "mm^2": 25.4**-2, "mm^3": 25.4**-3, "mm^4": 25.4**-4, "kg": 1 / 0.45359237,
    "kg/m^3": 0.3048**3 / 0.45359237, "g/m^2": 0.3048**2 / 28.349523125, "N": 1 / 4.4482216152605,
    "MPa": 1e6 / 6894.757293168361, "Pa": 0.3048**2 / 4.4482216152605, "m/s": 60 / 0.3048,
}  # fmt: skip
# Kinds that are shown in other units than theirs inside, or than others of that unit: in inches, in millimetres.
OF_ITS_OWN = {
    "Volume": (25.4**-3, 1e-9), "Moment": (1 / (4.4482216152605 * 304.8), 1e-3), "SailArea": (0.3048**-2, 1.0),
    "Wind": (3600 / 1852, 1.0), "Surface": (304.8**-2, 1e-6), "Coverage": (0.3048**-2 * 0.946352946, 1.0),
    "Liquid": (128 / 3.785411784, 1.0),
}  # fmt: skip


def fields(result: Result) -> dict[str, Field]:
    return {field.name: field for field in (*result.calculator.input_fields, *result.calculator.answer_fields)}


def shown(field: Field, value: Any, rule: Rule) -> float | None:
    """A value as its unit on the page has it, unrounded; an angle in radians; None for what is no number."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    if isinstance(field.kind, Angle):
        return math.radians(value)
    if field.kind.unit == "degC":
        return value * 1.8 + 32 if rule.unit == "in" else value
    inches, metric = OF_ITS_OWN.get(type(field.kind).__name__, (IN_INCHES.get(field.kind.unit or "", 1.0), 1.0))
    return value * (inches if rule.unit == "in" else metric)


def unrounded(result: Result) -> dict[str, float]:
    numbers = {}
    for name, field in fields(result).items():
        owner = result.inputs if field in result.calculator.input_fields else result.answers
        value = shown(field, getattr(owner, name), result.rule)
        if value is not None:
            numbers[name] = value
    return numbers


def is_sum(step: WorkingStep, names: Collection[str]) -> bool:
    """Whether a step can be worked out: it has figures, functions and `names` only, and more than its own name."""
    try:
        parts = tokens(step.formula)
    except NoSum:
        return False
    words = [part for part in parts if part[0].isalpha() and part != "π"]
    return step.formula != step.name and all(word in names or word in FUNCTIONS for word in words)


def without_sum(result: Result) -> list[str]:
    """The answers there are that have no sum."""
    names = unrounded(result)
    sums = {step.name for step in result.working() if is_sum(step, names)}
    there = [field.name for field in result.calculator.answer_fields if getattr(result.answers, field.name) is not None]
    return [name for name in there if name not in sums]


# --- unrounded ----------------------------------------------------------------------------------------------------


def gives_the_answer_unrounded(step: WorkingStep, result: Result) -> None:
    names = unrounded(result)
    summed = worth(step.formula, names)
    if isinstance(summed, bool):
        assert summed == (getattr(result.answers, step.name) == "yes"), step
    elif isinstance(summed, tuple):
        assert summed[0] == pytest.approx(summed[1], rel=1e-9), step
    else:
        assert names[step.name] == pytest.approx(summed, rel=1e-6, abs=1e-9), step  # some constants have six figures


@pytest.mark.parametrize("calculator", NAMES)
@given(st.data())
def test_every_answer_without_a_sum_is_right_by_other_means(calculator: str, data: st.DataObject) -> None:
    result = ask(calculator, **data.draw(QUESTIONS[calculator]))
    for name in without_sum(result):
        IN_WORDS[calculator][name](result)


@pytest.mark.parametrize(
    ("calculator", "name"), [(calculator_name, name) for calculator_name, names in IN_WORDS.items() for name in names]
)
def test_every_answer_in_words_comes_up_and_is_checked(calculator: str, name: str) -> None:
    def comes_up(question: dict[str, Any]) -> bool:
        return name in without_sum(ask(calculator, **question))

    once = settings(max_examples=20_000, phases=[Phase.generate])  # it ends with the first
    question = find(QUESTIONS[calculator], comes_up, settings=once, random=Random(1))
    IN_WORDS[calculator][name](ask(calculator, **question))


# --- as it is printed ---------------------------------------------------------------------------------------------


def printed_length(text: str, rule: Rule) -> tuple[float, float]:
    """From where to where the length may lie that is printed so, in the rule's unit."""
    match = re.fullmatch(
        r"(-?)(?:(\d+) ft ?)?(?:(?:(\d+)-)?(\d+)/(\d+) in|([\d.]+) (?:in|mm))?"
        r"(?:,? ?(full|bare|rounded up|rounded down))?( per ft| per m)?",
        text,
    )
    assert match, text
    minus, feet, whole, over, under, plain, lean, per = match.groups()
    size = Fraction(feet or 0) * 12 + Fraction(whole or plain or 0) + (Fraction(int(over), int(under)) if over else 0)
    step = rule.division
    low, high = {
        None: (-step / 32, step / 32),
        "full": (0, step / 2),
        "bare": (-step / 2, 0),
        "rounded up": (-step, 0),
        "rounded down": (0, step),
    }[lean]
    ends = [float(size + low), float(size + high)]
    ends = [-end for end in reversed(ends)] if minus else ends
    base = {None: 1, " per ft": 12, " per m": 1000}[per]
    return ends[0] / base, ends[1] / base


def printed(step: WorkingStep, field: Field, rule: Rule) -> tuple[float, float]:
    """From where to where the result may lie that is printed so, in the unit it is printed with."""
    if re.search(rf"\b{rule.unit}\b|\bft\b", step.result) and field.kind.unit in ("mm", "1"):
        if re.fullmatch(r"-?\d+\.\d+ (in|mm)", step.result) and (
            rule.unit == "in" or type(field.kind).__name__ == "Fine"
        ):
            number, decimals = float(step.result.split()[0]), len(step.result.split()[0].partition(".")[2])
            return number - 0.5 / 10**decimals, number + 0.5 / 10**decimals
        return printed_length(step.result, rule)
    match = re.fullmatch(r"(-?\d[\d ]*(?:\.\d+)?)(.*)", step.result)
    assert match, step
    figures, unit = match[1].strip().replace(" ", ""), match[2].strip()
    digits = figures.lstrip("-")
    whole, _, part = digits.partition(".")
    half = 0.5 / 10 ** len(part) if part else 0.5 * 10 ** max(0, len(whole) - 3)
    if field.kind.python == (int,):
        half = 0.0
    low, high = float(figures) - half, float(figures) + half
    if unit == "°":
        return math.radians(low), math.radians(high)
    if unit == "%" and field.kind.unit == "1":
        return low / 100, high / 100
    return low, high


def gives_the_result_as_printed(step: WorkingStep, result: Result) -> None:
    """With the figures as they stand, wrong by half of their sixth at most, which costs less than the result shows."""
    field, rule = fields(result)[step.name], result.rule
    assert step.result == field.kind.show(getattr(result.answers, step.name), rule)
    summed = worth(step.put_in)
    moved = nudged(step.put_in)
    if isinstance(summed, bool):
        assert summed == (step.result == "yes") or (not summed) in moved, step
        return
    if isinstance(summed, tuple):
        lost = sum(abs(a - b - summed[0] + summed[1]) for a, b in moved) / 2  # type: ignore[misc]
        assert abs(summed[0] - summed[1]) <= lost + 1e-12, step
        return
    low, high = printed(step, field, rule)
    lost = sum(abs(value - summed) for value in moved) / 2  # type: ignore[operator]
    assert low - lost - 1e-9 <= summed <= high + lost + 1e-9, (step, rule)
    if field.kind.python != (int,):  # a count leaps at a whole number
        mark = 2 * float(rule.division) if field.kind.unit == "mm" else 0.0
        if isinstance(field.kind, Slope):
            mark = 2 * float(rule.division) / (12 if rule.unit == "in" else 1000)
        assert lost <= max(high - low, mark, 2e-5 * abs(summed)), (step, rule)  # six figures give five


def names_are_labels(step: WorkingStep, result: Result) -> None:
    """Every one of its own, and none that could be taken for a part of the sum."""
    known = fields(result)
    called = {name: known[name].kind.called or known[name].kind.label for name in tokens(step.formula) if name in known}
    assert len({label.casefold() for label in called.values()}) == len(called), step
    for name, label in called.items():
        assert not re.search(r"[·/()√π²³⁴,<>=≤≥+−|_]", label), (name, label)
        assert label[1:] in step.words
    assert "_" not in step.words + step.put_in


@pytest.mark.parametrize("calculator", NAMES)
@given(st.data())
@settings(max_examples=share(100), phases=[Phase.generate])  # the step says enough of a failure
def test_every_sum_that_is_printed_can_be_redone(calculator: str, data: st.DataObject) -> None:
    rule = data.draw(st.sampled_from(RULES))
    result = ask(calculator, rule, **data.draw(QUESTIONS[calculator]))
    for step in result.working():
        assert step.source
        gives_the_answer_unrounded(step, result)
        gives_the_result_as_printed(step, result)
        names_are_labels(step, result)


def test_a_number_put_in_stands_in_the_rules_unit() -> None:
    steps = {step.name: step for step in ask("facets", INCH_64, width=88.9).working()}
    assert steps["facet_8"].put_in == "3.5·tan(π/8)"
    assert steps["mark_8"].put_in == "(3.5 − 1.44975) / 2"
    assert steps["facet_8"].words == "finished size·tan(π/8)"


def test_a_sum_is_read_as_it_stands() -> None:
    assert worth("2·(3 + 4²) / √(4) − (−1)") == 20
    assert worth("tan(45°) + max(1, 2)") == pytest.approx(3)
    assert worth("6 / 2·3 > 8") is True
    assert worth("1 + 1 = 2") == (2, 2)
    for text in ("2·", "(1", "wide·2", "1 2", "max(1, 2", "3 # 4"):
        with pytest.raises(NoSum):
            worth(text)
