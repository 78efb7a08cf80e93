"""The reference page of all calculators, from their declarations."""

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


def _calculator(one: Calculator) -> list[str]:
    said = [caution for caution in one.cautions if isinstance(caution, str)]
    conditional = [caution.__name__.replace("_", " ") for caution in one.cautions if not isinstance(caution, str)]
    return [
        "",
        f"### {one.name}",
        "",
        one.question,
        "",
        *_table(
            ("input", "unit", "what it takes"),
            [(_code(spelled(f.name)), unit(f.kind), about(f)) for f in one.typed_fields],
        ),
        "",
        *_table(
            ("answer", "unit", "what it is", "formula", "source"),
            [
                (_code(f.name), unit(f.kind), _label(one, f), _formula(f.kind.formula), f.kind.source)
                for f in one.answer_fields
            ],
        ),
        "",
        *(f"- ⚠ {line}" for line in said),
        *([f"- ⚠ also told where it applies: {', '.join(conditional)}"] if conditional else []),
        "",
        *(f"- {line}" for line in one.sources),
    ]


def _label(one: Calculator, answer: Field) -> str:
    return f"**{answer.kind.label}**" if answer.name == one.headline else answer.kind.label


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
