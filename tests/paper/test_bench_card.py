"""The card set for print, read back and held against the card in text, from which no line of it is made."""

import re
from collections import Counter
from functools import cache
from math import atan, ceil, degrees

import pytest

from shopcompanion.card.origin import Origin
from shopcompanion.card.text import card as text_card
from shopcompanion.paper.bench_card import cards
from shopcompanion.paper.pdf import pdf
from shopcompanion.paper.sheets import MARGIN, SHEETS
from tests.card.boats import boat, spars
from tests.card.written import read_card
from tests.paper.reading import Sheet, Word, bookmarks, fonts, out_of_place, sheets

SOURCE, VERSION, DAY = "boat.toml", "9.9", "2026-05-02"
_BESIDE = 44  # columns of the facts in text
_OF_THE_DRAWING = {"at", "heel", "head", "there"}  # and the head over the notes
_AGAIN = {"continued", "8", "16", "!"}  # in titles and heads that are put again, and in the sign of a caution


def made(name: str, of: str, paper: str = "a4", date: str | None = DAY) -> bytes:
    its = boat(name)
    of_spar = cards(its, its.spar(of), SHEETS[paper], Origin(its.rule, SOURCE, VERSION, date))
    return pdf(of_spar.pages, of, date)


@cache
def printed(name: str, of: str) -> list[Sheet]:
    return sheets(made(name, of))


@cache
def in_text(name: str, of: str) -> str:
    its = boat(name)
    return text_card(its, its.spar(of), rule=its.rule, source=SOURCE, version=VERSION, date=DAY).text


def body(pages: list[Sheet]) -> list[Word]:
    """The words between the running head and the foot of every page."""
    return [word for page in pages for word in page.words if MARGIN + 4 < word.y < page.height - MARGIN - 4]


def steps_of(words: list[Word]) -> list[list[str]]:
    """The words of each step: its title is the only one in type of that size."""
    steps: list[list[str]] = []
    for before, word in zip([None, *words], words, strict=False):
        begins = word.size == 10.5 and word.text.isdigit() and (before is None or before.size != 10.5)
        if begins and word.text == str(len(steps) + 1):
            steps.append([])
        if steps and word.size < 12:  # the station table may come behind them
            steps[-1].append(word.text)
    return steps


def tokens_of_text(name: str, of: str) -> list[list[str]]:
    lines = [line for page in in_text(name, of).split("\f") for line in page.splitlines()[3:]]
    steps: list[list[str]] = []
    for line in lines:
        if line.startswith("Computed from"):
            break
        if re.match(r"\[[ x]\] ", line):
            steps.append([])
        if steps and not line.endswith(", continued") and not line.startswith("─"):
            steps[-1] += re.sub(r"^\[[ x]\] |_+", "", line).split()
    return steps


@pytest.mark.parametrize(("name", "of"), spars())
def test_a_card(name: str, of: str) -> None:
    """All that is asked of a card, on one that is made and read once."""
    says_every_word_of_the_steps_in_their_order(name, of)
    has_the_station_table_to_be_read_from_two_metres(name, of)
    says_every_word_of_its_head(name, of)
    for page in printed(name, of):
        assert out_of_place(page, MARGIN) == []
    count = in_text(name, of).count("\f") + 1  # drawings and the large table take a page of a short one
    assert len(printed(name, of)) <= ceil(count / 2) + (count < 6)


def says_every_word_of_the_steps_in_their_order(name: str, of: str) -> None:
    wanted, drawn = tokens_of_text(name, of), steps_of(body(printed(name, of)))
    assert len(drawn) == len(wanted)
    for text, on_paper in zip(wanted, drawn, strict=True):
        told = list(on_paper)
        title = set(text[:14])
        source = [word for word in text if word.startswith("(") or word.endswith(")")]
        for word in text:
            if word in source or word in ("other", "way"):  # behind the title, in one head here, and in two lines there
                continue
            assert word in told, (word, text[:8])
            told = told[told.index(word) + 1 :]
        more = {word.rstrip(",:") for word in Counter(on_paper) - Counter(text)}
        assert more <= _AGAIN | {word.rstrip(",:") for word in title} | heads_of(text), (text[:6], more)


def heads_of(text: list[str]) -> set[str]:
    """Words of the heads of tables, which are put again over every column that a table goes on in."""
    return set(text) - {word for word in text if re.search("[0-9]", word)}


def says_every_word_of_its_head(name: str, of: str) -> None:
    """What comes before the steps: facts, legend, the log, what it is good for; and not less often than in text."""
    lines = [line for page in in_text(name, of).split("\f") for line in page.splitlines()[3:]]
    before = lines[: next(k for k, line in enumerate(lines) if re.match(r"\[[ x]\] ", line))]
    facts = next(k for k, line in enumerate(before) if line.startswith("Rule ")) + 3  # the section is drawn beside them
    before = [line[:_BESIDE] for line in before[:facts]] + before[facts:]
    drawn = [line for line in before if not re.search("[\u2800-\u28ff─]", line) and not line.endswith(", continued")]
    beside = [re.split(r"[\u2800-\u28ff]", line)[0] for line in before if re.search("[\u2800-\u28ff]", line)]
    scale = next(line for line in drawn if line.startswith("╵") or re.match(r" *[╵0]", line))
    said = [line for line in (*drawn, *beside) if line is not scale and "to scale" not in line]
    text = re.sub(r"exaggerated\s+[0-9.]+", "exaggerated", "\n".join(said))
    letters = re.compile(r"(?m)^ *[a-z*]{1,4}(?: +[a-z*]{1,4})* *$")  # over the drawing, where two may stand close
    wanted = Counter(letters.sub("", text).split())
    left = wanted - Counter(word.text for page in printed(name, of) for word in page.words)
    # the text says of the drawing's own scale what the drawing here has for itself
    assert set(left) <= _OF_THE_DRAWING, left


def has_the_station_table_to_be_read_from_two_metres(name: str, of: str) -> None:
    card = read_card(in_text(name, of))
    words = [word for word in body(printed(name, of)) if word.size > 13.5]
    numbers = [word.text for word in words if re.match("[0-9]", word.text)]
    stations = [part for row in card.stations for part in row["station"].split() if re.match("[0-9]", part)]
    rest = list(numbers)
    for part in stations if "depth" not in card.stations[0] else ():
        assert part in rest
        rest = rest[rest.index(part) + 1 :]
    cells = Counter(part for row in card.stations for key, cell in row.items() if key != "there"
                    for part in cell.split() if re.match("[0-9]", part))  # fmt: skip
    if "depth" in card.stations[0]:  # two tables, the stations in both
        cells += Counter(stations)
    assert not cells - Counter(numbers)
    # five minutes of arc, the letters of the 6/6 line of an eye chart (ISO 8596, from memory); the height of a digit of
    # this typeface is 0.66 of its size
    least = min(word.size for word in words if word.text in stations)
    assert 60 * degrees(atan(0.66 * least * 25.4 / 72 / 2000)) > 5.0


@pytest.mark.parametrize(("paper", "wide", "high"), [("a4", 210.0, 297.0), ("letter", 215.9, 279.4)])
def test_every_page_says_whose_it_is_and_what_it_was_computed_from(paper: str, wide: float, high: float) -> None:
    """ISO 216 and ANSI Y14.1 give the sizes of the sheets."""
    pages = sheets(made("saltmarsh-yawl", "mizzen mast", paper))
    for number, page in enumerate(pages, 1):
        assert (page.width, page.height) == pytest.approx((wide, high), abs=0.01)
        text = page.text()
        assert "Saltmarsh yawl · mizzen mast" in text
        assert f"page {number} of {len(pages)}" in text
        assert "Computed from boat.toml by shopcompanion 9.9. Rule: 1/32 in. Date: 2026-05-02." in text
        assert "a qualified person come before this card." in text


def test_its_letters_are_in_the_file_and_it_is_the_same_every_time() -> None:
    data = made("saltmarsh-yawl", "boom")
    names = fonts(data)
    assert len(names) == 2
    assert all(names.values())
    assert all("SourceSansPro" in font for font in names)
    assert data == made("saltmarsh-yawl", "boom")
    assert data != made("saltmarsh-yawl", "boom", date="2026-05-03")


def test_its_bookmarks_lead_to_the_card() -> None:
    assert [(depth, words) for depth, words, _ in bookmarks(made("saltmarsh-yawl", "boom"))] == [
        (0, "boom"), (1, "Station table"), (1, "The steps"),
    ]  # fmt: skip


def test_the_wood_that_comes_off_is_hatched_around_the_finished_section() -> None:
    """The hatching lies between the square of the blank, 3 in, and the round of 2-3/4 in, both drawn to one scale."""
    page = printed("saltmarsh-yawl", "mizzen mast")[0]
    closed = [mark for mark in page.drawn if len(mark.points) > 100 and mark.stroked and mark.points[0][1] < 90]
    [round_] = [mark for mark in closed if mark.points[0][0] > 120]
    xs, ys = zip(*round_.points, strict=True)
    radius = (max(xs) - min(xs)) / 2
    middle = ((max(xs) + min(xs)) / 2, (max(ys) + min(ys)) / 2)
    assert max(ys) - min(ys) == pytest.approx(2 * radius, abs=0.02)
    lines = [
        mark.points
        for mark in page.drawn
        if len(mark.points) == 2 and mark.points[0][0] > 120 and mark.points[0][1] < 90
    ]
    hatching = [(a, b) for a, b in lines if abs(abs(a[0] - b[0]) - abs(a[1] - b[1])) < 0.02]
    assert len(hatching) > 30
    half = radius * 3.0 / 2.75
    for line in hatching:
        for x, y in line:
            across, down = abs(x - middle[0]), abs(y - middle[1])
            assert max(across, down) <= half + 0.02
            assert across**2 + down**2 >= (radius - 0.03) ** 2
