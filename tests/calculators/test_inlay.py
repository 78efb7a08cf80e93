"""Inlay: how deep a bar is let in, what is left between two, bolts and screws, and bars that do not fit."""

from functools import partial
from math import sqrt

import pytest
from hypothesis import given

from shopcompanion.catalog import load
from shopcompanion.drawing.shapes import Arc, Dimension, Line
from shopcompanion.lengths import show
from shopcompanion.spar.along import Region
from shopcompanion.spar.body import Body
from shopcompanion.spar.outline import Outline

from ..asked.inlay import questions
from ..asking import INCH_64, ask, limits, refusal, typed

CONE = Body(Outline(((0.0, 100.0), (1000.0, 60.0)), "straight"))
HAND = {"diameter": "5", "bar_width": "3", "bar_thickness": "1/4"}  # 3-4-5: the crown stands 1/2 in over the bar


@pytest.mark.parametrize(
    ("sit", "thickness", "floor", "edge", "proud"),
    [("corners flush", "1/4", 0.75, 0.25, 0.0), ("crown flush", "3/4", 0.75, 0.25, 0.5)],
)
def test_a_bar_by_hand(sit: str, thickness: str, floor: float, edge: float, proud: float) -> None:
    answers = typed("inlay", **{**HAND, "bar_thickness": thickness, "sit": sit, "both": "no"}).answers
    said = (answers.floor_below_crown, answers.centre_depth, answers.edge_depth, answers.sagitta, answers.corner_proud)
    assert [mm / 25.4 for mm in said] == pytest.approx([floor, floor, edge, 0.5, proud])
    assert answers.wood_between / 25.4 == pytest.approx(4.25)


def test_a_bolt_goes_through_wood_bars_washers_and_nut() -> None:
    """5 in less two floors of 3/4 in, two bars of 1/4 in, two washers of 1/16 in, 3/8 in for the nut."""
    two = typed("inlay", **HAND, washer="1/16", nut="3/8").answers
    assert two.wood_between / 25.4 == pytest.approx(3.5)
    assert two.bolt_length / 25.4 == pytest.approx(3.5 + 0.5 + 0.125 + 0.375)
    answer = typed("inlay", **HAND, washer="1/16", nut="3/8", both="no").answers
    assert answer.bolt_length / 25.4 == pytest.approx(4.25 + 0.25 + 0.125 + 0.375)


def test_screws_stop_short_of_one_another() -> None:
    answers = typed("inlay", **HAND, fasten="screw").answers
    assert answers.bolt_length is None
    assert answers.screw_longest / 25.4 == pytest.approx(3.5 / 2 + 0.25)
    bar = {"diameter": 127.0, "bar_width": 76.2, "bar_thickness": 6.35, "fasten": "screw"}
    assert limits("inlay", **bar, screw=60.0)[1:] == pytest.approx((6.35, 2 * 25.4))
    assert refusal("inlay", **bar, screw=60.0).field == refusal("inlay", **bar, screw=6.0).field == "screw"


@given(questions())
def test_corners_flush_are_on_the_face_and_the_groove_is_as_deep_as_the_bar_there(values) -> None:
    answers = ask("inlay", **values).answers
    if values["sit"] == "corners flush":
        assert answers.edge_depth == pytest.approx(values["bar_thickness"])
        assert answers.corner_proud == 0
    else:
        assert answers.centre_depth == pytest.approx(values["bar_thickness"])
        assert answers.corner_proud == pytest.approx(answers.sagitta)
    assert 0 < answers.wood_between <= answers.wood_most + 1e-9
    assert answers.bolt_length is None or answers.bolt_length > answers.wood_most
    for name in ("area", "second_into", "second_along"):
        assert 0 < getattr(answers, f"{name}_part") <= 100 + 1e-9


@given(questions())
def test_a_bar_as_wide_as_is_told_just_fits(values) -> None:
    widest = ask("inlay", **values).answers.widest_bar
    ask("inlay", **{**values, "bar_width": widest * 0.999, "hole": values["bar_width"] * 0.01, "fasten": "bolt"})
    if values["sit"] == "corners flush" and not values.get("body"):
        wider = {**values, "bar_width": widest * 1.001 + 1e-6, "fasten": "bolt"}
        room = ask("inlay", **{**values, "fasten": "bolt"}).answers
        if widest < room.across_least * 0.999 and room.wood_between < room.through_least:
            assert refusal("inlay", **wider).field in ("bar_thickness", "bar_width")


def test_a_taper_has_its_floor_deeper_where_it_is_thinner() -> None:
    result = ask("inlay", diameter=80.0, body=CONE, at=500.0, bar_length=200.0, bar_width=20.0, bar_thickness=5.0)
    answers = result.answers
    floors = [size / 2 - sqrt(size**2 - 20**2) / 2 + 5 for size in (84, 76)]
    assert (answers.floor_heelward, answers.floor_headward) == pytest.approx(floors)
    assert answers.floor_below_crown == pytest.approx(floors[1])
    assert answers.wood_between == pytest.approx(76 - 2 * floors[1])
    assert answers.wood_most == pytest.approx(84 - 2 * floors[0])  # the longest bolt goes in there
    assert [row[0] for row in result.as_json()["tables"]["left"]["rows"]] == [
        "heelward end", "heelward end, bolt", "between", "between, bolt", "headward end", "headward end, bolt",
    ]  # fmt: skip


def test_a_flat_face_takes_the_bar_flush_all_over() -> None:
    for shape in ("square", "eight"):
        answers = ask("inlay", diameter=90.0, shape=shape, bar_width=30.0, bar_thickness=5.0).answers
        assert (answers.sagitta, answers.floor_below_crown) == (0, 5)


@pytest.mark.parametrize(
    ("values", "field", "told"),
    [
        ({"bar_width": 101.6}, "bar_width", "a bar of 4 in is as wide as the spar, 3-1/2 in"),
        ({"bar_width": 76.2, "bar_thickness": 28.0}, "bar_thickness", "meet in the middle of a spar 3-1/2 in deep"),
        ({"both": "no", "bar_thickness": 100.0}, "bar_thickness", "leaves no wood of a spar 3-1/2 in deep"),
        ({"bar_width": 76.2, "sit": "crown flush"}, "bar_thickness", "has no wood beside it"),
        ({"hole": 19.05}, "hole", "a hole of 3/4 in is as wide as the bar, 3/4 in"),
        ({"bar_width": 88.9}, "bar_width", "a bar of 3-1/2 in is as wide as the spar, 3-1/2 in"),
    ],
)
def test_what_cannot_be_is_refused_with_what_would_fit(values, field: str, told: str) -> None:
    fault = refusal("inlay", diameter=88.9, **values)
    assert fault.field == field
    assert told in str(fault.with_lengths(partial(show, rule=INCH_64)))


def test_a_bar_just_thinner_than_is_told_goes_in() -> None:
    most = limits("inlay", diameter=88.9, bar_width=76.2, bar_thickness=28.0)[2]
    assert ask("inlay", diameter=88.9, bar_width=76.2, bar_thickness=most * 0.99).answers.wood_between > 0
    _, thicker, narrower = limits("inlay", diameter=88.9, bar_width=76.2, sit="crown flush")
    assert ask("inlay", diameter=88.9, bar_width=76.2, sit="crown flush", bar_thickness=thicker + 0.1)
    assert ask("inlay", diameter=88.9, bar_width=narrower - 0.1, sit="crown flush").answers.edge_depth > 0


@pytest.mark.parametrize(("face", "both", "kept"), [("A", "yes", "A and C"), ("D", "yes", "B and D"), ("B", "no", "B")])
def test_what_can_be_put_on_the_spar(face: str, both: str, kept: str) -> None:
    result = ask("inlay", diameter=80.0, body=CONE, at=500.0, face=face, both=both)
    answers = load("inlay").fitting(result.inputs, result.answers)
    deep = pytest.approx(40 - sqrt(40**2 - 9.525**2) + 4.7625)
    assert answers == {"at": 500.0, "kind": "bar", "length": 304.8, "face": kept, "bar": 19.05, "bar_deep": deep}
    alone = ask("inlay", diameter=80.0)
    assert load("inlay").fitting(alone.inputs, alone.answers) is None


def test_under_half_the_wood_is_warned_of() -> None:
    for both, where, thick in (("yes", "between the bars", 12.0), ("no", "under the bar", 25.0)):
        said = ask("inlay", diameter=50.0, bar_thickness=thick, both=both).cautions
        assert any(f"Less than half the spar is left {where}" in line for line in said)
    assert not any("Less than half the spar" in line for line in ask("inlay", diameter=90.0).cautions)


def test_the_drawing_has_both_bars_in_the_round() -> None:
    drawing = typed("inlay", **HAND).drawing()
    assert drawing is not None
    left, *others = [value / 25.4 for value in drawing.bounds()]
    assert [left, others[0], others[2]] == pytest.approx([-2.5, -2.5, 2.5])
    light = [shape for shape in drawing.shapes if isinstance(shape, Arc) and shape.pen == "light"]
    assert [arc.end - arc.start for arc in light] == pytest.approx([73.7397952917] * 2)  # 2·asin(3/5), either side
    measures = [shape.value / 25.4 for shape in drawing.shapes if isinstance(shape, Dimension)]
    assert measures == pytest.approx([0.75, 3, 3.5])


def test_where_square_and_round_are_as_thick_the_round_has_less_wood_left() -> None:
    """Bars of 20 mm by 5 mm, corners flush, on 80 mm: in the round each lies 40 − √(40² − 10²) mm deeper."""
    even = Body(Outline(((0.0, 80.0), (1000.0, 80.0))), regions=(Region(from_=0.0, to=400.0, section="square"),))
    bar = {"bar_width": 20.0, "bar_thickness": 5.0, "bar_length": 100.0, "hole": 5.0}
    answers = ask("inlay", diameter=80.0, body=even, at=400.0, **bar).answers
    assert answers.wood_between == pytest.approx(80 - 2 * (5 + 40 - sqrt(1500)))
    assert answers.wood_most == pytest.approx(70)


@pytest.mark.parametrize(
    ("both", "sit", "widest"),
    [
        ("no", "corners flush", 100.0),  # as wide as the round, half of it deep and its thickness
        ("yes", "corners flush", 2 * sqrt(40 * 60)),  # 40 mm of arc and 10 mm of bar reach the middle
        ("yes", "crown flush", 2 * sqrt(10 * 90)),  # the chord that is as deep as the bar is thick
    ],
)
def test_the_widest_bar_of_ten_millimetres_in_a_hundred(both: str, sit: str, widest: float) -> None:
    asked = {"diameter": 100.0, "bar_width": 20.0, "bar_thickness": 10.0}
    assert ask("inlay", **asked, both=both, sit=sit).answers.widest_bar == pytest.approx(widest)


def test_on_a_taper_the_thin_end_says_how_wide_a_bar_may_be() -> None:
    """A tenth of 76 mm thick, crown flush: six tenths of 76 mm wide (3-4-5)."""
    bar = {"bar_width": 20.0, "bar_thickness": 7.6, "bar_length": 200.0, "sit": "crown flush"}
    assert ask("inlay", diameter=80.0, body=CONE, at=500.0, **bar).answers.widest_bar == pytest.approx(45.6)


def test_bars_that_just_meet_or_just_have_no_edge_are_refused() -> None:
    bar = {"diameter": 100.0, "bar_width": 60.0}
    assert refusal("inlay", **bar, shape="square", bar_thickness=50.0).field == "bar_thickness"
    assert limits("inlay", **bar, sit="crown flush", bar_thickness=60.0)[2] == 50
    assert refusal("inlay", **bar, sit="crown flush", bar_thickness=10.0, both="no").field == "bar_thickness"
    assert ask("inlay", **bar, sit="crown flush", bar_thickness=10.5, both="no").answers.edge_depth == pytest.approx(
        0.5
    )


def test_a_bar_is_refused_that_is_as_wide_as_the_thin_end() -> None:
    """80 mm in the middle of it, 76 mm at its headward end."""
    asked = {"body": CONE, "at": 500.0, "diameter": 80.0, "bar_length": 200.0, "bar_thickness": 5.0}
    assert refusal("inlay", **asked, bar_width=77.0).field == "bar_width"
    assert limits("inlay", **asked, bar_width=77.0)[1] == pytest.approx(76)


@pytest.mark.parametrize(("thickness", "told"), [(50.0, False), (50.1, True)])
def test_half_of_the_wood_is_enough(thickness: float, told: bool) -> None:
    asked = {"diameter": 100.0, "shape": "square", "bar_width": 40.0, "both": "no"}
    said = ask("inlay", **asked, bar_thickness=thickness).cautions
    assert any("Less than half the spar" in line for line in said) == told


def test_the_bolt_under_one_bar_is_drawn_through_the_wood() -> None:
    """A bar of 40 by 10 mm in 100 mm: its floor is √(50² − 20²) − 10 mm over the middle."""
    drawn = ask("inlay", diameter=100.0, bar_width=40.0, bar_thickness=10.0, both="no", hole=8.0).drawing()
    upright = [shape[:4] for shape in drawn.shapes if isinstance(shape, Line) and shape.x1 == shape.x2
               and shape.pen == "light"]  # fmt: skip
    floor = pytest.approx(sqrt(2100) - 10)
    assert upright == [(-4, -50, -4, floor), (4, -50, 4, floor)]
