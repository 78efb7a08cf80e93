"""Strength: typed beams, a boat's spars by their kind, what was measured, and every bad input in one line."""

from math import pi

import pytest

from shopcompanion import form
from shopcompanion.beam.model import Load, Push, Support
from shopcompanion.beam.proof import Case, prove
from shopcompanion.calculator import Result
from shopcompanion.calculators.strength import direction
from shopcompanion.catalog import load
from shopcompanion.errors import InputFault
from shopcompanion.lengths import RULES
from shopcompanion.profile.follow import follow
from shopcompanion.profile.parse import read
from shopcompanion.spar.along import Joint, Region
from shopcompanion.spar.body import Body
from shopcompanion.spar.fitting import Fitting
from shopcompanion.spar.outline import Outline
from shopcompanion.timber.species import Own, Species

from ..asking import MM_01, ask, refusal, typed
from ..storage.conftest import demo

BOATS = {name: read(demo(name)).boat for name in ("fjord-lugger", "saltmarsh-yawl")}
BEAM = {
    "length": "6 m", "butt": "140 mm", "head": "80 mm", "modulus": "10.8 GPa", "rupture": "65 MPa",
    "supports": "0 = fixed", "loads": "6 m = 500 N", "own_weight": "no",
}  # fmt: skip
FIXED = (Support(0.0, "fixed"),)
TIP = (Load("force", 3000.0, 3000.0, 200.0, 200.0),)
ROUND = {"outline": ((0.0, 80.0), (3000.0, 60.0)), "species": "Spruce, Sitka", "supports": FIXED, "own_weight": "no"}


def of_boat(boat: str, spar: str, **texts: str) -> Result:
    of = BOATS[boat]
    return form.solve(load("strength"), texts, follow(of, of.spar(spar), None), of.rule)


def test_a_typed_beam() -> None:
    """The cone cantilever of the outside checks: 309.339 mm, 11.789 MPa at 2 m from the heel."""
    answers = typed("strength", MM_01, **BEAM).answers
    assert answers.tip_deflection == pytest.approx(309.339, abs=1e-3)
    assert answers.worst_stress == pytest.approx(11.789255, abs=1e-6)
    assert answers.worst_at == pytest.approx(2000, abs=1)
    assert answers.factor == pytest.approx(65 / 11.789255, rel=1e-6)
    assert answers.critical_load is None
    assert answers.load == 500


def test_a_typed_column() -> None:
    """Euler, fixed and free: 2.4674·E·I/L²."""
    texts = {**BEAM, "head": "140 mm", "push": "6 m = 2 kN", "loads": "6 m = 1 N"}
    answers = typed("strength", MM_01, **texts).answers
    known = 2.4674011 * 10800 * pi / 64 * 140**4 / 6000**2
    assert answers.critical_load == pytest.approx(known, rel=1e-6)
    assert answers.load_factor == pytest.approx(known / 2000, rel=1e-6)
    assert answers.mode_at == 6000


def test_a_push_alone_is_a_question() -> None:
    texts = {name: text for name, text in BEAM.items() if name != "loads"}
    answers = typed("strength", MM_01, **texts, push="6 m = 2 kN").answers
    assert answers.worst_stress == pytest.approx(2000 / (pi / 4 * 80**2), rel=1e-4)
    assert answers.governs == "buckling, in any direction"


def test_an_oval_buckles_the_way_it_is_thin() -> None:
    wide, thin = Outline(((0.0, 80.0), (3000.0, 60.0))), Outline(((0.0, 60.0), (3000.0, 50.0)))
    for body, plane in ((Body(wide, thin, "oval"), "depth"), (Body(thin, wide, "oval"), "width")):
        gives = prove(Case(body, 10_000.0, FIXED, TIP, (Push(3000.0, 500.0),))).gives
        assert gives is not None
        assert direction(gives) == f"in the plane of its {plane}"


def test_an_upright_mast_bears_its_own_weight_alone() -> None:
    """7.837 EI/L² of a round bar, by the trade's own weight."""
    asked = {"length": 9000.0, "butt": 60.0, "head": 60.0, "species": "sitka", "kind": "mast", "own_weight": "yes"}
    answers = ask("strength", **asked, supports=FIXED).answers
    weight = 448.0e-9 * 9.80665 * pi / 4 * 60**2
    assert answers.pressed == pytest.approx(weight * 9000, rel=1e-4)
    known = 7.837347 * 10800 * pi / 64 * 60**4 / 9000**2
    assert answers.critical_load == pytest.approx(known, rel=1e-5)


@pytest.mark.parametrize(("boat", "spar"), [(name, spar.name) for name, boat in BOATS.items() for spar in boat.spars])
def test_every_spar_of_the_demo_boats_answers_with_nothing_typed(boat: str, spar: str) -> None:
    result = of_boat(boat, spar)
    assert result.answers.factor > 1
    assert result.drawing() is not None
    assert result.cautions[0].startswith("Guidance, not a design approval")
    assert result.tables[0].rows[0][0] == 0


def test_a_mast_is_held_at_its_step_and_partners() -> None:
    result = of_boat("fjord-lugger", "mast")
    assert result.inputs.supports == (Support(0.0, "pinned"), Support(620.0, "pinned"))
    assert result.answers.worst_at == pytest.approx(620, abs=0.1)
    assert result.answers.governs == "bending, at the partners"
    assert result.answers.load_from == "stability"
    assert result.answers.upright == pytest.approx(150 * 9.80665 * 0.75 / 2.3, rel=1e-9)
    assert result.answers.by_wind == pytest.approx(0.5 * 1.225 * 100 * 1.2 * 9.2, rel=1e-9)


def test_the_smaller_load_governs() -> None:
    calm = of_boat("fjord-lugger", "mast", wind="5 m/s").answers
    assert calm.load_from == "the breeze"
    assert calm.load == calm.by_wind < calm.upright


def test_a_stayed_mast_is_pressed_by_its_shrouds() -> None:
    result = of_boat("saltmarsh-yawl", "main mast", own_weight="no")
    takes = [row[2] for row in result.tables[1].rows]
    free = of_boat("saltmarsh-yawl", "main mast", own_weight="no", brace_angle="45")
    assert len(takes) == 3
    assert result.answers.stay_push > 3 * free.answers.stay_push
    assert result.answers.stay_push == pytest.approx(takes[-1] / 0.2125565617, rel=0.02)
    assert result.answers.pressed == pytest.approx(result.answers.stay_push + result.answers.load, rel=1e-6)


def test_thinner_is_weaker_and_bends_further() -> None:
    now, less = (of_boat("fjord-lugger", "mast", thinner=text, halyard_share="0").answers for text in ("0", "13 mm"))
    ratio = (104 - 13) / 104
    assert less.worst_stress == pytest.approx(now.worst_stress / ratio**3, rel=0.01)
    assert less.tip_deflection == pytest.approx(now.tip_deflection / ratio**4, rel=0.02)
    assert less.mass < now.mass
    assert (less.factor_drawn, less.tip_drawn, less.mass_drawn) == (now.factor, now.tip_deflection, now.mass)
    assert (now.factor_drawn, now.tip_drawn, now.mass_drawn) == (None, None, None)


def test_as_built_takes_what_was_measured() -> None:
    """The yard is still thicker than it is meant to be, so it is stiffer as it lies there."""
    meant, built = (of_boat("fjord-lugger", "yard", as_built=text).answers for text in ("no", "yes"))
    assert built.tip_deflection < meant.tip_deflection
    measured = ask("strength", **ROUND, loads=TIP, as_built="yes", measured=((1000.0, (77.0, 77.0), None),))
    other = ask("strength", **{**ROUND, "outline": ((0.0, 83.6667), (3000.0, 63.6667))}, loads=TIP)
    assert measured.answers.tip_deflection == pytest.approx(other.answers.tip_deflection, rel=1e-5)


def test_without_its_flats_and_holes() -> None:
    spar = Body(
        Outline(((0.0, 80.0), (3000.0, 60.0))),
        fittings=(Fitting(at=20.0, kind="cleat", length=40.0, flat=20.0, face="B"),),
    )
    answers = ask("strength", **ROUND, whole=spar, loads=TIP).answers
    assert answers.bent_plane == "width"
    assert answers.worst_stress > answers.worst_stress_whole
    assert answers.factor_whole == pytest.approx(answers.rupture_used / answers.worst_stress_whole)
    assert ask("strength", **ROUND, loads=TIP).answers.factor_whole is None


def test_a_hollow_wall_is_lighter_and_nearly_as_stiff() -> None:
    solid = ask("strength", **ROUND, loads=TIP).answers
    hollow = ask("strength", **ROUND, loads=TIP, section="hollow", wall=15.0).answers
    assert hollow.mass < 0.85 * solid.mass
    assert solid.tip_deflection < hollow.tip_deflection < 1.25 * solid.tip_deflection


def test_an_oval_is_stiffer_in_the_plane_of_its_depth() -> None:
    asked = {**ROUND, "section": "oval", "depth": 120.0, "loads": TIP}
    deep, wide = (ask("strength", **asked, plane=plane).answers for plane in ("depth", "width"))
    assert wide.tip_deflection / deep.tip_deflection == pytest.approx(1.5**2)
    assert ask("strength", **asked).answers.bent_plane == "width"


def test_a_load_that_changes_evenly_is_read_and_said() -> None:
    kind = next(field.kind for field in load("strength").typed_fields if field.name == "loads")
    for text in ("0 to 3 m = 100 to 20 N/m", "0 to 3 m = 100 N/m to 20", "0 to 3 m = 100 N/m to 0.02 N/mm"):
        value = kind.read(text, MM_01)
        assert value == (Load("spread", 0.0, 3000.0, 0.1, 0.02),)
        assert kind.show(value, MM_01) == "0 mm to 3000 mm = 100 to 20 N/m"
        assert kind.read(kind.show(value, MM_01), MM_01) == value
    answers = typed("strength", MM_01, **{**BEAM, "loads": "0 to 6 m = 100 to 0 N/m"}).answers
    assert answers.load == pytest.approx(300)
    assert answers.worst_moment >= 0.1 * 6000**2 / 6 * 0.5


def test_typed_lists_are_spelled_with_their_units() -> None:
    from shopcompanion.profile.preset import spell

    kinds = {field.name: field.kind for field in load("strength").typed_fields}
    assert spell(kinds["supports"], "0 = fixed; 24 = 40; 30 = spring 5 N/mm", "in") == (
        "0 = fixed; 24 in = 40 lbf/in; 30 in = spring 5 N/mm"
    )
    assert spell(kinds["loads"], "12 = 40; 0 to 12 = 3; 6 = 5 N m", "in") == (
        "12 in = 40 lbf; 0 to 12 in = 3 lbf/ft; 6 in = 5 N m"
    )
    assert spell(kinds["loads"], "0 to 12 = 3 to 1; 0 to 9 = 3 to 1 N/m; 0 to 9 = 3 N/m to 1", "in") == (
        "0 to 12 in = 3 to 1 lbf/ft; 0 to 9 in = 3 to 1 N/m; 0 to 9 in = 3 N/m to 1"
    )
    assert spell(kinds["push"], "12 = 40", "mm") == "12 mm = 40 N"


@pytest.mark.parametrize(
    ("texts", "field", "words"),
    [
        ({"supports": "2 m = pinned"}, "supports", "turns about that place"),
        ({"supports": "2 m = 40 N/mm"}, "supports", "turns about that place"),
        ({"supports": "7 m = fixed"}, "supports", "lies off the spar"),
        ({"loads": "7 m = 500 N"}, "loads", "lies off the spar"),
        ({"loads": "0 to 7 m = 50 N/m"}, "loads", "lies off the spar"),
        ({"push": "7 m = 5 kN"}, "push", "lies off the spar"),
        (
            {"push": "6 m = 500 kN"},
            "push",
            "it buckles under its load: it is pressed with 500 kN (112000 lbf)",
        ),
        ({"loads": "6 m = 0 N"}, "loads", "nothing bends or presses"),
        ({"section": "hollow"}, "wall", "a hollow spar has a wall"),
        ({"section": "hollow", "wall": "0"}, "wall", "a hollow spar has a wall"),
        ({"section": "hollow", "wall": "45 mm"}, "wall", "leaves no hollow"),
        ({"wall": "5 mm"}, "wall", "is for a hollow"),
        ({"depth": "50 mm"}, "depth", "is for an oval"),
        ({"section": "oval"}, "depth", "an oval has a depth at the heel as well"),
        ({"modulus": ""}, "species", "no timber is named"),
        ({"own_weight": "yes"}, "species", "the spar's own weight needs its timber"),
        ({"supports": ""}, "supports", "no supports are given"),
        ({"head": ""}, "head", "a plain taper needs length, butt and head"),
        ({"thinner": "200 mm"}, "thinner", "leaves no spar, for it is"),
        ({"as_built": "yes"}, "measured", "nothing is measured yet"),
        ({"station_step": "0.1 mm"}, "station_step", "more than 2000 rows"),
    ],
)
def test_what_cannot_be_is_told_in_one_line(texts: dict[str, str], field: str, words: str) -> None:
    with pytest.raises(InputFault) as caught:
        typed("strength", MM_01, **{**BEAM, **texts})
    assert caught.value.field == field
    assert words in caught.value.reason
    assert "\n" not in caught.value.reason


@pytest.mark.parametrize(
    ("field", "text", "words"),
    [
        ("supports", "0 = glued", "fixed, pinned or a spring"),
        ("supports", "0 = -5 N/mm", "is not a spring: its stiffness must be more than 0"),
        ("supports", "fixed", "is not place = what"),
        ("loads", "6 m = 500 kg", "is not understood"),
        ("loads", "6 m = 500 N/m", "0 to 3 m = 100 N/m"),
        ("loads", "0 to 3 m = 500 N", "100 N/m"),
        ("loads", "6 m = lots", "is not understood"),
        ("loads", "6 m = 500 to 100 N", "needs a stretch"),
        ("loads", "0 to 3 m = 5 to lots N/m", "is not understood"),
        ("push", "6 m = 2 kN m", "2 kN"),
    ],
)  # fmt: skip
def test_a_list_that_does_not_read(field: str, text: str, words: str) -> None:
    with pytest.raises(InputFault, match=words.replace("(", r"\(")):
        load("strength").typed_fields[[field.name for field in load("strength").typed_fields].index(field)].kind.read(
            text, RULES[6]
        )


def test_a_timber_without_figures() -> None:
    own = Own((Species("Pine, from the barn", 0.47),))
    asked = {**ROUND, "species": "barn", "own": own, "loads": TIP}
    assert "has no modulus of elasticity" in refusal("strength", **asked).reason
    assert "has no modulus of rupture" in refusal("strength", **asked, modulus=9000.0).reason
    assert ask("strength", **asked, modulus=9000.0, rupture=60.0).answers.factor > 0


def test_nothing_says_what_loads_it() -> None:
    fault = refusal("strength", **ROUND, kind="mast")
    assert fault.field == "sail_area"
    assert "no load is known" in fault.reason


def test_a_sail_that_lies_off_the_spar() -> None:
    fault = refusal("strength", **ROUND, kind="mast", sail_area=3.0, sail_to=4000.0)
    assert (fault.field, "lies off the spar" in fault.reason) == ("sail_to", True)


def test_heel_alone_is_told() -> None:
    spar = Body(Outline(((0.0, 80.0), (3000.0, 60.0))))
    cautions = ask("strength", **ROUND, whole=spar, kind="mast", sail_area=1.0).cautions
    assert any("No fitting says where it is held, so its heel is held fast" in caution for caution in cautions)


def test_a_pull_along_it_never_buckles_it() -> None:
    answers = ask("strength", **ROUND, loads=TIP, push=(Push(3000.0, -500.0),)).answers
    assert answers.load_factor is None


def says(result: Result, words: str) -> bool:
    return any(words in caution for caution in result.cautions)


def test_the_table_has_every_step_from_heel_to_head() -> None:
    (stations, _) = typed("strength", MM_01, **BEAM, station_step="100 mm").tables
    ats = [round(row[0], 6) for row in stations.rows]
    assert ats == sorted(set(ats))
    assert {100.0 * k for k in range(61)} <= set(ats)


def test_the_table_may_have_two_thousand_steps_and_no_more() -> None:
    texts = {**BEAM, "head": "140 mm"}  # worked hardest at its heel, which is a step anyway
    assert len(typed("strength", MM_01, **texts, station_step="3 mm").tables[0].rows) == 2001
    with pytest.raises(InputFault, match="more than 2000 rows"):
        _ = typed("strength", MM_01, **texts, station_step="2.9 mm").tables


def test_what_bends_nothing_is_a_question() -> None:
    """A load of nothing on a spar without weight works it by nothing."""
    nothing = (Load("force", 3000.0, 3000.0, 0.0, 0.0),)
    undone = (*TIP, Load("force", 3000.0, 3000.0, -200.0, -200.0))
    for loads in (nothing, undone):
        assert refusal("strength", **ROUND, loads=loads).field == "loads"


@pytest.mark.parametrize(("angle", "part"), [(90.0, ""), (60.0, "·sin(60°)")])
def test_a_pull_square_to_the_mast_has_no_sine_in_its_sum(angle: float, part: str) -> None:
    steps = of_boat("fjord-lugger", "mast", pull_angle=f"{angle}").working()
    assert [step.formula for step in steps if step.name == "load"] == [f"min(by_wind, upright){part}"]


@pytest.mark.parametrize(
    ("newtons", "near", "breaks"), [(910, False, False), (930, True, False), (2740, True, False), (2780, False, True)]
)
def test_how_near_to_breaking_it_is_told(newtons: int, near: bool, breaks: bool) -> None:
    """The beam has a factor of 65/11.789 = 5.514 under 500 N: three under 919 N, one under 2757 N."""
    result = typed("strength", MM_01, **{**BEAM, "loads": f"6 m = {newtons} N"})
    assert says(result, "Less than three times the load to breaking") == near
    assert says(result, "breaks under this load") == breaks


@pytest.mark.parametrize(("newtons", "told"), [(960, False), (980, True)])
def test_a_bend_of_more_than_a_tenth_is_told(newtons: int, told: bool) -> None:
    """309.339 mm under 500 N: 600 mm, a tenth of the beam, under 969.8 N."""
    result = typed("strength", MM_01, **{**BEAM, "loads": f"6 m = {newtons} N"})
    assert says(result, "further than a tenth") == told


def test_it_is_drawn_bent_upward_whichever_way_it_moves() -> None:
    up, down = (typed("strength", MM_01, **{**BEAM, "loads": f"6 m = {load}"}) for load in ("500 N", "-500 N"))
    assert up.answers.most_deflection == pytest.approx(down.answers.most_deflection)
    assert up.drawing().bounds() == pytest.approx(down.drawing().bounds())
    assert up.drawing().bounds()[3] > 600
    little = typed("strength", MM_01, **{**BEAM, "loads": "6 m = 1 N"})  # moves 0.62 mm
    assert little.drawing().bounds() == pytest.approx(up.drawing().bounds())


def test_where_the_load_comes_from_the_crew_that_is_told() -> None:
    assert says(of_boat("fjord-lugger", "mast"), "crew's weight alone")
    assert not says(of_boat("fjord-lugger", "mast", wind="5 m/s"), "crew's weight alone")
    assert not says(of_boat("fjord-lugger", "mast", righting_moment="1000 N m"), "crew's weight alone")
    assert not says(typed("strength", MM_01, **BEAM), "crew's weight alone")


def test_a_guess_at_what_holds_it_is_told_unless_its_fittings_say() -> None:
    assert not says(of_boat("fjord-lugger", "mast"), "No fitting says")
    asked = {**ROUND, "kind": "mast", "sail_area": 1.0}
    spar = Body(Outline(ROUND["outline"]), fittings=(Fitting(at=0.0, kind="step"),))
    assert says(ask("strength", **asked, whole=spar), "its heel is held fast")
    assert not says(ask("strength", **asked), "No fitting says")
    gaff = {**ROUND, "supports": None, "kind": "gaff", "sail_area": 1.0}
    for fittings, told in (((), True), ((Fitting(at=0.0, kind="jaws"),), False)):  # the jaws' place is known
        spar = Body(Outline(ROUND["outline"]), fittings=fittings)
        assert says(ask("strength", **gaff, whole=spar), "both its ends are pinned") == told


def test_what_is_left_out_is_told() -> None:
    weightless = {name: text for name, text in BEAM.items() if name != "own_weight"}
    assert says(typed("strength", MM_01, **weightless), "own weight is left out")
    assert not says(typed("strength", MM_01, **BEAM), "own weight is left out")
    asked = {**ROUND, "loads": TIP, "measured": ((1000.0, (77.0, 77.0), None),)}
    assert says(ask("strength", **asked), "measured widths are left out")
    assert not says(ask("strength", **asked, as_built="yes"), "measured widths are left out")
    assert not says(ask("strength", **asked, whole=Body(Outline(ROUND["outline"]))), "measured widths are left out")
    assert not says(ask("strength", **ROUND, loads=TIP), "measured widths are left out")


def test_it_weighs_what_its_timber_does() -> None:
    """A cone of 80 to 60 mm, 3 m of spruce at 448 kg/m³."""
    answers = ask("strength", **ROUND, loads=TIP).answers
    assert answers.mass == pytest.approx(448e-9 * pi / 12 * (80**2 + 80 * 60 + 60**2) * 3000)


@pytest.mark.parametrize(("all_sails", "part"), [("18.4 m2", 0.5), ("9.2 m2", 1.0), ("4 m2", 1.0)])
def test_a_sail_among_others_has_its_part_of_what_the_boat_carries(all_sails: str, part: float) -> None:
    """The lugger's sail has 9.2 m²."""
    answers = of_boat("fjord-lugger", "mast", all_sails=all_sails).answers
    assert answers.upright == pytest.approx(part * 150 * 9.80665 * 0.75 / 2.3)


def test_a_righting_moment_alone_loads_a_mast_that_has_weight() -> None:
    answers = ask(
        "strength", **{**ROUND, "own_weight": "yes"}, kind="mast", righting_moment=1e6, effort_height=2500.0
    ).answers
    assert (answers.load_from, answers.load) == ("stability", pytest.approx(400))


@pytest.mark.parametrize(
    ("texts", "place"),
    [
        ({}, "33 % of the way from heel to head"),
        ({"head": "140 mm"}, "at the heel"),
        ({"head": "140 mm", "supports": "6 m = fixed", "loads": "0 = 500 N"}, "at the head"),
        ({"head": "140 mm", "supports": "0 = pinned; 2 m = pinned"}, "where it is held"),
        ({"head": "140 mm", "supports": "0 = pinned; 6 m = pinned", "loads": "3 m = 500 N"},
         "50 % of the way from heel to head"),
    ],
)  # fmt: skip
def test_where_it_would_break_is_told_in_words(texts: dict[str, str], place: str) -> None:
    assert typed("strength", MM_01, **{**BEAM, **texts}).answers.governs == f"bending, {place}"


@pytest.mark.parametrize(
    ("at", "place"),
    [
        (1545.0, "at the cleat"),
        (1510.5, "at the cleat"),
        (1509.0, "50 % of the way from heel to head"),
        (1400.0, "at the scarf joint"),
    ],
)
def test_it_is_told_by_what_is_near(at: float, place: str) -> None:
    """Pinned at both ends, pulled at one place of 3 m: within 50 mm of it lies a cleat, or a joint."""
    spar = Body(
        Outline(((0.0, 80.0), (3000.0, 80.0))),
        joints=(Joint(at=1390.0, kind="scarf"),),
        fittings=(Fitting(at=1560.0, kind="cleat"),),
    )
    ends = (Support(0.0, "pinned"), Support(3000.0, "pinned"))
    asked = {**ROUND, "outline": spar.outline.stations, "supports": ends, "whole": spar}
    answers = ask("strength", **asked, loads=(Load("force", at, at, 200.0, 200.0),)).answers
    assert answers.governs == f"bending, {place}"


def widths(**asked: object) -> dict[float, float]:
    """The widths that strength works with, by their stations, each half metre."""
    (stations, _) = ask("strength", **{**ROUND, **asked}, loads=TIP, station_step=250.0).tables
    return {row[0]: row[1] for row in stations.rows}


def test_between_two_measures_the_error_changes_evenly_and_beyond_them_it_stays() -> None:
    """The cone is 80 − at/150 mm; measured 2 mm too thick at 1 m and 2 mm too thin at 2 m."""
    measured = tuple((at, (80 - at / 150 + over,) * 2, None) for at, over in ((1000.0, 2.0), (2000.0, -2.0)))
    built = widths(as_built="yes", measured=measured)
    for at, over in ((0.0, 2), (500.0, 2), (1250.0, 1), (1500.0, 0), (1750.0, -1), (2500.0, -2), (3000.0, -2)):
        assert built[at] == pytest.approx(80 - at / 150 + over)


def test_an_oval_as_built_has_each_way_by_its_own_measure() -> None:
    """11 mm deeper and 2 mm wider than drawn, at one station and so everywhere."""
    wide, deep = ((0.0, 80.0), (3000.0, 60.0)), ((0.0, 120.0), (3000.0, 90.0))
    asked = {"section": "oval", "depth": 120.0, "plane": "depth", "loads": TIP}
    measured = ((1500.0, (70 + 2, 105 + 11), None),)
    built = ask("strength", **ROUND, **asked, as_built="yes", measured=measured).answers
    more = [tuple((at, size + over) for at, size in rows) for rows, over in ((wide, 2), (deep, 11))]
    whole = Body(Outline(more[0]), Outline(more[1]), "oval")
    known = ask("strength", **{**ROUND, "outline": more[0]}, whole=whole, section="oval", plane="depth", loads=TIP)
    assert built.tip_deflection == pytest.approx(known.answers.tip_deflection, rel=1e-4)


def test_widths_that_are_typed_stand_on_the_spar_of_the_boat() -> None:
    """Another taper of the same length keeps its fittings, joints and regions; another length leaves them out."""
    flat = Fitting(at=20.0, kind="cleat", length=40.0, flat=20.0, face="B")
    spar = Body(
        Outline(((0.0, 80.0), (3000.0, 60.0))), fittings=(flat,),
        regions=(Region(from_=500.0, to=1500.0, section="square"),),
    )  # fmt: skip
    other = ((0.0, 80.0), (1000.0, 70.0), (3000.0, 40.0))
    kept = ask("strength", **{**ROUND, "outline": other}, whole=spar, loads=TIP).answers
    bare = ask("strength", **{**ROUND, "outline": other}, loads=TIP).answers
    assert kept.factor_whole is not None
    assert kept.mass > 1.05 * bare.mass
    assert widths(outline=other, whole=spar)[2000.0] == pytest.approx(55)
    longer = ((0.0, 80.0), (3500.0, 60.0))
    assert ask("strength", **{**ROUND, "outline": longer}, whole=spar, loads=TIP).answers.factor_whole is None


def test_another_section_is_not_the_boats_spar() -> None:
    spar = Body(Outline(ROUND["outline"]))
    square = ask("strength", **ROUND, whole=spar, section="square", loads=TIP).answers
    assert square.mass == pytest.approx(ask("strength", **ROUND, whole=spar, loads=TIP).answers.mass * 4 / pi)


def test_a_plain_taper_takes_the_ends_it_is_not_told_from_the_spar() -> None:
    spar = Body(Outline(((0.0, 80.0), (3000.0, 60.0))))
    wide = widths(whole=spar, butt=90.0)
    assert (wide[0.0], wide[1500.0], wide[3000.0]) == (90, 75, 60)
    assert widths(whole=spar, head=70.0)[0.0] == 80


@pytest.mark.parametrize(("push", "told"), [("80 kN", False), ("120 kN", True)])
def test_where_half_of_the_stress_is_pressure_that_is_told(push: str, told: bool) -> None:
    """A metre of 140 mm, 1500 N at its end: 5.57 MPa of bending, amplified by 1/(1 − P/502 kN) and a little more, and
    5.20 or 7.80 MPa of pressure: 44 % and 52 % of the whole."""
    texts = {**BEAM, "length": "1 m", "head": "140 mm", "loads": "1 m = 1500 N", "push": f"1 m = {push}"}
    assert says(typed("strength", MM_01, **texts), "straight pressure") == told


def test_what_stays_solid_of_a_hollow_spar_stays_so_in_other_widths() -> None:
    """Drawn 10 mm thinner, and asked for 10 mm thinner: the same spar."""
    solid = ((500.0, 1500.0),)
    even = {size: Outline(((0.0, size), (3000.0, size))) for size in (70.0, 80.0)}
    drawn, whole = (Body(outline, section="hollow", wall=10.0, solid=solid) for outline in even.values())
    asked = {**ROUND, "outline": even[70.0].stations, "section": "hollow", "wall": 10.0, "loads": TIP}
    assert ask("strength", **asked, whole=whole).answers == ask("strength", **asked, whole=drawn).answers
    bare = Body(even[80.0], section="hollow", wall=10.0)
    assert ask("strength", **asked, whole=bare).answers.mass < ask("strength", **asked, whole=whole).answers.mass


@pytest.mark.parametrize(
    ("asked", "field", "words"),
    [
        ({"section": "staves"}, "section", "needs a spar of a boat made of them"),
        ({"thinner": 80.0}, "thinner", "leaves no spar"),  # as much as it is thick
    ],
)
def test_what_makes_no_spar_is_refused(asked: dict[str, object], field: str, words: str) -> None:
    fault = refusal("strength", **ROUND, loads=TIP, **asked)
    assert (fault.field, words in fault.reason) == (field, True)


@pytest.mark.parametrize("known", [{"righting_moment": 1e6}, {"effort_height": 2000.0}])
def test_what_the_boat_carries_upright_takes_a_moment_and_a_height(known: dict[str, float]) -> None:
    answers = ask("strength", **ROUND, kind="mast", sail_area=3.0, wind=10.0, **known).answers
    assert (answers.upright, answers.load_from) == (None, "the breeze")


def test_a_stay_of_a_boom_stands_at_45_degrees() -> None:
    """Where nothing is typed: it presses the spar as hard as it holds it."""
    asked = {**ROUND, "supports": (Support(0.0, "pinned"), Support(3000.0, "pinned")), "kind": "boom"}
    answers = ask("strength", **asked, sail_area=3.0, wind=10.0, brace_at=(3000.0,)).answers
    assert answers.stay_pull > 0
    assert answers.stay_push == pytest.approx(answers.stay_pull)


@pytest.mark.parametrize(
    ("asked", "counts"),
    [
        ({"kind": "other", "loads": TIP}, "yes"),
        ({"kind": "boom", "loads": TIP}, "yes"),
        ({"kind": "other"}, "yes"),
        ({"kind": "sprit", "sail_area": 3.0}, "yes"),
        ({"kind": "boom", "sail_area": 3.0}, "no"),
    ],
)
def test_where_nothing_is_said_its_own_weight_counts_unless_a_sail_bends_it(
    asked: dict[str, object], counts: str
) -> None:
    lying = {**ROUND, "supports": (Support(0.0, "pinned"), Support(2000.0, "pinned")), **asked}
    moves = {own: ask("strength", **{**lying, "own_weight": own}).answers.most_deflection for own in (None, counts)}
    assert moves[None] == moves[counts]
    if "loads" in asked or counts == "no":
        other = "no" if counts == "yes" else "yes"
        assert ask("strength", **{**lying, "own_weight": other}).answers.most_deflection != moves[None]
