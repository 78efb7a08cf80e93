"""Taper: widths, what comes off, the station table, and the ends."""

from math import atan, degrees, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.errors import InputFault, InputFaults
from shopcompanion.spar.along import Region
from shopcompanion.spar.body import Body
from shopcompanion.spar.outline import Outline
from shopcompanion.spar.tables import PUBLISHED

from ..asked.taper import questions
from ..asking import MM_01, ask, refusal, typed

MAST = {"length": "16 ft", "butt": "3-1/2", "head": "2-1/4", "blank": "3-5/8"}


def test_json_agrees_with_the_formulas_written_again() -> None:
    in_json = typed("taper", **MAST, at="10 ft").as_json()
    width = 88.9 - (88.9 - 57.15) * 3048 / 4876.8
    slope = (88.9 - 57.15) / 4876.8
    wanted = {
        "width_at": width,
        "half_at": width / 2,
        "off_each_face": (92.075 - width) / 2,
        "slope": slope,
        "slope_angle": degrees(atan(slope / 2)),
        "blank_side": 92.075,
        "piece_from": 0.0,
        "width_from": 88.9,
        "piece_to": 4876.8,
        "width_to": 57.15,
    }
    answers = {name: answer["value"] for name, answer in in_json["answers"].items()}
    assert [answers.pop(name) for name in ("part", "slope_from", "slope_to", "batten_off", "batten_at")] == [
        None
    ] * 5  # of a faired spar
    assert answers == pytest.approx(wanted, rel=1e-9, abs=1e-9)
    table = in_json["tables"]["stations"]
    assert table["columns"] == ["at", "width", "half", "off_each_face", "mark_8", "mark_16"]
    assert set(table["units"]) == {"mm"}
    assert [row[0] for row in table["rows"]] == pytest.approx([304.8 * k for k in range(17)])
    for at, wide, half, off, mark_8, mark_16 in table["rows"]:
        assert wide == pytest.approx(88.9 - slope * at, rel=1e-9)
        assert (half, off) == (pytest.approx(wide / 2), pytest.approx((92.075 - wide) / 2))
        assert mark_8 == pytest.approx(wide * (1 - 1 / sqrt(2)))
        assert mark_16 == pytest.approx(wide * 0.1076506, rel=1e-6)


def test_a_faired_spar_says_how_far_a_batten_lies_from_it() -> None:
    """Pinned at 40, 60, 60 and 30 mm, 1 m apart: the natural spline by hand, its bends from two equations."""
    given = {
        "length": 3000.0,
        "butt": 40.0,
        "head": 30.0,
        "stations": ((1000.0, 60.0), (2000.0, 60.0)),
        "law": "faired",
    }
    answers = ask("taper", at=1500.0, **given).answers
    # 4·b₁ + b₂ = 6·(0 − 20) and b₁ + 4·b₂ = 6·(−30 − 0), in mm a square metre
    b1, b2 = (4 * -120 + 180) / 15, (4 * -180 + 120) / 15
    middle = 60 - (b1 + b2) / 16  # halfway between the two full stations, which the curve joins level
    assert answers.batten_off == pytest.approx((middle - 60) / 2, rel=2e-2)
    assert 1400 < answers.batten_at < 1600
    three = ask("taper", at=0.0, **{**given, "stations": ((1000.0, 60.0),)}).answers
    assert three.batten_off is not None
    assert ask("taper", at=0.0, **{**given, "stations": ()}).answers.batten_off is None  # nothing to spring it over


def test_how_far_along_its_stretch_a_station_of_a_faired_spar_lies() -> None:
    given = {
        "length": 3000.0,
        "butt": 60.0,
        "head": 30.0,
        "stations": ((1000.0, 55.0), (2000.0, 45.0)),
        "law": "faired",
    }
    assert ask("taper", at=1250.0, **given).answers.part == 0.25
    assert ask("taper", at=2900.0, **given).answers.part == 0.9


def test_the_full_width_runs_to_the_first_width_in_between() -> None:
    given = {"length": 3000.0, "butt": 60.0, "head": 30.0, "stations": ((1500.0, 50.0),)}
    assert ask("taper", at=1000.0, **given, parallel_to=1000.0).answers.width_at == 60
    assert ask("taper", at=1250.0, **given, parallel_to=1000.0).answers.width_at == pytest.approx(55)
    for reaches in (1500.0, 1600.0):
        assert refusal("taper", at=0.0, **given, parallel_to=reaches).field == "parallel_to"


def test_a_square_head_has_no_lines_up_to_its_end() -> None:
    outline = Outline(((0.0, 60.0), (3000.0, 30.0)))
    body = Body(outline, regions=(Region(from_=2500.0, to=3000.0, section="square"),))
    given = {"length": 3000.0, "butt": 60.0, "head": 30.0, "station_step": 500.0}
    (table,) = ask("taper", at=0.0, **given, body=body).tables
    lines = {row[0]: row[4:6] for row in table.rows}
    assert lines[3000.0] == (None, None)
    assert None not in lines[0.0]


def test_half_way_through_a_run_out_the_lines_are_half_as_far_in() -> None:
    """60 mm: the line for eight sides lies 0.29289 of it in, that for sixteen 0.10765."""
    body = Body(
        Outline(((0.0, 60.0), (3000.0, 60.0))),
        regions=(Region(from_=2000.0, to=3000.0, section="square", run_out=200.0),),
    )
    asked = {"length": 3000.0, "butt": 60.0, "head": 60.0, "station_step": 100.0, "body": body}
    lines = {row[0]: row[4:6] for row in ask("taper", at=0.0, **asked).tables[0].rows}
    full = (60 * 0.29289, 60 * 0.10765)
    assert lines[1800.0] == pytest.approx(full, abs=1e-3)
    assert lines[1900.0] == pytest.approx(tuple(size / 2 for size in full), abs=1e-3)


def test_a_bowed_spar_by_its_formula() -> None:
    in_json = typed("taper", **MAST, at="12 ft", law="bowed").as_json()["answers"]
    assert in_json["width_at"]["value"] == pytest.approx(88.9 - 31.75 * 0.75**2, rel=1e-9)
    assert in_json["slope"]["value"] == pytest.approx(2 * 31.75 * 0.75 / 4876.8, rel=1e-9)


@pytest.mark.parametrize("law", ["straight", "bowed", "faired"])
def test_the_ends_are_the_ends(law: str) -> None:
    heel, head = (typed("taper", **MAST, at=at, law=law).answers for at in ("0", "16'"))
    assert (heel.width_at, head.width_at) == (pytest.approx(88.9), pytest.approx(57.15))
    assert heel.off_each_face == pytest.approx(25.4 / 16)


@pytest.mark.parametrize("law", ["straight", "bowed", "faired"])
def test_beyond_the_head_is_refused_by_its_own_name(law: str) -> None:
    fault = refusal("taper", length=3000.0, butt=70.0, head=45.0, at=3000.1, law=law)
    assert fault.field == "at"
    assert "beyond the head" in str(fault)
    with pytest.raises(InputFaults, match=r"at: .* must be at least 0"):
        typed("taper", **MAST, at="-1")


def test_a_spar_may_grow_towards_the_head() -> None:
    answers = ask("taper", length=3000.0, butt=45.0, head=70.0, at=1000.0).answers
    assert answers.width_at == pytest.approx(45 + 25 / 3)
    assert answers.slope < 0
    assert answers.slope_angle < 0
    assert answers.blank_side == 70
    bowed = ask("taper", length=3000.0, butt=45.0, head=70.0, at=1000.0, law="bowed").answers
    assert bowed.width_at == pytest.approx(70 - 25 * (2 / 3) ** 2)
    assert bowed.slope < 0


def test_full_width_from_the_heel() -> None:
    parallel = {"length": 3000.0, "butt": 70.0, "head": 45.0, "parallel_to": 1000.0}
    inside = ask("taper", **parallel, at=400.0).answers
    assert (inside.width_at, inside.slope, inside.slope_angle) == (70, 0, 0)
    for law, width in (("straight", 57.5), ("bowed", 70 - 25 / 4)):
        assert ask("taper", **parallel, at=2000.0, law=law).answers.width_at == pytest.approx(width)
    # at the break the slope is that towards the head
    assert ask("taper", **parallel, at=1000.0).answers.slope == pytest.approx(25 / 2000)


def test_a_yard_tapers_both_ways() -> None:
    yard = {"length": 4000.0, "butt": 40.0, "head": 40.0, "stations": ((2000.0, 60.0),)}
    for law, width in (("straight", 50.0), ("bowed", 55.0)):
        for at in (1000.0, 3000.0):
            assert ask("taper", **yard, at=at, law=law).answers.width_at == pytest.approx(width)
        assert (
            ask("taper", **yard, at=1000.0, law=law).answers.slope < 0 < ask("taper", **yard, at=3000.0).answers.slope
        )
    assert ask("taper", **yard, at=2000.0).answers.blank_side == 60


@pytest.mark.parametrize(
    ("values", "field", "words"),
    [
        ({"parallel_to": 3000.0}, "parallel_to", "reaches past the head"),
        ({"parallel_to": 900.0, "stations": ((900.0, 60.0),)}, "parallel_to", "still runs"),
        ({"parallel_to": 900.0, "law": "bowed", "head": 80.0}, "parallel_to", "bowed spar has stations only"),
        ({"stations": ((0.0, 60.0),)}, "stations", "not between the heel and the head"),
        ({"stations": ((3000.0, 60.0),)}, "stations", "not between the heel and the head"),
        ({"stations": ((900.0, 60.0), (800.0, 60.0))}, "stations", "put them in order from the heel"),
        ({"stations": ((900.0, 60.0),), "law": "bowed"}, "stations", "bowed spar has stations only"),
        ({"blank": 69.0}, "blank", "it takes a blank of 2-3/4 in full or more"),
        ({"station_step": 1.0}, "station_step", "more than 2000 stations"),
        ({"butt": None}, "butt", "the width at the heel is needed for the law straight"),
        ({"head": None, "law": "faired"}, "head", "the width at the head is needed for the law faired"),
        ({"law": "steel 1794 yard"}, "widest", "the largest width is needed for the law steel 1794 yard"),
        ({"law": "steel 1794 mast", "widest": 70.0}, "widest_at", "say where it is"),
        ({"law": "steel 1794 yard", "widest": 70.0, "widest_at": 3000.0}, "widest_at", "between the heel and the head"),
        ({"law": "steel 1794 yard", "widest": 70.0, "parallel_to": 90.0}, "parallel_to", "leave it out"),
        ({"law": "steel 1794 yard", "widest": 70.0, "blank": 69.0}, "blank", "less than the spar's widest"),
    ],
)
def test_contradictions_are_refused_by_the_field_that_makes_them(values, field: str, words: str) -> None:
    fault = refusal("taper", **{"length": 3000.0, "butt": 70.0, "head": 45.0, "at": 500.0, **values})
    assert fault.field == field
    assert words in str(fault)


def test_the_blank_may_be_the_widest_itself() -> None:
    answers = ask("taper", length=3000.0, butt=70.0, head=45.0, at=0.0, blank=70.0).answers
    assert answers.off_each_face == 0


def test_the_blank_too_small_is_told_by_the_rule_in_force() -> None:
    with pytest.raises(InputFault, match="blank: 69 mm is less than the spar's widest; it takes a blank of 70 mm"):
        typed("taper", MM_01, length="3000", butt="70", head="45", at="0", blank="69")


def test_a_published_spar_needs_neither_heel_nor_head() -> None:
    result = typed("taper", MM_01, length="4 m", widest="80", law="steel 1794 yard", at="3 m")
    answers = result.answers
    assert (answers.width_at, answers.blank_side) == (pytest.approx(70), 80)
    assert answers.off_each_face == pytest.approx(5)
    assert not [line for line in result.cautions if "not used" in line]
    both = ask("taper", length=4000.0, widest=80.0, law="steel 1794 yard", at=3000.0, butt=60.0, head=80 * 3 / 7)
    assert both.answers == answers
    same = ask("taper", length=4000.0, widest=80.0, law="steel 1794 yard", at=3000.0, head=80 * 3 / 7)
    assert not [line for line in same.cautions if "not used" in line]
    assert "heel, head and widths in between are not used" in both.cautions[0]


def test_what_is_not_the_books_is_said() -> None:
    said = ask("taper", length=4000.0, widest=80.0, law="skene 1927 gaff mast", widest_at=500.0, at=100.0)
    assert said.answers.width_at == 80
    assert said.cautions[0].startswith("Norman L. Skene, Elements of Yacht Design, 1927: masts of gaff rig")
    assert said.cautions[0].endswith("Ours, not the book's: full width from the heel to the widest place.")


def test_a_faired_spar_goes_through_its_stations_and_not_beyond_them() -> None:
    spar = {"length": 4000.0, "butt": 60.0, "head": 40.0, "stations": ((800.0, 80.0), (2500.0, 75.0)), "law": "faired"}
    for at, width in ((0.0, 60.0), (800.0, 80.0), (2500.0, 75.0), (4000.0, 40.0)):
        assert ask("taper", **spar, at=at).answers.width_at == pytest.approx(width)
    assert ask("taper", **spar, at=800.0).answers.slope == 0
    assert ask("taper", **spar, at=1000.0).answers.blank_side == 80


@given(questions())
def test_what_comes_off_and_what_stays_make_the_blank(values) -> None:
    answers = ask("taper", **values).answers
    assert 2 * answers.off_each_face + answers.width_at == pytest.approx(answers.blank_side)
    assert answers.off_each_face >= -1e-9
    assert answers.half_at * 2 == answers.width_at


@given(questions())
def test_the_table_holds_every_break_and_agrees_with_the_answer(values) -> None:
    rows = ask("taper", **values).as_json()["tables"]["stations"]["rows"]
    ats = [row[0] for row in rows]
    assert ats == sorted(set(ats))
    breaks = {0.0, values["length"], *(at for at, _ in values.get("stations", ()))}
    if values.get("parallel_to"):
        breaks.add(values["parallel_to"])
    assert breaks <= set(ats)
    for row in rows[:: max(1, len(rows) // 5)]:
        there = ask("taper", **{**values, "at": row[0]}).answers
        assert (row[1], row[3]) == (pytest.approx(there.width_at), pytest.approx(there.off_each_face))


@given(st.floats(0, 3000))
def test_slope_says_which_way_it_gets_thinner(at: float) -> None:
    for butt, head in ((70.0, 45.0), (45.0, 70.0)):
        slope = ask("taper", length=3000.0, butt=butt, head=head, at=at).answers.slope
        assert (slope > 0) == (butt > head)


def test_slope_is_shown_per_foot_or_per_metre() -> None:
    shown = {"length": "12 ft", "butt": "3", "head": "1-1/2", "at": "0"}
    assert typed("taper", **shown).as_json()["answers"]["slope"]["text"] == "1/8 in per ft"
    metric = typed("taper", MM_01, length="4 m", butt="80", head="40", at="0")
    assert metric.as_json()["answers"]["slope"]["text"] == "10 mm per m"


def test_the_order_of_work_and_the_guard_travel_along() -> None:
    said = " ".join(typed("taper", **MAST, at="0").cautions)
    for words in ("centre line", "bearers", "second pair afresh", "uard"):
        assert words in said


@pytest.mark.parametrize(
    ("law", "source"),
    [
        ("steel 1794 yard", "at second hand: yards"),
        ("steel 1794 gaff", "at second hand: gaffs"),
        ("steel 1794 mast", "Rigging and Seamanship, 1794: rough-tree masts"),
        ("kemp 1880 bowsprit", "D. Kemp, A Manual of Yacht and Boat Sailing, 1880: bowsprits"),
    ],
)
def test_a_table_says_its_book_and_whether_that_was_seen(law: str, source: str) -> None:
    assert source in PUBLISHED[law].source
