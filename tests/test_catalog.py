"""The list of calculators."""

import pytest

from shopcompanion.catalog import NAMES, STAGES, load
from shopcompanion.errors import InputFault


def test_every_calculator_is_listed_once_under_its_own_name() -> None:
    assert sorted(NAMES) == sorted(set(NAMES))
    assert [name for stage in STAGES.values() for name in stage] == list(NAMES)
    assert [load(name).name for name in NAMES] == list(NAMES)
    assert {"facets", "taper", "drum", "roundover"} <= set(NAMES)


def test_loading_twice_gives_the_same_one() -> None:
    assert load("facets") is load("facets")


@pytest.mark.parametrize("name", NAMES)
def test_every_calculator_has_a_question_cautions_and_sources(name: str) -> None:
    calculator = load(name)
    assert calculator.question.endswith("?")
    assert any(isinstance(caution, str) for caution in calculator.cautions)
    assert all(source.endswith(".") for source in calculator.sources)
    assert calculator.sources


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("facet", r"no calculator is called 'facet' \(did you mean 'facets'\?\)"),
        ("", "no calculator is called ''"),
        ("os", "no calculator is called 'os'"),
        ("../boat", "no calculator is called"),
        ("a\x1b[0m", "no calculator is called 'a\ufffd"),
    ],
)
def test_a_name_that_is_none_is_refused_with_the_nearest(name: str, words: str) -> None:
    with pytest.raises(InputFault, match=words):
        load(name)
