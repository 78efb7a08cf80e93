"""The guide for developers is true: the calculator that stands in it, put where it says, works as any other does."""

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
MODULE, TEST = re.findall(r"^```python\n(.*?)^```", GUIDE.partition("## A new calculator")[2], re.MULTILINE | re.DOTALL)


SHOP_KEY = next(line for line in GUIDE.splitlines() if line.startswith("jig: Annotated["))
SHOP = '    kerf: Annotated[float | None, Length("Kerf of the saw", above=0, at_most=50)] = None'


@pytest.fixture(scope="module")
def tree(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the package with the guide's calculator in it."""
    tree = tmp_path_factory.mktemp("tree")
    shutil.copytree(ROOT / "shopcompanion", tree / "shopcompanion", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copytree(ROOT / "profiles", tree / "profiles")
    (tree / "shopcompanion/calculators/rake.py").write_text(MODULE, encoding="utf-8")
    (tree / "test_rake.py").write_text(TEST, encoding="utf-8")
    records = tree / "shopcompanion/profile/shop.py"
    text = records.read_text(encoding="utf-8")
    assert text.count(SHOP) == 1
    text = text.replace(SHOP, f"{SHOP}\n    {SHOP_KEY}").replace('"kerf", "saw_depth"', '"jig", "kerf", "saw_depth"', 1)
    records.write_text(text, encoding="utf-8")
    catalog = tree / "shopcompanion/catalog.py"
    text = catalog.read_text(encoding="utf-8")
    assert text.count('"Prove": (') == 1
    catalog.write_text(text.replace('"Prove": (', '"Prove": ("rake", '), encoding="utf-8")
    return tree


def run(tree: Path, *words: str) -> str:
    env = {**os.environ, "PYTHONPATH": str(tree), "SHOPCOMPANION_PROFILES": str(tree / "boats")}
    env.pop("PYTEST_ADDOPTS", None)
    done = subprocess.run(
        [sys.executable, "-m", *words], cwd=tree, env=env, capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stderr) == (0, "")
    return done.stdout


def test_its_own_test_passes(tree: Path) -> None:
    assert "1 passed" in run(tree, "pytest", "-q", "-p", "no:cacheprovider", "-p", "no:asyncio", "test_rake.py")


def test_it_is_a_command_with_json_and_follows_the_boat(tree: Path) -> None:
    told = json.loads(run(tree, "shopcompanion", "rake", "--boat", "fjord-lugger", "--spar", "mast", "--json"))
    length = told["inputs"]["length"]["value"]
    assert length > 0
    assert told["answers"]["aft"]["value"] == pytest.approx(length * 0.0523359562)  # sin 3°
    assert [step["name"] for step in told["working"]] == ["aft", "height"]


def test_it_stands_in_help_and_reference(tree: Path) -> None:
    assert "How far aft does the mast's head stand?" in run(tree, "shopcompanion", "--help")
    assert "Rake, aft of upright" in run(tree, "shopcompanion", "reference")


def test_a_key_of_the_shop_is_read_checked_and_in_the_schema(tree: Path) -> None:
    profile = tree / "own.toml"
    profile.write_text('format = 1\n[boat]\nname = "Own"\nunits = "mm"\n[shop]\njig = "600 mm"\n', encoding="utf-8")
    assert "no fault" in run(tree, "shopcompanion", "check", str(profile))
    assert "jig" in json.loads(run(tree, "shopcompanion", "schema"))["properties"]["shop"]["properties"]
