"""Hinge: the widest leaf, the flat under it at both ends, barrel, folding, holes, dowels and the cut."""

from functools import partial
from math import asin, atan, degrees, hypot, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.catalog import load
from shopcompanion.drawing.shapes import Arc, Dimension, Label, Line
from shopcompanion.form import solve
from shopcompanion.lengths import show
from shopcompanion.profile.follow import follow
from shopcompanion.profile.parse import read
from shopcompanion.spar.along import Joint, Region
from shopcompanion.spar.body import Body
from shopcompanion.spar.outline import Outline

from ..asked.hinge import questions
from ..asking import INCH_64, ask, limits, refusal, typed
from ..storage.conftest import demo

CONE = Body(Outline(((0.0, 100.0), (1000.0, 60.0)), "straight"), joints=(Joint(at=500.0, kind="hinge"),))
ON = {"body": CONE, "joint_at": 500.0, "leaf_length": 100.0}


def test_a_hinge_by_hand() -> None:
    """A 5 in round and a flat of a tenth: 1/2 in deep and 3 in wide (3-4-5), and 1/8 in of it beside each edge."""
    answers = typed("hinge", diameter="5", deepest="10", edge_room="1/8", barrel="1/2", pin="1/4", hole="1/4").answers
    inches = {
        name: getattr(answers, name) / 25.4
        for name in ("widest_leaf", "leaf", "flat_depth", "flat_width", "floor", "barrel_recess", "barrel_deep",
                     "barrel_along", "rows_apart", "beside_hole", "first_hole", "last_hole", "keep_clear",
                     "between_rows", "dowels_below", "dowel_free")
    }  # fmt: skip
    assert inches == pytest.approx(
        {
            "widest_leaf": 2.75,
            "leaf": 2.75,
            "flat_depth": 0.5,
            "flat_width": 3,
            "floor": 2,
            "barrel_recess": 0.25,
            "barrel_deep": 0.75,
            "barrel_along": 0.5,
            "rows_apart": 1.75,
            "beside_hole": 0.5,
            "first_hole": 0.75,
            "last_hole": 2.5,
            "keep_clear": 2,
            "between_rows": 1.5,
            "dowels_below": 0.75,
            "dowel_free": 0.625,
        }
    )
    assert answers.fold == pytest.approx(180 - 2 * degrees(atan(0.5 / 3)))


@given(questions())
def test_a_leaf_as_wide_as_is_told_takes_a_flat_no_deeper_than_is_allowed(values) -> None:
    given_ = {**values, "leaf_width": None, "flat_at_joint": None, "fasten": "bolt"}
    answers = ask("hinge", **given_).answers
    assert answers.leaf == answers.widest_leaf
    assert answers.flat_depth <= answers.through_least * given_["deepest"] / 100 * (1 + 1e-9) + 1e-9
    assert answers.depth_heelward >= -1e-9 <= answers.depth_headward
    for name in ("flat", "barrel", "holes"):
        assert 0 < getattr(answers, f"{name}_left") <= 100 + 1e-9
    assert answers.holes_left <= answers.flat_left + 1e-9
    again = ask("hinge", **{**given_, "leaf_width": answers.widest_leaf}).answers
    assert again.flat_depth == pytest.approx(answers.flat_depth)


def test_both_leaves_lie_on_one_plane_on_a_taper() -> None:
    """84 mm at 400, 76 at 600: by 3-4-5 a flat of 45.6 mm lies 30.4 over the middle, the smaller end deciding."""
    result = ask("hinge", **ON, leaf_width=39.6, edge_room=3.0)
    answers = result.answers
    assert answers.floor == pytest.approx(30.4)
    assert (answers.depth_heelward, answers.depth_headward) == pytest.approx((11.6, 7.6))
    assert (answers.width_heelward, answers.width_headward) == pytest.approx((2 * sqrt(42**2 - 30.4**2), 45.6))
    assert answers.barrel_deep == pytest.approx(40 - 30.4 + 9.525 / 2)
    assert (answers.cut_from, answers.cut_to) == pytest.approx((500 - 3.175 / 2, 500 + 3.175 / 2))
    places = [(row[0], row[1]) for row in result.as_json()["tables"]["places"]["rows"]]
    assert places == [
        ("heelward end", 400.0), ("heelward end, bolts", 400.0), ("joint", 500.0),
        ("headward end", 600.0), ("headward end, bolts", 600.0), ("under the barrel", 500.0),
    ]  # fmt: skip
    assert not any("no hinge joint here" in line for line in result.cautions)
    kept = load("hinge").fitting(result.inputs, answers)
    assert kept == {
        "at": 500.0,
        "kind": "hinge",
        "length": 200.0,
        "face": "A",
        "flat": pytest.approx(9.6),
        "barrel": pytest.approx(9.525),
        "barrel_deep": pytest.approx(9.6 + 9.525 / 2),
    }


@given(st.floats(20, 200), st.floats(0.05, 0.4), st.floats(0.3, 4), st.floats(0, 1))
def test_folded_as_far_as_is_told_the_crowns_just_meet(diameter: float, part: float, long: float, up: float) -> None:
    """Each crown's corner, turned with its half about the pin, comes to the plane between the halves and no further."""
    barrel = diameter * 0.1
    asked = {"diameter": diameter, "deepest": 100 * part, "edge_room": 0.0, "barrel": barrel, "pin": barrel / 3}
    asked |= {"leaf_length": diameter * (0.3 + long), "hole": diameter * 0.02, "pin_above": up * barrel}
    answers = ask("hinge", **asked).answers
    above = max(0.0, diameter / 2 - answers.floor - asked["pin_above"])
    reach = hypot(asked["leaf_length"], above)
    between = (180 - answers.fold) / 2  # from the plane between the halves to either's plane through the pin
    assert degrees(asin(above / reach)) == pytest.approx(between, abs=1e-9)
    assert (answers.fold == 180) == (above == 0)


def test_a_higher_pin_sinks_less_and_folds_further() -> None:
    low = ask("hinge", diameter=90.0).answers
    high = ask("hinge", diameter=90.0, pin_above=3.0).answers
    assert high.barrel_recess == pytest.approx(low.barrel_recess - 3)
    assert high.fold > low.fold
    assert high.barrel_along == pytest.approx(2 * sqrt((9.525 / 2) ** 2 - 9))
    clear = ask("hinge", diameter=90.0, pin_above=6.0).answers
    assert (clear.barrel_recess, clear.barrel_along) == (0, 0)


def test_a_square_part_carries_a_leaf_as_wide_as_its_face() -> None:
    square = CONE._replace(regions=(Region(from_=0.0, to=700.0, section="square"),))
    answers = ask("hinge", **{**ON, "body": square}, edge_room=3.0).answers
    assert answers.widest_leaf == pytest.approx(76 - 6)
    assert (answers.flat_depth, answers.flat_left) == pytest.approx((0, 100 * (80 / 84) ** 2))
    assert answers.depth_headward == pytest.approx(0)
    assert answers.depth_heelward == pytest.approx(4)


def test_narrow_leaves_have_one_row_in_the_middle() -> None:
    answers = ask("hinge", diameter=90.0, leaf_width=20.0, hole=5.0).answers
    assert answers.rows_apart == 0
    assert answers.keep_clear == 5
    assert answers.between_rows == 0


@pytest.mark.parametrize(
    ("values", "field", "told"),
    [
        ({"leaf_width": 88.9}, "leaf_width", "wider than the spar, 3-1/2 in; the widest leaf that fits is 2-1/4"),
        ({"edge_room": 50.8}, "edge_room", "2 in on either side leaves no leaf on a flat 2-1/2 in bare wide"),
        ({"pin": 9.525}, "pin", "3/8 in does not go into a barrel of 3/8 in"),
        ({"barrel": 190.0, "leaf_length": 500.0}, "barrel", "comes out through the far side at the joint"),
        ({"leaf_length": 12.7}, "leaf_length", "a leaf of 1/2 in has no room for a hole between barrel and end"),
        ({"fasten": "screw", "screw": 152.4}, "screw", "6 in is too short to hold, or comes through"),
        ({"fasten": "screw", "screw": 3.0}, "screw", "is too short to hold"),
        ({"leaf_width": 10.0, "hole": 12.0}, "hole", "is as wide as the leaf"),
        ({"leaf_width": 10.0, "hole": 10.0}, "hole", "is as wide as the leaf"),
    ],
)
def test_what_cannot_be_is_refused_with_what_would_fit(values, field: str, told: str) -> None:
    fault = refusal("hinge", diameter=88.9, **values)
    assert fault.field == field
    assert told in str(fault.with_lengths(partial(show, rule=INCH_64)))


def test_what_is_told_would_fit() -> None:
    *_, widest = limits("hinge", diameter=88.9, leaf_width=88.9)
    assert ask("hinge", diameter=88.9, leaf_width=widest)
    *_, most = limits("hinge", diameter=88.9, barrel=190.0, leaf_length=500.0)
    assert ask("hinge", diameter=88.9, barrel=most * 0.999, leaf_length=500.0)
    _, least = limits("hinge", diameter=88.9, leaf_length=12.7)
    assert ask("hinge", diameter=88.9, leaf_length=least)


@pytest.mark.parametrize(
    ("values", "field"),
    [({}, "diameter"), ({"body": CONE}, "joint_at"), ({"body": CONE, "joint_at": 1200.0}, "joint_at")],
)
def test_without_a_place_it_says_what_is_wanted(values, field: str) -> None:
    assert refusal("hinge", **values).field == field


def test_a_place_without_a_hinge_or_past_an_end_is_warned_of() -> None:
    elsewhere = ask("hinge", **{**ON, "joint_at": 300.0})
    assert any("no hinge joint here" in line for line in elsewhere.cautions)
    at_heel = ask("hinge", **{**ON, "joint_at": 20.0})
    assert any("past the end" in line for line in at_heel.cautions)
    assert load("hinge").fitting(at_heel.inputs, at_heel.answers) is None


def test_a_leaf_wider_than_the_allowed_flat_is_warned_of() -> None:
    widest = ask("hinge", diameter=90.0).answers.widest_leaf
    assert any("deeper than allowed" in line for line in ask("hinge", diameter=90.0, leaf_width=widest + 2).cautions)
    assert not any("deeper than allowed" in line for line in ask("hinge", diameter=90.0).cautions)


@pytest.mark.parametrize(("spar", "at"), [("main mast", 24 * 25.4), ("mizzen mast", 60 * 25.4)])
def test_the_demo_boats_hinges_are_one_lookup_away(spar: str, at: float) -> None:
    boat = read(demo("saltmarsh-yawl")).boat
    hinged_spar = boat.spar(spar)
    result = solve(load("hinge"), {}, follow(boat, hinged_spar, None), boat.rule)
    assert result.inputs.joint_at == pytest.approx(at)
    across = min(hinged_spar.body().width_at(at + 76.2), hinged_spar.body().width_at(at - 76.2))
    share = 1 if spar == "main mast" else 2 * sqrt(0.15 * 0.85)  # the main mast is square there
    assert result.answers.widest_leaf == pytest.approx(across * share - 6.35)


def test_of_two_hinges_the_nearer_one_is_meant() -> None:
    boat = read(demo("saltmarsh-yawl")).boat
    spar = boat.spar("mizzen mast")
    two = spar._replace(joints=(*spar.joints, spar.joints[0]._replace(at=2500.0)))
    assert [follow(boat, two, at)["spar.hinge_at"] for at in (None, 0.0, 2200.0)] == [1524.0, 1524.0, 2500.0]
    assert follow(boat, boat.spar("gaff"), 700.0)["spar.hinge_at"] == 700.0
    assert "spar.hinge_at" not in follow(boat, boat.spar("gaff"), None)


def test_the_drawing_shows_the_pin_at_the_face_and_which_way_it_folds() -> None:
    drawing = ask("hinge", **ON).drawing()
    assert drawing is not None
    answers = ask("hinge", **ON).answers
    barrel = next(shape for shape in drawing.shapes if isinstance(shape, Arc) and shape.radius_x == 9.525 / 2)
    assert barrel.y == pytest.approx(answers.floor)
    folding = next(shape for shape in drawing.shapes if isinstance(shape, Arc) and shape.radius_x == 100)
    assert (folding.x, folding.y, folding.pen) == (barrel.x, barrel.y, "light")
    assert 0 <= folding.start < folding.end <= 90  # upwards, to the hinge's face
    words = {shape.text: shape.y for shape in drawing.shapes if isinstance(shape, Label)}
    assert words["folds"] > barrel.y > 0 > words["opens"]
    assert [shape.value for shape in drawing.shapes if isinstance(shape, Dimension)] == [answers.leaf]


def test_a_leaf_wider_than_the_thin_end_is_refused_though_the_thick_end_carries_it() -> None:
    """84 mm at one end and 76 mm at the other: 72 mm with 3 mm of wood on both sides fit the first alone."""
    assert refusal("hinge", **ON, leaf_width=72.0, edge_room=3.0).field == "leaf_width"
    assert ask("hinge", **ON, leaf_width=69.9, edge_room=3.0).answers.width_headward == pytest.approx(75.9)


def test_a_flat_all_taken_by_the_wood_beside_leaves_no_leaf() -> None:
    """20 mm deep in 100 mm the flat is 80 mm wide (3-4-5): 40 mm on either side are all of it."""
    assert refusal("hinge", diameter=100.0, deepest=20.0, edge_room=40.0).field == "edge_room"
    assert refusal("hinge", diameter=100.0, flat_at_joint=20.0, edge_room=40.0).field == "edge_room"
    assert ask("hinge", diameter=100.0, flat_at_joint=20.0, edge_room=30.0).answers.leaf == pytest.approx(20)


def test_a_flat_stops_short_of_the_centre_line() -> None:
    assert refusal("hinge", diameter=100.0, flat_at_joint=50.0).field == "flat_at_joint"
    assert ask("hinge", diameter=100.0, flat_at_joint=49.5).answers.floor == 0.5


SQUARE = {"diameter": 100.0, "shape": "square", "leaf_width": 90.0, "edge_room": 5.0, "hole": 10.0, "edge_holes": 1.0}


def test_two_rows_of_bolts_in_a_square_by_hand() -> None:
    """Holes of 10 mm through and through, 35 mm to both sides of the middle of 100 mm: sideways that takes
    2·(100·10³/12 + 1000·35²) of 100⁴/12 mm⁴; a fifth of it up and down."""
    answers = ask("hinge", **SQUARE).answers
    assert (answers.flat_depth, answers.flat_left, answers.rows_apart) == (0, pytest.approx(100), 70)
    assert answers.holes_left == pytest.approx(100 * (1 - 2 * (100 * 1e3 / 12 + 1e3 * 35**2) / (1e8 / 12)))


def test_one_row_of_screws_in_a_square_by_hand() -> None:
    """A row of 10 mm in the middle, 53 mm of screw less 3 mm of leaf deep: half of the square's depth. What is left is
    100² − 500 mm² with its middle 25·500/9500 mm lower; its modulus the second moment over the farther edge."""
    asked = {**SQUARE, "leaf_width": 30.0, "edge_holes": 1.0, "fasten": "screw", "leaf_thickness": 3.0, "screw": 53.0}
    answers = ask("hinge", **asked).answers
    assert answers.rows_apart == 0
    lower = 25 * 500 / 9500
    second = 1e8 / 12 - (10 * 50**3 / 12 + 500 * 25**2) - 9500 * lower**2
    assert answers.holes_left == pytest.approx(100 * second / (50 + lower) / (1e6 / 6), rel=1e-9)


def test_a_pin_over_the_crown_folds_flat() -> None:
    assert ask("hinge", diameter=90.0, pin_above=30.0).answers.fold == 180


def test_a_barrel_sunk_by_less_than_the_wood_under_it_goes_in() -> None:
    """Half of 120 mm on a pin 30 mm over the flat: 30 mm of recess."""
    answers = ask("hinge", diameter=90.0, barrel=120.0, pin_above=30.0, leaf_length=200.0).answers
    assert answers.barrel_recess == 30


def test_a_diameter_that_is_typed_is_on_no_spar() -> None:
    for at in (20.0, 300.0):
        said = ask("hinge", **{**ON, "joint_at": at}, diameter=90.0).cautions
        assert not any("no hinge joint" in line or "past the end" in line for line in said)


def test_the_drawing_has_the_pin_over_the_flat_and_the_widest_leaf_under_the_spar() -> None:
    result = ask("hinge", **ON, pin_above=3.0, leaf_width=30.0)
    drawn = result.drawing()
    pins = [shape for shape in drawn.shapes if isinstance(shape, Arc) and shape.radius_x == 9.525 / 2]
    assert [pin.y for pin in pins] == pytest.approx([result.answers.floor + 3])
    (widest,) = [shape for shape in drawn.shapes if isinstance(shape, Label) and "widest leaf" in shape.text]
    assert widest.y < -result.answers.crown


def test_the_barrel_takes_what_of_it_is_under_the_flat() -> None:
    """6 mm of barrel on a pin 2 mm up take 4 of 100 mm, and of the square's modulus what is over (96/100)²."""
    assert ask("hinge", **SQUARE, barrel=12.0, pin_above=2.0).answers.barrel_left == pytest.approx(92.16)


def test_the_table_has_every_depth_under_its_own_crown() -> None:
    """Crowns of 42, 40 and 38 mm, a plane at 30; a barrel of 12 mm goes in by 6. There it is weakest at the joint."""
    result = ask("hinge", **ON, flat_at_joint=10.0, barrel=12.0)
    places, _, parts = result.tables
    deep = [(row[0], pytest.approx(row[4])) for row in places.rows if "bolts" not in row[0]]
    assert deep == [("heelward end", 12), ("joint", 10), ("headward end", 8), ("under the barrel", 16)]
    assert result.answers.barrel_left == pytest.approx(min(parts.rows[-1][4:]))


def test_where_square_meets_round_the_barrel_leaves_the_weaker_of_them() -> None:
    asked = {"flat_at_joint": 5.0, "barrel": 12.0, "leaf_length": 100.0}
    even = Body(Outline(((0.0, 80.0), (1000.0, 80.0))), regions=(Region(from_=0.0, to=500.0, section="square"),))
    alone = [ask("hinge", **asked, diameter=80.0, shape=shape).answers.barrel_left for shape in ("round", "square")]
    assert alone[0] != pytest.approx(alone[1])
    assert ask("hinge", **asked, body=even, joint_at=500.0).answers.barrel_left == pytest.approx(min(alone))


def test_a_flat_in_an_eight_sided_part_is_its_facet_and_twice_its_depth() -> None:
    """100·tan(π/8) and 20 mm, less 5 mm on either side."""
    answers = ask("hinge", diameter=100.0, shape="eight", flat_at_joint=10.0, edge_room=5.0).answers
    assert answers.leaf == pytest.approx(41.4214 + 20 - 10, abs=1e-4)


def test_a_flat_that_just_touches_the_thin_end_does_not_reach_it() -> None:
    assert refusal("hinge", **ON, flat_at_joint=2.0).field == "flat_at_joint"  # crowns of 40 and 38 mm


@pytest.mark.parametrize(("leaf", "apart"), [(50.0, 30.0), (49.0, 0.0)])
def test_two_rows_are_three_holes_apart_or_more(leaf: float, apart: float) -> None:
    """Holes of 10 mm, one hole's width from either edge to their middle."""
    assert ask("hinge", **{**SQUARE, "leaf_width": leaf}).answers.rows_apart == apart


@pytest.mark.parametrize(("edge_holes", "told"), [(1.0, False), (0.9, True)])
def test_as_much_wood_beside_a_hole_as_it_is_wide_is_enough(edge_holes: float, told: bool) -> None:
    """A square of 100 mm, a leaf of 90: holes of 10 mm with their middles 15 or 14 mm from the side."""
    said = ask("hinge", **{**SQUARE, "edge_holes": edge_holes}).cautions
    assert any("less wood beside a hole" in line for line in said) == told


def test_the_shortest_leaf_has_room_for_one_hole_between_barrel_and_end() -> None:
    """Half a barrel of 12 mm, and a hole of 10 mm with a hole's width and a half to its middle on either side."""
    asked = {**SQUARE, "edge_holes": 1.5, "barrel": 12.0}
    assert limits("hinge", **asked, leaf_length=35.0) == (35.0, 36.0)
    ask("hinge", **asked, leaf_length=36.0)


@pytest.mark.parametrize(("at", "told"), [(100.0, False), (99.0, True), (900.0, False), (901.0, True)])
def test_a_leaf_past_either_end_is_told(at: float, told: bool) -> None:
    said = ask("hinge", **{**ON, "joint_at": at}).cautions
    assert any("past the end" in line for line in said) == told


def test_one_row_of_holes_is_drawn_in_the_middle() -> None:
    drawn = ask("hinge", **{**SQUARE, "leaf_width": 40.0}).drawing()
    upright = {shape.x1 for shape in drawn.shapes if isinstance(shape, Line) and shape.x1 == shape.x2}
    assert {-5.0, 5.0} <= upright
