"""The beam in pieces: it balances, answers both ways alike, and comes to the truth from the stiff side as it should."""

from itertools import pairwise
from math import log2, pi, sin

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from shopcompanion.beam.model import Load, Push, Support
from shopcompanion.beam.solve import Beam, mesh
from shopcompanion.errors import InputFault

from ..beams import MODULUS, force, round_beam, spread
from ..examples import share

SHARES = st.floats(0.02, 0.98)


@st.composite
def held(draw: st.DrawFn, length: float) -> tuple[Support, ...]:
    """Enough supports, of every kind, at places of their own."""
    ats = [length * k / 20 for k in sorted({0, *draw(st.lists(st.integers(1, 20), min_size=1, max_size=3))})]
    kinds = [draw(st.sampled_from(["pinned", "fixed", "spring"])) for _ in ats]
    kinds[0] = draw(st.sampled_from(["pinned", "fixed"]))
    return tuple(
        Support(at, kind, draw(st.floats(5, 5000)) if kind == "spring" else 0.0)
        for at, kind in zip(ats, kinds, strict=True)
    )


@st.composite
def loads(draw: st.DrawFn, length: float) -> tuple[Load, ...]:
    rows = []
    for _ in range(draw(st.integers(1, 4))):
        kind, size = draw(st.sampled_from(["force", "moment", "spread"])), draw(st.floats(-500, 500))
        low, high = sorted((length * draw(SHARES), length * draw(SHARES)))
        if kind == "spread":
            high = max(high, low + 1.0)
            rows.append(Load(kind, low, min(high, length), size / 1000, draw(st.floats(-0.5, 0.5))))
        else:
            scale = 1000.0 if kind == "moment" else 1.0
            rows.append(Load(kind, low, low, size * scale, size * scale))
    return tuple(rows)


@given(st.data())
@settings(max_examples=share(60))
def test_it_balances(data: st.DataObject) -> None:
    length = data.draw(st.floats(500, 9000))
    supports, bearing = data.draw(held(length)), data.draw(loads(length))
    bent = round_beam(length, 120, data.draw(st.floats(40, 150)), supports, bearing).bent(bearing)
    up = sum(bent.reactions) + sum(load.total for load in bearing)
    around = sum(support.at * force for support, force in zip(supports, bent.reactions, strict=True)) + sum(bent.fixing)
    for load in bearing:
        if load.kind == "moment":
            around += load.size
        elif load.kind == "force":
            around += load.size * load.start
        else:
            around += quad(
                lambda x, of=load: x * (of.size + (of.last - of.size) * (x - of.start) / (of.end - of.start)),
                load.start, load.end,
            )[0]  # fmt: skip
    scale = max(map(abs, (*bent.reactions, *(load.total for load in bearing)))) + 1
    assert up == pytest.approx(0, abs=1e-5 * scale)
    assert around == pytest.approx(0, abs=1e-5 * (scale * length + max(map(abs, bent.fixing))))


@given(SHARES, SHARES, st.data())
@settings(max_examples=share(40))
def test_a_load_here_moves_there_what_a_load_there_moves_here(a: float, b: float, data: st.DataObject) -> None:
    """Maxwell's reciprocity, of a taper and any supports, pressed along it or not."""
    length = 4000.0
    supports = data.draw(held(length))
    pushes = (Push(length, 2000.0),) if data.draw(st.booleans()) else ()
    here, there = force(length * a, 100.0), force(length * b, 100.0)
    beam = round_beam(length, 110, 60, supports, (here, there), pushes=pushes)
    buckling = beam.buckling()
    assume(buckling is None or buckling.times > 1.05)  # a soft spring near the heel holds no head
    node_a, node_b = (int(np.argmin(np.abs(np.subtract(beam.nodes, load.start)))) for load in (here, there))
    at_b = beam.bent([here]).deflection[node_b]
    at_a = beam.bent([there]).deflection[node_a]
    assert at_a == pytest.approx(at_b, rel=1e-6, abs=1e-9)


def test_finer_pieces_come_to_the_truth_from_the_stiff_side_by_the_fourth_power() -> None:
    """The cone cantilever: 64PL³/(3πE·d₀³·d₁), and pieces half as long leave a sixteenth of the error."""
    exact = 64 * 500 * 6000**3 / (3 * pi * MODULUS * 140**3 * 80)
    tip = [force(6000, 500)]
    errors = []
    for pieces in (2, 4, 8, 16, 32):
        bent = round_beam(6000, 140, 80, [Support(0, "fixed")], tip, pieces=pieces).bent(tip)
        errors.append(exact - bent.deflection[-1])
    assert all(error > 0 for error in errors)
    assert [log2(a / b) for a, b in pairwise(errors)] == pytest.approx([4] * 4, abs=0.55)
    assert log2(errors[-2] / errors[-1]) == pytest.approx(4, abs=0.05)


def test_finer_pieces_buckle_from_above_by_the_fourth_power() -> None:
    """Euler's π²EI/L² of a pinned column."""
    supports, push = [Support(0, "pinned"), Support(3000, "pinned")], [Push(3000, 1000.0)]
    exact = pi**2 * MODULUS * pi / 64 * 80**4 / 3000**2 / 1000
    errors = []
    for pieces in (2, 4, 8, 16):
        gives = round_beam(3000, 80, 80, supports, pushes=push, pieces=pieces).buckling()
        assert gives is not None
        errors.append(gives.times - exact)
    assert all(error > 0 for error in errors)
    assert [log2(a / b) for a, b in pairwise(errors)] == pytest.approx([4] * 3, abs=0.2)


@given(st.lists(st.floats(-1, 1), min_size=3, max_size=3).filter(lambda c: max(map(abs, c)) > 0.1), st.floats(0.3, 1.5))
@settings(max_examples=share(30))
def test_no_shape_buckles_it_sooner(parts: list[float], ratio: float) -> None:
    """Rayleigh: bending over shortening, of any shape that the supports allow, is never less than the answer."""
    length, butt, head = 4000.0, 90.0, 90.0 * ratio
    supports, push = [Support(0, "pinned"), Support(length, "pinned")], [Push(length, 1.0)]
    gives = round_beam(length, butt, head, supports, pushes=push).buckling()
    assert gives is not None

    def bending(x: float) -> float:
        curve = sum(c * (n * pi / length) ** 2 * -sin(n * pi * x / length) for n, c in enumerate(parts, 1))
        return float(MODULUS * pi / 64 * (butt + (head - butt) * x / length) ** 4 * curve**2)

    shortening = sum(c * c * (n * pi / length) ** 2 * length / 2 for n, c in enumerate(parts, 1))
    quotient = quad(bending, 0, length, limit=200)[0] / shortening
    assert gives.times <= quotient * (1 + 1e-6)


def test_a_push_makes_it_bend_further_by_the_secant() -> None:
    """A pinned column with end moments, Timoshenko & Gere: the middle goes ML²/(8EI) · 2(sec u − 1)/u²."""
    length, width, moment, press = 3000.0, 80.0, 200_000.0, 20_000.0
    bearing = [Load("moment", 0, 0, moment, moment), Load("moment", length, length, -moment, -moment)]
    supports = [Support(0, "pinned"), Support(length, "pinned")]
    beam = round_beam(length, width, width, supports, bearing, pushes=[Push(length, press)])
    stiff = MODULUS * pi / 64 * width**4
    u = (press * length**2 / stiff) ** 0.5 / 2
    known = moment * length**2 / (8 * stiff) * 2 * (1 / np.cos(u) - 1) / u**2
    bent = beam.bent(bearing)
    assert bent.deflection[len(bent.nodes) // 2] == pytest.approx(known, rel=1e-6)
    assert np.max(np.abs(bent.moment)) == pytest.approx(moment / np.cos(u), rel=1e-6)


def test_what_hangs_from_its_support_does_not_buckle() -> None:
    beam = round_beam(3000, 80, 80, [Support(3000, "fixed")], pushes=[Push(0, 1000.0)])
    assert beam.buckling() is None


def test_the_first_support_carries_the_push() -> None:
    supports = [Support(500, "pinned"), Support(3000, "pinned")]
    beam = round_beam(3000, 80, 60, supports, pushes=[Push(2000, 300.0)], weight=0.01)
    pressed = beam.bent().compression
    at = {node: heelward for node, (heelward, _) in zip(beam.nodes[:-1], pressed, strict=True)}
    assert pressed[0][0] == pytest.approx(0)  # the heel hangs
    assert pressed[beam.nodes.index(500.0) - 1][1] == pytest.approx(-0.01 * 500)
    assert at[500.0] == pytest.approx(300 + 0.01 * 2500)
    assert at[2000.0] == pytest.approx(0.01 * 1000)


@pytest.mark.parametrize(
    ("supports", "bearing", "pushes", "field", "words"),
    [
        ([], [], [], "supports", "nothing holds it"),
        ([Support(100, "pinned")], [], [], "supports", "turns about that place"),
        ([Support(100, "spring", 50)], [], [], "supports", "turns about that place"),
        ([Support(0, "spring", 50), Support(900, "spring", 50)], [], [Push(500, 9)], "supports", "lengthwise"),
        ([Support(0, "fixed"), Support(4001, "pinned")], [], [], "supports", "lies off the spar"),
        ([Support(0, "fixed"), Support(0, "pinned")], [], [], "supports", "two supports"),
        ([Support(0, "fixed")], [force(4200, 5)], [], "loads", "lies off the spar"),
        ([Support(0, "fixed")], [spread(900, 900, 5)], [], "loads", "must end nearer the head"),
        ([Support(0, "fixed")], [], [Push(4001, 9)], "push", "lies off the spar"),
        ([Support(0, "fixed")], [], [Push(4000, 1e9)], "push", "buckles"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_told(
    supports: list[Support], bearing: list[Load], pushes: list[Push], field: str, words: str
) -> None:
    with pytest.raises(InputFault, match=words) as caught:
        round_beam(4000, 80, 60, supports, bearing, pushes=pushes).bent(bearing)
    assert caught.value.field == field


def test_a_mesh_has_a_node_wherever_something_happens() -> None:
    marks = [123.4, 800.0]
    nodes = mesh(
        3000, marks, [Support(50, "pinned"), Support(2950, "pinned")], [spread(10, 20.5, 1)], [Push(7, 1)], pieces=10
    )
    assert {0.0, 7.0, 10.0, 20.5, 50.0, 123.4, 800.0, 2950.0, 3000.0} <= set(nodes)
    assert np.max(np.diff(nodes)) <= 300
    assert isinstance(Beam(nodes, [(1e9,) * 4] * (len(nodes) - 1), [Support(50, "fixed")]), Beam)
