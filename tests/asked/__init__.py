"""What the tests ask of every calculator, one module each, by its name.

`GIVEN` is a sound question on the command line. `QUESTION` draws sound ones: keyword values in millimetres. `IN_WORDS`
has a check by other means for every answer whose formula is a search or a choice in words; it raises when the answer
is wrong.
"""

from collections.abc import Callable
from importlib import import_module
from typing import Any

from hypothesis import strategies as st

from shopcompanion.calculator import Result
from shopcompanion.catalog import NAMES

WIDTH = st.floats(5, 400)
SOMETIMES = st.booleans()  # these two first: the modules draw from them

_MODULES = {name: import_module(f"{__name__}.{name}") for name in NAMES}
GIVEN: dict[str, tuple[str, ...]] = {name: module.GIVEN for name, module in _MODULES.items()}
QUESTIONS: dict[str, st.SearchStrategy[dict[str, Any]]] = {name: module.QUESTION for name, module in _MODULES.items()}
IN_WORDS: dict[str, dict[str, Callable[[Result], None]]] = {
    name: getattr(module, "IN_WORDS", {}) for name, module in _MODULES.items()
}
