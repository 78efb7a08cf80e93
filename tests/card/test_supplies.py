"""All that is to be bought, held against the profile: whatever it has is on the list, and nothing that it has not."""

import csv
import io

import pytest

from shopcompanion.card.lines import Paper
from shopcompanion.card.supplies import (
    BLANK,
    CHANDLER,
    GROUPS,
    IRONMONGER,
    MADE,
    PAINT,
    YARD,
    Supplies,
    page,
    planned,
    rows,
    supplies,
)
from shopcompanion.cli.supplies import as_csv
from shopcompanion.profile.parse import read
from shopcompanion.profile.records import Boat
from shopcompanion.stock.pieces import Plan
from shopcompanion.stock.plan import first_plan

from ..cli.test_left_out import RICH
from .boats import boat as demo

BOATS = {name: demo(name) for name in ("saltmarsh-yawl", "fjord-lugger", "oddments")} | {"whimbrel": read(RICH).boat}
# What the list adds by itself to what the profile has: with what of the profile it must go.
DERIVED = {
    "screws or bolts": ("hinge", "cleat", "gooseneck", "block", "collar"), "rod": ("jaws",), "nut": ("jaws",),
    "leather": ("jaws", "leather"), "line": ("jaws",), "parrel bead": ("jaws",), "rods": ("jaws",),
}  # fmt: skip


def made_for(boat: Boat) -> tuple[Supplies, Plan | None]:
    job = planned(boat)
    plan = first_plan(job.problem) if job else None
    return supplies(boat, job, plan, boat.rule), plan


@pytest.mark.parametrize("name", BOATS)
def test_every_fitting_and_joint_of_the_profile_is_on_it(name: str) -> None:
    boat = BOATS[name]
    made, _ = made_for(boat)
    for spar in boat.spars:
        for fitting in spar.fittings:
            own = [line for line in made.lines if line.what.startswith(fitting.kind)
                   and any(used.startswith(spar.name) for used in line.used)]  # fmt: skip
            assert own, (spar.name, fitting.kind)
            if fitting.name and fitting.kind != "leather":
                assert any(fitting.name in line.what for line in own), fitting.name
        for joint in spar.joints:
            if joint.kind == "ferrule" or (
                joint.kind == "hinge" and "hinge" not in {fitting.kind for fitting in spar.fittings}
            ):
                assert any(line.what.startswith(joint.kind) and any(used.startswith(spar.name) for used in line.used)
                           for line in made.lines), joint  # fmt: skip


@pytest.mark.parametrize("name", BOATS)
def test_what_is_alike_is_counted_as_often_as_the_profile_has_it(name: str) -> None:
    boat = BOATS[name]
    made, _ = made_for(boat)
    plain = ("step", "partners", "tack hook", "hounds")
    for kind in plain:
        known = sum(spar.count for spar in boat.spars for fitting in spar.fittings if fitting.kind == kind)
        listed = sum(int(line.amount) for line in made.lines if line.what.split(",")[0].split(" (")[0] == kind)
        assert listed == known, kind


@pytest.mark.parametrize("name", BOATS)
def test_nothing_is_on_it_that_the_profile_has_not(name: str) -> None:
    boat = BOATS[name]
    made, _ = made_for(boat)
    names = [spar.name for spar in boat.spars] + [piece.name for piece in boat.pieces]
    kinds = {part.kind for spar in boat.spars for part in (*spar.fittings, *spar.joints)}
    for line in made.lines:
        assert line.group in GROUPS
        assert line.used
        assert line.how
        for used in line.used:
            assert used == "all spars" or any(own in used for own in names), line
        if line.group in (CHANDLER, IRONMONGER, MADE):
            kind = next((kind for kind in kinds if line.what.startswith(kind)), None)
            words = next((with_ for start, with_ in DERIVED.items() if line.what.startswith(start)), ())
            dowels = line.what.startswith("dowel") and kinds & {"hinge", "ferrule", "butt"}
            assert kind or dowels or kinds & {*words}, line


@pytest.mark.parametrize("name", BOATS)
def test_the_timber_is_what_the_plan_buys(name: str) -> None:
    boat = BOATS[name]
    made, plan = made_for(boat)
    job = planned(boat)
    yard = [line for line in made.lines if line.group == YARD]
    if plan is None or job is None:
        assert len(yard) == len(boat.spars) + len(boat.pieces)
        return
    assert made.total == sum(line.price or 0 for line in yard) == plan.cost
    pieces = [
        job.problem.timbers[sawn.timber] for sawn in plan.sawn if job.problem.timbers[sawn.timber].price is not None
    ]
    assert sum(int(line.amount) for line in yard if line.price is not None) == len(pieces)
    used = {used for line in yard for used in line.used}
    sold = [sawn for sawn in plan.sawn if job.problem.timbers[sawn.timber].price is not None]
    bought = {job.problem.needs[cut.need].name for sawn in sold for strip in sawn.strips for cut in strip.cuts}
    assert all(any(need.startswith(name) for name in used) for need in bought)


def test_every_coat_that_is_kept_is_on_it() -> None:
    kept = '\n[[preset]]\ncalculator = "coating"\nname = "{}"\n{}\n'
    text = RICH + kept.format("oiled", 'spar = "mast"\ninputs = { kind = "oil" }')
    text += kept.format("painted", 'inputs = { kind = "paint", spars = "gaff; bowsprit" }')
    made, _ = made_for(read(text).boat)
    coats = {
        line.what: line.used for line in made.lines if line.group == PAINT and line.what in ("oil", "paint", "varnish")
    }
    assert coats == {"oil": ("mast",), "paint": ("gaff", "bowsprit")}


def test_scarfs_and_staves_ask_for_glue() -> None:
    """The ring's two sides of every notch at 250 g/m², and the scarf of the mast; checked by the numbers themselves."""
    boat = BOATS["fjord-lugger"]
    made, _ = made_for(boat)
    (glue,) = (line for line in made.lines if line.what == "glue")
    ring = 8 * 13 * (2**0.5) * 3200 * 250e-9
    stick = 115 + 5
    scarf = stick * (stick * stick + (8 * stick) ** 2) ** 0.5 * 250e-9
    assert set(glue.used) == {"mast", "mizzen mast"}
    assert float(glue.amount.removesuffix(" kg")) >= 0.9 * ring
    assert float(glue.amount.removesuffix(" kg")) <= ring + 3 * scarf


def test_an_example_fits_two_pages_and_says_what_is_unknown() -> None:
    for name in ("saltmarsh-yawl", "fjord-lugger"):
        boat = BOATS[name]
        made, _ = made_for(boat)
        paper = Paper(boat.rule)
        text = page(made, boat.name, paper, paper.foot("boat.toml", "1", "2026-05-02"))
        assert text.count("\f") <= 1, name
        assert max(map(len, text.splitlines())) <= 72
        assert BLANK in text
        assert all(" ".join(line.what.split())[:20] in " ".join(text.split()) for line in made.lines)


def test_a_spreadsheet_reads_it_and_runs_nothing() -> None:
    made, _ = made_for(BOATS["saltmarsh-yawl"])
    listed = list(csv.DictReader(io.StringIO(as_csv(rows(made)))))
    assert [row["what"] for row in listed] == [line.what for line in made.lines]
    assert sum(float(row["price"] or 0) for row in listed) == pytest.approx(made.total / 100)
    bad = RICH.replace('name = "jaw cheek"', 'name = "=1+1"')
    made, _ = made_for(read(bad).boat)
    assert not any(cell[:1] in ("=", "+", "@") for row in csv.reader(io.StringIO(as_csv(rows(made)))) for cell in row)


def test_an_empty_boat_has_nothing_and_says_so() -> None:
    made, _ = made_for(read('format = 1\n[boat]\nname = "Dabchick"\nunits = "mm"\n').boat)
    assert made.lines == ()
    assert "no spar and no piece" in made.notes[0]


def test_a_coat_that_is_left_out_for_a_fault_is_told() -> None:
    text = RICH + '\n[[preset]]\ncalculator = "coating"\nname = "oiled"\ninputs = { kind = "oill" }\n'
    made, _ = made_for(read(text).boat)
    assert any("oill" in lost.words for lost in made.left_out)


def test_what_is_left_out_of_the_profile_is_told() -> None:
    made, _ = made_for(read(RICH.replace('at = "4 ft", width = "3-1/8 in"', 'at = "4 fft", width = "3-1/8 in"')).boat)
    assert any("mast" in lost.words for lost in made.left_out)


def test_dowels_are_bought_only_for_a_spar_that_the_plan_makes_of_several_sticks() -> None:
    boat = BOATS["saltmarsh-yawl"]
    made, plan = made_for(boat)
    assert plan
    cuts = [cut.blank.name for sawn in plan.sawn for strip in sawn.strips for cut in strip.cuts]
    for spar in ("main mast", "mizzen mast"):
        doweled = any(line.what.startswith("dowel") and line.used[0].startswith(spar) for line in made.lines)
        assert doweled == any(name.startswith(f"{spar}, part ") for name in cuts), spar
    assert "main mast" in cuts  # of one stick
    assert "mizzen mast" not in cuts
