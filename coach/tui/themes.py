"""The coach's own colours: dark, light, and high contrast for a bright workshop; and the terminal's own.

Hues from the colour-blind-safe set of Okabe and Ito.  A colour never speaks alone: a word or a sign stands beside it.
What they are called in words stands in `coach.settings`, where the chosen one is kept; what each colour means, in
docs/design-guide.md.
"""

from dataclasses import replace
from typing import Any

from textual.app import App
from textual.theme import BUILTIN_THEMES, Theme

from coach.steps.cautions import Signal

SIGNAL_COLOURS: dict[Signal, tuple[str, str]] = {
    "DANGER": ("#FFFFFF", "#C8102E"),
    "WARNING": ("#000000", "#FF8C1A"),
    "CAUTION": ("#000000", "#FFD500"),
    "NOTICE": ("#FFFFFF", "#00529B"),
}
"""Each signal word's colour and its ground, as ANSI Z535 and ISO 3864-2 have them (from memory): white on red, black
on orange, black on yellow, white on blue."""
REVERSED = "bold reverse"
"""How a signal word stands out where colours are the terminal's own, or none: nobody knows their mix."""


def signal_style(app: App[Any], word: str) -> str:
    """How a signal word is set in the app's theme.  Raises KeyError for a word that is none."""
    colour, ground = SIGNAL_COLOURS[word]  # type: ignore[index]
    return REVERSED if app.current_theme.ansi or app.no_color else f"bold {colour} on {ground}"


def passing_style(app: App[Any], *, good: bool) -> str:
    """How something said in passing is set: as what is chosen where it was taken, else merely reversed."""
    chosen = "bold $block-cursor-foreground on $block-cursor-background"
    return chosen if good and not (app.current_theme.ansi or app.no_color) else REVERSED


def _band(ground: str, text: str, edge: str) -> dict[str, str]:
    """The variables of the caution band: its ground, what is written on it, and the edge at its left."""
    return {"caution-ground": ground, "caution-text": text, "caution-edge": edge}


OF_THE_TERMINAL = _band("ansi_default", "ansi_default", "ansi_default")
"""The caution band in the terminal's own colours: an edge and signal words, no ground."""

DARK = Theme(
    "coach-dark",
    primary="#56B4E9",
    secondary="#8C99A6",
    warning="#E69F00",
    error="#E69F00",
    success="#56B4E9",
    accent="#F0E442",
    foreground="#F2F2F2",
    background="#121212",
    surface="#1C2126",
    panel="#242B32",
    dark=True,
    variables={
        "block-cursor-foreground": "#121212",
        "block-cursor-background": "#56B4E9",
        "block-cursor-text-style": "bold",
        "border": "#56B4E9",
        "input-cursor-foreground": "#121212",
        "input-cursor-background": "#F2F2F2",
        "input-selection-background": "#2F5F7D",
        **_band("#3A2A10", "#FFF3DC", "#E69F00"),
    },
)
LIGHT = Theme(
    "coach-light",
    primary="#0067A6",
    secondary="#5A6672",
    warning="#963200",
    error="#963200",
    success="#0067A6",
    accent="#756000",
    foreground="#14181C",
    background="#FAFAFA",
    surface="#EEF2F5",
    panel="#E2E8ED",
    dark=False,
    variables={
        "block-cursor-foreground": "#FFFFFF",
        "block-cursor-background": "#0067A6",
        "block-cursor-text-style": "bold",
        "border": "#0067A6",
        **_band("#FFE9C7", "#14181C", "#963200"),
    },
)
CONTRAST = Theme(
    "coach-contrast",
    primary="#00467A",
    secondary="#000000",
    warning="#7A2800",
    error="#7A2800",
    success="#00467A",
    accent="#4F4000",
    foreground="#000000",
    background="#FFFFFF",
    surface="#FFFFFF",
    panel="#FFFFFF",
    dark=False,
    text_alpha=1.0,
    variables={
        "block-cursor-foreground": "#FFFFFF",
        "block-cursor-background": "#000000",
        "block-cursor-text-style": "bold",
        "border": "#000000",
        **_band("#FFF1B8", "#000000", "#000000"),
    },
)
ANSI_DARK = replace(
    BUILTIN_THEMES["ansi-dark"],
    primary="ansi_bright_cyan",
    warning="ansi_bright_yellow",
    error="ansi_bright_magenta",
    accent="ansi_bright_yellow",
    variables={**BUILTIN_THEMES["ansi-dark"].variables, "block-cursor-text-style": "bold", **OF_THE_TERMINAL},
)
ANSI_LIGHT = replace(
    BUILTIN_THEMES["ansi-light"],
    warning="ansi_red",
    variables={**BUILTIN_THEMES["ansi-light"].variables, "block-cursor-text-style": "bold", **OF_THE_TERMINAL},
)
OWN = (DARK, LIGHT, CONTRAST, ANSI_DARK, ANSI_LIGHT)
