"""What a yard sells, as a calculator is told of it: sizes, lengths and prices."""

from collections.abc import Sequence
from typing import Any, ClassVar

from ..errors import InputFault
from ..fields import Kind, OpaqueValue, Value
from ..lengths import Rule
from ..record import NamedTuple


class Offer(NamedTuple):
    """One timber that the yard sells: its sizes as they are, mm, and its price in hundredths of the currency."""

    name: str
    species: str | None
    thickness: float
    width: float
    length: float
    price: int


class Offers(OpaqueValue):
    """All that a yard sells, every length of every size, in one currency."""

    __slots__ = ("currency", "offers")

    def __init__(self, offers: Sequence[Offer], currency: str) -> None:
        self.offers, self.currency = tuple(offers), currency

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Offers) and (self.offers, self.currency) == (other.offers, other.currency)

    def __hash__(self) -> int:
        return hash((self.offers, self.currency))

    def cheapest(self, species: str, side: float, length: float) -> Offer | None:
        """The cheapest timber of a species that a square blank of so many mm comes out of, whole; None without any."""
        fits = (
            offer
            for offer in self.offers
            if offer.species == species and min(offer.thickness, offer.width) >= side and offer.length >= length
        )
        return min(fits, key=lambda offer: (offer.price, offer.thickness * offer.width * offer.length), default=None)


class Yard(Kind):
    """What the yard sells; never typed."""

    python = (Offers,)
    typed: ClassVar[bool] = False

    def check(self, value: Value, rule: Rule) -> None:
        if not isinstance(value, Offers):
            raise InputFault("not what a yard sells")

    def to_json(self, value: Value) -> Any:
        """A row for each: name, species, thickness, width and length in mm, and the price in hundredths."""
        return [list(offer) for offer in value.offers] if isinstance(value, Offers) else None

    def _say(self, value: Any, rule: Rule) -> str:
        return f"{len(value.offers)} timbers, prices in {value.currency}"
