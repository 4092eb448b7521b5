"""The way back from a box, as its keys and as words that look like a button."""

from textual.binding import Binding
from textual.content import Content
from textual.style import Style

LEAVING = "F4: back"
GO_BACK = "screen.never_mind"
NEVER_MIND = Binding("escape,f4", "never_mind", "Back", show=False)


def clickable(words: str, *actions: tuple[str, str]) -> Content:
    """Words in which each of these parts, which looks like a button, does its action when it is clicked."""
    content = Content(words)
    for part, action in actions:
        at = words.find(part)
        if at >= 0:
            content = content.stylize(Style.from_meta({"@click": action}), at, at + len(part))
    return content
