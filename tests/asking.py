"""Short ways to put a question to a calculator, for the tests."""

from typing import Any

import pytest

from shopcompanion.calculator import Result
from shopcompanion.catalog import load
from shopcompanion.errors import InputFault
from shopcompanion.form import solve
from shopcompanion.lengths import RULES, Rule

INCH_64, MM_01 = RULES[3], RULES[6]


def ask(calculator: str, rule: Rule = INCH_64, **values: Any) -> Result:
    """The result for values in millimetres, as the code has them."""
    declared = load(calculator)
    return declared.run(declared.inputs(**values), rule)


def typed(calculator: str, rule: Rule = INCH_64, **texts: str) -> Result:
    """The result for texts, as a builder types them."""
    return solve(load(calculator), texts, {}, rule)


def refusal(calculator: str, rule: Rule = INCH_64, **values: Any) -> InputFault:
    """The fault that the values run into: one line that names an input."""
    with pytest.raises(InputFault) as caught:
        ask(calculator, rule, **values)
    fault = caught.value
    assert fault.field in {field.name for field in load(calculator).input_fields}
    assert str(fault).isprintable()
    return fault


def limits(calculator: str, **values: Any) -> tuple[float, ...]:
    """The lengths (mm) that the refusal of the values speaks of, unrounded."""
    declared = load(calculator)
    with pytest.raises(InputFault) as caught:
        declared.work(declared.inputs(**values))
    return caught.value.lengths
