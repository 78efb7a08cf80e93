"""Sound questions for strength, and its answers by other means: statics from the free end, double integration (scipy),
and a column shot from its foot."""

from collections.abc import Callable
from itertools import pairwise
from random import Random
from typing import Any

import pytest
from hypothesis import strategies as st
from scipy.integrate import quad, solve_ivp

from shopcompanion.beam.model import Load, Push, Support
from shopcompanion.beam.proof import GRAVITY
from shopcompanion.calculator import Result
from shopcompanion.calculators.strength import solved
from shopcompanion.spar.along import Region
from shopcompanion.spar.body import Body
from shopcompanion.spar.fitting import Fitting
from shopcompanion.spar.outline import Outline
from shopcompanion.timber.moisture import density
from shopcompanion.timber.species import find, published

GIVEN = ("--length", "14 ft", "--butt", "3", "--head", "2-1/4", "--species", "sitka",
         "--supports", "0 = fixed", "--loads", "14 ft = 20 lbf")  # fmt: skip
NAMES = [timber.name for timber in published() if timber.rupture]
KEEPS = 0.999  # of what is asked, as a sample of places may miss the very worst


def cantilevers(rng: Random) -> dict[str, Any]:
    """Fixed at its heel: a force, a spread load, a moment, its own weight, and a push that is far from buckling it."""
    length, butt = rng.uniform(1000, 8000), rng.uniform(40, 200)
    head = butt * rng.uniform(0.4, 1.2)
    asked: dict[str, Any] = {
        "outline": ((0.0, butt), (length, head)), "species": rng.choice(NAMES),
        "section": rng.choice(["round", "square", "eight"]),
        "supports": (Support(0.0, "fixed"),), "own_weight": rng.choice(["yes", "no"]),
    }  # fmt: skip
    size = rng.uniform(10, 500)
    loads = [Load("force", length, length, size, size)]
    if rng.random() < 0.5:
        loads.append(Load("spread", length * 0.2, length * 0.7, size / 1000, size / 1000 * rng.choice([0.0, 0.4, 1.0])))
    if rng.random() < 0.5:
        loads.append(Load("moment", length * 0.5, length * 0.5, size * 100, size * 100))
    asked["loads"] = tuple(loads)
    if rng.random() < 0.5:
        asked["push"] = (Push(length, min(butt, head) ** 4 / length**2 * rng.uniform(10, 400)),)
    return asked


def masts(rng: Random) -> dict[str, Any]:
    """A boat's unstayed mast with a sail, a crew, and what is let in."""
    length = rng.uniform(3000, 8000)
    partners, widest = length * 0.12, rng.uniform(60, 160)
    outline = Outline(((0.0, widest * 0.9), (partners, widest), (length, widest * 0.6)))
    fittings = [Fitting(at=0.0, kind="step"), Fitting(at=partners, kind="partners")]
    if rng.random() < 0.5:
        fittings.append(Fitting(at=length * 0.3, kind="cleat", length=150.0, flat=4.0, face=rng.choice("AB")))
    body = Body(
        outline, regions=(Region(from_=0.0, to=partners / 2, section="square", run_out=30.0),), fittings=tuple(fittings)
    )
    asked: dict[str, Any] = {
        "whole": body, "outline": outline.stations, "species": rng.choice(NAMES), "kind": "mast",
        "supports": (Support(0.0, "pinned"), Support(partners, "pinned")), "own_weight": "no",
        # A part of what its halyard would buckle it with.
        "sail_area": rng.uniform(0.05, 0.3) * (widest * 0.7) ** 4 * 15 / length**2,
        "sail_from": length * 0.2, "sail_to": length * 0.95, "halyard_share": rng.choice([0.0, 1.0]),
    }  # fmt: skip
    if rng.random() < 0.5:
        asked |= {"crew": rng.uniform(60, 250), "sits_out": 700.0, "effort_height": length * 0.4}
        asked |= {"all_sails": asked["sail_area"] * 1.5} if rng.random() < 0.5 else {}
    return asked


# A handful, so that each is solved and checked but once.
_RNG = Random(3)
QUESTION = st.sampled_from([make(_RNG) for _ in range(9) for make in (cantilevers, masts)])


def moment(result: Result, at: float, *, bare: bool = False) -> float:
    """By statics from the head; between a mast's step and partners it falls evenly to nothing, but for its pushes."""
    asked, proof, whole = solved(result.inputs)
    case, proof = asked.case, whole if bare and whole else proof
    partners = max(support.at for support in case.supports)
    if at < partners:
        pressed = sum(push.force for push in case.pushes)
        return moment(result, partners, bare=bare) * at / partners - pressed * proof.deflection_at(at)
    bent = 0.0
    for load in case.loads:
        if load.kind == "spread":
            if load.end <= at:
                continue
            start, grows = max(load.start, at), (load.last - load.size) / (load.end - load.start)
            size = load.size + grows * (start - load.start)
            even, rest = size * (load.end - start), grows * (load.end - start) ** 2 / 2  # an oblong and a wedge
            bent += even * ((start + load.end) / 2 - at) + rest * (start + (load.end - start) * 2 / 3 - at)
        elif load.start >= at:
            bent += load.size if load.kind == "moment" else load.size * (load.start - at)
    if case.weighs == "across":
        heavy = case.density * 1e-9 * GRAVITY
        bent += quad(lambda x: heavy * case.body.left_at(x).area * (x - at), at, case.body.length, epsrel=1e-7)[0]
    pushes = [push for push in case.pushes if push.at > at]
    return bent + sum(push.force * (proof.deflection_at(push.at) - proof.deflection_at(at)) for push in pushes)


def _second(result: Result, at: float) -> float:
    asked, proof, _ = solved(result.inputs)
    left = asked.case.body.left_at(at)
    return left.second_depth if proof.plane == "depth" else left.second_width


def _stress(result: Result, at: float) -> float:
    asked, proof, _ = solved(result.inputs)
    left = asked.case.body.left_at(at)
    modulus = left.modulus_depth if proof.plane == "depth" else left.modulus_width
    pressed = sum(push.force for push in asked.case.pushes if push.at > at)
    return abs(moment(result, at)) / modulus + pressed / left.area


def worst_stress(result: Result) -> None:
    """It is that at its place, and nowhere more."""
    asked, _, _ = solved(result.inputs)
    length, at = asked.case.body.length, result.answers.worst_at
    beside = [_stress(result, min(max(at + off, 0.0), length)) for off in (-0.1, 0.0, 0.1)]
    assert any(result.answers.worst_stress == pytest.approx(stress, rel=1e-3) for stress in beside)
    assert all(_stress(result, length * k / 40) * KEEPS <= result.answers.worst_stress for k in range(1, 40))


def worst_at(result: Result) -> None:
    assert _stress(result, result.answers.worst_at) >= 0.5 * result.answers.worst_stress


def worst_moment(result: Result) -> None:
    known = abs(moment(result, result.answers.worst_at))
    assert result.answers.worst_moment == pytest.approx(known, rel=1e-3, abs=1)


def tip_deflection(result: Result) -> None:
    """The curvature summed twice over, from where it is held."""
    asked, _, _ = solved(result.inputs)
    case = asked.case
    length, partners = case.body.length, max(support.at for support in case.supports)

    def summed(of: Callable[[float], float], start: float, end: float) -> float:
        marks = {at for load in case.loads for at in (load.start, load.end)}
        cuts = sorted({start, end, *(at for at in (*case.body.breaks, *marks) if start < at < end)})
        return sum(quad(of, a, b, epsrel=1e-5, epsabs=0, limit=60)[0] for a, b in pairwise(cuts))

    def curve(x: float) -> float:
        return moment(result, x) / (case.modulus * _second(result, x))

    turn = summed(lambda x: x * curve(x), 0.0, partners) / partners if partners else 0.0
    known = turn * (length - partners) + summed(lambda x: (length - x) * curve(x), partners, length)
    assert result.answers.tip_deflection == pytest.approx(abs(known), rel=2e-3)


def most_deflection(result: Result) -> None:
    _, proof, _ = solved(result.inputs)
    length = float(proof.bent.nodes[-1])
    assert max(abs(proof.deflection_at(length * k / 50)) for k in range(51)) * KEEPS <= result.answers.most_deflection
    if result.answers.most_deflection_at == length:
        assert result.answers.most_deflection == result.answers.tip_deflection


def most_deflection_at(result: Result) -> None:
    _, proof, _ = solved(result.inputs)
    there = abs(proof.deflection_at(result.answers.most_deflection_at))
    assert there == pytest.approx(result.answers.most_deflection, rel=1e-9)


def load(result: Result) -> None:
    inputs, answers = result.inputs, result.answers
    if inputs.loads is None:
        known = min(force for force in (answers.by_wind, answers.upright) if force is not None)
    else:
        known = 0.0
        for load in inputs.loads:
            spread = (load.size + load.last) / 2 * (load.end - load.start)
            known += {"force": load.size, "moment": 0.0}.get(load.kind, spread)
    assert answers.load == pytest.approx(known, rel=1e-9)


def load_from(result: Result) -> None:
    answers = result.answers
    known = {"the breeze": answers.by_wind, "stability": answers.upright, "as typed": answers.load}
    assert answers.load == pytest.approx(known[answers.load_from])


def share_used(result: Result) -> None:
    assert result.answers.share_used == 1.0  # of a mast


def pressed(result: Result) -> None:
    known = result.answers.halyard_push or sum(push.force for push in result.inputs.push)
    assert result.answers.pressed == pytest.approx(known)


def critical_load(result: Result) -> None:
    """Shot from where it is pushed down to what holds it, a column that just gives way meets that, and not before.

    EI·u'' + P·u = 0, u being how far the pushed place stands beyond: u = 0 there, and u' = 0 at a foot that is fixed.
    Below a mast's partners P·u(partners)·x/partners − P·w bends it, and its heel stays where it is.
    """
    asked, _, _ = solved(result.inputs)
    case, force = asked.case, result.answers.critical_load
    top, foot = max(push.at for push in case.pushes), max(push.at for push in case.supports)

    def stiff(x: float) -> float:
        left = case.body.left_at(x)
        return float(case.modulus * min(left.second_depth, left.second_width))

    def shot(bends: Callable[[float, float], float], start: float, end: float, first: list[float]) -> Any:
        shape = solve_ivp(lambda x, z: [z[1], bends(x, z[0]) / stiff(x)], (start, end), first, rtol=1e-8, atol=1e-12,
                          max_step=abs(end - start) / 20)  # fmt: skip
        return shape.y

    u, slope = shot(lambda x, z: -force * z, top, foot, [0.0, -1.0])
    assert all(u[1:] > 0)
    if not foot:
        assert slope[-1] == pytest.approx(0, abs=1e-4)
        return
    below, _ = shot(lambda x, z: force * u[-1] * x / foot - force * z, foot, 0.0, [0.0, -slope[-1]])
    assert below[-1] == pytest.approx(0, abs=1e-4 * foot)


def mode(result: Result) -> None:
    assert result.answers.mode.endswith("most at the head")


def mode_at(result: Result) -> None:
    assert result.answers.mode_at == solved(result.inputs)[0].case.body.length


def bent_plane(result: Result) -> None:
    """The plane that has the less modulus where it is worked hardest."""
    asked, _, _ = solved(result.inputs)
    left = asked.case.body.left_at(result.answers.worst_at)
    moduli = {"depth": left.modulus_depth, "width": left.modulus_width}
    assert moduli[result.answers.bent_plane] <= min(moduli.values()) * 1.1


def governs(result: Result) -> None:
    answers = result.answers
    buckling = answers.load_factor is not None and answers.load_factor < answers.factor
    assert answers.governs.startswith("buckling" if buckling else "bending")


def worst_stress_whole(result: Result) -> None:
    """Of the whole spar it is the moment at the partners over the modulus of the whole round, with the push over its
    area, or somewhere more."""
    asked, _, _ = solved(result.inputs)
    body = asked.case.body
    ats = [body.length * k / 200 for k in range(1, 200)] + [max(support.at for support in asked.case.supports)]

    def stress(at: float) -> float:
        across = body.section_at(at)
        bent = abs(moment(result, at, bare=True)) / (across.each(lambda section: section.second_moments[0]) * 2)
        pressed = sum(support.force for support in asked.case.pushes if support.at > at)
        return float(bent * body.depth_at(at) + pressed / across.each(lambda section: section.area))

    assert result.answers.worst_stress_whole == pytest.approx(max(map(stress, ats)), rel=1e-3)


def assumes(result: Result) -> None:
    """A beam that is typed is as typed; a mast's sail is spread evenly, and its halyard is told of where it presses."""
    said = result.answers.assumes
    assert ("typed" in said) == (result.inputs.loads is not None)
    assert ("evenly" in said) == (result.inputs.kind == "mast")
    assert ("halyard" in said) == (result.answers.halyard_push is not None)


def tip_deflection_whole(result: Result) -> None:
    assert 0.8 * result.answers.tip_deflection < result.answers.tip_deflection_whole
    assert result.answers.tip_deflection_whole <= result.answers.tip_deflection * (1 + 1e-6)


def mass(result: Result) -> None:
    asked, _, _ = solved(result.inputs)
    species = find(result.inputs.species)
    body = asked.case.body
    wood = sum(
        quad(lambda at: body.left_at(at).area, a, b, epsrel=1e-6, limit=100)[0] for a, b in pairwise(body.breaks)
    )
    assert result.answers.mass == pytest.approx(wood * density(species.sg12, 12) * 1e-9, rel=1e-4)


def _figure(name: str, key: str) -> Callable[[Result], None]:
    def check(result: Result) -> None:
        assert getattr(result.answers, name) == getattr(find(result.inputs.species), key)

    return check


IN_WORDS = {
    caution.__name__: caution
    for caution in (
        worst_stress, worst_at, worst_moment, tip_deflection, most_deflection, most_deflection_at, load, load_from,
        share_used, assumes, pressed, critical_load, mode, mode_at, bent_plane, governs,
        worst_stress_whole, tip_deflection_whole, mass,
    )
}  # fmt: skip
IN_WORDS |= {
    "modulus_used": _figure("modulus_used", "modulus"),
    "rupture_used": _figure("rupture_used", "rupture"),
    "timber": _figure("timber", "name"),
    "species_source": _figure("species_source", "source"),
    "species_mark": _figure("species_mark", "mark"),
}
