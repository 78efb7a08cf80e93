"""The schema, by a general JSON Schema library: the demo boats pass, a wrong key or value does not."""

import json
import tomllib
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from shopcompanion.profile.parse import read
from shopcompanion.profile.schema import schema

from ..storage.conftest import DEMOS, demo

VALIDATOR = Draft202012Validator(schema())


def test_the_schema_is_a_schema() -> None:
    Draft202012Validator.check_schema(schema())


@pytest.mark.parametrize("name", DEMOS)
def test_the_demo_boats_are_valid(name: str) -> None:
    assert list(VALIDATOR.iter_errors(_as_json(tomllib.loads(demo(name))))) == []


def _as_json(data: dict[str, Any]) -> Any:
    """As an editor has it: a day of TOML is a text of JSON."""
    return json.loads(json.dumps(data, default=str))


def _set(where: tuple[Any, ...], value: object) -> dict[str, Any]:
    whole = tomllib.loads(demo("fjord-lugger"))
    here: Any = whole
    for key in where[:-1]:
        here = here[key]
    if value is None:
        del here[where[-1]]
    else:
        here[where[-1]] = value
    return whole


@pytest.mark.parametrize(
    ("where", "value"),
    [
        (("format",), 7),
        (("boats",), {}),
        (("boat", "units"), "feet"),
        (("boat", "units"), None),
        (("boat", "rule"), "1/33 in"),
        (("shop", "kerf"), True),
        (("shop", "bits", 0, "radios"), "3/4 in"),
        (("shop", "bits", 0, "radius"), None),
        (("spar", 0, "law"), "curved"),
        (("spar", 0, "length"), ["5 m"]),
        (("spar", 0, "stations", 0, "widht"), "5 mm"),
        (("spar", 0, "name"), ""),
        (("spar", 0, "joints", 0, "kind"), "glue"),
        (("spar", 0, "regions", 0, "from"), None),
        (("spar", 0, "regions", 0, "section"), "hexagon"),
        (("spar", 0, "fittings", 0, "flat"), True),
        (("spar", 1, "log", 0, "widths"), "50 mm"),
        (("spar", 1, "log", 0, "widths"), ["50 mm"]),
        (("spar", 1, "log", 0, "when"), 7),
        (("spar", 1, "done"), "all"),
        (("preset", 0, "calculator"), "drums"),
        (("preset", 0, "inputs"), "4 in"),
    ],
)
def test_what_the_schema_refuses_the_reader_lists(where: tuple[Any, ...], value: object) -> None:
    import tomli_w

    wrong = _set(where, value)
    assert list(VALIDATOR.iter_errors(_as_json(wrong)))
    assert read(tomli_w.dumps(wrong)).faults
