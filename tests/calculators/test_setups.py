"""How a spar of each kind is held and loaded with nothing typed, each worked by hand: statics, and no more.

The boat is invented: a sail of 8 m², a crew of 140 kg who sit out 0.7 m, the sail's centre 2.5 m over that of the
hull's side, so it carries 140·9.80665·0.7/2.5 = 384.42 N upright; a wind of 10 m/s would make ½·1.225·10²·1.2·8 = 588 N
of it.
"""

import re
from math import cos, pi, radians, sin, tan

import pytest

from shopcompanion import form
from shopcompanion.calculator import Result
from shopcompanion.catalog import load
from shopcompanion.errors import InputFault
from shopcompanion.profile.follow import follow
from shopcompanion.profile.parse import read

from ..sums import worth

FORCE = 140 * 9.80665 * 0.7 / 2.5
BOAT = """
format = 1
[boat]
name = "Curlew"
units = "mm"
sail_area = "8 m2"
wind = "10 m/s"
crew = "140 kg"
sits_out = "0.7 m"
effort_height = "2.5 m"

[[spar]]
name = "it"
kind = "KIND"
species = "Spruce, Sitka"
length = "LENGTH m"
stations = [{ at = "0", width = "100 mm" }, { at = "LENGTH m", width = "100 mm" }]
fittings = [FITTINGS]
MORE
"""
AREA, MODULUS = pi / 4 * 100**2, pi / 32 * 100**3


def strength(kind: str, length: float, *fittings: tuple[float, str, str], more: str = "", **texts: str) -> Result:
    rows = ", ".join(f'{{ at = "{at} m", kind = "{of}", name = "{name or of}" }}' for at, of, name in fittings)
    text = BOAT.replace("KIND", kind).replace("LENGTH", str(length)).replace("FITTINGS", rows).replace("MORE", more)
    reading = read(text)
    assert reading.faults == ()
    boat = reading.boat
    return form.solve(load("strength"), texts, follow(boat, boat.spars[0], None), boat.rule)


def takes(result: Result) -> list[float]:
    return [row[2] for row in result.tables[1].rows]


def moment(result: Result, at: float) -> float:
    """N·m."""
    return next(row[2] for row in result.tables[0].rows if abs(row[0] - at) < 1e-6) / 1e3


def worst(result: Result) -> float:
    """N·m."""
    moment: float = result.answers.worst_moment
    return moment / 1e3


def test_an_unstayed_mast() -> None:
    """Step and partners hold it. From the partners up it is a cantilever: 384.42 N in the middle of the sail, which
    reaches from 1 to 5 m, 2.4 m over the partners at 0.6 m. Its heel takes that moment over 0.6 m. The halyard presses
    it with 384.42 N."""
    result = strength(
        "mast", 5.4, (0, "step", ""), (0.6, "partners", ""), (1, "gooseneck", ""), (5, "sheave", ""), own_weight="no"
    )
    bent = FORCE * 2.4
    assert result.answers.load == pytest.approx(FORCE)
    assert result.answers.load_from == "stability"
    assert result.answers.pressed == pytest.approx(FORCE)
    amplified = 1 / (1 - 1 / result.answers.load_factor)  # what the halyard adds by the bow
    assert bent <= worst(result) <= bent * amplified
    assert result.answers.worst_at == pytest.approx(600)
    assert takes(result)[0] == pytest.approx(-bent / 0.6, rel=amplified - 1)
    assert takes(result)[1] == pytest.approx(FORCE + bent / 0.6, rel=amplified - 1)
    known = bent * 1e3 / MODULUS + FORCE / AREA
    assert known <= result.answers.worst_stress <= known * amplified
    without = strength(
        "mast", 5.4, (0, "step", ""), (0.6, "partners", ""), (1, "gooseneck", ""), (5, "sheave", ""),
        own_weight="no", halyard_share="0",
    )  # fmt: skip
    assert worst(without) == pytest.approx(bent, rel=1e-6)
    assert without.answers.worst_stress == pytest.approx(bent * 1e3 / MODULUS, rel=1e-6)


STAYED = ((0, "step", ""), (5, "hounds", ""), (1, "gooseneck", ""), (5.5, "sheave", ""))


def test_a_stayed_mast() -> None:
    """Stepped on deck and held by shrouds at 5 m: 384.42 N at 3.25 m, so the hounds take 384.42·3.25/5 = 249.87 N.
    Shrouds at 12° press with 249.87/tan 12° = 1175.6 N from there down, the halyard with 384.42 N; and its own weight,
    448 kg/m³ · 6 m of it."""
    result = strength("mast", 6, *STAYED, own_weight="no")
    hounds = FORCE * 3.25 / 5
    assert result.answers.stay_pull == pytest.approx(hounds, rel=5e-3)  # the halyard's bow adds the rest
    assert result.answers.stay_push == pytest.approx(hounds / tan(radians(12)), rel=5e-3)
    assert result.answers.halyard_push == pytest.approx(FORCE)
    assert result.answers.pressed == pytest.approx(hounds / tan(radians(12)) + FORCE, rel=5e-3)
    # Between step and hounds R·x − q·(x − 1)²/2 is most at x = 1 + R/q, R = F − hounds, q = F/4.5.
    heel, size = FORCE - hounds, FORCE / 4.5
    most = heel * (1 + heel / size) - size * (heel / size) ** 2 / 2  # N·m, as FORCE is spread over metres
    amplified = 1 / (1 - 1 / result.answers.load_factor)
    assert most <= worst(result) <= most * amplified * 1.01
    heavy = strength("mast", 6, *STAYED).answers
    assert heavy.pressed - result.answers.pressed == pytest.approx(448e-9 * AREA * 6000 * 9.80665, rel=0.01)


def test_a_stayed_masts_compression_is_that_of_the_book() -> None:
    """N. Skene, Elements of Yacht Design, from memory and unverified: righting moment over half the shrouds' base, with
    85 % for stays, sheets and halyards. The base of shrouds at 12° on 5 m is 1.06 m a side.

    There the whole moment comes on the shrouds, here the sail's force on mast and hounds: the same within a third.
    """
    result = strength("mast", 6, *STAYED).answers
    assert result.pressed == pytest.approx(1.85 * 140 * 9.80665 * 0.7 / (5 * tan(radians(12))), rel=1 / 3)


def test_a_boom() -> None:
    """Gooseneck, and the sheet at 2 m of 3: half of the force evenly on 3 m, so 0.5 m beyond half way to it.
    The sheet takes 192.21·1.5/2 N, and beyond it stand 64.07 N/m · 1² / 2."""
    result = strength("boom", 3, (0, "gooseneck", ""), (2, "block", "sheet"))
    assert takes(result) == pytest.approx([FORCE / 2 * 0.25, FORCE / 2 * 0.75], rel=1e-6)
    assert abs(moment(result, 2000)) == pytest.approx(FORCE / 2 / 3 * 1**2 / 2, rel=1e-6)
    assert result.answers.critical_load is None


def test_a_gaff() -> None:
    """Jaws, and the peak halyard at 2 m of 3, at 45°: it takes 192.21·1.5/2 N square to the gaff, and thrusts as much
    along it to the jaws."""
    result = strength("gaff", 3, (0, "jaws", ""), (2, "sling", ""))
    assert result.answers.stay_pull == pytest.approx(FORCE / 2 * 0.75, rel=1e-6)
    assert result.answers.pressed == pytest.approx(FORCE / 2 * 0.75, rel=1e-6)
    two = strength("gaff", 3, (0, "jaws", ""), (1, "sling", ""), (2, "sling", ""))  # a span: both its ends thrust
    assert two.answers.stay_push == pytest.approx(sum(takes(two)[1:]), rel=1e-3)
    assert two.answers.pressed == pytest.approx(two.answers.stay_push)


def test_a_yard() -> None:
    """Slung at 1.2 m of 3, either arm is a cantilever: the longer is bent by 64.07 N/m · 1.8² / 2."""
    result = strength("yard", 3, (1.2, "sling", ""))
    assert abs(moment(result, 1200)) == pytest.approx(FORCE / 2 / 3 * 1.8**2 / 2, rel=1e-6)
    assert result.answers.worst_at == pytest.approx(1200)


JIB = 'sail_area = "2 m2"'  # a jib, in 10 m/s of wind 147 N: less than the boat carries
PULL = 2 * 0.5 * 1.225 * 100 * 1.2 * 2  # its stay pulls with twice that


def test_a_bowsprit_with_its_bobstay() -> None:
    """The stay pulls with 294 N at 60°: 254.6 N up, which the bobstay at 30° takes, pressing with 254.6/tan 30° =
    441 N; 147 N along. Sideways only the pin at 0.1 m and the gammoning at 0.6 m hold it: an eighth of the pull,
    36.75 N, bends it there by 36.75·1.2 N·m."""
    result = strength("bowsprit", 2, (0.1, "pin", ""), (0.6, "gammoning", ""), (1.8, "band", "bobstay"), more=JIB)
    up, along = PULL * sin(radians(60)), PULL * cos(radians(60))
    assert result.answers.load_from == "the breeze"
    assert result.answers.stay_pull == pytest.approx(up, rel=5e-3)
    assert result.answers.pressed == pytest.approx(along + up / tan(radians(30)), rel=5e-3)
    bent, amplified = PULL / 8 * 1.2, 1 / (1 - 1 / result.answers.load_factor)
    assert result.answers.bent_plane == "width"
    assert result.answers.load == pytest.approx(PULL / 8)
    assert bent <= abs(moment(result, 600)) <= bent * amplified
    known = bent * 1e3 / MODULUS + result.answers.pressed / AREA
    assert known <= result.answers.worst_stress <= known * amplified
    assert takes(result)[0] == pytest.approx(-bent / 0.5, rel=0.02)


def test_a_bowsprit_without_one() -> None:
    """A cantilever from the gammoning: 254.6 N · 1.4 m, and 147 N along it."""
    result = strength("bowsprit", 2, (0.1, "pin", ""), (0.6, "gammoning", ""), (2, "band", "tack"), more=JIB)
    bent = PULL * sin(radians(60)) * 1.4
    assert result.answers.stay_push is None
    assert result.answers.bent_plane == "depth"
    assert abs(moment(result, 600)) == pytest.approx(bent, rel=0.01)
    assert result.answers.worst_stress == pytest.approx(bent * 1e3 / MODULUS + PULL / 2 / AREA, rel=0.01)


def test_a_bumkin() -> None:
    """Half of the force at its end at 60°, and half of that sideways, where its stay does not hold it."""
    result = strength("bumkin", 1.5, (0, "heel", ""), (0.4, "gammoning", ""), (1.5, "band", "bobstay"), more=JIB)
    pull = PULL / 4
    assert result.answers.load == pytest.approx(pull / 2)
    assert abs(moment(result, 400)) == pytest.approx(pull / 2 * 1.1, rel=0.01)


def test_a_sprit() -> None:
    """A strut: half of the force along it; its own weight bends it, q·L²/8."""
    result = strength("sprit", 3)
    weight = 448e-9 * AREA * 9.80665  # N/mm
    assert result.answers.pressed == pytest.approx(FORCE / 2)
    assert worst(result) == pytest.approx(weight * 3000**2 / 8 / 1e3, rel=0.01)
    assert result.answers.load == 0


@pytest.mark.parametrize(
    ("kind", "held"),
    [
        ("bowsprit", ((0.1, "pin", ""), (0.6, "gammoning", ""), (1.8, "band", "bobstay"))),
        ("bowsprit", ((0.1, "pin", ""), (0.6, "gammoning", ""), (2, "band", "tack"))),
        ("bumkin", ((0, "heel", ""), (0.4, "gammoning", ""), (1.5, "band", "bobstay"))),
    ],
)
def test_the_load_that_is_printed_as_a_sum_is_the_one_that_bends_it(kind: str, held: tuple) -> None:
    """Up and down the sine of the stay's angle of its pull, sideways the share of it that no stay takes."""
    result = strength(kind, 2, *held, more=JIB)
    (step,) = [step for step in result.working() if step.name == "load"]
    assert worth(step.put_in) == pytest.approx(result.answers.load, rel=1e-4)


def test_a_bitt() -> None:
    """As its profile says: fixed at the deck, 200 N of the bowsprit's heel 0.3 m over it."""
    result = strength(
        "bitt", 1, (0, "step", ""), (0.5, "partners", ""), more='loads = "0.8 m = 200 N"', own_weight="no"
    )
    assert worst(result) == pytest.approx(200 * 0.3)
    assert result.answers.assumes == "its loads and supports are as typed"


def test_a_mizzen_alone_may_bear_all_that_the_boat_carries() -> None:
    """With the others taken in it is the smaller of the wind on it and the boat's whole stability; with them set, its
    part of that by area."""
    alone = strength("mizzen", 5.4, (0, "step", ""), (0.6, "partners", ""), more='sail_area = "6 m2"')
    among = strength(
        "mizzen", 5.4, (0, "step", ""), (0.6, "partners", ""), more='sail_area = "6 m2"', all_sails="24 m2"
    )
    assert alone.answers.upright == pytest.approx(FORCE)
    assert among.answers.upright == pytest.approx(FORCE / 4)


def test_what_is_assumed_is_said() -> None:
    mast = strength("mast", 6, *STAYED)
    assert mast.answers.assumes == (
        "the sail presses evenly along it, its halyard presses as hard down it, its stays press it at 12° to it"
    )
    assert {step.name: step.formula for step in mast.working()}["stay_push"] == "stay_pull / tan(12°)"
    sprit = strength("bowsprit", 2, (0.6, "gammoning", ""), (2, "band", "tack"), more=JIB)
    assert sprit.answers.assumes == "the jib's stay pulls with twice the jib's force, an eighth of that sideways"
    assert any("The crew's weight alone" in line for line in mast.cautions)
    assert not any("The crew's weight alone" in line for line in sprit.cautions)  # the wind sets its load


def test_straight_pressure_is_told_apart() -> None:
    """Wood crushes at about half its modulus of rupture: Wood Handbook Table 5-3a has 38.7 MPa beside 70 MPa of Sitka
    spruce, from memory."""
    result = strength("sprit", 1, own_weight="no")
    assert any("halve the factor" in line for line in result.cautions)
    assert not any("halve the factor" in line for line in strength("yard", 3, (1.2, "sling", "")).cautions)


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        ("mast", "so its heel is held fast"), ("bowsprit", "so its heel is held fast"),
        ("boom", "so both its ends are pinned"), ("gaff", "so both its ends are pinned"),
        ("yard", "so its middle is held fast"), ("sprit", ""),
    ],
)  # fmt: skip
def test_a_spar_without_fittings_is_answered_and_told_how_it_is_taken(kind: str, words: str) -> None:
    result = strength(kind, 3)
    assert result.answers.factor > 0
    assert any(words in line for line in result.cautions)
    assert any("No fitting says" in line for line in result.cautions) == bool(words)


def test_where_fittings_hold_it_nothing_is_guessed() -> None:
    for result in (strength("mast", 6, *STAYED), strength("boom", 3, (0, "gooseneck", "")),
                   strength("yard", 3, (1.2, "sling", ""))):  # fmt: skip
        assert not any("No fitting says" in line for line in result.cautions)


def test_a_stay_where_nothing_holds_is_told() -> None:
    result = strength("mast", 6, *STAYED, brace_at="3 m")
    assert result.answers.stay_push is None
    assert (
        "Nothing holds the spar at 3000 mm, so the stay there presses nothing: add a support there." in result.cautions
    )


def test_no_sail_bends_a_bitt() -> None:
    with pytest.raises(InputFault, match="nothing pulls at the bitt") as caught:
        strength("bitt", 1, (0, "step", ""), (0.5, "partners", ""))
    assert caught.value.field == "loads"


def test_no_crew_bends_a_spar_that_is_of_no_kind() -> None:
    """It lies on two trestles, and its own weight alone bends it: q·L²/8."""
    result = strength("other", 3, sail_area="")
    assert worst(result) == pytest.approx(448e-9 * AREA * 9.80665 * 3000**2 / 8 / 1e3, rel=0.01)


def test_a_bend_past_what_small_bends_are_is_told() -> None:
    result = strength("mast", 6, (0, "step", ""), thinner="40 mm", halyard_share="0", own_weight="no")
    assert result.answers.most_deflection > 600
    assert any("These sums hold for small bends" in line for line in result.cautions)


def test_without_sail_and_crew_the_load_is_asked_for() -> None:
    bare = re.sub(r"(sail_area|wind|crew|sits_out|effort_height) = .*\n", "", BOAT)
    text = bare.replace("KIND", "mast").replace("LENGTH", "5").replace("FITTINGS", "").replace("MORE", "")
    boat = read(text).boat
    with pytest.raises(InputFault, match="no load is known: type the sail's area, or a righting moment") as caught:
        form.solve(load("strength"), {}, follow(boat, boat.spars[0], None), boat.rule)
    assert caught.value.field == "sail_area"
