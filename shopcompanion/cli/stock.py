"""The command of the cutting plan: what to buy for a boat, and how it is sawn."""

from typing import TYPE_CHECKING

from .. import __version__
from ..card.lines import Paper
from ..card.origin import Origin
from ..card.yard import lines, money, page
from ..errors import InputFault, printable
from ..profile.left_out import INCOMPLETE
from ..stock.blanks import Task, task
from .calculators import given_rule
from .card import day
from .following import opened_boat
from .grammar import Given
from .output import PLAIN, progress_line, say, say_json, takes, wiped
from .print_out import keep_pdf, refuse_beside_pdf, sheet_for

if TYPE_CHECKING:
    from ..stock.pieces import Plan

LONGEST = 86_400.0  # seconds


def planned(given: Given) -> int:
    """Write the plan, proved or the best found when it was stopped, to standard output."""
    if "boat" not in given:
        raise InputFault("is needed: the boat whose timber it is, as --boat saltmarsh-yawl", "boat")
    date = day(given["date"]) if "date" in given else None
    if "json" in given and "page" in given:
        raise InputFault("give --json or --page, not both")
    refuse_beside_pdf(given, "json", "page", "ascii")
    seconds = seconds_of(given["seconds"]) if "seconds" in given else None
    opened = opened_boat(given, given["boat"])
    boat = opened.reading.boat
    rule = given_rule(given) or boat.rule
    job = task(boat, boat.rule)
    plan = best(job, seconds)
    if "pdf" in given:
        from ..paper.yard_page import yard_page

        origin = Origin(rule, opened.listing.path.name, __version__, date)
        pages = yard_page(boat, job, plan, sheet_for(given, rule), origin)
        keep_pdf(given, pages, f"{printable(boat.name) or 'a boat'}: timber", date)
        return INCOMPLETE if job.left_out else 0
    ascii_only = "ascii" in given or not takes("█╳─░│")
    if "json" in given:
        from ..stock.plain import plain

        say_json({"boat": boat.name, **plain(job, plan, ascii_only)})
        return INCOMPLETE if job.left_out else 0
    if "page" in given:
        source = opened.listing.path.name
        text = page(boat, job, plan, rule=rule, source=source, version=__version__, date=date, ascii_only=ascii_only)
    else:
        name = printable(boat.name) or "a boat"
        text = "\n".join([f"{name}: timber", "", *lines(job, plan, Paper(rule, ascii_only))])
    if "ascii" in given:
        text = "".join(letter if letter.isascii() else PLAIN.get(letter, "?") for letter in text)
    say(text.rstrip("\n"))
    return INCOMPLETE if job.left_out else 0


def seconds_of(text: str) -> float:
    """How long a search may take. InputFault when that is no time."""
    try:
        seconds = float(text)
    except ValueError:
        seconds = 0.0
    if not 0 < seconds <= LONGEST:
        raise InputFault(f"'{printable(text)}' is not a number of seconds, try 10", "seconds")
    return seconds


def best(job: Task, seconds: float | None) -> "Plan":
    """The best plan, or the best so far when the time is up or the user stops the search."""
    from ..stock.search import within

    try:
        return within(job.problem, seconds, lambda plan: _progress(job, plan))
    finally:
        wiped()


def _progress(job: Task, plan: "Plan") -> None:
    """How far the search is."""
    progress_line(f"{money(plan.cost, job)} so far; still open: {plan.proof.stage}; ^C stops with the best so far")
