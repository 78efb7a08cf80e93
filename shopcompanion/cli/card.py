"""The command of the job cards."""

from .. import version
from ..card.text import card
from ..errors import InputFault
from ..profile.left_out import INCOMPLETE
from .calculators import given_rule
from .following import opened_boat
from .grammar import Given
from .output import PLAIN, say, takes


def printed(given: Given) -> int:
    """Write the card of a spar, or of every spar of the boat, to standard output."""
    if "boat" not in given:
        raise InputFault("is wanted: the boat whose card it is, as --boat saltmarsh-yawl", "boat")
    date = day(given["date"]) if "date" in given else None
    opened = opened_boat(given, given["boat"])
    boat = opened.reading.boat
    spar = boat.spar(given["spar"]) if "spar" in given else None
    made = card(
        boat,
        spar,
        rule=given_rule(given) or boat.rule,
        source=opened.listing.path.name,
        version=version(),
        date=date,
        ascii_only="ascii" in given or not takes("\u28ff"),
    )
    text = made.text
    if "ascii" in given:
        text = "".join(letter if letter.isascii() else PLAIN.get(letter, "?") for letter in text)
    say(text.rstrip("\n"))
    return INCOMPLETE if made.left_out else 0


def day(text: str) -> str:
    """The day as it is written on the card. InputFault unless it is one, as 2026-05-02."""
    from ..lengths import RULES
    from ..profile.fields import Day

    try:
        return str(Day("Day").read(text, RULES[0]))
    except InputFault as fault:
        raise InputFault(fault.template, "date", fault.lengths) from None
