"""Whether a spar or a preset that reads well also makes sense: stations on it, a blank that holds it, known names."""

from collections.abc import Callable, Iterator
from itertools import pairwise
from typing import Any, TypeVar

from .. import catalog
from ..beam.model import Support, check
from ..calculator import Field
from ..errors import InputFault, Why, nearest, printable
from ..lengths import Rule
from ..record import NamedTuple
from ..spar import along
from ..spar.along import Joint
from ..spar.fitting import FITTINGS, Fitting
from ..spar.staves import NUMBERS, USUAL, staves_fault
from ..spar.tables import PUBLISHED
from .preset import spell
from .records import Measured, Preset, Solid, Spar
from .ticks import tick_fault

_Row = TypeVar("_Row")


class Unsound(NamedTuple):
    """One fault: the key, the value as written or None, the reason with `{}` for each of `lengths` (mm)."""

    key: str
    value: str | None
    reason: str
    lengths: tuple[float, ...] = ()


def unsound(spar: Spar) -> Iterator[Unsound]:
    """The faults for which no sum can be built on a spar."""
    if not spar.stations:
        yield Unsound("stations", None, "none; give the width at 0, the heel, and at the head")
        return
    yield from _by_a_table(spar) if spar.law in PUBLISHED else _heel_to_head(spar)
    for place, station in enumerate(spar.stations, 1):
        if (station.depth is None) == (spar.section == "oval"):
            oval = spar.section == "oval"
            reason = (
                "missing; an oval needs a depth at every station"
                if oval
                else "only a spar whose section is oval has a depth"
            )
            yield Unsound(f"stations {place}, depth", None, reason)
    if spar.law == "bowed" and len(spar.stations) > 2:
        yield from _bowed(spar)
    if spar.blank is not None and spar.blank < spar.thickest:
        places = [
            place for place, station in enumerate(spar.stations, 1) if spar.thickest in (station.width, station.depth)
        ]
        reason = f"{{}} is less than the spar's thickest, {{}} at station {places[0]}: a blank holds the whole spar"
        yield Unsound("blank", None, reason, (spar.blank, spar.thickest))
    if spar.section == "hollow" and spar.wall is None:
        yield Unsound("wall", None, "missing; give how thick the wall of a hollow spar is")
    if spar.section == "staves":
        yield from _of_staves(spar)


def _of_staves(spar: Spar) -> Iterator[Unsound]:
    if spar.wall is None:
        widest = max(station.width for station in spar.stations)
        reason = "missing; it is the thickness of the staves: a fifth of the widest, {}, is usual"
        yield Unsound("wall", None, reason, (widest / USUAL,))
        return
    try:
        why = staves_fault(spar.staves, spar.wall, spar.outline())
    except InputFault:  # the stations are at fault, and that is told
        return
    if why:
        yield Unsound("wall" if spar.staves in NUMBERS else "staves", None, *why)


def _by_a_table(spar: Spar) -> Iterator[Unsound]:
    if len(spar.stations) > 1:
        reason = f"{spar.law} takes one station, where the spar is thickest; its table gives the others"
        yield Unsound("stations", None, reason)
    elif spar.stations[0].at >= spar.length:
        reason = "the largest width is at {}, it must be before the head, which is at {}"
        yield Unsound("stations 1, at", None, reason, (spar.stations[0].at, spar.length))


def _heel_to_head(spar: Spar) -> Iterator[Unsound]:
    ats = [station.at for station in spar.stations]
    if ats[0] != 0:
        yield Unsound("stations 1, at", None, "the first station is at {}, it must be at 0, the heel", (ats[0],))
    for place, (before, at) in enumerate(pairwise(ats), 2):
        if at <= before:
            reason = "the station at {} stands after the one at {}: put them in order from the heel, each once"
            yield Unsound(f"stations {place}, at", None, reason, (at, before))
    for place, at in enumerate(ats, 1):
        if at > spar.length:
            reason = "the station at {} lies past the head, which is at {}"
            yield Unsound(f"stations {place}, at", None, reason, (at, spar.length))
    if ats[-1] < spar.length:
        reason = "the last station is at {}, it must be at the head, {}"
        yield Unsound(f"stations {len(ats)}, at", None, reason, (ats[-1], spar.length))


def _bowed(spar: Spar) -> Iterator[Unsound]:
    for key in ("width", "depth"):
        sizes = [getattr(station, key) for station in spar.stations]
        if None in sizes:
            continue
        full = max(sizes)
        for place, size in enumerate(sizes[1:-1], 2):
            if size != full:
                reason = "a bowed spar has stations only at its ends and where it has its full size, {}"
                yield Unsound(f"stations {place}, {key}", None, reason, (full,))


def on_spar(spar: Spar) -> tuple[Spar, list[Unsound]]:
    """A spar without its faulty parts, and their faults: what lies off it, or clashes with what is on it already."""
    faults: list[Unsound] = []
    spar = _regions(_round(spar, faults) if spar.section == "staves" else spar, faults)
    spar = spar._replace(solid=_kept("solid", spar.solid, lambda solid: _solid(solid, spar.length), faults))
    body = spar._replace(joints=(), fittings=()).body()
    at: set[float] = set()

    def joint_fault(joint: Joint) -> Why | None:
        if spar.section == "staves" and joint.kind == "scarf":
            return "the scarf at {}: staves are scarfed one by one, where the cutting plan has it", (joint.at,)
        why = along.joint_fault(joint, at, spar.length)
        at.add(joint.at)
        return why

    kept: list[Fitting] = []

    def fitting_fault(fitting: Fitting) -> Why | None:
        why = body.fitting_fault(fitting, kept)
        kept.extend([fitting] if why is None else [])
        return why

    spar = spar._replace(
        joints=_kept("joints", spar.joints, joint_fault, faults),
        fittings=_kept("fittings", spar.fittings, fitting_fault, faults),
        log=_kept("log", spar.log, lambda measured: _measured(measured, spar.length), faults),
    )
    spar = spar._replace(done=_ticked(spar.done, faults))
    if why := body.wall_fault():
        faults.append(Unsound("wall", None, *why))
    return _loaded(spar, faults), faults


def _kept(
    key: str, rows: tuple[_Row, ...], fault: Callable[[_Row], Why | None], faults: list[Unsound]
) -> tuple[_Row, ...]:
    wrong = [fault(row) for row in rows]
    faults += [Unsound(f"{key} {place}", None, *why) for place, why in enumerate(wrong, 1) if why]
    return tuple(row for row, why in zip(rows, wrong, strict=True) if why is None)


def _ticked(done: tuple[str, ...], faults: list[Unsound]) -> tuple[str, ...]:
    """The ticks that name a step; the others become faults."""
    wrong = {word: why for word in done if (why := tick_fault(word, FITTINGS))}
    faults += [Unsound("done", word, f"'{printable(word)}': {why}") for word, why in wrong.items()]
    return tuple(word for word in done if word not in wrong)


def _round(spar: Spar, faults: list[Unsound]) -> Spar:
    """A spar of staves without stretches of another section: there is no wood for corners outside the ring."""
    for key in ("square_to", "regions"):
        if getattr(spar, key):
            faults.append(Unsound(key, None, "a spar of staves is round from heel to head"))
    for key in ("blank", "bow"):
        if getattr(spar, key) is not None:
            faults.append(Unsound(key, None, "a spar of staves has no blank: its staves are sized by themselves"))
    return spar._replace(square_to=None, square_run_out=0.0, regions=(), blank=None, bow=None)


def _solid(solid: Solid, length: float) -> Why | None:
    if solid.to <= solid.from_:
        return "ends at {}, it must end past where it begins, {}", (solid.to, solid.from_)
    if solid.to > length:
        return "{} lies past the head, which is at {}", (solid.to, length)
    return None


def _regions(spar: Spar, faults: list[Unsound]) -> Spar:
    """The spar without the stretches that do not fit on it or beside one another."""
    square_to, end = spar.square_to or 0.0, (spar.square_to or 0.0) + spar.square_run_out
    if square_to > spar.length:
        faults.append(Unsound("square_to", None, "{} lies past the head, which is at {}", (square_to, spar.length)))
        spar = spar._replace(square_to=None)
    elif square_to < spar.length < end:
        faults.append(Unsound("square_run_out", None, "ends at {}, past the head, which is at {}", (end, spar.length)))
        spar = spar._replace(square_run_out=0.0)
    before, wrong = None, []
    for region in sorted(spar.every_region(), key=lambda region: region.from_):
        if why := along.region_fault(region, before, spar.length, spar.wall or 0.0):
            wrong.append(region)
            place = next((place for place, own in enumerate(spar.regions, 1) if own is region), 0)
            faults.append(Unsound(f"regions {place}" if place else "square_to", None, *why))
        else:
            before = region
    return spar._replace(
        square_to=None if spar.square in wrong else spar.square_to,
        regions=tuple(region for region in spar.regions if region not in wrong),
    )


def _loaded(spar: Spar, faults: list[Unsound]) -> Spar:
    """The spar without supports, loads and pushes that cannot be, and without a sail that lies off it."""
    for key in ("sail_from", "sail_to"):
        at = getattr(spar, key)
        if at is not None and at > spar.length:
            faults.append(Unsound(key, None, "{} lies past the head, which is at {}", (at, spar.length)))
            nowhere: dict[str, Any] = {key: None}
            spar = spar._replace(**nowhere)
    for _ in range(3):  # one fault of each key at most
        try:
            check(spar.length, spar.supports or (Support(0.0, "fixed"),), spar.loads or (), spar.push or ())
        except InputFault as fault:
            faults.append(Unsound(fault.field or "supports", None, fault.template, fault.lengths))
            nothing: dict[str, Any] = {fault.field or "supports": None}
            spar = spar._replace(**nothing)
    return spar


def _measured(measured: Measured, length: float) -> Why | None:
    if measured.at > length:
        return "what was measured at {} lies past the head, which is at {}", (measured.at, length)
    if (measured.widths is None) == (measured.girth is None):
        which = "neither widths nor a girth" if measured.girth is None else "both widths and a girth"
        return f"what was measured at {{}} has {which}: give one of them", (measured.at,)
    return None


def usable(preset: Preset, rule: Rule) -> tuple[Preset, list[Unsound]]:
    """A preset with only the inputs that its calculator knows, spelled with their unit, and the faults of the others.

    A text that does not read stays, so that it is seen where it is used.
    """
    inputs: dict[str, Field] = {field.name: field for field in catalog.load(preset.calculator).typed_fields}
    kept, faults = [], []
    for name, text in preset.inputs:
        key = f"inputs, {printable(name)}"
        if name not in inputs:
            hint = nearest(name, list(inputs))
            faults.append(Unsound(key, text, f"{preset.calculator} has no such input{hint}"))
            continue
        kind = inputs[name].kind
        try:
            kind.read(text, rule)
            kept.append((name, spell(kind, text, rule.unit)))
        except InputFault as fault:
            faults.append(Unsound(key, text, fault.template, fault.lengths))
            kept.append((name, text))
    return preset._replace(inputs=tuple(kept)), faults
