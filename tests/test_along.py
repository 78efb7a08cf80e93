"""What lies along a spar: run-outs at its ends, and the places where one with a hole stays solid."""

from typing import NamedTuple

import pytest

from shopcompanion.errors import InputFault
from shopcompanion.spar.along import Joint, Region, Stretch, solid_places
from shopcompanion.spar.body import Body
from shopcompanion.spar.fitting import Fitting
from shopcompanion.spar.outline import Outline
from shopcompanion.spar.whole import Fleet, WholeSpar

PLAIN = Outline(((0.0, 80.0), (3000.0, 80.0)))


@pytest.mark.parametrize("wrong", [(0.5, 100.0, 0.6), (50.0, 100.0, 50.1)])
def test_a_run_out_past_the_heel_is_refused_however_near_to_it(wrong: tuple[float, float, float]) -> None:
    start, end, run_out = wrong
    with pytest.raises(InputFault, match="runs out past the heel"):
        Body(PLAIN, regions=(Region(from_=start, to=end, section="square", run_out=run_out),))
    whole = Body(PLAIN, regions=(Region(from_=start, to=end, section="square", run_out=start),))
    assert whole.stretches[0] == Stretch(0.0, start, "round", "square")


def test_a_run_out_may_end_at_the_head_and_not_past_it() -> None:
    right = Region(from_=1000.0, to=2900.0, section="square", run_out=100.0)
    assert Body(PLAIN, regions=(right,)).stretches[-1] == Stretch(2900.0, 3000.0, "square", "round")
    with pytest.raises(InputFault, match="runs out past the head"):
        Body(PLAIN, regions=(right._replace(run_out=100.1),))


def test_two_run_outs_may_meet_and_not_overlap() -> None:
    """Run-outs of 60 and 40 mm fill the 100 mm between two regions; where they touch, the first's lies in the next."""
    first = Region(from_=0.0, to=400.0, section="square", run_out=60.0)
    after = Region(from_=500.0, to=900.0, section="eight", run_out=40.0)
    spar = Body(PLAIN, regions=(first, after))
    assert spar.stretches[1:3] == (Stretch(400, 460, "square", "round"), Stretch(460, 500, "round", "eight"))
    touching = after._replace(from_=400.0, to=460.0, run_out=0.0)
    assert Body(PLAIN, regions=(first, touching)).stretches[1] == Stretch(400, 460, "square", "eight")
    for wrong in (after._replace(run_out=40.1), touching._replace(to=459.9)):
        with pytest.raises(InputFault, match="no room to run out"):
            Body(PLAIN, regions=(first, wrong))


def test_where_a_hollow_stays_solid() -> None:
    """Of a spar 100 mm wide at the heel and thinner by a tenth of the way: a width at each end, a width to both sides
    of a joint (80 mm at 200 mm), half a width beyond what is fitted (45 mm + 20 mm at 100 mm; 50 mm at the heel)."""
    places = solid_places(
        lambda at: 100 - at / 10,
        500.0,
        [Joint(at=200.0, kind="hinge")],
        [Fitting(at=100.0, kind="cleat", length=40.0, flat=4.0), Fitting(at=0.0, kind="eye")],
    )
    assert places == ((0, 100), (450, 500), (120, 280), (35, 165), (-50, 50))


def test_a_bore_rises_to_nothing_over_two_widths() -> None:
    spar = Body(PLAIN, section="hollow", wall=10.0, solid=((0.0, 80.0), (2920.0, 3000.0)))
    assert spar.slope == 160
    assert spar.stretches == (
        Stretch(0.0, 80.0, "round", "round"),
        Stretch(80.0, 240.0, "round", "hollow"),
        Stretch(240.0, 2760.0, "hollow", "hollow"),
        Stretch(2760.0, 2920.0, "hollow", "round"),
        Stretch(2920.0, 3000.0, "round", "round"),
    )


def test_a_plug_between_staves_ends_in_a_swallowtail_of_three_and_a_half_holes() -> None:
    """Common practice: 3 to 4 times as long as the hole is wide."""
    assert Body(PLAIN, section="staves", wall=20.0).slope == 3.5 * 40


@pytest.mark.parametrize(
    ("staves", "thick", "words"),
    [
        (7, 15.0, "7 staves: a ring has 6, 8, 10, 12 or 16"),
        (8, 40.0, "staves of 40 mm leave no hole where the spar is 80 mm: less than 40 mm does"),
        # 40·(1 − cos 30°) = 5.35898 mm is where the round comes to the corners of the hole
        (6, 5.3, "staves of 5.3 mm are rounded through where the spar is 80 mm: more than 5.35898 mm holds"),
        (8, 0.0, "a spar of staves has their thickness as its wall"),
    ],
)
def test_a_ring_that_cannot_be_says_what_can(staves: int, thick: float, words: str) -> None:
    with pytest.raises(InputFault) as caught:
        Body(PLAIN, section="staves", wall=thick, staves=staves)
    assert caught.value.field == "wall"
    assert caught.value.reason == words


def test_three_regions_that_meet_each_run_out_into_the_next() -> None:
    kinds = ("square", "eight", "square")
    regions = tuple(
        Region(from_=start, to=start + 400, section=kind, run_out=100.0)
        for start, kind in zip((0.0, 400.0, 800.0), kinds, strict=True)
    )
    assert [stretch[2:] for stretch in Body(PLAIN, regions=regions).stretches] == [
        ("square", "square"), ("square", "eight"), ("eight", "eight"), ("eight", "square"), ("square", "square"),
        ("square", "round"), ("round", "round"),
    ]  # fmt: skip


def test_a_region_has_a_length_and_a_joint_wood_on_both_sides() -> None:
    with pytest.raises(InputFault, match="begins at 500 mm ends at 500 mm: it must end nearer the head"):
        Body(PLAIN, regions=(Region(from_=500.0, to=500.0, section="square"),))
    assert len(Body(PLAIN, joints=(Joint(at=0.5, kind="scarf"),)).parts) == 2
    for at in (0.0, 3000.0):
        with pytest.raises(InputFault, match="has nothing to join on one side"):
            Body(PLAIN, joints=(Joint(at=at, kind="scarf"),))


@pytest.mark.parametrize(("end", "hollow"), [(400.0, False), (400.1, True)])
def test_a_hollow_between_solid_places_has_room_for_both_its_slopes_or_is_none(end: float, hollow: bool) -> None:
    """80 mm wide: two slopes of 160 mm from 80 to 400 mm."""
    spar = Body(PLAIN, section="hollow", wall=10.0, solid=((0.0, 80.0), (end, 3000.0)))
    assert any(stretch.runs_out for stretch in spar.stretches) == hollow
    assert (spar.volume() < Body(PLAIN).volume() - 1) == hollow


def test_in_json_a_spar_has_the_shape_of_its_fittings_and_not_what_they_are_for() -> None:
    cleat = Fitting(at=1000.0, kind="cleat", name="for the halyard", length=100.0, flat=5.0, face="C")
    told = WholeSpar("Spar").to_json(Body(PLAIN, fittings=(cleat,)))
    (fitting,) = told["fittings"]
    assert "name" not in fitting
    assert {name: fitting[name] for name in ("at", "kind", "length", "flat", "face")} == {
        "at": 1000, "kind": "cleat", "length": 100, "flat": 5, "face": "C",
    }  # fmt: skip
    assert (told["length"], told["section"], told["stations"]) == (3000, "round", [[0, 80], [3000, 80]])


def test_fleets_are_the_same_when_their_spars_are() -> None:
    class Pole(NamedTuple):
        name: str
        count: int = 1

        def body(self) -> Body:
            return Body(PLAIN)

    assert Fleet([Pole("mast"), Pole("boom")]) == Fleet((Pole("mast"), Pole("boom")))
    assert Fleet([Pole("mast")]) != Fleet([Pole("mast", 2)])
    assert Fleet([Pole("mast")]) != (Pole("mast"),)
