"""Jaws: sizes by hand, ends of the ranges, refusals, laws. Against shapely and in space: tests/outside/."""

from math import pi, radians, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.catalog import load
from shopcompanion.drawing.shapes import Fill, Line
from shopcompanion.errors import InputFault
from shopcompanion.spar.fitting import Fitting

from ..asked.jaws import questions
from ..asking import MM_01, ask, refusal, typed

YAWL = {"mast_diameter": 90.0, "gaff_width": 60.0, "plank": 24.0}


def test_json_agrees_with_the_formulas_written_again() -> None:
    """Peaked at 45°, lowered to level, a flat seat; horns of 5 in. In inches, by hand."""
    in_json = typed(
        "jaws", mast_diameter="4", gaff_width="2", plank="1", peak_angle="45", leather="1/8", clearance="1/4",
        horn="5", rod="1/4", washer="1/16", bead_diameter="1", bead_spacing="0", turned="1/2",
    ).as_json()  # fmt: skip
    units = {"mm": 25.4, "deg": 1, "1": 1}
    values = {
        name: answer["value"] / units[answer["unit"]] for name, answer in in_json["answers"].items() if answer["value"]
    }
    seat = 1 - sqrt(0.75)
    middle = sqrt(2) / 8 + (4 * sqrt(2) + 1) / 2
    # peaked: the tips stand 1.411 in level ahead of the mast's middle, 2-7/8 in aside; the beads' circle is 2-3/4 in,
    # so tangents of 1.6410 in and an arc of 2·(63.86° − 30.83°); level they stand farther ahead, and the line is slack
    aside, ring = 2.375 + 0.5, 2.75
    tips = (5 - sqrt(2) / 8 - 2 * sqrt(2)) / sqrt(2)
    assert tips == pytest.approx(1.411, abs=5e-4)
    wanted = {
        "opening": 4.75, "throat_radius": 2.375, "throat_bevel": 45, "bevel_range": 45, "bevel_off": 1,
        "gap_lowered": 1, "long_axis": 4 * sqrt(2) + 1, "mast_middle": middle, "horn_length": 5,
        "horn_reach": 5 - middle, "seat_depth": seat, "seat_half": 0.5, "cheek_width": 2.375 + 1 - (1 - seat),
        "heel_half": 1 - seat, "heel_hollow": 2.375 - sqrt(2.375**2 - (1 - seat) ** 2),
        "heel_off": 2, "heel_waste": 1 + 2.375 - sqrt(2.375**2 - (1 - seat) ** 2), "rods_used": 2, "rod_first": 2,
        "rod_apart": 4, "horn_used": 1, "along_pole": 8, "cheek_length": 13, "nut_used": 0.25,
        "bored_through": 2 * (2.375 + seat) + 2 - 2 * seat,
        "rod_length": 2 * (2.375 + seat) + 2 - 2 * seat + 2 * 5 / 16, "parrel_ring": ring,
        "leather_length": 10 + (pi - 2) * 2.375, "leather_width": sqrt(2) + 1, "leather_mast": pi * 4.125,
    }  # fmt: skip
    arc = 2 * radians(63.86 - 30.83)
    assert values.pop("parrel_length") == pytest.approx(2 * sqrt(tips**2 + aside**2 - ring**2) + ring * arc, abs=2e-3)
    assert values.pop("parrel_slack") == pytest.approx(0.64, abs=0.02)  # level it is 5.82 in, the least a hair less
    assert values.pop("bead_count") == 5  # 6.45 in, less a horn's width, at chords of an inch
    assert values == pytest.approx(wanted, rel=1e-9)


def test_a_flat_of_any_depth_short_of_the_middle_is_as_wide_as_its_chord() -> None:
    """Flats 1 mm and 29 mm deep on a round of 60 mm: √(1·59) to either side."""
    for deep in (1.0, 29.0):
        answers = ask("jaws", **YAWL, flat=deep).answers
        assert answers.seat_half == pytest.approx(sqrt(deep * (60 - deep)))


def test_level_jaws_hold_a_round_mast() -> None:
    answers = ask("jaws", **YAWL, peak_angle=0.0, lowered_angle=0.0, leather=0.0).answers
    assert (answers.long_axis, answers.mast_middle, answers.gap_lowered, answers.bevel_off) == (90, 45, 0, 0)
    assert answers.parrel_slack == 0


def test_lowered_below_level_the_horns_may_need_more_than_peaked() -> None:
    level, below = (ask("jaws", **YAWL, peak_angle=20.0, lowered_angle=low).answers for low in (0.0, -40.0))
    assert below.mast_middle > level.mast_middle


def test_lowered_below_level_the_mast_reaches_as_far_as_its_slanting_cut() -> None:
    """From 20° to -40°, no leather: tan 20° is 0.36397, tan 40° is 0.83910, cos 40° is 0.76604. The mast's middle lies
    45/0.76604 + 12·(0.36397 + 0.83910) = 73.180 mm from the throat, at one face 12·0.83910 mm more."""
    answers = ask("jaws", **YAWL, peak_angle=20.0, lowered_angle=-40.0, leather=0.0).answers
    assert answers.mast_middle == pytest.approx(73.180 + 10.069, abs=2e-3)
    assert answers.gap_lowered == pytest.approx(24 * (0.36397 + 0.83910), abs=1e-3)


def test_rake_counts_with_the_angle_along_the_whole_swing() -> None:
    """Raked 10°: peaked to 35° the gaff is 45° off square to the mast, lowered to -10° it is square to it."""
    (swing,) = ask("jaws", **YAWL, peak_angle=35.0, lowered_angle=-10.0, rake=10.0, leather=0.0).tables
    low, *_, high = swing.rows
    answers = ask("jaws", **YAWL, peak_angle=35.0, lowered_angle=-10.0, rake=10.0).answers
    assert (answers.throat_bevel, answers.lowered_bevel, answers.bevel_range) == (45, 0, 45)
    assert low[2:4] == pytest.approx((90, 45 + 12))  # the bevel meets it with one edge, half the plank off
    assert high[2:4] == pytest.approx((90 * sqrt(2) + 24, 45 * sqrt(2)))


def test_eighty_degrees_off_square_is_the_most() -> None:
    assert ask("jaws", **YAWL, peak_angle=70.0, rake=10.0).answers.throat_bevel == 80
    assert refusal("jaws", **YAWL, peak_angle=70.0, rake=11.0).field == "rake"


@pytest.mark.parametrize(("on_pole", "rods"), [(120.0, 2), (240.0, 2), (241.0, 3), (361.0, 4)])
def test_a_rod_for_every_two_widths_of_the_gaff_and_two_at_least(on_pole: float, rods: int) -> None:
    assert ask("jaws", **YAWL, on_pole=on_pole).answers.rods_used == rods


def test_rods_side_by_side_are_refused() -> None:
    assert refusal("jaws", **YAWL, on_pole=60.0, rod=6.0, rods=10).field == "rods"
    assert ask("jaws", **YAWL, on_pole=61.0, rod=6.0, rods=10).answers.rod_apart == pytest.approx(6.1)


def test_one_rod_is_no_way_from_another() -> None:
    assert ask("jaws", **YAWL, rods=1).answers.rod_apart is None
    assert ask("jaws", **YAWL, rods=2).answers.rod_apart == 120


def test_a_plank_sits_on_half_of_itself_to_either_side() -> None:
    assert ask("jaws", mast_diameter=90.0, gaff_width=60.0, plank=60.0).answers.seat_half == 30
    assert ask("jaws", **YAWL, seat="cove", coves=(30.0,)).answers.seat_half == 12


@pytest.mark.parametrize(
    ("field", "words", "values"),
    [
        ("lowered_angle", "above the peak angle; 30° or less", {"peak_angle": 30.0, "lowered_angle": 40.0}),
        ("rod", "does not go through a plank of 24 mm; a third of the plank, 8 mm", {"rod": 24.0}),
        ("horn", "20 mm ends short of the mast's middle", {"horn": 20.0}),
        ("bead_diameter", "60 mm is too thick to turn in behind the horns; 30 mm or less", {"bead_diameter": 60.0}),
        ("plank", "a plank of 70 mm is thicker than a gaff of 60 mm; 60 mm", {"plank": 70.0}),
        ("coves", "a cove bit of 30 mm radius or less is needed", {"seat": "cove"}),
        ("coves", "each cove rocks on a gaff of 60 mm; one of 30 mm", {"seat": "cove", "coves": (40.0, 31.0)}),
        ("gaff_width", "300 mm is wider than the jaws outside; 154 mm", {"gaff_width": 300.0}),
        ("bead_spacing", "leaves no room for a bead", {"bead_spacing": 150.0}),
        ("flat", "30 mm on both sides leaves nothing of a gaff of 60 mm; less than 30 mm", {"flat": 30.0}),
        ("flat", "these sit on a cove: leave it out", {"flat": 5.0, "seat": "cove", "coves": (30.0,)}),
    ],
)
def test_what_cannot_be_is_refused_and_says_what_fits(field: str, words: str, values: dict[str, float]) -> None:
    fault = refusal("jaws", MM_01, **{**YAWL, "leather": 3.0, "clearance": 5.0, "bead_spacing": 2.0, **values})
    assert fault.field == field
    assert words in str(fault)


def test_the_horns_that_the_refusal_names_do() -> None:
    declared = load("jaws")
    with pytest.raises(InputFault) as caught:
        declared.work(declared.inputs(**YAWL, horn=20.0))
    answers = ask("jaws", **YAWL, horn=caught.value.lengths[2]).answers
    assert answers.horn_reach == pytest.approx(0.5 * 45)


@given(questions())
def test_the_horns_pass_the_middle_and_everything_has_a_size(values) -> None:
    result = ask("jaws", **values)
    answers = result.answers
    assert answers.opening > values["mast_diameter"] - 1e-9
    assert answers.horn_reach > 0
    assert answers.long_axis >= values["mast_diameter"] - 1e-9
    assert answers.cheek_width > 0
    assert 0 <= answers.parrel_slack < answers.parrel_length
    pitch = values["bead_diameter"] + result.inputs.bead_spacing
    assert answers.bead_count * pitch <= answers.parrel_length - answers.horn_used + 1e-9
    angles = [row[0] for row in result.tables[0].rows]
    low, peak = angles[0], angles[-1]
    assert len(angles) == (5 if answers.bevel_range else 1)
    assert (low, peak) == (pytest.approx(values["lowered_angle"]), pytest.approx(values["peak_angle"]))


@given(questions(), st.floats(1.1, 4))
def test_all_lengths_grow_as_the_boat_does(values, times) -> None:
    angles = ("peak_angle", "lowered_angle", "rake", "rods", "past", "seat", "coves")
    plain = {**values, "seat": "flat", "nut": 5.0, "washer": 2.0, "bead_spacing": 1.0}
    plain = {name: value for name, value in plain.items() if name != "horn"}
    bigger = {name: value if name in angles else value * times for name, value in plain.items()}
    if bigger["mast_diameter"] > 1000:
        return
    small, large = (ask("jaws", **each).answers for each in (plain, bigger))
    for name in ("opening", "long_axis", "mast_middle", "horn_length", "rod_length", "parrel_length", "parrel_ring"):
        assert getattr(large, name) == pytest.approx(times * getattr(small, name), rel=1e-9)


def test_the_fitting_is_one_that_a_profile_can_hold() -> None:
    fitting = load("jaws").fitting
    assert fitting is not None
    flat = ask("jaws", **YAWL)
    answers = fitting(flat.inputs, flat.answers)
    assert answers == {
        "at": 0.0, "kind": "jaws", "length": 240.0, "face": "B and D", "hole": 6.35, "holes": 2,
        "flat": flat.answers.seat_depth,
    }  # fmt: skip
    held = Fitting(**answers)  # type: ignore[arg-type]
    assert held.flat == flat.answers.seat_depth
    cove = ask("jaws", **YAWL, seat="cove", coves=(12.0,))
    assert "flat" not in (fitting(cove.inputs, cove.answers) or {})


def test_the_drawing_is_symmetric_and_reaches_the_horns() -> None:
    result = ask("jaws", **YAWL, peak_angle=50.0)
    drawn = result.drawing()
    assert drawn is not None
    left, low, right, high = drawn.bounds()
    assert low == pytest.approx(-high)
    assert right >= result.answers.horn_length
    assert left == pytest.approx(-1.15 * min(result.answers.along_pole, result.answers.opening))
    short = ask("jaws", **YAWL, on_pole=80.0).drawing()
    assert short is not None
    assert short.bounds()[0] == pytest.approx(-1.15 * 80)


@pytest.mark.parametrize("on_pole", [80.0, 400.0])
def test_the_cheeks_are_drawn_from_horn_to_after_end(on_pole: float) -> None:
    """Across the rods a cheek is 20 mm, from where it sits on the gaff; at the throat half the opening and the horn."""
    result = ask("jaws", **YAWL, on_pole=on_pole, cheek=20.0)
    answers, drawn = result.answers, result.drawing()
    outside, after = answers.opening / 2 + answers.horn_used, 30 - answers.seat_depth + 20
    part = min(1.0, answers.opening / on_pole)  # long cheeks are broken off on their way
    back, end = -part * on_pole, outside + part * (after - outside)
    (wood, *_) = [shape.points for shape in drawn.shapes if isinstance(shape, Fill)]
    right, throat, left = answers.horn_length, 0.0, back
    wanted = {(right, outside), (right, -outside), (throat, outside), (throat, -outside), (left, end), (left, -end)}
    assert rounded(wood) == rounded(wanted)
    lines = [shape for shape in drawn.shapes if isinstance(shape, Line)]
    closed = [line for line in lines if line.pen == "work" and line.x1 == line.x2 == back]
    assert len(closed) == (2 if part == 1 else 0)
    rods = [line for line in lines if line.pen == "light" and line.x1 == line.x2 < 0]
    wanted_rods = [(k + 0.5) / answers.rods_used for k in range(answers.rods_used)]
    for line, along in zip(rods, [of for of in wanted_rods if of <= part], strict=True):
        assert line.x1 == pytest.approx(-along * on_pole)
        assert line.y2 == -line.y1 == pytest.approx(outside + along * (after - outside))


def test_the_parrel_is_slackest_where_the_horns_stand_farthest_past_the_mast() -> None:
    """Lowered only so far, the first row of the swing has the line for that angle: here for every half degree."""
    asked = {"mast_diameter": 90.0, "gaff_width": 80.0, "plank": 60.0, "horn": 130.0, "peak_angle": 40.0, "rake": 3.0,
             "rod": 6.0, "leather": 5.0, "bead_diameter": 40.0}  # fmt: skip
    tight = [ask("jaws", **asked, lowered_angle=low / 2).tables[0].rows[0][4] for low in range(-20, 81)]
    assert min(tight) < min(tight[0], tight[-1]) - 1
    slack = ask("jaws", **asked, lowered_angle=-10.0).answers.parrel_slack
    assert slack == pytest.approx(max(tight) - min(tight), abs=0.001)


def rounded(points) -> set[tuple[float, float]]:
    return {(round(x, 6), round(y, 6)) for x, y in points}


def test_the_parrel_is_drawn_from_the_middle_of_one_horns_tip_to_the_others() -> None:
    result = ask("jaws", **YAWL, peak_angle=35.0)
    aside = (result.answers.opening + result.answers.horn_used) / 2
    ends = [shape for shape in result.drawing().shapes if isinstance(shape, Line) and shape.pen == "light"]
    tip = result.answers.horn_length
    points = rounded([(line.x1, line.y1) for line in ends] + [(line.x2, line.y2) for line in ends])
    assert rounded([(tip, aside), (tip, -aside)]) <= points


def test_the_cautions_follow_the_numbers() -> None:
    assert any("ease the edges" in line for line in ask("jaws", **YAWL, peak_angle=45.0).cautions)
    assert not any("ease the edges" in line for line in ask("jaws", **YAWL, peak_angle=1.0).cautions)
    for rod, told in ((12.0, True), (8.1, True), (8.0, False), (6.1, False)):
        said = ask("jaws", MM_01, **YAWL, rod=rod).cautions
        assert any("over a third of the plank: 8 mm or thinner" in line for line in said) == told


def test_a_gaff_wider_than_the_throat_is_hollowed_by_all_of_it() -> None:
    """60 mm of mast with 3 mm all round it: half of 66 mm is less than half of a gaff of 100 mm without its seat."""
    result = ask("jaws", mast_diameter=60.0, gaff_width=100.0, plank=24.0, leather=2.0, clearance=1.0, seat="flat")
    assert (result.answers.heel_half, result.answers.heel_hollow) == (33, 33)
    assert "throat_radius" in [step.formula for step in result.working() if step.name == "heel_hollow"]
    narrow = ask("jaws", **YAWL, seat="flat").working()
    assert "throat_radius" not in [step.formula for step in narrow if step.name == "heel_hollow"]


BEADS = {"mast_diameter": 80.0, "gaff_width": 60.0, "plank": 24.0, "leather": 2.0, "clearance": 1.0, "seat": "flat"}


def test_the_thickest_bead_turns_in_behind_the_horns() -> None:
    """A horn as wide as the plank, 24 mm, with 2 mm of leather on either side."""
    assert ask("jaws", **BEADS, bead_diameter=28.0).answers.bead_count > 0
    assert refusal("jaws", **BEADS, bead_diameter=28.1).field == "bead_diameter"


def test_beads_may_stand_as_far_apart_as_their_ring_is_wide() -> None:
    """Beads of 20 mm on a ring of 80 + 2 + 20 mm: 82 mm between them; the parrel is too short for one of those."""
    assert ask("jaws", **BEADS, bead_diameter=20.0, bead_spacing=82.0).answers.bead_count == 0
    assert refusal("jaws", **BEADS, bead_diameter=20.0, bead_spacing=83.0).field == "bead_spacing"


def test_short_cheeks_are_drawn_with_their_after_ends() -> None:
    """80 mm aft of the throat, from where a cheek sits on the gaff to 20 mm out from there."""
    result = ask("jaws", **YAWL, on_pole=80.0, cheek=20.0)
    inner = 30 - result.answers.seat_depth
    ends = [shape[:4] for shape in result.drawing().shapes if isinstance(shape, Line) and shape.x1 == shape.x2 == -80]
    wanted = [(-80, side * (inner + 20), -80, side * inner) for side in (-1, 1)]
    assert [*map(pytest.approx, wanted)] == ends


def test_the_table_says_how_far_off_the_bevel_every_angle_is() -> None:
    (swing,) = ask("jaws", **YAWL, peak_angle=40.0, lowered_angle=0.0).tables
    assert [row[:2] for row in swing.rows] == [(0, 40), (10, 30), (20, 20), (30, 10), (40, 0)]
