"""An evaluator of printed sums, of the tests' own: it reads a line of working as a person at a pocket calculator does.

Numbers are plain; a `°` makes an angle of one, and what an arc function gives is an angle as well. Names may stand for
values that are not rounded. Nothing of the package is used.
"""

import math
import operator
import re
from collections.abc import Callable, Mapping
from contextlib import suppress
from typing import TypeVar

TOKEN = re.compile(r"\s*(?:(?P<number>\d+(?:\.\d+)?)|(?P<name>[A-Za-z_][A-Za-z_0-9]*)|(?P<sign>[-+−·/()√π°²³⁴,<>=≤≥]))")
FUNCTIONS: Mapping[str, Callable[..., float]] = {
    "sin": math.sin, "cos": math.cos, "tan": math.tan, "asin": math.asin, "acos": math.acos, "atan": math.atan,
    "sqrt": math.sqrt, "exp": math.exp, "ln": math.log, "abs": abs, "min": min, "max": max,
    "ceil": math.ceil, "floor": math.floor,
}  # fmt: skip
POWERS = {"²": 2, "³": 3, "⁴": 4}
RELATIONS: Mapping[str, Callable[[float, float], bool]] = {
    "<": operator.lt,
    ">": operator.gt,
    "≤": operator.le,
    "≥": operator.ge,
}
Worth = float | bool | tuple[float, float]
Part = Callable[[list[float]], float]
T = TypeVar("T")


class NoSum(Exception):
    """A text that is no sum: words, a sign that means nothing here, something left over."""


def tokens(text: str) -> list[str]:
    """The numbers, names and signs of a sum. NoSum for anything else."""
    tokens_read, at, text = [], 0, text.strip()
    while at < len(text):
        match = TOKEN.match(text, at)
        if not match:
            raise NoSum(f"{text[at:]!r} in {text!r}")
        tokens_read.append(match[0].strip())
        at = match.end()
    return tokens_read


def worth(text: str, names: Mapping[str, float] | None = None) -> Worth:
    """What a sum comes to; of a comparison whether it holds; of an equation both its sides."""
    read = _Sum(tokens(text), names or {})
    return read.whole()(read.figures)


def nudged(text: str) -> list[Worth]:
    """What the sum comes to with one of its figures moved by half its sixth figure, down and up, for each of them.
    Where there is a root of nothing, one way may lead below; the other stands for both then."""
    read = _Sum(tokens(text), {})
    whole, worths = read.whole(), []
    for at, figure in enumerate(read.figures):
        half = 0.5 * 10.0 ** (math.floor(math.log10(figure)) - 5) if figure else 0.0
        both = []
        for value in (figure - half, figure + half) if half else ():
            with suppress(ValueError):
                both.append(whole([*read.figures[:at], value, *read.figures[at + 1 :]]))
        assert both or not half, f"{text} is nowhere defined beside {figure}"
        worths += both if len(both) != 1 else both * 2
    return worths


class _Sum:
    """Recursive descent: relation, sum, product, sign, power, atom. Each gives what works it out for `figures`, the
    numbers as they come in the text."""

    def __init__(self, parts: list[str], names: Mapping[str, float]) -> None:
        self.parts, self.names, self.at = parts, names, 0
        self.figures: list[float] = []

    @property
    def next(self) -> str:
        return self.parts[self.at] if self.at < len(self.parts) else ""

    def take(self) -> str:
        self.at += 1
        return self.parts[self.at - 1]

    def want(self, sign: str) -> None:
        if self.next != sign:
            raise NoSum(f"{sign!r} is wanted at {self.at} in {self.parts}")
        self.take()

    def whole(self) -> Callable[[list[float]], Worth]:
        left = self.sum()
        whole: Callable[[list[float]], Worth] = left
        if self.next in RELATIONS:
            whole = _both(RELATIONS[self.take()], left, self.sum())
        elif self.next == "=":
            self.take()
            whole = _both(lambda a, b: (a, b), left, self.sum())
        if self.next:
            raise NoSum(f"{self.next!r} is left over in {self.parts}")
        return whole

    def sum(self) -> Part:
        part = self.product()
        while self.next in ("+", "−"):
            part = _both(operator.add if self.take() == "+" else operator.sub, part, self.product())
        return part

    def product(self) -> Part:
        part = self.signed()
        while self.next in ("·", "/"):
            part = _both(operator.mul if self.take() == "·" else operator.truediv, part, self.signed())
        return part

    def signed(self) -> Part:
        if self.next == "−":
            self.take()
            return _of(operator.neg, self.signed())
        return self.power()

    def power(self) -> Part:
        part = self.atom()
        while self.next in POWERS or self.next == "°":
            part = _of(math.radians, part) if (sign := self.take()) == "°" else _raised(part, POWERS[sign])
        return part

    def atom(self) -> Part:
        if not self.next:
            raise NoSum(f"nothing at the end of {self.parts}")
        token = self.take()
        if token[0].isdecimal():
            self.figures.append(float(token))
            return operator.itemgetter(len(self.figures) - 1)
        if token == "√":
            return _of(math.sqrt, self.atom())
        if token == "(":
            part = self.sum()
            self.want(")")
            return part
        known = math.pi if token == "π" else self.names.get(token)
        if known is not None:
            return lambda figures: known
        if token in FUNCTIONS and self.next == "(":
            self.take()
            given = [self.sum()]
            while self.next == ",":
                self.take()
                given.append(self.sum())
            self.want(")")
            return _of(FUNCTIONS[token], *given)
        raise NoSum(f"{token!r} in {self.parts}")


def _of(function: Callable[..., float], *parts: Part) -> Part:
    return lambda figures: float(function(*(part(figures) for part in parts)))


def _both(function: Callable[[float, float], T], left: Part, right: Part) -> Callable[[list[float]], T]:
    return lambda figures: function(left(figures), right(figures))


def _raised(part: Part, power: int) -> Part:
    return lambda figures: part(figures) ** power
