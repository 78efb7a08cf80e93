"""The boat's own timbers: read, timber by the sums, and refused in one line where they will not do."""

import json
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from shopcompanion.profile.follow import follow
from shopcompanion.profile.parse import read
from shopcompanion.profile.schema import schema
from shopcompanion.timber.moisture import density
from shopcompanion.timber.species import find

from ..storage.conftest import demo

HEAD = 'format = 1\n[boat]\nname = "Dabchick"\nunits = "in"\n'
PEAR = """[[species]]
name = "Pear, garden"
sg12 = 0.7
modulus = "1.2e6 psi"
"""
STICK = """[[spar]]
name = "stick"
length = "6 ft"
stations = [{ at = "0", width = "2 in" }, { at = "6 ft", width = "1 in" }]
"""


def own(**changed: Any) -> str:
    row = {"name": "Pear, garden", "sg12": 0.7, **changed}
    lines = [f"{key} = {json.dumps(value)}" for key, value in row.items() if value is not None]
    return HEAD + "[[species]]\n" + "\n".join(lines) + "\n"


def told(text: str) -> list[str]:
    return [str(fault) for fault in read(text).faults]


def test_the_lugger_has_one_that_the_sums_find() -> None:
    boat = read(demo("fjord-lugger")).boat
    (larch,) = boat.species
    followed = follow(boat, boat.spars[0], 0.0)["boat.species"]
    assert followed is not None
    timber = find("larch, fjord side", boat.own)
    assert (timber.sg12, timber.modulus, timber.mark) == (larch.sg12, 12400, "the boat's own")
    assert "invented" in timber.source


def test_figures_with_or_without_their_unit_are_in_the_shops_or_in_their_own() -> None:
    (species,) = read(own(modulus=1200000, rupture="70 MPa", radial=4, volumetric="12 %")).boat.species
    assert species.modulus == pytest.approx(1200000 * 6894.757e-6)  # psi, NIST SP 811
    assert (species.rupture, species.radial, species.volumetric, species.tangential) == (70, 4, 12, None)


def test_it_may_say_where_it_begins_to_shrink() -> None:
    (species,) = read(own(saturation="22 %")).boat.species
    assert species.species.shrinks_below == 22
    (without,) = read(own()).boat.species
    assert without.species.shrinks_below == 30


def test_a_density_at_12_percent_will_do_for_the_gravity() -> None:
    (species,) = read(own(sg12=None, density="560 kg/m^3")).boat.species
    assert species.species.sg12 == pytest.approx(0.5)
    assert density(species.species.sg12, 12) == pytest.approx(560)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (own(name="spruce,  SITKA"), "name: the companion's table has a timber 'spruce,  SITKA': give this another"),
        (own() + own().removeprefix(HEAD), "name: another row has a timber 'Pear, garden'"),
        (own(sg12=None), "sg12: neither sg12 nor density: give one of them"),
        (own(density="43 lb/ft^3"), "sg12: both sg12 and density"),
        (own(sg12=0), "sg12: 0 will not do, it must be more than 0.05"),
        (own(saturation="10 %"), "saturation: 10 % will not do, it must be at least 15 %"),
        (own(radial=30), "radial: 30 % will not do, it must be less than 30 %"),
        (own(modulus="strong"), "modulus: strong is not understood"),
        (own(colour="red"), "colour: unknown key"),
        (own(name=None), "name: missing"),
    ],
)
def test_what_will_not_do_is_told_in_one_line(text: str, said: str) -> None:
    (fault,) = told(text)
    assert said in fault
    assert "species" in fault


def test_an_unknown_timber_is_told_and_the_spar_stays() -> None:
    reading = read(HEAD + STICK.replace("length", 'species = "sitca sprus"\nlength', 1))
    (fault,) = map(str, reading.faults)
    assert fault.startswith("spar 1 'stick', species: no timber is called 'sitca sprus'")
    assert "Spruce, Sitka" in fault
    spar = reading.boat.spar("stick")
    assert spar.species == "sitca sprus"
    assert follow(reading.boat, spar, 100.0)["spar.species"] == "sitca sprus"


def test_a_spar_of_the_boats_own_timber_has_no_fault() -> None:
    reading = read(own() + STICK.replace("length", 'species = "pear, garden"\nlength', 1))
    assert reading.faults == ()


def test_the_schema_knows_the_table() -> None:
    check = Draft202012Validator(schema())
    sound = {"format": 1, "boat": {"name": "Dabchick", "units": "in"}, "species": [{"name": "Pear", "sg12": 0.7}]}
    assert list(check.iter_errors(sound)) == []
    assert list(check.iter_errors({**sound, "species": [{"sg12": 0.7}]}))
    assert list(check.iter_errors({**sound, "species": [{"name": "Pear", "hue": 3}]}))
