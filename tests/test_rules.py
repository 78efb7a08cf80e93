"""Rules of the house that a machine can hold."""

import ast
import re
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
TOP_LEVEL = {"README.md", "DEVELOPERS.md", "pyproject.toml", "shopcompanion", "tests", "profiles"}
NOT_OURS = re.compile(r"\.(git|venv|[a-z_]+_cache|hypothesis)|__pycache__|build|dist|[^/]*\.egg-info")
# In two halves, so that the list does not find itself.
FORBIDDEN = re.compile(
    "|".join(a + b for a, b in [
        ("trans", "cript"), ("vid", "eo"), ("record", "ings?\\b"), ("issue", " ?#"), ("/wo", "rk/"), ("/ro", "ot/"),
        ("index", "-url"), ("find", "-links"),
    ]),
    re.IGNORECASE,
)  # fmt: skip
# Where anything at all that goes wrong becomes one line: the edge of the program.
LAST_RESORT = {"shopcompanion/cli/__init__.py"}


def tree(folder: Path = ROOT) -> list[Path]:
    paths: list[Path] = []
    for path in sorted(folder.iterdir()):
        if NOT_OURS.fullmatch(path.name):
            continue
        paths += tree(path) if path.is_dir() else [path]
    return paths


FILES = [path.relative_to(ROOT).as_posix() for path in tree()]
PYTHON = [name for name in FILES if name.endswith(".py")]


def text_of(name: str) -> str:
    return (ROOT / name).read_text(encoding="utf-8")


@cache
def parsed(name: str) -> ast.Module:
    return ast.parse(text_of(name))


def test_the_tree_is_seen() -> None:
    assert {"pyproject.toml", "shopcompanion/lengths.py", "tests/test_rules.py", ".ci/run"} <= set(FILES)
    assert not any("__pycache__" in name for name in FILES)


def test_the_top_level_is_small() -> None:
    top = {name.split("/")[0] for name in FILES}
    assert {name for name in top if not name.startswith(".")} <= TOP_LEVEL


@pytest.mark.parametrize("name", FILES)
def test_what_is_not_spoken_of(name: str) -> None:
    assert not FORBIDDEN.search(name)
    for number, line in enumerate(text_of(name).splitlines(), 1):
        assert not FORBIDDEN.search(line), f"{name}:{number}: {line.strip()[:80]}"


@pytest.mark.parametrize("name", PYTHON)
def test_errors_are_named_where_they_are_caught(name: str) -> None:
    for node in ast.walk(parsed(name)) if "except" in text_of(name) else ():
        if isinstance(node, ast.ExceptHandler):
            caught = {name.id for name in ast.walk(node.type) if isinstance(name, ast.Name)} if node.type else {"all"}
            broad = caught & {"all", "Exception", "BaseException"}
            assert not broad or name in LAST_RESORT, f"{name}:{node.lineno} catches {broad}"
            silent = all(isinstance(statement, ast.Pass | ast.Continue) for statement in node.body)
            assert not (broad and silent), f"{name}:{node.lineno} says nothing"


@pytest.mark.parametrize("name", [name for name in PYTHON if name.startswith("shopcompanion/")])
def test_every_module_says_what_it_is(name: str) -> None:
    module = parsed(name)
    assert ast.get_docstring(module) or not module.body
