"""What the fields of a calculator follow on a boat: the values of `calculator.FOLLOWS`, except those of the rule."""

from ..beam import usual
from ..calculator import Calculator
from ..catalog import STAGES
from ..fields import Value
from ..lengths import Rule, show
from ..spar.along import APART
from ..spar.body import Body
from ..spar.measures import Measure
from ..spar.seat import shape_at
from .records import LOADING, MASTS, Boat, Shop, Spar


def follow(boat: Boat | None, spar: Spar | None, at: float | None) -> dict[str, Value]:
    """The values by their names in FOLLOWS, millimetres; only the names that have one.

    `at` is the station, mm from the heel; beyond an end the end is taken.
    """
    found: dict[str, Value] = {}
    if boat is not None:
        found |= _shop(boat.shop)
        if boat.species:
            found["boat.species"] = boat.own
        found |= {f"boat.{key}": value for key in LOADING if (value := getattr(boat, key)) is not None}
        if mast := next((one for one in boat.spars if one.kind == "mast"), None):
            found["boat.mast"] = mast.outline().widest
        if sprit := next((one for one in boat.spars if one.kind == "bowsprit"), None):
            found["boat.bowsprit"] = sprit.outline().widest
    if spar is not None:
        body = spar.body()
        shop = boat.shop if boat else Shop()
        found |= {"spar.body": body, **_spar(spar, shop), **_load(spar, boat), **_jaws(boat, spar)}
        if at is not None:
            found |= _here(spar, body, min(max(at, 0.0), spar.length))
        apart = [one.at for one in spar.joints if one.kind in APART]
        if apart:
            found["spar.joints"] = len(apart)
            if at is not None:
                found["spar.joints_before"] = sum(1 for one in apart if one < at - 1e-6)
        hinges = [one.at for one in spar.joints if one.kind == "hinge"]
        if hinges or at is not None:
            found["spar.hinge_at"] = min(hinges, key=lambda one: abs(one - (at or 0.0)), default=found.get("spar.at"))
    return found


def notice(calculator: Calculator, spar: Spar | None, at: float | None, rule: Rule) -> str:
    """What is to be said of a spar beside the numbers: it stays square at the station, or an oval is taken one way."""
    asked = {one.kind.follows for one in calculator.input_fields}
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


def _shop(shop: Shop) -> dict[str, Value]:
    plain = ("kerf", "saw_depth", "saw_depth_tilted", "planing")
    found: dict[str, Value] = {f"shop.{name}": getattr(shop, name) for name in plain}
    found = {name: value for name, value in found.items() if value is not None}
    if shop.planing is not None:
        found["blank.planing"] = shop.planing  # of a spar that does not say how big its own blank is
    if coves := tuple(bit.radius for bit in shop.bits if bit.kind == "cove"):
        found["shop.coves"] = coves
    bits = tuple((bit.radius, bit.pilot) for bit in shop.bits if bit.kind == "roundover")
    if bits:
        found["shop.bits"] = bits
    if shop.drums:
        found["shop.drum"] = shop.drums[0].diameter
        if shop.drums[0].rpm is not None:
            found["shop.rpm"] = shop.drums[0].rpm
    if shop.belts:
        found["shop.belt_length"] = shop.belts[0].length
    return found


def _spar(spar: Spar, shop: Shop) -> dict[str, Value]:
    outline = spar.outline()
    found: dict[str, Value] = {
        "spar.length": spar.length,
        "spar.butt": outline.stations[0][1],
        "spar.head": outline.stations[-1][1],
        "spar.outline": outline.stations,
        "spar.law": spar.law,
        "spar.section": spar.section,
        "spar.shape": "oval" if spar.section == "oval" else "round",
        "spar.widest": outline.widest,
        "spar.largest": spar.thickest if spar.section == "oval" else outline.widest,
        "spar.widest_at": outline.widest_at,
        "spar.narrowest": outline.narrowest,
    }
    for name in ("species", "bow"):
        if (value := getattr(spar, name)) is not None:
            found[f"spar.{name}"] = value
    if depths := spar.depth_outline():
        found["spar.depths"] = depths.stations
    if spar.log:
        found["spar.log"] = tuple(Measure(one.at, one.widths or (), one.girth) for one in spar.log)
    if outline.stations[1:-1]:
        found["spar.between"] = outline.stations[1:-1]
    blank = spar.blank
    if blank is not None:
        found["blank.planing"] = (blank - spar.thickest) / 2
    elif shop.planing is not None:
        blank = spar.thickest + 2 * shop.planing
    if blank is not None:
        found |= {"spar.blank": blank, "spar.sawn": spar.stick(shop.planing or 0.0)}
    return found


def _jaws(boat: Boat | None, spar: Spar) -> dict[str, Value]:
    """The spar that jaws go on: the one chosen; of a mast, the boat's gaff, or else its boom."""
    pole: Spar | None = spar
    if spar.kind in MASTS:
        others = boat.spars if boat else ()
        pole = next(
            (other for kind in ("gaff", "boom") for other in others if other.kind == kind),
            next((other for other in others if any(fitting.kind == "jaws" for fitting in other.fittings)), None),
        )
    found: dict[str, Value] = {"spar.jaws_on": "this spar" if pole is spar else "another spar"}
    if pole is not None:
        found["spar.pole"] = pole.outline().stations[0][1]
        if pole.kind == "boom":
            found["spar.peak"] = 0.0  # it lies level
    return found


def _load(spar: Spar, boat: Boat | None) -> dict[str, Value]:
    """How it is held and where its sail pulls: as the profile says, or else by its kind and its fittings."""
    held = usual.setting(spar.kind, spar.rig(), spar.length)
    sail = usual.sail(spar.kind, spar.rig(), spar.length)
    whole = boat.sail_area if boat and spar.kind not in ("bitt", "other") else None
    area = spar.sail_area if spar.sail_area is not None else whole
    found: dict[str, Value] = {
        "spar.kind": spar.kind,
        "spar.supports": spar.supports or held.supports,
        "spar.sail_from": sail.start if spar.sail_from is None else spar.sail_from,
        "spar.sail_to": sail.end if spar.sail_to is None else spar.sail_to,
    }
    optional = {
        "loads": spar.loads, "push": spar.push, "brace_at": held.brace, "sail_area": area,
    }  # fmt: skip
    return found | {f"spar.{key}": value for key, value in optional.items() if value is not None}


def _here(spar: Spar, body: Body, at: float) -> dict[str, Value]:
    found: dict[str, Value] = {"spar.at": at, "spar.width_at": spar.outline().width_at(at)}
    found["spar.shape_at"] = shape_at(body, at)
    found |= {f"spar.corners_{sides}": 100 * body.corners_off(at, sides) for sides in (8, 16)}
    if depths := spar.depth_outline():
        found["spar.depth_at"] = depths.width_at(at)
    return found
