"""How the spar that strength, lightest and compare prove is held, and what it bears: by its kind, or as typed."""

from dataclasses import replace

from ..beam import usual
from ..beam.lists import Loads, Pushes, Supports
from ..beam.model import Load, Push, Support
from ..beam.proof import GRAVITY, PLANES, Bearing, Case, Proof, prove, total
from ..errors import InputFault
from ..fields import Angle, Choice, Length, Lengths, Ratio
from ..quantities import KNOT, Mass, Moment, SailArea, Wind
from ..record import Annotated, NamedTuple
from ..spar.body import Body
from ..spar.kinds import MASTS, SPARS
from .proved_spar import SparInputs, TimberFigures, spar_of, timber_of

GUIDANCE = (
    "Guidance, not a design approval: the loads are estimates and timber varies; class rules, local codes and a "
    "qualified designer come first."
)
AIR = 1.225  # kg/m³, of the standard atmosphere at sea level
_SAME = 1e-6


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


class SailForce(NamedTuple):
    """What a sail does across the spar, N: the smaller of what the wind makes and what the boat carries upright."""

    force: float
    by_wind: float | None
    upright: float | None
    righting: float | None
    source: str


class Stays(NamedTuple):
    """The pull of the stays square to the spar and their push along it, N, at an angle to it in degrees."""

    pull: float
    push: float
    angle: float


class SparCase(NamedTuple):
    """A spar's case, with what it was made of. `force` is None where loads were typed; `halyard` is what a mast's
    halyard presses it by, N.
    """

    case: Case
    timber: TimberFigures
    force: SailForce | None
    halyard: float | None = None
    stays: Stays | None = None


def pressure_of(inputs: LoadInputs) -> float:
    """The pressure of the wind on a sail, Pa: ½·ρ·v²·C."""
    return AIR / 2 * inputs.wind**2 * inputs.force_coefficient


def share_of(inputs: LoadInputs) -> float:
    return inputs.share if inputs.share is not None else usual.SHARE.get(inputs.kind, 1.0)


def force_of(inputs: LoadInputs) -> SailForce:
    """The force of the sail across the spar. InputFault where no load is known."""
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
            "no load is known: type the sail's area, or a righting moment and the sail's height of effort, or loads",
            "sail_area",
        )
    force, source = min(known)
    return SailForce(force, by_wind, upright, righting, source)


def asked(inputs: LoadInputs) -> SparCase:
    """The case that the inputs put. InputFault, naming a field, where something is missing or cannot be."""
    return asked_of(inputs, spar_of(inputs), timber_of(inputs))


def asked_of(inputs: LoadInputs, body: Body, timber: TimberFigures) -> SparCase:
    """The case of the inputs for another body or timber than their own."""
    supports = inputs.supports
    if supports is None:
        if inputs.whole is None:
            raise InputFault("no supports are given: type them, as 0 = fixed, or 0 = pinned; 2 m = pinned", "supports")
        supports = usual.setting(inputs.kind, body.fittings, body.length).supports
    typed = inputs.loads is not None or inputs.push is not None
    strut = inputs.kind in usual.STRUTS
    sails = inputs.sail_area is not None
    if inputs.kind not in usual.WITHOUT_SAIL:
        sails = sails or inputs.righting_moment is not None or inputs.crew is not None
    if inputs.kind == "bitt" and not typed and not sails:
        raise InputFault("nothing pulls at the bitt: type loads, as 500 mm = 400 N", "loads")
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
        raise InputFault("nothing bends or presses the spar: type a load of more than 0", "loads")
    stays = None if force is None else _stays(inputs, case)
    return SparCase(case if stays is None else replace(case, pushes=(*pushes, *stays[0])), timber, force, halyard,
                 stays and stays[1])  # fmt: skip


def pull_angle_of(inputs: LoadInputs) -> float:
    return inputs.pull_angle if inputs.pull_angle is not None else usual.PULL_ANGLE.get(inputs.kind, 90.0)


def _stays(inputs: LoadInputs, case: Case) -> tuple[tuple[Push, ...], Stays] | None:
    """How hard the stays press the spar, by what they take in the plane that they hold; None without any."""
    ats = [support.at for support in case.supports if support.at in (inputs.brace_at or ())]
    if not ats:
        return None
    angle = inputs.brace_angle or usual.BRACE_ANGLE.get(inputs.kind, 45.0)
    plane = case.plane if case.sideways is None else PLANES[1]
    taken = zip(case.supports, prove(replace(case, sideways=None, plane=plane)).bent.reactions, strict=True)
    pulls = {support.at: abs(reaction) for support, reaction in taken if support.at in ats}
    pushes = tuple(Push(at, usual.brace_push(pull, angle)) for at, pull in pulls.items())
    return pushes, Stays(sum(pulls.values()), sum(push.force for push in pushes), angle)


def _weighs(inputs: LoadInputs, timber: TimberFigures, *, counts: bool) -> str:
    if inputs.own_weight == "no":
        return "no"
    if timber.density is None:
        if inputs.own_weight == "yes":
            raise InputFault("the spar's own weight needs its timber: name one", "species")
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


def mass_of(asked: SparCase) -> float | None:
    """The mass of the spar, kg; None where its timber has no name."""
    heavy = asked.timber.density
    return None if heavy is None else heavy * asked.case.body.volume() * 1e-9


def place_words(asked: SparCase, at: float) -> str:
    """Where on the spar a station is, in words: at a fitting, joint, support or end, else by share of the length."""
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
    """The sum of the loads across the spar, N, in the plane that it was bent in."""
    return abs(total(proof.bearing.loads))
