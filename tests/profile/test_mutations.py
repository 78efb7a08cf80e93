"""Profiles with any faults: never a traceback, and nothing of the user's is lost without being named.

Seeded, so that a fault is found again. SHOPCOMPANION_PROFILES_TRIED=5000 tries so many for every seed; the suite a few.
"""

import io
import os
from collections.abc import Iterator
from contextlib import redirect_stderr, redirect_stdout
from keyword import iskeyword
from random import Random
from typing import Any, NamedTuple

import pytest

from shopcompanion.card.yard import page
from shopcompanion.catalog import NAMES
from shopcompanion.cli.main import main
from shopcompanion.errors import InputFault, printable
from shopcompanion.profile.fields import value_of
from shopcompanion.profile.left_out import for_card, for_plan
from shopcompanion.profile.names import folded
from shopcompanion.profile.parse import Reading, read
from shopcompanion.profile.records import ROWS, TABLES, Boat
from shopcompanion.profile.toml import parsed
from shopcompanion.stock.blanks import task
from shopcompanion.stock.plan import first_plan
from shopcompanion.storage.atomic import KeepError, text_of

from .mutated import mutated

TRIED = int(os.environ.get("SHOPCOMPANION_PROFILES_TRIED", "32"))
# These look for a spar of their own, through hundreds of proofs: each has its own test of what it takes.
ASKED = [name for name in NAMES if name not in ("lightest", "compare")]
KEPT = {
    "spar": "spars",
    "preset": "presets",
    "species": "species",
    "piece": "pieces",
    "timber": "timbers",
    "yard": "yard",
}


class Said(NamedTuple):
    status: int
    out: str
    err: str


def call(*argv: str) -> Said:
    """The command line, in this process, as the console script runs it but for its last resort."""
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        status = main(argv)
    return Said(status, out.getvalue(), err.getvalue())


def _same_rows(raw: list[Any], kept: tuple[Any, ...]) -> Iterator[tuple[dict[str, Any], Any]]:
    """Each kept row beside the raw one it is of, where only one has its name."""
    names = [folded(row["name"]) for row in raw if isinstance(row, dict) and isinstance(row.get("name"), str)]
    for record in kept:
        if names.count(folded(record.name)) == 1:
            yield next(
                (row, record)
                for row in raw
                if isinstance(row, dict) and folded(str(row.get("name"))) == folded(record.name)
            )


def lost_in_silence(reading: Reading, data: dict[str, Any]) -> Iterator[str]:
    """What the file says and neither the boat has nor anything names as left out."""
    left = reading.boat.left_out
    if any("faults" in lack.reason for lack in left):  # more than are listed
        return
    for key in data.keys() - {"format", *TABLES, *ROWS}:
        if not any(lack.table == "" and lack.key.startswith(key[:20]) for lack in left):
            yield f"[{key}]"
    for kind, attribute in KEPT.items():
        raw = data.get(kind, [])
        if not isinstance(raw, list):
            if not any(lack.table == kind for lack in left):
                yield f"[{kind}] that is no list"
            continue
        kept = getattr(reading.boat, attribute)
        whole = {lack.row for lack in left if lack.table == kind and not lack.key}
        lost = sum(1 for lack in left if lack.table == kind and not lack.key)
        if len(kept) + lost < len(raw) and not any(lack.row == "" for lack in left if lack.table == kind):
            yield f"{len(raw)} rows of {kind}: {len(kept)} kept, {lost} named ({whole})"
        for row, record in _same_rows(raw, kept):
            own = [lack.key for lack in left if lack.table == kind and folded(lack.row) == folded(record.name)]
            yield from (f"{kind} {record.name}, {lost}" for lost in _unsaid(row, record, own))
    for table, record in (("boat", reading.boat), ("shop", reading.boat.shop)):
        row, own = data.get(table, {}), [lack.key for lack in left if lack.table == table]
        yield from _unsaid(row, record, own) if isinstance(row, dict) and "" not in own else ()


def _unsaid(row: dict[str, Any], record: Any, lost: list[str], before: str = "") -> Iterator[str]:
    """Keys of a row, and of the rows within it, of which its record knows nothing and that are none of the `lost`."""
    for key, value in row.items():
        place = before + printable(key)
        if any(other == place or other.startswith((f"{place} ", f"{place}, ")) for other in lost):
            continue
        now = (
            value_of(record, key)
            if key.isidentifier() and hasattr(record, f"{key}_" if iskeyword(key) else key)
            else None
        )
        if now is None or (now in (0.0, ()) and not _nothing(value)):
            yield f"{place} = {value!r}: {now!r}"
        elif isinstance(value, list) and isinstance(now, tuple):
            if len(now) != len(value):
                yield f"{place}: {len(value)} rows, {len(now)} of them kept"
            for number, (inner, made) in enumerate(zip(value, now, strict=False), 1):
                yield from _unsaid(inner, made, lost, f"{place} {number}, ") if isinstance(inner, dict) else ()
        elif isinstance(value, dict) and key == "inputs":
            yield from (f"{place}, {name}" for name in value if name not in dict(now))


def _nothing(value: Any) -> bool:
    return value in ([], {}, "") or not str(value).strip(" 0.-+inmcft'\"")


def _page(boat: Boat) -> None:
    """The page for the yard, by the first plan: the search for a better one is a process of its own."""
    try:
        job = task(boat, boat.rule)
    except InputFault as fault:
        assert str(fault).isprintable()  # noqa: PT017  # either way is right
        return
    said = {"rule": boat.rule, "source": "boat.toml", "version": "1", "date": None}
    text = page(boat, job, first_plan(job.problem), **said)  # type: ignore[arg-type]
    assert ("LEFT OUT" in text) == bool(job.left_out), (for_plan(boat), job.left_out)
    assert set(for_plan(boat)) <= set(job.left_out), (for_plan(boat), job.left_out)


def tried(raw: bytes, number: int, folder: Any) -> None:
    """The profile checked, and one thing made of it: a card, a page, or the answers of three calculators."""
    file = folder / "boat.toml"
    file.write_bytes(raw)
    checked = call("check", str(file))
    try:
        text = text_of(raw, file)
    except KeepError:
        assert checked.status == 1  # a file that cannot be read at all
        assert len(checked.err.splitlines()) == 1
        return
    reading = read(text)
    assert checked.status == (2 if reading.faults else 0), checked
    assert len(checked.err.splitlines()) == len(reading.faults)
    assert all(line.startswith("shopcompanion: ") and line.isprintable() for line in checked.err.splitlines())
    boat = reading.boat
    assert bool(boat.left_out) == bool(reading.faults)
    try:
        data = parsed(text)
    except (ValueError, RecursionError):
        data = {}
    assert not (silent := list(lost_in_silence(reading, data))), silent
    where = ("--boat", "boat", "--profiles", str(folder))
    spar = boat.spars[number % len(boat.spars)] if boat.spars else None
    told: dict[str, Any] = {}
    if number % 3 == 0:
        for name in (ASKED[(number // 3 + step) % len(ASKED)] for step in (0, 11, 23)):
            told[name] = call(name, *where, *(("--spar", spar.name) if spar else ()), "--json")
    elif number % 3 == 1:
        told["card"] = call("card", *where, *(("--spar", spar.name) if spar else ()), "--date", "2026-05-02")
        if told["card"].status != 2:
            assert ("LEFT OUT" in told["card"].out.partition("\f")[0]) == bool(for_card(boat, spar))
            assert told["card"].status == (3 if for_card(boat, spar) else 0)
    else:
        _page(boat)
    for name, said in told.items():
        assert said.status in (0, 2, 3), (name, said)
        assert bool(said.out) == (said.status != 2), (name, said)
        lines = said.err.splitlines()
        assert bool(lines) == (said.status == 2 or bool(reading.faults)), (name, said)
        assert all(line.startswith("shopcompanion: ") and line.isprintable() for line in lines), (name, said)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_whatever_is_wrong_with_a_profile_is_told(seed: int, tmp_path: Any) -> None:
    for number in range(TRIED):
        print(f"seed {seed}, number {number}")  # the last of them is shown where one fails
        tried(mutated(Random(f"{seed} {number}")), number, tmp_path)
