"""Timbers by species: strength, stiffness and shrinkage as published, each with its source and how it was come by."""

from collections.abc import Sequence
from functools import cache
from typing import Any, ClassVar

from ..errors import InputFault, nearest, printable
from ..fields import Kind, OpaqueValue, Text, Value
from ..lengths import Rule
from ..record import NamedTuple
from .moisture import SATURATION


class Species(NamedTuple):
    """A timber. `sg12` is its specific gravity, oven-dry mass over the volume at 12 % moisture; what is not known is
    None. MPa, and newtons for `hardness`; shrinkage from green to oven-dry, percent. `saturation` is the moisture at
    which it begins to shrink, percent, where a table or the user gives its own; `shrinks_below` is the one to use.

    `source` names the table, and `mark` says whether the figures were seen in it or are from memory.
    """

    name: str
    sg12: float
    modulus: float | None = None
    rupture: float | None = None
    crushing: float | None = None
    shear: float | None = None
    hardness: float | None = None
    radial: float | None = None
    tangential: float | None = None
    volumetric: float | None = None
    saturation: float | None = None
    source: str = ""
    mark: str = ""

    @property
    def shrinks_below(self) -> float:
        """The moisture at which it begins to shrink as it dries: its own figure, or 30 % as the handbook takes it."""
        return SATURATION if self.saturation is None else self.saturation

    @property
    def told(self) -> str:
        """Where its figures are from, in one line."""
        return f"{self.name}: {self.source}; {self.mark}" if self.mark else f"{self.name}: {self.source}"


class Own(OpaqueValue):
    """The user's own timbers."""

    __slots__ = ("species",)

    def __init__(self, species: Sequence[Species]) -> None:
        self.species = tuple(species)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Own) and self.species == other.species

    def __hash__(self) -> int:
        return hash(self.species)


class Named(Text):
    """The name of a timber, or enough of it; `find` knows which it is."""

    example: ClassVar[str] = "Spruce, Sitka"


class Timbers(Kind):
    """The kind of an input that is the user's own timbers. It is never typed: it follows the boat."""

    python = (Own,)
    typed: ClassVar[bool] = False

    def check(self, value: Value, rule: Rule) -> None:
        if not isinstance(value, Own):
            raise InputFault("not timbers")

    def to_json(self, value: Value) -> Any:
        """Each by its name and figures."""
        return [timber._asdict() for timber in value.species] if isinstance(value, Own) else None

    def _say(self, value: Any, rule: Rule) -> str:
        return "; ".join(timber.name for timber in value.species)


@cache
def published() -> tuple[Species, ...]:
    """The table that comes with the companion, in its own order."""
    # what pkgutil.get_data does, which takes a millisecond to load, and importlib.resources ten
    data: bytes = __spec__.loader.get_data(f"{__file__.removesuffix('.py')}.csv")  # type: ignore[union-attr]
    head, *lines = map(_cells, data.decode("utf-8").splitlines())
    return tuple(_species(dict(zip(head, cells, strict=True))) for cells in lines)


def _cells(line: str) -> list[str]:
    """The cells of a row of our table; a comma within quotes parts none. (csv takes half a millisecond to load.)

    >>> _cells('"Spruce, Sitka",0.4,')
    ['Spruce, Sitka', '0.4', '']
    """
    pieces = line.split('"')  # every other one stands within quotes
    return "".join(piece if place % 2 else piece.replace(",", "\t") for place, piece in enumerate(pieces)).split("\t")


@cache
def _by_name() -> dict[str, Species]:
    return {_folded(timber.name): timber for timber in published()}


def _species(row: dict[str, str]) -> Species:
    def figure(key: str, scale: float = 1.0) -> float | None:
        return float(row[key]) / scale if row[key] else None

    return Species(
        row["species"],
        float(row["SG12"]),
        modulus=figure("MOE_MPa"),
        rupture=figure("MOR_kPa", 1000),
        crushing=figure("comp_parallel_kPa", 1000),
        shear=figure("shear_kPa", 1000),
        hardness=figure("side_hardness_N"),
        radial=figure("shrink_radial_pct"),
        tangential=figure("shrink_tangential_pct"),
        volumetric=figure("shrink_volumetric_pct"),
        saturation=figure("saturation_pct"),
        source=row["source_table"],
        mark=row["mark"],
    )


def find(name: str, own: Own | None = None) -> Species:
    """The timber of that name, or the only one whose name has all its words. InputFault with the nearest names.

    >>> find("sitka").name
    'Spruce, Sitka'
    """
    wanted = _folded(name)
    for timber in own.species if own else ():
        if _folded(timber.name) == wanted:
            return timber
    if wanted in _by_name():
        return _by_name()[wanted]
    known = (*(own.species if own else ()), *published())
    words = _words(wanted)
    having = [timber for timber in known if words and all(_has(timber, word) for word in words)]
    if len(having) == 1:
        return having[0]
    if having:
        some = "; ".join(timber.name for timber in having[:4])
        raise InputFault(f"'{printable(name)}' could be {some}{' and more' * (len(having) > 4)}: say which")
    names = [timber.name for timber in known]
    hint = nearest(name, names) or _one_word(words, known)
    raise InputFault(f"no timber is called '{printable(name)}'{hint or '; the species command lists them'}")


def full_name(name: str | None, own: Own | None = None) -> str | None:
    """The full name of a timber, so that a short one and it are the same; an unknown one stays."""
    if name is None:
        return None
    try:
        return find(name, own).name
    except InputFault:
        return name


def _one_word(words: Sequence[str], known: Sequence[Species]) -> str:
    """The names that have one of the words, or a word like it, as the end of a fault."""
    every = sorted({word for timber in known for word in _words(_folded(timber.name))})
    for word in words:
        names = [timber.name for timber in known if _has(timber, word)]
        if not names and (near := nearest(word, every)):
            like = near.split("'")[1]
            names = [timber.name for timber in known if _has(timber, like)]
        if names:
            return (
                f"; there {'is' if len(names) == 1 else 'are'} {'; '.join(names[:4])}{' and more' * (len(names) > 4)}"
            )
    return ""


def _has(species: Species, word: str) -> bool:
    return any(held.startswith(word) for held in _words(_folded(species.name)))


def _folded(name: str) -> str:
    return " ".join(name.split()).casefold()


def _words(folded: str) -> list[str]:
    return [word for word in "".join(c if c.isalnum() else " " for c in folded).split() if word]
