"""The commands that are no calculator: the boats, the reference page and the shells' completion."""

from collections.abc import Callable
from importlib import import_module

from .calculators import UNITS
from .grammar import Command, Given, Option, Word

SHELLS = ("bash", "zsh", "fish")
_PROFILES = Option("profiles", "the folder of the boats' profiles", "DIR")
_JSON = Option("json", "in JSON")
_PDF = Option("pdf", "set for print, in this file, as PDF", "FILE")
_PAPER = Option(
    "paper", "sheet of the PDF: a4 or letter; by default letter for inches, a4 for millimetres", "SHEET",
    ("a4", "letter"),
)  # fmt: skip
_BOAT = Word("boat", "the name of a boat, as 'list' shows it")


def _of(module: str, name: str) -> Callable[[Given], int]:
    """What carries a command out, loaded only when it does: no command waits for the modules of the others."""

    def run(given: Given) -> int:
        done: int = getattr(import_module(f".{module}", __package__), name)(given)
        return done

    return run


COMMANDS = (
    Command("list", "List the boats.", _of("boats", "listed"), (Option("names", "the names alone"), _PROFILES, _JSON)),
    Command(
        "new",
        "Begin the profile of a new boat.",
        _of("boats", "new"),
        (
            Option("units", "units of bare numbers: in or mm; by default in", "UNIT", UNITS),
            Option("like", "begin with a copy of this boat or example", "BOAT"),
            _PROFILES,
        ),
        (Word("name", "a name for the boat"),),
    ),
    Command(
        "check",
        "List every fault of a profile.",
        _of("boats", "check"),
        (_PROFILES, _JSON),
        (Word("profile", "a file, or the name of a boat"),),
    ),
    Command(
        "show",
        "Show what is in a profile.",
        _of("boats", "show"),
        (
            Option("spar", "this spar alone, with its stations, joints and fittings", "SPAR"),
            Option("toml", "as the profile has it, word for word"),
            _JSON,
            _PROFILES,
        ),
        (_BOAT,),
    ),
    Command(
        "card",
        "Print the job card of a spar, or of every spar of a boat: 72 columns, pages of A4 or Letter.",
        _of("card", "printed"),
        (
            Option("boat", "the boat, as 'list' shows it", "BOAT"),
            Option("spar", "this spar alone", "SPAR"),
            Option("date", "the day that stands on the card, as 2026-05-02; without it a line is left for it", "DAY"),
            Option("units", "unit of the card: in or mm; by default the boat's", "UNIT", UNITS),
            Option("rule", "the rule that lengths are shown on, as '1/32 in' or '0.5 mm'", "RULE"),
            Option("ascii", "in plain ASCII"),
            _PDF,
            _PAPER,
            Option("svg", "its drawings alone, as SVG, in this folder", "DIR"),
            _PROFILES,
        ),
    ),
    Command(
        "templates",
        "Templates of a spar at full size: gauges, marking strips, what is let in, jaws, ends. Without a file: a list.",
        _of("templates", "made"),
        (
            Option("boat", "the boat, as 'list' shows it", "BOAT"),
            Option("spar", "the spar", "SPAR"),
            Option("only", "these kinds alone, with commas between: gauges, strips, flats and so on", "KINDS"),
            _PDF,
            _PAPER,
            Option(
                "measured",
                "what the 100 mm bars measure on the last sheet, as '98.7 mm', or across and along as '98.7 mm & 99.4 "
                "mm': what is printed now comes out right",
                "LENGTHS",
            ),
            Option("svg", "a drawing of each, as SVG, in this folder", "DIR"),
            Option("dxf", "a drawing of each, as DXF in millimetres, in this folder; needs ezdxf", "DIR"),
            Option("date", "the day that stands on the sheets, as 2026-05-02", "DAY"),
            Option("units", "unit of the words: in or mm; by default the boat's", "UNIT", UNITS),
            Option("rule", "the rule that lengths are shown on, as '1/32 in' or '0.5 mm'", "RULE"),
            _PROFILES,
        ),
    ),
    Command(
        "stock",
        "Plan the timber of a boat: what to buy, and how every timber is sawn. Searches until no plan is cheaper.",
        _of("stock", "planned"),
        (
            Option("boat", "the boat, as 'list' shows it", "BOAT"),
            Option("seconds", "search no longer than this; the best plan so far is shown", "SECONDS"),
            Option("page", "as a page for the yard: 72 columns, pages of A4 or Letter"),
            Option("date", "the day that stands on the page, as 2026-05-02", "DAY"),
            Option("units", "unit of the plan: in or mm; by default the boat's", "UNIT", UNITS),
            Option("rule", "the rule that lengths are shown on, as '1/32 in' or '0.5 mm'", "RULE"),
            Option("ascii", "in plain ASCII"),
            _PDF,
            _PAPER,
            _JSON,
            _PROFILES,
        ),
    ),
    Command(
        "supplies",
        "List all that is to be bought for a boat, by where it is bought: timber, fittings, glue, coats.",
        _of("supplies", "listed"),
        (
            Option("boat", "the boat, as 'list' shows it", "BOAT"),
            Option("seconds", "search the cutting plan no longer than this", "SECONDS"),
            Option("page", "as a page to take along: 72 columns, pages of A4 or Letter"),
            Option("csv", "for a spreadsheet: commas between, one line for each"),
            Option("date", "the day that stands on the page, as 2026-05-02", "DAY"),
            Option("units", "unit of the sizes: in or mm; by default the boat's", "UNIT", UNITS),
            Option("rule", "the rule that lengths are shown on, as '1/32 in' or '0.5 mm'", "RULE"),
            Option("ascii", "in plain ASCII"),
            _PDF,
            _PAPER,
            _JSON,
            _PROFILES,
        ),
    ),
    Command(
        "book",
        "The boat's book as PDF: at a glance, what to buy, the timber, and every spar's card and templates.",
        _of("book", "made"),
        (
            Option("boat", "the boat, as 'list' shows it", "BOAT"),
            _PDF,
            _PAPER,
            Option("seconds", "search no longer than this for the cutting plan; by default 1", "SECONDS"),
            Option("date", "the day that stands on the pages, as 2026-05-02", "DAY"),
            Option("units", "unit of the book: in or mm; by default the boat's", "UNIT", UNITS),
            Option("rule", "the rule that lengths are shown on, as '1/32 in' or '0.5 mm'", "RULE"),
            _PROFILES,
        ),
    ),
    Command(
        "species",
        "List the timbers, with their figures and where those are from.",
        _of("species", "listed"),
        (
            Option("boat", "with this boat's own timbers", "BOAT"),
            Option("units", "units of the figures: in or mm; by default the boat's", "UNIT", UNITS),
            _PROFILES,
            _JSON,
        ),
        (Word("name", "one timber, by some of its name", wanted=False),),
    ),
    Command(
        "restore",
        "List the earlier versions of a boat's profile, or bring one back.",
        _of("boats", "restore"),
        (
            Option(
                "version",
                "bring back the version of this number, or the unsaved work; the present one is kept as a version",
                "N",
            ),
            _PROFILES,
        ),
        (_BOAT,),
    ),
    Command("where", "Show where the companion keeps things.", _of("boats", "where"), (_PROFILES, _JSON)),
    Command("schema", "Print the JSON Schema of a profile, for editors.", _of("boats", "schema")),
    Command("reference", "Print the reference of all calculators, in Markdown.", _of("reference", "printed")),
    Command(
        "completion",
        "Print the completion for a shell, to be kept where that shell looks for it.",
        _of("completion", "printed"),
        words=(Word("shell", "bash, zsh or fish", choices=SHELLS),),
    ),
)
