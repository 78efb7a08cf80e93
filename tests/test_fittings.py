"""What fittings take from a spar: in the face they say, along the length they say, and no wood twice."""

from math import pi, sqrt

import pytest

from shopcompanion.errors import InputFault
from shopcompanion.spar.along import Region
from shopcompanion.spar.body import Body
from shopcompanion.spar.fitting import Fitting
from shopcompanion.spar.outline import Outline

PLAIN = Outline(((0.0, 80.0), (3000.0, 80.0)))


def square(*fittings: Fitting) -> Body:
    return Body(PLAIN, section="square", fittings=fittings)


@pytest.mark.parametrize(("face", "up", "out"), [("A", -1, 0), ("C", 1, 0), ("B", 0, -1), ("D", 0, 1)])
def test_a_flat_lies_in_its_face(face: str, up: int, out: int) -> None:
    spar = square(Fitting(at=1000.0, kind="cleat", length=100.0, flat=10.0, face=face))
    left = spar.left_at(1000.0)
    assert (left.area, left.x, left.y) == pytest.approx((70 * 80, out * 5, up * 5))
    whole, less = (left.second_width, left.second_depth) if up else (left.second_depth, left.second_width)
    assert (whole, less) == pytest.approx((70 * 80**3 / 12, 80 * 70**3 / 12))
    assert spar.left_at(1050.1).area == pytest.approx(80 * 80)


def test_an_ovals_faces_of_the_depth_are_its_sides() -> None:
    oval = Body(
        Outline(((0.0, 60.0), (3000.0, 60.0))),
        PLAIN,
        "square",
        fittings=(
            Fitting(at=1000.0, kind="cleat", length=100.0, flat=10.0, face="B"),
            Fitting(at=2000.0, kind="pin", hole=10.0, face="B"),
        ),
    )
    assert oval.left_at(1000.0).area == pytest.approx(80 * 50)
    assert oval.left_at(2000.0).area == pytest.approx(60 * 70)


def test_a_hinge_with_its_flats_its_barrel_and_its_bolt() -> None:
    """Let in from both sides: flats 6 mm deep over 200 mm, a barrel 20 mm deep over 30 mm, a bolt of 10 mm."""
    spar = square(
        Fitting(
            at=1000.0, kind="hinge", length=200.0, flat=6.0, hole=10.0, barrel=30.0, barrel_deep=20.0, face="B and D"
        )
    )
    assert spar.left_at(950.0).area == pytest.approx(80 * 68)
    assert spar.left_at(1010.0).area == pytest.approx(80 * 40)
    assert spar.left_at(1000.0).area == pytest.approx(70 * 40)  # the bolt goes through from B to D
    assert spar.taken() == pytest.approx(170 * 80 * 12 + 30 * 80 * 40 + pi * 5**2 * 40, rel=1e-9)


def test_a_bar_lies_along_its_length_in_both_faces() -> None:
    spar = square(Fitting(at=1000.0, kind="bar", length=300.0, bar=20.0, bar_deep=8.0, face="A and C"))
    left = spar.left_at(1149.0)
    assert left.area == pytest.approx(80 * 80 - 2 * 20 * 8)
    assert left.second_depth == pytest.approx((80**4 - 20 * (80**3 - 64**3)) / 12)
    assert spar.left_at(1151.0).area == pytest.approx(80 * 80)
    assert spar.taken() == pytest.approx(300 * 2 * 20 * 8, rel=1e-9)


def test_two_in_one_place_take_no_wood_twice() -> None:
    spar = square(
        Fitting(at=1000.0, kind="cleat", length=200.0, flat=10.0),
        Fitting(at=1050.0, kind="block", length=200.0, flat=6.0),
    )
    assert spar.left_at(1075.0).area == pytest.approx(80 * 70)
    assert spar.taken() == pytest.approx(80 * (200 * 10 + 50 * 6), rel=1e-9)
    moments = 80 * 3000**2 / 2 - 10 * 200 * 1000 - 6 * 50 * 1125
    assert spar.moment() == pytest.approx(80 * moments, rel=1e-12)


def test_what_is_left_in_a_run_out_changes_as_its_area_does() -> None:
    cleat = Fitting(at=500.0, kind="cleat", length=100.0, flat=10.0)
    spar = Body(PLAIN, regions=(Region(from_=0.0, to=400.0, section="square", run_out=200.0),), fittings=(cleat,))
    ends = [Body(PLAIN, section=kind, fittings=(cleat,)).left_at(500.0) for kind in ("square", "round")]
    assert spar.left_at(500.0) == pytest.approx([0.75 * a + 0.25 * b for a, b in zip(*ends, strict=True)])  # half way


def test_a_fitting_that_cuts_nothing_takes_nothing() -> None:
    spar = square(Fitting(at=1000.0, kind="band", length=40.0), Fitting(at=2000.0, kind="eye"))
    assert spar.taken() == 0
    assert spar.volume() == pytest.approx(80 * 80 * 3000, rel=1e-12)


def test_a_slot_goes_right_through_its_face_and_no_further_than_it_is_long() -> None:
    spar = square(Fitting(at=1000.0, kind="sheave", slot=12.0, slot_long=60.0, face="B"))
    assert spar.left_at(1029.0).area == pytest.approx(80 * 68)
    assert spar.left_at(1031.0).area == pytest.approx(80 * 80)
    assert spar.left_at(1000.0).second_depth == pytest.approx(80 * (80**3 - 12**3) / 12)  # out of the middle, B to D
    assert spar.taken() == pytest.approx(60 * 12 * 80, rel=1e-9)
    end = square(Fitting(at=2990.0, kind="sheave", slot=12.0, slot_long=60.0))
    assert end.taken() == pytest.approx(60 * 12 * 80, rel=1e-9)  # against the head, all of it in the wood


@pytest.mark.parametrize("holes", [1, 2, 3, 5])
def test_holes_are_spread_evenly_along_the_fitting(holes: int) -> None:
    """Each in the middle of its share of the length; together as much wood as so many round bores."""
    spar = square(Fitting(at=0.0, kind="jaws", length=300.0, hole=8.0, holes=holes))
    assert spar.taken() == pytest.approx(holes * pi * 4**2 * 80, rel=1e-9)
    for number in range(holes):
        middle = (number + 0.5) * 300 / holes
        assert spar.left_at(middle).area == pytest.approx(80 * 72)
        assert spar.left_at(middle + 4.001).area == pytest.approx(80 * 80)
        assert spar.left_at(middle - 3).area == pytest.approx(80 * 80 - 80 * 2 * (16 - 9) ** 0.5)


BAR = {"length": 50.0, "bar": 9.0, "bar_deep": 5.0}
BARREL = {"length": 50.0, "flat": 6.0, "barrel": 20.0, "barrel_deep": 9.0}


@pytest.mark.parametrize(
    ("sizes", "words"),
    [
        ({**BAR, "length": 0.0}, "has a bar of 9 mm and no length for it"),
        ({**BAR, "bar_deep": 0.0}, "has a bar of 9 mm and no bar_deep: give how far its floor lies below the crown"),
        ({**BAR, "bar": 0.0}, "has a bar_deep of 5 mm and no bar"),
        ({**BAR, "bar": 80.0}, "has a bar of 80 mm, and the spar is 80 mm there: less than that fits"),
        ({**BAR, "bar_deep": 90.0}, "has a bar let in 90 mm, and the spar is 80 mm there: less than that fits"),
        ({**BAR, "flat": 5.0}, "its bar 5 mm deep, in a flat that is 5 mm deep: a bar_deep of more than that fits"),
        ({**BAR, "bar_deep": 40.0, "face": "B and D"}, "is let in 40 mm from both sides, and the spar is 80 mm there: "
         "less than 40 mm fits"),
        ({"length": 50.0, "flat": 41.0, "face": "A and C"}, "is let in 41 mm from both sides"),
        ({**BARREL, "barrel_deep": 5.0}, "its barrel 5 mm deep, in a flat that is 6 mm deep: a barrel_deep of more"),
        ({**BARREL, "barrel_deep": 0.0}, "has a barrel of 20 mm and no barrel_deep: give how far its floor"),
        ({**BARREL, "barrel": 0.0}, "has a barrel_deep of 9 mm and no barrel"),
        ({**BARREL, "barrel": 60.0}, "has a barrel of 60 mm along it, and is only 50 mm long"),
        ({**BARREL, "barrel_deep": 80.0}, "has a barrel let in 80 mm, and the spar is 80 mm there"),
        ({"holes": 2}, "has 2 holes and no hole: give their diameter"),
        ({"holes": 2, "hole": 6.0}, "has 2 holes and no length to spread them along"),
        ({"holes": 3, "hole": 20.0, "length": 60.0}, "has 3 holes of 20 mm, which do not lie apart along 60 mm"),
        ({"slot": 10.0}, "has a slot 10 mm wide and no slot_long: give its length along the spar"),
        ({"slot_long": 60.0}, "has a slot_long of 60 mm and no slot: give its width"),
        ({"slot": 80.0, "slot_long": 90.0}, "has a slot of 80 mm, and the spar is 80 mm there: less than that fits"),
        ({"hole": 80.0, "face": "D"}, "has a hole of 80 mm, and the spar is 80 mm there: less than that fits"),
    ],
)  # fmt: skip
def test_what_does_not_fit_says_what_would(sizes: dict[str, float], words: str) -> None:
    with pytest.raises(InputFault) as caught:
        square(Fitting(at=1000.0, kind="hinge", **sizes))  # type: ignore[arg-type]
    assert caught.value.field == "fittings"
    assert caught.value.reason.startswith(f"the hinge at 1000 mm {'has ' * words.startswith('its')}{words}")


def test_on_a_taper_the_thin_end_of_a_fitting_counts() -> None:
    tapered = Outline(((0.0, 80.0), (1000.0, 40.0)))
    with pytest.raises(InputFault, match="a bar of 61 mm, and the spar is 60 mm there"):
        Body(tapered, fittings=(Fitting(at=400.0, kind="bar", length=200.0, bar=61.0, bar_deep=20.0),))
    Body(tapered, fittings=(Fitting(at=400.0, kind="bar", length=200.0, bar=59.0, bar_deep=20.0),))


def test_two_that_meet_in_the_middle_are_refused_where_they_lie_over_each_other() -> None:
    bar, cheek = (
        Fitting(at=900.0, kind="bar", length=50.0, bar=9.0, bar_deep=30.0),
        Fitting(at=920.0, kind="cheek", length=50.0, flat=50.0, face="C"),
    )
    with pytest.raises(InputFault, match="the cheek at 920 mm is let in 50 mm, and from the other side the bar at 900"):
        square(bar, cheek)
    square(bar, cheek._replace(at=960.0))
    square(bar, cheek._replace(flat=49.0))
    square(bar, cheek._replace(face="A"))
    square(bar, cheek._replace(face="B"))


def test_the_thin_end_counts_whichever_way_it_lies() -> None:
    for ends in ((80.0, 40.0), (40.0, 80.0)):
        tapered = Outline(((0.0, ends[0]), (1000.0, ends[1])))
        middle = 400.0 if ends[0] == 80 else 600.0
        cheek = Fitting(at=middle, kind="cheek", length=200.0, flat=60.0)  # 60 mm is what the spar is at its thin end
        with pytest.raises(InputFault, match="a flat of 60 mm, and the spar is 60 mm there"):
            Body(tapered, fittings=(cheek,))
        Body(tapered, fittings=(cheek._replace(flat=59.0),))
        with pytest.raises(InputFault, match="a bar of 61 mm, and the spar is 60 mm there"):
            Body(tapered, fittings=(cheek._replace(flat=0.0, bar=61.0, bar_deep=20.0),))


def test_two_that_meet_are_told_with_what_fits() -> None:
    bar = Fitting(at=900.0, kind="bar", length=50.0, bar=9.0, bar_deep=30.0)
    with pytest.raises(InputFault) as caught:
        square(bar, Fitting(at=920.0, kind="cheek", length=50.0, flat=60.0, face="C"))
    assert caught.value.reason == (
        "the cheek at 920 mm is let in 60 mm, and from the other side the bar at 900 mm 30 mm: less than 50 mm fits"
    )
    tapered = Outline(((0.0, 80.0), (1000.0, 40.0)))
    deep = Fitting(at=400.0, kind="cheek", length=100.0, flat=55.0)  # of 62 mm
    long = Fitting(at=500.0, kind="leather", length=400.0, face="C", flat=1.0)  # to where the spar is 52 mm
    with pytest.raises(InputFault, match="the cheek at 400 mm 55 mm: less than 0 mm fits"):
        Body(tapered, fittings=(deep, long))
    Body(tapered, fittings=(deep, long._replace(flat=0.0)))  # what is not let in meets nothing


def test_barrels_from_opposite_sides_may_lie_side_by_side() -> None:
    """One reaches 15 mm from its middle and the other's flat 10 mm: 25 mm apart they do not meet."""
    hinge = Fitting(at=1000.0, kind="hinge", length=30.0, barrel=30.0, barrel_deep=50.0)
    cheek = Fitting(at=1025.0, kind="cheek", length=20.0, flat=40.0, face="C")
    square(hinge, cheek)
    with pytest.raises(InputFault, match="from the other side the hinge at 1000 mm 50 mm: less than 30 mm fits"):
        square(hinge, cheek._replace(at=1024.9))


def test_a_barrel_a_flat_and_a_slot_end_where_they_are_said_to() -> None:
    spar = square(
        Fitting(at=1000.0, kind="hinge", length=200.0, flat=6.0, barrel=30.0, barrel_deep=20.0),
        Fitting(at=2000.0, kind="sheave", slot=12.0, slot_long=60.0),
    )
    for way in (-1, 1):
        assert spar.left_at(1000 + way * 15).area == pytest.approx(80 * 60)
        assert spar.left_at(1000 + way * 15.01).area == pytest.approx(80 * 74)
        assert spar.left_at(1000 + way * 100).area == pytest.approx(80 * 74)
        assert spar.left_at(1000 + way * 100.01).area == pytest.approx(80 * 80)
        assert spar.left_at(2000 + way * 30).area == pytest.approx(80 * 68)


def test_a_fitting_may_be_as_long_as_the_spar() -> None:
    spar = square(Fitting(at=0.0, kind="leather", length=3000.0, flat=2.0))
    assert spar.taken() == pytest.approx(3000 * 2 * 80, rel=1e-9)
    with pytest.raises(InputFault, match="is longer than the spar"):
        square(Fitting(at=0.0, kind="leather", length=3000.1, flat=2.0))


def test_what_is_cut_at_the_heel_is_counted_from_the_heel_on() -> None:
    jaws = square(Fitting(at=0.0, kind="jaws", length=200.0, flat=10.0))
    assert jaws.taken() == pytest.approx(200 * 10 * 80, rel=1e-9)
    assert jaws.moment() == pytest.approx(80 * 80 * 3000**2 / 2 - 200 * 10 * 80 * 100, rel=1e-9)


@pytest.mark.parametrize("size", [1.0, 0.1])
def test_a_hole_gets_narrower_than_a_bar_where_a_right_angled_triangle_says(size: float) -> None:
    """3-4-5: in a hole of 10 a chord of 6 lies 4 from the middle, and one of 8 lies 3 from it."""
    pin = Fitting(at=1000.0, kind="pin", hole=10 * size)
    offs = pin.changes([6 * size, 8 * size, 10 * size, 0.0])
    assert sorted({round(off, 9) for off in offs}) == pytest.approx([3 * size, 4 * size, 5 * size])


STEEP = Outline(((0.0, 60.0), (1000.0, 20.0)))  # 1 mm thinner every 25 mm
FLAT = Fitting(at=500.0, kind="cleat", length=900.0, flat=7.0)  # its floor 13 mm over the centre line: 40/2 − 7
LET_IN = Fitting(at=500.0, kind="bar", length=900.0, bar=20.0, bar_deep=3.0)


@pytest.mark.parametrize(
    ("section", "wall", "fittings", "thick"),
    [
        ("round", 0.0, (FLAT,), 26.0),  # the floor comes out at the crown: twice 13
        ("eight", 0.0, (FLAT._replace(flat=10.0),), 20 * (1 + sqrt(2))),  # passes the edge of a facet, w·tan 22.5°
        ("hollow", 6.0, (FLAT,), 38.0),  # comes to the bore: 13 and the wall of 6, twice
        ("hollow", 6.0, (FLAT._replace(flat=0.0, barrel=900.0, barrel_deep=7.0),), 38.0),
        ("round", 0.0, (FLAT, LET_IN._replace(bar=4.0, bar_deep=9.0)), 44.0),  # comes to the floor of a bar: 13 and 9
        ("round", 0.0, (FLAT._replace(flat=8.0), LET_IN._replace(bar=18.0, bar_deep=9.0)), 30.0),  # 9-12-15 triangle
        ("round", 0.0, (FLAT._replace(flat=8.0), Fitting(at=500.0, kind="block", slot=18.0, slot_long=900.0)), 30.0),
        ("round", 0.0, (LET_IN._replace(bar_deep=4.0),), 29.0),  # its corners leave the round: 10² + 10.5² = 14.5²
        ("eight", 0.0, (LET_IN,), 14 * (1 + sqrt(2))),  # they leave the slope: 10 − 3 is half a facet
        ("eight", 0.0, (LET_IN,), 20 * (1 + sqrt(2))),  # the bar is as wide as its facet
        ("hollow", 6.0, (LET_IN,), 32.0),  # the bar is as wide as the bore: 20 and two walls of 6
        ("hollow", 6.0, (LET_IN._replace(bar_deep=9.0),), 145 / 3),  # (r − 9)² + 10² = (r − 6)²: r = 145/6
    ],
)  # fmt: skip
def test_the_sums_break_where_a_cut_meets_an_edge(section: str, wall: float, fittings, thick: float) -> None:
    spar = Body(STEEP, section=section, wall=wall, fittings=fittings)
    at = 25 * (60 - thick)
    assert min(abs(place - at) for place in spar.breaks) < 1e-6


def test_fittings_from_opposite_sides_may_lie_end_to_end() -> None:
    """Each 50 mm long: 50 mm apart they touch, and 49.9 mm apart they lie over each other."""
    bar = Fitting(at=900.0, kind="bar", length=50.0, bar=9.0, bar_deep=45.0)
    cheek = Fitting(at=950.0, kind="cheek", length=50.0, flat=45.0, face="C")
    square(bar, cheek)
    with pytest.raises(InputFault, match="less than 35 mm fits"):
        square(bar, cheek._replace(at=949.9))


def test_what_meets_itself_is_told_with_its_deeper_floor() -> None:
    """Of 80 mm a flat of 30 mm from either side leaves 20 mm; its barrel goes 50 mm down, to the other's flat."""
    hinge = Fitting(at=900.0, kind="hinge", face="A and C", length=100.0, flat=30.0, barrel=20.0, barrel_deep=50.0)
    with pytest.raises(
        InputFault, match="is let in 50 mm from both sides, and the spar is 80 mm there: less than 40 mm"
    ):
        square(hinge)
    square(hinge._replace(barrel_deep=39.0))


def test_a_flat_shorter_than_its_slot_and_a_slot_shorter_than_its_flat_end_where_they_are_said_to() -> None:
    long = Fitting(at=1000.0, kind="sheave", length=20.0, flat=6.0, slot=12.0, slot_long=60.0)
    short = Fitting(at=2000.0, kind="sheave", length=200.0, flat=6.0, slot=12.0, slot_long=60.0)
    spar = square(long, short)
    for way in (-1, 1):
        assert spar.left_at(1000 + way * 9.9).area == pytest.approx(68 * 74)
        assert spar.left_at(1000 + way * 10.1).area == pytest.approx(68 * 80)
        assert spar.left_at(2000 + way * 29.9).area == pytest.approx(68 * 74)
        assert spar.left_at(2000 + way * 30.1).area == pytest.approx(80 * 74)
    assert short.slotted(3000.0) == (1970.0, 2030.0)
    assert long._replace(at=0.0).slotted(3000.0) == (0.0, 60.0)  # against the heel


def test_each_of_two_holes_begins_and_ends_half_of_it_from_its_middle() -> None:
    """Along 200 mm two holes of 10 mm lie 50 mm from the middle; a chord of 6 mm lies 4 mm from theirs (3-4-5)."""
    plate = Fitting(at=1000.0, kind="eye", length=200.0, hole=10.0, holes=2)
    assert {round(off, 9) for off in plate.changes([])} == {100, 45, 55}
    assert {round(off, 9) for off in plate.changes([6.0])} == {100, 45, 46, 54, 55}
