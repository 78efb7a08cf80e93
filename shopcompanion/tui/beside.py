"""Answers of slow calculators, worked out beside the keys: what is known, and what is still to be worked out."""

from typing import Any

from ..calculator import Calculator, Result
from ..errors import InputFault
from ..lengths import Rule

WAIT = InputFault("being worked out; you can go on meanwhile")


class Beside:
    """The last outcome of every slow calculator, with the inputs that it is for."""

    def __init__(self) -> None:
        self._known: dict[str, tuple[Any, Result | InputFault]] = {}

    def result(self, calculator: Calculator, inputs: Any, rule: Rule) -> Result | None:
        """What is known of these inputs; None while it has to be worked out. InputFault where that is the outcome."""
        known, outcome = self._known.get(calculator.name, (None, None))
        if known != inputs or outcome is None:
            return None
        if isinstance(outcome, InputFault):
            raise outcome
        return outcome._replace(rule=rule)

    @staticmethod
    def work_out(calculator: Calculator, inputs: Any, rule: Rule) -> Result | InputFault:
        """The answer or the fault; it touches nothing, so a thread may ask."""
        try:
            return calculator.run(inputs, rule)
        except InputFault as fault:
            return fault

    def take(self, calculator: Calculator, inputs: Any, outcome: Result | InputFault) -> None:
        self._known[calculator.name] = (inputs, outcome)
