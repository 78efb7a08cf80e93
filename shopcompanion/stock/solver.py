"""The programme given to HiGHS, with what cannot matter left out."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from ..record import NamedTuple
from .model import NO_LIMIT, CountVariable, Cross, Made, Programme, Ripped, Row

if TYPE_CHECKING:
    from typing import Any

    import numpy as np

    Vector = np.ndarray[Any, np.dtype[np.float64]]
    Places = np.ndarray[Any, np.dtype[np.intp]]


class Answer(NamedTuple):
    """A solution, if there is one that is better; what the objective is at least; whether the search is over."""

    values: list[int] | None
    bound: float
    ended: bool


class Solver:
    """The least of an objective under a programme's rows and some more."""

    def __init__(self, programme: Programme, rows: Sequence[Row], objective: dict[int, float]) -> None:
        import numpy as np
        from scipy.sparse import csc_array  # type: ignore[import-untyped]

        self.columns = programme.columns
        every = [row for row in (*programme.rows, *rows) if len(row[0]) > 1]
        entries = [(place, *entry) for place, row in enumerate(every) for entry in row[0].items()]
        places, columns, amounts = zip(*entries, strict=True) if entries else ((), (), ())
        shape = len(every), len(self.columns)
        self.matrix = csc_array((np.array(amounts, float), (places, columns)), shape=shape)
        self.least = np.array([row[1] for row in every], float)
        self.most = np.array([row[2] for row in every], float)
        self.lower, self.upper = np.zeros(len(self.columns)), np.full(len(self.columns), np.inf)
        for row, least, most in (*programme.rows, *rows):
            if len(row) == 1:  # a bound of its column, and no row
                ((column, amount),) = row.items()
                low, high = sorted((least / amount, most / amount))
                self.lower[column], self.upper[column] = max(self.lower[column], low), min(self.upper[column], high)
        self.objective = np.zeros(len(self.columns))
        self.objective[list(objective)] = list(objective.values())
        self.judged = np.array([_is_judged(column) for column in self.columns], bool)
        strips = [isinstance(column, CountVariable) and column.what == "strips" for column in self.columns]
        self.decisive = self.judged | np.array(strips, bool)

    def better(self, value: float, step: float, nodes: int) -> Iterator[Answer]:
        """Solutions better than `value` by at least a step, ever better, and bounds, the first of them at once.

        The last answer tells that the search is over.

        The relaxation gives a bound, and for each column what it would cost at least to use it: what costs more than
        there is between bound and value stays out. Then only timbers, strips and ways are whole numbers, which gives a
        good bound soon; then patterns too, with the timbers and the strips chosen by this, with its timbers alone, and
        if that is no answer, with any.
        """
        import numpy as np

        bound, dear = self._relaxed()
        reach = value - step
        if bound > reach:
            yield Answer(None, bound, True)
            return
        yield Answer(None, bound, False)
        near = bound + max((reach - bound) / 3, 0.07 * abs(reach))
        while True:
            limit = min(near, reach)
            use = np.flatnonzero(dear <= limit - bound + step)
            values, low, ended = self._solved(use, limit, nodes, self.decisive)
            least = max(bound, min(low, limit))
            if not ended:
                nodes *= 2
                yield Answer(None, least, False)
                continue
            if values is None:
                if limit == reach:
                    yield Answer(None, reach, True)
                    return
                near = reach
                continue
            break
        chosen = self._of_chosen(use, values)
        for settled in (self.decisive, self.judged):  # with these strips, or with any
            first, _, _ = self._solved(chosen, reach, nodes, settled=np.where(settled, np.round(values), np.nan))
            if first is not None:
                break
        if first is not None:
            reach = min(reach, float(self.objective @ first) - step)
            yield Answer(_whole(first), least, least > reach)
            if least > reach:
                return
        while True:
            use = np.flatnonzero(dear <= reach - bound + step)
            values, low, ended = self._solved(use, reach, nodes)
            least = max(least, min(low, reach))
            if values is not None:
                reach = min(reach, float(self.objective @ values) - step)
            yield Answer(None if values is None else _whole(values), least, ended)
            if ended:
                return
            nodes *= 2

    def _of_chosen(self, use: "Places", values: "Vector") -> "Places":
        """The columns of the timbers that a solution takes."""
        import numpy as np

        taken = {
            column.kind for column, value in zip(self.columns, values, strict=True)
            if isinstance(column, CountVariable) and column.what == "timbers" and value > 0.5
        }  # fmt: skip
        kept = [place for place in use if isinstance(column := self.columns[place], Made) or column.kind in taken]
        return np.array(kept, np.intp)

    def _relaxed(self) -> "tuple[float, Vector]":
        """The optimum without whole numbers, and the reduced costs. Infinite where there is none."""
        import numpy as np
        from scipy.optimize import linprog  # type: ignore[import-untyped]
        from scipy.sparse import vstack

        same = self.least == self.most
        over, under = np.isfinite(self.most) & ~same, np.isfinite(self.least) & ~same
        rows = self.matrix.tocsr()
        done = linprog(
            self.objective,
            A_ub=vstack([rows[over], -rows[under]]),
            b_ub=np.concatenate([self.most[over], -self.least[under]]),
            A_eq=rows[same],
            b_eq=self.least[same],
            bounds=np.stack([self.lower, self.upper], axis=1),
            method="highs",
        )
        if done.status == 2:
            return NO_LIMIT, self.objective
        if done.status:
            return -NO_LIMIT, np.zeros(len(self.columns))
        return float(done.fun), np.where(self.lower > 0, 0.0, done.lower.marginals)  # what must be used costs no more

    def _solved(
        self,
        use: "Places",
        most: float,
        nodes: int,
        whole: "Vector | None" = None,
        settled: "Vector | None" = None,
    ) -> "tuple[Vector | None, float, bool]":
        """A solution with the columns in use and an objective of `most` at most, the bound, whether that was all.

        `whole` are the columns that must be whole numbers, if not all. With `settled`, the numbers of all columns that
        are judged and NaN for others, only those others are sought: nothing is left to make better then.
        """
        import numpy as np
        from scipy.optimize import Bounds, LinearConstraint, milp

        objective = self.objective[use]
        least_of, most_of = self.lower[use].copy(), self.upper[use].copy()
        if settled is not None:
            given = np.isfinite(settled[use])
            least_of[given] = most_of[given] = settled[use][given]
        done = milp(
            objective if settled is None else np.zeros(len(use)),
            integrality=np.ones(len(use)) if whole is None else whole[use],
            bounds=Bounds(least_of, most_of),
            constraints=[
                LinearConstraint(self.matrix[:, use], self.least, self.most),
                LinearConstraint(objective[None, :], -np.inf, most),
            ],
            # HiGHS 1.12 presolves some of these to a false "infeasible" (a test has one): not where it counts
            options={"node_limit": nodes, "mip_rel_gap": 0, "presolve": settled is not None},
        )
        if done.status == 2:
            return None, NO_LIMIT, True
        values = None
        if done.x is not None:
            values = np.zeros(len(self.columns))
            values[use] = done.x
        bound = -NO_LIMIT if done.mip_dual_bound is None else float(done.mip_dual_bound)
        return values, bound, done.status == 0


def _is_judged(column: object) -> bool:
    """Whether some objective weighs the column."""
    if isinstance(column, Ripped | Cross):
        return column.offcut > 0
    return isinstance(column, Made) or (isinstance(column, CountVariable) and column.what == "timbers")


def _whole(values: "Vector") -> list[int]:
    return [round(float(value)) for value in values]
