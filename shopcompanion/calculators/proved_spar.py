"""The spar that strength, lightest and compare prove, and its timber: one of a boat, changed, measured, or typed."""

from collections.abc import Sequence
from itertools import pairwise

from ..errors import InputFault
from ..fields import Choice, Length, Pairs
from ..quantities import Stress
from ..record import Annotated, NamedTuple, Record
from ..spar import log
from ..spar.body import Body
from ..spar.measures import Measure, Measures
from ..spar.outline import LAWS, Outline, named
from ..spar.section import SECTIONS
from ..spar.tables import PUBLISHED
from ..spar.whole import WholeSpar
from ..timber.moisture import density
from ..timber.species import Named, Own, Timbers
from .along_spar import Rows
from .timber_asked import timber_asked

MC = 12.0  # %, the moisture that strength is published for
_AS_BUILT_STEPS = 64
_SAME = 1e-6


class SparInputs(Record):
    """A spar and its timber: one of a boat, or typed."""

    whole: Annotated[Body | None, WholeSpar("The spar", follows="spar.body")] = None
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


class TimberFigures(NamedTuple):
    """What a timber's figures are, MPa and kg/m³ at 12 %; None where they are not known."""

    name: str
    modulus: float
    rupture: float | None
    density: float | None
    source: str
    mark: str


def timber_of(inputs: SparInputs) -> TimberFigures:
    """The timber's figures, those typed in place of its own. InputFault where one is missing."""
    if inputs.species is None:
        if inputs.modulus is None:
            raise InputFault("no timber is named: name one, or type modulus and rupture", "species")
        return TimberFigures("as typed", inputs.modulus, inputs.rupture, None, "typed", "")
    known = timber_asked(inputs.species, inputs.own)
    modulus = inputs.modulus if inputs.modulus is not None else known.modulus
    if modulus is None:
        raise InputFault(f"{known.name} has no modulus of elasticity: type modulus, or name another timber", "modulus")
    rupture = inputs.rupture if inputs.rupture is not None else known.rupture
    if rupture is None:
        raise InputFault(f"{known.name} has no modulus of rupture: type rupture, or name another timber", "rupture")
    return TimberFigures(known.name, modulus, rupture, density(known.sg12, MC), known.source, known.mark)


def spar_of(inputs: SparInputs) -> Body:
    """The spar: the boat's own with any other widths that are typed, or a plain taper. InputFault where it is none."""
    body = _drawn(inputs)
    if why := body.wall_fault():
        raise InputFault(why[0], "wall", why[1])
    if inputs.thinner:
        widest = body.outline.widest
        if inputs.thinner >= widest:
            raise InputFault(
                "{} leaves no spar, for it is {} at its widest; less will do", "thinner", (inputs.thinner, widest)
            )
        body = scaled(body, (widest - inputs.thinner) / widest)
    return as_built(body, inputs) if inputs.as_built == "yes" else body


def _drawn(inputs: SparInputs) -> Body:
    whole = inputs.whole
    if inputs.section == "staves" and (whole is None or whole.section != "staves"):
        raise InputFault(
            "staves needs a spar of a boat made of them; the calculator staves works out a ring alone", "section"
        )
    plain = {name: getattr(inputs, name) for name in ("length", "butt", "head") if getattr(inputs, name) is not None}
    if plain:
        return _plain_taper(inputs, plain)
    if inputs.outline is None:
        raise InputFault("no widths are given: type outline, or length, butt and head", "outline")
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
        raise InputFault("a hollow spar has a wall of more than 0", "wall")
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
            raise InputFault("missing: a plain taper needs length, butt and head", name)
    outline, wall = Outline(((0.0, plain["butt"]), (plain["length"], plain["head"]))), _wall(inputs)
    if inputs.section == "hollow" and not wall:
        raise InputFault(
            "a hollow spar has a wall; a fifth of {} would be {}", "wall", (outline.widest, outline.widest / 5)
        )
    return Body(outline, _depths(inputs, outline), inputs.section, wall, staves=8 if whole is None else whole.staves)


def _wall(inputs: SparInputs) -> float:
    """The wall of a hollow, mm, as typed or the spar's own; 0 for any other section."""
    if inputs.wall is not None:
        if inputs.section != "hollow" and not (inputs.whole is not None and inputs.whole.wall):
            raise InputFault(
                f"{{}} is for a hollow section, and this one is {inputs.section}: leave it out", "wall", (inputs.wall,)
            )
        return inputs.wall
    whole = inputs.whole
    return whole.wall if whole is not None and inputs.section in ("hollow", whole.section) else 0.0


def _depths(inputs: SparInputs, outline: Outline) -> Outline | None:
    """The depths of an oval: the spar's own with its own widths, else in proportion to the widths; else None."""
    if inputs.section != "oval":
        if inputs.depth is not None:
            raise InputFault(
                f"{{}} is for an oval section, and this one is {inputs.section}: leave it out", "depth", (inputs.depth,)
            )
        return None
    whole = inputs.whole
    if inputs.depth is not None:
        ratio = inputs.depth / outline.stations[0][1]
    elif whole is not None and whole.depths is not None:
        if whole.outline is outline:
            return whole.depths
        ratio = whole.depth_at(0.0) / whole.width_at(0.0)
    else:
        raise InputFault("an oval has a depth at the heel as well, in proportion to the width from there on", "depth")
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
    """The spar as thick as it was measured: its error changes evenly between measures and stays the same beyond."""
    if not inputs.measured:
        raise InputFault("nothing is measured yet: type measured, or log the spar", "measured")
    ways = [(body.outline, None if body.depths is None else 0)]
    ways += [] if body.depths is None else [(body.depths, 1)]
    made = []
    for design, way in ways:
        faults = [(station.at, station.to_come_off) for station in log.measured_stations(design, inputs.measured, way)]
        step = body.length / _AS_BUILT_STEPS
        ats = {k * step for k in range(_AS_BUILT_STEPS)} | {at for at, _ in (*design.stations, *faults)}
        kept = sorted(at for at in ats if at < body.length - _SAME)
        made.append(Outline(tuple((at, design.width_at(at) + between(faults, at)) for at in (*kept, body.length))))
    return _bodied(made[0], made[1] if len(made) > 1 else None, (body.section, body.wall), body, body.regions)


def between(rows: Sequence[tuple[float, float]], at: float) -> float:
    """The value at a station: between two rows of (station, value) it changes evenly, beyond them it stays."""
    if at <= rows[0][0]:
        return rows[0][1]
    for (a, low), (b, high) in pairwise(rows):
        if at <= b:
            return low + (high - low) * (at - a) / (b - a)
    return rows[-1][1]
