"""What a clear length and a width can be sawn into, every way that no other makes needless. Tenths of a millimetre."""

from collections.abc import Sequence

from ..record import NamedTuple


class StripPart(NamedTuple):
    """A part as a strip sees it: how wide, how long, and how many are wanted at most."""

    part: int
    across: int
    length: int
    most: int


class Pattern(NamedTuple):
    """Parts behind one another: which, how many of each, how wide the widest, and what is left of the length."""

    counts: tuple[tuple[int, int], ...]
    across: int
    rest: int


class TooMany(Exception):
    """There are more than asked for."""


def patterns(pieces: Sequence[StripPart], length: int, kerf: int, cap: int, full: bool = True) -> list[Pattern]:
    """Every choice of parts for a clear length; with `full` only those to which no part as narrow can be added.

    A kerf stands behind each part; one past the end of the length costs nothing. TooMany beyond `cap` of them, or of
    forty times as many steps.
    """
    order = sorted(pieces, key=lambda piece: (-piece.across, -piece.length, piece.part))
    room = length + kerf
    behind = [0] * (len(order) + 1)  # what all the later parts can fill
    for place in reversed(range(len(order))):
        behind[place] = behind[place + 1] + order[place].most * (order[place].length + kerf)
    patterns: list[Pattern] = []
    chosen: list[tuple[int, int]] = []
    steps = 0

    def go(place: int, left: int, across: int, needed: int) -> None:
        """`needed`: less than this must be left at the end, or a part that was passed over would have had room."""
        nonlocal steps
        steps += 1
        if steps > 40 * cap or len(patterns) > cap:
            raise TooMany
        if full and left - behind[place] >= needed:
            return
        if place == len(order):
            if chosen or not full:
                patterns.append(Pattern(tuple(chosen), across, left - kerf))
            return
        piece = order[place]
        step = piece.length + kerf
        for count in range(min(piece.most, left // step), -1, -1):
            passed = full and count < piece.most and (across or count)
            if count:
                chosen.append((piece.part, count))
            limit = min(needed, step) if passed else needed
            go(place + 1, left - count * step, across or (piece.across if count else 0), limit)
            if count:
                chosen.pop()

    go(0, room, 0, room + 1)
    return [pattern for pattern in patterns if not (full and _extends(pattern, order, kerf))]


def some_patterns(pieces: Sequence[StripPart], length: int, kerf: int, cap: int) -> list[Pattern]:
    """Some of those patterns where all are too many: parts put behind one another in many orders, always the same."""
    from random import Random

    chance, patterns = Random(0), set[Pattern]()
    order = list(pieces)
    for _ in range(cap):
        chance.shuffle(order)
        limit = chance.choice(order).across
        left, counts = length + kerf, list[tuple[int, int]]()
        for piece in order:
            count = min(piece.most, left // (piece.length + kerf)) if piece.across <= limit else 0
            if count:
                counts.append((piece.part, count))
                left -= count * (piece.length + kerf)
        across = max((piece.across for piece in pieces if any(piece.part == part for part, _ in counts)), default=0)
        if counts:
            patterns.add(Pattern(tuple(sorted(counts)), across, left - kerf))
    return sorted(patterns)


def _extends(pattern: Pattern, pieces: Sequence[StripPart], kerf: int) -> bool:
    """Whether one more part of no greater width still has room."""
    have = dict(pattern.counts)
    room = pattern.rest + kerf
    return any(
        piece.across <= pattern.across and have.get(piece.part, 0) < piece.most and piece.length + kerf <= room
        for piece in pieces
    )


def layouts(widths: Sequence[int], most: Sequence[int], width: int, kerf: int, cap: int) -> list[tuple[int, ...]]:
    """Every way to rip `width` into strips, none of which could be wider or be joined by another.

    `widths` come widest first; a strip as wide as widths[i] or wider is useful most[i] times. Each way tells the number
    of strips as wide as widths[i] or wider. TooMany as for patterns.
    """
    room = width + kerf
    layouts: list[tuple[int, ...]] = []
    steps = 0

    def best(counts: tuple[int, ...], left: int) -> bool:
        for place, count in enumerate(counts):
            if count >= most[place]:
                continue
            if place + 1 == len(counts):
                if widths[place] + kerf <= left:
                    return False  # another strip has room
            elif counts[place + 1] > count and widths[place] - widths[place + 1] <= left:
                return False  # a strip of the next width could be this wide
        return True

    def go(place: int, counts: tuple[int, ...], left: int) -> None:
        nonlocal steps
        steps += 1
        if steps > 40 * cap or len(layouts) > cap:
            raise TooMany
        before = counts[-1] if counts else 0
        if place == len(widths):
            if best(counts, left):
                layouts.append(counts)
            return
        each = widths[place] + kerf
        for more in range(min(left // each, most[place] - before), -1, -1):
            go(place + 1, (*counts, before + more), left - more * each)

    go(0, (), room)
    return [layout for layout in layouts if layout and layout[-1]]
