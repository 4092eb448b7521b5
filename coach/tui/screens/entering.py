"""A field that is typed into: words, or a number.  Nothing that is typed or pasted goes missing without a word."""

from typing import Any

from textual.binding import Binding
from textual.events import Focus, Key, Paste
from textual.strip import Strip
from textual.widgets import Input

from coach.tui.program import program_of

TOO_LONG = "That is too long"
PASTED = (
    "What was pasted has {given} characters, and at most {most} fit here, so none of it was taken; what stood in the "
    "field still does. Paste a shorter piece, or type it."
)
FULL = "At most {most} characters fit here; the last one was not taken, the others stand."
EDITING = frozenset(
    key for binding in Input.BINDINGS if isinstance(binding, Binding) for key in binding.key.split(",")
)
"""Keys that move the cursor in a field, or take something out of it."""


class Entered(Input):
    """An input that never selects what stands in it: to words of one's own a key adds.

    What `gives_way` is replaced by the first character that is typed: a number that stood there when the field was
    entered, since two numbers in one are a third that nobody meant, and a file's name or a day that was proposed.
    Backspace and the arrows begin to edit it instead.
    """

    def __init__(self, value: str, *, gives_way: bool = False, **rest: Any) -> None:
        super().__init__(value, compact=True, select_on_focus=False, **rest)
        self._gives_way, self._stood = gives_way, False

    def on_focus(self, event: Focus) -> None:
        self.enter_anew()

    def enter_anew(self) -> None:
        """The cursor comes to what stands here, also without having been elsewhere."""
        self.cursor_position = len(self.value)
        self._stood = self._gives_way and bool(self.value)

    @property
    def stood(self) -> bool:
        """Whether what stands here stood here before, and nothing was typed yet."""
        return self._stood

    def _on_paste(self, event: Paste) -> None:
        """All of it, several lines as one: what does not fit is refused in a sentence, and never cut in silence."""
        event.stop()
        event.prevent_default()  # the toolkit takes the first line, and what is too long not at all
        text = " ".join(event.text.split())
        if not text:
            return
        start, end = (0, len(self.value)) if self._stood else self.selection
        if self.max_length and len(self.value) - abs(end - start) + len(text) > self.max_length:
            sentence = PASTED.format(given=len(text), most=self.max_length)
            program_of(self.app).tell(sentence, TOO_LONG)
            return
        self._stood = False
        self.replace(text, start, end)

    def restricted(self) -> None:
        """A character more than fits was typed."""
        program_of(self.app).tell(FULL.format(most=self.max_length), TOO_LONG)

    async def _on_key(self, event: Key) -> None:
        if self._stood and event.is_printable:
            self.value = ""
        if event.is_printable or (event.key in EDITING and event.key != "enter"):
            self._stood = False  # what stands here is edited from now on; a command, such as F6, edits nothing

    def render_line(self, y: int) -> Strip:
        """The whole field in its own style, empty too: without colours nothing else shows where it is."""
        return super().render_line(y).extend_cell_length(self.size.width, self.rich_style)
