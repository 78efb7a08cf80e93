"""The ring of staves put together with shapely (shapely.readthedocs.io, 2.1 up): no gap, no overlap, the round in it.

The one number from outside: eight staves of 20 mm round a 100 mm spar are 38.995 mm wide, w = (√2 − 1)·D − 0.12132·t
(common practice, no source; worked out again by hand).
"""

from itertools import pairwise

import numpy as np
import pytest
import shapely

from shopcompanion.spar.staves import NUMBERS, Ring, thickness_for

RINGS = [Ring(staves, 100.0, thick) for staves in NUMBERS for thick in (12.0, 20.0, 31.0)]


def plank(ring: Ring, notch: tuple[tuple[float, float], ...]) -> shapely.Polygon:
    """A plank as wide and thick as the stave, lying where the uppermost stave lies, less its notch."""
    left = min(x for x, _ in ring.stave)
    top = ring.diameter / 2
    return shapely.box(left, top - ring.thickness, left + ring.stave_width, top) - shapely.Polygon(notch)


def notch(ring: Ring) -> tuple[tuple[float, float], ...]:
    """The notch by the numbers of the calculator alone: its bottom, and its sides at their angles to the face."""
    right, top = min(x for x, _ in ring.stave) + ring.stave_width, ring.diameter / 2
    bottom = np.array([right - ring.notch_depth, top - ring.notch_below])
    inner, outer = np.radians(360 / ring.staves), np.radians(90 - 360 / ring.staves)
    out = 2 * ring.thickness
    return (
        tuple(bottom), tuple(bottom + out * np.array([np.cos(outer), np.sin(outer)])),
        tuple(bottom + out * np.array([1.5, 0.0])), tuple(bottom + out * np.array([np.cos(inner), -np.sin(inner)])),
    )  # fmt: skip


def together(ring: Ring) -> list[shapely.Polygon]:
    """As many such planks, each turned about the axis."""
    stave = plank(ring, notch(ring))
    return [shapely.affinity.rotate(stave, -360 * k / ring.staves, origin=(0, 0)) for k in range(ring.staves)]


@pytest.mark.parametrize("ring", RINGS, ids=str)
def test_the_staves_close_without_gap_or_overlap(ring: Ring) -> None:
    staves = together(ring)
    for stave, other in pairwise([*staves, staves[0]]):
        assert stave.intersection(other).area < 1e-9 * ring.diameter**2
        long = ring.thickness * (np.cos(ring.turn) + np.sin(ring.turn))  # both sides of the notch lie against the next
        touching = stave.buffer(1e-7).intersection(other.buffer(1e-7)).area / 2e-7
        assert touching == pytest.approx(long, rel=1e-3)
    whole = shapely.union_all([stave.buffer(1e-7, join_style="mitre") for stave in staves])
    assert whole.geom_type == "Polygon"
    assert len(whole.interiors) == 1  # the hole, and no other
    assert whole.area == pytest.approx(sum(stave.area for stave in staves), rel=1e-6)


@pytest.mark.parametrize("ring", RINGS, ids=str)
def test_the_round_is_the_largest_inside_the_ring(ring: Ring) -> None:
    whole = shapely.union_all([stave.buffer(1e-7, join_style="mitre") for stave in together(ring)])
    outside, hole = shapely.Polygon(whole.exterior), shapely.Polygon(whole.interiors[0])
    assert outside.exterior.distance(shapely.Point(0, 0)) == pytest.approx(ring.diameter / 2, abs=1e-6)
    assert outside.contains(shapely.Point(0, 0).buffer(ring.diameter / 2 - 1e-6, quad_segs=720))
    assert hole.exterior.distance(shapely.Point(0, 0)) == pytest.approx(ring.hole / 2, abs=1e-6)
    assert ring.diameter / 2 - max(np.hypot(*hole.exterior.coords.xy)) == pytest.approx(ring.wall_least, abs=1e-6)
    assert max(np.hypot(*outside.exterior.coords.xy)) - ring.diameter / 2 == pytest.approx(ring.proud, abs=1e-6)
    assert len(hole.simplify(1e-5).exterior.coords) - 1 == ring.staves


@pytest.mark.parametrize("ring", RINGS, ids=str)
def test_the_staves_as_they_are_drawn_are_those_of_the_numbers(ring: Ring) -> None:
    for drawn, made in zip(ring.all_staves, together(ring), strict=True):
        assert shapely.Polygon(drawn).symmetric_difference(made).area < 1e-9 * ring.diameter**2


def test_eight_staves_of_20_mm_round_100_mm() -> None:
    assert Ring(8, 100.0, 20.0).stave_width == pytest.approx(38.995, abs=5e-4)
    for wide, thick in ((60.0, 12.0), (88.9, 15.875)):
        assert Ring(8, wide, thick).stave_width == pytest.approx(0.41421356 * wide - 0.12132034 * thick, abs=1e-6)


@pytest.mark.parametrize("staves", NUMBERS)
def test_a_wall_that_is_wanted_is_left(staves: int) -> None:
    ring = Ring(staves, 100.0, thickness_for(staves, 100.0, 14.0))
    hole = shapely.Polygon(shapely.union_all([stave.buffer(1e-7) for stave in together(ring)]).interiors[0])
    assert 50 - max(np.hypot(*hole.exterior.coords.xy)) == pytest.approx(14.0, abs=1e-5)
