"""The commands of the calculators, derived from the catalogue: an option for every input, and the answer."""

from functools import partial

from .. import lengths
from ..calculator import FOLLOWS, Calculator, Field
from ..catalog import load
from ..errors import InputFault, InputFaults
from ..fields import Choice, Kind, Length, Value
from ..form import fill
from ..profile.left_out import INCOMPLETE, LeftOut, as_json, because
from .grammar import Command, Given, Option, one_of, spelled
from .output import bold, say, say_json, takes

UNITS: tuple[lengths.Unit, ...] = ("in", "mm")
OWN = (
    Option("units", "unit of a bare number and of the answers: in or mm", "UNIT", UNITS),
    Option("rule", "the rule that lengths are shown on, as '1/32 in' or '0.5 mm'", "RULE"),
    Option("boat", "fill what is not typed from this boat", "BOAT"),
    Option("spar", "and from this spar of it", "SPAR"),
    Option("at", "and at this station of the spar, from its heel", "LENGTH"),
    Option("preset", "fill what is not typed from this preset of the boat", "PRESET"),
    Option("profiles", "the folder of the boats' profiles", "DIR"),
    Option("working", "show the sum behind every answer, and the sources"),
    Option("drawing", "draw it"),
    Option("ascii", "draw it in plain ASCII"),
    Option("json", "answer in JSON: unrounded values in the units named"),
)


def command(name: str) -> Command:
    """The command of the calculator called `name`."""
    calculator = load(name)
    inputs = tuple(option(typed) for typed in calculator.typed_fields)
    taken = [typed.name for typed in inputs]
    own = tuple(shared for shared in OWN if shared.name not in taken)
    return Command(name, calculator.question, partial(answer, calculator), inputs + own)


def option(field: Field) -> Option:
    """The option of an input, its help made from what is declared."""
    choices = field.kind.options if isinstance(field.kind, Choice) else ()
    return Option(field.name, partial(about, field), type(field.kind).__name__.upper(), choices)


def about(field: Field) -> str:
    """What an input takes, in words: label, bounds, words to choose from, default, and what it follows."""
    kind = field.kind
    parts = [kind.label, *bounds(kind)]
    if isinstance(kind, Choice):
        parts.append(f"one of {', '.join(kind.options)}")
    if field.required and not kind.follows:
        parts.append(f"needed, as {kind.example}")
    elif field.required:
        parts.append(f"as {kind.example}")
    elif field.default is not None and not kind.follows.startswith("rule."):
        metric = "" if kind.metric is None else f", metric {plain(kind, kind.metric, 'mm')}"
        parts.append(f"default {plain(kind, field.default)}{metric}")
    if kind.follows:
        parts.append(f"follows {FOLLOWS.get(kind.follows) or spelled(kind.follows)}")
    return "; ".join(parts)


def bounds(kind: Kind) -> list[str]:
    """The bounds of a kind in words."""
    said = (
        ("more than", kind.above),
        ("at least", kind.at_least),
        ("less than", kind.below),
        ("at most", kind.at_most),
    )
    return [f"{words} {plain(kind, bound)}" for words, bound in said if bound is not None]


def plain(kind: Kind, value: Value, unit: lengths.Unit = "in") -> str:
    """A declared value as it is in that system of units; where inches do not give it exactly, metric."""
    if not isinstance(value, int | float):
        return kind.show(value, lengths.FINEST[unit])
    if value == 0 and kind.unit != "deg":
        return "0"
    kind = Length(kind.label) if kind.unit == "mm" else kind  # a bound of a list is that of its lengths
    shown = kind.show(value, lengths.FINEST[unit])
    try:
        read = kind.read(shown, lengths.FINEST[unit])
    except InputFault:  # a bound that is out of bounds itself
        read = None
    exact = isinstance(read, int | float) and abs(read - value) <= 1e-9 * abs(value)
    return shown if exact else f"{value:g} mm" if kind.unit == "mm" else kind.show(value, lengths.FINEST["mm"])


def answer(calculator: Calculator, given: Given) -> int:
    """Answer in words or in JSON. CompanionError, with nothing written, when there is no answer."""
    if "json" in given and ("drawing" in given or "ascii" in given):
        raise InputFault("--json has no drawing in it; ask for one of the two")
    texts = {field.name: given[field.name] for field in calculator.typed_fields if field.name in given}
    rule, notice = given_rule(given), ""
    left_out: tuple[LeftOut, ...] = ()
    if "boat" in given:
        from .following import filled, lacking, with_hint

        filling = filled(calculator, given, texts, rule)
        rule, notice = filling.rule, filling.notice
        form = fill(calculator, filling.texts, filling.values, rule)
        left_out = lacking(calculator, given, filling, form)
        if form.faults:
            raise InputFaults(with_hint(form, filling.hint, because(left_out)))
    else:
        for name in ("spar", "preset", "at"):
            if name in given and name not in texts:
                raise InputFault("needs a boat: give --boat NAME as well", name)
        rule = rule or lengths.DEFAULT_RULES["in"]
        form = fill(calculator, texts, {}, rule)
    result = calculator.run(form.inputs(calculator), rule)
    if notice:
        result = result._replace(cautions=(notice, *result.cautions))
    if left_out:
        said = [f"Left out of the profile for a fault, so not in this answer: {missing.words}" for missing in left_out]
        result = result._replace(cautions=(*said, *result.cautions))
    status = INCOMPLETE if left_out else 0
    if "json" in given:
        say_json({**result.as_json(), "left_out": as_json(left_out)} if "boat" in given else result.as_json())
        return status
    from . import words

    lines = words.in_words(result, form)
    if "working" in given:
        lines += words.working(result)
    if "drawing" in given or "ascii" in given:
        lines += words.drawn(result, "ascii" in given or not takes("\u28ff"))
    say(*lines, bold=bold())
    return status


def given_rule(given: Given) -> lengths.Rule | None:
    """The rule that the options ask for. InputFault when they contradict one another."""
    units = one_of(given, "units", UNITS)
    if "rule" not in given:
        return lengths.DEFAULT_RULES[units] if units else None  # type: ignore[index]  # one of UNITS
    rule = lengths.rule(given["rule"])
    if units not in (None, rule.unit):
        raise InputFault(f"--rule {rule} is no rule in {units}")
    return rule
