"""Every example spar against PyNiteFEA, a general library for frames, in many short members of one section each.

Each member gives as much as the mean of the wood along it, so it comes to ours as they get shorter; here to 1e-3.
"""

import warnings
from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from shopcompanion import form
from shopcompanion.beam.model import Load, Push, Support
from shopcompanion.beam.proof import Case, Proof, prove
from shopcompanion.beam.sections import PLANES, worth
from shopcompanion.calculators.strength import solved
from shopcompanion.catalog import load
from shopcompanion.profile.follow import follow
from shopcompanion.profile.parse import read
from shopcompanion.profile.records import Boat, Spar
from shopcompanion.spar.body import Body

PROFILES = Path(__file__).parent.parent.parent / "profiles"
BOATS = [read(path.read_text(encoding="utf-8")).boat for path in sorted(PROFILES.glob("*.toml"))]
SPARS = [pytest.param(spar.body(), id=f"{boat.name}, {spar.name}") for boat in BOATS for spar in boat.spars]
MODULUS = 10000.0
MEMBERS = 100
PARTS = (1 / 6, 1 / 2, 5 / 6)  # of a member, where its wood is looked at


def frame(case: Case, plane: str) -> tuple[Any, list[float]]:
    """The spar lying along X, bending in Y; solved, with what the pushes add where there are some. And its nodes."""
    body, (supports, loads) = case.body, case.bearing(plane)
    marks = {
        *body.breaks,
        *(support.at for support in supports),
        *(at for load in loads for at in (load.start, load.end)),
    }
    marks |= {push.at for push in case.pushes}
    between = np.linspace(0, body.length, MEMBERS + 1).tolist()
    nodes = sorted(marks | {at for at in between if all(abs(at - mark) > 1.0 for mark in marks)})
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from Pynite import FEModel3D

    model = FEModel3D()
    model.add_material("wood", case.modulus, case.modulus / 16, 0.3, 4e-7)
    for k, at in enumerate(nodes):
        model.add_node(f"n{k}", at, 0, 0)
    for k, (a, b) in enumerate(pairwise(nodes)):
        here = [worth(body, a + part * (b - a)) for part in PARTS]
        second = len(PARTS) / sum(1 / there.second[PLANES.index(plane)] for there in here)
        model.add_section(f"s{k}", here[1].area, second, second, 2 * second)
        model.add_member(f"m{k}", f"n{k}", f"n{k + 1}", "wood", f"s{k}")
        for acting in loads:
            if acting.kind == "spread" and acting.start <= (a + b) / 2 <= acting.end:
                slope = (acting.last - acting.size) / (acting.end - acting.start)
                ends = (acting.size + slope * (at - acting.start) for at in (a, b))
                model.add_member_dist_load(f"m{k}", "FY", *ends)
    hold(model, nodes, supports)
    for acting in loads:
        if acting.kind == "force":
            model.add_node_load(f"n{nodes.index(acting.start)}", "FY", acting.size)
    for push in case.pushes:
        model.add_node_load(f"n{nodes.index(push.at)}", "FX", -push.force)
    if case.pushes:
        model.analyze_PDelta(check_stability=False)
    else:
        model.analyze_linear(check_stability=False)
    return model, nodes


def hold(model: Any, nodes: list[float], supports: Sequence[Support]) -> None:
    """Hold the nodes that have a support, the one nearest the heel lengthwise too, and all of them in the plane."""
    held = {support.at: support for support in supports}
    foot = min(held)
    for k, at in enumerate(nodes):
        if at not in held:
            model.def_support(f"n{k}", support_DZ=True, support_RY=True)
            continue
        kind = held[at].kind
        model.def_support(f"n{k}", at == foot, kind != "spring", True, at == foot, True, kind == "fixed")
        if kind == "spring":
            model.def_support_spring(f"n{k}", "DY", held[at].stiffness)


@pytest.mark.parametrize("push", [0.0, 400.0])
@pytest.mark.parametrize("body", SPARS)
def test_a_spar_bends_as_the_library_says(body: Body, push: float) -> None:
    length = body.length
    supports = [Support(0.0, "fixed" if push else "pinned"), Support(length * 0.3, "pinned")]
    if not push:
        supports.append(Support(length * 0.8, "spring", 4.0))
    loads = [
        Load("spread", length * 0.2, length * 0.9, 0.05, 0.02),
        Load("force", length, length, 40.0, 40.0),
    ]
    pushes = (Push(length, push),) if push else ()
    for plane in PLANES:
        case = Case(body, MODULUS, tuple(supports), tuple(loads), pushes, plane=plane)
        agrees(prove(case), *frame(case, plane))


def agrees(ours: Proof, model: Any, nodes: list[float]) -> None:
    """Deflections and moments, each within a thousandth of the largest."""
    theirs = np.array([model.nodes[f"n{k}"].DY["Combo 1"] for k in range(len(nodes))])
    mine = np.array([ours.deflection_at(at) for at in nodes])
    assert np.max(np.abs(mine - theirs)) <= 1e-3 * float(np.max(np.abs(theirs)))
    moments = np.array([model.members[f"m{k}"].moment("Mz", 0, "Combo 1") for k in range(len(nodes) - 1)])
    mine = np.array([ours.moment_at(at) for at in nodes[:-1]])
    assert np.max(np.abs(np.abs(mine) - np.abs(moments))) <= 1e-3 * float(np.max(np.abs(moments)))


@pytest.mark.parametrize(("boat", "spar"), [(boat, spar) for boat in BOATS for spar in boat.spars],
                         ids=lambda case: case.name)  # fmt: skip
def test_a_spar_under_its_own_load_bends_as_the_library_says(boat: Boat, spar: Spar) -> None:
    """As `strength` has it with nothing typed but its weight: held, loaded and pressed by its kind and fittings."""
    inputs = form.fill(load("strength"), {"own_weight": "no"}, follow(boat, spar, None), boat.rule).inputs(
        load("strength")
    )
    asked, ours, _ = solved(inputs)
    agrees(ours, *frame(asked.case, ours.plane))
