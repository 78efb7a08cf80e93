"""Where along a spar so many sides leave corners that are too proud for sanding. Millimetres."""

from collections.abc import Iterator
from itertools import pairwise

from .along import Stretch
from .body import Body
from .polygon import oval_facets, ridge

_PIECES = 8  # of what lies between two breaks, each taken to pass the limit once at most
_HALVINGS = 40
Range = tuple[float, float]


def too_proud(spar: Body, sides: int, ridge_ok: float) -> tuple[Range, ...]:
    """The ranges, from the heel, where a corner of that many sides stands more than `ridge_ok` over the finished spar.

    >>> from shopcompanion.spar.outline import Outline
    >>> too_proud(Body(Outline(((0.0, 60.0), (1000.0, 40.0)))), 16, 0.4897789552)
    ((0.0, 500.0),)
    """
    ranges: list[Range] = []
    for start, end in _over(spar, sides, ridge_ok):
        if ranges and start - ranges[-1][1] < 1e-6:
            ranges[-1] = (ranges[-1][0], end)
        else:
            ranges.append((start, end))
    return tuple(ranges)


def _over(spar: Body, sides: int, ridge_ok: float) -> Iterator[Range]:
    marks = {at for outline in (spar.outline, spar.depths) if outline for at, _ in outline.stations}
    marks |= {end for stretch in spar.stretches for end in (stretch.start, stretch.end)}
    for low, high in pairwise(sorted(marks)):
        stretch = spar.stretch_at((low + high) / 2)
        step = (high - low) / _PIECES
        ats = [low + k * step for k in range(_PIECES)] + [high]
        for start, end in pairwise(ats):
            over = [_proud(spar, stretch, at, sides) > ridge_ok for at in (start, end)]
            if all(over):
                yield start, end
            elif any(over):
                where = _passes(spar, stretch, (start, end), sides, ridge_ok)
                yield (start, where) if over[0] else (where, end)


def _proud(spar: Body, stretch: Stretch, at: float, sides: int) -> float:
    """How far the worst corner stands out; in a run-out, over what is meant there."""
    cut = stretch.corners_off(at, 16)
    if not cut:
        return 0.0
    width = spar.width_at(at)
    if spar.depths is None:
        return cut * ridge(width, sides)
    return cut * max(facet.ridge for facet in oval_facets(width, spar.depth_at(at), sides))


def _passes(spar: Body, stretch: Stretch, ends: Range, sides: int, ridge_ok: float) -> float:
    """Where between the ends the ridge passes the limit, by halving."""
    low, high = ends
    over_low = _proud(spar, stretch, low, sides) > ridge_ok
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        if (_proud(spar, stretch, middle, sides) > ridge_ok) == over_low:
            low = middle
        else:
            high = middle
    return round((low + high) / 2, 6)
