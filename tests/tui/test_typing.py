"""Typing into the form: every key answers, a fault stands beside its field, undo takes it back, help lies over it."""

import pytest

from shopcompanion.catalog import load
from shopcompanion.fields import Choice

from .conftest import WIDE, Opener, own_answers

# --- fields -------------------------------------------------------------------------------------------------------


async def test_every_keystroke_answers_and_escape_follows_again(desk: Opener) -> None:
    async with desk() as it:
        followed = it.part("#page")
        await it.write("3")
        assert it.part("#page") == own_answers(it, "facets", width="3")
        await it.write("-1/2")
        assert it.part("#page") == own_answers(it, "facets", width="3-1/2")
        assert it.sign("Width across flats") == "="
        assert it.said("#told") == "= 3-1/2 in, not 2-7/16 in bare"
        await it.press("escape")
        assert it.values() == {}
        assert it.part("#page") == followed
        assert "⇠ the spar here" in it.text


async def test_a_half_typed_length_keeps_the_last_answers_and_says_why(desk: Opener) -> None:
    async with desk() as it:
        await it.write("3-")
        before = own_answers(it, "facets", width="3")
        assert it.sign("Width across flats") == "✗"
        told = it.said("#told")
        assert told.startswith("✗ Width across flats: 3»-«: ")
        assert it.part("#page") == before.replace("SIDES", "SIDES  (last good answer)", 1)
        assert "(last good answer)" in it.text
        await it.write("1/2")
        assert "✗" not in it.text
        assert it.part("#page") == own_answers(it, "facets", width="3-1/2")


async def test_inputs_that_contradict_one_another_are_told_where_they_are(desk: Opener) -> None:
    async with desk() as it:
        await it.find("rou")
        await it.press("down", "down", *"3")
        assert it.sign("Radius of the bit") == "✗"
        told = it.said("#told")
        assert told.startswith("✗ Radius of the bit: a bit of 3 in radius is bigger than the 2-7/16 in bare stock")
        assert "mm" not in told


async def test_every_fault_of_a_form_is_told(desk: Opener) -> None:
    async with desk() as it:
        await it.find("drum")
        await it.press(*"x", "down", *"0", "down", *"-1")
        told = it.part("#told")
        assert [line.split(":")[0] for line in told.splitlines()] == [
            "✗ Drum diameter",
            "✗ Belt length, inside",
            "✗ Spar's widest",
        ]


async def test_up_down_enter_and_tab_go_from_field_to_field(desk: Opener) -> None:
    async with desk(size=WIDE) as it:
        names = [field.name for field in load("facets").input_fields]
        assert it.field == names[0]
        await it.press("up")
        assert it.field == names[0]
        seen = []
        for key in ("down", "enter", "tab", *["down"] * (len(names) - 3)):
            await it.press(key)
            seen.append(it.field)
        assert seen == [*names[1:], names[-1]]
        await it.press("up", "shift+tab")
        assert it.field == names[-3]


async def test_past_the_last_field_the_answers_scroll_and_back(desk: Opener) -> None:
    async with desk(size=(80, 18)) as it:
        await it.find("drum")
        view = it.app.bench.view
        last = len(view.form.fields) - 1
        await it.press(*["down"] * last)
        assert (view.tops["page"], view.furthest["page"] > 0) == (0, True)
        while view.tops["page"] < view.furthest["page"]:
            before = view.tops["page"]
            await it.press("down")
            assert view.tops["page"] > before
        await it.press("down")
        assert it.field == "station_step"
        assert it.part("#page").splitlines()[-1].split()[-1] in it.text
        while view.tops["page"] > 0:
            before = view.tops["page"]
            await it.press("up")
            assert view.tops["page"] < before
        assert it.field == "station_step"
        await it.press(*["up"] * last)
        assert it.field == "drum"


async def test_a_field_of_choices_turns_by_the_arrows(desk: Opener) -> None:
    async with desk() as it:
        await it.press("down", "down")
        kind = next(field.kind for field in load("facets").input_fields if field.name == "section")
        assert isinstance(kind, Choice)
        assert it.said("#told") == "⇠ the spar's section (round | oval)"
        await it.press("right")
        assert it.values() == {"section": "oval"}
        await it.press("right")
        assert it.values() == {"section": "round"}
        await it.press("left")
        assert it.values() == {"section": "oval"}
        await it.press("escape")
        assert it.values() == {}


async def test_in_a_field_of_lengths_the_arrows_move_the_cursor(desk: Opener) -> None:
    async with desk() as it:
        await it.press(*"32", "left", *"-1/", "home", "delete", *"4", "end", "backspace", *"8")
        assert it.values() == {"width": "4-1/8"}
        await it.press("ctrl+u", *"2")
        assert it.values() == {"width": "2"}


async def test_what_is_pasted_is_one_line_of_what_can_be_shown(desk: Opener) -> None:
    async with desk() as it:
        await it.paste("3-1/2\n7\n")
        assert it.values() == {"width": "3-1/2"}
        await it.press("ctrl+u")
        await it.paste("3\t1/2")
        assert it.values() == {"width": "3 1/2"}
        await it.press("ctrl+u")
        await it.paste("\x1b[31m3")
        assert it.values() == {"width": " [31m3"}
        assert it.sign("Width across flats") == "✗"


async def test_keys_and_letters_stay_in_the_order_they_were_pressed(desk: Opener) -> None:
    async with desk() as it:
        await it.press(*"3-1/3", "backspace", *"2", "down", *"4", "ctrl+z", *"5", "ctrl+p", "enter", *"quick", "enter")
        assert it.told[-1] == "kept as 'quick'; ^S saves the boat"
        assert it.values() == {"width": "3-1/2", "depth": "5"}
        assert it.session.presets()[-1].inputs == (("width", "3-1/2 in"), ("depth", "5 in"))


async def test_a_burst_through_the_finder_lands_in_the_new_form(desk: Opener) -> None:
    async with desk() as it:
        await it.press("ctrl+f", *"rou", "enter", "down", "down", *"3/4", "ctrl+f", *"drum", "enter", *"5")
        assert it.session.calculator == "drum"
        assert {name: dict(texts) for name, texts in it.session.state.typed.items()} == {
            "roundover": {"bit_radius": "3/4"},
            "drum": {"drum": "5"},
        }
        assert it.values() == {"drum": "5"}


# --- undo ---------------------------------------------------------------------------------------------------------


async def test_undo_takes_typing_back_field_by_field(desk: Opener) -> None:
    async with desk() as it:
        await it.press(*"3-1/2", "down", *"4")
        await it.press("ctrl+z")
        assert it.values() == {"width": "3-1/2"}
        await it.press("ctrl+z")
        assert it.values() == {}
        await it.press("ctrl+n", "ctrl+n")
        assert it.values() == {"width": "3-1/2", "depth": "4"}
        assert it.part("#page") == own_answers(it, "facets", width="3-1/2", depth="4")


# --- help ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("key", ["f1", "?"])
async def test_help_opens_over_a_field_and_closes_again(desk: Opener, key: str) -> None:
    async with desk() as it:
        await it.press(key)
        assert "Keys, on every screen" in it.text
        await it.press("escape")
        assert it.values() == {}
        assert it.part("#question") in it.text
