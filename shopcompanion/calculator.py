"""What a calculator is: typed inputs, a pure function, typed answers. Pane, command, card and reference come from it.

A module of `calculators/` declares two records whose fields are `Annotated[type, Kind(...)]`, a function
from the one to the other, and `CALCULATOR`. A wrong declaration is a TypeError at import that names the field.
"""

import re
from collections.abc import Callable, Mapping
from functools import partial
from types import UnionType
from typing import TYPE_CHECKING, Any

from .errors import InputFault
from .fields import ASKED, Kind, Value
from .lengths import RULES, Rule, Unit, show
from .record import MISSING, NamedTuple, Record, fields

if TYPE_CHECKING:
    from .drawing.bend import Bend
    from .drawing.shapes import Drawing

# What a field may follow beside an earlier field of its own form: name -> how a pane says it.
FOLLOWS = {
    "spar.at": "the station",
    "spar.length": "the spar's length",
    "spar.butt": "the spar's heel",
    "spar.head": "the spar's head",
    "spar.between": "the spar's stations",
    "spar.outline": "the spar's stations",
    "spar.body": "the spar, whole",
    "spar.count": "the spar's number",
    "spar.ring": "the spar's staves",
    "spar.stave": "the spar's staves",
    "spar.species": "the spar's timber",
    "spar.section": "the spar's section",
    "spar.bow": "the spar's blank",
    "spar.peak": "the spar's kind",
    "spar.pole": "the gaff's heel",
    "spar.jaws_on": "the spar's kind",
    "boat.mast": "the boat's mast",
    "boat.bowsprit": "the boat's bowsprit",
    "boat.spars": "the boat's spars",
    "boat.species": "the boat's own timbers",
    "spar.depths": "the spar's stations",
    "spar.law": "the spar's law",
    "spar.shape": "the spar's section",
    "spar.blank": "the spar's blank",
    "spar.sawn": "the blank and its bow",
    "blank.planing": "the blank's allowance",
    "spar.width_at": "the spar here",
    "spar.depth_at": "the spar here",
    "spar.shape_at": "the spar here",
    "spar.corners_8": "the spar here",
    "spar.corners_16": "the spar here",
    "spar.hinge_at": "the nearest hinge",
    "spar.joints": "the spar's joints",
    "spar.joints_before": "the spar's joints",
    "spar.widest": "the spar's widest",
    "spar.largest": "the spar's widest",
    "spar.widest_at": "the spar's widest",
    "spar.narrowest": "the spar's narrowest",
    "spar.log": "the spar's log",
    "spar.kind": "the spar's kind",
    "spar.supports": "the spar's fittings",
    "spar.loads": "the spar's loads",
    "spar.push": "the spar's loads",
    "spar.brace_at": "the spar's fittings",
    "spar.sail_area": "the spar's sail",
    "spar.sail_from": "the spar's fittings",
    "spar.sail_to": "the spar's fittings",
    "boat.wind": "the boat's wind",
    "boat.righting_moment": "the boat's stability",
    "boat.crew": "the boat's crew",
    "boat.sits_out": "the boat's crew",
    "boat.effort_height": "the boat's sails",
    "boat.yard": "what the yard sells",
    "shop.trim": "the shop's allowance",
    "shop.kerf": "the shop's saw",
    "shop.saw_depth": "the shop's saw",
    "shop.saw_depth_tilted": "the shop's saw",
    "shop.planing": "the shop's allowance",
    "shop.coves": "the shop's rack",
    "shop.bits": "the shop's rack",
    "shop.drum": "the shop's drum",
    "shop.rpm": "the shop's drum",
    "shop.belt_length": "the shop's belt",
    "rule.division": "the rule",
    "rule.station_step": "the units",
    "rule.unit": "the units",
    "rule.tins": "the units",
}
# Names an input may not take, as the command line has them for itself.
RESERVED = ("json", "working", "drawing", "ascii", "boat", "spar", "preset", "units", "rule", "profiles", "help")
_IN_FORMULAS = (
    "tan", "cos", "sin", "atan", "asin", "acos", "sqrt", "exp", "ln", "min", "max", "abs", "ceil", "floor",
)  # fmt: skip
_NAME = re.compile(r"[A-Za-z_][A-Za-z_0-9]*")
_NAME_AND_POWER = f"({_NAME.pattern})([²³⁴]?)"
_RELATION = frozenset("=<>≤≥")
_BY_UNITS = r"\{([^{}|]*)\|([^{}|]*)\}"


class Field(NamedTuple):
    """One input or answer: its stable name, kind, and default (MISSING when it must be given)."""

    name: str
    kind: Kind
    default: Any
    optional: bool  # may be None

    @property
    def required(self) -> bool:
        return self.default is MISSING

    def default_in(self, unit: Unit) -> Any:
        """The default where `unit` is in force: round in either system, so that it stands on a mark of the rule."""
        return self.default if unit == "in" or self.kind.metric is None else self.kind.metric


def rank(field: Field) -> int:
    """Where a field stands in a form, by how soon it is asked."""
    return ASKED.index(field.kind.asked)


class Column(NamedTuple):
    name: str
    kind: Kind


class Table(NamedTuple):
    """Rows beside the answers, such as one for every station."""

    name: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Value, ...], ...]


class Target(NamedTuple):
    """Other widths for a spar (station, width, mm), and depths of an oval, that it may be given; `species` and `wall`
    where they change as well. With a name in `copy_as` a copy of the spar gets them.
    """

    widths: tuple[tuple[float, float], ...]
    depths: tuple[tuple[float, float], ...] = ()
    species: str = ""
    wall: float | None = None
    copy_as: str = ""


class WorkingStep(NamedTuple):
    """One line of working: the sum in stable names, in the fields' labels, and with the numbers put in; its result."""

    name: str
    label: str
    formula: str
    words: str
    put_in: str
    result: str
    source: str

    def lines(self) -> list[str]:
        """The sum in words, then in numbers unless they are the same; a plain sum after an equals sign."""
        lead = "= " if _RELATION.isdisjoint(self.formula) else ""
        return [lead + text for text in dict.fromkeys((self.words, self.put_in))]


def by_units(formula: str, unit: Unit) -> str:
    """A formula with the constants of one system of units, where `{12|60000}` is 12 in inches and 60000 in millimetres.

    >>> by_units("π·drum·rpm / {12|60000}", "in")
    'π·drum·rpm / 12'
    """
    return re.sub(_BY_UNITS, r"\1" if unit == "in" else r"\2", formula) if "{" in formula else formula


Said = str | tuple[str, *tuple[float, ...]] | None  # a line, or a line with the lengths to be written in it
Fitted = Mapping[str, Value] | tuple[Mapping[str, Value], ...] | None  # what a calculator puts on a spar
Caution = str | Callable[[Any, Any], Said]


class Calculator:
    """A calculator, whole. `headline` names the answer for the large figures; `heads`, where the answer to the question
    hangs on how it turns out, gives the names of those to stand there, the first in large figures.

    `formulas` may replace the formula of an answer where the case asks for another one, or by "" for none.
    `cautions` are lines, or functions of inputs and answers that give a line, a line and the lengths (mm) that stand
    at its `{}`, or None. `fitting` gives what can be put on the spar of a profile,
    or None where nothing can: values by the keys of a fitting there, without its name, and with its place only where
    the question has one of its own; several in a tuple, each with its place. `target` gives other widths for the spar,
    or None where there is nothing to change. `bend` gives how far the spar goes along its length, for its strip.
    `slow` ones take longer than a key may and are worked out beside the keys; those with `apart` in a process of their
    own, as they take seconds and load much: it raises what is seen to be at fault before that.
    """

    def __init__(
        self,
        *,
        name: str,
        question: str,
        inputs: type[Record],
        answers: type[Record],
        work: Callable[[Any], Any],
        headline: str,
        cautions: tuple[Caution, ...],
        sources: tuple[str, ...],
        tables: Callable[[Any, Any], tuple[Table, ...]] = lambda inputs, answers: (),
        drawing: Callable[[Any, Any], "Drawing | None"] = lambda inputs, answers: None,
        fitting: Callable[[Any, Any], Fitted] | None = None,
        target: Callable[[Any, Any], Target | None] | None = None,
        bend: "Callable[[Any, Any], Bend] | None" = None,
        heads: Callable[[Any, Any], tuple[str, ...]] | None = None,
        slow: bool = False,
        apart: Callable[[Any], object] | None = None,
        formulas: Callable[[Any], Mapping[str, str]] = lambda inputs: {},
    ) -> None:
        self.name, self.question, self.headline = name, question, headline
        self.inputs, self.answers, self.work = inputs, answers, work
        self.cautions, self.sources, self.slow, self.apart = cautions, sources, slow, apart
        self.tables, self.drawing, self.formulas = tables, drawing, formulas
        self.fitting, self.target, self.bend, self.heads = fitting, target, bend, heads
        faults: list[str] = []
        self.input_fields = _gathered(inputs, faults)
        self.answer_fields = _gathered(answers, faults, own_first=True)
        faults = faults or self._faults()
        if faults:
            raise TypeError(f"calculator {name}: " + "; ".join(faults))

    @property
    def typed_fields(self) -> tuple[Field, ...]:
        """The inputs that can be typed, those that are asked first before the others."""
        return tuple(sorted((field for field in self.input_fields if field.kind.typed), key=rank))

    def _faults(self) -> list[str]:
        faults = []
        names = [field.name for field in self.input_fields]
        answers = [field.name for field in self.answer_fields]
        for at, field in enumerate(self.input_fields):
            follows = field.kind.follows
            if follows and follows not in FOLLOWS and follows not in names[:at]:
                faults.append(f"{field.name} follows {follows!r}, which is no earlier input and nothing of a boat")
            if not field.kind.typed and not field.optional:
                faults.append(f"{field.name} cannot be typed, so it must be optional")
            if field.name in RESERVED:
                faults.append(f"input {field.name} has a name that the command line keeps for itself")
        faults += [f"{name} is both an input and an answer" for name in answers if name in names]
        if self.headline not in answers:
            faults.append(f"the headline {self.headline!r} is none of the answers")
        for field in self.answer_fields:
            if field.kind.formula and not field.kind.source:
                faults.append(f"answer {field.name} has a formula without its source")
            if field.kind.formula == field.name:
                faults.append(f"the formula of {field.name} only names itself; where there is no sum it has none")
            for word in _NAME.findall(field.kind.formula):
                if word not in (*names, *answers, *_IN_FORMULAS):
                    faults.append(f"the formula of {field.name} speaks of {word!r}, which is no input or answer")
        return faults

    def run(self, inputs: Any, rule: Rule = RULES[3]) -> "Result":
        """Everything that follows from `inputs`. InputFault when they contradict one another."""
        try:
            answers = self.work(inputs)
            tables = self.tables(inputs, answers)
        except InputFault as fault:
            raise fault.with_lengths(partial(show, rule=rule)) from None
        said = [caution if isinstance(caution, str) else caution(inputs, answers) for caution in self.cautions]
        lines = [
            line if isinstance(line, str) else line[0].format(*(show(mm, rule) for mm in line[1:]))
            for line in said
            if line
        ]
        return Result(self, inputs, answers, tables, tuple(lines), rule)


def _gathered(record: type[Record], faults: list[str], *, own_first: bool = False) -> tuple[Field, ...]:
    """The fields of a record; what is wrong with them becomes one of the faults."""
    try:
        return fields_of(record, own_first=own_first)
    except TypeError as error:
        faults.append(str(error))
        return ()


_PARTS = ("tables", "drawing", "formulas", "fitting", "target", "heads", "bend", "apart")  # what a calculator may have


def declared(
    module: Mapping[str, Any],
    *,
    question: str,
    headline: str,
    cautions: tuple[Caution, ...],
    sources: tuple[str, ...],
    slow: bool = False,
) -> Calculator:
    """The calculator that a module is, by its `globals()`: `Inputs`, `Answers`, `work`, and where it has them `tables`,
    `drawing`, `formulas`, `fitting`, `target`, `heads`, `bend` and `apart`. Its name is the module's. TypeError for a
    wrong one.
    """
    name = module["__name__"].rpartition(".")[2]
    if missing := [part for part in ("Inputs", "Answers", "work") if part not in module]:
        raise TypeError(f"calculator {name}: no {', '.join(missing)}")
    return Calculator(
        name=name,
        question=question,
        inputs=module["Inputs"],
        answers=module["Answers"],
        work=module["work"],
        headline=headline,
        cautions=cautions,
        sources=sources,
        slow=slow,
        **{part: module[part] for part in _PARTS if part in module},
    )


class Result(NamedTuple):
    """The answers with all that travels with them, for the rule in force."""

    calculator: Calculator
    inputs: Any
    answers: Any
    tables: tuple[Table, ...]
    cautions: tuple[str, ...]
    rule: Rule
    drawn: "Drawing | None" = None  # where it was drawn with the rest, in another process

    def heads(self) -> tuple[Field, ...]:
        """The answers to the question itself, the first for the large figures; only those that there are."""
        of = self.calculator
        names = of.heads(self.inputs, self.answers) if of.heads else ()
        fields = {field.name: field for field in of.answer_fields}
        there = tuple(fields[name] for name in names if getattr(self.answers, name) is not None)
        return there or (fields[of.headline],)

    def working(self) -> tuple[WorkingStep, ...]:
        """The sum behind every answer that has one, in the units of the rule: with its numbers it gives the result."""
        calculator, rule = self.calculator, self.rule
        values, figures, called = {}, {}, {}
        for source, owner in ((calculator.input_fields, self.inputs), (calculator.answer_fields, self.answers)):
            for field in source:
                values[field.name] = value = getattr(owner, field.name)
                figures[field.name] = field.kind.in_sum(value, rule)
                called[field.name] = field.kind.called or lower(field.kind.label)
        formulas = calculator.formulas(self.inputs)
        steps = []
        for field in calculator.answer_fields:
            formula = by_units(formulas.get(field.name, field.kind.formula), rule.unit)
            if not formula or values[field.name] is None:
                continue
            if any(values.get(word, "") is None for word in _NAME.findall(formula)):
                continue
            result = field.kind.show(values[field.name], rule)
            words, put_in = _put_in(formula, called), _put_in(formula, figures)
            steps.append(WorkingStep(field.name, field.kind.label, formula, words, put_in, result, field.kind.source))
        return tuple(steps)

    def drawing(self) -> "Drawing | None":
        """The drawing, with the inputs and answers that stand in it in words; None where there is nothing to draw."""
        drawn = self.drawn or self.calculator.drawing(self.inputs, self.answers)
        return drawn and drawn.worded(self._say)

    def _say(self, name: str) -> str:
        """An input or answer in words."""
        owner = self.inputs if hasattr(self.inputs, name) else self.answers
        declared = (*self.calculator.input_fields, *self.calculator.answer_fields)
        (kind,) = (field.kind for field in declared if field.name == name)
        return kind.show(getattr(owner, name), self.rule)

    def fittings(self) -> list[dict[str, Value]]:
        """What can be put on a spar, heel to head: values by the keys of a fitting of the profile, lengths in mm."""
        if self.calculator.fitting is None:
            return []
        values = self.calculator.fitting(self.inputs, self.answers)
        several = values if isinstance(values, tuple) else () if values is None else (values,)
        return [{key: value for key, value in fitting.items() if value is not None} for fitting in several]

    def as_json(self) -> dict[str, Any]:
        """The result with stable names and unrounded values in the units of `fields`; `fitting` where there is one.

        Several fittings are a list.
        """
        calculator, rule = self.calculator, self.rule
        fittings = self.fittings()
        document = {
            "calculator": calculator.name,
            "inputs": _values(calculator.input_fields, self.inputs, rule),
            "answers": _values(calculator.answer_fields, self.answers, rule),
            "tables": {
                table.name: {
                    "columns": [column.name for column in table.columns],
                    "units": [column.kind.unit for column in table.columns],
                    "rows": [list(row) for row in table.rows],
                }
                for table in self.tables
            },
            "cautions": list(self.cautions),
            "sources": list(calculator.sources),
            "working": [
                {"name": s.name, "formula": s.formula, "with": s.put_in, "result": s.result, "source": s.source}
                for s in self.working()
            ],
        }
        if not fittings:
            return document
        return {**document, "fitting": fittings[0] if len(fittings) == 1 else fittings}


def _put_in(formula: str, texts: Mapping[str, str]) -> str:
    """The formula with a text for every name; one of several words is put in brackets before a power."""

    def text(match: re.Match[str]) -> str:
        said = texts.get(match[1], match[1])
        return f"({said}){match[2]}" if match[2] and " " in said else said + match[2]

    return re.sub(_NAME_AND_POWER, text, formula)


def lower(label: str) -> str:
    """A label within a line: its first letter small, unless it is an abbreviation."""
    return label[:1].lower() + label[1:] if label[1:2].islower() else label


def _values(declared: tuple[Field, ...], owner: Any, rule: Rule) -> dict[str, dict[str, Any]]:
    entries = {}
    for field in declared:
        value = getattr(owner, field.name)
        entries[field.name] = {
            "value": field.kind.to_json(value),
            "unit": field.kind.unit,
            "text": field.kind.show(value, rule),
        }
    return entries


def fields_of(declared: type[Record], unsaid: object = None, *, own_first: bool = False) -> tuple[Field, ...]:
    """The fields of a record of Annotated kinds; with `own_first` before those that it inherits.

    A default equal to `unsaid` stands for a value that nobody gave, so it may lie outside the bounds of its kind.
    TypeError with every fault, each naming its field.
    """
    declared_fields, faults = [], []
    where = declared.__qualname__
    own = declared.__annotations__ if own_first else {}
    for field in sorted(fields(declared), key=lambda field: own_first and field.name not in own):
        kinds = [extra for extra in getattr(field.type, "__metadata__", ()) if isinstance(extra, Kind)]
        if len(kinds) != 1:
            faults.append(
                f"{where}.{field.name} has {'no kind of field' if not kinds else 'more than one kind of field'}"
            )
            continue
        kind, python = kinds[0], field.type.__origin__  # an Annotated has one
        parts = python.__args__ if isinstance(python, UnionType) else (python,)
        optional = type(None) in parts
        plain = next(part for part in parts if part is not type(None))
        base = getattr(plain, "__origin__", plain)
        if base not in kind.python:
            faults.append(
                f"{where}.{field.name} is a {getattr(base, '__name__', base)}, not what a {type(kind).__name__} holds"
            )
        if not kind.label.strip():
            faults.append(f"{where}.{field.name} has no label")
        if field.default is None:
            if not optional:
                faults.append(f"{where}.{field.name} has no value by default but is not optional")
        elif field.default is not MISSING and field.default != unsaid:
            for default in (field.default, *(() if kind.metric is None else (kind.metric,))):
                try:
                    kind.check(default, RULES[3])
                except InputFault as fault:
                    faults.append(f"{where}.{field.name} has a default out of its bounds: {fault}")
        if kind.metric is not None and field.default in (None, MISSING):
            faults.append(f"{where}.{field.name} has a metric default and none in inches")
        declared_fields.append(Field(field.name, kind, field.default, optional))
    if faults:
        raise TypeError("; ".join(faults))
    return tuple(declared_fields)
