"""What the help says: the keys in force, the signs, how a length is written."""

from collections.abc import Mapping

from .keys import ACTIONS, show_key
from .paint import Row, Rows, row

_MOVING = (
    ("↑ ↓ ⏎", "From field to field; past the last one the answers scroll"),
    ("← →", "In a field of choices, the next choice"),
)
_SIGNS = (
    ("⇠", "the field follows the boat: the station, the spar, the shop. Type over it, and the link is cut"),
    ("=", "what was read from what you typed, and what the boat says instead"),
    ("✗", "a fault: the answers stay as they last were until it is mended"),
    ("full, bare", "a little over, a little under the mark on the rule"),
    ("▲ ◇ ▾", "on the spar: the station, a joint, a fitting"),
    ("●", "the boat has changes that are not saved"),
)
_LENGTHS = (
    '3-1/2   3 1/2"   3.5 in   3½   12\' 6-1/2"   89mm   8,9 cm   1.2 m',
    "3-1/2 + 1/16   12' 6\" / 2   2 * 7/8     (a space on both sides of the sign)",
    "A bare number takes the unit in force, shown at the top.",
)


def help_text(keys: Mapping[str, str]) -> Rows:
    """Everything on one scrolling page."""
    rows = [("  ".join(map(show_key, keys[a.name].split(","))), a.says) for a in ACTIONS if keys[a.name]]
    finder = show_key(keys["find"].split(",")[0]) if keys["find"] else "the finder"
    lines = [row(("Keys", "bold"))]
    lines += [_row(*row) for row in (*_MOVING, *rows)]
    lines += [row(f"Themes, versions and everything else: {finder} and some letters of the name.")]
    lines += [row(""), row(("Signs", "bold")), *[_row(*row) for row in _SIGNS]]
    lines += [row(""), row(("Lengths", "bold")), *map(row, _LENGTHS)]
    lines += [
        row(""),
        row(("Care", "bold")),
        row(
            "The numbers are sums, not advice on your machine: its manual, the marking on the cutter, local rules and "
            "a qualified person come first."
        ),
    ]
    return Rows(lines)


def _row(key: str, says: str) -> Row:
    return row((f"{key:<12}", "bold accent"), says)
