"""Property tests run the same examples every time, with no clock on them; more than the usual ones are drawn anew."""

import gc
from collections.abc import Generator

import pytest
from hypothesis import settings

from .examples import EVERY, SHARE, share

settings.register_profile("house", derandomize=SHARE <= 1, deadline=None, max_examples=share(25), database=None)
settings.load_profile("house")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    items[:] = items[::EVERY]


@pytest.hookimpl(wrapper=True)
def pytest_collection() -> Generator[None, object, object]:
    """Thousands of tests and modules stay to the end: to look through them all the time takes a tenth of a run."""
    gc.disable()
    try:
        return (yield)
    finally:
        gc.collect()
        gc.freeze()
        gc.set_threshold(50_000, 20, 50)
        gc.enable()
