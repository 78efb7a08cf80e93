"""The check finds every kind of damage to a plan."""

from itertools import pairwise

import pytest

from shopcompanion.stock.check import faults
from shopcompanion.stock.pieces import (
    Blank,
    Cut,
    Missing,
    Need,
    Offcut,
    Plan,
    PlanProof,
    Problem,
    Sawn,
    StockTimber,
    Strip,
)
from shopcompanion.stock.plan import first_plan

from .problems import boat

PEG = Blank("peg", 10, 20, 50, "ash")
TWO = Problem(
    (Need("pegs", ((PEG, PEG),)),), (StockTimber("bar", 12, 50, 300, "Ash", ((100, 110),), 2, 400),), 3.0, 20.0
)  # fmt: skip


def plan(*cuts: Cut, strip_at: float = 0.0, width: float = 20.0, **other: object) -> Plan:
    right = first_plan(TWO)
    (sawn,) = right.sawn
    return right._replace(sawn=(sawn._replace(strips=(Strip(strip_at, width, cuts),)),), **other)


def only(damaged: Plan, words: str) -> None:
    wrong = faults(TWO, damaged)
    assert any(words in fault for fault in wrong), wrong


def test_the_plan_before_the_damage_holds():
    assert faults(TWO, first_plan(TWO)) == []


@pytest.mark.parametrize(
    ("damaged", "words"),
    [
        (plan(Cut(0, PEG, 0), Cut(0, PEG, 52.9)), "no kerf"),
        (plan(Cut(0, PEG, 0), Cut(0, PEG, 60)), "knot"),
        (plan(Cut(0, PEG, 0), Cut(0, PEG, 109.9)), "knot"),
        (plan(Cut(0, PEG, 0), Cut(0, PEG, 250.1)), "beyond the end"),
        (plan(Cut(0, PEG, -0.1), Cut(0, PEG, 200)), "beyond the end"),
        (plan(Cut(0, PEG, 0), Cut(0, PEG, 200), strip_at=30.1), "not inside"),
        (plan(Cut(0, PEG, 0), Cut(0, PEG, 200), strip_at=-0.1), "not inside"),
        (plan(Cut(0, PEG, 0), Cut(0, PEG, 200), width=19.9), "wider than its strip"),
        (plan(Cut(0, PEG, 0), Cut(0, PEG, 200, True)), "thicker than the timber"),
        (plan(Cut(0, PEG, 0)), "not made by one of its ways"),
        (plan(Cut(0, PEG, 0), Cut(0, PEG, 150), Cut(0, PEG, 210)), "not made by one of its ways"),
        (plan(Cut(0, PEG, 0), Cut(1, PEG, 200)), "there is no need 1"),
        (plan(Cut(0, PEG, 0), Cut(0, PEG, 200), missing=(Missing(0, "lost"),)), "listed as missing, and"),
        (plan(Cut(0, PEG, 0), Cut(0, PEG, 200), missing=(Missing(1, "lost"),)), "no need 1 to miss"),
        (plan(missing=(Missing(0, "lost"), Missing(0, "lost"))), "need 0 is listed as missing 2 times"),
        (plan(Cut(0, PEG, 0), Cut(0, PEG, 200), cost=0), "the cost is 400"),
        (plan(Cut(0, PEG, 0), Cut(0, PEG, 200), waste=1.0), "the waste is"),
        (plan(Cut(0, PEG, 0), Cut(0, PEG, 200), offcuts=()), "is not listed"),
        (plan(), "nothing is sawn"),
    ],
)
def test_each_damage_is_named(damaged, words):
    only(damaged, words)


def test_a_piece_is_used_once_and_no_more_pieces_than_there_are():
    right = first_plan(TWO)
    only(right._replace(sawn=right.sawn * 2), "sawn twice")
    only(right._replace(sawn=(right.sawn[0]._replace(piece=2),)), "there is no timber 0 piece 2")
    only(right._replace(sawn=(right.sawn[0]._replace(timber=1),)), "there is no timber 1")
    assert faults(TWO, right._replace(sawn=(right.sawn[0]._replace(piece=1),))) == []


def test_two_strips_need_a_kerf_between_them():
    right = first_plan(TWO)
    strips = Strip(0, 20, (Cut(0, PEG, 0),)), Strip(22.9, 20, (Cut(0, PEG, 0),))
    only(right._replace(sawn=(Sawn(0, 0, strips),)), "no kerf between the strips")
    away = Strip(5, 20, (Cut(0, PEG, 0),)), Strip(27.9, 20, (Cut(0, PEG, 0),))
    only(right._replace(sawn=(Sawn(0, 0, away),)), "no kerf between the strips at 50 and 279")


def test_a_blank_of_another_species_is_named():
    oak = TWO._replace(timbers=(TWO.timbers[0]._replace(species="oak"),))
    assert any("another species" in fault for fault in faults(oak, first_plan(TWO)))


def test_an_offcut_that_is_not_there_is_named():
    right = first_plan(TWO)
    longer = right.offcuts[0]._replace(length=right.offcuts[0].length + 1)
    only(right._replace(offcuts=(longer, *right.offcuts[1:])), "is no offcut")


def test_no_cut_of_a_boat_can_be_moved_onto_another():
    right = first_plan(boat())
    moved = 0
    for s, sawn in enumerate(right.sawn):
        for t, strip in enumerate(sawn.strips):
            for before, after in pairwise(strip.cuts):
                cuts = tuple(after._replace(at=before.at) if cut is after else cut for cut in strip.cuts)
                strips = (*sawn.strips[:t], strip._replace(cuts=cuts), *sawn.strips[t + 1 :])
                damaged = (*right.sawn[:s], sawn._replace(strips=strips), *right.sawn[s + 1 :])
                assert any("no kerf between" in fault for fault in faults(boat(), right._replace(sawn=damaged)))
                moved += 1
    assert moved > 5


def test_the_check_of_a_boat_sees_one_blank_left_out():
    right = first_plan(boat())
    strip = right.sawn[0].strips[0]
    less = right.sawn[0]._replace(strips=(strip._replace(cuts=strip.cuts[1:]), *right.sawn[0].strips[1:]))
    assert faults(boat(), right._replace(sawn=(less, *right.sawn[1:]), proof=PlanProof(False, "")))


def test_a_cut_may_end_and_begin_at_a_knot() -> None:
    """The knot goes from 100 to 110 mm: one peg of 50 mm before it, one after."""
    wrong = faults(TWO, plan(Cut(0, PEG, 50), Cut(0, PEG, 110)))
    assert not any("knot" in fault or "kerf" in fault for fault in wrong), wrong
    only(plan(Cut(0, PEG, 50.1), Cut(0, PEG, 110)), "a cut from 501 to 1001 has the knot at 100 in it")
    only(plan(Cut(0, PEG, 50), Cut(0, PEG, 109.9)), "a cut from 1099 to 1599 has the knot at 100 in it")


def test_a_strip_past_the_edge_is_told_with_its_edges_in_tenths() -> None:
    only(plan(Cut(0, PEG, 0), Cut(0, PEG, 200), strip_at=30.1), "a strip from 301 to 501 is not inside 500")
    wrong = faults(TWO, plan(Cut(0, PEG, 0), Cut(0, PEG, 200), strip_at=30.0))
    assert not any("not inside" in fault for fault in wrong)


def test_the_waste_is_told_to_the_hundredth_of_a_cubic_millimetre() -> None:
    """12 × 50 × 300 mm of timber less two pegs of 10 × 20 × 50 mm."""
    right = first_plan(TWO)
    assert right.waste == 12 * 50 * 300 - 2 * 10 * 20 * 50
    assert faults(TWO, right._replace(waste=right.waste + 0.00995)) == []
    for off in (0.0101, -0.0101):
        assert any(
            "the waste is 160000.0 mm³, not" in fault for fault in faults(TWO, right._replace(waste=right.waste + off))
        )


def test_past_a_knot_thinner_than_the_saw_the_wood_begins_a_kerf_after_it_begins() -> None:
    """A knot of 1 mm at 100 mm and a kerf of 3 mm; the pegs end at 153 mm. Of the wood beside them 103 to 300 mm."""
    thin = TWO._replace(timbers=(TWO.timbers[0]._replace(knots=((100, 101),)),))
    right = first_plan(thin)
    assert faults(thin, right) == []
    assert {(offcut.at, offcut.length) for offcut in right.offcuts if offcut.at > 100} == {(103, 197), (156, 144)}


def test_a_plan_may_leave_out_the_first_need_and_saw_nothing() -> None:
    nothing = first_plan(TWO)._replace(sawn=(), missing=(Missing(0, "lost"),), cost=0, waste=0.0, offcuts=())
    assert faults(TWO, nothing) == []


def test_what_is_left_just_as_long_as_is_kept_is_an_offcut() -> None:
    """A peg to 77 mm and a kerf of 3 mm: 20 mm to the knot at 100 mm. The other ends at 160 mm; beside them 27 mm."""
    kept = plan(Cut(0, PEG, 27), Cut(0, PEG, 110))
    left = (
        Offcut(0, 80, 20, 0, 20),
        Offcut(0, 163, 137, 0, 20),
        Offcut(0, 0, 100, 23, 27),
        Offcut(0, 110, 190, 23, 27),
    )
    assert faults(TWO, kept._replace(offcuts=left)) == []
    only(kept._replace(offcuts=left[1:]), "is not listed")
