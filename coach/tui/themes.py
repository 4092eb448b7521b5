"""The coach's own colours: dark, light, and high contrast for a bright workshop; and the terminal's own.

Hues from the colour-blind-safe set of Okabe and Ito.  A colour never speaks alone: a word or a sign stands beside it.
What they are called in words stands in `coach.settings`, where the chosen one is kept.
"""

from textual.theme import Theme

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
