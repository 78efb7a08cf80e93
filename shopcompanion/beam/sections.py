"""What a spar's sections are worth along it: second moments, moduli and areas, with what its fittings take."""

from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise, repeat

from ..errors import InputFault
from ..record import NamedTuple
from ..spar.body import Body
from . import elements

Fours = tuple[elements.Four, ...]  # of every piece, at its places
Ends = tuple[tuple[float, float], ...]  # of every piece, at its heelward and at its headward end

PLANES = ("depth", "width")  # it bends in the plane of its depth, A to C, or of its width, B to D
_BESIDE = 1e-6  # of a piece: so far inside it its ends are looked at, as a section may change at a break


class Worth(NamedTuple):
    """A section at one place: area (mm²), second moments (mm⁴) and moduli (mm³) for either plane of `PLANES`."""

    area: float
    second: tuple[float, float]
    modulus: tuple[float, float]


class Along(NamedTuple):
    """At the places of every piece: area, and second moments for either plane; at both its ends: area, and moduli."""

    area: Fours
    second: tuple[Fours, Fours]
    end_area: Ends
    end_modulus: tuple[Ends, Ends]


def worth(body: Body, at: float) -> Worth:
    """The section at a station. InputFault where nothing of it is left."""
    return _worth(body, at, _cut(body))


def _cut(body: Body) -> list[tuple[float, float]]:
    """From where to where fittings take wood."""
    middles = [(fitting.middle(body.length), fitting.reach) for fitting in body.fittings if fitting.takes_wood]
    return [(middle - reach, middle + reach) for middle, reach in middles]


def _worth(body: Body, at: float, cut: Sequence[tuple[float, float]]) -> Worth:
    if any(low <= at <= high for low, high in cut):
        left = body.left_at(at)
        if left.area <= 0 or min(left.second_depth, left.second_width) <= 0:
            raise InputFault("the fittings leave no wood at {}", "whole", (at,))
        return Worth(left.area, (left.second_depth, left.second_width), (left.modulus_depth, left.modulus_width))
    across = body.section_at(at)
    _, width, depth, *_ = across.headward
    area, (deep, wide) = across.headward.area, across.headward.second_moments
    if across.heelward != across.headward:
        before = across.heelward.area, *across.heelward.second_moments
        area, deep, wide = (across.blend(ends) for ends in zip(before, (area, deep, wide), strict=True))
    return Worth(area, (deep, wide), (2 * deep / depth, 2 * wide / width))


@lru_cache(maxsize=4)
def along(body: Body, nodes: tuple[float, ...]) -> Along:
    """The sections of a spar between `nodes`, mm from the heel, which have one at every break."""
    cut = _cut(body)
    whole = along(body._replace(fittings=()), nodes) if cut else None  # asked for too, for what the fittings cost
    known = zip(whole.area, *whole.second, whole.end_area, *whole.end_modulus, strict=True) if whole else repeat(None)
    pieces = []
    for places, (low, high), as_whole in zip(elements.places(nodes), pairwise(nodes), known, strict=False):
        if as_whole is not None and not any(low <= to and since <= high for since, to in cut):
            pieces.append(as_whole)
            continue
        a, b, c, d = (_worth(body, at, cut) for at in places)
        beside = _BESIDE * (high - low)
        heel, head = _worth(body, low + beside, cut), _worth(body, high - beside, cut)
        pieces.append((
            (a.area, b.area, c.area, d.area),
            *((a.second[way], b.second[way], c.second[way], d.second[way]) for way in (0, 1)),
            (heel.area, head.area),
            *((heel.modulus[way], head.modulus[way]) for way in (0, 1)),
        ))  # fmt: skip
    area, deep, wide, end_area, end_deep, end_wide = zip(*pieces, strict=True)
    return Along(area, (deep, wide), end_area, (end_deep, end_wide))
