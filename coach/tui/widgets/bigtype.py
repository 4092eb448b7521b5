"""Text that can be read from two metres: the largest block letters that fit."""

from rich.segment import Segment
from rich.style import Style
from textual.geometry import Size
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from coach.pictures.modes import RasterMode
from coach.tui.widgets.bigfont import Setting, set_text
from coach.tui.widgets.terminal import drawing_of, pick_mode


class BigText(Widget):
    """Shows a text as large as fits its width, wrapped between words; a number is never cut.

    As high as it needs to be unless its styles fix a height; then the text must fit that as well.
    `max_rows` bounds the height that it asks for: beyond it the next smaller letters are taken.
    """

    DEFAULT_CSS = """
    BigText { width: 1fr; height: auto; text-style: bold; }
    """

    text: reactive[str] = reactive("", layout=True)
    """What is shown."""
    ascii_only: reactive[bool | None] = reactive[bool | None](None, layout=True)
    """Whether to draw with "#"; None: as pictures are drawn on this terminal."""

    def __init__(
        self,
        text: str = "",
        *,
        max_rows: int | None = None,
        ascii_only: bool | None = None,
        name: str | None = None,
        id: str | None = None,
        classes: str | None = None,
    ) -> None:
        super().__init__(name=name, id=id, classes=classes)
        self.max_rows = max_rows
        self.set_reactive(BigText.text, text)
        self.set_reactive(BigText.ascii_only, ascii_only)

    def setting(self, width: int, height: int | None) -> Setting:
        """The text as it is set into that many columns and rows."""
        ascii_only = self.ascii_only
        if ascii_only is None:
            ascii_only = (drawing_of(self.app).mode or pick_mode(self.app)) is RasterMode.ASCII
        return set_text(self.text, width, height, ascii_only=ascii_only)

    def get_content_width(self, container: Size, viewport: Size) -> int:
        """All that there is, or less when the text does not need it."""
        return max((len(row) for row in self.setting(container.width, self.max_rows).rows), default=0)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """The rows of the text in the largest letters that fit the width."""
        return len(self.setting(width, self.max_rows).rows)

    def render_line(self, y: int) -> Strip:
        """One row of the letters."""
        width, height = self.content_size.width, self.content_size.height
        style = self.visual_style.rich_style + Style(bold=True)
        fixed = self.styles.height is not None and not self.styles.is_auto_height
        rows = self.setting(width, height if fixed else self.max_rows).rows
        row = rows[y] if y < len(rows) else ""
        aligned = {"center": row.center(width), "right": row.rjust(width), "end": row.rjust(width)}
        text = aligned.get(str(self.styles.text_align), row.ljust(width))
        return Strip([Segment(text, style)], len(text))
