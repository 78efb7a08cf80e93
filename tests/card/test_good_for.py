"""What a spar is good for: the block of a card is the answer of strength, and never without its words of guidance."""

import pytest

from shopcompanion import form
from shopcompanion.card.good_for import TITLE
from shopcompanion.card.text import card
from shopcompanion.catalog import load
from shopcompanion.profile.follow import follow

from .boats import boat, one_spar, spars


def text_of(name: str, of: str) -> str:
    text = card(boat(name), boat(name).spar(of), rule=boat(name).rule, source="", version="", date=None).text
    return " ".join(text.split())


@pytest.mark.parametrize(("name", "of"), [pair for pair in spars() if pair[0] != "oddments"])
def test_the_block_is_strengths_answer(name: str, of: str) -> None:
    here, text = boat(name), text_of(name, of)
    block = text.partition(TITLE)[2].partition("[ ]")[0].partition("[x]")[0]
    result = form.solve(load("strength"), {}, follow(here, here.spar(of), None), here.rule)
    kinds = {field.name: field.kind for field in result.calculator.answer_fields}
    for key in ("load", "worst_stress", "factor", "mass", "governs"):
        assert kinds[key].show(getattr(result.answers, key), here.rule) in block, key
    assert ("Buckles" in block) == (result.answers.load_factor is not None)
    assert "Guidance, not a design approval" in block


def test_a_spar_without_a_load_has_no_block() -> None:
    stations = '[{ at = 0, width = 60 }, { at = "3 m", width = 40 }]'
    body = f'kind = "mast"\nspecies = "Spruce, Sitka"\nlength = "3 m"\nstations = {stations}'
    trial = one_spar(body)
    assert TITLE not in card(trial, trial.spars[0], rule=trial.rule, source="", version="", date=None).text
