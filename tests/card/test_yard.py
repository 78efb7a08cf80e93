"""The page for the yard, to the letter, and what it says in every case.

The pages are kept in `yards`, with the first plan, which needs no solver. To renew them after a change that is meant:
`SHOPCOMPANION_RENEW=1 python -m pytest tests/card/test_yard.py`, and read the difference.
"""

import os
import re
from pathlib import Path

import pytest

from shopcompanion.card.lines import Paper
from shopcompanion.card.yard import _UNPROVED, as_sold, lines, page, proof
from shopcompanion.lengths import RULES, Rule
from shopcompanion.profile.parse import read
from shopcompanion.profile.records import Boat
from shopcompanion.stock.blanks import task
from shopcompanion.stock.pieces import PlanProof
from shopcompanion.stock.plan import first_plan
from shopcompanion.stock.programme import COST, OFFCUT, OUT, WASTE

from .boats import HERE, boat

YARDS = HERE / "yards"
RENEW = bool(os.environ.get("SHOPCOMPANION_RENEW"))
MM = RULES[4]


def printed(of: Boat, rule: Rule | None = None, ascii_only: bool = False) -> str:
    job = task(of, of.rule)
    return page(
        of, job, first_plan(job.problem), rule=rule or of.rule, source="trial.toml", version="0.1.0",
        date="2026-05-02", ascii_only=ascii_only,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("file", "name", "rule", "ascii_only"),
    [
        ("saltmarsh-yawl.txt", "saltmarsh-yawl", None, False),
        ("fjord-lugger.txt", "fjord-lugger", None, False),
        ("fjord-lugger, in inches, in ascii.txt", "fjord-lugger", RULES[3], True),
    ],
)
def test_the_page(file: str, name: str, rule: Rule | None, ascii_only: bool) -> None:
    text = printed(boat(name), rule, ascii_only)
    path = YARDS / file
    if RENEW:
        path.write_text(text, encoding="utf-8")
    assert path.read_text(encoding="utf-8") == text
    assert text.isascii() is ascii_only


@pytest.mark.parametrize("path", sorted(YARDS.iterdir()), ids=lambda path: path.stem)
def test_every_page_fits_its_paper(path: Path) -> None:
    pages = path.read_text(encoding="utf-8").split("\f")
    for number, printed_page in enumerate(pages, 1):
        rows = printed_page.removesuffix("\n").split("\n")
        assert len(rows) <= 58
        assert max(map(len, rows)) <= 72
        assert f"page {number} of {len(pages)}" in rows[0]


def trial(rest: str) -> Boat:
    reading = read(
        'format = 1\n[boat]\nname = "Trial"\nunits = "in"\n[shop]\nkerf = "1/8 in"\nplaning = "0"\ntrim = "0"\n'
        '[[spar]]\nname = "pole"\nspecies = "Spruce, Sitka"\nlength = "11 ft"\n'
        'stations = [{at = "0", width = "2 in"}, {at = "11 ft", width = "2 in"}]\n' + rest
    )
    assert reading.faults == ()
    return reading.boat


def said(of: Boat, wide: int = 72) -> str:
    job = task(of, of.rule)
    return "\n".join(lines(job, first_plan(job.problem), Paper(of.rule, False, wide)))


HAND = '[[timber]]\nname = "{}"\nspecies = "Spruce, Sitka"\nthickness = "{}"\nwidth = "{}"\nlength = "{}"\n{}\n'


def test_what_is_on_hand_is_not_bought() -> None:
    text = said(trial(HAND.format("plank", "2 in", "2 in", "12 ft", "")))
    assert "To buy: nothing: the timber on hand will do." in text
    assert "Not ripped." in text
    assert "Could not be placed" not in text


@pytest.mark.parametrize(
    ("timber", "reason"),
    [
        (("plank", "1-1/2 in", "4 in", "12 ft", ""), "too thick: it is 2 in, and the thickest timber is 1-1/2 in"),
        (
            ("plank", "2 in", "4 in", "10 ft", ""),
            "too long: it is 11 ft, and the longest timber thick and wide enough is 10 ft",
        ),
        (
            ("plank", "2 in", "4 in", "12 ft", 'knots = [{ from = "6 ft", to = "6 ft 2 in" }]'),
            "too long between knots: it is 11 ft, and the longest clear length is 6 ft",
        ),
    ],
)
def test_what_has_no_place_is_told_with_the_least_purchase_as_it_is_sold(timber: tuple[str, ...], reason: str) -> None:
    text = " ".join(said(trial(HAND.format(*timber))).split())
    assert (
        f"Could not be placed - pole: {reason}. Least purchase: one 3 x 3, dressed, 12 ft long of Spruce, Sitka."
        in text
    )


def test_a_size_as_sold_holds_what_it_is_for() -> None:
    """By PS 20 a 2 x 4 is 1-1/2 by 3-1/2 in; lengths go up by two feet; no dimension is over 11-1/4 in wide.

    An 8 x 8 is 7-1/2 in, green (from memory), so 7-3/8 in asks for no 10 x 10."""
    assert as_sold(38.1, 88.9, 12 * 304.8, RULES[1]) == "one 2 x 4, dressed, 12 ft long"
    assert as_sold(38.3, 88.9, 12 * 304.8 + 1, RULES[1]) == "one 3 x 4, dressed, 14 ft long"
    memory = "dressed green, 10 ft long, its dressed size from memory"
    assert as_sold(187.325, 187.325, 3000, RULES[1]) == f"one 8 x 8, {memory}"
    assert as_sold(38.1, 300, 3048, RULES[1]).endswith("or more, 10 ft long")
    assert as_sold(40, 60, 3010, MM) == "40 mm x 60 mm or more, 3300 mm long"


def test_what_is_bought_adds_up() -> None:
    """The total is that of the rows, and board feet are by the nominal size: a 4 x 4 of 12 ft has sixteen."""
    yard = (
        '[[yard]]\nname = "deal"\nspecies = "Spruce, Sitka"\nnominal = "4 x 4"\nlengths = ["12 ft"]\n'
        'price = "1.25 EUR"\nper = "foot"\n'
    )
    text = said(trial(yard + '[[piece]]\nname = "post"\nthickness = "3 in"\nwidth = "3 in"\nlength = "9 ft"\n'))
    assert re.search(r"2  3-1/2 x 3-1/2 x 12 ft +15\.00 +30\.00 +deal", text)
    assert "Total 30.00 EUR, 32.0 board feet, 0.058 cubic metres." in text


def test_how_good_the_plan_is_is_said_as_it_is() -> None:
    job = task(boat("fjord-lugger"), MM)
    plan = first_plan(job.problem)
    assert proof(job, plan) == "Best found so far. A cheaper plan is not ruled out."
    assert proof(job, plan._replace(proof=PlanProof(False, "cost", 0.0321))) == (
        "Best found so far, within 3.3 %: at most that much could still be saved. A cheaper plan is not ruled out."
    )
    for stage in ("what is left out", "waste", "longest offcut"):
        told = {proof(job, plan._replace(proof=PlanProof(False, stage, within))) for within in (None, 0.0, 1.0)}
        assert len(told) == 1
        assert "%" not in told.pop()
        assert "within 0.1 %" in proof(job, plan._replace(proof=PlanProof(False, stage, 0.0001)))
    assert proof(job, plan._replace(proof=PlanProof(True, "longest offcut", 0.0))).startswith(
        "Proved: no other plan is cheaper"
    )


@pytest.mark.parametrize("wide", [30, 40, 57, 72, 100])
def test_lines_for_a_screen_are_no_wider_than_it(wide: int) -> None:
    for name in ("saltmarsh-yawl", "fjord-lugger"):
        assert max(map(len, said(boat(name), wide).splitlines())) <= wide


@pytest.mark.parametrize("name", ["x" * 60, "a plank of " * 5 + "wood", "{}", "[bold]plank[/bold]", "é½ · 板"])
def test_names_of_any_kind_keep_within_the_page(name: str) -> None:
    quoted = "".join(f"\\U{ord(letter):08x}" for letter in name)
    post = f'[[piece]]\nname = "{quoted}"\nspecies = "{quoted}"\nthickness = "3 in"\nwidth = "3 in"\nlength = "9 ft"\n'
    hand = f'[[timber]]\nname = "{quoted}"\nthickness = "3 in"\nwidth = "4 in"\nlength = "12 ft"\n'
    of = read(
        f'format = 1\n[boat]\nname = "{quoted}"\nunits = "in"\n[shop]\ncurrency = "EUR"\n{post}{post}{hand}'
        f'[[yard]]\nname = "{quoted}"\nspecies = "{quoted}"\nthickness = "4 in"\nwidth = "4 in"\n'
        'lengths = ["8 ft", "12 ft"]\nprice = "123456.78"\ncount = 1\n'
    ).boat
    text = printed(of)
    assert "\x1b" not in text
    assert max(map(len, text.replace("\f", "\n").splitlines())) <= 72
    assert "Could not be placed" in text


def test_every_stage_of_the_search_has_its_words() -> None:
    assert set(_UNPROVED) == {OUT, COST, WASTE, OFFCUT}


def test_a_strip_is_ripped_to_the_mark_that_its_blank_was_made_to() -> None:
    """2-11/16 in is 68.2625 mm, in a plan 68.3: no `full` of the plan's own making."""
    assert "Rip one strip at 2-11/16, one at 3." in " ".join(printed(boat("saltmarsh-yawl")).split())


def test_a_yard_that_is_not_there_is_not_said_to_be_of_no_help() -> None:
    """1/4 in is 6.35 mm, and the plan reckons in tenths of one: it must not come back as 1/4 in bare."""
    text = said(trial(HAND.format("lath", "1/4 in", "2 in", "20 ft", "")))
    assert "To buy: nothing: the profile has no [[yard]] that says what is sold." in text
    assert "thickest timber is 1/4 in." in text
    assert "The blanks" not in text  # none is cut
    piece = '[[piece]]\nname = "thwart"\nthickness = "4 in"\nwidth = "25 in"\nlength = "3 ft"\n'
    some = said(trial(HAND.format("plank", "2 in", "2 in", "12 ft", "") + piece))
    assert "the timber on hand will do" not in some  # not for the thwart
    assert "4 in x 2 ft 1 in or more, 4 ft long" in some
    left = " ".join(some[some.index("Left over") :].split())  # one short offcut: no table without rows
    assert left.startswith("Left over 1 offcut, shorter than 12 in. 8 % of the timber cut is offcut or sawdust.")


def test_strips_of_one_width_are_told_together() -> None:
    battens = '[[piece]]\nname = "batten"\nthickness = "1 in"\nwidth = "2 in"\nlength = "11 ft"\ncount = 3\n'
    text = " ".join(said(trial(HAND.format("plank", "2 in", "6 in", "12 ft", "") + battens)).split())
    assert "Rip one strip at 2, three at 1." in text


# Words of the page that stand for a unit, by the unit in force.
UNIT_WORDS = {"in": r"\d *(?:in|ft)\b|\d-\d+/\d|\b\d+/\d+\b", "mm": r"\d *mm\b"}


@pytest.mark.parametrize("rule", RULES, ids=str)
@pytest.mark.parametrize("name", ["saltmarsh-yawl", "fjord-lugger"])
def test_the_page_holds_one_unit(name: str, rule: Rule) -> None:
    """Names of timbers and sizes as they are sold, and the total, are the yard's own words."""
    of = boat(name)
    own = [part.name for part in (*of.timbers, *of.yard, *of.pieces, *of.spars)] + [
        timber.nominal for timber in (*of.timbers, *of.yard) if timber.nominal
    ]
    text = " ".join(printed(of, rule).split())
    for word in sorted(own, key=len, reverse=True):
        text = text.replace(word, "")
    other = "mm" if rule.unit == "in" else "in"
    assert re.findall(rf".{{0,20}}(?:{UNIT_WORDS[other]}).{{0,20}}", text) == []
    assert len(re.findall(UNIT_WORDS[rule.unit], text)) > 20
    assert "before this page." in text


def test_the_kerf_is_said_as_it_is() -> None:
    assert "The saw takes 3.2 mm between strips" in " ".join(printed(boat("fjord-lugger")).split())


def test_names_with_braces_stay_names() -> None:
    rest = HAND.format("a {} of {pine}", "1/4 in", "3 in", "12 ft", "") + HAND.format(
        "{0}", "3 in", "3 in", "12 ft", ""
    )
    assert "Note  a {} of {pine} is thinner than every blank" in said(trial(rest))
