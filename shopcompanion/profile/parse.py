"""A profile's text to a boat, with every fault listed; whatever is sound can be used. Never raises on any text."""

from functools import lru_cache
from typing import Any, cast

from ..errors import InputFault, nearest, printable
from ..lengths import DEFAULT_RULES, Rule, Unit
from ..record import NamedTuple
from ..timber.species import Own, find
from .left_out import LEFT_OUT, LeftOut, gathered
from .names import TableName, folded
from .parse_timber import stores
from .read_table import ProfileFault, TableReader, shown
from .records import FORMAT, LOADING, ROWS, TABLES, Boat, Head, Preset, Spar
from .shop import Shop
from .toml import parsed
from .validate import Unsound, on_spar, unsound, usable

_HINTS = (  # what works, by how the reason begins
    ("Invalid value", "text and lengths stand in quotes"),
    ("Cannot overwrite a value", "a table has each key once"),
    ("Cannot declare", "a table with one pair of brackets stands once"),
    ("Expected '='", "a line is key = value; a remark begins with #"),
    ("Illegal character", "text ends with the quotes that it begins with, on the same line"),
    ("Unterminated string", "text ends with the quotes that it begins with"),
)
LARGEST = 20_000_000  # characters; no boat has that much to say
_UNITS = {"in": "inches", "mm": "millimetres"}

# The sound spars of the last reading, by the identity of their table, which is held here so that it stays its own.
_sound_spars: dict[int, tuple[object, Unit | None, Rule, Spar]] = {}


class Reading(NamedTuple):
    """What a text holds: the boat as far as it is sound, and what is not."""

    boat: Boat
    faults: tuple[ProfileFault, ...]


@lru_cache(maxsize=4)
def read(text: str) -> Reading:
    """The boat in `text`, TOML, and every fault in it.

    >>> read("format = 1\\n[boat]\\nname = 'Dabchick'\\nunits = 'inn'").faults[0].reason
    "'inn' is none of in, mm (did you mean 'in'?)"
    """
    if len(text) > LARGEST:
        return _unreadable(f"longer than {LARGEST:,} characters: too long for a profile")
    try:
        raw = parsed(text)
    except (ValueError, RecursionError) as error:  # ValueError: TOMLDecodeError, and numbers of thousands of digits
        reason = "tables and lists nested too deep" if isinstance(error, RecursionError) else str(error)
        hint = next((f"; {hint}" for start, hint in _HINTS if reason.startswith(start)), "")
        return _unreadable(f"the file is not valid TOML: {printable(reason, 200)}{hint}")
    return Reader().boat(raw)


def _unreadable(reason: str) -> Reading:
    left_out = (LeftOut("", "", "", "the file", reason),)
    return Reading(Boat(left_out=left_out), (ProfileFault("", "", None, reason),))


class Reader(TableReader):
    """Reads one profile."""

    def __init__(self) -> None:
        super().__init__()
        self.sound: dict[int, tuple[object, Unit | None, Rule, Spar]] = {}  # spars without a fault, by their table

    def boat(self, raw: dict[str, Any]) -> Reading:
        self.unknown(raw, ["format", *TABLES, *ROWS], TableName(), "")
        self.format(raw.get("format"))
        head = self.head(raw.get("boat"))
        shop, _ = self.fields(Shop, raw.get("shop", {}), TableName("shop"), "")
        wood = stores(self, raw, shop.get("currency"))
        spars = self.spars(raw.get("spar", []), Own(tuple(timber.species for timber in wood["species"])))
        presets = self.presets(raw.get("preset", []), raw.get("spar", []))
        boat = Boat(
            name=head.get("name", ""),
            units=self.rule.unit,
            rule=self.rule,
            shop=Shop(**shop),
            spars=spars,
            presets=presets,
            left_out=tuple(gathered(self.told, self.raw, self.lost)),
            **{**wood, **{key: head[key] for key in (*LOADING, "tally") if key in head}},
        )
        return Reading(boat, tuple(self.faults))

    def format(self, version: object) -> None:
        if version is None:
            self.fault(TableName(), "format", None, f"missing; write format = {FORMAT} at the top")
        elif isinstance(version, bool) or not isinstance(version, int) or version < 1:
            self.fault(TableName(), "format", version, f"{shown(version)} is not a format; write format = {FORMAT}")
        elif version > FORMAT:
            reason = (
                f"written by a newer companion (format {shown(version)}): this one knows format {FORMAT}, "
                "and leaves out what is new"
            )
            self.fault(TableName(), "format", version, reason)

    def head(self, raw: object) -> dict[str, Any]:
        """The `[boat]` table; sets units and rule for all that follows."""
        if raw is None:
            self.fault(TableName("boat"), "", None, "missing; a profile has a table [boat] with name and units")
            return {}
        values, _ = self.fields(Head, raw, TableName("boat"), "")
        self.units = cast("Unit | None", values.get("units"))
        self.rule = DEFAULT_RULES[self.units or "in"]
        rule: Rule | None = values.get("rule")
        if rule is not None and rule.unit != self.rule.unit:
            units = f"the rule is in {_UNITS[rule.unit]}, the boat in {_UNITS[self.rule.unit]}"
            reason = f"{units}: write {self.rule}, for example"
            self.fault(TableName("boat"), "rule", str(rule), reason)
        elif rule is not None:
            self.rule = rule
        return values

    def spars(self, raw: object, own: Own) -> tuple[Spar, ...]:
        kept: dict[str, Spar] = {}
        for place, row in enumerate(self.rows(raw, TableName("spar"), ""), 1):
            table = self.table_of("spar", place, row)
            read_spar = self.known_spar(row)
            if read_spar and folded(read_spar.name) not in kept:
                kept[folded(read_spar.name)] = read_spar
            else:
                read_spar = self.spar(row, table, kept)
            if read_spar:
                self.timber(read_spar.species, own, table)
        _sound_spars.clear()
        _sound_spars.update(self.sound)
        return tuple(kept.values())

    def known_spar(self, raw: object) -> Spar | None:
        """The sound spar that the same table gave in the last reading, or None; a table that did not change is the same
        object."""
        known = _sound_spars.get(id(raw))
        if known is None or known[1:3] != (self.units, self.rule):
            return None
        self.sound[id(raw)] = known
        return known[3]

    def spar(self, raw: object, table: TableName, kept: dict[str, Spar]) -> Spar | None:
        """Read a spar, and put it among those kept if sums can be built on it. None when it does not read at all."""
        before = len(self.faults)
        spar = self.record(Spar, raw, table, "")
        wrong = list(unsound(spar)) if spar else []
        if spar and folded(spar.name) in kept:
            wrong.append(Unsound("name", spar.name, "another spar has the same name: give this one another"))
        if spar and not wrong:
            kept[folded(spar.name)], wrong = on_spar(spar)
        else:
            self.lose(table)
            wrong.append(Unsound("", None, LEFT_OUT))
        self.tell(table, wrong)
        if spar and len(self.faults) == before:
            self.sound[id(raw)] = (raw, self.units, self.rule, kept[folded(spar.name)])
        return spar

    def timber(self, species: str | None, own: Own, table: TableName) -> None:
        """Report a timber that nobody knows. Its name stays: only sums that need its figures are lost."""
        if species is None:
            return
        try:
            find(species, own)
        except InputFault as fault:
            self.fault(table, "species", species, fault.reason, costs=False)

    def presets(self, raw: object, spars: object) -> tuple[Preset, ...]:
        kept: dict[tuple[str, str, str], Preset] = {}
        names: dict[str, str] = {}
        for row in spars if isinstance(spars, list) else []:
            if isinstance(row, dict) and isinstance(name := row.get("name"), str):
                names.setdefault(folded(name), name.strip())
        for place, row in enumerate(self.rows(raw, TableName("preset"), ""), 1):
            table = self.table_of("preset", place, row)
            preset = self.record(Preset, row, table, "")
            if preset is None:
                self.lose(table)
                continue
            preset, wrong = usable(preset, self.rule)
            key = (preset.calculator, folded(preset.name), folded(preset.spar or ""))
            if preset.spar is not None and key[2] not in names:
                hint = nearest(preset.spar, list(names.values()))
                wrong.append(Unsound("spar", preset.spar, f"no spar is called '{printable(preset.spar)}'{hint}"))
            elif key in kept:
                wrong.append(
                    Unsound(
                        "name",
                        preset.name,
                        "another preset of this calculator and spar has the same name: give it another",
                    )
                )
            else:
                kept[key] = preset
            if kept.get(key) is not preset:
                self.lose(table)
            self.tell(table, wrong)
        return tuple(kept.values())
