"""Rip: passes and what is left between them, and widths that add up."""

from math import sqrt

import pytest
import shapely
import shapely.affinity
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.catalog import load
from shopcompanion.drawing.shapes import Dimension, Drawing, Line
from shopcompanion.errors import InputFault

from ..asked.rip import questions
from ..asking import MM_01, ask, refusal, typed


def test_json_agrees_with_the_sum_done_by_hand() -> None:
    """Inches: 7 thick, 3-1/8 deep; 3-1/2 finished, 1/4 bow, 1/8 a face; two of them from 10."""
    in_json = typed("rip", thickness="7", saw_depth="3-1/8", saw_depth_tilted="2-1/8", kerf="1/8", finished="3-1/2",
                  bow="1/4", planing="1/8", timber="10").as_json()  # fmt: skip
    values = {name: answer["value"] for name, answer in in_json["answers"].items()}
    scale = {name: 1 if name == "passes" else 25.4 for name in values}
    wanted = {
        "passes": 2, "blank_needed": 4, "piece_width": 4, "timber_needed": 8.125, "offcut": 1.75, "waste": 0.25,
        "web_left": 0.75, "depth": 3.125, "kerf_across": 0.125, "sawn_face": 7,
    }  # fmt: skip
    assert {name: value for name, value in values.items() if value is None} == {"finishes_to": None, "overlap": None}
    assert {n: v / scale[n] for n, v in values.items() if v is not None} == pytest.approx(wanted)


@pytest.mark.parametrize(
    ("thickness", "passes", "web", "overlap"),
    [(50, 1, None, None), (80, 1, None, None), (80.1, 2, None, 79.9), (160, 2, None, 0), (161, 2, 1, None)],
)
def test_one_pass_two_or_two_and_the_hand_saw(thickness, passes, web, overlap) -> None:
    result = ask("rip", thickness=float(thickness), saw_depth=80.0, finished=50.0)
    assert result.answers.passes == passes
    assert result.answers.web_left == (None if web is None else pytest.approx(web))
    assert result.answers.overlap == (None if overlap is None else pytest.approx(overlap))
    said = " ".join(result.cautions)
    assert ("cannot close on the blade" in said) == (passes == 2)
    assert ("hand saw" in said) == (web is not None)
    for word in ("guard", "push block", "feather board", "manual"):
        assert word in said


def test_tilted_it_is_the_tilted_depth_that_counts_and_the_face_is_wider() -> None:
    """A saw's depth at 45° is the thickness that it gets through, so thickness is held against it as it is."""
    through = {"thickness": 54.0, "saw_depth": 80.0, "saw_depth_tilted": 54.0, "finished": 50.0}
    answers = ask("rip", tilt="tilted 45°", kerf=3.0, **through).answers
    assert (answers.passes, answers.depth) == (1, 54)
    assert answers.sawn_face == pytest.approx(54 * sqrt(2))
    assert answers.kerf_across == pytest.approx(3 * sqrt(2))
    assert ask("rip", tilt="tilted 45°", **{**through, "thickness": 54.1}).answers.passes == 2
    assert any("Fence" in line for line in ask("rip", tilt="tilted 45°", **through).cautions)


@pytest.mark.parametrize(("across", "thickness"), [(0.0, 60.0), (17.0, 60.0)])
def test_rolled_over_the_slanting_cuts_lie_in_one_plane_and_end_over_end_they_do_not(across, thickness) -> None:
    """The section turned half round, and mirrored, by shapely: what the caution says of the second pass."""
    from_below = thickness / 2
    cut = shapely.LineString([(across - from_below, -from_below), (across + from_below, from_below)])
    rolled = shapely.affinity.rotate(cut, 180, origin=(0, 0))
    mirrored = shapely.affinity.scale(cut, 1, -1, origin=(0, 0))
    slope = [(line.coords[1][1] - line.coords[0][1]) / (line.coords[1][0] - line.coords[0][0]) for line in
             (cut, rolled, mirrored)]  # fmt: skip
    assert slope == pytest.approx([1, 1, -1])
    assert rolled.equals_exact(shapely.reverse(cut), 1e-9) == (across == 0)
    said = " ".join(ask("rip", thickness=thickness, tilt="tilted 45°", finished=50.0).cautions)
    assert "roll the timber over, other edge to the fence" in said
    upright = " ".join(ask("rip", thickness=100.0, finished=50.0).cautions)
    assert "end over end, same edge" in upright


@given(questions())
def test_pieces_kerfs_and_offcut_make_up_the_timber(values) -> None:
    answers = ask("rip", **values).answers
    off = values["bow"] + 2 * values["planing"]
    if "finished" in values:
        assert answers.piece_width == answers.blank_needed == pytest.approx(values["finished"] + off)
    else:
        assert answers.finishes_to == pytest.approx(answers.piece_width - off)
        assert answers.timber_needed == pytest.approx(values["timber"])
    if answers.offcut is not None:
        whole = values["pieces"] * answers.piece_width + answers.waste + answers.offcut
        assert whole == pytest.approx(values["timber"])
    if answers.web_left is not None:
        assert answers.web_left + 2 * answers.depth == pytest.approx(values["thickness"])


def test_a_timber_that_fits_exactly_has_no_offcut_and_loses_its_kerfs() -> None:
    """Two pieces of 50 mm with a kerf of 3 mm between them are 103 mm; 105 mm leave 2 mm, less than a kerf."""
    asked = {"thickness": 50.0, "kerf": 3.0, "pieces": 2, "finished": 50.0, "bow": 0.0, "planing": 0.0}
    for timber, waste in ((103.0, 3.0), (105.0, 5.0), (106.0, 6.0)):
        answers = ask("rip", timber=timber, **asked).answers
        assert (answers.offcut, answers.waste) == (0.0, pytest.approx(waste))
    assert ask("rip", **asked).answers.waste == 3.0
    assert refusal("rip", timber=102.9, **asked).field == "pieces"


def test_how_many_a_timber_gives_counts_a_kerf_less_than_pieces() -> None:
    """Of 102 mm two pieces of 46 mm come, with one kerf of 10 mm between them, and not three."""
    asked = {"thickness": 50.0, "kerf": 10.0, "pieces": 3, "finished": 46.0, "bow": 0.0, "planing": 0.0}
    assert "gives 2" in str(refusal("rip", timber=102.0, **asked))
    assert "gives 1" in str(refusal("rip", timber=101.0, **asked))


def test_a_timber_no_wider_than_its_kerfs_is_refused() -> None:
    asked = {"thickness": 50.0, "kerf": 3.0, "pieces": 4, "bow": 0.0, "planing": 0.0}
    assert refusal("rip", timber=9.0, **asked).field == "timber"
    assert ask("rip", timber=11.0, **asked).answers.piece_width == pytest.approx(0.5)


@given(questions(), st.floats(0.1, 20))
def test_a_piece_more_than_fits_is_refused_with_how_many_do(values, spare: float) -> None:
    values = {**values, "finished": 50.0}
    need = ask("rip", **{**values, "timber": None}).answers
    one_less = need.timber_needed - min(spare, need.piece_width / 2)
    fault = refusal("rip", **{**values, "timber": one_less})
    fit = values["pieces"] - 1
    assert f"gives {fit or 'none'}" in str(fault)
    if fit:
        ask("rip", **{**values, "timber": one_less, "pieces": fit})


@pytest.mark.parametrize(
    ("values", "field", "words"),
    [
        ({}, "finished", "type the finished width, or the width of the timber"),
        ({"timber": 6.0, "pieces": 4, "kerf": 3.0}, "timber", "6 mm is no wider than its kerfs, 9 mm"),
        (
            {"timber": 100.0, "pieces": 2, "kerf": 4.0, "bow": 0.0, "planing": 24.0},
            "pieces",
            "bow and planing take all of",
        ),
        ({"timber": 20.0, "bow": 10.0}, "pieces", "bow and planing take all of pieces of"),
    ],
)
def test_contradictions_are_refused(values, field: str, words: str) -> None:
    calculator = load("rip")
    with pytest.raises(InputFault) as caught:
        calculator.run(calculator.inputs(thickness=50.0, **values), MM_01)
    assert (caught.value.field, words in str(caught.value)) == (field, True)


@pytest.mark.parametrize("tilt", ["upright", "tilted 45°"])
@pytest.mark.parametrize("thickness", [40.0, 100.0, 200.0])
def test_the_drawing_has_both_cuts_inside_the_timber(tilt: str, thickness: float) -> None:
    result = ask("rip", thickness=thickness, tilt=tilt, finished=60.0)
    drawn = result.drawing()
    assert drawn.bounds() == Drawing("the timber alone", drawn.shapes[:5]).bounds()
    floors = [shape.y1 for shape in drawn.shapes[5:] if isinstance(shape, Line) and shape.y1 == shape.y2]
    first = thickness / 2 - min(result.answers.depth, thickness)
    second = min(first, result.answers.depth - thickness / 2)  # as far as the first, where they meet
    assert floors == pytest.approx([first, second][: result.answers.passes])


@pytest.mark.parametrize("thickness", [40.0, 100.0, 200.0])
def test_a_tilted_kerf_is_drawn_at_45_degrees_with_a_whole_piece_beside_it(thickness: float) -> None:
    """As far sideways as down, through the timber's middle: it leaves the top half the thickness to the right."""
    result = ask("rip", thickness=thickness, tilt="tilted 45°", finished=60.0, bow=0.0, planing=0.0)
    drawn = [shape for shape in result.drawing().shapes if isinstance(shape, Line)][4:]
    kerf = result.answers.kerf_across
    sides = [line for line in drawn if line.y1 != line.y2]
    floors = [line for line in drawn if line.y1 == line.y2]
    assert (len(sides), len(floors)) == (2 * result.answers.passes, result.answers.passes)
    assert {line.y1 for line in sides} == {
        thickness / 2,
        -thickness / 2 if result.answers.passes == 2 else thickness / 2,
    }
    for line in sides:
        assert line.x2 - line.x1 == pytest.approx(line.y2 - line.y1)
    for line in floors:
        assert (line.x1 + line.x2) / 2 == pytest.approx(line.y1)
        assert line.x2 - line.x1 == pytest.approx(kerf)
    assert max(line.x1 for line in sides) == pytest.approx(thickness / 2 + kerf / 2)
    assert result.drawing().bounds()[2] == pytest.approx(thickness / 2 + kerf / 2 + 60)


def test_a_cut_part_way_is_measured_from_the_face() -> None:
    """80 mm deep into 100 mm: from the face, at 50 mm, to 30 mm under the middle, in the wood beside the kerf."""
    result = ask("rip", thickness=100.0, saw_depth=80.0, finished=60.0, kerf=3.0)
    (cut,) = [shape for shape in result.drawing().shapes if isinstance(shape, Dimension) and shape.value == 80]
    assert (cut.y1, cut.y2) == (-30.0, 50.0)
    assert 1.5 < cut.x1 == cut.x2 < 60


def test_of_wide_pieces_as_much_is_drawn_as_twice_the_thickness() -> None:
    drawn = ask("rip", thickness=40.0, finished=300.0, kerf=3.0).drawing()
    assert drawn.bounds()[2] == 80 + 1.5
