"""Three themes: for sun on the screen, an evening shop, and a terminal of sixteen colours. Text is 7:1 or better."""

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
        variables={
            "wood": colours["wood"],
            "squared": colours["squared"],
            "quiet": colours["quiet"],
            "field": colours["field"],
            "scrollbar": colours["quiet"],
            "scrollbar-background": colours["field"],
            "input-cursor-background": ink,
            "input-cursor-foreground": ground,
            "input-selection-background": accent,
            "input-selection-foreground": ground,
        },
    )


DAYLIGHT = _theme(
    "daylight", False, ground="#fdfaf2", field="#efe8d6", ink="#14120e", quiet="#45413a", accent="#0a3a66",
    caution="#6b3200", fault="#820c10", wood="#b98142", squared="#7d5223",
)  # fmt: skip
LAMPLIGHT = _theme(
    "lamplight", True, ground="#15181b", field="#22282d", ink="#f4efe4", quiet="#b9bfc4", accent="#9bd3ff",
    caution="#ffca78", fault="#ffb7b0", wood="#d9a566", squared="#a4713a",
)  # fmt: skip
SIXTEEN = Theme(
    name="sixteen",
    ansi=True,
    dark=True,
    primary="ansi_cyan",
    secondary="ansi_default",
    accent="ansi_cyan",
    foreground="ansi_default",
    background="ansi_default",
    surface="ansi_default",
    panel="ansi_default",
    boost="ansi_default",
    warning="ansi_yellow",
    error="ansi_red",
    success="ansi_green",
    variables={
        "wood": "ansi_yellow",
        "squared": "ansi_bright_yellow",
        "quiet": "ansi_default",
        "field": "ansi_default",
        "ansi-background": "ansi_black",
        "ansi-foreground": "ansi_white",
        "border-blurred": "ansi_black",
        "block-cursor-foreground": "ansi_black",
        "block-cursor-background": "ansi_white",
        "screen-selection-background": "ansi_white",
        "screen-selection-foreground": "ansi_black",
        "scrollbar": "ansi_white",
        "scrollbar-background": "ansi_black",
        "input-cursor-background": "ansi_white",
        "input-cursor-foreground": "ansi_black",
        "input-selection-background": "ansi_white",
        "input-selection-foreground": "ansi_black",
    },
)
THEMES = (LAMPLIGHT, DAYLIGHT, SIXTEEN)
