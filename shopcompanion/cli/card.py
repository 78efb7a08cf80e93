"""The command of the job cards."""

from .. import version
from ..card.origin import Origin
from ..card.text import card
from ..errors import InputFault, printable
from ..profile.left_out import INCOMPLETE
from ..profile.records import Boat, Spar
from .calculators import given_rule
from .following import opened_boat
from .grammar import Given
from .output import PLAIN, say, takes
from .print_out import keep_pdf, refuse_beside_pdf, sheet_for


def printed(given: Given) -> int:
    """Write the card of a spar, or of every spar of the boat, to standard output."""
    if "boat" not in given:
        raise InputFault("is needed: the boat whose card it is, as --boat saltmarsh-yawl", "boat")
    date = day(given["date"]) if "date" in given else None
    refuse_beside_pdf(given, "ascii")
    opened = opened_boat(given, given["boat"])
    boat = opened.reading.boat
    spar = boat.spar(given["spar"]) if "spar" in given else None
    rule = given_rule(given) or boat.rule
    if "pdf" in given:
        return _set_for_print(given, boat, spar, Origin(rule, opened.listing.path.name, version(), date))
    made = card(
        boat,
        spar,
        rule=rule,
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


def _set_for_print(given: Given, boat: Boat, spar: Spar | None, origin: Origin) -> int:
    from ..paper.bench_card import cards

    made = cards(boat, spar, sheet_for(given, origin.rule), origin)
    name = printable(boat.name) or "a boat"
    keep_pdf(given, made.pages, f"{name}: {printable(spar.name) if spar else 'job cards'}", origin.date)
    return INCOMPLETE if made.left_out else 0


def day(text: str) -> str:
    """The day as it is written on the card. InputFault unless it is one, as 2026-05-02."""
    from ..lengths import RULES
    from ..profile.fields import Day

    try:
        return str(Day("Day").read(text, RULES[0]))
    except InputFault as fault:
        raise InputFault(fault.template, "date", fault.lengths) from None
