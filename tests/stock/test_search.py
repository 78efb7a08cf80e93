"""The search in a process of its own: what comes, how it is stopped, what happens when it dies."""

import json
import subprocess
import sys
from threading import Thread

import pytest
from hypothesis import given, settings

from shopcompanion.errors import CompanionError
from shopcompanion.stock import search as module
from shopcompanion.stock.check import faults
from shopcompanion.stock.pieces import Blank, Need, Problem, StockTimber
from shopcompanion.stock.plan import first_plan
from shopcompanion.stock.programme import plans
from shopcompanion.stock.search import Search, SearchFault, plan_of, problem_of

from ..examples import share
from .problems import boat, problems

SMALL = Problem(
    (Need("pegs", ((Blank("peg", 10, 20, 50),) * 3,)), Need("mast", ((Blank("mast", 90, 90, 900),),))),
    (
        StockTimber("bar", 12, 50, 300, "ash", ((100, 110),), 2, 400, (25.4, 50.8, 300)),
        StockTimber("stick", 12, 25, 300, "ash", price=100),
    ),
    3.0,
)  # fmt: skip


def gone(search: Search) -> bool:
    """Whether the child has ended and was waited for."""
    return search._child is not None and search._child.returncode is not None


def test_it_gives_the_first_plan_and_ends_with_a_proved_one():
    with Search(SMALL) as search:
        given = list(search)
    assert given[0] == first_plan(SMALL)
    assert given[-1] == search.plan == list(plans(SMALL))[-1]
    assert search.plan.proof.proved
    assert (search.plan.cost, [missing.need for missing in search.plan.missing]) == (100, [1])
    assert gone(search)


def test_a_stop_keeps_the_last_plan_and_leaves_no_process():
    search = Search(boat())
    seen = []
    for plan in search:
        seen.append(plan)
        if len(seen) == 3:
            search.stop()
    assert len(seen) == 3
    assert search.plan == seen[-1]
    assert not search.plan.proof.proved
    assert faults(boat(), search.plan) == []
    assert gone(search)
    assert list(search) == [search.plan]


def test_another_thread_can_stop_it_while_it_waits():
    search = Search(boat())
    waits = iter(search)
    next(waits), next(waits), next(waits)
    stopper = Thread(target=search.stop)
    stopper.start()
    assert all(not plan.proof.proved for plan in waits)
    stopper.join()
    assert gone(search)


def test_leaving_the_with_ends_it():
    with Search(boat()) as search:
        for _, _ in zip(range(2), search, strict=False):
            pass
    assert gone(search)


def test_a_child_that_dies_gives_one_line_and_the_last_plan_stands():
    search = Search(boat())
    waits = iter(search)
    last = [next(waits), next(waits)][-1]
    search._child.kill()
    with pytest.raises(SearchFault, match="ended by itself") as fault:
        for last in waits:  # noqa: B007
            pass
    assert "\n" not in str(fault.value)
    assert search.plan == last
    assert gone(search)


def test_nothing_in_the_folder_one_works_in_is_run(tmp_path, monkeypatch):
    (tmp_path / "json.py").write_text("raise SystemExit(7)")
    monkeypatch.chdir(tmp_path)
    with Search(SMALL) as search:
        assert [*search][-1].proof.proved


def test_a_plan_that_does_not_hold_is_not_given(monkeypatch):
    monkeypatch.setattr(module, "faults", lambda *_: ["a fault"])
    with pytest.raises(CompanionError, match="did not pass its check: a fault"):
        Search(SMALL)


def test_the_child_writes_json_lines_and_nothing_else():
    command = [sys.executable, "-m", "shopcompanion.stock.search"]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as child:
        child.stdin.write(json.dumps(SMALL) + "\n")
        child.stdin.flush()
        told = [json.loads(line) for line in child.stdout]
    assert [plan_of(line["plan"]) for line in told[:-1]] == list(plans(SMALL))
    assert told[-1] == {"end": True}


@given(problems(4, 3))
@settings(max_examples=share(50), deadline=None)
def test_a_problem_and_its_plan_go_through_json_whole(problem):
    assert problem_of(json.loads(json.dumps(problem))) == problem
    plan = first_plan(problem)
    assert plan_of(json.loads(json.dumps(plan))) == plan
