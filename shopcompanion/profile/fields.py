"""Kinds of field that only a profile has: rows of tables, the rule, and a preset's own texts."""

from functools import cache
from keyword import iskeyword
from typing import Any, TypeVar

from .. import lengths
from ..calculator import Field, fields_of
from ..errors import InputFault, printable
from ..fields import Kind, Lengths, Text, Value
from ..lengths import Rule
from ..record import Record

MOST_ROWS = 2000
_Record = TypeVar("_Record", bound=Record)


@cache
def declared(record: type) -> tuple[Field, ...]:
    """The fields of a class of records by their keys in the file: `from_` is `from`, which Python keeps for itself."""
    return tuple(
        declared_field._replace(name=declared_field.name.removesuffix("_")) for declared_field in fields_of(record, 0.0)
    )


def made(record: type[_Record], given: dict[str, Any]) -> _Record:
    """A record from values by key."""
    return record(**{f"{key}_" if iskeyword(key) else key: value for key, value in given.items()})


def check_field(record: type, key: str, value: Value) -> None:
    """Check a value for one field of a class of records. InputFault, naming the field, when it will not do."""
    kinds = {declared_field.name: declared_field.kind for declared_field in declared(record)}
    if key not in kinds:
        raise InputFault(f"'{printable(key)}' is none of {', '.join(kinds)}")
    try:
        kinds[key].check(value, lengths.RULES[0])
    except InputFault as fault:
        raise InputFault(fault.template, key, fault.lengths) from None


def value_of(record: object, key: str) -> Any:
    """A record's value for a key of the file."""
    return getattr(record, f"{key}_" if iskeyword(key) else key)


class TableRows(Kind):
    """An array of tables, each read as a record `of`; its value is a tuple of them. Never typed in a form."""

    python = (tuple,)

    def __init__(self, label: str, *, of: type, **others: Any) -> None:
        super().__init__(label, **others)
        self.of = of

    def check(self, value: Value, rule: Rule) -> None:
        if not isinstance(value, tuple) or not all(isinstance(row, self.of) for row in value):
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
            raise InputFault(f"not a rule; use {', '.join(map(str, lengths.RULES))}")

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


class Sizes(Lengths):
    """A list of lengths, `least` to `most` of them, measured at one place; a tuple of millimetres."""

    def __init__(self, label: str, *, least: int = 1, most: int = MOST_ROWS, **others: Any) -> None:
        super().__init__(label, **others)
        self.least, self.most = least, most

    def check(self, value: Value, rule: Rule) -> None:
        super().check(value, rule)
        if not isinstance(value, tuple) or not self.least <= len(value) <= self.most:
            raise InputFault(f"needs {self.least} to {self.most} lengths")

    def schema(self) -> dict[str, Any]:
        size = {"type": ["string", "number"], "examples": ["2-11/16 in"]}
        return {
            "title": self.label, "type": "array", "minItems": self.least, "maxItems": self.most, "items": size,
        }  # fmt: skip


class Words(Kind):
    """A list of words; a tuple of them."""

    python = (tuple,)

    def _say(self, value: Any, rule: Rule) -> str:
        return "; ".join(value) or "—"

    def check(self, value: Value, rule: Rule) -> None:
        if not isinstance(value, tuple) or len(value) > MOST_ROWS:
            raise InputFault(f"not a list of up to {MOST_ROWS} words")
        for word in value:
            Text(self.label).check(word, rule)

    def schema(self) -> dict[str, Any]:
        return {"title": self.label, "type": "array", "maxItems": MOST_ROWS, "items": Text("Word").schema()}


class Day(Kind):
    """A day of the calendar as 2026-05-02; a word of that form. In TOML it may stand with or without quotes."""

    python = (str,)
    example = "2026-05-02"

    def _parse(self, text: str, rule: Rule) -> Value:
        return text.strip()

    def _say(self, value: Any, rule: Rule) -> str:
        return str(value)

    def check(self, value: Value, rule: Rule) -> None:
        from datetime import date

        word = value if isinstance(value, str) else ""
        try:
            known = date.fromisoformat(word).isoformat()
        except ValueError:
            known = ""
        if not word or known != word:
            raise InputFault(f"'{printable(str(value))}' is not a day; write it as {self.example}")

    def schema(self) -> dict[str, Any]:
        return {"title": self.label, "type": "string", "format": "date", "examples": [self.example]}
