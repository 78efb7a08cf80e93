"""A good plan at once: the hardest blanks first, each where it fits closest; on hand before bought."""

from collections import Counter
from collections.abc import Callable, Sequence
from itertools import combinations_with_replacement, product

from .integers import IntegerProblem
from .layout import Laid, left, rank


class PartialPlan:
    """Pieces taken so far, with their strips."""

    def __init__(self, whole: IntegerProblem, allowed: Sequence[int] | None = None) -> None:
        self.whole = whole
        self.taken: list[tuple[int, list[list[list[int]]], list[int]]] = []  # kind, strips, their widths
        self.unused = [len(kind.pieces) for kind in whole.kinds] if allowed is None else list(allowed)

    def copy(self) -> "PartialPlan":
        other = PartialPlan(self.whole, self.unused)
        other.taken = [
            (kind, [[parts.copy() for parts in strip] for strip in strips], wide.copy())
            for kind, strips, wide in self.taken
        ]
        return other

    def pieces(self) -> list[Laid]:
        return [Laid(kind, strips) for kind, strips, _ in self.taken]

    def place(self, part: int) -> bool:
        """Saw the part where it fits closest: in a strip, as a new strip, from a new piece. False if nowhere."""
        spots = [*self._in_strips(part), *self._beside(part), *self._of_new(part)]
        if not spots:
            return False
        _, piece, strip, clear, kind = min(spots)
        if piece < 0:
            piece = len(self.taken)
            self.taken.append((kind, [], []))
            self.unused[kind] -= 1
        kind, strips, wide = self.taken[piece]
        if strip < 0:
            strip = len(strips)
            strips.append([[] for _ in self.whole.kinds[kind].clear])
            wide.append(self.whole.across[kind][part] or 0)
        strips[strip][clear].append(part)
        return True

    def _in_strips(self, part: int) -> "list[Spot]":
        length, whole = self.whole.parts[part].length, self.whole
        spots: list[Spot] = []
        for piece, (kind, strips, wide) in enumerate(self.taken):
            across = whole.across[kind][part]
            for place, strip in enumerate(strips):
                if across is None or across > wide[place]:
                    continue
                for clear, parts in enumerate(strip):
                    room = left(whole, whole.kinds[kind].clear[clear], parts)
                    if length <= room:
                        lost = (wide[place] - across) * length + wide[place] * (room - length) // 8
                        spots.append(((0, 0, lost), piece, place, clear, kind))
        return spots

    def _beside(self, part: int) -> "list[Spot]":
        whole, spots = self.whole, list[Spot]()
        for piece, (kind, _, wide) in enumerate(self.taken):
            across = whole.across[kind][part]
            room = whole.kinds[kind].width - sum(across + whole.kerf for across in wide)
            if across is not None and across <= room:
                clear, rest = self._closest(kind, part)
                spots.append(((0, 1, across * rest + (room - across)), piece, -1, clear, kind))
        return spots

    def _of_new(self, part: int) -> "list[Spot]":
        spots: list[Spot] = []
        for kind, (unused, across) in enumerate(
            zip(self.unused, (row[part] for row in self.whole.across), strict=True)
        ):
            if unused and across is not None:
                timber = self.whole.kinds[kind]
                spots.append(((timber.price, 2, timber.volume), -1, -1, self._closest(kind, part)[0], kind))
        return spots

    def _closest(self, kind: int, part: int) -> tuple[int, int]:
        """Of a new strip, the shortest clear length that holds the part, and what is left of it."""
        length = self.whole.parts[part].length
        rests = ((last - first - length, place) for place, (first, last) in enumerate(self.whole.kinds[kind].clear))
        rest, place = min(spot for spot in rests if spot[0] >= 0)
        return place, rest


Spot = tuple[tuple[int, int, int], int, int, int, int]  # how dear it is; piece, strip, clear length, kind
Found = tuple[list[int | None], list[Laid]]


def first_found(whole: IntegerProblem) -> Found:
    """Which way each need is made, None if not at all, and the pieces: the best of what several orders give."""
    tries = (_placed(whole, order) for order in _orders(whole))
    return min((trial for trial in tries if trial), key=lambda trial: rank(whole, *trial))


def improved(whole: IntegerProblem, plan: Found, tries: int = 1500) -> Found:
    """A better plan, if leaving out a piece or two, or taking another instead, gives one; in at most so many tries."""
    best, orders = (rank(whole, *plan), plan), _orders(whole)
    while True:
        taken = Counter(laid.kind for laid in best[1][1])
        before = best[0]
        for less, more in product(_few(list(taken), 2), _few(list(range(len(whole.kinds))), 1)):
            allowed = [taken[kind] - less.count(kind) + more.count(kind) for kind in range(len(whole.kinds))]
            saved = sum(whole.kinds[kind].price for kind in less) - sum(whole.kinds[kind].price for kind in more)
            possible = all(0 <= count <= len(kind.pieces) for count, kind in zip(allowed, whole.kinds, strict=True))
            if saved < 0 or not possible or set(less) & set(more):
                continue
            for order in orders:
                trial = _placed(whole, order, allowed, before[0])
                if trial is not None:
                    best = min(best, (rank(whole, *trial), trial), key=lambda trial: trial[0])
                tries -= 1
            if tries <= 0 or best[0] < before:
                break
        if tries <= 0 or best[0] == before:
            return best[1]


def _few(kinds: list[int], most: int) -> list[tuple[int, ...]]:
    """None, or some of the kinds, up to `most` of them."""
    return [few for number in range(most + 1) for few in combinations_with_replacement(kinds, number)]


def _orders(whole: IntegerProblem) -> list[list[int]]:
    def by(size: Callable[[int], int]) -> list[int]:
        hardest = [min((max(map(size, way), default=0) for way in need), default=0) for need in whole.needs]
        return sorted(range(len(whole.needs)), key=lambda need: (-hardest[need], need))

    parts = whole.parts
    return [
        by(lambda part: parts[part].length),
        by(lambda part: parts[part].volume),
        by(lambda part: parts[part].thickness * parts[part].width),
        by(lambda part: max(parts[part].thickness, parts[part].width)),
    ]


def _placed(
    whole: IntegerProblem, order: Sequence[int], allowed: Sequence[int] | None = None, out: int | None = None
) -> Found | None:
    """The needs placed one after another; None as soon as more than `out` of them have no place."""
    bench, ways = PartialPlan(whole, allowed), list[int | None]([None] * len(whole.needs))
    for need in order:
        possible = [(place, way) for place, way in enumerate(whole.needs[need]) if whole.can_be(way)]
        tries: list[tuple[tuple[int, int], int, PartialPlan]] = []
        for place, way in possible:
            trial = bench.copy() if len(possible) > 1 or len(way) > 1 else bench
            hardest = sorted(way, key=lambda part: (-whole.parts[part].length, part))
            if all(trial.place(part) for part in hardest):
                kinds = [whole.kinds[kind] for kind, _, _ in trial.taken] if len(possible) > 1 else []
                blanks = sum(whole.parts[part].volume for part in way)
                cost = sum(kind.price for kind in kinds), sum(kind.volume for kind in kinds) - blanks
                tries.append((cost, place, trial))
        if tries:
            _, ways[need], bench = min(tries, key=lambda trial: trial[:2])
        elif out is not None:
            out -= 1
            if out < 0:
                return None
    return ways, bench.pieces()
