"""What a pane asks: with a spar chosen the few fields that are typed often, the others by enter at the last one."""

import pytest

from shopcompanion.catalog import STAGES, load

from .conftest import LUGGER, SMALL, Opener, own_copy

FIRST = ["species", "thinner", "as_built", "sail_area", "wind"]


async def opened(it, name: str = "strength") -> None:
    await it.find(name)
    await it.answered()


async def test_a_long_form_is_short_with_a_spar_chosen(desk: Opener, home) -> None:
    own_copy(home, LUGGER)
    async with desk(LUGGER, spar="mast") as it:
        await opened(it)
        view = it.app.bench.view
        assert [view.form.fields[place].name for place in view.form.asked()] == FIRST
        assert f"… {len(view.form.fields) - len(FIRST)} more; enter at the last one" in it.text


async def test_enter_at_the_last_field_shows_the_others_and_down_scrolls_the_answers(desk: Opener, home) -> None:
    own_copy(home, LUGGER)
    async with desk(LUGGER, spar="mast") as it:
        await opened(it)
        view = it.app.bench.view
        await it.press(*["down"] * 4)
        assert it.field == "wind"
        await it.press("down")
        assert view.tops["page"] > 0
        assert it.field == "wind"
        await it.press("enter")
        assert it.field == "outline"
        assert view.form.asked() == list(range(len(view.form.fields)))
        await it.press("up")
        assert it.field == "wind"


async def test_what_was_typed_stays_in_sight(desk: Opener, home) -> None:
    own_copy(home, LUGGER)
    async with desk(LUGGER, spar="mast") as it:
        await opened(it)
        view = it.app.bench.view
        await it.press(*["enter"] * 5)
        while it.field != "crew":
            await it.press("down")
        await it.write("200 kg")
        await it.find("facets")
        await opened(it)
        assert [view.form.fields[place].name for place in view.form.asked()] == [*FIRST, "crew"]
        assert "Crew" in it.text


async def test_without_a_spar_a_beam_can_be_typed(desk: Opener) -> None:
    async with desk(None, spar=None, at=None) as it:
        await opened(it)
        view = it.app.bench.view
        asked = [view.form.fields[place].name for place in view.form.asked()]
        assert {"length", "butt", "head", "supports", "loads", "push"} <= set(asked)
        assert "brace_angle" not in asked


async def test_the_answer_is_seen_at_once_on_a_small_screen(desk: Opener, home) -> None:
    """How far the masthead goes, where it breaks first and by how much; with every caution, as the first time has."""
    own_copy(home, LUGGER)
    async with desk(LUGGER, spar="mast", size=SMALL) as it:
        await opened(it)
        answers = it.session.shown().result.answers
        assert f"FACTOR AGAINST BREAKING  {answers.factor:.3g}" in it.text
        assert "Head moves" in it.text
        assert answers.governs in it.text
        assert "designer come first" in it.text


@pytest.mark.parametrize("name", STAGES["Prove"])
def test_every_field_that_is_asked_first_says_its_whole_name(name: str) -> None:
    """80 × 24 has 19 columns for a label."""
    first = [field.kind.label for field in load(name).typed_fields if field.kind.asked == "first"]
    assert [label for label in first if len(label) > 19] == []
