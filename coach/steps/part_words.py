"""The entries about parts of a visit in a few words."""

from typing import assert_never

from coach.session.part_events import ANEW, Begin, End, Item, Skip
from coach.steps.check_up import ALIGN
from coach.steps.cut_deeds import NEW_BASELINE
from coach.steps.cut_progress import WARM
from coach.steps.head_deeds import READY, UNDESCRIBED
from coach.steps.stages.closing import ITEM_WORDS
from coach.steps.stages.levelling import LEVEL

BELOW_WORDS = {READY: "Card or tape in place", UNDESCRIBED: "On without mirror 3's screws"}


def part_words(event: Begin | End | Skip | Item) -> str:
    """One entry in a few words, beginning with a capital."""
    match event:
        case Begin():
            return f"Gone to: {event.part}"
        case End():
            return f"Through with: {event.part}"
        case Skip():
            return f"Left out: {event.part} ({event.why})"
        case Item():
            if event.name == ANEW:
                return f"Once more from the beginning: {event.part}"
            if event.part == "clean":
                return (
                    f"{event.name.capitalize()} of its mount"
                    if event.name.endswith(" out")
                    else f"No {event.name} here"
                )
            if (event.part, event.name) == ("beam path", ALIGN):
                return "On from the check-up to align"
            if (event.part, event.name) == ("checks", LEVEL):
                return "To level the bed"
            if event.name == WARM:
                return "One station is cut once more, warm"
            if event.name == NEW_BASELINE:
                return f"New baseline: {event.why}"
            if event.name in BELOW_WORDS:
                return BELOW_WORDS[event.name]
            if event.done and event.why:
                return f"{event.why[0].upper()}{event.why[1:]}"
            why = f" ({event.why})" if event.why else ""
            return f"{ITEM_WORDS.get(event.name, event.name)}{'' if event.done else f': stays open{why}'}"
        case _:
            assert_never(event)
