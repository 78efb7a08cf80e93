from hypothesis import given, settings

from shopcompanion.stock.check import faults
from shopcompanion.stock.greedy import first_found, improved
from shopcompanion.stock.integers import whole
from shopcompanion.stock.layout import rank
from shopcompanion.stock.plan import first_plan

from ..examples import share
from .problems import boat, problems


@given(problems(9, 5))
@settings(max_examples=share(150))
def test_every_first_plan_holds(problem):
    assert faults(problem, first_plan(problem)) == []


def test_a_boat_s_first_plan_holds_and_leaves_nothing_out():
    plan = first_plan(boat())
    assert faults(boat(), plan) == []
    assert plan.missing == ()


def test_trying_other_pieces_makes_the_first_plan_of_a_boat_cheaper():
    """446 against 493: what the proof then has to beat."""
    model = whole(boat())
    plan = first_found(model)
    assert rank(model, *improved(model, plan))[:2] < rank(model, *plan)[:2]
