"""The timbers there are, in words: each with its figures, their source and how they were checked."""

from typing import Any

from ..errors import printable
from ..fields import Kind, Ratio
from ..lengths import Rule
from ..quantities import Force, Percent, Stress
from .species import Own, Species, published


class PublishedStress(Stress):
    """A stress to the three figures that tables print, so that another unit does not make it look finer."""

    def _say(self, value: Any, rule: Rule) -> str:
        name = self.shop[rule.unit]
        figures = float(f"{self.outside(value, name):.3g}")
        return f"{figures:,.0f} {name}".replace(",", " ") if figures >= 1000 else f"{figures:g} {name}"


FIGURES: dict[str, Kind] = {
    "sg12": Ratio("Specific gravity, 12 %"),
    "modulus": PublishedStress("Modulus of elasticity"),
    "rupture": PublishedStress("Modulus of rupture"),
    "crushing": PublishedStress("Crushing, along the grain"),
    "shear": PublishedStress("Shear, along the grain"),
    "hardness": Force("Side hardness"),
    "radial": Percent("Radial shrinkage, green to dry"),
    "tangential": Percent("Tangential shrinkage, green to dry"),
    "volumetric": Percent("Shrinkage by volume, green to dry"),
    "saturation": Percent("Begins to shrink at"),
}
_IN_BRIEF = (("sg12", "SG"), ("modulus", "E"), ("rupture", "rupture"), ("tangential", "shrinks"), ("radial", "and"))


def every(own: Own | None) -> tuple[Species, ...]:
    """The boat's own timbers, then the published ones."""
    return (*(own.species if own else ()), *published())


def in_brief(species: Species, rule: Rule) -> tuple[str, str, str]:
    """A timber in three lines: its name, its main figures, its source and mark."""
    figures = [
        f"{word} {FIGURES[key].show(value, rule)}"
        for key, word in _IN_BRIEF
        if (value := getattr(species, key)) is not None
    ]
    return printable(species.name, 100), ", ".join(figures).replace(", and", " and"), source(species)


def source(species: Species) -> str:
    """Where a timber's figures are from, and how they were checked."""
    return printable("; ".join(filter(None, (species.source, species.mark))), 400)


def in_full(species: Species, rule: Rule) -> list[tuple[str, str]]:
    """Every figure of a timber under its label, its source and mark at the end."""
    rows = {key: (kind.label, kind.show(getattr(species, key), rule)) for key, kind in FIGURES.items()}
    if species.saturation is None:
        label, _ = rows["saturation"]
        rows["saturation"] = label, f"{FIGURES['saturation'].show(species.shrinks_below, rule)}, as a rule"
    return [
        *rows.values(),
        ("Source", printable(species.source, 400)),
        ("How checked", printable(species.mark, 400) or "—"),
    ]
