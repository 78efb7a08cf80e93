"""The kinds of inputs that are a whole spar, or all of a boat. They are never typed: they follow what is chosen."""

from collections.abc import Sequence
from typing import Any, ClassVar, Protocol

from ..errors import InputFault
from ..fields import Kind, OpaqueValue, Value
from ..lengths import Rule, show
from ..record import fields
from .body import Body
from .fitting import Fitting


class WholeSpar(Kind):
    """A spar with its sections and fittings, a Body."""

    python = (Body,)
    typed: ClassVar[bool] = False

    def check(self, value: Value, rule: Rule) -> None:
        if not isinstance(value, Body):
            raise InputFault("not a spar")

    def to_json(self, value: Value) -> Any:
        """Its stations, section and fittings: widths in mm by station."""
        if not isinstance(value, Body):
            return None
        shape = {
            "length": value.length,
            "section": value.section,
            "stations": [list(station) for station in value.outline.stations],
        }
        names = [field.name for field in fields(Fitting) if field.name != "name"]  # which is no part of the shape
        return {**shape, "fittings": [{name: getattr(fitting, name) for name in names} for fitting in value.fittings]}

    def _say(self, value: Any, rule: Rule) -> str:
        return f"{value.section}, {show(value.length, rule)}"


class SparRecord(Protocol):
    """A spar of a profile: its name, how many there are alike, and the body that it makes when it is asked for."""

    @property
    def name(self) -> str: ...

    @property
    def count(self) -> int: ...

    def body(self) -> Body: ...


class Fleet(OpaqueValue):
    """All the spars of a boat."""

    __slots__ = ("spars",)

    def __init__(self, spars: Sequence[SparRecord]) -> None:
        self.spars = tuple(spars)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Fleet) and self.spars == other.spars

    def __hash__(self) -> int:
        return hash(self.spars)


class AllSpars(Kind):
    """All the spars of a boat, a Fleet."""

    python = (Fleet,)
    typed: ClassVar[bool] = False

    def check(self, value: Value, rule: Rule) -> None:
        if not isinstance(value, Fleet):
            raise InputFault("not spars")

    def to_json(self, value: Value) -> Any:
        """The name of each, and how many alike."""
        return [[spar.name, spar.count] for spar in value.spars] if isinstance(value, Fleet) else None

    def _say(self, value: Any, rule: Rule) -> str:
        return "; ".join(spar.name for spar in value.spars)
