"""Reading the tables that are about timber: each row by itself, and then what only all of them together can say."""

from typing import TYPE_CHECKING, Any

from ..errors import printable
from ..record import NamedTuple
from ..timber.species import Own, Species, published
from .names import TableName
from .timber_records import OwnSpecies, Piece, Sold, Timber, Unfit, priced, sized, with_knots
from .validate import Unsound

if TYPE_CHECKING:
    from .parse import Reader


class _Row(NamedTuple):
    """A row as it was read, and how a fault names it."""

    table: "TableName"
    record: Any


def stores(reader: "Reader", raw: dict[str, Any], currency: str | None) -> dict[str, tuple[Any, ...]]:
    """The boat's own timbers, its pieces, the timber on hand and the yard, by the names that Boat has for them."""
    species = _species(reader, raw)
    own = Own(tuple(timber.species for timber in species))
    rows = {key: _rows(reader, raw, key, of) for key, of in (("piece", Piece), ("timber", Timber), ("yard", Sold))}
    for row in (row for many in rows.values() for row in many):
        reader.timber(row.record.species, own, row.table)
    return {
        "species": species,
        "pieces": tuple(row.record for row in rows["piece"]),
        "timbers": tuple(_timbers(reader, rows["timber"])),
        "yard": tuple(_yard(reader, rows["yard"], currency)),
    }


def _rows(reader: "Reader", raw: dict[str, Any], key: str, of: type) -> list[_Row]:
    read: list[_Row] = []
    for place, raw_row in enumerate(reader.rows(raw.get(key, []), TableName(key), ""), 1):
        table = reader.table_of(key, place, raw_row)
        if (row := reader.record(of, raw_row, table, "")) is None:
            reader.lose(table)
        else:
            read.append(_Row(table, row))
    return read


def _species(reader: "Reader", raw: dict[str, Any]) -> tuple[OwnSpecies, ...]:
    kept: dict[str, Species] = {}
    timbers: list[OwnSpecies] = []
    there = {species.name.casefold(): species.name for species in published()} if raw.get("species") else {}
    for table, timber in _rows(reader, raw, "species", OwnSpecies):
        if (timber.sg12 is None) == (timber.density is None):
            which = "neither sg12 nor density" if timber.sg12 is None else "both sg12 and density"
            reader.fault(table, "sg12", None, f"{which}: give one of them, at 12 % of moisture")
            reader.lose(table)
            continue
        name = " ".join(timber.name.split()).casefold()
        if name in there or name in kept:
            whose = "the companion's table has" if name in there else "another row has"
            reader.fault(
                table, "name", timber.name, f"{whose} a timber '{printable(timber.name)}': give this another name"
            )
            reader.lose(table)
            continue
        kept[name] = timber.species
        timbers.append(timber)
    return tuple(timbers)


def _timbers(reader: "Reader", rows: list[_Row]) -> list[Timber]:
    kept = []
    for table, timber in rows:
        without, knots = with_knots(timber)
        if _told(reader, table, [*sized(timber), *knots]):
            kept.append(without)
    return kept


def _yard(reader: "Reader", rows: list[_Row], currency: str | None) -> list[Sold]:
    kept: list[Sold] = []
    for table, offer in rows:
        sold, wrong = priced(offer, currency, kept[0].price.currency if kept else "")
        if _told(reader, table, [*sized(offer), *wrong]):
            kept.append(sold)
    return kept


def _told(reader: "Reader", table: "TableName", wrong: list[Unfit]) -> bool:
    """Report the faults of a row. True when it can be used all the same."""
    reader.tell(table, [Unsound(fault.key, None, fault.reason, fault.lengths) for fault in wrong])
    if whole := any(fault.left_out for fault in wrong):
        reader.lose(table)
    return not whole
