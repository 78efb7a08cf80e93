"""What was measured against what is meant: states, out of round, humps, and what cannot be."""

from itertools import pairwise
from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcompanion.errors import InputFault
from shopcompanion.spar.log import MeasuredStation, humps, measured_stations
from shopcompanion.spar.measures import Measure
from shopcompanion.spar.outline import Outline

from .spars import outlines

POLE = Outline(((0.0, 60.0), (3000.0, 30.0)))


def at_size(at: float, over: float) -> MeasuredStation:
    return MeasuredStation(at, 50.0, 50.0 + over, 50.0 + over, 50.0 + over, 0.0)


def test_a_station_by_hand() -> None:
    (station,) = measured_stations(POLE, [Measure(1000.0, (52.0, 50.5, 51.5))])
    assert station == MeasuredStation(1000.0, 50.0, 50.5, pytest.approx(154 / 3), 52.0, 1.5)
    assert station.to_come_off == pytest.approx(4 / 3)


def test_a_girth_is_the_mean_width_and_tells_nothing_of_how_round_it_is() -> None:
    (station,) = measured_stations(POLE, [Measure(1000.0, (), 51.0 * pi)])
    assert (station.least, station.mean, station.most) == (pytest.approx(51),) * 3
    assert station.out_of_round is None


def test_an_oval_is_measured_by_turns() -> None:
    measures = [Measure(1000.0, (52.0, 61.0, 51.0, 60.0)), Measure(2000.0, (41.0, 50.0))]
    across = measured_stations(POLE, measures, 0)
    assert [(station.least, station.most, station.out_of_round) for station in across] == [(51, 52, 1), (41, 41, None)]
    deep = measured_stations(Outline(((0.0, 70.0), (3000.0, 40.0))), measures, 1)
    assert [(station.least, station.most, station.out_of_round) for station in deep] == [(60, 61, 1), (50, 50, None)]
    for wrong in (Measure(0.0, (60.0, 61.0, 60.0)), Measure(0.0, (), 180.0)):
        with pytest.raises(InputFault, match="its width & its depth"):
            measured_stations(POLE, [wrong], 0)


def test_the_later_of_two_measures_at_a_station_holds() -> None:
    measures = [Measure(2000.0, (45.0, 45.0)), Measure(1000.0, (55.0, 55.0)), Measure(2000.0 + 1e-9, (41.0, 41.0))]
    assert [(round(station.at), station.mean) for station in measured_stations(POLE, measures)] == [
        (1000, 55),
        (2000, 41),
    ]


def test_the_head_is_on_the_spar_whatever_the_last_digit_says() -> None:
    assert measured_stations(POLE, [Measure(3000.0000000001, (30.0, 31.0))])[0].meant == 30


@pytest.mark.parametrize(
    ("measure", "words"),
    [
        (Measure(3001.0, (30.0, 30.0)), "measure at 3001 mm lies beyond the head, which is at 3000 mm"),
        (Measure(0.0, (60.0, 1600.0)), "at 0 mm: 1600 mm where 60 mm is meant; is it in another unit?"),
        (Measure(0.0, (60.0, 2.4)), "at 0 mm: 2.4 mm where 60 mm is meant"),
        (Measure(0.0, (), 7.5), "is it in another unit?"),
    ],
)
def test_what_cannot_be_is_refused(measure: Measure, words: str) -> None:
    with pytest.raises(InputFault, match=words.replace("?", r"\?")) as caught:
        measured_stations(POLE, [measure])
    assert caught.value.field == "measured"


@pytest.mark.parametrize(
    ("least", "most", "state"),
    [
        (50.0, 50.0, "at size"),
        (49.7, 50.3, "at size"),
        (49.6, 50.4, "at size"),
        (49.5, 49.5, "thin"),
        (49.5, 52.0, "thin"),  # what is gone does not come back, whatever its other side says
        (50.0, 50.5, "to come off"),
        (51.0, 52.0, "to come off"),
    ],
)
def test_the_state_of_a_station(least: float, most: float, state: str) -> None:
    assert MeasuredStation(0.0, 50.0, least, (least + most) / 2, most, most - least).state(0.4 + 1e-12) == state


def test_too_thick_by_as_much_everywhere_is_fair() -> None:
    assert humps([at_size(at, 3.0) for at in (0.0, 400.0, 500.0, 2000.0)]) == (None, 0.0, 0.0, None)


def test_too_thick_by_a_straight_line_is_fair() -> None:
    told = humps([at_size(at, 1 + at / 500) for at in (0.0, 400.0, 500.0, 2000.0)])
    assert told[1:3] == (pytest.approx(0, abs=1e-12),) * 2


def test_fewer_than_three_stations_tell_of_no_hump() -> None:
    assert humps([]) == ()
    assert humps([at_size(0.0, 1.0), at_size(10.0, 2.0)]) == (None, None)


@given(st.lists(st.tuples(st.integers(1, 500), st.floats(-5, 5)), min_size=3, max_size=8))
def test_humps_are_second_divided_differences(rows: list[tuple[int, float]]) -> None:
    """The parabola through three faults, by numpy's fit: half its second derivative is the divided difference."""
    ats = np.cumsum([run for run, _ in rows]).astype(float)
    over = [fault for _, fault in rows]
    told = humps([at_size(at, fault) for at, fault in zip(ats, over, strict=True)])
    for k in range(1, len(rows) - 1):
        x = (ats[k - 1 : k + 2] - ats[k]) / 500
        bend = np.linalg.solve(np.vander(x), over[k - 1 : k + 2])[0]
        assert told[k] == pytest.approx(float(bend * x[0] * x[2]), abs=1e-6)


@given(outlines(), st.data())
def test_stations_come_in_order_and_hold_together(design: Outline, data: st.DataObject) -> None:
    parts = data.draw(st.lists(st.floats(0, 1), max_size=6))
    measures = []
    for part in parts:
        meant = design.width_at(design.length * part)
        sizes = data.draw(st.lists(st.floats(0.8, 1.3), min_size=2, max_size=4))
        measures.append(Measure(design.length * part, tuple(meant * size for size in sizes)))
    stations = measured_stations(design, measures)
    assert len(stations) <= len(measures)
    assert all(a.at < b.at for a, b in pairwise(stations))
    for station in stations:
        assert station.least <= station.mean + 1e-9
        assert station.mean <= station.most + 1e-9
        assert station.out_of_round == station.most - station.least


@pytest.mark.parametrize(
    ("sizes", "state"),
    [
        ((49.5, 50.5), "at size"),  # half a millimetre is allowed, to either side
        ((49.4375, 50.0), "thin"),
        ((50.0, 50.5625), "to come off"),
        ((49.4375, 50.5625), "thin"),  # what has gone does not come back
    ],
)
def test_the_tolerance_is_at_size_and_the_next_hair_is_not(sizes: tuple[float, float], state: str) -> None:
    (station,) = measured_stations(POLE, [Measure(1000.0, sizes)])
    assert station.state(0.5) == state


def test_five_times_the_design_is_still_a_spar() -> None:
    assert measured_stations(POLE, [Measure(1000.0, (250.0, 250.0))])[0].mean == 250
    with pytest.raises(InputFault, match="251 mm where 50 mm is meant"):
        measured_stations(POLE, [Measure(1000.0, (250.0, 251.0))])
    assert measured_stations(POLE, [Measure(1000.0, (25.0, 25.0))])[0].mean == 25
