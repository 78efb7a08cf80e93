"""From nothing to the card and the plan, in a real terminal of 80 x 24, by keys alone and with no look at a file."""

from pathlib import Path

import pytest

from shopcompanion.profile.parse import read

from .test_terminal import ESCAPE, Starter, Terminal, ctrl, start

__all__ = ["start"]  # the fixture of the terminal
INSERT, F3, F6, TAB = "\x1b[2~", "\x1bOR", "\x1b[17~", "\t"


def test_a_boat_of_ones_own_with_a_hinged_mast_to_its_card_and_its_timber(start: Starter, tmp_path: Path) -> None:
    it = start()
    new_boat(it)
    hinged_mast(it)
    shop_and_timber(it)
    measure_and_card(it)
    plan(it)
    it.press(ctrl("s"))
    it.until("dabchick saved")
    it.press(ctrl("q"))
    assert it.ended() == 0
    check(tmp_path / "boats")


def new_boat(it: Terminal) -> None:
    it.until("Saltmarsh yawl", "^O boat")
    it.press(ctrl("o"))
    it.until("new boat …", "^N new")
    it.press(ctrl("n"))
    it.until("Name of the new boat")
    it.press("Dabchick\r")
    it.until("measured in", "inches", "millimetres")
    it.press("\r")
    it.until("how does it begin", "empty", "like saltmarsh-yawl")
    it.press("\r")
    it.until("no spar yet", "2 the first spar ^L", "3 the shop F3", "4 yard and timber F3")


def hinged_mast(it: Terminal) -> None:
    it.press(ctrl("l"))
    answers = (("Name of the new spar", "main mast"), ("length", "14 ft"), ("heel", "3-1/2"), ("head", "2-1/4"))
    for asked, said in answers:
        it.until(asked)
        it.press(f"{said}\r")
    it.until("main mast is on the trestles", "Dabchick › main mast", without="no spar yet")
    it.until("Next: the shop: saw, bits, drum, F3")

    it.press(ctrl("f") + "hinge\r")
    it.until("What is the widest hinge", without="Find")
    it.press(INSERT)
    it.until("has no hinge yet. Where is it, from the heel?")
    it.press(f"{ctrl('u')}4 ft\r")
    it.until("hinge joint made, hinge put on main mast at 4 ft", "◇▾ hinge")


def shop_and_timber(it: Terminal) -> None:
    it.press(F3)
    it.until("[shop]", "1/8 in is assumed")
    it.press("1/8\r3-1/8\r2-1/8\r1/8\r")
    it.until("1/8 in", "3-1/8 in", "2-1/8 in", without="1/8 in is assumed")
    it.press(ctrl("y"))
    it.until("[bits]", "no rows yet")
    it.press(f"roundover{TAB}3/4\r")
    it.until("3/4 in")
    it.press(ctrl("y") * 3)
    it.until("[timber]", "no rows yet")
    it.press(f"plank{TAB}sitka{TAB}6 x 6{TAB}{TAB}{TAB}16 ft\r")
    it.until("Spruce, Sitka", "16 ft", without="✗")
    it.press(ESCAPE)
    it.until("^F find", "Dabchick › main mast", without="[timber]")
    assert "Next:" not in it.text


def measure_and_card(it: Terminal) -> None:
    it.press(ctrl("d"))
    it.until("[measure]", "Off each")
    it.press("3-7/16\r")
    it.until("3-7/16", "The spar is:")
    it.press(ESCAPE)
    it.until("^F find", without="[measure]")

    it.press(ctrl("k"))
    it.until("steps done", "[ ]  1")
    it.press(" ")
    it.until("[x]  1", "1 of")
    it.press("c")
    it.until("Card of main mast", "page 1 of")
    it.press(ESCAPE)
    it.until("[x]  1", without="Card of")
    it.press("w")
    it.until("written:")


def plan(it: Terminal) -> None:
    it.press(F6)
    it.until("Dabchick › timber", "Timber 1")
    it.press("w")
    it.until("written:")


def check(boats: Path) -> None:
    reading = read((boats / "dabchick.toml").read_text(encoding="utf-8"))
    assert reading.faults == ()
    (mast,) = reading.boat.spars
    assert (mast.kind, mast.length) == ("mast", pytest.approx(4267.2))
    assert [(joint.kind, joint.at) for joint in mast.joints] == [("hinge", pytest.approx(1219.2))]
    assert [fitting.kind for fitting in mast.fittings] == ["hinge"]
    assert [measured.widths for measured in mast.log] == [(pytest.approx(87.3125), pytest.approx(87.3125))]
    assert len(mast.done) == 1
    assert reading.boat.shop.kerf == pytest.approx(3.175)
    assert [timber.name for timber in reading.boat.timbers] == ["plank"]
    card = (boats / "dabchick-main-mast-card.txt").read_text(encoding="utf-8")
    assert "hinge" in card
    assert "plank" in (boats / "dabchick-timber.txt").read_text(encoding="utf-8")
