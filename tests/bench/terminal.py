"""The far side of a terminal: it starts a program, answers what the program asks of a terminal, and keeps what it
paints with the time at which it came."""

import ctypes
import fcntl
import os
import pty
import select
import signal
import struct
import subprocess
import sys
import termios
from collections.abc import Callable, Sequence
from pathlib import Path
from time import perf_counter

ROOT = Path(__file__).parents[2]
ANSWERS = {b"\x1b[?2026$p": b"\x1b[?2026;2$y", b"\x1b[?2048$p": b"\x1b[?2048;0$y"}  # frames are marked; no resizing
FRAME_END = b"\x1b[?2026l"


FRAMES = "250"  # a second, of the app and of its yardsticks alike
_DIES_WITH_ITS_PARENT = 1  # PR_SET_PDEATHSIG of prctl(2)


def environment(**more: str) -> dict[str, str]:
    """That of an installed program: compiled once, nothing of a test's own."""
    left_out = ("PYTHONDONTWRITEBYTECODE", "PYTHONUNBUFFERED", "COLUMNS", "LINES", "NO_COLOR")
    kept = {name: value for name, value in os.environ.items() if name not in left_out and "TEXTUAL" not in name}
    terminal = {"TERM": "xterm-256color", "COLORTERM": "truecolor", "TEXTUAL_FPS": FRAMES}
    return {**kept, "PYTHONPATH": str(ROOT), **terminal, **more}


def tied() -> None:
    """In a child before it begins: end when the parent does, however that ends."""
    ctypes.CDLL(None).prctl(_DIES_WITH_ITS_PARENT, signal.SIGKILL)


def processor_time(pid: int) -> float:
    """What a process and its threads have had of the processors, ms: it says the same on a machine that is busy."""
    tasks = Path(f"/proc/{pid}/task").glob("*/schedstat")
    return sum(int(task.read_text(encoding="ascii").split()[0]) for task in tasks) / 1e6


def peak_of(status: str) -> float:
    """The most memory held, MB, by /proc/PID/status. What getrusage tells counts in what the parent held before."""
    (line,) = (line for line in status.splitlines() if line.startswith("VmHWM:"))
    return int(line.split()[1]) * 1024 / 1e6


class Terminal:
    """A program in a terminal of its own. `painted` holds (seconds since the start, bytes) as they came."""

    def __init__(self, argv: Sequence[str], columns: int = 120, lines: int = 40, **more: str) -> None:
        self.near, far = pty.openpty()
        fcntl.ioctl(far, termios.TIOCSWINSZ, struct.pack("HHHH", lines, columns, 0, 0))
        self.painted: list[tuple[float, bytes]] = []
        self.started = perf_counter()
        self.process = subprocess.Popen(
            [sys.executable, *argv],
            stdin=far,
            stdout=far,
            stderr=far,
            env=environment(**more),
            start_new_session=True,
            preexec_fn=tied,  # noqa: PLW1509  # no thread of ours is running
        )
        os.close(far)
        self.peak = 0.0  # MB of memory, known after `close`
        self.spent = 0.0  # ms of processor time, when what `until` waited for was there

    def now(self) -> float:
        return perf_counter() - self.started

    def take(self, seconds: float) -> bytes:
        """What comes next within `seconds`, or nothing."""
        if not select.select([self.near], [], [], seconds)[0]:
            return b""
        try:
            piece = os.read(self.near, 1 << 16)
        except OSError:  # the program has ended
            return b""
        if piece:
            self.painted.append((self.now(), piece))
        for question, answer in ANSWERS.items():
            if question in piece:
                os.write(self.near, answer)
        return piece

    def until(self, seen: Callable[[bytes], object], seconds: float = 20.0) -> float:
        """The time at which what was painted holds what is looked for. AssertionError when it never comes."""
        whole = b"".join(piece for _, piece in self.painted)
        end = self.now() + seconds
        while not seen(whole):
            assert self.now() < end, f"never painted; the last was {whole[-500:]!r}"
            whole += self.take(0.2)
        self.spent = processor_time(self.process.pid)
        return self.painted[-1][0]

    def memory(self) -> float:
        """The most memory held up to now, MB."""
        return peak_of(Path(f"/proc/{self.process.pid}/status").read_text(encoding="ascii"))

    def quiet(self, seconds: float) -> None:
        """Wait until nothing has been painted for so long."""
        while self.take(seconds):
            pass

    def press(self, keys: bytes) -> float:
        at = self.now()
        os.write(self.near, keys)
        return at

    def kill(self) -> None:
        """Take the peak memory, and end it at once."""
        self.peak = self.memory()
        self.process.kill()
        self.process.wait()
        os.close(self.near)

    def close(self, keys: bytes = b"\x11") -> None:
        """Take the peak memory, and quit by `keys`; it must end well."""
        self.peak = self.memory()
        os.write(self.near, keys)
        end = self.now() + 10
        while self.process.poll() is None and self.now() < end:
            self.take(0.05)
        if self.process.poll() is None:
            self.process.kill()
        os.close(self.near)
        assert self.process.wait() == 0, f"ended with {self.process.returncode}"
