"""Every command there is: the catalogue's by stage of the job, and those of the boats."""

from typing import TYPE_CHECKING

from .. import catalog
from ..errors import InputFault, nearest, printable
from .grammar import PROGRAM, Command, Option, add

if TYPE_CHECKING:
    from argparse import ArgumentParser

TOP = (
    Option("boat", "open the app with this boat", "BOAT"),
    Option("spar", "and this spar of it", "SPAR"),
    Option("profiles", "the folder of the boats' profiles", "DIR"),
    Option("version", "show the version"),
)


def find(name: str) -> Command:
    """The command called `name`, importing no other. InputFault with the nearest when there is none."""
    if name in catalog.NAMES:
        from .calculators import command

        return command(name)
    from .others import COMMANDS

    for other in COMMANDS:
        if other.name == name:
            return other
    known = [*catalog.NAMES, *(other.name for other in COMMANDS)]
    hint = nearest(name, known) or f"; {PROGRAM} --help lists them"
    raise InputFault(f"no command is called '{printable(name)}'{hint}")


def every() -> tuple[Command, ...]:
    """All commands, in the order of the job."""
    from .calculators import command
    from .others import COMMANDS

    return (*map(command, catalog.NAMES), *COMMANDS)


def full_parser() -> "ArgumentParser":
    """argparse's view of the whole command line, for its help and for completion."""
    from argparse import ArgumentParser

    whole = ArgumentParser(
        prog=PROGRAM,
        description="Every sum a small wooden boat's spars ask for, before the saw starts. Without a command: the app.",
        epilog="A command's own help: shopcompanion COMMAND --help. Exit status: 0 answered; 3 answered, but part of "
        "the boat's profile was left out for a fault, and the answer says what; 2 the input is at fault; 1 anything "
        "else.",
        allow_abbrev=False,
    )
    add(whole, TOP)
    group = whole.add_subparsers(metavar="COMMAND", title="commands")
    for command in every():
        under = group.add_parser(command.name, help=command.help, description=command.help, allow_abbrev=False)
        add(under, command.options, command.words)
    return whole
