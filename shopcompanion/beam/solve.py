"""A beam solved: how it bends, what its supports take, and how many times what presses it lengthwise it would stand.

Euler–Bernoulli, small deflections, with the bending that a push along it adds (second order).
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from ..errors import InputFault
from . import elements
from .banded import Factor, NotPositive, largest
from .model import Load, Push, Support, check

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

PIECES = 128  # of a beam that has no breaks
_SAME = 1e-6


class Buckling(NamedTuple):
    """`times` what presses it now it gives way; `mode` is its shape then at the nodes, 1 where it goes farthest."""

    times: float
    mode: "Floats"


class Bent(NamedTuple):
    """At every node, from the heel: deflection (mm), turn (rad), compression (N) on either side of it, heelward and
    headward, and moment (N·mm) likewise; the reaction (N) of every support, and the moment of those that are fixed.
    """

    nodes: "Floats"
    deflection: "Floats"
    turn: "Floats"
    moment: "Floats"  # one row a piece: at its heelward and at its headward end
    compression: "Floats"  # likewise
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
) -> "Floats":
    """Nodes along the beam: at every break, support, load and push, and evenly between so that there are `pieces`."""
    import numpy as np

    marks = {0.0, length, *breaks, *(support.at for support in supports), *(push.at for push in pushes)}
    marks |= {at for load in loads for at in (load.start, load.end)}
    kept = [0.0]
    for at in sorted(min(max(at, 0.0), length) for at in marks):
        if at - kept[-1] > length * 1e-9:
            kept.append(at)
    kept[-1] = length
    ends = np.array(kept)
    counts = np.maximum(1, np.ceil(np.diff(ends) / length * pieces - 1e-9)).astype(int)
    cells = [np.linspace(a, b, n, endpoint=False) for a, b, n in zip(ends[:-1], ends[1:], counts, strict=True)]
    return np.concatenate([*cells, ends[-1:]])


class Beam:
    """A beam in its pieces. `nodes` has one at every support, load and push; `stiffness` is EI, N·mm², at
    `elements.places(nodes)`; `weight`, N/mm, there, is what it weighs itself, pressing towards the heel.

    InputFault when it cannot stand or something lies off it.
    """

    def __init__(
        self,
        nodes: "Floats",
        stiffness: "Floats",
        supports: Sequence[Support],
        pushes: Sequence[Push] = (),
        weight: "Floats | None" = None,
    ) -> None:
        import numpy as np

        check(float(nodes[-1]), supports, (), pushes)
        self.nodes, self.supports = nodes, tuple(supports)
        self.lengths = np.diff(nodes)
        self._bent = elements.bent(self.lengths, stiffness)
        held = {2 * self._node(support.at) for support in supports if support.kind != "spring"}
        held |= {2 * self._node(support.at) + 1 for support in supports if support.kind == "fixed"}
        movable = np.array([dof not in held for dof in range(2 * len(nodes))])
        self._free = np.where(movable, np.cumsum(movable) - 1, -1)
        self._movable = movable
        self._springs = [
            (2 * self._node(support.at), support.stiffness) for support in supports if support.kind == "spring"
        ]
        self._push = self._compression(pushes, weight)
        self._pressed = elements.pressed(self.lengths, self._push) if np.any(self._push) else None

    def _node(self, at: float) -> int:
        import numpy as np

        node = int(np.argmin(np.abs(self.nodes - at)))
        assert abs(self.nodes[node] - at) <= max(_SAME, 1e-9 * self.nodes[-1]), at
        return node

    @property
    def _foot(self) -> int:
        """The node of the support nearest the heel that holds lengthwise."""
        return min((self._node(support.at) for support in self.supports if support.holds_lengthwise), default=0)

    def _compression(self, pushes: Sequence[Push], weight: "Floats | None") -> "Floats":
        """At the places, N: everything above the support that carries it, and negative for what hangs."""
        import numpy as np

        count = len(self.lengths)
        forces = np.zeros((count, 4))
        foot = self._foot
        for push in pushes:
            node = self._node(push.at)
            low, high = min(node, foot), max(node, foot)
            forces[low:high] += push.force if node > foot else -push.force
        if weight is not None:
            pieces = weight @ np.array(elements.WEIGHTS) * self.lengths
            above = np.concatenate([np.cumsum(pieces[::-1])[::-1], [0.0]])
            inside = above[1:, None] + pieces[:, None] * (1 - np.array(elements.PLACES))
            total_below = above[0] - (inside if foot else 0.0)
            forces += np.where(np.arange(count)[:, None] >= foot, inside, -total_below)
        return forces

    @property
    def most_pressed(self) -> float:
        """The largest compression along it, N; 0 where nothing presses."""
        import numpy as np

        return max(0.0, float(np.max(self._ends_pressed(), initial=0.0)))

    def _stiff(self, pieces: "Floats") -> "Floats":
        band = elements.banded(pieces, self._free)
        for dof, stiffness in self._springs:
            band[elements.BAND, self._free[dof]] += stiffness
        return band

    def buckling(self) -> Buckling | None:
        """How many times what presses it the beam stands, and its shape as it buckles; None where nothing presses."""
        import numpy as np

        if self._pressed is None or self.most_pressed == 0:
            return None
        # the largest of 1/times: pressed·mode = (1/times)·stiff·mode
        root, moved = largest(Factor(self._stiff(self._bent)), elements.banded(self._pressed, self._free))
        if root <= 0:
            return None
        whole = np.zeros(2 * len(self.nodes))
        whole[self._movable] = moved
        mode = whole[0::2]
        return Buckling(1 / root, mode / mode[np.argmax(np.abs(mode))])

    def bent(self, loads: Sequence[Load] = (), weight: "Floats | None" = None) -> Bent:
        """How it bends under `loads`, and under a `weight` per length, N/mm, given at the places.

        InputFault when it gives way under the push.
        """
        import numpy as np

        check(float(self.nodes[-1]), self.supports, loads, ())
        spread, points = self._load(loads)
        if weight is not None:
            spread = spread + weight
        ends = elements.loaded(self.lengths, spread)
        force = points.copy()
        for a in range(4):
            np.add.at(force, 2 * np.arange(len(ends)) + a, ends[:, a])
        pieces = self._bent if self._pressed is None else self._bent - self._pressed
        try:
            moved = Factor(self._stiff(pieces)).solve(force[self._movable])
        except NotPositive:
            raise InputFault("it buckles under its push", "push") from None
        whole = np.zeros(2 * len(self.nodes))
        whole[self._movable] = moved
        around = 2 * np.arange(len(ends))[:, None] + np.arange(4)
        at_ends = np.einsum("eab,eb->ea", pieces, whole[around]) - ends
        held = -points
        for a in range(4):
            np.add.at(held, 2 * np.arange(len(ends)) + a, at_ends[:, a])
        springs = {dof: -stiffness * whole[dof] for dof, stiffness in self._springs}
        at_ends = np.where(np.abs(at_ends) < 1e-10 * np.max(np.abs(at_ends), initial=0.0), 0.0, at_ends)
        nodes = [2 * self._node(support.at) for support in self.supports]
        return Bent(
            self.nodes,
            whole[0::2],
            whole[1::2],
            np.stack([-at_ends[:, 1], at_ends[:, 3]], axis=1),
            self._ends_pressed(),
            tuple(float(springs.get(dof, held[dof])) for dof in nodes),
            tuple(float(held[dof + 1]) if support.kind == "fixed" else 0.0
                  for support, dof in zip(self.supports, nodes, strict=True)),
        )  # fmt: skip

    def _ends_pressed(self) -> "Floats":
        """Compression at the heelward and headward end of every piece: along it it changes evenly, or as the weight."""
        import numpy as np

        first, last = self._push[:, 0], self._push[:, -1]
        slope = (last - first) / (elements.PLACES[-1] - elements.PLACES[0])
        return np.stack([first - slope * elements.PLACES[0], last + slope * (1 - elements.PLACES[-1])], axis=1)

    def _load(self, loads: Sequence[Load]) -> tuple["Floats", "Floats"]:
        """The load per length at the places, and what works at the nodes, force and moment by turns."""
        import numpy as np

        at = elements.places(self.nodes)
        spread, points = np.zeros_like(at), np.zeros(2 * len(self.nodes))
        for load in loads:
            if load.kind == "spread":
                part = (at - load.start) / (load.end - load.start)
                inside = (part > 0) & (part < 1)
                spread += np.where(inside, load.size + (load.last - load.size) * part, 0.0)
            else:
                points[2 * self._node(load.start) + (load.kind == "moment")] += load.size
        return spread, points
