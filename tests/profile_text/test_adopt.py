"""A spoiled spar of the demo boats: its new target is taken for its own, and nothing is too thin any more."""

import pytest

from shopcompanion.calculator import Result
from shopcompanion.catalog import load
from shopcompanion.form import solve
from shopcompanion.profile.follow import follow
from shopcompanion.profile.parse import read
from shopcompanion.profile.records import Spar
from shopcompanion.profile_text.edit_spar import retarget, set_rows

from ..storage.conftest import DEMOS, demo

SPARS = [(name, spar.name) for name in DEMOS for spar in read(demo(name)).boat.spars]
PLANED_AWAY = 3.0  # mm


def log_of(text: str, name: str) -> Result:
    boat = read(text).boat
    result: Result = solve(load("log"), {}, follow(boat, boat.spar(name), None), boat.rule)
    return result


def planed(spar: Spar, part: float) -> list[dict[str, str]]:
    """Measures at size, but for one station that is too thin."""
    ways = [spar.outline(), spar.depth_outline() or spar.outline()]
    rows = []
    for place in sorted({0.1, 0.45, 0.8, part}):
        at = spar.length * place
        lost = PLANED_AWAY if place == part else 0.0
        rows.append({"at": f"{at:.4f} mm", "widths": "; ".join(f"{way.width_at(at) - lost:.4f} mm" for way in ways)})
    return rows


@pytest.mark.parametrize(("boat", "name"), SPARS)
@pytest.mark.parametrize("part", [0.0, 0.3, 1.0])
def test_the_new_target_of_a_spoiled_spar_can_be_adopted(boat: str, name: str, part: float) -> None:
    text = demo(boat)
    reading = read(text)
    text = set_rows(text, name, "log", planed(reading.boat.spar(name), part), reading.boat.units)
    before = log_of(text, name)
    assert before.answers.verdict == "too thin"
    assert before.answers.under == pytest.approx(PLANED_AWAY, abs=0.01)
    adopted = retarget(text, name, before.answers.new_widths, before.answers.new_depths or ())
    assert read(adopted).faults == reading.faults
    after = log_of(adopted, name).answers
    assert (after.verdict in ("at size", "wood to come off"), after.under) == (True, None)
    assert read(adopted).boat.spar(name).law == before.answers.new_law
