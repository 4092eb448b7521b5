"""What this terminal can show, and the person's own word on it; loads nothing heavy."""

import os
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, TextIO

from textual.app import App
from textual.driver import Driver

from coach.pictures.modes import RasterMode

if TYPE_CHECKING:  # not before the first paint
    from coach.pictures.nearest import Signs

DRAW_SIXTHS = {
    "TERM": {"foot", "foot-extra", "xterm-ghostty", "xterm-kitty", "wezterm"},
    "TERM_PROGRAM": {"WezTerm", "ghostty"},
}
"""What terminals call themselves that draw sixths of a cell on their own, edge to edge, whatever their font holds:
foot and WezTerm (read: foot's box-drawing.c; WezTerm's manual, custom_block_glyphs), Ghostty and kitty (memory)."""
AROUND = ("screen", "tmux")
"""How TERM begins inside of a multiplexer: it may be shown by another terminal than the one it began in."""


def heed_resizes() -> None:
    """Forget an exported size: it would stand for the terminal's own, whatever that becomes."""
    try:
        assert sys.__stdout__ is not None
        os.get_terminal_size(sys.__stdout__.fileno())
    except (AssertionError, ValueError, OSError):
        return  # what cannot tell its size: there the exported one is all there is
    for name in ("COLUMNS", "LINES"):
        os.environ.pop(name, None)


def drawn_through() -> TextIO | None:
    """The stream that the screen is written to: errors, as Textual has it; output where that one is no terminal."""
    errors = sys.__stderr__
    return errors if errors is not None and errors.isatty() else sys.__stdout__


def drawing_there(driver: type[Driver]) -> type[Driver]:
    """The same driver, writing to that stream: with its errors sent to a file the program would be drawn into it."""
    if drawn_through() is sys.__stderr__:
        return driver

    class Elsewhere(driver):  # type: ignore[misc, valid-type]
        def __init__(self, *given: Any, **named: Any) -> None:
            super().__init__(*given, **named)
            self._file = drawn_through()

    return Elsewhere


@dataclass(frozen=True)
class Drawing:
    """The person's word on how everything is drawn; the program holds it, for all that fixes nothing of its own."""

    mode: RasterMode | None = None
    """None: find out what the terminal can show."""
    aspect: float | None = None
    """A cell's height by its width; None: ask the terminal."""
    plain: bool | None = None
    """Whether nothing but ASCII is shown; None: where the terminal's encoding knows no more."""


def drawing_of(app: App[Any]) -> Drawing:
    """What the program around it says; a program that says nothing has everything found out."""
    drawing = getattr(app, "drawing", None)
    return drawing if isinstance(drawing, Drawing) else Drawing()


def only_ascii(app: App[Any]) -> bool:
    """Whether nothing but ASCII is shown: by the person's word, else by the terminal's encoding."""
    plain = drawing_of(app).plain
    if plain is not None:
        return plain
    encodings = [app.console.encoding]
    if not app.is_headless and (stream := drawn_through()) is not None:
        encodings.append(stream.encoding)
    return not all((encoding or "").lower().startswith("utf") for encoding in encodings)


def pick_mode(app: App[Any]) -> RasterMode:
    """What this app may show: asked of the person, NO_COLOR, the encoding, the theme and the colour system."""
    if only_ascii(app):
        return RasterMode.ASCII
    if app.no_color or (app.console.color_system is None and not app.is_headless):
        return RasterMode.GLYPH
    if app.native_ansi_color or app.console.color_system == "standard":
        return RasterMode.ANSI
    return RasterMode.SMOOTH


def pick_signs(app: App[Any], environ: Mapping[str, str] = os.environ) -> "Signs":
    """The block signs for pictures: sixths where nobody chose the signs and the terminal is known to draw them."""
    from coach.pictures.nearest import BLOCKS, SEXTANTS

    named = any(environ.get(variable) in names for variable, names in DRAW_SIXTHS.items())
    inside = environ.get("TERM", "").startswith(AROUND)
    found = not app.is_headless and drawing_of(app).plain is None
    return SEXTANTS if found and named and not inside else BLOCKS
