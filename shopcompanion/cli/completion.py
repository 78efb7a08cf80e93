"""Completion for shells, from the same parser as the help."""

from typing import TYPE_CHECKING

from .grammar import PROGRAM, Given
from .output import say

if TYPE_CHECKING:
    from argparse import ArgumentParser


def printed(given: Given) -> int:
    """Write the shell's script to standard output."""
    import shtab

    from .commands import full_parser

    whole = full_parser()
    boats = shtab.cmd(f"{PROGRAM} list --names 2>/dev/null")
    _mark(whole, {"DIR": shtab.DIRECTORY, "PROFILE": shtab.FILE, "BOAT": boats})
    say(shtab.complete(whole, given["shell"]))
    return 0


def _mark(parser: "ArgumentParser", by_value: dict[str, object]) -> None:
    """Say which options and words take files and folders."""
    from argparse import _SubParsersAction

    for action in parser._actions:
        if isinstance(action, _SubParsersAction):
            for under in action.choices.values():
                _mark(under, by_value)
        elif action.metavar in by_value:
            action.complete = by_value[action.metavar]  # type: ignore[attr-defined]  # shtab's own way
