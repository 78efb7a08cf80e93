"""The head of a card: the spar in short, drawn; and the cover of a boat's cards."""

from collections.abc import Iterator
from itertools import pairwise

from ..drawing.shapes import Dimension, Drawing, Label, Line, Shape
from ..drawing.strip import Mark, strip
from ..drawing.terminal import render
from ..errors import CompanionError, printable
from ..profile.records import Boat
from ..spar.along import Joint, Stretch
from ..spar.tables import PUBLISHED
from .lines import Paper
from .pages import WIDE, PageBlock, gridded, shortened
from .plan import CardPlan
from .step import progress
from .steps import of_plan

COVER = ("spar", "length", "blank", "section", "steps\ndone")
MARKS = "In tables f, full, is a little over the mark; b, bare, a little under."
_SECTION = (28, 13)  # characters of the section's drawing
_LEAST = 32  # characters of words beside it: a label, and a length in one piece
_ROWS = 5  # lines of the spar's drawing
_MANY = 8  # sizes, to be named in a line
_PIECES = 2 * WIDE  # straight pieces of its edges


def cover(boat: Boat, paper: Paper) -> PageBlock:
    """All spars of the boat, each with its size and how far the work is."""
    heads, lines = gridded(COVER, list_of_spars(boat, paper))
    title = f"Job cards of the {printable(boat.name)}" if boat.name else "Job cards"
    return PageBlock(((title, "", *heads, paper.line), *lines), title, (*heads, paper.line), 1, len(lines) + 1)


def list_of_spars(boat: Boat, paper: Paper) -> list[list[str]]:
    """The cells of every spar under the heads of `COVER`."""
    rows = []
    for spar in boat.spars:
        plan = CardPlan(boat, spar, paper.rule)
        stage = progress(of_plan(plan), spar.done)
        rows.append([
            shortened(printable(spar.name) + (f" × {spar.count}" if spar.count > 1 else ""), 24),
            plan.job.length(spar.length),
            plan.blank.removeprefix("a square of ").partition(" across")[0],
            spar.section,
            f"{stage.done} of {stage.of}",
        ])  # fmt: skip
    return rows


def head(plan: CardPlan, paper: Paper) -> Iterator[PageBlock]:
    """The spar in words and drawn."""
    yield PageBlock((tuple(_facts(plan, paper)),))
    yield PageBlock((tuple(_drawn(plan, paper)),))


def _facts(plan: CardPlan, paper: Paper) -> list[str]:
    """The spar in words, with its section drawn beside them, or below where that leaves no room."""
    words = [printable(plan.spar.name).upper(), ""]
    beside = paper.wide - _SECTION[0] - 2
    room = beside if beside >= _LEAST else paper.wide
    for label, text in facts(plan):
        words += paper.folded(text, f"{label:<9}", room)
    words += ["", *paper.folded(f"Rule {paper.rule}. {MARKS}", wide=room)]
    drawn = _section(plan, paper)
    if room > beside:
        return [*words, "", *drawn]
    high = max(len(words), len(drawn))
    words += [""] * (high - len(words))
    drawn += [""] * (high - len(drawn))
    return [f"{a:<{room + 2}}{b}".rstrip() for a, b in zip(words, drawn, strict=True)]


def facts(plan: CardPlan) -> list[tuple[str, str]]:
    """The spar in words, a label and a text for each thing to know of it."""
    spar, say = plan.spar, plan.job.length
    rows = [
        ("Length", say(spar.length)),
        ("Section", _section_words(plan)),
        ("Taper", f"{spar.law}: {_sizes(plan)}"),
        ("Blank", plan.blank),
    ]
    if spar.count > 1:
        rows.insert(0, ("Make", f"{spar.count}, all alike; sizes and weight are of each"))
    if spar.law in PUBLISHED:
        book = PUBLISHED[spar.law]
        rows.insert(
            3 + (spar.count > 1), ("Book", f"{book.source}. {f'Ours: {book.ours}.' if book.ours else ''}".strip())
        )
    if spar.species:
        rows.insert(0, ("Timber", printable(spar.species)))
        rows += _weight(plan)
    return rows


def _section_words(plan: CardPlan) -> str:
    spar = plan.spar
    if spar.section == "staves":
        return f"{spar.staves} staves, {plan.job.length(plan.body.wall)} thick"
    return spar.section + (f", wall {plan.job.length(spar.wall)}" if spar.section == "hollow" and spar.wall else "")


def _weight(plan: CardPlan) -> list[tuple[str, str]]:
    """What it will weigh, of a timber that is known."""
    try:
        weight = plan.job.ask("weight")
    except CompanionError:
        return []
    balance = plan.job.length(weight["balance_at"])
    return [("Weight", f"about {weight.say('mass')} of wood at {weight.say('mc')}, balancing {balance} from the heel")]


def _section(plan: CardPlan, paper: Paper) -> list[str]:
    """The section where it is widest: in its blank if it is square, else with its facets."""
    answer = plan.job.ask("staves" if plan.of_staves else "taper" if plan.sides == 4 else "facets", plan.widest_at)
    drawing = answer.result.drawing()
    shapes = [shape for shape in drawing.shapes if _on_card(shape)] if drawing else []
    lines = render(Drawing("", tuple(shapes)), *_SECTION, plan.rule, paper.ascii_only, filled=False) if shapes else []
    where = f"at {plan.place(plan.widest_at)}, to scale"
    return [*lines, (where if len(where) <= _SECTION[0] else "to scale").center(_SECTION[0])]


def _on_card(shape: Shape) -> bool:
    """Whether a shape of the section stands on the card: its outline, and of the measures the width alone."""
    return not isinstance(shape, Label | Dimension) or getattr(shape, "of", "") in ("width_at", "stave_width")


def _sizes(plan: CardPlan) -> str:
    """The sizes that the plan gives, as it gives them; many of them are left to the table."""
    say, count = plan.job.length, len(plan.spar.stations)
    if count > _MANY:
        return f"{count} sizes, in the table"
    return ", ".join(
        f"{say(station.width)}{f' by {say(station.depth)}' if station.depth else ''} at {plan.place(station.at)}"
        for station in plan.spar.stations
    )


def _drawn(plan: CardPlan, paper: Paper) -> list[str]:
    """The spar from the side, heel at the left, its thickness drawn too big; letters at joints and fittings."""
    marks = [Mark(plan.middle(part), letter, "") for letter, part in plan.lettered]
    flat = strip(plan.outline, 0.0, plan.rule, paper.wide, marks=marks)
    signs, scale = ("".join(text for text, _ in flat.lines[place]) for place in (0, -1))
    length = plan.outline.length
    taller = 0.9 * 2 * _ROWS * length / paper.wide / plan.outline.widest

    def edge(at: float) -> float:
        return plan.outline.width_at(at) / 2 * taller

    ats = plan.outline.evenly(_PIECES)
    lines = [Line(x, side * edge(x), to, side * edge(to)) for side in (1, -1) for x, to in pairwise(ats)]
    across = {0.0, length, *(joint.at for joint in plan.spar.joints)}
    across |= {end for stretch in plan.others for end in (stretch.start, stretch.end)}
    lines += [Line(at, -edge(at), at, edge(at)) for at in sorted(across)]
    lines += _slots(plan, taller)
    wood = render(Drawing("", tuple(lines)), paper.wide, _ROWS, plan.rule, paper.ascii_only)
    scaled = f"Heel at the left; thickness exaggerated {taller:.1f} times."
    said = "; ".join(legend(plan))
    scale = paper.plain(scale.replace("▲", "╵", 1))  # nothing is chosen on paper
    return [
        *(line.rstrip() for line in (signs, *wood, scale)),
        "",
        *paper.folded(f"{said}. {scaled}" if said else scaled),
    ]


def legend(plan: CardPlan) -> list[str]:
    """What the letters in the drawing stand for, and which stretches have a section of their own."""
    lettered = [
        f"{letter} {part.kind}{' joint' if isinstance(part, Joint) else ''} {plan.there(plan.middle(part))}"
        for letter, part in plan.lettered
    ]
    return lettered + [_kept(plan, stretch) for stretch in plan.others]


def _slots(plan: CardPlan, taller: float) -> list[Line]:
    """Slots as they are seen from A: an outline where it goes through A and C, else its two ends, as far as hidden."""
    lines = []
    for fitting in (fitting for fitting in plan.spar.fittings if fitting.slot):
        start, end = fitting.slotted(plan.spar.length)
        if fitting.faces[0] in "AC":
            half = fitting.slot / 2 * taller
            lines += [Line(start, side * half, end, side * half) for side in (1, -1)]
        else:
            half = plan.outline.width_at((start + end) / 2) / 2 * taller
        lines += [Line(at, -half, at, half) for at in (start, end)]
    return lines


def _kept(plan: CardPlan, stretch: Stretch) -> str:
    return f"{stretch.heelward} from {plan.place(stretch.start)} to {plan.place(stretch.end)}"
