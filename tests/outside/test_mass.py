"""The mass of a spar against frusta by hand, lofted bodies of trimesh (trimesh.org, 4.5 up), and known solids."""

from itertools import pairwise
from math import cos, pi, sin, sqrt, tan

import numpy as np
import pytest
import trimesh
from scipy.integrate import quad

from shopcompanion.spar.along import Region
from shopcompanion.spar.body import Body
from shopcompanion.spar.fitting import Fitting
from shopcompanion.spar.outline import Outline
from shopcompanion.spar.section import Section

from ..asking import ask

INCH = 25.4
AROUND = 1440
STRAIGHT = Outline(((0.0, 90.0), (4000.0, 50.0)))


def test_a_boom_of_two_frusta_by_hand() -> None:
    """Round, 2-1/2 in at the heel, 3 in 4 ft up, 2 in at 12 ft, of Sitka spruce at 12 %: 448.0 kg/m³ (eq. 4-14, seen).

    h/12·π·(a² + a·b + b²): 285.8849 and 477.5221 in³, 763.407 in³ in all; 5.60448 kg with 16.387064 cm³ to the in³.
    """
    lower = pi * 48 / 12 * (2.5**2 + 2.5 * 3 + 3**2)
    upper = pi * 96 / 12 * (3**2 + 3 * 2 + 2**2)
    assert (lower, upper) == pytest.approx((285.8849, 477.5221), abs=5e-5)
    spar = Body(Outline(((0.0, 2.5 * INCH), (48 * INCH, 3 * INCH), (144 * INCH, 2 * INCH))))
    sizes = {"length": spar.length, "butt": 2.5 * INCH, "head": 2 * INCH, "section": "round"}
    answers = ask("weight", whole=spar, species="Spruce, Sitka", **sizes).answers
    assert answers.volume == pytest.approx(763.407 * INCH**3, rel=1e-6)
    assert answers.density == pytest.approx(448.0, abs=0.05)
    assert answers.mass == pytest.approx(5.60448, abs=1e-4)
    # each frustum balances h/4·(a² + 2ab + 3b²)/(a² + ab + b²) from its end
    low = 48 / 4 * (2.5**2 + 2 * 2.5 * 3 + 3 * 3**2) / (2.5**2 + 2.5 * 3 + 3**2)
    high = 48 + 96 / 4 * (3**2 + 2 * 3 * 2 + 3 * 2**2) / (3**2 + 3 * 2 + 2**2)
    assert answers.balance_at == pytest.approx((lower * low + upper * high) / (lower + upper) * INCH, rel=1e-9)


def ring(section: Section) -> np.ndarray:
    """Corners round the section, the same number of every kind, in the same directions."""
    corners = []
    for k in range(AROUND):
        turn = 2 * pi * (k + 0.5) / AROUND
        x, y = cos(turn), sin(turn)
        far = max(abs(x), abs(y))
        if section.kind == "eight":
            far = max(far, (abs(x) + abs(y)) / sqrt(2))
        out = 1 / far if section.kind in ("square", "eight") else 1.0
        corners.append((x * out * section.width / 2, y * out * section.depth / 2))
    return np.array(corners)


def lofted(rings: list[tuple[float, np.ndarray]]) -> trimesh.Trimesh:
    """The body through rings along a spar, with flat ends."""
    vertices = [(at, *corner) for at, ring in rings for corner in ring]
    faces = []
    for k in range(len(rings) - 1):
        for j in range(AROUND):
            a, b = k * AROUND + j, k * AROUND + (j + 1) % AROUND
            faces += [(a, b, b + AROUND), (a, b + AROUND, a + AROUND)]
    for k, (at, ring) in ((0, rings[0]), (len(rings) - 1, rings[-1])):
        middle = len(vertices)
        vertices.append((at, *ring.mean(axis=0)))
        for j in range(AROUND):
            edge = (k * AROUND + j, k * AROUND + (j + 1) % AROUND)
            faces.append((middle, *(edge[::-1] if k == 0 else edge)))
    mesh = trimesh.Trimesh(vertices, faces, process=False)
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    return mesh


def mesh(spar: Body, cut: dict[tuple[float, float], tuple[float, float, float, float]]) -> tuple[float, float]:
    """Volume and balance of the spar as lofted bodies end to end.

    `cut` has the planes that flat it over a stretch: how far A, B, C and D lie off the centre line.
    """
    ends = sorted({0.0, spar.length, *(at for at, _ in spar.outline.stations), *(at for pair in cut for at in pair),
                   *(at for stretch in spar.stretches for at in (stretch.start, stretch.end))})  # fmt: skip
    volume = moment = 0.0
    for low, high in pairwise(ends):
        a, b, c, d = next((off for (start, end), off in cut.items() if start <= low and high <= end), (1e3,) * 4)
        kind = next(stretch.heelward for stretch in spar.stretches if stretch.start <= low < stretch.end)
        rings = []
        for at in np.linspace(low, high, 3):
            wide, deep = spar.width_at(float(at)) / 2, spar.depth_at(float(at)) / 2
            round_ = ring(Section(kind, 2 * wide, 2 * deep))
            rings.append((at, np.clip(round_, (-d, -c), (b, a))))
        body = lofted(rings)
        volume += body.volume
        moment += body.volume * body.center_mass[0]
    return volume, moment / volume


@pytest.mark.parametrize("section", ["round", "eight", "square"])
def test_a_tapered_spar_as_a_lofted_body(section: str) -> None:
    spar = Body(STRAIGHT, section=section)
    volume, balance = mesh(spar, {})
    assert spar.volume() == pytest.approx(volume, rel=1e-5)
    assert spar.balance_at == pytest.approx(balance, rel=1e-5)


def test_an_oval_and_a_square_heel_as_lofted_bodies() -> None:
    oval = Body(
        STRAIGHT,
        Outline(((0.0, 110.0), (4000.0, 70.0))),
        "oval",
        regions=(Region(from_=0.0, to=600.0, section="square"),),
    )
    volume, balance = mesh(oval, {})
    assert oval.volume() == pytest.approx(volume, rel=1e-5)
    assert oval.balance_at == pytest.approx(balance, rel=1e-5)


@pytest.mark.parametrize("section", ["round", "eight", "square"])
def test_flats_on_either_side_and_a_barrel_as_lofted_bodies(section: str) -> None:
    """A hinge of 300 mm, 5 mm flats in B and D, its barrel 40 mm long and 15 mm deep; a cleat on A, and one in it.

    Each is so deep in its own middle, where the spar is 75, 73 and 72.5 mm thick, and flat from end to end.
    """
    hinge = Fitting(at=1500.0, kind="hinge", length=300.0, flat=5.0, barrel=40.0, barrel_deep=15.0, face="B and D")
    cleat = Fitting(at=1700.0, kind="cleat", length=200.0, flat=4.0)
    again = Fitting(at=1750.0, kind="cleat", length=60.0, flat=3.0)  # where the wood is gone already
    spar = Body(STRAIGHT, section=section, fittings=(hinge, cleat, again))
    cut = {
        (1350.0, 1480.0): (1e3, 32.5, 1e3, 32.5), (1480.0, 1520.0): (1e3, 22.5, 1e3, 22.5),
        (1520.0, 1600.0): (1e3, 32.5, 1e3, 32.5), (1600.0, 1650.0): (32.5, 32.5, 1e3, 32.5),
        (1650.0, 1800.0): (32.5, 1e3, 1e3, 1e3),
    }  # fmt: skip
    volume, balance = mesh(spar, cut)
    assert spar.volume() == pytest.approx(volume, rel=1e-5)
    assert spar.balance_at == pytest.approx(balance, rel=1e-5)
    bare, _ = mesh(Body(STRAIGHT, section=section), {})
    assert spar.taken() == pytest.approx(bare - volume, rel=2e-4)


def test_a_hole_through_a_round_is_one_cylinder_out_of_another() -> None:
    """∫ 2√(R² − x²)·2√(r² − x²) over the hole's own width."""
    spar = Body(Outline(((0.0, 80.0), (1000.0, 80.0))), fittings=(Fitting(at=500.0, kind="pin", hole=24.0),))
    known = quad(lambda x: 4 * sqrt((40**2 - x * x) * (12**2 - x * x)), -12, 12, epsrel=1e-10)[0]
    assert spar.taken() == pytest.approx(known, rel=1e-8)


def test_two_holes_that_cross_take_what_they_share_but_once() -> None:
    """Two equal cylinders that cross at right angles share 16/3·r³ (Archimedes; a standard formula)."""
    pins = (Fitting(at=500.0, kind="pin", hole=20.0), Fitting(at=500.0, kind="pin", hole=20.0, face="B"))
    spar = Body(Outline(((0.0, 80.0), (1000.0, 80.0))), section="square", fittings=pins)
    assert spar.taken() == pytest.approx(2 * pi * 10**2 * 80 - 16 / 3 * 10**3, rel=1e-7)


def test_a_bar_let_in_takes_its_own_box_of_a_square() -> None:
    bars = (Fitting(at=500.0, kind="bar", length=200.0, bar=20.0, bar_deep=6.0, face="A and C"),)
    spar = Body(Outline(((0.0, 80.0), (1000.0, 80.0))), section="square", fittings=bars)
    assert spar.taken() == pytest.approx(2 * 200 * 20 * 6, rel=1e-12)
    crossed = Body(spar.outline, section="square", fittings=(*bars, Fitting(at=500.0, kind="pin", hole=30.0)))
    half = sqrt(15**2 - 10**2)  # the hole is as wide as the bar there
    shared = 2 * 6 * (40 * half + 2 * quad(lambda at: 2 * sqrt(15**2 - at * at), half, 15)[0])
    assert crossed.taken() == pytest.approx(2 * 200 * 20 * 6 + pi * 15**2 * 80 - shared, rel=1e-7)


@pytest.mark.parametrize(("section", "per_square"), [("round", pi / 4), ("square", 1.0), ("eight", 2 * tan(pi / 8))])
def test_the_quick_taper_by_its_frustum(section: str, per_square: float) -> None:
    """Douglas-fir of the coast, G 0.48 at 12 %, 537.6 kg/m³ (eq. 4-14, seen)."""
    a, b, length = 100.0, 60.0, 5000.0
    asked = {"species": "Douglas-fir, Coast", "length": length, "butt": a, "head": b, "section": section}
    answers = ask("weight", **asked).answers
    volume = per_square * length / 3 * (a * a + a * b + b * b)
    assert answers.volume == pytest.approx(volume, rel=1e-12)
    assert answers.mass == pytest.approx(537.6 * volume / 1e9, rel=1e-4)
    assert answers.at_heel + answers.at_head == pytest.approx(answers.mass, rel=1e-12)


def test_a_cone_balances_at_a_quarter_and_a_hollow_weighs_its_wall() -> None:
    near = ask("weight", species="sitka", length=4000.0, butt=100.0, head=1e-3).answers
    assert near.balance_at == pytest.approx(1000.0, rel=1e-4)  # a cone balances a quarter up from its base
    hollow = ask("weight", species="sitka", length=4000.0, butt=100.0, head=80.0, section="hollow", wall=20.0).answers
    core = pi / 12 * 4000 * (60**2 + 60 * 40 + 40**2)
    assert hollow.volume == pytest.approx(pi / 12 * 4000 * (100**2 + 100 * 80 + 80**2) - core, rel=1e-12)
