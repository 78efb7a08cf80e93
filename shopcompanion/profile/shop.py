"""What the shop has, as the `[shop]` table of a profile says: saw, planing, bits, drums and belts. Millimetres."""

from typing import ClassVar

from ..fields import Choice, Length, Turning
from ..record import Annotated, Record
from .fields import TableRows
from .timber_records import Currency

BITS = ("roundover", "cove", "chamfer", "straight")


class Bit(Record):
    """A router bit on the rack."""

    LOOSE: ClassVar[tuple[str, ...]] = ()
    kind: Annotated[str, Choice("Kind of bit", options=BITS)] = "roundover"
    radius: Annotated[float, Length("Radius of the bit", above=0, at_most=200)]
    pilot: Annotated[float | None, Length("Diameter of the pilot", above=0, at_most=200)] = None


class Drum(Record):
    """A drum that drives a sanding belt."""

    LOOSE: ClassVar[tuple[str, ...]] = ("rpm",)
    diameter: Annotated[float, Length("Drum diameter", above=0, at_most=2000)]
    rpm: Annotated[float | None, Turning("Drum turns at", above=0, at_most=30000)] = None


class Belt(Record):
    """A sanding belt, its length measured inside."""

    LOOSE: ClassVar[tuple[str, ...]] = ("width",)
    length: Annotated[float, Length("Belt length, inside", above=0, at_most=20000)]
    width: Annotated[float | None, Length("Belt width", above=0, at_most=2000)] = None


class Shop(Record):
    """What the shop has, in the order of preference: the first drum and the first belt are the ones at hand."""

    LOOSE: ClassVar[tuple[str, ...]] = (
        "kerf", "saw_depth", "saw_depth_tilted", "planing", "trim", "keep", "currency", "bits", "drums", "belts",
    )  # fmt: skip
    kerf: Annotated[float | None, Length("Kerf of the saw", above=0, at_most=50)] = None
    saw_depth: Annotated[float | None, Length("Saw cuts, upright", above=0, at_most=1000)] = None
    saw_depth_tilted: Annotated[float | None, Length("Saw cuts, tilted 45°", above=0, at_most=1000)] = None
    planing: Annotated[float | None, Length("Planing allowance on each face", at_least=0, at_most=100)] = None
    trim: Annotated[float | None, Length("Left on at each end of a blank", at_least=0, at_most=1000)] = None
    keep: Annotated[float | None, Length("Narrowest offcut worth keeping", above=0, at_most=1000)] = None
    currency: Annotated[str | None, Currency("Currency of the yard")] = None
    bits: Annotated[tuple[Bit, ...], TableRows("Router bits", of=Bit)] = ()
    drums: Annotated[tuple[Drum, ...], TableRows("Drums", of=Drum)] = ()
    belts: Annotated[tuple[Belt, ...], TableRows("Sanding belts", of=Belt)] = ()
