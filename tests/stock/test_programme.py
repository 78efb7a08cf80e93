"""The programme against the exhaustive search, and what every plan must keep to."""

from hypothesis import assume, given, settings

from shopcompanion.stock.check import faults
from shopcompanion.stock.pieces import Plan, Problem
from shopcompanion.stock.programme import plans

from .exhaustive import best
from .problems import problems


def value(plan: Plan) -> tuple[int, int, int, int]:
    longest = max((one.length for one in plan.offcuts), default=0)
    return len(plan.missing), plan.cost, round(plan.waste * 1000), -round(longest * 10)


def last(problem: Problem) -> Plan:
    *_, plan = plans(problem)
    return plan


def blanks_of(problem: Problem) -> int:
    return sum(max(map(len, need.ways)) for need in problem.needs)


@given(problems(3, 3))
@settings(max_examples=60, deadline=None)
def test_no_plan_at_all_is_better(problem):
    assume(blanks_of(problem) <= 5 and sum(one.alike for one in problem.timbers) <= 4)
    plan = last(problem)
    assert plan.proof.proved
    assert value(plan) == best(problem)


@given(problems(6, 4))
@settings(max_examples=40, deadline=None)
def test_every_plan_holds_and_none_is_worse_than_the_one_before(problem):
    values = []
    for plan in plans(problem):
        assert faults(problem, plan) == []
        values.append(value(plan))
    assert values == sorted(values, reverse=True)
