"""Log: the verdict, the tables, the new target and what it costs; and what it refuses."""

from math import pi

import pytest
from hypothesis import given

from shopcompanion.calculator import Result
from shopcompanion.catalog import load
from shopcompanion.drawing.shapes import Label, Line
from shopcompanion.errors import InputFault, InputFaults
from shopcompanion.form import solve
from shopcompanion.profile.follow import follow
from shopcompanion.profile.parse import read
from shopcompanion.spar.measures import Measure
from shopcompanion.spar.outline import Outline

from ..asked.log import questions
from ..asking import INCH_64, MM_01, ask, refusal, typed

MIZZEN = {"outline": "0 = 2-1/2; 2 ft = 2-3/4; 11 ft 3 in = 1-3/4"}
POLE = {"outline": ((0.0, 60.0), (3000.0, 30.0))}


def rows(result: Result, table: str) -> list[dict[str, object]]:
    table_rows = result.as_json()["tables"][table]
    return [dict(zip(table_rows["columns"], row, strict=True)) for row in table_rows["rows"]]


def test_nothing_measured_says_so_and_nothing_else() -> None:
    result = typed("log", **MIZZEN)
    assert result.answers.verdict == "nothing measured"
    assert result.answers.line == "not known"
    assert result.tables == ()
    assert result.drawing() is None
    told = {name for name, answer in result.as_json()["answers"].items() if answer["value"] is not None}
    assert told == {"verdict", "line"}


def test_wood_to_come_off_by_hand() -> None:
    """At 5 ft the mizzen is 2.75 − 36/111 in. Measured 2-1/2 and 2-9/16 in: 0.10557 in too thick."""
    result = typed("log", **MIZZEN, measured="5 ft = 2-1/2 & 2-9/16; 11 ft 3 in = 1-3/4 & 1-3/4")
    answers = result.answers
    assert answers.verdict == "wood to come off"
    assert answers.to_come_off == pytest.approx((2.53125 - 2.75 + 36 / 111) * 25.4)
    assert answers.each_face == pytest.approx(answers.to_come_off / 2)
    assert answers.to_come_off_at == pytest.approx(1524)
    assert (answers.out_of_round, answers.out_of_round_at) == (pytest.approx(25.4 / 16), pytest.approx(1524))
    assert (answers.under, answers.new_widths, answers.least_ratio, answers.line) == (None, None, None, "not known")
    first, last = rows(result, "stations")
    assert (first["state"], last["state"]) == ("to come off", "at size")
    assert first["measured"] == pytest.approx(2.53125 * 25.4)
    assert last["to_come_off"] == pytest.approx(0, abs=1e-9)


def test_at_size_within_the_tolerance_either_way() -> None:
    for over in (-0.39, 0.0, 0.39):
        assert ask("log", **POLE, measured=(Measure(1000.0, (50 + over, 50.0)),)).answers.verdict == "at size"
    assert ask("log", **POLE, measured=(Measure(1000.0, (49.5, 53.0)),)).answers.verdict == "too thin"
    assert ask("log", **POLE, measured=(Measure(1000.0, (49.5, 53.0)),), tolerance=0.6).answers.verdict != "too thin"


def test_three_millimetres_planed_away_at_one_station() -> None:
    measured = "2 ft = 2-3/4 & 2-25/32; 5 ft = 2-5/16 & 2-19/64; 8 ft = girth 6-11/16; 11 ft = 1-25/32 & 1-13/16"
    result = typed("log", **MIZZEN, measured=measured)
    answers = result.answers
    assert (answers.verdict, answers.line) == ("too thin", "hollow")
    assert (answers.under, answers.under_at) == (pytest.approx(2.42568 * 25.4 - 2.296875 * 25.4, abs=1e-3), 1524)
    new = Outline(answers.new_widths, answers.new_law)
    assert new.width_at(1524.0) == pytest.approx(2.296875 * 25.4, abs=1e-6)
    assert answers.least_ratio == pytest.approx(0.9469, abs=2e-3)
    assert answers.stiffness_worst == pytest.approx(answers.least_ratio**4)
    assert answers.strength_worst == pytest.approx(answers.least_ratio**3)
    assert answers.stiffness_worst < answers.stiffness_tip < 1
    target = rows(result, "target")
    assert [row["at"] for row in target] == pytest.approx([0, 609.6, 3429])
    assert [row["new"] for row in target] == [width for _, width in answers.new_widths]
    for row in target:
        assert row["less"] == pytest.approx(row["design"] - row["new"])
        assert row["new"] <= row["design"]
    # taken as the design, it has nothing thin
    again = ask("log", outline=answers.new_widths, law=answers.new_law, measured=result.inputs.measured).answers
    assert again.verdict == "wood to come off"
    assert any("weaker" in line for line in result.cautions)


def test_a_target_is_never_shown_over_what_is_in_the_wood() -> None:
    text = typed("log", **MIZZEN, measured="5 ft = 2-1/4 & 2-1/4")
    columns = {column.name: column.kind for table in text.tables if table.name == "target" for column in table.columns}
    for row in rows(text, "target"):
        shown = columns["new"].show(row["new"], INCH_64)  # type: ignore[arg-type]
        read_again = columns["new"].read(shown, INCH_64)
        assert isinstance(read_again, float)
        assert read_again <= row["new"] + 1e-9  # type: ignore[operator]


def test_a_hump_between_fair_neighbours() -> None:
    measured = tuple(Measure(at, (60 - at / 100 + up,) * 2) for at, up in ((500.0, 2), (1000.0, 4), (2000.0, 2)))
    result = ask("log", **POLE, measured=measured)
    assert (result.answers.line, result.answers.hump, result.answers.hump_at) == ("humped", pytest.approx(2), 1000)
    assert [row["line"] for row in rows(result, "shape")] == ["not known", "humped", "not known"]
    assert ask("log", **POLE, measured=measured, fair_ok=2.01).answers.line == "fair"


def test_a_small_hump_and_half_a_millimetre_to_come_off() -> None:
    measured = tuple(Measure(at, (60 - at / 100 + up,) * 2) for at, up in ((500.0, 0), (1000.0, 0.9), (2000.0, 0)))
    answers = ask("log", **POLE, measured=measured, fair_ok=0.5).answers
    assert (answers.line, answers.hump) == ("humped", pytest.approx(0.9))
    half = ask("log", **POLE, measured=(Measure(1000.0, (50.5, 50.5)),)).answers
    assert (half.to_come_off, half.to_come_off_at) == (pytest.approx(0.5), 1000)


def test_an_ovals_two_ways_are_named_in_the_middle_of_their_lines() -> None:
    deep = ((0.0, 80.0), (3000.0, 40.0))
    measured = (Measure(1500.0, (46.0, 62.0)),)
    drawn = ask("log", **POLE, depths=deep, measured=measured).drawing()
    meant = {(line.x1, line.y1) for line in drawn.shapes if isinstance(line, Line) and line.pen == "light"}
    names = [(shape.x, shape.y) for shape in drawn.shapes if isinstance(shape, Label) and shape.x == 1500][:2]
    assert len(set(names)) == 2
    assert set(names) <= meant


def test_a_girth_counts_as_the_mean_and_is_warned_of() -> None:
    result = ask("log", **POLE, measured=(Measure(1000.0, (), 52 * pi),))
    assert result.answers.to_come_off == pytest.approx(2)
    assert result.answers.out_of_round is None
    assert any("hides a thin side" in line for line in result.cautions)
    assert not any("girth" in line for line in ask("log", **POLE, measured=(Measure(0.0, (60.0, 60.0)),)).cautions)


def test_an_oval_has_both_ways_in_every_table() -> None:
    oval = {"outline": ((0.0, 46.0), (3000.0, 42.0)), "depths": ((0.0, 60.0), (3000.0, 48.0))}
    result = ask("log", **oval, measured=(Measure(1500.0, (44.0, 51.0)),))
    assert result.answers.verdict == "too thin"
    assert [row["way"] for row in rows(result, "stations")] == ["across", "deep"]
    assert [row["state"] for row in rows(result, "stations")] == ["at size", "thin"]
    assert [row["way"] for row in rows(result, "target")] == ["across", "across", "deep", "deep"]
    assert [width for _, width in result.answers.new_widths] == pytest.approx([46, 42])
    assert [depth for _, depth in result.answers.new_depths] == pytest.approx([60 * 51 / 54, 48 * 51 / 54])
    assert result.answers.stiffness_worst == pytest.approx((51 / 54) ** 3)
    assert "stiffness_worst" not in {step.name for step in result.working()}  # no sum of the least width alone


def test_at_every_station_the_way_across_comes_first() -> None:
    """Across it is humped in the middle, and deep it is hollow."""
    oval = {"outline": ((0.0, 60.0), (3000.0, 60.0)), "depths": ((0.0, 80.0), (3000.0, 80.0))}
    measured = tuple(Measure(at, (60.0 + off, 80.0 - off)) for at, off in ((500.0, 0.0), (1500.0, 1.0), (2500.0, 0.0)))
    said = [(row["at"], row["way"]) for row in rows(ask("log", **oval, measured=measured), "stations")]
    assert said == [(at, way) for at in (500, 1500, 2500) for way in ("across", "deep")]


def test_the_answer_and_the_table_say_one_width_rounded_down_and_so_marked() -> None:
    result = ask("log", **POLE, measured=(Measure(609.6, (50.3, 50.3)),))
    (table,) = (table for table in result.tables if table.name == "target")
    new = next(column for column in table.columns if column.name == "new").kind
    said = [new.show(row[2], result.rule) for row in table.rows]
    kind = next(table.kind for table in result.calculator.answer_fields if table.name == "new_widths")
    assert [part.split(" = ")[1] for part in kind.show(result.answers.new_widths, result.rule).split("; ")] == said
    assert any("rounded down" in text for text in said)


def test_what_is_kept_is_told_in_percent() -> None:
    result = ask("log", **POLE, measured=(Measure(609.6, (50.3, 50.3)),)).as_json()["answers"]
    for name in ("least_ratio", "stiffness_worst", "stiffness_tip", "strength_worst"):
        assert result[name]["text"].endswith(" %")
        assert float(result[name]["text"].split()[0]) == pytest.approx(100 * result[name]["value"], abs=0.05)


@pytest.mark.parametrize(
    ("values", "field", "words"),
    [
        ({"measured": (Measure(3001.0, (30.0, 30.0)),)}, "measured", "lies beyond the head"),
        ({"measured": (Measure(0.0, (600.0, 600.0)),)}, "measured", "is it in another unit?"),
        ({"outline": ((10.0, 60.0), (3000.0, 30.0))}, "outline", "a width at 0"),
        ({"outline": ((0.0, 60.0), (900.0, 50.0), (3000.0, 30.0)), "law": "bowed"}, "outline", "bowed spar"),
        ({"depths": ((10.0, 60.0), (3000.0, 30.0))}, "depths", "a width at 0"),
        ({"depths": ((0.0, 60.0), (2900.0, 30.0))}, "depths", "not at the stations of the widths"),
        (
            {"depths": ((0.0, 60.0), (3000.0, 30.0)), "measured": (Measure(0.0, (60.0, 60.0, 60.0)),)},
            "measured",
            "its width & its depth, once or twice over",
        ),
        (
            {"depths": ((0.0, 60.0), (3000.0, 30.0)), "measured": (Measure(0.0, (), 188.0),)},
            "measured",
            "its width & its depth",
        ),
    ],
)
def test_contradictions_are_refused_by_the_field_that_makes_them(values, field: str, words: str) -> None:
    fault = refusal("log", **{**POLE, **values})
    assert fault.field == field
    assert words in str(fault)


def test_faults_are_told_by_the_rule_in_force() -> None:
    with pytest.raises(InputFault, match="measured: at 12 in: 12 in where 2 in is meant; is it in another unit"):
        typed("log", outline="0 = 2; 4 ft = 2", measured="1 ft = 12 & 12")
    with pytest.raises(InputFaults, match="measured: at 1000 mm: 2 to 4 widths"):
        typed("log", MM_01, outline="0 = 60; 3000 = 30", measured="1000 = 50 & 50 & 50 & 50 & 50")


def test_the_log_of_a_boat_is_followed() -> None:
    text = """format = 1
    [boat]
    name = "Skiff"
    units = "mm"
    [[spar]]
    name = "pole"
    length = 3000
    stations = [ { at = 0, width = 60 }, { at = 3000, width = 30 } ]
    log = [ { at = 1000, widths = [ 51, "51.5 mm" ], when = 2026-05-02 }, { at = 2000, girth = 126 } ]
    """
    reading = read(text)
    assert reading.faults == ()
    values = follow(reading.boat, reading.boat.spars[0], None)
    assert values["spar.log"] == (Measure(1000.0, (51.0, 51.5)), Measure(2000.0, (), 126.0))
    result = solve(load("log"), {}, values, MM_01)
    assert result.answers.verdict == "wood to come off"
    assert result.answers.to_come_off == pytest.approx(1.25)


@given(questions())
def test_the_drawing_and_the_words_always_stand(values) -> None:
    result = ask("log", **values)
    drawing = result.drawing()
    assert (drawing is None) == (result.answers.verdict == "nothing measured")
    if drawing is not None:
        left, bottom, right, top = drawing.bounds()
        assert (left, right) == (0, values["outline"][-1][0])
        assert bottom < top <= 0.5 * right
        assert "times too thick" in drawing.title
    names = [table.name for table in result.tables]
    assert ("target" in names) == (result.answers.verdict == "too thin")


def test_where_wood_comes_off_is_told_for_the_least_of_it_and_not_for_none() -> None:
    for over, told in ((0.3, 1000.0), (0.0, None), (-0.3, None)):
        answers = ask("log", **POLE, measured=(Measure(1000.0, (50.0 + over, 50.0 + over)),)).answers
        assert answers.to_come_off == pytest.approx(max(over, 0))
        assert answers.to_come_off_at == told
