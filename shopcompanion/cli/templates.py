"""The command of the templates: at full size on sheets, or as a drawing each."""

from collections.abc import Callable
from pathlib import Path

from .. import __version__
from ..card.origin import Origin
from ..card.plan import CardPlan
from ..errors import InputFault, nearest, printable
from ..paper.full_size import TRUE, correction, drawing, sheets_of
from ..paper.templates.every import KINDS, Templates, templates
from ..paper.templates.template import Template
from ..profile.left_out import INCOMPLETE
from .calculators import given_rule
from .card import day
from .following import opened_boat
from .grammar import Given
from .output import say
from .print_out import keep_drawings, keep_pdf, sheet_for
from .words import aligned

_TO = ("pdf", "svg", "dxf")


def made(given: Given) -> int:
    """Write the templates of a spar, or list them."""
    for name, example in (("boat", "saltmarsh-yawl"), ("spar", "'mizzen mast'")):
        if name not in given:
            raise InputFault(f"is needed: whose templates they are, as --{name} {example}", name)
    to = [name for name in _TO if name in given]
    if len(to) > 1:
        raise InputFault(f"give --{to[0]} or --{to[1]}, not both")
    for name in ("paper", "measured"):
        if name in given and to != ["pdf"]:
            raise InputFault("is for sheets: give --pdf FILE as well", name)
    date = day(given["date"]) if "date" in given else None
    only = _kinds(given["only"]) if "only" in given else ()
    opened = opened_boat(given, given["boat"])
    boat = opened.reading.boat
    rule = given_rule(given) or boat.rule
    by = correction(given["measured"], rule.unit) if "measured" in given else TRUE
    drawn = templates(CardPlan(boat, boat.spar(given["spar"]), rule), only)
    name = f"{printable(boat.name) or 'a boat'} · {printable(drawn.spar)} · templates"
    origin = Origin(rule, opened.listing.path.name, __version__, date)
    if to == ["pdf"]:
        keep_pdf(given, sheets_of(drawn, sheet_for(given, rule), name, origin, by), name, date)
    elif to:
        _drawings(drawn, Path(given[to[0]]), to[0])
    else:
        say(
            *aligned(
                [
                    ("name", "template"),
                    *((template.name, f"{template.title}. {template.says[0]}.") for template in drawn.all),
                ]
            )
        )
        say(*(f"⚠ {line}" for line in drawn.told))
    return INCOMPLETE if drawn.left_out else 0


def _kinds(text: str) -> tuple[str, ...]:
    """The kinds of a list with commas. InputFault for one that is none."""
    names = [name.strip().casefold() for name in text.split(",") if name.strip()]
    for name in names:
        if name not in KINDS:
            raise InputFault(f"'{printable(name)}' is none of {', '.join(KINDS)}{nearest(name, list(KINDS))}", "only")
    return tuple(names)


def _drawings(drawn: Templates, folder: Path, kind: str) -> None:
    """A file for every template; none is written where one of them would take the place of something else."""
    writer: Callable[[Template], str]
    if kind == "svg":
        begins, writer = b"<?xml", drawing
    else:
        from ..paper.dxf import dxf

        begins, writer = b"  0\nSECTION", dxf
    keep_drawings(folder, kind, begins, {f"{template.name}.{kind}": writer(template) for template in drawn.all})
    if drawn.told:
        say(*(f"⚠ {line}" for line in drawn.told))
