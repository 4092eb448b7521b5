"""What the parts of a picture are, and how each looks: in colour, in 16 colours, and without any.

The hues are from the colour-blind-safe set of Okabe and Ito (sky, orange, yellow), darkened where the
ground is light.  Colour is never the only sign: every part also has its own shape, glyph or word.
"""

from dataclasses import dataclass
from enum import IntEnum, auto


class Role(IntEnum):
    """A part of a picture, by what it is."""

    GROUND = auto()
    """The screen behind the picture: painting it erases."""
    TAPE = auto()
    SURFACE = auto()
    """The bed or a plate: a quiet fill under everything."""
    RIM = auto()
    EDGE = auto()
    TOLERANCE = auto()
    CROSS = auto()
    MARK = auto()
    OLD = auto()
    EXPECTED = auto()
    FRAME = auto()
    """Outlines of the machine."""
    METAL = auto()
    """Solid parts: screws, the head, the tube."""
    BEAM = auto()
    FOCUS = auto()
    """What the person should look at now."""
    DONE = auto()
    TODO = auto()
    MISSED = auto()
    TEXT = auto()
    QUIET = auto()
    """Words that only explain."""


QUIET_FILLS = frozenset({Role.TAPE, Role.SURFACE})
"""Tints that exist only where there are enough colours; labels stand on them."""

BLOCK = "█"
RUN = "run"
"""Instead of a character: - | / \\ after the direction of the run."""


@dataclass(frozen=True)
class Ink:
    """One part's colour: `rgb` where there are many, `ansi` (0 to 15) where there are sixteen."""

    rgb: tuple[int, int, int]
    ansi: int


@dataclass(frozen=True)
class Palette:
    """The colours of all parts for one kind of ground."""

    name: str
    dark: bool
    ground: tuple[int, int, int]
    """Used when the widget's own background is not known."""
    inks: dict[Role, Ink]


def _ink(code: str, ansi: int) -> Ink:
    return Ink((int(code[0:2], 16), int(code[2:4], 16), int(code[4:6], 16)), ansi)


BLACK, RED, MAGENTA, BLUE, WHITE, GREY = 0, 1, 5, 4, 7, 8
BRIGHT_YELLOW, BRIGHT_MAGENTA, BRIGHT_CYAN, BRIGHT_WHITE = 11, 13, 14, 15

DARK = Palette(
    "dark",
    True,
    (18, 18, 18),
    {
        Role.TAPE: _ink("2B2720", BLACK),
        Role.SURFACE: _ink("20262C", BLACK),
        Role.RIM: _ink("F2F2F2", WHITE),
        Role.EDGE: _ink("A8A08E", GREY),
        Role.TOLERANCE: _ink("56B4E9", BRIGHT_CYAN),
        Role.CROSS: _ink("6E7A86", GREY),
        Role.MARK: _ink("E69F00", BRIGHT_MAGENTA),
        Role.OLD: _ink("B58A3C", WHITE),
        Role.EXPECTED: _ink("F0E442", BRIGHT_YELLOW),
        Role.FRAME: _ink("8C99A6", WHITE),
        Role.METAL: _ink("C9D1D9", WHITE),
        Role.BEAM: _ink("E69F00", BRIGHT_MAGENTA),
        Role.FOCUS: _ink("F0E442", BRIGHT_YELLOW),
        Role.DONE: _ink("56B4E9", BRIGHT_CYAN),
        Role.TODO: _ink("C9D1D9", WHITE),
        Role.MISSED: _ink("E69F00", BRIGHT_MAGENTA),
        Role.TEXT: _ink("F2F2F2", BRIGHT_WHITE),
        Role.QUIET: _ink("AEB8C2", WHITE),
    },
)

LIGHT = Palette(
    "light",
    False,
    (250, 250, 250),
    {
        Role.TAPE: _ink("F1E8D2", WHITE),
        Role.SURFACE: _ink("E6ECF1", WHITE),
        Role.RIM: _ink("1E2329", BLACK),
        Role.EDGE: _ink("857A60", GREY),
        Role.TOLERANCE: _ink("0067A6", BLUE),
        Role.CROSS: _ink("747F8D", GREY),
        Role.MARK: _ink("A84300", RED),
        Role.OLD: _ink("855B24", GREY),
        Role.EXPECTED: _ink("756000", MAGENTA),
        Role.FRAME: _ink("5A6672", BLACK),
        Role.METAL: _ink("38414A", BLACK),
        Role.BEAM: _ink("A84300", RED),
        Role.FOCUS: _ink("756000", MAGENTA),
        Role.DONE: _ink("0067A6", BLUE),
        Role.TODO: _ink("38414A", BLACK),
        Role.MISSED: _ink("A84300", RED),
        Role.TEXT: _ink("14181C", BLACK),
        Role.QUIET: _ink("4A545E", BLACK),
    },
)

CONTRAST = Palette(
    "contrast",
    False,
    (255, 255, 255),
    {
        **LIGHT.inks,
        Role.TAPE: _ink("FFFFFF", WHITE),
        Role.SURFACE: _ink("FFFFFF", WHITE),
        Role.RIM: _ink("000000", BLACK),
        Role.EDGE: _ink("4A4A4A", BLACK),
        Role.TOLERANCE: _ink("00467A", BLUE),
        Role.CROSS: _ink("6A6A6A", GREY),
        Role.MARK: _ink("963200", RED),
        Role.OLD: _ink("6B4A20", BLACK),
        Role.EXPECTED: _ink("4F4000", MAGENTA),
        Role.FRAME: _ink("000000", BLACK),
        Role.METAL: _ink("000000", BLACK),
        Role.BEAM: _ink("963200", RED),
        Role.FOCUS: _ink("4F4000", MAGENTA),
        Role.DONE: _ink("00467A", BLUE),
        Role.TODO: _ink("000000", BLACK),
        Role.MISSED: _ink("963200", RED),
        Role.TEXT: _ink("000000", BLACK),
        Role.QUIET: _ink("222222", BLACK),
    },
)

PALETTES = {palette.name: palette for palette in (DARK, LIGHT, CONTRAST)}
"""By name; with sixteen colours DARK and LIGHT bring their own ANSI colours."""

GLYPHS: dict[Role, tuple[str, str]] = {
    Role.RIM: (BLOCK, "#"),
    Role.EDGE: ("·", "."),
    Role.TOLERANCE: ("░", ":"),
    Role.CROSS: (RUN, RUN),
    Role.MARK: (BLOCK, "@"),
    Role.OLD: ("○", "o"),
    Role.EXPECTED: ("▒", "%"),
    Role.FRAME: (RUN, RUN),
    Role.METAL: (BLOCK, "#"),
    Role.BEAM: (RUN, RUN),
    Role.FOCUS: (BLOCK, "*"),
    Role.DONE: (BLOCK, "#"),
    Role.TODO: (BLOCK, "o"),
    Role.MISSED: (BLOCK, "X"),
    Role.TEXT: (BLOCK, "="),
    Role.QUIET: ("·", "."),
}
"""Without colour: the glyph of each part, with and without Unicode.  Fills not named here are not drawn."""
