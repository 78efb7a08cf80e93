"""Weight: whole spars, quick tapers, what is refused, and what its drawing and its parts say."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.catalog import load
from shopcompanion.drawing.shapes import Dimension, Line
from shopcompanion.form import solve
from shopcompanion.profile.follow import follow
from shopcompanion.profile.parse import read
from shopcompanion.spar.body import Body
from shopcompanion.spar.outline import Outline

from ..asked.weight import OWN, questions
from ..asking import MM_01, ask, refusal, typed
from ..storage.conftest import demo

QUICK = {"species": "Spruce, Sitka", "length": 4000.0, "butt": 80.0, "head": 60.0}


def test_a_cylinder_by_hand() -> None:
    """50 mm round and 1 m long of 0.448 g/cm³: π/4·25 cm²·100 cm = 1963.5 cm³, 879.6 g, half way up."""
    answers = ask("weight", species="Spruce, Sitka", length=1000.0, butt=50.0, head=50.0).answers
    assert answers.mass == pytest.approx(0.8796, abs=5e-5)
    assert answers.balance_at == pytest.approx(500)
    assert answers.species_mark.startswith("strength read in a copy")
    assert answers.at_heel == pytest.approx(answers.at_head)
    assert answers.mass_taken is None


@given(questions())
def test_the_parts_make_the_whole_and_the_ends_bear_it(values) -> None:
    result = ask("weight", MM_01, **values)
    answers, rows = result.answers, result.as_json()["tables"]["parts"]["rows"]
    assert sum(row[3] for row in rows) == pytest.approx(answers.mass, rel=1e-6)
    balance = sum(row[3] * (row[1] + row[5]) for row in rows) / answers.mass
    assert balance == pytest.approx(answers.balance_at, rel=1e-6)
    assert answers.at_heel + answers.at_head == pytest.approx(answers.mass, rel=1e-9)
    assert answers.at_head * values["length"] == pytest.approx(answers.mass * answers.balance_at, rel=1e-9)
    if answers.mass_taken:
        assert sum(row[4] for row in rows) == pytest.approx(answers.mass_taken, rel=1e-6)
    (line,) = (shape for shape in result.drawing().shapes if isinstance(shape, Dimension))
    assert line.value == pytest.approx(answers.balance_at)
    assert abs(line.x2 - line.x1) == pytest.approx(answers.balance_at)


@given(st.integers(1, 64 * 1200), st.sampled_from([25.4 / 64, 0.1, 1.0]))
def test_a_spar_of_any_length_is_drawn_to_its_head(marks: int, step: float) -> None:
    """Of 56 in, 61 in, 66 in and more, the last of 24 equal parts ends past the head by a rounding of the float."""
    length = marks * step
    result = ask("weight", species="sitka", length=length, butt=80.0, head=60.0)
    lines = [shape for shape in result.drawing().shapes if isinstance(shape, Line)]
    assert max(max(line.x1, line.x2) for line in lines) == length


@pytest.mark.parametrize("inches", [56, 61, 66])
def test_the_lengths_that_used_to_end_past_the_head_are_drawn(inches: int) -> None:
    result = typed("weight", species="sitka", length=f"{inches} in", butt="3", head="2")
    assert result.inputs.length * 24 / 24 > result.inputs.length
    assert result.drawing()


@given(st.floats(0, 100), st.floats(0, 100))
def test_the_damper_the_heavier(mc: float, more: float) -> None:
    drier, other = (ask("weight", **QUICK, mc=each).answers for each in sorted((mc, more)))
    assert drier.mass <= other.mass * (1 + 1e-12)
    assert drier.balance_at == other.balance_at


def test_the_parts_of_a_folding_mast_with_what_its_hinge_takes() -> None:
    boat = read(demo("saltmarsh-yawl")).boat
    mast = boat.spar("main mast")
    result = solve(load("weight"), {}, follow(boat, mast, 0.0), boat.rule)
    rows = result.as_json()["tables"]["parts"]["rows"]
    assert [row[:3] for row in rows] == [[1, 0, pytest.approx(609.6)], [2, pytest.approx(609.6), mast.length]]
    bare = mast._replace(fittings=()).body()
    taken = result.answers.density * (bare.volume() - mast.body().volume()) / 1000**3
    assert result.answers.mass_taken == pytest.approx(taken, rel=1e-6)
    assert taken > 0
    assert not any("As typed" in line for line in result.cautions)


@pytest.mark.parametrize(("field", "text"), [("butt", "4"), ("head", "2"), ("length", "15 ft"), ("section", "square")])
def test_a_size_typed_over_the_spars_own_is_another_question(field: str, text: str) -> None:
    boat = read(demo("saltmarsh-yawl")).boat
    followed = follow(boat, boat.spar("main mast"), 0.0)
    result = solve(load("weight"), {field: text}, followed, boat.rule)
    alone = solve(load("weight"), {field: text}, {**followed, "spar.body": None}, boat.rule)
    assert result.answers == alone.answers
    assert any("a plain taper as typed" in line for line in result.cautions)
    assert not any("a plain taper as typed" in line for line in alone.cautions)


def test_the_spars_own_size_typed_again_is_the_same_question() -> None:
    boat = read(demo("saltmarsh-yawl")).boat
    followed = follow(boat, boat.spar("main mast"), 0.0)
    result = solve(load("weight"), {"butt": "3-3/4", "length": "18 ft 6 in"}, followed, boat.rule)
    assert result.answers == solve(load("weight"), {}, followed, boat.rule).answers


def test_an_ovals_own_depth_typed_again_is_the_same_question() -> None:
    oval = Body(Outline(((0.0, 60.0), (4000.0, 40.0))), Outline(((0.0, 90.0), (4000.0, 50.0))), "oval")
    asked = {**QUICK, "butt": 60.0, "head": 40.0, "section": "oval", "whole": oval}
    result = ask("weight", **asked, depth=90.0)
    assert result.answers == ask("weight", **asked).answers
    assert not any("a plain taper as typed" in line for line in result.cautions)


def test_an_oval_and_a_hollow_typed_over_keep_their_proportion_and_their_wall() -> None:
    taper = Outline(((0.0, 60.0), (4000.0, 40.0)))
    oval = Body(taper, Outline(((0.0, 90.0), (4000.0, 50.0))), "oval")
    asked = {**QUICK, "butt": 60.0, "head": 30.0, "section": "oval"}
    assert ask("weight", **asked, whole=oval).answers == ask("weight", **asked, depth=90.0).answers
    tube = Body(taper, None, "hollow", 8.0)
    asked["section"] = "hollow"
    assert ask("weight", **asked, whole=tube).answers == ask("weight", **asked, wall=8.0).answers


def test_a_timber_of_ones_own() -> None:
    answers = ask("weight", **{**QUICK, "species": "pine, from the barn"}, own=OWN).answers
    assert answers.timber == "Pine, from the barn"
    assert answers.density == pytest.approx(1000 * 0.47 * 1.12)
    assert answers.species_source is None


@pytest.mark.parametrize(("butt", "told"), [(200.0, True), (80.0, False)])
def test_more_than_one_person_lifts(butt: float, told: bool) -> None:
    result = ask("weight", **{**QUICK, "butt": butt})
    assert (result.answers.mass > 23) == told
    assert any("23 kg" in line for line in result.cautions) == told


@pytest.mark.parametrize(
    ("changed", "field", "words"),
    [
        ({"species": "sitca"}, "species", "Spruce, Sitka"),
        ({"species": "pine"}, "species", "say which"),
        ({"section": "oval"}, "depth", "an oval has a depth at the heel as well"),
        ({"section": "hollow"}, "wall", "a fifth of 80 mm would be 16 mm"),
        ({"section": "hollow", "wall": 30.0}, "wall", "leaves no hollow at 4000 mm, where the spar is 60 mm"),
        ({"depth": 90.0}, "depth", "90 mm is for a section that is oval, and this one is round"),
        ({"wall": 9.0, "section": "square"}, "wall", "9 mm is for a section that is hollow, and this one is square"),
    ],
)
def test_refused(changed, field: str, words: str) -> None:
    fault = refusal("weight", **{**QUICK, **changed})
    assert fault.field == field
    rule = MM_01
    with pytest.raises(type(fault), match=words):
        ask("weight", rule, **{**QUICK, **changed})
