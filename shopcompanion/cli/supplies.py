"""The command of the list of all that is to be bought for a boat."""

from .. import __version__
from ..card.lines import Paper
from ..card.origin import Origin
from ..card.supplies import COLUMNS, page, planned, rows, screen_lines, supplies
from ..errors import InputFault, printable
from ..profile.left_out import INCOMPLETE, as_json
from .calculators import given_rule
from .card import day
from .following import opened_boat
from .grammar import Given
from .output import PLAIN, say, say_json, takes
from .print_out import keep_pdf, refuse_beside_pdf, sheet_for
from .stock import best, seconds_of


def listed(given: Given) -> int:
    """Write the list, by the best cutting plan that there is, to standard output."""
    if "boat" not in given:
        raise InputFault("is needed: the boat that it is bought for, as --boat saltmarsh-yawl", "boat")
    date = day(given["date"]) if "date" in given else None
    chosen = [f"--{name}" for name in ("json", "csv", "page") if name in given]
    if len(chosen) > 1:
        raise InputFault(f"give {' or '.join(chosen)}, not both")
    refuse_beside_pdf(given, "json", "csv", "page", "ascii")
    seconds = seconds_of(given["seconds"]) if "seconds" in given else None
    opened = opened_boat(given, given["boat"])
    boat = opened.reading.boat
    rule = given_rule(given) or boat.rule
    job = planned(boat)
    made = supplies(boat, job, best(job, seconds) if job else None, rule)
    name = printable(boat.name) or "a boat"
    ascii_only = "ascii" in given or not takes("─·")
    if "pdf" in given:
        from ..paper.supplies_page import supplies_page

        origin = Origin(rule, opened.listing.path.name, __version__, date)
        keep_pdf(given, supplies_page(boat, made, sheet_for(given, rule), origin), f"{name}: to buy", date)
    elif "json" in given:
        say_json({
            "boat": boat.name, "currency": made.currency, "total": made.total / 100,
            "lines": [{**row, "used": list(line.used)} for row, line in zip(rows(made), made.lines, strict=True)],
            "notes": list(made.notes), "left_out": as_json(made.left_out),
        })  # fmt: skip
    elif "csv" in given:
        say(as_csv(rows(made)).rstrip("\n"))
    else:
        paper = Paper(rule, ascii_only)
        if "page" in given:
            origin = Origin(rule, opened.listing.path.name, __version__, date)
            text = page(made, name, paper, paper.foot(origin.source, origin.version, origin.date))
        else:
            text = "\n".join([f"{name}: to buy", "", *screen_lines(made, paper)])
        if "ascii" in given:
            text = "".join(letter if letter.isascii() else PLAIN.get(letter, "?") for letter in text)
        say(text.rstrip("\n"))
    return INCOMPLETE if made.left_out else 0


def as_csv(lines: list[dict[str, str]]) -> str:
    """The rows for a spreadsheet, with their heads. A cell that a spreadsheet would run as a formula begins with '."""
    import csv
    from io import StringIO

    text = StringIO()
    writer = csv.DictWriter(text, COLUMNS, lineterminator="\n")
    writer.writeheader()
    writer.writerows({name: f"'{cell}" if cell[:1] in tuple("=+-@\t") else cell for name, cell in line.items()}
                     for line in lines)  # fmt: skip
    return text.getvalue()
