"""The bench grammar: the exact length that a text says, or what in it is no length.

The grammar is closed and small; the signs of a sum need a space on both sides:

    sum     = product { (" + " | " - ") product }
    product = length  { (" * " | " / ") length }
    length  = ["-"] amount [unit] | ["-"] whole feet ["-"] amount [inch]
    amount  = 3 | 3.5 | 3,5 | 7/8 | 3-1/2 | 3 1/2 | 3½ | ½

A bare number takes the unit in force; a last `full`, `bare` or `, rounded up` is read and adds nothing. Where two
readings are in use neither is taken: three figures behind a comma (`1,234`), or behind a point in millimetres
(`1.234 mm`), could be thousands; less than a foot behind feet and a minus (`12' - 6"`, `12 ft - 6 in`) could be the
inches of those feet.
Nothing is evaluated as code, and text and digits are bounded, so reading takes bounded time.
"""

import re
from fractions import Fraction
from typing import NoReturn

from .errors import InputFault, printable
from .length_units import INCH, LONGEST, Unit

TEXT_LIMIT = 120
DIGIT_LIMIT = 12

_UNITS: dict[str, Fraction] = {
    **dict.fromkeys(["in", "inch", "inches", '"', "''"], INCH),
    **dict.fromkeys(["ft", "foot", "feet", "'"], 12 * INCH),
    **dict.fromkeys(["mm", "millimetre", "millimetres", "millimeter", "millimeters"], Fraction(1)),
    **dict.fromkeys(["cm", "centimetre", "centimetres", "centimeter", "centimeters"], Fraction(10)),
    **dict.fromkeys(["m", "metre", "metres", "meter", "meters"], Fraction(1000)),
}
_FOOT = 12 * INCH
_SUMS: dict[Unit, str] = {"in": "3-1/2 + 1/16", "mm": "90 + 2"}
_EXAMPLES: dict[Unit, str] = {"in": "3-1/2 in", "mm": "90 mm"}
_SMALL = (Fraction(1), Fraction(10))  # millimetres and centimetres, of which nobody measures thousandths
_OTHER_KINDS = {
    **dict.fromkeys(["kg", "g", "lb", "lbs", "oz", "t"], "a mass"),
    **dict.fromkeys(["n", "kn", "lbf", "kgf"], "a force"),
    **dict.fromkeys(["deg", "rad", "°", "degrees"], "an angle"),
    **dict.fromkeys(["s", "min", "h", "hr"], "a time"),
    **dict.fromkeys(["psi", "mpa", "pa", "gpa", "bar"], "a stress"),
    **dict.fromkeys(["rpm", "mph", "kn/h"], "a speed"),
    **dict.fromkeys(["l", "ml", "gal", "qt"], "a volume"),
    **dict.fromkeys(["%"], "a part of a hundred"),
}
_VULGAR = {
    "½": (1, 2), "⅓": (1, 3), "⅔": (2, 3), "¼": (1, 4), "¾": (3, 4), "⅕": (1, 5), "⅖": (2, 5), "⅗": (3, 5),
    "⅘": (4, 5), "⅙": (1, 6), "⅚": (5, 6), "⅛": (1, 8), "⅜": (3, 8), "⅝": (5, 8), "⅞": (7, 8),
}  # fmt: skip
# One character for one, so a place in the folded text is the same place in the user's.
_FOLD = str.maketrans({
    **dict.fromkeys("\u00a0\u2007\u2009\u202f\t", " "),
    **dict.fromkeys("−–‐‑", "-"),
    **dict.fromkeys("′’‘´ʹ", "'"),
    **dict.fromkeys("″”“ʺ", '"'),
    "⁄": "/", "∕": "/", "÷": "/", "×": "*",
})  # fmt: skip

_VULGARS = "".join(_VULGAR)
_VULGAR_PART = re.compile(f"(?:-| *)([{_VULGARS}])")
_INCHES = re.compile(f" *-?(?=[0-9{_VULGARS}]|[.,][0-9])")
_LEAN = re.compile(r"(?: +(?:full|bare)|, rounded (?:up|down))(?![A-Za-z])")
_THOUSANDS = re.compile("[0-9]{3}")
COULD_BE_THOUSANDS = re.compile("-?0*[1-9][0-9]{0,2}[.,][0-9]{3}")
_NUMBER = re.compile(r"[0-9]*(?:[.,][0-9]*)*")
_OVER = re.compile(r"/([0-9]*)")
_PART = re.compile(r"[- ] *([0-9]+)/([0-9]*)")
_HALF_PART = re.compile(r"[- ] *[0-9]+|-(?! )")
_WORD = re.compile(r"''|['\"]|(?:[A-Za-zµ]+|[°%])\.?")
_SIGN = re.compile(r" +([-+*/]) +")


class LengthFault(InputFault):
    """A text that is not a length. `start` and `end` are the place in `text` that is at fault."""

    def __init__(self, text: str, start: int, end: int, reason: str, example: str) -> None:
        self.text, self.start, self.end, self.example = text, start, end, example
        shown = text[:start][-30:] + f"»{text[start:end][:30]}«" + text[end:][:30]
        marked = f"{printable(shown, 100)}: " if text.strip() else ""
        super().__init__(f"{marked}{reason}; try {example}")


def read(text: str, unit: Unit) -> Fraction:
    """The exact length in millimetres that `text` says; a bare number takes `unit`. LengthFault when it says none."""
    return _Reader(text, unit).whole()


class _Reader:
    """Recursive descent over one text; `at` is the place. Values are (amount, is_length): a bare number is neither."""

    def __init__(self, text: str, unit: Unit) -> None:
        self.text, self.unit, self.at = text, unit, 0
        self.lone_feet = -1  # where feet without inches ended
        self.inches = False  # the last length is bare or in inches
        self.folded = text.translate(_FOLD)

    def fault(self, start: int, end: int, reason: str, example: str = "") -> NoReturn:
        raise LengthFault(self.text, start, max(end, start), reason, example or _EXAMPLES[self.unit])

    def whole(self) -> Fraction:
        if len(self.text) > TEXT_LIMIT:
            self.fault(TEXT_LIMIT, len(self.text), f"longer than {TEXT_LIMIT} characters")
        self.skip()
        if self.at == len(self.folded):
            self.fault(0, 0, "nothing is written here")
        amount, is_length = self.sum()
        self.skip()
        if self.at < len(self.folded):
            self.stray()
        length = amount if is_length else amount * _UNITS[self.unit]
        if abs(length) > LONGEST:
            self.fault(0, len(self.text), f"longer than {LONGEST // 1000} m is no spar")
        return length

    def skip(self) -> None:
        while self.folded[self.at : self.at + 1] == " ":
            self.at += 1

    def stray(self) -> NoReturn:
        start, rest = self.at, self.folded[self.at :]
        if rest[0] in "+-*/":
            self.fault(start, start + 1, "a sign in a sum needs a length and a space on both sides", _SUMS[self.unit])
        if rest[0] in "'\"":
            self.fault(start, start + 1, "a second foot or inch mark", "12' 6\"")
        end = start + len(rest.split(" ")[0])
        self.fault(start, end, "not understood here")

    def sum(self) -> tuple[Fraction, bool]:
        total, is_length = self.product()
        while (sign := _SIGN.match(self.folded, self.at)) and sign[1] in "+-":
            lone_feet = self.lone_feet == self.at
            start = self.at = sign.end()
            amount, other = self.product()
            if lone_feet and sign[1] == "-" and self.inches and amount < (_FOOT if other else 12):
                self.fault(
                    sign.start(), start, "this could be feet and inches or a subtraction", '12\' 6", or 12\' 0" - 6"'
                )
            if other != is_length:  # a bare number beside a length takes the unit in force
                factor = _UNITS[self.unit]
                total, amount = (total, amount * factor) if is_length else (total * factor, amount)
                is_length = True
            total = total + amount if sign[1] == "+" else total - amount
        return total, is_length

    def product(self) -> tuple[Fraction, bool]:
        total, is_length = self.length()
        while (sign := _SIGN.match(self.folded, self.at)) and sign[1] in "*/":
            start = self.at = sign.end()
            amount, other = self.length()
            if other and sign[1] == "/":
                self.fault(start, self.at, "a length can be divided only by a plain number", "12' 6\" / 2")
            if other and is_length:
                self.fault(start, self.at, "a length times a length is an area", "2 * 7/8")
            if sign[1] == "/" and amount == 0:
                self.fault(start, self.at, "nothing can be divided by zero", "12' 6\" / 2")
            total = total * amount if sign[1] == "*" else total / amount
            is_length = is_length or other
        return total, is_length

    def length(self) -> tuple[Fraction, bool]:
        negative = self.folded.startswith("-", self.at)
        self.at += negative
        start = self.at
        amount = self.amount()
        end = self.at
        factor = self.unit_here()
        self.no_thousands(start, end, factor or _UNITS[self.unit])
        self.inches = factor in (None, INCH)
        if factor is not None:
            if factor == _FOOT:
                amount = self.feet(amount, start)
            else:
                amount *= factor
        self.lean()
        return (-amount if negative else amount), factor is not None

    def feet(self, amount: Fraction, start: int) -> Fraction:
        """Inches may follow feet, with or without their own mark."""
        inches_at = _INCHES.match(self.folded, self.at)
        if not inches_at:
            self.lone_feet = self.at
            return amount * _FOOT
        if amount.denominator != 1:
            self.fault(start, self.at, "feet with inches after them are whole", "12' 6-1/2\"")
        if inches_at[0].endswith(" -"):
            self.fault(
                inches_at.end() - 1,
                inches_at.end(),
                "this could be feet and inches or a subtraction",
                '12\' 6", or 12\' 0" - 6"',
            )
        self.at = here = inches_at.end()
        if _THOUSANDS.match(self.folded, here):
            self.fault(start, here + 3, "this could be thousands or feet and inches", "12' 6\"")
        inches = self.amount()
        unit_at = self.at
        self.no_thousands(here, unit_at, INCH)
        factor = self.unit_here()
        if factor not in (None, INCH):
            self.fault(unit_at, self.at, "after feet come inches", "12' 6\"")
        if inches >= 12:
            self.fault(here, unit_at, "inches after feet stay under 12", "12' 6\"")
        return amount * _FOOT + inches * INCH

    def unit_here(self) -> Fraction | None:
        """The unit after an amount, if one stands there; other words stay for the caller."""
        start = self.at
        self.skip()
        word = _WORD.match(self.folded, self.at)
        if not word:
            self.at = start
            return None
        name = word[0].rstrip(".").lower()
        if name in ("full", "bare"):
            self.at = start
            return None
        if name not in _UNITS:
            kind = _OTHER_KINDS.get(name)
            reason = f"this is {kind}, not a length" if kind else "not a unit of length"
            self.fault(word.start(), word.end(), reason, "3-1/2 in, 12 ft, 90 mm, 9 cm or 1.2 m")
        self.at = word.end()
        return _UNITS[name]

    def lean(self) -> None:
        """Pass over the trade's `full` or `bare`, as the companion itself writes it after a length."""
        if word := _LEAN.match(self.folded, self.at):
            self.at = word.end()

    def amount(self) -> Fraction:
        start = self.at
        if pair := _VULGAR.get(self.folded[start : start + 1]):
            self.at += 1
            return Fraction(*pair)
        number = _NUMBER.match(self.folded, start)
        digits = number[0] if number else ""
        if not digits:
            mark = self.folded[start : start + 1]
            end = start + (len(self.folded[start:].split(" ")[0]) if mark.isalpha() else len(mark))
            self.fault(start, end, "a number is needed here")
        self.at = start + len(digits)
        if "." in digits or "," in digits:
            return self.decimal(digits, start)
        whole = self.integer(digits, start)
        if over := _OVER.match(self.folded, self.at):
            return self.fraction(digits, over[1], start, over)
        return whole + self.part(start)

    def part(self, start: int) -> Fraction:
        """The fraction of a mixed number that may follow its whole."""
        if part := _VULGAR_PART.match(self.folded, self.at):
            self.at = part.end()
            return Fraction(*_VULGAR[part[1]])
        if part := _PART.match(self.folded, self.at):
            place = part.start(1)
            if part[0].startswith("- "):
                self.fault(self.at, place, "a mixed number is written close", "3-1/2")
            value = self.fraction(part[1], part[2], place, part)
            if value >= 1:
                self.fault(place, part.end(), "the fraction of a mixed number is under one", "3-1/2")
            return value
        if not _SIGN.match(self.folded, self.at) and (half := _HALF_PART.match(self.folded, self.at)):
            self.fault(self.at, half.end(), "neither a mixed number nor a sum", "3-1/2, or 3 - 1/2 to take away")
        return Fraction(0)

    def integer(self, digits: str, start: int, end: int = 0) -> Fraction:
        if len(digits) > DIGIT_LIMIT:
            self.fault(start, end or start + len(digits), f"more than {DIGIT_LIMIT} digits")
        return Fraction(int(digits))

    def decimal(self, digits: str, start: int) -> Fraction:
        end = start + len(digits)
        points = digits.count(".") + digits.count(",")
        whole, part = re.split("[.,]", digits, maxsplit=1)
        if points > 1:
            self.fault(start, end, "more than one decimal point", "3.5")
        if not part:
            self.fault(end - 1, end, "nothing stands after the point", "3.5")
        if self.folded.startswith("/", end):
            self.fault(end, end + 1, "a fraction has whole numbers above and below", "7/8")
        return self.integer(whole + part, start, end) / Fraction(10 ** len(part))

    def no_thousands(self, start: int, end: int, unit: Fraction) -> None:
        """Fault of three figures that could be thousands: behind a comma, or behind a point where the unit is small."""
        digits = self.folded[start:end]
        if not COULD_BE_THOUSANDS.fullmatch(digits) or not ("," in digits or unit in _SMALL):
            return
        whole, part = re.split("[.,]", digits)
        near = part if unit not in _SMALL else part[:2] if part.endswith("0") else f"{part}0"  # no three figures
        meant = [f"{whole}{part}"] if int(whole + part) * unit <= LONGEST else []
        self.fault(start, end, "this could be thousands or a decimal", " or ".join([*meant, f"{whole}.{near}"]))

    def fraction(self, above: str, below: str, start: int, match: re.Match[str]) -> Fraction:
        self.at = match.end()
        if not below:
            self.fault(start, self.at, "nothing stands below the line", "3/8")
        if self.folded.startswith("/", self.at):
            self.fault(self.at, self.at + 1, "a second fraction line", "1/2")
        if self.folded[self.at : self.at + 1] in (".", ","):
            self.fault(self.at, self.at + 1, "a fraction has whole numbers above and below", "7/8")
        if not int(below[:DIGIT_LIMIT].strip("0") or "0"):
            self.fault(match.end() - len(below), self.at, "the fraction has a zero below the line", "3/8")
        return self.integer(above, start) / self.integer(below, match.end() - len(below))
