"""Flat: depth from width and back, both ends on a taper, what is left, and what cannot be."""

from functools import partial
from math import pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.calculators.flat import too_deep
from shopcompanion.catalog import load
from shopcompanion.drawing.shapes import Arc, Dimension, Label, Line
from shopcompanion.lengths import show
from shopcompanion.spar.along import Region
from shopcompanion.spar.body import Body
from shopcompanion.spar.outline import Outline

from ..asked.flat import questions
from ..asking import INCH_64, MM_01, ask, limits, refusal, typed

CONE = Body(Outline(((0.0, 100.0), (1000.0, 60.0)), "straight"))  # 40 mm thinner over a metre


def on(body: Body, at: float, **more):
    size = {"diameter": body.width_at(at)} | ({"depth": body.depth_at(at)} if body.depths else {})
    return ask("flat", body=body, at=at, **{**size, **more})


def test_a_flat_by_hand() -> None:
    """A 5 in round: a chord of 3 in, one of 4 in and the radius make the triangle 3-4-5, so the flat is 1/2 in deep."""
    result = typed("flat", diameter="5", flat_width="3", barrel="1/2")
    answers = result.answers
    inches = {name: getattr(answers, name) / 25.4 for name in ("cut_depth", "floor", "over_flat", "widest_fitting")}
    assert inches == pytest.approx({"cut_depth": 0.5, "floor": 2, "over_flat": 4.5, "widest_fitting": 5})
    assert answers.barrel_recess / 25.4 == pytest.approx(0.25)
    assert answers.barrel_floor / 25.4 == pytest.approx(1.75)
    assert any("the barrel's recess takes more" in line for line in result.cautions)
    assert typed("flat", diameter="5", flat_depth="1/2").answers.cut_width / 25.4 == pytest.approx(3)


@given(st.floats(5, 400), st.floats(0.001, 1), st.floats(0.001, 1))
def test_width_and_depth_turn_back_and_grow_together(diameter: float, part: float, other: float) -> None:
    def deep(width: float) -> float:
        return ask("flat", diameter=diameter, flat_width=width).answers.cut_depth

    width = diameter * part
    back = ask("flat", diameter=diameter, flat_depth=deep(width)).answers
    assert back.cut_width == pytest.approx(width, rel=1e-6)
    assert deep(width) == pytest.approx((diameter - sqrt(diameter**2 - width**2)) / 2, abs=1e-9 * diameter)
    assert (deep(width) <= deep(diameter * other)) == (part <= other)


@given(questions())
def test_what_is_left_is_never_more_than_the_whole(values) -> None:
    result = ask("flat", **values)
    parts = [getattr(result.answers, f"{name}_part") for name in ("area", "second_into", "second_along")]
    assert all(0 < part <= 100 + 1e-9 for part in parts)
    table = result.as_json()["tables"]
    for row in table["parts"]["rows"]:
        assert all(0 < part <= 100 + 1e-9 for part in row[1:4])
    assert all(row[4] >= -1e-9 for row in table["places"]["rows"])  # the plane passes over no place


def test_a_taper_takes_one_plane_as_wide_as_it_must_be_at_the_thin_end() -> None:
    """100 mm to 60 mm over a metre; a fitting of 200 mm at 500 mm, so 84 mm at its heelward end and 76 at the other."""
    result = on(CONE, 500.0, fitting_length=200.0, flat_width=45.6)
    answers = result.answers
    floor = sqrt(38**2 - 22.8**2)  # 3-4-5 again: 30.4
    assert floor == pytest.approx(30.4)
    assert answers.floor == pytest.approx(floor)
    assert (answers.depth_heelward, answers.depth_headward) == pytest.approx((42 - floor, 38 - floor))
    assert answers.width_heelward == pytest.approx(2 * sqrt(42**2 - floor**2))
    assert (answers.cut_width, answers.width_headward) == pytest.approx((45.6, 45.6))
    rows = result.as_json()["tables"]["places"]["rows"]
    assert [row[:3] for row in rows] == [
        ["heelward end", 400.0, pytest.approx(84)],
        ["between", 500.0, pytest.approx(80)],
        ["headward end", 600.0, pytest.approx(76)],
    ]
    assert any("one end of the flat is 5/32 in full deeper" in line for line in result.cautions)


@pytest.mark.parametrize("at", [0.0, 1000.0])
def test_at_an_end_the_fitting_lies_against_it(at: float) -> None:
    rows = on(CONE, at, fitting_length=200.0, flat_width=30.0).as_json()["tables"]["places"]["rows"]
    ends = (0.0, 200.0) if at == 0 else (800.0, 1000.0)
    assert (rows[0][1], rows[-1][1]) == ends


def test_a_diameter_that_was_typed_over_stands_alone() -> None:
    result = ask("flat", diameter=70.0, body=CONE, at=500.0, flat_width=30.0)
    assert result.as_json()["tables"]["places"]["rows"][0][:2] == ["here", None]
    assert result.answers.through_least == 70


def test_a_square_part_needs_no_flat_and_says_so() -> None:
    square = CONE._replace(regions=(Region(from_=0.0, to=400.0, section="square"),))
    result = ask("flat", diameter=92.0, shape="square", body=square, at=200.0, flat_width=60.0, fitting_length=100.0)
    assert result.answers.cut_depth == 0
    assert result.answers.area_part == pytest.approx(100)
    assert any("No flat is needed" in line for line in result.cautions)
    assert load("flat").fitting(result.inputs, result.answers) is None


def test_a_fitting_half_on_the_square_sits_as_the_round_asks() -> None:
    square = CONE._replace(regions=(Region(from_=0.0, to=400.0, section="square"),))
    answers = on(square, 400.0, flat_width=60.0, fitting_length=100.0, shape="round").answers
    thin = CONE.width_at(450.0)
    assert answers.cut_depth == pytest.approx((thin - sqrt(thin**2 - 60**2)) / 2)
    assert answers.width_heelward == pytest.approx(CONE.width_at(350.0))  # the whole face of the square


def test_where_square_and_round_are_as_thick_the_rounds_flat_is_the_one_told() -> None:
    """Half on the square of a spar of 80 mm: 5 mm deep the round is 2·√(5·75) mm wide, the square all of its face."""
    even = Body(Outline(((0.0, 80.0), (1000.0, 80.0))), regions=(Region(from_=0.0, to=400.0, section="square"),))
    answers = on(even, 400.0, flat_depth=5.0, fitting_length=100.0).answers
    assert answers.cut_width == pytest.approx(2 * sqrt(5 * 75))
    assert answers.width_heelward == 80


def test_a_flat_down_to_the_centre_line_is_as_wide_as_the_spar() -> None:
    assert ask("flat", diameter=80.0, flat_depth=40.0).answers.cut_width == pytest.approx(80)


@pytest.mark.parametrize(("pin_above", "recess"), [(0.0, 6.0), (2.0, 4.0), (6.0, 0.0), (10.0, 0.0)])
def test_a_barrel_is_let_in_by_what_of_it_is_below_the_flat(pin_above: float, recess: float) -> None:
    """A barrel of 12 mm; on a pin 6 mm or more over the flat it needs no recess, and is no hinge let in."""
    result = ask("flat", body=CONE, at=500.0, diameter=80.0, flat_depth=8.0, barrel=12.0, pin_above=pin_above)
    assert result.answers.barrel_recess == recess
    assert result.answers.barrel_floor == result.answers.floor - recess
    kept = load("flat").fitting(result.inputs, result.answers)
    assert kept["kind"] == ("hinge" if recess else "other")
    assert ("barrel" in kept) == (recess > 0)


def test_a_barrel_that_just_comes_through_is_refused() -> None:
    """A flat 20 mm deep in 100 mm leaves 80 mm under it: half a barrel of 160 mm takes all of that."""
    assert refusal("flat", diameter=100.0, flat_depth=20.0, barrel=160.0).field == "barrel"
    assert ask("flat", diameter=100.0, flat_depth=20.0, barrel=159.0).answers.barrel_floor == pytest.approx(-49.5)


def test_a_shallow_flat_can_be_put_on_the_spar() -> None:
    result = on(CONE, 500.0, flat_depth=0.5, fitting_length=20.0)
    assert load("flat").fitting(result.inputs, result.answers)["kind"] == "other"


def test_an_eight_sided_part_has_facets_that_carry_narrow_fittings() -> None:
    assert ask("flat", diameter=100.0, shape="eight", flat_width=40.0).answers.cut_depth == 0
    answers = ask("flat", diameter=100.0, shape="eight", flat_width=60.0).answers
    assert answers.cut_depth == pytest.approx((60 - 100 * (sqrt(2) - 1)) / 2)  # corners of 45°


@pytest.mark.parametrize(("face", "across", "through"), [("A", 60, 80), ("C", 60, 80), ("B", 80, 60), ("D", 80, 60)])
def test_an_oval_has_its_flat_in_the_face_that_is_asked(face: str, across: float, through: float) -> None:
    answers = ask("flat", diameter=60.0, depth=80.0, shape="oval", face=face, flat_width=0.6 * across).answers
    assert answers.cut_depth == pytest.approx(0.1 * through)  # 3-4-5, stretched
    assert (answers.across_least, answers.through_least) == (across, through)
    whole = pi / 64 * across * through**3
    assert answers.second_into / answers.second_into_part * 100 == pytest.approx(whole)


def test_a_hollow_is_warned_of_when_the_wall_is_cut_through() -> None:
    thick = CONE._replace(section="hollow", wall=20.0)
    assert not any("solid block" in line for line in on(thick, 500.0, flat_width=40.0).cautions)
    assert any("solid block" in line for line in on(thick._replace(wall=4.0), 500.0, flat_width=40.0).cautions)


@pytest.mark.parametrize(("wall", "told"), [(20.0, True), (20.5, False)])
def test_a_flat_as_deep_as_the_wall_cuts_through_it(wall: float, told: bool) -> None:
    even = Body(Outline(((0.0, 100.0), (1000.0, 100.0))), section="hollow", wall=wall)
    assert any("solid block" in line for line in on(even, 500.0, flat_depth=20.0).cautions) == told


def test_with_nothing_asked_it_takes_half_and_says_so() -> None:
    result = ask("flat", diameter=100.0)
    assert result.answers.cut_width == 50
    assert any("No width is given" in line for line in result.cautions)
    assert load("flat").fitting(result.inputs, result.answers) is None


def deep_ones(result) -> list[str]:
    return [line for line in result.cautions if "% of the spar's depth" in line]


def test_a_flat_deeper_than_the_share_is_warned_of_with_the_width_that_stays_within_it() -> None:
    """15 of 100 mm leave a floor of 35 over the centre line, and a chord of 2·√(50² − 35²) = 71.41 mm."""
    (line,) = deep_ones(ask("flat", MM_01, diameter=100.0, flat_width=80.0))
    assert line == "The flat takes more than 15 % of the spar's depth: a fitting 71.4 mm full wide stays within that."
    assert not deep_ones(ask("flat", MM_01, diameter=100.0, flat_width=71.4))
    assert deep_ones(ask("flat", MM_01, diameter=100.0, flat_width=71.5))
    assert not deep_ones(ask("flat", MM_01, diameter=100.0, flat_width=80.0, deepest=21.0))
    (line,) = deep_ones(ask("flat", MM_01, diameter=100.0, flat_depth=16.0))
    assert "a flat 15 mm deep at the thinnest place stays within that" in line
    assert not deep_ones(ask("flat", MM_01, diameter=100.0, flat_depth=15.0))
    assert deep_ones(ask("flat", MM_01, diameter=100.0, flat_depth=15.1))


def test_on_a_steep_taper_half_a_millimetre_may_be_all_that_stays_within_the_share() -> None:
    """100 to 71 mm under it: a floor at 35 mm is 0.5 mm under the thin end's crown; with 69 mm it is over it."""
    for head, told in ((71.0, "a flat 0.5 mm deep at the thinnest place"), (69.0, "only a shorter fitting")):
        cone = Body(Outline(((0.0, 100.0), (1000.0, head))))
        result = ask("flat", MM_01, body=cone, at=500.0, diameter=cone.width_at(500.0), flat_depth=10.0,
                     fitting_length=1000.0)  # fmt: skip
        (line,) = deep_ones(result)
        assert told in line


@given(st.floats(40, 100), st.floats(0.05, 1), st.floats(10, 600))
def test_what_is_told_to_stay_within_the_share_does_so_at_both_ends_of_a_taper(head, part, long) -> None:
    cone = Body(Outline(((0.0, 100.0), (1000.0, head))))
    asked = {"diameter": cone.width_at(500.0), "body": cone, "at": 500.0, "fitting_length": long}
    flat = load("flat")
    inputs = flat.inputs(**asked, flat_width=part * cone.width_at(500 + long / 2))
    bed = flat.work(inputs)
    over = max(bed.depth_heelward / cone.width_at(500 - long / 2), bed.depth_headward / bed.through_least) > 0.15
    said = too_deep(inputs, bed)
    assert over == (said is not None) or abs(bed.depth_heelward / cone.width_at(500 - long / 2) - 0.15) < 1e-9
    if isinstance(said, tuple):
        within = flat.inputs(**asked, flat_width=said[1] * (1 - 1e-9))
        assert too_deep(within, flat.work(within)) is None
    elif said:
        assert cone.width_at(500 - long / 2) * 0.35 >= bed.through_least / 2 - 1e-9


def test_a_flat_is_warned_of_its_abrupt_ends_where_one_is_cut() -> None:
    def abrupt(result) -> bool:
        return any(line.startswith("Abrupt ends") for line in result.cautions)

    assert abrupt(ask("flat", diameter=100.0, flat_width=40.0))
    assert not abrupt(ask("flat", diameter=100.0, shape="square", flat_width=40.0))
    square = CONE._replace(section="square")  # its thin end needs none, its thick end has to come down to that
    assert abrupt(on(square, 500.0, flat_width=40.0, shape="square"))


@pytest.mark.parametrize(
    ("values", "field", "told"),
    [
        (
            {"flat_width": 101.6},
            "flat_width",
            "4 in is wider than the spar; the widest flat that it can carry is",
        ),
        (
            {"flat_depth": 50.8},
            "flat_depth",
            "past the centre line; a flat 1-3/4 in deep is as wide as the spar, 3-1/2 in",
        ),
        ({"flat_depth": 10.0, "flat_width": 30.0}, "flat_depth", "settles its depth: give one of them, not both"),
        (
            {"flat_width": 30.0, "barrel": 254.0},
            "barrel",
            "a barrel of 10 in comes out through the far side; thinner than",
        ),
    ],
)
def test_what_cannot_be_is_refused_with_what_would_fit(values, field: str, told: str) -> None:
    fault = refusal("flat", diameter=88.9, **values)
    assert fault.field == field
    assert told in str(fault.with_lengths(partial(show, rule=INCH_64)))


def test_the_least_barrel_that_is_refused_is_the_one_that_is_told() -> None:
    _, most = limits("flat", diameter=88.9, flat_width=30.0, barrel=254.0)
    assert ask("flat", diameter=88.9, flat_width=30.0, barrel=most * 0.999).answers.barrel_floor > -88.9 / 2


def test_a_fitting_longer_than_the_spar_is_refused() -> None:
    assert refusal("flat", diameter=80.0, body=CONE, at=500.0, fitting_length=1500.0).field == "fitting_length"


def test_what_can_be_put_on_the_spar_fits_it() -> None:
    result = on(CONE, 500.0, fitting_length=200.0, flat_width=45.6, barrel=12.0, face="B")
    kept = load("flat").fitting(result.inputs, result.answers)
    assert kept == {
        "at": 500.0,
        "kind": "hinge",
        "length": 200.0,
        "face": "B",
        "flat": pytest.approx(40 - 30.4),
        "barrel": 12.0,
        "barrel_deep": pytest.approx(40 - 30.4 + 6),
    }
    assert load("flat").fitting(ask("flat", diameter=80.0, flat_width=30.0).inputs, result.answers) is None


def test_the_drawing_is_the_section_with_its_flat() -> None:
    drawing = typed("flat", diameter="5", flat_width="3").drawing()
    assert drawing is not None
    arcs = [shape for shape in drawing.shapes if isinstance(shape, Arc)]
    work = sum(arc.end - arc.start for arc in arcs if arc.pen == "work")
    assert work == pytest.approx(360 - 73.7397952917)  # the segment of a chord of 3 in a round of 5: 2·asin(3/5)
    assert sum(arc.end - arc.start for arc in arcs) == pytest.approx(360)
    flat = next(shape for shape in drawing.shapes if isinstance(shape, Line) and shape.pen == "work")
    assert (flat.x1 / 25.4, flat.y1 / 25.4, flat.x2 / 25.4) == pytest.approx((-1.5, 2, 1.5))
    measures = [shape.value / 25.4 for shape in drawing.shapes if isinstance(shape, Dimension)]
    assert measures == pytest.approx([3, 0.5, 4.5])


def test_the_drawing_has_the_barrel_about_its_pin() -> None:
    """20 mm deep in 100 mm the flat is 80 mm wide at 30 mm; a pin 2 mm over it, and 6 mm of barrel up and down."""
    drawing = ask("flat", diameter=100.0, flat_depth=20.0, barrel=12.0, pin_above=2.0).drawing()
    light = {tuple(round(part, 6) for part in shape[:4]) for shape in drawing.shapes
             if isinstance(shape, Line) and shape.pen == "light"}  # fmt: skip
    assert (-40, 32, 40, 32) in light
    box = [line for line in light if line[1] != 32 and abs(line[0]) == abs(line[2]) == 40]
    assert {y for line in box for y in (line[1], line[3])} == {26, 38}
    assert len(box) == 4
    assert {x for line in box for x in (line[0], line[2])} == {-40, 40}


def test_where_no_flat_is_needed_the_words_stand_in_the_wood() -> None:
    drawing = ask("flat", diameter=100.0, shape="square", flat_width=40.0).drawing()
    (words,) = [shape for shape in drawing.shapes if isinstance(shape, Label) and "flat" in shape.text]
    assert -50 < words.y < 0
    assert abs(words.x) < 50


@pytest.mark.parametrize(("taper", "told"), [(3.9, False), (4.1, True), (5.0, True)])
def test_ends_that_differ_by_a_sixty_fourth_are_told(taper: float, told: bool) -> None:
    """A fitting of 200 mm on so many mm of taper over a metre: its ends' crowns differ by a tenth of that."""
    cone = Body(Outline(((0.0, 80.0), (1000.0, 80.0 - taper))))
    said = on(cone, 500.0, flat_width=30.0, fitting_length=200.0).cautions
    assert any("The spar tapers" in line for line in said) == told


def test_a_flat_as_wide_as_the_spar_goes_down_to_the_centre_line() -> None:
    assert ask("flat", diameter=80.0, flat_width=80.0).answers.cut_depth == pytest.approx(40)


def test_a_flat_of_a_hairs_depth_is_a_flat() -> None:
    """10 mm wide in 100 mm it is 50 − √(50² − 5²) = 0.25 mm deep, and has abrupt ends."""
    said = ask("flat", diameter=100.0, flat_width=10.0).cautions
    assert not any("No flat is needed" in line for line in said)
    assert any("Abrupt ends" in line for line in said)


@pytest.mark.parametrize(("wall", "told"), [(11.0, True), (12.0, False)])
def test_the_wall_is_cut_through_where_the_flat_is_deepest(wall: float, told: bool) -> None:
    """Crowns of 42 and 38 mm, a plane at 30.4: 11.6 mm deep at the thick end and 7.6 at the thin one."""
    cone = CONE._replace(section="hollow", wall=wall)
    said = on(cone, 500.0, fitting_length=200.0, flat_width=45.6).cautions
    assert any("solid block" in line for line in said) == told


@pytest.mark.parametrize(("barrel", "told"), [(12.0, True), (8.0, False)])
def test_a_barrel_goes_into_the_wall_too(barrel: float, told: bool) -> None:
    """15 mm of flat, and half of the barrel, in a wall of 20 mm."""
    even = Body(Outline(((0.0, 100.0), (1000.0, 100.0))), section="hollow", wall=20.0)
    said = on(even, 500.0, flat_depth=15.0, barrel=barrel).cautions
    assert any("solid block" in line for line in said) == told


def test_the_fitting_that_stays_within_the_share_may_be_narrow() -> None:
    """100 to 71 mm under it: a floor at 35 mm is 0.5 mm under the thin end's crown, and 2·√(35.5² − 35²) wide."""
    cone = Body(Outline(((0.0, 100.0), (1000.0, 71.0))))
    (line,) = deep_ones(on(cone, 500.0, fitting_length=1000.0, flat_width=40.0))
    assert "a fitting 15/32 in bare wide stays within that" in line  # 11.874 mm of 11.906


def test_an_eight_sided_part_has_its_flat_as_wide_at_both_ends() -> None:
    even = Body(Outline(((0.0, 100.0), (1000.0, 100.0))), section="eight")
    answers = on(even, 500.0, shape="eight", flat_width=60.0, fitting_length=100.0).answers
    assert (answers.width_heelward, answers.width_headward) == pytest.approx((60, 60))


def test_what_is_left_of_a_round_is_a_sum_and_of_a_square_none() -> None:
    for shape, told in (("round", True), ("square", False)):
        steps = {step.name for step in ask("flat", diameter=80.0, shape=shape, flat_depth=5.0).working()}
        assert ("area_left" in steps) == told


def test_the_widest_fitting_is_no_sum_where_the_spar_swells_under_it() -> None:
    swell = Body(Outline(((0.0, 60.0), (500.0, 80.0), (1000.0, 60.0))))
    result = on(swell, 500.0, fitting_length=200.0, flat_width=30.0)
    assert result.answers.widest_fitting == result.answers.across_least < 80
    assert "widest_fitting" not in {step.name for step in result.working()}
