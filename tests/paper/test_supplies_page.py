"""The list of what to buy set for print, held against the page in text."""

import pytest

from shopcompanion.card.lines import Paper
from shopcompanion.card.origin import Origin
from shopcompanion.card.supplies import BLANK, page, planned, supplies
from shopcompanion.paper.pdf import pdf
from shopcompanion.paper.sheets import MARGIN, SHEETS
from shopcompanion.paper.supplies_page import supplies_page
from shopcompanion.stock.plan import first_plan
from tests.card.boats import boat
from tests.paper.reading import out_of_place, sheets


@pytest.mark.parametrize("name", ["saltmarsh-yawl", "oddments"])
def test_it_has_every_word_of_the_page_in_text(name: str) -> None:
    its = boat(name)
    job = planned(its)
    made = supplies(its, job, first_plan(job.problem) if job else None, its.rule)
    printed = sheets(
        pdf(supplies_page(its, made, SHEETS["a4"], Origin(its.rule, "x", "9.9", None)), name, "2026-05-02")
    )
    text = page(made, its.name, Paper(its.rule), ())
    lines = [line for sheet in text.split("\f") for line in sheet.splitlines()[3:] if not line.endswith(", continued")]
    wanted = sorted(word for line in lines for word in line.split() if word != BLANK)
    told = [word.text for sheet in printed for word in sheet.words]
    for word in wanted:
        assert word in told, word
        told.remove(word)
    for sheet in printed:
        assert out_of_place(sheet, MARGIN) == []
