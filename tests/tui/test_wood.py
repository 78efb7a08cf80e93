"""The wood beside the steps of the job, by the keys and as cells."""

from .conftest import NORMAL, SMALL, WIDE, Opener


async def test_the_wood_stands_beside_the_step_and_changes_with_it(desk: Opener) -> None:
    for size in (NORMAL, WIDE):
        async with desk(size=size) as it:
            await it.press("ctrl+k")
            seen = []
            for _ in range(30):
                seen.append(it.text)
                await it.press("down")
            eight = next(text for text in seen if "░ 1/2 in full" in text)
            assert ("at 5 ft: square to size" in eight) == ("next: eight sides" in eight) == (size == WIDE)
            assert "░" in eight.split("░ 1/2")[0]
            assert "round" in seen[-1]
            assert "░" not in seen[-1]
            assert seen[-1].count("█") > 50
            assert all(len(line) <= size[0] for line in eight.splitlines())


async def test_a_small_screen_keeps_its_rows_for_the_step(desk: Opener) -> None:
    async with desk(size=SMALL) as it:
        await it.press("ctrl+k")
        assert "at 5 ft:" not in it.text
        assert "█" not in it.text


async def test_without_blocks_the_wood_is_letters(desk: Opener) -> None:
    from shopcompanion.tui.config import read_config

    async with desk(config=read_config('drawing = "ascii"')) as it:
        await it.press("ctrl+k")
        for _ in range(30):
            if ". 1/2 in full" in it.text:
                break
            await it.press("down")
        assert ". 1/2 in full" in it.text
        assert "#" in it.text
        assert "█" not in it.text
