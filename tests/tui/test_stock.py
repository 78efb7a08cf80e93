"""The cutting plan by its keys: it stands at once, is proved, stopped, read, written, and kept with the boat."""

import asyncio

import pytest

from shopcompanion.stock.search import Search
from shopcompanion.tui.stock import StockPage

from .conftest import LUGGER, NORMAL, SMALL, WIDE, Desk, Opener, keep_preset


def shown(it: Desk) -> StockPage:
    page = it.app.screen
    assert isinstance(page, StockPage)
    return page


def body(it: Desk) -> list[str]:
    """The lines of the plan as they are painted."""
    start = next(y for y, line in enumerate(it.lines) if y and not line) + 1
    return [line.strip() for line in it.lines[start : start + shown(it).high]]


async def proved(it: Desk) -> None:
    """Wait until the search has ended."""
    await it.app.workers.wait_for_complete()
    await it.settle()
    assert shown(it).cutting.over


@pytest.fixture
def endless(monkeypatch: pytest.MonkeyPatch) -> None:
    """A search that gives the first plan and nothing more until it is stopped."""
    from threading import Event

    ends: dict[int, Event] = {}

    def plans(search: Search):  # type: ignore[no-untyped-def]
        yield search.plan
        ends.setdefault(id(search), Event()).wait(20)

    def stop(search: Search):  # type: ignore[no-untyped-def]
        search.stopped = True
        ends.setdefault(id(search), Event()).set()
        return search.plan

    monkeypatch.setattr(Search, "__iter__", plans)
    monkeypatch.setattr(Search, "stop", stop)


@pytest.mark.usefixtures("searched_once")
async def test_the_plan_stands_and_is_proved(desk: Opener) -> None:
    async with desk(LUGGER, spar=None, at=None) as it:
        await it.press("f6")
        assert "To buy" in it.text
        await proved(it)
        assert "✓ Proved: no other plan is cheaper" in it.text
        assert "163.23 EUR" in it.lines[0]
        await it.press("escape")
        assert it.app.screen is it.app.bench


async def test_it_is_found_by_its_name_and_stands_in_the_list(desk: Opener) -> None:
    async with desk(size=WIDE) as it:
        rows = it.part("#list").splitlines()
        assert rows.index("Timber") < rows.index("  stock … F6") < rows.index("Fit")
        await it.find("stock")
        assert isinstance(it.app.screen, StockPage)


@pytest.mark.parametrize("size", [NORMAL, WIDE, SMALL])
@pytest.mark.usefixtures("searched_once")
async def test_every_line_can_be_read(desk: Opener, size: tuple[int, int]) -> None:
    async with desk(size=size) as it:
        await it.press("f6")
        await proved(it)
        page = shown(it)
        seen: list[str] = []
        for _ in range(60):
            seen += body(it)
            if "↓" not in body(it)[-1]:
                break
            await it.press("pagedown")
        assert "…" not in "".join(line[-1:] for line in seen)
        assert [line for line in map(str.strip, page._lines()) if line not in seen] == []


@pytest.mark.usefixtures("searched_once")
async def test_tab_goes_from_timber_to_timber(desk: Opener) -> None:
    async with desk() as it:
        await it.press("f6")
        await proved(it)
        await it.press("tab")
        assert body(it)[0].startswith("Timber 1: ")
        await it.press("tab")
        assert body(it)[0].startswith("Timber 2: ")
        await it.press("shift+tab", "shift+tab")
        assert body(it)[0].startswith("To buy")


@pytest.mark.usefixtures("searched_once")
async def test_the_page_is_read_and_written(desk: Opener) -> None:
    async with desk(LUGGER, spar=None, at=None) as it:
        await it.press("f6")
        await proved(it)
        await it.press("p")
        assert "Page for the yard" in it.text
        await it.press("escape", "w")
        (path,) = it.app.places.profiles.glob("*-timber.txt")
        text = path.read_text(encoding="utf-8")
        assert text.startswith("Fjord lugger · timber")
        assert "Proved: no other plan is cheaper" in text
        assert max(map(len, text.replace("\f", "\n").splitlines())) <= 72


@pytest.mark.usefixtures("endless")
async def test_keys_answer_while_it_searches_and_a_key_stops_it(desk: Opener) -> None:
    async with desk() as it:
        await it.press("f6")
        page = shown(it)
        assert "Searching; space stops it." in it.text
        await it.press("tab")
        assert body(it)[0].startswith("Timber 1: ")
        search = page.cutting.search
        await it.press("space")
        assert search.stopped
        assert "Stopped; space searches on. Best found so far. A cheaper plan" in " ".join(it.text.split())
        await it.press("space")
        assert "Searching" in it.text
        assert page.cutting.search is not search
        await it.press("escape")
        assert page.cutting.search.stopped


@pytest.mark.usefixtures("endless")
async def test_leaving_the_app_stops_the_search(desk: Opener) -> None:
    async with desk() as it:
        await it.press("f6")
        search = shown(it).cutting.search
        assert not search.stopped
    assert search.stopped


async def test_leaving_ends_the_process(desk: Opener) -> None:
    async with desk() as it:
        await it.press("f6")
        search = shown(it).cutting.search
        await it.press("escape")
        await it.app.workers.wait_for_complete()
        assert search.stopped
        if search._child is not None:  # the thread that began it may be ending it still
            await asyncio.to_thread(search._child.wait, 10)


@pytest.mark.usefixtures("searched_once")
async def test_the_plan_is_kept_as_long_as_the_boat_is_the_same(desk: Opener) -> None:
    async with desk() as it:
        await it.press("f6")
        await proved(it)
        first = shown(it).cutting
        await it.press("escape", "f6")
        assert shown(it).cutting is first
        assert "✓ Proved" in it.text
        await it.press("escape")
        await keep_preset(it)
        await it.press("f6")
        assert shown(it).cutting is not first


async def test_a_boat_without_timber_says_what_to_add(desk: Opener) -> None:
    async with desk() as it:
        text = it.session.state.text
        cut = text[: text.index("# What lies in the loft")] + text[text.index("# What was set up once") :]
        it.session.edit("no timber", lambda _: cut)
        await it.press("f6")
        assert it.app.screen is it.app.bench
        assert "enter what is on hand ([[timber]]) or what is sold ([[yard]])" in it.told[-1]


@pytest.mark.usefixtures("searched_once")
async def test_a_notch_leaves_the_plan_as_it_is_and_another_change_does_not(desk: Opener) -> None:
    async with desk() as it:
        await it.press("f6")
        await proved(it)
        cutting = shown(it).cutting
        await it.press("escape", "!", "f6")
        assert it.session.tally
        assert shown(it).cutting is cutting
        await it.press("escape")
        it.session.edit("another name", lambda text: text.replace("Saltmarsh yawl", "Redshank"))
        await it.press("f6")
        assert shown(it).cutting is not cutting
