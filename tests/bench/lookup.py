"""One answer from the command line, against Python doing nothing."""

import subprocess
import sys
from collections.abc import Sequence
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter

from .figures import Figure, medians
from .terminal import environment, peak_of

SCRIPT = "import sys\n\nfrom shopcompanion.cli import run\n\nif __name__ == '__main__':\n    sys.exit(run())\n"
FACETS = ("facets", "--width", "3-1/2")
TAPER = ("taper", "--length", "12 ft 6 in", "--butt", "3-1/2", "--head", "2-1/4", "--at", "5 ft")
BOAT = ("facets", "--boat", "saltmarsh-yawl", "--spar", "mizzen mast", "--at", "5 ft")
CARD = ("card", "--boat", "saltmarsh-yawl", "--spar", "mizzen mast")
TARGET, OF_A_BOAT = 4.0, 5.0  # times Python doing nothing
OF_A_CARD = 300.0  # ms


# Run one of those and tell the memory held at its end, on standard error.
HELD = """
import atexit, sys
atexit.register(lambda: sys.stderr.write(open("/proc/self/status").read()))
exec(sys.argv.pop(1))
"""


def run(argv: Sequence[str]) -> float:
    """Run Python once: milliseconds from start to end. AssertionError when it does not end well."""
    quiet = subprocess.DEVNULL
    started = perf_counter()
    done = subprocess.run([sys.executable, *argv], env=environment(), stdin=quiet, stdout=quiet, check=False)
    taken = perf_counter() - started
    assert done.returncode == 0, f"{argv} ended with {done.returncode}"
    return taken * 1e3


def peak(code: str, argv: Sequence[str] = ()) -> float:
    """The most memory that `code` holds, MB."""
    command = [sys.executable, "-c", HELD, code, *argv]
    done = subprocess.run(command, env=environment(), capture_output=True, text=True, check=True)
    return peak_of(done.stderr)


def measure(runs: int = 25) -> list[Figure]:
    with TemporaryDirectory() as folder:
        script = Path(folder, "shopcompanion")  # as pip makes it
        script.write_text(SCRIPT, encoding="utf-8")
        argvs: dict[str, tuple[tuple[str, ...], float | None]] = {
            "lookup: facets": ((str(script), *FACETS), TARGET),
            "lookup: facets, by -m": (("-m", "shopcompanion", *FACETS), TARGET),
            "lookup: facets --json": ((str(script), *FACETS, "--json"), TARGET),
            "lookup: taper": ((str(script), *TAPER), TARGET),
            "lookup: facets --boat": ((str(script), *BOAT, "--profiles", folder), OF_A_BOAT),
            "card of one spar": ((str(script), *CARD, "--profiles", folder), OF_A_CARD),
        }
        every = [("-c", "pass"), *(argv for argv, _ in argvs.values())]
        least, *others = medians(runs, [partial(run, argv) for argv in every])
        figures = [
            Figure(name, value, "ms", "python -c pass", least, target, runs, of_value=target == OF_A_CARD)
            for (name, (_, target)), value in zip(argvs.items(), others, strict=True)
        ]
    held, least = peak("from shopcompanion.cli import run; run()", FACETS), peak("pass")
    return [*figures, Figure("lookup: facets, peak memory", held, "MB", "python -c pass", least, None, 1)]
