"""The last look at every line of the screen before the terminal gets it, whoever wrote what stands there."""

from rich.segment import Segment
from textual.color import Color
from textual.filter import LineFilter

from coach.signs import in_place, visible


class VisibleSigns(LineFilter):
    """Nothing that a name, a note or a file holds commands the terminal: it is shown instead."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """The same line, as wide as before: what is shown now and took no room pushes the rest out at its end."""
        if all(segment.text.isprintable() for segment in segments):
            return segments
        shown = [Segment(visible(text), style, control) for text, style, control in segments]
        return Segment.adjust_line_length(shown, Segment.get_line_length(segments))


class PlainSigns(VisibleSigns):
    """The same, and puts what stands on the screen into plain ASCII, whoever wrote it."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """The same line, as wide as before, in ASCII."""
        shown = super().apply(segments, background)
        if all(segment.text.isascii() for segment in shown):
            return shown
        return [Segment(in_place(text), style, control) for text, style, control in shown]
