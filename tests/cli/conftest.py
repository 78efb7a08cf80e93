from collections.abc import Callable
from typing import NamedTuple

import pytest

from shopcompanion.cli.main import main


class Said(NamedTuple):
    status: int
    out: str
    err: str


@pytest.fixture
def call(capsys: pytest.CaptureFixture[str]) -> Callable[..., Said]:
    """Run the command line in this process."""

    def run(*argv: str) -> Said:
        capsys.readouterr()
        status = main(argv)
        return Said(status, *capsys.readouterr())

    return run
