"""What the help says: the keys in force, the signs, how a length is written."""

from collections.abc import Mapping

from .keys import ACTIONS, EVERYWHERE, PLACES, first_key, show_key
from .paint import Row, Rows, row

_MOVING = {
    "bench": (
        ("↑ ↓ ⏎", "From field to field; past the last one the answers scroll"),
        ("← →", "In a field of choices, the next choice"),
    ),
    "sheet": (
        ("↑ ↓ ⏎", "Put in what is typed, and go to the row above or below"),
        ("tab", "Put in what is typed, and go to the next column"),
        ("← →", "In a cell of choices, the next choice"),
    ),
    "glance": (("↑ ↓", "From spar to spar"), ("⏎  1 … 9", "Take up that spar, at the bench")),
    "job": (("↑ ↓", "From step to step"), ("PgUp PgDn", "Read on in the step")),
    "timber": (("↑ ↓ PgUp PgDn", "Scroll"), ("tab", "To the next timber")),
    "page": (("↑ ↓ PgUp PgDn", "Scroll"),),
}
_SIGNS = (
    ("⇠", "the field follows the boat: station, spar, shop; type over it to set a value of your own"),
    ("=", "how your typing was read, and what the boat has instead"),
    ("✗", "a fault: the last good answers stay until it is put right"),
    ("full, bare", "a little over, a little under the mark on the rule"),
    ("▲ ◇ ▾", "on the spar: the station, a joint, a fitting"),
    ("●", "the boat has changes that are not saved"),
)
_LENGTHS = (
    '3-1/2   3 1/2"   3.5 in   3½   12\' 6-1/2"   89mm   8,9 cm   1.2 m',
    "3-1/2 + 1/16   12' 6\" / 2   2 * 7/8     (a space on both sides of the sign)",
    "A bare number takes the unit in force, shown at the top.",
)


def help_text(keys: Mapping[str, str], place: str = "bench") -> Rows:
    """Everything on one scrolling page; the screen where it was asked for comes before the others."""
    finder = first_key(keys, "find") or "the finder"
    lines = [row("How do I …? Type it, here or in the finder, as: make a mast lighter."), row("")]
    lines += [row(("Keys, on every screen", "bold")), *_keys(keys, EVERYWHERE), *_section(keys, place)]
    lines += [row(f"Themes, versions and everything else: {finder} and some letters of the name.")]
    lines += [row(""), row(("Signs", "bold")), *[_pair(sign) for sign in _SIGNS]]
    lines += [row(""), row(("Lengths", "bold")), *map(row, _LENGTHS)]
    lines += [line for other in PLACES if other != place for line in _section(keys, other)]
    lines += [
        row(""),
        row(("Care", "bold")),
        row(
            "The numbers are sums, not advice on your machine: its manual, the marking on the cutter, local rules and "
            "a qualified person come first."
        ),
    ]
    return Rows(lines)


def _section(keys: Mapping[str, str], place: str) -> list[Row]:
    return [row(""), row((PLACES[place], "bold")), *map(_pair, _MOVING[place]), *_keys(keys, (place,))]


def _keys(keys: Mapping[str, str], where: tuple[str, ...]) -> list[Row]:
    """The actions that have a key just there; with one place, those of several too that are not everywhere."""
    here = [
        action
        for action in ACTIONS
        if keys[action.name] and (action.where == where or (len(where) == 1 and where[0] in action.where != EVERYWHERE))
    ]
    return [_pair(("  ".join(map(show_key, keys[action.name].split(","))), action.says)) for action in here]


def _pair(pair: tuple[str, str]) -> Row:
    return row((f"{pair[0]:<12}", "bold accent"), pair[1])
