"""The list of calculators, by stage of the job. Naming one imports that one module."""

from functools import cache
from importlib import import_module

from .calculator import Calculator
from .errors import InputFault, nearest, printable

STAGES: dict[str, tuple[str, ...]] = {
    "Shape": ("facets", "taper", "gauge", "drum", "roundover", "shoulder", "tip", "dowels"),
    "Timber": ("rip", "scarf", "staves", "moisture", "weight"),
    "Fit": ("flat", "inlay", "hinge", "glueup", "bore", "jaws", "seat", "lap"),
    "Prove": ("strength", "swap", "lightest", "compare", "lift"),
    "Finish": ("log", "coating"),
}
NAMES = tuple(name for stage in STAGES.values() for name in stage)


@cache
def load(name: str) -> Calculator:
    """The calculator called `name`. InputFault when there is none."""
    if name not in NAMES:
        raise InputFault(f"no calculator is called '{printable(name)}'{nearest(name, list(NAMES))}")
    module: Calculator = import_module(f"{__package__}.calculators.{name}").CALCULATOR
    return module


def all_loaded() -> bool:
    """Whether no calculator has to be loaded any more."""
    return load.cache_info().currsize == len(NAMES)
