"""From a solution of the programme back to strips."""

from collections import Counter, defaultdict
from collections.abc import Sequence

from .greedy import Found
from .integers import IntegerProblem
from .layout import Laid
from .model import Cross, Made, Programme, Ripped


def read_out(programme: Programme, values: Sequence[int]) -> Found:
    """From a solution to which way each need is made, and the strips of every piece."""
    whole = programme.whole
    ways: list[int | None] = [None] * len(whole.needs)
    pieces: dict[int, list[Ripped]] = defaultdict(list)
    cut: dict[tuple[int, int], list[Cross]] = defaultdict(list)
    waiting: dict[tuple[int, ...], list[int]] = {}
    for column, times in zip(programme.columns, values, strict=True):
        match column:
            case Made(needs, way):
                free = waiting.setdefault(needs, list(needs))
                for _ in range(times):
                    ways[free.pop(0)] = way
            case Ripped():
                pieces[column.kind] += [column] * times
            case Cross():
                cut[column.kind, column.length] += [column] * times
    wanted = Counter(part for need, way in zip(whole.needs, ways, strict=True) if way is not None for part in need[way])
    laid = [laid for kind, ripped in sorted(pieces.items()) for laid in _strips(whole, kind, ripped, cut, wanted)]
    return ways, laid


def _strips(
    whole: IntegerProblem,
    kind: int,
    ripped: list[Ripped],
    cut: dict[tuple[int, int], list[Cross]],
    wanted: Counter[int],
) -> list[Laid]:
    """The widest patterns into the widest strips; parts beyond those wanted stay in the wood."""
    slots: list[tuple[int, int]] = []  # width, piece
    for piece, layout in enumerate(ripped):
        narrower = 0
        for width, count in zip(layout.widths, layout.counts, strict=True):
            slots += [(width, piece)] * (count - narrower)
            narrower = count
    slots.sort(key=lambda slot: -slot[0])
    for crosses in cut.values():
        crosses.sort(key=lambda cross: (cross.pattern.across, cross.offcut))
    strips: list[list[list[list[int]]]] = [[] for _ in ripped]
    for _, piece in slots:
        strip = []
        for first, last in whole.kinds[kind].clear:
            waiting, parts = cut[kind, last - first], list[int]()
            if waiting:
                for part, count in waiting.pop().pattern.counts:
                    take = min(count, wanted[part])
                    wanted[part] -= take
                    parts += [part] * take
            strip.append(parts)
        if any(strip):
            strips[piece].append(strip)
    return [Laid(kind, parts) for parts in strips if parts]
