"""The reference page has every caution in its own words, with its condition; what the page says is what a case says."""

import re
from typing import Any

import pytest

from shopcompanion.catalog import NAMES, load
from shopcompanion.cli.reference import cautions, page

from ..asking import MM_01, ask


@pytest.mark.parametrize("name", NAMES)
def test_every_caution_has_its_condition_and_its_words(name: str) -> None:
    for caution in load(name).cautions:
        (line,) = cautions(caution)
        if isinstance(caution, str):
            assert line == caution
            continue
        when, _, said = line.partition(": ")
        assert when.startswith(("Where ", "Always")), line
        assert len(when.split()) > 2 or when == "Always", line
        assert len(re.findall("[A-Za-z]{3,}", said)) > 3, line


@pytest.mark.parametrize(
    ("name", "values"),
    [
        ("facets", {"width": 80.0, "depth": 84.0}),
        ("rip", {"thickness": 100.0, "finished": 50.0}),
        ("rip", {"thickness": 200.0, "tilt": "tilted 45°", "finished": 50.0}),
        ("flat", {"diameter": 60.0, "flat_width": 50.0, "barrel": 10.0}),
        ("flat", {"diameter": 60.0}),
        ("roundover", {"stock": 50.0, "bit_radius": 25.0, "speed_set": 30_000.0}),
        ("roundover", {"stock": 40.0, "bit_radius": 25.0}),
        ("seat", {"cove_radius": 30.0, "pole_diameter": 50.0}),
        ("bore", {"thickness": 200.0, "drill_reach": 60.0}),
        ("shoulder", {"blank": 60.0, "round_diameter": 40.0, "round_length": 100.0}),
    ],
)
def test_what_a_case_says_stands_on_the_page(name: str, values: dict[str, Any]) -> None:
    patterns = []
    for caution in load(name).cautions:
        for line in cautions(caution)[0].partition(": ")[2].split(" / ") if not isinstance(caution, str) else [caution]:
            patterns.append(".+".join(map(re.escape, line.split("…"))))
    said = ask(name, MM_01, **values).cautions
    assert len(said) > sum(isinstance(caution, str) for caution in load(name).cautions)
    for line in said:
        assert any(re.fullmatch(pattern, line) for pattern in patterns), (line, patterns)


def test_what_depends_on_the_case_is_told_as_a_choice_or_left_open() -> None:
    lines = [line for caution in load("inlay").cautions for line in cautions(caution)]
    half = "Less than half the spar is left between the bars or under the bar: …."
    assert f"Where less than half of the wood is left: {half}" in lines
    assert "told where it applies" not in page()
