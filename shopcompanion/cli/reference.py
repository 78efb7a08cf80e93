"""The reference page of all calculators, from their declarations."""

import ast
import inspect
import textwrap
from collections.abc import Callable, Iterator
from typing import Any

from ..calculator import Calculator, Field, by_units
from ..catalog import STAGES, load
from ..fields import Kind
from .calculators import about
from .grammar import Given, spelled
from .output import say


def printed(given: Given) -> int:
    """Write the page to standard output."""
    say(page())
    return 0


def page() -> str:
    """The page in Markdown."""
    lines = ["# Calculators", "", "Lengths are kept in millimetres; a bare number takes the unit in force."]
    for stage, names in STAGES.items():
        lines += ["", f"## {stage}"]
        for name in names:
            lines += _calculator(load(name))
    return "\n".join(lines)


def _calculator(calculator: Calculator) -> list[str]:
    return [
        "",
        f"### {calculator.name}",
        "",
        calculator.question,
        "",
        *_table(
            ("input", "unit", "what it takes"),
            [(_code(spelled(f.name)), unit(f.kind), about(f)) for f in calculator.typed_fields],
        ),
        "",
        *_table(
            ("answer", "unit", "what it is", "formula", "source"),
            [
                (_code(f.name), unit(f.kind), _label(calculator, f), _formula(f.kind.formula), f.kind.source)
                for f in calculator.answer_fields
            ],
        ),
        "",
        *(f"- ⚠ {line}" for caution in calculator.cautions for line in cautions(caution)),
        "",
        *(f"- {line}" for line in calculator.sources),
    ]


def cautions(caution: str | Callable[..., Any]) -> list[str]:
    """What a caution may say; one that has a condition with that before it, and `…` for what only a case knows."""
    if isinstance(caution, str):
        return [caution]
    (function,) = ast.parse(textwrap.dedent(inspect.getsource(caution))).body
    assert isinstance(function, ast.FunctionDef)
    named = {
        target.id: _text(node.value, {})
        for node in ast.walk(function)
        if isinstance(node, ast.Assign)
        for target in node.targets
        if isinstance(target, ast.Name) and isinstance(node.value, ast.Constant | ast.JoinedStr)
    }
    returns = [node for node in ast.walk(function) if isinstance(node, ast.Return) and node.value is not None]
    lines = [text for node in sorted(returns, key=lambda node: node.lineno) for text in _texts(node.value, named)]
    when = (caution.__doc__ or "").partition("\n")[0].rstrip(".")
    return [f"{when}: {' / '.join(dict.fromkeys(lines))}"]


def _texts(node: ast.expr | None, named: dict[str, str]) -> Iterator[str]:
    """The lines that a returned value may be; the lengths behind a line are numbers of the case."""
    if isinstance(node, ast.Tuple):
        yield from _texts(node.elts[0], named)
    elif isinstance(node, ast.IfExp):
        yield from (*_texts(node.body, named), *_texts(node.orelse, named))
    elif (isinstance(node, ast.Constant) and isinstance(node.value, str)) or isinstance(node, ast.JoinedStr):
        yield _text(node, named).replace("{}", "…")


def _text(node: ast.expr, named: dict[str, str]) -> str:
    """A literal line, with `…` for every value in it."""
    if isinstance(node, ast.Constant):
        return str(node.value)
    if isinstance(node, ast.JoinedStr):
        return "".join(_text(part, named) for part in node.values)
    value = node.value if isinstance(node, ast.FormattedValue) else node
    if isinstance(value, ast.IfExp):
        return " or ".join(_text(part, named) for part in (value.body, value.orelse))
    return named.get(value.id, "…") if isinstance(value, ast.Name) else "…"


def _label(calculator: Calculator, answer: Field) -> str:
    return f"**{answer.kind.label}**" if answer.name == calculator.headline else answer.kind.label


def _formula(text: str) -> str:
    """The formula; where its constants differ by the units, once in inches and once in millimetres."""
    inches, metric = by_units(text, "in"), by_units(text, "mm")
    return (
        f"{_code(inches)} in inches, {_code(metric)} in millimetres" if inches != metric else _code(text) * bool(text)
    )


def unit(kind: Kind) -> str:
    """The unit in JSON, as a word for a table."""
    return {None: "text", "1": "—"}.get(kind.unit) or str(kind.unit)


def _code(text: str) -> str:
    return f"`{text}`"


def _table(heads: tuple[str, ...], rows: list[tuple[str, ...]]) -> list[str]:
    cells = [heads, ("---",) * len(heads), *rows]
    return [f"| {' | '.join(cell.replace('|', chr(92) + '|') for cell in row)} |" for row in cells]
