"""The coach's own colours: dark, light, and high contrast for a bright workshop; and the terminal's own.

Hues from the colour-blind-safe set of Okabe and Ito.  A colour never speaks alone: a word or a sign stands beside it.
"""

import contextlib
from pathlib import Path

from textual.theme import Theme

from coach.errors import CoachError

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
    },
)
OWN = (DARK, LIGHT, CONTRAST)
LOOKS = {
    "coach-dark": "dark",
    "coach-light": "light",
    "coach-contrast": "high contrast, light",
    "ansi-dark": "the terminal's own colours, dark",
    "ansi-light": "the terminal's own colours, light",
}
"""Theme to its name on the screen, in the order in which one follows the other."""

FILE = "screen.toml"


def kept_look(folder: Path) -> str:
    """The look that was chosen last, or the dark one."""
    if (folder / FILE).exists():  # else nothing is imported before the first paint
        with contextlib.suppress(CoachError):
            from coach.files import read_toml

            look = read_toml(folder / FILE).get("look")
            return str(look) if look in LOOKS else DARK.name
    return DARK.name


def keep_look(folder: Path, look: str) -> None:
    """Remember the look; where that is impossible it is only for now."""
    with contextlib.suppress(CoachError):
        from coach.files import write_toml

        write_toml(folder / FILE, {"look": look})
