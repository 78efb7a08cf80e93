"""Reading the tables that are about timber: each row by itself, and then what only all of them together can say."""

from typing import TYPE_CHECKING, Any, NamedTuple

from ..errors import printable
from ..timber.species import Own, Species, published
from .names import Table
from .timber_records import OwnSpecies, Piece, Sold, Timber, Unfit, priced, sized, with_knots
from .validate import Unsound

if TYPE_CHECKING:
    from .parse import Reader


class _Row(NamedTuple):
    """A row as it was read, and how a fault names it."""

    table: "Table"
    found: Any


def stores(reader: "Reader", raw: dict[str, Any], currency: str | None) -> dict[str, tuple[Any, ...]]:
    """The boat's own timbers, its pieces, the timber on hand and the yard, by the names that Boat has for them."""
    species = _species(reader, raw)
    own = Own(tuple(one.species for one in species))
    rows = {key: _rows(reader, raw, key, of) for key, of in (("piece", Piece), ("timber", Timber), ("yard", Sold))}
    for one in (one for many in rows.values() for one in many):
        reader.timber(one.found.species, own, one.table)
    return {
        "species": species,
        "pieces": tuple(one.found for one in rows["piece"]),
        "timbers": tuple(_timbers(reader, rows["timber"])),
        "yard": tuple(_yard(reader, rows["yard"], currency)),
    }


def _rows(reader: "Reader", raw: dict[str, Any], key: str, of: type) -> list[_Row]:
    found: list[_Row] = []
    for place, one in enumerate(reader.rows(raw.get(key, []), Table(key), ""), 1):
        table = reader.table_of(key, place, one)
        if (row := reader.record(of, one, table, "")) is None:
            reader.lose(table)
        else:
            found.append(_Row(table, row))
    return found


def _species(reader: "Reader", raw: dict[str, Any]) -> tuple[OwnSpecies, ...]:
    kept: dict[str, Species] = {}
    found: list[OwnSpecies] = []
    there = {one.name.casefold(): one.name for one in published()} if raw.get("species") else {}
    for table, one in _rows(reader, raw, "species", OwnSpecies):
        if (one.sg12 is None) == (one.density is None):
            which = "neither sg12 nor density" if one.sg12 is None else "both sg12 and density"
            reader.fault(table, "sg12", None, f"{which}: give one of them, at 12 % of moisture")
            reader.lose(table)
            continue
        name = " ".join(one.name.split()).casefold()
        if name in there or name in kept:
            whose = "the companion's table has" if name in there else "another row has"
            reader.fault(table, "name", one.name, f"{whose} a timber '{printable(one.name)}': give this another name")
            reader.lose(table)
            continue
        kept[name] = one.species
        found.append(one)
    return tuple(found)


def _timbers(reader: "Reader", rows: list[_Row]) -> list[Timber]:
    kept = []
    for table, one in rows:
        timber, knots = with_knots(one)
        if _told(reader, table, [*sized(one), *knots]):
            kept.append(timber)
    return kept


def _yard(reader: "Reader", rows: list[_Row], currency: str | None) -> list[Sold]:
    kept: list[Sold] = []
    for table, one in rows:
        sold, wrong = priced(one, currency, kept[0].price.currency if kept else "")
        if _told(reader, table, [*sized(one), *wrong]):
            kept.append(sold)
    return kept


def _told(reader: "Reader", table: "Table", wrong: list[Unfit]) -> bool:
    """Tell the faults; whether the row can be used."""
    reader.tell(table, [Unsound(one.key, None, one.reason, one.lengths) for one in wrong])
    if whole := any(one.left_out for one in wrong):
        reader.lose(table)
    return not whole
