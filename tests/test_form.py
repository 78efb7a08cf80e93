"""A form: what was typed, what follows, what stands by default, and every fault at once."""

import math
import re
from typing import Any

import pytest

from shopcompanion.catalog import NAMES, load
from shopcompanion.errors import InputFault, InputFaults
from shopcompanion.fields import Length
from shopcompanion.form import Entry, fill, solve
from shopcompanion.lengths import RULES, Rule
from shopcompanion.quantities import Quantity

from .asking import INCH_64, MM_01

OTHER = {"in": "kg|g|MPa|m/s", "mm": "lb|oz|psi|knots|ft"}  # units of the other system
TAPER = load("taper")
SPAR = {"spar.length": 3429.0, "spar.butt": 69.85, "spar.head": 44.45, "spar.at": 1524.0, "spar.law": "bowed"}


def entries(texts: dict[str, str], boat: dict[str, Any], name: str = "taper", rule=INCH_64) -> dict[str, Entry]:
    return {entry.field.name: entry for entry in fill(load(name), texts, boat, rule).entries}


def test_each_field_says_where_its_value_comes_from() -> None:
    entry = entries({"butt": "3", "blank": " "}, {"spar.length": 3000.0, "spar.butt": 69.85})
    assert [(entry[name].origin, entry[name].value) for name in ("butt", "length", "blank", "law", "at")] == [
        ("typed", pytest.approx(76.2)),
        ("follows", 3000.0),
        ("default", None),
        ("default", "straight"),
        ("missing", None),
    ]


def test_a_field_typed_over_keeps_what_it_would_follow_and_gets_it_back_when_emptied() -> None:
    typed, back = entries({"butt": "3"}, SPAR)["butt"], entries({"butt": ""}, SPAR)["butt"]
    assert (typed.origin, typed.would_be, typed.follows) == ("typed", 69.85, "the spar's heel")
    assert (back.origin, back.value) == ("follows", 69.85)


def test_what_is_missing_is_asked_for_with_an_example() -> None:
    fault = entries({}, {})["length"].fault
    assert fault is not None
    assert str(fault) == "length: length of the spar is needed, as 3-1/2 in"


def test_all_faults_stand_at_once_in_the_order_of_the_fields() -> None:
    form = fill(TAPER, {"butt": "3..5", "head": "-1", "law": "curved", "at": "0"}, {}, INCH_64)
    assert [fault.field for fault in form.faults] == ["length", "butt", "head", "law"]
    with pytest.raises(InputFaults) as caught:
        form.inputs(TAPER)
    assert str(caught.value).splitlines() == [str(fault) for fault in form.faults]
    assert caught.value.exit_status == 2


def test_a_faulty_text_does_not_hide_what_it_covers() -> None:
    entry = entries({"butt": "3-"}, SPAR)["butt"]
    assert (entry.origin, entry.value, entry.would_be, entry.text) == ("typed", None, 69.85, "3-")
    assert entry.fault is not None


@pytest.mark.parametrize("value", [math.nan, math.inf, 0.0, -5.0, 1e9])
def test_what_follows_is_checked_too(value: float) -> None:
    entry = entries({}, {**SPAR, "spar.butt": value})["butt"]
    assert entry.origin == "follows"
    assert entry.fault is not None
    assert entry.fault.field == "butt"


def test_a_bare_number_takes_the_unit_of_the_rule() -> None:
    assert entries({"butt": "70"}, SPAR, rule=MM_01)["butt"].value == 70
    assert entries({"butt": "3"}, SPAR, rule=INCH_64)["butt"].value == pytest.approx(76.2)


def test_the_rule_gives_the_division_and_the_station_step() -> None:
    within = [entries({"width": "3"}, {}, "facets", rule)["square_within"].value for rule in RULES]
    assert within == [pytest.approx(25.4 / n) for n in (8, 16, 32, 64)] + [1.0, 0.5, pytest.approx(0.1)]
    assert [entries({}, SPAR, rule=rule)["station_step"].value for rule in (INCH_64, MM_01)] == [304.8, 500.0]


def test_solve_gives_the_result_by_the_rule() -> None:
    result = solve(TAPER, {"blank": "3-1/4"}, SPAR, INCH_64)
    assert result.answers.width_at == pytest.approx(69.85 - 25.4 * (1524 / 3429) ** 2)
    assert result.rule is INCH_64


@pytest.mark.parametrize("name", NAMES)
def test_an_empty_form_asks_and_never_computes(name: str) -> None:
    calculator = load(name)
    required = {field.name for field in calculator.input_fields if field.required}
    with pytest.raises(InputFaults if required else InputFault) as caught:
        solve(calculator, {}, {}, INCH_64)
    asked = {fault.field for fault in getattr(caught.value, "faults", [caught.value])}
    assert asked == required or (not required and len(asked & {field.name for field in calculator.typed_fields}) == 1)


@pytest.mark.parametrize("rule", RULES, ids=str)
@pytest.mark.parametrize("name", NAMES)
def test_a_default_stands_on_a_mark_in_either_system(name: str, rule: Rule) -> None:
    for entry in fill(load(name), {}, {}, rule).entries:
        if entry.origin != "default" or entry.value is None:
            continue
        shown = entry.shown(rule)
        assert not {"full", "bare"} & set(shown.split()), (entry.field.name, shown)
        other = "mm" if rule.unit == "in" else "in"
        assert not re.search(rf"\b({other}|{OTHER[rule.unit]})\b", shown), (entry.field.name, shown)
        kind = entry.field.kind
        if isinstance(kind, Length | Quantity):  # what is shown is what is used
            assert kind.read(shown, rule) == pytest.approx(entry.value, rel=1e-12), (entry.field.name, shown)


def test_the_defaults_of_another_unit_can_be_asked_for() -> None:
    for rule in (INCH_64, MM_01):
        values = [
            next(entry.value for entry in fill(load("rip"), {}, {}, rule, unit).entries if entry.field.name == "kerf")
            for unit in ("in", "mm", None)
        ]
        assert values == [3.175, 3.0, 3.175 if rule.unit == "in" else 3.0]


@pytest.mark.parametrize("name", NAMES)
def test_what_is_missing_is_asked_for_in_the_unit_in_force(name: str) -> None:
    for rule, others in ((INCH_64, ("mm",)), (MM_01, ("in", "ft", "1/2"))):
        for fault in fill(load(name), {}, {}, rule).faults:
            assert not set(others) & set(re.findall(r"[a-z]+|\d/\d", fault.reason.rpartition(", as ")[2])), fault.reason
