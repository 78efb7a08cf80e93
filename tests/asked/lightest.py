"""Sound questions for lightest, few as each is a search; and the found spar held against strength, asked anew."""

from typing import Any

import pytest
from hypothesis import strategies as st

from shopcompanion.beam.model import Load, Push, Support
from shopcompanion.calculator import Result

GIVEN = ("--length", "14 ft", "--butt", "3", "--head", "2-1/2", "--species", "sitka",
         "--supports", "0 = fixed", "--loads", "14 ft = 20 lbf")  # fmt: skip
_FIXED = (Support(0.0, "fixed"),)
_TIP = (Load("force", 4000.0, 4000.0, 200.0, 200.0),)
_POLE = {"species": "Spruce, Sitka", "supports": _FIXED, "loads": _TIP, "own_weight": "no"}
_PLAIN: dict[str, Any] = {**_POLE, "outline": ((0.0, 90.0), (4000.0, 80.0))}
_PRESSED = {**_PLAIN, "push": (Push(4000.0, 500.0),), "least_width": 45.0}
_OVAL = {**_PLAIN, "section": "oval", "depth": 110.0, "factor_ok": 4.0, "plane": "depth"}
_HOLLOW = {**_PLAIN, "section": "hollow", "wall": 25.0, "deflection_ok": 250.0}
_SAGGING = {
    **_POLE, "outline": ((0.0, 60.0), (2000.0, 60.0), (4000.0, 60.0)), "law": "faired",
    "supports": (Support(0.0, "pinned"), Support(3000.0, "pinned")),
}  # fmt: skip

QUESTION = st.sampled_from([_PLAIN, _PRESSED, _OVAL, _HOLLOW, _SAGGING])
_LOADED = ("species", "supports", "loads", "own_weight", "push", "plane", "section")


def again(result: Result, *, then: bool) -> Any:
    """What strength says of the spar now, or of the new widths."""
    from ..asking import ask

    inputs, answers = result.inputs, result.answers
    asked = {name: getattr(inputs, name) for name in _LOADED}
    asked |= {"outline": answers.new_widths if then else inputs.outline, "law": inputs.law}
    if inputs.section == "oval":
        asked["depth"] = answers.new_depths[0][1] if then else inputs.depth
    if inputs.section == "hollow":
        asked["wall"] = answers.new_wall if then else inputs.wall
    return ask("strength", **asked).answers


def _same(name: str, of: str, *, then: bool) -> Any:
    def check(result: Result) -> None:
        assert getattr(result.answers, name) == pytest.approx(getattr(again(result, then=then), of), rel=1e-8)

    return check


def new_widths(result: Result) -> None:
    """Within the limits; and a hundredth thinner all over it is not."""
    from ..asking import ask

    inputs, answers = result.inputs, result.answers
    goes, factor = inputs.deflection_ok or answers.deflection_now, inputs.factor_ok or answers.factor_now
    assert answers.deflection_then <= goes * (1 + 1e-6)
    assert answers.factor_then >= factor * (1 - 1e-6)
    if answers.load_factor_now is not None:
        assert answers.load_factor_then >= answers.load_factor_now * (1 - 1e-6)
    widest = max(width for _, width in inputs.outline)
    assert all(width <= 1.05 * widest * (1 + 1e-9) for _, width in answers.new_widths)
    assert [at for at, _ in answers.new_widths] == [at for at, _ in inputs.outline]
    asked = {name: getattr(inputs, name) for name in _LOADED}
    if inputs.section in ("round", "eight"):
        thin = tuple((at, width * 0.99) for at, width in answers.new_widths)
        less = ask("strength", **asked, outline=thin, law=inputs.law).answers
        buckles = answers.load_factor_now is not None and less.load_factor < answers.load_factor_now
        assert less.most_deflection > goes or less.factor < factor or buckles


def new_depths(result: Result) -> None:
    """In proportion to the widths, as they were."""
    ratio = result.inputs.depth / result.inputs.outline[0][1]
    for (at, width), (station, depth) in zip(result.answers.new_widths, result.answers.new_depths, strict=True):
        assert at == station
        assert depth == pytest.approx(ratio * width)


def new_law(result: Result) -> None:
    assert result.answers.new_law == result.inputs.law


def new_wall(result: Result) -> None:
    assert 0 < result.answers.new_wall < min(width for _, width in result.answers.new_widths) / 2


def governs(result: Result) -> None:
    """It names the limits that are at nothing to spare, by the table of limits."""
    spare = dict(result.tables[1].rows)
    assert min(spare.values()) > -1e-3
    for words, left in spare.items():
        if left < 0.2:
            assert words in result.answers.governs


IN_WORDS = {
    "mass_now": _same("mass_now", "mass", then=False),
    "mass_then": _same("mass_then", "mass", then=True),
    "deflection_now": _same("deflection_now", "most_deflection", then=False),
    "deflection_then": _same("deflection_then", "most_deflection", then=True),
    "factor_now": _same("factor_now", "factor", then=False),
    "factor_then": _same("factor_then", "factor", then=True),
    "load_factor_now": _same("load_factor_now", "load_factor", then=False),
    "load_factor_then": _same("load_factor_then", "load_factor", then=True),
    "new_widths": new_widths,
    "new_depths": new_depths,
    "new_law": new_law,
    "new_wall": new_wall,
    "governs": governs,
}
