"""A plan gone over again, in whole tenths of a millimetre, with none of the code that made it."""

from collections import Counter
from fractions import Fraction
from itertools import pairwise

from .pieces import Blank, Cut, Plan, Problem, Sawn, Timber

_MICRON = 1000  # places are exact to the tenth of a millimetre; floats are read to the micron


def _tenths(mm: float, upwards: bool) -> int:
    """In integers: microns, and those to tenths."""
    microns = round(mm * _MICRON)
    return -(-microns // 100) if upwards else microns // 100


def faults(problem: Problem, plan: Plan) -> list[str]:
    """Everything that is wrong with the plan; nothing when it holds.

    Cuts inside timber and strip, a kerf between them, clear of knots, sizes and species, every need once by one whole
    way, no piece twice, and cost, waste and offcuts as told. Nothing is said about whether it is the best.
    """
    found: list[str] = []
    taken = Counter((one.timber, one.piece) for one in plan.sawn)
    found += [f"timber {timber} piece {piece} is sawn twice" for (timber, piece), times in taken.items() if times > 1]
    made: dict[int, Counter[Blank]] = {}
    cost, timber_volume, blank_volume = 0, 0, 0
    offcuts: list[list[tuple[int, ...]]] = []
    for one in plan.sawn:
        if not (0 <= one.timber < len(problem.timbers) and 0 <= one.piece < problem.timbers[one.timber].alike):
            found.append(f"there is no timber {one.timber} piece {one.piece}")
            offcuts.append([])
            continue
        timber = problem.timbers[one.timber]
        cost += timber.price or 0
        timber_volume += _volume(timber.thickness, timber.width, timber.length, False)
        where = f"timber {one.timber} piece {one.piece}"
        found += [f"{where}: {fault}" for fault in _across_faults(problem, timber, one)]
        if not any(strip.cuts for strip in one.strips):
            found.append(f"{where}: nothing is sawn from it")
        for place, strip in enumerate(one.strips):
            found += [f"{where} strip {place}: {fault}" for fault in _along_faults(problem, timber, strip.cuts)]
            for cut in strip.cuts:
                found += [f"{where} strip {place}: {fault}" for fault in _size_faults(timber, strip.width, cut)]
                made.setdefault(cut.need, Counter())[cut.blank] += 1
                blank_volume += _volume(cut.blank.thickness, cut.blank.width, cut.blank.length, True)
        offcuts.append(_offcuts(problem, timber, one))
    found += _need_faults(problem, plan, made)
    if cost != plan.cost:
        found.append(f"the cost is {cost}, not {plan.cost}")
    if abs(Fraction(timber_volume - blank_volume, 1000) - Fraction(plan.waste)) > Fraction(1, 100):
        found.append(f"the waste is {(timber_volume - blank_volume) / 1000} mm³, not {plan.waste}")
    told = Counter((one.sawn, tuple(round(size * 10) for size in one[1:])) for one in plan.offcuts)
    real = Counter((sawn, tuple(one)) for sawn, many in enumerate(offcuts) for one in many)
    found += [f"{one} is no offcut" for one in told - real] + [f"the offcut {one} is not told" for one in real - told]
    return found


def _volume(thickness: float, width: float, length: float, upwards: bool) -> int:
    return _tenths(thickness, upwards) * _tenths(width, upwards) * _tenths(length, upwards)


def _across_faults(problem: Problem, timber: Timber, sawn: Sawn) -> list[str]:
    found = []
    edge = _tenths(timber.width, False)
    spans = sorted((round(strip.across * 10), round(strip.width * 10)) for strip in sawn.strips)
    for across, width in spans:
        if across < 0 or across + width > edge:
            found.append(f"a strip from {across} to {across + width} is not inside {edge}")
    for (across, width), (after, _) in pairwise(spans):
        if after - across - width < _tenths(problem.kerf, True):
            found.append(f"no kerf between the strips at {across} and {after}")
    return found


def _along_faults(problem: Problem, timber: Timber, cuts: tuple[Cut, ...]) -> list[str]:
    found = []
    spans = sorted((round(cut.at * 10), round(cut.at * 10) + _tenths(cut.blank.length, True)) for cut in cuts)
    for begin, end in spans:
        if begin < 0 or end > _tenths(timber.length, False):
            found.append(f"a cut from {begin} to {end} is beyond the end")
        for knot in timber.knots:
            if begin < _tenths(knot[1], True) and end > _tenths(knot[0], False):
                found.append(f"a cut from {begin} to {end} has the knot at {knot[0]} in it")
    for (_, end), (begin, _) in pairwise(spans):
        if begin - end < _tenths(problem.kerf, True):
            found.append(f"no kerf between {end} and {begin}")
    return found


def _size_faults(timber: Timber, strip_width: float, cut: Cut) -> list[str]:
    blank, found = cut.blank, []
    through, across = (blank.width, blank.thickness) if cut.turned else (blank.thickness, blank.width)
    if _tenths(through, True) > _tenths(timber.thickness, False):
        found.append(f"{blank.name} is thicker than the timber")
    if _tenths(across, True) > round(strip_width * 10):
        found.append(f"{blank.name} is wider than its strip")
    species = blank.species and " ".join(blank.species.split()).casefold()
    if species and species != " ".join((timber.species or "").split()).casefold():
        found.append(f"{blank.name} is of another species")
    return found


def _need_faults(problem: Problem, plan: Plan, made: dict[int, Counter[Blank]]) -> list[str]:
    found = [f"there is no need {need}" for need in made if not 0 <= need < len(problem.needs)]
    out = Counter(one.need for one in plan.missing)
    found += [f"need {need} is told missing {times} times" for need, times in out.items() if times > 1]
    found += [f"there is no need {need} to miss" for need in out if not 0 <= need < len(problem.needs)]
    for place, need in enumerate(problem.needs):
        cut = made.get(place, Counter())
        whole = any(Counter(way) == cut for way in need.ways)
        if place in out and cut:
            found.append(f"need {place} is told missing, and blanks are cut for it")
        elif place not in out and not whole:
            found.append(f"need {place} is not made by one of its ways")
    return found


def _offcuts(problem: Problem, timber: Timber, sawn: Sawn) -> list[tuple[int, ...]]:
    """At, length, across, width of all that is left between knots, at the far end of every clear length."""
    kerf, keep = _tenths(problem.kerf, True), _tenths(problem.keep, True)
    end, edge = _tenths(timber.length, False), _tenths(timber.width, False)
    knots = sorted((_tenths(first, False), _tenths(last, True)) for first, last in timber.knots)
    starts = [0, *(max(last, first + kerf) for first, last in knots)]
    stops = [*(min(first, end) for first, _ in knots), end]
    found: list[tuple[int, ...]] = []
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
                found.append((begin, stop - begin, across, width))
    return found
