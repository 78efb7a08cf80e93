"""A beam solved: how it bends, what its supports take, and how many times what presses it lengthwise it would stand.

Euler–Bernoulli, small deflections, with the bending that a push along it adds (second order).
"""

from collections.abc import Sequence
from itertools import accumulate, pairwise
from math import ceil

from ..errors import InputFault
from ..record import NamedTuple
from . import elements
from .banded import Factor, NotPositive, largest
from .elements import Four
from .model import Load, Push, Support, check

PIECES = 128  # of a beam that has no breaks
_SAME = 1e-6


class Buckling(NamedTuple):
    """`times` what presses it now it gives way; `mode` is its shape then at the nodes, 1 where it goes farthest."""

    times: float
    mode: tuple[float, ...]


class Bent(NamedTuple):
    """At every node, from the heel: deflection (mm) and turn (rad). Of every piece, at its heelward and its headward
    end: moment (N·mm) and compression (N); and the load along it, in its mean, N/mm. Of every support: its reaction
    (N), and its moment (N·mm) if it is fixed.
    """

    nodes: tuple[float, ...]
    deflection: tuple[float, ...]
    turn: tuple[float, ...]
    moment: tuple[tuple[float, float], ...]
    compression: tuple[tuple[float, float], ...]
    load: tuple[float, ...]
    reactions: tuple[float, ...]
    fixing: tuple[float, ...]


def mesh(
    length: float,
    breaks: Sequence[float],
    supports: Sequence[Support],
    loads: Sequence[Load],
    pushes: Sequence[Push],
    *,
    pieces: int = PIECES,
) -> tuple[float, ...]:
    """Nodes along the beam: at every break, support, load and push, and evenly between so that there are `pieces`."""
    marks = {0.0, length, *breaks, *(support.at for support in supports), *(push.at for push in pushes)}
    marks |= {at for load in loads for at in (load.start, load.end)}
    kept = [0.0]
    for at in sorted(min(max(at, 0.0), length) for at in marks):
        if at - kept[-1] > length * 1e-9:
            kept.append(at)
    kept[-1] = length
    nodes = []
    for low, high in pairwise(kept):
        count = max(1, ceil((high - low) / length * pieces - 1e-9))
        nodes += [low + k * ((high - low) / count) for k in range(count)]
    return (*nodes, length)


class Beam:
    """A beam in its pieces. `nodes` has one at every support, load and push; `stiffness` is EI, N·mm², at the places of
    every piece (`elements.places`); `weight`, N/mm, there, is what it weighs itself, pressing towards the heel.

    InputFault when it cannot stand or something lies off it.
    """

    def __init__(
        self,
        nodes: Sequence[float],
        stiffness: Sequence[Four],
        supports: Sequence[Support],
        pushes: Sequence[Push] = (),
        weight: Sequence[Four] | None = None,
    ) -> None:
        check(nodes[-1], supports, (), pushes)
        self.nodes, self.supports = tuple(nodes), tuple(supports)
        self.lengths = [high - low for low, high in pairwise(nodes)]
        self._bent = [elements.bent(*piece) for piece in zip(self.lengths, stiffness, strict=True)]
        self._held = {2 * self._node(support.at) for support in supports if support.kind != "spring"}
        self._held |= {2 * self._node(support.at) + 1 for support in supports if support.kind == "fixed"}
        self._springs = [
            (2 * self._node(support.at), support.stiffness) for support in supports if support.kind == "spring"
        ]
        self._push = self._compression(pushes, weight)
        self._pressed = (
            [elements.pressed(*piece) for piece in zip(self.lengths, self._push, strict=True)]
            if any(map(any, self._push)) else None
        )  # fmt: skip

    def _node(self, at: float) -> int:
        node = min(range(len(self.nodes)), key=lambda node: abs(self.nodes[node] - at))
        assert abs(self.nodes[node] - at) <= max(_SAME, 1e-9 * self.nodes[-1]), at
        return node

    @property
    def _foot(self) -> int:
        """The node of the support nearest the heel that holds lengthwise."""
        return min((self._node(support.at) for support in self.supports if support.holds_lengthwise), default=0)

    def _compression(self, pushes: Sequence[Push], weight: Sequence[Four] | None) -> list[Four]:
        """At the places, N: everything above the support that carries it, and negative for what hangs."""
        foot = self._foot
        forces = [0.0] * len(self.lengths)
        for push in pushes:
            node = self._node(push.at)
            for piece in range(min(node, foot), max(node, foot)):
                forces[piece] += push.force if node > foot else -push.force
        if weight is None:
            return [(force, force, force, force) for force in forces]
        weights = [elements.over(*piece) for piece in zip(self.lengths, weight, strict=True)]
        above = [*accumulate(reversed(weights), initial=0.0)][::-1]  # every node
        pressed = []
        for piece, (force, own) in enumerate(zip(forces, weights, strict=True)):
            heelward = force + above[piece + 1] - (0.0 if piece >= foot else above[0])
            a, b, c, d = (heelward + own * (1 - place) for place in elements.PLACES)
            pressed.append((a, b, c, d))
        return pressed

    @property
    def most_pressed(self) -> float:
        """The largest compression along it, N; 0 where nothing presses."""
        return max(0.0, *map(max, self._ends_pressed()))

    def _stiff(self, pieces: Sequence[elements.Matrix]) -> elements.Band:
        band = elements.banded(pieces, self._held, 1.0)
        for number, stiffness in self._springs:
            band[number][elements.BAND] += stiffness
        return band

    def buckling(self) -> Buckling | None:
        """How many times what presses it the beam stands, and its shape as it buckles; None where nothing presses."""
        if self._pressed is None or self.most_pressed == 0:
            return None
        # the largest of 1/times: pressed·mode = (1/times)·stiff·mode
        root, moved = largest(Factor(self._stiff(self._bent)), elements.banded(self._pressed, self._held, 0.0))
        if root <= 0:
            return None
        mode = moved[0::2]
        most = max(mode, key=abs)
        return Buckling(1 / root, tuple(moves / most for moves in mode))

    def bent(self, loads: Sequence[Load] = (), weight: Sequence[Four] | None = None) -> Bent:
        """How it bends under `loads`, and under a `weight` per length, N/mm, given at the places.

        InputFault when it gives way under the push.
        """
        check(self.nodes[-1], self.supports, loads, ())
        spread, points = self._load(loads)
        if weight is not None:
            spread = [_sum(*piece) for piece in zip(spread, weight, strict=True)]
        loaded = [elements.loaded(*piece) for piece in zip(self.lengths, spread, strict=True)]
        force = points.copy()
        for first, ends in zip(range(0, len(force), 2), loaded, strict=False):
            for a in range(4):
                force[first + a] += ends[a]
        pieces = self._bent
        if self._pressed is not None:
            pieces = [elements.less(*piece) for piece in zip(self._bent, self._pressed, strict=True)]
        try:
            moved = Factor(self._stiff(pieces)).solve(
                [0.0 if number in self._held else value for number, value in enumerate(force)]
            )
        except NotPositive:
            raise InputFault("it buckles under its push", "push") from None
        held = [-value for value in points]
        at_ends = []
        for first, matrix, ends in zip(range(0, len(force), 2), pieces, loaded, strict=False):
            moves = moved[first : first + 4]
            here = [
                sum(a * b for a, b in zip(row, moves, strict=True)) - end for row, end in zip(matrix, ends, strict=True)
            ]
            for a in range(4):
                held[first + a] += here[a]
            at_ends.append(here)
        noise = 1e-10 * max(max(map(abs, here)) for here in at_ends)
        springs = {number: -stiffness * moved[number] for number, stiffness in self._springs}
        nodes = [2 * self._node(support.at) for support in self.supports]
        return Bent(
            self.nodes,
            tuple(moved[0::2]),
            tuple(moved[1::2]),
            tuple((-_clean(heel, noise), _clean(head, noise)) for _, heel, _, head in at_ends),
            tuple(self._ends_pressed()),
            tuple(elements.over(1.0, piece) for piece in spread),
            tuple(springs.get(number, held[number]) for number in nodes),
            tuple(held[number + 1] if support.kind == "fixed" else 0.0
                  for support, number in zip(self.supports, nodes, strict=True)),
        )  # fmt: skip

    def _ends_pressed(self) -> list[tuple[float, float]]:
        """Compression at the heelward and headward end of every piece: along it it changes evenly, or as the weight."""
        low, *_, high = elements.PLACES
        pressed = []
        for first, _, _, last in self._push:
            slope = (last - first) / (high - low)
            pressed.append((first - slope * low, last + slope * (1 - high)))
        return pressed

    def _load(self, loads: Sequence[Load]) -> tuple[list[Four], list[float]]:
        """The load per length at the places, and what works at the nodes, force and moment by turns."""
        spread: list[Four] = [(0.0, 0.0, 0.0, 0.0)] * len(self.lengths)
        points = [0.0] * (2 * len(self.nodes))
        places = elements.places(self.nodes)
        for load in loads:
            if load.kind == "spread":
                for piece, at in enumerate(places):
                    if load.start < at[0] < load.end:  # it ends at nodes, so it is over the whole of a piece or none
                        growth = (load.last - load.size) / (load.end - load.start)
                        a, b, c, d = (load.size + growth * (place - load.start) for place in at)
                        spread[piece] = _sum(spread[piece], (a, b, c, d))
            else:
                points[2 * self._node(load.start) + (load.kind == "moment")] += load.size
        return spread, points


def _sum(a: Four, b: Four) -> Four:
    return a[0] + b[0], a[1] + b[1], a[2] + b[2], a[3] + b[3]


def _clean(value: float, noise: float) -> float:
    return value if abs(value) >= noise else 0.0
