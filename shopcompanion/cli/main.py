"""From the arguments to an exit status."""

import os
import sys
from collections.abc import Sequence

from .. import __version__
from ..errors import CompanionError, InputFault, InputFaults
from .grammar import Given, command_at, parser, read, spelled
from .output import complain, say


def main(argv: Sequence[str]) -> int:
    """Do what `argv` (without the program) asks for and return the exit status: 0 answered, 3 answered without what is
    left out of the profile for a fault, 2 the input is at fault, 1 anything else that was foreseen.

    Faults go to standard error, a line each, and then nothing to standard output.
    """
    try:
        return _dispatch(argv)
    except InputFaults as faults:
        for fault in faults.faults:
            complain(_told(fault))
        return faults.exit_status
    except InputFault as fault:
        complain(_told(fault))
        return fault.exit_status
    except CompanionError as error:
        complain(str(error))
        return error.exit_status


def _dispatch(argv: Sequence[str]) -> int:
    from .commands import TOP, find, full_parser

    at = command_at(argv, TOP)
    given = read(argv[:at], TOP)
    if "help" in given:
        say(full_parser().format_help().rstrip())
        return 0
    if "version" in given:
        say(__version__)
        return 0
    if at == len(argv):
        return _open_app(given)
    command = find(argv[at])
    options = [option.name for option in command.options]
    for name in given:
        if name not in options:
            raise InputFault(f"{command.name} has no option {spelled(name)}")
    rest = read(argv[at + 1 :], command.options, command.words)
    if "help" in rest:
        say(parser(command).format_help().rstrip())
        return 0
    return command.act({**given, **rest})


def _open_app(given: Given) -> int:
    if not all(stream is not None and stream.isatty() for stream in (sys.stdin, sys.stdout)):
        raise InputFault("the app needs a terminal; for a single answer name a command, see shopcompanion --help")
    if "spar" in given and "boat" not in given:
        raise InputFault("--spar needs a boat: give --boat NAME as well")
    os.environ.setdefault("TEXTUAL_FPS", "250")  # or a key waits for the next sixtieth of a second to be painted
    _asyncio_without_ssl()
    from ..storage.store import places
    from ..tui.app import main as app

    return app(places(given.get("profiles")), given.get("boat"), given.get("spar"))


def _asyncio_without_ssl() -> None:
    """asyncio loads ssl if it can, and OpenSSL with it; the app speaks to no network."""
    if "ssl" not in sys.modules:
        sys.modules["ssl"] = None  # type: ignore[assignment]
        import asyncio  # noqa: F401

        del sys.modules["ssl"]


def _told(fault: InputFault) -> str:
    return f"{spelled(fault.field)}: {fault.reason}" if fault.field else str(fault)
