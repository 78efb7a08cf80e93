"""How far a key goes: what it calls of our own until the answer is painted. A screen paints what changed, no more."""

import sys
from collections import Counter
from pathlib import Path
from types import FrameType

import shopcompanion

from .conftest import Opener

OURS = str(Path(shopcompanion.__file__).parent)
MOST = 400  # calls to the answers
PAINTED = 1600  # calls to the painted answers; a bench that drew everything anew for a key made 5,922


async def test_a_key_in_facets_is_a_short_walk(desk: Opener) -> None:
    walked: Counter[str] = Counter()

    def count(frame: FrameType, event: str, _: object) -> None:
        if event == "call" and frame.f_code.co_filename.startswith(OURS):
            walked[f"{frame.f_code.co_filename.removeprefix(OURS)} {frame.f_code.co_qualname}"] += 1

    async with desk() as it:
        await it.press("2")
        before = str(it.app.bench.parts["page"])
        sys.setprofile(count)
        try:
            await it.press("1")
        finally:
            sys.setprofile(None)
        assert it.session.texts() == {"width": "21"}
        assert str(it.app.bench.parts["page"]) != before
    beyond = sum(times for name, times in walked.items() if not name.startswith("/tui/"))
    assert 100 < beyond < MOST, walked.most_common(10)  # the counting counts
    assert walked.total() < PAINTED, walked.most_common(10)
