"""The working is true: every formula that is shown, worked out as it stands, gives the answer that is shown.

The formulas are the companion's own strings; nothing of a user's comes here. An answer whose formula is a search or a
choice in words is named in `IN_WORDS`, with a check of its own by other means.
"""

import re
from random import Random
from typing import Any

import pytest
from hypothesis import Phase, find, given, settings
from hypothesis import strategies as st

from shopcompanion.calculator import Result
from shopcompanion.catalog import NAMES
from shopcompanion.fields import Choice, Text
from shopcompanion.lengths import RULES
from shopcompanion.quantities import Speed

from .asked import IN_WORDS, QUESTIONS
from .asked.worth import KNOWN, PYTHON
from .asking import INCH_64, ask


def worth(formula: str, result: Result) -> Any:
    """The formula worked out with the unrounded inputs and answers: millimetres, degrees, turns a minute."""
    names = {one.name: getattr(result.inputs, one.name) for one in result.calculator.input_fields}
    names |= {one.name: getattr(result.answers, one.name) for one in result.calculator.answer_fields}
    return eval(formula.translate(PYTHON), KNOWN, names)


_WORDS = re.compile(r"[A-Za-z_][A-Za-z_0-9]*")


def in_words(name: str, formula: str, result: Result) -> bool:
    """Whether a formula is no sum: it names itself, or has a word that is no input, no answer and no function."""
    fields = (*result.calculator.input_fields, *result.calculator.answer_fields)
    names = {one.name for one in fields} | set(KNOWN)
    words = _WORDS.findall(formula.replace(" m/s", ""))
    return formula == name or any(word not in names for word in words) or "rack" in words


@pytest.mark.parametrize("calculator", NAMES)
@given(st.data())
@settings(max_examples=150)
def test_every_formula_gives_its_answer(calculator: str, data: st.DataObject) -> None:
    result = ask(calculator, **data.draw(QUESTIONS[calculator]))
    kinds = {one.name: one.kind for one in result.calculator.answer_fields}
    for step in result.working():
        answer = getattr(result.answers, step.name)
        if in_words(step.name, step.formula, result):
            IN_WORDS[calculator][step.name](result)
        elif (calculator, step.name) == ("roundover", "verdict"):
            over = worth(step.formula, result)
            assert (answer != "bit too big") == (over <= 0.1)
        elif isinstance(kinds[step.name], Choice):
            if "—" in step.put_in:  # the belt does not go round there
                assert answer in ("no", "in part")
            else:
                assert worth(step.formula, result) == (answer == "yes")
        elif " = " in step.formula:
            left, right = (worth(side, result) for side in step.formula.split(" = "))
            assert left == pytest.approx(right, rel=1e-9)
        else:
            value = worth(step.formula.replace(" m/s", "*60000"), result)
            if isinstance(kinds[step.name], Speed):
                value /= 60000  # mm a minute, as mm and turns a minute give it, to m/s
            assert answer == pytest.approx(value, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("calculator", NAMES)
@given(st.data())
def test_every_answer_has_its_working_with_all_numbers_put_in(calculator: str, data: st.DataObject) -> None:
    rule = data.draw(st.sampled_from(RULES))
    result = ask(calculator, rule, **data.draw(QUESTIONS[calculator]))
    there = [one for one in result.calculator.answer_fields if getattr(result.answers, one.name) is not None]
    assert [step.name for step in result.working()] == [one.name for one in there]
    names = {one.name for one in (*result.calculator.input_fields, *result.calculator.answer_fields)}
    for step, one in zip(result.working(), there, strict=True):
        if not isinstance(one.kind, Text):  # which may have words of answers as well
            assert not names & set(_WORDS.findall(step.put_in)) - {"law", "measured", "depth"}, step
        assert step.result == one.kind.show(getattr(result.answers, one.name), rule)
        assert step.source


@pytest.mark.parametrize(("calculator", "name"), [(one, name) for one, names in IN_WORDS.items() for name in names])
def test_every_answer_in_words_comes_up_and_is_checked(calculator: str, name: str) -> None:
    def comes_up(question: dict[str, Any]) -> bool:
        result = ask(calculator, **question)
        return any(step.name == name and in_words(name, step.formula, result) for step in result.working())

    once = settings(max_examples=20_000, phases=[Phase.generate])  # it ends with the first
    question = find(QUESTIONS[calculator], comes_up, settings=once, random=Random(1))
    IN_WORDS[calculator][name](ask(calculator, **question))


def test_a_number_put_in_stands_in_the_rules_unit() -> None:
    result = ask("facets", INCH_64, width=88.9)
    steps = {step.name: step for step in result.working()}
    assert steps["facet_8"].put_in == "3.5000·tan(π/8)"
    assert steps["mark_8"].put_in == "(3.5000 − 1.4497) / 2"
