"""The command of the boat's book."""

from .. import __version__
from ..card.origin import Origin
from ..errors import InputFault, printable
from ..paper.book import BookTimber, book
from ..profile.left_out import INCOMPLETE
from ..profile.records import Boat
from ..stock.blanks import task
from .calculators import given_rule
from .card import day
from .following import opened_boat
from .grammar import Given
from .output import progress_line, wiped
from .print_out import keep_pdf, sheet_for
from .stock import best, seconds_of

SEARCH = 1.0  # seconds for the cutting plan, unless another time is given


def made(given: Given) -> int:
    """Write the book of a boat to a file."""
    if "boat" not in given:
        raise InputFault("is wanted: the boat whose book it is, as --boat saltmarsh-yawl", "boat")
    if "pdf" not in given:
        raise InputFault("is wanted: the file of the book, as --pdf book.pdf", "pdf")
    date = day(given["date"]) if "date" in given else None
    seconds = seconds_of(given["seconds"]) if "seconds" in given else SEARCH
    opened = opened_boat(given, given["boat"])
    boat = opened.reading.boat
    rule = given_rule(given) or boat.rule
    sheet = sheet_for(given, rule)
    origin = Origin(rule, opened.listing.path.name, __version__, date)
    timber = _timber(boat, seconds)
    pages = book(boat, timber, sheet, origin, tell=lambda done, of, what: progress_line(f"{done} of {of}: {what}"))
    wiped()
    keep_pdf(given, pages.pages, f"{printable(boat.name) or 'a boat'}: the book of its spars", date)
    return INCOMPLETE if pages.left_out else 0


def _timber(boat: Boat, seconds: float) -> BookTimber:
    """The best cutting plan that is found in that time; without timber in the profile the book has none."""
    try:
        job = task(boat, boat.rule)
    except InputFault as fault:
        return BookTimber(None, None, fault.reason)
    return BookTimber(job, best(job, seconds))
