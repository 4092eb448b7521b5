"""What was seen to on a part's list, or stays open, in a few words: each part for all that its list may have."""

from typing import assert_never

from coach.session.part_events import ANEW, Item
from coach.steps.check_up import ALIGN
from coach.steps.cut_deeds import NEW_BASELINE
from coach.steps.cut_progress import WARM
from coach.steps.head_deeds import READY, UNDESCRIBED
from coach.steps.stages.cleaning import ORDER
from coach.steps.stages.closing import ITEM_WORDS
from coach.steps.stages.levelling import LEVEL
from coach.steps.visit_progress import out_of
from coach.triage.causes import CHECKS
from coach.triage.questions import QUESTIONS


def item_words(item: Item) -> str | None:
    """Beginning with a capital; None for a name that its part's list does not have."""
    if item.name == ANEW:
        return f"Once more from the beginning: {item.part}"
    if item.name == NEW_BASELINE:
        return f"New baseline: {item.why}"
    match item.part:
        case "what changed":
            return {each.key: f"{each.asks} That is all" for each in QUESTIONS}.get(item.name)
        case "cut check" | "cut again":
            return _cutting(item)
        case "checks":
            again: dict[str, str] = {name: f"{name.capitalize()}: to be looked at again" for name in CHECKS}
            return {**again, LEVEL: "To level the bed"}.get(item.name)
        case "clean":
            missing: dict[str, str] = {optic: f"No {optic} here" for optic in ORDER}
            out = {out_of(optic): f"{optic.capitalize()} out of its mount" for optic in ORDER}
            return {**missing, **out}.get(item.name)
        case "beam path":
            return {ALIGN: "On from the check-up to align"}.get(item.name)
        case "head" | "pointer":
            return {READY: "Card or tape in place", UNDESCRIBED: "On without mirror 3's screws"}.get(item.name)
        case "close up":
            return _closing(item) if item.name in ITEM_WORDS else None
        case _:
            assert_never(item.part)


def _cutting(item: Item) -> str:
    """All but one name on that list are stations."""
    if item.name == WARM:
        return "One station is cut once more, warm"
    return f"No more cuts at {item.name}" if item.done else f"No cut at {item.name}: {item.why}"


def _closing(item: Item) -> str:
    if item.done and item.why:
        return f"{item.why[0].upper()}{item.why[1:]}"
    why = f" ({item.why})" if item.why else ""
    return f"{ITEM_WORDS[item.name]}{'' if item.done else f': stays open{why}'}"
