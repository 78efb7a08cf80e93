"""The boat's book: one file, every part in it, and a list of contents that is right."""

import re
from functools import cache

import pytest

from shopcompanion.card.origin import Origin
from shopcompanion.paper.book import BookTimber, book
from shopcompanion.paper.pdf import pdf
from shopcompanion.paper.sheets import MARGIN, SHEETS
from shopcompanion.profile.parse import read
from shopcompanion.profile.records import Boat
from shopcompanion.stock.blanks import task
from shopcompanion.stock.plan import first_plan
from tests.paper.reading import bookmarks, out_of_place, sheets

DAB = """
format = 1
[boat]
name = "Dabchick"
units = "mm"
[[spar]]
name = "mast"
length = "1200"
stations = [{at = 0, width = "40"}, {at = "1200", width = "30"}]
[[spar]]
name = "sprit"
length = "900"
section = "square"
stations = [{at = 0, width = "20"}, {at = "900", width = "20"}]
done = ["true-blank"]
"""
TIMBER = """
[[timber]]
name = "plank"
thickness = "50"
width = "120"
length = "2600"
"""


def dabchick(more: str = TIMBER) -> Boat:
    reading = read(DAB + more)
    assert reading.faults == ()
    return reading.boat


def timber(boat: Boat) -> BookTimber:
    job = task(boat, boat.rule)
    return BookTimber(job, first_plan(job.problem))


def made(boat: Boat, of: BookTimber) -> bytes:
    origin = Origin(boat.rule, "boat.toml", "9.9", "2026-05-02")
    return pdf(book(boat, of, SHEETS["a4"], origin).pages, boat.name, "2026-05-02")


@cache
def dabchicks() -> bytes:
    return made(dabchick(), timber(dabchick()))


def test_its_parts_stand_in_order_and_its_contents_say_on_which_page() -> None:
    pages = sheets(dabchicks())
    marks = bookmarks(dabchicks())
    parts = {words: number for depth, words, number in marks if depth == 0 or words.startswith("Templates")}
    assert list(parts) == ["Dabchick", "To buy", "Timber", "mast", "Templates: mast", "sprit", "Templates: sprit"]
    contents = pages[0].text().split("In this book page ")[1]
    listed = re.findall(r"(To buy|Timber|(?:Templates: )?(?:mast|sprit)) ([0-9]+)(?= |$)", contents)
    assert {name: int(number) for name, number in listed} == {n: k for n, k in parts.items() if n != "Dabchick"}
    for number, page in enumerate(pages, 1):
        assert f"book {number} of {len(pages)}" in page.text()
        assert out_of_place(page, MARGIN) == []


def test_the_cover_has_the_spars_to_one_scale_and_how_far_they_are() -> None:
    """1200 and 900 mm, which are 4 to 3."""
    front = sheets(dabchicks())[0]
    drawn = [mark.points for mark in front.drawn if len(mark.points) > 80]
    mast, sprit = (max(x for x, _ in points) - min(x for x, _ in points) for points in drawn)
    assert mast / sprit == pytest.approx(4 / 3, abs=1e-3)
    assert "1 of 2 spars begun. Timber to buy: 0.00." in front.text()
    assert "900 mm · 20 mm · 1 of" in front.text()


def test_a_boat_without_timber_has_a_book_that_says_so() -> None:
    data = made(dabchick(""), BookTimber(None, None, "the boat has no timber"))
    assert "No cutting plan: the boat has no timber." in sheets(data)[0].text()
    assert "Timber" not in [words for _, words, _ in bookmarks(data)]


def test_it_is_the_same_every_time() -> None:
    assert made(dabchick(), timber(dabchick())) == dabchicks()


def test_every_part_is_told_before_it_is_made_and_telling_may_stop_it() -> None:
    class Stop(Exception):
        pass

    told: list[tuple[int, int, str]] = []

    def tell(done: int, of: int, what: str) -> None:
        told.append((done, of, what))
        if what == "sprit":
            raise Stop

    with pytest.raises(Stop):
        book(dabchick(), timber(dabchick()), SHEETS["a4"], Origin(dabchick().rule, "x", "9.9", None), tell=tell)
    assert told == [(0, 4, "the order of work"), (1, 4, "the timber"), (2, 4, "mast"), (3, 4, "sprit")]
