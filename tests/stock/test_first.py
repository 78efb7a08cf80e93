from hypothesis import given, settings

from shopcompanion.stock.check import faults
from shopcompanion.stock.first import first_plan

from .problems import boat, problems


@given(problems(9, 5))
@settings(max_examples=300)
def test_every_first_plan_holds(problem):
    assert faults(problem, first_plan(problem)) == []


def test_a_boat_s_first_plan_holds_and_leaves_nothing_out():
    plan = first_plan(boat())
    assert faults(boat(), plan) == []
    assert plan.missing == ()
