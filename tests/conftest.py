"""Property tests run the same examples every time, with no clock on them."""

from hypothesis import settings

settings.register_profile("house", derandomize=True, deadline=None, max_examples=60, database=None)
settings.load_profile("house")
