"""Coating: by hand, of a whole boat, what is refused, and its tables."""

import pytest
from hypothesis import given

from shopcompanion.calculators.coating import fewest_tins
from shopcompanion.catalog import load
from shopcompanion.errors import InputFault, InputFaults
from shopcompanion.form import solve
from shopcompanion.profile.follow import follow
from shopcompanion.profile.parse import read

from ..asked.coating import questions
from ..asking import MM_01, ask, refusal, typed
from ..storage.conftest import demo

POLE = {"length": 4000.0, "butt": 80.0, "head": 80.0}
BOAT = """
format = 1
[boat]
name = "Dabchick"
units = "mm"
[[spar]]
name = "mast"
length = "3 m"
section = "hollow"
wall = "12 mm"
stations = [{ at = "0", width = "60 mm" }, { at = "3 m", width = "60 mm" }]
joints = [{ at = "1 m", kind = "hinge" }, { at = "2 m", kind = "scarf" }]
[[spar]]
name = "bitt"
count = 2
length = "500 mm"
section = "square"
stations = [{ at = "0", width = "50 mm" }, { at = "500 mm", width = "50 mm" }]
"""
POLES = "".join(
    f'[[spar]]\nname = "{name}"\nlength = "1 m"\n'
    'stations = [{ at = "0", width = "60 mm" }, { at = "1 m", width = "60 mm" }]\n'
    for name in "abcdefghijklm"
)
THIRTEEN = f'format = 1\n[boat]\nname = "Grebe"\nunits = "mm"\n{POLES}'


def of_boat(**texts: str):
    boat = read(BOAT).boat
    return solve(load("coating"), texts, follow(boat, None, None), boat.rule)


def test_a_cylinder_by_hand() -> None:
    """80 mm round, 4 m: π·0.08·4 = 1.00531 m², ends 0.010053 m²; at 12 m²/L 84.614 mL a coat, ends 0.838 mL.

    Six coats, the first with a quarter of thinner: 84.614·5.8 + 0.838 = 491.60 mL, and 15 % more: 565.34 mL.
    """
    answers = ask("coating", MM_01, **POLE).answers
    assert answers.side_area == pytest.approx(1.005310e6, rel=1e-6)
    assert answers.end_area == pytest.approx(10053.1, rel=1e-5)
    assert answers.volume == pytest.approx(0.56534, abs=1e-5)
    assert answers.thinner == pytest.approx(0.0846136 / 5 * 1.15, rel=1e-4)
    assert (answers.bought, answers.tin_count, answers.days) == (0.75, 1, 6)


def test_a_boat_counts_every_spar_and_both_faces_of_what_comes_apart() -> None:
    """A hollow mast is coated outside only, and solid at ends and hinge; the scarf is glued, so it has no end grain."""
    result = of_boat(spars="all")
    mast, bitt = result.as_json()["tables"]["spars"]["rows"]
    assert mast[:2] == ["mast", 1]
    assert mast[2] == pytest.approx(3.14159265 * 60 * 3000)
    assert mast[3] == pytest.approx(4 * 3.14159265 / 4 * 60**2)
    assert bitt[:2] == ["bitt", 2]
    assert bitt[2:] == pytest.approx([2 * 4 * 50 * 500, 2 * 2 * 50**2])
    assert result.answers.area == pytest.approx(sum(row[2] + row[3] for row in (mast, bitt)))
    assert of_boat(spars="BITT").answers.area == pytest.approx(bitt[2] + bitt[3])


def test_a_spar_of_the_boat_is_coated_as_often_as_it_is_made() -> None:
    boat = read(BOAT).boat
    result = solve(load("coating"), {}, follow(boat, boat.spars[1], None), boat.rule)
    assert result.answers.area == pytest.approx(2 * (4 * 50 * 500 + 2 * 50**2))


@given(questions())
def test_the_coats_make_up_the_whole(values) -> None:
    result = ask("coating", **values)
    rows = result.as_json()["tables"]["coats"]["rows"]
    assert sum(row[2] for row in rows) == pytest.approx(result.answers.volume, rel=1e-9)
    assert [row[0] for row in rows] == list(range(1, result.answers.coats_used + 1))
    assert rows[-1][1] == result.answers.days
    tins = result.as_json()["tables"]["tins"]["rows"]
    assert sum(size * number for size, number in tins) == pytest.approx(result.answers.bought)


def test_what_is_refused_says_what_would_work() -> None:
    for name in POLE:
        fault = refusal("coating", **{key: size for key, size in POLE.items() if key != name})
        assert (fault.field, "length, butt and head" in str(fault)) == (name, True)
    assert "needs a boat" in str(refusal("coating", spars="all"))
    for text, words in (("mastt", "mean 'mast'"), ("; ;", "names with ;"), ("gaff", "there are mast; bitt")):
        with pytest.raises(InputFault, match=words):
            of_boat(spars=text)
    with pytest.raises(InputFault, match=r"there are a; b; c; d; e; f; g; h; i; j; k; l$"):  # twelve of the thirteen
        solve(load("coating"), {"spars": "zzz"}, follow(read(THIRTEEN).boat, None, None), MM_01)
    assert "larger tin" in str(refusal("coating", **{**POLE, "count": 1000}, tins=(0.01,), coats=50))
    with pytest.raises(InputFaults, match="try 1"):
        typed("coating", length="9 ft", butt="3", head="2", tins=" ; ")


def test_what_the_tin_says_is_read_as_it_is_printed_there() -> None:
    """500 sq ft to the gallon is 46.4515 m² in 3.785412 L, 12.2712 m²/L."""
    in_json = typed(
        "coating", length="9 ft", butt="3", head="2", coverage="500 sq ft/gal", recoat="2 days", tins="1 quart"
    )
    assert in_json.inputs.coverage == pytest.approx(12.2712, abs=1e-4)
    assert in_json.answers.days == 11
    assert in_json.inputs.tins == pytest.approx((0.946353,), abs=1e-6)


@pytest.mark.parametrize(("recoat", "days"), [(24.0, 6), (24.5, 11), (48.0, 11)])
def test_a_coat_that_dries_in_a_day_takes_the_next_one_the_next_day(recoat: float, days: int) -> None:
    result = ask("coating", **POLE, recoat=recoat)
    assert result.answers.days == result.as_json()["tables"]["coats"]["rows"][-1][1] == days


def test_the_demo_boats_are_coated_whole() -> None:
    for name in ("saltmarsh-yawl", "fjord-lugger"):
        boat = read(demo(name)).boat
        result = solve(load("coating"), {"spars": "all"}, follow(boat, None, None), boat.rule)
        assert len(result.tables[0].rows) == len(boat.spars)


def test_oil_warns_of_its_rags() -> None:
    assert any("catch fire" in line for line in ask("coating", **POLE, kind="oil").cautions)
    assert not any("catch fire" in line for line in ask("coating", **POLE).cautions)


@pytest.mark.parametrize(
    ("volume", "sizes", "tins"),
    [
        (0.75, (0.75,), ((0.75, 1),)),
        (0.7501, (0.75,), ((0.75, 2),)),
        (0.75, (0.375, 2.5), ((0.375, 2),)),
        (0.3, (0.375, 1.0), ((0.375, 1),)),
        (1.0, (0.5, 1.2), ((0.5, 2),)),  # a fifth more in one tin is too much
        (1.0, (0.5, 1.015), ((1.015, 1),)),  # a sixty-fifth is not
        (1.0, (0.5, 1.02), ((1.02, 1),)),  # nor is a fiftieth
        (0.75, (0.6, 1.0), ((1.0, 1),)),
        (5.2, (0.6, 1.0), ((1.0, 4), (0.6, 2))),
        (5.4, (0.9, 1.0), ((1.0, 1), (0.9, 5))),  # a large one goes first; of the other 4.4 L five leave least over
        (100.0, (0.01,), ((0.01, 10_000),)),
    ],
)
def test_the_fewest_tins_that_leave_least_over(volume, sizes, tins) -> None:
    assert fewest_tins(volume, sizes) == tins


def test_more_than_ten_thousand_tins_are_refused() -> None:
    with pytest.raises(InputFault) as caught:
        fewest_tins(100.01, (0.01,))
    assert caught.value.field == "tins"


@pytest.mark.parametrize(
    ("kind", "coats", "coverage", "thinned"),
    [
        ("varnish", 6, 12, 25),
        ("quick varnish", 6, 12, 10),
        ("oil", 4, 15, 50),
        ("paint", 3, 11, 10),
        ("primer", 1, 10, 10),
    ],
)
def test_a_square_metre_of_every_kind(kind: str, coats: int, coverage: float, thinned: float) -> None:
    """A square of 250 mm and 1 m long has 1 m² of sides and 0.125 m² of ends, which take a coat more; of the first coat
    the thinner is that part of what is thinned. Usual figures (common practice, from memory)."""
    answers = ask("coating", length=1000.0, butt=250.0, head=250.0, section="square", kind=kind, waste=0.0).answers
    whole = 1.125 / coverage
    assert answers.coats_used == coats
    assert answers.volume + answers.thinner == pytest.approx(whole * coats + 0.125 / coverage)
    assert answers.thinner * (100 + thinned) / thinned == pytest.approx(whole)


@pytest.mark.parametrize(
    ("kind", "hours", "days"),
    [("varnish", 24, 6), ("quick varnish", 6, 6), ("oil", 24, 4), ("paint", 24, 3), ("primer", 24, 1)],
)
def test_the_usual_coats_are_a_day_apart(kind: str, hours: float, days: int) -> None:
    """Usual waits (common practice, from memory)."""
    result = ask("coating", **POLE, kind=kind)
    assert result.answers.recoat_used == hours
    assert result.answers.days == days
    assert result.as_json()["tables"]["coats"]["rows"][-1][1] == days
    assert any("Primer goes under paint" in line for line in result.cautions) == (kind == "primer")


@pytest.mark.parametrize(("section", "depth"), [("round", None), ("square", None), ("eight", None), ("oval", 90.0)])
def test_the_end_grain_of_a_plain_taper_is_a_sum(section: str, depth: float | None) -> None:
    steps = ask("coating", **POLE, section=section, depth=depth).working()
    assert "end_area" in {step.name for step in steps}
