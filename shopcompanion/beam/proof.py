"""A spar under its load: how far it bends, where it is worked hardest, and how near it is to buckling."""

from bisect import bisect_right
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from math import sqrt

from ..errors import InputFault
from ..record import NamedTuple
from ..spar.body import Body
from . import elements, sections, solve
from .model import Load, Push, Support, check

GRAVITY = 9.80665  # m/s², standard
PLANES = ("weaker", *sections.PLANES)
_NEWTONS = 4.4482216152605  # in a pound-force, NIST SP 811
_SAME = 1e-6  # mm: so near a node is at it
_GOLDEN = (sqrt(5) - 1) / 2


class Bearing(NamedTuple):
    """What holds a spar in a plane, and what bends it there."""

    supports: tuple[Support, ...]
    loads: tuple[Load, ...]


@dataclass(frozen=True, slots=True)
class Case:
    """A spar, its timber's stiffness (MPa) and density (kg/m³, where its own weight counts), and what it bears.

    `weighs`: its own weight presses it along, as it stands, or bends it across, as it lies, or does not count.
    `plane`: the one that it is bent in, or the weaker: the one in which it is worked harder. `sideways` is how it is
    held and loaded in the plane of its width, where that is another way than in that of its depth. Its pieces begin at
    `breaks`, too.
    """

    body: Body
    modulus: float
    supports: tuple[Support, ...]
    loads: tuple[Load, ...] = ()
    pushes: tuple[Push, ...] = ()
    density: float = 0.0
    weighs: str = "no"
    plane: str = "weaker"
    pieces: int = 48
    sideways: Bearing | None = None
    breaks: tuple[float, ...] = ()

    def bearing(self, plane: str) -> Bearing:
        """What holds and bends it in the plane of its depth or of its width."""
        if self.sideways is not None and plane == sections.PLANES[1]:
            return self.sideways
        return Bearing(self.supports, self.loads)

    def bare(self) -> "Case":
        """The same without what fittings take, in the same pieces."""
        return replace(self, body=self.body._replace(fittings=()), breaks=self.body.breaks)


class At(NamedTuple):
    """At one station: moment (N·mm), stress (MPa, of the harder worked side) and deflection (mm)."""

    moment: float
    stress: float
    deflection: float


class Gives(NamedTuple):
    """How it buckles: under so many times what presses it, N, bowing most at a station; in the plane of its depth or
    width, or "" in any direction, where it is as stiff and as held in all.
    """

    times: float
    force: float
    plane: str
    at: float


@dataclass(frozen=True, slots=True)
class Proof:
    """A spar bent: `plane` is the one it was bent in. Stations are from the heel, mm; forces N, stresses MPa."""

    case: Case
    plane: str
    bent: solve.Bent
    stress: sections.Ends
    worst_at: float
    worst_stress: float
    gives: Gives | None

    @property
    def bearing(self) -> Bearing:
        """What holds it, and what bends it, in the plane that it was bent in."""
        return self.case.bearing(self.plane)

    def volume(self) -> float:
        """Its wood, mm³, summed at the places where the pieces look at it."""
        nodes = self.bent.nodes
        area = sections.along(self.case.body, nodes).area
        lengths = [high - low for low, high in pairwise(nodes)]
        return sum(elements.over(*piece) for piece in zip(lengths, area, strict=True))

    @property
    def tip(self) -> float:
        """How far the head goes, signed."""
        return self.bent.deflection[-1]

    @property
    def farthest(self) -> tuple[float, float]:
        """The station that goes farthest, and how far, signed."""
        nodes = self.bent.nodes
        node = max(range(len(nodes)), key=lambda node: abs(self.bent.deflection[node]))
        at = max(
            (nodes[node], *_rises(lambda at: abs(self.deflection_at(at)), nodes, node)),
            key=lambda at: abs(self.deflection_at(at)),
        )
        return at, self.deflection_at(at)

    def deflection_at(self, at: float) -> float:
        k, s, h = self._piece(at)
        w, turn = self.bent.deflection, self.bent.turn
        return (
            w[k] * (1 - 3 * s**2 + 2 * s**3) + turn[k] * h * (s - 2 * s**2 + s**3)
            + w[k + 1] * (3 * s**2 - 2 * s**3) + turn[k + 1] * h * (s**3 - s**2)
        )  # fmt: skip

    def moment_at(self, at: float) -> float:
        """Between two nodes its load is taken to be the same all along; where it jumps, the larger."""
        k, s, h = self._piece(at)
        first, last = self.bent.moment[k]
        here = first + (last - first) * s - self.bent.load[k] * h * h * s * (1 - s) / 2
        return max(here, self.bent.moment[k - 1][1], key=abs) if k and s * h < _SAME else here

    def stress_at(self, at: float) -> float:
        """At a node, of the side that is worked harder."""
        k, s, h = self._piece(at)
        sides = [self.stress[k][0]] if s * h < _SAME else []
        if sides and k:
            sides.append(self.stress[k - 1][1])
        if (1 - s) * h < _SAME:
            sides.append(self.stress[k][1])
        return max(sides) if sides else self._stress(at)

    def at(self, at: float) -> At:
        return At(self.moment_at(at), self.stress_at(at), self.deflection_at(at))

    def direct_at(self, at: float) -> float:
        """What of the stress is straight pressure or pull, MPa."""
        return self._pressed_at(at) / sections.worth(self.case.body, at).area

    def _pressed_at(self, at: float) -> float:
        k, s, _ = self._piece(at)
        first, last = self.bent.compression[k]
        return abs(first + (last - first) * s)

    def _stress(self, at: float) -> float:
        worth = sections.worth(self.case.body, at)
        modulus = worth.modulus[sections.PLANES.index(self.plane)]
        return abs(self.moment_at(at)) / modulus + self._pressed_at(at) / worth.area

    def _piece(self, at: float) -> tuple[int, float, float]:
        nodes = self.bent.nodes
        k = min(max(bisect_right(nodes, at) - 1, 0), len(nodes) - 2)
        h = nodes[k + 1] - nodes[k]
        return k, (at - nodes[k]) / h, h


@lru_cache(maxsize=4)
def prove(case: Case, *, buckling: bool = True) -> Proof:
    """The proof of a case; how it gives is left out where `buckling` is not asked for.

    InputFault, naming `supports`, `loads` or `push`, when it cannot stand, or buckles under its load.
    """
    body = case.body
    bearings = {plane: case.bearing(plane) for plane in sections.PLANES}
    for bearing in bearings.values():
        check(body.length, *bearing, case.pushes)
    supports, loads = ([*a, *b] for a, b in zip(*bearings.values(), strict=True))
    nodes = solve.mesh(body.length, (*body.breaks, *case.breaks), supports, loads, case.pushes, pieces=case.pieces)
    section = sections.along(body, nodes)
    own = _scaled(section.area, case.density * 1e-9 * GRAVITY)
    along, across = own if case.weighs == "along" else None, own if case.weighs == "across" else None
    beams = {
        plane: solve.Beam(nodes, _scaled(second, case.modulus), bearings[plane].supports, case.pushes, along)
        for plane, second in zip(sections.PLANES, section.second, strict=True)
    }
    alike = case.sideways is None and _alike(*section.second) and _alike(*section.end_modulus)
    gives = _gives(beams, alike) if buckling else None
    if gives is not None and gives.times <= 1:
        raise InputFault(
            f"it buckles under its load: it is pressed with {newtons(gives.force / gives.times)} along it, "
            f"and gives way at {newtons(gives.force)}", "push",
        )  # fmt: skip
    wanted = sections.PLANES[:1] if alike and case.plane == "weaker" else sections.PLANES
    wanted = wanted if case.plane == "weaker" else (case.plane,)
    tried = []
    for plane in wanted:
        bent = beams[plane].bent(
            bearings[plane].loads, across if case.sideways is None or plane == sections.PLANES[0] else None
        )
        modulus = section.end_modulus[sections.PLANES.index(plane)]
        stress = tuple(
            (abs(low_moment) / low_modulus + abs(low_press) / low_area,
             abs(high_moment) / high_modulus + abs(high_press) / high_area)
            for (low_moment, high_moment), (low_modulus, high_modulus), (low_press, high_press), (low_area, high_area)
            in zip(bent.moment, modulus, bent.compression, section.end_area, strict=True)
        )  # fmt: skip
        tried.append((max(map(max, stress)), plane, bent, stress))
    _, plane, bent, stress = max(tried, key=lambda trial: trial[0])
    proof = Proof(case, plane, bent, stress, 0.0, 0.0, gives)
    worst_at, worst = _worst(proof)
    return replace(proof, worst_at=worst_at, worst_stress=worst)


def _scaled(values: sections.Fours, times: float) -> sections.Fours:
    return tuple((a * times, b * times, c * times, d * times) for a, b, c, d in values)


def _alike(deep: Sequence[Sequence[float]], wide: Sequence[Sequence[float]]) -> bool:
    """Whether they are the same either way, but for the last digits."""
    return all(abs(a - b) <= 1e-9 * a for piece in zip(deep, wide, strict=True) for a, b in zip(*piece, strict=True))


def _gives(beams: dict[str, solve.Beam], alike: bool) -> Gives | None:
    ways = []
    for plane, beam in list(beams.items())[: 1 if alike else None]:
        if buckling := beam.buckling():
            at = max(zip(beam.nodes, buckling.mode, strict=True), key=lambda place: abs(place[1]))[0]
            ways.append(Gives(buckling.times, buckling.times * beam.most_pressed, "" if alike else plane, at))
    return min(ways, default=None)


def _worst(proof: Proof) -> tuple[float, float]:
    """The station that is worked hardest and its stress, looked for inside the pieces on either side of the node."""
    nodes, stress = proof.bent.nodes, proof.stress
    highest, node = max(
        ((sides[end], k + end) for k, sides in enumerate(stress) for end in (0, 1)), key=lambda place: place[0]
    )
    inside = ((at, proof._stress(at)) for at in _rises(proof._stress, nodes, node))
    return max(((nodes[node], highest), *inside), key=lambda place: place[1])


def _rises(of: Callable[[float], float], nodes: Sequence[float], node: int) -> Iterator[float]:
    """Where `of` is highest in each of the two pieces beside a node in which it rises as one goes from the node."""
    for other in (node - 1, node + 1):
        if not 0 <= other < len(nodes):
            continue
        away = nodes[other] - nodes[node]
        near, far = nodes[node] + 1e-6 * away, nodes[other] - 1e-6 * away
        if of(nodes[node] + 1e-3 * away) > of(near):
            yield _highest(of, min(near, far), max(near, far))


def _highest(of: Callable[[float], float], low: float, high: float) -> float:
    """The place between two others where `of` is highest, by golden section."""
    a, b = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
    at_a, at_b = of(a), of(b)
    while high - low > 0.05:
        if at_a < at_b:
            low, a, at_a = a, b, at_b
            b = low + _GOLDEN * (high - low)
            at_b = of(b)
        else:
            high, b, at_b = b, a, at_a
            a = high - _GOLDEN * (high - low)
            at_a = of(a)
    return (low + high) / 2


def newtons(force: float) -> str:
    """A force in either unit, to three figures.

    >>> newtons(1234.5)
    '1.23 kN (278 lbf)'
    """
    pounds = force / _NEWTONS
    metric = f"{force / 1000:.3g} kN" if abs(force) >= 1000 else f"{force:.3g} N"
    return f"{metric} ({float(f'{pounds:.3g}'):.{0 if abs(pounds) >= 100 else 1}f} lbf)"


def total(loads: Sequence[Load]) -> float:
    """All the forces of the loads together, N."""
    return sum(load.total for load in loads)
