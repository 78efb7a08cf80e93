"""The boats that cards are made of here: the examples, and the oddments that no boat has together."""

from functools import cache
from pathlib import Path

from shopcompanion.profile.parse import read
from shopcompanion.profile.records import Boat, Spar

HERE = Path(__file__).parent
PROFILES = HERE.parents[1] / "profiles"
PATHS = {
    "saltmarsh-yawl": PROFILES / "saltmarsh-yawl.toml",
    "fjord-lugger": PROFILES / "fjord-lugger.toml",
    "oddments": HERE / "oddments.toml",
}


@cache
def boat(name: str) -> Boat:
    reading = read(PATHS[name].read_text(encoding="utf-8"))
    assert reading.faults == ()
    return reading.boat


def spars() -> list[tuple[str, str]]:
    """Boat and spar, for all there are."""
    return [(name, spar.name) for name in PATHS for spar in boat(name).spars]


def spar(name: str, of: str) -> Spar:
    return boat(name).spar(of)


def one_spar(body: str, units: str = "mm", more: str = "") -> Boat:
    """A boat of one spar, from the lines of its table."""
    text = f'format = 1\n[boat]\nname = "Trial"\nunits = "{units}"\n{more}\n[[spar]]\nname = "stick"\n{body}\n'
    reading = read(text)
    assert reading.faults == ()
    return reading.boat
