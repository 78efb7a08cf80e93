"""What the fields of a calculator follow on a boat: the values of `calculator.FOLLOWS`, except those of the rule.

What only some calculators ask for is imported where it is worked out: every lookup with a boat loads this module.
"""

from collections.abc import Callable, Iterator, Mapping
from operator import attrgetter
from typing import TYPE_CHECKING, Any

from ..calculator import Calculator
from ..catalog import STAGES
from ..fields import Value
from ..lengths import Rule, show
from ..record import NamedTuple
from ..spar.along import APART
from ..spar.kinds import MASTS
from ..timber.species import full_name
from .records import LOADING, Boat, Spar
from .shop import Shop
from .timber_records import price_of, size_of

if TYPE_CHECKING:
    from ..beam.usual import Setting


class On(NamedTuple):
    """What a value is followed on: a boat, one of its spars, and a station on that, mm from the heel."""

    boat: Boat
    spar: Spar | None
    at: float | None


class Followed(Mapping[str, Value]):
    """The values by their names in FOLLOWS, millimetres; only the names that have one. Each is worked out when it is
    asked for.
    """

    def __init__(self, on: On) -> None:
        self._on = on
        self._known: dict[str, Value] = {}

    def __getitem__(self, name: str) -> Value:
        if name not in self._known:
            self._known[name] = _value(name, self._on)
        value = self._known[name]
        if value is None:
            raise KeyError(name)
        return value

    def get(self, name: str, default: Any = None) -> Any:
        """The value, or `default` where the boat has none."""
        if name not in self._known:
            self._known[name] = _value(name, self._on)
        value = self._known[name]
        return default if value is None else value

    def __iter__(self) -> Iterator[str]:
        return (name for name in _NAMES if self.get(name) is not None)

    def __len__(self) -> int:
        return sum(1 for _ in self)


def follow(boat: Boat | None, spar: Spar | None, at: float | None) -> Followed:
    """What the fields of a calculator may follow. InputFault at once when the spar contradicts itself.

    `at` is the station, mm from the heel; beyond an end the end is taken.
    """
    if spar is not None:
        spar.body()
        at = None if at is None else min(max(at, 0.0), spar.length)
    return Followed(On(boat or Boat(), spar, at))


def _value(name: str, on: On) -> Value:
    """The value under a name of FOLLOWS, or None where the boat has none."""
    if name in _OF_BOAT:
        return _OF_BOAT[name](on.boat)
    if on.spar is None:
        return on.boat.shop.planing if name == "blank.planing" else None
    if name in _OF_SPAR:
        return _OF_SPAR[name](on.spar)
    if name in _OF_BOTH:
        return _OF_BOTH[name](on.boat, on.spar)
    if name in _HERE and on.at is not None:
        return _HERE[name](on.spar, on.at)
    return _OF_JOINTS[name](on.spar, on.at) if name in _OF_JOINTS else None


def notice(calculator: Calculator, spar: Spar | None, at: float | None, rule: Rule) -> str:
    """Notes on a spar, for beside the numbers: it stays square at the station, or an oval is taken one way."""
    asked = {input_field.kind.follows for input_field in calculator.input_fields}
    if spar is None or asked & {"spar.shape_at", "spar.hinge_at"}:  # these know the section that is there
        return ""
    shaped = calculator.name not in (*STAGES["Timber"], *STAGES["Fit"])  # those go on a square as well
    if shaped and at is not None and (said := _corners(spar, min(max(at, 0.0), spar.length), rule)):
        return said
    if spar.section == "square" and shaped:
        return "This spar stays square: it takes no lines for eight and no rounding."
    both_ways = asked & {"spar.depth_at", "spar.depths", "spar.largest", "spar.body"}
    if spar.section == "oval" and (not both_ways or "spar.between" in asked):
        return "This spar is oval: the numbers are of its width; those of its depth are on its card."
    return ""


def _corners(spar: Spar, at: float, rule: Rule) -> str:
    """What is to be said where a stretch keeps its corners, or they run out; nothing where all of them go."""
    body = spar.body()
    here = body.stretch_at(at)
    start = show(here.start, rule) if here.start else "the heel"
    end = show(here.end, rule) if here.end < spar.length else "the head"
    if here.sides[0] < here.sides[1]:
        return (
            f"The corners run out here: the {here.heelward} ends at {start}, the {here.headward} begins at {end}. "
            "Lines and cuts grow evenly from one to the other."
        )
    if here.heelward == spar.section:
        return ""
    if here.heelward == "square":
        return f"The spar stays square here, from {start} to {end}: no lines, no rounding."
    if here.heelward == "eight":
        return f"The spar stays eight-sided here, from {start} to {end}: no lines for 16, no rounding."
    return ""


def _yard(boat: Boat) -> Value:
    """Every length of every size, with the species by the name that is meant; None where the yard is not known."""
    if not boat.yard:
        return None
    from ..timber.offers import Offer, Offers

    offers = []
    for sold in boat.yard:
        size = size_of(sold).dressed
        offers += [
            Offer(sold.name, full_name(sold.species, boat.own), *size, length, price_of(sold, length))
            for length in sold.lengths
        ]
    return Offers(offers, boat.yard[0].price.currency)


def _fleet(boat: Boat) -> Value:
    from ..spar.whole import Fleet

    return Fleet(boat.spars) if boat.spars else None


def _widest(boat: Boat, kind: str) -> Value:
    return next((spar.outline().widest for spar in boat.spars if spar.kind == kind), None)


def _radii(shop: Shop) -> Value:
    return tuple(bit.radius for bit in shop.bits if bit.kind == "cove") or None


def _rounding(shop: Shop) -> Value:
    return tuple((bit.radius, bit.pilot) for bit in shop.bits if bit.kind == "roundover") or None


def _planing(boat: Boat, spar: Spar) -> Value:
    """Planed off each face: of a blank that the profile gives, what is over the spar; else the shop's allowance."""
    return boat.shop.planing if spar.blank is None else (spar.blank - spar.thickest) / 2


def _blank(boat: Boat, spar: Spar) -> Value:
    if spar.section == "staves":
        return None  # it is made of no stick
    if spar.blank is None and boat.shop.planing is not None:
        return spar.thickest + 2 * boat.shop.planing
    return spar.blank


def _sawn(boat: Boat, spar: Spar) -> Value:
    return None if _blank(boat, spar) is None else spar.stick(boat.shop.planing or 0.0)


def _pole(boat: Boat, spar: Spar) -> Spar | None:
    """The spar that jaws go on: the one chosen; of a mast, the boat's gaff, or else its boom."""
    if spar.kind not in MASTS:
        return spar
    return next(
        (other for kind in ("gaff", "boom") for other in boat.spars if other.kind == kind),
        next((other for other in boat.spars if any(fitting.kind == "jaws" for fitting in other.fittings)), None),
    )


def _heel_of_pole(boat: Boat, spar: Spar) -> Value:
    pole = _pole(boat, spar)
    return None if pole is None else pole.outline().stations[0][1]


def _peak(boat: Boat, spar: Spar) -> Value:
    pole = _pole(boat, spar)
    return 0.0 if pole is not None and pole.kind == "boom" else None  # a boom lies level


def _sail_area(boat: Boat, spar: Spar) -> Value:
    if spar.sail_area is not None or spar.kind in ("bitt", "other"):
        return spar.sail_area
    return boat.sail_area


def _held(spar: Spar) -> "Setting":
    from ..beam.usual import setting

    return setting(spar.kind, spar.fittings, spar.length)


def _sail_from(spar: Spar) -> Value:
    from ..beam.usual import sail

    return sail(spar.kind, spar.fittings, spar.length).start if spar.sail_from is None else spar.sail_from


def _sail_to(spar: Spar) -> Value:
    from ..beam.usual import sail

    return sail(spar.kind, spar.fittings, spar.length).end if spar.sail_to is None else spar.sail_to


def _depths(spar: Spar) -> Value:
    outline = spar.depth_outline()
    return None if outline is None else outline.stations


def _depth_at(spar: Spar, at: float) -> Value:
    outline = spar.depth_outline()
    return None if outline is None else outline.width_at(at)


def _shape_at(spar: Spar, at: float) -> Value:
    from ..spar.seat import shape_at

    return shape_at(spar.body(), at)


def _log(spar: Spar) -> Value:
    from ..spar.measures import Measure

    return tuple(Measure(line.at, line.widths or (), line.girth) for line in spar.log) or None


def _apart(spar: Spar) -> list[float]:
    return [joint.at for joint in spar.joints if joint.kind in APART]


def _joints_before(spar: Spar, at: float | None) -> Value:
    apart = _apart(spar)
    return sum(1 for joint in apart if joint < at - 1e-6) if apart and at is not None else None


def _hinge_at(spar: Spar, at: float | None) -> Value:
    hinges = [joint.at for joint in spar.joints if joint.kind == "hinge"]
    return min(hinges, key=lambda hinge: abs(hinge - (at or 0.0)), default=at)


_OF_BOAT: dict[str, Callable[[Boat], Value]] = {
    "boat.spars": _fleet,
    **{f"boat.{key}": attrgetter(key) for key in LOADING if key != "sail_area"},
    **{
        f"shop.{key}": attrgetter(f"shop.{key}") for key in ("kerf", "saw_depth", "saw_depth_tilted", "planing", "trim")
    },
    "boat.yard": _yard,
    "boat.species": lambda boat: boat.own if boat.species else None,
    "boat.mast": lambda boat: _widest(boat, "mast"),
    "boat.bowsprit": lambda boat: _widest(boat, "bowsprit"),
    "shop.coves": lambda boat: _radii(boat.shop),
    "shop.bits": lambda boat: _rounding(boat.shop),
    "shop.drum": lambda boat: boat.shop.drums[0].diameter if boat.shop.drums else None,
    "shop.rpm": lambda boat: boat.shop.drums[0].rpm if boat.shop.drums else None,
    "shop.belt_length": lambda boat: boat.shop.belts[0].length if boat.shop.belts else None,
}
_OF_SPAR: dict[str, Callable[[Spar], Value]] = {
    **{
        f"spar.{key}": attrgetter(key)
        for key in ("count", "length", "law", "section", "species", "bow", "kind", "loads", "push")
    },
    "spar.body": lambda spar: spar.body(),
    "spar.ring": lambda spar: spar.staves if spar.section == "staves" else None,
    "spar.stave": lambda spar: spar.wall if spar.section == "staves" else None,
    "spar.butt": lambda spar: spar.outline().stations[0][1],
    "spar.head": lambda spar: spar.outline().stations[-1][1],
    "spar.outline": lambda spar: spar.outline().stations,
    "spar.between": lambda spar: spar.outline().stations[1:-1] or None,
    "spar.depths": _depths,
    "spar.shape": lambda spar: "oval" if spar.section == "oval" else "round",
    "spar.widest": lambda spar: spar.outline().widest,
    "spar.largest": lambda spar: spar.thickest if spar.section == "oval" else spar.outline().widest,
    "spar.widest_at": lambda spar: spar.outline().widest_at,
    "spar.narrowest": lambda spar: spar.outline().narrowest,
    "spar.log": _log,
    "spar.joints": lambda spar: len(_apart(spar)) or None,
    "spar.supports": lambda spar: spar.supports or _held(spar).supports,
    "spar.brace_at": lambda spar: _held(spar).braces or None,
    "spar.sail_from": _sail_from,
    "spar.sail_to": _sail_to,
}
_OF_BOTH: dict[str, Callable[[Boat, Spar], Value]] = {
    "blank.planing": _planing,
    "spar.blank": _blank,
    "spar.sawn": _sawn,
    "spar.pole": _heel_of_pole,
    "spar.jaws_on": lambda boat, spar: "this spar" if _pole(boat, spar) is spar else "another spar",
    "spar.peak": _peak,
    "spar.sail_area": _sail_area,
}
_HERE: dict[str, Callable[[Spar, float], Value]] = {
    "spar.at": lambda _, at: at,
    "spar.width_at": lambda spar, at: spar.outline().width_at(at),
    "spar.depth_at": _depth_at,
    "spar.shape_at": _shape_at,
    "spar.corners_8": lambda spar, at: 100 * spar.body().corners_off(at, 8),
    "spar.corners_16": lambda spar, at: 100 * spar.body().corners_off(at, 16),
}
_OF_JOINTS: dict[str, Callable[[Spar, float | None], Value]] = {
    "spar.joints_before": _joints_before,
    "spar.hinge_at": _hinge_at,
}
_NAMES = (*_OF_BOAT, *_OF_SPAR, *_OF_BOTH, *_HERE, *_OF_JOINTS)
