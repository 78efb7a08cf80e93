"""Sound questions for staves; what it has no printed sum for, put together with shapely or summed in slices."""

from collections.abc import Callable
from itertools import pairwise
from math import pi
from typing import Any

import pytest
import shapely
from hypothesis import strategies as st
from scipy.integrate import quad

from shopcompanion.calculator import Result
from shopcompanion.spar.along import Joint
from shopcompanion.spar.body import Body
from shopcompanion.spar.fitting import Fitting
from shopcompanion.spar.outline import Outline
from shopcompanion.spar.staves import Ring
from shopcompanion.timber.species import find

from ..spars import outlines
from . import SOMETIMES

GIVEN = ("--outline", "0 = 3; 12 ft = 2-1/4", "--thickness", "5/8", "--species", "sitka")


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    asked: dict[str, Any] = {"staves": draw(st.sampled_from([6, 8, 10, 12, 16]))}
    if draw(SOMETIMES):
        asked["diameter"] = draw(st.floats(30, 200))
        if draw(SOMETIMES):
            asked["wall"] = asked["diameter"] * draw(st.floats(0.08, 0.4))
        elif draw(SOMETIMES):
            asked["thickness"] = asked["diameter"] * draw(st.floats(0.1, 0.4))
        return asked
    spar = draw(outlines(laws=("straight", "faired")))
    thin, wide = spar.narrowest, spar.widest
    asked |= {"outline": spar.stations, "law": spar.law}
    least, most = 0.08 * wide, 0.45 * thin
    if least >= most:
        even = Outline(tuple((at, 0.7 * wide + 0.3 * width) for at, width in spar.stations), spar.law)
        asked["outline"], most = even.stations, 0.45 * even.narrowest
        thin, wide = even.narrowest, even.widest
    walls = 0.02 * wide, min(0.8 * least, 0.45 * thin - 0.07 * wide)  # what a ring of six loses in rounding
    if walls[0] < walls[1] and draw(SOMETIMES):
        asked["wall"] = draw(st.floats(*walls))
    else:
        asked["thickness"] = draw(st.floats(least, most))
    if draw(SOMETIMES):
        asked["species"] = draw(st.sampled_from(["Spruce, Sitka", "Douglas-fir, Coast"]))
    if draw(SOMETIMES):
        asked["diameter"] = draw(st.floats(thin, wide))
    if draw(SOMETIMES) and "thickness" in asked:
        outline = Outline(asked["outline"], spar.law)
        fittings = (
            Fitting(at=outline.length * 0.4, kind="cleat", length=80.0, flat=3.0),
            Fitting(at=outline.length * 0.9, kind="pin", hole=6.0),
        )
        solid = ((0.0, 100.0), (outline.length * 0.3, outline.length * 0.5), (outline.length - 90.0, outline.length))
        asked["whole"] = Body(
            outline,
            None,
            "staves",
            asked["thickness"],
            (),
            (Joint(at=outline.length / 4, kind="ferrule"),),
            fittings,
            solid,
            asked["staves"],
        )
    return asked


QUESTION = questions()


def _spar(result: Result) -> tuple[Outline, Ring]:
    given, answers = result.inputs, result.answers
    outline = Outline(given.outline, given.law)
    return outline, Ring(given.staves, answers.diameter_used, answers.stave_thickness)


def _slices(outline: Outline, of: Callable[[float], float]) -> float:
    return float(sum(quad(lambda at: of(outline.width_at(at)), a[0], b[0], epsrel=1e-7, limit=100)[0]
                     for a, b in pairwise(outline.stations)))  # fmt: skip


def _heavy(result: Result) -> float:
    """kg/mm³ at 12 %: the specific gravity there, and 12 % of water."""
    return find(result.inputs.species).sg12 * 1.12e-6


def widest_stave(result: Result) -> None:
    outline, ring = _spar(result)
    corners = ring._replace(diameter=outline.widest).stave
    assert result.answers.widest_stave == pytest.approx(max(x for x, _ in corners) - min(x for x, _ in corners))


def stave_thickness(result: Result) -> None:
    given, answers = result.inputs, result.answers
    widest = max([width for _, width in given.outline or ()] + [given.diameter or 0.0])
    if given.wall is not None:  # from the round to the corner of the hole, where the spar is widest
        under = shapely.box(-999, -999, 999, widest / 2 - answers.stave_thickness)
        turns = [360 * k / given.staves for k in range(given.staves)]
        hole = shapely.intersection_all([shapely.affinity.rotate(under, turn, origin=(0, 0)) for turn in turns])
        far = max((x * x + y * y) ** 0.5 for x, y in hole.exterior.coords)
        assert widest / 2 - far == pytest.approx(given.wall, rel=1e-6)
    else:
        assert answers.stave_thickness == pytest.approx(widest / 5 if given.thickness is None else given.thickness)


def mass(result: Result) -> None:
    """The ring all along, and in it the plugs, whole and with their tails, which thin out evenly."""
    outline, ring = _spar(result)
    rings = _slices(outline, lambda wide: pi / 4 * wide**2 - _hole(ring, wide))
    filled = 0.0
    (plugs,) = [table.rows for table in result.tables if table.name == "plugs"]
    for start, end, before, after, *_ in plugs:
        marks = [at for at, _ in outline.stations]
        ends = ((start - before, start, 0, 1), (start, end, 1, 1), (end, end + after, 1, 0))
        for low, high, first, last in ends:
            cuts = sorted({low, high, *(at for at in marks if low < at < high)})

            def wood(
                at: float, low: float = low, long: float = high - low, first: int = first, last: int = last
            ) -> float:
                return (first + (last - first) * (at - low) / long) * _hole(ring, outline.width_at(at))

            filled += sum(quad(wood, a, b, epsrel=1e-8)[0] for a, b in pairwise(cuts))
    cut = result.inputs.whole.taken() if result.inputs.whole is not None else 0.0
    assert result.answers.mass == pytest.approx(_heavy(result) * (rings + filled - cut), rel=1e-4)


def _hole(ring: Ring, wide: float) -> float:
    corner = (wide - 2 * ring.thickness) / 2 / shapely_cos(ring.staves)
    return ring.staves / 2 * corner**2 * shapely_sin(ring.staves)


def shapely_cos(sides: int) -> float:
    """Inner over outer radius of a regular polygon, measured on one."""
    first, second = _regular(sides)
    return ((first[0] + second[0]) ** 2 + (first[1] + second[1]) ** 2) ** 0.5 / 2


def shapely_sin(sides: int) -> float:
    """Twice the area of one of its triangles."""
    first, second = _regular(sides)
    return 2 * float(shapely.Polygon([(0, 0), first, second]).area)


def _regular(sides: int) -> list[tuple[float, float]]:
    return [shapely.affinity.rotate(shapely.Point(1, 0), 360 * k / sides, origin=(0, 0)).coords[0] for k in (0, 1)]


def mass_solid(result: Result) -> None:
    outline, _ = _spar(result)
    assert result.answers.mass_solid == pytest.approx(_heavy(result) * Body(outline).volume(), rel=1e-6)


def mass_alike(result: Result) -> None:
    """A solid round of diameter d is as stiff where d⁴ is that of the round less 64/π of the hole's second moment."""
    outline, ring = _spar(result)
    unit = _unit_second(ring.staves)

    def area(wide: float) -> float:
        less = unit * (wide - 2 * ring.thickness) ** 4
        return pi / 4 * (wide**4 - 64 / pi * less) ** 0.5

    assert result.answers.mass_alike == pytest.approx(_heavy(result) * _slices(outline, area), rel=1e-6)


def _unit_second(sides: int) -> float:
    """Of a regular polygon 1 across its flats, by triangles about the middle (standard formula of the triangle)."""
    (a, b), (c, d) = ([x / 2 / shapely_cos(sides) for x in point] for point in _regular(sides))
    polar = (a * d - b * c) * (a * a + a * c + c * c + b * b + b * d + d * d) / 12
    return sides * polar / 2


def glue_area(result: Result) -> None:
    """Both sides of the notch, measured on the stave that is drawn."""
    outline, ring = _spar(result)
    _, _, top, bottom, low = ring.stave
    sides = shapely.LineString([top, bottom, low]).length
    assert result.answers.glue_area == pytest.approx(ring.staves * sides * outline.length)


def clamps(result: Result) -> None:
    outline, _ = _spar(result)
    apart = outline.length / (result.answers.clamps - 1)
    assert apart <= result.inputs.clamp_every * outline.narrowest * (1 + 1e-6)
    if result.answers.clamps > 2:
        assert outline.length / (result.answers.clamps - 2) > result.inputs.clamp_every * outline.narrowest * (1 - 1e-6)


def diameter_used(result: Result) -> None:
    given = result.inputs
    assert result.answers.diameter_used == (given.diameter or max(width for _, width in given.outline))


IN_WORDS = {
    "widest_stave": widest_stave,
    "stave_thickness": stave_thickness,
    "mass": mass,
    "mass_solid": mass_solid,
    "mass_alike": mass_alike,
    "glue_area": glue_area,
    "clamps": clamps,
    "diameter_used": diameter_used,
}
