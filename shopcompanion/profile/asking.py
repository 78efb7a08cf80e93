"""A calculator's answer for a spar of a boat, as the card and the cutting plan both put the question."""

from collections.abc import Mapping
from typing import Any

from .. import form
from ..catalog import load
from ..errors import CompanionError
from ..lengths import Rule, in_millimetres
from ..record import NamedTuple
from ..spar.kinds import MASTS
from .follow import follow
from .names import folded
from .records import Boat, Preset, Spar

# Calculators of a tool, or of a thing that is made: a preset of theirs for the spar says how the tool is set up for it.
SET_UP = ("dowels", "drum", "gauge", "hinge", "jaws", "roundover", "scarf", "shoulder", "tip")


def presets_for(boat: Boat, spar: Spar, calculator: str) -> tuple[Preset, ...]:
    """The presets of a tool that are set up for the spar, in the order of the profile. Only the first counts."""
    if calculator not in SET_UP:
        return ()
    name = folded(spar.name)
    return tuple(
        preset for preset in boat.presets if preset.calculator == calculator and folded(preset.spar or "") == name
    )


class Solved(NamedTuple):
    """The result of a question, the preset that it was set up by, and the `fault` for which that was set aside, if any;
    `others` are further presets of the tool for the spar, which do not count.
    """

    result: Any
    preset: Preset | None = None
    fault: CompanionError | None = None
    others: tuple[Preset, ...] = ()


def answered(
    boat: Boat, spar: Spar, calculator: str, *, at: float | None, texts: Mapping[str, str], rule: Rule
) -> Solved:
    """The answer at a station, with `texts` typed over what follows the boat.

    A preset for the spar counts where it still answers. Defaults are those of the boat's own unit, whatever the answer
    is shown in. InputFault or InputFaults when there is no answer.
    """
    values = follow(boat, spar, at)
    first, *others = presets_for(boat, spar, calculator) or (None,)
    unused = tuple(preset for preset in others if preset)
    fault = None
    if first is not None:
        try:
            result = form.solve(load(calculator), {**dict(first.inputs), **texts}, values, rule, boat.units)
            return Solved(result, first, None, unused)
        except CompanionError as error:  # set up for another spar than this one has become: the spar itself counts
            fault = error
    return Solved(form.solve(load(calculator), texts, values, rule, boat.units), first, fault, unused)


def jaws_texts(spar: Spar) -> dict[str, str] | None:
    """Inputs of `jaws` as texts for the jaws at a spar's heel: flats, length and rods as the profile has them; None
    without any."""
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
