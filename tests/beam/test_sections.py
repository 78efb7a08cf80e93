"""What sections are worth along a spar: with what is let in, and without it, in the same pieces."""

import pytest

from shopcompanion.beam import elements
from shopcompanion.beam.model import Support
from shopcompanion.beam.proof import Case, prove
from shopcompanion.beam.sections import along
from shopcompanion.beam.solve import mesh
from shopcompanion.spar.body import Body
from shopcompanion.spar.fitting import Fitting
from shopcompanion.spar.outline import Outline

from ..beams import force

FITTED = (
    Fitting(at=900.0, kind="block", length=160.0, flat=9.0),
    Fitting(at=980.0, kind="pin", hole=12.0),
    Fitting(at=2200.0, kind="sheave", hole=10.0),
)
SPAR = Body(Outline(((0.0, 70.0), (1500.0, 80.0), (3000.0, 45.0)), "straight"), fittings=FITTED)
HELD = (Support(0.0, "pinned"), Support(1200.0, "pinned"))


def test_every_piece_is_worth_what_is_left_there() -> None:
    nodes = mesh(SPAR.length, SPAR.breaks, HELD, (), (), pieces=48)
    sections = along(SPAR, nodes)
    cut = 0
    for k, places in enumerate(elements.places(nodes)):
        for n, at in enumerate(places):
            left = SPAR.left_at(at)
            assert sections.area[k][n] == pytest.approx(left.area, rel=1e-9)
            assert sections.second[0][k][n] == pytest.approx(left.second_depth, rel=1e-9)
            assert sections.second[1][k][n] == pytest.approx(left.second_width, rel=1e-9)
            cut += left.area < SPAR.section_at(at).area * (1 - 1e-9)
        for end, at in enumerate((nodes[k] + 1e-7, nodes[k + 1] - 1e-7)):
            left = SPAR.left_at(at)
            assert sections.end_area[k][end] == pytest.approx(left.area, rel=1e-3)
            assert sections.end_modulus[0][k][end] == pytest.approx(left.modulus_depth, rel=1e-3)
            assert sections.end_modulus[1][k][end] == pytest.approx(left.modulus_width, rel=1e-3)
    assert 20 < cut < 4 * len(nodes)  # of the places some are cut, and some are whole


def test_without_what_is_let_in_it_is_as_if_that_were_never_there() -> None:
    """In pieces of its own, too."""
    case = Case(SPAR, 11000.0, HELD, (force(3000.0, -200.0),))
    bare = prove(case.bare(), buckling=False)
    never = prove(Case(SPAR._replace(fittings=()), 11000.0, HELD, (force(3000.0, -200.0),)))
    assert bare.bent.nodes == prove(case).bent.nodes != never.bent.nodes
    assert bare.tip == pytest.approx(never.tip, rel=1e-6)
    assert bare.worst_stress == pytest.approx(never.worst_stress, rel=1e-6)
    assert bare.worst_at == pytest.approx(never.worst_at, abs=0.1)
    assert abs(prove(case).tip) > abs(bare.tip) * 1.01
