"""A form of a calculator's inputs: what was typed, what follows the boat, what stands by default, and every fault."""

from collections.abc import Mapping
from typing import Any, Literal

from .calculator import FOLLOWS, Calculator, Field, rank
from .errors import InputFault, InputFaults
from .fields import Value
from .lengths import FINEST, Rule, Unit
from .record import NamedTuple

# Sizes of tins, litres (common practice, no source): half a pint to a gallon, and a quarter of a litre up.
_GALLON = 3.785411784
TINS = {"in": (_GALLON / 16, _GALLON / 8, _GALLON / 4, _GALLON), "mm": (0.25, 0.5, 0.75, 1.0, 2.5)}
Origin = Literal["typed", "follows", "default", "missing"]


class Entry(NamedTuple):
    """One field of a form. `would_be` is what a typed-over field would follow, or None."""

    field: Field
    text: str
    origin: Origin
    value: Value
    would_be: Value
    fault: InputFault | None

    @property
    def follows(self) -> str:
        """What the field follows, in words."""
        name = self.field.kind.follows
        return FOLLOWS.get(name, name)

    def shown(self, rule: Rule) -> str:
        """The value in words; a default as it is, whatever the marks of the rule."""
        return self.field.kind.show(self.value, FINEST[rule.unit] if self.origin == "default" else rule)


class Form(NamedTuple):
    entries: tuple[Entry, ...]

    @property
    def faults(self) -> list[InputFault]:
        return [entry.fault for entry in self.entries if entry.fault]

    @property
    def typed(self) -> tuple[Entry, ...]:
        """The entries of the fields that can be typed, those that are asked first before the others."""
        return tuple(
            sorted((entry for entry in self.entries if entry.field.kind.typed), key=lambda entry: rank(entry.field))
        )

    def inputs(self, calculator: Calculator) -> Any:
        """The calculator's inputs. InputFaults with all that stands in the way."""
        if self.faults:
            raise InputFaults(self.faults)
        return calculator.inputs(**{entry.field.name: entry.value for entry in self.entries})


def fill(
    calculator: Calculator,
    texts: Mapping[str, str],
    boat: Mapping[str, Value],
    rule: Rule,
    defaults: Unit | None = None,
) -> Form:
    """The form as it stands with `texts` typed over what the fields follow; `boat` has values by names of FOLLOWS.

    The defaults are those of the unit in force, or of another.
    """
    entries: list[Entry] = []
    own: dict[str, Value] = {
        "rule.division": float(rule.step),
        "rule.station_step": 304.8 if rule.unit == "in" else 500.0,
        "rule.unit": rule.unit,
        "rule.tins": TINS[rule.unit],
    }
    for field in calculator.input_fields:
        follows = field.kind.follows
        followed = own[follows] if follows in own else boat.get(follows) if follows else None
        text = texts.get(field.name, "")
        value: Value = None
        fault = None
        origin: Origin = "missing"
        try:
            if text.strip():
                origin = "typed"
                value = field.kind.read(text, rule)
            elif followed is not None:
                origin, value = "follows", followed
                field.kind.check(value, rule)
            elif field.required:
                raise InputFault(f"{field.kind.label.lower()} is needed, as {field.kind.example_in(rule.unit)}")
            else:
                origin, value = "default", field.default_in(defaults or rule.unit)
        except InputFault as refusal:
            fault = InputFault(refusal.reason, field.name)
        if fault is None:
            own[field.name] = value
        entries.append(Entry(field, text, origin, value, followed, fault))
    return Form(tuple(entries))


def solve(
    calculator: Calculator,
    texts: Mapping[str, str],
    boat: Mapping[str, Value],
    rule: Rule,
    defaults: Unit | None = None,
) -> Any:
    """The Result for a form as `fill` makes it. InputFaults or InputFault when there is none."""
    return calculator.run(fill(calculator, texts, boat, rule, defaults).inputs(calculator), rule)
