"""What can be done by a key, declared once: bindings, the bar at the foot, the finder and the help all read this."""

import re
from collections.abc import Collection, Iterable, Iterator, Mapping

from ..errors import InputFault, nearest, printable
from ..record import NamedTuple

PLACES = {  # the screens, as the help calls them
    "bench": "At the bench, with a calculator",
    "sheet": "In a sheet: of the spar, or of shop and timber",
    "glance": "At the boat at a glance",
    "job": "At the job",
    "timber": "At the plan of the timber",
    "page": "On a page to read: help, card, plan",
}
EVERYWHERE = tuple(PLACES)
AT_WORK = ("bench", "sheet", "glance", "job", "timber")
WRITTEN_IN = ("bench", "sheet")  # where a letter is text


class Action(NamedTuple):
    """A row of the table of keys.

    `name` is the word in the config file, and without its number in brackets the `do_…` that does it: the screen's own,
    where the screen has one, else that of the app's object `of`. `keys` are as Textual names them; `where` are the
    screens on which they do it.
    """

    name: str
    keys: str
    short: str  # for the bar; empty keeps it off the bar
    says: str
    in_finder: bool = True
    beside: tuple[str, ...] = ()  # actions whose keys stand before its own on the bar
    of_a_fitting: bool = False  # on the bar only where the open calculator makes something that goes on a spar
    where: tuple[str, ...] = ("bench",)
    on_narrow: bool = True  # whether it is on the bar of a narrow bench too
    of: str = ""  # the app's object that does it; empty for the bench, or the screen itself


ACTIONS = (
    Action("find", "ctrl+f", "find", "Find a calculator, a spar, a boat or anything to do",
           where=EVERYWHERE, of="finder"),
    Action("calculator(-1)", "ctrl+up,f8", "", "The calculator before this one in the list, with its answers", False),
    Action("calculator(1)", "ctrl+down,f9", "", "The next calculator in the list, with its answers", False),
    Action("station(-1)", "pageup,less_than_sign", "", "One station towards the heel", False),
    Action("station(1)", "pagedown,greater_than_sign", "station", "One station towards the head", False,
           ("station(-1)",)),
    Action("go_to", "ctrl+g", "", "Go to a station by its distance from the heel"),
    Action("spars", "ctrl+l", "spar", "Choose another spar of this boat", where=EVERYWHERE, of="spars"),
    Action("legend", "f5,ctrl+left", "", "What lies on the spar: its sections, joints and fittings, each by its sign",
           of="full_screens"),
    Action("sheet", "ctrl+d", "sheet", "The spar's sheet: stations, measuring, and changing the spar",
           where=EVERYWHERE, of="full_screens"),
    Action("job", "ctrl+k", "job", "The steps of the spar in order, to tick off, and its card for the bench",
           where=EVERYWHERE, of="full_screens"),
    Action("shop", "f3,ctrl+b", "shop", "Enter the shop, timber, yard, pieces and species of this boat",
           where=EVERYWHERE, on_narrow=False, of="full_screens"),
    Action("glance", "shift+f5", "", "The boat at a glance: every spar, how far it is, and what is next",
           where=EVERYWHERE, of="full_screens"),
    Action("supplies", "shift+f6", "", "What to buy for the boat, and where each thing is used",
           where=EVERYWHERE, of="planning"),
    Action("stock", "f6,ctrl+end", "", "The boat's timber: what to buy, how each is sawn, and the page for the yard",
           where=EVERYWHERE, of="planning"),
    Action("book", "f11,ctrl+right", "", "The boat's book as PDF: at a glance, timber, cards and templates",
           where=EVERYWHERE, of="printing"),
    Action("fit", "f4,insert", "fit", "Put this fitting, or these widths, on the spar",
           of_a_fitting=True, of="fitting"),
    Action("save", "ctrl+s", "save", "Save the boat", where=AT_WORK, of="saving"),
    Action("boats", "ctrl+o", "boat", "Open, make, copy or rename a boat", where=EVERYWHERE, of="boats"),
    Action("presets", "ctrl+p", "preset", "Presets: keep what is typed here, or call it back", of="presets"),
    Action("notch", "exclamation_mark,shift+f8", "", "Notch the answer in the tally, to keep it in sight", of="tally"),
    Action("tally", "vertical_line,shift+f7", "", "The tally: read it, notch another answer, clear it",
           where=EVERYWHERE, of="tally"),
    Action("units", "ctrl+t", "units", "Inches or millimetres"),
    Action("rule", "ctrl+r", "", "The next finer rule"),
    Action("turn_page", "ctrl+y", "page", "Turn the page: answers, working, drawing, table; in a sheet its next page",
           where=("bench", "sheet")),
    Action("cares", "f7,ctrl+home", "", "On a low screen: show every caution, or one line of them"),
    Action("undo", "ctrl+z", "undo", "Undo the last change", where=("bench", "sheet", "job"), of="changes"),
    Action("redo", "ctrl+n", "", "Redo what was undone", of="changes"),
    Action("follow", "escape", "", "Let this field follow the boat again", False),
    Action("new_row", "ctrl+n", "new row", "A new row under this one", False, where=("sheet",)),
    Action("drop_row", "ctrl+x", "drop row", "Drop this row", False, where=("sheet",)),
    Action("adopt", "ctrl+a", "adopt", "Adopt the widths that are still in the wood", False, where=("sheet",)),
    Action("tick", "space", "done", "Tick the step, or take its tick off", False, where=("job",)),
    Action("tick_on", "enter", "done, next", "Tick the step and go to the next", False, where=("job",)),
    Action("card", "c", "card", "Look at the card as it is printed", False, where=("job",)),
    Action("print", "p", "PDF", "Write the card as a PDF for print", False, where=("job", "glance")),
    Action("search", "space", "stop or go on", "Stop looking for a better plan, or go on", False, where=("timber",)),
    Action("yard_page", "p", "page", "Look at the page for the yard as it is printed", False, where=("timber",)),
    Action("write", "w", "write", "Write the card, or the page for the yard, to a file", False,
           where=("job", "timber")),
    Action("back", "escape", "back", "Back to the bench", False, where=("sheet", "glance", "job", "timber", "page")),
    Action("help", "f1,question_mark", "help", "All keys, and what the signs mean",
           where=EVERYWHERE, of="full_screens"),
    Action("versions", "", "", "Go back to an earlier version of this boat", of="saving"),
    Action("faults", "", "", "What is wrong in this boat's file", of="full_screens"),
    Action("quit", "ctrl+q,f10", "quit", "Leave the companion", where=EVERYWHERE, of="saving"),
    Action("new_boat", "", "", "A boat of your own: its name, its units, and what it begins like", of="boats"),
    Action("species", "", "", "All known timbers, their figures and sources", of="full_screens"),
    Action("keep_rule", "", "", "Measure this boat by the rule in force from now on"),
)  # fmt: skip
_KEY = (  # what a terminal sends, and what may stand in no length
    r"ctrl\+[a-z]|((ctrl|shift)\+)?(f[1-9]|f1[0-2]|pageup|pagedown|home|end|insert|up|down|left|right)|escape"
    r"|less_than_sign|greater_than_sign|question_mark|exclamation_mark|vertical_line"
)
_LETTER = "[a-z0-9]|space|enter"  # where nothing is written
_TAKEN = {
    **dict.fromkeys(("ctrl+h", "ctrl+i", "ctrl+j", "ctrl+m"), "reaches the program as another key"),
    **dict.fromkeys((f"ctrl+{letter}" for letter in "aeuwxcv"), "is for editing in a field"),
    **dict.fromkeys(("up", "down", "left", "right", "home", "end"), "is for moving in a field"),
}
_ARROWS = {"up": "↑", "down": "↓", "left": "←", "right": "→"}
_NAMES = {
    "pageup": "PgUp", "pagedown": "PgDn", "insert": "Ins", "escape": "esc", "enter": "⏎",
    "less_than_sign": "<", "greater_than_sign": ">", "question_mark": "?",
    "exclamation_mark": "!", "vertical_line": "|",
}  # fmt: skip


def show_key(key: str) -> str:
    """The name of a key as the bar shows it.

    >>> show_key("ctrl+f"), show_key("pagedown"), show_key("f1")
    ('^F', 'PgDn', 'F1')
    """
    if key.startswith("ctrl+"):
        rest = key.removeprefix("ctrl+")
        return "^" + _ARROWS.get(rest, rest.upper())
    return _NAMES.get(key, key.upper() if key[:1] == "f" and key[1:].isdecimal() else key)


def first_key(keys: Mapping[str, str], name: str) -> str:
    """The first key of an action as the bar shows it; "" when it has none."""
    return show_key(keys[name].split(",")[0]) if keys[name] else ""


def bound(keys: Mapping[str, str], place: str) -> dict[str, str]:
    """The name of the action by the key, for every key of a screen."""
    return {
        key: action.name for action in ACTIONS if place in action.where for key in keys[action.name].split(",") if key
    }


_ON_EVERY_BAR = ("find", "spars", "turn_page", "undo", "save", "help", "quit")


def on_bar(
    keys: Mapping[str, str], place: str, moves: Iterable[tuple[str, str]], without: Collection[str]
) -> Iterator[tuple[str, str]]:
    """The keys and words for the bar of a screen other than the bench: how to move there, its own keys, then the
    commonest; without the actions named in `without`.
    """
    yield from moves
    here = [
        action
        for action in ACTIONS
        if place in action.where and action.short and keys[action.name] and action.name not in without
    ]
    for common in (False, True):
        for action in here:
            if action.name in _ON_EVERY_BAR if common else "bench" not in action.where:
                yield first_key(keys, action.name), action.short


def keymap(wanted: Mapping[str, object]) -> tuple[dict[str, str], list[InputFault]]:
    """The keys in force by action name, our own changed by `wanted` where that is sound; and a fault for all else.

    A fault names its action: an action that is none of ours, a key no terminal sends or a field needs, a clash.
    """
    keys = {action.name: action.keys for action in ACTIONS}
    actions = {action.name: action for action in ACTIONS}
    faults: list[InputFault] = []
    for name, asked in wanted.items():
        if name not in keys:
            faults.append(InputFault(f"no such action{nearest(name, list(keys))}", f"keys.{printable(name)}"))
            continue
        parts = [part.strip() for part in asked.split(",")] if isinstance(asked, str) else [""]
        writes = set(actions[name].where) & set(WRITTEN_IN)
        bad = next((part for part in parts if not _may_be(part, name, bool(writes))), None)
        if bad is not None:
            why = _TAKEN.get(bad, "cannot be used as a key; try ctrl+f, f2 or pageup")
            faults.append(InputFault(f"'{printable(bad)}' {why}", f"keys.{name}"))
            continue
        others = {
            key: other
            for other, held in keys.items()
            if other != name and set(actions[other].where) & set(actions[name].where)
            for key in held.split(",")
        }
        clash = next((part for part in parts if part in others), None)
        if clash is not None:
            faults.append(InputFault(f"'{clash}' is already the key of {others[clash]}", f"keys.{name}"))
            continue
        keys[name] = ",".join(dict.fromkeys(parts))
    return keys, faults


def _may_be(key: str, name: str, writes: bool) -> bool:
    """Whether a key can be given to an action; letters only where nothing is written."""
    own = next(action.keys for action in ACTIONS if action.name == name).split(",")
    if key in own or (not writes and re.fullmatch(_LETTER, key)):
        return True
    return bool(re.fullmatch(_KEY, key)) and key not in _TAKEN
