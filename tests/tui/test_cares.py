"""On a low screen several cautions are one line with their number; the first time, and by a key, all are told."""

import pytest

from shopcompanion.catalog import NAMES

from .conftest import NORMAL, SMALL, WIDE, Desk, Opener


def cautions(it: Desk) -> tuple[str, ...]:
    result = it.session.shown().result
    assert result is not None
    return result.cautions


@pytest.mark.parametrize("size", [NORMAL, SMALL])
async def test_all_the_first_time_then_one_line_and_all_by_a_key(desk: Opener, size: tuple[int, int]) -> None:
    async with desk(size=size) as it:
        await it.find("dowels")
        every = cautions(it)
        assert len(every) > 1
        assert all(f"⚠ {line}" in " ".join(it.text.split()) for line in every)
        await it.find("facets")
        await it.find("dowels")
        (line,) = [line for line in it.lines if "⚠" in line]
        assert f"⚠ {len(every)} cares, F7 shows all: " in line
        await it.press("f7")
        assert all(f"⚠ {line}" in " ".join(it.text.split()) for line in every)
        await it.press("ctrl+home")
        assert sum("⚠" in line for line in it.lines) == 1
        assert "⚠" in next(line for line in reversed(it.lines) if line and "^" not in line)  # no rows are kept empty


@pytest.mark.parametrize("name", NAMES)
async def test_no_caution_of_any_calculator_is_cut_the_first_time(desk: Opener, name: str) -> None:
    async with desk(size=SMALL) as it:
        await it.find(name)
        await it.answered()
        assert all(f"⚠ {line}" in " ".join(it.text.split()) for line in cautions(it))
        shown = it.session.shown()
        field = shown.result.heads()[0]
        assert shown.result is not None
        value = getattr(shown.result.answers, field.name)
        assert field.kind.show(value, it.session.rule).split()[0] in it.text  # and the answer stands there as well


async def test_where_there_are_rows_enough_all_are_told_always(desk: Opener) -> None:
    async with desk(size=WIDE) as it:
        await it.find("dowels")
        await it.find("facets")
        await it.find("dowels")
        assert all(f"⚠ {line}" in " ".join(it.text.split()) for line in cautions(it))


async def test_what_holds_only_here_is_told_before_what_holds_always(desk: Opener) -> None:
    async with desk(spar="main mast", at="6 in") as it:
        await it.find("drum")
        await it.find("facets")
        (line,) = [line for line in it.lines if "⚠" in line]
        assert "stays square here" in line


@pytest.mark.parametrize("name", NAMES)
async def test_on_a_wide_screen_the_answer_of_every_calculator_stands_under_its_fields(desk: Opener, name: str) -> None:
    async with desk(size=WIDE) as it:
        await it.find(name)
        await it.answered()
        shown = it.session.shown()
        field = shown.result.heads()[0]
        assert field.kind.label.split()[0].upper() in "\n".join(it.lines)
        assert len(it.part("#page").splitlines()) >= 8
