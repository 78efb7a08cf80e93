"""A plank from offcuts: sizes, which strips in which order, butts, glue and clamps, and what is short."""

from itertools import pairwise

import pytest
from hypothesis import given, settings

from shopcompanion.drawing.shapes import Fill, Label
from shopcompanion.errors import InputFaults
from shopcompanion.timber.courses import MOST, MOST_SHORT, CourseStrip

from ..asked.glueup import questions
from ..asking import INCH_64, ask, refusal, typed
from ..examples import share

PLANK = {"needed_width": "5", "needed_length": "5 ft", "thickness": "1", "jointing": "1/16", "planing": "1/8",
         "trim": "1/2"}  # fmt: skip


def test_json_agrees_with_the_sums_by_hand() -> None:
    """Two whole strips of 2 in and one of 1-3/4 in: 61 in of glue line, 1-1/4 in thick, twice."""
    result = typed("glueup", strips="2 x 2 = 6 ft; 1-3/4 = 6 ft; 3 = 4 ft", **PLANK, clamp_spacing="10", spread="0.8")
    values = {name: answer["value"] for name, answer in result.as_json()["answers"].items()}
    for name, inches in {
        "rough_width": 5.125, "rough_length": 61, "rough_thickness": 1.25, "glued_width": 1.875 * 2 + 1.625,
    }.items():  # fmt: skip
        assert values[name] / 25.4 == pytest.approx(inches)
    assert values["plan"] == "1; 2; 3"
    assert values["glue_area"] == pytest.approx(2 * 61 * 1.25 * 25.4**2)
    assert values["glue_mass"] == pytest.approx(2 * 61 * 1.25 / 144 * 0.8 / 16 * 0.45359237)  # oz, ft², lb
    assert values["waste"] == pytest.approx(100 * (1 - 5 * 60 / (5.75 * 72)))
    assert values["clamps"] == 8  # 61 in by 10 in at most: seven gaps
    assert (values["courses"], values["strips_used"], values["butts"]) == (3, 3, 0)
    assert values["short_by"] is values["cure_width"] is values["stagger_got"] is None


def test_a_plank_that_is_short_says_what_strip_would_cure_it_and_it_does() -> None:
    strips = (CourseStrip(50.0, 1600.0), CourseStrip(40.0, 1000.0))
    asked = {"needed_width": 120.0, "needed_length": 1500.0, "thickness": 20.0}
    short = ask("glueup", strips=strips, **asked).answers
    assert (short.plan, short.short_by) == ("1", pytest.approx(120 + 3.175 - (50 - 3.175)))
    cure = CourseStrip(short.cure_width, short.cure_length)
    assert ask("glueup", strips=(*strips, cure), **asked).answers.short_by is None
    thinner = CourseStrip(short.cure_width - 0.01, short.cure_length)
    assert ask("glueup", strips=(*strips, thinner), **asked).answers.short_by == pytest.approx(0.01)
    shorter = CourseStrip(short.cure_width, 500.0)
    assert ask("glueup", strips=(*strips[:1], shorter), **asked).answers.short_by is not None


def test_without_strips_it_says_what_is_needed() -> None:
    result = ask("glueup", needed_width=100.0, needed_length=1000.0, thickness=20.0)
    assert (result.answers.plan, result.answers.courses, result.answers.glue_area) == (None, 0, 0)
    assert result.answers.short_by == pytest.approx(103.175)
    assert result.tables == ()
    assert result.drawing() is not None


@given(questions())
@settings(max_examples=share(60))
def test_the_table_tiles_the_plank(values) -> None:
    """Every course runs from end to end without a gap, each strip once and long enough for its place."""
    result = ask("glueup", **values)
    if not result.tables:
        assert result.answers.courses == 0
        return
    rows = result.as_json()["tables"]["strips"]["rows"]
    strips = values["strips"]
    assert len({row[1] for row in rows}) == len(rows)
    for course in range(1, result.answers.courses + 1):
        own = [row for row in rows if row[0] == course]
        assert own[0][2] == 0
        assert own[-1][3] == pytest.approx(result.answers.rough_length)
        assert all(before[3] == after[2] for before, after in pairwise(own))
        narrowest = min(strips[row[1] - 1].width for row in own)
        for _, strip, start, end, width, jointed, *_ in own:
            assert 0 < end - start <= strips[strip - 1].length + 1e-6
            assert width == strips[strip - 1].width
            assert jointed == pytest.approx(narrowest - 2 * values["jointing"])
    labels = [shape.text for shape in result.drawing().shapes if isinstance(shape, Label) and shape.text.isdigit()]
    assert sorted(labels) == sorted(str(row[1]) for row in rows)


def test_strips_of_one_tone_lie_together_and_are_not_butted_to_another() -> None:
    strips = "1-1/2 = 6 ft = dark; 2 = 6 ft; 1-1/2 = 6 ft = dark; 2 = 40; 2 = 40 = dark"
    result = typed("glueup", strips=strips, **{**PLANK, "needed_width": "4-1/2"})
    assert result.answers.plan == "1; 3; 2"
    assert [row[-1] for row in result.tables[0].rows] == ["dark", "dark", None]
    assert typed("glueup", strips=strips, **{**PLANK, "needed_width": "6-1/2"}).answers.short_by is not None


def test_a_whole_strip_is_laid_between_butted_ones() -> None:
    result = typed("glueup", strips="2 = 6 ft; 4 x 2 = 32", **PLANK)
    assert result.answers.plan == "2 + 3; 1; 4 + 5"
    assert result.answers.stagger_got is None


def test_butts_side_by_side_are_staggered_by_turning_the_strips() -> None:
    result = typed("glueup", strips="2 x 2-3/4 = 41; 2 x 2-3/4 = 20", **PLANK, stagger="12")
    assert result.answers.stagger_got / 25.4 == pytest.approx(21)
    close = typed("glueup", strips="4 x 2-3/4 = 32", **PLANK, stagger="12")
    assert close.answers.stagger_got / 25.4 == pytest.approx(3)  # 32 in from one end, 29 in where that end is sawn
    assert any("only 3 in apart" in line for line in close.cautions)
    assert not any("Butts in neighbouring courses" in line for line in result.cautions)
    just = typed("glueup", strips="2 x 2-3/4 = 41; 2 x 2-3/4 = 20", **PLANK, stagger="21")
    assert not any("Butts in neighbouring courses" in line for line in just.cautions)


def test_dearer_strips_are_taken_where_the_cheapest_cannot_be_staggered() -> None:
    asked = {"strips": "4 x 2-3/4 = 32; 3 = 6 ft", **PLANK}
    assert typed("glueup", **asked, stagger="1").answers.plan == "1 + 2; 3 + 4"
    assert "5" in typed("glueup", **asked, stagger="12").answers.plan


def test_strips_are_read_as_a_builder_lists_them() -> None:
    kind = next(field.kind for field in typed("glueup", **PLANK).calculator.input_fields if field.name == "strips")
    read = kind.read("3 x 2-1/2 = 6 ft; 70 mm = 40 in = Dark ;", INCH_64)
    assert read == (*[CourseStrip(63.5, 1828.8)] * 3, CourseStrip(70.0, 1016.0, "dark"))
    assert kind.read(kind.show(read[:3], INCH_64), INCH_64) == read[:3]
    assert kind.to_json(read)[3] == [70.0, 1016.0, "dark"]


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("2-1/2", "is not width = length, try"),
        ("2 = 3 = a = b", "is not width = length, try"),
        ("2 = ", "try"),
        ("0 = 6 ft", "must be more than 0"),
        ("2 = -6 ft", "must be more than 0"),
        ("21 x 2 = 6 ft", "more than 20 strips"),
        ("2 = 6 kg", "a mass"),
        ("2 = 6 ft = \x1b[31m", "not a tone"),
        (" ; ", "empty, try"),
        ("2 = 6 ft; x 2 = 3", "number is needed"),
    ],
)
def test_a_list_that_does_not_read_is_told_in_one_line(text: str, reason: str) -> None:
    with pytest.raises(InputFaults) as caught:
        typed("glueup", strips=text, **PLANK)
    assert reason in str(caught.value)
    assert str(caught.value).isprintable()


def test_what_cannot_be_tried_is_refused() -> None:
    asked = {"needed_width": 100.0, "needed_length": 1000.0, "thickness": 20.0}
    fault = refusal("glueup", strips=(CourseStrip(30.0, 600.0),) * (MOST_SHORT + 1), **asked)
    assert "13 strips are shorter than 3 ft 4-3/8 in" in str(fault)
    fault = refusal("glueup", strips=(CourseStrip(3.0, 1600.0),), **asked)
    assert "jointing takes all of a strip of 1/8 in bare; wider than 1/8 in will do" in str(fault)
    just = ask("glueup", strips=(CourseStrip(30.0, 600.0),) * MOST_SHORT, **asked).answers
    assert just.courses > 0
    assert MOST_SHORT < MOST
    assert ask("glueup", strips=(CourseStrip(30.0, 1600.0),) * MOST, **asked).answers.courses == 4


def test_butts_carry_their_caution() -> None:
    alone = typed("glueup", strips="2 x 6 = 32", **PLANK)
    assert any("scarf it" in line for line in alone.cautions)
    beside = typed("glueup", strips="2 = 6 ft; 2 x 4 = 32", **PLANK)
    assert any("horns of jaws" in line for line in beside.cautions)
    assert all(len(line) <= 84 for line in (*alone.cautions, *beside.cautions))


def test_a_strip_that_would_do_for_two_courses_is_told_of() -> None:
    told = "is long enough for two courses"
    whole = typed("glueup", strips="2 = 6 ft; 2 x 2 = 11 ft", **PLANK)
    assert any(f"Strip 2 {told}" in line for line in whole.cautions)
    cut = typed("glueup", strips="2 = 6 ft; 4 x 2 = 5 ft 6", **PLANK)
    assert not any(told in line for line in cut.cautions)
    assert cut.answers.waste < whole.answers.waste


SIZES = {"needed_width": 90.0, "needed_length": 1500.0, "thickness": 20.0, "jointing": 1.0, "trim": 10.0}


def test_two_courses_as_they_are_drawn() -> None:
    """Two strips of 52 mm joint to 50 mm each, 1520 mm long; the plank of 90 mm lies in the middle of both."""
    result = ask("glueup", strips=(CourseStrip(52.0, 1600.0),) * 2, **SIZES)
    drawn = result.drawing()
    tones = {tone: {(min(x for x, _ in shape.points), min(y for _, y in shape.points), max(x for x, _ in shape.points),
                     max(y for _, y in shape.points)) for shape in drawn.shapes
                    if isinstance(shape, Fill) and shape.tone == tone} for tone in ("wood", "off")}  # fmt: skip
    assert tones == {"wood": {(10, -95, 1510, -5)}, "off": {(0, -50, 1520, 0), (0, -100, 1520, -50)}}
    words = {shape.text: (shape.x, shape.y) for shape in drawn.shapes if isinstance(shape, Label)}
    assert (words["1"], words["2"]) == ((760, -25), (760, -75))
    (x, y) = words["strips 1; 2"]
    assert x == 760
    assert 0 < y < 150  # over the plank, and near it


def test_strips_that_just_do_are_not_short() -> None:
    """Of 92 mm, 90 mm and an edge to joint on both sides, two strips of 48 mm leave just that."""
    answers = ask("glueup", strips=(CourseStrip(48.0, 1520.0),) * 2, **SIZES).answers
    assert (answers.glued_width, answers.short_by) == (92, None)
    many = ask("glueup", strips=(CourseStrip(48.0, 1520.0),) * (MOST_SHORT + 1), **SIZES).answers
    assert many.courses == 2  # as long as is glued up, so none of them counts as short


@pytest.mark.parametrize(("width", "fits"), [(3.0, False), (3.1, True), (4.4, True)])
def test_a_strip_is_wider_than_what_jointing_takes_off_both_edges(width: float, fits: bool) -> None:
    asked = {**SIZES, "jointing": 1.5, "strips": (CourseStrip(width, 1600.0),)}
    if fits:
        assert ask("glueup", **asked).answers.glued_width == pytest.approx(width - 3)
    else:
        assert refusal("glueup", **asked).field == "strips"


def test_one_course_has_no_joint_to_glue() -> None:
    answers = ask("glueup", strips=(CourseStrip(120.0, 1600.0),), **SIZES).answers
    assert (answers.courses, answers.glue_area, answers.glue_mass) == (1, 0, 0)
