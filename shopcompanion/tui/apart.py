"""Answers worked out in a process of their own, which takes what it loads and its part of the processor with it."""

import sys
from typing import TYPE_CHECKING, Any

from ..calculator import Calculator, Result
from ..errors import InputFault
from ..lengths import Rule

if TYPE_CHECKING:
    from subprocess import Popen

_BEGIN = f"import pickle, sys; sys.path[:] = pickle.load(sys.stdin.buffer); from {__name__} import serve; serve()"


class Apart:
    """A question that is being worked out; one at a time."""

    def __init__(self) -> None:
        self._process: Popen[bytes] | None = None
        self._stopped = False

    def ask(self, calculator: Calculator, inputs: Any, rule: Rule) -> Result | InputFault | None:
        """The answer with its drawing, or the fault; None when it was stopped. OSError where no process can be had."""
        import pickle
        from subprocess import DEVNULL, PIPE, Popen

        self._stopped = False
        self._process = process = Popen([sys.executable, "-c", _BEGIN], stdin=PIPE, stdout=PIPE, stderr=DEVNULL)
        told, _ = process.communicate(pickle.dumps(sys.path) + pickle.dumps((calculator.name, inputs, rule)))
        if self._stopped:
            return None
        if process.returncode:
            raise ChildProcessError(process.returncode)
        fault, outcome = pickle.loads(told)
        return InputFault(*fault) if fault else Result(calculator, inputs, *outcome)

    def stop(self) -> None:
        """Give up what is being worked out."""
        if self._process is not None:
            self._stopped = True
            self._process.kill()


def serve() -> None:
    """The other process: a question from stdin, its outcome to stdout."""
    import pickle

    from ..catalog import load

    name, inputs, rule = pickle.load(sys.stdin.buffer)
    calculator = load(name)
    try:
        result = calculator.run(inputs, rule)
        drawn = calculator.drawing(inputs, result.answers)
        told: tuple[object, object] = None, (result.answers, result.tables, result.cautions, rule, drawn)
    except InputFault as fault:
        told = (fault.reason, fault.field), None
    sys.stdout.buffer.write(pickle.dumps(told))
