"""The widget that shows a scene: it chooses what the terminal can show, draws, and follows its size."""

import os
import sys
from typing import TYPE_CHECKING

from rich.style import Style
from textual.app import App
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from coach.pictures.modes import RasterMode
from coach.pictures.palette import CONTRAST, DARK, LIGHT, PALETTES, Palette
from coach.tui.program import program_of
from coach.tui.widgets.terminal import drawing_of, pick_mode, pick_signs

if TYPE_CHECKING:  # not before the first paint
    from coach.pictures.view import Scene

USUAL_ASPECT = 2.0


def cell_aspect() -> float:
    """A cell's height by its width, from the terminal's size in pixels where it tells, else 2.0.

    Values outside 1.5 to 2.6 are not believed: some terminals report nonsense here.
    """
    if os.name == "nt":
        return USUAL_ASPECT
    import fcntl
    import struct
    import termios

    for stream in (sys.__stdout__, sys.__stdin__):
        try:
            answer = fcntl.ioctl(stream.fileno(), termios.TIOCGWINSZ, bytes(8))  # type: ignore[union-attr]
        except (OSError, ValueError, AttributeError):
            continue
        rows, columns, across, down = struct.unpack("HHHH", answer)
        if rows and columns and across and down:
            aspect = (down / rows) / (across / columns)
            return float(aspect) if 1.5 <= aspect <= 2.6 else USUAL_ASPECT
    return USUAL_ASPECT


def pick_palette(app: App[object]) -> Palette:
    """The palette for the app's theme: by the theme's name where it names one, else dark or light."""
    theme = app.current_theme
    for name in PALETTES:
        if theme.name == name or theme.name.endswith(f"-{name}"):
            return PALETTES[name]
    if "contrast" in theme.name and not theme.dark:
        return CONTRAST
    return DARK if theme.dark else LIGHT


class Picture(Widget):
    """Shows a scene as large as the widget is.

    The mode, palette and cell aspect are found out; each can be fixed.  The program's `Drawing` holds for
    all pictures that fix nothing.
    """

    DEFAULT_CSS = """
    Picture { width: 1fr; height: 1fr; min-width: 10; min-height: 4; padding-left: 1; }
    """

    scene: "reactive[Scene | None]" = reactive["Scene | None"](None)
    """What is shown; None shows an empty area."""
    mode: reactive[RasterMode | None] = reactive[RasterMode | None](None)
    """Fixes the mode of this picture."""
    palette: reactive[Palette | None] = reactive[Palette | None](None)
    """Fixes the colours of this picture."""
    aspect: reactive[float | None] = reactive[float | None](None)
    """Fixes the cell aspect of this picture: height by width."""

    def __init__(
        self,
        scene: "Scene | None" = None,
        *,
        mode: RasterMode | None = None,
        palette: Palette | None = None,
        aspect: float | None = None,
        name: str | None = None,
        id: str | None = None,
        classes: str | None = None,
    ) -> None:
        super().__init__(name=name, id=id, classes=classes)
        self.set_reactive(Picture.scene, scene)
        self.set_reactive(Picture.mode, mode)
        self.set_reactive(Picture.palette, palette)
        self.set_reactive(Picture.aspect, aspect)
        self._key: tuple[object, ...] = ()
        self._strips: list[Strip] = []

    def render_line(self, y: int) -> Strip:
        """One row of the picture; the whole of it is drawn anew only when something changed."""
        base = self.visual_style.rich_style
        width, height = self.content_size.width, self.content_size.height
        if self.scene is None or width < 1 or height < 1:
            return Strip.blank(width, base)
        self._draw(width, height, base)
        return self._strips[y] if y < len(self._strips) else Strip.blank(width, base)

    def _draw(self, width: int, height: int, base: Style) -> None:
        from coach.pictures.view import render
        from coach.tui.widgets.strips import to_strips

        mode = self.mode or drawing_of(self.app).mode or pick_mode(self.app)
        palette = self.palette or pick_palette(self.app)
        aspect = self.aspect or drawing_of(self.app).aspect or cell_aspect()
        wording = program_of(self.app).wording
        ground = self.background_colors[1].rgb
        signs = pick_signs(self.app)
        key = (self.scene, width, height, mode, palette.name, aspect, ground, base, wording, signs.down)
        if self.scene is None or key == self._key:
            return
        raster = render(
            self.scene, width, height, mode, palette, wording=wording, aspect=aspect, ground=ground, signs=signs
        )
        self._strips = to_strips(raster.cells(), base)
        self._key = key
