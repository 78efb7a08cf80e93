"""A profile with a fault: whatever is not in an answer, on a card or in a plan is named there, and the status says so.

The composed test breaks every key of a rich profile, one at a time, in four ways. A product (page, card, JSON, answer)
must then be what it was, or name what was broken, or be refused.
"""

import json
import tomllib
from collections.abc import Iterator, Sequence
from copy import deepcopy
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

import pytest
import tomli_w

from shopcompanion.card.plan import CardPlan
from shopcompanion.card.text import card
from shopcompanion.card.yard import page
from shopcompanion.errors import InputFault
from shopcompanion.paper.templates.every import Templates, templates
from shopcompanion.profile import parse
from shopcompanion.profile.left_out import for_card
from shopcompanion.stock.blanks import task
from shopcompanion.stock.plain import plain
from shopcompanion.stock.plan import first_plan

PROFILE = Path(__file__).parent / "rich.toml"
RICH = PROFILE.read_text(encoding="utf-8")
# Words of the user's own: any other word is as good, so a slip in them is no fault.
FREE = ("name", "source", "done", "tally")
# Each with a spar, so that it follows whatever it can; `jaws` and `seat` take the boat's mast and bowsprit too.
ASKED = (
    ("facets", "mast", "5 ft"), ("weight", "mast", ""), ("hinge", "mast", ""), ("drum", "mast", ""),
    ("rip", "mast", ""), ("log", "mast", ""), ("strength", "mast", ""), ("jaws", "gaff", ""), ("taper", "mast", "5 ft"),
    ("coating", "mast", ""), ("staves", "mizzen", ""),
)  # fmt: skip


class Broken(NamedTuple):
    """A profile with one thing wrong: in which table, at which key, and how."""

    table: str
    key: str
    how: str
    text: str


def every_key(data: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """The place of every key, and of the first of every list of plain values."""
    rows = data.items() if isinstance(data, dict) else enumerate(data)
    for key, value in rows:
        if isinstance(key, str) or (key == 0 and not isinstance(value, dict)):
            yield (*path, key)
        if isinstance(value, dict | list):
            yield from every_key(value, (*path, key))


def broken_at(path: tuple[Any, ...]) -> Iterator[Broken]:
    """The profile broken at a key: wrong type, wrong unit, a slip in the value, a slip in the key."""
    key = next(part for part in reversed(path) if isinstance(part, str))
    last = path[-1]

    def broken(how: str, change: Any) -> Broken:
        data = owner = deepcopy(WHOLE)
        for part in path[:-1]:
            owner = owner[part]
        new = change(deepcopy(owner[last]))
        if how == "key":
            items = [(f"{name}x" if name == last else name, value) for name, value in owner.items()]
            owner.clear()
            owner.update(items)
        else:
            owner[last] = new
        return Broken(str(path[0]), key, how, tomli_w.dumps(data))

    yield broken("type", lambda value: True)
    if key not in FREE and "inputs" not in path:
        yield broken("value", lambda value: f"x{value}" if isinstance(value, str) else "x")
        yield broken("unit", lambda value: f"{str(value).split()[0]} sec" if isinstance(value, str) else "3 sec")
    if isinstance(last, str):
        yield broken("key", lambda value: value)


WHOLE = tomllib.loads(RICH)
PATHS = list(every_key(WHOLE))


@cache
def mutants() -> tuple[Broken, ...]:
    return tuple(mutant for path in PATHS for mutant in broken_at(path))


read = cache(parse.read)  # several tests look at each broken text


def test_the_rich_profile_has_no_fault_and_every_key():
    from shopcompanion.profile.fields import TableRows, declared
    from shopcompanion.profile.records import ROWS, TABLES

    assert read(RICH).faults == ()
    used = {part for path in PATHS for part in path if isinstance(part, str)}

    def keys(of: type) -> Iterator[str]:
        for one in declared(of):
            yield one.name
            if isinstance(one.kind, TableRows):
                yield from keys(one.kind.of)

    known = {key for of in (*TABLES.values(), *ROWS.values()) for key in keys(of)}
    missing = known - used - {"density"}  # a timber has either that or its specific gravity
    assert not missing, f"put {', '.join(sorted(missing))} into {PROFILE.name}, so that it is broken too"
    assert len(mutants()) > 500


def test_what_is_broken_is_told_as_left_out():
    """Whatever is broken is named, by its key, among what is left out of the boat; nothing else is."""
    for one in mutants():
        boat = read(one.text).boat
        told = " ".join(f"{item.where} {item.name} {item.reason}" for item in boat.left_out)
        assert one.key in told, one[:3]


def products(text: str) -> dict[str, Any]:
    """Page, JSON of the plan, and what each names as left out; the fault where there is none."""
    boat = read(text).boat
    try:
        job = task(boat, boat.rule)
    except InputFault as fault:
        return {"page": str(fault), "json": {}, "named": None}
    plan = first_plan(job.problem)
    found = plain(job, plan)
    said = {"rule": boat.rule, "source": "boat.toml", "version": "1", "date": None}
    return {"page": page(boat, job, plan, **said), "json": found, "named": found["left_out"]}


def test_the_yard_page_and_its_json_cannot_lie():
    whole = products(RICH)
    assert whole["named"] == []
    for number, one in enumerate(mutants()):
        if one.how in ("type", "unit") and number % 6:
            continue  # read like a slip in the value
        found = products(one.text)
        if found["named"] is None:  # refused
            assert one.key in found["page"] or one.table in found["page"], one[:3]
        elif not found["named"]:
            assert found == whole, one[:3]
        else:
            told = " ".join(f"{item['where']} {item['name']} {item['reason']}" for item in found["named"])
            assert one.key in told, one[:3]
            page_top = " ".join(found["page"].partition("\nTo buy")[0].split())
            assert "LEFT OUT" in page_top, one[:3]
            for item in found["named"]:
                assert item["name"][:20] in page_top, one[:3]


def cards(text: str, spar: str) -> str:
    boat = read(text).boat
    try:
        return card(boat, boat.spar(spar), rule=boat.rule, source="boat.toml", version="1", date=None).text
    except InputFault as fault:
        return f"refused: {fault}"


@pytest.mark.parametrize("spar", ["gaff", "bowsprit"])
def test_a_card_is_as_it_was_or_says_what_it_lacks(spar: str):
    whole = cards(RICH, spar)
    for number, one in enumerate(mutants()):
        boat = read(one.text).boat
        named = for_card(boat, next((known for known in boat.spars if known.name == spar), None))
        likely = one.how in ("value", "key") and one.table not in ("piece", "timber", "yard")
        if number % (16 if any(one.key in item.words for item in named) else 1 if likely else 8):
            continue  # cards take their time: of those that are sure to be the same, or to say so, only some
        found = cards(one.text, spar)
        if found != whole and not found.startswith("refused: "):
            top = found.partition("\nLength ")[0]
            assert "LEFT OUT" in top, one[:3]
            assert one.key in " ".join(top.split()), one[:3]


def test_an_answer_is_as_it_was_or_says_what_it_lacks(call, tmp_path):
    """By the command line: status 0 and the same answer, 3 and what is left out, or 2 and nothing."""
    file = tmp_path / "boat.toml"

    def asked(text: str, some: Sequence[int] = range(len(ASKED))) -> list[tuple[int, dict[str, Any]]]:
        file.write_text(text, encoding="utf-8")
        found = []
        for name, spar, at in (ASKED[place] for place in some):
            where = ("--boat", "boat", "--spar", spar, *(("--at", at) if at else ()))
            said = call(name, *where, "--profiles", str(tmp_path), "--json")
            assert said.status in (0, 2, 3), (name, said)
            found.append((said.status, json.loads(said.out) if said.out else {}))
        return found

    whole = asked(RICH)
    assert [status for status, _ in whole] == [0] * len(ASKED)
    for number, one in enumerate(mutants()):
        if one.how not in ("value", "key") or one.table in ("piece", "timber", "yard", "preset"):
            continue
        some = range(len(ASKED)) if one.how == "value" else [number % len(ASKED)]  # an unknown key tells all of them
        for (status, found), place in zip(asked(one.text, some), some, strict=True):
            (_, before), (name, *_) = whole[place], ASKED[place]
            if status == 0:
                assert found == before, (name, *one[:3])
            elif status == 3:
                told = " ".join(f"{item['where']} {item['name']} {item['reason']}" for item in found["left_out"])
                assert one.key in told, (name, *one[:3])
                assert any("Left out" in line for line in found["cautions"]), (name, *one[:3])


FAULTS = {
    "a station": ('at = "4 ft", width = "3-1/8 in"', 'at = "4 fft", width = "3-1/8 in"', "mast", "4 »fft«"),
    "a fitting": ('kind = "cleat"', 'kind = "kleat"', "kleat at 5 ft", "cleat"),
}


@pytest.fixture
def whimbrel(tmp_path):
    """The rich boat with one of FAULTS, kept: the options that name it."""

    def kept(fault: str) -> tuple[str, ...]:
        now, then, *_ = FAULTS[fault]
        assert RICH.count(now) == 1
        (tmp_path / "whimbrel.toml").write_text(RICH.replace(now, then), encoding="utf-8")
        return ("--boat", "whimbrel", "--profiles", str(tmp_path))

    return kept


@pytest.mark.parametrize("fault", FAULTS)
@pytest.mark.usefixtures("searched_once")
def test_the_commands_say_so_and_exit_with_3(call, whimbrel, fault):
    boat, (*_, name, reason) = whimbrel(fault), FAULTS[fault]
    for argv in (("stock", *boat, "--page"), ("stock", *boat), ("card", *boat), ("show", "whimbrel", *boat[2:])):
        said = call(*argv)
        words = " ".join(said.out.split())
        assert said.status == 3, argv
        assert name in words, argv
        assert reason in words, argv
    for argv in (("stock", *boat, "--json"), ("show", "whimbrel", *boat[2:], "--json")):
        said = call(*argv)
        left = json.loads(said.out)["left_out"]
        assert (said.status, len(left)) == (3, 1)
        assert name in left[0]["name"]
        assert set(left[0]) == {"where", "name", "reason"}


@pytest.mark.usefixtures("searched_once")
def test_proved_says_of_what(call, whimbrel):
    said = call("stock", *whimbrel("a station"), "--page")
    assert "Proved for 3 of 4 spars (mast left out): no other plan" in " ".join(said.out.split())
    assert "Proved: no other" not in said.out
    other = call("stock", *whimbrel("a fitting"), "--page")
    assert "Proved for what is not left out above: no other plan" in " ".join(other.out.split())


def test_a_card_says_it_on_its_first_sheet_and_beside_the_step(call, whimbrel):
    boat = whimbrel("a fitting")
    first, *sheets = call("card", *boat, "--spar", "mast").out.split("\f")
    assert "LEFT OUT" in first.partition("\nMAST")[0]
    (sheet,) = [one for one in sheets if "LEFT OUT for a fault in the profile: kleat at 5 ft" in " ".join(one.split())]
    assert "Mark the fittings" in sheet.partition("LEFT OUT")[0].splitlines()[-2]
    other = call("card", *boat, "--spar", "gaff")
    assert (other.status, "LEFT OUT" in other.out) == (0, False)


def test_a_spar_that_is_left_out_is_told_as_that(call, whimbrel):
    said = call("card", *whimbrel("a station"), "--spar", "Mast")
    assert (said.status, said.out) == (2, "")
    assert "the spar 'mast' is left out until this is mended: stations 2, at: 4 »fft«" in said.err


def test_an_answer_that_a_fault_cannot_touch_is_whole(call, whimbrel):
    where = (*whimbrel("a fitting"), "--spar", "mast")
    assert call("facets", *where, "--at", "5 ft").status == 0
    weight = call("weight", *where)
    assert weight.status == 3
    assert "Left out of the profile for a fault, so not in this answer: mast, kleat at 5 ft" in weight.out


@pytest.mark.parametrize("spar", ["gaff", "mast"])
def test_templates_are_as_they_were_or_say_what_they_lack(spar: str):
    def made(text: str) -> Templates | str:
        boat = read(text).boat
        try:
            return templates(CardPlan(boat, boat.spar(spar), boat.rule))
        except InputFault as fault:
            return f"refused: {fault}"

    whole = made(RICH)
    assert isinstance(whole, Templates)
    assert whole.left_out == ()
    for number, one in enumerate(mutants()):
        likely = one.how in ("value", "key") and one.table in ("spar", "shop")
        if number % (6 if likely else 40):
            continue  # they take their time
        found = made(one.text)
        if isinstance(found, Templates) and found.all != whole.all:
            assert one.key in " ".join(found.told), one[:3]
