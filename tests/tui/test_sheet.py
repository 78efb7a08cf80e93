"""The spar's sheet by its keys: measuring, a new target for a spoiled spar, and changing everything of a spar."""

import pytest

from shopcompanion.profile.parse import read
from shopcompanion.tui.sheet import Sheet

from .conftest import FOOT, LUGGER, NORMAL, SMALL, WIDE, Desk, Opener

INCH = 25.4


def sheet(it: Desk) -> Sheet:
    assert isinstance(it.app.screen, Sheet)
    return it.app.screen


async def turn_to(it: Desk, title: str) -> None:
    while sheet(it).page.title != title:
        await it.press("ctrl+y")


async def test_a_spoiled_spar_gets_a_new_target_by_keys_alone(desk: Opener) -> None:
    """The mizzen planed 3 mm thin at 5 ft: measured, told, adopted, undone."""
    async with desk() as it:
        before = it.session.state.text
        meant = it.session.spar.outline().width_at(5 * FOOT)
        thin = meant - 3
        await it.press("ctrl+d")
        await it.write(f"{thin:.2f} mm & {thin + 0.5:.2f} mm", "enter")
        assert sheet(it).page.ats()[sheet(it).row] == pytest.approx(6 * FOOT)
        assert "too thin" in it.text
        assert "It keeps: stiffness" in it.text
        await it.press("ctrl+a")
        new = it.session.spar.outline()
        assert new.width_at(5 * FOOT) <= thin + 1e-6
        assert new.width_at(5 * FOOT) == pytest.approx(thin, abs=0.01)
        assert [at for at, _ in new.stations] == [0, 2 * FOOT, 135 * INCH]
        assert it.session.spar.law == "straight"
        assert "too thin" not in it.text
        assert read(it.session.state.text).faults == ()
        await it.press("ctrl+z", "ctrl+z")
        assert it.session.state.text == before


async def test_measures_go_down_the_spar_a_key_a_station(desk: Opener) -> None:
    async with desk() as it:
        await it.press("ctrl+d")
        await it.write("2-1/2 & 2-17/32", "enter")
        await it.write("girth 7-1/2", "enter")
        log = {round(measured.at, 6): measured for measured in it.session.spar.log}
        assert log[5 * FOOT].widths == pytest.approx((63.5, 64.29375))
        assert log[round(6 * FOOT, 6)].girth == pytest.approx(190.5)
        await it.press("up", "delete", "enter")
        assert all(measured.at != pytest.approx(6 * FOOT) for measured in it.session.spar.log)


async def test_a_single_reading_is_all_ways_alike(desk: Opener) -> None:
    async with desk(LUGGER, spar=None, at=None) as it:
        await it.press("ctrl+d", *"72", "enter")
        assert [measured.widths for measured in it.session.spar.log][-1] == (72, 72)
        assert read(it.session.state.text).faults == ()


async def test_a_measure_that_does_not_read_stays_to_be_mended(desk: Opener) -> None:
    async with desk() as it:
        before = it.session.state.text
        await it.press("ctrl+d")
        await it.write("2-1/0", "enter")
        assert "zero below the line" in it.text
        assert sheet(it).writing == "2-1/0"
        await it.press("backspace")
        await it.write("2 & 2-1/2", "escape")
        assert sheet(it).writing is None
        assert it.session.state.text == before


@pytest.mark.parametrize("size", [NORMAL, SMALL])
async def test_of_many_columns_the_one_that_is_written_and_the_rows_names_always_stand(
    desk: Opener, size: tuple[int, int]
) -> None:
    async with desk(size=size) as it:
        await it.press("ctrl+d")
        await turn_to(it, "fittings")
        for column in sheet(it).page.columns:
            assert sheet(it)._columns()[sheet(it).column] == column
            _, *rows = (k for k, line in enumerate(it.lines) if "from the heel" in line or " ft" in line[:8])
            assert len(rows) >= 2
            assert rows == list(range(rows[0], rows[0] + len(rows)))  # none of them is folded
            away = it.text[it.text.index("on a wider screen:") :]
            assert column.label not in " ".join(away.split())
            await it.press("tab")


@pytest.mark.parametrize("size", [NORMAL, WIDE, SMALL])
async def test_nothing_of_the_sheet_is_wider_than_the_screen(desk: Opener, size: tuple[int, int]) -> None:
    async with desk(size=size) as it:
        await it.press("ctrl+d")
        for page in sheet(it).pages:
            await turn_to(it, page.title)
            assert f"[{page.title}]" in it.text
            assert all(len(line) <= size[0] for line in it.lines)
            assert "esc back" in " ".join(it.text.split())


async def test_stations_are_changed_added_and_dropped(desk: Opener) -> None:
    async with desk() as it:
        await it.press("ctrl+d")
        await turn_to(it, "stations")
        await it.press("down", "tab")
        await it.write("2-7/8", "enter")
        assert it.session.spar.outline().width_at(2 * FOOT) == pytest.approx(2.875 * INCH)
        await it.press("up", "ctrl+n")
        await it.write("6 ft", "tab")
        assert "missing" in it.text
        await it.write("2-1/2", "enter")
        assert it.session.spar.outline().width_at(6 * FOOT) == pytest.approx(2.5 * INCH)
        assert len(it.session.spar.stations) == 4
        ats = [row["at"] for row in sheet(it).page.rows]
        assert ats == ["0", "2 ft", "6 ft", "11 ft 3 in"]
        while sheet(it).row != 2:
            await it.press("up")
        await it.press("ctrl+x")
        assert len(it.session.spar.stations) == 3
        assert read(it.session.state.text).faults == ()


async def test_rows_that_make_no_spar_wait_and_can_be_given_up(desk: Opener) -> None:
    async with desk() as it:
        before = it.session.state.text
        await it.press("ctrl+d")
        await turn_to(it, "stations")
        await it.press("ctrl+x")
        assert "✗" in it.text
        assert it.session.state.text == before
        await it.press("escape")
        assert "A row is not complete" in it.text
        await it.press("escape")
        assert len(sheet(it).page.rows) == 2  # as it was left
        await it.press("ctrl+z")
        assert [row["at"] for row in sheet(it).page.rows] == ["0", "2 ft", "11 ft 3 in"]
        assert it.session.state.text == before


async def test_a_fitting_is_added_and_choices_turn_by_arrows(desk: Opener) -> None:
    async with desk() as it:
        count = len(it.session.spar.fittings)
        await it.press("ctrl+d")
        await turn_to(it, "fittings")
        await it.press("ctrl+n")
        await it.write("7 ft", "tab")
        await it.press("right", "right", "tab")
        await it.write("flag halyard", "enter")
        added = next(fitting for fitting in it.session.spar.fittings if fitting.name == "flag halyard")
        assert added.at == pytest.approx(7 * FOOT)
        assert len(it.session.spar.fittings) == count + 1
        assert read(it.session.state.text).faults == ()


async def test_the_spar_s_own_values_are_set_and_taken_out(desk: Opener) -> None:
    async with desk() as it:
        await it.press("ctrl+d")
        await turn_to(it, "spar")
        labels = [row["key"] for row in sheet(it).page.rows]

        async def go(label: str) -> None:
            by = labels.index(label) - sheet(it).row
            await it.press(*["down" if by > 0 else "up"] * abs(by))

        await go("Length")
        await it.write("12 ft", "enter")
        assert it.session.spar.length == pytest.approx(12 * FOOT)
        assert it.session.spar.outline().length == pytest.approx(12 * FOOT)
        await go("Stays square from the heel to")
        await it.press("delete", "enter")
        assert it.session.spar.square_to is None
        await go("Section")
        await it.write("eig", "enter")
        assert it.session.spar.section == "eight"
        await go("Length")
        await it.write("1 ft", "enter")
        assert "✗" in it.text
        assert it.session.spar.length == pytest.approx(12 * FOOT)


async def test_spars_are_added_copied_renamed_and_dropped(desk: Opener) -> None:
    async with desk() as it:
        before = it.session.state.text
        names = [spar.name for spar in it.session.boat.spars]
        await it.write_in("ctrl+l", "new")
        for line in ("sprit", "9 ft", "1-3/4", "1-1/4"):
            await it.write(line, "enter")
        assert it.session.spar_name == "sprit"
        assert it.session.spar.outline().stations == ((0, 44.45), (pytest.approx(9 * FOOT), 31.75))
        await it.press("ctrl+l", "ctrl+t")
        await it.write("spare sprit", "enter")
        assert it.session.spar_name == "spare sprit"
        await it.press("ctrl+l", "ctrl+r", *["backspace"] * 11)
        await it.write("staysail boom", "enter")
        assert [spar.name for spar in it.session.boat.spars] == [*names, "sprit", "staysail boom"]
        await it.press("ctrl+l", "ctrl+x")
        assert "staysail boom" not in [spar.name for spar in it.session.boat.spars]
        await it.press("ctrl+z", "ctrl+z", "ctrl+z", "ctrl+z")
        assert it.session.state.text == before


async def test_a_metric_boat_is_measured_in_millimetres(desk: Opener) -> None:
    async with desk(LUGGER, spar=None, at=None) as it:
        await it.press("ctrl+d")
        at = sheet(it).page.ats()[sheet(it).row]
        meant = it.session.spar.outline().width_at(at)
        await it.write(f"{meant + 2:.1f} & {meant + 3:.1f}", "enter")
        measured = next(entry for entry in it.session.spar.log if entry.at == pytest.approx(at))
        assert measured.widths == pytest.approx((round(meant + 2, 1), round(meant + 3, 1)))
        assert "wood to come off" in it.text
