"""Staves: by hand, along a spar, what is refused, the plugs, and the saw's two cuts as they are set."""

from math import cos, pi, radians, sin, tan

import pytest

from shopcompanion.catalog import load
from shopcompanion.form import solve
from shopcompanion.profile.follow import follow
from shopcompanion.profile.parse import read

from ..asking import INCH_64, MM_01, ask, refusal, typed

SPAR = ((0.0, 80.0), (3000.0, 60.0))
BOAT = """
format = 1
[boat]
name = "Dabchick"
units = "mm"
[[spar]]
name = "mast"
kind = "mast"
species = "Spruce, Sitka"
length = "4 m"
section = "staves"
staves = 12
wall = "14 mm"
solid = [{ from = "2 m", to = "2.2 m" }]
stations = [{ at = "0", width = "80 mm" }, { at = "4 m", width = "60 mm" }]
fittings = [{ at = "600 mm", kind = "partners" }]
"""


def test_eight_of_20_mm_round_100_mm() -> None:
    answers = ask("staves", diameter=100.0, thickness=20.0).answers
    assert answers.stave_width == pytest.approx(38.995, abs=5e-4)
    assert (answers.notch_depth, answers.notch_inner, answers.notch_outer) == pytest.approx((10, 45, 45))
    assert (answers.saw_tilt, answers.saw_flat, answers.saw_edge) == pytest.approx((45, 10, 10))
    assert (answers.router_tilt, answers.bit_least, answers.hole) == pytest.approx((0, 20, 60))
    assert answers.mass is None
    assert answers.clamps is None


@pytest.mark.parametrize("staves", [6, 8, 10, 12, 16])
def test_the_two_cuts_meet_in_the_bottom_of_the_notch(staves: int) -> None:
    """The blade as it is set, with the stave flat on the table and then on its edge, ends there both times.

    Flat, with the notched edge at x = 0 and the table at y = 0: a blade tilted from the vertical, as high as it is set.
    It comes out at the corner of the edge and the table, and leans into the stave.
    """
    answers = ask("staves", staves=staves, diameter=100.0, thickness=20.0).answers
    lean = tan(radians(answers.saw_tilt))
    flat_in, flat_up = answers.saw_flat * lean, answers.saw_flat  # from the corner that lies on the table
    edge_in, edge_up = (
        answers.saw_edge * lean,
        answers.saw_edge,
    )  # from the other corner, which lies on the fence's side
    assert flat_in == pytest.approx(answers.notch_depth)
    assert edge_up == pytest.approx(answers.notch_depth)
    assert flat_up + edge_in == pytest.approx(20.0)
    below = flat_up if staves >= 8 else 20.0 - flat_up  # the outer face lies down, or for six the inner one
    assert below == pytest.approx(answers.notch_below)


def test_staves_along_a_spar_are_narrower_by_the_same_rule() -> None:
    result = ask("staves", MM_01, outline=SPAR, thickness=14.0, species="Spruce, Sitka", station_step=1000.0)
    stations = next(table for table in result.tables if table.name == "stations").rows
    assert [row[0] for row in stations] == [0, 1000, 2000, 3000]
    for at, wide, stave, off, _ in stations:
        assert wide == pytest.approx(80 - 20 * at / 3000)
        assert stave == pytest.approx(0.41421356 * wide - 0.12132034 * 14, abs=1e-6)
        assert off == pytest.approx(result.answers.widest_stave - stave)
    assert result.answers.mass < result.answers.mass_alike < result.answers.mass_solid


def test_a_spar_of_the_boat_has_its_staves_and_its_plugs() -> None:
    boat = read(BOAT).boat
    assert not read(BOAT).faults
    result = solve(load("staves"), {}, follow(boat, boat.spars[0], 1000.0), boat.rule)
    assert result.inputs.staves == 12
    assert result.answers.stave_thickness == 14.0
    assert result.answers.diameter_used == pytest.approx(75.0)
    plugs = next(table for table in result.tables if table.name == "plugs").rows
    tail = 3.5 * (80 - 28)
    assert [row[:4] for row in plugs] == [
        pytest.approx((0, 80, 0, tail)), pytest.approx((561.5, 638.5, tail, tail)),
        pytest.approx((2000, 2200, tail, tail)), pytest.approx((3940, 4000, tail, 0)),
    ]  # fmt: skip
    weight = solve(load("weight"), {}, follow(boat, boat.spars[0], None), boat.rule).answers
    assert weight.mass == pytest.approx(result.answers.mass)


def test_what_is_refused_says_what_would_work() -> None:
    assert "6, 8, 10, 12 or 16" in str(refusal("staves", diameter=80.0, staves=7))
    assert "widths along the spar" in str(refusal("staves"))
    assert "less than 1-37/64 in bare" in str(refusal("staves", diameter=80.0, thickness=40.0))
    assert "less than" in str(refusal("staves", outline=SPAR, thickness=30.0))
    assert "rounded through" in str(refusal("staves", diameter=100.0, thickness=5.0, staves=6))
    assert refusal("staves", diameter=100.0, wall=50.0).field == "wall"
    assert refusal("staves", outline=SPAR, species="oakk").field == "species"


def test_a_usual_thickness_stands_where_none_is_given() -> None:
    assert typed("staves", INCH_64, diameter="5").answers.stave_thickness == pytest.approx(25.4)


def test_six_are_cut_with_the_inner_face_down() -> None:
    def said(staves: int) -> bool:
        return any("inner face down" in line for line in ask("staves", diameter=100.0, staves=staves).cautions)

    assert said(6)
    assert not said(8)
    sides = ask("staves", diameter=100.0, thickness=20.0, staves=6).answers
    assert sides.notch_below == pytest.approx(20 * cos(radians(60)) ** 2)
    assert sides.notch_depth == pytest.approx(20 * sin(radians(60)) * cos(radians(60)))


@pytest.mark.parametrize(("wall", "told"), [(10.1, False), (9.9, True)])
def test_a_wall_under_an_eighth_is_told_with_the_usual_fifth(wall: float, told: bool) -> None:
    """Of a spar of 80 mm: 10 mm, and staves of 16 mm are usual."""
    said = [line for line in ask("staves", MM_01, diameter=80.0, wall=wall).cautions if "The wall is only" in line]
    assert bool(said) == told
    assert all("16 mm thick is usual" in line for line in said)


def test_a_ring_of_eight_by_hand() -> None:
    """100 mm, staves 20 mm thick: tan 22.5° is 0.414214, tan 11.25° 0.198912; 1/cos of 22.5°, 11.25° and 5.625° are
    1.082392, 1.019591 and 1.004838."""
    answers = ask("staves", diameter=100.0, thickness=20.0, planing=1.5).answers
    assert (answers.face, answers.face_next) == pytest.approx((41.4214, 19.8912), abs=1e-3)
    ridges = (answers.off_next, answers.ridge_next, answers.ridge_last)
    assert ridges == pytest.approx((50 * 0.082392, 50 * 0.019591, 50 * 0.004838), abs=1e-4)
    assert answers.rip_thickness == 23
    assert answers.area_part == pytest.approx(answers.area / 7853.98, rel=1e-6)
    assert answers.second_part == pytest.approx(answers.second / 4908738.5, rel=1e-6)  # π/64·100⁴
    assert answers.solid_alike == pytest.approx(100 * answers.second_part**0.25)


def test_an_even_spar_of_staves_against_the_solid_ones() -> None:
    """3 m of 100 mm in spruce at 448 kg/m³; a clamp every 3.5 diameters are nine gaps, and one more clamp."""
    outline = ((0.0, 100.0), (3000.0, 100.0))
    answers = ask("staves", outline=outline, thickness=20.0, planing=1.5, species="Spruce, Sitka").answers
    assert answers.mass_solid == pytest.approx(448 * pi / 4 * 0.1**2 * 3, rel=1e-6)
    assert answers.mass_alike == pytest.approx(448 * pi / 4 * (answers.solid_alike / 1000) ** 2 * 3, rel=1e-6)
    assert answers.mass > answers.mass_solid * answers.area_part  # plugs fill it here and there
    assert answers.mass < answers.mass_alike
    assert answers.rip_width == pytest.approx(answers.stave_width + 3)
    assert answers.clamps == 10
    assert ask("staves", outline=((0.0, 100.0), (3500.0, 100.0)), thickness=20.0).answers.clamps == 11  # ten gaps
    assert ask("staves", outline=((0.0, 100.0), (3000.0, 50.0)), thickness=10.0).answers.clamps == 19


def test_a_wall_of_half_the_thin_end_leaves_no_hole() -> None:
    fault = refusal("staves", MM_01, outline=SPAR, wall=30.0)
    assert (fault.field, "a wall of 30 mm leaves no hole where the spar is 60 mm" in str(fault)) == ("wall", True)


def test_a_bit_reaches_along_the_longer_side_of_the_notch() -> None:
    """Six of 20 mm: the notch is a right angle over 20 mm, its longer side 20·cos 30°; the bit is √2 times as wide."""
    assert ask("staves", diameter=100.0, thickness=20.0, staves=6).answers.bit_least == pytest.approx(24.4949, abs=1e-4)
