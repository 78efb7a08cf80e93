"""The outside of a spar against the area of lofted bodies of trimesh (trimesh.org, 4.5 up), and a frustum by hand."""

from itertools import pairwise

import numpy as np
import pytest

from shopcompanion.calculators.coating import outside
from shopcompanion.spar.along import Region
from shopcompanion.spar.body import Body
from shopcompanion.spar.outline import Outline
from shopcompanion.spar.section import Section

from ..asking import ask
from .test_mass import AROUND, lofted


def ring(section: Section) -> np.ndarray:
    """Points round the section in even directions, its corners among them."""
    turn = 2 * np.pi * np.arange(AROUND) / AROUND
    x, y = np.cos(turn), np.sin(turn)
    far = np.maximum(abs(x), abs(y))
    if section.kind == "eight":
        far = np.maximum(far, (abs(x) + abs(y)) / np.sqrt(2))
    out = 1 / far if section.kind in ("square", "eight") else 1.0
    return np.column_stack((x * out * section.width / 2, y * out * section.depth / 2))


def meshed(spar: Body) -> float:
    """The area of the spar as one lofted body, its ends with it."""
    rings = []
    for low, high in pairwise(spar.breaks):
        for at in np.linspace(low, high, 40, endpoint=high == spar.length):
            here = spar.section_at(float(at))
            rings.append((at, ring(Section(here.headward.kind, spar.width_at(at), spar.depth_at(at)))))
    return float(lofted(rings).area)


def test_a_frustum_by_hand() -> None:
    """Radii 5 and 3, 10 high: π·(5 + 3)·√(10² + 2²) = 256.3046759 (standard formula, computed)."""
    answers = ask("coating", length=10.0, butt=10.0, head=6.0).answers
    assert answers.side_area == pytest.approx(256.3046759, abs=1e-7)
    assert answers.end_area == pytest.approx(3.14159265358979 * (25 + 9))


@pytest.mark.parametrize("section", ["round", "eight", "square"])
@pytest.mark.parametrize("law", ["straight", "faired"])
def test_a_tapered_spar_as_a_lofted_body(section: str, law: str) -> None:
    spar = Body(Outline(((0.0, 60.0), (900.0, 90.0), (4000.0, 50.0)), law), section=section)
    mesh_area = outside("spar", 1, spar)
    near = 1e-4 if law == "faired" else 2e-5  # a curve has 40 straight pieces in the mesh
    assert mesh_area.side + mesh_area.ends == pytest.approx(meshed(spar), rel=near)


def test_an_oval_as_a_lofted_body() -> None:
    spar = Body(Outline(((0.0, 90.0), (4000.0, 50.0))), Outline(((0.0, 110.0), (4000.0, 70.0))), "oval")
    assert sum(outside("spar", 1, spar)[2:]) == pytest.approx(meshed(spar), rel=2e-5)


def test_a_square_heel_with_a_shoulder_adds_up_from_two_bodies() -> None:
    """The shoulder's four corners are end grain of their own, small and left out."""
    heel, rest = Outline(((0.0, 90.0), (600.0, 90.0))), Outline(((0.0, 90.0), (3400.0, 50.0)))
    spar = Body(
        Outline(((0.0, 90.0), (600.0, 90.0), (4000.0, 50.0))), regions=(Region(from_=0.0, to=600.0, section="square"),)
    )
    parts = meshed(Body(heel, section="square")) + meshed(Body(rest))
    inner = Section("square", 90, 90).area + Section("round", 90, 90).area
    assert sum(outside("spar", 1, spar)[2:]) == pytest.approx(parts - inner, rel=2e-5)
