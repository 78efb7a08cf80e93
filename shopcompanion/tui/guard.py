"""What an error becomes: a refusal is one line, an error in the program is one line once the work is kept."""

import os
import tempfile
import traceback
from contextlib import suppress
from pathlib import Path

from ..errors import CompanionError, printable
from ..storage import store
from ..storage.atomic import keep_error
from .session import Session


def line_of(error: CompanionError | OSError, places: store.Places) -> str:
    """The line to show for something that was refused, or for a disk that does not answer."""
    if isinstance(error, CompanionError):
        return str(error)
    return str(keep_error(error, "reach", Path(os.fsdecode(error.filename or places.profiles))))


def last_words(error: Exception, session: Session, places: store.Places) -> str:
    """Keep unsaved work where the next start finds it, else in a file of its own; one line that says what and where."""
    package = Path(__file__).resolve().parents[1]
    frames = [frame for frame in traceback.extract_tb(error.__traceback__) if str(package) in frame.filename]
    where = f" in {Path(frames[-1].filename).relative_to(package)}, line {frames[-1].lineno}" if frames else ""
    fault = f"shopcompanion had to stop: {type(error).__name__}{where}, an error in the program"
    opened = session.opened
    if opened is None or not session.unsaved:
        return f"{fault}. Nothing was unsaved."
    try:
        path = store.recover_note(places, opened, session.state.text)
    except (CompanionError, OSError):
        return f"{fault}. {_beside(session)}"
    return f"{fault}. Your work is kept in {printable(str(path), 300)} and offered at the next start."


def _beside(session: Session) -> str:
    """Put the work in the folder for temporary files; what became of it, in words."""
    name = session.opened.listing.name if session.opened else "boat"
    with suppress(OSError):
        handle, path = tempfile.mkstemp(".toml", f"shopcompanion-{name}-")
        with os.fdopen(handle, "wb") as file:
            file.write(session.state.text.encode("utf-8", "surrogateescape"))
        return f"Your work is kept in {printable(path, 300)}."
    return "Your work could not be written anywhere."
