"""The screen in the README is the screen."""

import re
from pathlib import Path

from .conftest import NORMAL, Opener

README = Path(__file__).parents[2] / "README.md"


async def test_the_picture_in_the_readme_is_the_screen(desk: Opener) -> None:
    blocks = re.findall(r"^```text\n(.*?)^```", README.read_text(encoding="utf-8"), re.MULTILINE | re.DOTALL)
    async with desk(size=NORMAL) as it:
        assert blocks[0].splitlines() == it.lines
