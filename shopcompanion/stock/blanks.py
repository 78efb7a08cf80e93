"""From a boat to the problem of its timber: every blank with its allowances, what is on hand, what the yard sells."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil, cos, pi

from ..errors import CompanionError, InputFault
from ..fields import Value
from ..lengths import Phrase, Rule, in_millimetres, literal
from ..profile.asking import answered, jaws_texts
from ..profile.left_out import LeftOut, because, for_plan, lost_spars
from ..profile.records import Boat, Spar
from ..profile.timber_records import Piece, price_of, size_of
from ..profile.timber_records import Sold as YardRow
from ..profile.timber_records import Timber as OnHand
from ..record import NamedTuple
from ..spar.along import APART
from ..spar.outline import Outline
from ..timber.sizes import SoldSize
from ..timber.species import full_name
from .assumed import KEEP, KERF, TRIM
from .pieces import Blank, Need, Problem, StockTimber

PARTS = 5  # pieces that a stave may be scarfed of, at most
MANY = 64  # ways to make one spar; with more joints than give so many, only those nearest to the middle are parted


class Task(NamedTuple):
    """The problem with what is to be said of it: notes, the currency of its prices, and what of the boat it lacks.

    `rule` is the one whose marks the blanks were brought to. `spars` are all those of the profile, `lost` the names of
    those that are not in the problem for a fault; `kerf_assumed` when nobody entered the saw's.
    """

    problem: Problem
    notes: tuple[Phrase, ...]
    currency: str
    rule: Rule
    left_out: tuple[LeftOut, ...] = ()
    spars: int = 0
    lost: tuple[str, ...] = ()
    kerf_assumed: bool = False


def task(boat: Boat, rule: Rule) -> Task:
    """The problem of a boat. InputFault when it has nothing to make, or no timber and no yard."""
    needs = tuple(_needs(boat, rule))
    left_out = for_plan(boat)
    if not needs:
        raise InputFault(f"the boat has no spar and no other piece, so there is nothing to cut{because(left_out)}")
    timbers = (*_on_hand(boat), *_sold(boat, needs))
    if not timbers:
        raise InputFault(
            "the boat has no timber that can be used: enter what is on hand ([[timber]]) or what is sold ([[yard]])"
            + because([lost for lost in left_out if lost.table in ("timber", "yard")])
        )
    shop = boat.shop
    problem = Problem(needs, timbers, _kerf(boat), shop.keep or KEEP[boat.rule.unit])
    currency = next((row.price.currency for row in boat.yard), shop.currency or "")
    lost = lost_spars(boat)
    spars = len(boat.spars) + len(lost)
    notes = tuple(_notes(boat, problem))
    return Task(problem, notes, currency, rule, left_out, spars, lost, kerf_assumed=shop.kerf is None)


def _notes(boat: Boat, problem: Problem) -> Iterator[Phrase]:
    shop = boat.shop
    if shop.kerf is None:
        yield Phrase("No saw kerf was entered: {} is assumed.", (_kerf(boat),))
    if shop.planing is None and any(spar.blank is None for spar in boat.spars):
        yield Phrase("No planing allowance was entered: blanks without a size of their own have nothing to plane off.")
    if shop.trim is None:
        yield Phrase("No waste at the ends was entered: {} at each end is assumed.", (_trim(boat),))
    rows: tuple[OnHand | YardRow, ...] = (*boat.timbers, *boat.yard)
    for row in rows:
        if row.nominal is not None:
            yield from _dressed(f"{row.name}: {row.nominal}", size_of(row))
    blanks = [blank for need in problem.needs for way in need.ways for blank in way]
    thinnest = min(min(blank.thickness, blank.width) for blank in blanks)
    for name in dict.fromkeys(timber.name for timber in problem.timbers if timber.thickness < thinnest - 1e-6):
        yield Phrase(f"{literal(name)} is thinner than every blank, so it is of no use here.")


def _dressed(row: str, size: SoldSize) -> Iterator[Phrase]:
    """What a nominal size is taken as, where its dressed size is from memory."""
    if size.mark == "memory" and size.size_class is not None:
        shrinks = ", and it will shrink" if size.size_class.state == "green" else ""
        yield Phrase(
            f"{literal(row)} is taken as {{}} x {{}}, dressed {size.size_class.state}: that is from memory, "
            f"unverified, so measure it{shrinks}.",
            size.dressed,
        )


def _up(mm: float, rule: Rule) -> float:
    """To the next mark of the rule."""
    step = float(rule.step)
    return ceil(mm / step - 1e-9) * step


def _needs(boat: Boat, rule: Rule) -> Iterator[Need]:
    for spar in boat.spars:
        if spar.section == "staves":
            yield from _of_staves(boat, spar, rule)
            continue
        ways = tuple(_ways(boat, spar, rule))
        for number in range(1, spar.count + 1):
            yield Need(spar.name if spar.count == 1 else f"{spar.name} {number}", ways)
    for piece in boat.pieces:
        blank = _piece(boat, piece, rule)
        for number in range(1, piece.count + 1):
            yield Need(piece.name if piece.count == 1 else f"{piece.name} {number}", ((blank,),))


def _piece(boat: Boat, piece: Piece, rule: Rule) -> Blank:
    planing, trim = boat.shop.planing or 0.0, _trim(boat)
    why = [("{} by {} finished", piece.thickness, piece.width), *_planed(planing), *_trimmed(piece.length, trim)]
    return Blank(
        piece.name,
        _up(piece.thickness + 2 * planing, rule),
        _up(piece.width + 2 * planing, rule),
        _up(piece.length + 2 * trim, rule),
        full_name(piece.species, boat.own),
        _phrase(why),
    )


def _trim(boat: Boat) -> float:
    return TRIM[boat.rule.unit] if boat.shop.trim is None else boat.shop.trim


def _kerf(boat: Boat) -> float:
    return boat.shop.kerf or KERF[boat.rule.unit]


_Said = tuple[str, *tuple[float, ...]]  # words, and the lengths that stand in them


def _phrase(said: list[_Said]) -> Phrase:
    return Phrase("".join(words for words, *_ in said), tuple(mm for _, *lengths in said for mm in lengths))


def _planed(planing: float) -> list[_Said]:
    return [(", {} on each face for planing", planing)] if planing else []


def _trimmed(length: float, trim: float) -> list[_Said]:
    return [("; {} and {} at each end", length, trim) if trim else ("; {}", length)]


def whole(boat: Boat, spar: Spar, rule: Rule) -> Blank:
    """The blank of a spar from one stick, as the plan has it and its card says it: sawn, its bow still in it.

    Of a spar of staves, that of one stave; of a hollow one, that of one half.
    """
    if spar.section == "staves":
        return _stave(boat, spar, rule, 1, 0.0)[0]
    return _part(boat, spar, rule, _Part(0.0, spar.length))


def _of_staves(boat: Boat, spar: Spar, rule: Rule) -> Iterator[Need]:
    """Every stave of a spar, of as few pieces as the timber there is allows, and every plug."""
    ring = answered(boat, spar, "staves", at=None, texts={}, rule=rule).result
    thick = f"{ring.answers.stave_thickness:.12g} mm"
    joint = answered(boat, spar, "scarf", at=None, texts={"thickness": thick}, rule=rule).result
    scarf = float(joint.answers.scarf_length)
    made = [_stave(boat, spar, rule, parts, scarf) for parts in range(1, PARTS + 1)]
    longest = _longest(boat, made[0][0])
    ways = (next((way for way in made if max(blank.length for blank in way) <= longest), made[0]),)
    plugs = next(table.rows for table in ring.tables if table.name == "plugs")
    for number in range(1, spar.count + 1):
        name = spar.name if spar.count == 1 else f"{spar.name} {number}"
        for stave in range(1, spar.staves + 1):
            yield Need(f"{name}, stave {stave}", ways)
        for place, row in enumerate(plugs, 1):
            yield Need(f"{name}, plug {place}", ((_plug(boat, spar, rule, place, row),),))


def _longest(boat: Boat, blank: Blank) -> float:
    """The longest timber there is that the section of a blank comes out of, mm."""
    rows: list[tuple[OnHand | YardRow, float]] = [(row, row.length) for row in boat.timbers]
    rows += [(row, max(row.lengths)) for row in boat.yard]
    fits = [0.0]
    for row, length in rows:
        sides = sorted(size_of(row).dressed)
        own = full_name(row.species, boat.own)
        if (own is None or blank.species in (None, own)) and sides[0] >= blank.thickness and sides[1] >= blank.width:
            fits.append(length)
    return max(fits)


def _stave(boat: Boat, spar: Spar, rule: Rule, parts: int, scarf: float) -> tuple[Blank, ...]:
    """The blanks of a stave of so many pieces: the first half as long as the others, so that scarfs lie apart when
    every other stave is turned end for end.
    """
    answers = answered(boat, spar, "staves", at=None, texts={}, rule=rule).result.answers
    thick, wide = _up(answers.rip_thickness, rule), _up(answers.rip_width, rule)
    trim, sawn = _trim(boat), sum(_kerf(boat) for joint in spar.joints if joint.kind in APART)
    size: _Said = ("{} by {} finished, and planing", answers.stave_thickness, answers.widest_stave)
    stave = []
    for part in range(parts):
        length = (spar.length + sawn) * (1 if part == 0 else 2) / (2 * parts - 1)
        ends = scarf * ((part > 0) + (part < parts - 1)) / 2
        why = _phrase([size, *_trimmed(length, trim), *([(", {} for the scarf", ends)] if ends else [])])
        name = f"{spar.name}, stave" + (f", part {part + 1} of {parts}" if parts > 1 else "")
        stave.append(
            Blank(name, thick, wide, _up(length + ends + 2 * trim, rule), full_name(spar.species, boat.own), why)
        )
    return tuple(stave)


def _plug(boat: Boat, spar: Spar, rule: Rule, place: int, row: Sequence[Value]) -> Blank:
    start, end, before, after, hole, other = (float(size) for size in row if isinstance(size, float | int))
    across, planing = max(hole, other), boat.shop.planing or 0.0
    corners = across if spar.staves % 4 == 0 else across / cos(pi / spar.staves)  # as wide as its corners need
    side = _up(corners + 2 * planing, rule)
    long = end - start + before + after
    why = Phrase("{} across its flats, {} with its tails", (across, long))
    return Blank(f"{spar.name}, plug {place}", side, side, _up(long, rule), full_name(spar.species, boat.own), why)


def _ways(boat: Boat, spar: Spar, rule: Rule) -> Iterator[tuple[Blank, ...]]:
    """Every way to make a spar of blanks: whole, and parted at some of its joints or all."""
    long = _scarf(boat, spar, rule)
    reach = {"scarf": long / 2}  # to either side of the joint
    inside = {joint.at: joint for joint in spar.joints if reach.get(joint.kind, 0.0) < joint.at < spar.length}
    able = [joint for joint in inside.values() if joint.at + reach.get(joint.kind, 0.0) < spar.length]
    able.sort(key=lambda joint: abs(joint.at - spar.length / 2))
    joints = sorted(able[: MANY.bit_length() - 1], key=lambda joint: joint.at)
    for chosen in range(2 ** len(joints)):
        cuts = [joint for place, joint in enumerate(joints) if chosen >> place & 1]
        ends = [(0.0, 0.0, 0), *((cut.at, reach.get(cut.kind, 0.0), int(cut.kind in APART)) for cut in cuts)]
        ends.append((spar.length, 0.0, 0))
        yield tuple(
            _part(boat, spar, rule, _Part(start - before, end + after, before + after, number, sawn + to_saw))
            for number, ((start, before, sawn), (end, after, to_saw)) in enumerate(pairwise(ends), 1 if cuts else 0)
            for _ in range(2 if is_hollow(spar) else 1)
        )


def is_hollow(spar: Spar) -> bool:
    """Whether a spar is hollow anywhere, and so made of two halves."""
    return any("hollow" in (stretch.heelward, stretch.headward) for stretch in spar.body().stretches)


class _Part(NamedTuple):
    """From one station of a spar to another, what of that is for scarfs, which part it is, 0 for the whole, and how
    many of its ends are sawn when the spar is shaped.
    """

    start: float
    end: float
    scarf: float = 0.0
    number: int = 0
    sawn_ends: int = 0


def _scarf(boat: Boat, spar: Spar, rule: Rule) -> float:
    """How long a scarf of the spar is, in the stick as it is glued: what its card says of it as well."""
    if all(joint.kind != "scarf" for joint in spar.joints):
        return 0.0
    thick = in_millimetres(spar.stick(boat.shop.planing or 0.0))
    solved = answered(boat, spar, "scarf", at=None, texts={"thickness": thick}, rule=rule)
    return float(solved.result.answers.scarf_length)


def _throat(boat: Boat, spar: Spar, rule: Rule) -> float:
    """What is left on beyond the heel until it is cut to the throat of its jaws, mm; 0 without jaws that fit."""
    texts = jaws_texts(spar)
    if texts is None:
        return 0.0
    try:
        return float(answered(boat, spar, "jaws", at=None, texts=texts, rule=rule).result.answers.heel_waste)
    except CompanionError:
        return 0.0


def _part(boat: Boat, spar: Spar, rule: Rule, part: _Part) -> Blank:
    """The blank of a part of a spar, of a hollow one of half a part. The bow is of an even curve, by the square of the
    length.
    """
    planing, trim, kerf = boat.shop.planing or 0.0, _trim(boat), _kerf(boat)
    given = spar.blank is not None
    over = spar.blank - spar.thickest if spar.blank is not None else 2 * planing
    outlines = [outline for outline in (spar.outline(), spar.depth_outline()) if outline is not None]
    start, end = (0.0, spar.length) if part.scarf else (part.start, part.end)  # what is scarfed is of one size
    sizes = [largest_between(outline, start, end) for outline in outlines]
    if given or len(sizes) == 1:
        sizes = [max(sizes)] * 2
    length = part.end - part.start
    bow = (spar.bow or 0.0) * ((end - start) / spar.length) ** 2
    thickness, width = sorted(_up(size + over + bow, rule) for size in sizes)
    half = ", half" if is_hollow(spar) else ""
    if half:  # its bow comes out of the face to be glued
        width = _up(max(sizes) + over, rule)
        thickness = _up((max(sizes) + over) / 2 + bow, rule)
    joints = sum(1 for joint in spar.joints if part.start < joint.at < part.end and joint.kind in APART)
    heel = max(0.0, _throat(boat, spar, rule) - trim) if part.start == 0 else 0.0
    sawn = (joints + part.sawn_ends / 2) * kerf
    finished = list(dict.fromkeys(sizes))
    why: list[_Said] = [((half and "half of ") + " by ".join(["{}"] * len(finished)) + " finished", *finished)]
    why += [(", {} on each face (blank set in the profile)", over / 2)] if given else _planed(planing)
    why += [(", {} for the bow", bow)] if bow else []
    why += _trimmed(length - part.scarf, trim)
    more = (("scarf", part.scarf), ("saw at the joint", sawn))
    why += [(f", {{}} for the {what}", mm) for what, mm in more if mm]
    why += [(", {} more at the heel for the throat", heel)] if heel else []
    name = (f"{spar.name}, part {part.number}" if part.number else spar.name) + half
    return Blank(
        name, thickness, width, _up(length + 2 * trim + heel + sawn, rule), full_name(spar.species, boat.own),
        _phrase(why),
    )  # fmt: skip


def largest_between(outline: Outline, start: float, end: float) -> float:
    """The largest size of an outline from one station to another, mm."""
    inside = [at for at, _ in outline.stations if start < at < end]
    return max(outline.width_at(at) for at in (start, *inside, end))


def _on_hand(boat: Boat) -> Iterator[StockTimber]:
    for timber in boat.timbers:
        size = size_of(timber)
        yield StockTimber(
            timber.name, *size.dressed, timber.length, full_name(timber.species, boat.own),
            tuple((knot.from_, knot.to) for knot in timber.knots), timber.count, None, (*size.nominal, timber.length),
        )  # fmt: skip


def _sold(boat: Boat, needs: tuple[Need, ...]) -> Iterator[StockTimber]:
    """Every length of every size that the yard sells, no more of each than could be wanted."""
    most = sum(max(map(len, need.ways)) for need in needs)
    for row in boat.yard:
        size = size_of(row)
        for length in row.lengths:
            yield StockTimber(
                row.name, *size.dressed, length, full_name(row.species, boat.own), (), min(row.count or most, most),
                price_of(row, length), (*size.nominal, length),
            )  # fmt: skip
