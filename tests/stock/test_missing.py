"""Why a blank has no place, and what would cure it."""

import pytest
from hypothesis import given, settings

from shopcompanion.stock.pieces import Blank, Cure, Need, Problem, StockTimber
from shopcompanion.stock.plan import first_plan

from ..examples import share
from .problems import problems

PLANK = StockTimber("plank", 40, 150, 3000, "spruce")


def missing(*blanks: Blank, timbers: tuple[StockTimber, ...] = (PLANK,)):
    plan = first_plan(Problem((Need("spar", (blanks,)),), timbers, 3.0))
    (missing,) = plan.missing
    return missing.reason.format(*(f"{mm:g}" for mm in missing.lengths)), missing.cure


@pytest.mark.parametrize(
    ("blank", "reason"),
    [
        (Blank("spar", 60, 41, 1000), "too thick: it is 41, and the thickest timber is 40"),
        (Blank("spar", 30, 160, 1000), "too wide: it is 160, and timber thick enough is 150 wide"),
        (Blank("spar", 30, 40, 3000.1), "too long: it is 3000.1, and the longest timber thick and wide enough is 3000"),
        (Blank("spar", 30, 40, 1000, "Ash"), "there is no Ash among the timbers"),
    ],
)
def test_the_reason_and_the_least_size(blank, reason):
    told, cure = missing(blank)
    assert told == reason
    sizes = sorted((blank.thickness, blank.width))
    assert cure == Cure(*sizes, blank.length, blank.species)


def test_only_knots_stand_in_the_way():
    knotty = PLANK._replace(knots=((1000, 1050), (2100, 2200)))
    told, _ = missing(Blank("spar", 40, 40, 1051), timbers=(knotty,))
    assert told == "too long between knots: it is 1051, and the longest clear length is 1050"
    assert first_plan(Problem((Need("spar", ((Blank("spar", 40, 40, 1050),),)),), (knotty,), 3.0)).missing == ()


def test_all_timber_that_would_do_is_taken_and_the_cheapest_of_the_yard_cures_it():
    blank = Blank("spar", 40, 140, 2900)
    yard = (
        StockTimber("dear", 50, 200, 4000, "spruce", price=9000),
        StockTimber("cheap", 45, 150, 3000, "spruce", price=5000),
        StockTimber("too small", 30, 150, 3000, "spruce", price=100),
    )
    problem = Problem(tuple(Need(f"spar {n}", ((blank,),)) for n in range(4)), (PLANK, *yard), 3.0)
    plan = first_plan(problem)
    assert [missing.reason for missing in plan.missing] == ["all timber that would do is used for other blanks"]
    assert plan.missing[0].cure == Cure(45, 150, 3000, "spruce", "cheap", 5000)


def test_the_rest_of_the_plan_is_still_made_when_no_timber_is_thick_enough_for_one():
    needs = Need("mast", ((Blank("mast", 90, 90, 2000),),)), Need("peg", ((Blank("peg", 20, 20, 200),),))
    plan = first_plan(Problem(needs, (PLANK,), 3.0))
    assert [missing.need for missing in plan.missing] == [0]
    assert [cut.need for sawn in plan.sawn for strip in sawn.strips for cut in strip.cuts] == [1]


def test_without_timber_or_ways_nothing_is_made_and_it_is_said():
    told, cure = missing(Blank("spar", 20, 30, 100), timbers=())
    assert told == "there is no timber"
    assert cure == Cure(20, 30, 100)
    plan = first_plan(Problem((Need("spar", ()),), (PLANK,), 3.0))
    assert [(missing.reason, missing.cure) for missing in plan.missing] == [("no blank is given for it", None)]


@given(problems(3, 3))
@settings(max_examples=share(100), deadline=None)
def test_a_cure_for_one_blank_gives_it_its_place(problem):
    for missing in first_plan(problem).missing:
        need = problem.needs[missing.need]
        if all(len(way) == 1 for way in need.ways):
            cure = missing.cure
            assert cure is not None
            bought = StockTimber("bought", cure.thickness, cure.width, cure.length, cure.species, price=1)
            assert first_plan(Problem((need,), (bought,), problem.kerf)).missing == ()
