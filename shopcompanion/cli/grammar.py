"""The grammar of the command line: words, `--option VALUE`, `--option=VALUE` and `--flag`, nothing abbreviated.

argparse writes the help and feeds the completion from the same tables, but does not read: it takes the `-3` of
`--at -3` for an option, and loading it costs a lookup a tenth of its time.
"""

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from ..errors import InputFault, InputFaults, nearest, printable
from ..record import NamedTuple

if TYPE_CHECKING:
    from argparse import ArgumentParser

PROGRAM = "shopcompanion"
Given = dict[str, str]  # option or word -> its text; a flag that is there has the text "yes"


class Option(NamedTuple):
    """`--name VALUE`, or a flag when `value` is empty. `choices` are what completion offers."""

    name: str  # the stable name, with _ for -
    help: str | Callable[[], str]  # or what makes it, where that takes work: it is seldom read
    value: str = ""
    choices: tuple[str, ...] = ()

    def help_text(self) -> str:
        return self.help if isinstance(self.help, str) else self.help()


class Word(NamedTuple):
    """A word that stands without an option. `choices` close the list."""

    name: str
    help: str
    wanted: bool = True
    choices: tuple[str, ...] = ()


class Command(NamedTuple):
    name: str
    help: str
    act: Callable[[Given], int]
    options: tuple[Option, ...] = ()
    words: tuple[Word, ...] = ()


def spelled(name: str) -> str:
    """The option of a stable name.

    >>> spelled("ridge_ok")
    '--ridge-ok'
    """
    return "--" + name.replace("_", "-")


def command_at(argv: Sequence[str], options: tuple[Option, ...]) -> int:
    """Where in `argv` the first word stands that is neither an option nor an option's value."""
    valued = [spelled(option.name) for option in options if option.value]
    at = 0
    while at < len(argv) and argv[at].startswith("-"):
        at += 2 if argv[at] in valued else 1
    return min(at, len(argv))


def read(argv: Sequence[str], options: tuple[Option, ...], words: tuple[Word, ...] = ()) -> Given:
    """What `argv` gives; {"help": "yes"} when it asks for help. InputFaults with every fault in it.

    A value may begin with one dash, as `-3` does; with two it is the next option.
    """
    known = {spelled(option.name): option for option in options}
    given: Given = {}
    faults: list[str] = []
    slots = list(words)
    left = list(reversed(argv))
    while left:
        text = left.pop()
        if text in ("-h", "--help"):
            return {"help": "yes"}
        name, equals, value = text.partition("=")
        if not text.startswith("-"):
            if slots:
                given[slots.pop(0).name] = text
            else:
                faults.append(f"unexpected argument '{printable(text)}'")
        elif option := known.get(name.replace("_", "-")):
            if option.name in given:
                faults.append(f"{spelled(option.name)} is given twice")
            given[option.name] = value = value if equals else _value(left) if option.value else "yes"
            if not value.strip() or (equals and not option.value):
                faults.append(
                    f"{name} needs a value: {option.help_text()}" if option.value else f"{name} takes no value"
                )
        else:
            faults.append(f"there is no option {printable(name)}{nearest(name, [*known, '--help'])}")
            if not equals:
                _value(left)
    faults += [f"{slot.name} is needed: {slot.help}" for slot in slots if slot.wanted]
    chosen = [word for word in words if word.choices and word.name in given]
    faults += [
        none_of(option.name, given[option.name], option.choices)
        for option in chosen
        if given[option.name] not in option.choices
    ]
    if faults:
        raise InputFaults([InputFault(fault) for fault in faults])
    return given


def _value(left: list[str]) -> str:
    """The next text, taken, unless it is an option itself."""
    return left.pop() if left and not left[-1].startswith("--") else ""


def one_of(given: Given, name: str, choices: tuple[str, ...]) -> str | None:
    """The option's text when it is one of `choices`, None when it was not given."""
    text = given.get(name)
    if text is not None and text not in choices:
        raise InputFault(none_of(spelled(name), text, choices))
    return text


def none_of(what: str, text: str, choices: tuple[str, ...]) -> str:
    return f"{what}: '{printable(text)}' is none of {', '.join(choices)}{nearest(text, list(choices))}"


def parser(command: Command) -> "ArgumentParser":
    """argparse's view of one command, for its help."""
    from argparse import ArgumentParser

    made = ArgumentParser(prog=f"{PROGRAM} {command.name}", description=_literal(command.help), allow_abbrev=False)
    add(made, command.options, command.words)
    return made


def add(made: "ArgumentParser", options: tuple[Option, ...], words: tuple[Word, ...] = ()) -> None:
    """Put words and options to an argparse parser."""
    for word in words:
        count = None if word.wanted else "?"
        made.add_argument(
            word.name, nargs=count, help=_literal(word.help), choices=word.choices or None, metavar=word.name.upper()
        )
    for option in options:
        name, help_text = spelled(option.name), _literal(option.help_text())
        if option.value:
            made.add_argument(name, help=help_text, choices=option.choices or None, metavar=option.value)
        else:
            made.add_argument(name, help=help_text, action="store_true")


def _literal(text: str) -> str:
    return text.replace("%", "%%")
