"""A spar that is sawn apart: every length adds up before and after, and nothing is let in across a kerf to come."""

import re
from math import hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopcompanion import form
from shopcompanion.card.ask import Answered
from shopcompanion.card.plan import CardPlan
from shopcompanion.card.step import Step
from shopcompanion.card.steps import steps
from shopcompanion.catalog import load
from shopcompanion.lengths import RULES
from shopcompanion.profile.follow import follow
from shopcompanion.profile.records import Boat
from shopcompanion.stock.blanks import task

from ..asking import MM_01
from ..examples import share
from .boats import boat, one_spar
from .test_steps import SHOP, TAPERED, of, words

KERF = 'kerf = "4 mm"\n'
JOINTS = 'joints = [{ at = "1 m", kind = "hinge" }, { at = "2500 mm", kind = "ferrule" }]\n'
HINGE = (
    'fittings = [{ at = "1 m", kind = "hinge", length = "160 mm", flat = "8 mm", barrel = "10 mm", '
    'barrel_deep = "13 mm" }, { at = "2800 mm", kind = "cleat", length = "100 mm", flat = "3 mm" }]\n'
)
SAWN = one_spar(TAPERED + JOINTS + HINGE, more=SHOP.replace("[shop]\n", "[shop]\n" + KERF))
MILLIMETRES = re.compile(r"([0-9.]+) mm")


def lengths(text: str) -> list[float]:
    return [float(length) for length in MILLIMETRES.findall(text)]


def put(built: Boat, step: Step) -> list[Answered]:
    """The questions of a step, asked again."""
    plan = CardPlan(built, built.spars[0], built.rule)
    return [plan.job.ask(asked.calculator, asked.at, **dict(asked.typed)) for asked in step.asked]


def test_the_saw_takes_just_what_the_stick_is_longer() -> None:
    """The stick as it is marked, its bands taken out and its parts closed up, has every station of the plans."""
    steps = of(SAWN, MM_01)
    bands = [lengths(line)[1:3] for line in steps["mark-centre"].says[2:]]
    assert bands == [[1000, 1004], [2504, 2508]]
    stick = lengths(steps["mark-centre"].checks[0])[0]
    assert stick == 3008
    sawn = lengths(steps["part"].says[0])
    assert sawn == [1000, 1004, 2504, 2508]
    beyond = [lengths(line)[-1] for line in steps["mark-centre"].says[2:]]
    for station in (0.0, 500.0, 999.0, 1001.0, 2499.0, 2501.0, 2800.0, 3000.0):
        tape = station + sum(beyond[k] - (beyond[k - 1] if k else 0) for k in range(2) if station > (1000, 2500)[k])
        assert not any(near < tape < far for near, far in bands)
        assert tape - sum(far - near for near, far in bands if far <= tape) == station
    assert lengths(steps["part"].checks[1]) == [3000]
    assert lengths(steps["ends"].says[0]) == [3000]


def test_nothing_is_let_in_before_the_parts_are_sawn() -> None:
    ids = list(of(SAWN))
    first_cut = min(ids.index(name) for name in ids if name.startswith("fit-"))
    assert ids.index("sand") < ids.index("part") < ids.index("flats") < first_cut < ids.index("ends")
    assert ids.index("dowel") < ids.index("mark-centre")
    assert "saw" not in words(of(one_spar(TAPERED))["mark-centre"])


@settings(max_examples=share(40))
@given(st.data())
def test_dowels_lie_clear_of_the_hinge(data: st.DataObject) -> None:
    """Each dowel's circle, by hand: inside the section, under flat and barrel, beside every hole that it reaches."""
    size, face = data.draw(st.floats(30, 150)), data.draw(st.sampled_from("ABCD"))
    deep, barrel = (round(size * data.draw(st.floats(low, high)), 3) for low, high in ((0.04, 0.2), (0.02, 0.12)))
    section = data.draw(st.sampled_from(["round", "square", "eight"]))
    bored = data.draw(st.sampled_from(["", ', hole = "2.5 mm"', ', hole = "6 mm"']))
    built = one_spar(
        f'length = "3 m"\nsection = "{section}"\nstations = [{{ at = "0", width = "{size:.4f} mm" }}, '
        f'{{ at = "3 m", width = "{size:.4f} mm" }}]\njoints = [{{ at = "1 m", kind = "hinge" }}]\nfittings = [{{ '
        f'at = "1 m", kind = "hinge", length = "200 mm", flat = "{deep:.4f} mm", barrel = "{2 * barrel:.4f} mm", '
        f'barrel_deep = "{deep + barrel:.4f} mm", face = "{face}"{bored} }}]'
    )
    step = of(built)["dowel"]
    dowels = [
        answer
        for answer in put(built, step)
        if answer.asked.calculator == "dowels" and "cut_away" in dict(answer.asked.typed)
    ]
    hinges = [answer for answer in put(built, step) if answer.asked.calculator == "hinge"]
    if not dowels or not hinges:
        assert "no dowel that is sold fits" in words(step) or not hinges
        return
    (dowel,), (hinge,) = dowels, hinges
    thick, rows = dowel["dowel_used"], hinge["rows_apart"]
    assert hinge["dowels_below"] == pytest.approx(deep + barrel, abs=1e-3)
    for _, x, y, *_ in dowel.result.tables[0].rows:
        up, aside = {"A": (y, x), "C": (-y, x), "B": (x, y), "D": (-x, y)}[face]
        assert hypot(x, y) + thick / 2 < size / 2
        assert up + thick / 2 <= size / 2 - deep - barrel + 1e-3
        if dowel["dowel_in_each"] > hinge["first_hole"] - hinge["hole"] / 2 + 1e-6:
            for row in (-rows / 2, rows / 2):
                assert abs(aside - row) >= thick / 2 + hinge["hole"] / 2 - 1e-3


SCARFS = """
[[preset]]
calculator = "scarf"
name = "short"
spar = "stick"
inputs = { slope = "8" }
"""


@pytest.mark.parametrize("bow", ["", 'bow = "7 mm"\n'])
@pytest.mark.parametrize("blank", ["", 'blank = "71 mm"\n'])
@pytest.mark.parametrize("preset", ["", SCARFS])
@pytest.mark.parametrize("shop", ["", '[shop]\nplaning = "3 mm"\ntrim = "20 mm"\n'])
def test_a_scarf_is_as_long_on_card_and_pane_as_in_the_cutting_plan(bow, blank, preset, shop) -> None:
    """By hand: the side of the stick as it is glued, its bow still in it, times the slope."""
    thick = 60 + (11 if blank else 6 if shop else 0) + (7 if bow else 0)
    long = thick * (8 if preset else 12)
    joint = 'joints = [{ at = "1.5 m", kind = "scarf" }]\n'
    sold = '[[timber]]\nname = "any"\nthickness = "100 mm"\nwidth = "100 mm"\nlength = "4 m"\n'
    built = one_spar(bow + blank + TAPERED + joint + preset + sold, more=shop)
    assert f"makes a scarf {long} mm long in a stick {thick} mm thick" in words(of(built)["scarf"])
    if blank or shop:
        texts = dict(built.presets[0].inputs) if preset else {}
        pane = form.solve(load("scarf"), texts, follow(built, built.spars[0], 1500.0), built.rule)
        assert pane.answers.scarf_length == pytest.approx(long)
    (need,) = task(built, MM_01).problem.needs
    parts = next(way for way in need.ways if len(way) == 2)
    trim = 20 if shop else 25
    assert sum(part.length for part in parts) == pytest.approx(3000 + 4 * trim + long, abs=0.25)
    assert {part.thickness for part in parts} == {thick}


def test_the_example_boats_scarf_is_clear() -> None:
    assert not any("takes in" in line for line in of_spar("fjord-lugger", "mast")["scarf"].cautions)


def of_spar(name: str, spar: str) -> dict[str, Step]:
    return {step.id: step for step in steps(boat(name), boat(name).spar(spar), boat(name).rule)}


def test_a_hinge_joint_without_its_hinge_is_told() -> None:
    told = words(of(boat("saltmarsh-yawl"), boat("saltmarsh-yawl").rule)["dowel"])
    assert "No hinge is given for the joint at 2 ft: choose one now" in told
    assert "No hinge is given" not in words(of(SAWN)["dowel"])


@pytest.mark.parametrize(("width", "thick"), [("20 mm", 4), ("16 mm", 3), ("12 mm", None), ("3 mm", None)])
def test_a_joint_in_a_thin_spar_has_a_dowel_that_fits_or_is_told_what_to_do(width: str, thick: float | None) -> None:
    stations = f'length = "3 m"\nstations = [{{ at = "0", width = "{width}" }}, {{ at = "3 m", width = "{width}" }}]\n'
    step = of(one_spar(stations + 'joints = [{ at = "1 m", kind = "butt" }]'))["dowel"]
    if thick is None:
        assert step.tables == ()
        assert "At 1000 mm no dowel that is sold fits. Make the parts of one stick, or hold" in words(step)
        assert "Bore for dowels" not in words(step)
    else:
        assert step.tables[0].rows[0][2] == thick


def test_a_hinge_has_its_bolts_set_out_though_the_profile_has_no_hole() -> None:
    told = words(of(SAWN, RULES[-1])["fit-hinge-1000"])
    assert "where it has none, holes of" in told
    assert "from the joint or more, the last" in told


def test_what_only_one_joint_is_warned_of_names_it() -> None:
    """A long heavy stick on dowels at two joints: their trestles stand apart by what each of them carries."""
    stick = """length = "9 m"
stations = [{ at = "0", width = "120 mm" }, { at = "9 m", width = "50 mm" }]
joints = [{ at = "3 m", kind = "butt" }, { at = "6 m", kind = "butt" }]
"""
    cautions = of(one_spar(stick))["dowel"].cautions
    heavy = [line for line in cautions if "The dowels alone" in line or "the dowels alone" in line]
    assert [line.partition(":")[0] for line in heavy] == ["At 3000 mm", "At 6000 mm"]
    assert sum("Bore both ends from one template" in line for line in cautions) == 1
    line = of(one_spar(stick.replace('{ at = "3 m", kind = "butt" }, ', "")))["dowel"].cautions
    assert any(line.startswith("The dowels alone") for line in line)


def test_a_hinge_that_cannot_be_is_told() -> None:
    """A flat of 1 mm at the joint, on a taper that falls more than that under its leaves."""
    stick = """length = "1 m"
stations = [{ at = "0", width = "80 mm" }, { at = "1 m", width = "30 mm" }]
joints = [{ at = "500 mm", kind = "hinge" }]
fittings = [{ at = "500 mm", kind = "hinge", length = "160 mm", flat = "1 mm" }]
"""
    steps = of(one_spar(stick), MM_01)
    why = "flat at joint: a flat 1 mm deep at the joint does not reach both ends of the leaves; "
    why += "one of more than 2 mm does"
    assert f"The hinge at 500 mm cannot be worked out: {why}" in words(steps["dowel"])
    assert f"Where its holes may be cannot be worked out: {why}." in words(steps["fit-hinge-500"])


def test_the_halves_of_a_hollow_spar_have_their_stations_where_the_stick_will_be_sawn() -> None:
    hollow = 'section = "hollow"\nwall = "8 mm"\n'
    built = one_spar(TAPERED + hollow + JOINTS, more=SHOP.replace("[shop]\n", "[shop]\n" + KERF))
    told = words(of(built, MM_01)["true-halves"])
    assert "from the heel, for the saw 4 mm further on beyond 1000 mm and 8 mm further on beyond 2500 mm." in told
    assert "further on" not in words(of(one_spar(TAPERED + hollow))["true-halves"])


@pytest.mark.parametrize("spar", ["main mast", "mizzen mast"])
def test_a_part_of_a_thinner_stick_is_told_where_the_cutting_plan_has_one(spar: str) -> None:
    """The station table is for the blank of the whole spar; the plan makes each part as thick as its own thickest, and
    as much more as there is bow in it, which comes out when it is trued.
    """
    here = boat("saltmarsh-yawl")
    mast = here.spar(spar)
    ways = next(need.ways for need in task(here, here.rule).problem.needs if need.name == spar)
    trued = [
        blank.thickness - (mast.bow or 0.0) * (part / mast.length) ** 2
        for way in ways
        for blank, part in zip(way, _lengths(mast.length, mast.joints[0].at, len(way)), strict=True)
    ]
    thinner = max(trued) - min(trued) > 2 * float(here.rule.step)  # blanks are brought up to a mark
    made = {step.id: step for step in steps(here, mast, here.rule)}
    assert ("made of a thinner stick" in words(made["dowel"])) == thinner == (spar == "mizzen mast")
    assert ("off each face is for a square of 3 in" in words(made["dowel"])) == (spar == "mizzen mast")
    assert "the cutting plan has the size of each" in words(made["true-blank"])


def _lengths(whole: float, at: float, parts: int) -> tuple[float, ...]:
    return (whole,) if parts == 1 else (at, whole - at)
