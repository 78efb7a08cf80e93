"""Half laps: the lines, the passes, the frame around a spar, and what cannot be."""

import re
from typing import Any

import pytest
from hypothesis import given

from shopcompanion.calculators.lap import Inputs, work
from shopcompanion.drawing.shapes import Arc, Fill, Line
from shopcompanion.errors import InputFault
from shopcompanion.lengths import read

from ..asked.lap import questions
from ..asking import INCH_64, MM_01, ask, refusal, typed

BITT = {"stock_thickness": "2-1/4", "length": "29", "at": "20"}


def limits(**values: Any) -> tuple[float, ...]:
    """The lengths that the refusal names, unrounded."""
    with pytest.raises(InputFault) as caught:
        work(Inputs(**values))
    return caught.value.lengths


def test_json_agrees_with_the_sums_by_hand() -> None:
    """A 2-1/4 in bitt, a 1-3/4 in crossing of 2 in face at 20 in, around a 3 in spar: in inches."""
    in_json = typed(
        "lap", **BITT, crossing_width="2", crossing_thickness="1-3/4", kerf="1/8", overlap="1/32", spar_width="3",
        clearance="1/16", run_past="3", chamfer="1/4", chamfer_angle="30",
    ).as_json()  # fmt: skip
    values = {name: answer["value"] for name, answer in in_json["answers"].items()}
    inches = {name: value / 25.4 for name, value in values.items() if isinstance(value, float)}
    assert inches == pytest.approx({
        "lap_depth": 0.875, "crossing_depth": 0.875, "saw_step": 1.875 / 20, "wood_left": 1.375, "crossing_left": 0.875,
        "proud": 0.5, "end_left": 8.0, "inside_width": 3.125, "inside_height": 3.125, "outside_width": 7.625,
        "outside_height": 7.125, "next_at": 25.125, "crossing_length": 13.625, "set_back": 0.25 * 3**0.5,
        "lap_at": 20.0, "least_end": 0.875, "past_posts": 3.0, "cut_width": 0.125,
    })  # fmt: skip
    assert values["saw_passes"] == 21  # 1-7/8 in left to clear by 3/32 in at most
    assert [mm / 25.4 for mm in values["shoulder_lines"][0]] == pytest.approx([19, 21])
    assert in_json["fitting"] == {"at": 508.0, "kind": "lap", "length": 50.8, "flat": 22.225}
    crossing = in_json["tables"]["crossing"]["rows"]
    assert [[mm / 25.4 for mm in row[1:3]] for row in crossing] == [
        pytest.approx([3, 5.25]),
        pytest.approx([8.375, 10.625]),
    ]


@given(questions())
def test_the_last_pass_ends_on_the_far_line_and_each_overlaps_the_one_before(values) -> None:
    answers = ask("lap", **values).answers
    if answers.saw_passes == 1:
        assert answers.saw_step is None
        assert answers.cut_width == pytest.approx(values["crossing_width"])
        return
    assert answers.saw_step * (answers.saw_passes - 1) + answers.cut_width == pytest.approx(values["crossing_width"])
    assert answers.cut_width - answers.saw_step >= values["overlap"] - 1e-9
    wider = (values["crossing_width"] - answers.cut_width) / (answers.saw_passes - 2) if answers.saw_passes > 2 else 1e9
    assert wider > answers.cut_width - values["overlap"]  # one pass less would leave a fin


@given(questions())
def test_what_is_laid_in_is_no_looser_than_it_is(values) -> None:
    """The lines as they are shown lie within the true ones, by a mark each at most."""
    for rule in (INCH_64, MM_01):
        result = ask("lap", rule, **values)
        shown = result.as_json()["answers"]["shoulder_lines"]["text"].split("; ")
        for (near, far), text in zip(result.answers.shoulder_lines, shown, strict=True):
            a, b = (float(read(part, rule.unit)) for part in text.split(" to "))
            step = float(rule.step)
            assert near - 1e-4 <= a <= near + step + 1e-4
            assert far - step - 1e-4 <= b <= far + 1e-4


@given(questions())
def test_the_spar_and_its_clearance_stand_in_the_opening(values) -> None:
    answers = ask("lap", **values).answers
    if "spar_width" not in values:
        assert answers.inside_width is answers.crossing_length is answers.next_at is None
        return
    half = values["crossing_width"] / 2
    assert answers.next_at - half - (answers.lap_at + half) == pytest.approx(answers.inside_height)
    assert answers.inside_height >= values.get("spar_depth", values["spar_width"])
    assert answers.crossing_length == pytest.approx(
        answers.inside_width + 2 * (values["stock_width"] + answers.past_posts)
    )


@given(questions())
def test_the_drawing_shows_every_line_where_it_is(values) -> None:
    result = ask("lap", **values)
    drawn = result.drawing()
    upright = {round(shape.x1, 6) for shape in drawn.shapes if isinstance(shape, Line) and shape.x1 == shape.x2}
    assert {round(x, 6) for lines in result.answers.shoulder_lines for x in lines} <= upright
    spars = [shape for shape in drawn.shapes if isinstance(shape, Arc)]
    assert [2 * spar.radius_y for spar in spars] == (
        [pytest.approx(values["spar_width"])] if "spar_width" in values else []
    )


def test_a_dado_set_as_wide_as_the_lap_cuts_it_at_once() -> None:
    answers = typed("lap", **BITT, crossing_width="3/4", cutter="3/4").answers
    assert (answers.saw_passes, answers.saw_step) == (1, None)
    assert typed("lap", **BITT, crossing_width="3/4 + 1/64", cutter="3/4").answers.saw_passes == 2


def test_a_lap_where_the_station_runs_off_the_end_is_moved_in_and_says_so() -> None:
    for at, there in (("0", "2-1/4"), ("29", "26-3/4")):
        result = typed("lap", **{**BITT, "at": at})
        assert result.answers.lap_at / 25.4 == pytest.approx(float(read(there)) / 25.4)
        assert any("moved in to" in line for line in result.cautions)
    assert not any("moved in" in line for line in typed("lap", **BITT).cautions)


def test_the_end_of_a_chamfer_stays_clear_of_the_lap() -> None:
    answers = typed("lap", **{**BITT, "at": "0"}, chamfer="1", chamfer_angle="30").answers
    assert answers.end_left == pytest.approx(answers.set_back)
    assert answers.set_back / 25.4 == pytest.approx(3**0.5)


@pytest.mark.parametrize(
    ("change", "field", "reason"),
    [
        ({"positions": (300.0, 350.0)}, "positions", "laps at 11-13/16 in .*overlap.*move the second to 14-1/16 in"),
        ({"positions": (10.0,)}, "positions", "leaves less than 1-1/8 in at the end; 2-1/4 in or more will do"),
        ({"positions": (736.0,)}, "positions", "the end; 2 ft 2-3/4 in or less will do"),
        ({"positions": ()}, "positions", "no place for a lap"),
        ({"crossing_width": 700.0}, "crossing_width", "2 ft 2-3/4 in or less will do"),
        ({"length": 50.0}, "length", "has no room for a lap"),
        ({"length": 57.15}, "length", "has no room for a lap"),
        ({"chamfer": 20.0, "stock_width": 40.0}, "chamfer", "less than 25/32 in full will do"),
        ({"cutter": 60.0}, "cutter", "wider than the lap, 2-1/4 in"),
        ({"kerf": 45.0, "crossing_width": 40.0}, "kerf", "wider than the lap"),
        ({"overlap": 3.175}, "overlap", "less than 1/8 in will do"),
        ({"chamfer": 28.575}, "chamfer", "less than 1-1/8 in will do"),
        ({"positions": (200.0, 300.0), "spar_width": 76.2}, "positions", "no two laps have 3-1/8 in between"),
    ],
)
def test_what_cannot_be_says_what_would_fit(change, field, reason) -> None:
    given = {
        "stock_thickness": 57.15, "stock_width": 57.15, "crossing_width": 57.15, "crossing_thickness": 57.15,
        "length": 736.6, **change,
    }  # fmt: skip
    fault = refusal("lap", **given)
    assert fault.field == field
    assert re.search(reason, str(fault))


def test_what_is_said_to_fit_fits() -> None:
    """Each limit that a refusal names is taken."""
    given = {
        "stock_thickness": 57.15, "stock_width": 57.15, "crossing_width": 57.15, "crossing_thickness": 57.15,
        "length": 736.6,
    }  # fmt: skip
    for change, field, limit in (
        ({"positions": (10.0,)}, "positions", 2),
        ({"positions": (736.0,)}, "positions", 2),
        ({"crossing_width": 700.0}, "crossing_width", 3),
    ):
        fits = limits(**{**given, **change})[limit]
        ask("lap", **{**given, field: (fits,) if field == "positions" else fits})
    first, _, second, narrower = limits(**given, positions=(300.0, 350.0))
    ask("lap", **given, positions=(first, second))
    ask("lap", **{**given, "crossing_width": narrower}, positions=(300.0, 350.0))
    _, second = limits(**given, positions=(200.0, 300.0), spar_width=76.2)
    assert ask("lap", **given, positions=(200.0, second), spar_width=76.2).answers.between == pytest.approx(79.375)


def test_cautions_are_short_and_stand_where_they_belong() -> None:
    result = typed("lap", **{**BITT, "at": "1"}, spar_width="3", run_past="1/2")
    assert any("shears off" in line for line in result.cautions) == (result.answers.end_left < 28.575)
    assert any("further past the posts" in line for line in result.cautions)
    assert all(len(line) <= 84 for line in result.cautions)


def test_several_laps_are_several_fittings_and_one_is_one() -> None:
    """At 14 in and 22 in, half of 2-1/4 in deep; a station of its own is left out where none is given."""
    stock = {"stock_thickness": 57.15, "stock_width": 57.15, "crossing_width": 50.8, "crossing_thickness": 57.15}
    lap = {"kind": "lap", "length": 50.8, "flat": 28.575}
    both = ask("lap", **stock, positions=(558.8, 355.6)).as_json()["fitting"]
    assert both == [pytest.approx({"at": 355.6, **lap}), pytest.approx({"at": 558.8, **lap})]
    assert ask("lap", **stock, positions=(355.6,)).as_json()["fitting"] == {"at": 355.6, **lap}
    assert ask("lap", **stock).as_json()["fitting"] == lap


STOCK = {"stock_thickness": 60.0, "stock_width": 80.0, "crossing_width": 50.0, "crossing_thickness": 60.0}


def fills(result, tone: str = "wood") -> list[tuple[float, float, float, float]]:
    """Left, bottom, right and top of what is filled in that tone."""
    found = [shape.points for shape in result.drawing().shapes if isinstance(shape, Fill) and shape.tone == tone]
    return [(min(x for x, _ in points), min(y for _, y in points), max(x for x, _ in points),
             max(y for _, y in points)) for points in found]  # fmt: skip


def test_a_long_stock_is_drawn_broken_off_and_a_short_one_whole() -> None:
    """Laps from 275 to 325 and 475 to 525 mm, and one and a half times the thicker measure, 90 mm, beyond them."""
    long = ask("lap", **STOCK, length=2000.0, positions=(300.0, 500.0))
    assert "broken off" in long.drawing().title
    assert (long.drawing().bounds()[0], long.drawing().bounds()[2]) == (275 - 90, 525 + 90)
    near = ask("lap", **STOCK, length=2000.0, positions=(120.0,))
    assert (near.drawing().bounds()[0], near.drawing().bounds()[2]) == (0, 145 + 90)
    short = ask("lap", **STOCK, length=250.0, positions=(120.0,))
    assert "broken off" not in short.drawing().title
    assert (short.drawing().bounds()[0], short.drawing().bounds()[2]) == (0, 250)
    for drawn, ends in ((long, []), (near, [0, 0]), (short, [0, 0, 250, 250])):  # an end that is broken off has no line
        at_ends = [shape.x1 for shape in drawn.drawing().shapes if isinstance(shape, Line) and shape.x1 == shape.x2
                   and shape.x1 in drawn.drawing().bounds()]  # fmt: skip
        assert sorted(at_ends) == ends


def test_the_face_is_drawn_under_the_side_as_wide_as_the_stock() -> None:
    result = ask("lap", **STOCK, length=250.0, positions=(120.0,))
    side, face = fills(result)
    assert (side[1], side[3]) == (-30, 30)
    assert face[3] < -30
    assert face[3] - face[1] == 80
    (_, lap) = fills(result, "off")
    assert lap == (95, face[1], 145, face[3])
    lines = [shape for shape in result.drawing().shapes if isinstance(shape, Line) and shape.x1 == shape.x2 == 145]
    assert (145, face[3], 145, face[1]) in [line[:4] for line in lines]


def test_a_chamfered_end_is_drawn_at_both_ends() -> None:
    """10 mm off each face at 45°: 10 mm back from either end."""
    drawn = ask("lap", **STOCK, length=250.0, positions=(120.0,), chamfer=10.0, chamfer_angle=45.0).drawing()
    lines = {tuple(round(part, 6) for part in shape[:4]) for shape in drawn.shapes if isinstance(shape, Line)}
    assert {(0, -20, 10, -30), (0, 20, 10, 30), (250, -20, 240, -30), (250, 20, 240, 30)} <= lines


@pytest.mark.parametrize(
    ("positions", "middle", "crossings"),
    [((300.0,), 362.0, 2), ((300.0, 500.0), 400.0, 2), ((300.0, 375.0, 500.0), 437.5, 3)],
)
def test_the_spar_is_drawn_in_the_first_opening_that_is_high_enough(positions, middle: float, crossings: int) -> None:
    """A spar of 70 mm with 2 mm above and below it takes 74 mm from crossing to crossing."""
    result = ask("lap", **STOCK, length=2000.0, positions=positions, spar_width=70.0, clearance=2.0)
    (spar,) = [shape for shape in result.drawing().shapes if isinstance(shape, Arc)]
    assert (spar.x, spar.radius_x, spar.radius_y) == (middle, 35, 35)
    laid = [fill for fill in fills(result) if fill[2] - fill[0] == 50]
    assert len(laid) == crossings


def test_two_passes_are_a_step_apart_and_the_table_has_the_middle() -> None:
    """A cut of 30 mm reaches across 50 mm twice, 20 mm on."""
    result = ask("lap", **STOCK, positions=(300.0,), kerf=30.0)
    assert (result.answers.saw_passes, result.answers.saw_step) == (2, 20)
    assert result.tables[0].rows == ((1, 275, 325, 300, 30),)


@pytest.mark.parametrize(("at", "told"), [(50.0, False), (49.0, True), (42.0, True)])
def test_under_half_a_crossing_of_wood_beyond_a_lap_is_told(at: float, told: bool) -> None:
    """Centred 50 mm from the end a lap of 50 mm leaves 25 mm of wood beyond it."""
    said = ask("lap", **STOCK, positions=(at,), end_wood=10.0).cautions
    assert any("of wood beyond a lap" in line for line in said) == told


def test_no_wood_need_be_left_at_an_end() -> None:
    answers = ask("lap", **STOCK, at=0.0, end_wood=0.0).answers
    assert (answers.least_end, answers.lap_at) == (0, 25)


@pytest.mark.parametrize(("run_past", "told"), [(30.0, False), (29.0, True)])
def test_a_crossing_runs_past_the_posts_by_the_depth_of_its_laps(run_past: float, told: bool) -> None:
    """Half of 60 mm deep."""
    said = ask("lap", **STOCK, at=300.0, spar_width=70.0, run_past=run_past).cautions
    assert any("near its ends" in line for line in said) == told


def test_a_stock_of_no_known_length_is_drawn_to_the_wood_kept_at_its_end() -> None:
    """A lap from 275 to 325 mm, and 30 mm, as deep as it is."""
    drawn = ask("lap", **STOCK, at=300.0).drawing()
    assert drawn.bounds()[2] == 355
