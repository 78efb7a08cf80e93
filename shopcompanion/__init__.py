"""The shop companion: every sum a small boat's spars ask for, before the saw starts."""

__version__ = "0.1.0"  # the package's, which pyproject.toml takes from here
