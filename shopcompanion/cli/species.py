"""The command of the timbers: all there are, or one with all its figures."""

from ..lengths import DEFAULT_RULES
from ..profile.left_out import INCOMPLETE, LeftOut, as_json
from ..timber.listing import FIGURES, every, in_brief, in_full
from ..timber.species import Own, find
from .calculators import UNITS
from .following import boat_of
from .grammar import Given, one_of
from .output import say, say_json
from .words import aligned


def listed(given: Given) -> int:
    """Every timber in three lines; with a name, that one with all its figures. InputFault when none is meant."""
    own, rule = Own(()), DEFAULT_RULES["in"]
    left_out: tuple[LeftOut, ...] = ()
    if "boat" in given:
        boat = boat_of(given, given["boat"])
        own, rule = boat.own, boat.rule
        left_out = tuple(missing for missing in boat.left_out if missing.table in ("", "species"))
    if units := one_of(given, "units", UNITS):
        rule = DEFAULT_RULES["mm" if units == "mm" else "in"]
    known = (find(given["name"], own),) if "name" in given else every(own)
    if "json" in given:
        units_of = {key: kind.unit for key, kind in FIGURES.items()}
        rows = [{**species._asdict(), "own": species in own.species} for species in known]
        say_json({"units": units_of, "species": rows, "left_out": as_json(left_out)})
        return INCOMPLETE if left_out else 0
    lines = [f"⚠ Left out for a fault: {missing.words}" for missing in left_out]
    if "name" in given:
        name, *_ = in_brief(known[0], rule)
        lines += [name, "", *(f"  {line}" for line in aligned(in_full(known[0], rule)))]
    else:
        for species in known:
            name, *figures = in_brief(species, rule)
            lines += [name, *(f"  {line}" for line in figures)]
    say(*lines)
    return INCOMPLETE if left_out else 0
