"""Kinds of field with a unit of their own other than length: read by a closed list of names, converted by pint."""

import re
from typing import Any, ClassVar

from .errors import InputFault, printable
from .fields import THOUSANDS, Number, Value, parts, percent, significant, sum_figure
from .lengths import Rule, Unit

# For defaults that are round where the units are inches: what one is in the unit that is kept, all exact.
LB_FT3 = 0.45359237 / 0.3048**3  # kg/m³
OZ_FT2 = 28.349523125 / 0.3048**2  # g/m²
PSI = 0.45359237 * 9.80665 / 25.4**2  # MPa
KNOT = 1852 / 3600  # m/s


class Quantity(Number):
    """A named quantity: `unit` inside, `shop` outside by the unit in force; pint knows the factors."""

    shop: ClassVar[dict[str, str]]
    also: ClassVar[dict[str, str]] = {}  # other names that are read, and pint's name of each

    def _parse(self, text: str, rule: Rule) -> Value:
        number, name = self.parted(text, rule.unit)
        if _thousands(number):
            number = re.sub("[, ]", "", number)
        value = super()._parse(number, rule)
        return self.inside(value, name) if isinstance(value, float) else value

    def parted(self, text: str, unit: Unit) -> tuple[str, str]:
        """The figures of `text`, and the unit that it names or else leans on. InputFault for a unit of another kind."""
        bare = " ".join(text.split())
        names = (self.unit or "", *self.shop.values(), *self.also)
        for name in sorted(set(names), key=len, reverse=True):
            if bare.casefold().endswith(name.casefold()):
                return bare[: len(bare) - len(name)].strip(), name
        if re.search("[^0-9., -]", bare):
            raise InputFault(f"{printable(text)} is not understood, try {self.example_in(unit)} {self.shop[unit]}")
        return bare, self.shop[unit]

    def spelled(self, text: str, unit: Unit) -> str:
        """`text` with its unit put to it, where it leaned on `unit`. InputFault for a unit of another kind.

        >>> Mass("Mass").spelled("12.5", "mm"), Mass("Mass").spelled("12 lb", "mm")
        ('12.5 kg', '12 lb')
        """
        number, name = self.parted(text, unit)
        return f"{number} {name}"

    def inside(self, value: float, name: str) -> float:
        """`value` of the unit called `name` in the unit that is kept."""
        from .units import factor

        return value * factor(self.also.get(name, name), self.unit or "")

    def outside(self, value: float, name: str) -> float:
        """`value` of the unit that is kept in the unit called `name`."""
        from .units import factor

        return value * factor(self.unit or "", self.also.get(name, name))

    def _say(self, value: Any, rule: Rule) -> str:
        name = self.shop[rule.unit]
        return f"{significant(self.outside(value, name), self.digits)} {name}"

    def in_sum(self, value: Value, rule: Rule) -> str:
        return sum_figure(self.outside(value, self.shop[rule.unit])) if isinstance(value, int | float) else "—"


def _thousands(number: str) -> bool:
    """Whether the figures are parted as we write them, with a blank; a comma could be a decimal."""
    return "," not in number and bool(re.fullmatch(THOUSANDS, number))


class Speed(Quantity):
    """A speed along a line."""

    unit = "m/s"
    shop: ClassVar[dict[str, str]] = {"in": "ft/min", "mm": "m/s"}


class Area(Quantity):
    """An area."""

    unit = "mm^2"
    shop: ClassVar[dict[str, str]] = {"in": "in^2", "mm": "mm^2"}


class Surface(Quantity):
    """An area that something is spread on."""

    unit = "mm^2"
    shop: ClassVar[dict[str, str]] = {"in": "ft^2", "mm": "m^2"}


class Coverage(Quantity):
    """How far a liquid goes: an area for a volume."""

    unit = "m^2/L"
    shop: ClassVar[dict[str, str]] = {"in": "ft^2/qt", "mm": "m^2/L"}
    also: ClassVar[dict[str, str]] = {
        "sq ft/qt": "ft^2/qt", "ft2/qt": "ft^2/qt", "ft²/qt": "ft^2/qt", "ft^2/gal": "ft^2/gal", "ft2/gal": "ft^2/gal",
        "ft²/gal": "ft^2/gal", "sq ft/gal": "ft^2/gal", "m2/L": "m^2/L", "m²/L": "m^2/L", "sq m/L": "m^2/L",
    }  # fmt: skip
    example = "12"


class Liquid(Quantity):
    """A volume of a liquid, as it is sold; pints, quarts and gallons are those of the United States."""

    unit = "L"
    shop: ClassVar[dict[str, str]] = {"in": "fl oz", "mm": "L"}
    also: ClassVar[dict[str, str]] = {
        "fl oz": "floz", "mL": "mL", "litre": "L", "liter": "L", "litres": "L", "liters": "L", "pint": "pt",
        "pints": "pt", "pt": "pt", "quart": "qt", "quarts": "qt", "qt": "qt", "gallon": "gal", "gallons": "gal",
        "gal": "gal",
    }  # fmt: skip
    example = "1"


class Liquids(Liquid):
    """Several volumes, with `;` between them; a tuple of litres. Bounds hold for each."""

    python = (tuple,)
    example = "1 pint; 1 quart"

    def _parse(self, text: str, rule: Rule) -> Value:
        return tuple(super(Liquids, self)._parse(part, rule) for part in parts(text))

    def _say(self, value: Any, rule: Rule) -> str:
        several = value if isinstance(value, tuple) else (value,)  # a bound is a single one
        return "; ".join(super(Liquids, self)._say(each, rule) for each in several)

    def in_sum(self, value: Value, rule: Rule) -> str:
        return self.show(value, rule)

    def check(self, value: Value, rule: Rule) -> None:
        if not isinstance(value, tuple) or not value:
            raise InputFault(f"no volume, try {self.example}")
        each = Liquid(self.label, above=self.above, at_least=self.at_least, below=self.below, at_most=self.at_most)
        for size in value:
            each.check(size, rule)


class Hours(Quantity):
    """A time to wait."""

    unit = "h"
    shop: ClassVar[dict[str, str]] = {"in": "h", "mm": "h"}
    also: ClassVar[dict[str, str]] = {"hours": "h", "hour": "h", "days": "day", "day": "day", "min": "min"}
    example = "24"


class Volume(Quantity):
    """A volume."""

    unit = "mm^3"
    shop: ClassVar[dict[str, str]] = {"in": "in^3", "mm": "m^3"}


class Mass(Quantity):
    """A mass."""

    unit = "kg"
    shop: ClassVar[dict[str, str]] = {"in": "lb", "mm": "kg"}


class Density(Quantity):
    """A mass for a volume."""

    unit = "kg/m^3"
    shop: ClassVar[dict[str, str]] = {"in": "lb/ft^3", "mm": "kg/m^3"}


class Spread(Quantity):
    """A mass for an area, as glue is spread."""

    unit = "g/m^2"
    shop: ClassVar[dict[str, str]] = {"in": "oz/ft^2", "mm": "g/m^2"}


class SecondMoment(Quantity):
    """A second moment of area."""

    unit = "mm^4"
    shop: ClassVar[dict[str, str]] = {"in": "in^4", "mm": "mm^4"}


class Modulus(Quantity):
    """A section modulus."""

    unit = "mm^3"
    shop: ClassVar[dict[str, str]] = {"in": "in^3", "mm": "mm^3"}


# A scale of temperature behind the figures: °F, degF, deg F, F, Fahrenheit, degrees Celsius.
_SCALE = r"(?i)(.*?) ?(?:°|deg(?:rees?)?\.?)? ?(c|f)(?:(?<=c)elsius|(?<=c)entigrade|(?<=f)ahrenheit)?"


class Temperature(Quantity):
    """A temperature: degrees Celsius inside."""

    unit = "degC"
    shop: ClassVar[dict[str, str]] = {"in": "°F", "mm": "°C"}
    example = "70"
    metric_example = "20"

    def parted(self, text: str, unit: Unit) -> tuple[str, str]:
        if match := re.fullmatch(_SCALE, " ".join(text.split())):
            return match[1], f"°{match[2].upper()}"
        return super().parted(text, unit)

    def inside(self, value: float, name: str) -> float:
        return (value - 32) / 1.8 if name == "°F" else value

    def outside(self, value: float, name: str) -> float:
        return value * 1.8 + 32 if name == "°F" else value


class Money(Number):
    """An amount of the boat's currency, which stands beside it."""

    def _say(self, value: Any, rule: Rule) -> str:
        return f"{value:,.2f}".replace(",", " ")


class Percent(Number):
    """A part of a hundred."""

    unit = "%"
    suffix = " %"
    example = "12"

    def _say(self, value: Any, rule: Rule) -> str:
        return percent(value)


class Stress(Quantity):
    """A force on an area: strength, and stiffness."""

    unit = "MPa"
    shop: ClassVar[dict[str, str]] = {"in": "psi", "mm": "MPa"}
    also: ClassVar[dict[str, str]] = {"GPa": "GPa", "kPa": "kPa", "N/mm2": "MPa", "N/mm²": "MPa", "ksi": "ksi"}


class Force(Quantity):
    """A force."""

    unit = "N"
    shop: ClassVar[dict[str, str]] = {"in": "lbf", "mm": "N"}
    also: ClassVar[dict[str, str]] = {"kN": "kN", "lb": "lbf"}


class Moment(Quantity):
    """A moment."""

    unit = "N*mm"
    shop: ClassVar[dict[str, str]] = {"in": "lbf ft", "mm": "N m"}
    also: ClassVar[dict[str, str]] = {
        "lbf ft": "lbf*ft", "ft lbf": "lbf*ft", "lb ft": "lbf*ft", "ft lb": "lbf*ft", "N m": "N*m", "Nm": "N*m",
        "N·m": "N*m", "kN m": "kN*m", "kNm": "kN*m",
    }  # fmt: skip


class SailArea(Quantity):
    """The area of a sail."""

    unit = "m^2"
    shop: ClassVar[dict[str, str]] = {"in": "ft^2", "mm": "m^2"}
    also: ClassVar[dict[str, str]] = {
        "sq ft": "ft^2",
        "sq m": "m^2",
        "ft²": "ft^2",
        "m²": "m^2",
        "ft2": "ft^2",
        "m2": "m^2",
    }


class Wind(Quantity):
    """The speed of the wind."""

    unit = "m/s"
    shop: ClassVar[dict[str, str]] = {"in": "knots", "mm": "m/s"}
    also: ClassVar[dict[str, str]] = {"kn": "knots", "mph": "mph", "km/h": "km/h"}


class Pressure(Quantity):
    """The pressure of the wind on a sail."""

    unit = "Pa"
    shop: ClassVar[dict[str, str]] = {"in": "lbf/ft^2", "mm": "Pa"}
