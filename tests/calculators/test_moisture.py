"""Moisture: which figures count, when it is refused, and what is said. Published values are in tests/outside/."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.catalog import load
from shopcompanion.errors import InputFault, InputFaults
from shopcompanion.form import fill, solve
from shopcompanion.lengths import RULES
from shopcompanion.timber.species import Own, Species

from ..asked.moisture import OWN, in_fahrenheit, questions
from ..asking import ask, refusal, typed
from ..sums import worth


def test_json_agrees_with_the_sum_done_by_hand() -> None:
    """White ash, 200 mm, from 8 to 14 %: 4.9 and 7.8 percent from green to dry, a thirtieth of it for each percent."""
    in_json = ask("moisture", species="white ash", width=200.0, mc_now=8.0, mc_later=14.0).as_json()
    values = {name: answer["value"] for name, answer in in_json["answers"].items()}
    radial = 200 * (1 - 0.049 * 16 / 30) / (1 - 0.049 * 22 / 30)
    tangential = 200 * (1 - 0.078 * 16 / 30) / (1 - 0.078 * 22 / 30)
    assert values["width_radial"] == pytest.approx(radial)
    assert values["width_tangential"] == pytest.approx(tangential)
    assert values["change_radial"] == pytest.approx(radial - 200)
    assert values["change_tangential"] == pytest.approx(tangential - 200)
    assert (values["emc_now"], values["emc_later"], values["timber"]) == (8, 14, "Ash, White")
    assert "Table 4-3" in values["species_source"]
    assert "modulus of rupture differs between printings" in values["species_mark"]


@given(st.floats(0, 60), st.floats(5, 95))
def test_the_equation_in_celsius_agrees_with_the_one_in_fahrenheit(celsius: float, humidity: float) -> None:
    """Other coefficients for another scale (Wood Handbook, from memory): a mix of the two would be far off."""
    answers = ask("moisture", species="sitka", width=90.0, temp_now=celsius, rh_now=humidity).answers
    assert answers.emc_now == pytest.approx(in_fahrenheit(celsius, humidity), abs=0.15)


def test_the_equation_is_printed_with_its_coefficients_and_can_be_redone() -> None:
    steps = {step.name: step for step in typed("moisture", species="sitka", width="3", rh_now="50").working()}
    assert steps["emc_w_now"].put_in == "349 + 1.29·((70 − 32)/1.8) + 0.0135·((70 − 32)/1.8)²"
    assert "eq. 4-5" in steps["emc_now"].source
    assert worth(steps["emc_now"].put_in) == pytest.approx(9.2, abs=0.06)  # Table 4-2, 70 °F and 50 %, seen
    measured = typed("moisture", species="sitka", width="3", mc_now="11").answers
    assert measured.emc_w_now is None


@given(questions())
def test_it_swells_as_it_gets_damper_and_more_along_the_rings(values) -> None:
    answers = ask("moisture", **values).answers
    damper = min(answers.emc_later, answers.shrinks_below) - min(answers.emc_now, answers.shrinks_below)
    for change in (answers.change_radial, answers.change_tangential):
        assert change * damper >= -1e-9
    if answers.tangential_total > answers.radial_total:
        assert abs(answers.change_tangential) >= abs(answers.change_radial) - 1e-9
    rows = [row[1] for row in ask("moisture", **values).tables[0].rows]
    assert rows == sorted(rows)


def test_the_table_goes_through_the_width_that_there_is() -> None:
    result = ask("moisture", species="sitka", width=90.0, mc_now=12.0)
    row = next(row for row in result.tables[0].rows if row[0] == 12)
    assert row[1:] == pytest.approx((90, 90))


def test_above_saturation_only_what_is_below_counts_and_it_is_said() -> None:
    green = ask("moisture", species="sitka", width=90.0, mc_now=60.0, mc_later=12.0)
    assert green.answers.width_radial == ask("moisture", species="sitka", width=90.0, mc_now=30.0, mc_later=12.0
                                             ).answers.width_radial  # fmt: skip
    assert any("fibre saturation" in line for line in green.cautions)
    dry = ask("moisture", species="sitka", width=90.0, mc_now=30.0, mc_later=12.0)
    assert not any("fibre saturation" in line for line in dry.cautions)
    wet = ask("moisture", species="sitka", width=90.0, mc_now=60.0, mc_later=45.0).answers
    assert wet.change_radial == wet.change_tangential == 0


def test_a_timber_that_begins_to_shrink_at_22_percent_moves_a_quarter_more() -> None:
    """Western redcedar, 200 mm, from 12 to 18 %: 5.0 percent along the rings, a 22nd of it for each percent."""
    result = ask("moisture", species="western redcedar", width=200.0, mc_now=12.0, mc_later=18.0)
    answers = result.answers
    assert answers.width_tangential == pytest.approx(200 * (1 - 0.05 * 4 / 22) / (1 - 0.05 * 10 / 22))
    assert answers.width_radial == pytest.approx(200 * (1 - 0.024 * 4 / 22) / (1 - 0.024 * 10 / 22))
    assert answers.shrinks_below == 22
    assert "22 % from memory" in answers.species_mark
    assert not any("fibre saturation" in line for line in result.cautions)
    wet = ask("moisture", species="western redcedar", width=200.0, mc_now=23.0, mc_later=29.0)
    assert wet.answers.change_tangential == 0
    assert any(line.startswith("Above 22 %, fibre saturation") for line in wet.cautions)
    assert [row[1] for row in wet.tables[0].rows[-2:]] == [200, 200]


def test_a_shrinkage_that_is_typed_begins_where_the_timber_does_and_says_whose_that_is() -> None:
    answers = ask("moisture", species="western redcedar", width=90.0, radial=3.0, tangential=6.0).answers
    assert answers.shrinks_below == 22
    assert "Table 13-5" in answers.species_source


def test_a_timber_without_published_shrinkage_is_refused_and_told_which_have() -> None:
    fault = refusal("moisture", species="whitewood", width=90.0)
    assert fault.field == "species"
    for word in (
        "Europe) has no published shrinkage",
        "type radial and tangential",
        "Spruce, Sitka",
    ):
        assert word in str(fault)
    assert refusal("moisture", species="whitewood", width=90.0, radial=4.0).field == "species"
    by_hand = ask("moisture", species="whitewood", width=90.0, radial=4.0, tangential=8.0)
    assert by_hand.answers.tangential_total == 8
    assert by_hand.answers.species_source is by_hand.answers.species_mark is None
    assert any("as typed" in line for line in by_hand.cautions)


def test_the_boats_own_timber_counts_by_its_own_figures() -> None:
    answers = ask("moisture", species="fjord", own=OWN, width=90.0).answers
    assert (answers.radial_total, answers.tangential_total, answers.species_mark) == (3.9, 8.2, "the boat's own")
    assert answers.shrinks_below == 26
    half = Own((Species("Pear, garden", 0.7, radial=4.0),))
    assert "Pear, garden has no published shrinkage" in str(refusal("moisture", species="pear", own=half, width=9.0))


def test_the_boats_own_follow_the_boat_into_the_sum() -> None:
    boat = {"boat.species": OWN, "spar.species": "Larch, fjord side", "spar.width_at": 60.0}
    result = solve(load("moisture"), {}, boat, RULES[6])
    assert result.answers.timber == "Larch, fjord side"
    assert result.as_json()["inputs"]["own"]["value"][0]["name"] == "Larch, fjord side"


@pytest.mark.parametrize(
    ("texts", "said"),
    [
        ({"species": "oke"}, "no timber is called 'oke'"),
        ({"species": "spruce"}, "say which"),
        ({"temp_now": "29.9 F"}, "at least 30 °F"),
        ({"temp_later": "271 F"}, "at most 270 °F"),
        ({"rh_now": "4.9"}, "at least 5 %"),
        ({"rh_later": "96"}, "at most 95 %"),
        ({"mc_later": "-1"}, "at least 0 %"),
    ],
)
def test_outside_the_span_it_is_refused(texts: dict[str, str], said: str) -> None:
    with pytest.raises((InputFault, InputFaults)) as caught:
        typed("moisture", **{"species": "sitka", "width": "3", **texts})
    assert said in str(caught.value)
    assert str(caught.value).startswith(f"{next(iter(texts))}: ")


def test_air_is_read_in_either_scale_and_a_measure_beats_it() -> None:
    warm = typed("moisture", species="sitka", width="3", temp_now="70 F", rh_now="50").answers
    same = typed("moisture", species="sitka", width="3", temp_now="21.1111 C", rh_now="50").answers
    assert warm.emc_now == pytest.approx(same.emc_now, abs=1e-4)
    assert typed("moisture", species="sitka", width="3", mc_now="11", rh_now="90").answers.emc_now == 11


def test_without_a_timber_one_is_asked_for() -> None:
    form = fill(load("moisture"), {"width": "3"}, {}, RULES[0])
    assert [str(fault) for fault in form.faults] == ["species: timber is needed, as Spruce, Sitka"]


def test_the_table_goes_from_dry_to_where_wood_begins_to_shrink() -> None:
    rows = ask("moisture", species="sitka", width=90.0, mc_now=12.0).tables[0].rows
    assert [row[0] for row in rows] == [6, 8, 10, 12, 14, 16, 18, 20, 25, 30]


@pytest.mark.parametrize("typed_shrinkage", [{"radial": 4.0}, {"tangential": 7.0}, {"radial": 4.0, "tangential": 7.0}])
def test_a_shrinkage_that_is_typed_is_told(typed_shrinkage: dict[str, float]) -> None:
    said = ask("moisture", species="sitka", width=90.0, mc_now=12.0, **typed_shrinkage).cautions
    assert any("Shrinkage as typed" in line for line in said)
    assert not any("as typed" in line for line in ask("moisture", species="sitka", width=90.0, mc_now=12.0).cautions)


def test_a_room_is_at_seventy_fahrenheit_unless_another_is_typed() -> None:
    texts = {"species": "sitka", "width": "3", "rh_now": "50"}
    assert typed("moisture", **texts).answers.emc_now == typed("moisture", **texts, temp_now="70 F").answers.emc_now


def test_the_timbers_that_a_refusal_names_do_have_a_shrinkage() -> None:
    said = str(refusal("moisture", species="whitewood", width=90.0))
    first, other = said.rpartition(", as ")[2].split(" or ")
    assert first != other
    for name in (first, other):
        ask("moisture", species=name, width=90.0)


def test_a_room_is_as_warm_as_the_handbooks() -> None:
    """70 °F, of which the Wood Handbook's usual table of moisture content speaks: 21.11 °C."""
    inputs = ask("moisture", species="Spruce, Sitka", width=100.0).inputs
    assert (inputs.temp_now, inputs.temp_later) == pytest.approx((21.111, 21.111), abs=1e-3)
