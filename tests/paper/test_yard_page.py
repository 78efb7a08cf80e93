"""The cutting plan set for print, held against the page in text and against the plan's own lengths."""

from functools import cache

import pytest

from shopcompanion.card.origin import Origin
from shopcompanion.card.yard import page as text_page
from shopcompanion.paper.pdf import pdf
from shopcompanion.paper.sheets import MARGIN, SHEETS
from shopcompanion.paper.yard_page import yard_page
from shopcompanion.stock.blanks import Task, task
from shopcompanion.stock.pieces import Plan
from shopcompanion.stock.plan import first_plan
from tests.card.boats import boat
from tests.paper.reading import Sheet, out_of_place, sheets

NAMES = ("saltmarsh-yawl", "fjord-lugger")


@cache
def planned(name: str) -> tuple[Task, Plan]:
    job = task(boat(name), boat(name).rule)
    return job, first_plan(job.problem)


@cache
def printed(name: str) -> list[Sheet]:
    its = boat(name)
    pages = yard_page(its, *planned(name), SHEETS["a4"], Origin(its.rule, "boat.toml", "9.9", "2026-05-02"))
    return sheets(pdf(pages, name, "2026-05-02"))


@pytest.mark.parametrize("name", NAMES)
def test_it_says_every_word_of_the_page_in_text_in_its_order(name: str) -> None:
    its = boat(name)
    text = text_page(its, *planned(name), rule=its.rule, source="boat.toml", version="9.9", date="2026-05-02")
    lines = [line for page in text.split("\f") for line in page.splitlines()[3:]]
    lines = lines[: next(k for k, line in enumerate(lines) if line.startswith("Computed from"))]
    drawn = "█╳─░│"
    wanted = [word for line in lines if not set(line) & set(drawn) and not line.endswith(", continued")
              for word in line.removeprefix("- ").replace(",", "").split()]  # fmt: skip
    told = [word.text.replace(",", "") for page in printed(name) for word in page.words]
    for word in wanted:
        assert word in told, word
        told = told[told.index(word) + 1 :]


@pytest.mark.parametrize("name", NAMES)
def test_nothing_lies_on_anything_else(name: str) -> None:
    for page in printed(name):
        assert out_of_place(page, MARGIN) == []


def test_every_blank_is_drawn_to_scale_in_its_timber() -> None:
    """The grey of a blank is as long to its timber's frame as the blank is to the timber."""
    job, plan = planned("saltmarsh-yawl")
    wanted = sorted(
        cut.blank.length / job.problem.timbers[sawn.timber].length
        for sawn in plan.sawn for strip in sawn.strips for cut in strip.cuts
    )  # fmt: skip
    drawn = []
    for page in printed("saltmarsh-yawl"):
        boxes = [(mark, _box(mark.points)) for mark in page.drawn if len(mark.points) >= 4]
        frames = [box for mark, box in boxes if abs(mark.width - 0.6) < 0.01 and box[2] - box[0] > 8]
        for mark, box in boxes:
            if abs(mark.width - 0.35) < 0.01 and not mark.dash:
                [frame] = [of for of in frames if _holds(of, box)]
                drawn.append((box[2] - box[0]) / (frame[2] - frame[0]))
    assert sorted(drawn) == pytest.approx(wanted, abs=2e-3)


def _holds(frame: tuple[float, ...], box: tuple[float, ...]) -> bool:
    return all(a - 0.01 <= b for a, b in zip(frame[:2], box[:2], strict=True)) and all(
        b <= a + 0.01 for a, b in zip(frame[2:], box[2:], strict=True)
    )


def _box(points: list[tuple[float, float]]) -> tuple[float, float, float, float]:
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)
