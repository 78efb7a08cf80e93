"""Kinds of field: what an input or an answer is, how it is read, checked and shown, and its unit in JSON.

Bounds are data, so forms, errors, the JSON Schema and the reference page agree. Values are plain: float, int, str,
a tuple of them, or None for an optional field left empty. A kind is compared by identity. Its classes are written out:
every lookup makes them anew, and as a dataclass each would cost it half a millisecond.
"""

import math
import re
from typing import Any, ClassVar, Literal, NoReturn

from . import lengths
from .errors import InputFault, nearest, printable
from .lengths import Rounding, Rule, Unit

Asked = Literal["first", "without a spar", "seldom"]  # whether a pane shows the field before it is asked for more
ASKED: tuple[Asked, ...] = ("first", "without a spar", "seldom")


class OpaqueValue:
    """A value that is no number, text or tuple, as a whole spar: it follows the boat and is never typed."""

    __slots__ = ()


Value = float | int | str | tuple[Any, ...] | OpaqueValue | None
ABSURD = 1e12
ROWS_LIMIT = 2000
_MANY = 12  # words to choose from: more are not listed beside the nearest
THOUSANDS = "[1-9][0-9]{0,2}(?:[, ][0-9]{3})+"  # not compiled before a number is read


class Kind:
    """A kind of field. `follows` names what fills the field on its own; `formula` and `source` belong to answers.

    Bounds are in the kind's own unit. `rounding` is how an answer is brought to a mark of the rule. `called` is what
    the working calls the field where its label will not do in a sum. Answers of the same `row` may stand side by side
    under their `column`s. `asked`: a pane shows a field first, or only without a spar to follow, or when it is asked
    for more. `metric` is the default where the unit in force is the millimetre, if it is another than in inches.
    """

    unit: ClassVar[str | None] = None
    python: ClassVar[tuple[type, ...]] = (float,)
    example: ClassVar[str] = ""
    metric_example: ClassVar[str] = ""  # where the unit in force is the millimetre, if another
    typed: ClassVar[bool] = True  # whether it can be typed; if not, it only follows

    def __init__(
        self,
        label: str,
        *,
        above: float | None = None,
        at_least: float | None = None,
        below: float | None = None,
        at_most: float | None = None,
        follows: str = "",
        formula: str = "",
        source: str = "",
        called: str = "",
        rounding: Rounding = "nearest",
        row: str = "",
        column: str = "",
        asked: Asked = "first",
        metric: Any = None,
        digits: int = 3,  # significant figures shown, where it is no length
    ) -> None:
        self.label = label
        self.above, self.at_least, self.below, self.at_most = above, at_least, below, at_most
        self.follows, self.formula, self.source, self.called = follows, formula, source, called
        self.rounding, self.row, self.column = rounding, row, column
        self.asked, self.metric, self.digits = asked, metric, digits

    def read(self, text: str, rule: Rule) -> Value:
        """The value that `text` means, within the bounds. InputFault where it means none, or one beyond them."""
        value = self._parse(text, rule)
        self.check(value, rule)
        return value

    def example_in(self, unit: Unit) -> str:
        """What could be typed where `unit` is in force."""
        return self.metric_example if unit == "mm" and self.metric_example else self.example

    def show(self, value: Value, rule: Rule) -> str:
        """`value` as text for the rule in force; `—` for no value."""
        return "—" if value is None else self._say(value, rule)

    def figures(self, value: Value, rule: Rule) -> str:
        """`value` as a plain decimal, beside the fraction."""
        return self.show(value, rule)

    def in_sum(self, value: Value, rule: Rule) -> str:
        """`value` as it is put into a sum: in the unit that the field is shown in, with enough figures to redo it."""
        return self.show(value, rule)

    def to_json(self, value: Value) -> Any:
        """`value` as it stands in JSON."""
        return value

    def check(self, value: Value, rule: Rule) -> None:
        """InputFault unless `value` is a finite number within the bounds."""
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise InputFault(f"{printable(str(value))} is not a number")
        if abs(value) > ABSURD:
            raise InputFault("absurdly large; check its unit")
        if math.isnan(value):
            raise InputFault("not a number")
        if self.above is not None and not value > self.above:
            self._refuse(value, "more than", self.above, rule)
        if self.at_least is not None and not value >= self.at_least:
            self._refuse(value, "at least", self.at_least, rule)
        if self.below is not None and not value < self.below:
            self._refuse(value, "less than", self.below, rule)
        if self.at_most is not None and not value <= self.at_most:
            self._refuse(value, "at most", self.at_most, rule)

    def _refuse(self, value: float, words: str, bound: float, rule: Rule) -> NoReturn:
        shown, limit = self.show(value, rule), self._bound(bound, rule)
        shown = f"{value:.12g}" if shown == limit and value != bound else shown  # a hair beyond
        raise InputFault(f"{shown} will not do, it must be {words} {limit}")

    def _bound(self, bound: float, rule: Rule) -> str:
        return self.show(bound, rule)

    def schema(self) -> dict[str, Any]:
        """The JSON Schema of the field as it is written in a profile."""
        return {"title": self.label, "type": ["string", "number"], "examples": [self.example]}

    def _parse(self, text: str, rule: Rule) -> Value:
        raise NotImplementedError

    def _say(self, value: Any, rule: Rule) -> str:
        raise NotImplementedError


def sum_figure(value: float) -> str:
    """A number for a sum: six figures, no exponent, a minus in brackets.

    >>> sum_figure(1 / 64), sum_figure(-250_000.0), sum_figure(1e-12)
    ('0.015625', '(−250000)', '0')
    """
    if abs(value) < 1e-9:  # float noise
        return "0"
    figures = f"{abs(value):.{max(0, 5 - math.floor(math.log10(abs(value))))}f}"
    figures = figures.rstrip("0").rstrip(".") if "." in figures else figures
    return figures if value > 0 else f"(−{figures})"


class Length(Kind):
    """A length: read by the bench grammar, shown to the rule. Millimetres."""

    unit = "mm"
    example = "3-1/2 in"
    metric_example = "90 mm"

    def _parse(self, text: str, rule: Rule) -> Value:
        return float(lengths.read(text, rule.unit))

    def _say(self, value: Any, rule: Rule) -> str:
        return lengths.show(value, rule, self.rounding)

    def _bound(self, bound: float, rule: Rule) -> str:
        return f"{bound:g} mm" if 0 < abs(bound) < rule.step else lengths.show(bound, rule)

    def figures(self, value: Value, rule: Rule) -> str:
        return lengths.decimal(value, rule.unit) if isinstance(value, int | float) else self.show(value, rule)

    def in_sum(self, value: Value, rule: Rule) -> str:
        return (
            sum_figure(value / lengths.in_mm(rule.unit)) if isinstance(value, int | float) else self.show(value, rule)
        )


class Number(Kind):
    """A plain number with, at most, its own unit behind it. Base of angles, ratios and speeds of turning."""

    suffix: ClassVar[str] = ""
    example = "1.5"

    def _parse(self, text: str, rule: Rule) -> Value:
        bare = text.strip().casefold().removesuffix(self.suffix.strip()).rstrip()
        if re.fullmatch(THOUSANDS, bare):
            raise InputFault(f"{printable(text)} could be thousands or a decimal, write {re.sub('[, ]', '', bare)}")
        bare = bare.replace(",", ".")
        if not bare or len(bare) > 30 or set(bare) - set("0123456789.-"):
            raise InputFault(f"{printable(text)} is not a number, try {self.example}" if text.strip() else "empty")
        try:
            return float(bare)
        except ValueError:
            raise InputFault(f"{printable(text)} is not a number, try {self.example}") from None

    def _say(self, value: Any, rule: Rule) -> str:
        return f"{significant(value, self.digits)}{self.suffix}"

    def figures(self, value: Value, rule: Rule) -> str:
        return f"{value:.5g}" if isinstance(value, int | float) else self.show(value, rule)

    def in_sum(self, value: Value, rule: Rule) -> str:
        return sum_figure(value) if isinstance(value, int | float) else self.show(value, rule)


class Ratio(Number):
    """A number without a unit."""

    unit = "1"


def significant(value: float, digits: int) -> str:
    """A number of so many figures, without an exponent, its thousands parted by a blank.

    >>> significant(36.94, 3), significant(12345.0, 3), significant(0.0000942, 2)
    ('36.9', '12 300', '0.000094')
    """
    if abs(value) < 1e-12:  # float noise
        return "0"
    places = digits - 1 - math.floor(math.log10(abs(value)))
    figures = f"{round(value, places):,.{max(0, places)}f}".replace(",", " ")
    return figures.rstrip("0").rstrip(".") if "." in figures else figures


class Share(Ratio):
    """A part of a whole, kept as a ratio and shown in percent."""

    def _say(self, value: Any, rule: Rule) -> str:
        return percent(100 * value)


def percent(value: float) -> str:
    """A part of a hundred as a bench has it: one decimal, two figures where it is under one.

    >>> percent(55.44), percent(0.8889), percent(100.0)
    ('55.4 %', '0.89 %', '100 %')
    """
    if abs(value) < 0.005:
        return "0 %"
    figures = f"{value:.2g}" if abs(value) < 0.995 else f"{value:.1f}".removesuffix(".0")
    return f"{figures} %"


class Angle(Number):
    """An angle in degrees."""

    unit = "deg"
    suffix = "°"
    example = "45"

    def _say(self, value: Any, rule: Rule) -> str:
        return f"{value:.1f}".removesuffix(".0") + "°"

    def in_sum(self, value: Value, rule: Rule) -> str:
        return f"{sum_figure(value)}°" if isinstance(value, int | float) else self.show(value, rule)


class Turning(Number):
    """A speed of turning, in revolutions a minute."""

    unit = "rpm"
    suffix = " rpm"
    example = "1725"

    def _parse(self, text: str, rule: Rule) -> Value:
        bare = text.strip().casefold().removesuffix("rpm").rstrip()
        return super()._parse(re.sub("[, ]", "", bare) if re.fullmatch(THOUSANDS, bare) else text, rule)

    def _say(self, value: Any, rule: Rule) -> str:
        near = round(value, 6)  # float noise is no reason to go up
        whole = (
            math.ceil(near) if self.rounding == "up" else math.floor(near) if self.rounding == "down" else round(near)
        )
        lean = f", rounded {self.rounding}" if self.rounding != "nearest" and abs(value - whole) > 1e-6 else ""
        return f"{whole:,} rpm".replace(",", " ") + lean


class Count(Number):
    """A whole number."""

    unit = "1"
    python = (int,)
    example = "3"

    def _parse(self, text: str, rule: Rule) -> Value:
        value = super()._parse(text, rule)
        if not isinstance(value, float) or value != int(value):
            raise InputFault(f"{printable(text)} is not a whole number, try {self.example}")
        return int(value)

    def check(self, value: Value, rule: Rule) -> None:
        super().check(value, rule)
        if not isinstance(value, int):
            raise InputFault(f"{value:g} is not a whole number")

    def _say(self, value: Any, rule: Rule) -> str:
        return str(value)


class Slope(Number):
    """A change of width along the length, a plain ratio; shown per foot or per metre."""

    unit = "1"
    example = "0.01"

    def _say(self, value: Any, rule: Rule) -> str:
        base, words = (304.8, "per ft") if rule.unit == "in" else (1000.0, "per m")
        return f"{lengths.show(value * base, rule)} {words}"


class Choice(Kind):
    """One of a closed list of words."""

    python = (str,)

    def __init__(self, label: str, *, options: tuple[str, ...] = (), **others: Any) -> None:
        super().__init__(label, **others)
        self.options = options

    def _parse(self, text: str, rule: Rule) -> Value:
        word = " ".join(text.split()).casefold()
        begun = [option for option in self.options if option.casefold().startswith(word)] if word else []
        return word if word in self.options else begun[0] if len(begun) == 1 else text.strip()

    def _say(self, value: Any, rule: Rule) -> str:
        return str(value)

    def check(self, value: Value, rule: Rule) -> None:
        if value not in self.options:
            word, hint = printable(str(value)), nearest(str(value), list(self.options))
            if hint and len(self.options) > _MANY:
                raise InputFault(f"'{word}' is none of the {len(self.options)} words for this{hint}")
            raise InputFault(f"'{word}' is none of {', '.join(self.options)}{hint}")

    def schema(self) -> dict[str, Any]:
        return {"title": self.label, "type": "string", "enum": list(self.options)}


class Text(Kind):
    """A line of words, up to `longest` characters."""

    python = (str,)

    def __init__(self, label: str, *, longest: int = 80, **others: Any) -> None:
        super().__init__(label, **others)
        self.longest = longest

    def _parse(self, text: str, rule: Rule) -> Value:
        return text.strip()

    def _say(self, value: Any, rule: Rule) -> str:
        return str(value)

    def check(self, value: Value, rule: Rule) -> None:
        if not isinstance(value, str) or not value.strip():
            raise InputFault("empty")
        if not value.isprintable():
            raise InputFault(f"'{printable(value)}' has characters that cannot be shown")
        if len(value) > self.longest:
            raise InputFault(f"longer than {self.longest} characters")

    def schema(self) -> dict[str, Any]:
        return {"title": self.label, "type": "string", "minLength": 1, "maxLength": self.longest}


class Lengths(Length):
    """Several lengths, with `;` between them; a tuple of millimetres. Bounds hold for each."""

    python = (tuple,)
    example = "1/4; 1/2; 3/4"
    metric_example = "6; 12; 20"

    def _parse(self, text: str, rule: Rule) -> Value:
        try:
            return tuple(float(lengths.read(part, rule.unit)) for part in parts(text))
        except InputFault:
            if ", " in text:
                raise InputFault(f"put a semicolon between lengths, as {self.example_in(rule.unit)}") from None
            raise

    def _say(self, value: Any, rule: Rule) -> str:
        return "; ".join(lengths.show(each, rule, self.rounding) for each in value)

    def figures(self, value: Value, rule: Rule) -> str:
        if not isinstance(value, tuple):
            return self.show(value, rule)
        return "; ".join(lengths.decimal(each, rule.unit) for each in value)

    def check(self, value: Value, rule: Rule) -> None:
        if not isinstance(value, tuple):
            raise InputFault("not a list of lengths")
        each = Length(self.label, above=self.above, at_least=self.at_least, below=self.below, at_most=self.at_most)
        for length in value:
            each.check(length, rule)


class Pairs(Kind):
    """Rows of two lengths as `0 = 2-1/2; 5 ft = 2-3/4`; a tuple of (first, second) in millimetres.

    `columns` names the two; bounds hold for the second. With `alone`, they hold for the first as well, and the second
    may be left out and is None.
    """

    unit = "mm"
    python = (tuple,)
    example = "0 = 2-1/2; 5 ft = 2-3/4"
    metric_example = "0 = 64; 1.5 m = 70"

    def __init__(self, label: str, *, columns: tuple[str, str] = ("", ""), alone: bool = False, **others: Any) -> None:
        super().__init__(label, **others)
        self.columns, self.alone = columns, alone

    def _parse(self, text: str, rule: Rule) -> Value:
        rows = []
        for part in parts(text):
            first, equals, second = part.partition("=")
            if not equals and not self.alone:
                raise InputFault(
                    f"{printable(part)} is not {' = '.join(self.columns)}, try {self.example_in(rule.unit)}"
                )
            read = float(lengths.read(second, rule.unit)) if equals else None
            rows.append((float(lengths.read(first, rule.unit)), read))
        return tuple(rows)

    def _say(self, value: Any, rule: Rule) -> str:
        said = [
            (lengths.show(a, rule), "" if b is None else f" = {lengths.show(b, rule, self.rounding)}") for a, b in value
        ]
        return "; ".join(first + second for first, second in said)

    def check(self, value: Value, rule: Rule) -> None:
        if not isinstance(value, tuple):
            raise InputFault("not a list of pairs")
        second = Length(self.label, above=self.above, at_least=self.at_least, below=self.below, at_most=self.at_most)
        first = second if self.alone else Length(self.columns[0], at_least=0)
        for a, b in value:
            first.check(a, rule)
            if b is not None or not self.alone:
                second.check(b, rule)


def parts(text: str) -> list[str]:
    """The rows of a list, with `;` between them. InputFault when there are too many."""
    rows = [part for part in text.split(";") if part.strip()]
    if len(text) > 8000 or len(rows) > ROWS_LIMIT:
        raise InputFault(f"the list is too long; {ROWS_LIMIT} entries will do")
    return rows
