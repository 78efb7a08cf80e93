"""The yardsticks: an app with nothing in it but a word, and one that echoes what is typed."""

import sys

from textual.app import App, ComposeResult
from textual.widgets import Input, Static


class Empty(App[None]):
    def compose(self) -> ComposeResult:
        yield Static("ready")


class Echo(App[None]):
    def compose(self) -> ComposeResult:
        yield Input()
        yield Static("ready")

    def on_input_changed(self, event: Input.Changed) -> None:
        self.query_one(Static).update(event.value)


if __name__ == "__main__":
    {"empty": Empty, "echo": Echo}[sys.argv[1]]().run()
