"""Sound questions for moisture, and what it says in words by other means: the table read as text, the air in °F."""

import csv
from collections.abc import Callable
from pathlib import Path
from typing import Any

from hypothesis import strategies as st

import shopcompanion.timber
from shopcompanion.calculator import Result
from shopcompanion.timber.species import Own, Species

from . import SOMETIMES, WIDTH

GIVEN = ("--species", "sitka", "--width", "3-1/2", "--mc-now", "9", "--rh-later", "80")
OWN = Own(
    (
        Species(
            "Larch, fjord side", 0.55, radial=3.9, tangential=8.2, saturation=26.0, source="invented",
            mark="the boat's own",
        ),
    )
)  # fmt: skip
_FILE = Path(shopcompanion.timber.__file__).with_name("species.csv")
ROWS = {row["species"]: row for row in csv.DictReader(_FILE.read_text(encoding="utf-8").splitlines())}
SHRINKING = sorted(name for name, row in ROWS.items() if row["shrink_radial_pct"])


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    asked: dict[str, Any] = {"width": draw(WIDTH), "species": draw(st.sampled_from([*SHRINKING, "larch, Fjord side"]))}
    if asked["species"] not in ROWS or draw(SOMETIMES):
        asked["own"] = OWN
    for when in ("now", "later"):
        if draw(SOMETIMES):
            asked[f"mc_{when}"] = draw(st.integers(0, 600)) / 10
        asked[f"temp_{when}"] = draw(st.floats(0, 60))
        asked[f"rh_{when}"] = draw(st.floats(5, 95))
    for way in ("radial", "tangential"):
        if draw(SOMETIMES):
            asked[way] = draw(st.floats(1, 15))
    return asked


def in_fahrenheit(celsius: float, humidity: float) -> float:
    """The equilibrium by the equation's coefficients for °F (Wood Handbook, from memory): other numbers."""
    t, h = celsius * 1.8 + 32, humidity / 100
    w = 330 + 0.452 * t + 0.00415 * t**2
    kh = (0.791 + 0.000463 * t - 0.000000844 * t**2) * h
    k1 = 6.34 + 0.000775 * t - 0.0000935 * t**2
    k2 = 1.09 + 0.0284 * t - 0.0000904 * t**2
    bound = (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2)
    return 1800 / w * (kh / (1 - kh) + bound)


def shrinks(way: str) -> Callable[[Result], None]:
    def check(result: Result) -> None:
        row = ROWS.get(result.answers.timber)
        wanted = float(row[f"shrink_{way}_pct"]) if row else getattr(OWN.species[0], way)
        assert getattr(result.answers, f"{way}_total") == wanted

    return check


def begins(result: Result) -> None:
    """As the table's column or the boat's own says, and 30 % where neither does."""
    row = ROWS.get(result.answers.timber, {"saturation_pct": "26"})
    assert result.answers.shrinks_below == float(row["saturation_pct"] or 30)


def named(result: Result) -> None:
    assert result.answers.timber.casefold() == result.inputs.species.casefold()


def sourced(result: Result) -> None:
    row = ROWS.get(result.answers.timber, {"source_table": "invented"})
    assert result.answers.species_source == row["source_table"]


def marked(result: Result) -> None:
    row = ROWS.get(result.answers.timber, {"mark": "the boat's own"})
    assert result.answers.species_mark == row["mark"]


QUESTION = questions()
IN_WORDS = {
    "radial_total": shrinks("radial"),
    "tangential_total": shrinks("tangential"),
    "shrinks_below": begins,
    "timber": named,
    "species_source": sourced,
    "species_mark": marked,
}
