"""What the calculators that prove a spar ask alike: the spar, its timber, how it is held and what it bears."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Annotated, NamedTuple

from ..beam import usual
from ..beam.lists import Loads, Pushes, Supports
from ..beam.model import Load, Push, Support
from ..beam.proof import GRAVITY, PLANES, Bearing, Case, Proof, prove, total
from ..errors import InputFault
from ..fields import Angle, Choice, Length, Lengths, Pairs, Ratio
from ..quantities import KNOT, Mass, Moment, SailArea, Stress, Wind
from ..record import Record
from ..spar import log
from ..spar.body import Body
from ..spar.kinds import MASTS, SPARS
from ..spar.measures import Measure, Measures
from ..spar.outline import LAWS, Outline, named
from ..spar.section import SECTIONS
from ..spar.tables import PUBLISHED
from ..spar.whole import Whole
from ..timber.moisture import density
from ..timber.species import Named, Own, Timbers, find

GUIDANCE = (
    "Guidance, not a design approval: the loads are estimates and timber varies; class rules, local codes and a "
    "qualified designer come first."
)
AIR = 1.225  # kg/m³, of the standard atmosphere at sea level
MC = 12.0  # %, the moisture that strength is published for
_AS_BUILT_STEPS = 64
_SAME = 1e-6
Rows = tuple[tuple[float, float], ...]


class SparInputs(Record):
    """A spar and its timber: one of a boat, or typed."""

    whole: Annotated[Body | None, Whole("The spar", follows="spar.body")] = None
    own: Annotated[Own | None, Timbers("The boat's own timbers", follows="boat.species")] = None
    species: Annotated[str | None, Named("Timber", follows="spar.species")] = None
    thinner: Annotated[float, Length("Thinner at widest", at_least=-500, at_most=500)] = 0.0
    as_built: Annotated[str, Choice("As measured", options=("no", "yes"))] = "no"
    outline: Annotated[
        Rows | None,
        Pairs(
            "Widths",
            above=0,
            at_most=2000,
            columns=("station", "width"),
            follows="spar.outline",
            asked="without a spar",
        ),
    ] = None
    law: Annotated[str, Choice("Law of the taper", options=LAWS, follows="spar.law", asked="without a spar")] = (
        "straight"
    )
    length: Annotated[float | None, Length("Length, plain taper", above=0, asked="without a spar")] = None
    butt: Annotated[float | None, Length("Width at the heel", above=0, at_most=2000, asked="without a spar")] = None
    head: Annotated[float | None, Length("Width at the head", above=0, at_most=2000, asked="without a spar")] = None
    section: Annotated[str, Choice("Section", options=SECTIONS, follows="spar.section", asked="without a spar")] = (
        "round"
    )
    depth: Annotated[float | None, Length("Heel depth, oval", above=0, at_most=2000, asked="without a spar")] = None
    wall: Annotated[float | None, Length("Wall, if hollow", at_least=0, at_most=1000, asked="without a spar")] = None
    measured: Annotated[
        tuple[Measure, ...] | None, Measures("Measured", above=0, at_most=2000, follows="spar.log", asked="seldom")
    ] = None
    modulus: Annotated[float | None, Stress("Modulus of elasticity", above=0, asked="seldom")] = None
    rupture: Annotated[float | None, Stress("Modulus of rupture", above=0, asked="seldom")] = None


class LoadInputs(SparInputs):
    """A spar with what holds it and what works on it: typed, or by its kind and the boat's sail."""

    kind: Annotated[str, Choice("Kind of spar", options=SPARS, follows="spar.kind", asked="seldom")] = "other"
    supports: Annotated[
        tuple[Support, ...] | None, Supports("Held at", follows="spar.supports", asked="without a spar")
    ] = None
    loads: Annotated[
        tuple[Load, ...] | None, Loads("Loads across it", follows="spar.loads", asked="without a spar")
    ] = None
    push: Annotated[tuple[Push, ...] | None, Pushes("Pushed along it", follows="spar.push", asked="without a spar")] = (
        None
    )
    own_weight: Annotated[str | None, Choice("Own weight counts", options=("yes", "no"), asked="seldom")] = None
    plane: Annotated[str | None, Choice("Bent in the plane of its", options=PLANES, asked="seldom")] = None
    sail_area: Annotated[float | None, SailArea("Sail area carried", above=0, follows="spar.sail_area")] = None
    sail_from: Annotated[float | None, Length("Sail, from", at_least=0, follows="spar.sail_from", asked="seldom")] = (
        None
    )
    sail_to: Annotated[float | None, Length("Sail, to", above=0, follows="spar.sail_to", asked="seldom")] = None
    share: Annotated[float | None, Ratio("Its share of the sail's force", above=0, at_most=10, asked="seldom")] = None
    pull_angle: Annotated[float | None, Angle("Pull's angle to the spar", at_least=3, at_most=90, asked="seldom")] = (
        None
    )
    halyard_share: Annotated[
        float,
        Ratio("Halyard presses, of the sail's force", called="halyard's share", at_least=0, at_most=10, asked="seldom"),
    ] = usual.HALYARD
    wind: Annotated[float, Wind("Wind", above=0, at_most=60, follows="boat.wind", metric=10.0)] = 20 * KNOT
    force_coefficient: Annotated[float, Ratio("Force coefficient of the sail", above=0, at_most=3, asked="seldom")] = (
        1.2
    )
    righting_moment: Annotated[
        float | None, Moment("Righting moment, most", above=0, follows="boat.righting_moment", asked="seldom")
    ] = None
    crew: Annotated[float | None, Mass("Crew", above=0, follows="boat.crew", asked="seldom")] = None
    sits_out: Annotated[float | None, Length("Crew sits out by", above=0, follows="boat.sits_out", asked="seldom")] = (
        None
    )
    effort_height: Annotated[
        float | None, Length("Sail's centre over the hull's", above=0, follows="boat.effort_height", asked="seldom")
    ] = None
    all_sails: Annotated[
        float | None, SailArea("Sails set with it, in all", called="all sails", above=0, asked="seldom")
    ] = None
    brace_at: Annotated[
        tuple[float, ...] | None, Lengths("Stays press it at", at_least=0, follows="spar.brace_at", asked="seldom")
    ] = None
    brace_angle: Annotated[float | None, Angle("Stay's angle to the spar", at_least=3, at_most=89, asked="seldom")] = (
        None
    )


class Timber(NamedTuple):
    """What a timber's figures are, MPa and kg/m³ at 12 %; None where they are not known."""

    name: str
    modulus: float
    rupture: float | None
    density: float | None
    source: str
    mark: str


class Force(NamedTuple):
    """What a sail does across the spar, N: the smaller of what the wind makes and what the boat carries upright."""

    force: float
    by_wind: float | None
    upright: float | None
    righting: float | None
    source: str


class Stays(NamedTuple):
    """What the stays that brace a spar take square to it, N, and what they press along it, at an angle in degrees."""

    pull: float
    push: float
    angle: float


class Asked(NamedTuple):
    """A spar's case, with what it was made of. `force` is None where loads were typed; `halyard` is what a mast's
    halyard presses it by, N.
    """

    case: Case
    timber: Timber
    force: Force | None
    halyard: float | None = None
    stays: Stays | None = None


def timber_of(inputs: SparInputs) -> Timber:
    """InputFault where the timber or its stiffness is not known."""
    if inputs.species is None:
        if inputs.modulus is None:
            raise InputFault("which timber? Name one, or give modulus and rupture", "species")
        return Timber("as typed", inputs.modulus, inputs.rupture, None, "typed", "")
    try:
        known = find(inputs.species, inputs.own)
    except InputFault as fault:
        raise InputFault(fault.reason, "species") from None
    modulus = inputs.modulus if inputs.modulus is not None else known.modulus
    if modulus is None:
        raise InputFault(f"{known.name} has no modulus of elasticity; give modulus, or another timber", "modulus")
    rupture = inputs.rupture if inputs.rupture is not None else known.rupture
    if rupture is None:
        raise InputFault(f"{known.name} has no modulus of rupture; give rupture, or another timber", "rupture")
    return Timber(known.name, modulus, rupture, density(known.sg12, MC), known.source, known.mark)


def spar_of(inputs: SparInputs) -> Body:
    """The spar: the boat's own, whole, with other widths where they were typed; or a plain taper. InputFault."""
    body = _drawn(inputs)
    if why := body.wall_fault():
        raise InputFault(why[0], "wall", why[1])
    if inputs.thinner:
        widest = body.outline.widest
        if inputs.thinner >= widest:
            raise InputFault("{} is all there is: it is {} at its widest", "thinner", (inputs.thinner, widest))
        body = scaled(body, (widest - inputs.thinner) / widest)
    return as_built(body, inputs) if inputs.as_built == "yes" else body


def _drawn(inputs: SparInputs) -> Body:
    whole = inputs.whole
    if inputs.section == "staves" and (whole is None or whole.section != "staves"):
        raise InputFault("staves are asked of a spar of a boat; the calculator staves works a ring out", "section")
    plain = {name: getattr(inputs, name) for name in ("length", "butt", "head") if getattr(inputs, name) is not None}
    if plain:
        return _plain_taper(inputs, plain)
    if inputs.outline is None:
        raise InputFault("how thick is it? Give outline, or length, butt and head", "outline")
    rows, section, wall = inputs.outline, inputs.section, _wall(inputs)
    if whole is not None and rows == whole.outline.stations and inputs.law == whole.outline.law:
        if (section, wall) == (whole.section, whole.wall) and inputs.depth is None:
            return whole
        outline = whole.outline
    else:
        law = "faired" if inputs.law in PUBLISHED and whole is not None else inputs.law
        outline = named("outline", rows, law)
    depths = _depths(inputs, outline)
    if section == "hollow" and not wall:
        raise InputFault("a hollow spar has a wall of more than nothing", "wall")
    if whole is None or abs(whole.length - outline.length) > _SAME:
        return Body(outline, depths, section, wall)
    regions = tuple(region for region in whole.regions if wall or region.section != "hollow")
    return _bodied(outline, depths, (section, wall), whole, regions)


def _bodied(outline: Outline, depths: Outline | None, cross: tuple[str, float], whole: Body, regions: tuple) -> Body:  # type: ignore[type-arg]
    solid = whole.solid if cross[0] == whole.section else None
    try:
        return Body(outline, depths, *cross, regions, whole.joints, whole.fittings, solid, whole.staves)
    except InputFault as fault:
        raise InputFault(fault.template, "outline", fault.lengths) from None


def _plain_taper(inputs: SparInputs, plain: dict[str, float]) -> Body:
    whole = inputs.whole
    if whole is not None:
        ends = {"length": whole.length, "butt": whole.width_at(0.0), "head": whole.width_at(whole.length)}
        plain = {**ends, **plain}
    for name in ("length", "butt", "head"):
        if name not in plain:
            raise InputFault("a plain taper has length, butt and head", name)
    outline, wall = Outline(((0.0, plain["butt"]), (plain["length"], plain["head"]))), _wall(inputs)
    if inputs.section == "hollow" and not wall:
        raise InputFault(
            "a hollow spar has a wall; a fifth of {} would be {}", "wall", (outline.widest, outline.widest / 5)
        )
    return Body(outline, _depths(inputs, outline), inputs.section, wall, staves=8 if whole is None else whole.staves)


def _wall(inputs: SparInputs) -> float:
    """Of a hollow: as typed, or the spar's own; of any other nothing."""
    if inputs.wall is not None:
        if inputs.section != "hollow" and not (inputs.whole is not None and inputs.whole.wall):
            raise InputFault(f"{{}} is for a hollow, and the section is {inputs.section}", "wall", (inputs.wall,))
        return inputs.wall
    whole = inputs.whole
    return whole.wall if whole is not None and inputs.section in ("hollow", whole.section) else 0.0


def _depths(inputs: SparInputs, outline: Outline) -> Outline | None:
    """Of an oval: the spar's own where its widths are, else in proportion to the widths."""
    if inputs.section != "oval":
        if inputs.depth is not None:
            raise InputFault(f"{{}} is for an oval, and the section is {inputs.section}", "depth", (inputs.depth,))
        return None
    whole = inputs.whole
    if inputs.depth is not None:
        ratio = inputs.depth / outline.stations[0][1]
    elif whole is not None and whole.depths is not None:
        if whole.outline is outline:
            return whole.depths
        ratio = whole.depth_at(0.0) / whole.width_at(0.0)
    else:
        raise InputFault("an oval has a depth as well, at the heel; it stays in proportion", "depth")
    law = "faired" if outline.law in PUBLISHED else outline.law
    return Outline(tuple((at, width * ratio) for at, width in outline.stations), law)


def scaled(body: Body, factor: float) -> Body:
    """The spar with all its widths times `factor`; wall, fittings and lengths as they are."""

    def times(outline: Outline) -> Outline:
        return Outline(tuple((at, width * factor) for at, width in outline.stations), outline.law)

    depths = None if body.depths is None else times(body.depths)
    cross = body.section, body.wall
    try:
        return _bodied(times(body.outline), depths, cross, body, body.regions)
    except InputFault as fault:
        raise InputFault(fault.template, "thinner", fault.lengths) from None


def as_built(body: Body, inputs: SparInputs) -> Body:
    """The spar as thick as it was measured: between two measures its fault changes evenly, beyond them it stays."""
    if not inputs.measured:
        raise InputFault("nothing is measured yet; as_built takes measured, or the spar's log", "measured")
    ways = [(body.outline, None if body.depths is None else 0)]
    ways += [] if body.depths is None else [(body.depths, 1)]
    made = []
    for design, way in ways:
        faults = [(station.at, station.to_come_off) for station in log.measured_stations(design, inputs.measured, way)]
        step = body.length / _AS_BUILT_STEPS
        ats = {k * step for k in range(_AS_BUILT_STEPS)} | {at for at, _ in (*design.stations, *faults)}
        kept = sorted(at for at in ats if at < body.length - _SAME)
        made.append(Outline(tuple((at, design.width_at(at) + _between(faults, at)) for at in (*kept, body.length))))
    return _bodied(made[0], made[1] if len(made) > 1 else None, (body.section, body.wall), body, body.regions)


def _between(rows: Sequence[tuple[float, float]], at: float) -> float:
    if at <= rows[0][0]:
        return rows[0][1]
    for (a, low), (b, high) in pairwise(rows):
        if at <= b:
            return low + (high - low) * (at - a) / (b - a)
    return rows[-1][1]


def pressure_of(inputs: LoadInputs) -> float:
    """Of the wind on a sail, Pa: ½·ρ·v²·C."""
    return AIR / 2 * inputs.wind**2 * inputs.force_coefficient


def share_of(inputs: LoadInputs) -> float:
    return inputs.share if inputs.share is not None else usual.SHARE.get(inputs.kind, 1.0)


def force_of(inputs: LoadInputs) -> Force:
    """What the sail does across the spar. InputFault where nothing says."""
    area, share = inputs.sail_area, share_of(inputs)
    by_wind = None if area is None else pressure_of(inputs) * area * share
    righting = inputs.righting_moment
    if righting is None and inputs.crew is not None and inputs.sits_out is not None:
        righting = inputs.crew * GRAVITY * inputs.sits_out
    upright = None
    if righting is not None and inputs.effort_height is not None:
        part = 1.0 if area is None or inputs.all_sails is None else min(1.0, area / inputs.all_sails)
        upright = righting / inputs.effort_height * part * share
    known = [(size, name) for size, name in ((by_wind, "the breeze"), (upright, "stability")) if size is not None]
    if not known:
        raise InputFault(
            "no load is known: give the sail's area, or a righting moment and the sail's height of effort, or loads",
            "sail_area",
        )
    force, source = min(known)
    return Force(force, by_wind, upright, righting, source)


def asked(inputs: LoadInputs) -> Asked:
    """The case that the inputs put. InputFault, naming a field, where something is missing or cannot be."""
    return asked_of(inputs, spar_of(inputs), timber_of(inputs))


def asked_of(inputs: LoadInputs, body: Body, timber: Timber) -> Asked:
    """The same for another body or timber than the inputs'."""
    supports = inputs.supports
    if supports is None:
        if inputs.whole is None:
            raise InputFault("how is it held? Such as 0 = fixed, or 0 = pinned; 2 m = pinned", "supports")
        supports = usual.setting(inputs.kind, body.fittings, body.length).supports
    typed = inputs.loads is not None or inputs.push is not None
    strut = inputs.kind in usual.STRUTS
    sails = inputs.sail_area is not None
    if inputs.kind not in usual.WITHOUT_SAIL:
        sails = sails or inputs.righting_moment is not None or inputs.crew is not None
    if inputs.kind == "bitt" and not typed and not sails:
        raise InputFault("what pulls at it? Give loads, such as 500 mm = 400 N", "loads")
    weight_alone = not typed and not sails and (inputs.kind == "other" or inputs.own_weight == "yes")
    force = None if typed or weight_alone else force_of(inputs)
    weighs = _weighs(inputs, timber, counts=typed or weight_alone or strut or inputs.kind in usual.UPRIGHT)
    plane = inputs.plane or ("weaker" if inputs.kind in (*usual.UPRIGHT, "other") else "depth")
    loads, pushes = inputs.loads or (), inputs.push or ()
    sideways = halyard = None
    if force is not None:
        where = _sail(inputs, body)
        loads, pushes, beside = usual.pull(inputs.kind, where, force.force, pull_angle_of(inputs))
        if inputs.kind in MASTS and inputs.halyard_share:
            halyard = inputs.halyard_share * force.force
            pushes = (*pushes, Push(where.end, halyard))
        if beside and (left := usual.sideways(inputs.kind, supports, inputs.brace_at or ())):
            sideways, plane = Bearing(left, beside), inputs.plane or "weaker"
    heavy = timber.density or 0.0 if weighs != "no" else 0.0
    case = Case(body, timber.modulus, supports, loads, pushes, heavy, weighs, plane, sideways=sideways)
    if not any(load.size or load.last for load in loads) and not any(push.force for push in pushes) and weighs == "no":
        raise InputFault("nothing bends it or presses it: give it a load of more than 0", "loads")
    stays = None if force is None else _stays(inputs, case)
    return Asked(case if stays is None else replace(case, pushes=(*pushes, *stays[0])), timber, force, halyard,
                 stays and stays[1])  # fmt: skip


def pull_angle_of(inputs: LoadInputs) -> float:
    return inputs.pull_angle if inputs.pull_angle is not None else usual.PULL_ANGLE.get(inputs.kind, 90.0)


def _stays(inputs: LoadInputs, case: Case) -> tuple[tuple[Push, ...], Stays] | None:
    """What the stays press, by what they take in the plane that they hold it in; None without any."""
    ats = [support.at for support in case.supports if support.at in (inputs.brace_at or ())]
    if not ats:
        return None
    angle = inputs.brace_angle or usual.BRACE_ANGLE.get(inputs.kind, 45.0)
    plane = case.plane if case.sideways is None else PLANES[1]
    taken = zip(case.supports, prove(replace(case, sideways=None, plane=plane)).bent.reactions, strict=True)
    pulls = {support.at: abs(reaction) for support, reaction in taken if support.at in ats}
    pushes = tuple(Push(at, usual.brace_push(pull, angle)) for at, pull in pulls.items())
    return pushes, Stays(sum(pulls.values()), sum(push.force for push in pushes), angle)


def _weighs(inputs: LoadInputs, timber: Timber, *, counts: bool) -> str:
    if inputs.own_weight == "no":
        return "no"
    if timber.density is None:
        if inputs.own_weight == "yes":
            raise InputFault("its own weight needs the timber's name", "species")
        return "no"
    if inputs.own_weight is None and not counts:
        return "no"
    return "along" if inputs.kind in usual.UPRIGHT else "across"


def _sail(inputs: LoadInputs, body: Body) -> usual.Sail:
    where = usual.sail(inputs.kind, body.fittings, body.length)
    start = where.start if inputs.sail_from is None else inputs.sail_from
    end = where.end if inputs.sail_to is None else inputs.sail_to
    for field, at in (("sail_from", start), ("sail_to", end)):
        if at > body.length + _SAME:
            raise InputFault("{} lies off the spar, which ends at {}", field, (at, body.length))
    if start > end:
        raise InputFault("the sail begins at {} and ends at {}: it must end further on", "sail_to", (start, end))
    return usual.Sail(start, min(end, body.length))


def mass_of(asked: Asked) -> float | None:
    """Of the spar, kg; None where its timber has no name."""
    heavy = asked.timber.density
    return None if heavy is None else heavy * asked.case.body.volume() * 1e-9


def place_words(asked: Asked, at: float) -> str:
    """Where on the spar a station is, by what is nearest there.

    Fittings first; then the supports, and the ends.
    """
    body, reach = asked.case.body, asked.case.body.length / 60
    near = [(abs(fitting.middle(body.length) - at), f"at the {fitting.kind}") for fitting in body.fittings]
    near += [(abs(joint.at - at), f"at the {joint.kind} joint") for joint in body.joints]
    near += [(abs(support.at - at), "where it is held") for support in asked.case.supports]
    near += [(at, "at the heel"), (body.length - at, "at the head")]
    off, words = min(near)
    if off <= reach:
        return words
    part = at / body.length
    return f"{part:.0%} of the way from heel to head".replace("%", " %")


def force_total(proof: Proof) -> float:
    """All that is loaded across it, N, whichever way, in the plane that it was bent in."""
    return abs(total(proof.bearing.loads))
