"""Entries about lens, nozzle and pointer in a few words."""

from typing import assert_never

from coach.session.described import Described
from coach.session.head_events import BedMark, HeadOutcome, HeadPulse, HeadShot, NozzleMark, Pointer
from coach.shown import Wording
from coach.steps.words import moved_words

SHOT_WORDS: dict[HeadShot, str] = {
    "bed": "on the card under the head",
    "nozzle": "on the tape under the nozzle",
    "pointer": "on the card, for the pointer",
}
SEEN: dict[HeadOutcome, str] = {"mark": "a mark", "nothing": "nothing seen", "flare": "a flame"}


def below_head_words(event: HeadPulse | BedMark | NozzleMark | Pointer, wording: Wording) -> str:
    """One entry in a few words, beginning with a capital; places as seen from above."""
    match event:
        case HeadPulse():
            return f"Pulse {SHOT_WORDS[event.target]}: {SEEN[event.outcome]}"
        case BedMark():
            lens = "lens in" if event.lens else "lens out"
            where = f"{_height(event.lowered, wording)}, {lens}"
            return f"Mark on the card, {where}: {_place(event.right, event.back, wording)}"
        case NozzleMark(right=right, back=back) if right is None or back is None:
            return "Pulse at the nozzle: nothing came through"
        case NozzleMark(right=right, back=back):
            assert right is not None
            assert back is not None
            return f"Mark at the nozzle: {_place(right, back, wording)}{', cut by the rim' if event.cut else ''}"
        case Pointer():
            beside = _place(event.right, event.back, wording)
            return f"Pointer beside the mark, {_height(event.lowered, wording)}: {beside}"
        case _:
            assert_never(event)


def described_words(event: Described) -> str:
    """What was described of the head, in a few words."""
    fixed = "fixed" if event.mirror3 == "fixed" else "no screws known"
    screws = len(event.mount.screws) if event.mount is not None else 0
    mirror = f"{screws} screw{'s' if screws > 1 else ''}" if screws else fixed
    return f"Described: mirror 3, {mirror}; {'lens and nozzle' if event.lens is not None else 'lens not known'}"


def _height(lowered: float, wording: Wording) -> str:
    return f"bed {wording.length(lowered, 0)} lower" if lowered else "bed at its usual height"


def _place(right: float, back: float, wording: Wording) -> str:
    moved = [moved_words("right", right, wording)] if right else []
    moved += [moved_words("back", back, wording)] if back else []
    return ", ".join(moved) or "on the middle"
