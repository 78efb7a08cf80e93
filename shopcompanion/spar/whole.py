"""The kind of an input that is a whole spar. It is never typed: it follows the spar that is chosen."""

from typing import Any, ClassVar

from ..errors import InputFault
from ..fields import Kind, Value
from ..lengths import Rule, show
from .body import Body


class Whole(Kind):
    """A spar with its sections and fittings, a Body."""

    python = (Body,)
    typed: ClassVar[bool] = False

    def check(self, value: Value, rule: Rule) -> None:
        if not isinstance(value, Body):
            raise InputFault("not a spar")

    def plain(self, value: Value) -> Any:
        """Its stations, section and fittings: widths in mm by station."""
        if not isinstance(value, Body):
            return None
        found = {
            "length": value.length,
            "section": value.section,
            "stations": [list(one) for one in value.outline.stations],
        }
        return {**found, "fittings": [one._asdict() for one in value.fittings]}

    def _say(self, value: Any, rule: Rule) -> str:
        return f"{value.section}, {show(value.length, rule)}"
