"""Fittings put on the spar as the open calculator says them, with the joint that they need. It knows no screen."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, cast

from .. import lengths
from ..catalog import load
from ..errors import InputFault, InputFaults
from ..fields import Value
from ..lengths import Rule, show
from ..spar.along import JOINTS
from .session import Session

if TYPE_CHECKING:
    from ..profile.records import Spar


def fittings_of(session: Session) -> list[dict[str, Value]]:
    """What the open calculator says can be put on the spar, and where: at its own place, or at the station.

    InputFault when nothing can be, and why.
    """
    if load(session.calculator).fitting is None:
        raise InputFault(f"{session.calculator} has nothing to put on a spar; hinge, lap and flat do")
    if session.opened is None:
        raise InputFault("no boat is open; open or make one first")
    if session.spar is None:
        raise InputFault("no spar is chosen; choose the one that it goes on first")
    shown = session.shown()
    for fault in shown.faults:
        raise fault
    fittings = shown.result.fittings() if shown.result else []
    if not fittings:
        raise InputFault("these answers give nothing to put on the spar")
    for fitting in fittings:
        fitting.setdefault("at", session.at)
        if _there_already(session.spar, fitting):
            where = places_of([fitting], session.rule)
            raise InputFault(f"{session.spar_name} already has this at {where} ({fitting['kind']}); see its sheet")
    return fittings


def _there_already(spar: "Spar", fitting: Mapping[str, Value]) -> bool:
    """Whether a fitting of the kind is in the place and the face, so that it would be cut twice over."""
    faces = str(fitting.get("face") or "A").split(" and ")
    return any(
        there.kind == fitting["kind"]
        and abs(there.at - cast(float, fitting["at"])) < 1
        and any(face in there.face for face in faces)
        for there in spar.fittings
    )


def places_of(fittings: Sequence[Mapping[str, Value]], rule: Rule) -> str:
    """Where fittings go, in words: each place of a few, the ends of a long row."""
    places = [show(cast(float, fitting["at"]), rule) for fitting in fittings]
    if len(places) > 4:
        return f"{places[0]} to {places[-1]}"
    return " and ".join(filter(None, (", ".join(places[:-1]), places[-1])))


def joint_wanted(spar: "Spar | None", fittings: Sequence[Mapping[str, Value]]) -> str:
    """The kind of joint without which such a fitting holds nothing, where the spar has none there; else ""."""
    kind, at = str(fittings[0]["kind"]), cast(float, fittings[0]["at"])
    joints = spar.joints if spar else ()
    if kind not in JOINTS or any(joint.kind == kind and abs(joint.at - at) < 1 for joint in joints):
        return ""
    return kind


def put_on(session: Session, name: str = "", run: str = "") -> str:
    """Put what the open calculator says on the spar, undone with changes of the same `run`; what and where, in words.

    InputFault when nothing can be put on, and why.
    """
    from ..profile_text.edit_fitting import add_fitting, as_texts

    unit, spar = session.rule.unit, session.spar_name
    fittings = fittings_of(session)
    rows = [as_texts({**fitting, "name": name.strip()}, unit) for fitting in fittings]
    kind = rows[0]["kind"] if len(rows) == 1 else f"{len(rows)} {rows[0]['kind']}s"
    what = f"{kind} ({rows[0]['name']})" if "name" in rows[0] else kind

    def added(text: str) -> str:
        for row in rows:
            text = add_fitting(text, spar, row, unit)
        return text

    session.edit(f"{what} on {spar}", added, run)
    return f"{what} put on {spar} at {places_of(fittings, session.rule)}"


def put_on_with_joint(session: Session, joint: str, at: str) -> str:
    """Make a joint at a station, typed, and put on it what the open calculator then says, as one change; what and
    where, in words. InputFault, with nothing changed, when either cannot be.
    """
    from ..profile_text import edit_spar

    spar, unit, before = session.spar_name, session.rule.unit, session.state
    session.go_to(float(lengths.read(at, unit)))
    rows = edit_spar.rows(session.state.text, spar, "joints")
    joints = [*rows, {"at": lengths.spelled(at, unit), "kind": joint}]
    session.edit(f"{joint} of {spar}", lambda text: edit_spar.set_rows(text, spar, "joints", joints, unit), run="joint")
    try:
        told = put_on(session, run="joint")
    except (InputFault, InputFaults):
        session.undo()
        session.state = before._replace(run="")
        raise
    session.end_run()
    return f"{joint} joint made, {told}"
