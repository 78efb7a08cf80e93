"""The wood as it stands between the steps, against areas of polygons by their own formula and the spar's own body."""

from itertools import pairwise
from math import pi, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopcompanion.card.standing import Change, Standing, changes
from shopcompanion.card.steps import steps
from shopcompanion.profile.parse import read
from shopcompanion.spar.section import ROUND

from ..examples import share
from ..storage.conftest import DEMOS, demo

GRID = 60  # places each way


def area(standing: Standing) -> float:
    """By counting places of a fine grid that have wood."""
    x, y = standing.width / GRID, standing.depth / GRID
    places = [k + 0.5 - GRID / 2 for k in range(GRID)]
    return x * y * sum(standing.holds(i * x, j * y) for i in places for j in places)


@pytest.mark.parametrize("sides", [8, 16, 32])
def test_a_polygon_has_the_area_of_its_formula(sides: int) -> None:
    """n·tan(π/n)/4 of the square of its width across flats (geometry)."""
    cuts = tuple((n, 1.0) for n in (8, 16, 32) if n <= sides)
    wanted = sides * tan(pi / sides) / 4 * 60.0**2
    assert area(Standing("", 60.0, 60.0, cuts)) == pytest.approx(wanted, rel=0.015)
    assert area(Standing("", 60.0, 90.0, cuts)) == pytest.approx(wanted * 1.5, rel=0.015)
    assert area(Standing("", 60.0, 90.0, cuts, True)) == pytest.approx(pi * 60 * 90 / 4, rel=0.015)


@given(st.floats(0, 1))
@settings(max_examples=share(12))
def test_half_cut_corners_lie_between(share: float) -> None:
    """Eight sides cut to a share: what is off the square goes with the square of it."""
    full = 60.0**2 * (1 - 8 * tan(pi / 8) / 4)
    off = 60.0**2 - area(Standing("", 60.0, 60.0, ((8, share),)))
    assert off == pytest.approx(full * share**2, abs=60.0**2 * 0.012)


def every(boat: str, spar: str, at: float) -> tuple[Change, ...]:
    of = read(demo(boat)).boat
    standings = of.spar(spar)
    return changes(of, standings, steps(of, standings, of.rule), at)


@pytest.mark.parametrize("boat", DEMOS)
def test_wood_only_comes_off_and_what_is_left_is_the_body(boat: str) -> None:
    of = read(demo(boat)).boat
    for spar in of.spars:
        for at in (0.0, spar.length / 2):
            standings = every(boat, spar.name, at)
            stops = [standings[0].before, *(change.after for change in standings)]
            areas = [area(stop) for stop in dict.fromkeys(stops)]
            assert areas == sorted(areas, reverse=True), (spar.name, at)
            assert all(a.after == b.before for a, b in pairwise(standings))
            last, section = stops[-1], spar.body().section_at(at)
            if section.heelward.kind == section.headward.kind:
                holed = spar.section in ("hollow", "staves")
                outside = pi * last.width * last.depth / 4 if holed else section.area
                assert area(last) == pytest.approx(outside, rel=0.015), (spar.name, at)


def test_the_mizzen_at_five_feet_in_words() -> None:
    """By hand: 2-3/4 − 36/111 in there, out of 3 in; 0.20711 of it off the corner for eight."""
    standings = every("saltmarsh-yawl", "mizzen mast", 1524.0)
    here = (2.75 - 36 / 111) * 25.4
    assert [(change.off, round(change.size, 3)) for change in standings if change.off] == [
        ("{} off B and off D", round((76.2 - here) / 2, 3)),
        ("{} off A and off C", round((76.2 - here) / 2, 3)),
        ("{} off the corner", round(here * 0.2071068, 3)),
        ("{} off the corner", round(here * 0.0411961, 3)),
        ("{} off the corner", round(here * 0.0097961, 3)),
    ]
    assert standings[-1].after.cuts == ((8, 1.0), (16, 1.0), (32, 1.0))


def test_the_square_heel_stays_square() -> None:
    last = every("saltmarsh-yawl", "mizzen mast", 100.0)[-1].after
    assert (last.cuts, last.round, last.name) == ((), False, "square, as it stays here")
    assert every("saltmarsh-yawl", "mizzen mast", 1524.0)[-1].after.round
    assert ROUND not in [sides for sides, _ in last.cuts]
