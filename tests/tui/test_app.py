"""The app by its keys: the main job, stations, units, pages, other boats."""

from math import pi, tan

import pytest

from shopcompanion.catalog import NAMES, load
from shopcompanion.storage.store import Places
from shopcompanion.tui.figures import large

from .conftest import LUGGER, NORMAL, SMALL, WIDE, YAWL, Opener, own_answers

HERE = 2.75 - 36 / 111  # in; the mizzen at 5 ft, on the straight line from 2 ft, 2-3/4 in, to 11 ft 3 in, 1-3/4 in


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
        assert f"{HERE * tan(pi / 8):.4f} in" in it.text
        facet = next(line for line in it.part("#page").splitlines() if line.startswith("Facet"))
        assert facet.split()[1:3] == ["1", "full"]
        assert 1 < HERE * tan(pi / 8) < 1 + 1 / 64

        await it.find("taper")
        assert it.part("#page") == own_answers(it, "taper")
        assert f"{(3 - HERE) / 2:.4f} in" in it.text  # its blank is 3 in: 2-3/4 in and 1/8 in to plane off each face

        await it.find("drum")
        assert it.part("#page") == own_answers(it, "drum")
        assert it.app.bench.view.few == (size == SMALL)
        assert all(line in it.text for line in (["yes"] if size == SMALL else large("yes")))

        await it.find("rou")
        await it.press("down", "down", *"3/4")
        assert it.values() == {"bit_radius": "3/4"}
        assert it.part("#page") == own_answers(it, "roundover", bit_radius="3/4")
        assert all(word in it.text for word in (["leaves flats"] if it.app.bench.view.few else large("leaves")))
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
        assert "= (3 − 2.42568) / 2" in it.text
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
        view = it.app.bench.view
        assert view.furthest["page"] > 0
        while view.tops["page"] < view.furthest["page"]:
            before = view.tops["page"]
            assert "↓" in it.text
            await it.press("down")
            assert view.tops["page"] > before
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
        assert "= (2.42568 − 1.00475) / 2" in it.text
        assert it.part("#page") == own_answers(it, "facets")


# --- other boats --------------------------------------------------------------------------------------------------


async def test_a_boat_without_spars(desk: Opener, home: Places) -> None:
    from shopcompanion.storage.store import new_boat

    async with desk(new_boat(home, "Bare hull", "in").listing) as it:
        assert it.lines[0].split("  ")[0].strip() == "Bare hull"
        assert "✗ Width across flats: width across flats is needed, as 3-1/2 in" in it.said("#told")
        assert "—" in it.text
        for key in ("<", ">", "pageup", "ctrl+t", "ctrl+r", "ctrl+y", "ctrl+y", "escape"):
            await it.press(key)
        await it.press("ctrl+l")
        assert "Name of the new spar" in it.text
        await it.press("escape", "ctrl+g")
        assert it.told[-1] == "no spar is chosen; ^L chooses one"
        await it.press("ctrl+t", *"3-1/2")
        assert it.part("#page") == own_answers(it, "facets", width="3-1/2")


async def test_without_any_boat(desk: Opener) -> None:
    async with desk(None, spar=None) as it:
        assert "no boat open" in it.lines[0]
        await it.write("3-1/2")
        assert it.part("#page") == own_answers(it, "facets", width="3-1/2")
        await it.press("ctrl+s", "ctrl+l", "ctrl+g")
        assert it.told[0] == "no boat is open; ^O opens or makes one"
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


async def test_the_list_is_walked_by_keys_with_answers_at_once(desk: Opener) -> None:
    async with desk() as it:
        seen = [it.session.calculator]
        for _ in range(4):
            await it.press("ctrl+down")
            seen.append(it.session.calculator)
            assert load(seen[-1]).question in " ".join(it.text.split())
            assert it.session.shown().result is not None
        assert seen == list(NAMES[:5])
        await it.press(*["ctrl+up"] * 5)
        assert it.session.calculator == NAMES[-1]
        await it.press("f9")
        assert it.session.calculator == NAMES[0]
        await it.press("f8")
        assert it.session.calculator == NAMES[-1]
