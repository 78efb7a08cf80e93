"""The cutting problem in whole tenths of a millimetre, with what is alike put together.

Timbers are rounded down, blanks, kerf and knots up: what fits here fits in the shop.
"""

from collections.abc import Iterable
from math import ceil, floor

from ..record import NamedTuple
from .pieces import Blank, Problem

_SAME = 1e-6  # tenths: a float that is a whole number but for its last digits


def up(mm: float) -> int:
    """Whole tenths, rounded up.

    >>> up(88.9), up(88.91), up(19.05)
    (889, 890, 191)
    """
    return ceil(mm * 10 - _SAME)


def down(mm: float) -> int:
    """Whole tenths, rounded down.

    >>> down(88.9), down(88.99), down(19.05)
    (889, 889, 190)
    """
    return floor(mm * 10 + _SAME)


class AlikeTimbers(NamedTuple):
    """Timbers that are alike: `pieces` are their places in the problem. `clear` are the lengths between knots, from and
    to. A price of nothing for what is on hand."""

    thickness: int
    width: int
    length: int
    species: str
    clear: tuple[tuple[int, int], ...]
    price: int
    pieces: tuple[tuple[int, int], ...]

    @property
    def volume(self) -> int:
        return self.thickness * self.width * self.length


class AlikeBlanks(NamedTuple):
    """Blanks of one size."""

    thickness: int
    width: int
    length: int
    species: str

    @property
    def volume(self) -> int:
        return self.thickness * self.width * self.length


class IntegerProblem(NamedTuple):
    """The problem. `needs` has for each need its ways, and for each way the parts it takes, in the order of the blanks.
    `across[kind][part]` is how wide a strip of that kind must be for the part, turned as it is narrowest; None where it
    goes into no piece of that kind at all."""

    kinds: tuple[AlikeTimbers, ...]
    parts: tuple[AlikeBlanks, ...]
    needs: tuple[tuple[tuple[int, ...], ...], ...]
    kerf: int
    keep: int
    across: tuple[tuple[int | None, ...], ...]

    def fits(self, part: int) -> bool:
        """Whether some piece has room for the part alone."""
        return any(row[part] is not None for row in self.across)

    def can_be(self, way: Iterable[int]) -> bool:
        return all(self.fits(part) for part in way)


def whole(problem: Problem) -> IntegerProblem:
    """The problem in tenths.

    A knot shorter than the kerf counts as one kerf long: sawing it out takes that much.
    """
    kerf = up(problem.kerf)
    alike: dict[tuple[int, int, int, str, tuple[tuple[int, int], ...], int], list[tuple[int, int]]] = {}
    for place, timber in enumerate(problem.timbers):
        length = down(timber.length)
        size = down(timber.thickness), down(timber.width), length, folded(timber.species)
        pieces = alike.setdefault((*size, _clear(length, timber.knots, kerf), timber.price or 0), [])
        pieces += [(place, piece) for piece in range(timber.alike)]
    kinds = tuple(AlikeTimbers(*key, tuple(pieces)) for key, pieces in alike.items() if pieces)
    parts: dict[AlikeBlanks, int] = {}
    needs = tuple(
        tuple(tuple(parts.setdefault(_part(blank), len(parts)) for blank in way) for way in need.ways)
        for need in problem.needs
    )
    across = tuple(tuple(_across(kind, part) for part in parts) for kind in kinds)
    return IntegerProblem(kinds, tuple(parts), needs, kerf, up(problem.keep), across)


def folded(species: str | None) -> str:
    """The species without regard to capitals and spaces; nothing for none."""
    return " ".join((species or "").casefold().split())


def _part(blank: Blank) -> AlikeBlanks:
    return AlikeBlanks(up(blank.thickness), up(blank.width), up(blank.length), folded(blank.species))


def _clear(length: int, knots: Iterable[tuple[float, float]], kerf: int) -> tuple[tuple[int, int], ...]:
    """The lengths between knots, knots rounded outwards."""
    clear, start = [], 0
    for first, last in sorted(knots):
        begin = down(first)
        if begin > start:
            clear.append((start, min(begin, length)))
        start = max(start, up(last), begin + kerf)
        if start >= length:
            break
    if start < length:
        clear.append((start, length))
    return tuple(stretch for stretch in clear if stretch[1] > stretch[0])


def _across(kind: AlikeTimbers, part: AlikeBlanks) -> int | None:
    """The width that the part takes of a piece of the kind, or None."""
    if part.species and part.species != kind.species:
        return None
    if all(last - first < part.length for first, last in kind.clear):
        return None
    ways = (part.thickness, part.width), (part.width, part.thickness)
    return min((wide for deep, wide in ways if deep <= kind.thickness and wide <= kind.width), default=None)
