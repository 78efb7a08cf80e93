"""What each part loads, seen in a fresh interpreter: the heavy libraries come in only where they are used."""

import json
import pkgutil
import subprocess
import sys
from pathlib import Path

import pytest

import shopcompanion
from shopcompanion.catalog import NAMES

HEAVY = {
    "textual", "rich", "pint", "numpy", "scipy", "shapely", "tomllib", "tomli_w", "platformdirs", "shtab",
    "argparse", "asyncio", "fpdf", "fontTools", "PIL", "ezdxf",
}  # fmt: skip
MODULES = [module.name for module in pkgutil.walk_packages(shopcompanion.__path__, "shopcompanion.")]
PARTS = sorted({name.split(".")[1] for name in MODULES} - {"__main__"})  # that one runs the program
PROFILE = Path(__file__).parent.parent / "profiles" / "saltmarsh-yawl.toml"
LOOKUP = "import sys; sys.argv[1:] = {}; from shopcompanion.cli.main import main; assert main(sys.argv[1:]) == 0"


def loaded_by(code: str) -> set[str]:
    """The modules that a fresh interpreter has loaded after `code`, beyond what it has on its own."""
    home = str(Path(shopcompanion.__path__[0]).parent)
    before = f"import sys; sys.path.insert(0, {home!r}); before = set(sys.modules)"
    after = "loaded = sorted(set(sys.modules) - before); import json; print(); print(json.dumps(loaded))"
    command = [sys.executable, "-I", "-c", f"{before}\n{code}\n{after}"]
    told = subprocess.run(command, capture_output=True, text=True, check=False)
    assert told.returncode == 0, told.stderr
    return set(json.loads(told.stdout.splitlines()[-1]))


def heavy(code: str) -> set[str]:
    return HEAVY & {name.split(".")[0] for name in loaded_by(code)}


def test_the_package_loads_nothing() -> None:
    assert loaded_by("import shopcompanion") == {"shopcompanion"}


@pytest.mark.parametrize("part", [part for part in PARTS if part != "tui"])
def test_a_part_loads_nothing_heavy(part: str) -> None:
    inside = [name for name in MODULES if name.split(".")[1] == part]
    assert heavy("; ".join(f"import {name}" for name in inside)) == set()


def test_the_app_loads_only_what_paints() -> None:
    inside = [name for name in MODULES if name.startswith("shopcompanion.tui.")]
    assert inside
    libraries = heavy("; ".join(f"import {name}" for name in inside))
    assert libraries <= {"textual", "rich", "asyncio", "argparse", "platformdirs"}  # textual's own with it


def test_all_calculators_and_an_answer_load_nothing_heavy() -> None:
    code = (
        "from shopcompanion.catalog import NAMES, load; from shopcompanion.form import solve; "
        "from shopcompanion.lengths import RULES; [load(name) for name in NAMES]; "
        "result = solve(load('facets'), {'width': '3-1/2'}, {}, RULES[3]); result.as_json(); result.drawing()"
    )
    assert heavy(code) == set()


@pytest.mark.parametrize("name", ["facets", "taper", "drum", "roundover"])
def test_a_calculator_loads_no_other(name: str) -> None:
    loaded = loaded_by(f"from shopcompanion.catalog import load; load({name!r})")
    parts = {module.removeprefix("shopcompanion.calculators.") for module in loaded if ".calculators." in module}
    assert parts & {*NAMES} == {name}


@pytest.mark.parametrize("extra", [[], ["--json"], ["--working"]])
def test_a_lookup_on_the_command_line_stays_light(extra: list[str]) -> None:
    loaded = loaded_by(LOOKUP.format(["facets", "--width", "3-1/2", *extra]))
    assert not {name.split(".")[0] for name in loaded} & {*HEAVY, "dataclasses", "inspect"}  # these two cost 5 ms
    assert "shopcompanion.length_grammar" not in loaded


def test_a_lookup_with_a_boat_takes_only_what_its_answer_follows() -> None:
    asked = ["facets", "--boat", "saltmarsh-yawl", "--spar", "mizzen mast", "--at", "5 ft", "--profiles", "none"]
    loaded = loaded_by(LOOKUP.format(asked))
    assert {name.split(".")[0] for name in loaded} & HEAVY == {"tomllib"}
    assert not {"dataclasses", "inspect", "pkgutil", "importlib.resources", "hashlib"} & loaded  # 1 to 10 ms each
    others = ["beam.usual", "card", "length_grammar", "profile_text", "spar.measures", "spar.whole", "timber.offers"]
    assert not {f"shopcompanion.{name}" for name in others} & loaded


def test_a_command_loads_no_other() -> None:
    loaded = loaded_by("from shopcompanion.cli.main import main; assert main(['where']) == 0")
    assert "shopcompanion.cli.boats" in loaded
    assert not [module for module in loaded if module.startswith(("shopcompanion.card", "shopcompanion.stock"))]


def test_reading_a_boat_takes_tomllib_alone() -> None:
    assert heavy("from shopcompanion.profile.parse import read; read('format = 1')") == {"tomllib"}


def test_a_card_takes_what_reading_its_boat_takes() -> None:
    code = (
        "from pathlib import Path; from shopcompanion.profile.parse import read; "
        "from shopcompanion.card.text import card; "
        f"boat = read(Path({str(PROFILE)!r}).read_text(encoding='utf-8')).boat; "
        "card(boat, None, rule=boat.rule, source='', version='', date=None)"
    )
    assert heavy(code) - {"argparse", "numpy", "scipy"} == {"tomllib"}  # the three come with scipy, for a column


def test_the_app_loads_for_its_start_only_what_the_bench_shows() -> None:
    loaded = loaded_by("import shopcompanion.tui.app")
    later = [
        "beam.usual", "calculators.facets", "card", "cli.commands", "drawing.bend", "length_grammar", "paper",
        "profile_text", "spar.whole", "stock", "timber.offers", "tui.finder", "tui.full_screens", "tui.glance",
        "tui.help", "tui.job", "tui.keyed", "tui.picker", "tui.planning", "tui.presets", "tui.printing", "tui.reader",
        "tui.sheet", "tui.spars", "tui.stock", "tui.tally",
    ]  # fmt: skip
    assert not {f"shopcompanion.{name}" for name in later} & loaded


def test_the_bench_is_painted_without_the_table_of_all_letters() -> None:
    code = (
        "from shopcompanion.storage.store import find, open_boat, places; "
        "from shopcompanion.tui.config import read_config; from shopcompanion.tui.session import Session; "
        "from shopcompanion.tui.view import BenchView; "
        "session = Session(); session.open(open_boat(find(places('none'), 'saltmarsh-yawl'))); "
        "view = BenchView(session, read_config('').keys, False); "
        "assert view.draw(80, 24).rows; assert view.draw(120, 40).rows"
    )
    loaded = loaded_by(code)
    assert "rich.cells" in loaded
    assert not [name for name in loaded if name.startswith("rich._unicode_data.unicode")]


def test_the_app_starts_without_what_only_a_network_or_a_save_needs() -> None:
    """OpenSSL comes with ssl, which asyncio takes where it can, and with hashlib, which a save stamps its file by."""
    code = (
        "import sys; from types import SimpleNamespace; from shopcompanion.cli.main import main; "
        "from shopcompanion.storage.store import find, open_boat; "
        "shown = lambda places, boat, spar: 0 if open_boat(find(places, 'saltmarsh-yawl')).text else 1; "
        "sys.modules['shopcompanion.tui.app'] = SimpleNamespace(main=shown); "
        "terminal, real = SimpleNamespace(isatty=lambda: True), sys.stdout; "
        "sys.stdin = sys.stdout = terminal; status = main(['--profiles', 'none']); sys.stdout = real; "
        "assert status == 0"
    )
    loaded = loaded_by(code)
    assert {"asyncio", "shopcompanion.storage.store"} <= loaded
    assert not {"ssl", "_ssl", "hashlib", "_hashlib"} & loaded
