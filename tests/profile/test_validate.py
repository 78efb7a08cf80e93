"""A spar that contradicts itself says which entry and why; what cannot be is left out, and the rest is used."""

import tomllib
from typing import Any

import pytest
import tomli_w

from shopcompanion.profile.left_out import for_card
from shopcompanion.profile.parse import read
from shopcompanion.spar.along import Region
from shopcompanion.spar.outline import Outline

from ..storage.conftest import demo
from .test_parse import HEAD, spar, told

FOOT = 304.8
YARD = {"law": "steel 1794 yard", "stations": [{"at": "5 ft", "width": "2-1/2 in"}]}
SQUARE = {"from": "0", "to": "1 ft", "section": "square", "run_out": "3 in"}
EIGHT = {"from": "4 ft", "to": "5 ft", "section": "eight"}


@pytest.mark.parametrize(
    ("changed", "expected"),
    [
        ({**YARD, "stations": [*YARD["stations"], {"at": "10 ft", "width": "1 in"}]},
         "stations: steel 1794 yard takes one station, where the spar is thickest"),
        ({**YARD, "stations": [{"at": "10 ft", "width": "2 in"}]},
         "stations 1, at: the largest width is at 10 ft, it must be before the head, which is at 10 ft"),
        ({**YARD, "stations": []}, "stations: none"),
        ({**YARD, "section": "oval"}, "stations 1, depth: missing; an oval needs a depth at every station"),
        ({"section": "hollow"}, "wall: missing; give how thick the wall of a hollow spar is"),
        ({"section": "hollow", "wall": "thick"}, "wall: missing; give how thick the wall of a hollow spar is"),
        ({"blank": "2 in"}, "blank: 2 in is less than the spar's thickest, 2-1/2 in at station 2"),
    ],
)  # fmt: skip
def test_what_leaves_no_spar(changed: dict[str, Any], expected: str) -> None:
    lines = told(spar(**changed))
    assert read(spar(**changed)).boat.spars == ()
    assert any(f"spar 1 'boom', {expected}" in line for line in lines), lines


@pytest.mark.parametrize(
    ("changed", "expected", "kept"),
    [
        ({"square_run_out": "10 ft", "square_to": "1 ft"},
         "square_run_out: ends at 11 ft, past the head, which is at 10 ft", {"square_run_out": 0.0}),
        ({"supports": "0 = fixed; 11 ft = pinned"},
         "supports: the support at 11 ft lies off the spar, which ends at 10 ft", {"supports": None}),
        ({"supports": "2 ft = pinned"}, "supports: held at 2 ft alone it turns about that place", {"supports": None}),
        ({"loads": "0 to 11 ft = 4 lbf/ft"}, "loads: the load at 11 ft lies off the spar", {"loads": None}),
        ({"push": "11 ft = 4 lbf"}, "push: the push at 11 ft lies off the spar", {"push": None}),
        ({"sail_to": "11 ft"}, "sail_to: 11 ft lies past the head, which is at 10 ft", {"sail_to": None}),
        ({"regions": [{**EIGHT, "to": "11 ft"}]},
         "regions 1: the eight from 4 ft to 11 ft reaches past the head, which is at 10 ft", "regions"),
        ({"regions": [{**EIGHT, "to": "3 ft"}]},
         "regions 1: the eight that begins at 4 ft ends at 3 ft: it must end nearer the head", "regions"),
        ({"square_to": "4 ft 6 in", "regions": [EIGHT]},
         "regions 1: the eight from 4 ft to 5 ft overlaps the square from 0 in to 4 ft 6 in", "regions"),
        ({"regions": [SQUARE, {**EIGHT, "from": "13 in"}]},
         "regions 2: the eight from 13 in to 5 ft leaves the square from 0 in to 12 in no room to run out", {}),
        ({"regions": [{**SQUARE, "section": "hollow"}]},
         "regions 1: the hollow from 0 in to 12 in is hollow, and the spar has no wall", "regions"),
        ({"regions": [{"to": "1 ft", "section": "square"}]}, "regions 1, from: missing; for example", "regions"),
        ({"section": "hollow", "wall": "1 in"},
         "wall: 1 in leaves no hollow at 9 ft 5-1/4 in, where the spar is 1-53/64 in bare", {"wall": 25.4}),
        ({"joints": [{"at": "0", "kind": "hinge"}]}, "joints 1: the hinge at 0 in has nothing to join on one side",
         "joints"),
        ({"joints": [{"at": "12 ft", "kind": "hinge"}]}, "joints 1: the hinge at 12 ft lies past the head", "joints"),
        ({"fittings": [{"at": "1 ft", "kind": "cleat", "flat": "1/8 in"}]},
         "fittings 1: the cleat at 12 in has a flat of 1/8 in and no length for it", "fittings"),
        ({"fittings": [{"at": "4 ft", "kind": "pin", "hole": "2-1/2 in"}]},
         "fittings 1: the pin at 4 ft has a hole of 2-1/2 in, and the spar is 2-1/2 in there", "fittings"),
        ({"fittings": [{"at": "11 ft", "kind": "eye"}]}, "fittings 1: the eye at 11 ft lies past the head", "fittings"),
        ({"log": [{"at": "11 ft", "girth": "6 in"}]}, "log 1: what was measured at 11 ft lies past the head", "log"),
        ({"log": [{"at": "1 ft"}]}, "log 1: what was measured at 12 in has neither widths nor a girth", "log"),
        ({"log": [{"at": "1 ft", "girth": "6 in", "widths": [2, 2]}]},
         "log 1: what was measured at 12 in has both widths and a girth", "log"),
        ({"log": [{"at": "1 ft", "widths": [2]}]}, "log 1, widths: needs 2 to 4 lengths", "log"),
        ({"log": [{"at": "1 ft", "widths": "2 in"}]}, "log 1, widths: '2 in' is not a list", "log"),
        ({"log": [{"at": "1 ft", "widths": [2, "x"]}]}, "log 1, widths: ", "log"),
        ({"log": [{"at": "1 ft", "widths": [2, 0]}]}, "log 1, widths: 0 in will not do", "log"),
        ({"done": "all"}, "done: 'all' is not a list", "done"),
        ({"done": ["saw", 3]}, "done: 3 is not text; write it in quotes", "done"),
        ({"bow": "-1 in"}, "bow: -1 in will not do, it must be at least 0 in", {"bow": None}),
    ],
)  # fmt: skip
def test_what_costs_only_itself(changed: dict[str, Any], expected: str, kept: dict[str, object] | str) -> None:
    (line,) = told(spar(**changed))
    assert line.startswith(f"spar 1 'boom', {expected}")
    boom = read(spar(**changed)).boat.spar("boom")
    left = {kept: ()} if isinstance(kept, str) else kept  # a list by its name is left with nothing
    assert {key: getattr(boom, key) for key in left} == left
    assert boom.body().length == pytest.approx(10 * FOOT)


def test_a_row_that_lies_off_the_spar_is_told_by_its_number_and_name_in_the_file() -> None:
    """Also behind a row that does not read."""
    text = spar(
        fittings=[{"at": "1 ft", "kind": "kleat"}, {"at": "2 ft", "kind": "eye"}, {"at": "11 ft", "kind": "eye"}]
    )
    assert [line.partition(": ")[0] for line in told(text)] == [
        "spar 1 'boom', fittings 1, kind", "spar 1 'boom', fittings 3"
    ]  # fmt: skip
    boat = read(text).boat
    assert {lack.name for lack in boat.left_out} == {"kleat at 1 ft", "eye at 11 ft"}
    assert [fitting.kind for fitting in boat.spar("boom").fittings] == ["eye"]


def test_a_day_that_is_none_costs_only_itself() -> None:
    for when in ("'yesterday'", "2026-05-02T10:00:00", "'2026-13-02'", "'20260502'", "7"):
        text = f"{HEAD}{BOOM}log = [{{ at = '1 ft', girth = '6 in', when = {when} }}]\n"
        (line,) = told(text)
        assert line.startswith("spar 1 'boom', log 1, when: ")
        assert read(text).boat.spar("boom").log[0].when is None


BOOM = spar().removeprefix(tomli_w.dumps(tomllib.loads(HEAD))).lstrip()


def test_a_day_stands_with_or_without_quotes() -> None:
    for when in ("2026-05-02", "'2026-05-02'"):
        text = f"{HEAD}{BOOM}log = [{{ at = '1 ft', girth = '6 in', when = {when} }}]\n"
        assert read(text).boat.spar("boom").log[0].when == "2026-05-02"


def test_a_published_spar_by_its_one_station() -> None:
    boom = read(spar(**YARD)).boat.spar("boom")
    assert boom.outline() == Outline.published("steel 1794 yard", boom.length, boom.stations[0].at, 63.5)
    assert boom.outline().width_at(2.5 * FOOT) == pytest.approx(63.5 * 7 / 8)
    oval = read(spar(**{**YARD, "section": "oval", "stations": [{"at": 60, "width": 2, "depth": 3}]})).boat.spar("boom")
    depths = oval.depth_outline()
    assert depths is not None
    assert depths.width_at(2.5 * FOOT) == pytest.approx(3 * 25.4 * 7 / 8)


def test_a_wall_may_be_there_before_the_hollow() -> None:
    """So that both can be set one after the other."""
    assert told(spar(wall="1/2 in")) == []
    boom = read(spar(wall="1/2 in", section="hollow", regions=[SQUARE])).boat.spar("boom")
    assert boom.body().left_at(0.0).area == pytest.approx(boom.stations[0].width ** 2)


def test_the_body_of_a_spar_is_made_of_the_very_records_of_its_profile() -> None:
    mast = read(demo("fjord-lugger")).boat.spar("mast")
    body = mast.body()
    assert body is mast.body()
    assert [id(fitting) for fitting in body.fittings] == [id(fitting) for fitting in mast.fittings]
    assert [id(joint) for joint in body.joints] == [id(joint) for joint in mast.joints]
    assert {id(region) for region in mast.regions} <= {id(region) for region in body.regions}


def test_the_body_of_a_demo_spar_has_all_that_is_on_it() -> None:
    mast = read(demo("fjord-lugger")).boat.spar("mast")
    body = mast.body()
    assert body.regions == (
        Region(from_=0.0, to=400.0, section="square", run_out=60.0),
        Region(from_=5200.0, to=5400.0, section="eight", run_out=50.0),
    )
    assert [(part.start, part.end) for part in body.parts] == [(0, 2700), (2700, 5400)]
    assert {400.0, 460.0, 620.0, 1900.0, 5150.0, 5200.0, 960.0, 1140.0, 5245.0, 5315.0} <= set(body.breaks)
    assert body.left_at(1050.0).area < body.section_at(1050.0).area
    assert body.volume() < body.volume(0.0, 2700.0) + body.volume(2700.0, 5400.0) + 1e-3


@pytest.mark.parametrize(
    ("word", "like"),
    [
        ("frist-faces", " (did you mean 'first-faces'?)"),
        ("cut8", " (did you mean 'cut-8'?)"),
        ("fit-cleet-900", " (did you mean 'fit-cleat'?)"),
        ("gone", ""),
    ],
)
def test_a_tick_of_no_step_is_told_and_the_others_stay(word: str, like: str) -> None:
    """A name that some spar's order of work has is no fault, though this spar has no such step."""
    text = spar(done=["true-blank", word, "hollow", "fit-tack-hook-120", "fit-cleat-900-C"])
    (line,) = told(text)
    assert line == f"spar 1 'boom', done: '{word}': not a step of the work{like}"
    (boom,) = read(text).boat.spars
    assert boom.done == ("true-blank", "hollow", "fit-tack-hook-120", "fit-cleat-900-C")
    assert [lack.name for lack in for_card(read(text).boat, boom)] == ["done"]
