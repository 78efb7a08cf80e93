"""The page for the timber yard: what to buy, how each timber is sawn, what is left, what could not be placed."""

from collections.abc import Iterator
from itertools import groupby
from math import ceil

from ..calculator import Column
from ..errors import InputFault, printable
from ..fields import Length
from ..lengths import FINEST, Rule, show
from ..profile.records import Boat
from ..record import NamedTuple
from ..stock.blanks import Task
from ..stock.picture import letters, picture
from ..stock.pieces import Cure, Plan, Sawn
from ..stock.purchase import bought, volumes
from ..timber.sizes import least
from .lines import Paper
from .pages import FEED, WIDE, PageBlock, gridded, pages

_STOCK = {"in": 2 * 304.8, "mm": 300.0}  # lengths that timber is sold in go by this step
_TENTH = 0.1  # mm, which sizes of the plan were rounded up to
_TENTHS = 0.25  # mm: what rounding to tenths, twice, can have added
_LENGTH = Column("length", Length("Length"))
_COUNTS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_SHORT = {"in": 304.8, "mm": 300.0}  # offcuts under it are only counted
# By the stage of the search: what is not ruled out yet, and what the percentage is of.
_UNPROVED = {
    "what is left out": ("A plan that places more", "at most that much of what it leaves out could still be placed"),
    "cost": ("A cheaper plan", "at most that much could still be saved"),
    "waste": ("A plan as cheap with less waste", "at most that much of its waste could still be saved"),
    "longest offcut": (
        "A plan as good with a longer offcut",
        "its longest offcut is at most that much shorter than the best",
    ),
}
TO_BUY, NO_PLACE, LEFT_OVER, BLANKS = "To buy", "Could not be placed", "Left over", "The blanks"
CAUTIONS = (
    "Look at every board at the yard: sight along it, turn it over, and judge its knots, wind and slope of grain "
    "yourself: the plan knows only what was typed.",
    "Rip with guard, riving knife, push block and feather board; wedge a two-pass kerf open, so that it cannot close "
    "on the blade. The saw's manual comes first.",
)


class Listed(NamedTuple):
    """A list of the plan as heads and cells, and a sentence below it."""

    heads: list[str]
    rows: list[list[str]]
    said: str = ""


def page(
    boat: Boat, job: Task, plan: Plan, *, rule: Rule, source: str, version: str, date: str | None,
    ascii_only: bool = False, wide: int = WIDE,
) -> str:  # fmt: skip
    """The page, or pages parted by form feeds, for the yard and the saw; `wide` are the characters of a line."""
    paper = Paper(rule, ascii_only, wide)
    name = printable(boat.name) or "a boat"
    foot = paper.foot(source, version, date, "page")
    return FEED.join(
        pages(paper.plain(f"{name} · timber"), (*blocks(job, plan, paper), PageBlock((foot,))), paper.line)
    )


def blocks(job: Task, plan: Plan, paper: Paper) -> Iterator[PageBlock]:
    """Everything there is to say of a plan, in the order in which it is wanted."""
    if job.left_out:
        yield paper.left_out([lost.words for lost in job.left_out])
    shopping = _shopping(job, plan, paper)
    yield shopping._replace(parts=(*shopping.parts, paper.folded(proof(job, plan))))
    if plan.missing:
        yield _missing(job, plan, paper)
    for place in range(len(plan.sawn)):
        yield _sawn(job, plan, place, paper)
    if plan.offcuts:
        yield _left(job, plan, paper)
    if plan.sawn:
        yield _wanted(job, plan, paper)
    said = [paper.folded(printable(note.on(paper.rule), 400), "Note  ") for note in job.notes]
    order = paper.folded(in_order(job, paper.rule))
    yield PageBlock((*said, order, *(paper.folded(caution, "CARE  ") for caution in CAUTIONS)))


def in_order(job: Task, rule: Rule) -> str:
    """The order of the saw, what it takes, and how sizes are written."""
    marks = "Sizes are thickness x width x length; f, full, is a little over the mark, b, bare, a little under."
    kerf = show(job.problem.kerf, FINEST[rule.unit]) + (" (assumed, none was entered)" if job.kerf_assumed else "")
    saw = f"The saw takes {kerf} between strips and between blanks."
    return f"Rip the strips first, cut them to length, then rip every blank to its own size. {saw} {marks}"


def lines(job: Task, plan: Plan, paper: Paper) -> list[str]:
    """The plan in words for a screen: what the page says, without its heads and feet."""
    said = []
    for block in blocks(job, plan, paper):
        said += [*(line for part in block.parts for line in part), ""]
    return said[:-1]


def figures(hundredths: int) -> str:
    """An amount of money.

    >>> figures(123456)
    '1234.56'
    """
    return f"{hundredths // 100}.{hundredths % 100:02d}"


def money(hundredths: int, job: Task) -> str:
    """An amount with its currency."""
    return f"{figures(hundredths)} {job.currency}".rstrip()


def proof(job: Task, plan: Plan) -> str:
    """How good the plan is, in a sentence, and of what."""
    of = _whole(job)
    if plan.proof.proved:
        fewest = " that leaves out as little" if plan.missing else ""
        return (
            f"Proved{f' {of}' if of else ''}: no other plan{fewest} is cheaper, none as cheap wastes less, and none of "
            "those leaves a longer offcut."
        )
    stage, within = plan.proof.stage, ceil(1000 * (plan.proof.within or 0.0) - 1e-9) / 10
    open_, short = _UNPROVED.get(stage, _UNPROVED["cost"])
    if 0 < within < 100:
        return f"Best found so far{f' {of}' if of else ''}, within {within:.1f} %: {short}. {open_} is not ruled out."
    return f"Best found so far{f' {of}' if of else ''}. {open_} is not ruled out."


def _whole(job: Task) -> str:
    """Of how much of the profile the plan is; nothing when it is of all."""
    if job.lost:
        names = " and ".join(", ".join(printable(name) for name in job.lost).rsplit(", ", 1))
        kept = job.spars - len(job.lost)
        return f"for {kept} of {job.spars} spars ({names} left out)"
    return "for what is not left out above" if job.left_out else ""


def marked(mm: float, rule: Rule) -> float:
    """A size of the plan, which is worked out in whole tenths, at the mark of the rule that it was made from."""
    step = float(rule.step)
    near = round(mm / step) * step
    return near if abs(near - mm) < _TENTHS else mm


def length(mm: float, paper: Paper) -> str:
    """A length in few letters: without the inch or the millimetre, `f` for full and `b` for bare."""
    return (paper.cell(_LENGTH, marked(mm, paper.rule)) or "0").removesuffix(" 0")


def size(paper: Paper, *sides: float) -> str:
    """Sides with an x between them."""
    return " x ".join(length(side, paper) for side in sides)


def _grid(heads: list[str], rows: list[list[str]], paper: Paper) -> tuple[list[str], list[tuple[str, ...]]]:
    """A table; where there is no room for one, its rows in words."""
    tops, lines = gridded([paper.plain(head) for head in heads], rows, wide=paper.wide)
    if max((len(line) for row in (tops, *lines) for line in row), default=0) <= paper.wide:
        return tops, lines
    said = ["; ".join(f"{head} {cell}".strip() for head, cell in zip(heads, row, strict=True)) for row in rows]
    return [], [paper.folded(text, "- ") for text in said]


def _shopping(job: Task, plan: Plan, paper: Paper) -> PageBlock:
    to_buy = shopping(job, plan, paper)
    if not to_buy.rows:
        return PageBlock(((to_buy.said,),))
    heads, lines = _grid(to_buy.heads, to_buy.rows, paper)
    again = (*heads, paper.line)
    return PageBlock(((TO_BUY, *again), *lines, paper.folded(to_buy.said)), TO_BUY, again, 1, len(lines) + 1)


def shopping(job: Task, plan: Plan, paper: Paper) -> Listed:
    """What to buy; without a row what is said of that."""
    purchases = bought(job.problem, plan)
    heads = ["", "size", "each", job.currency or "together", "what"]
    if not purchases:
        sold = any(timber.price is not None for timber in job.problem.timbers)
        helpless = (
            "nothing that the yard sells helps"
            if sold
            else "nothing: the profile has no [[yard]] that says what is sold"
        )
        none = "nothing: the timber on hand will do" if plan.sawn and not plan.missing else helpless
        return Listed(heads, [], f"{TO_BUY}: {none}.")
    rows = [
        [str(of.times), size(paper, timber.thickness, timber.width, timber.length), figures(timber.price or 0),
         figures(of.price), printable(timber.name)]
        for of in purchases for timber in (of.timber,)
    ]  # fmt: skip
    feet, cubic = volumes(purchases)
    return Listed(heads, rows, f"Total {money(plan.cost, job)}, {feet:.1f} board feet, {cubic:.3f} cubic metres.")


def _missing(job: Task, plan: Plan, paper: Paper) -> PageBlock:
    parts = [(NO_PLACE,), *(paper.folded(line, "- ") for line in without_place(job, plan, paper.rule))]
    return PageBlock(tuple(parts), NO_PLACE)


def without_place(job: Task, plan: Plan, rule: Rule) -> list[str]:
    """What could not be placed, why, and the least purchase that would help."""
    lines = []
    for need in plan.missing:
        reason = InputFault(need.reason, None, need.lengths).with_lengths(lambda mm: _told(mm, rule)).reason
        cure = f" {_cured(need.cure, job, rule)}" if need.cure else ""
        lines.append(f"{printable(job.problem.needs[need.need].name)}: {printable(reason, 200)}.{cure}")
    return lines


def _told(mm: float, rule: Rule) -> str:
    return show(marked(mm, rule), rule)


def _cured(cure: Cure, job: Task, rule: Rule) -> str:
    """The purchase that would help, in a size as it is sold."""
    what = f" of {printable(cure.species)}" if cure.species else ""
    if cure.name:
        price = f", {money(cure.price, job)}" if cure.price is not None else ""
        return f"Least purchase: {printable(cure.name)}, {show(cure.length, rule)}{price}."
    return f"Least purchase: {as_sold(cure.thickness, cure.width, cure.length, rule)}{what}."


def as_sold(thickness: float, width: float, length: float, rule: Rule) -> str:
    """The smallest size as timber is sold that holds these, mm; by nominal inches, or as it is where none will do."""
    step = _STOCK[rule.unit]
    long = show(ceil(length / step - 1e-6) * step, rule)
    sold = least(thickness - _TENTH / 2, width - _TENTH / 2) if rule.unit == "in" else None
    if sold is None or sold.size_class is None:
        return f"{_told(thickness, rule)} x {_told(width, rule)} or more, {long} long"
    dressed = "dressed green" if sold.size_class.state == "green" else "dressed"
    memory = ", its dressed size from memory" if sold.mark == "memory" else ""
    return f"one {sold.name}, {dressed}, {long} long{memory}"


def _sawn(job: Task, plan: Plan, place: int, paper: Paper) -> PageBlock:
    """One timber: its head, its drawing, and its cuts in the order of the saw."""
    title, how, rows = sawing(job, plan, place, paper)
    drawn = picture(job.problem, plan, place, paper.wide, paper.ascii_only)
    _, lines = _grid([""] * 5, rows, paper)
    return PageBlock((paper.folded(f"{title}{how}"), tuple(drawn), *lines), title)


def sawing(job: Task, plan: Plan, place: int, paper: Paper) -> tuple[str, str, list[list[str]]]:
    """The name of a timber of the plan, its size and how it is ripped, and a row for every cut in their order."""
    sawn = plan.sawn[place]
    timber = job.problem.timbers[sawn.timber]
    whose = "on hand" if timber.price is None else "buy"
    title = f"Timber {place + 1}: {printable(timber.name)}"
    sizes = size(paper, timber.thickness, timber.width, timber.length)
    whole = abs(sum(strip.width for strip in sawn.strips) - timber.width) < 2 * _TENTHS
    how = f", {sizes} ({whose}). " + ("Not ripped." if whole else _rips(sawn, paper))
    named = iter(letters(plan)[place])
    rows = []
    for number, strip in enumerate(sawn.strips, 1):
        for cut in strip.cuts:
            blank = cut.blank
            along = f"{length(cut.at, paper)} to {length(cut.at + blank.length, paper)}"
            of = f"strip {number}" if len(sawn.strips) > 1 else ""
            rows.append([
                next(named), of, along, size(paper, blank.thickness, blank.width), printable(blank.name),
            ])  # fmt: skip
    return title, how, rows


def _rips(sawn: Sawn, paper: Paper) -> str:
    """The strips in the order of the saw, those of one width side by side told together."""
    told = []
    for wide, alike in groupby(length(strip.width, paper) for strip in sawn.strips):
        count = sum(1 for _ in alike)
        told.append((_COUNTS[count - 1] if count <= len(_COUNTS) else str(count), wide))
    (first, wide), *more = told
    strips = "strip" if first == _COUNTS[0] else "strips"
    return f"Rip {first} {strips} at {', '.join([wide, *(f'{count} at {width}' for count, width in more)])}."


def _left(job: Task, plan: Plan, paper: Paper) -> PageBlock:
    over = left_over(job, plan, paper)
    heads, lines = _grid(over.heads, over.rows, paper) if over.rows else ([], [])
    head = (LEFT_OVER, "", *heads)
    said = (*([""] if over.rows else []), *paper.folded(over.said))
    return PageBlock((head, *lines, said), LEFT_OVER, tuple(heads), 1, len(lines) + 1)


def left_over(job: Task, plan: Plan, paper: Paper) -> Listed:
    """The offcuts that are worth keeping, and in a sentence the others and the waste."""
    rows = []
    for offcut in sorted(plan.offcuts, key=lambda offcut: -offcut.length):
        thickness = job.problem.timbers[plan.sawn[offcut.sawn].timber].thickness
        rows.append(
            [str(offcut.sawn + 1), size(paper, thickness, offcut.width, offcut.length), length(offcut.at, paper)]
        )
    short = _SHORT[paper.rule.unit]
    kept = rows[: sum(offcut.length >= short for offcut in plan.offcuts)]
    taken = [job.problem.timbers[sawn.timber] for sawn in plan.sawn]
    part = plan.waste / sum(timber.thickness * timber.width * timber.length for timber in taken)
    others = len(rows) - len(kept)
    counted = f"{others} more" if kept else "1 offcut" if others == 1 else f"{others} offcuts"
    more = f"{counted}, shorter than {show(short, paper.rule)}. " if others else ""
    return Listed(
        ["timber", "size", "begins at"], kept, f"{more}{100 * part:.0f} % of the timber cut is offcut or sawdust."
    )


def _wanted(job: Task, plan: Plan, paper: Paper) -> PageBlock:
    listed = blanks_of(plan, paper)
    heads, lines = _grid(listed.heads, listed.rows, paper)
    return PageBlock(((BLANKS, "", *heads), *lines), BLANKS, tuple(heads), 1, len(lines) + 1)


def blanks_of(plan: Plan, paper: Paper) -> Listed:
    """Every blank that the plan cuts, and where its size comes from."""
    blanks = dict.fromkeys(cut.blank for sawn in plan.sawn for strip in sawn.strips for cut in strip.cuts)
    rows = [
        [
            size(paper, blank.thickness, blank.width, blank.length),
            f"{printable(blank.name)}: {printable(blank.why.on(paper.rule), 200)}",
        ]
        for blank in blanks
    ]
    return Listed(["blank", "where the size comes from"], rows)
