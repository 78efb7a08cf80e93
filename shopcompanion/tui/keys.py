"""What can be done by a key, declared once: bindings, the bar at the foot, the finder and the help all read this."""

import re
from collections.abc import Mapping
from typing import NamedTuple

from ..errors import InputFault, nearest, printable


class Action(NamedTuple):
    """`name` is the app's `action_…` and the word in the config file; `keys` are as Textual names them."""

    name: str
    keys: str
    short: str  # for the bar; empty keeps it off the bar
    says: str
    in_finder: bool = True
    beside: tuple[str, ...] = ()  # actions whose keys stand before its own on the bar
    of_a_fitting: bool = False  # on the bar only where the open calculator makes something that goes on a spar


ACTIONS = (
    Action("find", "ctrl+f", "find", "Find a calculator, a spar, a boat or anything to do"),
    Action("calculator(-1)", "ctrl+up,f8", "", "The calculator before this one in the list, with its answers", False),
    Action("calculator(1)", "ctrl+down,f9", "", "The next calculator in the list, with its answers", False),
    Action("station(-1)", "pageup,less_than_sign", "", "Station towards the heel", False),
    Action("station(1)", "pagedown,greater_than_sign", "station", "Station towards the head", False, ("station(-1)",)),
    Action("go_to", "ctrl+g", "", "Go to a station by its distance from the heel"),
    Action("spars", "ctrl+l", "spar", "Choose another spar of this boat"),
    Action("legend", "f5,ctrl+left", "", "What lies on the spar: its sections, joints and fittings, each by its sign"),
    Action("sheet", "ctrl+d", "sheet", "The spar's sheet: stations, measuring, and changing the spar"),
    Action("job", "ctrl+k", "job", "The steps of the spar in order, to tick off, and its card for the bench"),
    Action("stock", "f6,ctrl+end", "", "The boat's timber: what to buy, how each is sawn, and the page for the yard"),
    Action("fit", "f4,insert", "fit", "Put this fitting, or these widths, on the spar", of_a_fitting=True),
    Action("save", "ctrl+s", "save", "Save the boat"),
    Action("boats", "ctrl+o", "boat", "Open, make, copy or rename a boat"),
    Action("presets", "ctrl+p", "preset", "Presets: keep what is typed here, or call it back"),
    Action("units", "ctrl+t", "units", "Inches or millimetres"),
    Action("rule", "ctrl+r", "", "The next finer rule"),
    Action("turn_page", "ctrl+y", "page", "Turn the page: answers, working, drawing, table"),
    Action("cares", "f7,ctrl+home", "", "On a low screen: every caution of this calculator, or one line again"),
    Action("undo", "ctrl+z", "undo", "Undo the last change"),
    Action("redo", "ctrl+n", "", "Do again what was undone"),
    Action("follow", "escape", "", "Let this field follow the boat again", False),
    Action("help", "f1,question_mark", "help", "All keys, and what the signs mean"),
    Action("versions", "", "", "Go back to an earlier version of this boat"),
    Action("faults", "", "", "What is wrong in this boat's file"),
    Action("quit", "ctrl+q,f10", "quit", "Leave the companion"),
)
_KEY = re.compile(  # what a terminal sends, and what may stand in no length
    r"ctrl\+[a-z]|((ctrl|shift)\+)?(f[1-9]|f1[0-2]|pageup|pagedown|home|end|insert|up|down|left|right)|escape"
    r"|less_than_sign|greater_than_sign|question_mark"
)
_TAKEN = {
    **dict.fromkeys(("ctrl+h", "ctrl+i", "ctrl+j", "ctrl+m"), "reaches the program as another key"),
    **dict.fromkeys((f"ctrl+{letter}" for letter in "aeuwxcv"), "is for editing in a field"),
    **dict.fromkeys(("up", "down", "left", "right", "home", "end"), "is for moving in a field"),
}
_ARROWS = {"up": "↑", "down": "↓", "left": "←", "right": "→"}
_NAMES = {
    "pageup": "PgUp", "pagedown": "PgDn", "insert": "Ins", "escape": "Esc",
    "less_than_sign": "<", "greater_than_sign": ">", "question_mark": "?",
}  # fmt: skip


def show_key(key: str) -> str:
    """A key as it stands on the bar.

    >>> show_key("ctrl+f"), show_key("pagedown"), show_key("f1")
    ('^F', 'PgDn', 'F1')
    """
    if key.startswith("ctrl+"):
        rest = key.removeprefix("ctrl+")
        return "^" + _ARROWS.get(rest, rest.upper())
    return _NAMES.get(key, key.upper() if re.fullmatch("f[0-9]+", key) else key)


def keymap(wanted: Mapping[str, object]) -> tuple[dict[str, str], list[InputFault]]:
    """The keys in force by action name: our own, with `wanted` put over them where it can be; and what cannot be.

    A fault names its action: an action that is none of ours, a key no terminal sends or a field needs, a clash.
    """
    keys = {action.name: action.keys for action in ACTIONS}
    faults: list[InputFault] = []
    for name, asked in wanted.items():
        if name not in keys:
            faults.append(InputFault(f"no such action{nearest(name, list(keys))}", f"keys.{printable(name)}"))
            continue
        parts = [part.strip() for part in asked.split(",")] if isinstance(asked, str) else [""]
        bad = next((part for part in parts if not _KEY.fullmatch(part) or part in _TAKEN), None)
        if bad is not None:
            why = _TAKEN.get(bad, "is no key to bind, try ctrl+f, f2 or pageup")
            faults.append(InputFault(f"'{printable(bad)}' {why}", f"keys.{name}"))
            continue
        others = {key: other for other, held in keys.items() if other != name for key in held.split(",")}
        clash = next((part for part in parts if part in others), None)
        if clash is not None:
            faults.append(InputFault(f"'{clash}' is the key of {others[clash]} already", f"keys.{name}"))
            continue
        keys[name] = ",".join(dict.fromkeys(parts))
    return keys, faults
