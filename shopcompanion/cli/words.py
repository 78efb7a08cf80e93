"""A result in words, as lines of plain text."""

from collections.abc import Sequence

from ..calculator import Result, Table
from ..errors import printable
from ..fields import Kind, Length, Value
from ..form import Form
from ..lengths import Rule

DRAWN = (64, 20)  # characters across and down


def in_words(result: Result, form: Form) -> list[str]:
    """The headline, what it was worked out from, the other answers, the tables and the cautions."""
    calculator, rule = result.calculator, result.rule
    given = []
    for entry in form.entries:
        if entry.origin == "typed" or (entry.origin == "follows" and not entry.field.kind.follows.startswith("rule.")):
            shown = printable(entry.field.kind.show(entry.value, rule))
            given.append((entry.field.kind.label, shown, entry.follows if entry.origin == "follows" else ""))
    answers = []
    heads, told = result.heads(), {}
    for field in calculator.answer_fields:
        value = getattr(result.answers, field.name)
        figures = decimal(field.kind, value, rule)
        if field in heads:
            told[field.name] = f"{field.kind.label}: {field.kind.show(value, rule)}" + (
                f" ({figures})" if figures else ""
            )
        elif value is not None:
            answers.append((field.kind.label, field.kind.show(value, rule), f"({figures})" if figures else ""))
    lines = ["; ".join(told[field.name] for field in heads)]
    for title, rows in (("Given", given), ("Answers", answers)):
        lines += ["", title, *(f"  {line}" for line in aligned(rows))] if rows else []
    for table in result.tables:
        lines += ["", table.name.capitalize(), *(f"  {line}" for line in tabled(table, rule))]
    return [*lines, "", *(f"⚠ {caution}" for caution in result.cautions)]


def working(result: Result) -> list[str]:
    """The sum behind every answer that has one, with the numbers put in, and the sources."""
    lines = ["", "Working"]
    for step in result.working():
        lines += [f"  {step.label}: {step.result}", *(f"    {line}" for line in step.lines()), f"    [{step.source}]"]
    return [*lines, "", "Sources", *(f"  {source}" for source in result.calculator.sources)]


def drawn(result: Result, ascii_only: bool) -> list[str]:
    """The drawing in characters, with its title; nothing when there is none."""
    from ..drawing.terminal import render

    drawing = result.drawing()
    if drawing is None:
        return []
    lines = render(drawing, *DRAWN, result.rule, ascii_only)
    return ["", f"({drawing.title})", *(line.rstrip() for line in lines)]


def decimal(kind: Kind, value: Value, rule: Rule) -> str:
    """A length in figures with its unit, as `1.0251 in`; nothing for what is no length."""
    return f"{kind.figures(value, rule)} {rule.unit}" if isinstance(kind, Length) and value is not None else ""


def tabled(table: Table, rule: Rule) -> list[str]:
    """The rows of a table under the labels of its columns."""
    rows = [tuple(column.kind.label for column in table.columns)]
    rows += [
        tuple(column.kind.show(value, rule) for column, value in zip(table.columns, row, strict=True))
        for row in table.rows
    ]
    return aligned(rows)


def aligned(rows: Sequence[tuple[str, ...]]) -> list[str]:
    """The rows with their columns under one another, two spaces between."""
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return ["  ".join(map(str.ljust, row, widths)).rstrip() for row in rows]
