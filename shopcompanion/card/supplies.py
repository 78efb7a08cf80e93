"""All that is to be bought for a boat, by where it is bought: timber, fittings, what joins and what coats.

From the cutting plan, the profile's fittings and joints, and the calculators that size them. What the profile does not
price or size stands as a line to fill in. Every line says where it is used and where its number comes from.
"""

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from .. import form
from ..catalog import load
from ..errors import CompanionError, InputFault, printable
from ..lengths import Rule, show
from ..profile.asking import answered
from ..profile.follow import follow
from ..profile.left_out import LeftOut, for_plan
from ..profile.records import Boat, Spar
from ..profile.timber_records import Piece
from ..quantities import Liquid, Mass
from ..record import NamedTuple
from ..spar.fitting import Fitting
from ..stock.blanks import Task, task
from ..stock.pieces import Cut, Plan
from ..stock.purchase import bought
from .jaws import jaws_of
from .joints import apart, dowels_at
from .lines import Paper
from .pages import FEED, PageBlock, pages
from .plan import CardPlan as Work
from .yard import figures, size

YARD, CHANDLER, IRONMONGER, PAINT, MADE = "Timber yard", "Chandler", "Ironmonger", "Paint and glue", "Made here"
GROUPS = (YARD, CHANDLER, IRONMONGER, PAINT, MADE)
BLANK = "____"  # what is to be filled in
_IRON = ("bar", "bolt", "pin", "hinge")
_WOOD = ("cheek", "heel", "hounds", "lap", "partners", "step")
_ALL = "all spars"
_PROFILE = "as the profile has it"
_SPREAD = 250.0  # g/m², of glue (common practice, no source)
_GRITS = "coarse and fine"


class SupplyLine(NamedTuple):
    """One thing to buy: its group of GROUPS; how much as text, "" to be filled in; what of; prices in hundredths of the
    currency, of each and of all; the spars and pieces it is used on; and where its number comes from.
    """

    group: str
    amount: str
    what: str
    used: tuple[str, ...]
    how: str
    each: int | None = None
    price: int | None = None


class Supplies(NamedTuple):
    """The list, its currency, what of it has a price in all, and what of the profile it lacks."""

    lines: tuple[SupplyLine, ...]
    currency: str
    total: int
    left_out: tuple[LeftOut, ...]
    notes: tuple[str, ...] = ()


def supplies(boat: Boat, job: Task | None, plan: Plan | None, rule: Rule) -> Supplies:
    """The list of a boat. `job` and `plan` are its cutting plan, None where it has no timber that can be used."""
    lines = [*_timber(boat, job, plan, rule)]
    for spar in boat.spars:
        work = Work(boat, spar, rule)
        lines += [line for fitting in spar.fittings for line in _fitting(work, fitting)]
        lines += _joints(work, plan)
    lines += _finish(boat, plan, rule)
    merged = sorted(_merged(lines), key=lambda line: GROUPS.index(line.group))
    total = sum(line.price or 0 for line in merged)
    currency = job.currency if job else boat.shop.currency or ""
    notes = tuple(note.on(rule) for note in job.notes) if job else (_unplanned(boat),)
    coats = [lost for lost in boat.left_out if lost.table == "preset" and lost.calculator in ("", "coating")]
    return Supplies(tuple(merged), currency, total, (*for_plan(boat), *coats), notes)


def planned(boat: Boat) -> Task | None:
    """The boat's problem of timber; None where it has no timber and no yard that can be used."""
    try:
        return task(boat, boat.rule)
    except InputFault:
        return None


def _unplanned(boat: Boat) -> str:
    if not boat.spars and not boat.pieces:
        return "The boat has no spar and no piece yet, so there is nothing to buy."
    return "No timber on hand and no yard is in the profile: what the spars are made of is listed without a price."


def _merged(lines: Iterable[SupplyLine]) -> list[SupplyLine]:
    """Lines of the same thing as one, with all that it is used on; counts are added up."""
    merged: dict[tuple[str, str], SupplyLine] = {}
    for line in lines:
        key = (line.group, line.what)
        old = merged.get(key)
        if old is None:
            merged[key] = line
            continue
        counts = old.amount, line.amount
        amount = str(sum(map(int, counts))) if all(count.isdecimal() for count in counts) else old.amount
        how = old.how if line.how in old.how else f"{old.how}; {line.how}"
        merged[key] = old._replace(amount=amount, used=tuple(dict.fromkeys((*old.used, *line.used))), how=how)
    return list(merged.values())


def _of(spar: Spar) -> str:
    return spar.name + (f" × {spar.count}" if spar.count > 1 else "")


# --- timber -------------------------------------------------------------------------------------------------------


def _timber(boat: Boat, job: Task | None, plan: Plan | None, rule: Rule) -> Iterator[SupplyLine]:
    if job is None or plan is None:
        made: list[Spar | Piece] = [*boat.spars, *boat.pieces]
        for row in made:
            what = f"{row.species or 'timber'} for the {row.name}, {show(row.length, rule)} finished"
            yield SupplyLine(YARD, "", what, (row.name,), "no timber and no yard in the profile")
        return
    paper, needs = Paper(rule), job.problem.needs
    for purchase in bought(job.problem, plan):
        timber = purchase.timber
        cuts = [cut for sawn in plan.sawn if job.problem.timbers[sawn.timber] is timber for strip in sawn.strips
                for cut in strip.cuts]  # fmt: skip
        used = tuple(dict.fromkeys(_owner(boat, needs[cut.need].name) for cut in cuts))
        what = f"{timber.name}: {size(paper, timber.thickness, timber.width, timber.length)}"
        how = f"cutting plan, {len(cuts)} blank{'s' if len(cuts) > 1 else ''}"
        yield SupplyLine(YARD, str(purchase.times), what, used, how, timber.price, purchase.price)
    for missing in plan.missing:
        blank = needs[missing.need].ways[0][0]
        sides = size(paper, blank.thickness, blank.width, blank.length)
        what = f"{blank.species or 'timber'}: {sides} or more"
        yield SupplyLine(YARD, "1", what, (_owner(boat, needs[missing.need].name),), "the plan found no place for it")


def _owner(boat: Boat, need: str) -> str:
    """The spar or piece that a need of the plan is for."""
    names = sorted((*(spar.name for spar in boat.spars), *(piece.name for piece in boat.pieces)), key=len, reverse=True)
    return next((name for name in names if need == name or need.startswith((f"{name} ", f"{name},"))), need)


# --- fittings and joints ------------------------------------------------------------------------------------------


def _fitting(work: Work, fitting: Fitting) -> Iterator[SupplyLine]:
    spar, kind = work.spar, fitting.kind
    count = spar.count
    place = work.there(work.middle(fitting))
    used = (f"{_of(spar)} {place if place.startswith('at ') else f'at {place}'}",)
    sizes = [f"{show(value, work.rule)} {word}" for word, value in
             (("long", fitting.length), ("hole", fitting.hole), ("slot", fitting.slot), ("wide bar", fitting.bar))
             if value]  # fmt: skip
    named = f"{kind} ({fitting.name})" if fitting.name else kind
    what = ", ".join([named, *sizes])
    if kind == "jaws":
        yield SupplyLine(MADE, str(count), what, used, "cheeks out of the plan's timber")
        yield from _jaws(work)
        return
    if kind == "leather":
        wide = work.outline.width_at(min(work.middle(fitting), spar.length))
        girth = show(wide * 3.141592653589793, work.rule)
        what = f"leather, {girth} round by {show(fitting.length, work.rule) if fitting.length else BLANK} along"
        yield SupplyLine(CHANDLER, str(count), what + (f" ({fitting.name})" if fitting.name else ""), used, _PROFILE)
        return
    group = IRONMONGER if kind in _IRON else MADE if kind in _WOOD else CHANDLER
    yield SupplyLine(group, str(count), what, used, _PROFILE)
    if kind in ("hinge", "cleat", "gooseneck", "block", "collar") and not fitting.hole:
        yield SupplyLine(
            IRONMONGER, "", "screws or bolts", (f"{kind} of the {_of(spar)}",), "to suit the holes of the fitting"
        )


def _jaws(work: Work) -> Iterator[SupplyLine]:
    """Rods with nuts and washers, leather, parrel and its beads, as the calculator has them."""
    jaws, spar = jaws_of(work), work.spar
    used, count = (_of(spar),), spar.count
    if jaws is None:
        yield SupplyLine(
            IRONMONGER, "", f"rods, nuts and washers for the jaws of the {spar.name}", used, "no mast to fit yet"
        )
        return
    rods = jaws["rods_used"] * count
    how = "worked out by jaws"
    threaded = f"rod {jaws.brief('rod')}, threaded at both ends, {jaws.brief('rod_length')}"
    yield SupplyLine(IRONMONGER, str(rods), threaded, used, how)
    yield SupplyLine(IRONMONGER, str(2 * rods), f"nut and washer for a {jaws.brief('rod')} rod", used, how)
    leather = f"leather {jaws.say('leather')} thick, {jaws.brief('leather_length')} by {jaws.brief('leather_width')}"
    yield SupplyLine(CHANDLER, str(count), leather, used, how)
    yield SupplyLine(
        CHANDLER, str(count), f"line for the parrel, {jaws.brief('parrel_length')} and more for its knots", used, how
    )
    beads = f"parrel bead, {jaws.say('bead_diameter')}"
    yield SupplyLine(CHANDLER, str(jaws["bead_count"] * count), beads, used, how)


def _in_parts(spar: Spar, plan: Plan | None) -> bool:
    """Whether the plan may make a spar of several sticks; without a plan it may."""
    if plan is None or not any(cut.blank.name in (spar.name, f"{spar.name}, half") for cut in _cuts(plan)):
        return True
    return any(cut.blank.name.startswith(f"{spar.name}, part ") for cut in _cuts(plan))


def _cuts(plan: Plan) -> list[Cut]:
    return [cut for sawn in plan.sawn for strip in sawn.strips for cut in strip.cuts]


def _joints(work: Work, plan: Plan | None) -> Iterator[SupplyLine]:
    spar = work.spar
    count = spar.count
    for joint in apart(work):
        used = (f"{_of(spar)} at {work.place(joint.at)}",)
        wide = show(work.outline.width_at(joint.at), work.rule)
        if joint.kind == "ferrule":
            yield SupplyLine(IRONMONGER, str(count), f"ferrule for a spar of {wide}", used, _PROFILE)
        if joint.kind == "hinge" and not any(fitting.kind == "hinge" for fitting in spar.fittings):
            yield SupplyLine(IRONMONGER, str(count), f"hinge for a spar of {wide}", used, "none is in the profile yet")
        dowels = dowels_at(work, joint) if not work.of_staves and _in_parts(spar, plan) else None
        if dowels is not None:
            what = f"dowel {dowels.brief('dowel_used')} thick, {dowels.brief('dowel_length')}"
            yield SupplyLine(
                IRONMONGER, str(dowels["count"] * count), what, used, "to join its parts, where they are of two sticks"
            )


# --- glue, coats, paper -------------------------------------------------------------------------------------------


def _finish(boat: Boat, plan: Plan | None, rule: Rule) -> Iterator[SupplyLine]:
    glued = [glue for spar in boat.spars if (glue := _glue(boat, spar, plan, rule))]
    if glued:
        mass = sum(part for _, part, _ in glued)
        how = "; ".join(f"{name}: {said}" for name, _, said in glued)
        yield SupplyLine(PAINT, f"{Mass('').show(mass, rule)}", "glue", tuple(name for name, _, _ in glued), how)
    yield from _coats(boat, rule)
    round_ = tuple(_of(spar) for spar in boat.spars if spar.section != "square")
    round_ = (_ALL,) if len(round_) == len(boat.spars) > 1 else round_
    for belt in boat.shop.belts[:1] if round_ else ():
        what = f"sanding belt, {show(belt.length, rule)} inside" + (
            f" by {show(belt.width, rule)}" if belt.width else ""
        )
        yield SupplyLine(PAINT, "", f"{what}, {_GRITS}", round_, "the shop's first belt")
    if boat.spars:
        yield SupplyLine(PAINT, "", f"sandpaper, {_GRITS}, and fine between coats", (_ALL,), "by hand")


def _glue(boat: Boat, spar: Spar, plan: Plan | None, rule: Rule) -> tuple[str, float, str] | None:
    """What a spar takes of glue, kg, and where; None where nothing of it is glued."""
    parts: list[tuple[str, float]] = []
    scarfs = _scarfs(spar, plan)
    if spar.section == "staves":
        ring = _ask(boat, spar, "staves", rule)
        parts.append((f"{spar.staves} staves", ring.glue_mass or 0.0))
        scarf = _ask(
            boat, spar, "scarf", rule, thickness=f"{ring.stave_thickness:.12g} mm", width=f"{ring.widest_stave:.12g} mm"
        )
        parts += [(f"{scarfs} scarfs in staves", scarfs * scarf.glue_mass)] if scarfs else []
    elif scarfs:
        stick = f"{spar.stick(boat.shop.planing or 0.0):.12g} mm"
        scarf = _ask(boat, spar, "scarf", rule, thickness=stick, width=stick)
        parts.append(("scarf" if scarfs == 1 else f"{scarfs} scarfs", scarfs * scarf.glue_mass))
    if spar.section == "hollow":
        parts.append(("its halves", spar.length * spar.thickest * _SPREAD * 1e-9))
    mass = spar.count * sum(part for _, part in parts) if spar.section != "staves" else _of_staves(spar, parts)
    return (_of(spar), mass, ", ".join(name for name, _ in parts)) if parts else None


def _of_staves(spar: Spar, parts: Sequence[tuple[str, float]]) -> float:
    """The scarfs of the plan are those of all spars alike, the rings are counted here."""
    return sum(mass * (spar.count if place == 0 else 1) for place, (_, mass) in enumerate(parts))


def _scarfs(spar: Spar, plan: Plan | None) -> int:
    """How many scarfs the plan makes of a spar; without a plan, those that its profile has."""
    if plan is None:
        return sum(1 for joint in spar.joints if joint.kind == "scarf")
    cuts = _cuts(plan)
    if spar.section == "staves":
        pieces = [cut for cut in cuts if cut.blank.name.startswith(f"{spar.name}, stave, part ")]
        return len(pieces) - len({cut.need for cut in pieces})
    joints = sum(1 for joint in spar.joints if joint.kind == "scarf")
    if not joints:
        return 0
    pieces = [cut for cut in cuts if cut.blank.name.startswith(f"{spar.name}, part ")]
    halves = 2 if any(cut.blank.name.endswith(", half") for cut in pieces) else 1  # both are scarfed
    of_one = (len(pieces) // halves - len({cut.need for cut in pieces})) // max(1, spar.count)
    return min(joints, of_one)


def _ask(boat: Boat, spar: Spar, calculator: str, rule: Rule, **texts: str) -> Any:
    return answered(boat, spar, calculator, at=None, texts=texts, rule=rule).result.answers


def _coats(boat: Boat, rule: Rule) -> Iterator[SupplyLine]:
    """The coats that presets of `coating` say; without any, all spars by default."""
    if not boat.spars:
        return
    chosen = [(preset.spar, dict(preset.inputs), f"preset '{preset.name}'") for preset in boat.presets
              if preset.calculator == "coating"]  # fmt: skip
    for name, kept, how in chosen or [
        (None, {"spars": "all"}, "coating with its defaults, as no preset of it is kept")
    ]:
        spar = boat.spar(name) if name else None
        texts = {"spars": "all", **kept} if spar is None else kept
        try:
            result = form.solve(load("coating"), texts, follow(boat, spar or boat.spars[0], None), rule)
        except CompanionError as fault:
            yield SupplyLine(
                PAINT, "", "coating", (spar.name if spar else "all spars",), f"{how}: {printable(str(fault), 200)}"
            )
            continue
        answers, given = result.answers, result.inputs
        names = [f"{row[0]} × {row[1]}" if row[1] > 1 else row[0] for row in result.tables[0].rows]
        used = (_of(spar),) if given.spars == "this one" and spar else tuple(names)
        used = (_ALL,) if len(boat.spars) == len(names) > 1 else used
        said = Liquid("")
        tins = next(table.rows for table in result.tables if table.name == "tins")
        packed = ", ".join(f"{number} of {said.show(tin, rule)}" for tin, number in tins)
        yield SupplyLine(
            PAINT, packed, given.kind, used, f"{answers.coats_used} coats, {said.show(answers.volume, rule)}; {how}"
        )
        if answers.thinner:
            yield SupplyLine(
                PAINT, said.show(answers.thinner, rule), f"thinner for the {given.kind}", used, "first coat"
            )


# --- the page, JSON and CSV ---------------------------------------------------------------------------------------


def blocks(made: Supplies, paper: Paper) -> Iterator[PageBlock]:
    """The list in words, a block for each group."""
    if made.left_out:
        yield paper.left_out([lost.words for lost in made.left_out])
    for group in GROUPS:
        lines = [line for line in made.lines if line.group == group]
        if lines:
            yield PageBlock(((group,), *(_said(line, paper) for line in lines)), group)
    said = summary(made)
    notes = tuple(paper.folded(printable(note, 400), "Note  ") for note in made.notes)
    yield PageBlock((paper.folded(said) if said else (), *notes))


def summary(made: Supplies) -> str:
    """What has a price, in all, and what has none."""
    priced = sum(line.price is not None for line in made.lines)
    unpriced = sum(line.price is None and line.group != MADE for line in made.lines)
    said = []
    if priced:
        said.append(
            f"{priced} line{'s' if priced > 1 else ''} with a price: {figures(made.total)} {made.currency}.".rstrip()
        )
    if unpriced:
        said.append(f"{unpriced} without one: fill in the {BLANK}.")
    return " ".join(said)


def _said(line: SupplyLine, paper: Paper) -> tuple[str, ...]:
    amount = f"{line.amount or BLANK} "
    price = figures(line.price) if line.price is not None else "" if line.group == MADE else BLANK
    first, *more = paper.folded(printable(line.what, 200), f"{amount:<5}", paper.wide - 11)
    used = paper.folded(where_used(line), "       ")
    return (f"{first:<{paper.wide - 10}}{price:>10}".rstrip(), *more, *used)


def where_used(line: SupplyLine) -> str:
    """What a line is for, and where its number comes from."""
    how = "" if line.how == _PROFILE else f" ({printable(line.how, 400)})"
    return f"for {printable(', '.join(line.used), 300)}{how}"


def page(made: Supplies, name: str, paper: Paper, foot: tuple[str, ...]) -> str:
    """The page, or pages parted by form feeds."""
    return FEED.join(pages(paper.plain(f"{name} · to buy"), (*blocks(made, paper), PageBlock((foot,))), paper.line))


def screen_lines(made: Supplies, paper: Paper) -> list[str]:
    """The list for a screen: what the page says, without its heads and feet."""
    said: list[str] = []
    for block in blocks(made, paper):
        said += [*(line for part in block.parts for line in part), ""]
    return said[:-1]


COLUMNS = ("group", "amount", "what", "each", "price", "currency", "used", "how")


def rows(made: Supplies) -> list[dict[str, str]]:
    """Every line as a spreadsheet has it, by COLUMNS; what is not known is empty."""
    return [
        {
            "group": line.group, "amount": line.amount, "what": line.what,
            "each": "" if line.each is None else figures(line.each),
            "price": "" if line.price is None else figures(line.price),
            "currency": made.currency if line.price is not None else "", "used": "; ".join(line.used), "how": line.how,
        }
        for line in made.lines
    ]  # fmt: skip
