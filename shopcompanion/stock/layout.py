"""Which parts lie in which strips of which pieces, and what is left of it, in tenths of a millimetre."""

from collections.abc import Sequence

from ..record import NamedTuple
from .integers import IntegerProblem

Parts = Sequence[Sequence[int]]  # of one strip: for every clear length of its timber the parts in it


class Laid(NamedTuple):
    """One piece of a kind and the strips it is ripped into."""

    kind: int
    strips: Sequence[Parts]


class Rest(NamedTuple):
    at: int
    length: int
    across: int
    width: int


def left(whole: IntegerProblem, clear: tuple[int, int], parts: Sequence[int]) -> int:
    """What is left of a clear length behind its parts and a kerf for each."""
    return clear[1] - clear[0] - sum(whole.parts[part].length + whole.kerf for part in parts)


def widths(whole: IntegerProblem, laid: Laid) -> list[int]:
    """How wide each strip is sawn: as its widest part, but one of them `keep` wide where there is room and a longer
    offcut comes of it."""
    across, kind = whole.across[laid.kind], whole.kinds[laid.kind]
    wide = [max(across[part] or 0 for parts in strip for part in parts) for strip in laid.strips]
    room = kind.width + whole.kerf - sum(across + whole.kerf for across in wide)
    if room - whole.kerf < whole.keep:  # or else the whole length is left beside them
        rests = [max(left(whole, *stretch) for stretch in zip(kind.clear, strip, strict=True)) for strip in laid.strips]
        best = max(
            (rest for rest, across in zip(rests, wide, strict=True) if across >= whole.keep), default=whole.keep - 1
        )
        for place in sorted(range(len(wide)), key=lambda place: -rests[place]):
            if rests[place] > best and wide[place] < whole.keep <= wide[place] + room:
                wide[place] = whole.keep
                break
    return wide


def rests(whole: IntegerProblem, laid: Laid) -> list[Rest]:
    """Every offcut of the piece."""
    kind, rests, across = whole.kinds[laid.kind], [], 0
    for strip, width in zip(laid.strips, widths(whole, laid), strict=True):
        for clear, parts in zip(kind.clear, strip, strict=True):
            length = left(whole, clear, parts)
            rests.append(Rest(clear[1] - length, length, across, width))
        across += width + whole.kerf
    rests += [Rest(first, last - first, across, kind.width - across) for first, last in kind.clear]
    return [rest for rest in rests if rest.length >= whole.keep and rest.width >= whole.keep]


def rank(whole: IntegerProblem, ways: Sequence[int | None], pieces: Sequence[Laid]) -> tuple[int, int, int, int]:
    """What a plan is judged by, less is better: needs left out, cost, waste, and the longest offcut, negative."""
    kinds = [whole.kinds[laid.kind] for laid in pieces]
    blanks = sum(
        whole.parts[part].volume
        for need, way in zip(whole.needs, ways, strict=True)
        if way is not None
        for part in need[way]
    )
    longest = max((rest.length for laid in pieces for rest in rests(whole, laid)), default=0)
    waste = sum(kind.volume for kind in kinds) - blanks
    return sum(way is None for way in ways), sum(kind.price for kind in kinds), waste, -longest
