"""Where corners stay too proud for sanding. Of 16 sides 100 mm across a corner stands 100/2·(1/cos 11.25° − 1) =
0.97956 mm over the round."""

from math import sqrt

import pytest

from shopcompanion.spar.along import Region
from shopcompanion.spar.body import Body
from shopcompanion.spar.outline import Outline
from shopcompanion.spar.ridges import too_proud

RIDGE = 0.0195911582 / 2  # of 16 sides, of the width


def test_of_a_tapered_spar_the_thick_end() -> None:
    spar = Body(Outline(((0.0, 60.0), (400.0, 100.0), (1000.0, 40.0))))
    (within,) = too_proud(spar, 16, 80 * RIDGE)  # thicker than 80 mm from 200 to 600, over the station between
    assert within == pytest.approx((200, 600), abs=1e-3)
    assert too_proud(spar, 16, 101 * RIDGE) == ()
    assert too_proud(spar, 16, 39 * RIDGE) == ((0.0, 1000.0),)


def test_two_thick_places_are_two_ranges() -> None:
    spar = Body(Outline(((0.0, 100.0), (500.0, 50.0), (1000.0, 100.0))))
    first, other = too_proud(spar, 16, 75 * RIDGE)
    assert first == pytest.approx((0, 250), abs=1e-3)
    assert other == pytest.approx((750, 1000), abs=1e-3)


def test_in_a_run_out_on_a_steep_taper_both_ends_of_it_are_low_enough() -> None:
    """From 200 to 1000 mm the share p of the corners that is cut grows from 0 to 1 and the width falls from 82 to
    10 mm, so a corner stands p·(82 − 72·p) times the ridge of a millimetre: over 20 of them between the roots of
    72·p² − 82·p + 20."""
    spar = Body(
        Outline(((0.0, 100.0), (1000.0, 10.0))),
        regions=(Region(from_=0.0, to=200.0, section="square", run_out=800.0),),
    )
    ends = [200 + 800 * (82 + way * sqrt(82**2 - 4 * 72 * 20)) / 144 for way in (-1, 1)]
    (within,) = too_proud(spar, 16, 20 * RIDGE)
    assert within == pytest.approx(ends, abs=0.05)  # a share is kept to a millionth


def test_an_oval_counts_by_its_worst_corner_and_a_square_by_none() -> None:
    across, deep = Outline(((0.0, 60.0), (1000.0, 60.0))), Outline(((0.0, 100.0), (1000.0, 100.0)))
    assert too_proud(Body(across, deep, "oval"), 16, 60 * RIDGE) == ((0.0, 1000.0),)
    assert too_proud(Body(across, section="square"), 16, 0.001) == ()
