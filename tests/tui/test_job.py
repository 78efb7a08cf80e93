"""The job screen by its keys: steps are ticked and kept with the boat; the card is read and written."""

import re

import pytest

from shopcompanion.card.steps import steps
from shopcompanion.tui.config import read_config
from shopcompanion.tui.job import Job
from shopcompanion.tui.reader import TextScreen

from .conftest import LUGGER, NORMAL, SMALL, WIDE, Opener


async def test_steps_are_ticked_and_kept_with_the_boat(desk: Opener) -> None:
    async with desk() as it:
        before = it.session.state.text
        await it.press("ctrl+k")
        assert isinstance(it.app.screen, Job)
        ids = [step.id for step in steps(it.session.boat, it.session.spar, it.session.rule)]
        first = it.app.screen.at
        await it.press("enter", "space")
        assert set(ids[first : first + 2]) <= set(it.session.spar.done)
        assert it.session.unsaved
        await it.press("space")
        assert ids[first + 1] not in it.session.spar.done
        await it.press("ctrl+z", "ctrl+z", "ctrl+z")
        assert it.session.state.text == before


@pytest.mark.parametrize("opens", ["", "ctrl+d", "ctrl+k"])  # the bench, the sheet and the job
async def test_the_top_of_every_screen_tells_how_the_boat_stands(desk: Opener, opens: str) -> None:
    async with desk(size=NORMAL) as it:
        await it.press(*filter(None, [opens]))
        assert it.text.split("\n")[0].rstrip().endswith("example")
    async with desk(size=NORMAL) as it:
        await it.press("ctrl+k", "space", "escape", *filter(None, [opens]))
        assert it.text.split("\n")[0].rstrip().endswith("not saved ●")


@pytest.mark.parametrize("size", [NORMAL, WIDE, SMALL])
async def test_every_step_can_be_read_to_its_end(desk: Opener, size: tuple[int, int]) -> None:
    async with desk(size=size) as it:
        await it.press("ctrl+k")
        job = it.app.screen
        assert isinstance(job, Job)
        await it.press(*["up"] * len(job.steps))
        for number, step in enumerate(job.steps, 1):
            assert f"{number:>2}  {step.title}"[: size[0] - 12] in it.text
            assert not any(line.endswith("…") for line in job._lines(size[0]))
            seen = it.text
            for _ in range(30):
                if job.top == job.furthest:
                    break
                await it.press("pagedown")
                seen += it.text
            assert job.top == job.furthest
            for caution in step.cautions:
                assert caution.split()[0] in seen
            await it.press("down")


async def test_the_card_is_read_and_written(desk: Opener) -> None:
    async with desk(LUGGER, spar=None, at=None) as it:
        name = it.session.spar_name
        await it.press("ctrl+k", "c")
        assert f"Card of {name}" in it.text
        await it.press("escape", "w")
        written = list(it.app.places.profiles.glob("*-card.txt"))
        assert len(written) == 1
        card = written[0].read_text(encoding="utf-8")
        assert name.upper() in card
        assert max(map(len, card.replace("\f", "\n").splitlines())) <= 72


@pytest.mark.parametrize("drawing", ["braille", "ascii"])
@pytest.mark.parametrize("keys", [("ctrl+k", "c"), ("f6", "p")])
async def test_a_page_for_paper_is_drawn_to_the_width_of_a_small_screen(
    desk: Opener, keys: tuple[str, ...], drawing: str
) -> None:
    """Where its drawings were folded they would be in pieces."""
    async with desk(size=SMALL, config=read_config(f'drawing = "{drawing}"')) as it:
        await it.press(*keys)
        page = it.app.screen
        assert isinstance(page, TextScreen)
        lines = str(page.text).split("\n")
        assert sum(set(line) <= {"─", "-"} and len(line) == SMALL[0] - 2 for line in lines) > 2
        drawn = [line for line in lines if re.search("[⠁-⣿▁-█]{3}|[-#*:]{4}", line)]
        assert len(drawn) > 4
        assert max(map(len, drawn)) == SMALL[0] - 2
        assert str(page.text).isascii() == (drawing == "ascii")


async def test_the_job_of_every_spar_opens(desk: Opener) -> None:
    async with desk() as it:
        for spar in it.session.boat.spars:
            it.session.choose_spar(spar.name)
            await it.press("ctrl+k")
            assert f"0 of {len(it.app.screen.steps)} steps done" in it.lines[0] or "steps done" in it.lines[0]
            await it.press("escape")
