"""The command of the timbers: all there are, or one with all its figures."""

from ..lengths import DEFAULT_RULES
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
    if "boat" in given:
        boat = boat_of(given, given["boat"])
        own, rule = boat.own, boat.rule
    if units := one_of(given, "units", UNITS):
        rule = DEFAULT_RULES["mm" if units == "mm" else "in"]
    known = (find(given["name"], own),) if "name" in given else every(own)
    if "json" in given:
        units_of = {key: kind.unit for key, kind in FIGURES.items()}
        say_json({"units": units_of, "species": [{**one._asdict(), "own": one in own.species} for one in known]})
    elif "name" in given:
        name, *_ = in_brief(known[0], rule)
        say(name, "", *(f"  {line}" for line in aligned(in_full(known[0], rule))))
    else:
        for one in known:
            name, *lines = in_brief(one, rule)
            say(name, *(f"  {line}" for line in lines))
    return 0
