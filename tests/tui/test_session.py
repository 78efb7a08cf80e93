"""The session, without a screen: what follows the boat, where the station stops, units, faults."""

from bisect import bisect_left, bisect_right

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shopcompanion.catalog import NAMES
from shopcompanion.errors import InputFault
from shopcompanion.lengths import RULES
from shopcompanion.storage.store import Places, new_boat, open_boat
from shopcompanion.tui.session import Session

from .conftest import FOOT, INCH, LUGGER, answer, example, inches, session_on, spar_of, value

INCH_32, MM_HALF = RULES[2], RULES[5]


# --- following ----------------------------------------------------------------------------------------------------


def test_a_boat_opens_on_its_first_spar_in_the_middle_by_its_own_rule(home: Places) -> None:
    session = Session()
    session.open(open_boat(example(home)))
    assert session.spar_name == "main mast"
    assert session.rule == INCH_32
    assert session.at == pytest.approx(9 * FOOT)
    assert not session.unsaved


def test_fields_follow_the_spar_at_its_station(session: Session) -> None:
    # From 2 ft, 2-3/4 in, to 11 ft 3 in, 1-3/4 in, in a straight line: at 5 ft 2-3/4 in - 1 in · 36/111.
    wide = (2.75 - 36 / 111) * INCH
    assert value(session, "width") == pytest.approx(wide)
    session.calculator = "taper"
    assert [value(session, name) for name in ("length", "butt", "head", "at", "blank")] == pytest.approx(
        [135 * INCH, 2.5 * INCH, 1.75 * INCH, 60 * INCH, 3 * INCH]
    )
    session.calculator = "drum"
    assert [value(session, name) for name in ("drum", "belt_length", "widest", "narrowest", "rpm")] == pytest.approx(
        [4 * INCH, 24 * INCH, 2.75 * INCH, 1.75 * INCH, 1725]
    )
    session.calculator = "roundover"
    assert value(session, "stock") == pytest.approx(wide)


@pytest.mark.parametrize("calculator", NAMES)
def test_answers_are_the_calculators_own(session: Session, calculator: str) -> None:
    session.calculator = calculator
    shown = session.shown()
    assert not shown.stale
    assert shown.result is not None
    assert shown.result.as_json() == answer(calculator, dict(session.follows()), session.rule).as_json()


def test_answers_move_along_with_the_station(session: Session) -> None:
    before = session.shown().result
    session.step(1)
    after = session.shown().result
    assert before is not None
    assert after is not None
    assert after.answers.facet_8 < before.answers.facet_8  # the mast thins towards the head


def test_typing_cuts_the_link_and_an_empty_field_follows_again(session: Session) -> None:
    followed = value(session, "width")
    session.type("width", "3-1/2")
    assert inches(session, "width") == 3.5
    session.step(1)
    assert inches(session, "width") == 3.5
    session.step(-1)
    session.type("width", "")
    assert value(session, "width") == followed


# --- the station --------------------------------------------------------------------------------------------------


def test_the_station_stops_at_every_foot_joint_fitting_and_end(session: Session) -> None:
    spar = spar_of(session)
    wanted = {*(k * FOOT for k in range(12)), spar.length, 14 * INCH, 33 * INCH}
    assert session.stops() == pytest.approx(sorted(wanted))
    session.choose_spar("main mast")
    assert {part.at for part in (*spar_of(session).joints, *spar_of(session).fittings)} <= set(session.stops())


def test_every_half_metre_on_a_metric_boat(home: Places) -> None:
    session = session_on(home, LUGGER, "yard", 0)
    spar = spar_of(session)
    marks = {part.at for part in (*spar.stations, *spar.joints, *spar.fittings)}
    assert {0.0, spar.length} <= marks
    assert session.stops() == pytest.approx(sorted({*marks, *(k * 500.0 for k in range(int(spar.length / 500) + 1))}))


@given(part=st.floats(0, 1), by=st.sampled_from([-1, 1]))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_a_step_goes_to_the_next_stop_that_way(session: Session, part: float, by: int) -> None:
    stops = session.stops()
    start = part * spar_of(session).length
    session.go_to(start)
    place = bisect_right(stops, start + 1e-6) if by > 0 else bisect_left(stops, start - 1e-6) - 1
    moved = session.step(by)
    assert moved == (0 <= place < len(stops))
    assert session.at == (stops[place] if moved else start)


def test_stepping_from_end_to_end_and_back_meets_every_stop(session: Session) -> None:
    session.go_to(0)
    there, back = [session.at], []
    while session.step(1):
        there.append(session.at)
    back = [session.at]
    while session.step(-1):
        back.append(session.at)
    assert there == list(session.stops()) == back[::-1]


@pytest.mark.parametrize(
    ("at", "said"),
    [
        (-INCH, "-1 in lies beyond the heel, which is at 0 in"),
        (12 * FOOT, "12 ft lies beyond the head, which is at 11 ft 3 in"),
    ],
)
def test_no_station_beyond_an_end(session: Session, at: float, said: str) -> None:
    with pytest.raises(InputFault) as caught:
        session.go_to(at)
    assert str(caught.value) == said
    assert session.at == pytest.approx(5 * FOOT)


def test_without_a_spar_there_is_no_station(home: Places) -> None:
    session = Session()
    session.open(open_boat(new_boat(home, "Bare hull", "in").listing))
    assert session.spar is None
    assert session.stops() == ()
    assert not session.step(1)
    assert not session.step(-1)
    with pytest.raises(InputFault, match="no spar is chosen"):
        session.go_to(0)
    shown = session.shown()
    assert shown.result is None
    assert [str(fault) for fault in shown.faults] == ["width: width across flats is needed, as 3-1/2 in"]


# --- units and rule -----------------------------------------------------------------------------------------------


def test_a_typed_bare_number_keeps_its_meaning_in_other_units(session: Session) -> None:
    session.calculator = "drum"
    session.type("drum", "5")
    session.type("outline", "0 = 3; 60 = 2")
    session.type("rpm", "1140")
    meant = [value(session, name) for name in ("drum", "outline", "rpm")]
    session.next_unit()
    assert session.rule == MM_HALF
    assert dict(session.texts()) == {"drum": "5 in", "outline": "0 = 3 in; 60 in = 2 in", "rpm": "1140"}
    assert [value(session, name) for name in ("drum", "outline", "rpm")] == meant
    session.next_unit()
    assert session.rule == INCH_32  # the boat's own, not just any in inches
    assert [value(session, name) for name in ("drum", "outline", "rpm")] == meant


def test_and_so_do_those_that_undo_and_redo_go_to(session: Session) -> None:
    for text in ("2", "3", "4"):
        session.type("width", text)
        session.end_run()
    session.undo()
    session.next_unit()
    assert inches(session, "width") == 3
    session.undo()
    assert inches(session, "width") == 2
    session.redo()
    session.redo()
    assert inches(session, "width") == 4
    session.next_unit()
    session.undo()
    assert inches(session, "width") == 3


def test_half_typed_text_stays_as_it_is(session: Session) -> None:
    session.type("width", "3-1/")
    session.next_unit()
    assert dict(session.texts()) == {"width": "3-1/"}


def test_a_number_typed_after_the_change_is_in_the_new_units(session: Session) -> None:
    session.next_unit()
    session.type("width", "70")
    assert value(session, "width") == 70


def test_the_rules_of_a_unit_go_round(session: Session) -> None:
    seen = []
    for _ in range(4):
        session.next_rule()
        seen.append(str(session.rule))
    assert seen == ["1/64 in", "1/8 in", "1/16 in", "1/32 in"]
    session.next_unit()
    for _ in range(3):
        session.next_rule()
        seen.append(str(session.rule))
    assert seen[4:] == ["0.1 mm", "1 mm", "0.5 mm"]


def test_the_rule_in_force_can_become_the_boats_own(session: Session) -> None:
    session.next_unit()
    session.keep_rule()
    assert session.boat.units == "mm"
    assert session.boat.rule == session.rule
    assert session.unsaved
    session.undo()
    assert session.boat.rule == INCH_32
    assert not session.unsaved


# --- another spar -------------------------------------------------------------------------------------------------


def test_another_spar_lets_go_of_what_belonged_to_this_one_and_keeps_the_shops(session: Session) -> None:
    session.type("width", "2")
    session.type("ridge_ok", "1/64")
    session.calculator = "drum"
    session.type("widest", "2")
    session.type("drum", "5")
    session.end_run()
    session.type("belt_length", "36")
    session.choose_spar("boom")
    assert dict(session.texts()) == {"drum": "5", "belt_length": "36"}
    session.calculator = "facets"
    assert dict(session.texts()) == {"ridge_ok": "1/64"}
    while session.undo():
        for calculator in NAMES:
            session.calculator = calculator
            assert not {"width", "widest"} & set(session.texts())


def test_the_same_spar_again_lets_go_of_nothing(session: Session) -> None:
    session.type("width", "2")
    session.choose_spar("mizzen mast")
    assert dict(session.texts()) == {"width": "2"}
    assert session.at == pytest.approx(5 * FOOT)


# --- faults -------------------------------------------------------------------------------------------------------


def test_a_fault_keeps_the_last_answers(session: Session) -> None:
    good = session.shown().result
    session.type("width", "3-1/")
    shown = session.shown()
    assert shown.stale
    assert shown.result == good
    assert [fault.field for fault in shown.faults] == ["width"]
    session.type("width", "3-1/2")
    assert not session.shown().stale


def test_last_answers_are_shown_by_the_rule_in_force(session: Session) -> None:
    session.shown()
    session.type("width", "x")
    session.next_unit()
    result = session.shown().result
    assert result is not None
    assert result.rule == session.rule


def test_inputs_that_contradict_one_another_are_a_fault_of_one_of_them(session: Session) -> None:
    session.calculator = "drum"
    session.shown()
    session.type("narrowest", "3")
    shown = session.shown()
    assert [str(fault) for fault in shown.faults] == ["narrowest: 3 in is wider than the spar's widest, 2-3/4 in"]
    assert shown.result is not None


def test_last_answers_of_another_boat_are_gone(home: Places, session: Session) -> None:
    session.shown()
    session.open(open_boat(new_boat(home, "Bare hull", "in").listing))
    assert session.shown().result is None
