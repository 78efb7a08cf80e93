"""The steps by which fittings are let into a spar."""

import math

import pytest

from ..asking import MM_01
from .boats import one_spar
from .test_steps import MAST, TAPERED, of, words


def test_fittings_say_what_they_take() -> None:
    fittings = (
        'fittings = [{ at = "2 m", kind = "cleat", name = "halyard" }, '
        '{ at = "1 m", kind = "gooseneck", length = "80 mm", flat = "4 mm", hole = "10 mm" }]'
    )
    steps = of(one_spar(TAPERED + fittings))
    step = steps["flats"]
    assert step.title == "Mark the fittings"
    assert [column.name for column in step.tables[0].columns] == [
        "letter",
        "at",
        "width",
        "length",
        "flat",
        "hole",
        "fitting",
    ]
    first, second = step.tables[0].rows
    assert first == ("a", 1000, pytest.approx(60 - 20 / 3), 80, 4, 10, "gooseneck")
    assert second == ("b", 2000, pytest.approx(60 - 40 / 3), None, None, None, "cleat: halyard")
    seat = steps["fit-gooseneck-1000"]
    assert seat.title == "Let in the gooseneck (a), at 1000 mm"
    assert [line.partition(":")[0] for line in seat.says] == ["Mark", "Set", "Cut"]
    ends = {row[1]: row[2:] for row in seat.tables[0].rows}
    assert list(ends) == pytest.approx([960, 1000, 1040])
    assert [deep for deep, _ in ends.values()] == pytest.approx([4 + 40 / 150 / 2, 4, 4 - 40 / 150 / 2])  # one plane
    assert seat.checks
    (bored,) = steps["holes"].tables[0].rows
    assert bored[:3] == ("a", 1000, 10)
    assert bored[4] == pytest.approx((60 - 20 / 3) / 2 / math.cos(math.radians(1)))  # half way, the drill leaning
    assert bored[-1] == "A to C, gooseneck"
    assert list(steps).index("flats") < list(steps).index("fit-gooseneck-1000") < list(steps).index("holes")
    plain = of(one_spar(TAPERED + 'fittings = [{ at = "2 m", kind = "cleat" }]'))
    assert plain["flats"].cautions == ()
    assert not [step for step in plain if step.startswith("fit-") or step == "holes"]


@pytest.mark.parametrize(("at", "middle"), [("0", 150), ("100 mm", 150), ("2.9 m", 2850), ("3 m", 2850)])
def test_what_would_pass_an_end_is_marked_and_bored_where_it_lies(at: str, middle: float) -> None:
    """300 mm long, so its middle is 150 mm from that end: the hole of the rod as well, never in the end grain."""
    fitting = f'fittings = [{{ at = "{at}", kind = "cheek", length = "300 mm", flat = "3 mm", hole = "8 mm" }}]'
    steps = of(one_spar(TAPERED + fitting))
    (marked,) = steps["flats"].tables[0].rows
    assert marked[:4] == ("a", middle, pytest.approx(60 - 20 * middle / 3000), 300)
    ends = "from the heel to 300 mm" if middle == 150 else "from 2700 mm to the head"
    assert ends in next(step for name, step in steps.items() if name.startswith("fit-")).says[0]
    (bored,) = steps["holes"].tables[0].rows
    assert bored[:3] == ("a", middle, 8)
    assert bored[4] == pytest.approx((60 - 20 * middle / 3000) / 2 / math.cos(math.radians(1)))


def test_jaws_are_as_long_and_on_rods_as_thick_as_the_profile_has_them() -> None:
    fittings = 'fittings = [{ at = "0", kind = "jaws", length = "300 mm", hole = "8 mm", face = "B and D" }]\n'
    step = of(one_spar('kind = "gaff"\n' + TAPERED + fittings + MAST))["jaws"]
    assert "300 mm of it on the spar" in step.says[0]
    assert "to 45° for the throat, for a spar peaked to 45°" in step.says[2]
    assert dict(step.asked[0].typed)["rod"] == "8 mm"


def test_a_booms_jaws_lie_level() -> None:
    step = of(one_spar('kind = "boom"\n' + TAPERED + 'fittings = [{ at = "0", kind = "jaws" }]\n' + MAST))["jaws"]
    assert step.says[2] == "Set: the saw's table square: the throat has no bevel on a spar that lies level."
    assert step.says[3] == "Cut: the outline and the throat with it. Ease the edges of the throat."
    assert not any("Lowered" in caution for caution in step.cautions)


JAWS = (
    'fittings = [{ at = "0", kind = "jaws", length = "240 mm", flat = "4 mm", hole = "8 mm", holes = 3, '
    'face = "B and D" }]\n'
)


def test_the_heel_is_cut_to_the_throat_before_the_jaws_go_on() -> None:
    """By hand, a gaff of 60 mm peaked to 45° on a mast of 90 mm: the throat's radius is 45 + 3 + 5 = 53 mm, and across
    the 52 mm between the flats it is 53 − √(53² − 26²) = 6.8 mm deep; the bevel through the gaff is 60 mm."""
    steps = of(one_spar('kind = "gaff"\n' + TAPERED + JAWS + MAST))
    ids = list(steps)
    assert ids.index("fit-jaws-0") < ids.index("throat") < ids.index("jaws") < ids.index("holes") < ids.index("ends")
    told = words(steps["throat"])
    assert "Hollow it between the flats of the cheeks to a radius of 53 mm, 7 mm bare deep" in told
    assert (
        "Saw the heel 45° off square, for a spar peaked to 45°: from one side of the spar to the other that is 60 mm"
        in told
    )
    assert "The cut needs 37 mm bare of waste beyond it" in told  # 60/2 and 6.8
    assert "Saw off the waste beyond the head, square: 3000 mm from the bottom of the throat" in words(steps["ends"])
    assert "heel stays flat" not in words(steps["ends"])


def test_the_rods_of_the_jaws_lie_evenly_along_the_cheeks_and_go_through_them() -> None:
    steps = of(one_spar('kind = "gaff"\n' + TAPERED + JAWS + MAST))
    assert "3 rods, the first 40 mm from the heel and then 80 mm apart. Each rod is 8 mm thick" in words(steps["jaws"])
    rows = steps["holes"].tables[0].rows
    assert [row[1] for row in rows] == pytest.approx([40, 120, 200])
    wood = 106 + 2 * 25  # both horns and what is between them, as wide as the cheeks and the gaff together
    assert [row[4] for row in rows] == pytest.approx([wood / 2 / math.cos(math.radians(1))] * 3)


def test_a_raked_mast_steepens_the_throat() -> None:
    rake = '[[preset]]\ncalculator = "jaws"\nname = "raked"\nspar = "stick"\ninputs = { rake = "5" }\n'
    told = words(of(one_spar('kind = "gaff"\n' + TAPERED + JAWS + MAST + rake))["throat"])
    assert "Saw the heel 50° off square, for a spar peaked to 45°, the mast raked 5°" in told


def test_a_boom_with_jaws_has_its_heel_hollowed_square() -> None:
    told = words(of(one_spar('kind = "boom"\n' + TAPERED + JAWS + MAST))["throat"])
    assert "Saw the heel square, for a spar that lies level." in told
    assert "Hollow it between the flats of the cheeks to a radius of 53 mm" in told


def test_a_slot_is_cut_through_its_faces_from_end_to_end() -> None:
    slot = 'fittings = [{ at = "2.9 m", kind = "sheave", slot = "12 mm", slot_long = "60 mm", face = "B" }]'
    steps = of(one_spar(TAPERED + slot))
    (row,) = steps["slots"].tables[0].rows
    assert row[:4] == ("a", 2900, 12, 60)
    assert row[4] == pytest.approx((60 - 20 * 2900 / 3000) / 2 / math.cos(math.radians(1)))
    assert row[5] == "B to D, sheave"
    assert steps["flats"].tables[0].rows[0][3] == 12
    assert "holes" not in steps


def test_a_preset_says_how_the_jaws_are_made() -> None:
    preset = """[[preset]]
calculator = "jaws"
name = "steep"
spar = "stick"
inputs = { peak_angle = "60", plank = "20 mm" }
"""
    jaws = 'kind = "gaff"\n' + TAPERED + 'fittings = [{ at = "0", kind = "jaws" }]\n'
    step = of(one_spar(jaws + MAST + preset))["jaws"]
    assert "two cheeks of 20 mm plank" in step.says[0]
    assert "for a spar peaked to 60°" in step.says[2]
    assert step.asked[0].preset == "steep"


def test_a_hinge_and_bars_are_let_in_by_steps_of_their_own() -> None:
    fittings = (
        'fittings = [{ at = "1 m", kind = "hinge", length = "120 mm", flat = "6 mm", barrel = "10 mm", '
        'barrel_deep = "11 mm" }, { at = "2 m", kind = "bar", length = "200 mm", bar = "20 mm", bar_deep = "7 mm", '
        'face = "A and C" }]'
    )
    steps = of(one_spar(TAPERED + fittings))
    hinge = words(steps["fit-hinge-1000"])
    assert "10 mm along the spar, half to each side of 1000 mm, its floor 11 mm below the crown" in hinge
    bar = words(steps["fit-bar-2000"])
    assert "a groove 20 mm wide, its floor 7 mm" in bar
    assert "The same on C" in bar


@pytest.mark.parametrize(
    ("bar", "told"),
    [
        ('bar = "5 mm", bar_deep = "4 mm"', "a groove 5 mm wide, its floor 4 mm below the crown"),
        ('bar = "40 mm", bar_deep = "4 mm"', "its floor 4 mm below the crown: a bar 40 mm wide has no wood beside it"),
    ],
)
def test_a_narrow_bar_and_one_that_lies_in_the_crown_have_their_steps(bar: str, told: str) -> None:
    fittings = f'fittings = [{{ at = "2 m", kind = "bar", length = "200 mm", {bar} }}]'
    assert told in words(of(one_spar(TAPERED + fittings))["fit-bar-2000"])


def test_a_hole_wider_than_an_oval_is_thin_still_has_its_row() -> None:
    """A slot of a hole: through the narrow way of an oval that is wide enough the other way."""
    oval = """length = "3 m"
section = "oval"
stations = [{ at = "0", width = "30 mm", depth = "60 mm" }, { at = "3 m", width = "30 mm", depth = "60 mm" }]
"""
    steps = of(one_spar(oval + 'fittings = [{ at = "1 m", kind = "sheave", hole = "34 mm", face = "B" }]'))
    assert steps["holes"].tables[0].rows == (("a", 1000, 34, None, None, "B to D, sheave"),)


STEEP = """length = "1 m"
section = "oval"
stations = [
    { at = "0", width = "50 mm", depth = "60 mm" }, { at = "1 m", width = "40 mm", depth = "20 mm" },
]
"""


def test_a_flat_shallower_than_the_taper_runs_out_and_is_told() -> None:
    """The crown falls 20 mm in 1 m: at 500 mm it is 20 mm over the centre line, so a flat 1 mm deep there lies at 19 mm
    and comes out of the wood at 550 mm; at 575 mm, where the fitting ends, the crown is 1.5 mm lower."""
    fitting = 'fittings = [{ at = "500 mm", kind = "cleat", length = "150 mm", flat = "1 mm" }]'
    step = of(one_spar(STEEP + fitting), MM_01)["fit-cleat-500"]
    assert "a floor 19 mm above the centre line: 1 mm below the crown in its middle" in step.says[1]
    assert "saw at 425 mm not quite to the depth" in step.says[2]
    rows = step.tables[0].rows
    assert [(row[1], row[2]) for row in rows] == [
        (pytest.approx(425), pytest.approx(2.5, abs=0.001)),
        (pytest.approx(487.5, abs=0.1), pytest.approx(1.25, abs=0.01)),
        (pytest.approx(550, abs=0.1), pytest.approx(0, abs=0.01)),
    ]
    assert step.checks == ("Try it dry: it bears from 425 mm to 550 mm and does not rock.",)
    assert (
        "The flat runs out at 550 mm: beyond that the fitting does not touch the wood. A flat more than 1.5 mm"
        in (step.cautions[0])
    )


def test_a_flat_over_a_waist_is_measured_where_the_spar_is_thinnest() -> None:
    """A station inside the fitting: 30 mm thick at 520 mm, 40 mm at 500 mm, so 5 mm of a flat 8 mm deep go there."""
    waist = """length = "1 m"
stations = [
    { at = "0", width = "40 mm" }, { at = "500 mm", width = "40 mm" }, { at = "520 mm", width = "30 mm" },
    { at = "540 mm", width = "40 mm" }, { at = "1 m", width = "40 mm" },
]
"""
    fitting = 'fittings = [{ at = "500 mm", kind = "cleat", length = "100 mm", flat = "8 mm" }]'
    said = of(one_spar(waist + fitting), MM_01)["fit-cleat-500"].says[1]
    assert "a floor 12 mm above the centre line: 3 mm below the crown where the spar is thinnest" in said


@pytest.mark.parametrize(("at", "middle"), [("2.95 m", "2900 mm"), ("10 mm", "100 mm"), ("2 m", "2000 mm")])
def test_a_fitting_is_named_by_the_station_that_it_is_marked_by(at: str, middle: str) -> None:
    fitting = f'fittings = [{{ at = "{at}", kind = "cleat", length = "200 mm", flat = "3 mm" }}]'
    steps = of(one_spar(TAPERED + fitting))
    step = next(step for name, step in steps.items() if name.startswith("fit-"))
    assert step.title == f"Let in the cleat (a), at {middle}"
    assert f"the middle at {middle}" in step.says[0]
    assert ("Here the fitting is set level with the end" in words(steps["flats"])) == (middle != "2000 mm")


def test_jaws_at_the_other_end_are_told() -> None:
    jaws = JAWS.replace('at = "0"', 'at = "3 m"')
    steps = of(one_spar('kind = "gaff"\n' + TAPERED + jaws + MAST))
    assert "jaws" not in steps
    assert "throat" not in steps
    assert "No step makes the jaws: they are worked out for jaws at the heel" in words(steps["flats"])


def test_jaws_for_no_mast_are_told() -> None:
    told = words(of(one_spar('kind = "gaff"\n' + TAPERED + JAWS))["flats"])
    assert "No step makes the jaws: " in told
    assert "mast" in told.partition("No step makes the jaws: ")[2]
    assert "No step" not in words(of(one_spar('kind = "gaff"\n' + TAPERED + JAWS + MAST))["flats"])


def test_jaws_without_a_flat_of_their_own_have_their_seats_cut_before_the_throat() -> None:
    """A plank of 25 mm on a round of 60 mm: 30 − √(30² − 12.5²) = 2.73 mm."""
    jaws = 'fittings = [{ at = "0", kind = "jaws", length = "240 mm" }]\n'
    told = of(one_spar('kind = "gaff"\n' + TAPERED + jaws + MAST), MM_01)["throat"].says[0]
    assert told.startswith("First cut the flats for the cheeks: a flat 2.7 mm full deep in B and another in D, ")
    assert "from the heel to 240 mm" in told
    assert "First cut the flats" not in words(of(one_spar('kind = "gaff"\n' + TAPERED + JAWS + MAST))["throat"])


def test_cheeks_on_an_ovals_a_and_c_lie_on_its_depth() -> None:
    """60 mm deep and 40 mm wide: with 4 mm off both sides 52 mm are between the seats, and the throat is 53 mm."""
    oval = 'length = "3 m"\nsection = "oval"\n'
    oval += 'stations = [{ at = "0", width = "40 mm", depth = "60 mm" }, '
    oval += '{ at = "3 m", width = "30 mm", depth = "30 mm" }]\n'
    steps = of(one_spar('kind = "gaff"\n' + oval + JAWS.replace("B and D", "A and C") + MAST), MM_01)
    assert "6.8 mm full deep in the middle" in words(steps["throat"])
    assert "one on A and one on C" in words(steps["jaws"])


def test_what_the_rounding_of_an_end_reaches_is_told() -> None:
    """A half ball of 40 mm begins 20 mm from the head: a hole of 8 mm at 2976 mm ends just there, at 2980 mm."""
    eye = 'fittings = [{{ at = "{} mm", kind = "eye", hole = "8 mm" }}]'
    near, clear = (of(one_spar(TAPERED + eye.format(at)))["ends"].cautions for at in (2977, 2976))
    assert near[0].startswith("The rounding of the head reaches the eye at 2977 mm: ")
    assert not any("reaches" in line for line in clear)
