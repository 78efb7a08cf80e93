"""Why a need has no place in the plan, and the least purchase that would give it one."""

from collections.abc import Sequence
from itertools import chain

from .greedy import first_found
from .integers import IntegerProblem, folded, up, whole
from .pieces import Blank, Cure, Missing, Need, Problem, StockTimber

_TAKEN = "all timber that would do is used for other blanks"


def missing(problem: Problem, whole: IntegerProblem, needs: Sequence[int]) -> tuple[Missing, ...]:
    """The reason and the cure for each of the needs that were left out."""
    return tuple(_missing(problem, whole, need) for need in needs)


def _missing(problem: Problem, whole: IntegerProblem, need: int) -> Missing:
    ways = problem.needs[need].ways
    unfit = [
        [blank for blank, part in zip(way, parts, strict=True) if not whole.fits(part)]
        for way, parts in zip(ways, whole.needs[need], strict=True)
    ]
    if not unfit:
        return Missing(need, "no blank is given for it")
    nearest = min(unfit, key=len)
    if nearest:
        reason, lengths = _obstacle(problem.timbers, nearest[0])
        return Missing(need, reason, lengths, _cure(problem, nearest))
    return Missing(need, _TAKEN, (), min((_cure(problem, way) for way in ways), key=_dearness))


def _obstacle(timbers: Sequence[StockTimber], blank: Blank) -> tuple[str, tuple[float, ...]]:
    """What stands in the way of a blank that goes into no timber, narrowed down timber by timber."""
    alone = [whole(Problem((), (timber,), 1.0)).kinds for timber in timbers]
    kinds = [kind for kind in chain.from_iterable(alone) if _of_species(kind.species, blank)]
    if not kinds:
        return (
            f"there is no {blank.species} among the timbers" if timbers and blank.species else "there is no timber"
        ), ()
    thick, wide, length = up(blank.thickness), up(blank.width), up(blank.length)
    deep = [kind for kind in kinds if kind.thickness >= min(thick, wide)]
    if not deep:
        return "too thick: it is {}, and the thickest timber is {}", (
            min(blank.thickness, blank.width),
            max(kind.thickness for kind in kinds) / 10,
        )
    ways = (thick, wide), (wide, thick)
    broad = [kind for kind in deep if any(a <= kind.thickness and b <= kind.width for a, b in ways)]
    if not broad:
        across = {kind: min(b for a, b in ways if a <= kind.thickness) for kind in deep}
        near = min(deep, key=lambda kind: across[kind] - kind.width)
        return "too wide: it is {}, and timber thick enough is {} wide", (across[near] / 10, near.width / 10)
    long = [kind for kind in broad if kind.length >= length]
    if not long:
        longest = max(kind.length for kind in broad) / 10
        return "too long: it is {}, and the longest timber thick and wide enough is {}", (blank.length, longest)
    clear = max((last - first for kind in long for first, last in kind.clear), default=0)
    return "too long between knots: it is {}, and the longest clear length is {}", (blank.length, clear / 10)


def _of_species(species: str, blank: Blank) -> bool:
    return folded(blank.species) in ("", species)


def _cure(problem: Problem, blanks: Sequence[Blank]) -> Cure:
    """The cheapest timber of the yard that gives all the blanks from one piece, or else the least size that does, one
    blank behind the other."""
    for timber in sorted(
        (timber for timber in problem.timbers if timber.price is not None), key=lambda timber: timber.price or 0
    ):
        alone = Problem((Need("", (tuple(blanks),)),), (timber._replace(alike=1),), problem.kerf, problem.keep)
        if first_found(whole(alone))[0] == [0]:
            size = timber.thickness, timber.width, timber.length
            return Cure(*size, timber.species, timber.name, timber.price)
    alike = [blank for blank in blanks if folded(blank.species) in ("", folded(blanks[0].species))]
    thickness = max(min(blank.thickness, blank.width) for blank in alike)
    width = max(max(blank.thickness, blank.width) for blank in alike)
    length = sum(blank.length for blank in alike) + problem.kerf * (len(alike) - 1)
    return Cure(up(thickness) / 10, up(width) / 10, up(length) / 10, blanks[0].species)


def _dearness(cure: Cure) -> tuple[float, float]:
    price = float("inf") if cure.price is None else cure.price
    return price, cure.thickness * cure.width * cure.length
