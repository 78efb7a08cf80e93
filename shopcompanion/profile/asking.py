"""A calculator's answer for a spar of a boat, as the card and the cutting plan both put the question."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from .. import form
from ..catalog import load
from ..errors import CompanionError
from ..lengths import Rule, in_millimetres
from ..spar.kinds import MASTS
from .follow import follow
from .names import folded
from .records import Boat, Preset, Spar

# Calculators of a tool, or of a thing that is made: a preset of theirs for the spar says how the tool is set up for it.
SET_UP = ("dowels", "drum", "gauge", "hinge", "jaws", "roundover", "scarf", "shoulder", "tip")


def preset_for(boat: Boat, spar: Spar, calculator: str) -> Preset | None:
    """The first preset of a tool that is set up for the spar."""
    if calculator not in SET_UP:
        return None
    for preset in boat.presets:
        if preset.calculator == calculator and preset.spar and folded(preset.spar) == folded(spar.name):
            return preset
    return None


class Solved(NamedTuple):
    """The Result, the preset for the spar if there is one, and why that gave no answer, so that it was set aside."""

    result: Any
    preset: Preset | None = None
    fault: CompanionError | None = None


def answered(
    boat: Boat, spar: Spar, calculator: str, *, at: float | None, texts: Mapping[str, str], rule: Rule
) -> Solved:
    """The answer at a station, with `texts` typed over what follows the boat.

    A preset for the spar counts where it still answers. Defaults are those of the boat's own unit, whatever the answer
    is shown in. InputFault or InputFaults when there is no answer.
    """
    values = follow(boat, spar, at)
    preset, fault = preset_for(boat, spar, calculator), None
    if preset is not None:
        try:
            return Solved(
                form.solve(load(calculator), {**dict(preset.inputs), **texts}, values, rule, boat.units), preset
            )
        except CompanionError as error:  # set up for another spar than this one has become: the spar itself counts
            fault = error
    return Solved(form.solve(load(calculator), texts, values, rule, boat.units), preset, fault)


def jaws_texts(spar: Spar) -> dict[str, str] | None:
    """What is typed for the jaws at a spar's heel: flats, length and rods as the profile has them; None without any."""
    if spar.kind in MASTS:
        return None
    for fitting in spar.fittings:
        if fitting.kind == "jaws" and fitting.middle(spar.length) < spar.length / 2:
            sizes = {"on_pole": fitting.length, "rod": fitting.hole, "flat": fitting.flat}
            depths = spar.depth_outline()
            if depths and fitting.face == "A and C":  # the cheeks lie on its depth
                sizes["gaff_width"] = depths.width_at(0.0)
            texts = {name: in_millimetres(size) for name, size in sizes.items() if size}
            return texts | ({"rods": str(fitting.holes)} if fitting.hole and fitting.length else {})
    return None
