"""The entries about parts of a visit in a few words."""

from typing import assert_never

from coach.session.part_events import Begin, End, Item, Skip
from coach.steps.item_words import item_words


def part_words(event: Begin | End | Skip | Item) -> str:
    """One entry in a few words, beginning with a capital."""
    match event:
        case Begin():
            return f"Gone to: {event.part}"
        case End():
            return f"Through with: {event.part}"
        case Skip():
            return f"Left out: {event.part} ({event.why})"
        case Item():  # a file may name what no list has: it is shown as it stands there
            return item_words(event) or f"{event.part.capitalize()}, {event.name}: {'done' if event.done else 'open'}"
        case _:
            assert_never(event)
