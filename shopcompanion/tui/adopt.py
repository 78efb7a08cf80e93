"""New widths for a spar, as a calculator says them: adopted as its own, or by a copy of it."""

from math import ceil

from .. import lengths
from ..catalog import load
from ..errors import InputFault
from .session import Session


def adopt(session: Session) -> str:
    """Give the spar, or a copy of it, the widths that the open calculator says; what was done, in words.

    InputFault when there is nothing to adopt, and why.
    """
    from ..profile_text import edit_spar

    calculator, spar = load(session.calculator), session.spar
    if calculator.target is None:
        raise InputFault(f"{session.calculator} gives no widths for a spar; lightest and swap do")
    if spar is None:
        raise InputFault("no spar is chosen; choose the spar for these widths first")
    shown = session.shown()
    for fault in shown.faults:
        raise fault
    target = calculator.target(shown.result.inputs, shown.result.answers) if shown.result else None
    if target is None:
        raise InputFault("these answers change nothing on the spar")
    step, unit = float(session.rule.step), session.rule.unit
    name = f"{spar.name} {target.copy_as}" if target.copy_as else spar.name

    def up(rows: tuple[tuple[float, float], ...]) -> list[tuple[float, float]]:
        return [(at, ceil(size / step - 1e-6) * step) for at, size in rows]

    def change(text: str) -> str:
        if target.copy_as:
            text = edit_spar.copy_spar(text, spar.name, name)
        if target.species:
            text = edit_spar.set_key(text, name, "species", target.species, unit)
        text = edit_spar.retarget(text, name, up(target.widths), up(target.depths))
        if target.wall is not None:
            wall = lengths.show(ceil(target.wall / step - 1e-6) * step, session.rule)
            text = edit_spar.set_key(text, name, "wall", wall, unit)
        return text

    session.edit(f"new widths for {name}", change)
    where = f"{len(target.widths)} stations" if target.widths else "every station"
    if target.copy_as:
        return f"{name} is added to the boat, beside {spar.name}"
    return f"{name} has the new widths, at {where}"
