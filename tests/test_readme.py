"""What the README says is true: its commands run, its profile and config are sound, its keys are the keys."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from shopcompanion.catalog import NAMES, load
from shopcompanion.profile.parse import read
from shopcompanion.tui.config import read_config
from shopcompanion.tui.keys import ACTIONS

PATH = Path(__file__).parents[1] / "README.md"
README = PATH.read_text(encoding="utf-8")
BLOCKS = re.findall(r"^```(\w+)\n(.*?)^```", README, re.MULTILINE | re.DOTALL)
SHELL = [text for language, text in BLOCKS if language == "sh"]
ACTIVATE = ". .venv/bin/activate"  # after which the commands run as they are written
COMMANDS = [line for text in SHELL[3:] for line in text.splitlines()]


def test_the_two_first_commands_set_everything_up() -> None:
    start, tests, activate = SHELL[:3]
    assert start.count("\n") == tests.count("\n") == 1
    assert activate.strip() == ACTIVATE
    assert start.partition("python3 -m venv ")[2].split()[0] == ACTIVATE.removeprefix(". ").removesuffix(
        "/bin/activate"
    )
    assert "pip install" in start
    assert start.rstrip().endswith("shopcompanion --boat saltmarsh-yawl")
    assert tests.rstrip().endswith("-m pytest")


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_answers(command: str, tmp_path: Path) -> None:
    script = tmp_path / "shopcompanion"
    script.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m shopcompanion "$@"\n')
    script.chmod(0o755)
    env = {
        **os.environ,
        "PATH": f"{tmp_path}{os.pathsep}{os.environ['PATH']}",
        "PYTHONPATH": str(Path(__file__).parents[1]),
        "SHOPCOMPANION_PROFILES": str(tmp_path / "boats"),
    }
    done = subprocess.run(command, shell=True, env=env, cwd=tmp_path, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.strip()


def test_there_are_commands() -> None:
    assert len(COMMANDS) >= 10


def test_the_profile_is_sound_and_the_config_too() -> None:
    config, profile = [text for language, text in BLOCKS if language == "toml"]
    assert read_config(config).faults == ()
    assert read_config(config).keys["save"] == "f2"
    reading = read(profile)
    assert reading.faults == ()
    assert [spar.name for spar in reading.boat.spars] == ["mizzen mast"]


def test_the_keys_are_the_keys() -> None:
    table = README.partition("## Keys")[2].partition("\n\n##")[0]
    names = {
        "pageup": "PgUp",
        "pagedown": "PgDn",
        "less_than_sign": "<",
        "greater_than_sign": ">",
        "question_mark": "?",
        "exclamation_mark": "!",
        "vertical_line": r"\|",
    }
    for action in ACTIONS:
        for key in filter(None, action.keys.split(",")):
            shown = names.get(key, key.upper() if re.fullmatch("f[0-9]+", key) else key)
            assert f"`{shown}`" in table, f"{shown} of {action.name}"


def test_the_table_of_calculators_is_the_catalogue() -> None:
    """Renewed by SHOPCOMPANION_RENEW_README=1 python -m pytest tests/test_readme.py."""
    head = "| name | the question |\n|---|---|\n"
    rows = "".join(f"| `{name}` | {load(name).question} |\n" for name in NAMES)
    before, _, rest = README.partition(head)
    table, _, after = rest.partition("\n\n")
    if os.environ.get("SHOPCOMPANION_RENEW_README"):
        PATH.write_text(f"{before}{head}{rows}\n{after}", encoding="utf-8")
    assert f"{table}\n" == rows
