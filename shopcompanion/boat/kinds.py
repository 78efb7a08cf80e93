"""Kinds of field that only a profile has: rows of tables, the rule, and a preset's own texts."""

from dataclasses import KW_ONLY, dataclass, fields
from functools import cache
from typing import Any, ClassVar

from .. import lengths
from ..calculator import Field
from ..errors import InputFault, printable
from ..fields import Kind, Value
from ..lengths import Rule

MOST_ROWS = 2000


@cache
def declared(record: type) -> tuple[Field, ...]:
    """The fields of a record of the model. TypeError for one without exactly one kind."""
    found = []
    for one in fields(record):
        kinds = [extra for extra in getattr(one.type, "__metadata__", ()) if isinstance(extra, Kind)]
        if len(kinds) != 1:
            raise TypeError(f"{record.__qualname__}.{one.name} has {len(kinds)} kinds of field, not one")
        found.append(Field(one.name, kinds[0], one.default, one.default is None))
    return tuple(found)


def check_field(record: type, key: str, value: str) -> None:
    """InputFault, naming the field, unless `value` will do for that field of a record of the model."""
    kinds = {one.name: one.kind for one in declared(record)}
    if key not in kinds:
        raise InputFault(f"'{printable(key)}' is none of {', '.join(kinds)}")
    try:
        kinds[key].check(value, lengths.RULES[0])
    except InputFault as fault:
        raise InputFault(fault.template, key, fault.lengths) from None


@dataclass(eq=False, repr=False)
class Rows(Kind):
    """An array of tables, each of them a `of`; a tuple. Never typed in a form."""

    _: KW_ONLY
    of: type = object
    python: ClassVar[tuple[type, ...]] = (tuple,)

    def check(self, value: Value, rule: Rule) -> None:
        if not isinstance(value, tuple) or not all(isinstance(one, self.of) for one in value):
            raise InputFault(f"not rows of {self.of.__name__}")


class Divided(Kind):
    """The rule on the bench, by its division."""

    python = (Rule,)
    example = "1/32 in"

    def _parse(self, text: str, rule: Rule) -> Value:
        return lengths.rule(text)

    def _say(self, value: Any, rule: Rule) -> str:
        return str(value)

    def check(self, value: Value, rule: Rule) -> None:
        if value not in lengths.RULES:
            raise InputFault(f"no such rule; use {', '.join(map(str, lengths.RULES))}")

    def schema(self) -> dict[str, Any]:
        return {"title": self.label, "type": "string", "enum": [str(rule) for rule in lengths.RULES]}


class Texts(Kind):
    """A table of a calculator's inputs in the user's own words; a tuple of (input, text)."""

    python = (tuple,)

    def check(self, value: Value, rule: Rule) -> None:
        if not isinstance(value, tuple):
            raise InputFault("not a table of inputs")

    def schema(self) -> dict[str, Any]:
        texts = {"type": ["string", "number"], "examples": ["4 in"]}
        return {"title": self.label, "type": "object", "additionalProperties": texts}
