"""What `--boat`, `--spar`, `--at` and `--preset` fill in."""

from collections.abc import Mapping
from functools import partial

from .. import lengths
from ..calculator import Calculator
from ..errors import InputFault, nearest, printable
from ..fields import Value
from ..form import Form
from ..profile.follow import follow, notice
from ..profile.left_out import LeftOut, for_answer
from ..profile.names import folded
from ..profile.preset import spell
from ..profile.records import Boat, Preset, Spar
from ..record import NamedTuple
from ..storage.store import Opened, find, open_boat, places
from .grammar import PROGRAM, Given
from .output import complain


class Filled(NamedTuple):
    """What a form is to be filled from: the rule in force, the texts, and the values of FOLLOWS."""

    rule: lengths.Rule
    texts: dict[str, str]
    values: Mapping[str, Value]
    notice: str  # what is to be said of the spar beside the numbers
    hint: str  # what else could be given, for a field that follows the spar and has nothing to follow
    boat: Boat
    spar: Spar | None


def boat_of(given: Given, name: str) -> Boat:
    """The boat called `name`; a note on standard error when its profile has faults."""
    return opened_boat(given, name).reading.boat


def opened_boat(given: Given, name: str) -> Opened:
    """The boat called `name` as it is on the disk, with the same note."""
    opened = open_boat(find(places(given.get("profiles")), name))
    count = len(opened.reading.faults)
    if count:
        many = f"{count} faults" if count > 1 else "a fault"
        complain(f"note: the profile has {many}; see {PROGRAM} check '{printable(opened.listing.name)}'")
    return opened


def filled(calculator: Calculator, given: Given, typed: dict[str, str], rule: lengths.Rule | None) -> Filled:
    """What the boat gives to the calculator under what was typed. InputFault for what the boat does not have."""
    boat = boat_of(given, given["boat"])
    rule = rule or boat.rule
    spar = boat.spar(given["spar"]) if "spar" in given else None
    texts = dict(typed)
    if "preset" in given:
        preset = preset_of(boat, calculator, given["preset"], spar)
        spar = spar or (boat.spar(preset.spar) if preset.spar else None)
        texts = {**preset_texts(calculator, preset, boat.units), **typed}
    if spar is None and len(boat.spars) == 1:
        spar = boat.spars[0]
    at = None
    if text := texts.get("at", given.get("at")):
        at = _station(text, spar, rule, is_input="at" in texts)
    hint = "" if at is not None else ", or the station with --at"
    if spar is None and boat.spars:
        hint = f", or a spar with --spar: {', '.join(printable(each.name) for each in boat.spars[:12])}"
    return Filled(rule, texts, follow(boat, spar, at), notice(calculator, spar, at, rule), hint, boat, spar)


def lacking(calculator: Calculator, given: Given, filled: Filled, form: Form) -> tuple[LeftOut, ...]:
    """What is left out of the profile that the answer might have depended on."""
    follows = [
        entry.field.kind.follows for entry in form.entries if entry.origin != "typed" and entry.field.kind.follows
    ]
    preset = (calculator.name, given.get("preset", ""))
    return for_answer(filled.boat, filled.spar, follows, chosen="spar" in given, preset=preset)


def _station(text: str, spar: Spar | None, rule: lengths.Rule, is_input: bool) -> float:
    """The station on the spar, mm from its heel. InputFault when it is not on it."""
    try:
        at = float(lengths.read(text, rule.unit))
        if at < 0:
            raise InputFault("{} lies before the heel, which is at {}", lengths=(at, 0.0))
        if spar is None and not is_input:
            raise InputFault("needs a spar: give --spar NAME as well")
        if spar is not None and at > spar.length:
            end = f"{{}} lies beyond the head of the {printable(spar.name)}, which is at {{}}"
            raise InputFault(end, lengths=(at, spar.length))
    except InputFault as fault:
        raise fault.with_lengths(partial(lengths.show, rule=rule), "at") from None
    return at


def preset_of(boat: Boat, calculator: Calculator, name: str, spar: Spar | None) -> Preset:
    """The calculator's preset of that name, the spar's own first. InputFault with the nearest when there is none."""
    of_spar = folded(spar.name) if spar else None
    fit = [
        preset
        for preset in boat.presets
        if preset.calculator == calculator.name
        and (spar is None or preset.spar is None or folded(preset.spar) == of_spar)
    ]
    named = [preset for preset in fit if folded(preset.name) == folded(name)]
    if len({preset.spar for preset in named}) > 1 and spar is None:
        raise InputFault(f"more than one spar has a preset '{printable(name)}': give --spar NAME as well", "preset")
    for preset in sorted(named, key=lambda candidate: candidate.spar is None):
        return preset
    names = [preset.name for preset in fit]
    known = f"; there are {', '.join(map(printable, names))}" if names else ", nor by any other name"
    whose = f" for the {printable(spar.name)}" if spar else ""
    raise InputFault(
        f"{calculator.name} has no preset '{printable(name)}'{whose}{nearest(name, names) or known}", "preset"
    )


def preset_texts(calculator: Calculator, preset: Preset, unit: lengths.Unit) -> dict[str, str]:
    """The preset's texts, with the boat's unit put to every length that leaned on it."""
    kinds = {field.name: field.kind for field in calculator.typed_fields}
    texts = {}
    for name, text in preset.inputs:
        if name not in kinds:
            raise InputFault(
                f"'{printable(preset.name)}' sets {printable(name)}, which {calculator.name} does not take", "preset"
            )
        try:
            texts[name] = spell(kinds[name], text, unit)
        except InputFault as fault:
            raise InputFault(f"'{printable(preset.name)}', {name}: {fault.reason}", "preset") from None
    return texts


def with_hint(form: Form, hint: str, because: str) -> list[InputFault]:
    """The form's faults, with the hint where a field has no spar to follow, and why where it has nothing to follow."""
    faults = []
    for entry in form.entries:
        if entry.fault:
            follows = entry.field.kind.follows if entry.origin == "missing" else ""
            more = (hint if follows.startswith("spar.") else "") + (because if follows else "")
            faults.append(InputFault(entry.fault.reason + more, entry.fault.field))
    return faults
