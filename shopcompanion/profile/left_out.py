"""What of a profile could not be used, and what of that an answer, a card or a cutting plan depends on.

An answer made of half a profile is no lie as long as it names the other half. `for_plan`, `for_card` and `for_answer`
choose what has to be named; when in doubt, they name it.
"""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from ..errors import printable
from ..record import NamedTuple
from .names import folded

if TYPE_CHECKING:
    from .records import Boat, Spar

LEFT_OUT = "left out until this is mended"
INCOMPLETE = 3  # exit status: answered, but without what was left out of the profile
_MOST = 3  # reasons that are told of one row
_LONGEST = 160  # characters of a reason
_LOAD = ("supports", "loads", "push", "sail_area", "sail_from", "sail_to")
_NO_WOOD = ("log", "done", *_LOAD)  # what no cutting plan depends on
_SHAPE = ("length", "section", "wall", "staves", "solid", "law", "stations", "square_to", "square_run_out", "regions")
_CUT = (*_SHAPE, "joints", "fittings")
# The keys of a spar on which a followed value depends, beside its shape.
_DEPENDS = {
    "spar.body": _CUT,
    "spar.shape_at": _CUT,
    "spar.hinge_at": ("joints", "fittings"),
    "spar.log": ("log",),
    "spar.species": ("species",),
    "spar.count": ("count",),
    "spar.peak": ("kind",),
    "spar.bow": ("bow",),
    "spar.blank": ("blank",),
    "spar.sawn": ("blank", "bow"),
    "blank.planing": ("blank",),
    "spar.kind": ("kind",),
    "spar.supports": ("supports", "kind", "fittings"),
    "spar.brace_at": ("supports", "kind", "fittings"),
    "spar.loads": ("loads",),
    "spar.push": ("push",),
    "spar.sail_area": ("sail_area", "kind"),
    "spar.sail_from": ("sail_from", "kind", "fittings"),
    "spar.sail_to": ("sail_to", "kind", "fittings"),
}
_SHOP = {  # the keys of the shop on which a followed value depends
    "boat.yard": ("currency",),
    "shop.coves": ("bits",),
    "shop.bits": ("bits",),
    "shop.drum": ("drums",),
    "shop.rpm": ("drums",),
    "shop.belt_length": ("belts",),
    "blank.planing": ("planing",),
    "spar.blank": ("planing",),
    "spar.sawn": ("planing",),
}


class LeftOut(NamedTuple):
    """Something that the profile says and no sum uses, because it has a fault.

    `table` is the kind of table it stands in ("" is the file itself), `row` what that row is called, `key` its place in
    the row ("" is the whole row); `known` tells whether the key is one that such a table has. `name` says in words what
    is left out and `reason` why. A preset has the `spar` and the `calculator` that it is for.
    """

    table: str
    row: str
    key: str
    name: str
    reason: str
    known: bool = True
    spar: str = ""
    calculator: str = ""

    @property
    def first(self) -> str:
        """The key of the row itself: `fittings` for `fittings 2, kind`."""
        return self.key.partition(",")[0].rstrip("0123456789").strip()

    @property
    def where(self) -> str:
        """The row, or the table that is no list."""
        return self.row or (f"[{self.table}]" if self.table else "the file")

    @property
    def words(self) -> str:
        """One line: what is left out, and why."""
        return f"{self.name}: {self.reason}" if not self.key else f"{self.where}, {self.name}: {self.reason}"


def as_json(left_out: Sequence[LeftOut]) -> list[dict[str, str]]:
    """What was left out, for machines."""
    return [{"where": lack.where, "name": lack.name, "reason": lack.reason} for lack in left_out]


def for_plan(boat: "Boat") -> tuple[LeftOut, ...]:
    """What is left out of the boat's cutting plan, or might be missing from it."""
    return tuple(lack for lack in boat.left_out if lack.table != "preset" and lack.first not in _NO_WOOD)


def for_card(boat: "Boat", spar: "Spar | None") -> tuple[LeftOut, ...]:
    """What is left out of the card of a spar, or with None of the cards of all spars."""
    return tuple(
        lack for lack in boat.left_out if lack.table not in ("piece", "timber", "yard") and _of_card(lack, spar)
    )


def _of_card(lack: LeftOut, spar: "Spar | None") -> bool:
    if spar is None:
        return True
    if lack.table == "preset":
        return not lack.spar or _same(lack.spar, spar.name)
    return lack.table != "spar" or not lack.key or _same(lack.row, spar.name) or _is_kind(lack)


def for_answer(
    boat: "Boat", spar: "Spar | None", follows: Collection[str], *, chosen: bool, preset: tuple[str, str]
) -> tuple[LeftOut, ...]:
    """What is left out of an answer whose inputs follow these names of `calculator.FOLLOWS`.

    `chosen` tells whether the user named the spar, `preset` the calculator and the name of the preset in use, or "".
    """
    of_spar, of_shop = _spar_keys(follows), _shop_keys(follows)
    others = bool({"boat.mast", "boat.bowsprit"} & set(follows))
    whole = {*_CUT, "count"} if "boat.spars" in follows else set()
    own = bool({"boat.species", "spar.species"} & set(follows))

    def of_a_spar(lack: LeftOut) -> bool:
        if _depends(lack, whole):
            return True
        if spar is not None and lack.key and _same(lack.row, spar.name):
            return _depends(lack, of_spar) or (others and _is_kind(lack))
        return (others and (not lack.key or _is_kind(lack))) or (not lack.key and not chosen and bool(of_spar))

    touches: dict[str, Callable[[LeftOut], bool]] = {
        "": lambda lack: True,
        "boat": lambda lack: True,
        "shop": lambda lack: _depends(lack, of_shop),
        "species": lambda lack: own,
        "yard": lambda lack: "boat.yard" in follows,
        "spar": of_a_spar,
        "preset": lambda lack: bool(preset[1]) and lack.calculator in ("", preset[0]) and _same(lack.row, preset[1]),
    }
    return tuple(lack for lack in boat.left_out if lack.table in touches and touches[lack.table](lack))


def lost_spars(boat: "Boat") -> tuple[str, ...]:
    """The names of the spars that are left out whole."""
    return tuple(lack.name for lack in boat.left_out if lack.table == "spar" and not lack.key)


def because(left_out: Sequence[LeftOut]) -> str:
    """The end of a sentence that tells why something is not there: nothing when nothing is left out."""
    if not left_out:
        return ""
    more = f", and {len(left_out) - 1} more" if len(left_out) > 1 else ""
    return f"; left out for a fault: {left_out[0].words}{more}"


def _spar_keys(follows: Collection[str]) -> set[str]:
    """The keys of a spar on which these followed values depend."""
    of_spar = [name for name in follows if name.startswith("spar.") or name in _DEPENDS]
    return {key for name in of_spar for key in (*_DEPENDS.get(name, ()), *_SHAPE)}


def _shop_keys(follows: Collection[str]) -> set[str]:
    own = {name.removeprefix("shop.") for name in follows if name.startswith("shop.")}
    return own | {key for name in follows for key in _SHOP.get(name, ())}


def _depends(lack: LeftOut, keys: set[str]) -> bool:
    """Whether a value on these keys can depend on it; an unknown key may be meant for any of them."""
    return bool(keys) and (not lack.key or not lack.known or lack.first in keys)


def _is_kind(lack: LeftOut) -> bool:
    return not lack.known or lack.first == "kind"


def _same(name: str, other: str) -> bool:
    return folded(name) == folded(other)


class Fault(NamedTuple):
    """A fault as the reader meets it: table, number of the row, key, reason, and whether it is a known key."""

    table: str
    number: int
    key: str
    reason: str
    known: bool


def gathered(
    faults: Sequence[Fault], rows: Mapping[tuple[str, int], object], lost: Collection[tuple[str, int, str]]
) -> Iterator[LeftOut]:
    """One LeftOut for every row, part of a row, or value that is left out; `lost` are rows (and parts, by their key)
    that are left out as a whole, with all their faults as the reason."""
    wholes: dict[tuple[str, int, str], list[str]] = {}
    for fault in faults:
        place = (fault.table, fault.number)
        raw = rows.get(place)
        part = next((part for part in ("", _part(fault.key)) if (*place, part) in lost), None)
        if part is None:
            yield _left_out(place, fault.key, raw, printable(fault.reason, _LONGEST), fault.known)
            continue
        if fault.reason == LEFT_OUT:
            continue  # the reasons are told beside it
        inside = fault.key.removeprefix(part).lstrip(", ")
        wholes.setdefault((*place, part), []).append(f"{inside}: {fault.reason}" if inside else fault.reason)
    for (table, number, part), reasons in wholes.items():
        more = f"; and {len(reasons) - _MOST} more" if len(reasons) > _MOST else ""
        told = "; ".join(printable(reason, _LONGEST) for reason in reasons[:_MOST]) + more
        yield _left_out((table, number), part, rows.get((table, number)), told)


def _left_out(place: tuple[str, int], key: str, raw: object, reason: str, known: bool = True) -> LeftOut:
    table, number = place
    row = (_text(raw, "name") or f"{table} {number}") if number else ""
    name = _named(raw, key) if key else row or (f"[{table}]" if table else "the file")
    return LeftOut(table, row, key, name, reason, known, _text(raw, "spar"), _text(raw, "calculator"))


def _part(key: str) -> str:
    """The row of a list that a key stands in: `fittings 2` for `fittings 2, kind`."""
    head = key.partition(",")[0]
    return head if head[-1:].isdigit() else ""


def _named(raw: object, key: str) -> str:
    """What stands at a key of a raw row, in words: `cleat at 4 ft 10 in`, `flat of the cleat at 4 ft 10 in`."""
    part, inside = _part(key), key.partition(", ")[2]
    if not part:
        return key
    group, _, number = part.rpartition(" ")
    rows = raw.get(group) if isinstance(raw, dict) else None
    row: Any = rows[int(number) - 1] if isinstance(rows, list) and len(rows) >= int(number) else None
    kind, at = _text(row, "kind") or _text(row, "section"), _text(row, "at") or _text(row, "from")
    thing = (kind or part) + (f" at {at}" if at else "")
    own = f" ('{_text(row, 'name')}')" if _text(row, "name") else ""
    return f"{inside} of the {thing}{own}" if inside else thing + own


def _text(raw: object, key: str) -> str:
    value = raw.get(key) if isinstance(raw, dict) else None
    return printable(" ".join(str(value).split())) if isinstance(value, str | int | float) else ""
