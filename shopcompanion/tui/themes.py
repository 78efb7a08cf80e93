"""Three themes: for sun on the screen, an evening shop, and a terminal of sixteen colours. Text is 7:1 or better.

The first two are made of colours that a terminal of 256 has (the 6 × 6 × 6 cube and the greys), so that they look the
same there; the third leaves all text to the terminal's own two colours, which are made to be read.
"""

from textual.theme import Theme


def _theme(name: str, dark: bool, **colours: str) -> Theme:
    ground, ink, accent = colours["ground"], colours["ink"], colours["accent"]
    return Theme(
        name=name,
        dark=dark,
        primary=accent,
        secondary=colours["quiet"],
        accent=accent,
        foreground=ink,
        background=ground,
        surface=ground,
        panel=colours["field"],
        warning=colours["caution"],
        error=colours["fault"],
        success=accent,
        text_alpha=1.0,
        variables={name: colours[name] for name in ("wood", "squared", "quiet", "held")},
    )


DAYLIGHT = _theme(
    "daylight", False, ground="#ffffff", field="#eeeeee", held="#e0e0e0", ink="#000000", quiet="#3a3a3a",
    accent="#0000af", caution="#5f0000", fault="#870000", wood="#af875f", squared="#875f00",
)  # fmt: skip
LAMPLIGHT = _theme(
    "lamplight", True, ground="#121212", field="#262626", held="#303030", ink="#eeeeee", quiet="#d0d0d0",
    accent="#87d7ff", caution="#ffd787", fault="#ffafaf", wood="#d7af5f", squared="#af875f",
)  # fmt: skip
SIXTEEN = Theme(
    name="sixteen",
    ansi=True,
    dark=True,
    primary="ansi_default",
    secondary="ansi_default",
    accent="ansi_default",
    foreground="ansi_default",
    background="ansi_default",
    surface="ansi_default",
    panel="ansi_default",
    boost="ansi_default",
    warning="ansi_default",
    error="ansi_default",
    success="ansi_default",
    variables={
        "wood": "ansi_yellow",
        "squared": "ansi_bright_yellow",
        "quiet": "ansi_default",
        "held": "ansi_default",
    },
)
THEMES = (LAMPLIGHT, DAYLIGHT, SIXTEEN)


def usual(color_system: str | None) -> str:
    """The theme where none was chosen, for a terminal's colours as rich names them."""
    return (SIXTEEN if color_system in ("standard", "windows") else LAMPLIGHT).name
