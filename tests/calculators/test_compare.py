"""Compare: the variants stand in one table, and one that cannot be made says why in its row."""

import pytest

from shopcompanion import form
from shopcompanion.catalog import load
from shopcompanion.drawing.shapes import Fill
from shopcompanion.profile.follow import follow
from shopcompanion.profile.parse import read

from ..asked.compare import _SOLD
from ..asked.lightest import _OVAL, _PLAIN
from ..asking import ask, refusal
from ..storage.conftest import demo


def test_the_variants_stand_in_one_table() -> None:
    result = ask("compare", **_PLAIN, measured=((1000.0, (91.0, 90.0), None),))
    (table,) = result.tables
    names = [row[0] for row in table.rows]
    assert names[:2] == ["as drawn", "as measured"]
    assert names[2].startswith("in ")
    assert names[3:] == ["hollow, as stiff", "lightest that does"]
    assert result.cautions[0].startswith("Guidance")


def test_one_that_cannot_be_made_says_why() -> None:
    asked = {name: value for name, value in _OVAL.items() if name != "factor_ok"}
    rows = {row[0]: row for row in ask("compare", **asked).tables[0].rows}
    told = next(row for name, row in rows.items() if name.startswith("hollow"))
    assert told[0] == "hollow, as stiff: only a round spar is worked out hollow here"
    assert told[1:] == (None,) * 5


@pytest.mark.parametrize("strength", [{}, {"rupture": 60.0}])
def test_a_timber_without_weight_or_strength_is_refused(strength: dict[str, float]) -> None:
    asked = {name: value for name, value in _PLAIN.items() if name != "species"}
    assert refusal("compare", **asked, modulus=10000.0, **strength).field == "species"


def test_timber_costs_what_the_yard_of_the_profile_asks_for_it() -> None:
    """The mizzen's blank is 2-3/4 in with 1/8 in on every face and 11 ft 3 in with 1 in at either end. The cheapest
    spruce it comes out of is the 4 x 6 of 12 ft: 24 board feet at 10.25."""
    boat = read(demo("saltmarsh-yawl")).boat
    result = form.solve(load("compare"), {}, follow(boat, boat.spar("mizzen mast"), None), boat.rule)
    assert result.answers.cost_drawn == 24 * 10.25
    assert result.answers.currency == "USD"
    assert any(line.startswith("Cost: the cheapest timber of the yard") for line in result.cautions)


def test_without_a_yard_nothing_is_said_of_cost() -> None:
    result = ask("compare", **_PLAIN)
    assert result.answers.cost_drawn is None
    assert [column.name for column in result.tables[0].columns][-1] == "load_factor"
    assert not any("yard" in line for line in result.cautions)


def test_staves_come_out_of_no_square_blank() -> None:
    boat = read(demo("fjord-lugger")).boat
    result = form.solve(load("compare"), {}, follow(boat, boat.spar("mizzen mast"), None), boat.rule)
    assert {row[6] for row in result.tables[0].rows} == {None}


def test_the_lightest_the_stiffest_and_the_safest_are_those_of_the_table() -> None:
    """Measured thicker than drawn it is stiffest; hollow it is lightest; made lightest it is thicker at its root."""
    result = ask("compare", **_SOLD)
    answers, rows = result.answers, {row[0]: row for row in result.tables[0].rows}
    drawn, measured, hollow = (rows[name] for name in ("as drawn", "as measured", "hollow, as stiff"))
    shaped = rows["lightest that does"]
    assert (answers.lightest_of_all, answers.stiffest, answers.safest) == (hollow[0], measured[0], shaped[0])
    assert hollow[1] == min(row[1] for row in rows.values())
    assert measured[3] == min(row[3] for row in rows.values())
    assert shaped[4] == max(row[4] for row in rows.values())
    assert answers.mass_drawn == drawn[1]
    assert answers.mass_least == hollow[1]
    assert answers.lighter_by == pytest.approx(drawn[1] - hollow[1])
    assert answers.compared == 5


def test_the_bars_are_as_long_as_the_variants_are_heavy() -> None:
    result = ask("compare", **_SOLD)
    bars = [shape for shape in result.drawing().shapes if isinstance(shape, Fill)]
    long = [max(x for x, _ in bar.points) for bar in bars]
    masses = [row[1] for row in result.tables[0].rows]
    assert [each / long[0] for each in long] == pytest.approx([mass / masses[0] for mass in masses])
    assert [bar.tone for bar in bars] == ["wood" if mass == min(masses) else "off" for mass in masses]


@pytest.mark.parametrize(
    ("more", "cost"),
    [({"bow": 29.0}, 88.5), ({"bow": 30.0}, None), ({"trim": 300.0}, 88.5), ({"trim": 400.5}, None)],
)
def test_a_blank_has_room_for_bow_planing_and_trim(more: dict[str, float], cost: float | None) -> None:
    """90 mm with 3 mm a face and the bow, of 4 m with the trim at both ends; 125 by 150 mm and 4.8 m is the largest."""
    asked = {name: value for name, value in _SOLD.items() if name not in ("measured", "other", "species")}
    assert ask("compare", **{**asked, "species": _SOLD["species"], **more}).answers.cost_drawn == cost
