"""How thick a spar is along its length."""

import itertools
from math import inf

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from shopcompanion.errors import InputFault
from shopcompanion.spar.faired import batten
from shopcompanion.spar.outline import LAWS, Outline
from shopcompanion.spar.tables import PUBLISHED

STRAIGHT = Outline(((0, 60), (600, 80), (3000, 40)))
BOWED = Outline(((0, 60), (600, 80), (900, 80), (3000, 40)), "bowed")


@st.composite
def outlines(draw: st.DrawFn, laws: tuple[str, ...] = LAWS) -> Outline:
    width = st.floats(5, 500)
    law = draw(st.sampled_from(laws))
    if law in PUBLISHED:
        length = draw(st.floats(500, 9999))
        return Outline.published(law, length, length * draw(st.just(0.0) | st.floats(0.01, 0.95)), draw(width))
    ats = [0.0, *sorted(draw(st.sets(st.integers(1, 9999), min_size=1, max_size=6)))]
    if law != "bowed":
        return Outline(tuple((float(at), draw(width)) for at in ats), law)
    ends = (draw(width), draw(width))
    widest = max(*ends, draw(width)) if len(ats) > 2 else 0.0
    inner = [(float(at), widest) for at in ats[1:-1]]
    return Outline(((0.0, ends[0]), *inner, (float(ats[-1]), ends[1])), "bowed")


@pytest.mark.parametrize(
    ("spar", "at", "width"),
    [
        (STRAIGHT, 0, 60),
        (STRAIGHT, 300, 70),
        (STRAIGHT, 600, 80),
        (STRAIGHT, 1800, 60),
        (STRAIGHT, 3000, 40),
        (BOWED, 0, 60),
        (BOWED, 300, 75),  # 80 − 20·(1/2)²
        (BOWED, 600, 80),
        (BOWED, 750, 80),
        (BOWED, 1950, 70),  # 80 − 40·(1/2)²
        (BOWED, 3000, 40),
    ],
)
def test_width_at(spar: Outline, at: float, width: float) -> None:
    assert spar.width_at(at) == pytest.approx(width, rel=1e-12)


@pytest.mark.parametrize(("at", "end"), [(-0.001, "heel"), (3000.001, "head"), (inf, "head")])
def test_beyond_either_end_is_refused(at: float, end: str) -> None:
    for look in (STRAIGHT.width_at, STRAIGHT.slope_at, STRAIGHT.piece_at):
        with pytest.raises(InputFault, match=f"beyond the {end}") as caught:
            look(at)
        assert caught.value.field == "at"


@pytest.mark.parametrize(
    ("stations", "law", "words"),
    [
        ((), "straight", "a width at 0, the heel, and at the head"),
        (((0, 60),), "straight", "a width at 0, the heel, and at the head"),
        (((10, 60), (3000, 40)), "straight", "a width at 0, the heel, and at the head"),
        (((0, 60), (900, 50), (900, 50), (3000, 40)), "straight", "stands after the one"),
        (((0, 60), (900, 50), (600, 55), (3000, 40)), "straight", "600 mm stands after the one at 900 mm"),
        (((0, 60), (3000, 0)), "straight", "every width must be more than 0"),
        (((0, 60), (900, -1), (3000, 40)), "straight", "every width must be more than 0"),
        (((0, 60), (900, 70), (1200, 80), (3000, 40)), "bowed", "only at its ends and where it has its full width"),
        (((0, 60), (1500, 80), (3000, 60)), "steel 1794 yard", "are not those of steel 1794 yard"),
        (((0, 55.8), (1500, 60), (3000, 45.1)), "skene 1927 gaff", "are not those of skene 1927 gaff"),
        (((0, 40), (3000, 60)), "kemp 1880 bowsprit", "are not those of kemp 1880 bowsprit"),
    ],
)
def test_stations_that_make_no_spar_are_refused(stations, law: str, words: str) -> None:
    with pytest.raises(InputFault, match=words):
        Outline(stations, law)


@given(outlines(), st.floats(0, 1))
def test_a_width_lies_between_those_of_its_piece(spar: Outline, part: float) -> None:
    at = part * spar.length
    (x0, w0), (x1, w1) = spar.piece_at(at)
    assert x0 <= at <= x1
    assert min(w0, w1) - 1e-9 <= spar.width_at(at) <= max(w0, w1) + 1e-9
    assert spar.narrowest - 1e-9 <= spar.width_at(at) <= spar.widest + 1e-9


@given(outlines())
def test_stations_keep_their_width(spar: Outline) -> None:
    for at, width in spar.stations:
        assert spar.width_at(at) == pytest.approx(width, rel=1e-12)


@given(outlines(("straight", "bowed")), st.floats(0.001, 0.999))
def test_the_slope_is_what_the_width_does(spar: Outline, part: float) -> None:
    at = part * spar.length
    (x0, _), (x1, _) = spar.piece_at(at)
    h = min(at - x0, x1 - at) / 2
    assume(h > 1e-3)
    fallen = (spar.width_at(at - h) - spar.width_at(at + h)) / (2 * h)  # exact for a line and a parabola
    assert spar.slope_at(at) == pytest.approx(fallen, abs=1e-8)


@given(outlines(), st.floats(0, 1))
def test_crossings_are_all_the_places_of_a_width(spar: Outline, part: float) -> None:
    width = spar.narrowest + part * (spar.widest - spar.narrowest)
    stations = spar.crossings(width)
    assert list(stations) == sorted(set(stations))
    for at in stations:
        # a steep piece turns the last digit of a station into more digits of the width
        assert spar.width_at(min(at, spar.length)) == pytest.approx(width, abs=1e-6)
    for k in range(200):
        low, high = spar.length * k / 200, min(spar.length * (k + 1) / 200, spar.length)
        if (spar.width_at(low) - width) * (spar.width_at(high) - width) < 0:
            assert any(low <= at <= high for at in stations)


@pytest.mark.parametrize("law", PUBLISHED)
@pytest.mark.parametrize("part", [0.0, 0.3, 0.9])
def test_a_published_spar_is_largest_where_it_is_said_to_be(law: str, part: float) -> None:
    spar = Outline.published(law, 5000.0, 5000 * part, 90.0)
    assert (spar.law, spar.length, spar.widest) == (law, 5000, 90)
    assert spar.widest_at == 5000 * part
    assert spar.width_at(5000 * part) == 90
    assert spar.width_at(5000) < 90
    assert Outline(spar.stations, law) == spar
    assert [Outline(spar.stations, "faired").width_at(at) for at in (1.0, 4000.0)] == [
        spar.width_at(1.0),
        spar.width_at(4000.0),
    ]


@pytest.mark.parametrize("at", [-1.0, 5000.0, 5001.0])
def test_a_table_leaves_room_towards_the_head(at: float) -> None:
    with pytest.raises(InputFault, match="between the heel and the head"):
        Outline.published("steel 1794 yard", 5000.0, at, 90.0)


def test_the_full_width_may_run_for_a_stretch() -> None:
    assert Outline(((0, 50), (500, 80), (900, 80), (3000, 40)), "faired").widest_at == 900
    assert Outline.published("skene 1927 gaff mast", 6000.0, 900.0, 80.0).width_at(450) == 80


def test_a_bowed_spar_falls_away_slowly_from_its_widest() -> None:
    quarters = [BOWED.width_at(900 + 525 * k) for k in range(5)]
    assert quarters == [80, 77.5, 70, 57.5, 40]
    assert BOWED.slope_at(900) == 0
    assert BOWED.crossings(70) == (pytest.approx(600 - 600 * 0.5**0.5), pytest.approx(1950))


@given(outlines(), st.floats(20, 5000))
def test_steps_are_every_step_and_every_station_once(spar: Outline, step: float) -> None:
    stations = spar.steps(step)
    assert stations[0] == 0
    assert stations[-1] == spar.length
    assert {at for at, _ in spar.stations} <= set(stations)
    gaps = [b - a for a, b in itertools.pairwise(stations)]
    assert all(1e-7 < gap <= step * (1 + 1e-9) for gap in gaps)
    for k in range(int(spar.length / step) + 1):
        assert any(abs(k * step - at) < 1e-5 for at in stations)


@given(outlines(), st.integers(1, 100))
def test_equal_parts_begin_at_the_heel_and_end_at_the_head(spar: Outline, parts: int) -> None:
    stations = spar.evenly(parts)
    assert stations[0] == 0
    assert stations[-1] == spar.length
    assert {at for at, _ in spar.stations} <= set(stations)
    assert all(0 < b - a <= spar.length / parts * (1 + 1e-9) for a, b in itertools.pairwise(stations))


def test_a_table_has_an_end() -> None:
    assert len(Outline(((0, 60), (2000, 40))).steps(1)) == 2001
    with pytest.raises(InputFault, match="more than 2000 stations") as caught:
        Outline(((0, 60), (2001, 40))).steps(1)
    assert caught.value.field == "station_step"


def test_where_it_is_widest_takes_one_look_for_the_width(monkeypatch: pytest.MonkeyPatch) -> None:
    """With a look at every station, the card of a thousand of them takes a minute and a half."""
    looks = []
    outline = Outline(((0.0, 40.0), (500.0, 60.0), (900.0, 60.0), (1000.0, 30.0)), "straight")
    widest = Outline.widest.fget  # type: ignore[attr-defined]
    monkeypatch.setattr(Outline, "widest", property(lambda self: looks.append(self) or widest(self)))
    assert outline.widest_at == 900
    assert len(looks) == 1


def test_a_width_at_a_station_is_crossed_there_once() -> None:
    assert STRAIGHT.crossings(80) == (600,)
    assert STRAIGHT.crossings(60) == (0, 1800)
    waist = Outline(((0, 60), (500, 40), (900, 70)))
    assert waist.crossings(40) == (500,)
    assert waist.crossings(39.9) == ()


def test_how_far_a_spar_is_thicker_about_one_of_its_humps() -> None:
    twice = Outline(((0, 60), (500, 100), (1000, 60), (1500, 100), (2000, 60)))
    assert twice.thicker(80, 500) == (250, 750)
    assert twice.thicker(80, 1500) == (1250, 1750)
    assert twice.thicker(50, 1500) == (0, 2000)


def test_a_batten_over_two_even_shoulders_stands_highest_half_way_by_hand() -> None:
    """40, 60, 60 and 40 mm, 1 m apart: the bends b at both shoulders are alike, 5·b = 6·(0 − 20), so −24 mm a square
    metre; half way between them the natural spline stands 2·24/16 = 3 mm over the level curve."""
    points = ((0.0, 40.0), (1000.0, 60.0), (2000.0, 60.0), (3000.0, 40.0))
    assert batten(points) == (pytest.approx(3.0), pytest.approx(1500))
    sunk = tuple((at, 100 - width) for at, width in points)
    assert batten(sunk) == (pytest.approx(-3.0), pytest.approx(1500))


def test_spars_are_the_same_when_stations_and_law_are() -> None:
    assert Outline(((0, 60), (2000, 40))) == Outline(((0, 60), (2000, 40)))
    assert Outline(((0, 60), (2000, 40))) != Outline(((0, 60), (2000, 40)), "bowed")
    assert Outline(((0, 60), (2000, 40))) != ((0, 60), (2000, 40))


def test_a_largest_width_a_hair_from_the_heel_is_at_the_heel() -> None:
    spar = Outline.published("steel 1794 gaff", 4000.0, 1e-7, 80.0)
    assert spar.stations[0] == (0.0, 80.0)
    assert len(spar.stations) == 5
    assert Outline.published("steel 1794 gaff", 4000.0, 0.5, 80.0).stations[:2] == ((0.0, 80.0), (0.5, 80.0))


def test_a_width_is_more_than_nothing_however_thin() -> None:
    assert Outline(((0, 1.0), (100, 0.5))).narrowest == 0.5
    for width in (0.0, -0.5):
        with pytest.raises(InputFault, match="more than 0"):
            Outline(((0, 1.0), (100, width)))


def test_a_batten_over_a_plain_taper_lies_on_it_and_is_told_at_the_heel() -> None:
    assert batten([(0.0, 60.0), (1000.0, 40.0)]) == (0.0, 0.0)
