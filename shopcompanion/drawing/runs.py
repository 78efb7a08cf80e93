"""A line of text in runs: pieces of one role."""

from typing import TypeVar

RoleT = TypeVar("RoleT", bound=str)


def add_to(runs: list[tuple[str, RoleT]], text: str, role: RoleT) -> None:
    """Put `text` to the end of a line of runs, into its last run where that has the same role."""
    if runs and runs[-1][1] == role:
        runs[-1] = (runs[-1][0] + text, role)
    else:
        runs.append((text, role))
