"""The program as a process of its own: pipes, encodings, terminals, and an end without a traceback."""

import errno
import gc
import os
import pty
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

import shopcompanion
from shopcompanion import cli

ROOT = Path(__file__).parents[2]
ENTRY = [sys.executable, "-c", "from shopcompanion.cli import run; run()"]
HEAVY = (
    "argparse", "json", "tomllib", "pathlib", "difflib", "shutil", "importlib.metadata", "platformdirs", "textual",
    "pint", "shtab", "tomli_w", "numpy", "scipy",
)  # fmt: skip


def start(*argv: str, **kw) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, "PYTHONPATH": str(Path(cli.__file__).parents[2]), **kw.pop("env", {})}
    given = {"stdin": subprocess.DEVNULL, "capture_output": True, "timeout": 60, "encoding": "utf-8", **kw}
    return subprocess.run([*ENTRY, *argv], env=environment, check=False, **given)


def test_a_lookup():
    done = start("facets", "--width", "3-1/2")
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith(
        "Facet at 8 sides: 1-29/64 in bare (1.4497 in); Line for 8, from each edge: 1-1/32 in bare (1.0251 in)\n"
    )


def test_a_lookup_loads_nothing_that_it_does_not_need():
    code = (
        "import sys; sys.argv[1:] = ['facets', '--width', '3-1/2']\n"
        "from shopcompanion.cli.main import main; main(sys.argv[1:])\n"
        "print(*sys.modules, file=sys.stderr)"
    )
    done = subprocess.run(
        [sys.executable, "-S", "-c", code],
        env={**os.environ, "PYTHONPATH": str(Path(cli.__file__).parents[2])},
        capture_output=True, text=True, check=True, timeout=60,
    )  # fmt: skip
    loaded = done.stderr.split()
    assert "shopcompanion.calculators.facets" in loaded
    assert [name for name in HEAVY if name in loaded] == []
    assert [name for name in loaded if name.startswith("shopcompanion.calculators.")] == [
        "shopcompanion.calculators.facets"
    ]


def test_a_fault_of_the_input_is_2():
    done = start("facets", "--width", "three")
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.count("\n") == 1


def test_without_a_terminal_the_app_says_so():
    done = start()
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == (
        "shopcompanion: the app needs a terminal; for a single answer name a command, see shopcompanion --help\n"
    )


def test_a_reader_that_leaves_early_is_no_fault():
    read, write = os.pipe()
    os.close(read)
    done = start("facets", "--width", "3", "--working", capture_output=False, stdout=write, stderr=subprocess.PIPE)
    os.close(write)
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="no full device here")
def test_a_full_disk_is_told():
    with open("/dev/full", "w") as full:
        done = start("facets", "--width", "3", capture_output=False, stdout=full, stderr=subprocess.PIPE)
    assert done.returncode == 1
    assert done.stderr == f"shopcompanion: standard output cannot be written: {os.strerror(errno.ENOSPC)}\n"


def test_a_closed_output_is_told():
    closed = start("facets", "--width", "3", preexec_fn=lambda: os.close(1))
    assert (closed.returncode, closed.stderr) == (1, "shopcompanion: standard output is closed\n")


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp1252"])
def test_an_output_without_our_letters_gets_others(encoding):
    argv = ("facets", "--width", "3-1/2", "--working", "--drawing")
    done = start(*argv, env={"PYTHONIOENCODING": encoding}, encoding=encoding)
    assert (done.returncode, done.stderr) == (0, "")
    assert "  Facet at 8 sides: " in done.stdout
    assert "tan(pi/8)" in done.stdout
    assert "! Blade guard on" in done.stdout
    drawing = done.stdout.split("to scale)")[1]
    assert "**" in drawing
    assert drawing.isascii()
    assert "?" not in done.stdout


def test_json_for_an_output_without_our_letters_keeps_them_escaped():
    import json

    argv = ("facets", "--width", "3-1/2", "--json")
    assert json.loads(start(*argv, env={"PYTHONIOENCODING": "ascii"}).stdout) == json.loads(start(*argv).stdout)


@pytest.mark.parametrize(
    ("environment", "is_bold"),
    [({"TERM": "xterm"}, True), ({"TERM": "xterm", "NO_COLOR": "1"}, False), ({"TERM": "dumb"}, False)],
)
def test_bold_only_on_a_terminal_that_wants_it(environment, is_bold):
    ours, theirs = pty.openpty()
    done = start(
        "facets", "--width", "3", capture_output=False, stdout=theirs, env={"NO_COLOR": "", **environment}
    )  # fmt: skip
    os.close(theirs)
    shown = os.read(ours, 100_000)
    os.close(ours)
    assert done.returncode == 0
    assert shown.startswith(b"\x1b[1mFacet at 8") == is_bold
    assert (b"\x1b" in shown) == is_bold


@pytest.fixture
def run_in_process(monkeypatch):
    def run(error: BaseException) -> int:
        def broken(argv: list[str]) -> int:
            raise error

        monkeypatch.setattr("shopcompanion.cli.main.main", broken)
        with pytest.raises(SystemExit) as end:
            cli.run()
        return end.value.code

    yield run
    gc.enable()
    gc.unfreeze()


def test_what_nobody_foresaw_is_one_line(run_in_process, capsys, monkeypatch):
    monkeypatch.delenv("SHOPCOMPANION_DEBUG", raising=False)
    assert run_in_process(ZeroDivisionError("division\nby \x1b zero")) == 1
    assert capsys.readouterr() == (
        "",
        "shopcompanion: unforeseen, please report it: ZeroDivisionError: division\ufffdby \ufffd zero\n",
    )


def test_debugging_shows_the_traceback(run_in_process, monkeypatch):
    monkeypatch.setenv("SHOPCOMPANION_DEBUG", "1")
    with pytest.raises(ZeroDivisionError):
        run_in_process(ZeroDivisionError())


def test_ctrl_c_is_quiet(run_in_process, capsys):
    assert run_in_process(KeyboardInterrupt()) == 130
    assert capsys.readouterr() == ("", "")


def test_the_version_is_that_of_the_package(call):
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    assert project["project"]["dynamic"] == ["version"]
    kept = (ROOT / project["tool"]["hatch"]["version"]["path"]).read_text(encoding="utf-8")
    assert f'__version__ = "{shopcompanion.__version__}"' in kept
    assert call("--version") == (0, f"{shopcompanion.__version__}\n", "")
