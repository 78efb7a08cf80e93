"""The real program in a real terminal: started in a pty, read through a terminal emulator, worked by keys, left."""

import os
import signal
import subprocess
import sys
import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path
from time import monotonic
from typing import Any

import pexpect
import pyte
import pytest

from shopcompanion.storage.store import places, recovery

from .conftest import YAWL, example

PATIENCE = 20  # seconds; nothing waits that long unless something is wrong
DOWN, ESCAPE = "\x1b[B", "\x1b"


def ctrl(letter: str) -> str:
    return chr(ord(letter) - ord("a") + 1)


class Terminal:
    """A program in a terminal of its own; what stands on the screen is read from what the program really sends."""

    def __init__(self, arguments: list[str], environment: dict[str, str], size: tuple[int, int]) -> None:
        columns, rows = size
        self.screen = pyte.Screen(columns, rows)
        self.stream = pyte.ByteStream(self.screen)
        self.sent = b""
        self.program = pexpect.spawn(sys.executable, arguments, env=environment, dimensions=(rows, columns))
        self.program.delaybeforesend = None
        self.program.ptyproc.delayafterclose = 0  # it is waited for where that matters

    def read(self) -> bool:
        """Take in what has been sent; False when there will be no more."""
        try:
            sent = self.program.read_nonblocking(65536, timeout=0.02)
        except pexpect.TIMEOUT:
            return True
        except pexpect.EOF:
            return False
        self.sent += sent
        self.stream.feed(sent)
        return True

    @property
    def text(self) -> str:
        return "\n".join(line.rstrip() for line in self.screen.display)

    @property
    def words(self) -> str:
        """The screen as running words, wherever its lines are broken."""
        return " ".join(self.text.split())

    def press(self, keys: str) -> None:
        """Send keys, all in one write."""
        self.program.send(keys)

    def until(self, *wanted: str, without: str = "") -> None:
        """Read until all of `wanted` stands on the screen, and `without` does not."""
        end = monotonic() + PATIENCE
        while not all(words in (text := self.text) for words in wanted) or (without and without in text):
            more = self.read()
            assert more or all(words in self.text for words in wanted), f"it ended before {wanted}:\n{self.text}"
            assert monotonic() < end, f"no {wanted} on the screen, or still {without!r}:\n{self.text}"

    def resize(self, columns: int, rows: int) -> None:
        self.screen.resize(rows, columns)
        self.program.setwinsize(rows, columns)

    def ended(self) -> int | None:
        """Read to the end; the exit status."""
        end = monotonic() + PATIENCE
        while self.read():
            assert monotonic() < end, f"it does not end:\n{self.text}"
        self.program.wait()
        status: int | None = self.program.exitstatus
        return status


Starter = Callable[..., Terminal]


@pytest.fixture
def start(tmp_path: Path) -> Iterator[Starter]:
    """Start the program with boats and a config of the test's own."""
    started: list[Terminal] = []

    def starting(*arguments: str, size: tuple[int, int] = (80, 24), script: str = "", **environment: str) -> Terminal:
        outer = {name: value for name, value in os.environ.items() if name not in ("COLUMNS", "LINES", "NO_COLOR")}
        own = {
            "TERM": "xterm-256color",
            "SHOPCOMPANION_PROFILES": str(tmp_path / "boats"),
            "SHOPCOMPANION_CONFIG": str(tmp_path / "config.toml"),
        }
        program = ["-c", script] if script else ["-m", "shopcompanion"]
        terminal = Terminal([*program, *arguments], {**outer, **own, **environment}, size)
        started.append(terminal)
        return terminal

    yield starting
    for terminal in started:
        terminal.program.close(force=True)


def presets(path: Path) -> list[dict[str, Any]]:
    return tomllib.loads(path.read_text(encoding="utf-8"))["preset"]


def test_the_main_job_from_the_first_key_to_the_last(start: Starter, tmp_path: Path) -> None:
    """How wide are the facets of the mizzen at 5 ft, what comes off, will the 4 in drum drive, does a 3/4 in bit do?"""
    it = start("--boat", YAWL)
    it.until("Saltmarsh yawl", "^F find", "main mast")
    it.press(ctrl("l"))
    it.until("Spars of Saltmarsh yawl")
    it.press("mizz\r")
    it.until("mizzen mast", without="Spars of")
    it.press(ctrl("g"))
    it.until("Go to the station")
    it.press("5 ft\r")
    it.until("5 ft", "2-7/16 in bare", "FACET AT 8 SIDES", "1.0047 in", "23/32 in bare", without="Go to")

    for name, wanted in (
        ("taper", ("OFF EACH FACE", "0.2872 in")),
        ("drum", ("THE BELT DRIVES", "Drum must be over", "2-3/4 in")),
        ("roundover", ("THIS BIT", "Radius of the bit")),
    ):
        it.press(ctrl("f"))
        it.until("Find", "esc back")
        it.press(f"{name}\r")
        it.until(*wanted, without="esc back")

    it.press(DOWN + DOWN + "3/4")
    it.until("= 3/4 in", "15/16 in bare", "Flat left on this side")
    it.press(ctrl("p"))
    it.until("Presets for roundover")
    it.press("\r")
    it.until("Name of the preset")
    it.press("mizzen, small bit\r")
    it.until("not saved ●", without="Name of the preset")
    it.press(ctrl("s"))
    it.until("saved as saltmarsh-yawl", without="not saved ●")
    it.press(ctrl("q"))
    assert it.ended() == 0
    assert b"\x1b[?1049l" in it.sent  # the screen that was there before is back
    saved = presets(tmp_path / "boats" / f"{YAWL}.toml")[-1]
    assert saved == {
        "calculator": "roundover",
        "name": "mizzen, small bit",
        "inputs": {"bit_radius": "3/4 in"},
    }


def test_a_burst_of_keys_in_one_write_goes_where_it_was_meant(start: Starter, tmp_path: Path) -> None:
    it = start("--boat", YAWL, "--spar", "mizzen mast")
    it.until("^F find")
    it.press(
        f"{ctrl('g')}5 ft\r{ctrl('f')}rou\r{DOWN}{DOWN}3/5\x7f4{DOWN}{DOWN}1/2\r4{ctrl('p')}\rquick\r"
        f"{ctrl('f')}drum\r5{DOWN}36{ctrl('s')}"
    )
    it.until("saved as saltmarsh-yawl", "THE BELT DRIVES")
    it.until("5 ft", "36", "not 2 ft")
    saved = presets(tmp_path / "boats" / f"{YAWL}.toml")[-1]
    assert saved["inputs"] == {"bit_radius": "3/4 in", "pilot": "1/2 in", "passes": "4"}
    it.press(ctrl("q"))
    assert it.ended() == 0


def test_keys_typed_ahead_while_it_starts_do_no_harm(start: Starter) -> None:
    it = start("--boat", YAWL, "--spar", "mizzen mast")
    it.press("3")
    it.until("^F find", "FACET AT 8")
    it.press(ctrl("u") + "2")
    it.until("= 2 in")
    it.press(ctrl("q"))
    assert it.ended() == 0


@pytest.mark.parametrize("term", ["screen", "tmux-256color"])
def test_other_terminals(start: Starter, term: str) -> None:
    it = start("--boat", YAWL, "--spar", "mizzen mast", TERM=term)
    it.until("^F find", "FACET AT 8", "5 ft")
    it.press(">" + ctrl("f"))
    it.until("6 ft", "Find")
    it.press("tap\r")
    it.until("OFF EACH FACE", "Length of the spar", without="esc back")
    it.press(ctrl("q"))
    assert it.ended() == 0


def test_without_colour_the_signs_say_it_all(start: Starter, tmp_path: Path) -> None:
    (tmp_path / "config.toml").write_text('theme = "sixteen"\n', encoding="utf-8")
    for environment in ({}, {"NO_COLOR": "1"}):
        it = start("--boat", YAWL, "--spar", "mizzen mast", **environment)
        it.until("^F find", "⇠ the spar here")
        it.press("3-")
        it.until("✗ Width across flats", "(last good answer)")
        it.press("1/2")
        it.until("= 3-1/2 in, not 2-7/16 in bare", without="✗")
        it.press(ctrl("q"))
        assert it.ended() == 0
        assert b"38;2;" not in it.sent  # the colours are the terminal's own
        assert b"48;2;" not in it.sent


def test_the_screen_may_change_its_size_while_it_runs(start: Starter) -> None:
    it = start("--boat", YAWL, "--spar", "mizzen mast")
    it.until("^F find", "Saltmarsh yawl › mizzen mast")
    it.press("3-1/2")
    it.until("= 3-1/2 in")
    it.resize(60, 20)
    it.until("^Q quit", "⚠ Blade guard", "= 3-1/2 in", without="Saltmarsh yawl")
    it.resize(120, 40)
    it.until("Saltmarsh yawl › mizzen mast", "the section, to scale", "› facets", "^Q quit")
    it.press(ctrl("q"))
    assert it.ended() == 0


def test_what_was_not_saved_is_there_after_the_program_was_killed(start: Starter, tmp_path: Path) -> None:
    it = start("--boat", YAWL, "--spar", "mizzen mast")
    it.until("^F find")
    it.press(f"3{ctrl('p')}\rthree\r")
    it.until("not saved ●", "kept as 'three'")
    it.program.kill(signal.SIGKILL)
    assert it.ended() is None
    assert not (tmp_path / "boats" / f"{YAWL}.toml").exists()

    it = start("--boat", YAWL)
    it.until("Unsaved work was found", "restore")
    it.press("\r")
    it.until("not saved ●", without="Unsaved work")
    it.press(ctrl("s"))
    it.until("saved as saltmarsh-yawl")
    it.press(ctrl("q"))
    assert it.ended() == 0
    assert presets(tmp_path / "boats" / f"{YAWL}.toml")[-1]["name"] == "three"
    home = places(str(tmp_path / "boats"))
    assert recovery(home, example(home)) is None


def test_quitting_asks_and_escape_stays(start: Starter, tmp_path: Path) -> None:
    it = start("--boat", YAWL, "--spar", "mizzen mast")
    it.until("^F find")
    it.press(f"3{ctrl('p')}\rthree\r{ctrl('q')}")
    it.until("Saltmarsh yawl is not saved")
    it.press(ESCAPE)
    it.until("not saved ●", without="is not saved")
    it.press(ctrl("q"))
    it.until("save and quit", "quit without saving")
    it.press(DOWN + "\r")
    assert it.ended() == 0
    assert not (tmp_path / "boats" / f"{YAWL}.toml").exists()


BROKEN = """
from shopcompanion.tui.{module} import {owner}

def broken(self, *given):
    secret = "locals are not shown"
    raise RuntimeError("a plank has come loose")

{owner}.{name} = broken
from shopcompanion.cli import run
run()
"""


@pytest.mark.parametrize(
    ("broken", "keys"),
    [
        (("bench", "Bench", "do_units"), ctrl("t")),
        (("sheet", "Sheet", "rows"), ctrl("d")),
        (("job", "Job", "do_tick"), ctrl("k") + " "),
        (("reader", "TextScreen", "rows"), "?"),
        (("bench", "Bench", "do_turn_page"), ctrl("y")),
    ],
)
def test_a_fault_of_its_own_keeps_the_work_and_says_where(
    start: Starter, tmp_path: Path, broken: tuple[str, str, str], keys: str
) -> None:
    module, owner, name = broken
    script = BROKEN.format(module=module, owner=owner, name=name)
    it = start("--boat", YAWL, "--spar", "mizzen mast", script=script)
    it.until("^F find")
    it.press(f"3{ctrl('p')}\rthree\r")
    it.until("not saved ●")
    it.press(keys)
    assert it.ended() == 1
    home = places(str(tmp_path / "boats"))
    copy = recovery(home, example(home))
    assert copy is not None
    assert 'name = "three"' in copy.text
    said = it.sent[it.sent.rindex(b"\x1b[?1049l") :].decode()
    assert "RuntimeError" in said
    assert f"Your work is kept in {home.recovery}" in said
    assert said.count("\r\n") == 1
    assert "Traceback" not in said
    assert "locals" not in said


def test_without_a_terminal_it_says_so_and_ends(tmp_path: Path) -> None:
    environment = {**os.environ, "SHOPCOMPANION_PROFILES": str(tmp_path)}
    for arguments in ([], ["--boat", YAWL]):
        done = subprocess.run(
            [sys.executable, "-m", "shopcompanion", *arguments],
            stdin=subprocess.DEVNULL,
            capture_output=True,
            env=environment,
            timeout=PATIENCE,
            check=False,
        )
        assert done.returncode == 2
        assert done.stdout == b""
        assert done.stderr.count(b"\n") == 1
        assert b"needs a terminal" in done.stderr


@pytest.mark.parametrize(
    ("arguments", "status", "said"),
    [
        (["--boat", "saltmarsh-yowl"], 2, "did you mean 'saltmarsh-yawl'?"),
        (["--boat", YAWL, "--spar", "mizen"], 2, "did you mean 'mizzen mast'?"),
        (["--spar", "mizzen mast"], 2, "--spar needs a boat"),
    ],
)
def test_a_boat_or_spar_that_is_not_there_is_told_before_the_screen_is_taken(
    start: Starter, arguments: list[str], status: int, said: str
) -> None:
    it = start(*arguments, size=(120, 10))
    assert it.ended() == status
    assert said in it.words
    assert "Traceback" not in it.text
    assert b"\x1b[?1049h" not in it.sent


def unsaved(start: Starter, script: str = "") -> Terminal:
    it = start("--boat", YAWL, "--spar", "mizzen mast", script=script)
    it.until("^F find")
    it.press(f"3{ctrl('p')}\rthree\r")
    it.until("not saved ●")
    return it


def assert_kept(tmp_path: Path) -> None:
    home = places(str(tmp_path / "boats"))
    copy = recovery(home, example(home))
    assert copy is not None
    assert 'name = "three"' in copy.text


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_a_signal_keeps_the_work_and_gives_the_terminal_back(start: Starter, tmp_path: Path, number: int) -> None:
    it = unsaved(start)
    it.program.kill(number)
    assert it.ended() == 128 + number
    assert b"\x1b[?1049l" in it.sent
    assert b"Traceback" not in it.sent
    assert_kept(tmp_path)


NO_HANG_UP = """
import signal
signal.signal(signal.SIGHUP, signal.SIG_IGN)
from shopcompanion.cli import run
run()
"""


@pytest.mark.parametrize("script", ["", NO_HANG_UP])
def test_without_its_terminal_the_program_ends_at_once(start: Starter, tmp_path: Path, script: str) -> None:
    it = unsaved(start, script)
    pid = it.program.pid
    it.program.ptyproc.fileobj.close()
    end = monotonic() + PATIENCE
    while os.waitpid(pid, os.WNOHANG) == (0, 0):
        assert monotonic() < end, "it lives on without a terminal"
    it.program.ptyproc.terminated = it.program.terminated = True
    assert_kept(tmp_path)
