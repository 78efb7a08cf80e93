"""An evaluator of printed sums, of the tests' own: it reads a line of working as a person at a pocket calculator does.

Numbers are plain; a `°` makes an angle of one, and what an arc function gives is an angle as well. Names may stand for
values that are not rounded. Nothing of the package is used.
"""

import math
import re
from collections.abc import Callable, Mapping

TOKEN = re.compile(r"\s*(?:(?P<number>\d+(?:\.\d+)?)|(?P<name>[A-Za-z_][A-Za-z_0-9]*)|(?P<sign>[-+−·/()√π°²³⁴,<>=≤≥]))")
FUNCTIONS: Mapping[str, Callable[..., float]] = {
    "sin": math.sin, "cos": math.cos, "tan": math.tan, "asin": math.asin, "acos": math.acos, "atan": math.atan,
    "sqrt": math.sqrt, "exp": math.exp, "ln": math.log, "abs": abs, "min": min, "max": max,
    "ceil": math.ceil, "floor": math.floor,
}  # fmt: skip
POWERS = {"²": 2, "³": 3, "⁴": 4}
RELATIONS: Mapping[str, Callable[[float, float], bool]] = {
    "<": lambda a, b: a < b,
    ">": lambda a, b: a > b,
    "≤": lambda a, b: a <= b,
    "≥": lambda a, b: a >= b,
}


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


def worth(text: str, names: Mapping[str, float] | None = None) -> float | bool | tuple[float, float]:
    """What a sum comes to; of a comparison whether it holds; of an equation both its sides."""
    return _Sum(tokens(text), names or {}).whole()


def nudged(text: str) -> list[str]:
    """The sum with one of its figures moved by half its sixth figure, up or down, for each of them."""
    texts = []
    for at, token in enumerate(parts := tokens(text)):
        if not token[0].isdecimal() or not float(token):
            continue
        half = 0.5 * 10.0 ** (math.floor(math.log10(float(token))) - 5)
        for value in (float(token) - half, float(token) + half):
            texts.append(" ".join((*parts[:at], f"{value:.20f}", *parts[at + 1 :])))
    return texts


class _Sum:
    """Recursive descent: relation, sum, product, sign, power, atom."""

    def __init__(self, parts: list[str], names: Mapping[str, float]) -> None:
        self.parts, self.names, self.at = parts, names, 0

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

    def whole(self) -> float | bool | tuple[float, float]:
        left = self.sum()
        worth: float | bool | tuple[float, float] = left
        if self.next in RELATIONS:
            worth = RELATIONS[self.take()](left, self.sum())
        elif self.next == "=":
            self.take()
            worth = (left, self.sum())
        if self.next:
            raise NoSum(f"{self.next!r} is left over in {self.parts}")
        return worth

    def sum(self) -> float:
        value = self.product()
        while self.next in ("+", "−"):
            value = value + self.product() if self.take() == "+" else value - self.product()
        return value

    def product(self) -> float:
        value = self.signed()
        while self.next in ("·", "/"):
            value = value * self.signed() if self.take() == "·" else value / self.signed()
        return value

    def signed(self) -> float:
        if self.next == "−":
            self.take()
            return -self.signed()
        return self.power()

    def power(self) -> float:
        value = self.atom()
        while self.next in POWERS or self.next == "°":
            value = math.radians(value) if (sign := self.take()) == "°" else value ** POWERS[sign]
        return value

    def atom(self) -> float:
        if not self.next:
            raise NoSum(f"nothing at the end of {self.parts}")
        token = self.take()
        if token[0].isdecimal():
            return float(token)
        if token == "π":
            return math.pi
        if token == "√":
            return math.sqrt(self.atom())
        if token == "(":
            value = self.sum()
            self.want(")")
            return value
        if token in self.names:
            return self.names[token]
        if token in FUNCTIONS and self.next == "(":
            self.take()
            given = [self.sum()]
            while self.next == ",":
                self.take()
                given.append(self.sum())
            self.want(")")
            return float(FUNCTIONS[token](*given))
        raise NoSum(f"{token!r} in {self.parts}")
