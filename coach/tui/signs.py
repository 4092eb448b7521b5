"""Puts the whole screen into plain ASCII, where a terminal knows no more or its person wants it so."""

from rich.segment import Segment
from textual.color import Color
from textual.filter import LineFilter

from coach.signs import in_place


class PlainSigns(LineFilter):
    """Puts what stands on the screen into plain ASCII, whoever wrote it."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """The same segments, as wide as before, in ASCII."""
        return [Segment(in_place(text), style, control) for text, style, control in segments]
