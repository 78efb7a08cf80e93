"""Shop, timber, yard, pieces and species by keys alone: entered, changed, undone; nothing half done is dropped."""

from collections.abc import Iterator

import pytest

from shopcompanion.calculator import Field
from shopcompanion.profile.fields import TableRows, declared
from shopcompanion.profile.parse import read
from shopcompanion.profile.records import ROWS, TABLES
from shopcompanion.storage.store import Places
from shopcompanion.tui.app import Companion
from shopcompanion.tui.sheet import Sheet

from .conftest import NORMAL, SMALL, WIDE, Desk, Opener, own_copy

POLE = """format = 1
[boat]
name = "Dabchick"
units = "in"
[[spar]]
name = "pole"
length = "6 ft"
section = "round"
stations = [{ at = "0", width = "2 in" }, { at = "6 ft", width = "1-1/2 in" }]
"""


@pytest.fixture
def pole(home: Places) -> str:
    own_copy(home, "dabchick", POLE)
    return "dabchick"


def sheet(it: Desk) -> Sheet:
    assert isinstance(it.app.screen, Sheet)
    return it.app.screen


async def turn_to(it: Desk, title: str) -> None:
    for _ in sheet(it).pages:
        if sheet(it).page.title == title:
            return
        await it.press("ctrl+y")
    raise AssertionError(f"no page {title}")


async def go_to(it: Desk, label: str) -> None:
    labels = [row["key"] for row in sheet(it).page.rows]
    by = labels.index(label) - sheet(it).row
    await it.press(*["down" if by > 0 else "up"] * abs(by))


async def fill(it: Desk, cells: dict[str, str]) -> None:
    """Write the cells of a row of the page in hand, by the names of their columns."""
    for name, text in cells.items():
        while sheet(it).page.columns[sheet(it).column].name != name:
            await it.press("tab")
        await it.write(text)
    await it.press("enter")


@pytest.mark.parametrize("key", ["f3", "ctrl+b"])
async def test_the_shop_is_entered_from_nothing(desk: Opener, pole: str, key: str) -> None:
    async with desk(pole, spar="pole", at=None) as it:
        before = it.session.state.text
        await it.press(key)
        assert "[shop]" in it.text
        assert "1/8 in is assumed" in it.text
        await it.write("3/32", "enter")
        await it.write("3-1/8", "enter")
        assert "1/8 in is assumed" not in it.text
        shop = it.session.boat.shop
        assert (shop.kerf, shop.saw_depth) == (2.38125, 79.375)
        await turn_to(it, "bits")
        await it.write("cove", "tab", *"3/4", "enter")
        await turn_to(it, "drums")
        await it.write("4", "tab", *"1725", "enter")
        await turn_to(it, "belts")
        await it.write("24", "enter")
        shop = it.session.boat.shop
        assert [(bit.kind, bit.radius) for bit in shop.bits] == [("cove", 19.05)]
        assert [(drum.diameter, drum.rpm) for drum in shop.drums] == [(101.6, 1725)]
        assert [belt.length for belt in shop.belts] == [609.6]
        assert it.session.faults == ()
        await it.press("ctrl+z")
        assert it.session.boat.shop.belts == ()
        await it.press(*["ctrl+z"] * 5)
        assert it.session.state.text == before


async def test_timber_yard_pieces_and_species_make_a_plan(desk: Opener, pole: str) -> None:
    async with desk(pole, spar="pole", at=None) as it:
        await it.press("f6")
        assert "no timber that can be used" in it.told[-1]
        await it.press("f3")
        await turn_to(it, "timber")
        await fill(it, {"name": "plank", "species": "sitka", "nominal": "4 x 4", "length": "8 ft"})
        (plank,) = it.session.boat.timbers
        assert (plank.name, plank.species, plank.nominal) == ("plank", "Spruce, Sitka", "4 x 4")
        await it.press("up")
        await fill(it, {"knots": "6 ft 6 to 6 ft 8"})
        assert [(knot.from_, knot.to) for knot in it.session.boat.timbers[0].knots] == [(1981.2, 2032)]
        await turn_to(it, "yard")
        sold = {"name": "stock", "thickness": "2-1/2", "width": "4", "lengths": "8 ft; 10 ft", "price": "20 EUR"}
        await fill(it, sold)
        assert [sort.lengths for sort in it.session.boat.yard] == [(2438.4, 3048)]
        await turn_to(it, "pieces")
        await fill(it, {"name": "chock", "thickness": "1", "width": "2", "length": "6", "count": "2"})
        await turn_to(it, "species")
        await fill(it, {"name": "Cedar of the hill", "sg12": "0.4"})
        boat = it.session.boat
        assert [(piece.name, piece.count) for piece in boat.pieces] == [("chock", 2)]
        assert [species.name for species in boat.species] == ["Cedar of the hill"]
        assert read(it.session.state.text).faults == ()
        await it.press("f6")
        assert "Dabchick › timber" in it.text
        assert "No saw kerf was entered: 1/8 in is assumed." in it.text or "↓" in it.text
        await it.press("ctrl+z", "escape", "ctrl+s")
        assert not it.session.unsaved


async def test_a_boat_s_own_values(desk: Opener, pole: str) -> None:
    async with desk(pole, spar="pole", at=None) as it:
        await it.press("f3")
        await turn_to(it, "boat")
        assert [row["key"] for row in sheet(it).page.rows][:2] == [
            "All sails together",
            "Wind that it is sailed in, most",
        ]
        await go_to(it, "Crew")
        await it.write("150", "enter")
        assert 'crew = "150 lb"' in it.session.state.text
        assert it.session.boat.crew == pytest.approx(68.0389, abs=1e-3)


async def test_what_does_not_read_stays_to_be_mended(desk: Opener, pole: str) -> None:
    async with desk(pole, spar="pole", at=None) as it:
        await it.press("f3", *"3/0", "enter")
        assert "zero below the line" in it.text
        assert sheet(it).writing == "3/0"
        await it.press("ctrl+z")
        assert sheet(it).writing is None
        await turn_to(it, "yard")
        await fill(it, {"name": "plank", "nominal": "2 x 6", "lengths": "8 ft", "price": "12"})
        assert "no currency" in it.text
        assert sheet(it).page.rows[0]["price"] == "12"
        await it.press("ctrl+y", "ctrl+y")  # on another page it waits all the same
        await it.press("ctrl+q")
        assert "A row is not complete" in it.text
        await it.press("enter")
        assert sheet(it).page.title == "yard"
        await it.press("up")
        await fill(it, {"price": "12 USD"})
        assert it.session.boat.yard[0].price.currency == "USD"


@pytest.mark.parametrize("size", [NORMAL, WIDE, SMALL])
async def test_every_page_stands_whole(desk: Opener, size: tuple[int, int]) -> None:
    async with desk(size=size) as it:
        await it.press("f3")
        for page in sheet(it).pages:
            assert f"[{page.title}]" in it.text
            assert all(len(line) <= size[0] for line in it.lines)
            assert "esc back" in " ".join(it.text.split())
            await it.press("ctrl+y")


def keys() -> Iterator[tuple[str, Field]]:
    """Every key that a profile has outside its spars and presets, and where it stands."""
    for table, record in (
        *TABLES.items(),
        *((kind, of) for kind, of in ROWS.items() if kind not in ("spar", "preset")),
    ):
        for field in declared(record):
            yield table, field


async def test_every_key_of_a_profile_has_its_place_on_a_page(desk: Opener) -> None:
    """So a new declaration is all that a new key of the shop needs."""
    async with desk() as it:
        await it.press("f3")
        pages = {page.title: page for page in sheet(it).pages}
        titles = {"piece": "pieces"}
        for table, field in keys():
            if table == "boat" and field.name in ("name", "units", "rule", "tally"):
                continue  # asked for when the boat is made; by a key of their own later
            if table in TABLES and isinstance(field.kind, TableRows):
                assert {column.name for column in pages[field.name].columns} == {
                    field.name for field in declared(field.kind.of)
                }
            elif table in TABLES:
                assert field.kind.label in [row["key"] for row in pages[table].rows]
            else:
                assert field.name in [column.name for column in pages[titles.get(table, table)].columns]


async def test_a_saw_that_was_never_entered_is_assumed_on_the_pane(desk: Opener, pole: str) -> None:
    async with desk(pole, spar="pole", at="3 ft") as it:
        await it.find("lap")
        line = next(line for line in it.lines if "Kerf of the saw" in line)
        assert "1/8 assumed" in line
        while it.field != "kerf":
            await it.press("down")
        assert "assumed; F3 to enter yours" in it.text
        await it.press("f3", *"1/8", "enter", "escape")
        line = next(line for line in it.lines if "Kerf of the saw" in line)
        assert "assumed" not in line


async def test_without_a_boat_the_shop_says_what_to_do(desk: Opener) -> None:
    async with desk(None) as it:
        await it.press("f3")
        assert it.app.screen is it.app.bench
        assert "no boat is open" in it.told[-1]
        assert isinstance(it.app, Companion)
