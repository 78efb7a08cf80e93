"""The commands of the boats: list, new, check, show, restore, where, schema."""

import os
from pathlib import Path

from ..errors import InputFault, printable
from ..profile.left_out import INCOMPLETE, as_json, for_card
from ..profile.parse import Reading, read
from ..storage import store
from ..storage.atomic import contents, text_of
from . import contents as inside
from .calculators import UNITS
from .grammar import PROGRAM, Given, one_of
from .output import complain, escaped, say, say_json
from .words import aligned

UNSAVED = "unsaved"
LONGEST_NUMBER = 12  # digits of a version's number, noughts before it among them


def listed(given: Given) -> int:
    """Every boat: its name, whether it is an example, when it was saved; and unsaved work of boats that are gone."""
    places = _places(given)
    listings = store.listings(places)
    there = {(boat.name, boat.is_example) for boat in listings}
    gone = [work for work in store.unsaved_work(places) if (work.copy.name, work.is_example) not in there]
    if "json" in given:
        say_json(
            [
                {
                    "name": boat.name,
                    "path": str(boat.path),
                    "example": boat.is_example,
                    "saved": boat.saved.isoformat() if boat.saved else None,
                    "unfinished": boat.unfinished,
                }
                for boat in listings
            ]
            + [
                {"name": work.copy.name, "path": None, "example": work.is_example, "saved": None, "unfinished": True}
                for work in gone
            ]
        )
    elif "names" in given:
        say(*(boat.name for boat in listings))
    else:
        rows = [(printable(boat.name), _state(boat)) for boat in listings]
        rows += [
            (printable(work.copy.name), f"deleted, with work of {work.when:%Y-%m-%d %H:%M} not saved") for work in gone
        ]
        say(*aligned(rows) or ["no boats"])
    return 0


def _state(listing: store.Listing) -> str:
    when = (
        "an example"
        if listing.is_example
        else f"saved {listing.saved:%Y-%m-%d %H:%M}"
        if listing.saved
        else "not saved"
    )
    return f"{when}, with work that was not saved" if listing.unfinished else when


def new(given: Given) -> int:
    """Begin a boat, and say where its file is."""
    places = _places(given)
    units = one_of(given, "units", UNITS)
    if units and "like" in given:
        raise InputFault("a copy keeps the units of the boat that it is like", "units")
    like = store.find(places, given["like"]) if "like" in given else None
    opened = store.new_boat(places, given["name"], units, like)
    say(f"{opened.listing.name}: {opened.listing.path}")
    return 0


def check(given: Given) -> int:
    """Every fault of a profile, a line each, on standard error; with --json the list of them, on standard output."""
    name, reading = _read(given)
    if "json" in given:
        say_json(
            [
                {"table": fault.table, "key": fault.key, "value": fault.value, "reason": fault.reason}
                for fault in reading.faults
            ]
        )
    elif not reading.faults:
        say(f"{printable(name)}: no fault")
    else:
        for fault in reading.faults:
            complain(f"{printable(name)}: {fault}")
    return InputFault.exit_status if reading.faults else 0


def _read(given: Given) -> tuple[str, Reading]:
    """The profile that is meant: a file, or a boat by its name."""
    word = given["profile"]
    if os.sep in word or word.endswith(".toml") or os.path.isfile(word):
        path = Path(word)
        return word, read(text_of(contents(path), path))
    opened = store.open_boat(store.find(_places(given), word))
    return opened.listing.name, opened.reading


def show(given: Given) -> int:
    """A boat, or one spar of it: in words, in JSON, or as its profile has it."""
    opened = store.open_boat(store.find(_places(given), given["boat"]))
    boat = opened.reading.boat
    spar = boat.spar(given["spar"]) if "spar" in given else None
    if "json" in given and "toml" in given:
        raise InputFault("--json and --toml are two answers; ask for one of them")
    if "toml" in given:
        text = _spar_as_toml(opened.text, spar.name) if spar else opened.text
        say(escaped(text).replace("\r\n", "\n").rstrip("\n"))
        return 0
    left_out = [missing for missing in for_card(boat, spar) if missing.table != "preset"] if spar else boat.left_out
    if "json" in given:
        record = inside.record_as_json(spar, boat.rule) if spar else inside.boat_as_json(boat)
        say_json({**record, "left_out": as_json(left_out)})
    else:
        said = [f"⚠ Left out for a fault: {missing.words}" for missing in left_out]
        shown = inside.spar_in_words(spar, boat.rule) if spar else inside.boat_in_words(boat)
        say(*said, *([""] if said else []), *shown)
    return INCOMPLETE if left_out else 0


def _spar_as_toml(text: str, name: str) -> str:
    import tomllib

    import tomli_w

    from ..profile.names import folded

    rows = tomllib.loads(text)["spar"]
    return tomli_w.dumps({"spar": [row for row in rows if folded(str(row.get("name"))) == folded(name)]})


def restore(given: Given) -> int:
    """The earlier versions, newest first and numbered from 1, and unsaved work; with --version, one comes back."""
    places = _places(given)
    name, is_example = _kept(places, given["boat"])
    versions = () if is_example else store.versions(places, name)
    work = next(
        (work for work in store.unsaved_work(places) if (work.copy.name, work.is_example) == (name, is_example)), None
    )
    if "version" not in given:
        rows = [
            (str(number), f"{version.when:%Y-%m-%d %H:%M:%S}", f"{version.size} bytes")
            for number, version in enumerate(versions, 1)
        ]
        if work:
            rows.insert(0, (UNSAVED, f"{work.when:%Y-%m-%d %H:%M:%S}", f"{len(work.text.encode())} bytes"))
        say(*aligned(rows) or [f"{printable(name)} has no earlier version"])
        return 0
    word = given["version"]
    if word == UNSAVED and work:
        opened = store.restore_work(places, work)
        say(f"{opened.listing.name}: the unsaved work of {work.when:%Y-%m-%d %H:%M:%S} is saved")
        return 0
    number = int(word) if word.isascii() and word.isdigit() and len(word) <= LONGEST_NUMBER else 0
    if not 1 <= number <= len(versions):
        known = [f"1 to {len(versions)}"] if versions else []
        known += [UNSAVED] if work else []
        listed = (
            f"{' or '.join(known)}, as '{PROGRAM} restore {printable(name)}' lists them" if known else "there is none"
        )
        raise InputFault(f"'{printable(word)}' is not a version: {listed}", "version")
    opened = store.restore(places, name, versions[number - 1])
    say(f"{opened.listing.name}: the version of {versions[number - 1].when:%Y-%m-%d %H:%M:%S} is back")
    return 0


def _kept(places: store.Places, word: str) -> tuple[str, bool]:
    """The name of a boat's file and whether it is an example; of a boat that is gone when something of it is kept."""
    try:
        boat = store.find(places, word)
    except InputFault:
        gone = {work.copy.name: work.is_example for work in store.unsaved_work(places)}
        if word in gone:
            return word, gone[word]
        if store.versions(places, word):
            return word, False
        raise
    return boat.name, boat.is_example


def where(given: Given) -> int:
    """The places in use; nothing is made by asking."""
    from ..storage.places import config_path

    rows = [(name, str(path)) for name, path in _places(given)._asdict().items()]
    rows.append(("config", str(config_path())))
    if "json" in given:
        say_json(dict(rows))
    else:
        say(*aligned(rows))
    return 0


def schema(given: Given) -> int:
    """The JSON Schema of a profile."""
    from ..profile.schema import schema

    say_json(schema())
    return 0


def _places(given: Given) -> store.Places:
    return store.places(given.get("profiles"))
