"""Where a fitting sits on a spar, and what is put on the spar from its calculator."""

from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.catalog import load
from shopcompanion.errors import InputFault
from shopcompanion.spar import seat
from shopcompanion.spar.along import Region
from shopcompanion.spar.body import Body
from shopcompanion.spar.cuts import flat
from shopcompanion.spar.fitting import Fitting
from shopcompanion.spar.outline import Outline
from shopcompanion.spar.section import SECTIONS, Section

from .asking import ask
from .remains import bodies, section, turned

CONE = Body(Outline(((0.0, 100.0), (1000.0, 60.0)), "straight"))


@given(st.sampled_from(SECTIONS), st.floats(10, 200), st.floats(10, 200), st.floats(1e-4, 1))
def test_a_chord_and_its_depth_turn_back(kind: str, width: float, depth: float, part: float) -> None:
    section = Section(kind, width, depth, 1.0)
    deep = seat.depth_for(section, part * width)
    assert 0 <= deep <= depth / 2
    assert seat.chord(section, deep) >= part * width * (1 - 1e-6)
    if deep:
        assert seat.chord(section, deep) == pytest.approx(part * width, rel=1e-6)


@given(bodies(), st.floats(0, 1), st.floats(0, 1), st.sampled_from(seat.ONE_FACE))
def test_places_run_from_end_to_end_and_have_the_spars_own_sections(body, low: float, high: float, face: str) -> None:
    start, end = sorted((low * body.length, high * body.length))
    places = seat.places(body, start, end, face)
    ats = [place.at for place in places]
    assert (ats[0], ats[-1]) == (start, end)
    assert ats == sorted(ats)
    for place in places:
        assert (place.shape.width, place.shape.depth) == pytest.approx(turned(body, place.at, face))
        assert len([other for other in places if other == place]) == 1
    inner = [at for at in body.breaks if start < at < end]
    assert set(inner) <= set(ats)


def test_in_a_run_out_the_rounder_section_decides_and_each_has_its_part() -> None:
    """Half way out of the square: as wide a flat as the round carries, and a quarter of each corner gone."""
    body = CONE._replace(regions=(Region(from_=0.0, to=400.0, section="square", run_out=100.0),))
    (place,) = seat.places(body, 450.0, 450.0, "A")
    assert place.shape.kind == "round"
    width = body.width_at(450.0)
    square, round_ = (section(kind, width, width).area for kind in ("square", "round"))
    whole = square - (square - round_) / 4  # a corner cut half as deep has lost a quarter of its wood
    assert seat.wood(place).area == pytest.approx(whole, rel=1e-5)
    assert seat.shape_at(body, 450.0) == "round"
    assert seat.shape_at(body, 300.0) == "square"
    assert seat.shape_at(CONE._replace(section="hollow", wall=5.0), 300.0) == "round"


@pytest.mark.parametrize("face", seat.ONE_FACE)
@pytest.mark.parametrize(
    ("name", "asked", "place"),
    [
        ("flat", {"diameter": 80.0, "at": 500.0, "flat_width": 40.0}, "between"),
        ("inlay", {"diameter": 80.0, "at": 500.0, "bar_width": 30.0}, "between"),
        ("inlay", {"diameter": 80.0, "at": 500.0, "bar_width": 30.0, "both": "no"}, "between"),
        ("hinge", {"joint_at": 500.0}, "under the barrel"),
    ],
)
def test_put_on_the_spar_it_takes_what_its_calculator_said(name: str, asked, place: str, face: str) -> None:
    result = ask(name, body=CONE, face=face, **asked)
    kept = load(name).fitting(result.inputs, result.answers)
    on = CONE._replace(fittings=(Fitting(**kept),))
    left = {row[0]: row[1] for row in result.as_json()["tables"]["left"]["rows"]}
    assert on.left_at(500.0).area == pytest.approx(left[place], rel=1e-9)
    for end in ("heelward end", "headward end") if name != "inlay" else ():  # a bar's floor follows the face
        at = next(row[1] for row in result.as_json()["tables"]["places"]["rows"] if row[0] == end)
        within = 1e-6 if at < 500 else -1e-6
        assert on.left_at(at + within).area == pytest.approx(left[end], rel=1e-6)


@pytest.mark.parametrize(
    ("own", "region", "decides"),
    [
        ("round", "square", "round"),
        ("eight", "square", "eight"),
        ("round", "eight", "round"),
        ("square", "eight", "eight"),
    ],
)
def test_a_run_out_is_at_its_ends_what_begins_there(own: str, region: str, decides: str) -> None:
    """From 300 to 400 mm into the region, from 600 to 700 mm out of it; half way the rounder decides."""
    body = CONE._replace(section=own, regions=(Region(from_=400.0, to=600.0, section=region, run_out=100.0),))
    for start, end in ((300.0, 400.0), (700.0, 600.0)):
        low, high = sorted((start, end))
        first, *_, last = seat.places(body, low, high, "A", (350.0, 650.0))
        kinds = {first.at: first.shape.kind, last.at: last.shape.kind}
        assert kinds == {start: own, end: region}
        assert seat.shape_at(body, (low + high) / 2) == decides
        ends = {place.at: seat.wood(place).area for place in (first, last)}
        assert ends[end] == pytest.approx(section(region, *[body.width_at(end)] * 2).area, rel=1e-9)
        assert ends[start] == pytest.approx(section(own, *[body.width_at(start)] * 2).area, rel=1e-9)


def test_what_is_typed_and_not_on_the_spar_stands_alone() -> None:
    oval = Body(Outline(((0.0, 60.0), (1000.0, 60.0))), Outline(((0.0, 80.0), (1000.0, 80.0))), "oval")
    size = Section("round", 60.0, 80.0)
    assert [place.at for place in seat.under(oval, 500.0, size, "A", length=100.0)] == [450, 500, 550]
    assert [place.at for place in seat.under(oval, 0.0, size, "A", length=1000.0)] == [0, 500, 1000]
    with pytest.raises(InputFault, match="is longer than the spar") as caught:
        seat.under(oval, 0.0, size, "A", length=1000.1)
    assert caught.value.field == "length"
    for spar, at, other in (
        (None, 500.0, size), (oval, None, size), (oval, -1.0, size), (oval, 1001.0, size),
        (oval, 500.0, Section("square", 60.0, 80.0)), (oval, 500.0, Section("round", 60.0, 60.0)),
        (oval, 500.0, Section("round", 80.0, 80.0)),
    ):  # fmt: skip
        (place,) = seat.under(spar, at, other, "B", length=100.0)
        assert place.at is None
        assert (place.shape.width, place.shape.depth) == (other.depth, other.width)


def test_the_wood_left_under_a_flat_by_hand() -> None:
    """60 mm wide, 40 mm deep, a flat 10 mm deep: 60 × 30 is left, bending the way the face looks and sideways."""
    size = Section("square", 60.0, 40.0)
    (place,) = seat.under(None, None, size, "A", length=100.0)
    wood = seat.wood(place, [flat(size, 10.0, "A")])
    assert wood == pytest.approx((1800, 60 * 30**3 / 12, 30 * 60**3 / 12, 60 * 30**2 / 6, 30 * 60**2 / 6))
    assert wood.parts(seat.wood(place)) == pytest.approx((75, 100 * 0.75**3, 75, 100 * 0.75**2, 75))


@pytest.mark.parametrize(("kind", "deep"), [("round", 20.0), ("square", 0.0), ("eight", 20 * (2 - sqrt(2)))])
def test_what_is_wider_than_the_spar_lies_where_the_spar_is_widest(kind: str, deep: float) -> None:
    """In the middle of a round 40 deep; of an eight where its facet at the side begins: (1 − tan 22.5°)/2 of it."""
    for width in (60.0, 60.1, 95.0):
        assert seat.depth_for(Section(kind, 60.0, 40.0), width) == pytest.approx(deep)


def test_the_middle_of_a_fitting_at_the_heel_is_half_way_along_it() -> None:
    under = seat.places(CONE, 0.0, 100.0, "A", (50.0, 50.5))
    assert [place.at for place in under] == [0.0, 50.0, 50.5, 100.0]
    assert seat.middle(under).at == 50.0
