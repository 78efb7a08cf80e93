"""The widget that paints: rows are asked for once for a size, and again when they may have changed."""

from functools import partial

from textual.app import App, ComposeResult

from shopcompanion.tui.canvas import Canvas
from shopcompanion.tui.paint import Row, row, words_of
from shopcompanion.tui.themes import LAMPLIGHT


class Counting(App[None], inherit_bindings=False):
    def __init__(self) -> None:
        super().__init__()
        self.register_theme(LAMPLIGHT)
        self.theme = LAMPLIGHT.name
        self.asked: list[tuple[int, int]] = []
        self.canvas = Canvas(self.draw)

    def compose(self) -> ComposeResult:
        yield self.canvas

    def draw(self, width: int, height: int) -> list[Row]:
        self.asked.append((width, height))
        return [row(f"{width} x {height}")]


async def test_the_rows_of_a_size_are_asked_for_once() -> None:
    app = Counting()
    async with app.run_test(size=(40, 10)) as pilot:
        await pilot.pause()
        assert app.asked == [(40, 10)]
        await pilot.resize_terminal(60, 20)
        await pilot.pause()
        assert app.asked == [(40, 10), (60, 20)]
        assert words_of(app.canvas.lines[0]) == "60 x 20"
        app.canvas.paint()
        assert len(app.asked) == 3


async def test_what_waits_for_a_paint_comes_after_it_and_once(monkeypatch) -> None:
    """Where no row changed there is nothing to wait for."""
    app = Counting()
    done: list[str] = []
    of = Canvas.render_lines
    monkeypatch.setattr(Canvas, "render_lines", lambda canvas, crop: done.append("painted") or of(canvas, crop))
    async with app.run_test(size=(40, 10)) as pilot:
        await pilot.pause()
        go_on = partial(done.append, "went on")
        for changes, wanted in ((True, ["painted", "went on"]), (False, ["went on"]), (True, ["painted"])):
            if changes:
                app.canvas.lines = [()] * 10
            if "went on" in wanted:
                app.canvas.when_painted(go_on)
                app.canvas.when_painted(go_on)
            done.clear()
            app.canvas.paint()
            assert done == []
            await pilot.pause()
            assert done == wanted
