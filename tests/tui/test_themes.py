"""The themes: text at 7:1 against its ground, by the formula of the Web Content Accessibility Guidelines (WCAG) 2.2.

Contrast ratio (L1 + 0.05) / (L2 + 0.05); L = 0.2126·R + 0.7152·G + 0.0722·B of the linear channels. Success criterion
1.4.6, level AAA, asks 7:1 for text. The formula and its constants are from memory; the two checks of it below are the
extremes that follow from the definition.
"""

import pytest
from rich.color import Color, ColorSystem
from textual.theme import Theme

from shopcompanion.tui.config import read_config
from shopcompanion.tui.themes import DAYLIGHT, LAMPLIGHT, SIXTEEN, THEMES, usual

from .conftest import Opener

OWN_COLOURS = [DAYLIGHT, LAMPLIGHT]


def luminance(colour: str) -> float:
    def linear(channel: int) -> float:
        part = channel / 255
        return part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4

    red, green, blue = (linear(int(colour[at : at + 2], 16)) for at in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(ink: str, ground: str) -> float:
    light, dark = sorted((luminance(ink), luminance(ground)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def of_256(colour: str) -> str:
    """The colour of a terminal with 256 that rich takes for it."""
    return Color.parse(colour).downgrade(ColorSystem.EIGHT_BIT).get_truecolor().hex


def test_the_formula_at_its_extremes() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#8a0f12", "#8a0f12") == 1


@pytest.mark.parametrize("theme", OWN_COLOURS, ids=lambda theme: theme.name)
def test_every_text_colour_stands_out_from_every_ground(theme: Theme) -> None:
    assert theme in THEMES
    ink = {"text": theme.foreground, "fault": theme.error}  # what stands in a field too
    words = {**ink, "quiet": theme.variables["quiet"], "accent": theme.accent, "caution": theme.warning}
    in_hand = theme.variables["held"]
    pairs = [(word, ground) for word in words for ground in (theme.background, theme.surface, theme.panel)]
    pairs += [(word, in_hand) for word in ink]
    for word, ground in pairs:
        for ink_of, ground_of in ((words[word], ground), (of_256(words[word]), of_256(ground))):
            assert contrast(ink_of, ground_of) >= 7, f"{word} on {ground}: {contrast(ink_of, ground_of):.2f}"


@pytest.mark.parametrize("theme", OWN_COLOURS, ids=lambda theme: theme.name)
def test_the_wood_stands_out_as_a_drawing_must(theme: Theme) -> None:
    """3:1 for what is no text (success criterion 1.4.11, from memory)."""
    for name in ("wood", "squared"):
        assert contrast(theme.variables[name], theme.background) >= 3, name
        assert contrast(of_256(theme.variables[name]), of_256(theme.background)) >= 3, name


@pytest.mark.parametrize("theme", OWN_COLOURS, ids=lambda theme: theme.name)
def test_a_terminal_of_256_colours_shows_them_as_they_are(theme: Theme) -> None:
    """To a step of the greys, which lie ten apart."""
    named = [theme.foreground, theme.background, theme.panel, theme.accent, theme.warning, theme.error]
    for colour in (*named, *(theme.variables[name] for name in ("quiet", "held", "wood", "squared"))):
        channels = [[int(of[at : at + 2], 16) for at in (1, 3, 5)] for of in (colour, of_256(colour))]
        assert all(abs(own - taken) <= 10 for own, taken in zip(*channels, strict=True)), colour
        grey = len(set(channels[0])) == 1
        assert grey or channels[0] == channels[1], colour


def test_few_colours_take_the_theme_made_for_them() -> None:
    assert [usual(of) for of in ("standard", "windows", "256", "truecolor", None)] == [
        "sixteen", "sixteen", "lamplight", "lamplight", "lamplight",
    ]  # fmt: skip


def test_the_plain_theme_leaves_every_colour_to_the_terminal() -> None:
    colours = [SIXTEEN.foreground, SIXTEEN.background, SIXTEEN.accent, SIXTEEN.warning, SIXTEEN.error, SIXTEEN.panel]
    assert all(str(colour).startswith("ansi_") for colour in [*colours, *SIXTEEN.variables.values()])


def test_all_themes_name_the_same_colours_of_ours() -> None:
    assert all(set(DAYLIGHT.variables) == set(theme.variables) for theme in THEMES)
    assert [theme.name for theme in THEMES] == ["lamplight", "daylight", "sixteen"]


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
async def test_every_theme_applies_and_says_the_same(desk: Opener, theme: Theme) -> None:
    async with desk() as plain:
        wanted = plain.text
    async with desk(config=read_config(f'theme = "{theme.name}"')) as it:
        assert it.app.theme == theme.name
        assert it.text == wanted


async def test_a_theme_is_chosen_by_the_finder(desk: Opener) -> None:
    async with desk() as it:
        await it.find("daylight")
        assert it.app.theme == "daylight"
        canvas = it.app.bench.canvas
        styles = [style for strip in canvas.render_lines(canvas.size.region) for _, style, _ in strip]
        grounds = {style.bgcolor.name for style in styles if style and style.bgcolor}
        assert grounds == {DAYLIGHT.background, DAYLIGHT.panel, DAYLIGHT.variables["held"]}
