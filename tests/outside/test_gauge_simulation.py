"""The spar gauge slewed in numbers: two round pins turned about until they touch the two edges of the work.

No formula of the gauge stands here. shapely (shapely.org, 2.1 and later) measures distances between points and edges,
scipy finds the angle at which the pins touch; the right line is that of a regular octagon drawn inside the face.
"""

from math import cos, hypot, pi, radians, sin, tan

import numpy as np
import pytest
import shapely
from scipy.optimize import brentq, fsolve, minimize_scalar

from ..asking import ask, typed

LONG = 10000.0
MAST = ((0.0, 82.55), (2743.2, 95.25), (5638.8, 63.5))
INCH = 25.4


def slewed(width: float, pin: float, spacing: float, pencil: float) -> float:
    """How far from the edge the pencil is when both pins touch; the bar turns about the middle of the work."""
    work = shapely.box(-LONG, -width / 2, LONG, width / 2)

    def gap(turn: float) -> float:
        return work.distance(shapely.Point(spacing / 2 * cos(turn), spacing / 2 * sin(turn))) - pin / 2

    square_across = gap(pi / 2) < 1e-9  # no clearance
    turn = pi / 2 if square_across else brentq(gap, pi / 2, 1e-6, xtol=1e-14)
    along = spacing / 2 - pencil
    mark = shapely.Point(along * cos(turn), along * sin(turn))
    return mark.distance(shapely.LineString([(-LONG, width / 2), (LONG, width / 2)]))


def octagon_line(width: float) -> float:
    """From the edge of a face to the corner of the regular octagon about the circle that the face just holds."""
    half = width / 2
    return half - half * sin(radians(22.5)) / cos(radians(22.5))


@pytest.mark.parametrize("pin", [4.0, 6.35, 12.7, 19.05])
@pytest.mark.parametrize("clearance", [0.0, 0.4, 6.0])
@pytest.mark.parametrize(
    ("ratio", "exact_at"),
    [("true", "widest"), ("true", "middle"), ("true", "narrowest"), ("7:10:7", "widest"), ("5:7:5", "widest"),
     ("12:17:12", "widest")],
)  # fmt: skip
def test_the_marks_and_errors_along_a_spar(pin: float, clearance: float, ratio: str, exact_at: str) -> None:
    result = ask(
        "gauge",
        widest=95.25,
        narrowest=63.5,
        outline=MAST,
        pin=pin,
        clearance=clearance,
        ratio=ratio,
        exact_at=exact_at,
    )
    answers = result.answers
    rows = result.as_json()["tables"]["stations"]["rows"]
    assert {0.0, 2743.2, 5638.8} <= {row[0] for row in rows}
    for _, width, marks, right, error, _ in rows:
        simulated = slewed(width, pin, answers.pin_spacing, answers.pencil_from_pin)
        assert marks == pytest.approx(simulated, abs=1e-6)
        assert right == pytest.approx(octagon_line(width), abs=1e-9)
        assert error == pytest.approx(simulated - octagon_line(width), abs=1e-6)
    worst = max((row[4] for row in rows), key=abs)
    assert abs(answers.error_worst) == pytest.approx(abs(worst), abs=1e-9)


@pytest.mark.parametrize("exact_at", ["widest", "middle", "narrowest"])
def test_the_pencil_is_where_a_search_puts_it(exact_at: str) -> None:
    """At one end: where the simulated error is nought. For the middle: where the larger error of both ends is least."""
    wide, thin, pin = 101.6, 50.8, 12.7
    answers = ask("gauge", widest=wide, narrowest=thin, pin=pin, clearance=1.0, exact_at=exact_at).answers

    def error(width: float, pencil: float) -> float:
        return slewed(width, pin, answers.pin_spacing, pencil) - octagon_line(width)

    if exact_at == "middle":
        search = minimize_scalar(
            lambda a: max(abs(error(wide, a)), abs(error(thin, a))), bounds=(20, 50), method="bounded",
            options={"xatol": 1e-9},
        )  # fmt: skip
        assert answers.pencil_from_pin == pytest.approx(search.x, abs=1e-5)
        assert abs(answers.error_worst) == pytest.approx(search.fun, abs=1e-5)
    else:
        width = wide if exact_at == "widest" else thin
        assert answers.pencil_from_pin == pytest.approx(brentq(lambda a: error(width, a), 20, 50), abs=1e-6)


def test_both_ways_of_an_oval() -> None:
    widths = ((0.0, 46.0), (2300.0, 52.0), (3850.0, 42.0))
    depths = ((0.0, 54.0), (2300.0, 66.0), (3850.0, 48.0))
    result = ask("gauge", widest=52.0, narrowest=42.0, outline=widths, depths=depths, pin=6.0, clearance=0.5)
    answers, tables = result.answers, result.as_json()["tables"]
    assert answers.inside == pytest.approx(66.5)  # it goes over the depth as well
    for name, stations in (("stations", widths), ("depths", depths)):
        rows = {row[0]: row for row in tables[name]["rows"]}
        for at, size in stations:
            assert rows[at][1] == pytest.approx(size)
            assert rows[at][2] == pytest.approx(
                slewed(size, 6.0, answers.pin_spacing, answers.pencil_from_pin), abs=1e-6
            )


@pytest.mark.parametrize("ratio", ["true", "7:10:7", "5:7:5"])
def test_the_facets_that_come_of_it(ratio: str) -> None:
    """The square's corners cut off along the gauge's marks: what is left of the sides, and the corners' new facets."""
    result = ask("gauge", widest=101.6, narrowest=63.5, pin=12.7, clearance=0.0, ratio=ratio)
    for _, width, *_, difference in result.as_json()["tables"]["stations"]["rows"]:
        mark = slewed(width, 12.7, result.answers.pin_spacing, result.answers.pencil_from_pin)
        corner = shapely.Polygon([(0, 0), (mark, 0), (0, mark)])
        eight = shapely.box(0, 0, width, width)
        for turned in range(4):
            eight = eight.difference(shapely.affinity.rotate(corner, 90 * turned, origin=(width / 2, width / 2)))
        ring = np.asarray(eight.normalize().exterior.simplify(1e-9).coords)
        sides = [(hypot(*step), abs(step[0] * step[1]) < 1e-6) for step in np.diff(ring, axis=0)]
        side = sum(length for length, straight in sides if straight) / 4
        facet = sum(length for length, straight in sides if not straight) / 4
        assert difference == pytest.approx(side - facet, abs=1e-6)


def test_thinner_pins_keep_within_a_division() -> None:
    """At the thickness advised the simulated error at the thin end is a division of the rule, and no more below it."""
    asked = {"widest": 101.6, "narrowest": 63.5, "division": INCH / 64}
    good = ask("gauge", pin=12.7, **asked).answers.pin_good
    assert good is not None
    for part, inside in ((0.99, True), (1.0, None), (1.01, False)):
        answers = ask("gauge", pin=good * part, **asked).answers
        error = abs(slewed(63.5, good * part, answers.pin_spacing, answers.pencil_from_pin) - octagon_line(63.5))
        if inside is None:
            assert error == pytest.approx(INCH / 64, abs=1e-6)
        else:
            assert (error < INCH / 64) == inside


def test_the_rule_laid_slantwise() -> None:
    """Turned till its nought and its 24 lie on the edges; the ticks' distances from the edges, measured."""
    answers = typed("gauge", widest="3-3/4", narrowest="2-1/2").answers
    for width in (95.25, 63.5):
        turn = brentq(lambda t, width=width: answers.slant_span * sin(t) - width, 0, pi / 2)
        near, far = (tick * sin(turn) for tick in (answers.slant_near, answers.slant_far))
        assert near == pytest.approx(width - far)
        # the same part short of the octagon's line at every width: no error of pins
        assert near - octagon_line(width) == pytest.approx(answers.slant_error * width / 95.25, abs=1e-9)


@pytest.mark.parametrize(("per_foot", "shift"), [(1 / 16, 0.004), (1 / 8, 0.007), (1 / 4, 0.014)])
def test_on_a_taper_the_edges_are_near_enough_to_parallel(per_foot: float, shift: float) -> None:
    """What the sums leave out: the edges that the pins touch close in. It shifts both lines one way, under 1/64 in.

    The mast, 3-3/4 in at the widest, where it is 2-1/2 in; the bar's middle over the centre line's station 0.
    """
    pin, width, lean = 6.35, 63.5, per_foot / 24  # of each edge to the centre line
    answers = ask("gauge", widest=95.25, narrowest=width, pin=pin, clearance=0.4).answers

    def edge(x: float, sign: int) -> float:
        return sign * (width / 2 - lean * x)

    def off(x: float, y: float, sign: int) -> float:
        return (sign * y - sign * edge(x, sign)) * cos(np.arctan(lean))  # square to the edge, outward

    def touching(pose: np.ndarray) -> list[float]:
        up, turn = pose
        ends = [
            (j * answers.pin_spacing / 2 * cos(turn), up + j * answers.pin_spacing / 2 * sin(turn), j) for j in (1, -1)
        ]
        return [off(*end) - pin / 2 for end in ends]

    up, turn = fsolve(touching, [0.0, 0.7], xtol=1e-13)
    shifts = []
    for sign in (1, -1):
        along = sign * (answers.pin_spacing / 2 - answers.pencil_from_pin)
        x, y = along * cos(turn), up + along * sin(turn)
        parallel = slewed(2 * edge(x, 1), pin, answers.pin_spacing, answers.pencil_from_pin)
        shifts.append((-off(x, y, sign) - parallel) / INCH)
    assert 0.8 * shift < shifts[0] < shift < 1 / 64
    assert sum(shifts) == pytest.approx(0, abs=1e-4)  # one line out, the other in


def test_the_trades_ratios_against_the_octagon() -> None:
    """Computed: the side of the octagon is tan 22.5° of the square, so the right part is (1 − tan 22.5°)/2."""
    right = (1 - tan(pi / 8)) / 2
    assert right == pytest.approx(0.2928932188, abs=5e-11)
    for ratio, part in (("7:10:7", 7 / 24), ("5:7:5", 5 / 17), ("12:17:12", 12 / 41)):
        # pins as thin as threads, no clearance: only the ratio errs
        answers = ask("gauge", widest=1000.0, narrowest=500.0, pin=1e-6, clearance=0.0, ratio=ratio).answers
        assert answers.error_widest / 1000 == pytest.approx(part - right, abs=1e-8)
        assert answers.error_narrowest / 500 == pytest.approx(part - right, abs=1e-8)
    assert 7 / 24 - right == pytest.approx(-0.0012266, abs=5e-8)
