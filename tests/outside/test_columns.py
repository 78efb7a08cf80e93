"""Columns and beams with closed forms: Euler's four, tapered columns of Timoshenko & Gere, a cone, its own weight."""

from math import pi

import numpy as np
import pytest

from shopcompanion.beam.model import Load, Push, Support
from shopcompanion.beam.proof import Case, prove
from shopcompanion.spar.body import Body
from shopcompanion.spar.outline import Outline

from ..beams import MODULUS, force, round_beam, second, spread

FIXED, PINNED = "fixed", "pinned"
LENGTH = 6000.0


def buckles(supports: list[Support], butt: float, head: float, push: float = 0.0, weight: float = 0.0) -> float:
    """How many times what presses it, a push at the head or its own weight, it stands."""
    pushes = [Push(LENGTH, push)] if push else []
    gives = round_beam(LENGTH, butt, head, supports, pushes=pushes, weight=weight).buckling()
    assert gives is not None
    return gives.times


@pytest.mark.parametrize(
    ("supports", "k"),
    [
        ([Support(0, FIXED)], 2.4674),
        ([Support(0, PINNED), Support(LENGTH, PINNED)], 9.8696),
        ([Support(0, FIXED), Support(LENGTH, PINNED)], 20.1907),
        ([Support(0, FIXED), Support(LENGTH, FIXED)], 39.4784),
    ],
)
def test_eulers_four_columns(supports: list[Support], k: float) -> None:
    """P = k·E·I/L²; computed, exact to the digits shown."""
    push = 1000.0
    known = k * MODULUS * second(100) / LENGTH**2
    assert buckles(supports, 100, 100, push) * push == pytest.approx(known, rel=3e-5)


def test_a_column_under_its_own_weight() -> None:
    """A cantilever stands up to q·L = 7.837347·E·I/L²; computed (first zero of a Bessel function of order −1/3)."""
    known = 7.837347 * MODULUS * second(100) / LENGTH**2
    assert buckles([Support(0, FIXED)], 100, 100, weight=0.1) * 0.1 * LENGTH == pytest.approx(known, rel=1e-6)


@pytest.mark.parametrize(("ratio", "m"), [(0.1, 1.202), (0.3, 1.710), (0.5, 2.002), (0.8, 2.308)])
def test_tapered_columns(ratio: float, m: float) -> None:
    """Timoshenko & Gere, Theory of Elastic Stability: a solid cone fixed at its butt, P = m·E·I₂/L², seen.

    The printed values are within 0.002 of exact.
    """
    head = 120 * ratio**0.25
    factor = buckles([Support(0, FIXED)], 120, head, 1000.0) * 1000 * LENGTH**2 / (MODULUS * second(120))
    assert factor == pytest.approx(m, abs=0.002)


def cone(loads: tuple[object, ...]) -> Case:
    body = Body(Outline(((0.0, 140.0), (LENGTH, 80.0))))
    return Case(body, MODULUS, (Support(0.0, FIXED),), loads)  # type: ignore[arg-type]


def test_a_cone_with_a_load_at_its_tip() -> None:
    """64PL³/(3πE·d₀³·d₁), the tip's slope 32PL²(d₀ + 2d₁)/(3πE·d₀³·d₁²), and the hardest worked place where the width
    is one and a half times the tip's; proved, numbers computed."""
    proof = prove(cone((force(LENGTH, 500.0),)))
    assert proof.tip == pytest.approx(309.339, abs=5e-4)
    slope = 32 * 500 * LENGTH**2 * (140 + 160) / (3 * pi * MODULUS * 140**3 * 80**2)
    assert proof.bent.turn[-1] == pytest.approx(slope, rel=1e-6)
    assert proof.worst_stress == pytest.approx(11.789255, abs=5e-7)
    assert LENGTH - proof.worst_at == pytest.approx(4000, abs=1)
    assert proof.stress_at(0.0) == pytest.approx(11.136206, rel=1e-6)


def test_a_cone_with_a_load_all_along_it() -> None:
    """Uniform 100 N/m: 122.3117 mm; computed."""
    assert prove(cone((spread(0.0, LENGTH, 0.1),))).tip == pytest.approx(122.3117, abs=5e-5)


def test_a_propped_cantilever() -> None:
    """Uniform load q, fixed and pinned: reactions 5qL/8 and 3qL/8, qL²/8 at the wall, most 0.0054161·qL⁴/EI.

    Any handbook of beams; from memory, and each follows from two integrations.
    """
    load = [spread(0, LENGTH, 0.2)]
    beam = round_beam(LENGTH, 100, 100, [Support(0, FIXED), Support(LENGTH, PINNED)], load)
    bent = beam.bent(load)
    whole = 0.2 * LENGTH
    assert bent.reactions == pytest.approx((-5 / 8 * whole, -3 / 8 * whole), rel=1e-6)
    assert abs(bent.fixing[0]) == pytest.approx(whole * LENGTH / 8, rel=1e-6)
    most = 0.0054161 * whole * LENGTH**3 / (MODULUS * second(100))
    assert np.max(bent.deflection) == pytest.approx(most, rel=2e-4)


@pytest.mark.parametrize(("first", "last", "part"), [(0.3, 0.0, 1 / 30), (0.0, 0.3, 11 / 120), (0.3, 0.3, 1 / 8)])
def test_a_load_that_changes_evenly_along_a_cantilever(first: float, last: float, part: float) -> None:
    """A wedge of load, w at its thick end: tip w·L⁴/30EI with that at the wall, 11·w·L⁴/120EI with it at the tip;
    w·L²/6 and w·L²/3 at the wall. Any handbook of beams; from memory, and each follows from integrations."""
    load = [Load("spread", 0.0, LENGTH, first, last)]
    bent = round_beam(LENGTH, 100, 100, [Support(0, FIXED)], load).bent(load)
    assert bent.deflection[-1] == pytest.approx(part * 0.3 * LENGTH**4 / (MODULUS * second(100)), rel=1e-6)
    assert abs(bent.fixing[0]) == pytest.approx((first / 6 + last / 3) * LENGTH**2, rel=1e-8)
    assert abs(bent.reactions[0]) == pytest.approx((first + last) / 2 * LENGTH, rel=1e-8)


def test_a_load_that_changes_evenly_between_pins() -> None:
    """Most moment w·L²/(9·√3), at L/√3 from the thin end; from memory, and by differentiation."""
    load = [Load("spread", 0.0, LENGTH, 0.0, 0.3)]
    beam = round_beam(LENGTH, 100, 100, [Support(0, PINNED), Support(LENGTH, PINNED)], load)
    bent = beam.bent(load)
    most = np.max(np.abs(bent.moment))
    assert most == pytest.approx(0.3 * LENGTH**2 / (9 * 3**0.5), rel=2e-4)
    where = bent.nodes[int(np.argmax(np.abs(np.array(bent.moment)[:, 0])))]
    assert where == pytest.approx(LENGTH / 3**0.5, abs=LENGTH / 100)


def test_an_overhanging_beam() -> None:
    """Pinned at a and b, a load P at the overhang c: reaction P(l + c)/l at b, tip P·c²(l + c)/(3EI); from memory."""
    span, over = 4000.0, 2000.0
    load = [force(LENGTH, 300.0)]
    bent = round_beam(LENGTH, 90, 90, [Support(0, PINNED), Support(span, PINNED)], load).bent(load)
    assert bent.reactions == pytest.approx((300 * over / span, -300 * (span + over) / span), rel=1e-6)
    tip = 300 * over**2 * (span + over) / (3 * MODULUS * second(90))
    assert bent.deflection[-1] == pytest.approx(tip, rel=1e-6)


def test_a_beam_on_springs() -> None:
    """A stiff bar on two springs, a load between them: each takes its lever's share and gives by that over its own."""
    load = [force(2000.0, 400.0)]
    supports = [Support(0, "spring", 20.0), Support(LENGTH, "spring", 50.0)]
    bent = round_beam(LENGTH, 900, 900, supports, load).bent(load)
    assert bent.reactions == pytest.approx((-400 * 2 / 3, -400 / 3), rel=1e-6)
    assert bent.deflection[0] == pytest.approx(400 * 2 / 3 / 20, rel=1e-5)
    assert bent.deflection[-1] == pytest.approx(400 / 3 / 50, rel=1e-5)


@pytest.mark.parametrize("pieces", [4, 48])
def test_between_its_nodes_too_a_beam_has_the_moment_of_the_load_all_along_it(pieces: int) -> None:
    """Pinned at its ends, q·x·(L − x)/2, with P·b·x/L on this side of a force and P·a·(L − x)/L beyond it. Any handbook
    of beams; from memory, and each follows from the balance of a part."""
    body = Body(Outline(((0.0, 90.0), (LENGTH, 90.0))))
    held = (Support(0.0, PINNED), Support(LENGTH, PINNED))
    loads = (spread(0.0, LENGTH, 0.2), force(4000.0, 300.0))
    proof = prove(Case(body, MODULUS, held, loads, pieces=pieces))
    for at in (17.0, 333.3, 1500.0, 2999.0, 3999.0, 4001.0, 5555.5):
        known = 0.2 * at * (LENGTH - at) / 2 + 300.0 * (at * 2000 / LENGTH if at < 4000 else 4000 * (1 - at / LENGTH))
        assert abs(proof.moment_at(at)) == pytest.approx(known, rel=1e-9)


def test_it_goes_farthest_between_its_nodes() -> None:
    """Fixed and pinned under a load all along it: at 0.57846·L from the fixed end, 0.0054161·q·L⁴/EI. From memory, and
    where the slope x·(8x² − 15Lx + 6L²) is nothing."""
    body = Body(Outline(((0.0, 90.0), (LENGTH, 90.0))))
    held = (Support(0.0, FIXED), Support(LENGTH, PINNED))
    for load in (0.2, -0.2):
        at, moved = prove(Case(body, MODULUS, held, (spread(0.0, LENGTH, load),))).farthest
        assert at == pytest.approx(LENGTH * (15 - 33**0.5) / 16, abs=0.1)
        assert moved == pytest.approx(0.0054161 * load * LENGTH**4 / (MODULUS * second(90)), rel=1e-5)


def test_what_is_worked_hardest_lies_between_its_nodes() -> None:
    """Between pins a load all along it works a round hardest in its middle, 4·q·L²/(π·d³). In an odd number of pieces
    that is no node, and there two nodes are worked alike."""
    body = Body(Outline(((0.0, 90.0), (LENGTH, 90.0))))
    held = (Support(0.0, PINNED), Support(LENGTH, PINNED))
    proof = prove(Case(body, MODULUS, held, (spread(0.0, LENGTH, 0.2),), pieces=7))
    assert proof.worst_at == pytest.approx(LENGTH / 2, abs=0.1)
    assert proof.worst_stress == pytest.approx(4 * 0.2 * LENGTH**2 / (pi * 90**3), rel=1e-6)
