"""The linear programme of a new target, against brute force and against scipy's HiGHS; and what the log leans on.

Nothing here uses the companion's own rows: widths, bends and means are written again from what they mean.

- Brute force: every meeting of as many constraints as there are unknowns is tried, and grids; of faired spars a grid
  of factors, for they are no linear programme.
- Tip-loaded cone held at its wide end, δ = 64·P·L³/(3π·E·d₀³·d₁): computed, proved by integration.
- Mean width of a convex section is its girth / π (Cauchy, from memory): checked with shapely.
"""

from itertools import combinations, product
from math import cos, pi, radians, sin

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog
from shapely import Point, affinity
from shapely.geometry import Polygon

from shopcompanion.spar.outline import Outline
from shopcompanion.spar.programme import simplex
from shopcompanion.spar.target import kept, new_target

from ..examples import share
from ..spars import limits, outlines

Array = np.ndarray


def straight(design: Outline, measured: list[tuple[float, float]]) -> tuple[Array, Array, Array]:
    """The programme over (widths in mm at the stations, least part): maximise gain·x with A·x ≤ b."""
    ats, was = map(np.array, zip(*design.stations, strict=True))
    n = len(ats)
    unit = np.eye(n)
    rows, bounds = [], []
    for k in range(n):
        rows += [np.append(unit[k], 0), np.append(-unit[k], was[k])]  # not over the design; not under the least part
        bounds += [was[k], 0]
    for at, width in measured:
        rows.append(np.append([np.interp(at, ats, unit[k]) for k in range(n)], 0))
        bounds.append(width)
    for k in range(1, n - 1):
        bend = np.zeros(n)
        left, right = ats[k] - ats[k - 1], ats[k + 1] - ats[k]
        bend[k - 1 : k + 2] = 1 / left, -1 / left - 1 / right, 1 / right
        slack = np.interp(ats[k], ats[[k - 1, k + 1]], was[[k - 1, k + 1]]) - was[k]
        scale = left * right / (left + right)  # as heights of the chord over the station
        rows += [np.append(bend * scale, 0), np.append(-bend * scale, 0)]
        bounds += [max(slack, 0), max(-slack, 0)]
    mean = np.array([np.trapezoid(unit[k], ats) for k in range(n)]) / np.trapezoid(was, ats)
    return np.append(mean, 1.0), np.array(rows), np.array(bounds)


def bowed(design: Outline, measured: list[tuple[float, float]]) -> tuple[Array, Array, Array]:
    """The same for (full width, heel, head, least part); the full width is at the one station in between."""
    (_, heel), (middle, full), (length, head) = design.stations

    def shape(at: float) -> list[float]:
        part = ((middle - at) / middle) ** 2 if at < middle else ((at - middle) / (length - middle)) ** 2
        return [1 - part, part, 0, 0] if at < middle else [1 - part, 0, part, 0]

    rows: list[list[float]] = [[1, 0, 0, 0], [0, 1, 0, 0], [0, 0, 1, 0]]
    rows += [[-1, 0, 0, full], [0, -1, 0, heel], [0, 0, -1, head], [-1, 1, 0, 0], [-1, 0, 1, 0]]
    bounds = [full, heel, head, 0, 0, 0, 0, 0]
    for end, row in ((heel, [1, -1, 0, 0]), (head, [1, 0, -1, 0])):
        if end == full:  # a stretch of full width stays one
            rows.append(row)
            bounds.append(0)
    for at, width in measured:
        rows.append(shape(at))
        bounds.append(width)
    ats = np.linspace(0, length, 20001)
    mean = np.trapezoid(np.array([shape(at) for at in ats]), ats, axis=0)
    was = mean @ [full, heel, head, 0]
    return mean / was + [0, 0, 0, 1], np.array(rows), np.array(bounds)


def unknowns(design: Outline, new: Outline) -> list[float]:
    """The programme's x of a target, with its least part measured from the lines themselves."""
    parts = [new.width_at(at) / design.width_at(at) for at in np.linspace(0, design.length, 201)]
    parts += [width / was for (_, width), (_, was) in zip(new.stations, design.stations, strict=True)]
    if design.law == "straight":
        return [*(width for _, width in new.stations), min(parts)]
    (_, heel), (_, full), (_, head) = new.stations
    return [full, heel, head, min(parts)]


PROGRAMMES = {"straight": straight, "bowed": bowed}


@st.composite
def cases(draw: st.DrawFn, law: str, most: int) -> tuple[Outline, list[tuple[float, float]]]:
    design = draw(outlines((law,), most=most))
    if law == "bowed":
        assume(len(design.stations) == 3)
    measured = draw(limits(design, most=4))
    return design, measured


@pytest.mark.parametrize(("law", "most"), [("straight", 8), ("bowed", 1)])
@given(st.data())
def test_no_better_is_found_by_highs(law: str, most: int, data: st.DataObject) -> None:
    design, measured = data.draw(cases(law, most))
    gain, rows, bounds = PROGRAMMES[law](design, measured)
    told = linprog(-gain, A_ub=rows, b_ub=bounds, method="highs")
    assert told.status == 0
    x = np.array(unknowns(design, new_target(design, measured)))
    assert (rows @ x <= bounds + 1e-6).all()
    assert gain @ x == pytest.approx(-told.fun, abs=1e-6)


@pytest.mark.parametrize(("law", "most"), [("straight", 1), ("bowed", 1)])
@given(st.data())
@settings(max_examples=share(20))
def test_no_corner_is_better(law: str, most: int, data: st.DataObject) -> None:
    """A programme's best is at a corner: all of them are tried, with x ≥ 0 among the constraints."""
    design, measured = data.draw(cases(law, most))
    gain, rows, bounds = PROGRAMMES[law](design, measured)
    all_rows, all_bounds = np.vstack([rows, -np.eye(len(gain))]), np.append(bounds, np.zeros(len(gain)))
    best = -1.0
    for chosen in combinations(range(len(all_rows)), len(gain)):
        some = all_rows[list(chosen)]
        if abs(np.linalg.det(some / np.linalg.norm(some, axis=1, keepdims=True))) < 1e-9:
            continue
        corner = np.linalg.solve(some, all_bounds[list(chosen)])
        if (all_rows @ corner <= all_bounds + 1e-7).all():
            best = max(best, gain @ corner)
    x = np.array(unknowns(design, new_target(design, measured)))
    assert gain @ x == pytest.approx(best, abs=1e-5)


def test_no_point_of_a_grid_is_better() -> None:
    """The mizzen of the yawl, 3 mm thin at five feet: heel, partners and head by half millimetres."""
    design = Outline(((0.0, 63.5), (609.6, 69.85), (3429.0, 44.45)))
    at = 1524.0
    measured = [(at, design.width_at(at) - 3), (2400.0, design.width_at(2400.0) + 1)]
    gain, rows, bounds = straight(design, measured)
    ours = np.array(unknowns(design, new_target(design, measured)))
    best, tried = 0.0, 0
    for lost in product(np.arange(0, 10.5, 0.5), repeat=3):
        widths = np.array([63.5, 69.85, 44.45]) - lost
        x = np.append(widths, min(widths / [63.5, 69.85, 44.45]))
        if (rows @ x <= bounds + 1e-9).all():
            tried += 1
            best = max(best, gain @ x)
    assert tried > 100
    assert best <= gain @ ours
    assert best == pytest.approx(gain @ ours, abs=0.01)  # within what half a millimetre makes


@pytest.mark.parametrize("law", ["faired", "skene 1927 gaff", "kemp 1880 bowsprit"])
@given(st.data())
@settings(max_examples=share(10))
def test_no_faired_line_is_better(law: str, data: st.DataObject) -> None:
    """Every pair of factors at heel and head by hundredths, each with its own line faired anew through its widths."""
    design = data.draw(outlines((law,), most=3))
    measured = data.draw(limits(design, most=2))
    length = design.length
    ats = [length * k / 40 for k in range(41)]
    was = np.array([design.width_at(at) for at in ats])

    def worth(heel: float, head: float) -> float:
        parts = heel + (head - heel) * np.linspace(0, 1, 41)
        return float(np.trapezoid(parts * was) / np.trapezoid(was)) + min(heel, head)

    best = 0.0
    for heel, head in product(np.arange(0.5, 1.001, 0.01), repeat=2):
        if worth(heel, head) > best:
            line = [(at, width * (heel + (head - heel) * at / length)) for at, width in design.stations]
            faired = Outline(tuple(line), "faired")
            if all(faired.width_at(at) <= width + 1e-9 for at, width in measured):
                best = worth(heel, head)
    new = new_target(design, measured)
    heel, head = (new.stations[k][1] / design.stations[k][1] for k in (0, -1))
    assert best - 0.005 <= worth(heel, head) <= best + 0.03  # a step of a hundredth makes two of these


@given(
    st.integers(1, 6).flatmap(
        lambda n: st.tuples(
            st.lists(st.integers(-5, 9), min_size=n, max_size=n),
            st.lists(st.tuples(st.lists(st.integers(-4, 6), min_size=n, max_size=n), st.integers(0, 12)), max_size=8),
        )
    )
)
def test_simplex_against_highs_on_any_programme(case: tuple[list[int], list[tuple[list[int], int]]]) -> None:
    gain, rows = case
    n = len(gain)
    rows = [*rows, *(([int(k == j) for k in range(n)], 7) for j in range(n))]  # so that it is bounded
    best = simplex(gain, [dict(enumerate(map(float, row))) for row, _ in rows], [float(most) for _, most in rows])
    matrix, most = np.array([row for row, _ in rows]), np.array([bound for _, bound in rows])
    assert min(best) >= 0
    assert (matrix @ best <= most + 1e-9).all()
    told = linprog([-amount for amount in gain], A_ub=matrix, b_ub=most, method="highs")
    assert np.dot(gain, best) == pytest.approx(-told.fun, abs=1e-7)


@given(st.floats(20, 150), st.floats(0.3, 1), st.floats(0.8, 1), st.floats(0.8, 1), st.floats(500, 8000))
def test_stiffness_of_a_cone_held_at_its_heel(
    heel: float, taper: float, low: float, high: float, length: float
) -> None:
    """δ goes with 1/(d₀³·d₁), so what is kept is the same of the new over the same of the old."""
    was = Outline(((0.0, heel), (length, heel * taper)))
    now = Outline(((0.0, heel * low), (length, heel * taper * high)))
    told = kept((was, was), (now, now))
    assert told.stiffness_tip == pytest.approx(low**3 * high, rel=1e-4)
    assert told.stiffness_worst == pytest.approx(min(low, high) ** 4)
    assert told.strength_worst == pytest.approx(min(low, high) ** 3)


@pytest.mark.parametrize(
    "section",
    [
        affinity.scale(Point(0, 0).buffer(1, quad_segs=90), 30, 24),
        Polygon([(0, 0), (60, 2), (58, 61), (30, 70), (-3, 50)]),
        Point(0, 0).buffer(25, quad_segs=2),
    ],
    ids=["oval", "any", "eight"],
)
def test_a_girth_tells_the_mean_width(section: Polygon) -> None:
    xy = np.array(section.exterior.coords)
    widths = [np.ptp(xy @ [cos(radians(turn / 4)), sin(radians(turn / 4))]) for turn in range(720)]
    assert section.length / pi == pytest.approx(float(np.mean(widths)), rel=1e-5)
