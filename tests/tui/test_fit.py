"""A fitting put on the spar from its pane, by its keys."""

import pytest

from shopcompanion.errors import InputFault
from shopcompanion.lengths import show
from shopcompanion.spar.fitting import Fitting
from shopcompanion.tui.picker import LineEntry
from shopcompanion.tui.put_on import put_on
from shopcompanion.tui.session import Session

from .conftest import INCH, NORMAL, SMALL, WIDE, Opener, own_copy, spar_of

BITT = "bowsprit bitt"


def laps(session: Session) -> list[Fitting]:
    return [fitting for fitting in spar_of(session).fittings if fitting.kind == "lap"]


@pytest.mark.parametrize("key", ["f4", "insert"])
async def test_it_is_put_on_at_the_station_named_told_undone_and_saved(desk: Opener, home, key: str) -> None:
    path = own_copy(home)
    before = path.read_text(encoding="utf-8")
    async with desk(spar=BITT, at="20 in") as it:
        await it.find("lap")
        await it.press(key)
        assert isinstance(it.app.screen, LineEntry)
        assert "Lap at 20 in: what for? (optional)" in it.text
        await it.press(*"norman", "enter")
        (lap,) = laps(it.session)
        answers = it.session.shown().result.answers
        assert (lap.name, lap.face) == ("norman", "A")
        assert lap.at == pytest.approx(20 * INCH)
        assert lap.flat == pytest.approx(answers.lap_depth, abs=0.003)
        assert it.told[-1] == f"lap (norman) put on {BITT} at 20 in; ^Z takes it back, ^S saves the boat"
        assert any("norman" in line for line in it.lines[1:9])  # on the strip
        assert it.session.unsaved
        await it.press("ctrl+z")
        assert laps(it.session) == []
        assert it.told[-1] == f"undone: lap (norman) on {BITT}"
        assert it.session.state.text == before
        await it.press("ctrl+n", "ctrl+s")
        assert not it.session.unsaved
        saved = path.read_text(encoding="utf-8")
        assert saved.count("\n") == before.count("\n") + 1
        assert 'kind = "lap", name = "norman"' in saved


def test_what_has_a_place_of_its_own_is_put_there_wherever_the_station_is(session: Session) -> None:
    """A hinge at the joint that its flat is reckoned for, jaws at the gaff's heel, a bar at a station that is typed."""
    for spar, calculator, typed, at in (
        ("main mast", "hinge", {"joint_at": "2 ft", "leaf_length": "2"}, 2 * 12),
        ("boom", "jaws", {}, 0),
        ("boom", "inlay", {"at": "50"}, 50),
    ):
        session.choose_spar(spar)
        session.calculator, session.at = calculator, 30 * INCH
        for name, text in typed.items():
            session.type(name, text)
        before = spar_of(session).fittings
        told = put_on(session, "new")
        (new,) = (fitting for fitting in spar_of(session).fittings if fitting not in before)
        assert new.at == pytest.approx(at * INCH)
        assert told.endswith(f"put on {spar} at {show(new.at, session.rule)}")


async def test_its_name_may_be_left_empty_and_may_not_be_too_long(desk: Opener) -> None:
    async with desk(spar=BITT, at="20 in") as it:
        await it.find("lap")
        await it.press("f4", "enter")
        assert laps(it.session)[0].name is None
        assert it.told[-1].startswith(f"lap put on {BITT} at 20 in; ")
        await it.press("f4", "escape")
        assert len(laps(it.session)) == 1


async def test_what_is_typed_is_what_is_put_on(desk: Opener) -> None:
    async with desk(spar=BITT, at="20 in") as it:
        await it.find("lap")
        await it.write("2")
        await it.press("f4", "enter")
        (lap,) = laps(it.session)
        assert (lap.length, lap.flat) == (pytest.approx(2 * INCH), pytest.approx(1 * INCH))


async def test_where_there_is_nothing_to_put_on_the_reason_is_told(desk: Opener) -> None:
    async with desk(spar=BITT, at="20 in") as it:
        await it.press("f4")
        assert not isinstance(it.app.screen, LineEntry)
        assert it.told[-1] == "facets has nothing to put on a spar; hinge, lap and flat do"
        await it.find("lap")
        await it.write("2-1/")
        await it.press("f4")
        assert "stock_thickness" in it.told[-1]
        assert not it.session.unsaved


async def test_without_a_boat_it_says_so(desk: Opener) -> None:
    async with desk(None) as it:
        await it.find("lap")
        await it.press("f4")
        assert it.told[-1] == "no boat is open; open or make one first"


async def test_it_is_in_the_finder(desk: Opener) -> None:
    async with desk(spar=BITT, at="20 in") as it:
        await it.find("lap")
        await it.find("put this fitting")
        await it.press("enter")
        assert len(laps(it.session)) == 1


@pytest.mark.parametrize("size", [SMALL, NORMAL, WIDE])
async def test_the_key_stands_on_the_bar_only_where_it_does_something(desk: Opener, size: tuple[int, int]) -> None:
    async with desk(spar=BITT, at="20 in", size=size) as it:
        assert "F4 fit" not in it.said("#keys")
        await it.find("lap")
        assert "F4 fit" in it.said("#keys")


def test_a_fitting_that_the_spar_cannot_take_changes_nothing(session: Session) -> None:
    session.calculator = "lap"
    session.type("stock_thickness", "20")
    before = session.state
    with pytest.raises(InputFault, match="the lap at 5 ft"):
        put_on(session, "too long")
    assert session.state is before


def test_a_boat_without_a_spar_is_told(session: Session) -> None:
    session.calculator = "lap"
    session.spar_name = ""
    with pytest.raises(InputFault, match="no spar is chosen"):
        put_on(session)


def test_in_millimetres_it_is_written_in_millimetres(session: Session) -> None:
    session.calculator = "lap"
    session.next_unit()
    session.type("crossing_width", "60")
    put_on(session, "x")
    assert 'length = "60 mm"' in session.state.text


def test_a_square_spar_takes_a_fitting_without_a_word_on_rounding(session: Session) -> None:
    session.choose_spar(BITT)
    assert "no rounding" in session.said_of_section()
    session.calculator = "lap"
    assert session.said_of_section() == ""


@pytest.mark.parametrize(
    ("spar", "calculator", "typed", "goes"),
    [
        ("mizzen mast", "hinge", {"joint_at": "7 ft"}, ("hinge", 84)),  # where its parts meet
        ("boom", "jaws", {}, ("jaws", 0)),  # at the heel, wherever the station is
        ("boom", "flat", {"flat_width": "1", "at": "6 ft"}, ("other", 72)),
        ("boom", "inlay", {"at": "6 ft"}, ("bar", 72)),
        ("boom", "bore", {}, ("bolt", 5)),
        (BITT, "lap", {"positions": "14 in"}, ("lap", 14)),
    ],
)
def test_it_goes_where_it_was_reckoned(
    session: Session, spar: str, calculator: str, typed: dict[str, str], goes: tuple[str, float]
) -> None:
    session.choose_spar(spar)
    session.go_to(5 * INCH)
    session.calculator = calculator
    for name, text in typed.items():
        session.type(name, text)
    before = spar_of(session).fittings
    put_on(session, "x")
    (new,) = (fitting for fitting in spar_of(session).fittings if fitting not in before)
    assert (new.kind, new.at) == (goes[0], pytest.approx(goes[1] * INCH))


async def test_every_lap_that_is_asked_for_is_put_on_and_undone_at_once(desk: Opener, home) -> None:
    path = own_copy(home)
    before = path.read_text(encoding="utf-8")
    async with desk(spar=BITT, at="5 in") as it:
        await it.find("lap")
        await it.press(*["down"] * 6)
        assert it.field == "positions"
        await it.write("22 in; 14 in", "f4")
        assert "2 laps at 14 in and 22 in: what for?" in it.text
        await it.press(*"cavil", "enter")
        assert [(lap.name, lap.at) for lap in laps(it.session)] == [
            ("cavil", pytest.approx(14 * INCH)),
            ("cavil", pytest.approx(22 * INCH)),
        ]
        assert it.told[-1] == f"2 laps (cavil) put on {BITT} at 14 in and 22 in; ^Z takes it back, ^S saves the boat"
        text = it.session.state.text
        assert text.count('kind = "lap"') == before.count('kind = "lap"') + 2
        assert [line for line in text.splitlines() if line not in before] == [
            line for line in text.splitlines() if "cavil" in line
        ]
        await it.press("f4")
        assert f"{BITT} already has this at 14 in (lap); see its sheet" in it.told[-1]
        await it.press("ctrl+z")
        assert it.session.state.text == before


@pytest.mark.parametrize(
    ("positions", "said"),
    [
        ("6 in", "6 in"),
        ("6 in; 9 in; 14 in", "6 in, 9 in and 14 in"),
        ("6 in; 9 in; 14 in; 17 in; 20 in", "6 in to 20 in"),
    ],
)
def test_where_they_go_is_said_in_few_words(session: Session, positions: str, said: str) -> None:
    session.choose_spar(BITT)
    session.calculator = "lap"
    session.type("positions", positions)
    session.type("crossing_width", "1")
    assert put_on(session).endswith(f"put on {BITT} at {said}")


def test_of_several_none_is_put_on_where_one_cannot_be(session: Session) -> None:
    session.choose_spar(BITT)
    session.calculator = "lap"
    session.type("positions", "14 in")
    put_on(session)
    before = session.state
    session.type("positions", "9 in; 14 in; 20 in")
    text = session.state.text
    with pytest.raises(InputFault, match="already has this at 14 in"):
        put_on(session)
    assert session.state.text == text == before.text


def test_what_is_there_already_is_not_put_on_twice(session: Session) -> None:
    session.choose_spar("mizzen mast")
    session.calculator = "hinge"
    with pytest.raises(InputFault, match="mizzen mast already has this at 5 ft"):
        put_on(session)
    assert not session.unsaved
    session.type("face", "C")
    put_on(session)
    assert session.unsaved


def test_what_follows_the_spar_is_of_the_place_that_is_typed(session: Session) -> None:
    """The boom by hand: 2-1/8 in at its heel and 2-5/8 in at 7 ft 10 in, so 2.125 + 0.5·72/94 in at 6 ft."""
    session.choose_spar("boom")
    session.calculator = "flat"
    session.type("at", "6 ft")
    result = session.shown().result
    assert result is not None
    assert result.inputs.diameter == pytest.approx((2.125 + 0.5 * 72 / 94) * INCH)
    assert result.answers.depth_headward > result.answers.depth_heelward
    session.type("at", "60 ft")  # not on the spar: the station counts
    assert session.follows()["spar.at"] == pytest.approx(session.at)


async def test_a_fitting_without_a_kind_is_asked_for_by_its_place(desk: Opener) -> None:
    async with desk(spar="mizzen mast", at="8 ft") as it:
        await it.find("flat")
        await it.press("down", "1")
        await it.press("f4")
        assert "Fitting at 8 ft: what for? (optional)" in it.text


async def test_a_hinge_makes_its_joint_with_one_question_and_goes_with_one_undo(desk: Opener) -> None:
    async with desk() as it:  # the mizzen's hinge is at 5 ft; the boom has none
        await it.press("ctrl+l", *"boom", "enter")
        await it.find("hinge")
        before = it.session.state.text
        assert it.session.spar is not None
        assert it.session.spar.joints == ()
        await it.press("f4")
        assert "has no hinge yet. Where is it, from the heel?" in it.text
        await it.press("ctrl+u", *"4 ft 6", "enter")
        joint = it.session.spar.joints[-1]
        assert (joint.kind, joint.at) == ("hinge", 1371.6)
        fitting = next(fitting for fitting in it.session.spar.fittings if fitting.kind == "hinge")
        assert fitting.at == pytest.approx(1371.6)
        assert "hinge joint made, hinge put on boom at 4 ft 6 in" in it.told[-1]
        assert "^Z takes it back" in it.told[-1]
        assert "4 ft 6 in" in it.lines[0]
        await it.press("ctrl+z")
        assert it.session.state.text == before


async def test_a_hinge_beyond_the_spar_is_refused_where_it_is_typed(desk: Opener) -> None:
    async with desk() as it:
        await it.press("ctrl+l", *"boom", "enter")
        await it.find("hinge")
        before = it.session.state.text
        await it.press("f4", "ctrl+u", *"400 ft", "enter")
        assert "✗" in it.text
        await it.press("escape")
        assert it.session.state.text == before


async def test_what_makes_nothing_says_so(desk: Opener) -> None:
    async with desk() as it:
        await it.press("f4")
        assert it.told[-1] == "facets has nothing to put on a spar; hinge, lap and flat do"
