"""Nothing of a profile, a paste or a flood of keys reaches the terminal as a code, or stops the keys."""

import re
from pathlib import Path
from time import monotonic

import pytest

from shopcompanion.profile.parse import read

from .conftest import YAWL, Opener
from .test_terminal import ESCAPE, PATIENCE, Starter, Terminal, ctrl, start

__all__ = ["start"]  # the fixture of the terminal
CODE = "\\u001b]0;"  # as TOML writes it: it would change the terminal's title
PROFILES = Path(__file__).parents[2] / "profiles"
F3, F5, F6 = "\x1bOR", "\x1b[15~", "\x1b[17~"


OPENED = (
    *(F3 + ctrl("y") * page for page in range(9)), ctrl("p"), ctrl("o"), ctrl("l"), ctrl("f"), "?",
    ctrl("f") + "faults\r", ctrl("f") + "species\r",
)  # fmt: skip
OPENED_WITH_A_SPAR = (
    *(ctrl("d") + ctrl("y") * page for page in range(8)), ctrl("k"), ctrl("k") + "c", F5, F6, F6 + "p",
)  # fmt: skip


def poisoned(which: str) -> str:
    """The demo boat with the code at the start of every text, or only of those that no sum needs."""
    text = (PROFILES / f"{YAWL}.toml").read_text(encoding="utf-8")
    return re.sub(rf'\b({which}) = "', lambda match: f"{match[0]}{CODE}", text)


@pytest.mark.parametrize("which", ["[a-z_]+", "name", "species", "calculator", "(?:name|source|nominal)"])
def test_no_text_of_a_profile_is_obeyed_by_the_terminal(start: Starter, tmp_path: Path, which: str) -> None:
    boats = tmp_path / "boats"
    boats.mkdir()
    text = poisoned(which)
    assert text.count(CODE) > 3
    (boats / "dabchick.toml").write_text(text, encoding="utf-8")
    spars = read(text).boat.spars
    at_the_bench = ("--spar", spars[-1].name) if spars else ()
    it = start("--boat", "dabchick", *at_the_bench, size=(100, 40), ESCDELAY="20")  # ms that a lone escape waits
    it.until("How wide is each facet" if spars else "no spar yet")
    quiet(it)
    for keys in (*OPENED, *(OPENED_WITH_A_SPAR if spars else ())):
        bench = above_the_foot(it)
        it.press(keys)
        changed(it, bench)
        for _ in range(2):
            if above_the_foot(it) != bench:
                it.press(ESCAPE)
                quiet(it, bench)
    it.press(ctrl("q"))
    assert it.ended() == 0
    assert b"\x1b]0;" not in it.sent


def above_the_foot(it: Terminal) -> list[str]:
    """The screen without what is told at its foot, which goes by itself."""
    return it.screen.display[:-3]


def quiet(it: Terminal, bench: list[str] | None = None) -> None:
    """Read until nothing is sent for a while, or until the bench stands there as it was."""
    silent = 0
    while silent < 3 and above_the_foot(it) != bench:
        before = len(it.sent)
        assert it.read()
        silent = silent + 1 if len(it.sent) == before else 0


def changed(it: Terminal, bench: list[str]) -> None:
    """Read until another screen stands there, whole."""
    end = monotonic() + PATIENCE
    while above_the_foot(it) == bench:
        assert it.read()
        assert monotonic() < end
    quiet(it)


async def test_a_pasted_text_of_200_kb_is_cut_and_told(desk: Opener) -> None:
    async with desk() as it:
        before = monotonic()
        await it.paste("3-1/2 " * 33_000)
        assert monotonic() - before < 5
        assert len(it.values()["width"]) == 400
        assert it.told[-1] == "pasted 198,000 characters; a field holds the first 400 of one line"
        await it.press("escape", *"3-1/2")
        assert it.values() == {"width": "3-1/2"}


def memory(pid: int) -> int:
    """Megabytes that a process has in memory."""
    status = Path(f"/proc/{pid}/status").read_text(encoding="utf-8")
    return int(re.findall(r"VmRSS:\s+(\d+)", status)[0]) // 1024


def test_200_kb_of_keys_at_once_are_let_go_and_told(start: Starter) -> None:
    it = start("--boat", YAWL, "--spar", "mizzen mast")
    it.until("^F find")
    before = memory(it.program.pid)
    rest = "1" * 200_000
    while rest:
        it.press(rest[:4000])
        rest = rest[4000:]
        it.read()
    it.until("keys came faster than a hand types")
    assert memory(it.program.pid) - before < 100
    end = monotonic() + PATIENCE
    while "1111" in it.text:  # until the last of them has been let go
        assert monotonic() < end
        it.press(ctrl("u"))
        it.read()
    it.press("3-1/2")
    it.until("= 3-1/2 in")
    it.press(ctrl("q"))
    assert it.ended() == 0
