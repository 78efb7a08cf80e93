"""Jaws against a mast, in the plane and in space, by shapely (shapely.org, 2.1 and later) and by numpy's points."""

from math import cos, pi, radians, sin, tan

import numpy as np
import pytest
import shapely
from shapely.affinity import scale, translate

from ..asked.jaws import string
from ..asking import ask

CASES = [
    {"mast_diameter": 95.0, "gaff_width": 57.0, "plank": 25.0, "peak_angle": 45.0},
    {"mast_diameter": 70.0, "gaff_width": 50.0, "plank": 30.0, "peak_angle": 70.0, "lowered_angle": -10.0},
    {"mast_diameter": 120.0, "gaff_width": 80.0, "plank": 40.0, "peak_angle": 20.0, "lowered_angle": -40.0},
    {"mast_diameter": 95.0, "gaff_width": 57.0, "plank": 25.0, "peak_angle": 0.0, "clearance": 0.0},
    {"mast_diameter": 95.0, "gaff_width": 57.0, "plank": 25.0, "peak_angle": 45.0, "rake": 6.0},
    {
        "mast_diameter": 95.0,
        "gaff_width": 57.0,
        "plank": 25.0,
        "peak_angle": 20.0,
        "lowered_angle": -5.0,
        "rake": -25.0,
    },
]


def mast_in(diameter: float, angle: float, plank: float, levels: int = 41, around: int = 720) -> np.ndarray:
    """Points of an upright cylinder inside a slab at `angle`: along the slab, across it, through it; the middle at 0.

    Made in space: points on the cylinder, each line of it followed up and down to the slab's levels.
    """
    lean = radians(angle)
    along, through = np.array([cos(lean), 0.0, sin(lean)]), np.array([-sin(lean), 0.0, cos(lean)])
    turn = np.linspace(0, 2 * pi, around, endpoint=False)
    foot = np.stack([diameter / 2 * np.cos(turn), diameter / 2 * np.sin(turn), np.zeros_like(turn)], axis=1)
    points = []
    for level in np.linspace(-plank / 2, plank / 2, levels):
        height = (level - foot @ through) / through[2]
        at = foot + height[:, None] * np.array([0.0, 0.0, 1.0])
        points.append(np.stack([at @ along, at[:, 1], at @ through], axis=1))
    return np.concatenate(points)


@pytest.mark.parametrize("case", CASES)
def test_the_long_axis_is_that_of_a_cylinder_cut_by_a_slab(case: dict[str, float]) -> None:
    answers = ask("jaws", **case).answers
    lean = case["peak_angle"] + case.get("rake", 0)
    points = mast_in(case["mast_diameter"], lean, case["plank"])
    assert np.ptp(points[:, 0]) == pytest.approx(answers.long_axis, rel=1e-9)
    assert np.ptp(points[:, 1]) == pytest.approx(case["mast_diameter"], rel=1e-9)
    one_face = points[np.isclose(points[:, 2], case["plank"] / 2)]
    assert np.ptp(one_face[:, 0]) == pytest.approx(case["mast_diameter"] / cos(radians(lean)), rel=1e-9)


def wood(answers, bevel: float, level: float) -> shapely.Polygon:
    """The jaws' wood at a level of the plank: throat and horns, the throat's bottom moved by the bevel."""
    half, out, tip = answers.throat_radius, answers.throat_radius + answers.horn_used, answers.horn_length
    off = level * tan(radians(bevel))
    hollow = (
        shapely.Point(half + off, 0).buffer(half, quad_segs=720).union(shapely.box(half + off, -half, tip + half, half))
    )
    return shapely.box(-half, -out, tip, out).difference(hollow)


@pytest.mark.parametrize("case", CASES)
def test_the_jaws_clear_the_mast_from_lowered_to_peaked_and_the_throat_bears(case: dict[str, float]) -> None:
    """At each angle the mast is pushed into the throat until it bears on the leather, at some level of the plank."""
    result = ask("jaws", **case)
    given, answers = result.inputs, result.answers
    bevel = given.peak_angle + given.rake
    levels = np.linspace(-given.plank / 2, given.plank / 2, 5)
    for angle, _, _, middle, _ in result.tables[0].rows:
        lean = radians(angle + given.rake)
        ellipse = scale(
            shapely.Point(0, 0).buffer(0.5, quad_segs=720), given.mast_diameter / cos(lean), given.mast_diameter
        )
        gaps, ahead = [], []
        for level in levels:
            section = translate(ellipse, middle + level * tan(lean), 0)
            jaws = wood(answers, bevel, level)
            assert section.distance(jaws) >= given.leather - 2e-3
            gaps.append(section.bounds[0] - level * tan(radians(bevel)))  # to the throat's bottom there
            ahead.append(answers.horn_length - section.centroid.x)
            sides = section.bounds
            assert answers.opening / 2 - sides[3] == pytest.approx(given.leather + given.clearance, abs=1e-6)
        # nothing comes nearer than the leather, and where the throat's bottom is nearest the mast lies on it: the
        # leather, square on to the bevel, is longer along the gaff
        lining = given.leather / cos(radians(bevel))
        assert min(gaps) == pytest.approx(lining, abs=2e-3)
        bears_at = levels[int(np.argmin(gaps))]
        if angle < given.peak_angle:
            assert abs(bears_at) == pytest.approx(given.plank / 2)  # off the bevel it bears on an edge
        else:
            assert gaps == pytest.approx([lining] * 5, abs=2e-3)  # on the bevel all through the plank
        assert min(ahead) >= answers.horn_reach - 1e-6
    assert answers.horn_reach == pytest.approx(given.past * given.mast_diameter / 2)


@pytest.mark.parametrize("case", CASES)
def test_the_horns_stand_past_the_middle_by_just_what_is_said(case: dict[str, float]) -> None:
    """Over a fine range of angles and through the plank: mast's middle pushed home, made again from points in space."""
    result = ask("jaws", **case)
    given, answers = result.inputs, result.answers
    bevel = given.peak_angle + given.rake
    farthest = -1e9
    for angle in np.linspace(given.lowered_angle, given.peak_angle, 61):
        points = mast_in(given.mast_diameter, angle + given.rake, given.plank, levels=3, around=360)
        face = given.leather / cos(radians(bevel)) + points[:, 2] * tan(radians(bevel))
        pushed = np.max(face - points[:, 0])  # until no point is behind the leather's bottom
        farthest = max(farthest, pushed + given.plank / 2 * abs(tan(radians(angle + given.rake))))
    assert farthest == pytest.approx(answers.mast_middle, rel=1e-9)


@pytest.mark.parametrize("case", CASES)
def test_the_parrel_is_a_string_round_the_mast(case: dict[str, float]) -> None:
    """The hull of both horns' tips and the beads' circle, by shapely, less the side that is open."""
    result = ask("jaws", **case)
    for angle, *_, tight in result.tables[0].rows:
        assert tight == pytest.approx(string(result, angle), rel=1e-5)
        assert tight <= result.answers.parrel_length + 1e-9


@pytest.mark.parametrize(("pole", "cove", "edge"), [(60.0, 20.0, 15.0), (60.0, 12.7, 12.0), (40.0, 30.0, 18.0)])
def test_the_seat_touches_and_gaps_as_two_arcs_do(pole: float, cove: float, edge: float) -> None:
    """A cheek with a hollow, the pole lowered into it by what it sinks: it touches, and the gap is what is left."""
    answers = ask("seat", pole_diameter=pole, cove_radius=cove, edge=edge).answers
    bit = shapely.Point(0, cove - answers.cove_depth).buffer(cove, quad_segs=2000)
    cheek = shapely.box(-edge, -pole, edge, 0).difference(bit)
    round_pole = shapely.Point(0, pole / 2 - answers.sinks).buffer(pole / 2, quad_segs=2000)
    assert round_pole.intersection(cheek).area < 1e-3
    assert round_pole.distance(cheek) == pytest.approx(0, abs=1e-3)
    x = 0.0 if answers.touches == "edges" else edge - 1e-9
    under = round_pole.intersection(shapely.LineString([(x, -pole), (x, pole)])).bounds[1]
    floor = cheek.intersection(shapely.LineString([(x, -pole), (x, pole)])).bounds[3]
    assert under - floor == pytest.approx(answers.gap, abs=2e-3)


@pytest.mark.parametrize(("thick", "hole", "lean", "centring"), [(80.0, 10.0, 2.0, 0.0), (60.0, 9.5, 1.0, 0.8)])
def test_a_rod_of_what_passes_goes_through_both_halves_and_a_ream_takes_them_in(thick, hole, lean, centring) -> None:
    """Along the hole: two slanting slots, meeting in the middle; a straight rod, and the reamed hole round a pilot."""
    answers = ask("bore", thickness=thick, hole=hole, angle_error=lean, centring=centring).answers

    def halves(diameter: float) -> shapely.Geometry:
        t, half = tan(radians(lean)), diameter / 2 / cos(radians(lean))
        off = centring + thick / 2 * t
        left = [(-thick / 2, centring - half), (-thick / 2, centring + half), (0, off + half), (0, off - half)]
        right = [(-x, -y) for x, y in left]
        return shapely.union_all([shapely.Polygon(left), shapely.Polygon(right)])

    def rod(diameter: float) -> shapely.Polygon:
        return shapely.box(-thick / 2, -diameter / 2, thick / 2, diameter / 2)

    assert rod(answers.passes).difference(halves(hole)).area < 1e-9
    assert rod(answers.passes * 1.01).difference(halves(hole)).area > 1e-6
    slack = hole * (1 / cos(radians(lean)) - 1)  # a leaning drill's slot is this much wider, seen along the rod
    assert halves(answers.pilot).difference(rod(hole + slack)).area < 1e-9
    assert halves(answers.pilot * 1.02 + slack).difference(rod(hole)).area > 1e-6


@pytest.mark.parametrize(("diameter", "angle"), [(80.0, 90.0), (60.0, 120.0), (60.0, 60.0)])
def test_a_round_in_the_cradles_v_touches_both_sides_with_its_axis_at_the_height(diameter, angle) -> None:
    answers = ask("bore", thickness=diameter, hole=5.0, v_angle=angle).answers
    run = answers.v_deep * tan(radians(angle / 2))
    v = shapely.LineString([(-run, answers.block_height + answers.v_deep), (0, answers.block_height),
                            (run, answers.block_height + answers.v_deep)])  # fmt: skip
    assert shapely.Point(0, answers.axis_used).distance(v) == pytest.approx(diameter / 2, rel=1e-9)
    assert shapely.Point(0, answers.axis_used).distance(shapely.Point(v.coords[0])) == pytest.approx(diameter / 2)
