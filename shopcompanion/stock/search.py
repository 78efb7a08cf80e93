"""The search for the best plan in a process of its own, so that the keys never wait and a stop is at once.

`python -m shopcompanion.stock.search` reads a problem as one line of JSON and writes a plan on each line as found.
"""

from collections.abc import Callable, Iterator
from contextlib import suppress
from threading import Timer
from typing import TYPE_CHECKING, Any

from ..errors import CompanionError
from ..lengths import Phrase
from .check import faults
from .pieces import Blank, Cure, Cut, Missing, Need, Offcut, Plan, PlanProof, Problem, Sawn, StockTimber, Strip
from .plan import first_plan

if TYPE_CHECKING:
    from subprocess import Popen
    from types import TracebackType


class SearchFault(CompanionError):
    """The search ended before it was through. The plan so far stands."""


class Search:
    """The plans for a problem, better and better, the first of them at once; `plan` is the last.

    Iterating ends with the search, or with `stop`, which any thread may call: `plan.proof` then says how far it came.
    SearchFault when the process ended by itself, CompanionError when a plan did not pass its check.

        with Search(problem) as search:
            for plan in search: ...
    """

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.plan = first_plan(problem)
        self.stopped = False
        self._child: Popen[str] | None = None
        if wrong := faults(problem, self.plan):
            raise CompanionError(f"the cutting plan did not pass its check: {wrong[0]}")

    def __enter__(self) -> "Search":
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: "TracebackType | None"
    ) -> None:
        self.stop()

    def __iter__(self) -> Iterator[Plan]:
        yield self.plan
        if self.stopped:
            return
        self._child = child = _start(self.problem)
        if self.stopped:  # meanwhile, by another thread
            _end(child)
            return
        try:
            while told := _line(child):
                if "end" in told:
                    return
                if "fault" in told:
                    raise CompanionError(told["fault"])
                plan = plan_of(told["plan"])
                if faults(self.problem, plan):
                    raise SearchFault("the search gave a plan that does not hold; the plan so far stands")
                if plan != self.plan:
                    self.plan = plan
                    yield plan
        finally:
            _end(child)
        if not self.stopped:
            raise SearchFault(f"the search ended by itself (status {child.returncode}); the plan so far stands")

    def stop(self) -> Plan:
        """End the search at once; the best plan so far."""
        self.stopped = True
        if self._child is not None:
            _end(self._child)
        return self.plan


def within(problem: Problem, seconds: float | None, heard: Callable[[Plan], object] = lambda plan: None) -> Plan:
    """The best plan, or the best so far when the time is up or the user interrupts; `found` hears of every better one.

    What iterating a Search raises.
    """
    with Search(problem) as search:
        clock = Timer(seconds, search.stop) if seconds else None
        if clock is not None:
            clock.daemon = True
            clock.start()
        try:
            for plan in search:
                heard(plan)
        except KeyboardInterrupt:
            search.stop()
        finally:
            if clock is not None:
                clock.cancel()
        return search.plan


def _start(problem: Problem) -> "Popen[str]":
    import json
    import os
    import subprocess
    import sys
    from pathlib import Path

    home = str(Path(__file__).parents[2])
    path = os.pathsep.join([home, *filter(None, [os.environ.get("PYTHONPATH")])])
    child = subprocess.Popen(
        [sys.executable, "-P", "-m", "shopcompanion.stock.search"],  # -P: nothing out of the folder one works in
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        env={**os.environ, "PYTHONPATH": path},
        start_new_session=True,
        text=True,
        encoding="utf-8",
    )
    assert child.stdin is not None
    with suppress(BrokenPipeError):  # it died; reading tells
        child.stdin.write(json.dumps(problem) + "\n")
        child.stdin.flush()  # and stays open: its end tells the child that nobody waits
    return child


def _line(child: "Popen[str]") -> dict[str, Any] | None:
    """What the child says next; None when it has ended, or has been ended."""
    import json

    assert child.stdout is not None
    try:
        line = child.stdout.readline()
    except ValueError:  # closed by a stop
        return None
    return dict(json.loads(line)) if line.endswith("\n") else None


def _end(child: "Popen[str]") -> None:
    """Kill, wait for its end, close its pipes; again does nothing."""
    child.kill()
    child.wait()
    for pipe in (child.stdin, child.stdout):
        if pipe is not None:
            with suppress(BrokenPipeError):
                pipe.close()


def problem_of(data: list[Any]) -> Problem:
    """The problem that JSON was made of."""
    needs, timbers, kerf, keep = data
    return Problem(
        tuple(Need(name, tuple(tuple(map(_blank, way)) for way in ways)) for name, ways in needs),
        tuple(_timber(*timber) for timber in timbers),
        kerf,
        keep,
    )


def _blank(data: list[Any]) -> Blank:
    *fields, (words, lengths) = data
    name, thickness, width, length, species = fields
    return Blank(name, thickness, width, length, species, Phrase(words, tuple(lengths)))


def _timber(*data: Any) -> StockTimber:
    timber = StockTimber(*data)
    knots = tuple((first, last) for first, last in timber.knots)
    if timber.nominal is None:
        return timber._replace(knots=knots)
    thickness, width, length = timber.nominal
    return timber._replace(knots=knots, nominal=(thickness, width, length))


def plan_of(data: list[Any]) -> Plan:
    """The plan that JSON was made of."""
    sawn, offcuts, missing, cost, waste, proof = data
    return Plan(
        tuple(Sawn(timber, piece, tuple(map(_strip, strips))) for timber, piece, strips in sawn),
        tuple(Offcut(*offcut) for offcut in offcuts),
        tuple(Missing(need, reason, tuple(lengths), cure and Cure(*cure)) for need, reason, lengths, cure in missing),
        cost,
        waste,
        PlanProof(*proof),
    )


def _strip(data: list[Any]) -> Strip:
    across, width, cuts = data
    return Strip(across, width, tuple(Cut(need, _blank(blank), at, turned) for need, blank, at, turned in cuts))


def main() -> None:
    """The child: read the problem, write the plans."""
    import json
    import os
    import sys
    from threading import Thread

    out = os.fdopen(os.dup(1), "w", encoding="utf-8")
    os.dup2(os.open(os.devnull, os.O_WRONLY), 1)  # the solver may print
    problem = problem_of(json.loads(sys.stdin.readline()))
    Thread(target=lambda: (sys.stdin.read(), os._exit(0)), daemon=True).start()

    from .programme import plans

    def tell(**what: object) -> None:
        out.write(json.dumps(what) + "\n")
        out.flush()

    try:
        for plan in plans(problem):
            tell(plan=plan)
        tell(end=True)
    except CompanionError as fault:
        tell(fault=str(fault))
    os._exit(0)  # not waiting for the thread


if __name__ == "__main__":
    main()
