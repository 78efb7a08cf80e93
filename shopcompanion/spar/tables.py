"""Tapers as books print them: a spar's width as parts of its largest, on the way from there to either end.

Figures were seen in copies of the books, but Steel's yards and gaffs in a later writer's note. Between the
figures a spar is faired, and where the book says nothing it keeps its full width: both are ours.
"""

from ..errors import InputFault
from ..record import NamedTuple

_HEEL = 1e-6  # mm: what is nearer than this to the heel is at it
Parts = tuple[tuple[float, float], ...]  # (part of the way from the widest to the end, part of the largest width)


class Published(NamedTuple):
    """A printed table. An empty side is one that the book says nothing of."""

    to_head: Parts
    to_heel: Parts
    place: float | None  # of the widest, as a part of the length from the heel; None where it must be said
    source: str
    ours: str = ""  # what is not the book's


_STEEL = "David Steel, The Elements and Practice of Rigging and Seamanship, 1794"
_STEEL_QUOTED = f"{_STEEL}, at second hand"
_SKENE = "Norman L. Skene, Elements of Yacht Design, 1927"
_KEMP = "D. Kemp, A Manual of Yacht and Boat Sailing, 1880"
_BELOW = "full width from the heel to the widest place"
_YARD = ((1 / 4, 30 / 31), (2 / 4, 7 / 8), (3 / 4, 7 / 10), (1.0, 3 / 7))

PUBLISHED: dict[str, Published] = {
    "steel 1794 yard": Published(_YARD, _YARD, 0.5, f"{_STEEL_QUOTED}: yards, by quarters from the slings to the arm"),
    "steel 1794 gaff": Published(
        ((1 / 4, 40 / 41), (2 / 4, 11 / 12), (3 / 4, 4 / 5), (1.0, 5 / 9)),
        (),
        0.0,
        f"{_STEEL_QUOTED}: gaffs, by quarters to the outer end",
        f"largest at the jaws; {_BELOW}",
    ),
    "steel 1794 mast": Published(
        ((1 / 4, 60 / 61), (2 / 4, 13 / 14), (3 / 4, 6 / 7), (1.0, 2 / 3)),
        ((1.0, 5 / 6),),
        None,
        f"{_STEEL}: rough-tree masts, by quarters from the partners to the hounds, and the heel",
        "the head stands for the hounds",
    ),
    "skene 1927 unstayed mast": Published(
        ((1 / 5, 0.942), (2 / 5, 0.849), (3 / 5, 0.726), (4 / 5, 0.575), (1.0, 0.406)),
        (),
        None,
        f"{_SKENE}: unstayed jib-headed masts, by fifths of the height above the deck",
        _BELOW,
    ),
    "skene 1927 gaff mast": Published(
        ((2 / 3, 0.99), (1.0, 0.65)),
        (),
        None,
        f"{_SKENE}: masts of gaff rig, two thirds of the height above the deck, and the top",
        _BELOW,
    ),
    "skene 1927 gaff": Published(
        ((1.0, 0.75),), ((1.0, 0.93),), 0.5, f"{_SKENE}: gaffs, largest at the middle, jaws and tip"
    ),
    "skene 1927 boom": Published(
        ((1.0, 0.71),), ((1.0, 0.79),), 2 / 3, f"{_SKENE}: booms, largest two thirds aft, fore and after end"
    ),
    "kemp 1880 bowsprit": Published(((1.0, 0.72),), (), None, f"{_KEMP}: bowsprits, outer end", _BELOW),
    "kemp 1880 cutter boom": Published(
        ((1.0, 0.75),), ((1.0, 0.70),), None, f"{_KEMP}: booms of cutters, fore and after end"
    ),
}


def expanded(law: str, length: float, at: float, width: float) -> tuple[tuple[float, float], ...]:
    """The stations from heel to head of a spar by that table, its largest `width` at `at`. All mm.

    InputFault when `at` leaves no way to the head.

    >>> expanded("skene 1927 gaff", 3000, 1500, 60)
    ((0.0, 55.800000000000004), (1500, 60), (3000, 45.0))
    """
    table = PUBLISHED[law]
    at = 0.0 if 0 < at < _HEEL else at
    if not 0 <= at < length:
        raise InputFault("the largest width is at {}, it must be between the heel and the head, {}", "at", (at, length))
    heelward = [(at - way * at, width * part) for way, part in reversed(table.to_heel or ((1.0, 1.0),))]
    headward = [(at + way * (length - at), width * part) for way, part in table.to_head[:-1]]
    return (*(heelward if at else ()), (at, width), *headward, (length, width * table.to_head[-1][1]))
