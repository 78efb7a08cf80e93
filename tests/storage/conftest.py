"""What the tests of the profile share: the demo boats' texts, and a place of one's own to keep boats in."""

from pathlib import Path

import pytest

from shopcompanion.storage.store import Places, places

EXAMPLES = places().examples
DEMOS = ("saltmarsh-yawl", "fjord-lugger")


def demo(name: str) -> str:
    return (EXAMPLES / f"{name}.toml").read_bytes().decode()


@pytest.fixture
def home(tmp_path: Path) -> Places:
    return places(str(tmp_path / "boats"))
