"""The spar that is proved, and how it is held: what of the boat's spar stays when something else is typed, as built,
and where on it a place is."""

from math import pi
from typing import Any

import pytest

from shopcompanion.beam.model import Load, Support
from shopcompanion.calculators.proved_spar import SparInputs, as_built, between, spar_of
from shopcompanion.calculators.proving import LoadInputs, asked, mass_of, place_words
from shopcompanion.spar.along import Joint, Region
from shopcompanion.spar.body import Body
from shopcompanion.spar.fitting import Fitting
from shopcompanion.spar.measures import Measure
from shopcompanion.spar.outline import Outline

ROWS = ((0.0, 80.0), (3000.0, 50.0))  # 1 mm thinner every 100 mm
FITTED = Body(
    Outline(ROWS),
    regions=(Region(from_=0.0, to=400.0, section="square", run_out=100.0),),
    joints=(Joint(at=2000.0, kind="scarf"),),
    fittings=(Fitting(at=1000.0, kind="cleat", length=100.0, flat=5.0),),
)
OVAL = Body(Outline(((0.0, 60.0), (3000.0, 40.0))), Outline(((0.0, 90.0), (3000.0, 40.0))), "oval")


def follows(whole: Body, **changed: object) -> Body:
    """The spar that is proved with a boat's spar chosen, and that typed over it."""
    own = {"outline": whole.outline.stations, "law": whole.outline.law, "section": whole.section}
    return spar_of(SparInputs(whole=whole, **{**own, **changed}))  # type: ignore[arg-type]


def test_with_nothing_typed_it_is_the_boats_own_spar() -> None:
    hollow = Body(Outline(ROWS), None, "hollow", 12.0)
    for whole in (FITTED, OVAL, hollow):
        assert follows(whole) is whole


def test_other_widths_keep_what_is_on_it_and_another_length_does_not() -> None:
    thicker = follows(FITTED, outline=((0.0, 90.0), (1500.0, 88.0), (3000.0, 60.0)))
    assert thicker.width_at(750.0) == pytest.approx(89)  # straight, as the spar is
    assert (thicker.regions, thicker.joints, thicker.fittings) == (FITTED.regions, FITTED.joints, FITTED.fittings)
    shorter = follows(FITTED, outline=((0.0, 90.0), (2999.0, 60.0)))
    assert (shorter.length, shorter.regions, shorter.joints, shorter.fittings) == (2999, (), (), ())


def test_another_law_section_or_wall_is_another_spar_of_the_same_widths() -> None:
    bowed = follows(FITTED, law="bowed")
    assert bowed.width_at(1500.0) == pytest.approx(80 - 30 / 4)
    assert bowed.fittings == FITTED.fittings
    square = follows(FITTED, section="square")
    assert (square.section, square.outline, square.fittings) == ("square", FITTED.outline, FITTED.fittings)
    hollow = Body(Outline(ROWS), None, "hollow", 12.0)
    assert follows(hollow, wall=9.0).wall == 9
    assert follows(hollow, section="round").wall == 0


def test_a_regions_hollow_goes_with_the_wall_and_its_square_stays() -> None:
    inner = Region(from_=1000.0, to=2000.0, section="hollow", run_out=100.0)
    whole = Body(Outline(ROWS), None, "square", 9.0, (FITTED.regions[0], inner))
    assert follows(whole).regions == whole.regions
    assert follows(whole, section="round").regions == (FITTED.regions[0],)


def test_of_a_plain_taper_what_is_not_typed_is_the_boats_own() -> None:
    assert follows(FITTED, head=60.0).outline.stations == ((0, 80), (3000, 60))
    assert follows(FITTED, butt=70.0).outline.stations == ((0, 70), (3000, 50))
    assert follows(FITTED, length=2000.0).outline.stations == ((0, 80), (2000, 50))


def test_an_oval_keeps_its_own_depths_or_the_proportion_at_its_heel() -> None:
    wider = follows(OVAL, outline=((0.0, 70.0), (3000.0, 50.0)))
    assert wider.depths == Outline(((0.0, 105.0), (3000.0, 75.0)))  # half as deep again, as at 0
    typed = follows(OVAL, depth=80.0)
    assert typed.depths is not None
    assert [depth for _, depth in typed.depths.stations] == pytest.approx([80, 80 * 40 / 60])
    assert typed.outline == OVAL.outline


def test_a_fault_that_was_measured_changes_evenly_and_stays_beyond_the_measures() -> None:
    rows = ((1000.0, 2.0), (2000.0, 4.0), (2500.0, -1.0))
    wanted = {
        0.0: 2.0,
        500.0: 2.0,
        1000.0: 2.0,
        1250.0: 2.5,
        1500.0: 3.0,
        2000.0: 4.0,
        2250.0: 1.5,
        2500.0: -1.0,
        3000.0: -1.0,
    }
    assert {at: between(rows, at) for at in wanted} == pytest.approx(wanted)


def test_as_built_an_oval_is_measured_both_ways() -> None:
    """At 1000 mm 2 mm less than 53.33 mm and 3 mm more than 73.33 mm: so all along, where nothing else is measured."""
    inputs = SparInputs(whole=OVAL, measured=(Measure(1000.0, (160 / 3 - 2, 220 / 3 + 3)),))
    built = as_built(OVAL, inputs)
    for at in (0.0, 700.0, 1000.0, 3000.0):
        assert built.width_at(at) == pytest.approx(OVAL.width_at(at) - 2)
        assert built.depth_at(at) == pytest.approx(OVAL.depth_at(at) + 3)
    round_ = as_built(FITTED, SparInputs(whole=FITTED, measured=(Measure(500.0, (76.0,)), Measure(1500.0, (64.0,)))))
    assert [round_.width_at(at) for at in (0.0, 1000.0, 3000.0)] == pytest.approx(
        [81, 70, 49]
    )  # 1 mm over, none, 1 mm under
    assert (round_.length, round_.fittings, round_.depths) == (3000, FITTED.fittings, None)


FIXED = (Support(0.0, "fixed"),)
TIP = (Load("force", 3000.0, 3000.0, 200.0, 200.0),)


def test_the_mass_of_the_spar_that_is_proved() -> None:
    """Sitka spruce at 12 %, 448 kg/m³: 3 m of 80 mm."""
    held = {"supports": FIXED, "loads": TIP, "outline": ((0.0, 80.0), (3000.0, 80.0))}
    case = asked(LoadInputs(species="Spruce, Sitka", **held))  # type: ignore[arg-type]
    assert mass_of(case) == pytest.approx(448 * pi / 4 * 0.08**2 * 3)
    assert mass_of(asked(LoadInputs(modulus=9000.0, rupture=60.0, **held))) is None  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("at", "words"),
    [
        (0.0, "at the heel"), (50.0, "at the heel"), (50.1, "2 % of the way from heel to head"),
        (949.9, "32 % of the way from heel to head"), (950.0, "at the cleat"), (1050.0, "at the cleat"),
        (1050.1, "35 % of the way from heel to head"), (1460.0, "where it is held"), (1540.0, "where it is held"),
        (1950.0, "at the scarf joint"), (2050.0, "at the scarf joint"), (2050.1, "68 % of the way from heel to head"),
        (2949.9, "98 % of the way from heel to head"), (2950.0, "at the head"), (3000.0, "at the head"),
    ],
)  # fmt: skip
def test_a_place_is_told_by_what_is_within_a_sixtieth_of_the_length(at: float, words: str) -> None:
    """50 mm of 3 m."""
    held = (Support(0.0, "pinned"), Support(1500.0, "pinned"))
    case = asked(LoadInputs(whole=FITTED, outline=ROWS, species="Spruce, Sitka", supports=held, loads=TIP))
    assert place_words(case, at) == words


@pytest.mark.parametrize("known", [{"righting_moment": 1e6}, {"crew": 140.0, "sits_out": 700.0}])
def test_what_the_boat_carries_loads_a_spar_with_no_sail_area_even_where_its_own_weight_counts(
    known: dict[str, Any],
) -> None:
    """1000 N·m over 2.5 m are 400 N; 140 kg of crew 0.7 m out are 140·9.80665·0.7 = 961.05 N·m, or 384.42 N."""
    inputs = LoadInputs(
        whole=FITTED, outline=ROWS, species="Spruce, Sitka", kind="boom", supports=FIXED, own_weight="yes",
        effort_height=2500.0, share=1.0, **known,
    )  # fmt: skip
    force = asked(inputs).force
    assert force is not None
    assert force.force == pytest.approx(400.0 if "righting_moment" in known else 384.42, rel=1e-4)
