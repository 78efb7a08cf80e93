"""How a tool is set up for a spar: by the first of its presets, and the card names those that do not count."""

import pytest

from shopcompanion.card.ask import SparJob
from shopcompanion.profile.asking import presets_for
from shopcompanion.profile.parse import read

BOAT = """format = 1
[boat]
name = "Dabchick"
units = "in"

[[spar]]
name = "boom"
length = "10 ft"
stations = [{ at = "0", width = "2 in" }, { at = "10 ft", width = "1-1/2 in" }]
"""
DRUM = """
[[preset]]
calculator = "drum"
name = "{name}"
spar = "{spar}"
inputs = {{ drum = "{drum} in", belt_length = "24 in" }}
"""


def asked(*presets: tuple[str, str, int]) -> tuple[str, float]:
    """The words for the question of the drum, and the drum that it is set up with."""
    text = BOAT + "".join(DRUM.format(name=name, spar=spar, drum=drum) for name, spar, drum in presets)
    boat = read(text).boat
    assert len(boat.presets) == len(presets)
    answered = SparJob(boat, boat.spar("boom"), boat.rule).ask("drum")
    return answered.asked.words(boat.rule), answered["drum"] / 25.4


def test_one_preset_of_a_tool_counts() -> None:
    assert asked(("large", "boom", 5)) == ("drum, set up as 'large'", pytest.approx(5))


def test_a_second_preset_of_the_tool_is_named_as_one_that_does_not_count() -> None:
    words, drum = asked(("large", "Boom", 5), ("small", "boom", 3))
    assert (words, drum) == ("drum, set up as 'large', not as 'small'", pytest.approx(5))


def test_of_many_presets_two_are_named() -> None:
    words, _ = asked(*((f"no. {size}", "boom", size) for size in (5, 3, 4, 6)))
    assert words == "drum, set up as 'no. 5', not as 'no. 3' or 'no. 4' or 1 more"


def test_calculators_that_are_no_tool_have_no_set_up() -> None:
    boat = read(BOAT + DRUM.format(name="x", spar="boom", drum=5).replace("drum", "facets", 1)).boat
    assert presets_for(boat, boat.spar("boom"), "facets") == ()
