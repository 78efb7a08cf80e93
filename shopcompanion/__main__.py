"""`python -m shopcompanion`."""

from .cli import run

run()
