"""The command of the job cards."""

from .. import __version__
from ..card.origin import Origin
from ..card.text import card
from ..errors import InputFault, printable
from ..lengths import Rule
from ..profile.left_out import INCOMPLETE, LeftOut
from ..profile.records import Boat, Spar
from ..storage.names import slug
from .calculators import given_rule
from .following import opened_boat
from .grammar import Given
from .output import PLAIN, say, takes
from .print_out import keep_drawings, keep_pdf, refuse_beside_pdf, sheet_for


def printed(given: Given) -> int:
    """Write the card of a spar, or of every spar of the boat, to standard output."""
    if "boat" not in given:
        raise InputFault("is needed: the boat whose card it is, as --boat saltmarsh-yawl", "boat")
    date = day(given["date"]) if "date" in given else None
    refuse_beside_pdf(given, "ascii", "svg")
    opened = opened_boat(given, given["boat"])
    boat = opened.reading.boat
    spar = boat.spar(given["spar"]) if "spar" in given else None
    rule = given_rule(given) or boat.rule
    if "svg" in given:
        return _drawn(given, boat, spar, rule)
    if "pdf" in given:
        return _set_for_print(given, boat, spar, Origin(rule, opened.listing.path.name, __version__, date))
    made = card(
        boat,
        spar,
        rule=rule,
        source=opened.listing.path.name,
        version=__version__,
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


def _drawn(given: Given, boat: Boat, spar: Spar | None, rule: Rule) -> int:
    """The drawings of the card, or of every card of the boat, in a folder."""
    from pathlib import Path

    from ..card.plan import CardPlan
    from ..card.steps import lacking, of_plan
    from ..paper.card_drawings import card_drawings

    files: dict[str, str] = {}
    left_out: list[LeftOut] = []
    for each in (spar,) if spar else boat.spars:
        plan = CardPlan(boat, each, rule)
        of_plan(plan)
        left_out += lacking(plan)
        files |= {f"{slug(each.name)}-{name}.svg": text for name, text in card_drawings(plan).items()}
    keep_drawings(Path(given["svg"]), "svg", b"<?xml", files)
    return INCOMPLETE if left_out or boat.left_out else 0


def day(text: str) -> str:
    """The day as it is written on the card. InputFault unless it is one, as 2026-05-02."""
    from ..lengths import RULES
    from ..profile.fields import Day

    try:
        return str(Day("Day").read(text, RULES[0]))
    except InputFault as fault:
        raise InputFault(fault.template, "date", fault.lengths) from None
