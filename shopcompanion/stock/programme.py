"""Better and better plans, to the best there is.

As few needs left out as can be, by their number; then the cost; then the waste; then the longest offcut.
"""

from collections import Counter
from collections.abc import Callable, Iterator
from math import ceil, gcd

from ..errors import CompanionError
from .check import faults
from .decoding import read_out
from .greedy import Found, first_found, improved
from .integers import whole
from .layout import rank
from .model import NO_LIMIT, CountVariable, Cross, Made, Programme, Ripped, Row
from .pieces import Plan, PlanProof, Problem
from .plan import lay_out
from .solver import Solver

OUT, COST, WASTE, OFFCUT = "what is left out", "cost", "waste", "longest offcut"
_PRICE, _WASTE = 100.0, 90.0  # what a step of the price weighs, and all the timber there is, wasted
_STEP = 1e-5  # of that; a ten-millionth of the timber


def plans(problem: Problem, nodes: int = 500) -> Iterator[Plan]:
    """The first plan, then better ones, each checked; the last is proved unless that is beyond the programme.

    The solver works in slices, the first of so many nodes of its tree and each twice as large as the one before: what
    comes out hangs on no clock. A plan is given again when only what is known about it has changed.
    """
    search = _Search(problem, nodes)
    yield search.plan(PlanProof(False, "first plan"))
    for proof in search.stages():
        yield search.plan(proof)


class _Search:
    def __init__(self, problem: Problem, nodes: int) -> None:
        self.problem, self.nodes = problem, nodes
        self.whole = whole(problem)
        self.found = first_found(self.whole)
        self.rank = rank(self.whole, *self.found)
        prices = [kind.price for kind in self.whole.kinds if kind.price]
        self.step = gcd(*prices) or 1
        self.hopeless = sum(not any(map(self.whole.can_be, need)) for need in self.whole.needs)
        self.programme = Programme(self.whole)
        self.gap: PlanProof | None = None
        self.timber = sum(kind.volume * len(kind.pieces) for kind in self.whole.kinds) or 1

    def plan(self, proof: PlanProof) -> Plan:
        """The best plan so far. CompanionError if it does not hold, which would be a fault of ours."""
        plan = lay_out(self.problem, self.whole, *self.found, proof)
        if wrong := faults(self.problem, plan):
            raise CompanionError(f"the cutting plan did not pass its check: {wrong[0]}")
        return plan

    def stages(self) -> Iterator[PlanProof]:
        """What is known of the best plan, after every step."""
        self._take(improved(self.whole, self.found))
        if self.rank[0] == self.hopeless and not self.found[1]:
            yield PlanProof(True, OFFCUT, 0.0)  # nothing that could be sawn
            return
        for stage in (self._fewest_out, self._cheapest, self._longest_offcut):
            yield from stage()
        yield self.gap or PlanProof(True, OFFCUT, 0.0)

    def _take(self, plan: Found) -> None:
        better = rank(self.whole, *plan)
        if better < self.rank:
            self.found, self.rank = plan, better

    def _fewest_out(self) -> Iterator[PlanProof]:
        hopeless = self.hopeless
        if self.rank[0] == hopeless:
            return
        yield PlanProof(False, OUT)
        every = len(self.whole.needs)

        def told(bound: float) -> PlanProof | None:
            least = max(hopeless, ceil(min(bound, 0) + every - 1e-6)) if bound > -NO_LIMIT else hopeless
            return PlanProof(False, OUT, 1 - least / self.rank[0]) if least < self.rank[0] else None

        yield from self._run(self._made, [], lambda: self.rank[0] - every, 0.5, told)

    def _cheapest(self) -> Iterator[PlanProof]:
        """Cost and waste in one: a step of the price weighs more than all the timber there is."""
        yield PlanProof(False, COST if self.rank[1] else WASTE)

        def told(bound: float) -> PlanProof | None:
            _, cost, waste, _ = self.rank
            if bound >= self._judged() - 2 * _STEP:
                return None
            least = max(0, ceil((bound - _WASTE) / _PRICE) * self.step) if bound > -NO_LIMIT else 0
            if least < cost:
                return PlanProof(False, COST, 1 - least / cost)
            waste_bound = (bound - cost / self.step * _PRICE) / _WASTE * self.timber
            return PlanProof(False, WASTE, min(1.0, 1 - waste_bound / waste) if waste else None)

        yield from self._run(self._cost, [self._not_out], self._judged, _STEP, told)

    def _longest_offcut(self) -> Iterator[PlanProof]:
        yield PlanProof(False, OFFCUT)
        longest = -self.rank[3]
        programme = Programme(self.whole, longer=max(longest, self.whole.keep - 1), kinds=(taken := self._taken()))
        offcuts = {
            place: column.offcut
            for place, column in enumerate(programme.columns)
            if isinstance(column, Ripped | Cross) and column.offcut
        }
        if not offcuts:
            self._settle(None if programme.exact else PlanProof(False, OFFCUT))
            return
        cost = self._cost(programme), -NO_LIMIT, self._judged() + 1e-3
        rows: list[Row] = [self._not_out(programme), cost, (dict.fromkeys(offcuts, 1), 1, 1)]

        def told(bound: float) -> PlanProof | None:
            most = -bound if bound > -NO_LIMIT else max(offcuts.values())
            return PlanProof(False, OFFCUT, 1 + self.rank[3] / most) if most >= 1 - self.rank[3] else None

        rows += [
            ({place: 1}, *taken[column.kind])
            for place, column in enumerate(programme.columns)
            if isinstance(column, CountVariable) and column.what == "timbers"
        ]
        solver = Solver(programme, rows, {place: -float(offcut) for place, offcut in offcuts.items()})
        proof: PlanProof | None = None
        for answer in solver.better(self.rank[3], 0.5, self.nodes):
            if answer.values is not None:
                self._take(read_out(programme, answer.values))
            proof = told(answer.bound if programme.exact else -NO_LIMIT)
            yield proof or PlanProof(False, OFFCUT, 0.0)
        self._settle(proof)

    def _run(
        self,
        objective: Callable[[Programme], dict[int, float]],
        rows: list[Callable[[Programme], Row]],
        judged: Callable[[], float],
        step: float,
        told: Callable[[float], PlanProof | None],
    ) -> Iterator[PlanProof]:
        """Solve for one objective; what is beyond the patterns that are looked at has its bound from the loose one."""
        programme, bound = self.programme, -NO_LIMIT
        if not programme.exact:
            loose = Programme(self.whole, loose=True)
            solver = Solver(loose, [row(loose) for row in rows], objective(loose))
            for number, answer in enumerate(solver.better(judged(), step, self.nodes)):
                bound = max(bound, answer.bound)
                yield told(bound) or PlanProof(False, COST, 0.0)
                if number:  # the relaxation's, and one of whole numbers
                    break
        proof = told(bound)
        if programme.exact or proof:
            solver = Solver(programme, [row(programme) for row in rows], objective(programme))
            for answer in solver.better(judged(), step, self.nodes):
                if answer.values is not None:
                    self._take(read_out(programme, answer.values))
                if programme.exact:
                    bound = answer.bound
                proof = told(bound)
                if proof:
                    yield proof
        self._settle(proof)

    def _settle(self, proof: PlanProof | None) -> None:
        self.gap = self.gap or proof

    def _judged(self) -> float:
        """Cost and waste as the programme weighs them."""
        _, cost, waste, _ = self.rank
        return cost / self.step * _PRICE + waste / self.timber * _WASTE

    def _made(self, programme: Programme) -> dict[int, float]:
        return {place: -1.0 for place, column in enumerate(programme.columns) if isinstance(column, Made)}

    def _not_out(self, programme: Programme) -> Row:
        made = {place: 1 for place, column in enumerate(programme.columns) if isinstance(column, Made)}
        return made, len(self.whole.needs) - self.rank[0], NO_LIMIT

    def _cost(self, programme: Programme) -> dict[int, float]:
        weights, volume = dict[int, float](), _WASTE / self.timber
        for place, column in enumerate(programme.columns):
            if isinstance(column, CountVariable) and column.what == "timbers":
                kind = self.whole.kinds[column.kind]
                weights[place] = kind.price / self.step * _PRICE + kind.volume * volume
            elif isinstance(column, Made):
                way = self.whole.needs[column.needs[0]][column.way]
                weights[place] = -sum(self.whole.parts[part].volume for part in way) * volume
        return weights

    def _taken(self) -> dict[int, tuple[int, int]]:
        """How many of each kind of timber a plan as cheap and as little wasteful as the best can take, at least and at
        most: told exactly where that hangs on nothing else."""
        kinds, volumes = self.whole.kinds, self.whole.parts
        every = {kind: (0, len(timber.pieces)) for kind, timber in enumerate(kinds)}
        blanks = 0
        for need in self.whole.needs:
            sizes = {sum(volumes[part].volume for part in way) for way in need if self.whole.can_be(way)}
            if len(sizes) > 1:
                return every
            blanks += sum(sizes)
        if self.rank[0] > self.hopeless:
            return every
        order = sorted(every, key=lambda kind: -kinds[kind].volume)
        behind = [(0, 0)]
        for kind in reversed(order):
            timber = kinds[kind]
            price, volume = behind[-1]
            behind.append((price + timber.price * len(timber.pieces), volume + timber.volume * len(timber.pieces)))
        behind.reverse()
        choices, steps = list[Counter[int]](), 0

        def go(place: int, cost: int, volume: int, taken: tuple[int, ...]) -> bool:
            """False when it takes too long."""
            nonlocal steps
            steps += 1
            if cost == 0 and volume == 0:
                choices.append(Counter(taken))
            elif 0 <= cost <= behind[place][0] and 0 < volume <= behind[place][1] and place < len(order):
                kind = kinds[order[place]]
                return steps < 100_000 and all(
                    go(place + 1, cost - n * kind.price, volume - n * kind.volume, taken + (order[place],) * n)
                    for n in range(len(kind.pieces) + 1)
                )
            return True

        if not go(0, self.rank[1], self.rank[2] + blanks, ()):
            return every
        return {
            kind: (min(choice[kind] for choice in choices), most)
            for kind in every
            if (most := max(choice[kind] for choice in choices))
        }
