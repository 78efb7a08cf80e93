"""Scarf: the triangle, the glue, what it is worth, and what lies in its way."""

from math import atan2, degrees, hypot

import pytest
import shapely
import shapely.affinity
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.calculators.scarf import clear_at
from shopcompanion.drawing.shapes import Fill
from shopcompanion.errors import InputFaults
from shopcompanion.spar.body import Body
from shopcompanion.spar.fitting import Fitting
from shopcompanion.spar.outline import Outline

from ..asked.scarf import BODY, questions
from ..asking import MM_01, ask, typed


def test_json_agrees_with_the_sum_done_by_hand() -> None:
    """Three inches by two and a half, 8 to 1, an eighth to plane off each face, half an inch off each end."""
    in_json = typed(
        "scarf", thickness="3", width="2-1/2", slope="8", planing="1/8", trim="1/2", spread="300 g/m^2", at="5 ft"
    ).as_json()
    values = {name: in_json["value"] for name, in_json in in_json["answers"].items()}
    inch = 25.4
    face = hypot(26, 3.25)
    wanted = {
        "scarf_length": 26 * inch,
        "extra_length": 27 * inch,
        "slope_angle": degrees(atan2(1, 8)),
        "slope_face": face * inch,
        "glue_area": face * 2.75 * inch**2,
        "glue_mass": face * 2.75 * inch**2 * 1e-6 * 0.3,
        "joint_factor": 75,
        "scarf_from": (60 - 13) * inch,
        "scarf_to": (60 + 13) * inch,
    }
    assert values.pop("within") is None
    assert values == pytest.approx(wanted)


@given(questions())
def test_two_sticks_laid_slope_on_slope_make_one(values) -> None:
    """Cut as polygons by shapely and laid together: no gap, no lap, and as much shorter as the answer says."""
    in_json = ask("scarf", **{**values, "trim": 0.0}).answers
    thick, long = values["thickness"] + 2 * values.get("planing", 0), in_json.scarf_length
    each = 2 * long
    stick = shapely.Polygon([(0, 0), (each, 0), (each - long, thick), (0, thick)])
    other = shapely.affinity.translate(shapely.affinity.rotate(stick, 180, origin=(0, 0)), 2 * each - long, thick)
    joined = shapely.union(stick, other)
    assert joined.area == pytest.approx((2 * each - in_json.extra_length) * thick)
    assert shapely.LineString([(each, 0), (each - long, thick)]).length == pytest.approx(in_json.slope_face)
    assert stick.area + other.area == pytest.approx(joined.area)
    assert joined.bounds[2] == pytest.approx(2 * each - in_json.extra_length)


def test_the_table_has_the_same_stick_at_every_slope_of_known_worth() -> None:
    """Three inches and an eighth off each face: 3-1/4 in is cut."""
    (table,) = typed("scarf", thickness="3", width="2-1/2", slope="8", planing="1/8").tables
    lengths = {slope: length for slope, length, _ in table.rows}
    assert lengths == pytest.approx({slope: slope * 3.25 * 25.4 for slope in (12, 10, 8, 5)})


@pytest.mark.parametrize(
    ("slope", "worth"),
    [(20, 85), (12, 85), (11.99, 80), (10, 80), (9, 75), (8, 75), (7, 60), (5, 60), (4.99, None), (1, None)],
)
def test_between_two_slopes_the_lower_worth_counts(slope: float, worth: float | None) -> None:
    """The lower of two remembered sets: from memory, unverified."""
    result = ask("scarf", thickness=50.0, width=50.0, slope=float(slope))
    assert result.answers.joint_factor == worth
    assert any("12 to 1 or flatter" in line for line in result.cautions) == (slope < 12)
    assert any("from memory, unverified" in line for line in result.cautions)


@pytest.mark.parametrize(
    ("at", "names"),
    [
        (700, "hinge"), (1000, "hinge, gooseneck"), (1640, "gooseneck"), (1650, "gooseneck"),
        (1650.1, None), (949.9, "hinge"), (950, "hinge, gooseneck"), (1680, None), (2300, "cleat"), (2600, None),
        (4700, "sheave"),
    ],
)  # fmt: skip
def test_what_lies_within_it_on_the_spar(at: float, names: str | None) -> None:
    """600 mm of scarf; the spar's own scarf is not in its way."""
    result = ask("scarf", thickness=50.0, width=50.0, at=float(at), body=BODY)
    assert result.answers.within == names
    told = [line for line in result.cautions if "the scarf takes in" in line]
    assert len(told) == (names is not None)
    assert all(name in told[0] for name in (names or "").split(", ") if name)


def test_a_scarf_in_the_way_is_told_with_the_numbers_and_the_nearest_clear_place() -> None:
    """By hand: 600 mm about 1640 mm meets the gooseneck, 1250 to 1350 mm; clear of that by 10 mm it lies about 1660 mm,
    and ends at 1960 mm, short of the cleat, which begins at 2010 mm."""
    (told,) = [line for line in ask("scarf", MM_01, thickness=50.0, width=50.0, at=1640.0, body=BODY).cautions
               if "the scarf takes in" in line]  # fmt: skip
    assert told == "From 1340 mm to 1940 mm the scarf takes in gooseneck at 1300 mm: move its middle to 1660 mm."
    moved = ask("scarf", thickness=50.0, width=50.0, at=1660.0, body=BODY)
    assert moved.answers.within is None
    (none,) = [line for line in ask("scarf", thickness=300.0, width=50.0, at=2000.0, body=BODY).cautions
               if "the scarf takes in" in line]  # fmt: skip
    assert "no clear place for it" in none


@pytest.mark.parametrize(
    ("at", "off"), [(0.0, True), (299.0, True), (300.0, False), (4700.0, False), (4701.0, True), (4900.0, True)]
)
def test_past_an_end_of_the_spar_it_is_said(at: float, off: bool) -> None:
    result = ask("scarf", thickness=50.0, width=50.0, at=at, body=BODY)
    assert any("past an end" in line for line in result.cautions) == off


def test_typed_alone_it_knows_no_spar() -> None:
    result = typed("scarf", thickness="3")
    assert result.answers.scarf_from is result.answers.scarf_to is result.answers.within is None
    assert result.answers.glue_area == pytest.approx(hypot(36, 3) * 3 * 25.4**2)


@given(st.floats(1, 200), st.floats(1, 100))
def test_twice_as_flat_is_twice_as_long(thickness: float, slope: float) -> None:
    flatter = ask("scarf", thickness=thickness, width=50.0, slope=slope).answers.scarf_length
    assert flatter == pytest.approx(slope * thickness)


def test_the_drawing_shows_the_length() -> None:
    result = ask("scarf", thickness=50.0, width=50.0)
    (dimension,) = [shape for shape in result.drawing().shapes if hasattr(shape, "value")]
    assert dimension.value == 600
    assert dimension.x2 - dimension.x1 == pytest.approx(600)


def test_the_drawing_is_as_many_times_too_thick_as_it_says() -> None:
    """50 mm and 5 mm to plane off each face: 60 mm."""
    drawn = ask("scarf", thickness=50.0, width=50.0, planing=5.0).drawing()
    (stick,) = [shape.points for shape in drawn.shapes if isinstance(shape, Fill)]
    times = max(y for _, y in stick) - min(y for _, y in stick)
    assert f"{times / 60:.0f} times as thick" in drawn.title
    assert times % 60 == 0


@pytest.mark.parametrize(
    ("texts", "said"),
    [({"slope": "0.5"}, "slope: 0.5 will not do, it must be at least 1"),
     ({"slope": "0"}, "slope: 0 will not do"),
     ({"thickness": "0"}, "thickness: 0 in will not do, it must be more than 0 in"),
     ({"spread": "2 kg"}, "spread: 2 kg is not understood")],
)  # fmt: skip
def test_what_makes_no_joint_is_refused_by_its_field(texts: dict[str, str], said: str) -> None:
    with pytest.raises(InputFaults) as caught:
        typed("scarf", **{"thickness": "3", **texts})
    assert said in str(caught.value)


def test_a_scarf_at_the_head_is_moved_in_by_half_of_itself() -> None:
    body = Body(Outline(((0.0, 80.0), (1000.0, 80.0))), fittings=(Fitting(at=300.0, kind="cleat", length=40.0),))
    assert clear_at(body, 980.0, 100.0) == 950
