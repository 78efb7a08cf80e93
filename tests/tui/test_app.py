"""The app by its keys: the main job, fields, stations, pages, the finder, presets, undo, help."""

from math import pi, tan

import pytest

from shopcompanion.boat.follow import follow
from shopcompanion.boat.keep import Places
from shopcompanion.catalog import NAMES, load
from shopcompanion.fields import Choice
from shopcompanion.form import fill
from shopcompanion.tui.figures import large
from shopcompanion.tui.pages import answers, headline
from shopcompanion.tui.picker import Picker
from shopcompanion.tui.session import Shown

from .conftest import LUGGER, NORMAL, SMALL, WIDE, YAWL, Desk, Opener, answer

HERE = 2.75 - 36 / 111  # in; the mizzen at 5 ft, on the straight line from 2 ft, 2-3/4 in, to 11 ft 3 in, 1-3/4 in


def own_answers(it: Desk, calculator: str, **texts: str) -> str:
    """What the page should say: the calculator's answers to these texts on this spar, by the rule in force."""
    session = it.session
    boat = dict(follow(session.boat, session.spar, session.at))
    result = answer(calculator, boat, session.rule, **texts)
    shown = Shown(load(calculator), fill(load(calculator), texts, boat, session.rule), result, ())
    width = it.app.bench.query_one("#right").scrollable_content_region.width
    return f"{headline(shown, width)}\n{answers(shown, width)}"


# --- the main job -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("size", [NORMAL, WIDE, SMALL])
async def test_the_main_job(desk: Opener, size: tuple[int, int]) -> None:
    """Facets of the mizzen at 5 ft, what comes off each face, whether the 4 in drum drives, what a 3/4 in bit does."""
    async with desk(spar=None, at=None, size=size) as it:
        await it.write_in("ctrl+l", "mizz")
        await it.write_in("ctrl+g", "5 ft")
        assert "mizzen mast" in it.lines[0]
        assert "5 ft" in it.lines[0]
        assert "2-7/16 in bare" in it.lines[0]

        assert it.part("#page") == own_answers(it, "facets")
        assert f"{HERE * (1 - tan(pi / 8)) / 2:.4f} in" in it.text
        facet = next(line for line in it.part("#page").splitlines() if line.startswith("Facet"))
        assert facet.split()[1:3] == ["1", "full"]
        assert 1 < HERE * tan(pi / 8) < 1 + 1 / 64

        await it.find("taper")
        assert it.part("#page") == own_answers(it, "taper")
        assert f"{(3 - HERE) / 2:.4f} in" in it.text  # its blank is 3 in: 2-3/4 in and 1/8 in to plane off each face

        await it.find("drum")
        assert it.part("#page") == own_answers(it, "drum")
        assert all(line in it.text for line in large("yes"))

        await it.find("rou")
        await it.press("down", "down", *"3/4")
        assert it.values() == {"bit_radius": "3/4"}
        assert it.part("#page") == own_answers(it, "roundover", bit_radius="3/4")
        assert all(word in it.text for word in large("leaves"))
        flat = next(line for line in it.part("#page").splitlines() if line.startswith("Flat left"))
        assert flat.endswith("15/16 in bare")
        assert 15 / 16 - 1 / 64 < HERE - 2 * 0.75 < 15 / 16


@pytest.mark.parametrize(("boat", "spar"), [(YAWL, "bowsprit bitt"), (LUGGER, "boom")])
async def test_square_and_oval_spars_are_answered_too(desk: Opener, boat: str, spar: str) -> None:
    async with desk(boat, spar=spar, at=None) as it:
        for name in ("facets", "taper", "drum", "roundover"):
            await it.find(name)
            assert it.part("#page") == own_answers(it, name)
            assert "✗" not in it.text


async def test_cautions_stand_under_every_answer(desk: Opener) -> None:
    async with desk() as it:
        for name in NAMES:
            await it.find(name)
            result = it.session.shown().result
            for caution in result.cautions if result else ():
                assert f"⚠ {caution}" in it.part("#cautions")
                assert caution.split()[0] in it.text


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
        assert it.part("#page") == before.replace("EDGE", "EDGE  (before)", 1)
        assert "(before)" in it.text
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
        names = [one.name for one in load("facets").input_fields]
        assert it.field == names[0]
        await it.press("up")
        assert it.field == names[0]
        seen = []
        for key in ("down", "enter", "tab", "down", "down"):
            await it.press(key)
            seen.append(it.field)
        assert seen == [*names[1:5], names[4]]
        await it.press("up", "shift+tab")
        assert it.field == names[2]


async def test_past_the_last_field_the_answers_scroll_and_back(desk: Opener) -> None:
    async with desk() as it:
        await it.find("drum")
        last = len(it.app.bench.fields) - 1
        await it.press(*["down"] * last)
        page = it.app.bench.query_one("#right")
        assert (page.scroll_y, page.max_scroll_y > 0) == (0, True)
        while page.scroll_y < page.max_scroll_y:
            before = page.scroll_y
            await it.press("down")
            assert page.scroll_y > before
        await it.press("down")
        assert it.field == "station_step"
        assert it.part("#page").splitlines()[-1].split()[-1] in it.text
        while page.scroll_y > 0:
            before = page.scroll_y
            await it.press("up")
            assert page.scroll_y < before
        assert it.field == "station_step"
        await it.press(*["up"] * last)
        assert it.field == "drum"


async def test_a_field_of_choices_turns_by_the_arrows(desk: Opener) -> None:
    async with desk() as it:
        await it.press("down", "down")
        kind = next(one.kind for one in load("facets").input_fields if one.name == "section")
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


# --- the station --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("back", "on"), [("<", ">"), ("pageup", "pagedown")])
async def test_stations_step_while_a_field_has_the_cursor(desk: Opener, back: str, on: str) -> None:
    async with desk() as it:
        assert it.field == "width"
        await it.press(on)
        assert "6 ft" in it.lines[0]
        assert it.part("#page") == own_answers(it, "facets")
        await it.press(back, back)
        assert "4 ft" in it.lines[0]
        assert it.values() == {}
        place = it.lines[5].index("▲")
        await it.press(on)
        assert it.lines[5].index("▲") > place


async def test_stepping_stops_at_both_ends(desk: Opener) -> None:
    async with desk() as it:
        await it.press(*">" * 20)
        assert "11 ft 3 in" in it.lines[0]
        await it.press(*"<" * 40)
        assert it.session.at == 0
        assert "2-1/2 in" in it.lines[0]


async def test_a_station_beyond_the_spar_is_refused_where_it_is_typed(desk: Opener) -> None:
    async with desk() as it:
        await it.write_in("ctrl+g", "12 ft")
        assert "✗ 12 ft lies beyond the head, which is at 11 ft 3 in" in it.text
        await it.press("ctrl+u", *"2 fx", "enter")
        assert "✗ 2 »fx«" in it.text
        await it.press("escape")
        assert it.session.at == pytest.approx(1524)
        await it.write_in("ctrl+g", "30")
        assert "2 ft 6 in" in it.lines[0]


async def test_all_that_is_typed_and_belongs_to_a_spar_goes_with_it(desk: Opener) -> None:
    async with desk() as it:
        await it.press(*"3", "down", "down", "down", *"1/64")
        await it.write_in("ctrl+l", "boom")
        assert it.values() == {"ridge_ok": "1/64"}


# --- units and rule -----------------------------------------------------------------------------------------------


async def test_units_toggle_and_a_typed_number_keeps_its_meaning(desk: Opener) -> None:
    async with desk() as it:
        await it.write("3")
        await it.press("ctrl+t")
        assert it.values() == {"width": "3 in"}
        assert "= 76 mm" in it.text
        assert it.lines[0].split("   ")[-2].strip().endswith("0.5 mm") or "0.5" in it.lines[0]
        await it.press("ctrl+t")
        assert it.values() == {"width": "3 in"}
        assert "1/32" in it.lines[0]


async def test_a_finer_rule(desk: Opener) -> None:
    async with desk() as it:
        await it.press("ctrl+r")
        assert "1/64" in it.lines[0]
        assert it.part("#page") == own_answers(it, "facets")


# --- pages --------------------------------------------------------------------------------------------------------


async def test_pages_turn_round_and_escape_goes_back_to_the_answers(desk: Opener) -> None:
    async with desk() as it:
        await it.find("taper")
        seen = []
        for _ in range(4):
            await it.press("ctrl+y")
            seen.append(it.part("#question"))
        name = "taper: {} (escape for the answers)"
        assert seen == [*(name.format(page) for page in ("working", "drawing", "table")), load("taper").question]
        await it.press("ctrl+y")
        assert "(blank_side − width_at) / 2" in it.text
        await it.press("escape")
        assert it.part("#question") == load("taper").question
        assert it.values() == {}


async def test_the_field_in_hand_waits_while_another_page_is_read(desk: Opener) -> None:
    async with desk() as it:
        await it.press("down", "ctrl+y", *"7", "escape", *"3")
        assert it.values() == {"depth": "3"}
        await it.press("ctrl+y")
        await it.write_in("ctrl+l", "boom")
        await it.write("7")
        assert it.values() == {}
        await it.press("escape", *"2")
        assert it.values() == {"width": "2"}
        await it.press("ctrl+y")
        await it.pilot.resize_terminal(*WIDE)
        await it.settle()
        await it.write("-1/2")
        assert it.values() == {"width": "2-1/2"}


async def test_a_calculator_without_a_table_has_no_such_page(desk: Opener) -> None:
    async with desk() as it:
        seen = []
        for _ in range(3):
            await it.press("ctrl+y")
            seen.append(it.part("#question").split()[1])
        assert seen[:2] == ["working", "drawing"]
        assert it.part("#question") == load("facets").question


async def test_on_a_page_of_working_the_arrows_scroll(desk: Opener) -> None:
    async with desk() as it:
        await it.press("ctrl+y")
        page = it.app.bench.query_one("#right")
        assert page.max_scroll_y > 0
        while page.scroll_y < page.max_scroll_y:
            before = page.scroll_y
            await it.press("down")
            assert page.scroll_y > before
        assert load("facets").sources[-1].split()[-1] in it.text


async def test_on_the_table_of_stations_the_arrows_step(desk: Opener) -> None:
    async with desk() as it:
        await it.find("taper")
        await it.press("ctrl+y", "ctrl+y", "ctrl+y", "down")
        assert "6 ft" in it.lines[0]
        assert next(line for line in it.lines if line.strip().startswith("▸")).split()[1:3] == ["6", "ft"]


async def test_a_wide_screen_shows_list_pane_drawing_and_working_at_once(desk: Opener) -> None:
    async with desk(size=WIDE) as it:
        assert "› facets" in it.text
        assert "the section, to scale" in it.text
        assert "(across − facet_8) / 2" in it.text
        assert it.part("#page") == own_answers(it, "facets")


# --- finding ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["facets", "taper", "drum", "roundover"])
async def test_every_calculator_of_the_main_job_is_three_strokes_away_even_while_typing(
    desk: Opener, name: str
) -> None:
    async with desk() as it:
        await it.press("down", *"3-")
        await it.press("ctrl+f", name[0], "enter")
        assert it.session.calculator == name


async def test_every_calculator_is_found_by_two_letters(desk: Opener) -> None:
    async with desk() as it:
        await it.press("ctrl+f")
        finder = it.app.screen
        assert isinstance(finder, Picker)
        for name in NAMES:
            await it.press(*name[:2])
            assert finder.shown[0].word == name
            await it.press("backspace", "backspace")


async def test_the_finder_finds_spars_actions_and_the_rule(desk: Opener) -> None:
    async with desk() as it:
        await it.find("boom")
        assert it.session.spar_name == "boom"
        await it.find("units")
        assert it.session.rule.unit == "mm"
        await it.find("keep rule")
        assert it.session.boat.units == "mm"
        assert "not saved ●" in it.lines[0]
        await it.find("undo")
        assert it.session.boat.units == "in"
        await it.find("redo")
        assert it.session.boat.units == "mm"
        await it.find("help")
        assert "Help" in it.text
        await it.press("escape")
        await it.find("station")
        await it.write("1 ft", "enter")
        assert it.session.at == pytest.approx(304.8)


async def test_nothing_happens_when_nothing_is_picked(desk: Opener) -> None:
    async with desk() as it:
        before = it.text
        for key in ("ctrl+f", "ctrl+l", "ctrl+o", "ctrl+p", "ctrl+g", "f1"):
            await it.press(key)
            assert it.text != before
            await it.press("escape")
            assert it.text == before


# --- presets ------------------------------------------------------------------------------------------------------


async def test_a_preset_is_kept_and_called_back(desk: Opener) -> None:
    async with desk() as it:
        await it.find("rou")
        await it.press("down", "down", *"3/4", "ctrl+p", "enter", *"small bit", "enter")
        assert it.told == ["kept as 'small bit'; ^S saves the boat"]
        assert "not saved ●" in it.lines[0]
        await it.press("escape", *"1", "ctrl+p")
        assert "small bit" in it.text
        assert "bit_radius 3/4 in" in it.text
        await it.write("small", "enter")
        assert it.values() == {"bit_radius": "3/4 in"}


async def test_a_preset_is_renamed_and_dropped_and_undo_brings_it_back(desk: Opener) -> None:
    async with desk() as it:
        await it.find("drum")
        first = it.session.state.text
        await it.press("ctrl+p", *"rubber", "ctrl+r", "ctrl+u", *"lagged", "enter")
        assert [one.name for one in it.session.presets()] == ["lagged"]
        await it.press("ctrl+p", *"lag", "ctrl+x")
        assert it.session.presets() == []
        assert it.told[-1] == "preset 'lagged' dropped; ^Z brings it back"
        await it.press("ctrl+z")
        assert [one.name for one in it.session.presets()] == ["lagged"]
        assert it.told[-1] == "undone: dropping preset 'lagged'"
        await it.press("ctrl+z")
        assert it.session.state.text == first
        assert "example" in it.lines[0]
        await it.press("ctrl+z")
        assert it.told[-1] == "nothing to undo"
        await it.press("ctrl+n", "ctrl+n", "ctrl+n")
        assert it.told[-3:] == [
            "done again: renaming preset 'rubber on the drum'",
            "done again: dropping preset 'lagged'",
            "nothing to do again",
        ]


async def test_what_cannot_be_kept_is_told(desk: Opener) -> None:
    async with desk() as it:
        await it.press("ctrl+p", *"keep", "enter")
        assert it.told == ["nothing is typed over here; type the values to keep first"]
        await it.press(*"3-", "ctrl+p", "enter")
        assert it.told[-1].startswith("width: 3»-«")
        await it.press("backspace", "ctrl+p", "enter", "enter")
        assert "✗ empty" in it.text
        await it.press("escape")
        assert not it.session.unsaved


async def test_the_row_to_keep_cannot_be_renamed_or_dropped(desk: Opener) -> None:
    async with desk() as it:
        await it.press(*"3", "ctrl+p", "ctrl+x")
        assert not it.session.unsaved
        await it.press("ctrl+p", "ctrl+r")
        assert not it.session.unsaved
        assert it.told == []


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
        assert "Station towards the heel" in it.text
        await it.press("escape")
        assert it.values() == {}
        assert it.part("#question") in it.text


# --- other boats --------------------------------------------------------------------------------------------------


async def test_a_boat_without_spars(desk: Opener, home: Places) -> None:
    from shopcompanion.boat.keep import new_boat

    async with desk(new_boat(home, "Bare hull", "in").listing) as it:
        assert it.lines[0].split("  ")[0].strip() == "Bare hull"
        assert "✗ Width across flats: width across flats is wanted, as 3-1/2 in" in it.said("#told")
        assert "—" in it.text
        for key in ("<", ">", "pageup", "ctrl+t", "ctrl+r", "ctrl+y", "ctrl+y", "escape"):
            await it.press(key)
        await it.press("ctrl+l")
        assert "▸ new spar …  add one to this boat" in it.text
        await it.press("escape", "ctrl+g")
        assert it.told == ["no spar is chosen"]
        await it.press("ctrl+t", *"3-1/2")
        assert it.part("#page") == own_answers(it, "facets", width="3-1/2")


async def test_without_any_boat(desk: Opener) -> None:
    async with desk(None, spar=None) as it:
        assert "no boat open" in it.lines[0]
        await it.write("3-1/2")
        assert it.part("#page") == own_answers(it, "facets", width="3-1/2")
        await it.press("ctrl+s", "ctrl+l", "ctrl+g")
        assert it.told[0] == "no boat is open"
        await it.press("ctrl+p", "enter", *"x", "enter")
        assert it.told[-1] == "no boat is open; open or make one first"
        await it.press("ctrl+q")
        assert not it.app.is_running


async def test_a_metric_boat(desk: Opener) -> None:
    async with desk(LUGGER, spar="mast", at="2 m") as it:
        assert "millimetres" in it.lines[0] or " mm" in it.lines[0]
        assert it.part("#page") == own_answers(it, "facets")
        assert "in bare" not in it.text
        await it.press(">")
        assert "2500 mm" in it.lines[0]
