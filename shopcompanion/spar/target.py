"""A new target for a spar that is too thin somewhere: the largest fair one of its law that is still in the wood.

A law has its own few widths (unknowns); y is each of them as a part of the design's, so the design is y = 1.

- straight: the width at every station. Fair: at a station in between, the new spar bends the way the design does and
  no sharper, so it has neither a hump nor a hollow that the design has not.
- bowed: the full width, and each end that is thinner; a stretch of full width stays one, and no end outgrows it.
- faired, and the published tables: the widths times a factor that runs straight from heel to head, faired anew.

Nowhere above the design (y ≤ 1), and at no measured station above the least width that was measured there; between
the measured stations nothing is known, and nothing is asked. The design scaled down keeps all of this, so there is
always an answer. Largest: the mean width plus the least part of the design's width that is kept anywhere, both
as parts of the design's; the second of them so that what is lost is not all taken in one place.

Of straight and bowed spars the width anywhere is a weighted mean of the y, times the design's there: a linear
programme. Fairing is not linear, but scales: for every tilt of the factor its size is known, and the tilt is searched.
"""

from collections.abc import Callable, Sequence
from itertools import pairwise

from ..record import NamedTuple
from .outline import Outline
from .programme import Row, largest
from .tables import PUBLISHED

Shares = Callable[[float], tuple[tuple[int, float], ...]]  # station -> (unknown, its weight in the width there)
_POINTS = 32
_TILT, _TILTS = 0.08, 11  # a step of the search, and how many to either side
_GOLDEN = (5**0.5 - 1) / 2


class _Law(NamedTuple):
    """A spar's widths as sums of the unknowns y, and what keeps them fair: Σ row·y ≤ bound."""

    unknowns: int
    shares: Shares
    fair: list[tuple[Row, float]]


class Kept(NamedTuple):
    """What a new target keeps of the design, as parts of 1; of an oval the worse of its two ways."""

    least_ratio: float
    stiffness_worst: float
    stiffness_tip: float
    strength_worst: float


def new_target(design: Outline, limits: Sequence[tuple[float, float]]) -> Outline:
    """The largest fair spar of the design's law that is nowhere over the design, nor over `limits`, (station, width).

    All mm; no limit is under half of the design. Its stations are the design's. A published table no longer holds, so
    its spar becomes a faired one.
    """
    if design.law not in ("straight", "bowed"):
        return _shaved(_tilted(design, limits), design, limits)
    law = _straight(design) if design.law == "straight" else _bowed(design)
    parts = _parts(law, _gains(design, law), [(at, width / design.width_at(at)) for at, width in limits])
    widths = [width * sum(weight * parts[k] for k, weight in law.shares(at)) for at, width in design.stations]
    return _shaved(_made(design, widths), design, limits)


def _tilted(design: Outline, limits: Sequence[tuple[float, float]]) -> Outline:
    length = design.length
    ends = _Law(2, lambda at: ((0, 1 - at / length), (1, at / length)), [])
    to_heel, to_head = _gains(design, ends)

    def line(tilt: float) -> tuple[float, Outline]:
        """The worth of the largest line whose factor is full at one end, and less by `tilt` at the other."""
        heel, head = 1 + min(tilt, 0), 1 - max(tilt, 0)
        raw = _made(design, [width * (heel + (head - heel) * at / length) for at, width in design.stations])
        scale = min([1.0, *(width / raw.width_at(at) for at, width in limits)])
        return scale * (to_heel * heel + to_head * head + min(heel, head)), _scaled(raw, scale)

    tilts = [k * _TILT for k in range(-_TILTS, _TILTS + 1)]
    best = max(tilts, key=lambda tilt: (line(tilt)[0], -abs(tilt)))
    low, high = best - _TILT, best + _TILT
    while high - low > 1e-6:  # by golden section
        left, right = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
        if line(left)[0] < line(right)[0]:
            low = left
        else:
            high = right
    return max((line(best), line((low + high) / 2)), key=lambda trial: trial[0])[1]


def _parts(law: _Law, gains: list[float], limits: list[tuple[float, float]]) -> list[float]:
    """The unknowns y of the largest spar within `limits`, (station, part of the design's width)."""
    least = law.unknowns  # the column of c, the least y; y = c + z, z ≥ 0
    rows: list[tuple[Row, float]] = [({k: 1.0, least: 1.0}, 1.0) for k in range(law.unknowns)]
    rows += [({**dict(law.shares(at)), least: 1.0}, part) for at, part in limits if part < 1]
    rows += [({**row, least: sum(row.values())}, bound) for row, bound in law.fair]
    *over, base = largest([*gains, 2.0], [row for row, _ in rows], [bound for _, bound in rows])
    return [base + above for above in over]


def _made(design: Outline, widths: list[float]) -> Outline:
    law = "faired" if design.law in PUBLISHED else design.law
    if law == "bowed":  # the same full width everywhere, to the last digit
        full = max(width for (_, was), width in zip(design.stations, widths, strict=True) if was == design.widest)
        widths = [
            full if was == design.widest else min(width, full)
            for (_, was), width in zip(design.stations, widths, strict=True)
        ]
    return Outline(tuple((at, width) for (at, _), width in zip(design.stations, widths, strict=True)), law)


def _shaved(raw: Outline, design: Outline, limits: Sequence[tuple[float, float]]) -> Outline:
    """An outline scaled down until it is nowhere over the limits: by last digits, or by what fairing lifted."""
    over = [raw.width_at(at) / width for at, width in limits]
    over += [raw.width_at(at) / design.width_at(at) for at in points(design)]
    if max(over) <= 1:
        return raw
    return _scaled(raw, (1 - 1e-12) / max(over))


def _scaled(line: Outline, scale: float) -> Outline:
    return Outline(tuple((at, width * scale) for at, width in line.stations), line.law)


def _straight(design: Outline) -> _Law:
    stations = design.stations

    def shares(at: float) -> tuple[tuple[int, float], ...]:
        (x0, w0), (x1, w1) = design.piece_at(at)
        k = index[x0]
        t = (at - x0) / (x1 - x0)
        here = w0 + (w1 - w0) * t
        return (k, (1 - t) * w0 / here), (k + 1, t * w1 / here)

    index = {at: k for k, (at, _) in enumerate(stations)}
    fair: list[tuple[Row, float]] = []
    for k in range(1, len(stations) - 1):
        (x0, w0), (x1, w1), (x2, w2) = stations[k - 1 : k + 2]
        part = (x1 - x0) / (x2 - x0)
        row = {k - 1: w0 * (1 - part) / design.widest, k: -w1 / design.widest, k + 1: w2 * part / design.widest}
        bend = sum(row.values())  # how far the chord lies over the station: hollow if more than 0
        way = 1 if bend >= 0 else -1
        fair.append(({k: way * share for k, share in row.items()}, abs(bend)))
        fair.append(({k: -way * share for k, share in row.items()}, 0.0))
    return _Law(len(stations), shares, fair)


def _bowed(design: Outline) -> _Law:
    full = design.widest
    ends = [at for at, width in (design.stations[0], design.stations[-1]) if width < full]
    index = {at: k for k, at in enumerate(ends, 1)}

    def shares(at: float) -> tuple[tuple[int, float], ...]:
        (x0, w0), (x1, w1) = design.piece_at(at)
        if w0 == w1:
            return ((0, 1.0),)
        end, width, part = (x1, w1, (at - x0) / (x1 - x0)) if w0 > w1 else (x0, w0, (x1 - at) / (x1 - x0))
        here = full - (full - width) * part**2
        return (0, (1 - part**2) * full / here), (index[end], part**2 * width / here)

    fair: list[tuple[Row, float]] = [({index[at]: design.width_at(at) / full, 0: -1.0}, 0.0) for at in ends]
    return _Law(1 + len(ends), shares, fair)


def _gains(design: Outline, law: _Law) -> list[float]:
    """What each unknown gives to the mean width; together 1. Simpson, exact for straight and bowed."""
    gains = [0.0] * law.unknowns
    for (x0, _), (x1, _) in pairwise(design.stations):
        for at, weight in _simpson(x0, x1, 4):
            for k, share in law.shares(at):
                gains[k] += weight * share * design.width_at(at)
    whole = sum(gains)
    return [gain / whole for gain in gains]


def _simpson(start: float, end: float, parts: int) -> list[tuple[float, float]]:
    """Places and weights; `parts` is even."""
    step = (end - start) / parts
    weights = [1, *(4 if k % 2 else 2 for k in range(1, parts)), 1]
    return [(min(start + k * step, end), weight * step / 3) for k, weight in enumerate(weights)]


def _fine(outline: Outline) -> int:
    return max(2, 2 * (_POINTS // (len(outline.stations) - 1)))


def points(outline: Outline) -> list[float]:
    """Places close together along the spar, with every station among them."""
    parts = _fine(outline)
    within = [x0 + (x1 - x0) * k / parts for (x0, _), (x1, _) in pairwise(outline.stations) for k in range(parts)]
    return [*within, outline.length]


def kept(design: tuple[Outline, Outline], new: tuple[Outline, Outline]) -> Kept:
    """What `new` keeps of `design`, each as (width, depth); of a round both are the same. For a solid spar.

    Of a section: stiffness goes with width·depth³, strength with width·depth². From tip: a spar held at its heel
    and loaded at its head bends by ∫ x²/I dx, x from the head.
    """
    ratios = [
        tuple(now.width_at(at) / was.width_at(at) for was, now in zip(design, new, strict=True))
        for at in points(design[0])
    ]
    return Kept(
        least_ratio=min(map(min, ratios)),
        stiffness_worst=min(min(w * d**3, d * w**3) for w, d in ratios),
        stiffness_tip=min(
            _bends(design, way) / _bends(new, way) for way in ((0,) if design[0] is design[1] else (0, 1))
        ),
        strength_worst=min(min(w * d**2, d * w**2) for w, d in ratios),
    )


def _bends(spar: tuple[Outline, Outline], way: int) -> float:
    """∫ x²/(width·depth³) dx with x from the head; with `way` 1 the other way about."""
    across, along = spar[way], spar[1 - way]
    parts, length = 4 * _fine(across), across.length  # a short steep stretch needs them
    return sum(
        weight * (length - at) ** 2 / (across.width_at(at) * along.width_at(at) ** 3)
        for (x0, _), (x1, _) in pairwise(across.stations)
        for at, weight in _simpson(x0, x1, parts)
    )
