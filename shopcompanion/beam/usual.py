"""How a spar of each kind is usually held and loaded, by where its own fittings are. Millimetres and newtons.

Estimates: the supports are pins that hold both ways, but a bobstay, which holds up and down only; and the sail's force
is spread evenly along what it is set on.
"""

from collections.abc import Collection, Iterable, Sequence
from math import cos, radians, sin, tan

from ..record import NamedTuple
from ..spar.fitting import Fitting
from ..spar.kinds import MASTS
from .model import Load, Push, Support

UPRIGHT = ("mast", "mizzen", "topmast", "bitt")
WITHOUT_SAIL = ("bitt", "other")  # unless an area is given for them
# What of the sail's force comes on the spar: our own assumptions. What a sail pulls on its edges is about its whole
# force, shared out between them. Half a jib's force hangs on its stay, which sags by a thirty-second of its length, so
# that the stay pulls with force/2 · 32/8, twice the force.
SHARE = {"boom": 0.5, "gaff": 0.5, "yard": 0.5, "bowsprit": 2.0, "bumkin": 0.5, "sprit": 0.5, "pole": 0.5}
PULL_ANGLE = {"bowsprit": 60.0, "bumkin": 60.0}  # of that pull to the spar, in degrees; of any other it is square to it
SIDEWAYS = {"bowsprit": 1 / 8, "bumkin": 1 / 2}  # of the pull, where a stay below holds only up and down
HALYARD = 1.0  # of the sail's force, down its mast: half of it up to the sheave, and as much down again to the cleat
# Between the spar and what braces it: shrouds of a mast, the peak halyard of a gaff, the bobstay of a bowsprit.
BRACE_ANGLE = {"mast": 12.0, "mizzen": 12.0, "topmast": 12.0, "gaff": 45.0, "bowsprit": 30.0, "bumkin": 30.0}
STRUTS = ("sprit", "pole")  # pressed along by their sail, not bent
_FLOORS = ("partners", "step")


class Setting(NamedTuple):
    """What holds a spar. `braces` are the stations of the supports that press it lengthwise as well."""

    supports: tuple[Support, ...]
    braces: tuple[float, ...] = ()


class Sail(NamedTuple):
    """Where its force comes on the spar, mm from the heel."""

    start: float
    end: float


def setting(kind: str, fittings: Iterable[Fitting], length: float) -> Setting:
    """How a spar is held, by its fittings, their kinds and names. A single place that is known holds fast."""
    rig = _Rig(list(fittings), length)
    if kind in MASTS:
        return _mast(rig)
    if kind in ("bowsprit", "bumkin"):
        return _bowsprit(rig)
    return _other(kind, rig)


def _other(kind: str, rig: "_Rig") -> Setting:
    length = rig.length
    if kind == "bitt":
        return Setting((Support(rig.at("partners") or 0.0, "fixed"),))
    if kind == "boom":
        holds = [*(rig.named("sheet") or rig.all("block", "traveller")), *rig.named("vang", "kicking")]
        return _pinned([rig.at("gooseneck", "jaws") or 0.0, *(holds or [length])])
    if kind == "gaff":
        slings = rig.all("sling") or rig.named("peak halyard")
        return _pinned([rig.at("jaws") or 0.0, *(slings or [length])], slings)
    if kind == "yard":
        at = rig.at("sling", "parrel")
        return Setting((Support(length / 2 if at is None else at, "fixed"),))
    return _pinned([0.0, length])


def guessed(kind: str, supports: Sequence[Support], length: float) -> str:
    """In words, how it is held where no fitting says so and `supports` are what is taken instead; else nothing."""
    if kind in (*STRUTS, "other") or tuple(supports) != setting(kind, (), length).supports:
        return ""
    if len(supports) > 1:
        return "both its ends are pinned"
    return f"its {'heel' if not supports[0].at else 'middle'} is held fast"


def sail(kind: str, fittings: Iterable[Fitting], length: float) -> Sail:
    """Where the sail's force comes on a spar of that kind."""
    rig = _Rig(list(fittings), length)
    start, end = 0.0, length
    if kind in MASTS:
        start = next(iter(rig.all("gooseneck")), None) or max([*rig.all(*_FLOORS), 0.0])
        end = max([*rig.all("sheave"), *rig.named("halyard")], default=length)
    elif kind in ("boom", "gaff", "yard"):
        end = max([*rig.all("outhaul"), *rig.named("clew", "peak lashing", "earing")], default=length)
        start = min([*rig.all("tack hook"), *rig.named("throat lashing", "tack")], default=0.0)
    elif kind in ("bowsprit", "bumkin"):
        start = end = max([*rig.named("tack", "stay"), *rig.all("band")], default=length)
    return Sail(start, end) if start <= end else Sail(0.0, length)


class Pull(NamedTuple):
    """What a sail's force is on a spar: across it, along it, and across it sideways, where that is another way."""

    loads: tuple[Load, ...]
    pushes: tuple[Push, ...]
    sideways: tuple[Load, ...] = ()


def pull(kind: str, where: Sail, force: float, angle: float) -> Pull:
    """A sail's pull, N, on a spar of that kind, at `angle` degrees to it: along it where the spar is a strut."""
    if kind in STRUTS:
        return Pull((), (Push(where.end, force),))
    along, across = force * cos(radians(angle)), force * sin(radians(angle))
    pushes = (Push(where.end, along),) if angle < 90 else ()
    if where.start < where.end:
        size = across / (where.end - where.start)
        return Pull((Load("spread", where.start, where.end, size, size),), pushes)
    at, beside = where.end, force * SIDEWAYS.get(kind, 0.0)
    return Pull((Load("force", at, at, across, across),), pushes, (Load("force", at, at, beside, beside),))


def sideways(kind: str, supports: Sequence[Support], braces: Collection[float]) -> tuple[Support, ...]:
    """What holds the spar sideways, where that is less than `supports`: a bowsprit's without its bobstay. Else none."""
    left = tuple(held for held in supports if held.at not in braces)
    holds = len(left) > 1 or any(held.kind == "fixed" for held in left)
    return left if kind in SIDEWAYS and holds and len(left) < len(supports) else ()


def assumed(kind: str, *, halyard: bool, stays: float | None) -> str:
    """What is taken for granted of a spar's load, in words; `stays` is their angle to it, degrees."""
    words = [_ASSUMED.get(kind, "the sail presses evenly along it")]
    words += ["its halyard presses as hard down it"] * halyard
    words += [] if stays is None else [f"its stays press it at {stays:g}° to it"]
    return ", ".join(words)


_ASSUMED = {
    "boom": "half the sail's force, evenly along its foot",
    "gaff": "half the sail's force, evenly along its head",
    "yard": "half the sail's force, evenly along its head",
    "bowsprit": "the jib's stay pulls with twice the jib's force, an eighth of that sideways",
    "bumkin": "half the sail's force pulls at its end, half of that sideways",
    "sprit": "half the sail's force, straight along it",
    "pole": "half the sail's force, straight along it",
}


def brace_push(reaction: float, angle: float) -> float:
    """What a brace that pulls with `reaction`, N, square to the spar presses along it, at `angle` degrees from it.

    >>> round(brace_push(100.0, 45.0), 9)
    100.0
    """
    return abs(reaction) / tan(radians(angle))


class _Rig(NamedTuple):
    fittings: list[Fitting]
    length: float

    def all(self, *kinds: str) -> list[float]:
        return sorted({fitting.at for fitting in self.fittings if fitting.kind in kinds})

    def at(self, *kinds: str) -> float | None:
        return next(iter(self.all(*kinds)), None)

    def named(self, *words: str) -> list[float]:
        return sorted({
            fitting.at for fitting in self.fittings
            if any(word in (fitting.name or "").casefold() for word in words)
        })  # fmt: skip


def _pinned(ats: list[float], braces: Iterable[float] = ()) -> Setting:
    """Pinned supports at these places; a single place is taken to hold fast."""
    places = sorted(set(ats))
    return Setting(tuple(Support(at, "pinned" if len(places) > 1 else "fixed") for at in places), tuple(braces))


def _mast(rig: _Rig) -> Setting:
    heel, partners, hounds = rig.at("step") or 0.0, rig.all("partners")[:1], rig.all("hounds")
    return _pinned([heel, *partners, *hounds], hounds)


def _bowsprit(rig: _Rig) -> Setting:
    heel = next(iter(rig.all("pin", "heel", "step")), 0.0)
    gammoning = rig.all("gammoning", "partners", "collar")[:1]
    stay = rig.named("bobstay")[:1]
    return _pinned([heel, *gammoning, *stay], stay)
