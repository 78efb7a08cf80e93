"""Property tests run the same examples every time, with no clock on them; more than the usual ones are drawn anew."""

import pytest
from hypothesis import settings

from .examples import EVERY, SHARE, share

settings.register_profile("house", derandomize=SHARE <= 1, deadline=None, max_examples=share(25), database=None)
settings.load_profile("house")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    items[:] = items[::EVERY]
