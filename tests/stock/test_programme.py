"""The programme against the exhaustive search, and what every plan must keep to."""

from functools import cache

import pytest
from hypothesis import assume, given, settings

from shopcompanion.stock.check import faults
from shopcompanion.stock.pieces import Blank, Need, Plan, Problem, StockTimber
from shopcompanion.stock.programme import plans

from ..examples import share
from .exhaustive import best
from .problems import boat, problems, small_boat


def value(plan: Plan) -> tuple[int, int, int, int]:
    longest = max((offcut.length for offcut in plan.offcuts), default=0)
    return len(plan.missing), plan.cost, round(plan.waste * 1000), -round(longest * 10)


def last(problem: Problem) -> Plan:
    *_, plan = plans(problem)
    return plan


@cache
def of_small_boat() -> Plan:
    return last(small_boat())


def blanks_of(problem: Problem) -> int:
    return sum(max(map(len, need.ways)) for need in problem.needs)


@given(problems(3, 3))
@settings(max_examples=share(60), deadline=None)
def test_no_plan_at_all_is_better(problem):
    assume(blanks_of(problem) <= 5 and sum(timber.alike for timber in problem.timbers) <= 4)
    plan = last(problem)
    assert plan.proof.proved
    assert value(plan) == best(problem)


@given(problems(6, 4))
@settings(max_examples=share(40), deadline=None)
def test_every_plan_holds_and_none_is_worse_than_the_one_before(problem):
    values = []
    for plan in plans(problem):
        assert faults(problem, plan) == []
        values.append(value(plan))
    assert values == sorted(values, reverse=True)


def test_a_case_that_the_solver_s_presolve_calls_infeasible():
    """HiGHS 1.12 does, for the last objective; the exhaustive search finds an offcut of 10 mm."""
    needs = (
        Need("b", ((Blank("b", 2.5, 2, 5),),)),
        Need("c", ((Blank("c", 4, 4, 5, "spruce"),),)),
        Need("d", ((Blank("d", 1, 3, 5, "spruce"),), (Blank("e", 2, 1, 6.5), Blank("f", 1, 2, 4)))),
    )
    timbers = (
        StockTimber("knotty", 3, 7, 10, "spruce", ((0, 1.1),), price=250),
        StockTimber("clear", 5, 7, 10, "spruce", price=0),
    )
    problem = Problem(needs, timbers, 0.3, 2.0)
    assert value(last(problem)) == best(problem) == (0, 250, 434000, -100)


def test_the_order_of_needs_and_timbers_does_not_matter_and_the_same_plan_comes_again():
    problem = small_boat()
    plan = of_small_boat()
    assert plan.proof.proved
    assert last(problem) == plan
    turned = problem._replace(needs=problem.needs[::-1], timbers=problem.timbers[::-1])
    assert value(last(turned)) == value(plan)


def test_a_way_in_two_is_taken_where_it_is_cheaper():
    mast = Need("mast", ((Blank("mast", 50, 50, 4000),), (Blank("lower", 50, 50, 2200), Blank("upper", 50, 50, 2200))))
    long, short = StockTimber("long", 50, 50, 4000, price=9000), StockTimber("short", 50, 50, 2200, alike=2, price=3000)
    plan = last(Problem((mast,), (long, short), 3.0))
    assert (plan.cost, len(plan.sawn), plan.proof.proved) == (6000, 2, True)
    assert last(Problem((mast,), (long, short._replace(price=5000)), 3.0)).cost == 9000


@pytest.mark.parametrize(("width", "pieces"), [(103.0, 1), (102.9, 2)])
def test_a_last_strip_that_comes_to_the_edge_needs_no_kerf(width, pieces):
    needs = tuple(Need(name, ((Blank(name, 20, 50, 900),),)) for name in "ab")
    plan = last(Problem(needs, (StockTimber("board", 20, width, 900, alike=2),), 3.0))
    assert (len(plan.sawn), plan.missing, plan.proof.proved) == (pieces, (), True)


@pytest.mark.parametrize(("knot", "pieces"), [((500, 510), 1), ((500.1, 510), 1), ((499.9, 510), 2), ((500, 510.1), 2)])
def test_a_blank_may_touch_a_knot_and_the_cut_falls_into_it(knot, pieces):
    needs = tuple(Need(name, ((Blank(name, 20, 50, 500),),)) for name in "ab")
    plan = last(
        Problem(
            needs, (StockTimber("board", 20, 50, 1010, knots=(knot,)), StockTimber("bought", 20, 50, 500, price=1)), 3.0
        )
    )
    assert (len(plan.sawn), plan.proof.proved) == (pieces, True)


def test_a_strip_is_ripped_wider_where_its_rest_is_worth_keeping():
    """A strip 15 wide leaves nothing to keep of a board 21 wide; one 20 wide leaves an offcut of 497."""
    plan = last(Problem((Need("a", ((Blank("a", 10, 15, 500),),)),), (StockTimber("board", 10, 21, 1000),), 3.0))
    (strip,) = plan.sawn[0].strips
    assert (strip.width, [tuple(offcut[1:]) for offcut in plan.offcuts]) == (20, [(503, 497, 0, 20)])


def test_nothing_to_do_is_done_at_once():
    for problem in (Problem((), (), 1.0), Problem((), (StockTimber("t", 1, 1, 1),), 1.0), boat()._replace(timbers=())):
        plan = last(problem)
        assert (plan.cost, plan.waste, plan.sawn, plan.proof.proved) == (0, 0, (), True)
        assert len(plan.missing) == len(problem.needs)


def test_beyond_its_patterns_the_programme_is_honest(monkeypatch):
    """With few patterns to look at, a plan is called proved only if the bound without patterns says so."""
    from shopcompanion.stock import model

    exact = of_small_boat()
    monkeypatch.setattr(model, "CAP", 3)
    for plan in plans(small_boat()):
        assert faults(small_boat(), plan) == []
        assert value(plan) >= value(exact)
        assert plan.proof.proved <= (value(plan) == value(exact))
        if plan.proof.stage == "cost" and plan.proof.within is not None:
            assert plan.cost * (1 - plan.proof.within) <= exact.cost + 1e-6


@given(problems(3, 2))
@settings(max_examples=share(40), deadline=None)
def test_no_bound_is_wrong_with_few_patterns(problem):
    from shopcompanion.stock import programme

    exact = value(last(problem))
    whole = programme.Programme
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(programme, "Programme", lambda *args, **more: whole(*args, **more, cap=2))
        for plan in plans(problem):
            assert value(plan) >= exact
            if plan.proof.proved:
                assert value(plan) == exact


def test_a_solve_that_is_cut_short_and_begun_anew_ends_with_the_same_plan():
    """Slices are counted in nodes, so that no clock and no load has a say in what comes out."""
    every = list(plans(small_boat(), nodes=1))
    assert every[-1].proof.proved
    assert value(every[-1]) == value(of_small_boat())
    assert every == list(plans(small_boat(), nodes=1))
