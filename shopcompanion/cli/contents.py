"""What is in a profile, for reading and as JSON, from the declarations of the model."""

from collections.abc import Sequence
from typing import Any

from ..calculator import Field
from ..errors import printable
from ..lengths import Rule
from ..profile.fields import TableRows, Texts, declared, value_of
from ..profile.records import Boat, Spar
from .words import aligned


def boat_in_words(boat: Boat) -> list[str]:
    """The boat: its units, the shop, a line for every spar and every preset."""
    lines = [
        printable(boat.name) or "A boat without a name",
        "",
        *_indented([("Units", boat.units), ("Rule", str(boat.rule))]),
    ]
    if shop := record_in_words(boat.shop, boat.rule):
        lines += ["", "Shop", *shop]
    if boat.spars:
        lines += ["", "Spars", *_table(boat.spars, boat.rule)]
    for title, rows in (("Pieces", boat.pieces), ("Timber on hand", boat.timbers), ("The yard sells", boat.yard)):
        if rows:
            lines += ["", title, *_table(rows, boat.rule)]
    if boat.presets:
        lines += ["", "Presets", *_table(boat.presets, boat.rule)]
    return lines


def spar_in_words(spar: Spar, rule: Rule) -> list[str]:
    """The spar with its stations, joints and fittings."""
    return [printable(spar.name), "", *record_in_words(spar, rule)]


def record_in_words(record: object, rule: Rule) -> list[str]:
    """The single values of a record, then each of its lists under a title."""
    single = [(field.kind.label, _shown(field, record, rule)) for field in _single(record)]
    lines = _indented([row for row in single if row[1] != "—"])
    for field in _declared(record):
        rows = value_of(record, field.name)
        if isinstance(field.kind, TableRows) and rows:
            lines += ["", f"  {field.kind.label}", *(f"  {line}" for line in _table(rows, rule))]
    return lines


def boat_as_json(boat: Boat) -> dict[str, Any]:
    """The boat with unrounded values in the units of the fields."""
    return {
        "name": boat.name,
        "units": boat.units,
        "rule": str(boat.rule),
        "shop": record_as_json(boat.shop, boat.rule),
        "spars": [record_as_json(spar, boat.rule) for spar in boat.spars],
        "pieces": [record_as_json(piece, boat.rule) for piece in boat.pieces],
        "timbers": [record_as_json(timber, boat.rule) for timber in boat.timbers],
        "yard": [record_as_json(sold, boat.rule) for sold in boat.yard],
        "presets": [record_as_json(preset, boat.rule) for preset in boat.presets],
    }


def record_as_json(record: object, rule: Rule) -> dict[str, Any]:
    """A record by its stable names: value, unit and text of a single one, a list of the records of a list."""
    values: dict[str, Any] = {}
    for field in _declared(record):
        value = value_of(record, field.name)
        if isinstance(field.kind, TableRows):
            values[field.name] = [record_as_json(row, rule) for row in value]
        elif isinstance(field.kind, Texts):
            values[field.name] = dict(value)
        else:
            values[field.name] = {
                "value": field.kind.to_json(value),
                "unit": field.kind.unit,
                "text": field.kind.show(value, rule),
            }
    return values


def _declared(record: object) -> tuple[Field, ...]:
    model: type = type(record)
    return declared(model)


def _single(record: object) -> list[Field]:
    return [field for field in _declared(record) if not isinstance(field.kind, TableRows)]


def _shown(field: Field, record: object, rule: Rule) -> str:
    value = value_of(record, field.name)
    if isinstance(field.kind, Texts):
        return printable("; ".join(f"{name} {text}" for name, text in value) or "—", 120)
    return printable(field.kind.show(value, rule), 120)


def _table(records: Sequence[object], rule: Rule) -> list[str]:
    """A line for every record, under the labels; without the columns that none of them has anything in."""
    columns = [
        [field.kind.label, *(_shown(field, record, rule) for record in records)] for field in _single(records[0])
    ]
    kept = [column for column in columns if set(column[1:]) != {"—"}]
    return _indented(list(zip(*kept, strict=True)))


def _indented(rows: Sequence[tuple[str, ...]]) -> list[str]:
    return [f"  {line}" for line in aligned(rows)] if rows else []
