"""Areas and sections against shapely, a general library of plane geometry (shapely.org, 2.1 and later)."""

from math import cos, hypot, pi, radians, sin

import pytest
import shapely
from shapely.affinity import rotate, scale, translate

from shopcompanion.spar.along import Region
from shopcompanion.spar.body import Body
from shopcompanion.spar.outline import Outline

from ..asking import ask


def clipped(side: float, *marks: float) -> shapely.Polygon:
    """A square with its corners sawn off along the lines: marks are from each edge of the faces there already."""
    shape = shapely.box(-side / 2, -side / 2, side / 2, side / 2)
    for mark in marks:
        ring = list(shape.exterior.coords)[:-1]
        corners = []
        for before, (x, y), after in zip([ring[-1], *ring], ring, [*ring[1:], ring[0]], strict=False):
            for bx, by in (before, after):
                part = mark / hypot(bx - x, by - y)
                corners.append((x + (bx - x) * part, y + (by - y) * part))
        shape = shapely.Polygon(corners)
    return shape


@pytest.mark.parametrize("side", [38.1, 76.2, 120.0])
def test_sawing_along_the_marks_makes_the_eight_the_sixteen_and_the_thirty_two(side: float) -> None:
    answers = ask("facets", width=side).answers
    marks = [answers.mark_8, answers.mark_16, answers.mark_32]
    areas = [0.8284271247, 0.7956494695, 0.7879312269]  # across flats 1; computed
    for n, count, area in zip((8, 16, 32), (1, 2, 3), areas, strict=True):
        shape = clipped(side, *marks[:count])
        assert shape.area == pytest.approx(area * side**2, rel=1e-9)
        assert shape.length == pytest.approx(n * getattr(answers, f"facet_{n}"), rel=1e-12)
        assert shape.contains(shapely.Point(0, 0).buffer(side / 2 * (1 - 1e-9)))
        # a round as big as the corners just holds it
        assert shapely.minimum_bounding_radius(shape) == pytest.approx(side / 2 + getattr(answers, f"ridge_{n}"))


@pytest.mark.parametrize("part", [0.1, 0.5, 0.9])
@pytest.mark.parametrize(
    ("fuller", "finer", "eight", "sixteen"),
    [("square", "round", 1, 1), ("square", "eight", 1, 0), ("eight", "round", 0, 1)],
)
def test_sawing_along_the_marks_of_a_run_out_makes_the_body_there(
    part: float, fuller: str, finer: str, eight: int, sixteen: int
) -> None:
    """At every share the marks give the polygon whose corners lie that far in, and the body between its two ends."""
    side = 80.0
    spar = Body(
        Outline(((0.0, side), (1000.0, side))),
        section=finer,
        regions=(Region(from_=0.0, to=400.0, section=fuller, run_out=100.0),),
    )
    at = 400 + 100 * part
    shares = {sides: spar.corners_off(at, sides) for sides in (8, 16)}
    assert shares == pytest.approx({8: part if eight else 1.0, 16: part if sixteen else 0.0})
    answers = ask("facets", width=side, corners_8=100 * shares[8], corners_16=100 * shares[16]).answers
    marks = [answers.mark_8, answers.mark_16, answers.mark_32] if sixteen else [answers.mark_8]
    shape = clipped(side, *marks)
    # where it is to be round the corners of the polygon of 32 are left for the plane
    meant = spar.section_at(at)
    left = 0.7879312269 - pi / 4 if sixteen else 0.0
    assert shape.area == pytest.approx(meant.area + left * (side * part) ** 2, rel=1e-7)
    if not sixteen:
        assert shape.length == pytest.approx(meant.perimeter)
    if fuller == "square" and sixteen:  # rounded with a radius that grows
        rounded = shapely.box(-1, -1, 1, 1)
        rounded = scale(rounded, (1 - part) * side / 2, (1 - part) * side / 2).buffer(part * side / 2, quad_segs=256)
        assert rounded.area == pytest.approx(meant.area, rel=1e-4)
        assert rounded.length == pytest.approx(meant.perimeter, rel=1e-4)
        assert answers.girth == pytest.approx(meant.perimeter)
        assert shape.buffer(1e-6).contains(rounded)


@pytest.mark.parametrize(("width", "depth"), [(60.0, 90.0), (90.0, 60.0), (50.0, 200.0)])
def test_the_facets_of_an_oval_enclose_the_affine_image_of_the_polygon(width: float, depth: float) -> None:
    """Half-planes at each facet's tilt and distance, cut out of a big square one after the other."""
    rows = ask("facets", width=width, depth=depth, section="oval").as_json()["tables"]["facets"]["rows"]
    a, b = width / 2, depth / 2
    for n, area in ((8, 0.8284271247), (16, 0.7956494695), (32, 0.7879312269)):
        shape = shapely.box(-500, -500, 500, 500)
        for tilt in {t for sides, t, *_ in rows if sides == n}:
            stands = hypot(a * sin(radians(tilt)), b * cos(radians(tilt)))
            for turned in (tilt, -tilt, 180 - tilt, 180 + tilt):
                above = shapely.box(-2000, -2000, 2000, stands)
                shape = shape.intersection(rotate(above, -turned, origin=(0, 0)))
        assert shape.area == pytest.approx(area * width * depth, rel=1e-8)
        unit = shapely.Point(0, 0).buffer(0.5 * (1 - 1e-9), quad_segs=64)
        assert shape.contains(scale(unit, width, depth, origin=(0, 0)))


@pytest.mark.parametrize(("stock", "radius"), [(50.8, 25.4), (50.8, 19.05), (80.0, 12.7)])
def test_a_rounded_square_has_the_flats_that_are_left(stock: float, radius: float) -> None:
    answers = ask("roundover", stock=stock, bit_radius=radius).answers
    inner = shapely.box(*(-stock / 2 + radius,) * 2, *(stock / 2 - radius,) * 2)
    section = inner.buffer(radius, quad_segs=2000)
    face = section.intersection(shapely.LineString([(-stock, stock / 2 - 1e-6), (stock, stock / 2 - 1e-6)]))
    assert face.length == pytest.approx(answers.flat_left, abs=0.02)
    assert stock**2 - section.area == pytest.approx(4 * (1 - pi / 4) * radius**2, rel=1e-5)


@pytest.mark.parametrize("radius", [6.35, 19.05, 25.4])
@pytest.mark.parametrize("passes", [2, 3, 5])
def test_each_pass_takes_as_much_wood_as_the_last(radius: float, passes: int) -> None:
    """The bit's disc, seen along the corner: lowered to h it is h − r from where it ends up."""
    depths = ask("roundover", stock=2 * radius, bit_radius=radius, passes=passes).answers.pass_depths
    quarter = shapely.Polygon(
        [(0, 0), *((radius - radius * cos(t), radius - radius * sin(t)) for t in (k * pi / 8000 for k in range(4001)))]
    )  # the waste of the whole corner, the corner at 0, 0, x along the face that the bit comes through
    taken = [quarter.intersection(translate(quarter, 0, h - radius)).area for h in depths]
    steps = [after - before for before, after in zip([0.0, *taken], taken, strict=False)]
    assert steps == pytest.approx([quarter.area / passes] * passes, rel=1e-4)
