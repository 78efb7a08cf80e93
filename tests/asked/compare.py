"""Sound questions for compare, few as each searches; its rows by strength, swap and lightest themselves."""

from typing import Any

import pytest
from hypothesis import strategies as st

from shopcompanion.calculator import Result
from shopcompanion.timber.offers import Offer, Offers

from . import lightest

GIVEN = lightest.GIVEN
_LOG = ((1000.0, (91.0, 90.0), None), (3000.0, (83.0, 82.0), None))
_PLAIN: dict[str, Any] = {**lightest._PLAIN, "measured": _LOG}
_OTHER = {**lightest._PRESSED, "other": "Douglas-fir, Coast"}
_OTHER.pop("least_width")
_SPRUCE = "Spruce, Sitka"
_OFFERS = Offers(
    (
        Offer("too thin", _SPRUCE, 95.0, 200.0, 6000.0, 1000),
        Offer("too short", _SPRUCE, 125.0, 125.0, 4000.0, 1500),
        Offer("dear", _SPRUCE, 125.0, 125.0, 4200.0, 9900),
        Offer("right", _SPRUCE, 125.0, 150.0, 4800.0, 8850),
        Offer("another wood", "Douglas-fir, Coast", 125.0, 125.0, 4200.0, 4000),
    ),
    "EUR",
)
_SOLD = {**_PLAIN, "yard": _OFFERS, "planing": 3.0, "trim": 25.0, "other": "Douglas-fir, Coast"}
QUESTION = st.sampled_from([_PLAIN, _OTHER, _SOLD])


def rows(result: Result) -> list[tuple[Any, ...]]:
    """The variants that could be told."""
    return [row for row in result.tables[0].rows if row[1] is not None]


def lightest_of_all(result: Result) -> None:
    least = min(rows(result), key=lambda row: row[1])
    assert (result.answers.lightest_of_all, result.answers.mass_least) == least[:2]
    assert [row[0].split(" ")[0] for row in rows(result)].count("as") >= 1


def mass_drawn(result: Result) -> None:
    """Every row that strength can be asked about is what it says."""
    from ..asking import ask

    inputs = result.inputs
    asked = {name: getattr(inputs, name) for name in (*lightest._LOADED, "outline", "law")}
    drawn = ask("strength", **asked).answers
    told = {row[0]: row for row in rows(result)}
    _, mass, widest, goes, factor, load_factor = told["as drawn"][:6]
    assert (mass, goes, factor) == pytest.approx((drawn.mass, drawn.most_deflection, drawn.factor))
    assert load_factor is None or load_factor == pytest.approx(drawn.load_factor)
    assert widest == max(width for _, width in inputs.outline)
    assert result.answers.mass_drawn == mass
    if inputs.measured:
        built = ask("strength", **asked, as_built="yes", measured=inputs.measured).answers
        assert told["as measured"][1] == pytest.approx(built.mass)
        assert told["as measured"][3] == pytest.approx(built.most_deflection)
    best = ask("lightest", **asked).answers
    assert told["lightest that does"][1] == pytest.approx(best.mass_then)
    hollow = told["hollow, as stiff"]
    assert hollow[3] == pytest.approx(goes, rel=0.12)  # the wall is the same all along, so it is thicker for the head
    assert hollow[1] < mass
    other = next(row for name, row in told.items() if name.startswith("in "))
    assert other[3] <= goes * (1 + 1e-6)
    assert other[4] >= factor * (1 - 1e-6)


def cost_drawn(result: Result) -> None:
    """96 mm square and 4050 mm long it comes out of two of the yard's, and in the other timber out of one."""
    assert result.answers.cost_drawn == 88.5
    told = {row[0]: row[6] for row in rows(result)}
    assert told["as drawn"] == told["lightest that does"] == 88.5
    assert told["in Douglas-fir, Coast"] == 40.0
    assert told["as measured"] is None  # it is made
    assert result.tables[0].columns[6].kind.label == "Timber, EUR"


def cost_least(result: Result) -> None:
    assert result.answers.cost_least == {row[0]: row[6] for row in rows(result)}[result.answers.lightest_of_all]


def currency(result: Result) -> None:
    assert result.answers.currency == "EUR"


def stiffest(result: Result) -> None:
    assert result.answers.stiffest == min(rows(result), key=lambda row: row[3])[0]


def safest(result: Result) -> None:
    assert result.answers.safest == max(rows(result), key=lambda row: row[4])[0]


def compared(result: Result) -> None:
    assert result.answers.compared == len(rows(result)) >= 4


IN_WORDS = {
    "lightest_of_all": lightest_of_all,
    "mass_least": lightest_of_all,
    "mass_drawn": mass_drawn,
    "stiffest": stiffest,
    "safest": safest,
    "compared": compared,
    "cost_drawn": cost_drawn,
    "cost_least": cost_least,
    "currency": currency,
}
