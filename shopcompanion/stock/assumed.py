"""What is taken of the shop as long as it was never entered, by the unit of the boat."""

from ..lengths import Unit
from ..profile.records import Boat

# A common blade, and an inch, or nearly, as trim at each end and as the narrowest offcut worth keeping, mm. Each stands
# on a mark of the rule.
KERF: dict[Unit, float] = {"in": 3.175, "mm": 3.0}
TRIM: dict[Unit, float] = {"in": 25.4, "mm": 25.0}
KEEP = TRIM


def assumed(boat: Boat) -> dict[str, float]:
    """The keys of the shop that are not entered and are assumed all the same, with what is taken, mm."""
    unit = boat.rule.unit
    sizes = {"kerf": KERF[unit], "trim": TRIM[unit], "keep": KEEP[unit]}
    return {key: mm for key, mm in sizes.items() if getattr(boat.shop, key) is None}
