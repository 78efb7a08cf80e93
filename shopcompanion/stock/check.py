"""A plan gone over again, in whole tenths of a millimetre, with none of the code that made it."""

from collections import Counter
from fractions import Fraction
from itertools import pairwise

from .pieces import Blank, Cut, Plan, Problem, Sawn, StockTimber

_MICRON = 1000  # places are exact to the tenth of a millimetre; floats are read to the micron


def _tenths(mm: float, upwards: bool) -> int:
    """In integers: microns, and those to tenths."""
    microns = round(mm * _MICRON)
    return -(-microns // 100) if upwards else microns // 100


def faults(problem: Problem, plan: Plan) -> list[str]:
    """Everything that is wrong with the plan; nothing when it holds.

    Cuts inside timber and strip, a kerf between them, clear of knots, sizes and species, every need once by one whole
    way, no piece twice, and cost, waste and offcuts as the plan says. Nothing is said about whether it is the best.
    """
    wrong: list[str] = []
    taken = Counter((sawn.timber, sawn.piece) for sawn in plan.sawn)
    wrong += [f"timber {timber} piece {piece} is sawn twice" for (timber, piece), times in taken.items() if times > 1]
    made: dict[int, Counter[Blank]] = {}
    cost, timber_volume, blank_volume = 0, 0, 0
    offcuts: list[list[tuple[int, ...]]] = []
    for sawn in plan.sawn:
        if not (0 <= sawn.timber < len(problem.timbers) and 0 <= sawn.piece < problem.timbers[sawn.timber].alike):
            wrong.append(f"there is no timber {sawn.timber} piece {sawn.piece}")
            offcuts.append([])
            continue
        timber = problem.timbers[sawn.timber]
        cost += timber.price or 0
        timber_volume += _volume(timber.thickness, timber.width, timber.length, False)
        where = f"timber {sawn.timber} piece {sawn.piece}"
        wrong += [f"{where}: {fault}" for fault in _across_faults(problem, timber, sawn)]
        if not any(strip.cuts for strip in sawn.strips):
            wrong.append(f"{where}: nothing is sawn from it")
        for place, strip in enumerate(sawn.strips):
            wrong += [f"{where} strip {place}: {fault}" for fault in _along_faults(problem, timber, strip.cuts)]
            for cut in strip.cuts:
                wrong += [f"{where} strip {place}: {fault}" for fault in _size_faults(timber, strip.width, cut)]
                made.setdefault(cut.need, Counter())[cut.blank] += 1
                blank_volume += _volume(cut.blank.thickness, cut.blank.width, cut.blank.length, True)
        offcuts.append(_offcuts(problem, timber, sawn))
    wrong += _need_faults(problem, plan, made)
    if cost != plan.cost:
        wrong.append(f"the cost is {cost}, not {plan.cost}")
    if abs(Fraction(timber_volume - blank_volume, 1000) - Fraction(plan.waste)) > Fraction(1, 100):
        wrong.append(f"the waste is {(timber_volume - blank_volume) / 1000} mm³, not {plan.waste}")
    told = Counter((offcut.sawn, tuple(round(size * 10) for size in offcut[1:])) for offcut in plan.offcuts)
    real = Counter((sawn, tuple(offcut)) for sawn, many in enumerate(offcuts) for offcut in many)
    wrong += [f"{offcut} is no offcut" for offcut in told - real] + [
        f"the offcut {offcut} is not listed" for offcut in real - told
    ]
    return wrong


def _volume(thickness: float, width: float, length: float, upwards: bool) -> int:
    return _tenths(thickness, upwards) * _tenths(width, upwards) * _tenths(length, upwards)


def _across_faults(problem: Problem, timber: StockTimber, sawn: Sawn) -> list[str]:
    wrong = []
    edge = _tenths(timber.width, False)
    spans = sorted((round(strip.across * 10), round(strip.width * 10)) for strip in sawn.strips)
    for across, width in spans:
        if across < 0 or across + width > edge:
            wrong.append(f"a strip from {across} to {across + width} is not inside {edge}")
    for (across, width), (after, _) in pairwise(spans):
        if after - across - width < _tenths(problem.kerf, True):
            wrong.append(f"no kerf between the strips at {across} and {after}")
    return wrong


def _along_faults(problem: Problem, timber: StockTimber, cuts: tuple[Cut, ...]) -> list[str]:
    wrong = []
    spans = sorted((round(cut.at * 10), round(cut.at * 10) + _tenths(cut.blank.length, True)) for cut in cuts)
    for begin, end in spans:
        if begin < 0 or end > _tenths(timber.length, False):
            wrong.append(f"a cut from {begin} to {end} is beyond the end")
        for knot in timber.knots:
            if begin < _tenths(knot[1], True) and end > _tenths(knot[0], False):
                wrong.append(f"a cut from {begin} to {end} has the knot at {knot[0]} in it")
    for (_, end), (begin, _) in pairwise(spans):
        if begin - end < _tenths(problem.kerf, True):
            wrong.append(f"no kerf between {end} and {begin}")
    return wrong


def _size_faults(timber: StockTimber, strip_width: float, cut: Cut) -> list[str]:
    blank, wrong = cut.blank, []
    through, across = (blank.width, blank.thickness) if cut.turned else (blank.thickness, blank.width)
    if _tenths(through, True) > _tenths(timber.thickness, False):
        wrong.append(f"{blank.name} is thicker than the timber")
    if _tenths(across, True) > round(strip_width * 10):
        wrong.append(f"{blank.name} is wider than its strip")
    species = blank.species and " ".join(blank.species.split()).casefold()
    if species and species != " ".join((timber.species or "").split()).casefold():
        wrong.append(f"{blank.name} is of another species")
    return wrong


def _need_faults(problem: Problem, plan: Plan, made: dict[int, Counter[Blank]]) -> list[str]:
    wrong = [f"there is no need {need}" for need in made if not 0 <= need < len(problem.needs)]
    out = Counter(missing.need for missing in plan.missing)
    wrong += [f"need {need} is listed as missing {times} times" for need, times in out.items() if times > 1]
    wrong += [f"there is no need {need} to miss" for need in out if not 0 <= need < len(problem.needs)]
    for place, need in enumerate(problem.needs):
        cut = made.get(place, Counter())
        whole = any(Counter(way) == cut for way in need.ways)
        if place in out and cut:
            wrong.append(f"need {place} is listed as missing, and blanks are cut for it")
        elif place not in out and not whole:
            wrong.append(f"need {place} is not made by one of its ways")
    return wrong


def _offcuts(problem: Problem, timber: StockTimber, sawn: Sawn) -> list[tuple[int, ...]]:
    """At, length, across, width of all that is left between knots, at the far end of every clear length."""
    kerf, keep = _tenths(problem.kerf, True), _tenths(problem.keep, True)
    end, edge = _tenths(timber.length, False), _tenths(timber.width, False)
    knots = sorted((_tenths(first, False), _tenths(last, True)) for first, last in timber.knots)
    starts = [0, *(max(last, first + kerf) for first, last in knots)]
    stops = [*(min(first, end) for first, _ in knots), end]
    offcuts: list[tuple[int, ...]] = []
    free = 0
    lanes = [(round(s.across * 10), round(s.width * 10), s.cuts) for s in sawn.strips]
    if lanes:
        free = max(across + width for across, width, _ in lanes) + kerf
    for across, width, cuts in [*lanes, (free, edge - free, ())]:
        begins = 0
        for start, stop in zip(starts, stops, strict=True):
            begins = max(begins, start)
            begin = begins
            for cut in cuts:
                done = round(cut.at * 10) + _tenths(cut.blank.length, True)
                if begins < done <= stop:
                    begin = max(begin, done + kerf)
            if stop - begin >= keep and width >= keep:
                offcuts.append((begin, stop - begin, across, width))
    return offcuts
