"""The screen in the README is what its first command shows; renewed together with the golden screens."""

import os
import re
from pathlib import Path

from .conftest import NORMAL, Opener

README = Path(__file__).parents[2] / "README.md"


async def test_the_picture_in_the_readme_is_the_screen(desk: Opener) -> None:
    blocks = re.findall(r"^```text\n(.*?)^```", README.read_text(encoding="utf-8"), re.MULTILINE | re.DOTALL)
    command = re.findall(r"^```sh\n(.*?)^```", README.read_text(encoding="utf-8"), re.MULTILINE | re.DOTALL)[0]
    boat = command.split()[-1]
    assert command.split()[-3:-1] == [".venv/bin/shopcompanion", "--boat"]
    async with desk(boat, spar=None, at=None, size=NORMAL) as it:
        it.app.glances = True  # as for a boat that is asked for by its name
        it.app.first_page()
        await it.settle()
        await it.app.workers.wait_for_complete()  # what is worked out beside the keys
        await it.settle()
        assert "to buy" in it.text
        if os.environ.get("SHOPCOMPANION_RENEW_SCREENS"):
            text = README.read_text(encoding="utf-8")
            README.write_text(text.replace(blocks[0], "\n".join(it.lines) + "\n"), encoding="utf-8")
        else:
            assert blocks[0].splitlines() == it.lines
