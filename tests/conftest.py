"""Property tests run the same examples every time, with no clock on them; more than the usual ones are drawn anew."""

import gc
from collections.abc import Generator, Iterator
from typing import TYPE_CHECKING

import pytest
from hypothesis import settings

from .examples import EVERY, SHARE, share

if TYPE_CHECKING:
    from shopcompanion.stock.pieces import Plan, Problem
    from shopcompanion.stock.search import Search

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


_SEARCHED: "dict[Problem, list[Plan]]" = {}


@pytest.fixture
def searched_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """The first search for a problem is a real one in its own process; whoever asks again hears the same plans. For
    tests of what is made of a plan: `tests/stock` holds that the same one comes again, and has the search itself."""
    from shopcompanion.stock.search import Search

    searching = Search.__iter__

    def plans(search: "Search") -> "Iterator[Plan]":
        known = _SEARCHED.get(search.problem)
        heard = []
        for plan in searching(search) if known is None else known:
            if search.stopped:
                return
            search.plan = plan
            heard.append(plan)
            yield plan
        if not search.stopped:
            _SEARCHED[search.problem] = heard

    monkeypatch.setattr(Search, "__iter__", plans)
