"""Dowels: inside the round, apart, clear of the band; how deep, and what the saw takes. Areas are in tests/outside/."""

from math import hypot, pi, sin, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.catalog import load
from shopcompanion.drawing.shapes import Fill, Line
from shopcompanion.errors import InputFault

from ..asked.dowels import questions
from ..asking import MM_01, ask, refusal, typed


def holes(result) -> list[list[float]]:
    return result.as_json()["tables"]["holes"]["rows"]


def test_json_agrees_with_the_formulas_written_again() -> None:
    """Four of 3/8 in in a round of 2-1/2 in, a 3 in blank, kerf 1/8 in: in inches, by hand."""
    result = typed("dowels", section="2-1/2", dowel="3/8", count="4", kerf="1/8", blank="3", keep_clear="1/2",
                   line="A to C", at="5 ft", length="11 ft 3 in", joints="2", before="1",
                   density="500 kg/m^3", stress="10 MPa")  # fmt: skip
    in_json = result.as_json()
    reach = 1.25 - 3 / 8 - 3 / 16  # the round, less the cover, less half the dowel
    wanted = {
        "hole_depth": 1.5 + 3 / 64,
        "circle": 2 * reach,
        "spacing": reach * sqrt(2),
        "clear_by": reach / sqrt(2) - 3 / 16 - 1 / 4,
        "dowel_length": 3.0,
        "dowel_used": 3 / 8,
        "part_longer": 1 / 16,
        "joint_longer": 1 / 8,
        "saw_from": 60 + 1 / 8,
        "saw_to": 60 + 2 / 8,
        "beyond_by": 2 / 8,
        "stick_length": 135 + 2 / 8,
        "blank_used": 3,
        # 10 MPa on four rods at half the section, and 500 kg/m³ in a 3 in square: q·s²/8, in newtons and millimetres
        "trestles": sqrt(8 * 4 * pi / 4 * 9.525**2 * 10 * 31.75 / (500e-9 * 9.80665 * 76.2**2)) / 25.4,
        "stub": 1.5 - 1 / 16,
        "bored": 4 * 0.375**2 / 2.5**2,
        "largest_dowel": (1.25 / sqrt(2) - 1 / 4) / (1.5 / sqrt(2) + 0.5),
        "cover_used": 3 / 8,
        "dowel_in_each": 1.5,
        "least_size": 2.5,
    }
    scale = {"mm": 25.4, "1": 1}
    answers = {name: answer for name, answer in in_json["answers"].items() if answer["value"] is not None}
    values = {name: answer["value"] / scale[answer["unit"]] for name, answer in answers.items()}
    assert values == pytest.approx(wanted, rel=1e-9)
    off = reach / sqrt(2)
    rows = [[row[0], *(offset / 25.4 for offset in row[1:])] for row in holes(result)]
    wanted_rows = [
        [1, off, off, 1.5 + off, 1.5 + off], [2, -off, off, 1.5 - off, 1.5 + off],
        [3, -off, -off, 1.5 - off, 1.5 - off], [4, off, -off, 1.5 + off, 1.5 - off],
    ]  # fmt: skip
    for row, wanted_row in zip(rows, wanted_rows, strict=True):
        assert row == pytest.approx(wanted_row)


@given(questions())
def test_every_hole_is_inside_apart_and_clear(values) -> None:
    result = ask("dowels", **values)
    answers, dowel = result.answers, result.answers.dowel_used
    centres = [(row[1], row[2]) if values["line"] == "A to C" else (row[2], row[1]) for row in holes(result)]
    assert len(centres) == values["count"]
    for x, y in centres:
        assert hypot(x, y) + dowel / 2 + answers.cover_used <= answers.least_size / 2 + 1e-9
        if "keep_clear" in values:
            assert abs(y) - dowel / 2 >= values["keep_clear"] / 2 - 1e-9
        assert abs(x) + dowel / 2 + values.get("cut_away", 0) <= answers.least_size / 2 + 1e-9
    for k, (x, y) in enumerate(centres):
        for u, v in centres[:k]:
            assert hypot(x - u, y - v) >= 2 * dowel - 1e-9
    for x, y in centres:  # a template turned over, left for right, has them too
        assert any(hypot(-x - u, y - v) < 1e-6 for u, v in centres)


@given(st.floats(40, 200), st.integers(1, 6), st.none() | st.floats(0, 8), st.just(0.0) | st.floats(1, 6))
def test_the_largest_dowel_fits_and_a_thicker_one_does_not(section, count, cover, keep_clear) -> None:
    asked = {"section": section, "count": count, "cover": cover, "keep_clear": keep_clear, "in_each": 100.0}
    largest = ask("dowels", dowel=0.5, **asked).answers.largest_dowel
    answers = ask("dowels", dowel=largest, **asked).answers
    fault = refusal("dowels", dowel=largest * 1.001, **asked)
    assert fault.field == "dowel"
    assert "will do" in str(fault)
    spare = [1.0]
    if answers.spacing is not None:
        spare.append(answers.spacing - 2 * largest)
    if answers.clear_by is not None:
        spare.append(answers.clear_by)
    spare.append(answers.circle if answers.circle is not None else section / 2 - answers.cover_used - largest / 2)
    assert min(spare) == pytest.approx(0, abs=1e-6)


def test_one_dowel_stands_in_the_middle_or_beside_the_band() -> None:
    middle = typed("dowels", section="2-1/2", dowel="1/2", count="1")
    assert holes(middle)[0][1:3] == [0, 0]
    assert middle.answers.circle is middle.answers.spacing is None
    beside = typed("dowels", section="2-1/2", dowel="1/2", count="1", keep_clear="1/4")
    assert holes(beside)[0][2] == 0
    assert holes(beside)[0][1] / 25.4 == pytest.approx(1.25 - 0.5 - 0.25)


def test_an_oval_takes_them_in_its_smaller_round() -> None:
    oval = ask("dowels", section=60.0, depth=45.0, dowel=6.0).answers
    assert oval.least_size == 45
    assert oval.circle == ask("dowels", section=45.0, dowel=6.0).answers.circle


def test_without_a_blank_there_are_no_edges_to_measure_from() -> None:
    assert all(row[3:] == [None, None] for row in holes(ask("dowels", section=60.0)))


@pytest.mark.parametrize("n", [2, 3, 4, 5, 6])
def test_none_of_them_lies_nearer_the_band_than_need_be(n: int) -> None:
    """Turned to any other angle, the hole nearest to the band's centre line is no farther from it."""
    ys = [abs(row[1]) for row in holes(ask("dowels", section=100.0, dowel=5.0, count=n))]
    reach = ask("dowels", section=100.0, dowel=5.0, count=n).answers.circle / 2
    best = max(
        min(abs(reach * sin(turn + 2 * pi * k / n)) for k in range(n)) for turn in (pi * k / 3600 for k in range(3600))
    )
    assert min(ys) == pytest.approx(best, abs=0.05)


@pytest.mark.parametrize(
    ("values", "field", "words"),
    [
        ({"cut_away": 28.0, "dowel": 6.0}, "dowel", "thinner than 4 mm will do"),
        ({"cut_away": 22.0, "count": 4}, "cut_away", "22 mm below the crown meets a dowel"),
        (
            {"dowel": 25.0},
            "dowel",
            "2 dowels of 25 mm do not lie apart and inside a round of 60 mm; thinner than 12 mm",
        ),
        ({"dowel": 25.0, "count": 1}, "dowel", "25 mm does not lie inside a round of 60 mm; thinner than 20 mm"),
        ({"cover": 30.0}, "cover", "leaves no room for a dowel in a round of 60 mm"),
        ({"keep_clear": 60.0}, "keep_clear", "leaves no room"),
        ({"keep_clear": 60.0, "cover": 25.0}, "keep_clear", "leaves no room"),
        ({"keep_clear": 60.0, "cut_away": 25.0}, "keep_clear", "leaves no room"),
        ({"cut_away": 30.0}, "cut_away", "leaves no room"),
        ({"blank": 50.0}, "blank", "50 mm is thinner than the finished spar; 60 mm or more will do"),
        ({"blank": 65.0, "depth": 70.0}, "blank", "thinner than the finished spar; 70 mm"),
        ({"cut_away": 29.0, "count": 4}, "cut_away", "29 mm below the crown meets a dowel"),
        ({"cover": 29.6}, "dowel", "no dowel that is sold fits"),  # there is room for one of 0.27 mm
        ({"in_each": 3.5, "kerf": 3.0, "trued": 2.0}, "in_each", "more than 3.5 mm will do"),
        ({"in_each": 1.0}, "in_each", "1 mm of dowel in each part is all sawn away"),
    ],
)
def test_contradictions_are_refused(values, field: str, words: str) -> None:
    calculator = load("dowels")
    with pytest.raises(InputFault) as caught:
        calculator.run(calculator.inputs(section=60.0, **values), MM_01)
    assert (caught.value.field, words in str(caught.value)) == (field, True)


def test_cautions_travel_along() -> None:
    said = " ".join(typed("dowels", section="3").cautions).lower()
    for word in ("template", "glue the holes, not the faces", "epoxy off the skin", "no metal", "saw line"):
        assert word in said


@pytest.mark.parametrize(
    ("section", "sizes", "dowel"),
    [
        (60.0, "mm", 12.0),
        (95.0, "mm", 16.0),
        (28.0, "mm", 5.0),
        (15.5, "mm", 3.0),
        (22.0, "mm", 4.0),
        (35.0, "in", 6.35),
        (45.0, "mm", 8.0),
        (155.0, "mm", 30.0),
        (180.0, "mm", 35.0),
        (2.5 * 25.4, "in", 12.7),
        (31.0, "in", 3 / 16 * 25.4),
        (16.0, "in", 1 / 8 * 25.4),
        (200.0, "in", 1.5 * 25.4),
    ],
)
def test_a_dowel_by_default_is_the_thickest_sold_up_to_a_fifth(section: float, sizes: str, dowel: float) -> None:
    assert ask("dowels", section=section, sizes=sizes).answers.dowel_used == pytest.approx(dowel)


def test_no_dowel_in_a_section_too_thin_for_any_that_is_sold() -> None:
    fault = refusal("dowels", MM_01, section=14.0, sizes="mm")
    assert fault.field == "dowel"
    assert (
        "no dowel that is sold fits a section of 14 mm: it takes one of 2.8 mm at most, and the thinnest sold is 3 mm"
        in str(fault)
    )


def test_a_long_heavy_stick_on_thin_dowels_is_told_how_near_its_trestles_stand() -> None:
    """By hand: 107.95 mm square at 500 kg/m³ weighs 57.1 N/m. Two rods of 1/4 in, 10 MPa, at half of 95.25 mm carry
    30.2 N·m, so a span of 2.056 m; from end to end, 0.61 m beside the joint, it is 57.1·0.61·5.03/2 = 87.5 N·m."""
    asked = {"section": 95.25, "blank": 107.95, "length": 5638.8, "at": 609.6, "joints": 1, "before": 0,
             "density": 500.0, "stress": 10.0}  # fmt: skip
    result = ask("dowels", dowel=6.35, **asked)
    assert result.answers.trestles == pytest.approx(2056, abs=2)
    assert any("do not carry this stick" in line and "6 ft 8" in line for line in result.cautions)
    assert not any("do not carry" in line for line in ask("dowels", **asked).cautions)  # 3/4 in by default
    for known in ({}, {"at": 609.6}, {"length": 5638.8}):
        assert not any("do not carry" in line for line in ask("dowels", section=95.25, dowel=6.35, **known).cautions)


def test_half_the_kerf_and_what_trues_an_end_come_off_each_part() -> None:
    answers = ask("dowels", section=60.0, kerf=3.0, trued=2.0).answers
    assert (answers.part_longer, answers.joint_longer) == (3.5, 7.0)


@pytest.mark.parametrize(("beyond", "told"), [(1700.0, False), (1760.0, True)])
def test_a_stick_just_light_enough_for_its_dowels_is_not_told(beyond: float, told: bool) -> None:
    """Those rods carry the joint of a span of 2.056 m, cut in its middle: as 4·a·b with 0.61 m and 1.734 m."""
    asked = {"section": 95.25, "blank": 107.95, "dowel": 6.35, "density": 500.0, "stress": 10.0, "at": 609.6}
    said = ask("dowels", **asked, length=609.6 + beyond).cautions
    assert any("do not carry this stick" in line for line in said) == told


@pytest.mark.parametrize(("in_each", "told"), [(20.0, False), (19.9, True)])
def test_two_diameters_in_each_part_are_the_least(in_each: float, told: bool) -> None:
    said = ask("dowels", section=60.0, dowel=10.0, in_each=in_each).cautions
    assert any("less than two diameters" in line for line in said) == told


@pytest.mark.parametrize("line", ["A to C", "B to D"])
def test_the_band_that_is_kept_clear_is_drawn_across_the_blank(line: str) -> None:
    """10 mm of it in a blank of 70 mm, and a line across its middle: level from A to C, upright from B to D."""
    drawn = ask("dowels", section=60.0, dowel=6.0, keep_clear=10.0, blank=70.0, line=line).drawing()
    light = {shape[:4] for shape in drawn.shapes if isinstance(shape, Line) and shape.pen == "light"}
    level = {(-35, -5, 35, -5), (-35, 5, 35, 5), (0, -35, 0, 35)}
    upright = {(-5, -35, -5, 35), (5, -35, 5, 35), (-35, 0, 35, 0)}
    assert (level if line == "A to C" else upright) <= light


@pytest.mark.parametrize(
    ("count", "dowel", "cover", "below"),
    [
        (1, 10.0, 10.0, 15.0),
        (2, 10.0, 10.0, 15.0),
        (3, 6.0, 10.0, 17 - 17 * sqrt(3) / 2),
        (4, 8.0, 4.0, 16 - 22 / sqrt(2)),
    ],
)
def test_how_far_below_a_cut_the_nearest_dowel_lies(count: int, dowel: float, cover: float, below: float) -> None:
    """60 mm, cut 10 mm deep: 15 mm over a rod of 10 mm in the middle, or over two abreast; of four of 8 mm, 22 mm from
    the middle, the upper two are 22·√½ mm higher than that; of three of 6 mm, 17 mm from it, two are 17·√¾ mm."""
    answers = ask("dowels", section=60.0, cut_away=10.0, count=count, dowel=dowel, cover=cover).answers
    assert answers.clear_below == pytest.approx(below)


def test_a_cut_may_come_down_to_the_dowel() -> None:
    """30 mm to the middle, less 25 mm of cut and half a dowel of 10 mm."""
    assert ask("dowels", section=60.0, cut_away=25.0, count=1, dowel=10.0).answers.clear_below == 0


def test_the_sum_of_the_largest_dowel_is_of_the_smaller_way_of_an_oval() -> None:
    """In 20 mm: (10 − 6/2)/2 = 3.5 beside the band, 10/2.5 = 4 apart; in 60 mm it would be 13.5 and 12."""
    result = ask("dowels", section=60.0, depth=20.0, keep_clear=6.0, dowel=2.0)
    assert result.answers.largest_dowel == pytest.approx(3.5)
    (step,) = (step for step in result.working() if step.name == "largest_dowel")
    assert "keep_clear" in step.formula


def test_an_oval_is_drawn_in_a_square_as_large_as_its_larger_way() -> None:
    drawn = ask("dowels", section=45.0, depth=60.0, dowel=6.0).drawing()
    blank = next(shape for shape in drawn.shapes if isinstance(shape, Fill))
    assert set(blank.points) == {(-30, -30), (30, -30), (30, 30), (-30, 30)}


@pytest.mark.parametrize("count", [1, 2, 3, 4])
def test_how_far_below_a_cut_is_a_sum_for_any_number(count: int) -> None:
    steps = ask("dowels", section=60.0, cut_away=8.0, count=count, dowel=6.0).working()
    assert "clear_below" in {step.name for step in steps}
