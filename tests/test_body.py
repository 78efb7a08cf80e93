"""A spar as a body: what it is at every station, exact at the breaks, and the faults it is refused for."""

from itertools import pairwise
from math import acos, pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from shopcompanion.errors import InputFault
from shopcompanion.spar.along import Joint, Region, Stretch
from shopcompanion.spar.body import Body
from shopcompanion.spar.fitting import Fitting
from shopcompanion.spar.outline import Outline

PLAIN = Outline(((0.0, 80.0), (3000.0, 80.0)))
TAPERED = Outline(((0.0, 80.0), (1000.0, 90.0), (3000.0, 50.0)))
HEEL = Region(from_=0.0, to=400.0, section="square", run_out=200.0)
BAND = Region(from_=1500.0, to=1700.0, section="eight", run_out=100.0)


@st.composite
def bodies(draw: st.DrawFn) -> Body:
    law = draw(st.sampled_from(["straight", "bowed", "faired", "steel 1794 yard", "skene 1927 boom"]))
    size = st.floats(40, 200)

    def outline() -> Outline:
        if law in ("steel 1794 yard", "skene 1927 boom"):
            return Outline.published(law, 4000.0, 1800.0, draw(size))
        ends = draw(size), draw(size)
        middle = max(ends) if law == "bowed" else draw(size)
        return Outline(((0.0, ends[0]), (1800.0, middle), (4000.0, ends[1])), law)

    section = draw(st.sampled_from(["round", "square", "eight", "oval", "hollow"]))
    heel = Region(from_=0.0, to=draw(st.floats(100, 500)), section="square", run_out=draw(st.floats(0, 300)))
    middle = Region(
        from_=1500.0, to=draw(st.floats(1600, 2000)), section=draw(st.sampled_from(["eight", "round"])), run_out=150.0
    )
    regions = draw(st.sampled_from([(), (heel,), (heel, middle), (middle,)]))
    pin = Fitting(at=draw(st.floats(0, 4000)), kind="pin", hole=draw(st.floats(2, 15)))
    cleat = Fitting(
        at=draw(st.floats(0, 4000)), kind="cleat", length=draw(st.floats(20, 200)), flat=draw(st.floats(1, 10))
    )
    fittings = draw(st.sampled_from([(), (pin,), (cleat,), (pin, cleat)]))
    depths = outline() if section == "oval" else None
    return Body(outline(), depths, section, 6.0 if section == "hollow" else 0.0, regions, (), fittings)


def test_stretches_from_heel_to_head() -> None:
    assert Body(PLAIN, regions=(BAND, HEEL)).stretches == (  # in whatever order they are given
        Stretch(0.0, 400.0, "square", "square"),
        Stretch(400.0, 600.0, "square", "round"),
        Stretch(600.0, 1400.0, "round", "round"),
        Stretch(1400.0, 1500.0, "round", "eight"),
        Stretch(1500.0, 1700.0, "eight", "eight"),
        Stretch(1700.0, 1800.0, "eight", "round"),
        Stretch(1800.0, 3000.0, "round", "round"),
    )


def test_regions_that_meet_share_the_run_out_of_the_one_nearer_the_heel() -> None:
    spar = Body(PLAIN, regions=(HEEL, Region(from_=400.0, to=900.0, section="eight", run_out=50.0)))
    assert spar.stretches[:4] == (
        Stretch(0.0, 400.0, "square", "square"),
        Stretch(400.0, 600.0, "square", "eight"),
        Stretch(600.0, 900.0, "eight", "eight"),
        Stretch(900.0, 950.0, "eight", "round"),
    )


def test_an_end_runs_out_into_nothing() -> None:
    spar = Body(PLAIN, regions=(Region(from_=2500.0, to=3000.0, section="square", run_out=100.0),))
    assert spar.stretches == (
        Stretch(0.0, 2400.0, "round", "round"),
        Stretch(2400.0, 2500.0, "round", "square"),
        Stretch(2500.0, 3000.0, "square", "square"),
    )
    whole = Body(PLAIN, regions=(Region(from_=0.0, to=3000.0, section="square", run_out=100.0),))
    assert whole.stretches == (Stretch(0.0, 3000.0, "square", "square"),)


def test_the_corners_are_cut_evenly_deeper_in_a_run_out() -> None:
    """A square whose corners are rounded by a radius that grows to half of its side."""
    spar = Body(PLAIN, regions=(HEEL,))
    for part in (0.0, 0.25, 0.5, 1.0):
        at, radius = 400 + 200 * part, 40 * part
        assert spar.corners_off(at, 8) == spar.corners_off(at, 16) == part
        assert spar.left_at(at).area == pytest.approx(80 * 80 - (4 - pi) * radius**2)
        assert spar.section_at(at).perimeter == pytest.approx(320 - (8 - 2 * pi) * radius)
    assert spar.corners_off(399.999, 8) == 0
    assert spar.section_at(100.0).perimeter == pytest.approx(320)
    assert spar.volume(400.0, 600.0) == pytest.approx(200 * (6400 - (4 - pi) * 1600 / 3), rel=1e-12)


@pytest.mark.parametrize(
    ("section", "region", "run_out", "eight", "sixteen"),
    [
        ("round", "square", (1400.0, 1500.0), 0.75, 0.75),
        ("round", "square", (1800.0, 1700.0), 0.75, 0.75),
        ("round", "eight", (1400.0, 1500.0), 1.0, 0.75),
        ("hollow", "eight", (1800.0, 1700.0), 1.0, 0.75),
        ("eight", "square", (1800.0, 1700.0), 0.75, 0.0),
        ("square", "round", (1400.0, 1500.0), 0.25, 0.25),
        ("square", "eight", (1800.0, 1700.0), 0.25, 0.0),
        ("eight", "round", (1400.0, 1500.0), 1.0, 0.25),
    ],
)
def test_either_way_and_for_every_section(
    section: str, region: str, run_out: tuple[float, float], eight: float, sixteen: float
) -> None:
    """A quarter of the way from the spar's own section to the region's."""
    spar = Body(PLAIN, None, section, 9.0, regions=(Region(from_=1500.0, to=1700.0, section=region, run_out=100.0),))
    at = run_out[0] + (run_out[1] - run_out[0]) / 4
    assert spar.corners_off(at, 8) == pytest.approx(eight)
    assert spar.corners_off(at, 16) == pytest.approx(sixteen)


def test_at_a_shoulder_the_side_counts_where_more_is_cut() -> None:
    spar = Body(PLAIN, regions=(Region(from_=1500.0, to=1700.0, section="square"),))
    assert [spar.corners_off(at, 8) for at in (1499.0, 1500.0, 1501.0, 1699.0, 1700.0)] == [1, 1, 0, 0, 1]


def test_without_a_run_out_the_section_changes_at_the_shoulder() -> None:
    spar = Body(PLAIN, regions=(Region(from_=0.0, to=400.0, section="square"),))
    assert spar.left_at(399.999).area == pytest.approx(6400)
    assert spar.left_at(400.0).area == pytest.approx(pi * 1600)  # at a break, towards the head
    assert spar.volume() == pytest.approx(400 * 6400 + 2600 * pi * 1600, rel=1e-12)


@pytest.mark.parametrize("at", [-0.1, 3000.1])
def test_beyond_either_end_is_refused(at: float) -> None:
    for look in (Body(PLAIN).section_at, Body(PLAIN).left_at, Body(PLAIN).width_at):
        with pytest.raises(InputFault, match="lies beyond the"):
            look(at)


def test_every_break_is_known() -> None:
    spar = Body(
        TAPERED,
        regions=(HEEL,),
        joints=(Joint(at=1200.0, kind="scarf"),),
        fittings=(
            Fitting(at=1000.0, kind="cleat", length=100.0, flat=3.0),
            Fitting(at=2000.0, kind="pin", hole=12.0),
            Fitting(at=2500.0, kind="eye"),
        ),
    )
    assert spar.breaks == (0, 400, 600, 950, 1000, 1050, 1994, 2006, 3000)


def test_an_oval_with_a_square_heel_and_its_two_sizes() -> None:
    depths = Outline(((0.0, 100.0), (1000.0, 100.0), (3000.0, 70.0)))
    spar = Body(TAPERED, depths, "oval", regions=(Region(from_=0.0, to=500.0, section="square"),))
    assert (spar.width_at(500.0), spar.depth_at(500.0)) == (85, 100)
    assert spar.left_at(250.0).area == pytest.approx(82.5 * 100)
    assert spar.left_at(3000.0).area == pytest.approx(pi / 4 * 50 * 70)
    assert spar.end_area == pytest.approx(80 * 100 + pi / 4 * 50 * 70)


@given(bodies())
def test_the_volume_is_the_sum_of_thin_slices(spar: Body) -> None:
    volume = 0.0
    for low, high in pairwise(spar.breaks):
        step = (high - low) / 200
        volume += sum(spar.left_at(low + (k + 0.5) * step).area for k in range(200)) * step
    assert spar.volume() == pytest.approx(volume, rel=2e-5)


@given(bodies(), st.floats(0, 1), st.floats(0, 1))
def test_parts_of_the_spar_make_the_whole(spar: Body, first: float, other: float) -> None:
    low, high = sorted((first * spar.length, other * spar.length))
    ends = [(0.0, low), (low, high), (high, spar.length)]
    assert sum(spar.volume(*part) for part in ends) == pytest.approx(spar.volume(), rel=1e-7)
    assert sum(spar.side_area(*part) for part in ends) == pytest.approx(spar.side_area(), rel=1e-9)
    assert sum(spar.moment(*part) for part in ends) == pytest.approx(spar.moment(), rel=1e-7)
    assert 0 < spar.balance_at < spar.length


@given(bodies(), st.floats(0, 1))
def test_what_is_left_is_between_nothing_and_the_whole(spar: Body, part: float) -> None:
    at = part * spar.length
    assert 0 < spar.left_at(at).area <= spar.section_at(at).area + 1e-9
    low, high = sorted(section.area for section in spar.section_at(at)[:2])
    assert low - 1e-9 <= spar.section_at(at).area <= high + 1e-9


def test_a_hole_takes_its_cylinder() -> None:
    pin = Fitting(at=1000.0, kind="pin", hole=16.0)
    spar = Body(PLAIN, section="square", fittings=(pin,))
    assert spar.taken() == pytest.approx(pi * 8**2 * 80, rel=1e-9)
    assert spar.left_at(1000.0).area == pytest.approx(80 * 80 - 16 * 80)
    assert spar.taken(1000.0) == pytest.approx(pi * 8**2 * 80 / 2, rel=1e-9)
    through_round = Body(PLAIN, fittings=(pin,))
    assert through_round.left_at(1000.0).area == pytest.approx(pi * 1600 - 80 * 16 * (1 - 8**2 / (6 * 40**2)), abs=0.2)
    assert through_round.taken() < pi * 8**2 * 80


def test_a_flat_takes_its_segment_along_its_length() -> None:
    cleat = Fitting(at=1000.0, kind="cleat", length=200.0, flat=40 * (1 - 1 / sqrt(2)))  # a segment of 90°
    spar = Body(PLAIN, fittings=(cleat,))
    segment = 40**2 * (pi / 4 - 1 / 2)
    assert spar.left_at(900.0).area == pytest.approx(pi * 1600 - segment)
    assert spar.left_at(899.9).area == pytest.approx(pi * 1600)
    assert spar.volume() == pytest.approx(pi * 1600 * 3000 - 200 * segment, rel=1e-9)


def test_a_hole_through_its_own_flat_takes_nothing_twice() -> None:
    both = Fitting(at=1000.0, kind="cleat", length=100.0, flat=10.0, hole=16.0)
    spar = Body(PLAIN, section="square", fittings=(both,))
    assert spar.volume() == pytest.approx(80 * 80 * 3000 - 10 * 80 * 100 - pi * 8**2 * 70, rel=1e-9)


def test_a_fitting_at_an_end_lies_against_it() -> None:
    jaws = Fitting(at=0.0, kind="jaws", length=200.0, flat=10.0)
    spar = Body(PLAIN, section="square", fittings=(jaws,))
    assert jaws.middle(3000.0) == 100
    assert spar.left_at(200.0).area == pytest.approx(80 * 70)
    assert spar.volume() == pytest.approx(80 * 80 * 3000 - 10 * 80 * 200, rel=1e-9)
    assert Fitting(at=3000.0, kind="outhaul", length=100.0).middle(3000.0) == 2950


STEEP = Outline(((0.0, 60.0), (1000.0, 20.0)))  # its crown falls 2 mm in 100 mm


def test_a_flat_that_runs_out_takes_its_wedge_of_a_square() -> None:
    """From 425 to 550 mm, where the crown c is 19 mm: twice c, c − 19 deep, and c falls by 1/50."""
    spar = Body(STEEP, section="square", fittings=(Fitting(at=500.0, kind="cleat", length=150.0, flat=1.0),))
    deepest = 30 - 425 / 50
    wedge = 50 * (2 / 3 * (deepest**3 - 19**3) - 19 * (deepest**2 - 19**2))
    assert spar.taken() == pytest.approx(wedge, rel=1e-9)
    assert 550 in [pytest.approx(at, abs=1e-9) for at in spar.breaks]


@pytest.mark.parametrize("wall", [0.0, 6.0])
def test_a_flat_that_runs_out_of_a_round_takes_what_segments_there_are(wall: float) -> None:
    """Segments of circles (geometry) summed by scipy's quadrature; of a hollow, less those of its bore."""

    def segment(radius: float, floor: float) -> float:
        return radius**2 * acos(floor / radius) - floor * sqrt(radius**2 - floor**2) if radius > floor else 0.0

    def taken(at: float) -> float:
        radius = 30 - at / 50
        return segment(radius, 13.0) - (segment(radius - wall, 13.0) if wall else 0.0)

    spar = Body(
        STEEP,
        section="hollow" if wall else "round",
        wall=wall,
        fittings=(Fitting(at=800.0, kind="bar", length=250.0, flat=1.0),),
    )
    wanted = sum(quad(taken, *ends, epsabs=1e-9, epsrel=1e-12)[0] for ends in ((675, 750), (750, 850)))
    assert spar.taken() == pytest.approx(wanted, rel=1e-8)
    fat = Body(
        STEEP,
        section="hollow" if wall else "round",
        wall=wall,
        fittings=(Fitting(at=500.0, kind="bar", length=500.0, flat=7.0),),
    )
    floor = 13.0  # 20 − 7: it comes out of the bore where the radius is 19 mm, and of the wood at 13 mm, beyond its end

    def deep(at: float) -> float:
        radius = 30 - at / 50
        return segment(radius, floor) - (segment(radius - wall, floor) if wall else 0.0)

    wanted = sum(quad(deep, *ends, epsabs=1e-9, epsrel=1e-12)[0] for ends in ((250, 550), (550, 750)))
    assert fat.taken() == pytest.approx(wanted, rel=1e-8)


def test_parts_lie_between_joints() -> None:
    hinge, scarf = Joint(at=1000.0, kind="hinge"), Joint(at=2200.0, kind="scarf")
    parts = Body(PLAIN, joints=(scarf, hinge)).parts
    assert [(part.start, part.end, part.heel, part.head) for part in parts] == [
        (0.0, 1000.0, None, hinge),
        (1000.0, 2200.0, hinge, scarf),
        (2200.0, 3000.0, scarf, None),
    ]
    assert len(Body(PLAIN).parts) == 1


def test_a_hollow_is_solid_where_its_wall_is_too_thick() -> None:
    spar = Body(TAPERED, section="hollow", wall=30.0)
    assert spar.left_at(3000.0).area == pytest.approx(pi / 4 * 2500)
    assert spar.left_at(1000.0).area == pytest.approx(pi / 4 * (8100 - 900))
    assert spar.wall_fault() == ("{} leaves no hollow at {}, where the spar is {}", (30.0, 3000.0, 50.0))
    assert Body(TAPERED, section="hollow", wall=20.0).wall_fault() is None
    solid_ends = Body(TAPERED, section="hollow", wall=20.0, regions=(Region(from_=2800.0, to=3000.0, section="round"),))
    assert solid_ends.left_at(2900.0).area == pytest.approx(pi / 4 * 52**2)
    assert solid_ends.wall_fault() is None


@pytest.mark.parametrize(
    ("changed", "field", "words"),
    [
        ({"regions": (Region(from_=500.0, to=400.0, section="square"),)}, "regions", "begins at 500 mm ends at 400 mm"),
        (
            {"regions": (Region(from_=500.0, to=3100.0, section="square"),)},
            "regions",
            "from 500 mm to 3100 mm reaches past the head",
        ),
        (
            {"regions": (Region(from_=0.0, to=2900.0, section="square", run_out=200.0),)},
            "regions",
            "runs out past the head",
        ),
        (
            {"regions": (Region(from_=50.0, to=300.0, section="square", run_out=100.0),)},
            "regions",
            "runs out past the heel",
        ),
        (
            {"regions": (HEEL, Region(from_=300.0, to=500.0, section="eight"))},
            "regions",
            "the eight from 300 mm to 500 mm overlaps",
        ),
        (
            {"regions": (HEEL, Region(from_=500.0, to=600.0, section="eight"))},
            "regions",
            "leaves the square from 0 mm to 400 mm",
        ),
        (
            {"regions": (HEEL, Region(from_=650.0, to=700.0, section="eight", run_out=60.0))},
            "regions",
            "no room to run out",
        ),
        ({"regions": (HEEL, Region(from_=400.0, to=500.0, section="eight"))}, "regions", "no room to run out"),
        (
            {"regions": (Region(from_=0.0, to=400.0, section="hollow"),)},
            "regions",
            "is hollow, and the spar has no wall",
        ),
        ({"section": "hollow"}, "wall", "a hollow spar has a wall"),
        ({"joints": (Joint(at=3100.0, kind="hinge"),)}, "joints", "the hinge at 3100 mm lies past the head"),
        ({"joints": (Joint(at=0.0, kind="scarf"),)}, "joints", "the scarf at 0 mm has nothing to join on one side"),
        (
            {"joints": (Joint(at=9.0, kind="scarf"), Joint(at=9.0, kind="hinge"))},
            "joints",
            "the hinge at 9 mm is where another joint",
        ),
        ({"fittings": (Fitting(at=3100.0, kind="eye"),)}, "fittings", "the eye at 3100 mm lies past the head"),
        (
            {"fittings": (Fitting(at=90.0, kind="band", length=4000.0),)},
            "fittings",
            "band at 90 mm is longer than the spar",
        ),
        ({"fittings": (Fitting(at=90.0, kind="cleat", flat=4.0),)}, "fittings", "a flat of 4 mm and no length for it"),
        (
            {"fittings": (Fitting(at=90.0, kind="cleat", length=50.0, flat=80.0),)},
            "fittings",
            "flat of 80 mm, and the spar is",
        ),
        (
            {"fittings": (Fitting(at=90.0, kind="pin", hole=81.0),)},
            "fittings",
            "a hole of 81 mm, and the spar is 80 mm",
        ),
        ({"depths": Outline(((0.0, 80.0), (2000.0, 60.0)))}, "stations", "the depths end at 2000 mm, the widths"),
    ],
)
def test_a_spar_that_contradicts_itself_says_which_entry(changed, field: str, words: str) -> None:
    with pytest.raises(InputFault, match=words) as caught:
        Body(PLAIN, **changed)
    assert caught.value.field == field


def test_the_side_of_a_square_wedge_by_hand() -> None:
    """80 wide, 100 deep at the heel and 40 at the head, 40 long: two faces of 80 by 50 (a 3-4-5 triangle: 30 down, 40
    along) and two sides of 40 by 70."""
    wedge = Body(Outline(((0.0, 80.0), (40.0, 80.0))), Outline(((0.0, 100.0), (40.0, 40.0))), "square")
    assert wedge.side_area() == pytest.approx(2 * 80 * 50 + 2 * 40 * 70)


def test_a_hollow_oval_has_its_wall_in_its_thinner_way() -> None:
    def hollow(wall: float) -> Body:
        return Body(PLAIN, Outline(((0.0, 60.0), (3000.0, 60.0))), "hollow", wall)

    assert hollow(30.0).wall_fault() == ("{} leaves no hollow at {}, where the spar is {}", (30.0, 0.0, 60.0))
    assert hollow(29.9).wall_fault() is None


def test_spars_are_the_same_when_all_of_them_is() -> None:
    assert Body(PLAIN, regions=(HEEL,)) == Body(PLAIN, regions=(HEEL,))
    assert Body(PLAIN, regions=(HEEL,)) != Body(PLAIN, regions=(BAND,))
    assert Body(PLAIN) != PLAIN
    assert Body(PLAIN) != Body(TAPERED)
