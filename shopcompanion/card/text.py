"""The card for the bench: plain text, 72 columns, on A4 or Letter, with everything that is needed without the computer.

It is made of the order of work and nothing else, without clock, locale or place of a file: the same boat, rule, version
and date give the same card to the letter.
"""

from collections.abc import Iterator, Sequence

from ..calculator import Table
from ..errors import InputFault, printable
from ..lengths import Rule
from ..profile.left_out import LeftOut, because, for_card
from ..profile.records import Boat, Spar
from ..record import NamedTuple
from .good_for import good_for
from .head import cover, head
from .lines import Paper
from .measured import measured_block
from .pages import FEED, WIDE, PageBlock, pages
from .plan import CardPlan
from .step import Step
from .steps import lacking, naming, of_plan

_WIDTHS = ("at", "width", "half", "off_each_face", "mark_8", "note")
_DEPTHS = ("at", "depth", "half_depth", "off_depth", "mark_8_depth")


class Card(NamedTuple):
    """The pages, parted by form feeds, and what of the boat is left out of them, as stands at their top."""

    text: str
    left_out: tuple[LeftOut, ...]


def card(
    boat: Boat,
    spar: Spar | None,
    *,
    rule: Rule,
    source: str,
    version: str,
    date: str | None,
    ascii_only: bool = False,
    wide: int = WIDE,
) -> Card:
    """The card of a spar, or with None the cards of all behind a list of them.

    `source` is the profile's name, `version` the companion's, `date` the day as the caller has it; without one a line
    is left for it. `wide` are the characters of a line: only a table that needs more has more.
    InputFault when the boat has no spar; what steps() raises.
    """
    paper = Paper(rule, ascii_only, wide)
    foot = paper.foot(source, version, date)
    name = printable(boat.name) or "a boat"
    worked, left_out = worked_out(boat, spar, rule)
    first = _on_cover(boat, left_out, paper, foot)
    made = [] if spar else pages(paper.plain(f"{name} · job cards"), first, paper.line)
    for plan, steps in worked:
        title = paper.plain(f"{name} · {printable(plan.spar.name)}")
        with naming(plan):
            made += pages(title, _blocks(plan, steps, paper, foot), paper.line)
    return Card(FEED.join(made), left_out)


def worked_out(
    boat: Boat, spar: Spar | None, rule: Rule
) -> tuple[list[tuple[CardPlan, tuple[Step, ...]]], tuple[LeftOut, ...]]:
    """What the cards of a spar, or with None of all, are made from: each plan with its steps, and what is left out.

    InputFault when the boat has no spar; what steps() raises.
    """
    wanted = (spar,) if spar else boat.spars
    if not wanted:
        raise InputFault(f"the boat has no spar, so there is no card to make{because(for_card(boat, None))}")
    plans = [CardPlan(boat, wanted_spar, rule) for wanted_spar in wanted]
    worked = [(plan, of_plan(plan)) for plan in plans]
    lost = dict.fromkeys((*for_card(boat, spar), *(lost for plan in plans for lost in lacking(plan))))
    return worked, tuple(lost)


def _on_cover(boat: Boat, left_out: Sequence[LeftOut], paper: Paper, foot: tuple[str, ...]) -> Iterator[PageBlock]:
    if left_out:
        yield paper.left_out([lost.words for lost in left_out])
    yield cover(boat, paper)
    yield PageBlock((foot,))


def _blocks(plan: CardPlan, steps: Sequence[Step], paper: Paper, foot: tuple[str, ...]) -> Iterator[PageBlock]:
    spar = plan.spar
    if left_out := lacking(plan):
        yield paper.left_out([lost.words for lost in left_out])
    yield from head(plan, paper)
    for table, title in station_tables(plan):
        yield paper.table(table, title)
    if log := measured_block(plan, paper):
        yield log
    if worth := good_for(plan, paper):
        yield worth
    *before, last = steps
    for number, step in enumerate(before, 1):
        yield paper.step(step, number, step.id in spar.done)
    final = paper.step(last, len(steps), last.id in spar.done)
    yield final._replace(parts=(*final.parts, ("", *foot)))


def station_tables(plan: CardPlan) -> list[tuple[Table, str]]:
    """The table that hangs beside the work with its title; of an oval one for the widths and one for the depths."""
    if plan.oval:
        return [
            (plan.of_stations(*_WIDTHS), "Station table: widths, marked on A and C"),
            (plan.of_stations(*_DEPTHS), "Station table: depths, marked on B and D"),
        ]
    return [(plan.stations, "Station table")]
