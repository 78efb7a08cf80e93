"""The tables of a profile that are about timber: what is on hand, what the yard sells, what else is to be made of it.

Declared like the rest of the model; lengths are millimetres.
"""

import re
from fractions import Fraction
from itertools import pairwise
from typing import Any, ClassVar, TypeVar

from ..errors import InputFault, printable
from ..fields import Choice, Count, Kind, Length, Number, Ratio, Text, Value
from ..lengths import LONGEST, Rule
from ..quantities import Density, Percent, Stress
from ..record import Annotated, NamedTuple, Record
from ..timber import moisture, sizes, species
from .fields import Sizes, TableRows

PER = ("piece", "foot", "metre", "board foot", "cubic metre")
_CURRENCY = re.compile("[A-Z]{3}")
_TIMBER = TypeVar("_TIMBER", "Timber", "Sold")


class YardPrice(NamedTuple):
    """An amount and its currency by ISO 4217; an empty one is the shop's."""

    amount: Fraction
    currency: str = ""

    def __str__(self) -> str:
        """With all its decimals, two at least: a price for a board foot can have three.

        >>> str(YardPrice(Fraction("0.125"), "EUR")), str(YardPrice(Fraction(20)))
        ('0.125 EUR', '20.00')
        """
        places = next((n for n in range(2, 6) if (self.amount * 10**n).denominator == 1), 6)
        return f"{float(self.amount):.{places}f} {self.currency}".rstrip()


class Currency(Text):
    """Three letters by ISO 4217."""

    def check(self, value: Value, rule: Rule) -> None:
        if not isinstance(value, str) or not _CURRENCY.fullmatch(value):
            raise InputFault(f"'{printable(str(value))}' is not a currency; write its three letters, as EUR or USD")


class Price(Kind):
    """An amount of money, with or without its currency."""

    python = (YardPrice,)
    example = "12.50 EUR"

    def _parse(self, text: str, rule: Rule) -> Value:
        words = text.split()
        named = [word for word in words if _CURRENCY.fullmatch(word.upper())]
        figures = " ".join(word for word in words if word not in named)
        if len(named) > 1 or not figures or set(figures) - set("0123456789.,"):
            raise InputFault(f"{printable(text) or 'nothing'} is not a price, try {self.example}")
        value = Number(self.label).read(figures, rule)
        return YardPrice(Fraction(str(value)), named[0].upper() if named else "")

    def check(self, value: Value, rule: Rule) -> None:
        if not isinstance(value, YardPrice):
            raise InputFault("not a price")
        if not 0 <= value.amount < 10**9:
            raise InputFault(f"{value} will not do as a price")

    def to_json(self, value: Value) -> Any:
        """Amount and currency, as text."""
        return str(value) if isinstance(value, YardPrice) else None

    def _say(self, value: Any, rule: Rule) -> str:
        return str(value)


class OwnSpecies(Record):
    """A timber that is not in the companion's table, with its figures and where they are from.

    It has either its specific gravity or its density, both at 12 % of moisture.
    """

    LOOSE: ClassVar[tuple[str, ...]] = (
        "modulus", "rupture", "radial", "tangential", "volumetric", "saturation", "source",
    )  # fmt: skip
    name: Annotated[str, Text("Name of the timber")]
    sg12: Annotated[float | None, Ratio("Specific gravity at 12 %", above=0.05, at_most=1.5)] = None
    density: Annotated[float | None, Density("Density at 12 %", above=56, at_most=1680)] = None
    modulus: Annotated[float | None, Stress("Modulus of elasticity", above=0)] = None
    rupture: Annotated[float | None, Stress("Modulus of rupture", above=0)] = None
    radial: Annotated[float | None, Percent("Radial shrinkage, green to dry", above=0, below=30)] = None
    tangential: Annotated[float | None, Percent("Tangential shrinkage, green to dry", above=0, below=30)] = None
    volumetric: Annotated[float | None, Percent("Shrinkage by volume", above=0, below=50)] = None
    saturation: Annotated[float | None, Percent("Begins to shrink at, moisture", at_least=15, at_most=45)] = None
    source: Annotated[str | None, Text("Where the figures are from")] = None

    @property
    def species(self) -> species.Species:
        """The timber as the sums have it."""
        sg12 = self.sg12 if self.sg12 is not None else (self.density or 0.0) / moisture.density(1.0, 12)
        keys = ("name", "modulus", "rupture", "radial", "tangential", "volumetric", "saturation")
        given = {key: getattr(self, key) for key in keys}
        return species.Species(**given, sg12=sg12, source=self.source or "no source given", mark="the boat's own")


class Knot(Record):
    """A length of timber to stay out of."""

    LOOSE: ClassVar[tuple[str, ...]] = ()
    from_: Annotated[float, Length("From", at_least=0, at_most=LONGEST)]
    to: Annotated[float, Length("To", above=0, at_most=LONGEST)]


class Timber(Record):
    """Timber on hand: its own sizes, or the nominal size that it was dressed from."""

    LOOSE: ClassVar[tuple[str, ...]] = ("species", "count", "knots")
    name: Annotated[str, Text("Name of the timber")]
    species: Annotated[str | None, Text("Species")] = None
    nominal: Annotated[str | None, Text("Nominal size, as 2 x 6")] = None
    thickness: Annotated[float | None, Length("Thickness", above=0, at_most=2000)] = None
    width: Annotated[float | None, Length("Width", above=0, at_most=2000)] = None
    length: Annotated[float, Length("Length", above=0, at_most=LONGEST)]
    count: Annotated[int, Count("How many alike", at_least=1, at_most=1000)] = 1
    knots: Annotated[tuple[Knot, ...], TableRows("Lengths to stay out of", of=Knot)] = ()


class Sold(Record):
    """What the yard sells: a size, the lengths it comes in, and its price."""

    LOOSE: ClassVar[tuple[str, ...]] = ("species", "count")
    name: Annotated[str, Text("Name of the timber")]
    species: Annotated[str | None, Text("Species")] = None
    nominal: Annotated[str | None, Text("Nominal size, as 2 x 6")] = None
    thickness: Annotated[float | None, Length("Thickness", above=0, at_most=2000)] = None
    width: Annotated[float | None, Length("Width", above=0, at_most=2000)] = None
    lengths: Annotated[tuple[float, ...], Sizes("Lengths it comes in", above=0, at_most=LONGEST, most=40)]
    price: Annotated[YardPrice, Price("Price")]
    per: Annotated[str, Choice("Price is for one", options=PER)] = "piece"
    count: Annotated[int | None, Count("How many of each length", at_least=1, at_most=1000)] = None


class Piece(Record):
    """Something other than a spar that is to come out of the timber, finished sizes."""

    LOOSE: ClassVar[tuple[str, ...]] = ("species", "count")
    name: Annotated[str, Text("Name of the piece")]
    species: Annotated[str | None, Text("Species")] = None
    thickness: Annotated[float, Length("Thickness", above=0, at_most=2000)]
    width: Annotated[float, Length("Width", above=0, at_most=2000)]
    length: Annotated[float, Length("Length", above=0, at_most=LONGEST)]
    count: Annotated[int, Count("How many alike", at_least=1, at_most=1000)] = 1


class Unfit(NamedTuple):
    """A fault of a row: its key, the reason with `{}` for each of `lengths`, and whether the row is left out."""

    key: str
    reason: str
    lengths: tuple[float, ...] = ()
    left_out: bool = True


def size_of(timber: Timber | Sold) -> sizes.SoldSize:
    """Thickness and width as sold and as they are. InputFault, naming the key, when the row does not say them."""
    if timber.nominal is not None:
        if timber.thickness is not None or timber.width is not None:
            raise InputFault("give either a nominal size, or thickness and width", "nominal")
        try:
            return sizes.sold(timber.nominal)
        except InputFault as fault:
            raise InputFault(fault.template, "nominal") from None
    if timber.thickness is None or timber.width is None:
        raise InputFault("missing; give thickness and width, or a nominal size as 2 x 6",
                         "width" if timber.width is None else "thickness")  # fmt: skip
    own = (timber.thickness, timber.width)
    return sizes.SoldSize(own, own)


def sized(timber: _TIMBER) -> list[Unfit]:
    """The faults of a row's size."""
    try:
        size_of(timber)
    except InputFault as fault:
        return [Unfit(fault.field or "", fault.template)]
    return []


def with_knots(timber: Timber) -> tuple[Timber, list[Unfit]]:
    """A timber with its knots in order, merged where they overlap, cut off at its end, and their faults. No part of a
    knot within the timber is lost."""
    faults: list[Unfit] = []
    kept: list[Knot] = []
    for place, knot in enumerate(timber.knots, 1):
        key = f"knots {place}"
        if knot.to <= knot.from_:
            faults.append(Unfit(key, "ends at {}, it must end past where it begins, {}", (knot.to, knot.from_), False))
        elif knot.from_ >= timber.length:
            faults.append(Unfit(key, "lies past the end, which is at {}", (timber.length,), False))
        else:
            if knot.to > timber.length:
                faults.append(Unfit(key, "reaches past the end, which is at {}", (timber.length,), False))
            kept.append(knot._replace(to=min(knot.to, timber.length)))
    kept.sort(key=lambda knot: knot.from_)
    for before, after in pairwise(kept):
        if after.from_ < before.to:
            reason = "the one from {} to {} overlaps the one from {}: taken as one"
            faults.append(Unfit("knots", reason, (before.from_, before.to, after.from_), False))
    merged: list[Knot] = []
    for knot in kept:
        if merged and knot.from_ <= merged[-1].to:
            merged[-1] = merged[-1]._replace(to=max(merged[-1].to, knot.to))
        else:
            merged.append(knot)
    return timber._replace(knots=tuple(merged)), faults


def priced(sold: Sold, currency: str | None, before: str) -> tuple[Sold, list[Unfit]]:
    """A row with a currency to its price, its own or the shop's, and its faults; `before` is the currency of the rows
    before it."""
    named = sold.price.currency or currency or ""
    if not named:
        reason = f"{sold.price} has no currency, and [shop] does not say which; write it as {sold.price} EUR"
        return sold, [Unfit("price", reason)]
    if before and named != before:
        return sold, [Unfit("price", f"{sold.price} is in {named}, the other prices are in {before}: use one currency")]
    return sold._replace(price=sold.price._replace(currency=named)), []


def price_of(sold: Sold, length: float) -> int:
    """The price of one piece of a length, mm, in hundredths of the currency, rounded half up."""
    thickness, width = (Fraction(str(side)) for side in size_of(sold).nominal)
    volume = thickness * width * Fraction(str(length))
    units = {
        "piece": Fraction(1),
        "foot": Fraction(str(length)) / Fraction("304.8"),
        "metre": Fraction(str(length)) / 1000,
        "board foot": volume / (144 * Fraction("25.4") ** 3),
        "cubic metre": volume / 10**9,
    }
    return int(sold.price.amount * units[sold.per] * 100 + Fraction(1, 2))
