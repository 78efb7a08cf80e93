"""What a profile's text holds, and whether a changed text holds just what it is meant to."""

from collections.abc import Callable
from functools import wraps
from typing import Any, Concatenate, ParamSpec

from ..errors import InputFault, printable
from ..profile.records import FORMAT
from ..profile.toml import Exact, parsed

Data = dict[str, Any]
BY_HAND = "the file is written in a way that cannot be changed from here: change it by hand"
_Rest = ParamSpec("_Rest")
_MARK = "\ufeff"  # of byte order, as some editors put it first


def past_mark(change: Callable[Concatenate[str, _Rest], str]) -> Callable[Concatenate[str, _Rest], str]:
    """Decorate a change of a text so that a byte order mark at its start stays."""

    @wraps(change)
    def changed(text: str, /, *args: _Rest.args, **named: _Rest.kwargs) -> str:
        mark = _MARK if text.startswith(_MARK) else ""
        return mark + change(text.removeprefix(_MARK), *args, **named)

    return changed


def mend_first(key: str, wanted: str, field: str | None = None) -> InputFault:
    """The fault for a text that is not changed, because what stands at a key is not what a profile has there."""
    return InputFault(f"'{key}' in the file is not {wanted}, mend it first", field)


def data_of(text: str) -> Data:
    """What `text` holds; its top level and lists may be changed, not what is in them.

    InputFault when the text cannot be changed safely.
    """
    try:
        raw = parsed(text)
    except (ValueError, RecursionError) as error:
        raise InputFault(f"the file is not valid TOML, mend it first: {printable(str(error), 200)}") from None
    data = {key: list(value) if isinstance(value, list) else value for key, value in raw.items()}
    made = data.get("format")
    if isinstance(made, int) and made > FORMAT:
        raise InputFault(f"written by a newer companion (format {made}): it is not changed here")
    if not isinstance(data.get("boat", {}), dict):
        raise mend_first("boat", "a table")
    if not isinstance(data.get("preset", []), list):
        raise mend_first("preset", "a list of tables")
    return data


def compare(changed: str, intent: Data) -> None:
    """InputFault unless `changed` holds just what it should; an empty list or table is none."""
    try:
        data = parsed(changed)
    except (ValueError, RecursionError):
        raise InputFault(BY_HAND) from None
    if data != intent and _filled(data) != _filled(intent):
        raise InputFault(BY_HAND)


def _filled(data: Any) -> Any:
    if isinstance(data, dict):
        return {key: _filled(value) for key, value in data.items() if value not in ([], {})}
    if isinstance(data, list):
        return [_filled(element) for element in data]
    return repr(data) if isinstance(data, Exact) else data  # what is not a number equals nothing, itself neither
