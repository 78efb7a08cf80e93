"""The card and the book for print, made beside the keys: the files, what is told, and that the keys go on."""

import asyncio
import threading

import pytest

from shopcompanion.paper import book as book_module
from shopcompanion.paper.book import Book, BookTimber
from shopcompanion.paper.marks import Page, TextMark
from tests.paper.reading import sheets

from .conftest import LUGGER, Desk, Opener

pytestmark = pytest.mark.usefixtures("searched_once")
PAGE = Page(210.0, 297.0, (TextMark(20.0, 20.0, "a page"),))


async def made(it: Desk) -> None:
    """Wait for what is made beside the keys."""
    await it.app.workers.wait_for_complete()
    await it.settle()


class Slow:
    """A book that tells of two parts and is not finished before it is allowed to be."""

    def __init__(self) -> None:
        self.begun, self.go_on = threading.Event(), threading.Event()
        self.timber: BookTimber | None = None

    def __call__(self, boat, timber, sheet, origin, *, tell):
        self.timber = timber
        tell(0, 2, "mast")
        self.begun.set()
        assert self.go_on.wait(60)
        tell(1, 2, "yard")
        return Book([PAGE], ())


@pytest.fixture
def slow(monkeypatch: pytest.MonkeyPatch) -> Slow:
    book = Slow()
    monkeypatch.setattr(book_module, "book", book)
    return book


async def test_a_key_in_the_job_writes_the_card_as_pdf(desk: Opener) -> None:
    async with desk() as it:
        await it.press("ctrl+k", "p")
        await made(it)
        path = it.app.places.profiles / "saltmarsh-yawl-mizzen-mast-card.pdf"
        pages = sheets(path.read_bytes())
        assert pages[0].text().startswith("Saltmarsh yawl · mizzen mast page 1 of")
        assert it.told[-1] == f"written: {path}"
        assert round(pages[0].width, 1) == 215.9  # its rule is in inches: letter


async def test_a_key_on_the_first_page_writes_the_card_of_the_spar_in_hand(desk: Opener) -> None:
    async with desk() as it:
        it.app.do("glance")
        await it.settle()
        await it.press(*["up"] * 9, "down", "p")
        await made(it)
        path = it.app.places.profiles / "saltmarsh-yawl-gaff-card.pdf"
        assert sheets(path.read_bytes())[0].text().startswith("Saltmarsh yawl · gaff page 1 of")
        assert it.session.spar_name == "mizzen mast"  # only looked at


async def test_the_keys_answer_while_the_book_is_made_and_it_says_how_far_it_is(desk: Opener, slow: Slow) -> None:
    async with desk() as it:
        await it.press("f11")
        assert await asyncio.to_thread(slow.begun.wait, 60)
        await it.settle()
        assert it.told[-1].startswith("book: 0 of 2, mast")
        before = it.session.at
        await it.press("pagedown")
        assert it.session.at > before
        await it.press("ctrl+k")
        assert "steps done" in it.lines[0]
        slow.go_on.set()
        await made(it)
        path = it.app.places.profiles / "saltmarsh-yawl-book.pdf"
        assert sheets(path.read_bytes())[0].text() == "a page"
        assert any(line.startswith("book: 1 of 2, yard") for line in it.told)
        assert it.told[-1] == f"written: {path}"
        assert slow.timber is not None
        assert slow.timber.plan is not None


async def test_the_same_key_stops_it_and_nothing_is_written(desk: Opener, slow: Slow) -> None:
    async with desk() as it:
        await it.press("f11")
        assert await asyncio.to_thread(slow.begun.wait, 60)
        await it.press("f11")
        assert it.told[-1] == "stopped; nothing was written"
        slow.go_on.set()
        await made(it)
        assert not list(it.app.places.profiles.glob("*.pdf"))


async def test_the_book_takes_the_plan_that_is_known(desk: Opener, slow: Slow) -> None:
    async with desk(LUGGER, spar=None, at=None) as it:
        slow.go_on.set()
        await it.press("f6", "escape")
        known = it.app.planning.known().plan
        await it.press("f11")
        await made(it)
        assert slow.timber is not None
        assert slow.timber.plan == known


async def test_a_place_that_cannot_be_written_is_told_in_a_line(desk: Opener, slow: Slow) -> None:
    async with desk() as it:
        slow.go_on.set()
        (it.app.places.profiles.parent / "boats").write_text("a file, not a folder")
        await it.press("f11")
        await made(it)
        assert it.told[-1].startswith("could not ")


async def test_without_a_boat_it_says_so(desk: Opener, slow: Slow) -> None:
    async with desk(None) as it:
        await it.press("f11")
        await made(it)
        assert it.told[-1] == "no boat is open; open or make one first"
        assert not slow.begun.is_set()
