"""What a cutting plan is made of: timbers, blanks, and where each is sawn. Millimetres; money in hundredths.

A timber is ripped into strips along its length, and the strips are cut across. Across a timber is measured from one
edge, along it from one end.
"""

from ..lengths import Phrase
from ..record import NamedTuple


class StockTimber(NamedTuple):
    """Timber of one size as it is, dressed or rough: `alike` pieces of it.

    `knots` are lengths to stay out of, from and to, in order and apart. `price` is that of
    one piece in hundredths of the currency, None for what is on hand already. `nominal` is the size it is sold by,
    thickness, width and length, where that is another than its own; board feet are counted by it.
    """

    name: str
    thickness: float
    width: float
    length: float
    species: str | None = None
    knots: tuple[tuple[float, float], ...] = ()
    alike: int = 1
    price: int | None = None
    nominal: tuple[float, float, float] | None = None


class Blank(NamedTuple):
    """A piece that must come out whole, with every allowance in its sizes. `why` says where they come from."""

    name: str
    thickness: float
    width: float
    length: float
    species: str | None = None
    why: Phrase = Phrase("")


class Need(NamedTuple):
    """A spar or another part, and the ways in which it can be made: each way is the blanks that it takes.

    A spar with a joint can be one blank or two; the plan chooses.
    """

    name: str
    ways: tuple[tuple[Blank, ...], ...]


class Problem(NamedTuple):
    """What is wanted and what there is. What is left and narrower or shorter than `keep` is no offcut but waste."""

    needs: tuple[Need, ...]
    timbers: tuple[StockTimber, ...]
    kerf: float
    keep: float = 20.0


class Cut(NamedTuple):
    """A blank in a strip. `turned` when its width goes through the timber's thickness."""

    need: int
    blank: Blank
    at: float
    turned: bool = False


class Strip(NamedTuple):
    """A strip as wide as the widest blank in it, from one end of the timber to the other; `keep` wide instead where its
    rest becomes an offcut by that."""

    across: float
    width: float
    cuts: tuple[Cut, ...]


class Sawn(NamedTuple):
    """One timber of the plan: which of the problem's, which piece of those alike, and its strips."""

    timber: int
    piece: int
    strips: tuple[Strip, ...]


class Offcut(NamedTuple):
    """What is left, clear of knots and as long and wide as it can be. `sawn` is its place in the plan."""

    sawn: int
    at: float
    length: float
    across: float
    width: float


class Cure(NamedTuple):
    """The least purchase that would help: a size, at least so long, and its name and price if the yard has it."""

    thickness: float
    width: float
    length: float
    species: str | None = None
    name: str = ""
    price: int | None = None


class Missing(NamedTuple):
    """A need for which there is no place. `reason` has `{}` for each of `lengths`."""

    need: int
    reason: str
    lengths: tuple[float, ...] = ()
    cure: Cure | None = None


class PlanProof(NamedTuple):
    """How good the plan is. `proved` means that none leaves out fewer needs, and of those none is cheaper, none as
    cheap wastes less, none of those leaves a longer offcut.

    Otherwise `stage` is what is not proved: first plan, what is left out, cost, waste or longest offcut; and `within`
    by what part of that, 0.05 for 5 %, it could be better at most; None when nothing is known of it.
    """

    proved: bool
    stage: str
    within: float | None = None


class Plan(NamedTuple):
    """A cutting plan. `cost` is in hundredths; `waste` is the volume of the timbers taken less the blanks, mm³.

    `missing` are as few as can be, counted by the need. Sizes are worked out in whole tenths of a millimetre: timbers
    rounded down, blanks and kerf up.
    """

    sawn: tuple[Sawn, ...]
    offcuts: tuple[Offcut, ...]
    missing: tuple[Missing, ...]
    cost: int
    waste: float
    proof: PlanProof
