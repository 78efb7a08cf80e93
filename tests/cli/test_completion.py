"""Completion: the shells take the scripts, and bash offers what it should."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import shopcompanion
from shopcompanion import catalog
from shopcompanion.cli.others import SHELLS


@pytest.fixture(params=SHELLS)
def shell(request):
    if not shutil.which(request.param):
        pytest.skip(f"no {request.param} here")
    return request.param


def test_the_shell_can_read_it(call, shell, tmp_path):
    said = call("completion", shell)
    assert (said.status, said.err) == (0, "")
    script = tmp_path / "script"
    script.write_text(said.out, encoding="utf-8")
    done = subprocess.run([shell, "-n", script], capture_output=True, text=True, check=False, timeout=60)
    assert (done.returncode, done.stderr) == (0, "")


def test_no_other_shell(call):
    said = call("completion", "bsh")
    assert (said.status, said.out) == (2, "")
    assert said.err == "shopcompanion: shell: 'bsh' is none of bash, zsh, fish (did you mean 'bash'?)\n"


def with_program(folder: Path) -> dict[str, str]:
    """The environment with this very package as the program, and a folder of profiles of its own."""
    program = folder / "bin" / "shopcompanion"
    program.parent.mkdir(exist_ok=True)
    program.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m shopcompanion "$@"\n')
    program.chmod(0o755)
    return {
        **os.environ,
        "PATH": f"{program.parent}:{os.environ['PATH']}",
        "PYTHONPATH": str(Path(shopcompanion.__file__).parents[1]),
        "SHOPCOMPANION_PROFILES": str(folder / "boats"),
    }


@pytest.fixture
def offered(call, tmp_path):
    """What bash offers for the last word of a line."""
    if not shutil.which("bash"):
        pytest.skip("no bash here")
    script = tmp_path / "script"
    script.write_text(call("completion", "bash").out, encoding="utf-8")

    def offer(*words: str) -> list[str]:
        line = f"""
            source "$0"
            COMP_WORDS=(shopcompanion "$@")
            COMP_CWORD={len(words)}
            _shtab_shopcompanion
            printf '%s\\n' "${{COMPREPLY[@]}}"
        """
        argv = ["bash", "--norc", "-c", line, str(script), *words]
        done = subprocess.run(
            argv, cwd=tmp_path, capture_output=True, text=True, check=True, timeout=60, env=with_program(tmp_path)
        )
        return done.stdout.split()

    return offer


def test_bash_offers_commands(offered):
    assert set(catalog.NAMES) < set(offered(""))
    assert offered("fac") == ["facets"]


def test_bash_offers_the_options_of_every_input(offered):
    for name in catalog.NAMES:
        options = offered(name, "--")
        for one in catalog.load(name).typed_fields:
            assert "--" + one.name.replace("_", "-") in options
    assert offered("facets", "--ridge") == ["--ridge-ok"]


def test_bash_offers_the_words_of_a_choice(offered):
    assert offered("facets", "--section", "") == ["round", "oval"]
    assert offered("facets", "--width", "3", "--units", "m") == ["mm"]
    assert offered("completion", "") == list(SHELLS)


def test_bash_offers_files_to_check(offered, tmp_path):
    (tmp_path / "yawl.toml").write_text("")
    assert offered("check", "ya") == ["yawl.toml"]


def test_bash_offers_the_boats(offered):
    assert offered("facets", "--boat", "salt") == ["saltmarsh-yawl"]
    assert offered("show", "fj") == ["fjord-lugger"]


def test_fish_offers_commands_and_options(call, tmp_path):
    if not shutil.which("fish"):
        pytest.skip("no fish here")
    script = tmp_path / "script"
    script.write_text(call("completion", "fish").out, encoding="utf-8")

    def offer(line: str) -> list[str]:
        argv = ["fish", "--no-config", "-c", f"source {script}; complete -C {line!r}"]
        done = subprocess.run(
            argv, capture_output=True, text=True, check=True, timeout=60,
            env={**with_program(tmp_path), "HOME": str(tmp_path)},
        )  # fmt: skip
        return [one.split("\t")[0] for one in done.stdout.splitlines()]

    assert offer("shopcompanion fac") == ["facets"]
    assert offer("shopcompanion facets --ridge") == ["--ridge-ok"]
    assert offer("shopcompanion facets --section o") == ["oval"]
    assert offer("shopcompanion show salt") == ["saltmarsh-yawl"]
