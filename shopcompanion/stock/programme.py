"""Better and better plans, to the best there is: the programme solved for one objective after the other.

As few needs left out as can be, by their number; then the cost; then the waste; then the longest offcut.
"""

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from .greedy import Found, first_found
from .layout import Laid, rank
from .model import NO_LIMIT, Cross, Made, Programme, Ripped, Row
from .pieces import Plan, Problem, Proof
from .plan import lay_out
from .tenths import Whole, whole

STAGES = ("what is left out", "cost", "waste", "longest offcut")
_NEAR = 1e-6


class Answer(NamedTuple):
    """What the solver came to: a solution or None; the least the objective can be, None if it did not get that far; and
    whether it went to the end. Infinite where there is no solution."""

    values: list[int] | None
    bound: float | None
    ended: bool


def solve(programme: Programme, objective: dict[int, float], rows: Sequence[Row], seconds: float) -> Answer:
    """The least of the objective, by HiGHS, within a time."""
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_array

    size = len(programme.columns)
    every = [row for row in (*programme.rows, *rows) if row[0]]
    for coefficients, least, most in (*programme.rows, *rows):
        if not coefficients and not least <= 0 <= most:
            return Answer(None, NO_LIMIT, True)
    if not size:
        return Answer([], 0.0, True)
    places = [place for place, row in enumerate(every) for _ in row[0]]
    columns = [column for row in every for column in row[0]]
    amounts = [float(amount) for row in every for amount in row[0].values()]
    matrix = csr_array((amounts, (places, columns)), shape=(len(every), size))
    cost = np.zeros(size)
    for column, amount in objective.items():
        cost[column] = amount
    done = milp(
        cost,
        integrality=np.ones(size),
        bounds=Bounds(0, np.inf),
        constraints=LinearConstraint(matrix, [row[1] for row in every], [row[2] for row in every]),
        options={"time_limit": seconds, "mip_rel_gap": 0},
    )
    values = None if done.x is None else [round(one) for one in done.x]
    if done.status == 2:
        return Answer(None, NO_LIMIT, True)
    return Answer(values, done.mip_dual_bound, done.status == 0)


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
    laid = [one for kind, ripped in sorted(pieces.items()) for one in _strips(whole, kind, ripped, cut, wanted)]
    return ways, laid


def _strips(
    whole: Whole,
    kind: int,
    ripped: list[Ripped],
    cut: dict[tuple[int, int], list[Cross]],
    wanted: Counter[int],
) -> list[Laid]:
    """The widest patterns into the widest strips; parts beyond those wanted stay in the wood."""
    slots: list[tuple[int, int]] = []  # width, piece
    for piece, one in enumerate(ripped):
        narrower = 0
        for width, count in zip(one.widths, one.counts, strict=True):
            slots += [(width, piece)] * (count - narrower)
            narrower = count
    slots.sort(key=lambda slot: -slot[0])
    for crosses in cut.values():
        crosses.sort(key=lambda one: (one.pattern.across, one.offcut))
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
    return [Laid(kind, one) for one in strips if one]


class Way(NamedTuple):
    """What is known so far: the best there is, and how far it is proved. `gap` is the first that was not."""

    found: Found
    rank: tuple[int, int, int, int]
    gap: tuple[str, float | None] | None = None


def plans(problem: Problem, first_slice: float = 1.0) -> Iterator[Plan]:
    """The first plan, then every better one, each checked; the last is proved unless that is beyond the programme.

    The solver works in slices of time, each twice as long as the one before, so that what it has found and how much
    better it could be come out in between; the plan is given again when only that has changed.
    """
    tenths = whole(problem)
    found = first_found(tenths)
    known = Way(found, rank(tenths, *found))
    search = _Search(problem, tenths, first_slice)
    yield search.plan(known, Proof(False, "first plan"))
    for stage in (0, 1, 2, 3):
        for known in search.stage(stage, known):  # noqa: B020
            yield search.plan(known, Proof(False, STAGES[stage], known.gap and known.gap[1]))
    yield search.plan(known, Proof(True, STAGES[-1], 0.0) if known.gap is None else Proof(False, *known.gap))


class _Search:
    def __init__(self, problem: Problem, tenths: Whole, first_slice: float) -> None:
        self.problem, self.whole, self.first_slice = problem, tenths, first_slice
        self.unit = max((kind.volume for kind in tenths.kinds), default=1)  # of volume, so that numbers stay small
        self.programmes: dict[bool, Programme] = {}

    def plan(self, known: Way, proof: Proof) -> Plan:
        return lay_out(self.problem, self.whole, *known.found, proof)

    def programme(self, loose: bool) -> Programme:
        if loose not in self.programmes:
            self.programmes[loose] = Programme(self.whole, loose)
        return self.programmes[loose]

    def stage(self, stage: int, known: Way) -> Iterator[Way]:
        """The same, or better by the objective of the stage and as good by those before; as it goes."""
        least = (sum(not any(map(self.whole.can_be, need)) for need in self.whole.needs), 0, None, None)[stage]
        if known.rank[stage] == least:
            return
        if stage == 3:
            yield from self._offcut(known)
            return
        exact = self.programme(False)
        if not exact.exact:
            raise NotImplementedError
        yield from self._better(stage, known, exact)

    def _better(self, stage: int, known: Way, programme: Programme) -> Iterator[Way]:
        seconds = self.first_slice
        while True:
            rows = self._held(programme, known, stage)
            answer = solve(programme, self._objective(programme, stage), rows, seconds)
            known = self._improved(known, programme, answer)
            if answer.ended:
                yield known
                return
            seconds *= 2
            yield known

    def _improved(self, known: Way, programme: Programme, answer: Answer) -> Way:
        if answer.values is None:
            return known
        found = read_out(programme, answer.values)
        better = rank(self.whole, *found)
        return known._replace(found=found, rank=better) if better < known.rank else known

    def _objective(self, programme: Programme, stage: int) -> dict[int, float]:
        """What a solution is judged by: less is better. Waste in units of volume, what is left out less a constant."""
        whole, objective = self.whole, dict[int, float]()
        for place, column in enumerate(programme.columns):
            if isinstance(column, Ripped):
                kind = whole.kinds[column.kind]
                objective[place] = (0, kind.price, kind.volume / self.unit, 0)[stage]
            elif isinstance(column, Made):
                way = whole.needs[column.needs[0]][column.way]
                objective[place] = (-1, 0, -sum(whole.parts[part].volume for part in way) / self.unit, 0)[stage]
            elif stage == 3 and isinstance(column, Cross):
                objective[place] = -column.offcut
            if stage == 3 and isinstance(column, Ripped):
                objective[place] = -column.offcut
        return objective

    def _held(self, programme: Programme, known: Way, stage: int) -> list[Row]:
        """Objectives before this one stay as good as they are; this one becomes better where its steps are whole."""
        out, cost, waste, _ = known.rank
        most = [out - len(self.whole.needs), cost, waste / self.unit]
        if stage < 2:
            most[stage] -= 1
        return [
            (self._objective(programme, one), -NO_LIMIT, most[one] + (1e-9 if one == 2 else 0))  # type: ignore
            for one in range(min(stage, 2) + 1)
        ]

    def _offcut(self, known: Way) -> Iterator[Way]:
        programme = Programme(self.whole, longer=max(-known.rank[3], self.whole.keep - 1))
        once = {
            p: 1 for p, column in enumerate(programme.columns) if isinstance(column, Ripped | Cross) and column.offcut
        }
        if not once:
            return
        print("stage3", len(programme.columns), len(once))
        rows = [*self._held(programme, known, 3), (once, 1, 1)]
        answer = solve(programme, self._objective(programme, 3), rows, 100)
        yield self._improved(known, programme, answer)
