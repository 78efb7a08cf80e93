"""The best plan by trying every one: which timber, which strip, which clear length for each blank in turn.

Other than the programme it knows no pattern and no bound; whole tenths of a millimetre throughout.
"""

from collections.abc import Iterator
from itertools import product
from math import ceil, floor

from shopcompanion.stock.pieces import Blank, Problem, StockTimber

Spot = tuple[int, int, int]  # piece, strip, clear length
Best = tuple[int, int, int, int]


def tenths(mm: float) -> int:
    return round(mm * 10, 6).__ceil__()


class Wood:
    """One piece of timber."""

    def __init__(self, timber: StockTimber, kerf: int) -> None:
        self.deep, self.wide, self.long = (floor(round(mm * 10, 6)) for mm in timber[1:4])
        self.species, self.price = (timber.species or "").strip().lower(), timber.price or 0
        free, marks = [], [False] * self.long
        for first, last in timber.knots:
            begin, end = floor(round(first * 10, 6)), ceil(round(last * 10, 6))
            for place in range(begin, min(self.long, max(end, begin + kerf))):
                marks[place] = True
        begin = 0
        for place in range(self.long + 1):
            if place == self.long or marks[place]:
                if place > begin:
                    free.append(place - begin)
                begin = place + 1
        self.free = free
        self.volume = self.deep * self.wide * self.long

    def across(self, blank: Blank) -> int | None:
        wanted = (blank.species or "").strip().lower()
        if wanted and wanted != self.species:
            return None
        sizes = tenths(blank.thickness), tenths(blank.width)
        return min((b for a, b in (sizes, sizes[::-1]) if a <= self.deep), default=None)


def best(problem: Problem) -> Best:
    """Needs left out, cost, waste in tenths cubed, and the longest offcut in tenths, negative."""
    kerf, keep = tenths(problem.kerf), tenths(problem.keep)
    woods = [Wood(timber, kerf) for timber in problem.timbers for _ in range(timber.alike)]
    least: Best | None = None
    choices = [[None, *need.ways] for need in problem.needs]
    for chosen in product(*choices):
        out = sum(way is None for way in chosen)
        if least is not None and out > least[0]:
            continue
        blanks = sorted((blank for way in chosen if way for blank in way), key=lambda blank: (-blank.length, blank[:3]))
        volume = sum(tenths(blank.thickness) * tenths(blank.width) * tenths(blank.length) for blank in blanks)
        for pieces in _placed(woods, blanks, kerf):
            used = [wood for wood, strips in zip(woods, pieces, strict=True) if strips]
            cost, waste = sum(wood.price for wood in used), sum(wood.volume for wood in used) - volume
            if least is None or (out, cost, waste) <= least[:3]:
                longest = max((_longest(w, s, kerf, keep) for w, s in zip(woods, pieces, strict=True) if s), default=0)
                value = out, cost, waste, -longest
                least = value if least is None else min(least, value)
    assert least is not None
    return least


Strips = list[tuple[int, list[int]]]  # how wide, and what is used of each clear length with a kerf behind each blank


def _placed(woods: list[Wood], blanks: list[Blank], kerf: int) -> Iterator[list[Strips]]:
    """Every way to have all the blanks in strips of the pieces."""
    pieces: list[Strips] = [[] for _ in woods]

    def go(place: int) -> Iterator[list[Strips]]:
        if place == len(blanks):
            yield pieces
            return
        length = tenths(blanks[place].length)
        for wood, strips in zip(woods, pieces, strict=True):
            across = wood.across(blanks[place])
            if across is None:
                continue
            for strip in range(len(strips) + 1):
                if strip == len(strips):
                    strips.append((0, [0] * len(wood.free)))
                wide, used = strips[strip]
                strips[strip] = max(wide, across), used
                if sum(width + kerf for width, _ in strips) - kerf <= wood.wide:
                    for clear, room in enumerate(wood.free):
                        if used[clear] + length <= room:
                            used[clear] += length + kerf
                            yield from go(place + 1)
                            used[clear] -= length + kerf
                strips[strip] = wide, used
                if not wide:
                    strips.pop()

    yield from go(0)


def _longest(wood: Wood, strips: Strips, kerf: int, keep: int) -> int:
    """The longest rest at least `keep` wide and long; one strip may be ripped as wide as that for it."""
    taken = sum(wide + kerf for wide, _ in strips)
    longest = max(wood.free) if wood.wide - taken >= keep else 0
    for wide, used in strips:
        if max(wide, keep) - wide <= wood.wide + kerf - taken:
            longest = max(longest, *(room - used for room, used in zip(wood.free, used, strict=True)))
    return longest if longest >= keep else 0
