"""Changes of a session, without a screen: presets, what is unsaved, undo and redo."""

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shopcompanion.catalog import NAMES, load
from shopcompanion.errors import InputFault
from shopcompanion.profile.parse import read
from shopcompanion.profile.records import Preset
from shopcompanion.storage.store import Places, find, open_boat, save
from shopcompanion.tui.session import Session

from ..examples import share
from .conftest import YAWL, inches, own_copy, session_on, spar_of

# --- presets ------------------------------------------------------------------------------------------------------


def names(session: Session) -> list[str]:
    return [preset.name for preset in session.presets()]


def test_presets_are_those_of_this_calculator_for_this_spar_or_any(session: Session) -> None:
    assert names(session) == ["mizzen at the partners, fine"]
    session.calculator = "drum"
    assert names(session) == ["rubber on the drum"]
    session.choose_spar("main mast")
    assert names(session) == ["main mast on the 5 in drum", "rubber on the drum"]


def test_a_preset_is_kept_used_renamed_and_dropped(session: Session) -> None:
    first = session.state.text
    session.calculator = "roundover"
    session.type("bit_radius", "3/4")
    session.type("passes", "4")
    session.keep_preset("small bit")
    assert session.unsaved
    preset = session.presets()[-1]
    assert (preset.name, preset.spar, preset.inputs) == ("small bit", None, (("bit_radius", "3/4 in"), ("passes", "4")))
    session.type("passes", "9")
    session.use_preset(preset)
    assert dict(session.texts()) == {"bit_radius": "3/4 in", "passes": "4"}
    session.rename_preset(preset, "the small bit")
    assert names(session)[-1] == "the small bit"
    session.drop_preset(session.presets()[-1])
    assert session.state.text == first
    assert not session.unsaved


def test_a_preset_means_the_same_when_it_is_used_in_other_units(session: Session) -> None:
    session.type("width", "3")
    session.keep_preset("three")
    session.next_unit()
    session.use_preset(session.presets()[-1])
    assert inches(session, "width") == 3


def test_what_cannot_be_kept_is_refused(session: Session) -> None:
    with pytest.raises(InputFault, match="nothing is typed here"):
        session.keep_preset("nothing")
    session.type("width", "3-1/")
    with pytest.raises(InputFault) as caught:
        session.keep_preset("half typed")
    assert caught.value.field == "width"
    session.type("width", "3")
    with pytest.raises(InputFault):
        session.keep_preset(" ")
    assert not session.unsaved


def test_without_a_boat_nothing_can_be_kept() -> None:
    session = Session()
    session.type("width", "3")
    with pytest.raises(InputFault, match="no boat is open"):
        session.keep_preset("three")


# --- unsaved, undo, redo ------------------------------------------------------------------------------------------


def test_unsaved_is_that_the_text_differs_from_what_was_saved(home: Places) -> None:
    own_copy(home)
    session = session_on(home)
    session.open(open_boat(find(home, YAWL)))
    session.type("width", "3")
    assert not session.unsaved  # what is typed is not the boat's
    session.keep_preset("three")
    assert session.unsaved
    assert session.opened is not None
    session.saved(save(home, session.opened, session.state.text))
    assert not session.unsaved
    session.undo()
    assert session.unsaved  # now it is the text before that is not on the disk
    session.redo()
    assert not session.unsaved


def test_letters_of_one_field_are_undone_together(session: Session) -> None:
    for text in ("3", "3-", "3-1", "3-1/2"):
        session.type("width", text)
    session.type("ridge_ok", "1")
    session.type("ridge_ok", "1/64")
    assert session.undo() == "typing in Ridge for sanding"
    assert dict(session.texts()) == {"width": "3-1/2"}
    assert session.undo() == "typing in Width across flats"
    assert dict(session.texts()) == {}
    assert session.undo() == ""
    assert session.redo() == "typing in Width across flats"
    assert session.redo() == "typing in Ridge for sanding"
    assert session.redo() == ""
    assert dict(session.texts()) == {"width": "3-1/2", "ridge_ok": "1/64"}


def test_typing_after_a_move_is_a_change_of_its_own(session: Session) -> None:
    session.type("width", "3")
    session.end_run()
    session.type("width", "4")
    session.undo()
    assert dict(session.texts()) == {"width": "3"}


def test_the_same_input_in_two_calculators_is_two_changes(session: Session) -> None:
    session.calculator = "taper"
    session.type("length", "10 ft")
    session.end_run()
    session.calculator = "facets"
    session.type("width", "3")
    session.undo()
    assert dict(session.state.typed["taper"]) == {"length": "10 ft"}


def test_a_new_change_forgets_what_was_undone(session: Session) -> None:
    session.type("width", "3")
    session.undo()
    session.type("ridge_ok", "1/64")
    assert session.redo() == ""
    assert dict(session.texts()) == {"ridge_ok": "1/64"}


TEXTS = st.sampled_from(["", "3", "3-1/2", "3-1/", "70 mm", "4 +", "5 ft", "½", "x", "3 in", "1725"])


def type_in(session: Session, calculator: str, index: int, text: str) -> None:
    session.end_run()
    session.calculator = calculator
    fields = load(calculator).typed_fields
    session.type(fields[index % len(fields)].name, text)


def with_preset(act: Callable[[Session, Preset], None]) -> Callable[[Session, int], None]:
    def acting(session: Session, index: int) -> None:
        presets = session.presets()
        if presets:
            act(session, presets[index % len(presets)])

    return acting


INDEX = st.integers(0, 5)
STEPS: dict[Callable[..., object], tuple[st.SearchStrategy[Any], ...]] = {
    type_in: (st.sampled_from(NAMES), INDEX, TEXTS),
    lambda session, index: session.choose_spar(session.boat.spars[index].name): (INDEX,),
    Session.step: (st.sampled_from([-1, 1]),),
    Session.keep_preset: (st.sampled_from(["one", "two", "rubber on the drum", " ", 'it\'s "x" \\ ½']),),
    with_preset(Session.use_preset): (INDEX,),
    with_preset(Session.drop_preset): (INDEX,),
    with_preset(lambda session, preset: session.rename_preset(preset, "another")): (INDEX,),
    Session.next_unit: (),
    Session.next_rule: (),
    Session.keep_rule: (),
    Session.undo: (),
    Session.redo: (),
    Session.end_run: (),
}
STEP = st.sampled_from(list(STEPS)).flatmap(lambda act: st.tuples(st.just(act), *STEPS[act]))


def done(session: Session, act: Callable[..., object], *given: object) -> None:
    """Do one thing as the app would; a refusal changes nothing."""
    before = session.state
    try:
        act(session, *given)
    except InputFault as refused:
        fault = refused
    else:
        return
    assert str(fault).isprintable()
    assert (session.state.text, session.state.typed) == (before.text, before.typed)


@given(steps=st.lists(STEP, max_size=25))
@settings(max_examples=share(25), suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_whatever_is_done_undo_takes_all_of_it_back_and_redo_does_it_again(
    home: Places, steps: list[tuple[Callable[..., object], object]]
) -> None:
    session = session_on(home)
    first = session.state.text
    for step in steps:
        done(session, *step)
        assert session.unsaved == (session.state.text != first)
        assert read(session.state.text).faults == ()
        assert 0 <= session.at <= spar_of(session).length
        shown = session.shown()
        assert (shown.result is None) <= shown.stale
    while session.redo():
        pass
    last = session.state
    while session.undo():
        pass
    assert session.state.text == first
    assert not any(session.state.typed.values())
    while session.redo():
        pass
    assert (session.state.text, session.state.typed) == (last.text, last.typed)


def test_a_faulty_boat_opens_with_what_is_sound_and_all_its_faults(home: Places) -> None:
    text = (home.examples / f"{YAWL}.toml").read_text(encoding="utf-8")
    broken = text.replace('length = "11 ft 9 in"', 'length = "eleven"').replace("drums = [", "drumms = [")
    own_copy(home, "leaky", broken)
    session = Session()
    session.open(open_boat(find(home, "leaky")))
    assert [spar.name for spar in session.boat.spars] == [
        "main mast",
        "gaff",
        "mizzen mast",
        "bowsprit",
        "bowsprit bitt",
    ]
    assert {fault.key for fault in session.faults} >= {"length", "drumms"}
    assert not session.unsaved
