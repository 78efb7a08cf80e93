"""The boat's book: the boat at a glance, its timber, and for every spar its card and its templates, in one file."""

from collections.abc import Callable, Iterator, Sequence

from ..card.glance import Lying, aloft
from ..card.lines import Paper
from ..card.origin import Origin
from ..card.plan import CardPlan
from ..card.step import Step, progress
from ..card.supplies import supplies
from ..card.text import worked_out
from ..card.yard import money
from ..errors import CompanionError, printable
from ..profile.left_out import LeftOut
from ..profile.records import Boat
from ..quantities import Mass
from ..record import NamedTuple
from ..stock.blanks import Task
from ..stock.pieces import Plan as StockPlan
from .bench_card import card, told_left_out
from .faces import POINT
from .full_size import TRUE, Correction, sheets_of
from .marks import Mark, Page, TextMark, line, loop
from .sheets import MARGIN, PaperSheet
from .supplies_page import supplies_page
from .templates.every import templates
from .typeset import HEAD, TEXT, Block, Flow, TypesetPart, paragraph, table
from .yard_page import yard_page

Tell = Callable[[int, int, str], None]  # how many parts are made, of how many, and which is next
_TITLE = 34.0
_SPAR = 18.0  # mm of a spar on the cover
_THICK = 7.0  # mm that the thickest place of all spars is drawn


class BookTimber(NamedTuple):
    """The boat's timber: what was asked, and the plan that was found; or why there is no plan."""

    job: Task | None
    plan: StockPlan | None
    why: str = ""

    @property
    def said(self) -> str:
        """What it costs, or why that is not known."""
        if self.job is None or self.plan is None:
            return f"No cutting plan: {self.why}."
        return f"Timber to buy: {money(self.plan.cost, self.job)}."


class Book(NamedTuple):
    """The pages, and what of the boat is left out of them."""

    pages: list[Page]
    left_out: tuple[LeftOut, ...]


class _Chapter(NamedTuple):
    """Pages under a bookmark: at what depth their own bookmarks stand."""

    words: str
    pages: list[Page]
    depth: int = 0


def book(
    boat: Boat, timber: BookTimber, sheet: PaperSheet, origin: Origin, *, by: Correction = TRUE,
    tell: Tell = lambda done, of, what: None,
) -> Book:  # fmt: skip
    """The book of a boat. `tell` hears of every part before it is made, and may raise to stop.

    What `card.text.card` raises; a spar that asks for no template has none.
    """
    count = 2 + len(boat.spars)
    tell(0, count, "the order of work")
    worked, left_out = worked_out(boat, None, origin.rule)
    lost = tuple(dict.fromkeys((*left_out, *(timber.job.left_out if timber.job else ()))))
    tell(1, count, "the timber")
    to_buy = supplies(boat, timber.job, timber.plan, origin.rule)
    chapters = [_Chapter("To buy", supplies_page(boat, to_buy, sheet, origin))]
    if timber.job is not None and timber.plan is not None:
        chapters.append(_Chapter("Timber", yard_page(boat, timber.job, timber.plan, sheet, origin)))
    for number, (plan, steps) in enumerate(worked, 2):
        name = printable(plan.spar.name)
        tell(number, count, name)
        chapters.append(_Chapter(name, card(plan, steps, sheet, origin)))
        if sheets := _templates(boat, plan, sheet, origin, by):
            chapters.append(_Chapter(f"Templates: {name}", sheets, 1))
    front = _cover(_Front(boat, timber, worked, lost, origin), sheet, chapters)
    tell(count, count, "the file")
    return Book(list(_numbered([_Chapter("The boat", front), *chapters])), lost)


def _templates(boat: Boat, plan: CardPlan, sheet: PaperSheet, origin: Origin, by: Correction) -> list[Page]:
    name = f"{printable(boat.name) or 'a boat'} · {printable(plan.spar.name)} · templates"
    try:
        return sheets_of(templates(plan), sheet, name, origin, by)
    except CompanionError:  # it asks for none
        return []


def _numbered(chapters: Sequence[_Chapter]) -> Iterator[Page]:
    """The pages of all chapters, each with its number in the book."""
    count = sum(len(chapter.pages) for chapter in chapters)
    number = 0
    for chapter in chapters:
        for page in chapter.pages:
            number += 1
            place = TextMark(page.width / 2, MARGIN + HEAD, f"book {number} of {count}", TEXT, align="centre")
            named = tuple((level + chapter.depth, words) for level, words in page.named)
            yield page._replace(marks=(*page.marks, place), named=named)


# --- the cover --------------------------------------------------------------------------------------------------------

Worked = Sequence[tuple[CardPlan, tuple[Step, ...]]]


class _Front(NamedTuple):
    """What the cover is made from."""

    boat: Boat
    timber: BookTimber
    worked: Worked
    left_out: Sequence[LeftOut]
    origin: Origin


def _cover(front: _Front, sheet: PaperSheet, chapters: Sequence[_Chapter]) -> list[Page]:
    """The boat at a glance: its spars to one scale on their trestles, how far each is, what the timber costs; and what
    is on which page.
    """
    length = 1
    while True:  # the list of contents may take the cover over the end of its page
        pages = _pages(front, sheet, _contents(chapters, length))
        if len(pages) == length:
            return pages
        length = len(pages)


def _contents(chapters: Sequence[_Chapter], cover: int) -> list[list[str]]:
    rows, number = [], cover + 1
    for chapter in chapters:
        rows.append([chapter.words, str(number)])
        number += len(chapter.pages)
    return rows


def _pages(front: _Front, sheet: PaperSheet, contents: Sequence[Sequence[str]]) -> list[Page]:
    boat, timber, worked, left_out, origin = front
    name = printable(boat.name) or "a boat"
    flow = Flow(sheet, f"{name} · the book of its spars", origin.words)
    flow.bookmark(0, name)
    flow.full(Block(tuple(paragraph(name, flow.room, _TITLE, bold=True))), 2)
    if left_out:
        flow.full(told_left_out([lost.words for lost in left_out], flow.room))
    flow.full(Block(tuple(_glance(worked, origin, flow.room))), 4)
    begun = sum(progress(steps, plan.spar.done).done > 0 for plan, steps in worked)
    said = f"{begun} of {len(worked)} spars begun. {timber.said}"
    parts = [*paragraph(said, flow.room, 12, bold=True), *paragraph(_aloft(worked), flow.room, TEXT)]
    flow.full(Block(tuple(parts)), 5)
    flow.full(Block(tuple(table(["In this book", "page"], contents, flow.room / 2, 10, head_size=TEXT))))
    return flow.finished()


def _glance(worked: Worked, origin: Origin, room: float) -> Iterator[TypesetPart]:
    """A row for every spar: drawn on two trestles, heel at the left, all to one scale; its sizes and how far it is."""
    longest = max(plan.spar.length for plan, _ in worked)
    widest = max(plan.outline.widest for plan, _ in worked)
    scale, up = room / longest, _THICK / widest
    paper = Paper(origin.rule)
    for plan, steps in worked:
        spar, far = plan.spar, progress(steps, plan.spar.done)
        half = [(at * scale, plan.outline.width_at(at) / 2 * up) for at in plan.outline.evenly(60)]
        middle = 6.2 + _THICK / 2
        marks: list[Mark] = [
            loop([*((x, middle - y) for x, y in half), *((x, middle + y) for x, y in reversed(half))], "cut", 0.9)
        ]
        for share in (0.2, 0.8):
            x, y = share * spar.length * scale, middle + plan.outline.width_at(share * spar.length) / 2 * up
            marks += [
                line(x - 2.5, y, x + 2.5, y, "heavy"),
                line(x, y, x - 1.8, _SPAR - 1.0),
                line(x, y, x + 1.8, _SPAR - 1.0),
            ]
        sizes = [plan.job.length(spar.length), plan.job.length(plan.outline.widest), *_weight(plan)]
        state = f"{far.done} of {far.of} steps" + (f", next: {far.next.title}" if far.next else "")
        title = printable(spar.name) + (f" × {spar.count}" if spar.count > 1 else "")
        marks.append(TextMark(0, 4.0, paper.plain(title), 11, True))
        marks.append(TextMark(room, 4.0, f"{' · '.join(sizes)} · {state}", TEXT, align="right"))
        yield TypesetPart(_SPAR + TEXT * POINT * 0.4, tuple(marks))


def _aloft(worked: Worked) -> str:
    """How much the spars aloft will weigh, as far as their timber is known."""
    lying = []
    for plan, _ in worked:
        spar, mass, balance = plan.spar, None, None
        try:
            weight = plan.job.ask("weight")
            mass, balance = float(weight["mass"]), float(weight["balance_at"])
        except CompanionError:  # its timber is not known
            pass
        lying.append(Lying(spar.name, spar.count, spar.kind, plan.outline, mass, balance, 0, 0, ""))
    spars_aloft, rule = aloft(lying), worked[0][0].rule
    if not spars_aloft.mass:
        return ""
    known = f"; {spars_aloft.unknown} of them not known" if spars_aloft.unknown else ""
    return f"Spars aloft, of bare wood: about {Mass('').show(spars_aloft.mass, rule)}{known}."


def _weight(plan: CardPlan) -> list[str]:
    """How heavy it will be, where the timber is known."""
    try:
        return [plan.job.ask("weight").say("mass")]
    except CompanionError:
        return []
