"""What flats, bars, barrels and holes leave of a section, against sectionproperties, at both ends of a tapered spar.

That is a general library for sections: it fills the outline with triangles and sums over them. The outline is drawn
here with shapely from the words of the answer (depths and widths), not with the package's own sections.
"""

from functools import cache
from math import inf

import pytest
from shapely.geometry import Point, box

from shopcompanion.spar.body import Body
from shopcompanion.spar.outline import Outline

from ..asking import ask

CONE = Body(Outline(((0.0, 110.0), (3000.0, 62.0)), "straight"))
AT, LONG = 2000.0, 400.0
FAR = 1e3


Cut = tuple[float, float, float, float]


@cache  # the whole, and ends alike
def by_triangles(diameter: float, *cuts: Cut) -> list[float]:
    """Area, second moments into the face and sideways, and the moduli: each cut is left, right, bottom, top."""
    from sectionproperties.analysis import Section
    from sectionproperties.pre import CompoundGeometry, Geometry

    left = Point(0, 0).buffer(diameter / 2, quad_segs=90)
    for low, high, bottom, top in cuts:
        left = left.difference(box(max(low, -FAR), max(bottom, -FAR), min(high, FAR), min(top, FAR)))
    pieces = [Geometry(part) for part in getattr(left, "geoms", [left])]  # a hole right through leaves two
    geometry = pieces[0] if len(pieces) == 1 else CompoundGeometry(pieces)
    geometry.create_mesh(mesh_sizes=[diameter**2 / 50])
    section = Section(geometry)
    section.calculate_geometric_properties()
    ixx, iyy, _ = section.get_ic()
    zxx_plus, zxx_minus, zyy_plus, zyy_minus = section.get_z()
    return [section.get_area(), ixx, iyy, min(zxx_plus, zxx_minus), min(zyy_plus, zyy_minus)]


def rows(result, table: str) -> dict[str, list[float]]:
    return {row[0]: row[1:] for row in result.as_json()["tables"][table]["rows"]}


def holds(result, cuts_of) -> None:
    """Every place of the answer, absolute and as parts of the whole. `cuts_of` gives cuts by name, floor and half."""
    places, left, parts = (rows(result, table) for table in ("places", "left", "parts"))
    for name, (at, across, through, depth, _) in places.items():
        assert across == through == pytest.approx(110 - 48 * at / 3000)
        wanted = by_triangles(across, *cuts_of(name, through / 2 - depth))
        whole = by_triangles(across)
        assert left[name] == pytest.approx(wanted, rel=1e-3)
        assert parts[name] == pytest.approx([100 * a / b for a, b in zip(wanted, whole, strict=True)], rel=1e-3)


def test_a_flat() -> None:
    result = ask("flat", diameter=78.0, body=CONE, at=AT, fitting_length=LONG, flat_width=40.0)
    assert list(rows(result, "places")) == ["heelward end", "between", "headward end"]
    holds(result, lambda name, floor: [(-inf, inf, floor, inf)])


@pytest.mark.parametrize("sit", ["corners flush", "crown flush"])
def test_two_bars_and_a_bolt(sit: str) -> None:
    result = ask("inlay", diameter=78.0, body=CONE, at=AT, bar_length=LONG, bar_width=25.0, bar_thickness=6.0,
                 sit=sit, hole=8.0)  # fmt: skip

    def cuts(name: str, floor: float) -> list[Cut]:
        bars = [(-12.5, 12.5, floor, inf), (-12.5, 12.5, -inf, -floor)]
        return [*bars, (-4, 4, -inf, inf)] if name.endswith("bolt") else bars

    holds(result, cuts)


def test_one_bar_and_a_screw() -> None:
    result = ask("inlay", diameter=78.0, body=CONE, at=AT, bar_length=LONG, bar_width=25.0, bar_thickness=6.0,
                 both="no", fasten="screw", screw=30.0, hole=5.0)  # fmt: skip

    def cuts(name: str, floor: float) -> list[Cut]:
        bar = [(-12.5, 12.5, floor, inf)]
        return [*bar, (-2.5, 2.5, floor - 24, inf)] if name.endswith("screw") else bar

    holds(result, cuts)


def test_a_hinge() -> None:
    result = ask("hinge", body=CONE, joint_at=AT, leaf_length=LONG / 2, leaf_width=40.0, hole=5.0)
    apart = result.answers.rows_apart
    assert apart == pytest.approx(40 - 4 * 5)

    def cuts(name: str, floor: float) -> list[Cut]:
        flat = [(-inf, inf, floor, inf)]
        rows_of = [(x - 2.5, x + 2.5, -inf, inf) for x in (-apart / 2, apart / 2)]
        return [*flat, *rows_of] if name.endswith("bolts") else flat

    holds(result, cuts)
    moduli = [row[3:] for name, row in rows(result, "parts").items() if name.endswith("bolts")]
    assert result.answers.holes_left == pytest.approx(min(min(row) for row in moduli))
