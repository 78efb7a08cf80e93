"""What a calculator's fields follow, and every spar of the demo boats in every calculator."""

import pytest

from shopcompanion import catalog, form
from shopcompanion.calculator import FOLLOWS
from shopcompanion.errors import InputFault, InputFaults
from shopcompanion.profile.follow import follow
from shopcompanion.profile.parse import read
from shopcompanion.profile.records import Boat, Spar
from shopcompanion.stock.blanks import task
from shopcompanion.timber.species import find

from ..storage.conftest import DEMOS, demo

BOATS = {name: read(demo(name)).boat for name in DEMOS}
SPARS = [(name, spar.name) for name, boat in BOATS.items() for spar in boat.spars]
INCH = 25.4
OF_A_BLANK = ("rip", "scarf", "shoulder", "glueup")  # a spar of staves has none


def test_the_demo_boats_have_everything_that_a_field_may_follow() -> None:
    names = {key for boat in BOATS.values() for spar in boat.spars for key in follow(boat, spar, 100.0)}
    assert names == {key for key in FOLLOWS if not key.startswith("rule.")}


FIRST = [(name, boat.spars[0].name) for name, boat in BOATS.items()]
# The searches are of seconds; tests/calculators/test_lightest.py has them for every spar.
ASKED = [(name, *of) for name in catalog.NAMES for of in (FIRST if name in ("lightest", "compare") else SPARS)]


@pytest.mark.parametrize(("calculator", "boat", "spar"), ASKED)
def test_every_spar_works_in_every_calculator_with_nothing_typed(boat: str, spar: str, calculator: str) -> None:
    chosen, of = BOATS[boat].spar(spar), BOATS[boat]
    declared = catalog.load(calculator)
    ats = {0.0, chosen.length, *(chosen.length * k / 7 for k in range(7)), *(station.at for station in chosen.stations)}
    if declared.slow:  # of the whole spar, wherever one stands
        ats = {chosen.length / 2}
    if calculator == "moisture" and find(chosen.species, of.own).radial is None:
        with pytest.raises(InputFault, match="has no published shrinkage"):
            form.solve(declared, {}, follow(of, chosen, 0.0), of.rule)
        return
    if chosen.section == "staves" and calculator in OF_A_BLANK:
        with pytest.raises(InputFaults, match="is needed"):
            form.solve(declared, {}, follow(of, chosen, 0.0), of.rule)
        return
    for at in sorted(ats):
        result = form.solve(declared, {}, follow(of, chosen, at), of.rule)
        assert getattr(result.answers, declared.headline) is not None
        if calculator == "taper":
            assert result.answers.width_at == pytest.approx(chosen.outline().width_at(at), abs=1e-9)
            assert result.answers.off_each_face >= 0
        if calculator == "drum":
            assert result.answers.belt_fits == "yes"


@pytest.mark.parametrize("boat", DEMOS)
def test_every_preset_of_the_demo_boats_answers(boat: str) -> None:
    of = BOATS[boat]
    for preset in of.presets:
        spar = of.spar(preset.spar) if preset.spar else of.spars[0]
        form.solve(catalog.load(preset.calculator), dict(preset.inputs), follow(of, spar, 0.0), of.rule)


def test_the_mizzen_at_five_feet() -> None:
    """By hand: 2-3/4 in at 2 ft, 1-3/4 in at 11 ft 3 in, so 2.75 − 1·36/111 in at 5 ft; planing 1/8 in a face."""
    boat = BOATS["saltmarsh-yawl"]
    followed = follow(boat, boat.spar("mizzen mast"), 60 * INCH)
    assert followed["spar.width_at"] == pytest.approx((2.75 - 36 / 111) * INCH)
    assert followed["spar.blank"] == pytest.approx(3 * INCH)
    assert followed["spar.between"] == ((pytest.approx(24 * INCH), pytest.approx(2.75 * INCH)),)
    assert followed["shop.drum"] == pytest.approx(4 * INCH)
    assert (pytest.approx(0.75 * INCH), pytest.approx(0.5 * INCH)) in followed["shop.bits"]  # type: ignore[operator]
    assert followed["boat.bowsprit"] == pytest.approx(3 * INCH)
    assert "spar.depth_at" not in followed
    assert followed["spar.shape"] == "round"


def test_a_blank_of_the_spars_own_has_its_own_allowance_and_is_sawn_thicker_by_the_bow() -> None:
    """By hand: the main mast is 3-3/4 in, its blank 4-1/4 in, so 1/4 in a face, and 4-1/2 in with the bow of 1/4 in."""
    boat = BOATS["saltmarsh-yawl"]
    followed = follow(boat, boat.spar("main mast"), 0.0)
    assert [followed[key] for key in ("blank.planing", "spar.blank", "spar.sawn")] == pytest.approx(
        [0.25 * INCH, 4.25 * INCH, 4.5 * INCH]
    )
    (whole,) = (
        way[0] for need in task(boat, boat.rule).problem.needs if need.name == "main mast" for way in need.ways
        if len(way) == 1
    )  # fmt: skip
    ripped = form.solve(catalog.load("rip"), {}, followed, boat.rule)
    assert (ripped.inputs.thickness, ripped.answers.piece_width) == pytest.approx((whole.thickness, whole.width))
    assert follow(boat, boat.spar("gaff"), 0.0)["blank.planing"] == pytest.approx(0.125 * INCH)
    assert follow(boat, boat.spar("boom"), 0.0)["spar.peak"] == 0
    assert "spar.peak" not in follow(boat, boat.spar("gaff"), 0.0)


def test_jaws_are_worked_out_for_the_gaff_whatever_spar_is_chosen() -> None:
    """The gaff is 2-1/4 in at its heel; a boat without one has its boom, which lies level."""
    boat = BOATS["saltmarsh-yawl"]
    for name, on in (("gaff", "this spar"), ("main mast", "another spar"), ("mizzen mast", "another spar")):
        followed = follow(boat, boat.spar(name), 0.0)
        assert (followed["spar.pole"], followed["spar.jaws_on"]) == (pytest.approx(2.25 * INCH), on)
        result = form.solve(catalog.load("jaws"), {}, followed, boat.rule)
        assert result.inputs.gaff_width == pytest.approx(2.25 * INCH)
        assert (not result.fittings()) == ("fitting" not in result.as_json()) == (on == "another spar")
        assert any("choose the gaff or boom" in line for line in result.cautions) == (on == "another spar")
    lugger = BOATS["fjord-lugger"]
    followed = follow(lugger, lugger.spar("mast"), 0.0)
    assert (followed["spar.pole"], followed["spar.peak"]) == (46, 0)
    alone = lugger._replace(spars=(lugger.spar("mast"),))
    assert "spar.pole" not in follow(alone, alone.spars[0], 0.0)


def test_the_oval_boom_has_both_ways() -> None:
    boat = BOATS["fjord-lugger"]
    followed = follow(boat, boat.spar("boom"), 1150.0)
    assert followed["spar.width_at"] == pytest.approx(49)
    assert followed["spar.depth_at"] == pytest.approx(60)
    assert followed["spar.shape"] == "oval"


def test_the_station_is_kept_on_the_spar() -> None:
    boat = BOATS["fjord-lugger"]
    mast = boat.spar("mast")
    assert follow(boat, mast, -5.0)["spar.at"] == 0
    assert follow(boat, mast, 1e9)["spar.width_at"] == pytest.approx(58)


def test_only_what_has_a_value_is_there() -> None:
    assert follow(None, None, None) == {}
    boat = BOATS["fjord-lugger"]
    assert all(key.startswith(("shop.", "boat.", "blank.")) for key in follow(boat, None, 100.0))
    bare = Spar(name="pole", length=1000.0, stations=boat.spar("yard").stations[:1] + boat.spar("yard").stations[-1:])
    bare = bare._replace(length=bare.stations[-1].at)
    followed = follow(Boat(), bare, None)
    assert not {"spar.at", "spar.width_at", "spar.between", "spar.blank", "shop.drum"} & set(followed)
    assert followed["spar.widest"] == pytest.approx(40)


def test_only_roundover_bits_are_on_the_rack() -> None:
    boat = BOATS["saltmarsh-yawl"]
    assert len(boat.shop.bits) == 5
    rack = follow(boat, None, None)["shop.bits"]
    assert isinstance(rack, tuple)
    assert len(rack) == 4
