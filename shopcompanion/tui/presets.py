"""Presets: what is typed in a calculator, kept with the boat under a name, and called back."""

from typing import Any

from .changes import Changes
from .screens import Screens
from .search import PickerRow
from .session import Session
from .teller import Teller


class Presets:
    """Lists, keeps, uses, renames and drops the presets of the open calculator."""

    def __init__(self, session: Session, teller: Teller, screens: Screens, changes: Changes) -> None:
        self.session, self.teller, self.screens, self.changes = session, teller, screens, changes

    def do_presets(self) -> None:
        """List the presets of the open calculator, to be used, kept, renamed and dropped."""
        session = self.session
        presets = session.presets()
        choices = [
            PickerRow(preset.name, ", ".join(f"{name} {text}" for name, text in preset.inputs), preset)
            for preset in presets
        ]
        keep_it = PickerRow("keep what is typed here …", "as a preset of this boat", "keep")
        choices.insert(0 if session.texts() else len(choices), keep_it)

        def picked(value: Any) -> None:
            if value == "keep":
                session.check_preset()
                self.screens.ask_line("Name of the preset", session.check_name, self._keep)
                return
            does, preset = value if isinstance(value, tuple) and value[0] in ("drop", "rename") else ("use", value)
            if preset == "keep":
                return
            if does == "drop":
                session.drop_preset(preset)
                self.teller.tell(f"preset '{preset.name}' dropped; {self.teller.key('undo')} brings it back")
            elif does == "rename":
                self.screens.ask_line(
                    "New name of the preset",
                    session.check_name,
                    lambda name: self.changes.make(lambda: session.rename_preset(preset, name)),
                    preset.name,
                )
                return
            else:
                session.use_preset(preset)
            self.changes.keep()
            self.screens.bench.renew()

        extra = {"ctrl+r": ("rename", "rename"), "ctrl+x": ("drop", "drop")} if presets else {}
        self.screens.pick(f"Presets for {session.calculator}", choices, picked, extra=extra)

    def _keep(self, name: str) -> None:
        self.changes.make(lambda: self.session.keep_preset(name.strip()))
        self.teller.tell(f"kept as '{name.strip()}'; {self.teller.key('save')} saves the boat")
